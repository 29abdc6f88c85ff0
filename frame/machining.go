package frame

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"barwright/geom"
	"barwright/standard"

	"github.com/hashicorp/hcl/v2"
)

// tapFeet taps the post ends that carry foot studs. The stud goes into the core bore nearest to
// the middle of the end.
func (f *Frame) tapFeet() hcl.Diagnostics {
	var diags hcl.Diagnostics
	for _, foot := range f.Feet {
		if foot.On != FootPostEnd {
			continue
		}
		m := foot.Under
		end := m.endFacing(geom.Vec{Z: -1})
		core := nearestCore(m, foot.At)
		foot.At = m.Place.Apply(geom.Vec{X: core.X, Y: core.Y, Z: m.Bar.Plane(end)})
		row, ok := standard.ThreadByName(foot.Thread)
		if !ok || m.Bar.Profile.Core > row.MinorMax {
			diags = append(diags, problem(foot.Origin, "The foot's thread does not fit",
				fmt.Sprintf("A thread %s cannot be cut into the core bore of %s, %g mm wide. The core of this profile takes %s.",
					foot.Thread, m.Name, m.Bar.Profile.Core, m.Bar.Profile.Thread)))
			continue
		}
		m.tap(end, core, foot.Thread, f.footTapDepth(foot.Thread, row.Nominal))
	}
	return diags
}

// footTapDepth returns the depth of thread for a foot's stud: as an end screw's.
func (f *Frame) footTapDepth(thread string, nominal float64) float64 {
	for _, s := range builtinJoinings()[0].Sizes {
		if s.Thread == thread {
			return s.TapDepth
		}
	}
	return math.Ceil(2.5*nominal + 2)
}

// nearestCore returns the core bore of a bar nearest to a point of the frame.
func nearestCore(m *Member, at geom.Vec) geom.Vec2 {
	p := m.Place.Unapply(at)
	q := geom.Vec2{X: p.X, Y: p.Y}
	cores := m.Bar.Profile.Cores()
	best := cores[0]
	for _, c := range cores {
		if c.Dist(q) < best.Dist(q)-1e-9 {
			best = c
		}
	}
	return best
}

// problem returns an error at a place of the frame file.
func problem(at hcl.Range, summary, detail string) *hcl.Diagnostic {
	return &hcl.Diagnostic{Severity: hcl.DiagError, Summary: summary, Detail: detail, Subject: &at}
}

// tidyMachining sorts every bar's machining, makes one of what two joints ask for alike, and
// reports what cannot both be.
func (f *Frame) tidyMachining() hcl.Diagnostics {
	var diags hcl.Diagnostics
	for _, m := range f.Members {
		m.Bar.sort()
		m.Bar.mergeHoles()
		if a, b, bad := m.Bar.mergeTaps(); bad {
			diags = append(diags, problem(m.Origin, "Two threads in one bore",
				fmt.Sprintf("The %s end of %s is asked to be tapped %s by one joint, foot or printed part and %s by another. Give both the same thread.",
					DirectionName(m.EndNormal(a.End)), m.Name, a.Thread, b.Thread)))
		}
	}
	return diags
}

// sort puts the machining in the usual order: holes by side, place and offset; taps by end and place.
func (b *Bar) sort() {
	slices.SortStableFunc(b.Holes, func(g, h Hole) int {
		return cmp.Or(cmp.Compare(g.Side, h.Side), near(g.Z, h.Z), near(g.Offset, h.Offset), near(g.Diameter, h.Diameter),
			near(g.Depth, h.Depth), near(g.Bore, h.Bore), cmp.Compare(g.Purpose, h.Purpose))
	})
	slices.SortStableFunc(b.Taps, func(g, h Tap) int {
		return cmp.Or(cmp.Compare(g.End, h.End), near(g.Core.Y, h.Core.Y), near(g.Core.X, h.Core.X), cmp.Compare(g.Thread, h.Thread))
	})
}

// micron turns a length into whole thousandths of a millimetre, the step at which two lengths are compared.
func micron(v float64) int64 { return int64(math.Round(v * 1000)) }

// near compares two lengths to a thousandth of a millimetre.
func near(a, b float64) int { return cmp.Compare(micron(a), micron(b)) }

// plainThrough reports whether the hole is the same seen from either side.
func (h Hole) plainThrough() bool { return h.Depth == 0 && h.Bore == 0 && h.ThreadDepth == 0 }

// fromLower returns the hole as entered from the lower-numbered of its two sides, if it is the same from both.
func (h Hole) fromLower() Hole {
	if h.plainThrough() && h.Side >= 2 {
		h.Side, h.Offset = h.Side.Opposite(), -h.Offset+0
	}
	return h
}

// sameHole reports whether two holes remove the same material.
func sameHole(g, h Hole) bool {
	g, h = g.fromLower(), h.fromLower()
	return g.Side == h.Side && near(g.Z, h.Z) == 0 && near(g.Offset, h.Offset) == 0 && near(g.Diameter, h.Diameter) == 0 &&
		near(g.Depth, h.Depth) == 0 && near(g.Bore, h.Bore) == 0 && near(g.BoreDepth, h.BoreDepth) == 0 &&
		g.Thread == h.Thread && near(g.ThreadDepth, h.ThreadDepth) == 0
}

// mergeHoles drops holes that another hole already makes.
func (b *Bar) mergeHoles() {
	var out []Hole
next:
	for _, h := range b.Holes {
		for _, g := range out {
			if sameHole(g, h) {
				continue next
			}
		}
		out = append(out, h)
	}
	b.Holes = out
}

// mergeTaps makes one of the taps in one bore, the deepest; it returns two with different threads.
func (b *Bar) mergeTaps() (Tap, Tap, bool) {
	var out []Tap
	for _, t := range b.Taps {
		if n := len(out); n > 0 && out[n-1].End == t.End && out[n-1].Core.Dist(t.Core) < geom.Coincident {
			last := &out[n-1]
			if last.Thread != t.Thread {
				return *last, t, true
			}
			last.Depth, last.DrillDepth = max(last.Depth, t.Depth), max(last.DrillDepth, t.DrillDepth)
			continue
		}
		out = append(out, t)
	}
	b.Taps = out
	return Tap{}, Tap{}, false
}
