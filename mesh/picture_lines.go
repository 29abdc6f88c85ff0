package mesh

import (
	"math"

	"barwright/internal/parallel"
)

// Line weights as shares of full black.
const (
	silhouetteWeight = 0.9
	creaseWeight     = 0.5
	hollowWeight     = 0.25
)

// lineWidth returns the width of edge lines in pixels: thin, and in step with the picture's size.
func (p *painting) lineWidth() float64 {
	return math.Max(0.9, 1.0*math.Sqrt(float64(p.width)*float64(p.height)/(1200*900)))
}

// lines draws the edges of an item that are seen.
func (t *tile) lines(i int) {
	it := &t.scene.Items[i]
	m := t.models[it.Shape]
	ps := t.camera.poseOf(it.Place)
	t.locate(m, &ps)
	front := t.scratch.front
	width := t.lineWidth()
	for _, e := range m.edges {
		f0, f1 := front[e.t0], front[e.t1]
		switch {
		case f0 != f1 && !e.hollow:
			t.edge(t.scratch.place[e.a], t.scratch.place[e.b], 1.15*width, silhouetteWeight)
		case e.crease && f0 && f1 && e.hollow:
			t.edge(t.scratch.place[e.a], t.scratch.place[e.b], 0.9*width, hollowWeight)
		case e.crease && (f0 || f1):
			t.edge(t.scratch.place[e.a], t.scratch.place[e.b], width, creaseWeight)
		}
	}
}

// edge draws the parts of a line that nothing hides. The line is walked in steps of about half a pixel that depend on
// the whole line and not on the tile, so that neighbouring tiles agree.
func (t *tile) edge(a, b [3]float64, width, weight float64) {
	const reach = tileMargin - 0.5
	if t.endOn(a, b) {
		return
	}
	k0, k1, ok := clip(a, b, float64(t.x0)-reach, float64(t.y0)-reach, float64(t.x1)+reach, float64(t.y1)+reach)
	if !ok {
		return
	}
	n := math.Ceil(math.Hypot(b[0]-a[0], b[1]-a[1])*2) + 1
	first, last := int(math.Floor(k0*n)), int(math.Ceil(k1*n))
	at := func(k float64) (x, y, z float64) {
		f := math.Min(math.Max(k/n, 0), 1)
		return a[0] + f*(b[0]-a[0]), a[1] + f*(b[1]-a[1]), a[2] + f*(b[2]-a[2])
	}
	seen := resize(t.scratch.seen, max(last-first+1, 0))
	t.scratch.seen = seen
	for i := range seen {
		seen[i] = t.seen(at(float64(first + i)))
	}
	settle(seen)
	for i := 0; i < len(seen); i++ {
		if !seen[i] {
			continue
		}
		begin := i
		for i < len(seen) && seen[i] {
			i++
		}
		x0, y0, _ := at(float64(first+begin) - 0.5)
		x1, y1, _ := at(float64(first+i) - 0.5)
		t.stroke(x0, y0, x1, y1, width, weight)
	}
}

// shortGap and shortRun are how many steps a gap in a line, and a piece of it, must have to be taken for real. Where a
// line runs close to the rim of what hides it, samples fall on either side by chance and would leave dashes.
const (
	shortGap = 3
	shortRun = 8
)

// settle closes short gaps and takes out short pieces, but not those at the ends, which may go on outside.
func settle(seen []bool) {
	flip := func(what bool, limit int) {
		for i := 0; i < len(seen); {
			j := i
			for j < len(seen) && seen[j] == seen[i] {
				j++
			}
			if seen[i] == what && i > 0 && j < len(seen) && j-i < limit {
				for k := i; k < j; k++ {
					seen[k] = !what
				}
			}
			i = j
		}
	}
	flip(false, shortGap+1)
	flip(true, shortRun)
}

// endOn reports whether a line is seen nearly along itself, so that it would only make a speck.
func (t *tile) endOn(a, b [3]float64) bool {
	length := math.Hypot(b[0]-a[0], b[1]-a[1])
	if length > 1 {
		return false
	}
	near, far := t.camera.trueDepth(a[2]), t.camera.trueDepth(b[2])
	return math.Abs(far-near)*t.camera.pixelsPerMM(near) > 4*length
}

// clip returns the parameters between which the line from a to b lies in a rectangle (Liang and Barsky 1984).
func clip(a, b [3]float64, x0, y0, x1, y1 float64) (k0, k1 float64, ok bool) {
	k0, k1 = 0, 1
	for _, s := range [4][2]float64{{a[0] - b[0], a[0] - x0}, {b[0] - a[0], x1 - a[0]}, {a[1] - b[1], a[1] - y0}, {b[1] - a[1], y1 - a[1]}} {
		p, q := s[0], s[1]
		switch {
		case p == 0 && q < 0:
			return 0, 0, false
		case p < 0:
			k0 = math.Max(k0, q/p)
		case p > 0:
			k1 = math.Min(k1, q/p)
		}
	}
	return k0, k1, k0 <= k1
}

// seen reports whether nothing lies before a point of an edge: one of the samples round it must be as far or farther.
// Looking round it lets an edge show that lies at the rim of what it bounds.
func (t *tile) seen(x, y, z float64) bool {
	w, h := t.context.Width, t.context.Height
	ix, iy := int(math.Floor((x-float64(t.left))*samples)), int(math.Floor((y-float64(t.top))*samples))
	z -= t.slack(z)
	for sy := max(iy-1, 0); sy <= min(iy+1, h-1); sy++ {
		for sx := max(ix-1, 0); sx <= min(ix+1, w-1); sx++ {
			if z <= t.context.DepthBuffer[sy*w+sx] {
				return true
			}
		}
	}
	return false
}

// slack returns the allowance of the depth comparison: two hundredths of a pixel, in the depth buffer's unit.
func (t *tile) slack(z float64) float64 {
	depth := t.camera.trueDepth(z)
	mm := 0.02 / t.camera.pixelsPerMM(depth)
	return math.Abs(t.camera.screenDepth(depth+mm) - t.camera.screenDepth(depth))
}

// stroke draws a line with smooth sides and round ends into the tile's part of the line layer; where lines cross
// the darker one counts.
func (t *tile) stroke(x0, y0, x1, y1, width, weight float64) {
	dx, dy := x1-x0, y1-y0
	length := math.Hypot(dx, dy)
	half := width/2 + 0.5
	ux, uy := 1.0, 0.0
	if length > 0 {
		ux, uy = dx/length, dy/length
	}
	put := func(px, py int) {
		rx, ry := float64(px)+0.5-x0, float64(py)+0.5-y0
		along := math.Min(math.Max(rx*ux+ry*uy, 0), length)
		c := half - math.Hypot(rx-along*ux, ry-along*uy)
		if c <= 0 {
			return
		}
		v := uint8(math.Min(c, 1)*math.Min(width, 1)*weight*255 + 0.5)
		if at := &t.line[py*t.width+px]; v > *at {
			*at = v
		}
	}
	if math.Abs(dx) >= math.Abs(dy) {
		spread := half / math.Max(math.Abs(ux), 0.7)
		low, high := math.Min(x0, x1)-half, math.Max(x0, x1)+half
		for px := max(int(math.Floor(low)), t.x0); px < min(int(math.Ceil(high)), t.x1); px++ {
			y := y0
			if dx != 0 {
				y += (math.Min(math.Max(float64(px)+0.5, math.Min(x0, x1)), math.Max(x0, x1)) - x0) * dy / dx
			}
			for py := max(int(math.Floor(y-spread)), t.y0); py < min(int(math.Ceil(y+spread)), t.y1); py++ {
				put(px, py)
			}
		}
		return
	}
	spread := half / math.Max(math.Abs(uy), 0.7)
	low, high := math.Min(y0, y1)-half, math.Max(y0, y1)+half
	for py := max(int(math.Floor(low)), t.y0); py < min(int(math.Ceil(high)), t.y1); py++ {
		x := x0 + (math.Min(math.Max(float64(py)+0.5, math.Min(y0, y1)), math.Max(y0, y1))-y0)*dx/dy
		for px := max(int(math.Floor(x-spread)), t.x0); px < min(int(math.Ceil(x+spread)), t.x1); px++ {
			put(px, py)
		}
	}
}

// thinLines makes lines paler where they crowd, so that narrow slots seen from afar stay grey and
// don't clot.
func (p *painting) thinLines() {
	const reach = 4
	sums := make([]uint16, len(p.line))
	parallel.Do(p.height, func(y int) {
		row := p.line[y*p.width : (y+1)*p.width]
		sum := 0
		for x := -reach; x < p.width; x++ {
			if x+reach < p.width {
				sum += int(row[x+reach])
			}
			if x > reach {
				sum -= int(row[x-reach-1])
			}
			if x >= 0 {
				sums[y*p.width+x] = uint16(sum)
			}
		}
	})
	thin := make([]uint8, len(p.line))
	parallel.Do(p.height, func(y int) {
		for x := range p.width {
			v := p.line[y*p.width+x]
			if v == 0 {
				continue
			}
			thin[y*p.width+x] = v
			total := 0
			for r := max(y-reach, 0); r <= min(y+reach, p.height-1); r++ {
				total += int(sums[r*p.width+x])
			}
			density := float64(total) / (255 * (2*reach + 1) * (2*reach + 1))
			// One line through the window fills about an eighth of it, a cross a quarter.
			if density > 0.3 {
				thin[y*p.width+x] = uint8(float64(v) * math.Max(0.25, 1-1.9*(density-0.3)))
			}
		}
	})
	p.line = thin
}
