package mesh

import (
	"math"
	"sort"

	"barwright/geom"
)

// bruteStops returns the places along z at which the cross section may change its law: corners of tools, ends and
// even steps between them.
func bruteStops(b *builder, s *shape) []float64 {
	mm := 1 / b.grid.perMM
	lo, hi := float64(b.low[2])*mm, float64(b.high[2])*mm
	set := []float64{lo, hi}
	for _, e := range s.ends {
		for _, c := range b.corner {
			set = append(set, e.at+e.sx*float64(c[0])*mm+e.sy*float64(c[1])*mm)
		}
	}
	for _, t := range b.tools {
		if t.axis == 2 && t.sides > 0 {
			set = append(set, t.box.low[2]*mm, t.box.high[2]*mm)
			continue
		}
		for _, p := range t.points {
			set = append(set, float64(p[1])*mm)
		}
	}
	sort.Float64s(set)
	out := []float64{lo}
	for _, z := range set {
		last := out[len(out)-1]
		if z <= last+1e-9 || z > hi {
			continue
		}
		// Between stops the law changes where a slanted plane passes a corner of another; short steps blunt that.
		step := 0.25
		if hi-lo < 25 {
			step = 0.01
		}
		n := math.Min(math.Ceil((z-last)/step), 40)
		for k := 1.0; k < n; k++ {
			out = append(out, last+(z-last)*k/n)
		}
		out = append(out, z)
	}
	return out
}

// halfPlane keeps n·p <= d.
type halfPlane struct {
	n geom.Vec2
	d float64
}

// cutLoop clips a polygon to a half plane (Sutherland and Hodgman, 1974); signed areas stay right for any polygon.
func cutLoop(l []geom.Vec2, h halfPlane) []geom.Vec2 {
	var out []geom.Vec2
	for i := range l {
		a, b := l[i], l[(i+1)%len(l)]
		da, db := h.n.Dot(a)-h.d, h.n.Dot(b)-h.d
		if da <= 0 {
			out = append(out, a)
		}
		if da < 0 && db > 0 || da > 0 && db < 0 {
			out = append(out, a.Add(b.Sub(a).Scale(da/(da-db))))
		}
	}
	return out
}

func areaWithin(loops [][]geom.Vec2, hs []halfPlane) float64 {
	a := 0.0
	for _, l := range loops {
		for _, h := range hs {
			l = cutLoop(l, h)
		}
		if len(l) > 2 {
			a += geom.PolygonArea(l)
		}
	}
	return a
}

// bruteArea returns the area of the cross section at z by inclusion and exclusion over the tools there, each a convex piece of the plane.
func bruteArea(b *builder, s *shape, loops [][]geom.Vec2, z float64) float64 {
	mm := 1 / b.grid.perMM
	var keep []halfPlane
	for e, p := range s.ends {
		sg := 1.0
		if e == 1 {
			sg = -1
		}
		keep = append(keep, halfPlane{geom.Vec2{X: sg * p.sx, Y: sg * p.sy}, sg * (z - p.at)})
	}
	// A square end keeps all or nothing: its half plane reads 0 <= d.
	var cuts [][]halfPlane
	for i := range b.tools {
		t := &b.tools[i]
		if t.sides == 0 || z < t.box.low[2]*mm || z > t.box.high[2]*mm {
			continue
		}
		var hs []halfPlane
		for r := t.first; r < t.last; r++ {
			p := &b.planes[r]
			n := geom.Vec2{X: p.f[0], Y: p.f[1]}
			d := p.fd*mm - p.f[2]*z
			if n.Len() == 0 {
				continue
			}
			hs = append(hs, halfPlane{n.Scale(1 / n.Len()), d / n.Len()})
		}
		cuts = append(cuts, hs)
	}
	var sum func(i int, hs []halfPlane, sg float64) float64
	sum = func(i int, hs []halfPlane, sg float64) float64 {
		if i == len(cuts) {
			return sg * areaWithin(loops, hs)
		}
		base := sum(i+1, hs, sg)
		if math.Abs(areaWithin(loops, append(append([]halfPlane(nil), hs...), cuts[i]...))) < 1e-12 {
			return base
		}
		return base + sum(i+1, append(append([]halfPlane(nil), hs...), cuts[i]...), -sg)
	}
	return sum(0, keep, 1)
}
