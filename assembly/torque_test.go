package assembly_test

import (
	"math"
	"testing"

	"barwright/assembly"
	"barwright/frame"
)

// The torque of an end screw in the usual sections, worked out here step by step by the formulas that VDI 2230-1:2015 prints, from figures
// typed from the standards.
func TestTorque(t *testing.T) {
	for _, c := range []struct {
		profile, thread  string
		pitch, d2        float64 // ISO 724: P, D2
		head             float64 // ISO 7380-1:2011: dk max
		opening          float64 // of the section, frame-file page of the design
		full             float64 // N: VDI 2230-1:2015 table A1, class 8.8, friction 0.14, rounded to 100 N
		length, engaging float64
	}{
		{"20x20-6", "M6", 1, 5.350, 10.5, 6.2, 9900, 16, 14.2},
		{"30x30-8", "M8", 1.25, 7.188, 14.0, 8.2, 18100, 20, 18},
		{"40x40-10", "M10", 1.5, 9.026, 17.5, 10.2, 28800, 25, 20.5},
	} {
		t.Run(c.thread, func(t *testing.T) {
			f := parse(t, `
frame { profile = "`+c.profile+`" }
member "post" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 500
}
member "rail" {
  left   = post.right
  front  = 0
  mid_z  = 250
  length = 300
  along  = "x"
}
`)
			if len(f.Joints) != 1 || f.Joints[0].With.Method != frame.EndScrew {
				t.Fatalf("%d joints", len(f.Joints))
			}
			got, ok := assembly.TorqueFor(&f.Joints[0].Fasteners[0])
			if !ok {
				t.Fatal("no torque")
			}
			// The head bears on two segments of its disc beside the opening: A = r²·(θ − sin θ) for both, θ = 2·acos(b/2r).
			r := 0.95 * c.head / 2 // edge of the head: common practice, no source
			theta := 2 * math.Acos(c.opening/2/r)
			area := r * r * (theta - math.Sin(theta))
			force := 150 * area // MPa on EN AW-6060 T66: common practice, no source
			if strip := 0.5 * 0.6 * 195 * 7 / 8 * math.Pi * nominal(c.thread) * c.engaging; force > strip {
				t.Fatalf("the thread would strip first (%.0f N)", strip) // FED-STD-H28; Rm 195 MPa: EN 1999-1-1
			}
			if force > 0.8*c.full {
				t.Fatal("the button head would break first")
			}
			// VDI 2230-1: M = F·(0.16·P + 0.58·d2·µ + DKm/2·µ).
			km := (2*r + c.opening) / 2
			want := force * (0.16*c.pitch + 0.58*c.d2*0.14 + km/2*0.14) / 1000
			if got.NM > want || got.NM < want-0.5-1e-9 {
				t.Errorf("%v N·m, by hand %.2f, rounded down to a half", got.NM, want)
			}
			if math.Abs(got.Preload-force) > 1 {
				t.Errorf("preload %.0f N, by hand %.0f", got.Preload, force)
			}
			// ISO 7380-1:2011: key sizes.
			if key := map[string]float64{"M6": 4, "M8": 5, "M10": 6}[c.thread]; got.Key != key {
				t.Errorf("key %v, ISO 7380-1 has %v", got.Key, key)
			}
			// The reduced figure lies under the full one of the table: M6 11.3, M8 27.3, M10 54 N·m (VDI 2230-1:2015 table A1).
			if full := map[string]float64{"M6": 11.3, "M8": 27.3, "M10": 54}[c.thread]; got.NM >= full {
				t.Errorf("%v N·m is not reduced from %v", got.NM, full)
			}
		})
	}
}

func nominal(thread string) float64 { return map[string]float64{"M6": 6, "M8": 8, "M10": 10}[thread] }

// Lifting: 15 kg for one person of unknown age and sex (ISO 11228-1:2021, from memory); two count two thirds of the sum (HSE L23): 20 kg; three
// half: 22.5 kg. Masses of the bars come from the frame.
func TestLifting(t *testing.T) {
	text := func(lift string) string {
		return `
frame { profile = "40x80-10" }
posts "leg" {
  left   = 0
  right  = 1200
  front  = 0
  back   = 800
  bottom = 0
  top    = 900
}
ring "base" {
  within = leg
  bottom = 100
}
` + lift
	}
	for _, c := range []struct {
		lift string
		one  float64
	}{{"", 15}, {"assembly { lift = 8 }\n", 8}, {"assembly { lift = 25 }\n", 25}} {
		p := plan(t, parse(t, text(c.lift)))
		turned := 0
		p.Each(func(s *assembly.Step) {
			if s.Mass == 0 {
				return
			}
			want := 4
			for n, team := range []float64{c.one, c.one * 4 / 3, c.one * 3 / 2} {
				if s.Mass <= team {
					want = n + 1
					break
				}
			}
			if s.People != want {
				t.Errorf("lift %v: %.1f kg in step %d by %d people, want %d", c.one, s.Mass, s.Number, s.People, want)
			}
			if want > 1 {
				turned++
				if len(s.Cautions) == 0 {
					t.Errorf("step %d lifts %.1f kg and warns of nothing", s.Number, s.Mass)
				}
			}
		})
		if turned == 0 && c.one < 20 {
			t.Errorf("lift %v: no step needs two people; the test tests nothing", c.one)
		}
	}
}

// Diagonals: over sharp corners by Pythagoras; over corners rounded with r the tape is 2r·(√2−1) short in a square: 1.24 mm at
// r = 1.5.
func TestDiagonals(t *testing.T) {
	p := plan(t, parse(t, `
frame { profile = "30x30-8" }
posts "leg" {
  left   = 0
  right  = 500
  front  = 0
  back   = 500
  bottom = 0
  top    = 700
}
ring "base" {
  within = leg
  bottom = 100
}
ring "crown" {
  left    = 0
  right   = 500
  front   = 0
  back    = 500
  bottom  = 700
  corners = "pinwheel"
}
`))
	want := map[string]float64{"leg": 500*math.Sqrt2 - 3*(math.Sqrt2-1), "base": 440 * math.Sqrt2, "crown": 500 * math.Sqrt2}
	seen := map[string]bool{}
	p.Each(func(s *assembly.Step) {
		for _, d := range s.Measure {
			seen[d.Name] = true
			if math.Abs(d.Read-want[d.Name]) > 0.005 {
				t.Errorf("%s reads %.3f, by hand %.3f", d.Name, d.Read, want[d.Name])
			}
			// Between the points the sides are as said.
			a, b := d.Ends[0].Dist(d.Ends[1]), d.Ends[1].Dist(d.Ends[2])
			if math.Abs(a-d.A) > 1e-6 || math.Abs(b-d.B) > 1e-6 {
				t.Errorf("%s: points %v × %v apart, sides %v × %v", d.Name, a, b, d.A, d.B)
			}
		}
	})
	if len(seen) != 3 {
		t.Errorf("measured %v", seen)
	}
	// Every joint is tightened once, by a ring or in the end.
	count := map[*frame.Joint]int{}
	p.Each(func(s *assembly.Step) {
		for _, q := range s.Torques {
			for _, j := range q.Joints {
				count[j]++
			}
		}
	})
	for _, j := range p.Frame.Joints {
		if count[j] != 1 {
			t.Errorf("%s to %s is tightened %d times", j.A.Name, j.B.Name, count[j])
		}
	}
}

// A slot plate's nuts hang in the rail before its ends are shut.
func TestFootNuts(t *testing.T) {
	f, err := frame.Load("../examples/foam-cutter/frame.hcl", frame.Options{})
	if err != nil {
		t.Fatal(err)
	}
	nuts, feet := 0, 0
	p := plan(t, f)
	p.Each(func(s *assembly.Step) {
		for _, l := range s.Load {
			if l.Item == "slot nut" && l.Member.Name == "base.back_rail" {
				if l.Member.FaceNames()[l.Face-1] != "bottom" {
					t.Errorf("nuts go into the %s slot", l.Member.FaceNames()[l.Face-1])
				}
				nuts += l.Count
			}
		}
		if s.Kind == assembly.FitFeet {
			feet += len(s.Feet)
		}
	})
	if nuts != 4 || feet != 4 {
		t.Errorf("%d nuts for two slot plates of two screws, %d of 4 feet", nuts, feet)
	}
}
