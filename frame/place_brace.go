package frame

import (
	"fmt"
	"math"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"barwright/geom"
)

// braceNode is a brace before and after it is worked out.
type braceNode struct {
	l     *loader
	n     *barNode
	b     *block
	ends  [2]braceEnd
	solve *cell

	place  geom.Motion
	cuts   [2]Cut
	length float64
	box    geom.Box
}

// braceEnd is one end of a brace: the member that it meets, and where.
type braceEnd struct {
	o   *object
	bar *barNode
	box geom.Box // of that member, once worked out
}

// Bounds of the angle between a brace and a member's face normal: flatter mitres can't be sawn or held.
const (
	minBraceAngle = 5.0
)

// declareBrace prepares a brace block. The members at its ends are read later, when all names are known.
func (l *loader) declareBrace(b *block) *barNode {
	n := &barNode{name: b.name, at: b.header, look: l.readLooks(b)}
	s := &braceNode{l: l, n: n, b: b}
	n.brace = s
	s.solve = computed(b.name, b.header, func() (float64, bool) { return 0, s.workOut() })
	for ax := range geom.Axis(3) {
		for i, w := range faceWords[ax] {
			n.faces[ax][i] = s.after(w, func() float64 {
				return [3]float64{s.box.Low.Along(ax), s.box.High.Along(ax), s.box.Centre().Along(ax)}[i]
			})
		}
	}
	n.length = s.after("length", func() float64 { return s.length })
	return n
}

// after makes a cell that is known once the brace is worked out.
func (s *braceNode) after(word string, v func() float64) *cell {
	return computed(s.n.name+"."+word, s.b.header, func() (float64, bool) {
		if _, ok := s.l.get(s.solve, hcl.Range{}); !ok {
			return 0, false
		}
		return snap(v()), true
	})
}

// workOut finds axis, ends and cuts of the brace.
func (s *braceNode) workOut() bool {
	ok := true
	for i, key := range []string{"from", "to"} {
		ok = s.readEnd(i, key) && ok
	}
	if _, good := s.l.get(s.n.look.section, hcl.Range{}); !good || !ok {
		return false
	}
	points, ok := s.points()
	if !ok {
		return false
	}
	normal, ok := s.plane(points)
	if !ok {
		return false
	}
	return s.cut(points, normal)
}

// readEnd reads from or to.
func (s *braceNode) readEnd(i int, key string) bool {
	o := s.b.object(key, "on", "at")
	if o == nil || !o.need("on") {
		return false
	}
	bar, ok := s.l.oneBar(o.value["on"])
	if !ok {
		return false
	}
	if bar.brace != nil {
		s.l.fail(o.value["on"].Range(), "A brace can't stand on a brace", "Name a bar square to the axes.")
		return false
	}
	box, ok := s.l.boxOf(bar, o.value["on"].Range())
	s.ends[i] = braceEnd{o: o, bar: bar, box: box}
	return ok
}

// oneBar resolves a reference to one member by its name, before any member is placed.
func (l *loader) oneBar(e hclsyntax.Expression) (*barNode, bool) {
	t, diags := hcl.AbsTraversalForExpr(e)
	if diags.HasErrors() {
		l.fail(e.Range(), "The name of a member is needed here", "Write it without quotes: on = leg.front_left.")
		return nil, false
	}
	found, ok := l.follow(t)
	if !ok {
		return nil, false
	}
	if found.bar == nil {
		l.fail(e.Range(), "One member is needed here", "Name a single one, such as leg.front_left or slat[2].")
		return nil, false
	}
	return found.bar, true
}

// boxOf works out all faces of a bar.
func (l *loader) boxOf(b *barNode, from hcl.Range) (geom.Box, bool) {
	var box geom.Box
	for ax := range geom.Axis(3) {
		low, ok := l.get(b.faces[ax][lowFace], from)
		high, ok2 := l.get(b.faces[ax][highFace], from)
		if !ok || !ok2 {
			return box, false
		}
		box.Low, box.High = box.Low.With(ax, low), box.High.With(ax, high)
	}
	return box, true
}

// axisPoint returns the point on a member's axis at a distance from its low end.
func (e *braceEnd) axisPoint(at float64) geom.Vec {
	return e.box.Centre().With(e.bar.axis, e.box.Low.Along(e.bar.axis)+at)
}

// points returns where the brace's axis meets the axes of its two members.
func (s *braceNode) points() ([2]geom.Vec, bool) {
	var p [2]geom.Vec
	open := -1
	for i := range s.ends {
		e := &s.ends[i]
		if !e.o.has("at") {
			if open >= 0 || !s.b.has("angle") {
				s.l.fail(e.o.at, fmt.Sprintf("%s lacks \"at\"", e.o.name), "Say where on the member: at = mm from its low end; angle may take the place of one of the two.")
				return p, false
			}
			open = i
			continue
		}
		at, ok := e.o.num("at", 0)
		if !ok {
			return p, false
		}
		if size := e.box.Size().Along(e.bar.axis); at < 0 || at > size {
			s.l.fail(e.o.value["at"].Range(), fmt.Sprintf("at = %s lies outside of %s", show(at), e.bar.name), fmt.Sprintf("That member is %s mm long.", show(size)))
			return p, false
		}
		p[i] = e.axisPoint(at)
	}
	if open >= 0 {
		return s.byAngle(p, open)
	}
	if s.b.has("angle") {
		s.l.fail(s.b.at("angle"), "angle fights the two at", "Two of them fix the brace; take one away.")
		return p, false
	}
	return p, true
}

// byAngle finds the end that has no at from the angle between the brace and the member there.
func (s *braceNode) byAngle(p [2]geom.Vec, open int) ([2]geom.Vec, bool) {
	angle, ok := s.b.num("angle", 0)
	if !ok {
		return p, false
	}
	if !(angle > 0 && angle < 90) {
		s.l.fail(s.b.at("angle"), fmt.Sprintf("angle is %s", show(angle)), "It lies over 0 and under 90 degrees, between the brace and the member whose at is left out.")
		return p, false
	}
	e := &s.ends[open]
	ax := e.bar.axis
	known := p[1-open]
	foot := e.box.Centre().With(ax, known.Along(ax))
	reach := known.Dist(foot) / math.Tan(angle*math.Pi/180)
	var fits []geom.Vec
	for _, side := range []float64{-1, 1} {
		q := foot.With(ax, foot.Along(ax)+float64(side*reach))
		if v := q.Along(ax); v >= e.box.Low.Along(ax) && v <= e.box.High.Along(ax) {
			fits = append(fits, q)
		}
	}
	switch len(fits) {
	case 0:
		s.l.fail(s.b.at("angle"), fmt.Sprintf("At %s° the brace misses %s", show(angle), e.bar.name), "Take a steeper angle, or another place on the first member.")
		return p, false
	case 2:
		s.l.fail(s.b.at("angle"), fmt.Sprintf("At %s° the brace meets %s in two places", show(angle), e.bar.name), fmt.Sprintf("Say which: at = … in %s in place of angle.", e.o.name))
		return p, false
	}
	p[open] = fits[0]
	return p, true
}

// plane returns the normal of the plane in which brace and members lie.
func (s *braceNode) plane(p [2]geom.Vec) (geom.Axis, bool) {
	a, b := s.ends[0].bar, s.ends[1].bar
	d := p[1].Sub(p[0])
	var normals []geom.Axis
	for ax := range geom.Axis(3) {
		if ax != a.axis && ax != b.axis && math.Abs(d.Along(ax)) <= geom.Coincident {
			normals = append(normals, ax)
		}
	}
	switch {
	case a == b:
		s.l.fail(s.b.header, fmt.Sprintf("%s begins and ends on %s", s.b, a.name), "A brace joins two members.")
		return 0, false
	case d.Len() < 1:
		s.l.fail(s.b.header, fmt.Sprintf("%s has no length", s.b), "Its two ends are one place.")
		return 0, false
	case len(normals) != 1:
		s.l.fail(s.b.header, fmt.Sprintf("%s and %s don't lie in one plane with the brace", a.name, b.name),
			"The axes of both members and the brace must lie in one upright or level plane square to an axis.")
		return 0, false
	}
	return normals[0], true
}

// cut makes the bar: its axis runs from p[0] to p[1], its ends lie on the faces of the two members.
func (s *braceNode) cut(p [2]geom.Vec, normal geom.Axis) bool {
	d := p[1].Sub(p[0]).With(normal, 0).Unit()
	n := normal.Unit()
	q, ok := s.l.get(s.n.look.quarters, hcl.Range{})
	if !ok {
		return false
	}
	m := turned(geom.Motion{EX: n, EY: d.Cross(n), EZ: d}, int(q))
	size := s.n.look.profile.Size()
	var at [2]geom.Vec
	var reach [2]float64
	for i := range s.ends {
		e := &s.ends[i]
		face, outward, good := s.faceMet(e, p[i], d.Scale(float64(1-2*i)))
		if !good {
			return false
		}
		along := (face.Along(outward) - p[i].Along(outward)) / d.Along(outward)
		at[i] = p[i].Add(d.Scale(along))
		w := m.Unturn(outward.Unit())
		s.cuts[i] = Cut{SlopeX: slope(w.X, w.Z), SlopeY: slope(w.Y, w.Z)}
		reach[i] = float64(math.Abs(s.cuts[i].SlopeX)*size.X/2) + float64(math.Abs(s.cuts[i].SlopeY)*size.Y/2)
	}
	between := at[1].Sub(at[0]).Dot(d)
	if between-reach[0]-reach[1] <= 0 {
		s.l.fail(s.b.header, fmt.Sprintf("%s is too short for its mitres", s.b), "The faces that it meets lie too close together. Move its ends apart.")
		return false
	}
	s.length = snap(between + reach[0] + reach[1])
	m.T = plainZero(at[0].Sub(d.Scale(reach[0])))
	s.place = m
	s.box = s.outerBox(size)
	return true
}

// slope returns the slope of a cut plane whose normal has the components a across and c along the bar.
func slope(a, c float64) float64 {
	if math.Abs(a) < 1e-12 {
		return 0
	}
	return -a / c
}

// faceMet returns a point on the face of a member that the brace meets as it leaves p in the direction d,
// and the axis of that face.
func (s *braceNode) faceMet(e *braceEnd, p, d geom.Vec) (geom.Vec, geom.Axis, bool) {
	best, ax := 0.0, geom.X
	for a := range geom.Axis(3) {
		if v := math.Abs(d.Along(a)); a != e.bar.axis && v > best {
			best, ax = v, a
		}
	}
	if angle := math.Asin(math.Min(best, 1)) * 180 / math.Pi; angle < minBraceAngle {
		s.l.fail(s.b.header, fmt.Sprintf("%s lies almost along %s", s.b, e.bar.name),
			fmt.Sprintf("Their angle is %s°; at least %g° can be sawn.", show(angle), minBraceAngle))
		return p, ax, false
	}
	face := e.box.High
	if d.Along(ax) < 0 {
		face = e.box.Low
	}
	return face, ax, true
}

// outerBox returns the box round the brace's eight corners.
func (s *braceNode) outerBox(size geom.Vec2) geom.Box {
	bar := Bar{Profile: s.n.look.profile, Length: s.length, Cuts: s.cuts}
	box := geom.EmptyBox()
	for end, c := range s.cuts {
		for _, sx := range []float64{-0.5, 0.5} {
			for _, sy := range []float64{-0.5, 0.5} {
				x, y := sx*size.X, sy*size.Y
				z := bar.Plane(end) + float64(c.SlopeX*x) + float64(c.SlopeY*y)
				box = box.Extend(s.place.Apply(geom.Vec{X: x, Y: y, Z: z}))
			}
		}
	}
	return box
}
