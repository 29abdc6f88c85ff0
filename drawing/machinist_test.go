package drawing

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"sort"
	"strings"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// modelLines writes a part's machining as the trial's table does.
func modelLines(p *frame.Part) []string {
	b := &p.Bar
	head := fmt.Sprintf("%s,%g,%d", p.Mark, b.Length, p.Quantity())
	var out []string
	for _, x := range b.Taps {
		out = append(out, fmt.Sprintf("%s,tap,%d,,,%s-6H × %g", head, x.End+1, x.Thread, x.Depth))
	}
	for _, h := range b.Holes {
		spec := ""
		if h.Bore > 0 {
			spec = fmt.Sprintf("⌴ ⌀%g ↧ %g, ", h.Bore, h.BoreDepth)
		}
		if h.Thread != "" {
			spec += fmt.Sprintf("%s-6H × %g, ", h.Thread, h.ThreadDepth)
		}
		if h.Depth == 0 {
			spec += fmt.Sprintf("⌀%g through", h.Diameter)
		} else {
			spec += fmt.Sprintf("⌀%g ↧ %g", h.Diameter, h.Depth)
		}
		out = append(out, fmt.Sprintf("%s,hole,%d,%g,%g,%s", head, h.Side+1, h.Z, b.Profile.Along(h.Side)/2-h.Offset, spec))
	}
	for end, c := range b.Cuts {
		if c.Square() {
			continue
		}
		// At end 0 the cut rises with the section's x where the slope is positive, so that the long point lies on the other side.
		long := geom.Right
		if (c.SlopeX > 0) == (end == 0) {
			long = geom.Left
		}
		out = append(out, fmt.Sprintf("%s,cut,%d,,,%g° to the long edge on face 2 with the long point beside face %d", head, end+1,
			math.Round(900-10*math.Atan(math.Abs(c.SlopeX))*180/math.Pi)/10, long+1))
	}
	if len(out) == 0 {
		out = append(out, head+",nothing,,,,")
	}
	return out
}

// TestMachinistTrial compares what a reader wrote down from the sheets' pictures with the model.
func TestMachinistTrial(t *testing.T) {
	file, err := os.Open("testdata/machinist-trial.csv")
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
	f := workshopFrame(t)
	var got, want []string
	for _, p := range f.Parts {
		want = append(want, modelLines(p)...)
	}
	for _, row := range rows {
		if row[3] == "hole" && row[6] == "" { // on the centre line of the face's only slot
			for _, p := range f.Parts {
				if p.Mark == row[0] {
					row[6] = fmt.Sprint(p.Bar.Profile.Along(geom.Side(row[4][0]-'1')) / 2)
				}
			}
		}
		got = append(got, strings.Join(row, ","))
	}
	sort.Strings(got)
	sort.Strings(want)
	if len(got) != len(want) || len(got) < 40 {
		t.Errorf("%d features read, the model has %d", len(got), len(want))
	}
	for i := range min(len(got), len(want)) {
		if got[i] != want[i] {
			t.Errorf("read %q, the model has %q", got[i], want[i])
		}
	}
}
