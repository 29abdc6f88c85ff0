package mesh

import (
	"math"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// TestFlatsStayFlat looks at the shading of a bar's outer flats beside its rounded corners, with holes that cut the flats
// into slivers: a flat some 9 mm wide beside facets of a round must keep its direction within 1° at
// every vertex, however it is cut into triangles (an angle at which no streak shows: common practice, no source).
func TestFlatsStayFlat(t *testing.T) {
	bar := frame.Bar{Profile: profile(t, "30x30-8"), Length: 1000}
	for i := range 6 {
		z := 60 + 150*float64(i)
		bar.Holes = append(bar.Holes,
			frame.Hole{Side: geom.Right, Z: z, Diameter: 11},
			frame.Hole{Side: geom.Top, Z: z + 40, Offset: 9.4, Diameter: 5},
			frame.Hole{Side: geom.Bottom, Z: z + 80, Offset: -9.4, Diameter: 5})
	}
	m, err := Solid(&bar, DefaultTolerance)
	if err != nil {
		t.Fatal(err)
	}
	s := smooth(m)
	worst, count := 0.0, 0
	for i, tri := range m.Triangles {
		side := -1
		for k := range 2 {
			if v := m.Points[tri[0]][k]; math.Abs(float64(v)) == 15 && m.Points[tri[1]][k] == v && m.Points[tri[2]][k] == v {
				side = k
			}
		}
		if side < 0 {
			continue
		}
		count++
		for _, v := range s.triangle[i] {
			worst = math.Max(worst, math.Acos(math.Min(1, math.Abs(float64(s.normal[v][side]))))*180/math.Pi)
		}
	}
	if count < 100 || worst > 1 {
		t.Errorf("vertices of %d triangles of flats are tilted by up to %.2f°", count, worst)
	}
	t.Logf("%d triangles, tilted by up to %.2f°", count, worst)
}
