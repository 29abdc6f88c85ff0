package mesh

import (
	"math"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

func profile(t testing.TB, name string) *geom.Profile {
	t.Helper()
	p, ok := geom.Builtin(name)
	if !ok {
		t.Fatalf("no built-in profile %s", name)
	}
	return p
}

func TestSmoke(t *testing.T) {
	for _, c := range []frame.Bar{
		{Length: 100},
		{Length: 100, Holes: []frame.Hole{{Side: geom.Right, Z: 50, Diameter: 7}}},
		{Length: 100, Holes: []frame.Hole{{Side: geom.Right, Z: 50, Diameter: 9}}},
		{Length: 100, Holes: []frame.Hole{{Side: geom.Right, Z: 50, Diameter: 7, Depth: 12}}},
		{Length: 100, Holes: []frame.Hole{{Side: geom.Top, Z: 50, Diameter: 9, Bore: 15, BoreDepth: 9}}},
		{Length: 100, Holes: []frame.Hole{{Side: geom.Right, Z: 50, Diameter: 7}, {Side: geom.Top, Z: 50, Diameter: 7}}},
		{Length: 100, Holes: []frame.Hole{{Side: geom.Right, Z: 2, Diameter: 7}}},
		{Length: 100, Cuts: [2]frame.Cut{{SlopeX: 1}, {SlopeY: -1}}},
		{Length: 100, Cuts: [2]frame.Cut{{SlopeX: 1}, {SlopeY: -1}}, Holes: []frame.Hole{{Side: geom.Right, Z: 10, Diameter: 7}, {Side: geom.Top, Z: 10, Diameter: 7}}},
		{Length: 100, Taps: []frame.Tap{{End: 0, Thread: "M8", Depth: 20, Drill: 6.8, DrillDepth: 20}}},
		{Length: 100, Taps: []frame.Tap{{End: 1, Thread: "M10", Depth: 20, Drill: 8.5, DrillDepth: 26}}, Holes: []frame.Hole{{Side: geom.Right, Z: 80, Diameter: 7}}},
	} {
		c.Profile = profile(t, "30x30-8")
		debugBalance(t, shapeOf(&c, DefaultTolerance), DefaultTolerance)
		m, err := Solid(&c, DefaultTolerance)
		if err != nil {
			t.Errorf("%+v: %v", c, err)
			continue
		}
		if err := m.Check(); err != nil {
			t.Errorf("%+v: %v", c, err)
		}
		want := c.Profile.Region().Area() * c.Length
		t.Logf("%d triangles, %.3f of %.3f", len(m.Triangles), m.Volume(), want)
		if math.Abs(m.Volume()/want-1) > 0.5 {
			t.Errorf("volume %g", m.Volume())
		}
	}
}
