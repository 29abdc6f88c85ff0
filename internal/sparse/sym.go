package sparse

import "slices"

// Sym is a symmetric matrix of order N. It holds the lower triangle by columns: column j
// has rows Row[Ptr[j]:Ptr[j+1]], rising, the diagonal first where it is stored.
type Sym struct {
	N   int
	Ptr []int
	Row []int32
	Val []float64
}

// Builder collects entries of a symmetric matrix. Entries at one place add up.
type Builder struct {
	n    int
	i, j []int32
	v    []float64
}

// NewBuilder returns a builder of a matrix of order n, with room for a number of entries.
func NewBuilder(n, room int) *Builder {
	return &Builder{n: n, i: make([]int32, 0, room), j: make([]int32, 0, room), v: make([]float64, 0, room)}
}

// Add adds v at (i, j) and, off the diagonal, at (j, i). Call it once for each pair.
func (b *Builder) Add(i, j int, v float64) {
	if i < j {
		i, j = j, i
	}
	b.i, b.j, b.v = append(b.i, int32(i)), append(b.j, int32(j)), append(b.v, v)
}

// Sym compresses the entries.
func (b *Builder) Sym() *Sym {
	// Two stable counting sorts, by row and then by column, leave each column with rising rows.
	byRow := countingSort(b.i, nil, b.n)
	byCol := countingSort(b.j, byRow, b.n)
	s := &Sym{N: b.n, Ptr: make([]int, b.n+1), Row: make([]int32, 0, len(b.v)), Val: make([]float64, 0, len(b.v))}
	col, last := int32(-1), int32(-1)
	for _, k := range byCol {
		i, j := b.i[k], b.j[k]
		if j == col && i == last {
			s.Val[len(s.Val)-1] += b.v[k]
			continue
		}
		for col < j {
			col++
			s.Ptr[col] = len(s.Row)
		}
		last = i
		s.Row, s.Val = append(s.Row, i), append(s.Val, b.v[k])
	}
	for c := int(col) + 1; c <= b.n; c++ {
		s.Ptr[c] = len(s.Row)
	}
	return s
}

// countingSort returns the indices of key in the order of their keys, which lie in [0, n). Equal
// keys keep the order of from, or of the indices where from is nil.
func countingSort(key, from []int32, n int) []int32 {
	start := make([]int32, n+1)
	for _, k := range key {
		start[k+1]++
	}
	for i := range n {
		start[i+1] += start[i]
	}
	out := make([]int32, len(key))
	put := func(i int32) {
		out[start[key[i]]] = i
		start[key[i]]++
	}
	if from == nil {
		for i := range key {
			put(int32(i))
		}
		return out
	}
	for _, i := range from {
		put(i)
	}
	return out
}

// Mul sets y to the product with x. Both hold cols vectors side by side: entry c of
// vector v is at c*cols+v.
func (s *Sym) Mul(y, x []float64, cols int) {
	clear(y)
	if cols == 1 {
		s.mulOne(y, x)
		return
	}
	for j := range s.N {
		xj, yj := x[j*cols:(j+1)*cols], y[j*cols:(j+1)*cols]
		for p := s.Ptr[j]; p < s.Ptr[j+1]; p++ {
			i, a := int(s.Row[p]), s.Val[p]
			if i == j {
				for c, v := range xj {
					yj[c] += a * v
				}
				continue
			}
			xi, yi := x[i*cols:(i+1)*cols], y[i*cols:(i+1)*cols]
			for c, v := range xj {
				yi[c] += a * v
				yj[c] += a * xi[c]
			}
		}
	}
}

func (s *Sym) mulOne(y, x []float64) {
	for j := range s.N {
		xj, sum := x[j], 0.0
		for p := s.Ptr[j]; p < s.Ptr[j+1]; p++ {
			i, a := int(s.Row[p]), s.Val[p]
			if i == j {
				sum += a * xj
				continue
			}
			y[i] += a * xj
			sum += a * x[i]
		}
		y[j] += sum
	}
}

// Diagonal returns the diagonal.
func (s *Sym) Diagonal() []float64 {
	d := make([]float64, s.N)
	for j := range s.N {
		if p := s.Ptr[j]; p < s.Ptr[j+1] && int(s.Row[p]) == j {
			d[j] = s.Val[p]
		}
	}
	return d
}

// Shifted returns a + f·b. Both have the same order.
func (s *Sym) Shifted(f float64, b *Sym) *Sym {
	out := &Sym{N: s.N, Ptr: make([]int, s.N+1), Row: make([]int32, 0, len(s.Row)+len(b.Row))}
	out.Val = make([]float64, 0, cap(out.Row))
	for j := range s.N {
		p, q := s.Ptr[j], b.Ptr[j]
		for p < s.Ptr[j+1] || q < b.Ptr[j+1] {
			switch {
			case q == b.Ptr[j+1] || p < s.Ptr[j+1] && s.Row[p] < b.Row[q]:
				out.Row, out.Val = append(out.Row, s.Row[p]), append(out.Val, s.Val[p])
				p++
			case p == s.Ptr[j+1] || b.Row[q] < s.Row[p]:
				out.Row, out.Val = append(out.Row, b.Row[q]), append(out.Val, f*b.Val[q])
				q++
			default:
				out.Row, out.Val = append(out.Row, s.Row[p]), append(out.Val, s.Val[p]+f*b.Val[q])
				p++
				q++
			}
		}
		out.Ptr[j+1] = len(out.Row)
	}
	return out
}

// graph is an undirected graph without loops: the neighbours of v are adj[ptr[v]:ptr[v+1]].
type graph struct {
	ptr []int
	adj []int32
}

// blockGraph returns the graph of the blocks of a matrix. of[i] is the block of unknown i.
func (s *Sym) blockGraph(of []int32, blocks int) graph {
	g := graph{ptr: make([]int, blocks+1)}
	s.eachLink(of, blocks, func(b, c int32) {
		g.ptr[b+1]++
		g.ptr[c+1]++
	})
	for b := range blocks {
		g.ptr[b+1] += g.ptr[b]
	}
	g.adj = make([]int32, g.ptr[blocks])
	next := append([]int(nil), g.ptr[:blocks]...)
	s.eachLink(of, blocks, func(b, c int32) {
		g.adj[next[b]], g.adj[next[c]] = c, b
		next[b]++
		next[c]++
	})
	return g
}

// eachLink visits each pair of linked blocks once: in the lower triangle the second is the later one.
func (s *Sym) eachLink(of []int32, blocks int, visit func(b, c int32)) {
	seen := make([]int32, blocks)
	for i := range seen {
		seen[i] = -1
	}
	for j := range s.N {
		b := of[j]
		for _, r := range s.Row[s.Ptr[j]:s.Ptr[j+1]] {
			if c := of[r]; c != b && seen[c] != b {
				seen[c] = b
				visit(b, c)
			}
		}
	}
}

func (g graph) of(v int) []int32 { return g.adj[g.ptr[v]:g.ptr[v+1]] }

// without returns list without the entries that drop reports, in place.
func without(list []int32, drop func(int32) bool) []int32 { return slices.DeleteFunc(list, drop) }

// Energy returns xᵀ·A·x, and the sum of the sizes of its products, which tells how far rounding can be from it.
func (s *Sym) Energy(x []float64) (energy, size float64) {
	for j := range s.N {
		for p := s.Ptr[j]; p < s.Ptr[j+1]; p++ {
			v := s.Val[p] * x[s.Row[p]] * x[j]
			if int(s.Row[p]) != j {
				v *= 2
			}
			energy += v
			if v < 0 {
				v = -v
			}
			size += v
		}
	}
	return energy, size
}

// Softest returns the movement against which a factored matrix is softest for the size of its diagonal, by inverse
// iteration from a fixed start.
func Softest(a *Sym, f *Factor) []float64 {
	d := a.Diagonal()
	x := make([]float64, a.N)
	fillRandom(x)
	for range 3 {
		var most float64
		for i := range x {
			x[i] *= d[i]
		}
		f.Solve(x, 1)
		for _, v := range x {
			most = max(most, v, -v)
		}
		if !(most > 0) {
			return x
		}
		for i := range x {
			x[i] /= most
		}
	}
	return x
}
