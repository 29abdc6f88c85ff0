package mesh

import (
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// benchBar is a 1,000 mm bar of 30x30-8 with six cross holes of 48 segments, three along each direction, and two end bores.
func benchBar(t testing.TB, shift float64) *frame.Bar {
	b := &frame.Bar{Profile: profile(t, "30x30-8"), Length: 1000}
	for i := range 3 {
		z := 100 + 300*float64(i) + shift
		b.Holes = append(b.Holes,
			frame.Hole{Side: geom.Right, Z: z, Diameter: 9},
			frame.Hole{Side: geom.Top, Z: z + 130, Diameter: 9})
	}
	for e := range 2 {
		b.Taps = append(b.Taps, frame.Tap{End: e, Thread: "M8", Depth: 22, Drill: 6.8, DrillDepth: 22})
	}
	return b
}

// benchTolerance splits a ⌀9 hole into 48 segments.
const benchTolerance = 0.0097

func BenchmarkSolid(b *testing.B) {
	bar := benchBar(b, 0)
	b.ReportAllocs()
	for b.Loop() {
		m, err := Solid(bar, benchTolerance)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(len(m.Triangles)), "triangles")
	}
}

// BenchmarkSolidBored is the same bar with end bores wider than the core.
func BenchmarkSolidBored(b *testing.B) {
	bar := benchBar(b, 0)
	for i := range bar.Taps {
		bar.Taps[i].Drill = 8.5
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Solid(bar, benchTolerance); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkSolids200 makes 200 different such bars.
func BenchmarkSolids200(b *testing.B) {
	bars := make([]*frame.Bar, 200)
	for i := range bars {
		bars[i] = benchBar(b, float64(i)*0.37)
	}
	b.ReportAllocs()
	for b.Loop() {
		for _, bar := range bars {
			if _, err := Solid(bar, benchTolerance); err != nil {
				b.Fatal(err)
			}
		}
	}
}
