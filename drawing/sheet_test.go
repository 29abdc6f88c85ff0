package drawing

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"barwright/geom"
)

func vec(x, y float64) geom.Vec2 { return geom.Vec2{X: x, Y: y} }

// blank returns an empty A3 sheet.
func blank() *Sheet { return &Sheet{Name: "blank", Title: "blank", Size: Size{"A3", 420, 297}} }

// TestPens: line types and widths of the group 0.5 (ISO 128-2: wide to narrow is 2 to 1), border 0.7 (ISO 5457).
func TestPens(t *testing.T) {
	for _, c := range []struct {
		role   Role
		want   Pen
		source string
	}{
		{Outline, Pen{Continuous, 0.5}, "ISO 128-2 01.2, visible outlines wide"},
		{Edge, Pen{Continuous, 0.25}, "ISO 128-2 01.1"},
		{Hidden, Pen{Dashed, 0.25}, "ISO 128-2 02.1, hidden outlines dashed narrow"},
		{CentreLine, Pen{Chain, 0.25}, "ISO 128-2 04.1, centre lines long-dashed dotted narrow"},
		{Phantom, Pen{DoubleChain, 0.25}, "ISO 128-2 05.1, adjacent parts"},
		{Thread, Pen{Continuous, 0.25}, "ISO 6410-1, roots of threads narrow"},
		{Hatch, Pen{Continuous, 0.25}, "ISO 128-2 01.1, hatching"},
		{Dimension, Pen{Continuous, 0.25}, "ISO 128-2 01.1, dimension lines"},
		{Leader, Pen{Continuous, 0.25}, "ISO 128-2 01.1, leaders"},
		{Break, Pen{Continuous, 0.25}, "ISO 128-2 01.1 with zigzags"},
		{Border, Pen{Continuous, 0.7}, "ISO 5457, frame 0.7"},
	} {
		if got := c.role.Pen(); got != c.want {
			t.Errorf("%v: %+v, want %+v (%s)", c.role, got, c.want, c.source)
		}
	}
}

// TestPattern: dash 12 widths, long dash 24, gap 3, dot half a width (ISO 128-2, recalled), stretched so that the line
// begins and ends with a dash.
func TestPattern(t *testing.T) {
	for _, c := range []struct {
		pen  Pen
		long float64
		dots int
	}{{Pen{Dashed, 0.25}, 3, 0}, {Pen{Chain, 0.25}, 6, 1}, {Pen{DoubleChain, 0.25}, 6, 2}} {
		for length := 10.0; length < 300; length += 3.7 {
			d := pattern(length, c.pen)
			if d[0][0] != 0 || math.Abs(d[len(d)-1][1]-length) > 1e-9 {
				t.Fatalf("%+v over %g runs from %g to %g", c.pen, length, d[0][0], d[len(d)-1][1])
			}
			if length > 60 {
				if got := d[0][1] - d[0][0]; math.Abs(got/c.long-1) > 0.08 {
					t.Errorf("%+v over %g: dash of %g, want about %g", c.pen, length, got, c.long)
				}
				if (len(d)-1)%(c.dots+1) != 0 {
					t.Errorf("%+v over %g: %d pieces", c.pen, length, len(d))
				}
			}
		}
	}
}

// TestInk: the height of a capital is the nominal height of the lettering (ISO 3098-1).
func TestInk(t *testing.T) {
	for _, h := range []float64{2.5, 3.5, 5, 7} {
		ink := Measure("H", h)
		if math.Abs(ink.High-h) > 1e-9 || math.Abs(ink.Low) > 1e-9 {
			t.Errorf("an H of height %g stands from %g to %g", h, ink.Low, ink.High)
		}
		if g := Measure("g", h); g.Low > -0.2*h || g.Low < -0.4*h {
			t.Errorf("the descender of a g of height %g is %g (ISO 3098-1, type B: 3/10)", h, g.Low)
		}
	}
	for _, sign := range []string{"⌀", "⌴", "↧", "⌵", "×", "°", "±"} {
		ink := Measure(sign, 10)
		if ink.Right <= ink.Left || ink.High > 11 || ink.Low < -2 {
			t.Errorf("%s has the ink %+v", sign, ink)
		}
	}
	if a, b := TextWidth("⌀7", 3.5), TextWidth("⌀", 3.5)+TextWidth("7", 3.5); math.Abs(a-b) > 1e-9 {
		t.Errorf("two letters are %g wide, apart %g", a, b)
	}
}

func TestCleanAndFit(t *testing.T) {
	if got := Clean("a\x00b\n漢字 ⌀"); got != "a b ?? ⌀" {
		t.Errorf("cleaned to %q", got)
	}
	if got := Clean(string([]byte{'a', 0xff, 'b'})); strings.ContainsRune(got, 0xfffd) {
		t.Errorf("bad UTF-8 stays: %q", got)
	}
	long := strings.Repeat("machine ", 500)
	if got := Fit(long, 3.5, 60); TextWidth(got, 3.5) > 60 || !strings.HasSuffix(got, "…") {
		t.Errorf("fitted to %q", got)
	}
	for _, l := range Wrap(long, 2.5, 50) {
		if TextWidth(l, 2.5) > 50 {
			t.Errorf("line %q is too wide", l)
		}
	}
}

// TestArrow: filled, length about ten narrow lines or more, included angle 15° to 30° (ISO 129-1).
func TestArrow(t *testing.T) {
	s := blank()
	s.Arrow(Dimension, vec(50, 50), vec(1, 0))
	a := s.Ops[0].(*Stroke)
	if !a.Filled || len(a.Points) != 3 || a.Points[0] != vec(50, 50) {
		t.Fatalf("arrow %+v", a)
	}
	length := a.Points[0].X - a.Points[1].X
	angle := 2 * math.Atan(math.Abs(a.Points[1].Y-a.Points[2].Y)/2/length) * 180 / math.Pi
	if length < 10*NarrowLine || angle < 15 || angle > 30 {
		t.Errorf("arrow %.2f long, %.1f°", length, angle)
	}
}

// TestVerifyFinds: each rule of drafting is seen to be broken where it is, and only there.
func TestVerifyFinds(t *testing.T) {
	for _, c := range []struct {
		rule string
		draw func(*Sheet)
	}{
		{"text-on-text", func(s *Sheet) {
			s.Write(Note, vec(100, 100), 3.5, Left, "one")
			s.Write(Note, vec(103, 102), 3.5, Left, "two")
		}},
		{"text-on-text", func(s *Sheet) {
			s.Write(Note, vec(100, 100), 3.5, Left, "a longer text")
			s.Add(&Text{Role: Dimension, At: vec(110, 95), String: "1100", Height: 3.5, Turn: math.Pi / 2})
		}},
		{"text-on-line", func(s *Sheet) {
			s.Write(Note, vec(100, 100), 3.5, Left, "one")
			s.Line(Edge, vec(90, 101), vec(120, 101))
		}},
		{"text-on-line", func(s *Sheet) {
			s.Write(Note, vec(98, 100), 3.5, Left, "one")
			s.Circle(Outline, vec(100, 90), 11)
		}},
		{"small-text", func(s *Sheet) { s.Write(Note, vec(100, 100), 2.4, Left, "one") }},
		{"outside", func(s *Sheet) { s.Write(Note, vec(405, 100), 3.5, Left, "too far right") }},
		{"outside", func(s *Sheet) { s.Line(Outline, vec(15, 100), vec(60, 100)) }},
		{"dimension-lines", func(s *Sheet) {
			s.Line(Dimension, vec(50, 100), vec(90, 100))
			s.Line(Dimension, vec(60, 106.9), vec(95, 106.9))
		}},
		{"leader-crosses", func(s *Sheet) {
			s.Polyline(Leader, vec(50, 50), vec(70, 70))
			s.Line(Dimension, vec(50, 60), vec(90, 60))
		}},
		{"leader-crosses", func(s *Sheet) { // it touches the tip of another's arrow
			s.Polyline(Leader, vec(50, 50), vec(70, 70))
			s.Polyline(Leader, vec(60.2, 59.8), vec(75, 50))
			s.Arrow(Leader, vec(60.2, 59.8), vec(-15, 10))
		}},
		{"leader-crosses", func(s *Sheet) { // two run on one another
			s.Polyline(Leader, vec(50, 50), vec(70, 70))
			s.Polyline(Leader, vec(60, 60), vec(80, 80))
		}},
	} {
		s := blank()
		c.draw(s)
		got := s.Verify()
		if len(got) != 1 || got[0].Rule != c.rule {
			t.Errorf("want one %s, got %v", c.rule, got)
		}
	}
	s := blank()
	s.Write(Note, vec(100, 100), 3.5, Left, "fine")
	s.Line(Edge, vec(90, 98), vec(130, 98))
	s.Line(Dimension, vec(50, 120), vec(90, 120))
	s.Line(Dimension, vec(50, 127), vec(90, 127))
	s.Line(Dimension, vec(100, 122), vec(140, 122))
	if got := s.Verify(); len(got) > 0 {
		t.Errorf("a clean sheet has %v", got)
	}
}

// TestSpread compares with the definition: no other spread with the gap is nearer in the sense of least squares.
func TestSpread(t *testing.T) {
	want := []float64{10, 11, 12, 40, 41, 90, 95.5}
	got := spread(want, 5, 3, 97)
	cost := func(x []float64) (c float64) {
		for i := range x {
			c += (x[i] - want[i]) * (x[i] - want[i])
		}
		return c
	}
	legal := func(x []float64) bool {
		for i := range x {
			if x[i] < 3-1e-9 || x[i] > 97+1e-9 || i > 0 && x[i]-x[i-1] < 5-1e-9 {
				return false
			}
		}
		return true
	}
	if !legal(got) {
		t.Fatalf("spread to %v", got)
	}
	for i := range got {
		for j := i; j < len(got); j++ {
			for _, d := range []float64{-0.01, 0.01} {
				x := append([]float64(nil), got...)
				for k := i; k <= j; k++ {
					x[k] += d
				}
				if legal(x) && cost(x) < cost(got)-1e-12 {
					t.Errorf("moving %d to %d by %g is better", i, j, d)
				}
			}
		}
	}
}

func TestNumbers(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{units{}.place(840), "840"}, {units{}.place(12.5), "12.5"}, {units{}.place(1015.04), "1015"}, {units{}.place(0.05), "0.1"},
		{units{}.place(-0.01), "0"}, {units{}.size(4.25), "4.25"}, {units{}.size(7), "7"},
		// 840 mm are 33.0709 in (1 in = 25.4 mm exactly, international inch of 1959).
		{units{true}.place(840), "33.071"}, {units{true}.size(6.35), "0.250"},
		{scaleName(0.2), "1:5"}, {scaleName(2), "2:1"}, {scaleName(1), "1:1"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// TestSameBytes: the same sheets give the same bytes, in every format.
func TestSameBytes(t *testing.T) {
	var first [4][]byte
	for round := range 3 {
		f := workshopFrame(t)
		sheets, err := PartSheets(f, Options{})
		if err != nil {
			t.Fatal(err)
		}
		var b [4]bytes.Buffer
		for i, err := range []error{
			WritePDF(&b[0], &Book{Title: f.Title, Sheets: sheets}), WriteSVG(&b[1], sheets[0], true),
			WriteSVG(&b[2], sheets[0], false), WriteDXF(&b[3], sheets[0]),
		} {
			if err != nil {
				t.Fatal(err)
			}
			if round == 0 {
				first[i] = b[i].Bytes()
			} else if !bytes.Equal(first[i], b[i].Bytes()) {
				t.Errorf("format %d differs between runs", i)
			}
		}
		if per := b[0].Len() / len(sheets); per > 150_000 {
			t.Errorf("%d bytes a page", per)
		}
	}
}

func TestEmptyBook(t *testing.T) {
	if err := WritePDF(&bytes.Buffer{}, &Book{}); err == nil {
		t.Error("an empty book is written")
	}
}
