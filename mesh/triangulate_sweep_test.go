package mesh

import (
	"math"
	"math/rand/v2"
	"testing"
)

// sweepFace sweeps a face and checks what comes out: as many triangles as a polygon of n corners and h holes has, n + 2h − 2 (O'Rourke,
// "Computational Geometry in C", 2nd ed., section 1.2 with a bridge to each hole), each counter-clockwise, together of the face's area, and none but
// the face's edges as boundary. It returns false where the sweep gives the face up.
func sweepFace(t *testing.T, name string, edges []edge, points [][3]int32) bool {
	t.Helper()
	tr := triangulator{solid: points, v: 1, local: make([]int32, len(points))}
	if !tr.trace(edges) {
		return false
	}
	n, area := 0, int64(0)
	boundary := map[[2]int32]int{}
	ok := tr.sweep(0, len(tr.ends), func(a, b, c int32, flat bool) {
		o := orient(tr.flatten(a), tr.flatten(b), tr.flatten(c))
		if o <= 0 || flat {
			t.Errorf("%s: a triangle of area %d", name, o)
		}
		n, area = n+1, area+o
		for _, e := range [3][2]int32{{a, b}, {b, c}, {c, a}} {
			boundary[e]++
			boundary[[2]int32{e[1], e[0]}]--
		}
	})
	if !ok {
		if n > 0 {
			t.Errorf("%s: given up, but only after %d triangles", name, n)
		}
		return false
	}
	want, holes := int64(0), 0
	for i := range tr.ends {
		a, l := int64(0), tr.loop(i)
		for k := range l {
			p, q := tr.points[l[k]], tr.points[l[(k+1)%len(l)]]
			a += p[0]*q[1] - p[1]*q[0]
		}
		want += a
		if a < 0 {
			holes++
		}
	}
	for _, e := range edges {
		boundary[[2]int32{e.a, e.b}]--
		boundary[[2]int32{e.b, e.a}]++
	}
	for e, k := range boundary {
		if k != 0 {
			t.Errorf("%s: edge %v is left over", name, e)
			break
		}
	}
	if outer := len(tr.ends) - holes; n != len(edges)+2*holes-2*outer || area != want {
		t.Errorf("%s: %d triangles of area %d/2; %d corners, %d holes, %d outlines, area %d/2", name, n, area, len(edges), holes, outer, want)
	}
	return true
}

func TestSweepCorpus(t *testing.T) {
	for _, c := range faceCorpus {
		for turn := range 4 {
			edges, points := parseFace(t, c.face, turn)
			simple := len(points) == len(edges)
			if swept := sweepFace(t, c.name, edges, points); swept != simple {
				t.Errorf("%s, turned %d: swept %v, simple %v", c.name, turn, swept, simple)
			}
		}
	}
}

// What does not bound a face is given up, and nothing emitted.
func TestSweepGivesUp(t *testing.T) {
	for name, face := range map[string]string{
		"crossed":               "0,0 4,4 4,0 0,4",
		"folded back":           "0,0 4,0 2,0 2,3",
		"inside out":            "0,0 0,4 4,4 4,0",
		"a hole outside":        "0,0 4,0 4,4 0,4 / 6,1 6,2 7,2 7,1",
		"a hole over the edge":  "0,0 4,0 4,4 0,4 / 3,1 3,2 7,2 7,1",
		"outlines that overlap": "0,0 4,0 4,4 0,4 / 2,2 6,2 6,6 2,6",
	} {
		for turn := range 4 {
			edges, points := parseFace(t, face, turn)
			if sweepFace(t, name, edges, points) && name != "outlines that overlap" {
				t.Errorf("%s, turned %d: swept", name, turn)
			}
		}
	}
}

// TestSweepRandom sweeps outlines that go round a middle at changing distances, on coarse grids so that many corners are level or in line, with
// holes of the same kind in places of their own.
func TestSweepRandom(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 11))
	for n := range 600 {
		var edges []edge
		var points table
		points.reset(16)
		loop := func(cx, cy, low, high float64, corners int, hole bool) bool {
			var l []int32
			before := len(points.keys)
			for k := range corners {
				a := 2 * math.Pi * (float64(k) + 0.1 + 0.8*rnd.Float64()) / float64(corners)
				if hole {
					a = -a
				}
				r := low + (high-low)*rnd.Float64()
				l = append(l, points.number([3]int32{int32(math.Round(cx + r*math.Cos(a))), int32(math.Round(cy + r*math.Sin(a))), 0}))
			}
			for i := range l {
				edges = append(edges, edge{0, l[i], l[(i+1)%len(l)]})
			}
			return len(points.keys)-before == corners
		}
		// Corners keep their order round the middle only where the grid is fine against them.
		grid := []float64{300, 3000, 1 << 27}[n%3]
		whole := loop(0, 0, 0.7*grid, grid, 5+rnd.IntN(90), false)
		for i := range rnd.IntN(6) {
			a := 2 * math.Pi * float64(i) / 6
			whole = loop(0.4*grid*math.Cos(a), 0.4*grid*math.Sin(a), 0.08*grid, 0.16*grid, 5+rnd.IntN(12), true) && whole
		}
		if swept := sweepFace(t, "random", edges, points.keys); whole && !swept && grid > 300 {
			t.Errorf("face %d of %d corners was given up", n, len(edges))
		}
	}
}
