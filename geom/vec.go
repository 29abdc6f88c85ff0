package geom

import "math"

// Coincident is the distance in mm under which two positions are the same place.
const Coincident = 0.001

// Vec is a point or a vector in space, in mm. The zero Vec is the origin.
type Vec struct{ X, Y, Z float64 }

// Add returns a + b.
func (a Vec) Add(b Vec) Vec { return Vec{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }

// Sub returns a - b.
func (a Vec) Sub(b Vec) Vec { return Vec{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }

// Scale returns a multiplied by s.
func (a Vec) Scale(s float64) Vec { return Vec{a.X * s, a.Y * s, a.Z * s} }

// Dot returns the scalar product of a and b.
func (a Vec) Dot(b Vec) float64 {
	return float64(a.X*b.X) + float64(a.Y*b.Y) + float64(a.Z*b.Z)
}

// Cross returns the vector product of a and b.
func (a Vec) Cross(b Vec) Vec {
	return Vec{
		float64(a.Y*b.Z) - float64(a.Z*b.Y),
		float64(a.Z*b.X) - float64(a.X*b.Z),
		float64(a.X*b.Y) - float64(a.Y*b.X),
	}
}

// Len returns the length of a.
func (a Vec) Len() float64 { return math.Sqrt(a.Dot(a)) }

// Dist returns the distance between the points a and b.
func (a Vec) Dist(b Vec) float64 { return a.Sub(b).Len() }

// Unit returns a scaled to length one; the zero vector stays zero.
func (a Vec) Unit() Vec {
	l := a.Len()
	if l == 0 {
		return Vec{}
	}
	return a.Scale(1 / l)
}

// Along returns the coordinate of a along an axis.
func (a Vec) Along(ax Axis) float64 {
	switch ax {
	case X:
		return a.X
	case Y:
		return a.Y
	}
	return a.Z
}

// With returns a with its coordinate along an axis replaced by v.
func (a Vec) With(ax Axis, v float64) Vec {
	switch ax {
	case X:
		a.X = v
	case Y:
		a.Y = v
	default:
		a.Z = v
	}
	return a
}

// Vec2 is a point or a vector in a plane, in mm. The zero Vec2 is the origin.
type Vec2 struct{ X, Y float64 }

// Add returns a + b.
func (a Vec2) Add(b Vec2) Vec2 { return Vec2{a.X + b.X, a.Y + b.Y} }

// Sub returns a - b.
func (a Vec2) Sub(b Vec2) Vec2 { return Vec2{a.X - b.X, a.Y - b.Y} }

// Scale returns a multiplied by s.
func (a Vec2) Scale(s float64) Vec2 { return Vec2{a.X * s, a.Y * s} }

// Dot returns the scalar product of a and b.
func (a Vec2) Dot(b Vec2) float64 { return float64(a.X*b.X) + float64(a.Y*b.Y) }

// Cross returns the z component of the vector product of a and b.
func (a Vec2) Cross(b Vec2) float64 { return float64(a.X*b.Y) - float64(a.Y*b.X) }

// Len returns the length of a.
func (a Vec2) Len() float64 { return math.Sqrt(a.Dot(a)) }

// Dist returns the distance between the points a and b.
func (a Vec2) Dist(b Vec2) float64 { return a.Sub(b).Len() }

// Quarter returns a turned by n quarter turns counter-clockwise, exactly.
func (a Vec2) Quarter(n int) Vec2 {
	switch ((n % 4) + 4) % 4 {
	case 1:
		return Vec2{-a.Y, a.X}
	case 2:
		return Vec2{-a.X, -a.Y}
	case 3:
		return Vec2{a.Y, -a.X}
	}
	return a
}

// Axis is one of the three axes of space.
type Axis int

// The axes: X runs left to right, Y front to back, Z up.
const (
	X Axis = iota
	Y
	Z
)

// String returns "x", "y" or "z".
func (a Axis) String() string { return [...]string{"x", "y", "z"}[a] }

// Unit returns the unit vector of the axis.
func (a Axis) Unit() Vec { return Vec{}.With(a, 1) }

// Others returns the two other axes in the order X, Y, Z.
func (a Axis) Others() (Axis, Axis) {
	switch a {
	case X:
		return Y, Z
	case Y:
		return X, Z
	}
	return X, Y
}
