package mesh

import (
	"image/color"
	"math"
	"slices"
	"sort"
	"sync"

	"barwright/geom"
	"barwright/internal/parallel"

	"github.com/fogleman/fauxgl"
)

// samples is how many samples a pixel has each way. It is odd, so that one of them lies in the middle.
const samples = 3

// tileSide is the side in pixels of the squares that the picture is drawn in, tileMargin the border
// round each that is drawn too, because lines look at their neighbourhood.
const (
	tileSide   = 128
	tileMargin = 2
)

// screenRect is a rectangle in pixels.
type screenRect struct{ x0, y0, x1, y1 float64 }

// sortItems finds where each item lies in the picture, and the order from front to back, which
// spares drawing what is hidden.
func (p *painting) sortItems(boxes []geom.Box) {
	depth := make([]float64, len(p.scene.Items))
	p.nearest = make([]float64, len(p.scene.Items))
	p.screen = make([]screenRect, len(p.scene.Items))
	for i, it := range p.scene.Items {
		r := screenRect{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
		if !boxes[it.Shape].Empty() {
			p.nearest[i] = math.Inf(1)
			for _, q := range boxes[it.Shape].Corners() {
				x, y, d := p.camera.project(it.Place.Apply(q))
				p.nearest[i] = math.Min(p.nearest[i], p.camera.screenDepth(d))
				r = screenRect{math.Min(r.x0, x), math.Min(r.y0, y), math.Max(r.x1, x), math.Max(r.y1, y)}
				depth[i] += d / 8
			}
			p.order = append(p.order, i)
		}
		p.screen[i] = r
	}
	sort.SliceStable(p.order, func(a, b int) bool { return depth[p.order[a]] < depth[p.order[b]] })
}

// tile is a square of the picture in the making. Its context is drawn by one goroutine only, triangle after triangle, because
// fauxgl's own parallel drawing lets equal depths race.
type tile struct {
	*painting
	x0, y0, x1, y1 int // pixels, without the margin
	context        *fauxgl.Context
	left, top      int // of the context, pixels
	scratch        scratch
	clipper        clipper
	bands          clipper         // of a piece
	out            fauxgl.Triangle // on its way to the context
}

// scratch is room for one item's vertices, kept from item to item.
type scratch struct {
	place [][3]float64 // of each point: pixels and depth
	shade []float64    // of each vertex
	front []bool       // of each triangle
	seen  []bool       // of each step of a line
}

// drawTiles draws all tiles that an item touches.
func (p *painting) drawTiles() {
	across, down := (p.width+tileSide-1)/tileSide, (p.height+tileSide-1)/tileSide
	pool := sync.Pool{New: func() any {
		const side = (tileSide + 2*tileMargin) * samples
		c := fauxgl.NewContext(side, side)
		c.Shader = paintShader{}
		c.AlphaBlend = false
		c.Cull = fauxgl.CullNone // culled before, in pixels
		return &tile{context: c}
	}}
	parallel.Do(across*down, func(i int) {
		t := pool.Get().(*tile)
		t.painting = p
		t.x0, t.y0 = i%across*tileSide, i/across*tileSide
		t.x1, t.y1 = min(t.x0+tileSide, p.width), min(t.y0+tileSide, p.height)
		t.left, t.top = t.x0-tileMargin, t.y0-tileMargin
		t.draw()
		pool.Put(t)
	})
}

// touches reports whether a rectangle meets the tile with its margin.
func (t *tile) touches(r screenRect) bool {
	const m = tileMargin + 1
	return r.x1 >= float64(t.x0-m) && r.x0 <= float64(t.x1+m) && r.y1 >= float64(t.y0-m) && r.y0 <= float64(t.y1+m)
}

// crowd is after how many items it pays to look how far the farthest sample lies.
const crowd = 8

// draw draws surfaces, then lines over them.
func (t *tile) draw() {
	var items []int
	for _, i := range t.order {
		if t.touches(t.screen[i]) {
			items = append(items, i)
		}
	}
	if len(items) == 0 {
		return
	}
	clear(t.context.ColorBuffer.Pix)
	fillDepth(t.context.DepthBuffer, math.MaxFloat64)
	// In a crowd most items lie behind what is drawn already: the farthest sample tells.
	far := math.Inf(1)
	for n, i := range items {
		if n%crowd == crowd-1 {
			far = slices.Max(t.context.DepthBuffer)
		}
		if t.nearest[i] <= far {
			t.surfaces(i)
		}
	}
	t.resolve()
	if len(items) > crowd {
		far = slices.Max(t.context.DepthBuffer)
	}
	for _, i := range items {
		if t.nearest[i] <= far {
			t.lines(i)
		}
	}
}

// fillDepth sets all values of a slice.
func fillDepth(s []float64, v float64) {
	s[0] = v
	for n := 1; n < len(s); n *= 2 {
		copy(s[n:], s[:n])
	}
}

// paintShader passes on what the tile has worked out itself.
type paintShader struct{}

// Vertex returns the vertex as it is: its Output is set already.
func (paintShader) Vertex(v fauxgl.Vertex) fauxgl.Vertex { return v }

// Fragment returns the colour between the corners.
func (paintShader) Fragment(v fauxgl.Vertex) fauxgl.Color { return v.Color }

// locate projects an item's points and finds which of its triangles face the viewer.
func (t *tile) locate(m *model, ps *pose) {
	s := &t.scratch
	s.place, s.front = resize(s.place, len(m.mesh.Points)), resize(s.front, len(m.mesh.Triangles))
	for i, q := range m.mesh.Points {
		x, y, z := ps.project(q)
		s.place[i] = [3]float64{x, y, z}
	}
	for i, tri := range m.mesh.Triangles {
		a, b, c := &s.place[tri[0]], &s.place[tri[1]], &s.place[tri[2]]
		area := float64((b[0]-a[0])*(c[1]-a[1])) - float64((b[1]-a[1])*(c[0]-a[0]))
		// The picture's y runs down, so that a facing triangle turns the other way. Thinner ones are seen edge-on.
		s.front[i] = area < -edgeOn
	}
}

// edgeOn is twice the area in square pixels under which a triangle counts as seen edge-on.
const edgeOn = 1e-7

func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}

// surfaces draws the triangles of an item.
func (t *tile) surfaces(i int) {
	it := &t.scene.Items[i]
	m := t.models[it.Shape]
	ps := t.camera.poseOf(it.Place)
	t.locate(m, &ps)
	s := &t.scratch
	s.shade = resize(s.shade, len(m.smooth.point))
	for v, n := range m.smooth.normal {
		s.shade[v] = ps.shade(n) * m.light[v]
	}
	paint := paints(it.Kind, t.marked[i])
	var corners [3]spot
	left, top := float64(t.left), float64(t.top)
	size := float64(t.context.Width) / samples
	for j, vs := range m.smooth.triangle {
		if !s.front[j] {
			continue
		}
		a, b, c := &s.place[m.smooth.point[vs[0]]], &s.place[m.smooth.point[vs[1]]], &s.place[m.smooth.point[vs[2]]]
		if outside(a[0], b[0], c[0], left, left+size) || outside(a[1], b[1], c[1], top, top+size) {
			continue
		}
		base := paint[m.mesh.Surfaces[j]]
		for q, v := range vs {
			if m.dye != nil {
				base = m.dye[m.smooth.point[v]]
			}
			at := &s.place[m.smooth.point[v]]
			corners[q] = spot{(at[0] - left) * samples, (at[1] - top) * samples, at[2], base.lit(s.shade[v])}
		}
		t.triangle(corners)
	}
}

// outside reports whether three coordinates all lie below low or all above high.
func outside(a, b, c, low, high float64) bool {
	return a < low && b < low && c < low || a > high && b > high && c > high
}

// resolve takes the mean of each pixel's samples, and the depth of the middle one.
func (t *tile) resolve() {
	w := t.context.Width
	pix := t.context.ColorBuffer.Pix
	for y := t.y0; y < t.y1; y++ {
		for x := t.x0; x < t.x1; x++ {
			at := ((y-t.top)*samples)*w + (x-t.left)*samples
			var r, g, b, n int
			for sy := range samples {
				row := pix[4*(at+sy*w):]
				for sx := range samples {
					if row[4*sx+3] != 0 {
						r += int(row[4*sx])
						g += int(row[4*sx+1])
						b += int(row[4*sx+2])
						n++
					}
				}
			}
			if n == 0 {
				continue
			}
			i := y*t.width + x
			t.colour[3*i], t.colour[3*i+1], t.colour[3*i+2] = uint8((r+n/2)/n), uint8((g+n/2)/n), uint8((b+n/2)/n)
			t.cover[i] = uint8((n*255 + samples*samples/2) / (samples * samples))
			if z := t.context.DepthBuffer[at+samples/2*w+samples/2]; z <= 1 {
				t.depth[i] = float32(t.camera.trueDepth(z))
			}
		}
	}
}

// tint is a colour of 0 to 1.
type tint struct{ r, g, b float64 }

func tintOf(c color.RGBA) tint {
	return tint{float64(c.R) / 255, float64(c.G) / 255, float64(c.B) / 255}
}

// lit returns the colour under a light of the given strength; over 1 it goes toward white.
func (c tint) lit(s float64) fauxgl.Color {
	if s <= 1 {
		return fauxgl.Color{R: c.r * s, G: c.g * s, B: c.b * s, A: 1}
	}
	w := s - 1
	return fauxgl.Color{R: c.r + (1-c.r)*w, G: c.g + (1-c.g)*w, B: c.b + (1-c.b)*w, A: 1}
}

// paints returns the colour of each kind of surface of an item.
func paints(k Kind, marked bool) [5]tint {
	var out [5]tint
	for s := range Fitting + 1 {
		c := finishes[finishOf(s, k)].colour
		if marked && s != Machined {
			c = highlightColour
		}
		out[s] = tintOf(c)
	}
	return out
}

// shade returns the strength of light on a surface of the given normal (in item coordinates): a bright
// sky above a dimmer ground, a key light over the viewer's left shoulder and a weak one from the right.
func (p *pose) shade(n [3]float32) float64 {
	v := [3]float64{float64(n[0]), float64(n[1]), float64(n[2])}
	x, y, z := dot3(p.x, v), -dot3(p.y, v), dot3(p.z, v)
	sky := 0.5 + 0.5*(p.upX*v[0]+p.upY*v[1]+p.upZ*v[2])
	key := math.Max(0, keyLight[0]*x+keyLight[1]*y+keyLight[2]*z)
	fillIn := math.Max(0, fillLight[0]*x+fillLight[1]*y+fillLight[2]*z)
	sheen := math.Pow(math.Max(0, sheenLight[0]*x+sheenLight[1]*y+sheenLight[2]*z), 24)
	return 0.42 + 0.30*sky + 0.42*key + 0.08*fillIn + 0.10*sheen
}

// The directions to the lights: right, up, toward the viewer.
var (
	keyLight   = unit3(-0.55, 0.55, 0.63)
	fillLight  = unit3(0.8, 0.1, 0.5)
	sheenLight = unit3(-0.3, 0.32, 0.9) // half way between key light and eye
)

func unit3(x, y, z float64) [3]float64 {
	l := math.Sqrt(x*x + y*y + z*z)
	return [3]float64{x / l, y / l, z / l}
}
