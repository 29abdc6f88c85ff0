package drawing

import (
	"math"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
)

// explodeMoves returns how far each member moves apart from the others. Members of one unit keep together; at every contact of
// two units they part along the normal of the touching faces by the gap and keep in line across it, as nearly as loops of bars
// allow (least squares, each axis by itself). So the way back to the joint runs along the frame's axes.
func explodeMoves(units [][]*frame.Member, contacts []*frame.Contact, gap float64) map[*frame.Member]geom.Vec {
	index := map[*frame.Member]int{}
	for i, u := range units {
		for _, m := range u {
			index[m] = i
		}
	}
	pulls := unitPulls(contacts, index, len(units), gap)
	at := make([]geom.Vec, len(units))
	// Gauss-Seidel: each unit goes to the mean of what its neighbours ask for. The first of each connected set
	// drifts freely, which the last step takes out again.
	for range min(60+4*len(units), mostSweeps) {
		most := 0.0
		for i, ps := range pulls {
			if len(ps) == 0 {
				continue
			}
			var sum, weight geom.Vec
			for _, p := range ps {
				q := at[p.other].Add(p.want)
				sum = sum.Add(geom.Vec{X: q.X * p.weight.X, Y: q.Y * p.weight.Y, Z: q.Z * p.weight.Z})
				weight = weight.Add(p.weight)
			}
			next := geom.Vec{X: sum.X / weight.X, Y: sum.Y / weight.Y, Z: sum.Z / weight.Z}
			most = max(most, next.Dist(at[i]))
			at[i] = next
		}
		if most < gap*1e-4 {
			break
		}
	}
	out := map[*frame.Member]geom.Vec{}
	middle := meanOf(at)
	for i, u := range units {
		d := at[i].Sub(middle)
		for _, m := range u {
			out[m] = geom.Vec{X: roundTo(d.X, 0.01), Y: roundTo(d.Y, 0.01), Z: roundTo(d.Z, 0.01)}
		}
	}
	return out
}

// pull is what a unit asks of its place: that of another and a way from it, with a weight for each axis.
type pull struct {
	other        int
	want, weight geom.Vec
}

// unitPulls returns what each unit asks for. Where two units touch in several places they part along each axis that one of
// the normals has, but along none on which they hold one another from both sides.
func unitPulls(contacts []*frame.Contact, index map[*frame.Member]int, units int, gap float64) [][]pull {
	type pair struct{ a, b int }
	var order []pair
	low, high := map[pair]geom.Vec{}, map[pair]geom.Vec{}
	for _, c := range contacts {
		a, okA := index[c.A]
		b, okB := index[c.B]
		if !okA || !okB || a == b {
			continue
		}
		n := c.Normal
		if a > b {
			a, b, n = b, a, n.Scale(-1)
		}
		p := pair{a, b}
		if _, ok := low[p]; !ok {
			order = append(order, p)
		}
		l, h := low[p], high[p]
		low[p] = geom.Vec{X: min(l.X, n.X), Y: min(l.Y, n.Y), Z: min(l.Z, n.Z)}
		high[p] = geom.Vec{X: max(h.X, n.X), Y: max(h.Y, n.Y), Z: max(h.Z, n.Z)}
	}
	pulls := make([][]pull, units)
	for _, p := range order {
		d := low[p].Add(high[p])
		w := geom.Vec{X: pullWeight(d.X), Y: pullWeight(d.Y), Z: pullWeight(d.Z)}
		pulls[p.a] = append(pulls[p.a], pull{p.b, d.Scale(-gap), w})
		pulls[p.b] = append(pulls[p.b], pull{p.a, d.Scale(gap), w})
	}
	return pulls
}

// mostSweeps bounds the passes over a frame of very many bars.
const mostSweeps = 600

// pullWeight returns how much keeping to a wish counts along an axis on which a contact's normal has the given part: keeping two
// bars in line counts more than the width of the gap, so that explode lines stay straight where loops of bars
// can't have both.
func pullWeight(normal float64) float64 {
	if math.Abs(normal) > 0.1 {
		return 1
	}
	return 12
}

func meanOf(v []geom.Vec) geom.Vec {
	var sum geom.Vec
	for _, p := range v {
		sum = sum.Add(p)
	}
	return sum.Scale(1 / float64(max(1, len(v))))
}

func roundTo(v, step float64) float64 { return math.Round(v/step)*step + 0 }

// explodedScene returns the items of a scene that belong to some members, moved apart, with the feet under them below.
func explodedScene(f *frame.Frame, scene *mesh.Scene, moves map[*frame.Member]geom.Vec, gap float64) *mesh.Scene {
	out := &mesh.Scene{Title: scene.Title, Shapes: scene.Shapes}
	foot := 0
	for _, it := range scene.Items {
		switch {
		case it.Member != nil:
			d, ok := moves[it.Member]
			if !ok {
				continue
			}
			it.Place.T = it.Place.T.Add(d)
		case foot < len(f.Feet):
			t := f.Feet[foot]
			foot++
			d, ok := moves[t.Under]
			if !ok {
				continue
			}
			it.Place.T = it.Place.T.Add(d).Sub(geom.Vec{Z: gap})
		default:
			continue
		}
		out.Items = append(out.Items, it)
	}
	return out
}

// explodeLines returns the lines along which parts come together again, as pairs of points of the exploded frame: from the
// middle of each contact on one bar to that on the other, and from each foot to its seat.
func explodeLines(f *frame.Frame, moves map[*frame.Member]geom.Vec, gap float64) [][2]geom.Vec {
	var out [][2]geom.Vec
	for _, c := range f.Contacts {
		a, okA := moves[c.A]
		b, okB := moves[c.B]
		mid := c.Patch.Centre()
		if okA && okB && a.Dist(b) > 1 {
			out = append(out, [2]geom.Vec{mid.Add(a), mid.Add(b)})
		}
	}
	for _, t := range f.Feet {
		if d, ok := moves[t.Under]; ok {
			out = append(out, [2]geom.Vec{t.At.Add(d), t.At.Add(d).Sub(geom.Vec{Z: gap})})
		}
	}
	return out
}
