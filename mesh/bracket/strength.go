package bracket

import (
	"fmt"
	"math"
	"strings"

	"barwright/geom"
)

// Caution goes with every strength note.
const Caution = "An estimate, not a structural certificate: prints vary, creep and age. Follow local codes and ask a licensed engineer where people or heavy loads depend on it."

// Strength is an estimate of how much of a part's strength a load uses at its root, lengths in mm, stresses in MPa.
type Strength struct {
	Load     float64 // N
	Lever    float64 // from the load to the root
	Modulus  float64 // W of the root section, mm³
	Area     float64 // that carries shear, mm²
	Bending  float64 // M/W
	Shear    float64 // 1.5·F/A
	Lean     float64 // angle in radians between the bending stress and the layers: π/2 where it pulls straight across them
	Allowed  float64 // stress that breaks the print in that direction
	Use      float64 // the larger of bending over Allowed and shear over its own limit
	Formula  string  // what was reckoned, with the figures
	Source   string  // of the formula and of the strength
	Caution  string  // goes wherever the note goes
	Material string  // printing polymer
}

// shearRatio is the shear strength over the tensile strength of a ductile material by the distortion energy: 1/√3.
const shearRatio = 0.57735

// acrossLayers returns the stress along a direction that breaks a print whose strength along layers is s: the part of it
// that pulls the layers apart may reach k·s, that which shears them k·s/√3, and it never exceeds s. c is the cosine
// between the direction and the layers' normal.
func acrossLayers(s, k, c float64) float64 {
	c = math.Abs(c)
	out := s
	if pull := c * c; pull > 0 {
		out = math.Min(out, k*s/pull)
	}
	if slide := c * math.Sqrt(math.Max(0, 1-c*c)); slide > 1e-9 {
		out = math.Min(out, k*shearRatio*s/slide)
	}
	return out
}

// root notes the strength at a section: a load at a lever, the section's modulus and shear area, the way of
// the bending stress, and in words what bends where.
func (m *model) root(lever, modulus, area float64, along geom.Vec, where string) {
	c := along.Unit().Dot(m.up)
	s := &Strength{Load: m.load, Lever: lever, Modulus: modulus, Area: area, Lean: math.Asin(math.Min(1, math.Abs(c))), Material: m.material.Name}
	s.Bending = m.load * lever / modulus
	s.Shear = 1.5 * m.load / area
	s.Allowed = acrossLayers(m.material.Ultimate, m.a.Across, c)
	s.Use = math.Max(s.Bending/s.Allowed, s.Shear/(shearRatio*s.Allowed))
	s.Formula = fmt.Sprintf("%s: σ = F·a/W = %.0f·%.1f/%.0f = %.2f MPa; τ = 1.5·F/A = 1.5·%.0f/%.0f = %.2f MPa; the stress leans %.0f° from the layers, so %s breaks at about %.1f MPa there (%.0f along layers, × %g across); the load takes %.0f %% of that",
		where, s.Load, lever, modulus, s.Bending, s.Load, area, s.Shear, s.Lean*180/math.Pi, m.material.Name, s.Allowed, m.material.Ultimate, m.a.Across, 100*s.Use)
	s.Source = "beam theory (σ = M/W, τ = 1.5·F/A of a rectangle); strength: " + strings.TrimSpace(m.material.Source.Text) + "; across layers: common practice, no source"
	s.Caution = Caution
	m.strength = s
}

// plateModulus returns W and A of a rectangle of a width and a thickness.
func plateModulus(width, thick float64) (w, a float64) {
	return width * thick * thick / 6, width * thick
}

// ribbed returns the least W and the shear area of a plate with webs standing on it: webs of a total thickness,
// from the plate's outer face to a height.
func ribbed(width, thick, webs, height float64) (w, a float64) {
	if height <= thick {
		return plateModulus(width, thick)
	}
	a1, y1 := (width-webs)*thick, thick/2
	a2, y2 := webs*height, height/2
	y := (a1*y1 + a2*y2) / (a1 + a2)
	i := (width-webs)*thick*thick*thick/12 + a1*(y-y1)*(y-y1) + webs*height*height*height/12 + a2*(y-y2)*(y-y2)
	return i / math.Max(y, height-y), a2
}
