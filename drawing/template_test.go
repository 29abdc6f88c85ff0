package drawing

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// TestProfileSheets: every built-in profile has a sheet on each size that states all its sizes.
func TestProfileSheets(t *testing.T) {
	for _, name := range append(geom.BuiltinNames(), "40x160-10", "80x160-10", "160x160-10") {
		p := profile(t, name)
		for _, size := range []string{"", "A4"} {
			s, err := ProfileSheet(p, ProfileProperties{Area: 321.5, Mass: 0.868, Ix: 31234, Iy: 41234, J: 1234}, TitleBlock{}, Options{Size: size})
			if err != nil {
				t.Errorf("%s on %q: %v", name, size, err)
				continue
			}
			for _, c := range s.Verify() {
				t.Errorf("%s: %v", name, c)
			}
			shown := map[float64]bool{}
			for _, x := range s.Texts(Dimension) {
				shown[x.Value] = true
			}
			want := []float64{p.Size().X, p.Size().Y, p.Slot.Opening, p.Slot.Cavity, p.Slot.Lip, p.Slot.Depth}
			for _, n := range p.Cells {
				if n > 1 {
					want = append(want, p.Pitch)
				}
			}
			for _, v := range want {
				if !shown[v] {
					t.Errorf("%s: %g is not dimensioned", name, v)
				}
			}
			if n := len(s.Texts(Callout)); n != 3 {
				t.Errorf("%s: %d callouts, want core, corner and chamfer", name, n)
			}
		}
	}
	if _, err := ProfileSheet(nil, ProfileProperties{}, TitleBlock{}, Options{}); err == nil {
		t.Error("no profile is drawn")
	}
	bad := *profile(t, "30x30-8")
	bad.Core = 20
	if _, err := ProfileSheet(&bad, ProfileProperties{}, TitleBlock{}, Options{}); err == nil {
		t.Error("an impossible profile is drawn")
	}
}

// TestHatchFillsTheSection: lines of hatching a pitch apart cover area over pitch of length.
func TestHatchFillsTheSection(t *testing.T) {
	p := profile(t, "30x30-8")
	v := newSectionView(p, -1, 2)
	v.draw()
	length := 0.0
	for _, op := range v.Ops {
		if s, ok := op.(*Stroke); ok && s.Role == Hatch {
			d := s.Points[1].Sub(s.Points[0])
			length += d.Len()
			if math.Abs(d.X-d.Y) > 1e-9 {
				t.Fatalf("a line of hatching runs along %v, not at 45° (ISO 128-3)", d)
			}
		}
	}
	if want := p.Region().Area() * 4 / 2; math.Abs(length/want-1) > 0.03 {
		t.Errorf("%.0f mm of hatching, want about %.0f", length, want)
	}
}

// TestTemplates: crosses lie at full size where the holes are when the strip is folded round the bar.
func TestTemplates(t *testing.T) {
	f := workshopFrame(t)
	r := rand.New(rand.NewPCG(5, 6))
	for i := range 60 {
		f.Parts = append(f.Parts, randomPart(t, r, fmt.Sprintf("R%d", i)))
	}
	for _, p := range f.Parts {
		g := *f
		g.Parts = []*frame.Part{p}
		sheets, err := DrillTemplates(&g, Options{NotForManufacture: true})
		if err != nil {
			t.Errorf("%s: %v", p.Mark, err)
			continue
		}
		found := map[string]int{}
		for _, s := range sheets {
			for _, c := range s.Verify() {
				t.Errorf("%s: %v", s.Name, c)
			}
			named := 0
			for _, x := range s.Texts(Note) {
				for _, id := range x.Of {
					found[id]++
				}
				if x.String == "FC-100-"+p.Mark+", input 1a2b3c4d, set width = 900" {
					named++
				}
			}
			if named != 1 {
				t.Errorf("%s does not name its design and input", s.Name)
			}
		}
		for i, h := range p.Bar.Holes {
			want := 0
			for _, z := range []float64{h.Z, p.Bar.Length - h.Z} {
				if z+math.Max(h.Diameter, h.Bore)/2 <= math.Min(templateReach, p.Bar.Length) {
					want++
				}
			}
			if found[holeID(i)] != want {
				t.Errorf("%s: hole %d is on %d templates, want %d", p.Mark, i, found[holeID(i)], want)
			}
		}
	}
}

// TestTemplateIsFullSize measures a strip: 65 from the end line, on the middle of face 2, the ruler 100 long each way.
func TestTemplateIsFullSize(t *testing.T) {
	f := workshopFrame(t)
	f.Parts = f.Parts[:1]
	sheets, err := DrillTemplates(f, Options{})
	if err != nil {
		t.Fatal(err)
	}
	s := sheets[0]
	var holes []geom.Vec2
	var folds []float64
	endX := math.Inf(1)
	rulers := 0
	for _, op := range s.Ops {
		switch op := op.(type) {
		case *Arc:
			if op.Role == Outline {
				holes = append(holes, op.Centre)
				if op.Radius != 3.5 {
					t.Errorf("radius %g", op.Radius)
				}
			}
		case *Stroke:
			d := op.Points[1].Sub(op.Points[0])
			switch {
			case op.Role == Fold:
				folds = append(folds, op.Points[0].Y)
			case op.Role == Outline && math.Abs(d.Len()-100) < 1e-9:
				rulers++
			case op.Role == Outline && d.X == 0:
				endX = math.Min(endX, op.Points[0].X)
			}
		}
	}
	if len(holes) != 2 || len(folds) != 3 || rulers != 2 {
		t.Fatalf("%d holes, %d folds, %d rulers", len(holes), len(folds), rulers)
	}
	for i, h := range holes { // faces 2 and 3
		if math.Abs(h.X-endX-65) > 1e-9 || math.Abs(h.Y-(folds[i]+folds[i+1])/2) > 1e-9 || math.Abs(folds[i]-folds[i+1]-30) > 1e-9 {
			t.Errorf("hole at %v, end at %g, folds %v", h, endX, folds)
		}
	}
}

func TestOptionsAreChecked(t *testing.T) {
	f := workshopFrame(t)
	for _, o := range []Options{{Projection: "second"}, {Size: "A0"}, {Size: "letter"}, {Units: "cubit"}} {
		if _, err := PartSheets(f, o); err == nil {
			t.Errorf("%+v is taken", o)
		}
		if _, err := DrillTemplates(f, o); err == nil {
			t.Errorf("%+v is taken for templates", o)
		}
	}
}

// TestHostileWords: whatever a frame file calls things, sheets stand and file names stay in their folder.
func TestHostileWords(t *testing.T) {
	f := workshopFrame(t)
	f.Parts = f.Parts[:1]
	f.Parts[0].Mark = "../../<A&1>\x00\n漢字"
	for range 200 {
		f.Title += "<long> & \"title\" "
		f.Settings = append(f.Settings, frame.Setting{Name: "a_rather_long_name", Value: 1e6 / 3})
	}
	f.TitleBlock.Owner = "\xff\xfe\u202e\u0000"
	sheets, err := PartSheets(f, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range sheets {
		if fileStem(s.Name) != s.Name {
			t.Errorf("file name %q", s.Name)
		}
	}
}
