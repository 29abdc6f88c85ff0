package check

import (
	"cmp"
	"math"
	"slices"

	"barwright/geom"
)

// convex is a convex piece of a printed part.
type convex struct {
	poly geom.Polyhedron
	box  geom.Box
}

func newConvex(p geom.Polyhedron) convex { return convex{p, p.Box()} }

// move returns the piece moved by v.
func (c *convex) move(v geom.Vec) convex {
	return convex{c.poly.Move(geom.Shift(v)), c.box.Move(v)}
}

// distance returns how far a point lies outside of the piece, 0 inside, where that is less than a radius.
func (c *convex) distance(at geom.Vec) float64 { return c.poly.Distance(at) }

// sharedConvex returns the volume in mm³ common to two convex pieces, and its middle.
func sharedConvex(a, b *convex) (float64, geom.Vec) {
	if !a.box.Overlaps(b.box) {
		return 0, geom.Vec{}
	}
	rest := a.poly
	for i := range b.poly.Faces {
		n, d := b.poly.Plane(i)
		if rest = rest.Clip(n, d); rest.Empty() {
			return 0, geom.Vec{}
		}
	}
	return rest.Volume()
}

// sharedPrism returns the volume in mm³ common to a convex piece and a prism, and its middle: the piece is cut by the prism's ends and
// by each convex part of its section.
func sharedPrism(c *convex, p *prism) (float64, geom.Vec) {
	if !c.box.Overlaps(p.box) {
		return 0, geom.Vec{}
	}
	own := c.poly.Move(p.place.Inverse())
	for i, h := range []float64{p.half.X, p.half.Y} {
		d := geom.Axis(i).Unit()
		own = own.Clip(d, h)
		own = own.Clip(d.Scale(-1), h)
	}
	for end, sign := range [2]float64{-1, 1} {
		n := geom.Vec{X: -p.cuts[end].SlopeX, Y: -p.cuts[end].SlopeY, Z: 1}.Scale(sign)
		own = own.Clip(n.Unit(), p.ends[end]*sign/n.Len())
	}
	if own.Empty() {
		return 0, geom.Vec{}
	}
	box := own.Box()
	volume, middle := 0.0, geom.Vec{}
	for _, t := range p.trapezia() {
		if t[0].X >= box.High.X || t[1].X <= box.Low.X || math.Min(t[0].Y, t[1].Y) >= box.High.Y || math.Max(t[2].Y, t[3].Y) <= box.Low.Y {
			continue
		}
		rest := own
		for i, a := range t {
			e := t[(i+1)%4].Sub(a)
			if e.Len() < 1e-9 {
				continue
			}
			n := geom.Vec{X: e.Y, Y: -e.X}.Unit()
			if rest = rest.Clip(n, n.X*a.X+n.Y*a.Y); rest.Empty() {
				break
			}
		}
		v, at := rest.Volume()
		volume += v
		middle = middle.Add(at.Scale(v))
	}
	if volume <= 0 {
		return 0, geom.Vec{}
	}
	return volume, p.place.Apply(middle.Scale(1 / volume))
}

// trapezium is a piece of a section between two upright lines: low left, low right, high right, high left.
type trapezium [4]geom.Vec2

// sectionParts is a section's convex parts, made when they are first asked for.
type sectionParts struct {
	polygons [][]geom.Vec2
	parts    []trapezium
}

// partsOf returns the parts of a profile's section, shared by its bars.
func (m *model) partsOf(p *geom.Profile, section [][]geom.Vec2) *sectionParts {
	if m.parts == nil {
		m.parts = map[*geom.Profile]*sectionParts{}
	}
	if m.parts[p] == nil {
		m.parts[p] = &sectionParts{polygons: section}
	}
	return m.parts[p]
}

func (s *sectionParts) get() []trapezium {
	if s.parts == nil {
		s.parts = trapezia(s.polygons)
	}
	return s.parts
}

// trapezia returns the convex parts of the prism's section.
func (p *prism) trapezia() []trapezium {
	if p.parts != nil {
		return p.parts.get()
	}
	return trapezia(p.polygons)
}

// sectionEdge is an edge of a section, from left to right.
type sectionEdge struct{ a, b geom.Vec2 }

func (e *sectionEdge) at(x float64) float64 {
	return e.a.Y + (e.b.Y-e.a.Y)*(x-e.a.X)/(e.b.X-e.a.X)
}

// strip is what lies between two edges, by their numbers, over a stretch of x.
type strip struct {
	low, high int
	from, to  float64
}

// trapezia cuts what lies inside of an odd number of polygons into trapezia by upright lines through their corners. Neighbours
// between the same two edges are one.
func trapezia(polygons [][]geom.Vec2) []trapezium {
	var edges []sectionEdge
	var cuts []float64
	for _, poly := range polygons {
		for i, a := range poly {
			b := poly[(i+1)%len(poly)]
			cuts = append(cuts, a.X)
			if a.X > b.X {
				a, b = b, a
			}
			if b.X-a.X > 1e-9 {
				edges = append(edges, sectionEdge{a, b})
			}
		}
	}
	slices.Sort(cuts)
	var open, done []strip
	for k := 0; k+1 < len(cuts); k++ {
		if cuts[k+1]-cuts[k] < 1e-9 {
			continue
		}
		next := stripsBetween(edges, cuts[k], cuts[k+1])
		for _, o := range open {
			i := slices.IndexFunc(next, func(s strip) bool { return s.low == o.low && s.high == o.high })
			if i < 0 {
				done = append(done, o)
			} else {
				next[i].from = o.from
			}
		}
		open = next
	}
	var out []trapezium
	for _, s := range append(done, open...) {
		low, high := &edges[s.low], &edges[s.high]
		out = append(out, trapezium{{X: s.from, Y: low.at(s.from)}, {X: s.to, Y: low.at(s.to)}, {X: s.to, Y: high.at(s.to)}, {X: s.from, Y: high.at(s.from)}})
	}
	return out
}

// stripsBetween returns what lies inside between two neighbouring corners.
func stripsBetween(edges []sectionEdge, from, to float64) []strip {
	mid := (from + to) / 2
	var across []int
	for i, e := range edges {
		if e.a.X < mid && e.b.X > mid {
			across = append(across, i)
		}
	}
	slices.SortFunc(across, func(i, j int) int { return cmp.Or(cmp.Compare(edges[i].at(mid), edges[j].at(mid)), cmp.Compare(i, j)) })
	var out []strip
	for i := 0; i+1 < len(across); i += 2 {
		out = append(out, strip{across[i], across[i+1], from, to})
	}
	return out
}
