package sparse

import (
	"math"
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
