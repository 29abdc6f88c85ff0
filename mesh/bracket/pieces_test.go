package bracket

import (
	"math"
	"testing"

	"barwright/geom"
)

// The pieces hold the whole part: every corner of its mesh lies in one of them, and no piece reaches farther than the mesh
// does. With the corners of the mesh, which the exact evaluation makes, as the measure.
func TestPiecesHoldThePart(t *testing.T) {
	p := profile(t, "30x30-8")
	for _, k := range Kinds() {
		if k.make == nil {
			continue
		}
		params := map[string]float64{}
		switch k.Name {
		case "caster-plate":
			params["pattern_x"], params["pattern_y"] = 60, 60
		case "brace-foot":
			params["angle"] = 40
		}
		r, err := Build(Spec{Kind: k.Name, Profile: p, Params: params})
		if err != nil {
			t.Errorf("%s: %v", k.Name, err)
			continue
		}
		pieces := r.Pieces()
		box, sum := geom.EmptyBox(), 0.0
		for i := range pieces {
			box = box.Union(pieces[i].Box())
			v, _ := pieces[i].Volume()
			sum += v
		}
		own := geom.EmptyBox()
		for _, q := range r.Mesh.Points {
			at := r.Place.Apply(geom.Vec{X: float64(q[0]), Y: float64(q[1]), Z: float64(q[2])})
			own = own.Extend(at)
			near := math.Inf(1)
			for i := range pieces {
				near = math.Min(near, pieces[i].Distance(at))
			}
			if near > 1e-3 {
				t.Errorf("%s: the corner %v lies %.4f mm outside of every piece", k.Name, at, near)
				break
			}
		}
		// The mouth of a cable clip cuts away the crown of its ring, and a groove for the post's edge the tip of a web.
		limit := map[string]float64{"cable-clip": 10, "corner-inside": 0.6}[k.Name]
		if d := math.Max(box.Low.Dist(own.Low), box.High.Dist(own.High)); d > limit+1e-3 {
			t.Errorf("%s: pieces reach from %v to %v, the mesh from %v to %v", k.Name, box.Low, box.High, own.Low, own.High)
		}
		if sum < r.Volume-1 {
			t.Errorf("%s: the pieces together have %.1f mm³, the part %.1f", k.Name, sum, r.Volume)
		}
	}
}
