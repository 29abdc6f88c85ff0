package bracket

import (
	"barwright/geom"
	"barwright/mesh/bracket/csg"
)

// Pieces returns the convex pieces that the part is made of, in mounted coordinates. They overlap; holes, counterbores, sunk text and the
// inside of a cable clip, where the cable lies, are not taken off.
func (r *Result) Pieces() []geom.Polyhedron {
	body := &r.model.body
	if len(r.model.solid) > 0 {
		body = &csg.Body{}
		for _, c := range r.model.solid {
			body.Add(c)
		}
	}
	faces := body.Faces()
	out := make([]geom.Polyhedron, len(faces))
	for i, f := range faces {
		out[i] = geom.Polyhedron{Faces: f}
	}
	return out
}

// Squeeze returns the volume in mm³ that a panel clip's lip shares with the panel that it presses on, before it gives; 0 for other kinds.
func (r *Result) Squeeze() float64 {
	m := r.model
	if r.Kind != "panel-clip" {
		return 0
	}
	width := 2 * (m.contacts[0].At.X + 1)
	return width * m.v("lap") * m.v("squeeze")
}
