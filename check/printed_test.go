package check

import (
	"strings"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// plain is a post on nothing.
const plain = `
frame { profile = "30x30-8" }
member "post" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 400
}
`

// block returns a box as a polyhedron.
func block(low, high geom.Vec) geom.Polyhedron {
	return geom.PrismPolyhedron(geom.Identity(), []geom.Vec2{{X: low.X, Y: low.Y}, {X: high.X, Y: low.Y}, {X: high.X, Y: high.Y}, {X: low.X, Y: high.Y}}, low.Z, high.Z)
}

// withPart returns a frame with a plate 8 mm thick under its post, held by a screw M8 × length into the core.
func withPart(t *testing.T, src string, length float64) *frame.Frame {
	t.Helper()
	f, err := frame.Parse("a.hcl", []byte(src), frame.Options{})
	if err != nil {
		t.Fatal(err)
	}
	post := f.Member("post")
	f.AddPrinted(&frame.PrintedBody{Name: "printed plate", Kind: "foot-pad", On: []*frame.Member{post}, Origin: post.Origin,
		Pieces: []geom.Polyhedron{block(geom.Vec{X: -5, Y: -5, Z: -8}, geom.Vec{X: 35, Y: 35})},
		Screws: []frame.Fastener{{Item: "socket head cap screw", Standard: "ISO 4762", Thread: "M8", Length: length, Key: 6,
			Seat: geom.Vec{X: 15, Y: 15, Z: -5}, Dir: geom.Vec{Z: 1}, TipIn: post, TipEnd: lowEnd(post)}}})
	return f
}

// A printed part's screw needs a thread as deep as it reaches: 22 mm are tapped for the pad that the file names, none where it names
// none. Under a plate of 8 mm with a counterbore of 3, a screw of 25 holds 20 mm, one of 30 jams after 22, one of 12 holds 7 of 16.
func TestScrewsOfPrintedParts(t *testing.T) {
	pad := plain + "bracket \"pad\" {\n  kind = \"foot-pad\"\n  on = post\n  end = \"bottom\"\n}\n"
	for _, c := range []struct {
		src    string
		length float64
		rule   string
		text   string
	}{
		{plain, 25, "thread-short", "finds no thread in the bottom end of post"},
		{pad, 25, "", ""},
		{pad, 30, "screw-long", "jams 3 mm before"},
		{pad, 12, "thread-short", "holds 7 mm"},
	} {
		found := ""
		for _, g := range Run(withPart(t, c.src, c.length)) {
			if g.Rule == "thread-short" || g.Rule == "screw-long" {
				found += g.Rule + ": " + g.Message
			}
		}
		if c.rule == "" && found != "" || c.rule != "" && (!strings.HasPrefix(found, c.rule+":") || !strings.Contains(found, c.text)) {
			t.Errorf("M8 × %g: %q, want %s %q", c.length, found, c.rule, c.text)
		}
	}
}

// The key goes up through the counterbore, 3 mm deep, in the part that the screw holds; a bar 60 mm under the post is in no short arm's
// way, one 20 mm under it is.
func TestKeyThroughCounterbore(t *testing.T) {
	f := withPart(t, plain, 25)
	m := newModel(f)
	b := &m.bodies[m.printed[f.Printed[0]]]
	if d := b.over(geom.Vec{X: 15, Y: 15, Z: -5}, geom.Vec{Z: -1}); d < 2.7 || d > 3.3 {
		t.Errorf("the counterbore is %.2f mm deep, want 3", d)
	}
	for _, c := range []struct {
		top  string
		want bool
	}{{"-90", false}, {"-20", true}} {
		src := plain + "member \"under\" {\n  left = -200\n  right = 300\n  front = 0\n  top = " + c.top + "\n}\n"
		got := false
		for _, g := range Run(withPart(t, src, 25)) {
			got = got || g.Rule == "key-blocked" && strings.Contains(g.Message, "printed plate")
		}
		if got != c.want {
			t.Errorf("a bar with its top at %s: blocked is %v, want %v", c.top, got, c.want)
		}
	}
}
