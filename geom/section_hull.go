package geom

import (
	"cmp"
	"slices"
)

// convexHull returns the corners of the convex hull, counter-clockwise from the leftmost lowest point, by
// Andrew's monotone chain (1979). It orders pts.
func convexHull(pts []Vec2) []Vec2 {
	slices.SortFunc(pts, func(a, b Vec2) int {
		if c := cmp.Compare(a.X, b.X); c != 0 {
			return c
		}
		return cmp.Compare(a.Y, b.Y)
	})
	pts = slices.Compact(pts)
	if len(pts) < 3 {
		return pts
	}
	var hull []Vec2
	grow := func(p Vec2, keep int) {
		for len(hull) >= keep+2 {
			a, b := hull[len(hull)-2], hull[len(hull)-1]
			if b.Sub(a).Cross(p.Sub(b)) > 0 {
				break
			}
			hull = hull[:len(hull)-1]
		}
		hull = append(hull, p)
	}
	for _, p := range pts {
		grow(p, 0)
	}
	lower := len(hull) - 1
	for i := len(pts) - 2; i >= 0; i-- {
		grow(pts[i], lower)
	}
	return hull[:len(hull)-1]
}
