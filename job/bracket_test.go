package job

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh/bracket"
)

// The frame file names the kinds and parameters that package bracket makes. Parameters that follow from a joint can't be set.
func TestFrameKnowsKinds(t *testing.T) {
	names, params := frame.BracketKinds()
	var kinds []string
	for i, k := range bracket.Kinds() {
		kinds = append(kinds, k.Name)
		var want []string
		for _, p := range k.Params {
			if !strings.HasPrefix(p.Name, "room") && !(k.Name == "brace-foot" && p.Name == "angle") {
				want = append(want, p.Name)
			}
		}
		if i < len(params) && !slices.Equal(want, params[i]) {
			t.Errorf("%s: the frame file sets %v, the kind has %v", k.Name, params[i], want)
		}
	}
	if !slices.Equal(names, kinds) {
		t.Errorf("the frame file names %v, the kinds are %v", names, kinds)
	}
	a := bracket.DefaultAllowances()
	seen := map[*float64]bool{}
	for _, n := range allowanceNames {
		if p := allowanceField(&a, n); p == nil || seen[p] {
			t.Errorf("allowance %q names no field of its own", n)
		} else {
			seen[p] = true
		}
	}
}

// openText loads a frame from a text.
func openText(t *testing.T, text string) *Job {
	t.Helper()
	path := filepath.Join(t.TempDir(), "it.hcl")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	j, err := Open(path, nil)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// cube is a box of twelve bars with parts of the kinds that sit on ends, faces and corners.
const cube = `
frame {
  profile = "30x30-8"
}
posts "leg" {
  left   = 0
  right  = 500
  front  = 0
  back   = 400
  bottom = 0
  top    = 600
}
ring "base" {
  within = leg
  bottom = 100
}
ring "lid" {
  left    = 0
  right   = 500
  front   = 0
  back    = 400
  bottom  = 600
  corners = "pinwheel"
}
member "mid" {
  left   = base.left_rail.right
  right  = base.right_rail.left
  mid_y  = 200
  bottom = 100
}
member "fore" {
  mid_x  = 250
  front  = base.front_rail.back
  back   = mid.front
  bottom = 100
}
member "aft" {
  mid_x  = 250
  front  = mid.back
  back   = base.back_rail.front
  bottom = 100
}
bracket "pads" {
  kind = "foot-pad"
  on   = leg
  end  = "bottom"
}
bracket "inside" {
  kind = "corner-inside"
  on   = [leg, base]
  face = "top"
}
bracket "cover" {
  kind = "slot-cover"
  on   = leg.front_left
  face = "right"
  at   = 350
  set  = { length = 120 }
}
bracket "clip" {
  kind = "cable-clip"
  on   = [lid.front_rail, lid.left_rail]
  face = "top"
  at   = [110, 260]
}
bracket "hold" {
  kind   = "panel-clip"
  on     = lid.back_rail
  face   = "bottom"
  toward = "front"
}
bracket "cross" {
  kind = "plate-cross"
  on   = [mid, fore, aft]
  face = "top"
}
bracket "edges" {
  kind = "corner-outside"
  on   = [leg, lid]
}
`

// Parts that no joint asks for touch the bars that they sit on, and no corner of theirs lies inside of one.
func TestPlacedPartsTouchAndOverlapNothing(t *testing.T) {
	j := openText(t, cube)
	count := map[string]int{}
	for _, p := range j.Printed {
		count[p.Result.Kind] += p.Quantity
	}
	checkPlaced(t, j)
	want := map[string]int{"foot-pad": 4, "corner-inside": 4, "slot-cover": 1, "cable-clip": 4, "panel-clip": 1, "plate-cross": 1, "corner-outside": 4}
	for k, n := range want {
		if count[k] != n {
			t.Errorf("%d of %s, want %d", count[k], k, n)
		}
	}
}

// The same holds for every printed part of the examples, those of joints among them. Together they use every kind.
func TestPrintedPartsOfExamples(t *testing.T) {
	used := map[string]bool{}
	for _, name := range []string{"foam-cutter", "curing-cabinet"} {
		j, err := Open("../examples/"+name+"/frame.hcl", nil)
		if err != nil {
			t.Fatal(err)
		}
		own := map[string]bool{}
		for _, p := range j.Printed {
			used[p.Result.Kind], own[p.Result.Kind] = true, true
		}
		if len(own) < 4 {
			t.Errorf("%s uses %d kinds", name, len(own))
		}
		checkPlaced(t, j)
	}
	for _, k := range bracket.Kinds() {
		if !used[k.Name] {
			t.Errorf("no example uses %s", k.Name)
		}
	}
}

// checkPlaced sees that each placed part touches a bar and that none of its corners lies inside of one. The bars' solid is taken
// from the profile's region, apart from what places the parts.
func checkPlaced(t *testing.T, j *Job) {
	t.Helper()
	for _, p := range j.Printed {
		for _, at := range p.Places {
			near := math.Inf(1)
			for _, m := range j.Frame.Members {
				polygons := m.Bar.Profile.Region().Polygons(0.005)
				for _, q := range p.Result.Mesh.Points {
					v := m.Place.Unapply(at.Place.Apply(geom.Vec{X: float64(q[0]), Y: float64(q[1]), Z: float64(q[2])}))
					size := m.Bar.Profile.Size()
					near = min(near, max(math.Abs(v.X)-size.X/2, math.Abs(v.Y)-size.Y/2, -v.Z, v.Z-m.Bar.Length))
					if !m.Brace && deepIn(polygons, v, m.Bar.Length) {
						t.Errorf("%s: a corner of it lies in %s at %v", at.Name, m.Name, v)
						break
					}
				}
			}
			if near > 0.25 { // a cap stands back by its inset
				t.Errorf("%s: %.3f mm off every bar", at.Name, near)
			}
		}
	}
}

// deepIn reports whether a point in a bar's coordinates lies more than 0.02 mm inside its solid.
func deepIn(polygons [][]geom.Vec2, v geom.Vec, length float64) bool {
	if v.Z < 0.02 || v.Z > length-0.02 {
		return false
	}
	inside, edge := false, math.Inf(1)
	at := geom.Vec2{X: v.X, Y: v.Y}
	for _, ring := range polygons {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			if (a.Y > at.Y) != (b.Y > at.Y) && at.X < a.X+(b.X-a.X)*(at.Y-a.Y)/(b.Y-a.Y) {
				inside = !inside
			}
			d := b.Sub(a)
			u := math.Max(0, math.Min(1, at.Sub(a).Dot(d)/math.Max(d.Dot(d), 1e-18)))
			edge = min(edge, at.Dist(a.Add(d.Scale(u))))
		}
	}
	return inside && edge > 0.02
}
