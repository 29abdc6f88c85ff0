package mesh

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"

	"barwright/frame"
	"barwright/geom"
)

// Movement is how the axis of a bar moves: the shifts in mm at places along the raw bar, rising, straight between
// them. Base is how far the bar stands from where it is drawn, as bars of a travelling group do.
type Movement struct {
	At    []float64
	Shift []geom.Vec
	Base  geom.Vec
}

// Deformed is a frame whose bars move, and what its picture says.
type Deformed struct {
	Bars   map[*frame.Member]Movement // a bar without one is left out
	Scale  float64                    // how many times larger than true the shifts are drawn
	Most   float64                    // the shift at the dark end of the colour scale
	Unit   string                     // of the numbers beside the scale, "" for a share
	Title  string                     // what makes it move
	Lines  []string                   // under the title
	Foot   string                     // the caution, at the bottom
	Peak   *geom.Vec                  // the place at rest that moves most, marked with PeakIs
	PeakOn *frame.Member
	PeakIs string
}

// ExaggerationFor returns a round factor by which shifts of at most most are drawn so that they show: about a fifteenth of the
// frame's size. It is 1 where nothing moves.
func ExaggerationFor(f *frame.Frame, most float64) float64 {
	size := f.Box().Size().Len() / 15
	if !(most > 0) || !(size > 0) {
		return 1
	}
	k := size / most
	decade := math.Pow(10, math.Floor(math.Log10(k)))
	for _, r := range []float64{5, 2, 1} {
		if k >= r*decade {
			return r * decade
		}
	}
	return decade
}

// bandLength is how far apart in mm a bar is cut across to follow a curve, mostBands in how many pieces at most.
const (
	bandLength = 45.0
	mostBands  = 40
)

// DeformedScene makes the scene of the moved bars, coloured by how far each place moves, with the feet bent along. It returns
// the error of [Solid].
func DeformedScene(f *frame.Frame, d *Deformed, tolerance float64) (*Scene, error) {
	if err := checkTolerance(tolerance); err != nil {
		return nil, err
	}
	s := &Scene{Title: d.Title}
	banded := map[*frame.Part]*Mesh{}
	for _, m := range f.Members {
		mv, ok := d.Bars[m]
		if !ok || len(mv.At) == 0 {
			continue
		}
		part := banded[m.Part]
		if part == nil {
			whole, err := Solid(&m.Part.Bar, tolerance)
			if err != nil {
				return nil, fmt.Errorf("part %s: %w", m.Part.Mark, err)
			}
			part = band(whole, bands(m.Part.Bar.Length))
			banded[m.Part] = part
		}
		s.Shapes = append(s.Shapes, d.shape(part, m.Name, func(p geom.Vec) (geom.Vec, geom.Vec) {
			at := m.PartPlace().Apply(p)
			return at.Add(mv.Base), mv.at(m, at)
		}))
		s.Items = append(s.Items, Item{Name: m.Name, Mark: m.Part.Mark, Shape: len(s.Shapes) - 1, Place: geom.Identity(), Kind: BarItem, Member: m})
	}
	return s, s.bendFeet(f, d, tolerance)
}

// bands returns the places at which a bar is cut across.
func bands(length float64) []float64 {
	n := min(max(int(math.Ceil(length/bandLength)), 2), mostBands)
	out := make([]float64, 0, n-1)
	for i := 1; i < n; i++ {
		out = append(out, length*float64(i)/float64(n))
	}
	return out
}

// shape returns a mesh whose points are moved and coloured. move returns where a point stands and how it shifts.
func (d *Deformed) shape(m *Mesh, name string, move func(geom.Vec) (at, shift geom.Vec)) *Shape {
	out := &Mesh{Points: make([][3]float32, len(m.Points)), Triangles: m.Triangles, Surfaces: m.Surfaces}
	dye := make([]tint, len(m.Points))
	for i, p := range m.Points {
		at, u := move(geom.Vec{X: float64(p[0]), Y: float64(p[1]), Z: float64(p[2])})
		q := at.Add(u.Scale(d.Scale))
		out.Points[i] = [3]float32{float32(q.X), float32(q.Y), float32(q.Z)}
		dye[i] = tintOf(ScaleColour(d.share(u)))
	}
	return &Shape{Name: name, Mesh: out, dye: dye}
}

// share returns a shift as a share of the largest.
func (d *Deformed) share(u geom.Vec) float64 {
	if !(d.Most > 0) {
		return 0
	}
	return u.Len() / d.Most
}

// at returns the shift of a place of a bar, of which the section stays flat and square to the bent axis.
func (mv *Movement) at(m *frame.Member, p geom.Vec) geom.Vec {
	raw := m.Place.Unapply(p)
	u, slope := mv.along(raw.Z)
	dir := m.Place.Turn(geom.Vec{Z: 1})
	turn := dir.Cross(slope)
	return u.Add(turn.Cross(p.Sub(m.Place.Apply(geom.Vec{Z: raw.Z}))))
}

// along returns the shift of the axis at raw z and its slope there; beyond the ends it goes on straight.
func (mv *Movement) along(z float64) (u, slope geom.Vec) {
	n := len(mv.At)
	if n == 1 {
		return mv.Shift[0], geom.Vec{}
	}
	i := 1
	for i < n-1 && mv.At[i] < z {
		i++
	}
	at := func(k int) geom.Vec { // mean slope at a sample
		a, b := max(k-1, 0), min(k+1, n-1)
		return mv.Shift[b].Sub(mv.Shift[a]).Scale(1 / (mv.At[b] - mv.At[a]))
	}
	w := mv.At[i] - mv.At[i-1]
	t := (z - mv.At[i-1]) / w
	c := math.Max(0, math.Min(t, 1))
	u = mv.Shift[i-1].Add(mv.Shift[i].Sub(mv.Shift[i-1]).Scale(t))
	return u, at(i - 1).Scale(1 - c).Add(at(i).Scale(c))
}

// bendFeet adds the feet: their lower ends stay on the floor and their upper ends go with the bar.
func (s *Scene) bendFeet(f *frame.Frame, d *Deformed, tolerance float64) error {
	var feet Scene
	if err := feet.addFeet(f.Feet, tolerance); err != nil {
		return err
	}
	for i, it := range feet.Items {
		foot := f.Feet[i]
		mv, ok := d.Bars[foot.Under]
		if !ok || foot.Height <= 0 {
			continue
		}
		top := mv.at(foot.Under, foot.At)
		low := foot.At.Z - foot.Height
		s.Shapes = append(s.Shapes, d.shape(feet.Shapes[it.Shape].Mesh, it.Name, func(p geom.Vec) (geom.Vec, geom.Vec) {
			q := it.Place.Apply(p)
			return q.Add(mv.Base), top.Scale(math.Min((q.Z-low)/foot.Height, 1))
		}))
		s.Items = append(s.Items, Item{Name: it.Name, Shape: len(s.Shapes) - 1, Place: geom.Identity(), Kind: FittingItem})
	}
	return nil
}

// DeformedPicture draws the frame as it moves, much larger than true, over pale outlines of the frame at rest, with a colour
// scale. Width, Height and View of the options count. The same frame and options give the same pixels, however many processors draw.
func DeformedPicture(f *frame.Frame, d *Deformed, tolerance float64, o PictureOptions) (*image.NRGBA, error) {
	s, err := DeformedScene(f, d, tolerance)
	if err != nil {
		return nil, err
	}
	o = PictureOptions{Width: o.Width, Height: o.Height, View: o.View, Transparent: true}
	v, err := o.check()
	if err != nil {
		return nil, err
	}
	if s.Box().Empty() {
		return nil, fmt.Errorf("there is nothing to draw")
	}
	w, h := o.Width, o.Height
	page := newDeformedPage(w, h, d)
	o.Width, o.Height = page.inner.Dx(), page.inner.Dy()
	p := &painting{scene: s, options: o, width: o.Width, height: o.Height, marked: make([]bool, len(s.Items)), beside: page.beside}
	p.prepare(v)
	p.drawTiles()
	p.occlude()
	p.thinLines()
	img := p.compose()
	page.ghost(f, d, &p.camera)
	draw.Draw(page.img, page.inner, img, image.Point{}, draw.Over)
	page.mark(d, &p.camera)
	page.write(d)
	return page.img, nil
}

// WriteDeformedPNG draws a [DeformedPicture] and writes it as PNG.
func WriteDeformedPNG(w io.Writer, f *frame.Frame, d *Deformed, tolerance float64, o PictureOptions) error {
	img, err := DeformedPicture(f, d, tolerance, o)
	if err != nil {
		return err
	}
	return png.Encode(w, img)
}

// peak returns where the place that moves most stands as drawn; false where there is none.
func (d *Deformed) peak() (geom.Vec, bool) {
	mv, ok := d.Bars[d.PeakOn]
	if d.Peak == nil || !ok {
		return geom.Vec{}, false
	}
	return d.Peak.Add(mv.at(d.PeakOn, d.Peak.Sub(mv.Base)).Scale(d.Scale)), true
}

// ghostColour is that of the frame at rest: the sky blue of references (Okabe and Ito), made paler.
var ghostColour = color.NRGBA{160, 211, 239, 255}
