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

// mostBands is in how many pieces a bar is cut across at most to follow its curve; mostMachined how many bars a frame may have for
// their holes and taps to be drawn: in a larger one nobody would see them.
const (
	mostBands    = 40
	mostMachined = 150
)

// DeformedScene makes the scene of the moved bars, coloured by how far each place moves, with the feet bent along. It returns
// the error of [Solid].
func DeformedScene(f *frame.Frame, d *Deformed, tolerance float64) (*Scene, error) {
	if err := checkTolerance(tolerance); err != nil {
		return nil, err
	}
	s := &Scene{Title: d.Title}
	b := &banded{plain: len(f.Members) > mostMachined, tolerance: tolerance, whole: map[*frame.Part]*Mesh{}, cut: map[bandKey]*Mesh{}}
	fine := f.Box().Size().Len() / 4000 // about a quarter of a pixel
	for _, m := range f.Members {
		mv, ok := d.Bars[m]
		if !ok || len(mv.At) == 0 {
			continue
		}
		part, err := b.bar(m.Part, d.bands(&mv, fine))
		if err != nil {
			return nil, err
		}
		s.Shapes = append(s.Shapes, d.shape(part, m.Name, func(p geom.Vec) (geom.Vec, geom.Vec) {
			at := m.PartPlace().Apply(p)
			return at.Add(mv.Base), mv.at(m, at)
		}))
		s.Items = append(s.Items, Item{Name: m.Name, Mark: m.Part.Mark, Shape: len(s.Shapes) - 1, Place: geom.Identity(), Kind: BarItem, Member: m})
	}
	return s, s.bendFeet(f, d, tolerance)
}

// bands returns in how many pieces a bar is cut to follow its curve within a distance in mm, and the colours along it.
func (d *Deformed) bands(mv *Movement, fine float64) int {
	n := len(mv.At)
	first, last := mv.Shift[0], mv.Shift[n-1]
	low, high, bow := math.Inf(1), 0.0, 0.0
	for i, u := range mv.Shift {
		share := d.share(u)
		low, high = math.Min(low, share), math.Max(high, share)
		if n > 1 {
			t := (mv.At[i] - mv.At[0]) / (mv.At[n-1] - mv.At[0])
			bow = math.Max(bow, u.Dist(first.Add(last.Sub(first).Scale(t))))
		}
	}
	// A flat arch in n pieces is off by its rise over n²; a step of a thirtieth of the scale does not show.
	curve := math.Sqrt(bow * d.Scale / fine)
	return int(math.Ceil(math.Max(2, math.Min(math.Max(curve, 30*(high-low)), mostBands))))
}

// banded makes the meshes of bars cut across, each once.
type banded struct {
	plain     bool // without machining
	tolerance float64
	whole     map[*frame.Part]*Mesh
	cut       map[bandKey]*Mesh
}

type bandKey struct {
	part *frame.Part
	n    int
}

// bar returns the mesh of a part cut into n pieces.
func (b *banded) bar(p *frame.Part, n int) (*Mesh, error) {
	key := bandKey{p, n}
	if m := b.cut[key]; m != nil {
		return m, nil
	}
	whole := b.whole[p]
	if whole == nil {
		bar := p.Bar
		if b.plain {
			bar.Holes, bar.Taps = nil, nil
		}
		var err error
		if whole, err = Solid(&bar, b.tolerance); err != nil {
			return nil, fmt.Errorf("part %s: %w", p.Mark, err)
		}
		b.whole[p] = whole
	}
	b.cut[key] = band(whole, bandPlaces(p.Bar.Length, n))
	return b.cut[key], nil
}

// bandPlaces returns the places at which a bar is cut into n equal pieces.
func bandPlaces(length float64, n int) []float64 {
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
