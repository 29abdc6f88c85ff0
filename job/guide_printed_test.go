package job

import (
	"bytes"
	"strings"
	"testing"

	"barwright/assembly"
	"barwright/drawing"
	"barwright/geom"
	"barwright/mesh"
)

// guideOf returns the pages of the guide of a job and its plan.
func guideOf(t *testing.T, j *Job) ([]*drawing.Sheet, *assembly.Plan) {
	t.Helper()
	p, err := j.Plan(StepsOptions{})
	if err != nil {
		t.Fatal(err)
	}
	scene, err := j.Scene()
	if err != nil {
		t.Fatal(err)
	}
	sheets, err := drawing.GuideSheets(j.Frame, scene, p, drawing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return sheets, p
}

// Every step that puts printed parts on names each of their marks in a balloon (item references, ISO 6433), and no page of the guide
// breaks a rule of legibility.
func TestGuideShowsPrintedParts(t *testing.T) {
	for _, name := range []string{"curing-cabinet", "foam-cutter", "work-stand", "stand"} {
		t.Run(name, func(t *testing.T) {
			j := openText(t, stand)
			if name != "stand" {
				var err error
				if j, err = Open("../examples/"+name+"/frame.hcl", nil); err != nil {
					t.Fatal(err)
				}
			}
			sheets, p := guideOf(t, j)
			balloons := map[string]int{}
			for _, s := range sheets {
				for _, c := range s.Verify() {
					t.Errorf("%s: %v", s.Name, c)
				}
				for _, x := range s.Texts() {
					if x.Role == drawing.Balloon {
						balloons[x.String]++
					}
					if strings.HasSuffix(x.String, "…") {
						t.Errorf("%s: %q is cut", s.Name, x.String)
					}
				}
			}
			want := map[string]int{}
			p.Each(func(s *assembly.Step) {
				here := map[string]bool{}
				for _, u := range s.Printed {
					if !here[u.Mark] {
						here[u.Mark] = true
						want[u.Mark]++
					}
				}
			})
			for mark, n := range want {
				if balloons[mark] < n {
					t.Errorf("%s goes on in %d steps and stands in %d balloons", mark, n, balloons[mark])
				}
			}
		})
	}
}

// The guide finds the printed parts in the scene by mark and order; so the k-th item of a mark must touch each bar that the k-th use of it
// sits on, by their outer boxes.
func TestPrintedItemsStandInTheOrderOfTheirUses(t *testing.T) {
	j, err := Open("../examples/curing-cabinet/frame.hcl", nil)
	if err != nil {
		t.Fatal(err)
	}
	scene, err := j.Scene()
	if err != nil {
		t.Fatal(err)
	}
	items := map[string][]mesh.Item{}
	for _, it := range scene.Items {
		if it.Kind == mesh.PrintedItem {
			items[it.Mark] = append(items[it.Mark], it)
		}
	}
	seen := map[string]int{}
	for _, u := range j.Frame.Uses {
		if len(items[u.Mark]) == 0 {
			continue // a gauge
		}
		k := seen[u.Mark]
		seen[u.Mark]++
		if k >= len(items[u.Mark]) {
			t.Fatalf("%s has %d items", u.Mark, len(items[u.Mark]))
		}
		it := items[u.Mark][k]
		box := geom.EmptyBox()
		for _, q := range scene.Shapes[it.Shape].Mesh.Points {
			box = box.Extend(it.Place.Apply(geom.Vec{X: float64(q[0]), Y: float64(q[1]), Z: float64(q[2])}))
		}
		for _, m := range u.On {
			for _, ax := range []geom.Axis{geom.X, geom.Y, geom.Z} {
				if box.Low.Along(ax) > m.Box.High.Along(ax)+0.5 || box.High.Along(ax) < m.Box.Low.Along(ax)-0.5 {
					t.Errorf("%s %d stands at %v, off %s at %v", u.Mark, k+1, box, m.Name, m.Box)
				}
			}
		}
	}
	if len(seen) < 10 {
		t.Errorf("%d marks with places", len(seen))
	}
	for mark, list := range items {
		if seen[mark] != len(list) {
			t.Errorf("%s: %d items, %d uses", mark, len(list), seen[mark])
		}
	}
}

// The same frame gives the same guide, byte for byte.
func TestGuideWithPrintedPartsRepeats(t *testing.T) {
	var first [2]string
	for k := range 2 {
		j, err := Open("../examples/curing-cabinet/frame.hcl", nil)
		if err != nil {
			t.Fatal(err)
		}
		list, err := j.guideOutputs(StepsOptions{})
		if err != nil {
			t.Fatal(err)
		}
		for i, o := range list {
			var b bytes.Buffer
			if err := o.write(&b); err != nil {
				t.Fatal(err)
			}
			if k == 0 {
				first[i] = b.String()
			} else if first[i] != b.String() {
				t.Errorf("%s differs from one run to the next", o.name)
			}
		}
	}
}

// A guide that begins with bars that are built already breaks no rule of legibility either.
func TestGuideFromWhatIsBuilt(t *testing.T) {
	j := openText(t, stand)
	p, err := j.Plan(StepsOptions{From: "leg"})
	if err != nil {
		t.Fatal(err)
	}
	scene, err := j.Scene()
	if err != nil {
		t.Fatal(err)
	}
	sheets, err := drawing.GuideSheets(j.Frame, scene, p, drawing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range sheets {
		for _, c := range s.Verify() {
			t.Errorf("%s: %v", s.Name, c)
		}
	}
}
