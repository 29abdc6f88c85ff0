package geom

import "math"

// Box is a box square to the axes. A box with any High below its Low is empty.
type Box struct{ Low, High Vec }

// EmptyBox returns a box that holds nothing; the union of it and b is b.
func EmptyBox() Box {
	inf := math.Inf(1)
	return Box{Vec{inf, inf, inf}, Vec{-inf, -inf, -inf}}
}

// Empty reports whether the box holds no point.
func (b Box) Empty() bool {
	return b.High.X < b.Low.X || b.High.Y < b.Low.Y || b.High.Z < b.Low.Z
}

// Size returns the lengths of the box along the axes.
func (b Box) Size() Vec { return b.High.Sub(b.Low) }

// Centre returns the middle of the box.
func (b Box) Centre() Vec { return b.Low.Add(b.High).Scale(0.5) }

// Union returns the smallest box that holds both.
func (b Box) Union(c Box) Box {
	return Box{
		Vec{math.Min(b.Low.X, c.Low.X), math.Min(b.Low.Y, c.Low.Y), math.Min(b.Low.Z, c.Low.Z)},
		Vec{math.Max(b.High.X, c.High.X), math.Max(b.High.Y, c.High.Y), math.Max(b.High.Z, c.High.Z)},
	}
}

// Extend returns the smallest box that holds b and the point p.
func (b Box) Extend(p Vec) Box { return b.Union(Box{p, p}) }

// Grow returns the box with every face moved outward by d.
func (b Box) Grow(d float64) Box {
	g := Vec{d, d, d}
	return Box{b.Low.Sub(g), b.High.Add(g)}
}

// Move returns the box moved by v.
func (b Box) Move(v Vec) Box { return Box{b.Low.Add(v), b.High.Add(v)} }

// Intersect returns the box common to both, which may be empty.
func (b Box) Intersect(c Box) Box {
	return Box{
		Vec{math.Max(b.Low.X, c.Low.X), math.Max(b.Low.Y, c.Low.Y), math.Max(b.Low.Z, c.Low.Z)},
		Vec{math.Min(b.High.X, c.High.X), math.Min(b.High.Y, c.High.Y), math.Min(b.High.Z, c.High.Z)},
	}
}

// Overlaps reports whether the boxes share a piece deeper than Coincident on every axis.
func (b Box) Overlaps(c Box) bool {
	s := b.Intersect(c).Size()
	return s.X > Coincident && s.Y > Coincident && s.Z > Coincident
}

// Volume returns the volume of the box in mm³, 0 where it is empty.
func (b Box) Volume() float64 {
	if b.Empty() {
		return 0
	}
	s := b.Size()
	return s.X * s.Y * s.Z
}

// Corners returns the eight corners, the low one first, x changing fastest.
func (b Box) Corners() [8]Vec {
	var out [8]Vec
	for i := range out {
		p := b.Low
		if i&1 != 0 {
			p.X = b.High.X
		}
		if i&2 != 0 {
			p.Y = b.High.Y
		}
		if i&4 != 0 {
			p.Z = b.High.Z
		}
		out[i] = p
	}
	return out
}
