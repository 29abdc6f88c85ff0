package statics

import (
	"math"

	"barwright/frame"
	"barwright/geom"
)

// stretch returns the way between two places of a bar, mm from its low end, as stretches of its beams in that direction.
func (b *builder) stretch(n *bar, from, to float64) []Stretch {
	m := n.member
	if m.LowEnd() == 1 {
		from, to = m.Length()-from, m.Length()-to
	}
	from, to = math.Max(n.from, math.Min(from, n.to)), math.Max(n.from, math.Min(to, n.to))
	pieces := b.out.Pieces[m]
	lo, hi := math.Min(from, to), math.Max(from, to)
	var out []Stretch
	for k, i := range pieces {
		a := b.out.Beams[i].At
		l := b.out.length(i)
		last := k == len(pieces)-1
		s, e := math.Max(lo, a), math.Min(hi, a+l)
		if lo == hi {
			if lo >= a && (lo < a+l || last) {
				return []Stretch{{i, math.Min(lo-a, l), math.Min(lo-a, l)}}
			}
			continue
		}
		if e > s {
			out = append(out, Stretch{i, s - a, e - a})
		}
	}
	if from > to {
		for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
			out[i], out[j] = out[j], out[i]
		}
		for i := range out {
			out[i].From, out[i].To = out[i].To, out[i].From
		}
	}
	return out
}

// addMasses adds everything that weighs beside the bars.
func (b *builder) addMasses() {
	for _, m := range b.out.Frame.Masses {
		n := b.bars[m.On]
		if n == nil {
			continue // on a group that is left out
		}
		mass := Mass{Name: m.Name, Kg: m.Kg, Offset: m.Offset, Path: b.stretch(n, m.From, m.To), Travels: m.Kind == frame.MassPath}
		// Offsets are from the bar's axis, that is the middle of its box; the beam lies along the centroid.
		mass.Offset = mass.Offset.Sub(n.member.Place.Turn(geom.Vec{X: n.centroid.X, Y: n.centroid.Y}))
		if mass.Travels {
			b.out.Rides = append(b.out.Rides, Ride{m.Name, len(b.out.Masses)})
		}
		b.out.Masses = append(b.out.Masses, mass)
	}
	for _, g := range b.out.Frame.Groups {
		b.addGroup(g)
	}
	for _, p := range b.out.Frame.Panels {
		b.addPanel(p)
	}
	for _, t := range b.out.Frame.Fittings() {
		if t.Kind == frame.PrintedFitting {
			b.addPrinted(&t)
		}
	}
	for _, l := range b.joints {
		b.addBracket(l)
	}
}

// addPrinted adds the weight of a printed part: as points on the bars that hold it, in equal shares, each where the bar passes it and as far
// from the bar's axis as the part's middle lies. It does not stiffen the frame beyond its joint.
func (b *builder) addPrinted(t *frame.Fitting) {
	for _, m := range t.On {
		n := b.bars[m]
		if n == nil {
			continue // on a group that is left out
		}
		q := m.Place.Unapply(t.At)
		z := math.Min(math.Max(q.Z, 0), m.Length())
		low := z
		if m.LowEnd() == 1 {
			low = m.Length() - z
		}
		path := b.stretch(n, low, low)
		if len(path) == 0 {
			continue
		}
		// The beam lies along the centroid and may end short of the bar.
		off := m.Place.Turn(geom.Vec{X: q.X - n.centroid.X, Y: q.Y - n.centroid.Y, Z: q.Z - math.Min(math.Max(z, n.from), n.to)})
		b.out.Masses = append(b.out.Masses, Mass{Name: t.Name, Kg: t.Kg / float64(len(t.On)), Path: path, Offset: off})
	}
}

// addGroup adds what rides on a group, spread evenly over its bars.
func (b *builder) addGroup(g *frame.Group) {
	mass := Mass{Name: g.Name, Kg: g.Mass}
	for _, m := range g.Members {
		if n := b.bars[m]; n != nil {
			mass.Path = append(mass.Path, b.stretch(n, 0, m.Length())...)
		}
	}
	if g.Mass > 0 && len(mass.Path) > 0 {
		b.out.Masses = append(b.out.Masses, mass)
	}
}

// addPanel adds the weight of a sheet as it is cut, spread over the bars that hold it. It does not stiffen the frame.
func (b *builder) addPanel(p *frame.Panel) {
	if p.Sheet == nil {
		return
	}
	mass := Mass{Name: p.Name, Kg: p.Sheet.Mass}
	for _, m := range p.HeldBy {
		if n := b.bars[m]; n != nil {
			mass.Path = append(mass.Path, b.stretch(n, 0, m.Length())...)
		}
	}
	if len(mass.Path) > 0 && mass.Kg > 0 {
		b.out.Masses = append(b.out.Masses, mass)
		b.note("Panels weigh on the frame, and are not counted on to brace it.")
	}
}

// addBracket adds the weight of an angle bracket at its joint: two legs of the bracket's length, as wide as the slot's lips,
// a sixth of the leg thick (estimate, no source).
func (b *builder) addBracket(l *link) {
	j := l.joint
	if j.Corner == nil || j.With.Printed {
		return // a printed one weighs as what it is
	}
	n := b.bars[j.B]
	w := j.A.Profile.Pitch * 0.9
	kg := 2 * j.Corner.Leg * w * j.Corner.Leg / 6 * 2.7e-6
	z := n.project(j.At.Add(n.shift))
	if j.B.LowEnd() == 1 {
		z = j.B.Length() - z
	}
	if path := b.stretch(n, z, z); len(path) > 0 {
		b.out.Masses = append(b.out.Masses, Mass{Name: "bracket", Kg: kg, Path: path})
	}
}
