package mesh

import (
	"testing"

	"barwright/frame"
)

// edgeSet returns the edges that an engine finds for a shape, by the planes of their vertices.
func edgeSet(t *testing.T, s *shape, lineOnly bool) (map[[7]int32]int, *builder) {
	t.Helper()
	b := &builder{tolerance: DefaultTolerance}
	if err := b.prepare(s, 0); err != nil {
		return nil, b
	}
	b.lineOnly = lineOnly
	b.run()
	out := map[[7]int32]int{}
	for _, d := range b.edges {
		k := [7]int32{d.face}
		copy(k[1:], b.corners.keys[d.a][:])
		copy(k[4:], b.corners.keys[d.b][:])
		out[k]++
	}
	return out, b
}

// TestPlainIsLines compares the short way for plain drills with the lines, edge for edge.
func TestPlainIsLines(t *testing.T) {
	plain, bores := 0, 0
	compare := func(name string, bar *frame.Bar) {
		s := shapeOf(bar, DefaultTolerance)
		got, b := edgeSet(t, s, false)
		want, _ := edgeSet(t, s, true)
		for i := range b.tools {
			if b.tools[i].plain && b.tools[i].sides > 0 {
				plain++
				if b.tools[i].axis == 2 {
					bores++
				}
			}
		}
		bad := 0
		for k, n := range want {
			if got[k] != n {
				if bad++; bad <= 5 {
					t.Errorf("%s: edge %v missing (%v to %v)", name, k, b.place([3]int32(k[1:4])), b.place([3]int32(k[4:])))
				}
			}
		}
		for k, n := range got {
			if want[k] != n {
				if bad++; bad <= 10 {
					t.Errorf("%s: edge %v not wanted (%v to %v)", name, k, b.place([3]int32(k[1:4])), b.place([3]int32(k[4:])))
				}
			}
		}
		if bad > 0 {
			t.FailNow()
		}
	}
	bars := sweep(t)
	for i := 0; i < len(bars); i += 23 {
		compare(bars[i].name, &bars[i].bar)
	}
	ps := sweepProfiles(t)
	for seed := range uint64(100) {
		b := randomBar(t, ps, seed)
		compare("random", &b)
	}
	for _, p := range ps {
		for _, wider := range []float64{0.004, 0.6, 1.9, 4.1} {
			b := frame.Bar{Profile: p, Length: 300}
			for end := range 2 {
				for _, c := range p.Cores() {
					b.Taps = append(b.Taps, frame.Tap{End: end, Core: c, Thread: "M8", Depth: 20, Drill: p.Core + wider, DrillDepth: 20 + wider})
				}
			}
			compare(p.Name+" bored", &b)
			b.Cuts[1].SlopeX = 0.4
			compare(p.Name+" bored and mitred", &b)
		}
	}
	if plain < 150 || bores < 50 {
		t.Errorf("only %d plain drills, %d of them end bores, were compared", plain, bores)
	}
}
