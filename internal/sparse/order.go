package sparse

import (
	"cmp"
	"slices"
)

// The minimum-degree ordering of Amestoy, Davis and Duff, "An approximate minimum degree ordering
// algorithm" (SIAM J. Matrix Anal. Appl. 17, 1996), on slices of its own for each vertex: quotient
// graph, bound on the degree, mass elimination, and merging of vertices that cannot be told apart.

// mindeg is the state of the ordering.
type mindeg struct {
	weight []int     // unknowns that a live vertex stands for; 0 once eliminated or merged
	vars   [][]int32 // neighbours of a vertex not yet covered by an element
	elems  [][]int32 // elements of a vertex
	list   [][]int32 // vertices of an element, nil once absorbed
	size   []int     // weight of the vertices of an element when it was made
	degree []int
	follow [][]int32 // vertices merged into this one, or eliminated with it
	mark   []int     // stamps of the set being built
	outer  []int     // stamp + weight of an element outside the pivot's
	stamp  int

	head       []int32 // buckets of vertices by degree
	next, prev []int32
	least      int
	left       int // weight not yet eliminated

	reach  []int32  // scratch of gather
	alikes []hashed // scratch of merge
}

// hashed is a vertex with a number that is equal for equal neighbours.
type hashed struct {
	hash uint64
	v    int32
}

// minimumDegree returns an elimination order of the graph's vertices, whose weights are the numbers of
// unknowns in them.
func minimumDegree(g graph, weights []int) []int32 {
	n := len(weights)
	m := newMindeg(g, weights)
	order := make([]int32, 0, n)
	for len(order) < n {
		p := m.pop()
		for _, v := range m.eliminate(p) {
			order = m.expand(order, v)
		}
	}
	return order
}

func newMindeg(g graph, weights []int) *mindeg {
	n := len(weights)
	m := &mindeg{weight: append([]int(nil), weights...), vars: make([][]int32, n), elems: make([][]int32, n),
		list: make([][]int32, n), size: make([]int, n), degree: make([]int, n), follow: make([][]int32, n),
		mark: make([]int, n), outer: make([]int, n), next: make([]int32, n), prev: make([]int32, n)}
	adj := append([]int32(nil), g.adj...)
	for v := range n {
		m.vars[v] = adj[g.ptr[v]:g.ptr[v+1]:g.ptr[v+1]]
		m.left += weights[v]
		for _, u := range m.vars[v] {
			m.degree[v] += weights[u]
		}
	}
	m.head = make([]int32, m.left+1)
	for i := range m.head {
		m.head[i] = -1
	}
	for v := n - 1; v >= 0; v-- {
		m.push(int32(v))
	}
	return m
}

func (m *mindeg) push(v int32) {
	d := m.degree[v]
	m.next[v], m.prev[v] = m.head[d], -1
	if m.head[d] >= 0 {
		m.prev[m.head[d]] = v
	}
	m.head[d] = v
	m.least = min(m.least, d)
}

func (m *mindeg) remove(v int32) {
	if m.prev[v] >= 0 {
		m.next[m.prev[v]] = m.next[v]
	} else {
		m.head[m.degree[v]] = m.next[v]
	}
	if m.next[v] >= 0 {
		m.prev[m.next[v]] = m.prev[v]
	}
}

func (m *mindeg) pop() int32 {
	for m.head[m.least] < 0 {
		m.least++
	}
	v := m.head[m.least]
	m.remove(v)
	return v
}

// expand appends v and everything merged into it.
func (m *mindeg) expand(order []int32, v int32) []int32 {
	order = append(order, v)
	for _, u := range m.follow[v] {
		order = m.expand(order, u)
	}
	return order
}

// eliminate makes the vertex p an element and returns the vertices that leave with it, p first.
func (m *mindeg) eliminate(p int32) []int32 {
	lp, total := m.gather(p)
	m.left -= m.weight[p]
	m.weight[p] = 0
	m.list[p] = lp
	m.measure(lp)
	gone := []int32{p}
	live := lp[:0]
	for _, i := range lp {
		m.remove(i)
		if m.prune(i, p, total) {
			gone = append(gone, i)
			continue
		}
		live = append(live, i)
	}
	for _, i := range gone[1:] {
		total -= m.weight[i]
		m.left -= m.weight[i]
		m.weight[i] = 0
	}
	live = m.merge(live)
	m.list[p], m.size[p] = live, total
	for _, i := range live {
		m.degree[i] = max(0, min(m.degree[i], m.left-m.weight[i]))
		m.push(i)
	}
	if len(live) == 0 {
		m.list[p] = nil
	}
	return gone
}

// gather returns the neighbours of p through edges and elements, and their weight; the elements are absorbed.
func (m *mindeg) gather(p int32) (out []int32, total int) {
	lp := m.reach[:0]
	m.stamp++
	m.mark[p] = m.stamp
	add := func(list []int32) {
		for _, i := range list {
			if m.weight[i] > 0 && m.mark[i] != m.stamp {
				m.mark[i] = m.stamp
				lp = append(lp, i)
				total += m.weight[i]
			}
		}
	}
	add(m.vars[p])
	for _, e := range m.elems[p] {
		add(m.list[e])
		m.list[e] = nil
	}
	m.vars[p], m.elems[p] = nil, nil
	m.reach = lp
	return slices.Clone(lp), total
}

// measure sets outer of every element that touches lp to the stamp plus the weight of its part outside lp.
func (m *mindeg) measure(lp []int32) {
	base := m.base()
	for _, i := range lp {
		for _, e := range m.elems[i] {
			if m.list[e] == nil {
				continue
			}
			if m.outer[e] < base {
				m.outer[e] = base + m.size[e]
			}
			m.outer[e] -= m.weight[i]
		}
	}
}

// base returns a number above every outer of the steps before.
func (m *mindeg) base() int { return m.stamp * (len(m.head) + 1) }

// prune takes from i what the new element p covers, bounds its degree without p's own vertices
// counted twice, and reports whether nothing is left, so that i can leave with p.
func (m *mindeg) prune(i, p int32, total int) bool {
	base, deg := m.base(), 0
	m.elems[i] = without(m.elems[i], func(e int32) bool {
		if m.list[e] == nil || m.outer[e] == base {
			return true // absorbed, or all of it lies in p
		}
		deg += m.outer[e] - base
		return false
	})
	m.vars[i] = without(m.vars[i], func(v int32) bool {
		if m.weight[v] == 0 || m.mark[v] == m.stamp {
			return true
		}
		deg += m.weight[v]
		return false
	})
	if deg == 0 {
		return true
	}
	m.elems[i] = append(m.elems[i], p)
	rest := total - m.weight[i]
	m.degree[i] = min(m.degree[i]+rest, deg+rest)
	return false
}

// merge joins the vertices of the new element that have the same neighbours, and returns those that stay.
func (m *mindeg) merge(live []int32) []int32 {
	m.alikes = m.alikes[:0]
	for _, i := range live {
		var h uint64
		for _, e := range m.elems[i] {
			h += uint64(e) + 1
		}
		for _, v := range m.vars[i] {
			h += (uint64(v) + 1) * 0x9e3779b97f4a7c15
		}
		m.alikes = append(m.alikes, hashed{h, i})
	}
	slices.SortFunc(m.alikes, func(a, b hashed) int {
		if c := cmp.Compare(a.hash, b.hash); c != 0 {
			return c
		}
		return cmp.Compare(a.v, b.v)
	})
	for a := range m.alikes {
		into := m.alikes[a]
		if m.weight[into.v] == 0 {
			continue
		}
		for _, b := range m.alikes[a+1:] {
			if b.hash != into.hash {
				break
			}
			if m.weight[b.v] > 0 && m.alike(b.v, into.v) {
				m.absorb(b.v, into.v)
			}
		}
	}
	return without(live, func(i int32) bool { return m.weight[i] == 0 })
}

// absorb joins vertex i to another.
func (m *mindeg) absorb(i, into int32) {
	m.degree[into] -= m.weight[i]
	m.weight[into] += m.weight[i]
	m.weight[i] = 0
	m.vars[i], m.elems[i] = nil, nil
	m.follow[into] = append(m.follow[into], i)
}

// alike reports whether i and j have the same neighbours.
func (m *mindeg) alike(i, j int32) bool {
	if len(m.vars[i]) != len(m.vars[j]) || len(m.elems[i]) != len(m.elems[j]) {
		return false
	}
	m.stamp++
	for _, v := range m.vars[i] {
		m.mark[v] = m.stamp
	}
	for _, v := range m.vars[j] {
		if m.mark[v] != m.stamp {
			return false
		}
	}
	m.stamp++
	for _, e := range m.elems[i] {
		m.mark[e] = m.stamp
	}
	for _, e := range m.elems[j] {
		if m.mark[e] != m.stamp {
			return false
		}
	}
	return true
}
