package sparse

import (
	"math"
	"sort"
	"testing"
)

// rng is a small generator with a fixed seed (xorshift; Marsaglia 2003).
type rng uint64

func (r *rng) next() float64 {
	*r ^= *r << 13
	*r ^= *r >> 7
	*r ^= *r << 17
	return float64(*r>>11)/(1<<53) - 0.5
}

// grid returns the Laplacian of a grid a × b × c with dof unknowns a node, coupled at random but definite.
func grid(a, b, c, dof int) (*Sym, []int) {
	n := a * b * c
	bl := NewBuilder(n*dof, n*dof*dof*4)
	r := rng(12345)
	id := func(i, j, k int) int { return (i*b+j)*c + k }
	link := func(u, v int) {
		for p := range dof {
			w := 1 + r.next()*0.5
			bl.Add(u*dof+p, u*dof+p, w)
			bl.Add(v*dof+p, v*dof+p, w)
			bl.Add(u*dof+p, v*dof+p, -w)
			for q := range dof {
				if p != q {
					e := 0.3 * r.next() / float64(dof)
					bl.Add(u*dof+p, v*dof+q, e)
					bl.Add(u*dof+p, u*dof+p, math.Abs(e))
					bl.Add(v*dof+q, v*dof+q, math.Abs(e))
				}
			}
		}
	}
	for i := range a {
		for j := range b {
			for k := range c {
				if i+1 < a {
					link(id(i, j, k), id(i+1, j, k))
				}
				if j+1 < b {
					link(id(i, j, k), id(i, j+1, k))
				}
				if k+1 < c {
					link(id(i, j, k), id(i, j, k+1))
				}
			}
		}
	}
	for p := range dof {
		bl.Add(p, p, 1)
	}
	blocks := make([]int, n)
	for i := range blocks {
		blocks[i] = i * dof
	}
	return bl.Sym(), blocks
}

func TestSolve(t *testing.T) {
	for _, size := range [][4]int{{1, 1, 1, 1}, {2, 1, 1, 1}, {5, 1, 1, 3}, {9, 9, 1, 1}, {5, 6, 7, 1}, {5, 5, 5, 6}, {40, 40, 1, 2}} {
		a, blocks := grid(size[0], size[1], size[2], size[3])
		f := Factorize(a, blocks)
		if len(f.Loose) > 0 || f.Negative > 0 {
			t.Fatalf("%v: loose %d, negative %d", size, len(f.Loose), f.Negative)
		}
		for _, cols := range []int{1, 3} {
			x, y := make([]float64, a.N*cols), make([]float64, a.N*cols)
			r := rng(99)
			for i := range x {
				x[i] = r.next()
			}
			a.Mul(y, x, cols)
			f.Solve(y, cols)
			for i := range x {
				if math.Abs(x[i]-y[i]) > 1e-9 {
					t.Fatalf("%v cols %d: x[%d] = %g, want %g", size, cols, i, y[i], x[i])
				}
			}
		}
	}
}

func BenchmarkFactorLattice(b *testing.B) {
	a, blocks := grid(15, 15, 15, 6)
	b.ReportAllocs()
	for b.Loop() {
		f := Factorize(a, blocks)
		b.ReportMetric(float64(f.Size()), "nonzeros")
	}
}

func BenchmarkAnalyseLattice(b *testing.B) {
	a, blocks := grid(15, 15, 15, 6)
	b.ReportAllocs()
	for b.Loop() {
		Analyse(a, blocks)
	}
}

func BenchmarkSolveLattice(b *testing.B) {
	a, blocks := grid(15, 15, 15, 6)
	f := Factorize(a, blocks)
	x := make([]float64, a.N*6)
	b.ReportAllocs()
	for b.Loop() {
		for i := range x {
			x[i] = float64(i % 7)
		}
		f.Solve(x, 6)
	}
}

// A grid with unit weights has known eigenvalues: a chain of n nodes held at both ends has 4·sin²(kπ/(2(n+1))) (Strang,
// Introduction to Applied Mathematics). Those of a square grid are sums, many of them double.
func TestModesOfAGrid(t *testing.T) {
	const n = 23
	k, m := NewBuilder(n*n, 0), NewBuilder(n*n, 0)
	for i := range n {
		for j := range n {
			k.Add(i*n+j, i*n+j, 4)
			m.Add(i*n+j, i*n+j, 0.5)
			if i+1 < n {
				k.Add(i*n+j, (i+1)*n+j, -1)
			}
			if j+1 < n {
				k.Add(i*n+j, i*n+j+1, -1)
			}
		}
	}
	ks, ms := k.Sym(), m.Sym()
	f := Factorize(ks, nil)
	got, err := Modes(f, ms, 10)
	if err != nil {
		t.Fatal(err)
	}
	var want []float64
	for a := 1; a <= n; a++ {
		for b := 1; b <= n; b++ {
			sa, sb := math.Sin(float64(a)*math.Pi/(2*(n+1))), math.Sin(float64(b)*math.Pi/(2*(n+1)))
			want = append(want, (4*sa*sa+4*sb*sb)/0.5)
		}
	}
	sort.Float64s(want)
	if len(got) != 10 {
		t.Fatalf("%d modes", len(got))
	}
	for i, g := range got {
		if math.Abs(g.Lambda-want[i]) > 1e-9*want[i] {
			t.Errorf("mode %d: %.12g, want %.12g", i, g.Lambda, want[i])
		}
		kx, mx := make([]float64, n*n), make([]float64, n*n)
		ks.Mul(kx, g.X, 1)
		ms.Mul(mx, g.X, 1)
		var res, norm float64
		for r := range kx {
			res += math.Pow(kx[r]-g.Lambda*mx[r], 2)
			norm += math.Pow(kx[r], 2)
		}
		if math.Sqrt(res/norm) > 1e-4 {
			t.Errorf("mode %d: residual %g", i, math.Sqrt(res/norm))
		}
	}
	// Sylvester: the number of negative pivots of K - s·M is the number of eigenvalues below s.
	for _, i := range []int{1, 4, 10} {
		s := (want[i-1] + want[i]) / 2
		if want[i]-want[i-1] < 1e-6 {
			continue
		}
		if neg := Factorize(ks.Shifted(-s, ms), nil).Negative; neg != i {
			t.Errorf("%d eigenvalues below %g, want %d", neg, s, i)
		}
	}
}

// A basis kept short finds the same modes.
func TestModesWithRestarts(t *testing.T) {
	k, blocks := grid(12, 11, 10, 1)
	b := NewBuilder(k.N, k.N)
	for i := range k.N {
		b.Add(i, i, 1+float64(i%3))
	}
	m := b.Sym()
	f := Factorize(k, blocks)
	want, err := modes(f, m, 7, 4, 1000)
	if err != nil {
		t.Fatal(err)
	}
	for _, room := range []int{16, 24, 40} {
		got, err := modes(f, m, 7, 4, room)
		if err != nil {
			t.Fatalf("room %d: %v", room, err)
		}
		for i := range want {
			if math.Abs(got[i].Lambda-want[i].Lambda) > 1e-8*want[i].Lambda {
				t.Errorf("room %d, mode %d: %.12g, want %.12g", room, i, got[i].Lambda, want[i].Lambda)
			}
		}
	}
}

// Systems smaller than the block, and masses on few unknowns.
func TestModesOfSmallSystems(t *testing.T) {
	k, m := NewBuilder(3, 0), NewBuilder(3, 0)
	for i := range 3 {
		k.Add(i, i, 2)
	}
	k.Add(0, 1, -1)
	k.Add(1, 2, -1)
	m.Add(1, 1, 2) // only the middle has mass: k = 1, λ = 1/2
	got, err := Modes(Factorize(k.Sym(), nil), m.Sym(), 6)
	if err != nil || len(got) != 1 || math.Abs(got[0].Lambda-0.5) > 1e-12 {
		t.Errorf("got %v, %v", got, err)
	}
}

func TestLooseMovements(t *testing.T) {
	// A free chain of three, and a node that nothing holds.
	k := NewBuilder(4, 0)
	for i := range 2 {
		k.Add(i, i, 1)
		k.Add(i+1, i+1, 1)
		k.Add(i, i+1, -1)
	}
	k.Add(3, 3, 0)
	a := k.Sym()
	f := Factorize(a, nil)
	if len(f.Loose) != 2 {
		t.Fatalf("loose: %v", f.Loose)
	}
	for i := range f.Loose {
		x := f.Free(i)
		y := make([]float64, 4)
		a.Mul(y, x, 1)
		for _, v := range y {
			if math.Abs(v) > 1e-12 {
				t.Errorf("movement %v needs force %v", x, y)
			}
		}
		if x[f.Loose[i]] != 1 {
			t.Errorf("movement %v of unknown %d", x, f.Loose[i])
		}
	}
}

func BenchmarkModesLattice(b *testing.B) {
	a, blocks := grid(15, 15, 15, 6)
	m := NewBuilder(a.N, a.N)
	for i := range a.N {
		m.Add(i, i, 1+float64(i%5))
	}
	ms := m.Sym()
	f := Factorize(a, blocks)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Modes(f, ms, 6); err != nil {
			b.Fatal(err)
		}
	}
}
