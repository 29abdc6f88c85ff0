package statics

import (
	"math"
	"slices"

	"barwright/geom"
	"barwright/internal/sparse"
)

// Mode is one way in which the frame rings.
type Mode struct {
	Frequency float64 // Hz
	sys       *System
	mesh      *mesh
	moved     []float64 // movements of the mesh's nodes, largest shift 1
}

// modeOptions say how the modes are taken.
type modeOptions struct {
	lifted []int         // supports that let go
	at     map[int]Place // travelling masses
}

// ModeOption changes what [System.Modes] assumes.
type ModeOption func(*modeOptions)

// WithLifted leaves out supports that have let go (see [Solution.Lifted]).
func WithLifted(supports []int) ModeOption { return func(o *modeOptions) { o.lifted = supports } }

// WithMassAt puts travelling masses at places; others are left out.
func WithMassAt(at map[int]Place) ModeOption { return func(o *modeOptions) { o.at = at } }

// The finest wave that a part may have to follow. One element with cubic shapes errs in the frequency by about
// (β·l)⁴/1440, where β is the wave number of bending; for stretching and twisting, straight shapes err by (k·l)²/24.
const (
	bendingReach  = 0.80 // error 0.03 %
	straightReach = 0.08 // error 0.03 %
	mostParts     = 24
)

// Modes returns the lowest natural frequencies with their shapes, rising; fewer than count where the frame has
// not so many. Beams are cut until the parts are short against the waves. Every support holds, those that lift too.
func (s *System) Modes(count int, options ...ModeOption) ([]Mode, error) {
	var o modeOptions
	for _, f := range options {
		f(&o)
	}
	at := o.cuts(s.Model)
	parts := make([]int, len(s.Beams))
	for i := range parts {
		parts[i] = 1
	}
	// A first look on a coarse mesh tells how short the waves are.
	k, modes, err := s.modesOn(parts, at, count, &o)
	if err != nil {
		return nil, err
	}
	for range 4 {
		top := 0.0
		if len(modes) > 0 {
			top = modes[len(modes)-1].Lambda
		}
		if len(modes) >= count && !s.finer(parts, math.Sqrt(top)) {
			break
		}
		if len(modes) < count { // a coarse mesh may be short of movements
			grown := false
			for i := range parts {
				if parts[i] < 4 {
					parts[i] *= 2
					grown = true
				}
			}
			if !grown {
				break
			}
		}
		if k, modes, err = s.modesOn(parts, at, count, &o); err != nil {
			return nil, err
		}
	}
	out := make([]Mode, len(modes))
	for i, m := range modes {
		out[i] = Mode{Frequency: math.Sqrt(m.Lambda) / (2 * math.Pi), sys: s, mesh: k, moved: k.expand(m.X)}
		out[i].normalize()
	}
	return out, nil
}

// cuts puts a node under every mass that stands at one place.
func (o *modeOptions) cuts(m *Model) cuts {
	out := cuts{}
	for i := range m.Masses {
		if p, ok := o.at[i]; ok && m.Masses[i].Travels {
			out[p.Beam] = append(out[p.Beam], p.At)
		}
		if m.Masses[i].Travels {
			continue
		}
		for _, st := range m.Masses[i].Path {
			if st.From == st.To {
				out[st.Beam] = append(out[st.Beam], st.From)
			}
		}
	}
	return out
}

// modesOn finds the modes on one mesh. The system's own mesh and factor serve where nothing is cut or lifted.
func (s *System) modesOn(parts []int, at cuts, count int, o *modeOptions) (*mesh, []sparse.Mode, error) {
	k, f := s.mesh, s.factor
	if len(at) > 0 || len(o.lifted) > 0 || slices.Max(parts) > 1 {
		k = newMesh(s.Model, parts, at)
		gone := map[int]bool{}
		for _, i := range o.lifted {
			gone[i] = true
		}
		n := -1
		k.number(s.heldBy(func(*Support) bool { n++; return !gone[n] }))
		stiff := k.stiffness()
		f = sparse.Factorize(stiff, k.blocks)
		if m := findMechanism(k, stiff, f); m != nil {
			return nil, nil, m
		}
	}
	modes, err := sparse.Modes(f, k.mass(o.at), count)
	return k, modes, err
}

// finer raises the numbers of parts to what waves of an angular frequency need, and reports whether any rose.
func (s *System) finer(parts []int, omega float64) bool {
	rose := false
	for i := range s.Beams {
		b := &s.Beams[i]
		if b.Massless || b.Material.Density == 0 {
			continue
		}
		line := b.Material.Density * b.Section.Area / 1000 // t/mm
		l := s.length(i)
		least := math.Min(b.Section.Iy, b.Section.Iz)
		beta := math.Pow(omega*omega*line/(b.Material.E*least), 0.25)
		stretch := omega * math.Sqrt(b.Material.Density/1000/b.Material.E)
		twist := omega * math.Sqrt(b.Material.Density/1000*b.Section.polar()/(b.Material.G*b.Section.J))
		n := math.Max(beta*l/bendingReach, math.Max(stretch, twist)*l/straightReach)
		if want := int(math.Min(math.Ceil(n*0.999), mostParts)); want > parts[i] {
			parts[i] = want
			rose = true
		}
	}
	return rose
}

// normalize makes the largest shift of a node 1.
func (m *Mode) normalize() {
	var most float64
	for n := range m.mesh.nodes {
		most = math.Max(most, m.shift(n).Len())
	}
	if most == 0 {
		return
	}
	for i := range m.moved {
		m.moved[i] /= most
	}
}

func (m *Mode) shift(node int) geom.Vec {
	d := m.moved[6*node:]
	return geom.Vec{X: d[0], Y: d[1], Z: d[2]}
}

// At returns the shift of the axis at a place in the mode, where the largest shift of a node is 1.
func (m *Mode) At(at Place) geom.Vec {
	i, x := m.mesh.locate(at)
	p := &m.mesh.parts[i]
	d := p.toLocal(m.mesh.endMovements(p, m.moved))
	n := p.shapeAt(x)
	var u [3]float64
	for c := range 3 {
		for j, v := range d {
			u[c] += n[c][j] * v
		}
	}
	return p.global(u)
}
