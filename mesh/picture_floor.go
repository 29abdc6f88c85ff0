package mesh

import (
	"math"
	"sort"

	"barwright/geom"
	"barwright/internal/parallel"
)

// floorShadow is the soft shadow that a scene throws on the plane it stands on: a grid of how dark it is.
type floorShadow struct {
	z, x0, y0, cell float64
	nx, ny          int
	dark            []float32 // 0 to 1
}

// The lamp is a wide disc overhead: what stands on the floor has a sharp shadow, what hangs high a soft one.
const (
	lampRadius  = 0.16 // tangent of its half angle
	lampTilt    = 0.3  // tangent of its tilt from the vertical
	slabs       = 12   // layers of height that are blurred as one
	slabGrowth  = 1.6  // power by which layers grow with height
	minLookDown = 0.06 // sine of the least elevation at which the floor is seen
	maxLookDown = 0.97 // from straight above a shadow would only blur the outlines
)

// newFloorShadow works out the shadow, or returns nil where the floor is not seen from above. Items count as
// their boxes. cells is how fine the grid is along its longer side. The scene is cut into layers; the shadow of each is drawn for the middle of the lamp and blurred by as much
// as the lamp's width blurs it from that height.
func newFloorShadow(s *Scene, boxes []geom.Box, c *camera, cells int) *floorShadow {
	whole := s.Box()
	if c.toward.Z < minLookDown || c.toward.Z > maxLookDown || whole.Empty() {
		return nil
	}
	f := newShadowGrid(whole, cells)
	slope := lampSlope(c)
	var layers [slabs][]float32
	height := whole.Size().Z
	parallel.Do(slabs, func(k int) {
		low := height * math.Pow(float64(k)/slabs, slabGrowth)
		high := height * math.Pow(float64(k+1)/slabs, slabGrowth)
		layer := make([]float32, f.nx*f.ny)
		for _, it := range s.Items {
			if h := shadowHull(it.Place, boxes[it.Shape], f.z+low, f.z+high, f.z, slope); len(h) > 2 {
				f.fill(h, layer)
			}
		}
		f.blur(layer, lampRadius*(low+high)/2/f.cell)
		layers[k] = layer
	})
	for i := range f.dark {
		open := float32(1)
		for k := range layers {
			open *= 1 - layers[k][i]
		}
		f.dark[i] = 1 - open
	}
	return f
}

// newShadowGrid lays the grid over all that the shadow can reach.
func newShadowGrid(whole geom.Box, cells int) *floorShadow {
	reach := whole.Size().Z*(lampTilt+2*lampRadius) + 0.03*whole.Size().Len()
	w, h := whole.Size().X+2*reach, whole.Size().Y+2*reach
	f := &floorShadow{z: whole.Low.Z, x0: whole.Low.X - reach, y0: whole.Low.Y - reach, cell: math.Max(w, h) / float64(cells)}
	f.nx, f.ny = int(math.Ceil(w/f.cell))+1, int(math.Ceil(h/f.cell))+1
	f.dark = make([]float32, f.nx*f.ny)
	return f
}

// lampSlope returns how far a shadow moves in x and y for each mm of height. The lamp hangs at the viewer's left, a
// little before the scene, whatever the view.
func lampSlope(c *camera) geom.Vec2 {
	side := geom.Vec2{X: c.right.X, Y: c.right.Y}
	return side.Scale(0.85 * lampTilt).Add(side.Quarter(1).Scale(0.53 * lampTilt))
}

// boxEdges are the twelve edges of a box as pairs of its corners' numbers.
var boxEdges = [12][2]int{{0, 1}, {2, 3}, {4, 5}, {6, 7}, {0, 2}, {1, 3}, {4, 6}, {5, 7}, {0, 4}, {1, 5}, {2, 6}, {3, 7}}

// shadowHull returns the outline of the shadow of the part of a placed box between two heights, nil where there is none.
func shadowHull(place geom.Motion, b geom.Box, low, high, floor float64, slope geom.Vec2) []geom.Vec2 {
	if b.Empty() {
		return nil
	}
	corners := b.Corners()
	for i := range corners {
		corners[i] = place.Apply(corners[i])
	}
	var pts []geom.Vec2
	add := func(v geom.Vec) {
		pts = append(pts, geom.Vec2{X: v.X, Y: v.Y}.Add(slope.Scale(v.Z-floor)))
	}
	for _, v := range corners {
		if v.Z >= low && v.Z <= high {
			add(v)
		}
	}
	for _, e := range boxEdges {
		p, q := corners[e[0]], corners[e[1]]
		for _, z := range [2]float64{low, high} {
			if (p.Z < z) != (q.Z < z) {
				add(p.Add(q.Sub(p).Scale((z - p.Z) / (q.Z - p.Z))))
			}
		}
	}
	if len(pts) < 3 {
		return nil
	}
	return convexHull(pts)
}

// convexHull returns the corners of the hull counter-clockwise (Andrew's monotone chain, 1979). It sorts pts.
func convexHull(pts []geom.Vec2) []geom.Vec2 {
	sort.Slice(pts, func(i, j int) bool {
		return pts[i].X < pts[j].X || pts[i].X == pts[j].X && pts[i].Y < pts[j].Y
	})
	var hull []geom.Vec2
	for pass := range 2 {
		start := len(hull)
		for i := range pts {
			q := pts[i]
			if pass == 1 {
				q = pts[len(pts)-1-i]
			}
			for len(hull) >= start+2 && hull[len(hull)-1].Sub(hull[len(hull)-2]).Cross(q.Sub(hull[len(hull)-1])) <= 0 {
				hull = hull[:len(hull)-1]
			}
			hull = append(hull, q)
		}
		hull = hull[:len(hull)-1]
	}
	return hull
}

// fill darkens the cells that lie in a convex outline, those at its ends by the part that does.
func (f *floorShadow) fill(h []geom.Vec2, layer []float32) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, q := range h {
		low, high = math.Min(low, q.Y), math.Max(high, q.Y)
	}
	first := max(0, int(math.Floor((low-f.y0)/f.cell)))
	for y := first; y < f.ny && f.y0+float64(y)*f.cell < high; y++ {
		at := math.Min(math.Max(f.y0+(float64(y)+0.5)*f.cell, low), high)
		left, right := math.Inf(1), math.Inf(-1)
		for i, a := range h {
			b := h[(i+1)%len(h)]
			if math.Min(a.Y, b.Y) <= at && at <= math.Max(a.Y, b.Y) {
				x0, x1 := a.X, b.X
				if a.Y != b.Y {
					x0 = a.X + (at-a.Y)*(b.X-a.X)/(b.Y-a.Y)
					x1 = x0
				}
				left, right = math.Min(left, math.Min(x0, x1)), math.Max(right, math.Max(x0, x1))
			}
		}
		if left > right {
			continue
		}
		left, right = (left-f.x0)/f.cell, (right-f.x0)/f.cell
		for x := max(0, int(left)); x < min(f.nx, int(right)+1); x++ {
			part := float32(math.Min(right, float64(x+1)) - math.Max(left, float64(x)))
			if c := &layer[y*f.nx+x]; part > *c {
				*c = part
			}
		}
	}
}

// blur spreads a layer by a radius in cells: three means over squares come close to a bell.
func (f *floorShadow) blur(layer []float32, radius float64) {
	r := max(1, int(math.Round(radius*0.6)))
	line := make([]float32, max(f.nx, f.ny))
	for range 3 {
		for y := range f.ny {
			meanLine(layer[y*f.nx:], 1, f.nx, r, line)
		}
		for x := range f.nx {
			meanLine(layer[x:], f.nx, f.ny, r, line)
		}
	}
}

// meanLine replaces n values, step apart, by the mean of those within r of each; outside lies zero.
func meanLine(v []float32, step, n, r int, line []float32) {
	dark := false
	for i := range n {
		line[i] = v[i*step]
		dark = dark || line[i] != 0
	}
	if !dark {
		return
	}
	sum, k := float32(0), 1/float32(2*r+1)
	for i := -r; i < n; i++ {
		if i+r < n {
			sum += line[i+r]
		}
		if i-r-1 >= 0 {
			sum -= line[i-r-1]
		}
		if i >= 0 {
			v[i*step] = min(max(sum*k, 0), 1)
		}
	}
}

// at returns how dark the floor is where the sight line through a place in the picture meets it.
func (f *floorShadow) at(c *camera, x, y float64) float64 {
	from, along := c.ray(x, y)
	if along.Z >= -1e-6 {
		return 0
	}
	q := from.Add(along.Scale((f.z - from.Z) / along.Z))
	u, v := (q.X-f.x0)/f.cell-0.5, (q.Y-f.y0)/f.cell-0.5
	if !(u >= 0 && v >= 0 && u < float64(f.nx-1) && v < float64(f.ny-1)) {
		return 0
	}
	i, j := int(u), int(v)
	fu, fv := float32(u-float64(i)), float32(v-float64(j))
	r0, r1 := f.dark[j*f.nx+i:], f.dark[(j+1)*f.nx+i:]
	return float64((r0[0]*(1-fu)+r0[1]*fu)*(1-fv) + (r1[0]*(1-fu)+r1[1]*fu)*fv)
}
