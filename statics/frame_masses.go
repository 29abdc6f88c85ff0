package statics

import (
	"math"

	"barwright/frame"
	"barwright/geom"
	"barwright/standard"
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
			continue // rides on a travelling group, counted there
		}
		mass := Mass{Name: m.Name, Kg: m.Kg, Offset: m.Offset, Path: b.stretch(n, m.From, m.To), Travels: m.Kind == frame.MassPath}
		// Offsets are from the bar's axis, that is the middle of its box; the beam lies along the centroid.
		mass.Offset = mass.Offset.Sub(n.member.Place.Turn(geom.Vec{X: n.centroid.X, Y: n.centroid.Y}))
		if mass.Travels {
			b.out.Rides = append(b.out.Rides, Ride{Name: m.Name, Masses: []int{len(b.out.Masses)}})
		}
		b.out.Masses = append(b.out.Masses, mass)
	}
	for _, g := range b.out.Frame.Groups {
		if g.Travel != nil {
			b.addGroup(g)
		}
	}
	for _, p := range b.out.Frame.Panels {
		b.addPanel(p)
	}
	for _, l := range b.joints {
		b.addBracket(l)
	}
}

// addGroup adds the weight of a travelling group, shared evenly by the bars that carry it.
func (b *builder) addGroup(g *frame.Group) {
	kg := g.Mass
	box := geom.EmptyBox()
	for _, m := range g.Members {
		kg += m.Bar.Mass()
		box = box.Union(m.Box)
	}
	for _, m := range b.out.Frame.Masses {
		if m.On.Group == g {
			kg += m.Kg
		}
	}
	var bars []*bar
	for _, m := range g.CarriedBy {
		if n := b.bars[m]; n != nil {
			bars = append(bars, n)
		}
	}
	if len(bars) == 0 {
		b.note("Group %s travels, but carried_by names no bar that stands: its %.1f kg are left out.", g.Name, kg)
		return
	}
	b.note("The %.1f kg of group %s are shared evenly by the bars that carry it; how its own bars bend is not looked at.", kg, g.Name)
	ride := Ride{Name: g.Name, Group: true}
	mid := box.Centre()
	for _, n := range bars {
		m := n.member
		low := m.LowEnd()
		place := func(shift float64) float64 {
			z := n.project(mid.Add(g.Travel.Axis.Unit().Scale(shift)))
			if low == 1 {
				z = m.Length() - z
			}
			return z
		}
		ride.Masses = append(ride.Masses, len(b.out.Masses))
		b.out.Masses = append(b.out.Masses, Mass{Name: g.Name, Kg: kg / float64(len(bars)), Travels: true,
			Path: b.stretch(n, place(g.Travel.From), place(g.Travel.To))})
	}
	b.out.Rides = append(b.out.Rides, ride)
}

// panelEngagement is how far a sheet reaches into a slot where the file does not say, mm (common practice, no source).
const panelEngagement = 6

// addPanel adds the weight of a sheet, spread over the bars that hold it. It does not stiffen the frame.
func (b *builder) addPanel(p *frame.Panel) {
	box, inner := geom.EmptyBox(), math.Inf(1)
	for _, m := range p.HeldBy {
		box = box.Union(m.Box)
		size := m.Profile.Size()
		inner = math.Min(inner, math.Min(size.X, size.Y))
	}
	s := box.Size()
	a := []float64{s.X, s.Y, s.Z}
	least := min(a[0], a[1], a[2])
	area := 1.0
	skipped := false
	for _, v := range a {
		if v == least && !skipped {
			skipped = true
			continue
		}
		area *= math.Max(0, v-2*inner+2*panelEngagement)
	}
	mt, ok := standard.PanelMaterial(p.Material)
	if !ok {
		mt.Density = 1.2e-6
		b.note("Panel %s names no material; 1200 kg/m³ is taken.", p.Name)
	}
	mass := Mass{Name: p.Name, Kg: area * p.Thickness * mt.Density}
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
	if j.Corner == nil {
		return
	}
	n := b.bars[j.B]
	w := j.A.Profile.Pitch * 0.9
	kg := 2 * j.Corner.Leg * w * j.Corner.Leg / 6 * 2.7e-6
	z := n.project(j.At)
	if j.B.LowEnd() == 1 {
		z = j.B.Length() - z
	}
	if path := b.stretch(n, z, z); len(path) > 0 {
		b.out.Masses = append(b.out.Masses, Mass{Name: "bracket", Kg: kg, Path: path})
	}
}
