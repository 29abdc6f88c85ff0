package bracket

import (
	"errors"
	"math"
	"slices"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// TestErrors asks for what can't be and wants an error that names the rule and what fights.
func TestErrors(t *testing.T) {
	p := profile(t, "30x30-8")
	set := func(kind string, kv ...any) Spec {
		s := Spec{Kind: kind, Profile: p, Params: map[string]float64{}}
		for i := 0; i < len(kv); i += 2 {
			s.Params[kv[i].(string)] = kv[i+1].(float64)
		}
		return s
	}
	with := func(s Spec, f func(*Spec)) Spec { f(&s); return s }
	bad := *p
	bad.Slot.Cavity = 40
	closed := *p
	closed.Closed = [4]bool{true, true, true, true}
	mitred := jigPart(t, 500)
	mitred.Bar.Cuts = [2]frame.Cut{{SlopeX: 1}, {SlopeX: -1}}
	bare := &frame.Part{Mark: "A1", Bar: frame.Bar{Profile: p, Length: 300}}
	tests := []struct {
		name   string
		spec   Spec
		rule   string
		fields []string
	}{
		{"no such kind", Spec{Kind: "hinge", Profile: p}, RuleKind, []string{"kind"}},
		{"no profile", Spec{Kind: "angle"}, RuleProfile, []string{"profile"}},
		{"impossible profile", Spec{Kind: "angle", Profile: &bad}, RuleProfile, []string{"profile"}},
		{"unknown parameter", set("angle", "colour", 3.0), RuleParameter, []string{"colour"}},
		{"out of limits", set("brace-foot", "angle", 80.0), RuleParameter, []string{"angle"}},
		{"no number", set("brace-foot", "angle", math.NaN()), RuleParameter, []string{"angle"}},
		{"part of a screw", set("angle", "screws", 1.5), RuleParameter, []string{"screws"}},
		{"wall too thick for the slot's screw", with(set("angle"), func(s *Spec) { s.Wall = 50 }), RuleScrew, []string{"wall", "slot.depth"}},
		{"wall of no lines", with(set("angle"), func(s *Spec) { s.Wall = 0.2 }), RuleThin, []string{"wall"}},
		{"snap legs thicker than the slot allows", set("slot-cover", "leg", 4.0), RuleWall, []string{"leg", "slot.opening"}},
		{"clip's legs thicker than the slot allows", set("cable-clip", "leg", 3.6), RuleWall, []string{"leg", "slot.opening"}},
		{"catches wider than the cavity", set("slot-cover", "catch", 2.0, "leg", 0.4), "", nil},
		{"tongue thicker than the cavity", set("end-cap", "tongue", 6.0), RuleWall, []string{"tongue", "slot.depth"}},
		{"cap with no slots", Spec{Kind: "end-cap", Profile: &closed}, RuleProfile, []string{"closed", "hold"}},
		{"screw wider than the slot", with(set("angle"), func(s *Spec) { s.Thread = "M8" }), RuleThread, []string{"thread", "slot.opening"}},
		{"no such thread", with(set("angle"), func(s *Spec) { s.Thread = "M7x" }), RuleThread, []string{"thread"}},
		{"head between gussets", set("angle", "gusset", 9.5), RuleDriver, []string{"gusset", "thread"}},
		{"caster's screws under the post", set("caster-plate", "pattern_x", 12.0, "pattern_y", 12.0), RuleDriver, []string{"pattern_x", "pattern_y"}},
		{"gusset longer than its bar", set("angle", "room_a", 15.0), RuleRoom, []string{"room_a", "screws"}},
		{"brace foot longer than its diagonal", set("brace-foot", "room_b", 12.0), RuleRoom, []string{"room_b", "screws"}},
		{"plate longer than its bar", set("plate-tee", "room", 30.0), RuleRoom, []string{"room", "screws"}},
		{"counterbore through the plate", with(set("plate-tee", "head", 1.0), func(s *Spec) { s.Wall = 5 }), RuleThin, []string{"wall", "head"}},
		{"longer than the bed", set("slot-cover", "length", 400.0), RuleBed, []string{"length", "bed"}},
		{"wider than the bed", with(set("plate-cross", "screws", 4.0), func(s *Spec) { s.Bed = geom.Vec{X: 120, Y: 120, Z: 120} }), RuleBed, []string{"screws", "cells", "bed"}},
		{"no such bed", with(set("angle"), func(s *Spec) { s.Bed = geom.Vec{X: math.Inf(1), Y: 1, Z: 1} }), RuleParameter, []string{"bed"}},
		{"mark of strange letters", with(set("angle"), func(s *Spec) { s.Text = "A→B" }), RuleParameter, []string{"text"}},
		{"no such plastic", with(set("angle"), func(s *Spec) { s.Material = "cheese" }), RuleParameter, []string{"material"}},
		{"load of nothing", with(set("angle"), func(s *Spec) { s.Load = -5 }), RuleParameter, []string{"load"}},
		{"jig for nothing", set("drill-jig"), RulePart, []string{"part"}},
		{"jig without holes", Spec{Kind: "drill-jig", Part: bare}, RulePart, []string{"part"}},
		{"jig on mitred ends", Spec{Kind: "drill-jig", Part: mitred}, RulePart, []string{"part"}},
		{"bush under the drill", Spec{Kind: "drill-jig", Part: jigPart(t, 500), Params: map[string]float64{"bush": 6}}, RulePart, []string{"bush", "part"}},
		{"square of broad arms", set("square", "arm", 40.0, "broad", 30.0), RuleSize, []string{"broad", "arm"}},
	}
	for _, tc := range tests {
		t.Run(tc.name, func(t *testing.T) {
			_, err := BuildAll(tc.spec)
			if tc.rule == "" {
				if err != nil {
					t.Errorf("%v; want none", err)
				}
				return
			}
			var e *Error
			if !errors.As(err, &e) {
				t.Fatalf("error %v; want an *Error", err)
			}
			if e.Rule != tc.rule || !slices.Equal(e.Fields, tc.fields) {
				t.Errorf("rule %s of %v (%v); want %s of %v", e.Rule, e.Fields, err, tc.rule, tc.fields)
			}
		})
	}
}

// TestManyPieces wants Build to refuse a jig in pieces.
func TestManyPieces(t *testing.T) {
	var e *Error
	if _, err := Build(Spec{Kind: "drill-jig", Part: jigPart(t, 840)}); !errors.As(err, &e) || e.Rule != RulePart {
		t.Errorf("error %v", err)
	}
}

// TestStrength compares the notes with sums by hand.
func TestStrength(t *testing.T) {
	p := profile(t, "30x30-8")
	r, err := Build(Spec{Kind: "panel-clip", Profile: p, Wall: 4, Load: 50, Params: map[string]float64{"lap": 8, "width": 20}})
	if err != nil {
		t.Fatal(err)
	}
	s := r.Strength
	// σ = 6·F·a/(b·t²) = 6·50·8/(20·16); τ = 1.5·F/(b·t) = 1.5·50/80 (beam theory of a rectangle).
	if math.Abs(s.Bending-7.5) > 1e-9 || math.Abs(s.Shear-0.9375) > 1e-9 {
		t.Errorf("bending %.4f, shear %.4f; want 7.5 and 0.9375", s.Bending, s.Shear)
	}
	// The lip's stress runs along the layers: the full 45 MPa of PETG (typical data sheets).
	if s.Allowed != 45 || math.Abs(s.Use-7.5/45) > 1e-9 || s.Caution == "" || s.Formula == "" || s.Source == "" {
		t.Errorf("allowed %g, use %g, %q", s.Allowed, s.Use, s.Caution)
	}
	// The angle's layers lie at 45° to its legs. Across layers 0.5·45; pulling part cos² = 1/2, sliding part 1/2: the latter
	// governs, 0.5·45/√3/(1/2) = 25.98.
	r, err = Build(Spec{Kind: "angle", Profile: p})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(r.Strength.Allowed-25.98) > 0.01 {
		t.Errorf("across 45° %.3f MPa, want 25.98", r.Strength.Allowed)
	}
	for _, tc := range []struct{ cos, want float64 }{{0, 45}, {1, 22.5}, {1 / math.Sqrt(3), 27.557}} {
		if got := acrossLayers(45, 0.5, tc.cos); math.Abs(got-tc.want) > 0.01 {
			t.Errorf("cosine %.3f: %.3f MPa, want %.3f", tc.cos, got, tc.want)
		}
	}
	// A plate 20 × 4 with two webs of 2 up to 20 mm: parts 16·4 at 2 and 4·20 at 10 make ȳ = 928/144 = 6.444 and
	// I = 85.33 + 64·4.444² + 2666.67 + 80·3.556² = 5027.6; W = I/13.556.
	if w, a := ribbed(20, 4, 4, 20); math.Abs(w-370.88) > 0.05 || a != 80 {
		t.Errorf("modulus %.3f, area %g; want 370.88 and 80", w, a)
	}
}

// TestSameTwice builds the gallery twice and wants the same bits.
func TestSameTwice(t *testing.T) {
	for _, c := range lookCases(t) {
		a, err := BuildAll(c.spec)
		if err != nil {
			t.Fatal(err)
		}
		b, _ := BuildAll(c.spec)
		for i := range a {
			if !slices.Equal(a[i].Mesh.Points, b[i].Mesh.Points) || !slices.Equal(a[i].Mesh.Triangles, b[i].Mesh.Triangles) || !slices.Equal(a[i].Notes, b[i].Notes) {
				t.Errorf("%s differs between two runs", c.name)
			}
		}
	}
}

// TestKinds wants every kind documented, and its defaults within its limits and buildable.
func TestKinds(t *testing.T) {
	if len(Kinds()) < 18 {
		t.Fatalf("only %d kinds", len(Kinds()))
	}
	for _, k := range Kinds() {
		if k.Name == "" || k.About == "" || len(k.Params) == 0 {
			t.Errorf("kind %q lacks words or parameters", k.Name)
		}
		for _, p := range k.Params {
			if p.About == "" || !p.ZeroMeansDefault && (p.Default < p.Min || p.Default > p.Max) {
				t.Errorf("%s %s: default %g, limits %g to %g, %q", k.Name, p.Name, p.Default, p.Min, p.Max, p.About)
			}
		}
		for _, name := range geom.BuiltinNames() {
			s := Spec{Kind: k.Name, Profile: profile(t, name), Bed: geom.Vec{X: 300, Y: 300, Z: 300}}
			if k.Name == "drill-jig" {
				s = Spec{Kind: k.Name, Part: &frame.Part{Mark: "B2", Bar: frame.Bar{Profile: profile(t, name), Length: 300, Holes: []frame.Hole{{Z: 20, Diameter: 7, Offset: profile(t, name).SlotLines(geom.Right)[0]}}}}}
			}
			if k.Name == "caster-plate" {
				s.Params = map[string]float64{"pattern_x": s.Profile.Size().X + 30, "pattern_y": 60}
			}
			if _, err := BuildAll(s); err != nil {
				t.Errorf("%s on %s: %v", k.Name, name, err)
			}
		}
	}
}
