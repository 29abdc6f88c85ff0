package statics

import (
	"fmt"
	"testing"

	"barwright/geom"
)

// lattice returns a shelf-like lattice of a × b × c bays of bars, clamped at the floor.
func lattice(a, b, c int) *Model {
	s := &Section{Area: 330, Iy: 28000, Iz: 28000, J: 4065, ShearY: 89, ShearZ: 89, Fibres: []geom.Vec2{{X: 15, Y: 15}, {X: -15, Y: -15}}}
	mt := &Material{E: 70000, G: 27000, Density: 2.7e-6, Yield: 150}
	m := &Model{}
	id := func(i, j, k int) int { return (k*(b+1)+j)*(a+1) + i }
	for k := range c + 1 {
		for j := range b + 1 {
			for i := range a + 1 {
				m.Nodes = append(m.Nodes, geom.Vec{X: 500 * float64(i), Y: 450 * float64(j), Z: 400 * float64(k)})
				if k == 0 {
					m.hold(id(i, j, k), clamp)
				}
			}
		}
	}
	joint := Rigid()
	joint[4], joint[5] = 5e6, 5e6
	add := func(p, q int, y geom.Vec) {
		m.Beams = append(m.Beams, Beam{Ends: [2]int{p, q}, Release: [2]Release{joint, joint}, Y: y, Section: s, Material: mt, Member: fmt.Sprint("bar ", len(m.Beams))})
	}
	for k := range c + 1 {
		for j := range b + 1 {
			for i := range a + 1 {
				if i < a && k > 0 {
					add(id(i, j, k), id(i+1, j, k), geom.Vec{Z: 1})
				}
				if j < b && k > 0 {
					add(id(i, j, k), id(i, j+1, k), geom.Vec{Z: 1})
				}
				if k < c {
					add(id(i, j, k), id(i, j, k+1), geom.Vec{X: 1})
				}
			}
		}
	}
	return m
}

// analyse is a whole run: factor, weight, and six modes.
func analyse(b *testing.B, m *Model) {
	b.ReportAllocs()
	for b.Loop() {
		s, err := m.Prepare()
		if err != nil {
			b.Fatal(err)
		}
		sol, err := s.Solve(&Case{Field: geom.Vec{Z: -Gravity}})
		if err != nil {
			b.Fatal(err)
		}
		sol.Largest(geom.Vec{})
		sol.Stress()
		modes, err := s.Modes(6)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(modes[0].Frequency, "Hz")
	}
	b.ReportMetric(float64(len(m.Beams)), "members")
}

func BenchmarkFrame(b *testing.B) {
	b.Run("machine", func(b *testing.B) {
		m := box(geom.Identity(), 5e6)
		wire := m.beamOf("wire_beam")
		m.Masses = []Mass{{Kg: 5, Travels: true, Path: []Stretch{{wire, 60, 780}}, Offset: geom.Vec{Y: -45, Z: 30}}}
		b.ReportAllocs()
		for b.Loop() {
			s, err := m.Prepare()
			if err != nil {
				b.Fatal(err)
			}
			c := &Case{Field: geom.Vec{Z: -Gravity}}
			if _, err := s.Solve(c); err != nil {
				b.Fatal(err)
			}
			w, err := s.WorstPlace(0, c)
			if err != nil {
				b.Fatal(err)
			}
			w.Solution.Stress()
			if _, err := s.Modes(6, WithMassAt(w.Places)); err != nil {
				b.Fatal(err)
			}
		}
	})
	for _, n := range [][3]int{{6, 6, 8}, {15, 15, 14}} {
		m := lattice(n[0], n[1], n[2])
		b.Run(fmt.Sprint("lattice-", len(m.Beams)), func(b *testing.B) { analyse(b, m) })
	}
}
