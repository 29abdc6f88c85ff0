package job

import (
	"math"
	"slices"
	"testing"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
)

// placedSolid is a closed mesh in the frame's coordinates.
type placedSolid struct {
	name   string
	points []geom.Vec
	tris   [][3]uint32
	box    geom.Box
	bar    *frame.Member
	part   *PrintedPart
	place  geom.Motion // of a printed part: from mounted coordinates to the frame
}

func newPlaced(name string, m *mesh.Mesh, place geom.Motion) *placedSolid {
	s := &placedSolid{name: name, tris: m.Triangles, box: geom.EmptyBox()}
	for _, p := range m.Points {
		q := place.Apply(geom.Vec{X: float64(p[0]), Y: float64(p[1]), Z: float64(p[2])})
		s.points = append(s.points, q)
		s.box = s.box.Extend(q)
	}
	return s
}

// moved returns the solid after a motion.
func (s *placedSolid) moved(m geom.Motion) *placedSolid {
	out := *s
	out.points, out.box = make([]geom.Vec, len(s.points)), geom.EmptyBox()
	for i, p := range s.points {
		out.points[i] = m.Apply(p)
		out.box = out.box.Extend(out.points[i])
	}
	return &out
}

// fitScene is a frame's machined bars, printed parts and panels as solids.
type fitScene struct {
	j                   *Job
	parts, bars, panels []*placedSolid
}

// chord is the chord tolerance of the bars' solids in mm.
const chord = 0.005

func newFitScene(t *testing.T, j *Job) *fitScene {
	t.Helper()
	s := &fitScene{j: j}
	for _, p := range j.Printed {
		for _, at := range p.Places {
			x := newPlaced(at.Name+" ("+p.Result.Kind+")", p.Result.Mesh, at.Place)
			x.part, x.place = p, p.Result.Place.Inverse().Then(at.Place)
			s.parts = append(s.parts, x)
		}
	}
	solids := map[*frame.Part]*mesh.Mesh{}
	for _, m := range j.Frame.Members {
		if solids[m.Part] == nil {
			solid, err := mesh.Solid(&m.Part.Bar, chord)
			if err != nil {
				t.Fatal(err)
			}
			solids[m.Part] = solid
		}
		x := newPlaced(m.Name, solids[m.Part], m.PartPlace())
		x.bar = m
		s.bars = append(s.bars, x)
	}
	for _, p := range j.Frame.Panels {
		if p.Sheet == nil {
			continue
		}
		sheet, err := panelMesh(p, chord)
		if err != nil {
			t.Fatal(err)
		}
		s.panels = append(s.panels, newPlaced("panel "+p.Name, sheet, panelPlace(p)))
	}
	return s
}

// crossing is a place where a line passes the surface of a solid: in where in is true.
type crossing struct {
	at float64
	in bool
}

// comb is a grid of lines along one axis with all their crossings of two solids, sorted.
type comb struct {
	axis  geom.Axis
	step  float64
	lines [][2][]crossing
}

// combOf lays lines along an axis over a box, a step apart. They lie off every round figure, so that none runs along an edge.
func combOf(a, b *placedSolid, box geom.Box, axis geom.Axis, step float64) *comb {
	u, v := axis.Others()
	nu, nv := int(box.Size().Along(u)/step)+1, int(box.Size().Along(v)/step)+1
	c := &comb{axis: axis, step: step, lines: make([][2][]crossing, nu*nv)}
	low := geom.Vec2{X: box.Low.Along(u) + 0.4142*step, Y: box.Low.Along(v) + 0.7321*step}
	for which, s := range []*placedSolid{a, b} {
		for _, t := range s.tris {
			p := [3]geom.Vec2{}
			lo, hi := geom.Vec2{X: math.Inf(1), Y: math.Inf(1)}, geom.Vec2{X: math.Inf(-1), Y: math.Inf(-1)}
			for k := range 3 {
				q := s.points[t[k]]
				p[k] = geom.Vec2{X: q.Along(u), Y: q.Along(v)}
				lo = geom.Vec2{X: math.Min(lo.X, p[k].X), Y: math.Min(lo.Y, p[k].Y)}
				hi = geom.Vec2{X: math.Max(hi.X, p[k].X), Y: math.Max(hi.Y, p[k].Y)}
			}
			area := p[1].Sub(p[0]).Cross(p[2].Sub(p[0]))
			if area == 0 {
				continue
			}
			i0, i1 := max(0, int(math.Ceil((lo.X-low.X)/step))), min(nu-1, int(math.Floor((hi.X-low.X)/step)))
			k0, k1 := max(0, int(math.Ceil((lo.Y-low.Y)/step))), min(nv-1, int(math.Floor((hi.Y-low.Y)/step)))
			for i := i0; i <= i1; i++ {
				for k := k0; k <= k1; k++ {
					q := geom.Vec2{X: low.X + float64(i)*step, Y: low.Y + float64(k)*step}
					w := [3]float64{}
					for e := range 3 {
						w[e] = p[(e+2)%3].Sub(p[(e+1)%3]).Cross(q.Sub(p[(e+1)%3])) / area
					}
					if w[0] < 0 || w[1] < 0 || w[2] < 0 {
						continue
					}
					at := w[0]*s.points[t[0]].Along(axis) + w[1]*s.points[t[1]].Along(axis) + w[2]*s.points[t[2]].Along(axis)
					into := area < 0
					if axis == geom.Y { // X and Z in this order turn the other way about Y
						into = !into
					}
					c.lines[i*nv+k][which] = append(c.lines[i*nv+k][which], crossing{at, into})
				}
			}
		}
	}
	for i := range c.lines {
		for w := range 2 {
			slices.SortFunc(c.lines[i][w], func(a, b crossing) int {
				if a.at < b.at {
					return -1
				}
				return 1
			})
		}
	}
	return c
}

// spans returns the stretches of a line inside of a solid.
func spans(list []crossing) [][2]float64 {
	var out [][2]float64
	depth, from := 0, 0.0
	for _, c := range list {
		if c.in {
			if depth == 0 {
				from = c.at
			}
			depth++
		} else if depth--; depth == 0 {
			out = append(out, [2]float64{from, c.at})
		}
	}
	return out
}

// common returns the volume that both solids hold by the comb, leaving out stretches shorter than a skin, and the longest stretch.
func (c *comb) common(skin float64) (volume, longest float64) {
	for i := range c.lines {
		for _, a := range spans(c.lines[i][0]) {
			for _, b := range spans(c.lines[i][1]) {
				if l := math.Min(a[1], b[1]) - math.Max(a[0], b[0]); l > skin {
					volume += l * c.step * c.step
					longest = math.Max(longest, l)
				}
			}
		}
	}
	return volume, longest
}

// contact returns the area over which the first solid ends within play before the second begins, or the other way round.
func (c *comb) contact(play float64) float64 {
	n := 0
	for i := range c.lines {
		for _, a := range spans(c.lines[i][0]) {
			for _, b := range spans(c.lines[i][1]) {
				if math.Abs(a[1]-b[0]) < play || math.Abs(b[1]-a[0]) < play {
					n++
				}
			}
		}
	}
	return float64(n) * c.step * c.step
}

// hits returns the distances, rising, at which a ray meets a solid's surface.
func (s *placedSolid) hits(from, along geom.Vec, reach float64) []float64 {
	if geom.EmptyBox().Extend(from).Extend(from.Add(along.Scale(reach))).Grow(1e-6).Intersect(s.box).Empty() {
		return nil
	}
	var out []float64
	for _, t := range s.tris {
		a, b, c := s.points[t[0]], s.points[t[1]], s.points[t[2]]
		e, f := b.Sub(a), c.Sub(a)
		p := along.Cross(f)
		det := e.Dot(p)
		if math.Abs(det) < 1e-15 {
			continue
		}
		w := from.Sub(a)
		u := w.Dot(p) / det
		if u < 0 || u > 1 {
			continue
		}
		q := w.Cross(e)
		v := along.Dot(q) / det
		if v < 0 || u+v > 1 {
			continue
		}
		if d := f.Dot(q) / det; d >= 0 && d <= reach {
			out = append(out, d)
		}
	}
	slices.Sort(out)
	return out
}

// first returns the distance to the solid's surface along a ray, at most reach.
func (s *placedSolid) first(from, along geom.Vec, reach float64) float64 {
	if h := s.hits(from, along, reach); len(h) > 0 {
		return h[0]
	}
	return reach
}

// TestCombMeasures compares combs with closed forms: two balls' boxes of edges 20 and 10 share 6·7·8 mm³, and touch over 100 mm².
func TestCombMeasures(t *testing.T) {
	block := func(low, high geom.Vec) *placedSolid {
		s := &placedSolid{box: geom.Box{Low: low, High: high}}
		c := s.box.Corners()
		s.points = c[:]
		// By the bits of a corner's index: 1 for X, 2 for Y, 4 for Z.
		for _, q := range [][4]uint32{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
			s.tris = append(s.tris, [3]uint32{q[0], q[1], q[2]}, [3]uint32{q[0], q[2], q[3]})
		}
		return s
	}
	a := block(geom.Vec{}, geom.Vec{X: 20, Y: 20, Z: 20})
	b := block(geom.Vec{X: 14, Y: 13, Z: 12}, geom.Vec{X: 24, Y: 23, Z: 22})
	c := block(geom.Vec{X: 20, Y: 5, Z: 5}, geom.Vec{X: 30, Y: 15, Z: 15})
	for ax := range geom.Axis(3) {
		if v, l := combOf(a, b, b.box, ax, 0.1).common(0); math.Abs(v-336) > 8 || math.Abs(l-[]float64{6, 7, 8}[ax]) > 1e-9 {
			t.Errorf("along %v: %.2f mm³, longest %.3f", ax, v, l)
		}
		if v, _ := combOf(a, c, c.box.Grow(1), ax, 0.1).common(1e-9); v != 0 {
			t.Errorf("along %v: blocks that touch share %.3f mm³", ax, v)
		}
	}
	if area := combOf(a, c, c.box.Grow(1), geom.X, 0.1).contact(0.01); math.Abs(area-100) > 2 {
		t.Errorf("they touch over %.2f mm²", area)
	}
	if d := a.first(geom.Vec{X: 7.3, Y: 5.1, Z: -3}, geom.Vec{Z: 1}, 100); math.Abs(d-3) > 1e-12 {
		t.Errorf("a ray meets the block after %g", d)
	}
}
