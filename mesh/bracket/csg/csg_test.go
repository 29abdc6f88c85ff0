package csg

import (
	"math"
	"math/rand"
	"testing"

	"barwright/geom"
)

// volume returns the volume of a mesh by the divergence theorem.
func volume(m *Mesh) float64 {
	v := 0.0
	for _, t := range m.Triangles {
		var p [3]geom.Vec
		for k, i := range t {
			q := m.Points[i]
			p[k] = geom.Vec{X: float64(q[0]), Y: float64(q[1]), Z: float64(q[2])}
		}
		v += p[0].Dot(p[1].Cross(p[2])) / 6
	}
	return v
}

// checkClosed fails unless every directed edge has exactly one partner, and no point repeats.
func checkClosed(t *testing.T, m *Mesh) {
	t.Helper()
	edges := map[[2]uint32]int{}
	for _, tr := range m.Triangles {
		for k := range 3 {
			edges[[2]uint32{tr[k], tr[(k+1)%3]}]++
		}
	}
	for e, n := range edges {
		if n != 1 || edges[[2]uint32{e[1], e[0]}] != 1 {
			t.Fatalf("edge %v occurs %d times, its partner %d times", e, n, edges[[2]uint32{e[1], e[0]}])
		}
	}
	seen := map[[3]float32]bool{}
	for _, p := range m.Points {
		if seen[p] {
			t.Fatalf("point %v twice", p)
		}
		seen[p] = true
	}
}

func TestBoxes(t *testing.T) {
	box := func(a, b, c, d, e, f float64) Convex {
		return Box(geom.Vec{X: a, Y: b, Z: c}, geom.Vec{X: d, Y: e, Z: f})
	}
	tests := []struct {
		name string
		make func(b *Body)
		want float64
		tris int
	}{
		{"one", func(b *Body) { b.Add(box(0, 0, 0, 1, 2, 3)) }, 6, 12},
		{"side by side", func(b *Body) { b.Add(box(0, 0, 0, 1, 2, 3)); b.Add(box(1, 0, 0, 2, 2, 3)) }, 12, 12},
		{"overlap", func(b *Body) { b.Add(box(0, 0, 0, 2, 2, 2)); b.Add(box(1, 1, 1, 3, 3, 3)) }, 15, 36},
		{"through hole", func(b *Body) { b.Add(box(0, 0, 0, 3, 3, 3)); b.Cut(box(1, 1, -1, 2, 2, 4)) }, 24, 32},
		{"flush pocket", func(b *Body) { b.Add(box(0, 0, 0, 3, 3, 3)); b.Cut(box(1, 1, 1, 2, 2, 3)) }, 25, 28},
		{"cavity", func(b *Body) { b.Add(box(0, 0, 0, 3, 3, 3)); b.Cut(box(1, 1, 1, 2, 2, 2)) }, 26, 24},
		{"cut and filled", func(b *Body) {
			b.Add(box(0, 0, 0, 3, 3, 3))
			b.Cut(box(1, 1, -1, 2, 2, 4))
			b.Add(box(1, 1, 0, 2, 2, 3))
		}, 27, 12},
		{"L", func(b *Body) { b.Add(box(0, 0, 0, 3, 1, 1)); b.Add(box(0, 0, 0, 1, 3, 1)) }, 5, 20},
	}
	for _, tc := range tests {
		t.Run(tc.name, func(t *testing.T) {
			var b Body
			tc.make(&b)
			m, err := b.Build(geom.Identity(), false)
			if err != nil {
				t.Fatal(err)
			}
			checkClosed(t, m)
			if v := volume(m); math.Abs(v-tc.want) > 1e-9 {
				t.Errorf("volume %v, want %v", v, tc.want)
			}
			if len(m.Triangles) != tc.tris {
				t.Errorf("%d triangles, want %d", len(m.Triangles), tc.tris)
			}
		})
	}
}

// TestRandomPieces builds heaps of turned and crossing pieces, with shared planes, and compares the
// volume with a count of grid points.
func TestRandomPieces(t *testing.T) {
	rng := rand.New(rand.NewSource(7))
	closed := 0
	for n := range 150 {
		var b Body
		for k := range 4 + rng.Intn(8) {
			m := geom.Identity()
			if rng.Intn(2) == 0 {
				s, c := math.Sincos(rng.Float64() * 3)
				m = geom.Motion{EX: geom.Vec{X: c, Y: s}, EY: geom.Vec{Z: 1}, EZ: geom.Vec{X: s, Y: -c}}
			}
			m.T = geom.Vec{X: float64(rng.Intn(20)), Y: float64(rng.Intn(20)), Z: float64(rng.Intn(20))}
			var o Outline
			switch rng.Intn(4) {
			case 0:
				o = Rectangle(geom.Vec2{X: -4, Y: -3}, geom.Vec2{X: 5, Y: float64(1 + rng.Intn(5))})
			case 1:
				o = Circle(geom.Vec2{}, 2+rng.Float64()*4)
			case 2:
				o = Teardrop(geom.Vec2{}, 3.3, geom.Vec2{X: 1, Y: 1})
			default:
				o = Rounded(geom.Vec2{X: -6, Y: -6}, geom.Vec2{X: 6, Y: 4}, 2)
			}
			c := Prism(m, o, -5, 6, float64(rng.Intn(2)), 0)
			if k == 0 || rng.Intn(3) > 0 {
				b.Add(c)
			} else {
				b.Cut(c)
			}
		}
		m, err := b.Build(geom.Shift(geom.Vec{X: 0.3, Z: 100}), true)
		if _, ok := err.(*EdgeError); ok {
			continue // two pieces met in an edge by chance
		}
		if err != nil {
			t.Fatalf("heap %d: %v", n, err)
		}
		closed++
		checkClosed(t, m)
		const h = 0.5
		count := 0
		for x := -10.0; x < 35; x += h {
			for y := -10.0; y < 35; y += h {
				for z := -10.0; z < 35; z += h {
					if b.Inside(geom.Vec{X: x + 0.21, Y: y + 0.17, Z: z + 0.23}) {
						count++
					}
				}
			}
		}
		want := float64(count) * h * h * h
		if v := volume(m); math.Abs(v-want) > 0.03*want+10 {
			t.Errorf("heap %d: volume %v, counted %v", n, v, want)
		}
	}
	if closed < 100 {
		t.Errorf("only %d heaps were closed", closed)
	}
}

func TestProducts(t *testing.T) {
	tests := []struct {
		a, b int64
	}{{3, 4}, {-3, 4}, {1 << 62, -5}, {-1 << 62, -1 << 62}, {math.MaxInt64, math.MinInt64}}
	for _, tc := range tests {
		want := float64(tc.a) * float64(tc.b)
		if got := mul64(tc.a, tc.b).float(); math.Abs(got-want) > 1e-12*math.Abs(want) {
			t.Errorf("%d·%d = %g, want %g", tc.a, tc.b, got, want)
		}
		if got := mul64(tc.a, 1).times(tc.b); got != mul64(tc.a, tc.b) {
			t.Errorf("%d times %d: %v, want %v", tc.a, tc.b, got, mul64(tc.a, tc.b))
		}
	}
}
