package bracket

import (
	"errors"
	"fmt"
	"math/rand"
	"os"
	"strconv"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// long reports whether the long tests were asked for.
func long() bool { return os.Getenv("BARWRIGHT_SWEEP") != "" }

// sweepSpec returns a random spec of a kind. Every parameter is drawn from its own limits, more often near its default.
func sweepSpec(t testing.TB, rng *rand.Rand, k Kind) Spec {
	names := geom.BuiltinNames()
	s := Spec{Kind: k.Name, Params: map[string]float64{}, Bed: geom.Vec{X: 300, Y: 300, Z: 300}}
	name := names[rng.Intn(len(names))]
	if rng.Intn(2) == 0 {
		name = []string{"20x20-6", "30x30-8", "40x40-10"}[rng.Intn(3)]
	}
	s.Profile = profile(t, name)
	if rng.Intn(4) == 0 {
		q := *s.Profile
		q.Pitch *= 0.95 + 0.3*rng.Float64()
		q.Slot.Opening += 0.6 * (rng.Float64() - 0.5)
		q.Slot.Lip += 0.5 * (rng.Float64() - 0.3)
		if q.Validate() == nil {
			s.Profile = &q
		}
	}
	for _, p := range k.Params {
		var v float64
		switch {
		case p.Whole:
			v = p.Min + float64(rng.Intn(int(p.Max-p.Min)+1))
		case p.ZeroMeansDefault, p.Max >= 1000 && p.Default == 0:
			continue
		case rng.Intn(3) == 0:
			v = p.Default
		default:
			v = p.Min + (min(p.Max, 2.5*p.Default+p.Min)-p.Min)*rng.Float64()
		}
		s.Params[p.Name] = v
	}
	if rng.Intn(3) == 0 {
		s.Wall = 1.2 + 8*rng.Float64()
	}
	if rng.Intn(3) > 0 {
		s.Text = []string{"A1", "BW-27", "K.8/Z", "0123456789", "QRSTUVWXYZ", "EFGHIJ", "MN"}[rng.Intn(7)]
	}
	if rng.Intn(4) == 0 {
		a := DefaultAllowances()
		a.Fit, a.First, a.Slide = 0.05+0.25*rng.Float64(), 0.5*rng.Float64(), 0.2+0.5*rng.Float64()
		s.Allowances = &a
	}
	if k.Name == "drill-jig" {
		s.Profile = nil
		s.Part = randomPart(t, rng, name)
	}
	return s
}

// randomPart is a bar with access holes on slot lines.
func randomPart(t testing.TB, rng *rand.Rand, name string) *frame.Part {
	p := profile(t, name)
	part := &frame.Part{Mark: fmt.Sprintf("%c%d", 'A'+rune(rng.Intn(6)), 1+rng.Intn(30)), Bar: frame.Bar{Profile: p, Length: 200 + 900*rng.Float64()}}
	for range 1 + rng.Intn(5) {
		side := geom.Side(rng.Intn(4))
		lines := p.SlotLines(side)
		z := p.Pitch/2 + rng.Float64()*(part.Bar.Length-p.Pitch)
		if rng.Intn(2) == 0 {
			z = p.Pitch / 2
		}
		ok := true
		for _, h := range part.Bar.Holes {
			ok = ok && (h.Z-z > 20 || z-h.Z > 20)
		}
		if ok {
			part.Bar.Holes = append(part.Bar.Holes, frame.Hole{Side: side, Z: z, Offset: lines[rng.Intn(len(lines))], Diameter: []float64{5.5, 7, 8}[rng.Intn(3)]})
		}
	}
	return part
}

// sweepResults builds n sets of parameters that can be, over all kinds in turn, and calls f with each piece.
func sweepResults(t *testing.T, n int, f func(s Spec, r *Result)) {
	t.Helper()
	seed := int64(20)
	if v := os.Getenv("BARWRIGHT_SEED"); v != "" {
		n, err := strconv.ParseInt(v, 10, 64)
		if err != nil {
			t.Fatal(err)
		}
		seed = n
	}
	rng := rand.New(rand.NewSource(seed))
	refused := map[string]int{}
	made := map[string]int{}
	for i, tries := 0, 0; i < n; tries++ {
		if tries > 20*n+2000 {
			t.Fatalf("only %d of %d sets could be built: %v", i, n, refused)
		}
		k := kinds[i%len(kinds)]
		s := sweepSpec(t, rng, k)
		all, err := BuildAll(s)
		var typed *Error
		if errors.As(err, &typed) {
			if typed.Rule == RuleParameter || typed.Rule == RuleKind {
				t.Errorf("%s %v: %v", s.Kind, s.Params, err)
			}
			refused[k.Name+" "+typed.Rule]++
			continue
		}
		if err != nil {
			t.Errorf("%s on %+v, %v wall %g text %q: %v", s.Kind, *s.profileOf(), s.Params, s.Wall, s.Text, err)
			i++
			continue
		}
		for _, r := range all {
			f(s, r)
		}
		made[k.Name]++
		i++
	}
	for _, k := range kinds {
		if made[k.Name] == 0 {
			t.Errorf("no %s was built", k.Name)
		}
	}
	t.Logf("refused: %v", refused)
}

func (s Spec) profileOf() *geom.Profile {
	if s.Profile == nil {
		return s.Part.Bar.Profile
	}
	return s.Profile
}

// TestSweep builds parts of every kind with random parameters and checks each as a print. BARWRIGHT_SWEEP makes it 3,600.
func TestSweep(t *testing.T) {
	n := 8 * len(kinds)
	if long() {
		n = 3600
	}
	pieces, failed := 0, map[string]int{}
	sweepResults(t, n, func(s Spec, r *Result) {
		pieces++
		a := DefaultAllowances()
		if s.Allowances != nil {
			a = *s.Allowances
		}
		if err := printable(r, a, s.Bed); err != nil {
			failed[s.Kind]++
			if failed[s.Kind] < 4 {
				p := s.profileOf()
				t.Errorf("%s on %s (pitch %.2f opening %.2f lip %.2f), %v wall %g text %q: %v", r.Name, p.Name, p.Pitch, p.Slot.Opening, p.Slot.Lip, s.Params, s.Wall, s.Text, err)
			}
		}
	})
	t.Logf("%d sets, %d pieces, failed: %v", n, pieces, failed)
}
