package statics

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/geom"
	"barwright/standard"
)

// standing is a foot or support on its way into the model.
type standing struct {
	bar     *bar
	at      geom.Vec // on the bar's surface
	z       float64  // raw, on its axis
	foot    *frame.Foot
	support *frame.Support
	name    string
}

// studE and studG are the moduli of steel in MPa (EN 1993-1-1, 3.2.6).
const (
	studE = 210000
	studG = 81000
)

// planFeet finds what the frame stands on: its feet, its supports, its printed pads and casters, or, without any, the lowest ends of its bars.
func (b *builder) planFeet() {
	f := b.out.Frame
	for i, foot := range f.Feet {
		if n := b.bars[foot.Under]; n != nil {
			b.stand(&standing{bar: n, at: foot.At, foot: foot, name: fmt.Sprintf("foot %d under %s", i+1, foot.Under.Name)})
		}
	}
	for _, s := range f.Supports {
		if n := b.bars[s.On]; n != nil {
			z := s.At
			if s.On.LowEnd() == 1 {
				z = s.On.Length() - z
			}
			b.stand(&standing{bar: n, at: n.point(z), support: s, name: "support on " + s.On.Name})
		}
	}
	b.planPads()
	if len(b.feet) > 0 {
		return
	}
	b.note("The frame has no feet and no supports: it is taken to stand on the lowest ends of its bars.")
	low := math.Inf(1)
	for _, n := range b.order {
		low = math.Min(low, n.member.Box.Low.Z)
	}
	for _, n := range b.order {
		if n.member.Box.Low.Z > low+geom.Coincident {
			continue
		}
		for end := range 2 {
			p := n.point(n.end(end))
			if upright := math.Abs(n.member.Direction().Z) > 0.5; upright && p.Z > n.member.Box.Centre().Z {
				continue
			}
			p.Z = low
			b.stand(&standing{bar: n, at: p, name: "end of " + n.member.Name})
		}
	}
}

// planPads adds the printed pads and caster plates under bars.
func (b *builder) planPads() {
	for _, k := range b.out.Frame.Brackets {
		if !k.Stands() {
			continue
		}
		for _, m := range k.On {
			if n := b.bars[m]; n != nil {
				b.stand(&standing{bar: n, at: n.point(n.end(m.LowEnd())), name: frame.PrintedName(k.Kind) + " under " + m.Name})
			}
		}
	}
}

func (b *builder) stand(s *standing) {
	s.z = s.bar.project(s.at)
	s.bar.cut(s.z)
	for end := range 2 {
		if math.Abs(s.z-s.bar.end(end)) < sameCut {
			s.bar.loose[end] = s.bar.loose[end] || s.bar.ends[end] != nil
		}
	}
	b.feet = append(b.feet, s)
}

// addFeet adds supports, and the studs of feet as beams.
func (b *builder) addFeet() {
	m := b.out.Model
	for _, s := range b.feet {
		node := s.bar.nodeAt(s.z)
		if s.support != nil {
			sup := Support{Node: node, Name: s.name}
			copy(sup.Fixed[:3], s.support.Fixed[:])
			if s.support.Clamped {
				sup.Fixed[3], sup.Fixed[4], sup.Fixed[5] = true, true, true
			}
			m.Supports = append(m.Supports, sup)
			continue
		}
		ground := s.at
		if s.foot != nil && s.foot.Height > geom.Coincident {
			ground.Z -= s.foot.Height
			floor := b.node(ground)
			m.Beams = append(m.Beams, Beam{Ends: [2]int{floor, node}, Release: [2]Release{Rigid(), Rigid()},
				Offset: [2]geom.Vec{{}, s.at.Sub(m.Nodes[node])}, Y: geom.Vec{X: 1}, Section: stud(s.foot.Thread), Material: &Material{E: studE, G: studG, Density: 7.85e-6},
				Member: s.name})
			// The foot turns on its ball, but not about its own axis.
			m.Supports = append(m.Supports, Support{Node: floor, Fixed: [6]bool{true, true, true, false, false, true}, Lifts: true, Name: s.name})
			continue
		}
		if s.at.Dist(m.Nodes[node]) > sameCut {
			floor := b.node(ground)
			m.Springs = append(m.Springs, Spring{A: node, B: floor, K: [6]float64{shiftStiffness, shiftStiffness, shiftStiffness, stiffTurn, stiffTurn, stiffTurn}})
			node = floor
		}
		m.Supports = append(m.Supports, Support{Node: node, Fixed: [6]bool{true, true, true}, Lifts: true, Name: s.name})
	}
	if len(b.feet) > mostFeet {
		b.note("The frame stands on %d places; with more than %d none is let lift off.", len(b.feet), mostFeet)
	}
	if len(b.out.Frame.Feet) > 0 {
		b.note("Feet are steel studs that stand on the floor without sliding; they can lift. Rubber pads are softer than that.")
	}
}

// stud returns the section of a threaded stud by its stress area (ISO 898-1).
func stud(thread string) *Section {
	area := 36.6 // M8
	if t, ok := standard.ThreadByName(thread); ok {
		area = t.StressArea
	}
	i := area * area / (4 * math.Pi)
	return &Section{Area: area, Iy: i, Iz: i, J: 2 * i, ShearY: area * 6 / 7, ShearZ: area * 6 / 7}
}
