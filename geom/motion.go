package geom

// Motion is a rigid motion: a turn followed by a shift. EX, EY and EZ are the
// images of the unit vectors (the columns of the rotation matrix), T that of the
// origin. The zero Motion is not a motion; start from [Identity].
type Motion struct{ EX, EY, EZ, T Vec }

// Identity returns the motion that moves nothing.
func Identity() Motion { return Motion{EX: Vec{1, 0, 0}, EY: Vec{0, 1, 0}, EZ: Vec{0, 0, 1}} }

// Shift returns the motion that moves everything by v.
func Shift(v Vec) Motion { m := Identity(); m.T = v; return m }

// Apply returns the image of the point p.
func (m Motion) Apply(p Vec) Vec { return m.Turn(p).Add(m.T) }

// Turn returns the image of the direction d, without the shift.
func (m Motion) Turn(d Vec) Vec {
	return Vec{
		float64(m.EX.X*d.X) + float64(m.EY.X*d.Y) + float64(m.EZ.X*d.Z),
		float64(m.EX.Y*d.X) + float64(m.EY.Y*d.Y) + float64(m.EZ.Y*d.Z),
		float64(m.EX.Z*d.X) + float64(m.EY.Z*d.Y) + float64(m.EZ.Z*d.Z),
	}
}

// Unturn returns the direction whose image is d.
func (m Motion) Unturn(d Vec) Vec { return Vec{m.EX.Dot(d), m.EY.Dot(d), m.EZ.Dot(d)} }

// Unapply returns the point whose image is p.
func (m Motion) Unapply(p Vec) Vec { return m.Unturn(p.Sub(m.T)) }

// Then returns the motion that does m first and n second.
func (m Motion) Then(n Motion) Motion {
	return Motion{EX: n.Turn(m.EX), EY: n.Turn(m.EY), EZ: n.Turn(m.EZ), T: n.Apply(m.T)}
}

// Inverse returns the motion that undoes m.
func (m Motion) Inverse() Motion {
	return Motion{
		EX: m.Unturn(Vec{1, 0, 0}), EY: m.Unturn(Vec{0, 1, 0}), EZ: m.Unturn(Vec{0, 0, 1}),
		T: m.Unturn(m.T).Scale(-1),
	}
}

// ApplyBox returns the box round the image of b, which for quarter turns is the image itself.
func (m Motion) ApplyBox(b Box) Box {
	out := EmptyBox()
	for _, c := range b.Corners() {
		out = out.Extend(m.Apply(c))
	}
	return out
}
