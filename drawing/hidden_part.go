package drawing

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
)

// Picture is a pictorial view ready to be placed on a sheet.
type Picture struct {
	Lines     []ViewLine   // sheet mm, lower left corner of the box at the origin
	Size      geom.Vec2    // of the box round the lines, mm
	Scale     float64      // sheet mm for each mm
	Faces     [4]FaceLabel // of a bar: where its faces are named
	DatumEnd  FaceLabel    // of a bar: where end 1 is named
	Shortened bool         // the far end is left out
}

// FaceLabel is a place on a picture with the direction in which its name stands off.
type FaceLabel struct {
	At, Out geom.Vec2
	Visible bool // the face looks to the viewer
}

// PartPictorial returns a mesh in a place as a viewer sees it, as large as a box of the width and height in mm lets it be. A scale
// above zero is kept instead, whatever the size that follows.
func PartPictorial(m *mesh.Mesh, place geom.Motion, v View, width, height, scale float64) Picture {
	model := newLineModel([]Body{{Mesh: m, Place: place}}, nil)
	s := model.look(v)[0]
	low, size := geom.Vec2{X: s.low.X, Y: s.low.Y}, geom.Vec2{X: s.high.X - s.low.X, Y: s.high.Y - s.low.Y}
	if scale <= 0 {
		scale = min(width/size.X, height/size.Y)
	}
	p := Picture{Scale: scale, Size: size.Scale(scale), Lines: model.view(v, LineOptions{Scale: scale})}
	for _, l := range p.Lines {
		for k := range l.Points {
			l.Points[k] = l.Points[k].Sub(low.Scale(scale))
		}
	}
	return p
}

// datumLength is how much of a long bar the picture of its datum end shows, in widths of the section.
const datumLength = 2.6

// DatumPictorial returns the datum end of a bar in the part's own coordinates, lying as on its sheet with face 1 up and
// face 2 to the front, with the places of the labels of its faces and its end. A bar longer than a few widths is
// cut short with a square end. It returns the error of [mesh.Solid].
func DatumPictorial(b *frame.Bar, width, height float64) (Picture, error) {
	short, cut := shortBar(b)
	m, err := mesh.Solid(&short, 0.05)
	if err != nil {
		return Picture{}, fmt.Errorf("picture of the datum end: %w", err)
	}
	lie := geom.Motion{EX: geom.Vec{Z: 1}, EY: geom.Vec{Y: -1}, EZ: geom.Vec{X: 1}}
	v := orbit(-38, 26)
	p := PartPictorial(m, lie, v, width, height, 0)
	p.Shortened = cut
	low := newLineModel([]Body{{Mesh: m, Place: lie}}, nil).look(v)[0].low
	flat := func(q geom.Vec) geom.Vec2 {
		return v.Project(lie.Apply(q)).Sub(geom.Vec2{X: low.X, Y: low.Y}).Scale(p.Scale)
	}
	dir := func(q geom.Vec) geom.Vec2 {
		d := v.Project(lie.Turn(q))
		return d.Scale(1 / d.Len())
	}
	for s := range geom.Side(4) {
		n := s.Normal()
		n3 := geom.Vec{X: n.X, Y: n.Y}
		mid := b.Profile.Point(s, 0, 0)
		p.Faces[s] = FaceLabel{At: flat(onCut(&short, 0, mid)), Out: dir(n3), Visible: lie.Turn(n3).Dot(v.Toward) < 0}
	}
	p.DatumEnd = FaceLabel{At: flat(onCut(&short, 0, geom.Vec2{})), Out: dir(geom.Vec{Z: -1}), Visible: true}
	return p, nil
}

// shortBar returns the datum end of a bar, and whether anything was left out.
func shortBar(b *frame.Bar) (frame.Bar, bool) {
	size := b.Profile.Size()
	keep := datumLength*math.Max(size.X, size.Y) + b.Plane(0)
	if b.Length <= keep*1.3 {
		return *b, false
	}
	out := frame.Bar{Profile: b.Profile, Length: keep, Cuts: [2]frame.Cut{b.Cuts[0], {}}}
	for _, h := range b.Holes {
		if h.Z+max(h.Diameter, h.Bore)/2+1 < keep {
			out.Holes = append(out.Holes, h)
		}
	}
	for _, t := range b.Taps {
		if t.End == 0 && max(t.Depth, t.DrillDepth)+1 < keep {
			out.Taps = append(out.Taps, t)
		}
	}
	return out, true
}
