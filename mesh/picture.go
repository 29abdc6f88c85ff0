package mesh

import (
	"fmt"
	"image"
	"image/png"
	"io"
	"math"

	"barwright/internal/parallel"
)

// Balloons says what the balloons of a picture show.
type Balloons string

// What balloons show.
const (
	NoBalloons   Balloons = ""
	MarkBalloons Balloons = "marks" // the marks of parts
	NameBalloons Balloons = "names" // the names of members
)

// PictureOptions says how a picture is taken. The zero value is a parallel view from the front right corner on white, 1200 × 900 pixels.
type PictureOptions struct {
	Width, Height int      // pixels; 0 means 1200 and 900
	View          string   // a name of [ViewNames], or "AZIMUTH,ELEVATION" in degrees; "" is "corner"
	Perspective   bool     // else parallel
	Transparent   bool     // else white
	Balloons      Balloons // marks or names on leaders
	Explode       float64  // see [Scene.Explode]
	Highlight     []string // names of members, or marks, drawn in vermilion
}

// Limits and defaults of a picture's size in pixels.
const (
	MaxPictureSide       = 8192
	defaultPictureWidth  = 1200
	defaultPictureHeight = 900
	minPictureSide       = 16
)

// PartPictureOptions returns the options for the picture of a single part: 800 × 600, seen
// from near the datum end, so that its end and its length both show.
func PartPictureOptions() PictureOptions {
	return PictureOptions{Width: 800, Height: 600, View: "part", Perspective: true}
}

// Picture draws the scene: surfaces anti-aliased by 3 × 3 samples a pixel, the edges of shapes as lines, soft light with
// ambient occlusion, and a shadow on the floor where it is seen from above. It returns an error for a size, view, factor or
// name that can't be. The same scene and options give the same pixels, however many processors draw.
func Picture(s *Scene, o PictureOptions) (*image.NRGBA, error) {
	view, err := o.check()
	if err != nil {
		return nil, err
	}
	marked, err := highlighted(s, o.Highlight)
	if err != nil {
		return nil, err
	}
	if s, err = s.Explode(o.Explode); err != nil {
		return nil, err
	}
	if s.Box().Empty() {
		return nil, fmt.Errorf("there is nothing to draw")
	}
	p := &painting{scene: s, options: o, width: o.Width, height: o.Height, marked: marked}
	p.prepare(view)
	p.drawTiles()
	p.occlude()
	p.thinLines()
	img := p.compose()
	p.annotate(img)
	return img, nil
}

// WritePNG draws the scene and writes it as PNG.
func WritePNG(w io.Writer, s *Scene, o PictureOptions) error {
	img, err := Picture(s, o)
	if err != nil {
		return err
	}
	return png.Encode(w, img)
}

// check fills in defaults and refuses what can't be drawn.
func (o *PictureOptions) check() (view, error) {
	if o.Width == 0 {
		o.Width = defaultPictureWidth
	}
	if o.Height == 0 {
		o.Height = defaultPictureHeight
	}
	for _, side := range [...]int{o.Width, o.Height} {
		if side < minPictureSide || side > MaxPictureSide {
			return view{}, fmt.Errorf("a picture of %d × %d pixels can't be drawn: each side must be %d to %d", o.Width, o.Height, minPictureSide, MaxPictureSide)
		}
	}
	switch o.Balloons {
	case NoBalloons, MarkBalloons, NameBalloons:
	default:
		return view{}, fmt.Errorf("balloons can show %q or %q, not %q", MarkBalloons, NameBalloons, o.Balloons)
	}
	return parseView(o.View)
}

// highlighted returns, for each item, whether one of the names is its name or mark.
func highlighted(s *Scene, names []string) ([]bool, error) {
	out := make([]bool, len(s.Items))
	for _, name := range names {
		found := false
		for i, it := range s.Items {
			if name != "" && (it.Name == name || it.Mark == name) {
				out[i], found = true, true
			}
		}
		if !found {
			return nil, s.unknown(name)
		}
	}
	return out, nil
}

// painting is a picture in the making.
type painting struct {
	scene         *Scene
	options       PictureOptions
	width, height int
	marked        []bool
	camera        camera
	models        []*model     // of each shape
	order         []int        // items from front to back
	screen        []screenRect // of each item
	nearest       []float64    // of each item, its least depth as the depth buffer counts it
	floor         *floorShadow // nil where none is seen
	beside        float64      // pixels kept free at the right for a scale

	// One value for each pixel, row by row.
	colour []uint8   // red, green, blue of the covered part
	cover  []uint8   // how much of the pixel is covered
	depth  []float32 // distance in mm along the view of the middle sample; +Inf where nothing is
	line   []uint8   // how much of the pixel an edge line covers
	open   []uint8   // how open the surface is to light: 255 where nothing is near
}

// prepare sets the camera and all that tiles share.
func (p *painting) prepare(v view) {
	n := p.width * p.height
	p.colour, p.cover, p.line, p.open = make([]uint8, 3*n), make([]uint8, n), make([]uint8, n), make([]uint8, n)
	p.depth = make([]float32, n)
	for i := range p.depth {
		p.depth[i] = float32(math.Inf(1))
	}
	boxes := p.scene.shapeBoxes()
	p.models = make([]*model, len(p.scene.Shapes))
	parallel.Do(len(p.models), func(i int) { p.models[i] = newModel(p.scene.Shapes[i], boxes[i]) })
	p.camera = newCamera(v, p.options.Perspective, p.scene, boxes, p.room())
	p.floor = newFloorShadow(p.scene, boxes, &p.camera, min(max(max(p.width, p.height)/3, 120), 480))
	p.sortItems(boxes)
}
