package mesh

import (
	"bytes"
	"image/color"
	"math"
	"runtime"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// lightness returns L* of CIELAB (ISO/CIE 11664-4) of an sRGB colour given in linear light.
func lightness(r, g, b float64) float64 {
	y := 0.2126*r + 0.7152*g + 0.0722*b // IEC 61966-2-1
	if y > 216.0/24389 {
		return 116*math.Cbrt(y) - 16
	}
	return y * 24389 / 27
}

func light(c uint8) float64 {
	v := float64(c) / 255
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

// dichromat returns what somebody without long (kind 0) or middle (kind 1) wave cones sees, linear light. Viénot, Brettel and
// Mollon, "Digital video colourmaps for checking the legibility of displays by dichromats" (1999); figures from memory.
func dichromat(c color.RGBA, kind int) (r, g, b float64) {
	r, g, b = light(c.R), light(c.G), light(c.B)
	l := 17.8824*r + 43.5161*g + 4.11935*b
	m := 3.45565*r + 27.1554*g + 3.86714*b
	s := 0.0299566*r + 0.184309*g + 1.46709*b
	if kind == 0 {
		l = 2.02344*m - 2.52581*s
	} else {
		m = 0.494207*l + 1.24827*s
	}
	return 0.0809444479*l - 0.130504409*m + 0.116721066*s,
		-0.0102485335*l + 0.0540193266*m - 0.113614708*s,
		-0.000365296938*l - 0.00412161469*m + 0.693511405*s
}

func TestScaleColourIsOrdered(t *testing.T) {
	const n = 64
	last := [3]float64{200, 200, 200}
	var first, end float64
	for i := range n + 1 {
		c := ScaleColour(float64(i) / n)
		var l [3]float64
		l[0] = lightness(light(c.R), light(c.G), light(c.B))
		for k := range 2 {
			r, g, b := dichromat(c, k)
			l[k+1] = lightness(r, g, b)
		}
		for k, who := range []string{"a usual eye and in grey", "protanopes", "deuteranopes"} {
			if l[k] >= last[k] {
				t.Errorf("at %d/%d the scale gets no darker for %s: %.1f after %.1f", i, n, who, l[k], last[k])
			}
		}
		if i > 0 && math.Abs(last[0]-l[0]-1) > 0.35 {
			t.Errorf("at %d/%d L* falls by %.2f; the whole 64 in 64 steps fall evenly", i, n, last[0]-l[0])
		}
		if i == 0 {
			first = l[0]
		}
		last, end = l, l[0]
	}
	if math.Abs(first-end-64) > 1 {
		t.Errorf("L* falls from %.1f to %.1f; want by 64", first, end)
	}
	// The colours of Okabe and Ito that the scale passes, "Color Universal Design" (2008).
	for share, want := range map[float64]color.RGBA{0.25: {230, 159, 0, 255}, 0.5: {213, 94, 0, 255}} {
		c := ScaleColour(share)
		for i, d := range []int{int(c.R) - int(want.R), int(c.G) - int(want.G), int(c.B) - int(want.B)} {
			if d < -14 || d > 14 {
				t.Errorf("at %g the scale is %v, part %d far from %v", share, c, i, want)
			}
		}
	}
	if ScaleColour(-1) != ScaleColour(0) || ScaleColour(2) != ScaleColour(1) {
		t.Error("shares outside of 0 to 1 leave the scale")
	}
}

func TestBand(t *testing.T) {
	p := drilledPart(t)
	whole, err := Solid(&p.Bar, 0.2)
	if err != nil {
		t.Fatal(err)
	}
	planes := bandPlaces(p.Bar.Length, 20)
	cut := band(whole, planes)
	if a, b := whole.Volume(), cut.Volume(); math.Abs(a-b) > 1e-5*a {
		t.Errorf("the volume was %.3f and is %.3f", a, b)
	}
	uses := map[[2]uint32]int{}
	for i, tr := range cut.Triangles {
		low, high := math.Inf(1), math.Inf(-1)
		for k, v := range tr {
			z := float64(cut.Points[v][2])
			low, high = math.Min(low, z), math.Max(high, z)
			uses[[2]uint32{v, tr[(k+1)%3]}]++
		}
		for _, z := range planes {
			if low < z-1e-3 && high > z+1e-3 {
				t.Fatalf("triangle %d runs from %g to %g through the plane at %g", i, low, high, z)
			}
		}
	}
	for e, n := range uses {
		if n != 1 || uses[[2]uint32{e[1], e[0]}] != 1 {
			t.Fatalf("edge %v is used %d times, its opposite %d times: not closed", e, n, uses[[2]uint32{e[1], e[0]}])
		}
	}
	if len(cut.Triangles) <= len(whole.Triangles) || len(cut.Surfaces) != len(cut.Triangles) {
		t.Errorf("%d triangles became %d with %d surfaces", len(whole.Triangles), len(cut.Triangles), len(cut.Surfaces))
	}
}

// deformedTable is a small frame, and all its bars moved by a function of the place at rest.
func deformedTable(t testing.TB, move func(geom.Vec) geom.Vec) (*frame.Frame, *Deformed) {
	t.Helper()
	f, err := frame.Parse("table.hcl", []byte(`
frame { profile = "30x30-8" }
posts "leg" {
  left   = 0
  right  = 500
  front  = 0
  back   = 300
  bottom = 40
  top    = 400
}
ring "top" {
  within = leg
  top    = leg.top
}
foot { under = leg }
`), frame.Options{})
	if err != nil {
		t.Fatal(err)
	}
	d := &Deformed{Bars: map[*frame.Member]Movement{}, Scale: 10, Most: 1, Unit: "mm", Title: "Test", Foot: "An estimate."}
	for _, m := range f.Members {
		var mv Movement
		for i := range 17 {
			z := m.Length() * float64(i) / 16
			mv.At = append(mv.At, z)
			mv.Shift = append(mv.Shift, move(m.Place.Apply(geom.Vec{Z: z})))
		}
		d.Bars[m] = mv
	}
	return f, d
}

func TestDeformedSceneFollowsItsLaws(t *testing.T) {
	mid := geom.Vec{X: 250, Y: 150}
	turn := geom.Vec{Y: 1e-3}
	for _, c := range []struct {
		name string
		move func(geom.Vec) geom.Vec
		tol  float64
	}{
		{"at rest", func(geom.Vec) geom.Vec { return geom.Vec{} }, 1e-3},
		{"all shifted alike", func(geom.Vec) geom.Vec { return geom.Vec{X: 0.3, Y: -0.2} }, 1e-3},
		// A turn of the whole about an axis across: bars along it turn about themselves, which their axes do not
		// show: their corners, 15 mm off both ways, lag by 15·√2 · 0.001 · 10 mm.
		{"turned as one", func(p geom.Vec) geom.Vec { return turn.Cross(p.Sub(mid)) }, 0.213},
	} {
		f, d := deformedTable(t, c.move)
		s, err := DeformedScene(f, d, 0.3)
		if err != nil {
			t.Fatal(err)
		}
		rest, err := NewScene(f, 0.3)
		if err != nil {
			t.Fatal(err)
		}
		if len(s.Items) != len(rest.Items) {
			t.Fatalf("%s: %d items, at rest %d", c.name, len(s.Items), len(rest.Items))
		}
		for i, it := range s.Items {
			if it.Kind != BarItem {
				continue
			}
			still := placed(rest.Shapes[rest.Items[i].Shape].Mesh, rest.Items[i].Place, nil)
			moved := s.Shapes[it.Shape].Mesh.Points
			for k, p := range still { // the points of the whole bar come first
				at := geom.Vec{X: float64(p[0]), Y: float64(p[1]), Z: float64(p[2])}
				want := at.Add(c.move(at).Scale(d.Scale))
				got := geom.Vec{X: float64(moved[k][0]), Y: float64(moved[k][1]), Z: float64(moved[k][2])}
				if got.Dist(want) > c.tol {
					t.Fatalf("%s: %s: %v went to %v, want %v", c.name, it.Name, at, got, want)
				}
			}
		}
	}
}

func TestDeformedFeetStay(t *testing.T) {
	f, d := deformedTable(t, func(geom.Vec) geom.Vec { return geom.Vec{X: 1} })
	s, err := DeformedScene(f, d, 0.3)
	if err != nil {
		t.Fatal(err)
	}
	feet := 0
	for _, it := range s.Items {
		if it.Kind != FittingItem {
			continue
		}
		m := s.Shapes[it.Shape].Mesh
		foot := f.Feet[feet]
		feet++
		var low, top float64
		nl, nt := 0, 0
		for _, p := range m.Points {
			switch z := float64(p[2]); {
			case z < 1e-3:
				low += float64(p[0]) - foot.At.X
				nl++
			case z > 39.9 && z < 40.1:
				top += float64(p[0]) - foot.At.X
				nt++
			}
		}
		if nl == 0 || math.Abs(low/float64(nl)) > 0.05 {
			t.Errorf("%s: its sole went %.3f mm off (%d points)", it.Name, low/float64(nl), nl)
		}
		if nt > 0 && math.Abs(top/float64(nt)-10) > 0.05 {
			t.Errorf("%s: its upper end went %.3f mm, the bar 10", it.Name, top/float64(nt))
		}
	}
	if feet != 4 {
		t.Errorf("%d feet; want 4", feet)
	}
}

func TestExaggerationIsRound(t *testing.T) {
	f, _ := deformedTable(t, func(geom.Vec) geom.Vec { return geom.Vec{} })
	size := f.Box().Size().Len()
	for _, most := range []float64{1e-6, 0.0072, 0.086, 0.3, 3.6, 1000} {
		k := ExaggerationFor(f, most)
		if share := k * most / size; share > 1/15.0+1e-9 || share < 1/15.0/2.6 {
			t.Errorf("%g mm drawn %g times is %.3f of the frame", most, k, share)
		}
		m := k / math.Pow(10, math.Floor(math.Log10(k)+1e-9))
		if math.Abs(m-1) > 1e-6 && math.Abs(m-2) > 1e-6 && math.Abs(m-5) > 1e-6 {
			t.Errorf("%g is not round", k)
		}
	}
	if k := ExaggerationFor(f, 0); k != 1 {
		t.Errorf("nothing moves, but drawn %g times", k)
	}
}

func TestDeformedPicture(t *testing.T) {
	f, d := deformedTable(t, func(p geom.Vec) geom.Vec { return geom.Vec{Z: -p.X / 500} })
	peak := geom.Vec{X: 500, Y: 15, Z: 385}
	d.Peak, d.PeakOn, d.PeakIs = &peak, f.Member("top.front_rail"), "1 mm"
	o := PictureOptions{Width: 600, Height: 450}
	old := runtime.GOMAXPROCS(1)
	var one, two bytes.Buffer
	err := WriteDeformedPNG(&one, f, d, 0.3, o)
	runtime.GOMAXPROCS(4)
	err2 := WriteDeformedPNG(&two, f, d, 0.3, o)
	runtime.GOMAXPROCS(old)
	if err != nil || err2 != nil {
		t.Fatal(err, err2)
	}
	if !bytes.Equal(one.Bytes(), two.Bytes()) {
		t.Error("one processor draws another picture than four")
	}
	img, err := DeformedPicture(f, d, 0.3, o)
	if err != nil {
		t.Fatal(err)
	}
	dark, pale, ghost := 0, 0, 0
	for y := range 450 {
		for x := range 480 { // without the scale
			switch c := img.NRGBAAt(x, y); {
			case c.R > 40 && c.B > c.G+40 && c.R > c.G+20 && c.R < 160:
				dark++
			case c.B > 230 && c.B > c.R+25:
				ghost++
			case c.R > 150 && c.R < 240 && math.Abs(float64(c.R)-float64(c.B)) < 12:
				pale++
			}
		}
	}
	if dark < 200 || pale < 200 || ghost < 10 {
		t.Errorf("%d dark, %d pale, %d ghostly pixels: the right side moves most, the left not at all", dark, pale, ghost)
	}
	for _, bad := range []PictureOptions{{Width: 3}, {View: "inside"}} {
		if _, err := DeformedPicture(f, d, 0.3, bad); err == nil {
			t.Errorf("%+v was drawn", bad)
		}
	}
	if _, err := DeformedPicture(f, &Deformed{Title: "none"}, 0.3, o); err == nil {
		t.Error("a frame of which nothing moves was drawn")
	}
}

func BenchmarkDeformedPicture(b *testing.B) {
	f, d := deformedTable(b, func(p geom.Vec) geom.Vec { return geom.Vec{Z: -p.X / 500} })
	b.ReportAllocs()
	for b.Loop() {
		if _, err := DeformedPicture(f, d, 0.25, PictureOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}
