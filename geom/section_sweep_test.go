package geom

import (
	"math"
	"testing"
)

// Any section that passes Validate can be solved: a walk through the space of dimensions from a fixed seed.
func TestEveryValidSectionIsSolved(t *testing.T) {
	seed := uint64(0x9e3779b97f4a7c15)
	next := func(lo, hi float64) float64 { // xorshift (Marsaglia 2003)
		seed ^= seed << 13
		seed ^= seed >> 7
		seed ^= seed << 17
		return lo + (hi-lo)*float64(seed>>11)/(1<<53)
	}
	valid, tried := 0, 0
	for ; valid < 60 && tried < 20000; tried++ {
		pitch := next(15, 60)
		p := Profile{Cells: [2]int{1 + int(next(0, 2)), 1 + int(next(0, 2))}, Pitch: pitch, CornerRadius: next(0, 0.15) * pitch, Core: next(0.05, 0.4) * pitch,
			Slot: Slot{Opening: next(0.1, 0.5) * pitch, Lip: next(0.03, 0.2) * pitch, Cavity: next(0.2, 0.9) * pitch, Depth: next(0.1, 0.45) * pitch, Chamfer: next(0, 0.3) * pitch}}
		if tried%5 == 0 { // some at the very edge of the rules
			p.Slot.Chamfer = p.Slot.Depth - p.Slot.Lip
		}
		for s := range p.Closed {
			p.Closed[s] = next(0, 1) < 0.3
		}
		if p.Validate() != nil {
			continue
		}
		valid++
		r := p.Region()
		s := r.Properties()
		got, err := r.Torsion(0.02)
		if err != nil {
			t.Errorf("%+v: %v", p, err)
			continue
		}
		// What every section obeys: J is below the polar moment (Saint-Venant), shear areas lie below the area, the
		// moments are positive, the shear centre lies near.
		if !(got.JLow > 0 && got.JHigh <= s.Polar()*(1+1e-9) && got.JLow <= got.J && got.J <= got.JHigh) {
			t.Errorf("%+v: J %g…%g of polar %g", p, got.JLow, got.JHigh, s.Polar())
		}
		if !(got.ShearX > 0 && got.ShearX < s.Area && got.ShearY > 0 && got.ShearY < s.Area) {
			t.Errorf("%+v: shear areas %g, %g of %g", p, got.ShearX, got.ShearY, s.Area)
		}
		if s.I2 <= 0 || math.Abs(s.Area-r.Area()) > 1e-9*s.Area || got.ShearCentre.Sub(s.Centroid).Len() > pitch*3 {
			t.Errorf("%+v: %+v, %+v", p, s, got)
		}
		if p.Symmetric(1) && (math.Abs(got.ShearX-got.ShearY) > 0.02*got.ShearX || got.ShearCentre != s.Centroid) {
			t.Errorf("%+v: square, but shear areas %g and %g, centre %v", p, got.ShearX, got.ShearY, got.ShearCentre)
		}
	}
	if valid < 60 {
		t.Errorf("only %d of %d tries were valid sections", valid, tried)
	}
	t.Logf("%d valid sections of %d", valid, tried)
}
