package drawing

import (
	"barwright/geom"
	"barwright/mesh"
)

// Picture is a pictorial view ready to be placed on a sheet.
type Picture struct {
	Lines []ViewLine // sheet mm, lower left corner of the box at the origin
	Size  geom.Vec2  // of the box round the lines, mm
	Scale float64    // sheet mm for each mm
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
