package drawing

import (
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// checkSheets proves that the sheets of a part say all of its machining, each thing once and with the model's figures.
func checkSheets(t *testing.T, p *frame.Part, sheets []*Sheet) {
	t.Helper()
	checkSheetsIn(t, p, sheets, units{})
}

// checkSheetsIn does so for sheets in a unit.
func checkSheetsIn(t *testing.T, p *frame.Part, sheets []*Sheet, u units) {
	t.Helper()
	// A length shows at most one decimal of a millimetre, or three of an inch, so that it may be off by half of that.
	inMM, half := 1.0, 0.0501
	if u.inch {
		inMM, half = 25.4, 0.0128
	}
	positions, specs, across := map[string][]*Text{}, map[string][]*Text{}, map[string][]*Text{}
	for _, s := range sheets {
		for _, c := range s.Verify() {
			t.Errorf("%s on %s: %v", s.Name, s.Size.Name, c)
		}
		for _, x := range s.Texts() {
			for _, id := range x.Of {
				switch x.Shows {
				case Position:
					positions[id] = append(positions[id], x)
				case Spec:
					specs[id] = append(specs[id], x)
				case Across:
					across[id] = append(across[id], x)
				}
			}
		}
	}
	one := func(m map[string][]*Text, id, what string) *Text {
		if len(m[id]) != 1 {
			t.Errorf("%s: %s has %d %s, want 1", p.Mark, id, len(m[id]), what)
			return &Text{}
		}
		return m[id][0]
	}
	shows := func(x *Text, want float64) {
		got, err := strconv.ParseFloat(strings.Trim(x.String, "()"), 64)
		if err != nil || math.Abs(got*inMM-want) > half || x.Value != want {
			t.Errorf("%s: %q shown for %g", p.Mark, x.String, want)
		}
	}
	shows(one(positions, lengthID, "lengths"), p.Bar.Length)
	for i, h := range p.Bar.Holes {
		shows(one(positions, holeID(i), "positions"), h.Z)
		if len(across[holeID(i)]) > 0 || !onSlot(p.Bar.Profile, h.Side, h.Offset) || len(p.Bar.Profile.CellLines(h.Side)) > 1 && needsTable(&p.Bar) {
			shows(one(across, holeID(i), "offsets"), p.Bar.Profile.Along(h.Side)/2-h.Offset)
		}
		spec := calloutOf(sheets, one(specs, holeID(i), "callouts"))
		if got, want := readHole(t, spec), kindOf(h); !got.near(want, inMM) {
			t.Errorf("%s: callout %q reads %+v, the hole is %+v", p.Mark, spec, got, want)
		}
	}
	for i, x := range p.Bar.Taps {
		spec := calloutOf(sheets, one(specs, tapID(i), "callouts"))
		if want := fmt.Sprintf("%s-6H × %s", x.Thread, u.size(x.Depth)); !strings.Contains(spec, want) || !strings.Contains(spec, "core bore as extruded") {
			t.Errorf("%s: callout %q of a tap, want %q", p.Mark, spec, want)
		}
	}
	for end, c := range p.Bar.Cuts {
		checkCut(t, p.Mark, end, c, specs[cutID(end)])
	}
}

// checkCut proves that the texts of an end's cut say its angles, each once.
func checkCut(t *testing.T, mark string, end int, c frame.Cut, got []*Text) {
	t.Helper()
	want := map[string]int{}
	n := 0
	for _, slope := range []float64{c.SlopeX, c.SlopeY} {
		if slope != 0 {
			want[units{}.place(90-math.Atan(math.Abs(slope))*180/math.Pi)+"°"]++
			n++
		}
	}
	for _, x := range got {
		want[strings.TrimSuffix(strings.TrimPrefix(x.String, "cut "), " to the long edge")]--
	}
	for text, left := range want {
		if left != 0 || len(got) != n {
			t.Errorf("%s: cut %+v of end %d has %d callouts, %q is off by %d", mark, c, end+1, len(got), text, left)
		}
	}
}

// near reports whether what was read in a unit is a kind of hole.
func (k holeKind) near(want holeKind, inMM float64) bool {
	for _, v := range [][2]float64{{k.diameter, want.diameter}, {k.depth, want.depth}, {k.bore, want.bore}, {k.boreDepth, want.boreDepth}, {k.threadDepth, want.threadDepth}} {
		if math.Abs(v[0]*inMM-v[1]) > 0.0128 {
			return false
		}
	}
	return k.thread == want.thread
}

// calloutOf returns all lines of a callout whose first line is given: those under it on its shelf.
func calloutOf(sheets []*Sheet, first *Text) string {
	for _, s := range sheets {
		for i, op := range s.Ops {
			if op != Op(first) {
				continue
			}
			lines := []string{first.String}
			for _, next := range s.Ops[i+1:] {
				x, ok := next.(*Text)
				if !ok || x.Role != Callout || x.At.X != first.At.X || x.Shows != Nothing {
					break
				}
				lines = append(lines, x.String)
			}
			return strings.Join(lines, ", ")
		}
	}
	return ""
}

var (
	boreText    = regexp.MustCompile(`⌴ ⌀([0-9.]+) ↧ ([0-9.]+)`)
	threadText  = regexp.MustCompile(`(M[0-9.]+)-6H (?:× ([0-9.]+)|through)`)
	blindText   = regexp.MustCompile(`(?:^|, |× )⌀([0-9.]+) ↧ ([0-9.]+)`)
	throughText = regexp.MustCompile(`⌀([0-9.]+)(?: through|$)`)
)

// readHole reads a callout as a machinist would.
func readHole(t *testing.T, s string) holeKind {
	number := func(s string) float64 {
		if s == "" {
			return 0
		}
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Errorf("%q is no number", s)
		}
		return v
	}
	var k holeKind
	if m := boreText.FindStringSubmatch(s); m != nil {
		k.bore, k.boreDepth = number(m[1]), number(m[2])
		s = strings.TrimPrefix(strings.Replace(s, m[0], "", 1), ", ")
	}
	if m := threadText.FindStringSubmatch(s); m != nil {
		k.thread, k.threadDepth = m[1], number(m[2])
	}
	if m := blindText.FindStringSubmatch(s); m != nil {
		k.diameter, k.depth = number(m[1]), number(m[2])
	} else if m := throughText.FindStringSubmatch(s); m != nil {
		k.diameter = number(m[1])
	}
	return k
}

func TestPartSheetsOfAFrame(t *testing.T) {
	f := workshopFrame(t)
	for _, o := range []Options{{}, {Projection: "third"}, {Size: "A2"}, {NotForManufacture: true}} {
		for _, p := range f.Parts {
			g := *f
			g.Parts = []*frame.Part{p}
			sheets, err := PartSheets(&g, o)
			if err != nil {
				t.Errorf("%+v: %v", o, err)
				continue
			}
			checkSheets(t, p, sheets)
		}
	}
}

func TestRandomParts(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	f := workshopFrame(t)
	sizes := map[string]int{}
	for i := range 500 {
		p := randomPart(t, r, fmt.Sprintf("A%d", i+1))
		f.Parts = []*frame.Part{p}
		o := Options{}
		if i%5 == 4 {
			o.Projection = "third"
		}
		sheets, err := PartSheets(f, o)
		if err != nil {
			t.Errorf("%v: %+v", err, p.Bar)
			continue
		}
		checkSheets(t, p, sheets)
		sizes[fmt.Sprint(len(sheets), " × ", sheets[0].Size.Name)]++
	}
	t.Log(sizes)
}

// TestFacesLieWhereTheyProject: in first angle what lies above is drawn below, in third angle above (ISO 5456-2).
// Looking at a face with end 1 left, the face before it (clockwise at end 1) is the upper one.
func TestFacesLieWhereTheyProject(t *testing.T) {
	p := profile(t, "30x30-8")
	bar := frame.Bar{Profile: p, Length: 300, Holes: []frame.Hole{
		{Side: 1, Z: 100, Diameter: 7}, {Side: 1, Z: 200, Diameter: 7}, {Side: 0, Z: 150, Diameter: 7}, {Side: 2, Z: 160, Diameter: 5.5, Depth: 9}}}
	for _, c := range []struct {
		projection string
		want       []string // from the top of the sheet
	}{{"first", []string{"Face 3", "Face 2", "Face 1"}}, {"third", []string{"Face 1", "Face 2", "Face 3"}}} {
		f := workshopFrame(t)
		f.Parts = []*frame.Part{part("A1", bar, 1)}
		sheets, err := PartSheets(f, Options{Projection: c.projection, Size: "A2"})
		if err != nil {
			t.Fatal(err)
		}
		at := map[string]geom.Vec2{}
		for _, x := range sheets[0].Texts(Label) {
			if _, ok := at[x.String]; !ok || x.String == "End 2" {
				at[x.String] = x.At
			}
		}
		for i := 1; i < len(c.want); i++ {
			if at[c.want[i-1]].Y <= at[c.want[i]].Y {
				t.Errorf("%s angle: %s is not over %s", c.projection, c.want[i-1], c.want[i])
			}
		}
	}
}
