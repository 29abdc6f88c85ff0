package drawing

import (
	"math"
	"math/rand/v2"
	"testing"

	"barwright/geom"
	"barwright/mesh"
)

// boxMesh returns a closed mesh of a box.
func boxMesh(b geom.Box) *mesh.Mesh {
	m := &mesh.Mesh{}
	for _, c := range b.Corners() {
		m.Points = append(m.Points, [3]float32{float32(c.X), float32(c.Y), float32(c.Z)})
	}
	for _, q := range [][4]uint32{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.Triangles = append(m.Triangles, [3]uint32{q[0], q[1], q[2]}, [3]uint32{q[0], q[2], q[3]})
	}
	m.Surfaces = make([]mesh.Surface, len(m.Triangles))
	return m
}

// prism returns a closed mesh of a convex outline swept along z from 0 to length.
func prism(outline []geom.Vec2, length float64) *mesh.Mesh {
	m := &mesh.Mesh{}
	n := uint32(len(outline))
	for _, z := range []float64{0, length} {
		for _, p := range outline {
			m.Points = append(m.Points, [3]float32{float32(p.X), float32(p.Y), float32(z)})
		}
	}
	add := func(s mesh.Surface, a, b, c uint32) {
		m.Triangles = append(m.Triangles, [3]uint32{a, b, c})
		m.Surfaces = append(m.Surfaces, s)
	}
	for i := range n {
		j := (i + 1) % n
		add(mesh.Skin, i, j, n+j)
		add(mesh.Skin, i, n+j, n+i)
		if i > 1 {
			add(mesh.CutEnd, 0, i, i-1)
			add(mesh.CutEnd, n, n+i-1, n+i)
		}
	}
	return m
}

// rounded returns a rectangle with rounded corners, counter-clockwise.
func rounded(w, h, r float64, steps int) []geom.Vec2 {
	var out []geom.Vec2
	for q := range 4 {
		cx, cy := w/2-r, h/2-r
		if q == 1 || q == 2 {
			cx = -cx
		}
		if q >= 2 {
			cy = -cy
		}
		for k := range steps + 1 {
			s, c := math.Sincos((float64(q) + float64(k)/float64(steps)) * math.Pi / 2)
			out = append(out, geom.Vec2{X: cx + r*c, Y: cy + r*s})
		}
	}
	return out
}

func total(lines []ViewLine, kind LineKind) (length float64) {
	for _, l := range lines {
		if l.Kind != kind {
			continue
		}
		for i := 1; i < len(l.Points); i++ {
			length += l.Points[i].Dist(l.Points[i-1])
		}
	}
	return length
}

// A box seen along no axis shows nine of its twelve edges: six in its outline, three inside
// (elementary geometry). Their drawn lengths follow from the angles to the picture plane.
func TestBoxShowsNineEdges(t *testing.T) {
	size := geom.Vec{X: 30, Y: 50, Z: 200}
	v := Pictorial()
	lines := HiddenLines([]Body{{Mesh: boxMesh(geom.Box{High: size}), Place: geom.Identity()}}, v, LineOptions{Scale: 0.5})
	var each float64
	for _, ax := range []geom.Axis{geom.X, geom.Y, geom.Z} {
		each += v.Project(ax.Unit().Scale(size.Along(ax))).Len() * 0.5
	}
	if got := total(lines, Silhouette); math.Abs(got-2*each) > 1e-6 {
		t.Errorf("outline of %.4f mm, want %.4f", got, 2*each)
	}
	if got := total(lines, Crease); math.Abs(got-each) > 1e-6 {
		t.Errorf("inner edges of %.4f mm, want %.4f", got, each)
	}
}

// Two bars that touch show the edge that they share once; in a principal view of a butted
// corner the outline of the hidden bar vanishes behind the outline of the front bar.
func TestTouchingBoxesShareEdges(t *testing.T) {
	a := Body{Mesh: boxMesh(geom.Box{High: geom.Vec{X: 100, Y: 30, Z: 30}}), Place: geom.Identity()}
	b := Body{Mesh: boxMesh(geom.Box{High: geom.Vec{X: 30, Y: 30, Z: 100}}), Place: geom.Shift(geom.Vec{X: 100})}
	lines := HiddenLines([]Body{a, b}, fromFront, LineOptions{})
	// Round the 100 × 30 rectangle and the 30 × 100 one, less the shared 30 mm.
	if got, want := total(lines, Silhouette)+total(lines, Crease), 260.0+260-30; math.Abs(got-want) > 1e-6 {
		t.Errorf("lines of %.4f mm, want %.4f", got, want)
	}
	behind := Body{Mesh: a.Mesh, Place: geom.Shift(geom.Vec{Y: 30})}
	if got := HiddenLines([]Body{a, behind}, fromFront, LineOptions{}); total(got, Silhouette)+total(got, Crease) != 260 {
		t.Errorf("a bar exactly behind another shows: %v", got)
	}
}

// A rounded corner shows one thin line in its middle and no line where the rounding begins (ISO 128-3:2022, 4.3,
// imaginary edges of intersection).
func TestRoundingShowsOneThinLine(t *testing.T) {
	for steps := 3; steps <= 6; steps++ {
		body := Body{Mesh: prism(rounded(30, 30, 1.5, steps), 200), Place: geom.Identity()}
		v := View{Toward: geom.Vec{X: -1, Y: -1, Z: -1}, Up: geom.Vec{Z: 1}}
		lines := HiddenLines([]Body{body}, v, LineOptions{})
		if got, want := total(lines, Tangent), 200*math.Sqrt(2.0/3); math.Abs(got-want) > 0.01 {
			t.Errorf("%d steps: thin lines of %.3f mm, want %.3f", steps, got, want)
		}
		if got, want := total(lines, Silhouette)-2*200*math.Sqrt(2.0/3), 0.0; got < want {
			t.Errorf("%d steps: outline too short", steps)
		}
	}
}

// depthPicture is a plain depth buffer: the judge of hidden lines. Each pixel holds the depth of the
// nearest surface at its middle and how that depth grows to the right and upward, so that an edge
// beside the pixel's middle can be compared closely on steep faces too.
type depthPicture struct {
	low   geom.Vec2
	pixel float64
	w, h  int
	depth []float64
	slope []geom.Vec2
}

func newDepthPicture(sv []seen, across int) *depthPicture {
	low, high := geom.Vec2{X: math.Inf(1), Y: math.Inf(1)}, geom.Vec2{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, s := range sv {
		for _, p := range s.points {
			low = geom.Vec2{X: min(low.X, p.X), Y: min(low.Y, p.Y)}
			high = geom.Vec2{X: max(high.X, p.X), Y: max(high.Y, p.Y)}
		}
	}
	d := &depthPicture{pixel: max(high.X-low.X, high.Y-low.Y) / float64(across-4)}
	d.low = low.Sub(geom.Vec2{X: 2 * d.pixel, Y: 2 * d.pixel})
	d.w = int((high.X-d.low.X)/d.pixel) + 3
	d.h = int((high.Y-d.low.Y)/d.pixel) + 3
	d.depth, d.slope = make([]float64, d.w*d.h), make([]geom.Vec2, d.w*d.h)
	for i := range d.depth {
		d.depth[i] = math.Inf(1)
	}
	for _, s := range sv {
		for _, t := range s.triangles {
			d.draw(s.points[t[0]], s.points[t[1]], s.points[t[2]])
		}
	}
	return d
}

// draw lowers the depth at every pixel whose middle lies in the triangle.
func (d *depthPicture) draw(a, b, c geom.Vec) {
	area := (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X)
	if math.Abs(area) < 1e-12 {
		return
	}
	ab, ac := b.Sub(a), c.Sub(a)
	slope := geom.Vec2{X: (ab.Z*ac.Y - ac.Z*ab.Y) / area, Y: (ac.Z*ab.X - ab.Z*ac.X) / area}
	cell := func(v, low float64) float64 { return (v-low)/d.pixel - 0.5 }
	y0 := int(math.Ceil(cell(min(a.Y, b.Y, c.Y), d.low.Y)))
	y1 := int(math.Floor(cell(max(a.Y, b.Y, c.Y), d.low.Y)))
	for y := y0; y <= y1; y++ {
		py := d.low.Y + (float64(y)+0.5)*d.pixel
		left, right := math.Inf(1), math.Inf(-1)
		for _, e := range [3][2]geom.Vec{{a, b}, {b, c}, {c, a}} {
			if (e[0].Y-py)*(e[1].Y-py) > 0 || e[0].Y == e[1].Y {
				continue
			}
			x := e[0].X + (e[1].X-e[0].X)*(py-e[0].Y)/(e[1].Y-e[0].Y)
			left, right = min(left, x), max(right, x)
		}
		if left > right {
			continue
		}
		for x := int(math.Ceil(cell(left, d.low.X))); x <= int(math.Floor(cell(right, d.low.X))); x++ {
			px := d.low.X + (float64(x)+0.5)*d.pixel
			z := a.Z + slope.X*(px-a.X) + slope.Y*(py-a.Y)
			if z < d.depth[y*d.w+x] {
				d.depth[y*d.w+x], d.slope[y*d.w+x] = z, slope
			}
		}
	}
}

// at tells whether the picture shows p at a pixel. A surface hides p where it lies nearer by more than its own
// depth changes between the pixel's middle and p.
func (d *depthPicture) at(x, y int, p geom.Vec) bool {
	i := y*d.w + x
	mid := geom.Vec2{X: float64(x) + 0.5, Y: float64(y) + 0.5}.Scale(d.pixel).Add(d.low)
	off := geom.Vec2{X: p.X, Y: p.Y}.Sub(mid)
	change := math.Abs(d.slope[i].X*off.X) + math.Abs(d.slope[i].Y*off.Y)
	return p.Z <= d.depth[i]+change+0.04
}

// shows tells what the picture says of p: an edge on an outline has the body on one side only, so p shows
// where any of the four pixels round it shows it. Beside says that the pixels within one of p differ.
func (d *depthPicture) shows(p geom.Vec) (show, beside bool) {
	fx, fy := (p.X-d.low.X)/d.pixel, (p.Y-d.low.Y)/d.pixel
	x, y := int(fx-0.5), int(fy-0.5)
	show = d.at(x, y, p) || d.at(x+1, y, p) || d.at(x, y+1, p) || d.at(x+1, y+1, p)
	x, y = int(fx), int(fy)
	for dy := -1; dy <= 1; dy++ {
		for dx := -1; dx <= 1; dx++ {
			beside = beside || d.at(x+dx, y+dy, p) != show
		}
	}
	return show, beside
}

// agreement compares the drawn stretches of every edge with a depth picture. It returns how many points were
// compared, how many agree, and how many of the others have no edge of the picture within a pixel.
func agreement(bodies []Body, v View, across int, rng *rand.Rand) (points, agree, far int) {
	m := newLineModel(bodies, nil)
	s := m.shader(v)
	pic := newDepthPicture(s.seen, across)
	drawn := m.view(v, LineOptions{})
	for _, c := range m.candidates(s, false) {
		vis := s.visible(c, 1e-3)
		d := c.b.Sub(c.a)
		flat := geom.Vec2{X: d.X, Y: d.Y}.Len()
		for range 1 + int(flat/(6*pic.pixel)) {
			f := rng.Float64()
			got := false
			for _, p := range vis {
				got = got || f >= p.from && f <= p.to
			}
			p := c.a.Add(d.Scale(f))
			show, beside := pic.shows(p)
			points++
			switch {
			case got == show, show && onLine(drawn, geom.Vec2{X: p.X, Y: p.Y}):
				agree++
			case !beside && !changes(vis, f, pic.pixel/flat):
				far++
			}
		}
	}
	return points, agree, far
}

// changes reports whether an edge appears or vanishes within a distance: what shows through a gap narrower than a pixel is not
// in the picture.
func changes(visible []span, f, near float64) bool {
	for _, v := range visible {
		if v.from > 0 && math.Abs(f-v.from) < near || v.to < 1 && math.Abs(f-v.to) < near {
			return true
		}
	}
	return false
}

// onLine reports whether a drawn line runs through p: an edge exactly behind another is drawn once.
func onLine(lines []ViewLine, p geom.Vec2) bool {
	for _, l := range lines {
		for i := 1; i < len(l.Points); i++ {
			a, d := l.Points[i-1], l.Points[i].Sub(l.Points[i-1])
			t := p.Sub(a).Dot(d) / d.Dot(d)
			if t > -0.01 && t < 1.01 && math.Abs(d.Cross(p.Sub(a))) < 2*sameLine*d.Len() {
				return true
			}
		}
	}
	return false
}

// randomFrame returns bars of boxes and rounded prisms that touch one another as the bars of a frame do, moved
// apart by spread: 0 as built, more in an exploded view.
func randomFrame(rng *rand.Rand, spread float64) []Body {
	size := func() float64 { return 200 + math.Round(rng.Float64()*800) }
	w, d, h := size(), size(), size()
	b := []float64{20, 30, 40}[rng.IntN(3)]
	var out []Body
	add := func(low, high geom.Vec) {
		away := low.Add(high).Scale(0.5).Sub(geom.Vec{X: w / 2, Y: d / 2, Z: h / 2}).Scale(spread)
		s := high.Sub(low)
		if rng.IntN(2) == 0 {
			out = append(out, Body{Mesh: boxMesh(geom.Box{High: s}), Place: geom.Shift(low.Add(away))})
			return
		}
		// A rounded bar stands on its section; turn its z along the longest side.
		p := geom.Identity()
		if s.X > s.Z && s.X >= s.Y {
			p = geom.Motion{EX: geom.Vec{Y: 1}, EY: geom.Vec{Z: 1}, EZ: geom.Vec{X: 1}}
		} else if s.Y > s.Z {
			p = geom.Motion{EX: geom.Vec{Z: 1}, EY: geom.Vec{X: 1}, EZ: geom.Vec{Y: 1}}
		}
		l := p.Unturn(s)
		p.T = low.Add(away).Add(p.Turn(geom.Vec{X: l.X / 2, Y: l.Y / 2}))
		out = append(out, Body{Mesh: prism(rounded(l.X, l.Y, b/5, 4), l.Z), Place: p})
	}
	for _, x := range []float64{0, w - b} {
		for _, y := range []float64{0, d - b} {
			add(geom.Vec{X: x, Y: y}, geom.Vec{X: x + b, Y: y + b, Z: h})
		}
	}
	levels := 1 + rng.IntN(3)
	for k := range levels {
		z := math.Round((float64(k) + 0.6*rng.Float64()) * (h - 2*b) / float64(levels))
		for _, y := range []float64{0, d - b} {
			add(geom.Vec{X: b, Y: y, Z: z}, geom.Vec{X: w - b, Y: y + b, Z: z + b})
		}
		for _, x := range []float64{0, w - b} {
			add(geom.Vec{X: x, Y: b, Z: z}, geom.Vec{X: x + b, Y: d - b, Z: z + b})
		}
		for x := b + 40; x < w-2*b-10; x += 60 + rng.Float64()*200 {
			add(geom.Vec{X: x, Y: b, Z: z}, geom.Vec{X: x + b, Y: d - b, Z: z + b})
		}
	}
	return out
}

// Fifty random frames and exploded views against a depth picture of the same view.
func TestAgreesWithDepthPicture(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 1967))
	var points, agree, far int
	for i := range 50 {
		v := orbit(10+70*rng.Float64(), 10+60*rng.Float64())
		if i%5 == 0 {
			v = []View{fromFront, fromAbove, fromLeft}[i/5%3]
		}
		p, a, f := agreement(randomFrame(rng, float64(i%2)*0.4), v, 2000, rng)
		if p < 1000 {
			t.Fatalf("frame %d: only %d points", i, p)
		}
		if f > 0 {
			t.Errorf("frame %d: %d of %d points agree, %d of the others not beside an edge", i, a, p, f)
		}
		points, agree, far = points+p, agree+a, far+f
	}
	if agree < points*995/1000 {
		t.Errorf("only %d of %d points agree", agree, points)
	}
	t.Logf("%d of %d points agree (%.3f %%), %d of the others not beside an edge", agree, points, 100*float64(agree)/float64(points), far)
}

// Machined bars with their slots and bores, as built and exploded, against a depth picture.
func TestMachinedBarsAgreeWithDepthPicture(t *testing.T) {
	f, scene := load(t, cutter)
	rng := rand.New(rand.NewPCG(8, 1930))
	apart := explodedScene(f, scene, explodeMoves(singly(f.Members), f.Contacts, 90), 90)
	var points, agree, far int
	for _, s := range []*mesh.Scene{scene, apart} {
		for _, v := range []View{Pictorial(), orbit(-35, 12)} {
			var bodies []Body
			for _, it := range s.Items {
				bodies = append(bodies, Body{Mesh: s.Shapes[it.Shape].Mesh, Place: it.Place})
			}
			p, a, n := agreement(bodies, v, 3000, rng)
			points, agree, far = points+p, agree+a, far+n
		}
	}
	if points < 100000 || agree < points*995/1000 || far > 0 {
		t.Errorf("%d of %d points agree, %d of the others not beside an edge", agree, points, far)
	}
	t.Logf("%d of %d points agree (%.3f %%)", agree, points, 100*float64(agree)/float64(points))
}

// Where the depth jumps from one pixel to the next there is an outline: every such place must lie within a pixel and a half of a drawn
// line, so that no outline is missing.
func TestNoOutlineIsMissing(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 1967))
	jumps, missing := 0, 0
	for i := range 20 {
		m := newLineModel(randomFrame(rng, float64(i%2)*0.4), nil)
		v := orbit(10+70*rng.Float64(), 10+60*rng.Float64())
		pic := newDepthPicture(m.look(v), 900)
		near := pic.inked(m.view(v, LineOptions{}))
		for y := 1; y+1 < pic.h; y++ {
			for x := 1; x+1 < pic.w; x++ {
				for _, j := range []int{y*pic.w + x + 1, (y+1)*pic.w + x} {
					k := y*pic.w + x
					if !pic.jumps(k, j) {
						continue
					}
					jumps++
					if !near[k] && !near[j] {
						missing++
					}
				}
			}
		}
	}
	if jumps < 20000 || missing > 0 {
		t.Errorf("%d of %d outlines of the picture are not drawn", missing, jumps)
	}
}

// jumps reports whether the depths of two neighbouring pixels differ by more than their slopes explain.
func (d *depthPicture) jumps(i, j int) bool {
	a, b := d.depth[i], d.depth[j]
	if math.IsInf(a, 1) && math.IsInf(b, 1) {
		return false
	}
	slope := 0.0
	for _, k := range []int{i, j} {
		slope = max(slope, math.Abs(d.slope[k].X)+math.Abs(d.slope[k].Y))
	}
	return math.Abs(a-b) > 5+3*slope*d.pixel
}

// inked marks the pixels within one of a drawn line.
func (d *depthPicture) inked(lines []ViewLine) []bool {
	out := make([]bool, d.w*d.h)
	for _, l := range lines {
		for i := 1; i < len(l.Points); i++ {
			a, b := l.Points[i-1], l.Points[i]
			n := 1 + int(a.Dist(b)/d.pixel*3)
			for k := range n + 1 {
				p := a.Add(b.Sub(a).Scale(float64(k) / float64(n)))
				x, y := int((p.X-d.low.X)/d.pixel), int((p.Y-d.low.Y)/d.pixel)
				for dy := -1; dy <= 1; dy++ {
					for dx := -1; dx <= 1; dx++ {
						out[(y+dy)*d.w+x+dx] = true
					}
				}
			}
		}
	}
	return out
}

// benchBodies returns the machined bars of a frame as they are, without simplification.
func benchBodies(b *testing.B, text string) []Body {
	_, scene := load(b, text)
	var bodies []Body
	for _, it := range scene.Items {
		bodies = append(bodies, Body{Mesh: scene.Shapes[it.Shape].Mesh, Place: it.Place})
	}
	return bodies
}

// BenchmarkHiddenLines removes the hidden lines of all triangles of machined bars, in a machine frame and in a hall of 200 bars.
func BenchmarkHiddenLines(b *testing.B) {
	for _, name := range []string{"cutter", "hall"} {
		b.Run(name, func(b *testing.B) {
			bodies := benchBodies(b, sampleFrames()[name])
			triangles := 0
			for _, x := range bodies {
				triangles += len(x.Mesh.Triangles)
			}
			b.ReportAllocs()
			for b.Loop() {
				HiddenLines(bodies, Pictorial(), LineOptions{Scale: 0.2})
			}
			b.ReportMetric(float64(triangles), "triangles")
		})
	}
}
