package check

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// The tree finds what looking at every box finds.
func TestTreeAgainstAll(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	vec := func(k float64) geom.Vec { return geom.Vec{X: k * r.Float64(), Y: k * r.Float64(), Z: k * r.Float64()} }
	for _, n := range []int{0, 1, 7, 200, 900} {
		var boxes []geom.Box
		for range n {
			low := vec(100)
			boxes = append(boxes, geom.Box{Low: low, High: low.Add(vec(12))})
		}
		tr := newTree(boxes)
		for range 50 {
			low := vec(100)
			ask := geom.Box{Low: low, High: low.Add(vec(20))}
			var want []int
			for i, b := range boxes {
				if !b.Intersect(ask).Empty() {
					want = append(want, i)
				}
			}
			if got := tr.near(ask); !slices.Equal(got, want) {
				t.Fatalf("%d boxes: %v; want %v", n, got, want)
			}
		}
	}
}

// Nodes are in one set where each reaches the other, by following all edges.
func TestStrongAgainstReach(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	for range 60 {
		n := 1 + r.IntN(14)
		next := make([][]int, n)
		for range r.IntN(2 * n) {
			i := r.IntN(n)
			next[i] = append(next[i], r.IntN(n))
		}
		reach := make([][]bool, n)
		for i := range reach {
			reach[i] = make([]bool, n)
			stack := []int{i}
			for len(stack) > 0 {
				v := stack[len(stack)-1]
				stack = stack[:len(stack)-1]
				if !reach[i][v] {
					reach[i][v] = true
					stack = append(stack, next[v]...)
				}
			}
		}
		set := strong(next)
		for i := range n {
			for j := range n {
				if want := reach[i][j] && reach[j][i]; (set[i] == set[j]) != want {
					t.Fatalf("%v: sets %v, nodes %d and %d", next, set, i, j)
				}
			}
		}
	}
}

// A circular segment of half a circle has the half area, its centre at 4r/3π and the diameter as chord (geometry tables).
func TestCircleSegment(t *testing.T) {
	area, centre, chord := circleSegment(3, 1e-12)
	for _, c := range [][2]float64{{area, math.Pi * 9 / 2}, {centre, 4 * 3 / (3 * math.Pi)}, {chord, 6}} {
		if math.Abs(c[0]-c[1]) > 1e-6 {
			t.Errorf("%g; want %g", c[0], c[1])
		}
	}
}

// Two runs give the same findings in the same order, the worst first.
func TestRunIsStable(t *testing.T) {
	src := lattice(4, 4, 3) + `
member "odd" {
  left = 17
  right = 400
  front = 12
  bottom = 250
}
doorway "d" {
  width = 500
  height = 700
}
`
	load := func() []Finding {
		f, err := frame.Parse("s.hcl", []byte(src), frame.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return Run(f)
	}
	a, b := load(), load()
	if len(a) < 3 || !reflect.DeepEqual(a, b) {
		t.Fatalf("%d and %d findings differ", len(a), len(b))
	}
	if !slices.IsSortedFunc(a, compareFindings) || a[0].Severity != Error || !Worst(a) {
		t.Error("not sorted, the worst first")
	}
}

// What the file allows keeps its place at the end, and is no error any more.
func TestAllowedFindings(t *testing.T) {
	text := func(allow string) string {
		return `frame { profile = "30x30-8" }
member "a" {
  left   = 0
  right  = 300
  front  = 0
  bottom = 0
}
member "b" {
  left   = 0
  right  = 300
  front  = 20
  bottom = 0
` + allow + "}\n"
	}
	for _, c := range []struct {
		allow string
		worst bool
	}{
		{"", true},
		{"allow = [\"overlap\"]\nreason = \"x\"\n", true}, // b is still afloat
		{"allow = [\"overlap\", \"afloat\"]\nreason = \"one of the two is taken at a time\"\n", false},
	} {
		f, err := frame.Parse("a.hcl", []byte(text(c.allow)), frame.Options{})
		if err != nil {
			t.Fatal(err)
		}
		found := Run(f)
		if Worst(found) != c.worst {
			t.Errorf("%q: worst %v", c.allow, Worst(found))
		}
		for i, g := range found {
			if (g.Allowed != "") != strings.Contains(c.allow, `"`+g.Rule+`"`) {
				t.Errorf("%q: %s is allowed with %q", c.allow, g.Rule, g.Allowed)
			}
			if i > 0 && found[i-1].Allowed != "" && g.Allowed == "" {
				t.Errorf("%q: an allowed finding comes first", c.allow)
			}
		}
	}
}

// Frames that are wrong in every way at once end, and end soon enough to be tested.
func TestCrowdedFrames(t *testing.T) {
	all := "frame { profile = \"20x20-6\" }\nrow \"a\" {\n  count = 200\n  left = 0\n  right = 300\n  bottom = 0\n  first = { mid_y = 0 }\n  step = 3\n}\n"
	moving := "frame { profile = \"20x20-6\" }\nrow \"a\" {\n  count = 40\n  left = 0\n  right = 300\n  bottom = 0\n  first = { mid_y = 0 }\n  step = 19\n}\n" +
		"row \"b\" {\n  count = 40\n  front = 0\n  back = 300\n  bottom = 100\n  first = { mid_x = 0 }\n  step = 19\n}\ngroup \"g\" {\n  members = a\n  travel = { along = \"z\", from = -10, to = 400 }\n}\n"
	doors := "frame { profile = \"20x20-6\" }\nposts \"p\" {\n  left = 0\n  right = 900\n  front = 0\n  back = 860\n  bottom = 0\n  top = 850\n}\n"
	for i := range 80 {
		doors += fmt.Sprintf("doorway \"%d\" {\n  width = 800\n  height = %d\n}\n", i, 1000+i)
	}
	for name, src := range map[string]string{"all in one place": all, "everything moves": moving, "many doorways": doors} {
		f, err := frame.Parse("c.hcl", []byte(src), frame.Options{})
		if err != nil {
			t.Fatal(name, err)
		}
		if found := Run(f); !Worst(found) || len(found) > 6000 {
			t.Errorf("%s: %d findings", name, len(found))
		}
	}
}
