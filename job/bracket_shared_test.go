package job

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"barwright/check"
	"barwright/frame"
)

// shelf is a stand whose base is held by printed corners, with a crossing that two bars butt by printed plates.
const shelf = `
frame {
  profile = "30x30-8"
}
posts "leg" {
  left   = 0
  right  = 600
  front  = 0
  back   = 500
  bottom = 0
  top    = 700
}
ring "base" {
  within = leg
  bottom = 200
}
ring "lid" {
  left    = 0
  right   = 600
  front   = 0
  back    = 500
  bottom  = 700
  corners = "pinwheel"
}
member "mid" {
  left   = base.left_rail.right
  right  = base.right_rail.left
  mid_y  = 250
  bottom = 200
}
member "fore" {
  mid_x  = 300
  front  = base.front_rail.back
  back   = mid.front
  bottom = 200
}
member "aft" {
  mid_x  = 300
  front  = mid.back
  back   = base.back_rail.front
  bottom = 200
}
joint {
  between = [leg, base]
  with    = "printed-corner"
}
joint {
  between = [mid, fore]
  with    = "printed-plate"
}
joint {
  between = [mid, aft]
  with    = "printed-plate"
}
bracket "lid corners" {
  kind = "corner-outside"
  on   = [leg, lid]
}
`

// Each part that serves several joints is made once; its screws are each at one joint, and press on the bar that they go into.
func TestSharedPartsServeTheirJoints(t *testing.T) {
	j := openText(t, shelf)
	checkPlaced(t, j)
	made := map[string]int{}
	for _, p := range j.Printed {
		made[p.Result.Kind] += p.Quantity
	}
	if made["corner-inside"] != 4 || made["plate-cross"] != 1 || made["plate-tee"] != 0 || made["corner-outside"] != 4 {
		t.Errorf("parts %v", made)
	}
	perPart := map[string]int{"corner-inside": 4, "plate-cross": 8, "corner-outside": 6}
	screws := 0
	for _, s := range j.Frame.Shared {
		n := 0
		for _, x := range s.Joints {
			n += len(x.Fasteners)
			for i := range x.Fasteners {
				f := &x.Fasteners[i]
				at := f.TipIn.SidePoint(f.HeadSide, 0, 0, 0).Sub(f.Seat).Dot(f.Dir)
				q := f.TipIn.Place.Unapply(f.Seat)
				if at <= 0 || at > 20 || q.Z < 0 || q.Z > f.TipIn.Bar.Length {
					t.Errorf("%s: a screw of %s on %s sits %.1f mm off %s at %.1f along it", s.Name(), x.A.Name, x.B.Name, at, f.TipIn.Name, q.Z)
				}
				lines := f.TipIn.Bar.Profile.SlotLines(f.HeadSide)
				off := math.Inf(1)
				for _, l := range lines {
					off = min(off, f.TipIn.SidePoint(f.HeadSide, q.Z, l, at*-1).Dist(f.Seat))
				}
				if off > 0.01 {
					t.Errorf("%s: a screw lies %.2f mm off the slots of %s", s.Name(), off, f.TipIn.Name)
				}
			}
		}
		if n != perPart[s.Kind] {
			t.Errorf("%s at %s: %d screws at its joints, want %d", s.Kind, s.Name(), n, perPart[s.Kind])
		}
		screws += n
	}
	listed := 0
	for _, h := range j.Frame.Hardware {
		if h.Item == "slot nut" {
			listed += h.Quantity
		}
	}
	others := 0
	for _, x := range j.Frame.Joints {
		for i := range x.Fasteners {
			if x.Shared == nil && x.Fasteners[i].SlotNut {
				others++
			}
		}
	}
	if listed != screws+others {
		t.Errorf("%d slot nuts are listed, %d are at the joints", listed, screws+others)
	}
	for _, g := range j.Findings {
		if g.Severity == check.Error || g.Rule == "loose-end" || g.Rule == "afloat" {
			t.Errorf("%s: %s", g.Rule, g.Message)
		}
	}
}

// The same on other sizes.
func TestSharedPartsOnOtherProfiles(t *testing.T) {
	for _, name := range []string{"20x20-6", "40x40-10"} {
		j := openText(t, strings.Replace(shelf, `"30x30-8"`, `"`+name+`"`, 1))
		checkPlaced(t, j)
		kinds := map[string]int{}
		for _, s := range j.Frame.Shared {
			kinds[s.Kind]++
			for _, x := range s.Joints {
				if len(x.Fasteners) == 0 {
					t.Errorf("%s: %s on %s has no screw", name, x.A.Name, x.B.Name)
				}
			}
		}
		if kinds["corner-inside"] != 4 || kinds["corner-outside"] != 4 || kinds["plate-cross"] != 1 {
			t.Errorf("%s: %v", name, kinds)
		}
	}
}

// On bars of two cells the rails stand back from the posts' inner faces, and the lid is higher than a cap's screws reach: no corner fits, and
// the block says so.
func TestNoCornerOnTwoCells(t *testing.T) {
	two := strings.Replace(shelf, `"30x30-8"`, `"30x60-8"`, 1)
	path := filepath.Join(t.TempDir(), "it.hcl")
	if err := os.WriteFile(path, []byte(two), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(path, nil); err == nil || !strings.Contains(err.Error(), "finds no corner") {
		t.Errorf("%v", err)
	}
	j := openText(t, two[:strings.Index(two, "bracket \"lid")])
	checkPlaced(t, j)
	wrong := 0
	for _, g := range j.Findings {
		if g.Rule == "off-slot" && strings.Contains(g.Message, "no printed corner joins") && strings.Contains(g.Remedy, "printed-angle") {
			wrong++
		}
	}
	if wrong != 8 {
		t.Errorf("%d findings of the 8 joints that no corner serves", wrong)
	}
}

// Where the bar that two others butt ends under the plate, a tee lies there, its arms over the two.
func TestCrossAtABarsEndIsATee(t *testing.T) {
	text := strings.Replace(shelf, "right  = base.right_rail.left\n  mid_y", "right  = 315\n  mid_y", 1)
	j := openText(t, text)
	checkPlaced(t, j)
	n := 0
	for _, p := range j.Printed {
		if p.Result.Kind == "plate-tee" {
			n += p.Quantity
		}
	}
	if n != 1 {
		t.Errorf("%d tees", n)
	}
	for _, s := range j.Frame.Shared {
		for _, x := range s.Joints {
			if len(x.Fasteners) == 0 && s.Kind == "plate-cross" {
				t.Errorf("%s on %s has no screw", x.A.Name, x.B.Name)
			}
		}
	}
}

// Two tees that blocks ask for at one crossing would run into each other: the error names the cross.
func TestTwoTeesAtACrossingAreRefused(t *testing.T) {
	text := shelf[:strings.Index(shelf, "joint {")] + `bracket "one" {
  kind    = "plate-tee"
  between = [mid, fore]
}
bracket "other" {
  kind    = "plate-tee"
  between = [mid, aft]
}`
	path := filepath.Join(t.TempDir(), "it.hcl")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	_, err := Open(path, nil)
	var d *frame.Diagnostics
	if !errors.As(err, &d) || !strings.Contains(d.List[0].Detail, `"plate-cross"`) || d.List[0].Subject == nil {
		t.Errorf("%v", err)
	}
}
