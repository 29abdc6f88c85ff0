package mesh

import (
	"bytes"
	"crypto/sha256"
	"image"
	"image/color"
	"image/png"
	"math"
	"runtime"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// drilledPart is a short bar with every kind of machining.
func drilledPart(tb testing.TB) *frame.Part {
	p := *testFrame(tb).Parts[0]
	p.Bar.Length = 160
	p.Bar.Holes = []frame.Hole{
		{Side: geom.Right, Z: 60, Diameter: 7}, {Side: geom.Top, Z: 60, Diameter: 7},
		{Side: geom.Right, Z: 110, Diameter: 7, Depth: 20, Bore: 14, BoreDepth: 9},
	}
	p.Bar.Taps = []frame.Tap{{End: 0, Thread: "M8", Depth: 22, Drill: 6.8, DrillDepth: 22}}
	p.Bar.Cuts[1].SlopeX = 1
	return &p
}

// picture draws or fails the test.
func picture(tb testing.TB, s *Scene, o PictureOptions) *image.NRGBA {
	tb.Helper()
	img, err := Picture(s, o)
	if err != nil {
		tb.Fatal(err)
	}
	return img
}

// hues counts pixels by what their colour is near to in direction, whatever the light on them.
func hues(img *image.NRGBA) (n struct{ background, grey, orange, green, vermilion int }) {
	near := func(r, g, b, wr, wg, wb float64) bool {
		dot := r*wr + g*wg + b*wb
		return dot/math.Sqrt((r*r+g*g+b*b)*(wr*wr+wg*wg+wb*wb)) > 0.997
	}
	for i := 0; i < len(img.Pix); i += 4 {
		r, g, b := float64(img.Pix[i]), float64(img.Pix[i+1]), float64(img.Pix[i+2])
		switch {
		case img.Pix[i+3] == 0 || r+g+b == 765:
			n.background++
		case r+g+b < 60:
		case near(r, g, b, 1, 1, 1):
			n.grey++
		case near(r, g, b, 230, 159, 0):
			n.orange++
		case near(r, g, b, 0, 158, 115):
			n.green++
		case near(r, g, b, 213, 94, 0):
			n.vermilion++
		}
	}
	return n
}

func TestPictureColours(t *testing.T) {
	part, err := NewPartScene(drilledPart(t), DefaultTolerance)
	if err != nil {
		t.Fatal(err)
	}
	n := hues(picture(t, part, PartPictureOptions()))
	if n.background < 200_000 || n.grey < 40_000 || n.orange < 500 || n.green+n.vermilion > 0 {
		t.Errorf("the part has %+v pixels", n)
	}
	n = hues(picture(t, part, PictureOptions{Width: 800, Height: 600, View: "iso-front-left", Highlight: []string{"A1"}}))
	if n.vermilion < 40_000 || n.orange < 300 {
		t.Errorf("the highlighted part has %+v pixels", n)
	}
	printed := boxScene()
	for i := range printed.Items {
		printed.Items[i].Kind = PrintedItem
	}
	if n = hues(picture(t, printed, PictureOptions{Width: 200, Height: 200})); n.green < 1000 {
		t.Errorf("the printed boxes have %+v pixels", n)
	}
}

func TestPictureBackground(t *testing.T) {
	s := testScene(t)
	white := picture(t, s, PictureOptions{Width: 300, Height: 200})
	clear := picture(t, s, PictureOptions{Width: 300, Height: 200, Transparent: true})
	solid, empty := 0, 0
	for y := range 200 {
		for x := range 300 {
			w, c := white.NRGBAAt(x, y), clear.NRGBAAt(x, y)
			switch c.A {
			case 0:
				empty++
			case 255:
				solid++
			}
			// Laid on white, the transparent picture is the white one.
			for _, v := range [3][2]uint8{{w.R, c.R}, {w.G, c.G}, {w.B, c.B}} {
				on := (float64(v[1])*float64(c.A) + 255*(255-float64(c.A))) / 255
				if w.A != 255 || math.Abs(on-float64(v[0])) > 1.6 {
					t.Fatalf("at %d, %d: %v on white and %v on nothing", x, y, w, c)
				}
			}
		}
	}
	if solid < 3000 || empty < 10_000 {
		t.Errorf("%d solid and %d empty pixels", solid, empty)
	}
	if corner := white.NRGBAAt(0, 0); corner != (color.NRGBA{255, 255, 255, 255}) {
		t.Errorf("the corner is %v", corner)
	}
}

func TestPictureSamePixels(t *testing.T) {
	s := testScene(t)
	part, err := NewPartScene(drilledPart(t), DefaultTolerance)
	if err != nil {
		t.Fatal(err)
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for i, c := range []struct {
		s *Scene
		o PictureOptions
	}{
		{s, PictureOptions{Width: 640, Height: 480, Perspective: true, Balloons: NameBalloons}},
		{s, PictureOptions{Width: 320, Height: 500, View: "iso-back-left", Transparent: true, Explode: 0.3}},
		{part, PartPictureOptions()},
	} {
		var first [32]byte
		for k, procs := range []int{2, 2, 1} {
			runtime.GOMAXPROCS(procs)
			var b bytes.Buffer
			if err := WritePNG(&b, c.s, c.o); err != nil {
				t.Fatal(err)
			}
			if sum := sha256.Sum256(b.Bytes()); k == 0 {
				first = sum
			} else if sum != first {
				t.Errorf("picture %d: run %d on %d processors gave other bytes", i, k+1, procs)
			}
		}
	}
}

func TestPicturePNG(t *testing.T) {
	for _, transparent := range []bool{false, true} {
		var b bytes.Buffer
		if err := WritePNG(&b, boxScene(), PictureOptions{Width: 120, Height: 90, Transparent: transparent}); err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(&b)
		if err != nil {
			t.Fatal(err)
		}
		if img.Bounds() != image.Rect(0, 0, 120, 90) {
			t.Errorf("the picture has the bounds %v", img.Bounds())
		}
	}
}

// TestPictureViews looks at a box of 10 × 20 × 30 from each side: the parallel picture has the sides' proportions.
func TestPictureViews(t *testing.T) {
	one := boxScene()
	one.Items = one.Items[:1]
	for _, c := range []struct {
		view string
		want float64 // width by height
	}{
		{"front", 10. / 30}, {"back", 10. / 30}, {"left", 20. / 30}, {"right", 20. / 30}, {"top", 10. / 20}, {"bottom", 10. / 20},
		{"0,0", 10. / 30}, {"90, 0", 20. / 30}, {"-270,0", 20. / 30},
		// Derived: at 45° the two sides show (10 + 20)/√2 wide; in an isometric view heights shrink by √(2/3) and
		// the depth (10 + 20)/√2 shows by its sine, 1/√3.
		{"iso", 30 / math.Sqrt2 / (30*math.Sqrt(2./3) + 30/math.Sqrt2/math.Sqrt(3))},
	} {
		img := picture(t, one, PictureOptions{Width: 400, Height: 400, View: c.view, Transparent: true})
		x0, y0, x1, y1 := 400, 400, 0, 0
		for y := range 400 {
			for x := range 400 {
				if img.NRGBAAt(x, y).A > 200 {
					x0, y0, x1, y1 = min(x0, x), min(y0, y), max(x1, x+1), max(y1, y+1)
				}
			}
		}
		if got := float64(x1-x0) / float64(y1-y0); math.Abs(got-c.want) > 0.02 {
			t.Errorf("view %s: %d × %d, a ratio of %.3f, want %.3f", c.view, x1-x0, y1-y0, got, c.want)
		}
	}
}

func TestPictureErrors(t *testing.T) {
	s := testScene(t)
	for name, o := range map[string]PictureOptions{
		"huge": {Width: 100_000, Height: 100_000}, "wide": {Width: 8193}, "tiny": {Width: 1}, "negative": {Height: -5},
		"view": {View: "sideways"}, "angle": {View: "30,95"}, "no angle": {View: "NaN,0"}, "text": {View: "a,b"},
		"balloons": {Balloons: "hot air"}, "highlight": {Highlight: []string{"nobody"}}, "no name": {Highlight: []string{""}}, "explode": {Explode: math.NaN()},
	} {
		if _, err := Picture(s, o); err == nil {
			t.Errorf("%s: %+v was drawn", name, o)
		}
	}
	if _, err := Picture(&Scene{}, PictureOptions{}); err == nil {
		t.Error("an empty scene was drawn")
	}
}

func TestLeadersDontCross(t *testing.T) {
	s := testScene(t)
	for _, view := range ViewNames() {
		for _, kind := range []Balloons{MarkBalloons, NameBalloons} {
			o := PictureOptions{Width: 480, Height: 360, View: view, Balloons: kind}
			v, err := o.check()
			if err != nil {
				t.Fatal(err)
			}
			p := &painting{scene: s, options: o, width: o.Width, height: o.Height, marked: make([]bool, len(s.Items))}
			p.prepare(v)
			p.drawTiles()
			pen := newPen(nil, p.width, p.height)
			labels := p.labels(pen)
			if len(labels) < 4 {
				t.Errorf("%s: only %d balloons", view, len(labels))
			}
			for i, a := range labels {
				if middle := float64(p.width) / 2; (a.to.x-middle)*(a.at.x-middle) < 0 {
					t.Errorf("%s: the leader of %s runs across the middle", view, a.text)
				}
				if a.to.y < 0 || a.to.y > float64(p.height) {
					t.Errorf("%s: the balloon of %s lies outside the picture", view, a.text)
				}
				for _, b := range labels[:i] {
					if cross(a, b) {
						t.Errorf("%s: the leaders of %s and %s cross", view, a.text, b.text)
					}
					if math.Abs(a.to.y-b.to.y) < pen.balloonHeight() && a.right == b.right {
						t.Errorf("%s: the balloons of %s and %s overlap", view, a.text, b.text)
					}
				}
			}
		}
	}
}

func TestSettle(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"short gap", "#####.##########", "################"},
		{"long gap", "########....########", "########....########"},
		{"speck", "....#.....", ".........."},
		{"dashes", "...####....####....####...", ".........................."},
		{"ends", "##....#....##", "##.........##"},
		{"whole", "###", "###"},
		{"nothing", "", ""},
	} {
		seen := make([]bool, len(c.in))
		for i := range seen {
			seen[i] = c.in[i] == '#'
		}
		settle(seen)
		got := ""
		for _, v := range seen {
			got += map[bool]string{true: "#", false: "."}[v]
		}
		if got != c.want {
			t.Errorf("%s: %s became %s, want %s", c.name, c.in, got, c.want)
		}
	}
}

func BenchmarkPartPicture(b *testing.B) {
	s, err := NewPartScene(drilledPart(b), DefaultTolerance)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Picture(s, PartPictureOptions()); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPicture(b *testing.B) {
	s := testScene(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Picture(s, PictureOptions{Width: 1600, Height: 1200, Perspective: true}); err != nil {
			b.Fatal(err)
		}
	}
}
