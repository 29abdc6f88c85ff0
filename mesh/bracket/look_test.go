package bracket

import (
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
)

// TestLook builds the gallery of parts. Where BARWRIGHT_LOOK names a folder it also writes contact sheets there, two views of
// each part, for the eye.
func TestLook(t *testing.T) {
	dir := os.Getenv("BARWRIGHT_LOOK")
	only := os.Getenv("BARWRIGHT_LOOK_ONLY")
	const w, h, columns, rows = 520, 400, 4, 3
	var sheet *image.NRGBA
	n, page := 0, 0
	flush := func() {
		if sheet == nil {
			return
		}
		f, err := os.Create(filepath.Join(dir, fmt.Sprintf("sheet-%d.png", page)))
		if err != nil {
			t.Fatal(err)
		}
		if err := png.Encode(f, sheet); err != nil {
			t.Error(err)
		}
		f.Close()
		sheet, n, page = nil, 0, page+1
	}
	for _, c := range lookCases(t) {
		if only != "" && only != c.name {
			continue
		}
		all, err := BuildAll(c.spec)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		for _, r := range all {
			if err := r.Mesh.Check(); err != nil {
				t.Errorf("%s: %v", c.name, err)
			}
			if dir == "" {
				continue
			}
			t.Logf("%s: %.1f × %.1f × %.1f, %.0f mm³, %d triangles", r.Name, r.Size.X, r.Size.Y, r.Size.Z, r.Volume, len(r.Mesh.Triangles))
			for _, view := range []string{"30,30", "210,-25"} {
				s := &mesh.Scene{Title: r.Name, Shapes: []*mesh.Shape{{Name: r.Name, Mesh: r.Mesh}}}
				s.Items = []mesh.Item{{Name: r.Name, Place: geom.Identity(), Kind: mesh.PrintedItem}}
				img, err := mesh.Picture(s, mesh.PictureOptions{Width: w, Height: h, View: view})
				if err != nil {
					t.Fatal(err)
				}
				if sheet == nil {
					sheet = image.NewNRGBA(image.Rect(0, 0, w*columns, h*rows))
				}
				at := image.Pt(n%columns*w, n/columns*h)
				draw.Draw(sheet, image.Rectangle{at, at.Add(image.Pt(w, h))}, img, image.Point{}, draw.Src)
				if n++; n == columns*rows {
					flush()
				}
			}
		}
	}
	flush()
}

type lookCase struct {
	name string
	spec Spec
}

func profile(t testing.TB, name string) *geom.Profile {
	t.Helper()
	p, ok := geom.Builtin(name)
	if !ok {
		t.Fatal(name)
	}
	return p
}

func lookCases(t testing.TB) []lookCase {
	p := profile(t, "30x30-8")
	return []lookCase{
		{"angle", Spec{Kind: "angle", Profile: p, Text: "B3"}},
		{"angle-wide", Spec{Kind: "angle", Profile: p, Text: "WIDE", Params: map[string]float64{"cells": 2, "screws": 2}}},
		{"tee", Spec{Kind: "plate-tee", Profile: p, Text: "T30"}},
		{"ell-sunk", Spec{Kind: "plate-ell", Profile: p, Text: "L30", Params: map[string]float64{"head": 1}}},
		{"straight", Spec{Kind: "plate-straight", Profile: p, Text: "30"}},
		{"cross", Spec{Kind: "plate-cross", Profile: p}},
		{"inside", Spec{Kind: "corner-inside", Profile: p}},
		{"outside", Spec{Kind: "corner-outside", Profile: p, Text: "C1"}},
		{"brace", Spec{Kind: "brace-foot", Profile: p}},
		{"brace-flat", Spec{Kind: "brace-foot", Profile: p, Params: map[string]float64{"angle": 20, "screws": 2}}},
		{"cap", Spec{Kind: "end-cap", Profile: p}},
		{"cap-wide", Spec{Kind: "end-cap", Profile: profile(t, "30x60-8"), Params: map[string]float64{"hold": 1}}},
		{"cover", Spec{Kind: "slot-cover", Profile: p}},
		{"cable", Spec{Kind: "cable-clip", Profile: p}},
		{"panel", Spec{Kind: "panel-clip", Profile: p}},
		{"pad", Spec{Kind: "foot-pad", Profile: p}},
		{"caster", Spec{Kind: "caster-plate", Profile: p, Params: map[string]float64{"insert": 1}}},
		{"tap", Spec{Kind: "tap-guide", Profile: profile(t, "30x60-8")}},
		{"spacer", Spec{Kind: "spacer", Profile: p}},
		{"square", Spec{Kind: "square", Profile: p, Text: "90"}},
		{"jig", Spec{Kind: "drill-jig", Part: jigPart(t, 840)}},
	}
}

// jigPart is a bar with holes near both ends and one far from them.
func jigPart(t testing.TB, length float64) *frame.Part {
	p := profile(t, "30x30-8")
	return &frame.Part{Mark: "A3", Bar: frame.Bar{Profile: p, Length: length, Holes: []frame.Hole{
		{Side: geom.Right, Z: 15, Diameter: 7},
		{Side: geom.Top, Z: 45, Diameter: 7},
		{Side: geom.Right, Z: 300, Diameter: 7},
		{Side: geom.Bottom, Z: length - 15, Diameter: 7},
	}}}
}
