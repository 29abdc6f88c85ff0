package drawing

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"sort"
	"strings"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// blindLines writes a part's machining as the table of the blind trial does.
func blindLines(name string, p *frame.Part, u units) []string {
	b := &p.Bar
	head := fmt.Sprintf("%s,%s,%s,%d", name, p.Mark, u.place(b.Length), p.Quantity())
	var out []string
	for _, x := range b.Taps {
		out = append(out, fmt.Sprintf("%s,tap,%d,,,%s-6H × %s", head, x.End+1, x.Thread, u.size(x.Depth)))
	}
	for _, h := range b.Holes {
		out = append(out, fmt.Sprintf("%s,hole,%d,%s,%s,%s", head, h.Side+1, u.place(h.Z), u.place(b.Profile.Along(h.Side)/2-h.Offset), holeWords(h, u)))
	}
	for end, c := range b.Cuts {
		// At end 1 the long point lies where the cut is lowest, at end 2 where it is highest.
		beside := func(slope float64, high, low geom.Side) string {
			side := high
			if (slope > 0) == (end == 0) {
				side = low
			}
			return fmt.Sprintf("%s,cut,%d,,,%.1f° with the long point beside face %d", head, end+1, 90-math.Atan(math.Abs(slope))*180/math.Pi, side+1)
		}
		if c.SlopeX != 0 {
			out = append(out, beside(c.SlopeX, geom.Right, geom.Left))
		}
		if c.SlopeY != 0 {
			out = append(out, beside(c.SlopeY, geom.Top, geom.Bottom))
		}
	}
	return out
}

// holeWords says what a hole is, the largest feature first.
func holeWords(h frame.Hole, u units) string {
	var out []string
	if h.Bore > 0 {
		out = append(out, fmt.Sprintf("⌴ ⌀%s ↧ %s", u.size(h.Bore), u.size(h.BoreDepth)))
	}
	switch {
	case h.Thread != "" && h.ThreadDepth > 0:
		out = append(out, fmt.Sprintf("%s-6H × %s", h.Thread, u.size(h.ThreadDepth)))
	case h.Thread != "":
		return strings.Join(append(out, fmt.Sprintf("%s-6H through, ⌀%s", h.Thread, u.size(h.Diameter))), ", ")
	}
	if h.Depth > 0 {
		out = append(out, fmt.Sprintf("⌀%s ↧ %s", u.size(h.Diameter), u.size(h.Depth)))
	} else {
		out = append(out, fmt.Sprintf("⌀%s through", u.size(h.Diameter)))
	}
	return strings.Join(out, ", ")
}

// blindFrames returns the frames of the trial by name: those in testdata, and one of random parts.
func blindFrames(t *testing.T) map[string]*frame.Frame {
	t.Helper()
	out := map[string]*frame.Frame{}
	for name, text := range realFrames(t) {
		f, err := frame.Parse(name+".hcl", []byte(text), frame.Options{})
		if err != nil {
			t.Fatal(err)
		}
		out[name] = f
	}
	r := rand.New(rand.NewPCG(77, 5))
	random := workshopFrame(t)
	random.Parts = nil
	for i := range 40 {
		random.Parts = append(random.Parts, randomPart(t, r, fmt.Sprintf("R%d", i+1)))
	}
	out["random"] = random
	return out
}

// TestMachinistBlind compares what a reader wrote down from the pictures of sheets with the model, feature by feature.
func TestMachinistBlind(t *testing.T) {
	file, err := os.Open("testdata/machinist-blind.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	frames := blindFrames(t)
	parts := map[string]*frame.Part{}
	inches := map[string]units{}
	var got, want []string
	for _, row := range rows {
		key := row[0] + " " + row[1]
		if f := frames[row[0]]; parts[key] == nil && f != nil {
			for _, p := range f.Parts {
				if p.Mark == row[1] {
					parts[key], inches[key] = p, units{f.Units == "inch"}
					want = append(want, blindLines(row[0], p, inches[key])...)
				}
			}
		}
		p := parts[key]
		if p == nil {
			t.Fatalf("no part %s", key)
		}
		if row[4] == "hole" && row[7] == "" {
			side := geom.Side(row[5][0] - '1')
			if n := len(p.Bar.Profile.CellLines(side)); n != 1 {
				t.Errorf("%s: the reader left y out on a face with %d lines", key, n)
			}
			row[7] = inches[key].place(p.Bar.Profile.Along(side) / 2)
		}
		got = append(got, strings.Join(row, ","))
	}
	sort.Strings(got)
	sort.Strings(want)
	if len(parts) < 10 || len(got) != len(want) {
		t.Errorf("%d features of %d parts read, the model has %d", len(got), len(parts), len(want))
	}
	for i := range min(len(got), len(want)) {
		if got[i] != want[i] {
			t.Errorf("read %q, the model has %q", got[i], want[i])
		}
	}
}
