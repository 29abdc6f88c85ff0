package bracket

import (
	"errors"
	"testing"

	"barwright/geom"
)

// TestExtremes sets each parameter, wall and allowance to its limits in turn: a part comes out closed, or an *Error says why not.
func TestExtremes(t *testing.T) {
	built, refused := 0, 0
	try := func(what string, s Spec) {
		t.Helper()
		all, err := BuildAll(s)
		var e *Error
		switch {
		case errors.As(err, &e):
			refused++
		case err != nil:
			t.Errorf("%s %s: %v", s.Kind, what, err)
		default:
			built++
			for _, r := range all {
				if err := r.Mesh.Check(); err != nil {
					t.Errorf("%s %s: %v", s.Kind, what, err)
				}
			}
		}
	}
	for _, k := range Kinds() {
		for _, name := range []string{"20x20-6", "30x30-8", "40x80-10"} {
			spec := func() Spec {
				s := Spec{Kind: k.Name, Profile: profile(t, name), Params: map[string]float64{}, Text: "A1", Bed: geom.Vec{X: 900, Y: 900, Z: 900}}
				if k.Name == "drill-jig" {
					s.Profile, s.Part = nil, jigPart(t, 700)
				}
				return s
			}
			for _, p := range k.Params {
				for _, v := range []float64{p.Min, p.Max} {
					s := spec()
					s.Params[p.Name] = v
					try(p.Name, s)
				}
			}
			for _, w := range []float64{0.8, 60} {
				s := spec()
				s.Wall = w
				try("wall", s)
			}
			for i, f := range []func(a *Allowances){
				func(a *Allowances) { a.Fit = 0 }, func(a *Allowances) { a.Fit = 1 }, func(a *Allowances) { a.First = 0 },
				func(a *Allowances) { a.First = 0.6 }, func(a *Allowances) { a.VHole, a.HHole = 0, 0 }, func(a *Allowances) { a.VHole, a.HHole = 1, 1 },
				func(a *Allowances) { a.Edge = 0 }, func(a *Allowances) { a.Edge = 1 }, func(a *Allowances) { a.Line = 1.2 }, func(a *Allowances) { a.LeastTo = 5 },
				func(a *Allowances) { a.Bridge = 1 }, func(a *Allowances) { a.Seat = 10 }, func(a *Allowances) { a.Slide = 2 }, func(a *Allowances) { a.Reach = 200 },
			} {
				s := spec()
				a := DefaultAllowances()
				f(&a)
				s.Allowances = &a
				try("allowance "+string(rune('a'+i)), s)
			}
		}
	}
	if built < 500 || refused < 20 {
		t.Errorf("%d built, %d refused", built, refused)
	}
	t.Logf("%d built, %d refused", built, refused)
}

// FuzzBuild wants no panic whatever the numbers.
func FuzzBuild(f *testing.F) {
	for i := range kinds {
		f.Add(i, 4.0, 30.0, 8.2, 2.0, 0.5, "A1", 220.0)
	}
	f.Fuzz(func(t *testing.T, kind int, wall, pitch, opening, lip, share float64, text string, bed float64) {
		k := kinds[uint(kind)%uint(len(kinds))]
		p := profile(t, "30x30-8")
		q := *p
		q.Pitch, q.Slot.Opening, q.Slot.Lip = pitch, opening, lip
		s := Spec{Kind: k.Name, Profile: &q, Wall: wall, Text: text, Bed: geom.Vec{X: bed, Y: bed, Z: bed}, Params: map[string]float64{}}
		for _, p := range k.Params {
			s.Params[p.Name] = p.Min + share*(p.Max-p.Min)
		}
		if k.Name == "drill-jig" {
			s.Profile, s.Part = nil, jigPart(t, 200+pitch)
		}
		all, err := BuildAll(s)
		if err != nil {
			return
		}
		for _, r := range all {
			if err := r.Mesh.Check(); err != nil {
				t.Error(err)
			}
		}
	})
}
