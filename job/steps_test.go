package job

import (
	"bytes"
	"encoding/json"
	"testing"
)

// The steps as other programs read them: names and types as the design's page of outputs has them, every bar once, directions of
// unit length.
func TestStepsJSON(t *testing.T) {
	for _, name := range []string{"foam-cutter", "work-stand"} {
		t.Run(name, func(t *testing.T) {
			j, err := Open("../examples/"+name+"/frame.hcl", nil)
			if err != nil {
				t.Fatal(err)
			}
			p, err := j.Plan(StepsOptions{})
			if err != nil {
				t.Fatal(err)
			}
			var b, again bytes.Buffer
			if err := WriteJSON(&b, NewStepsReport(p)); err != nil {
				t.Fatal(err)
			}
			if err := WriteJSON(&again, NewStepsReport(p)); err != nil || !bytes.Equal(b.Bytes(), again.Bytes()) {
				t.Error("two reports of one plan differ")
			}
			var r struct{ Steps []map[string]any }
			if err := json.Unmarshal(b.Bytes(), &r); err != nil {
				t.Fatal(err)
			}
			added := map[string]int{}
			checkSteps(t, r.Steps, added)
			if len(added) != len(j.Frame.Members) {
				t.Errorf("%d of %d bars are added", len(added), len(j.Frame.Members))
			}
			for m, n := range added {
				if n != 1 || j.Frame.Member(m) == nil {
					t.Errorf("%q is added %d times", m, n)
				}
			}
		})
	}
}

func checkSteps(t *testing.T, steps []map[string]any, added map[string]int) {
	t.Helper()
	if len(steps) == 0 {
		t.Fatal("no steps")
	}
	for i, s := range steps {
		if s["number"] != float64(i+1) {
			t.Errorf("step %d has number %v", i+1, s["number"])
		}
		for _, name := range []string{"add", "move", "load", "turn", "lift_kg", "text"} {
			if _, ok := s[name]; !ok {
				t.Fatalf("step %d lacks %q", i+1, name)
			}
		}
		if build, ok := s["build"].([]any); ok {
			var inner []map[string]any
			for _, e := range build {
				inner = append(inner, e.(map[string]any))
			}
			sub := map[string]int{}
			checkSteps(t, inner, sub)
			if len(sub) != len(s["add"].([]any)) {
				t.Errorf("step %d builds %d bars and adds %d", i+1, len(sub), len(s["add"].([]any)))
			}
		}
		for _, m := range s["add"].([]any) {
			added[m.(string)]++
		}
		if d, ok := s["move"].([]any); ok {
			sum := 0.0
			for _, v := range d {
				sum += v.(float64) * v.(float64)
			}
			if len(d) != 3 || sum < 1-1e-5 || sum > 1+1e-5 {
				t.Errorf("step %d moves along %v", i+1, d)
			}
		}
		for _, l := range s["load"].([]any) {
			l := l.(map[string]any)
			face, end, nuts := l["face"].(float64), l["from_end"].(float64), l["nuts"].(float64)
			if face < 1 || face > 4 || end < 1 || end > 2 || nuts < 1 || l["member"] == "" {
				t.Errorf("step %d loads %v", i+1, l)
			}
		}
		if s["text"] == "" || s["lift_kg"].(float64) < 0 {
			t.Errorf("step %d: %v", i+1, s)
		}
	}
}
