package job

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"barwright/assembly"
	"barwright/frame"
)

// What the parts weigh in their places is what the lists say: printed parts that have a place, and all screws and nuts. Gauges and jigs, which
// have none, are not part of the frame.
func TestPrintedPartsWeigh(t *testing.T) {
	j, err := Open("../examples/curing-cabinet/frame.hcl", nil)
	if err != nil {
		t.Fatal(err)
	}
	placed, gauges := 0.0, 0
	for _, p := range j.Printed {
		placed += p.Result.Mass * float64(len(p.Places))
		if len(p.Places) == 0 {
			gauges++
		}
	}
	hardware := 0.0
	for _, h := range j.Frame.Hardware {
		if h.Item != printedPart {
			hardware += h.Kg() * float64(h.Quantity)
		}
	}
	w := j.Frame.Weights()
	if gauges == 0 || placed == 0 || math.Abs(w.Printed-placed) > 1e-9 || math.Abs(w.Hardware-hardware) > 1e-9 {
		t.Errorf("%+v; placed printed parts weigh %g kg, the hardware list %g kg", w, placed, hardware)
	}
	sheets := 0.0
	for _, p := range j.Frame.Panels {
		sheets += p.Sheet.Mass
	}
	if math.Abs(w.Panels-sheets) > 1e-9 {
		t.Errorf("panels weigh %g kg, the sheets %g", w.Panels, sheets)
	}
	r := NewReport(j.Frame, j.Findings)
	m := r.Frame.Masses
	if sum := m.BarsKG + m.PanelsKG + m.PrintedKG + m.HardwareKG; math.Abs(float64(sum-r.Frame.MassKG)) > 0.0021 || r.Measures.MassKG != r.Frame.MassKG {
		t.Errorf("the report says %+v, in all %v and %v", m, r.Frame.MassKG, r.Measures.MassKG)
	}
}

// A part sits where its mesh does, and on the bars that its screws go into: a tee over the two bars that it joins.
func TestPrintedPartsSitOnTheirBars(t *testing.T) {
	j := openText(t, cube)
	meshes := map[string]frame.Fitting{}
	for _, x := range j.Frame.Fittings() {
		if x.Kind == frame.PrintedFitting {
			meshes[x.Name] = x
		}
	}
	for _, p := range j.Printed {
		for _, at := range p.Places {
			x, ok := meshes[at.Name]
			if !ok {
				t.Errorf("%s weighs nothing", at.Name)
				continue
			}
			if want := at.Place.Apply(p.Result.Mesh.Centroid()); want.Dist(x.At) > 1e-9 {
				t.Errorf("%s weighs at %v, its middle is %v", at.Name, x.At, want)
			}
			want := map[string]int{"plate-cross": 3, "corner-inside": 3, "corner-outside": 3, "foot-pad": 1, "slot-cover": 1, "cable-clip": 1, "panel-clip": 1}[p.Result.Kind]
			if len(x.On) != want {
				t.Errorf("%s is held by %d bars, want %d", at.Name, len(x.On), want)
			}
		}
	}
}

// A step lifts the bars that go in with all that they alone hold by then, and a turn what stands: sums over the members, made here.
func TestStepsLiftWhatBarsHold(t *testing.T) {
	j, err := Open("../examples/curing-cabinet/frame.hcl", nil)
	if err != nil {
		t.Fatal(err)
	}
	p, err := j.Plan(StepsOptions{})
	if err != nil {
		t.Fatal(err)
	}
	fittings := j.Frame.Fittings()
	sum := func(bars []*frame.Member) (kg, fitted float64) {
		in := map[*frame.Member]bool{}
		for _, b := range bars {
			kg += b.Part.Mass
			in[b] = true
		}
		for _, x := range fittings {
			held := !x.Last
			for _, b := range x.On {
				held = held && in[b]
			}
			if held {
				fitted += x.Kg
			}
		}
		return kg, fitted
	}
	// The sheet that is screwed on comes last.
	if last := p.Steps[len(p.Steps)-1].Line(); !strings.Contains(last, "the sheet “back”") || !strings.Contains(last, fmt.Sprintf("%d screws", len(j.Frame.Panels[2].Sheet.Holes))) {
		t.Errorf("the last step does not screw the back on: %s", last)
	}
	units, turns := 0, 0
	p.Each(func(s *assembly.Step) {
		bars := s.Add
		switch {
		case s.Kind == assembly.TurnIt:
			bars, turns = s.Standing(j.Frame), turns+1
		case s.Kind != assembly.Place:
			return
		case s.Each:
			most := 0.0
			for _, b := range s.Add {
				kg, fitted := sum([]*frame.Member{b})
				most = math.Max(most, kg+fitted)
			}
			if math.Abs(s.Mass-most) > 1e-9 {
				t.Errorf("step %d lifts %g kg at a time, want %g", s.Number, s.Mass, most)
			}
			return
		case len(bars) > 1:
			units++
		}
		if kg, fitted := sum(bars); math.Abs(s.Mass-kg-fitted) > 1e-9 {
			t.Errorf("step %d lifts %g kg, want %g and %g", s.Number, s.Mass, kg, fitted)
		}
	})
	if units == 0 || turns == 0 {
		t.Errorf("%d units and %d turns", units, turns)
	}
}
