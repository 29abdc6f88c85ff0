package bracket

import (
	"fmt"
	"math"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// measured is a part whose stated sizes are compared with its mesh.
type measured struct {
	name string
	spec Spec
}

// measuredParts returns every kind on profiles of all sizes, and the choices that change what is stated.
func measuredParts(t testing.TB) (out []measured) {
	add := func(profileName, kind string, params map[string]float64, more ...func(*Spec)) {
		s := Spec{Kind: kind, Profile: profile(t, profileName), Params: params, Text: "B1"}
		if kind == "drill-jig" {
			p := s.Profile
			s.Part = &frame.Part{Mark: "A3", Bar: frame.Bar{Profile: p, Length: 900, Holes: []frame.Hole{{Side: geom.Right, Z: 15, Diameter: 5}, {Side: geom.Top, Z: 60, Diameter: 7},
				{Side: geom.Right, Z: 320, Diameter: 7}, {Side: geom.Bottom, Z: 880, Diameter: 6, Offset: p.SlotLines(geom.Bottom)[0]}}}}
		}
		for _, f := range more {
			f(&s)
		}
		out = append(out, measured{fmt.Sprintf("%s on %s %v", kind, profileName, params), s})
	}
	type m = map[string]float64
	for _, p := range []string{"20x20-6", "30x30-8", "40x40-10", "30x60-8"} {
		for _, k := range kinds {
			params := m{}
			if k.Name == "caster-plate" {
				params = m{"pattern_x": 80, "pattern_y": 70}
			}
			add(p, k.Name, params)
		}
		add(p, "end-cap", m{"hold": 1})
		add(p, "drill-jig", m{"bush": 10})
	}
	for cells := 2.0; cells <= 4; cells++ {
		add("30x30-8", "angle", m{"cells": cells, "screws": cells - 1})
		if cells < 4 {
			add("20x20-6", "plate-tee", m{"cells": cells, "screws": 1})
		}
	}
	add("20x20-6", "plate-straight", m{"cells": 4, "screws": 3})
	for _, k := range []string{"plate-straight", "plate-tee", "plate-ell", "plate-cross"} {
		add("30x30-8", k, m{"head": 1})
		add("30x30-8", k, m{"ribs": 0, "screws": 1, "washer": 1})
	}
	for _, angle := range []float64{15, 30, 60, 75} {
		add("30x30-8", "brace-foot", m{"angle": angle, "screws": 2})
	}
	add("30x30-8", "caster-plate", m{"insert": 1, "bolt": 8, "pattern_x": 80})
	add("30x30-8", "caster-plate", m{"insert": 2, "pattern_y": 90})
	add("30x30-8", "slot-cover", m{"length": 180})
	add("30x30-8", "cable-clip", m{"cable": 15})
	add("30x30-8", "panel-clip", m{"panel": 8, "width": 40})
	add("30x30-8", "spacer", m{"height": 22.5, "ribs": 0})
	add("30x30-8", "square", m{"arm": 60, "broad": 28})
	add("40x40-10", "angle", nil, func(s *Spec) { s.ProfileB = profile(t, "30x30-8"); s.Profile, s.ProfileB = s.ProfileB, s.Profile })
	return out
}

// on reports whether a plane square to a direction through a point carries the mesh near the point: a facet that lies in it, or an edge.
func (f *facets) on(at, along geom.Vec) bool {
	const flat, near = 3e-3, 1.6 // bevelled edges end the faces early by as much
	d := at.Dot(along)
	for _, t := range f.m.Triangles {
		for k := range 3 {
			a, b := f.p[t[k]], f.p[t[(k+1)%3]]
			if a.Dist(at) < 0.01 {
				return true // a corner at the very point
			}
			if math.Abs(a.Dot(along)-d) > flat || math.Abs(b.Dot(along)-d) > flat {
				continue
			}
			s := b.Sub(a)
			u := math.Max(0, math.Min(1, at.Sub(a).Dot(s)/s.Dot(s)))
			if at.Dist(a.Add(s.Scale(u))) < near {
				return true
			}
		}
		if math.Abs(f.p[t[0]].Dot(along)-d) > flat || math.Abs(f.p[t[1]].Dot(along)-d) > flat || math.Abs(f.p[t[2]].Dot(along)-d) > flat {
			continue
		}
		n := f.p[t[1]].Sub(f.p[t[0]]).Cross(f.p[t[2]].Sub(f.p[t[0]]))
		inside := true
		for k := range 3 {
			a, b := f.p[t[k]], f.p[t[(k+1)%3]]
			inside = inside && b.Sub(a).Cross(at.Sub(a)).Dot(n) >= 0
		}
		if inside {
			return true
		}
	}
	return false
}

// onAxis reports whether the axis of a hole or a pin, which checkHole and checkRound find on the mesh, runs through the plane square to a direction at a point.
func onAxis(r *Result, at, along geom.Vec) bool {
	for _, h := range r.Holes {
		if math.Abs(h.Dir.Dot(along)) < 1e-9 && math.Abs(at.Sub(h.At).Dot(along)) < 1e-6 {
			return true
		}
	}
	for _, m := range r.Drawn.Measures {
		if m.Kind != Diameter || math.Abs(m.Face.Dot(along)) > 1e-9 {
			continue
		}
		for _, p := range append([]geom.Vec{m.From}, m.Also...) {
			if math.Abs(at.Sub(p).Dot(along)) < 1e-6 {
				return true
			}
		}
	}
	return false
}

// TestMeasuresAgreeWithTheMesh: both ends of every stated length lie on facets, edges or axes of holes of the mesh, which knows
// nothing of what is stated; the value is the distance of those planes. Holes, diameters and radii are measured by rays.
func TestMeasuresAgreeWithTheMesh(t *testing.T) {
	seen := map[string]int{}
	for _, c := range measuredParts(t) {
		all, err := BuildAll(c.spec)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		for _, r := range all {
			f := facetsOf(r.Mesh)
			for _, m := range r.Drawn.Measures {
				seen[r.Kind]++
				checkMeasure(t, c.name, r, f, m)
			}
			for i := 0; i < len(r.Holes); i += 1 + len(r.Holes)/8 { // of many some, the first and last among them
				checkHole(t, fmt.Sprintf("%s, hole %d", c.name, i), r, f, r.Holes[i])
			}
		}
	}
	for _, k := range kinds {
		if seen[k.Name] == 0 {
			t.Errorf("%s states no size", k.Name)
		}
	}
}

// checkMeasure compares one measure with the mesh.
func checkMeasure(t *testing.T, name string, r *Result, f *facets, m Measure) {
	t.Helper()
	printed := func(p geom.Vec) geom.Vec { return r.Place.Unapply(p) }
	if math.Abs(m.Along.Len()-1) > 1e-9 || math.Abs(m.Face.Len()-1) > 1e-9 || m.Kind <= Place && (math.Abs(m.Along.Dot(m.Out)) > 1e-9 || math.Abs(m.Face.Dot(m.Out)) > 1e-9) {
		t.Errorf("%s: %s is not square: along %v, out %v, face %v", name, m.Name, m.Along, m.Out, m.Face)
	}
	switch m.Kind {
	case Length, Place:
		if want := m.To.Sub(m.From).Dot(m.Along); math.Abs(m.Value-want) > 1e-9 || m.Value < -1e-9 {
			t.Errorf("%s: %s is %.3f between points %.3f apart", name, m.Name, m.Value, want)
		}
		along := r.Place.Unturn(m.Along)
		for i, p := range []geom.Vec{m.From, m.To} {
			if i == 0 && m.Sharp {
				continue // checkCorner
			}
			if !onAxis(r, p, m.Along) && !f.on(printed(p), along) {
				t.Errorf("%s: %s = %.2f: nothing of the mesh lies at %v in the plane square to %v", name, m.Name, m.Value, p, m.Along)
			}
		}
	case Angle:
		// Two faces lie in the planes through the corner, on the side of the legs.
		for _, leg := range []geom.Vec{m.Along, m.Out} {
			n, found := r.Place.Unturn(leg.Cross(m.Face).Unit()), false
			for at := 2.0; at < 40 && !found; at++ { // holes and ribs interrupt the face
				found = f.on(printed(m.From.Add(leg.Scale(at))), n)
			}
			if !found {
				t.Errorf("%s: no face runs from the corner along %v", name, leg)
			}
		}
		if got := math.Acos(m.Along.Dot(m.Out)); math.Abs(got-m.Value) > 1e-9 {
			t.Errorf("%s: the angle is %.3f, stated %.3f", name, got, m.Value)
		}
	case Diameter, Radius:
		checkRound(t, name, r, f, m)
	case Remark:
		if !f.touched(printed(m.From), 0.6) {
			t.Errorf("%s: %q points at nothing", name, m.Text)
		}
	}
}

// touched reports whether a point lies near the surface, within a distance.
func (f *facets) touched(p geom.Vec, near float64) bool {
	for k := range f.m.Triangles {
		if f.box[k].Grow(near).Overlaps(geom.Box{Low: p, High: p}.Grow(1e-3)) && math.Abs(f.n[k].Dot(p.Sub(f.p[f.m.Triangles[k][0]]))) < near {
			return true
		}
	}
	return false
}

// checkRound compares a diameter or radius with the flats that stand for it, half a millimetre behind the face that shows it.
func checkRound(t *testing.T, name string, r *Result, f *facets, m Measure) {
	t.Helper()
	radius := m.Value
	if m.Kind == Diameter {
		radius /= 2
	}
	if math.Abs(m.To.Dist(m.From)-radius) > 1e-9 {
		t.Errorf("%s: %s: radius %.3f, its point lies at %.3f", name, m.Name, radius, m.To.Dist(m.From))
	}
	axis := r.Place.Unturn(m.Face)
	centres := []geom.Vec{m.From}
	if m.Kind == Diameter {
		centres = append(centres, m.Also...)
		if len(centres) != m.Count {
			t.Errorf("%s: %d × %s, %d middles", name, m.Count, m.Name, len(centres))
		}
	}
	for _, c := range centres {
		checkFlats(t, name, f, m, r.Place.Unapply(c), axis, radius)
	}
}

// checkFlats counts the flats and corners of the mesh at a distance from an axis.
func checkFlats(t *testing.T, name string, f *facets, m Measure, centre, axis geom.Vec, radius float64) {
	t.Helper()
	// Facets parallel to the axis at that distance from it, or corners of them at that distance.
	flats, tips := 0, 0
	for i, tr := range f.m.Triangles {
		if math.Abs(f.n[i].Dot(axis)) < 1e-3 {
			if d := math.Abs(f.n[i].Dot(f.p[tr[0]].Sub(centre))); math.Abs(d-radius) < 3e-3 {
				flats++
			}
		}
		for _, q := range tr {
			d := f.p[q].Sub(centre)
			if d = d.Sub(axis.Scale(d.Dot(axis))); math.Abs(d.Len()-radius) < 3e-3 {
				tips++
			}
		}
	}
	if flats < 4 && tips < 4 {
		t.Errorf("%s: %s of %.3f at %v: %d flats and %d corners of the mesh lie at that distance", name, m.Name, m.Value, m.From, flats, tips)
	}
}

// checkHole measures a hole on the mesh: its diameter over flats at mid depth, its counterbore and its pocket, by rays; and that it goes
// right through where it says so.
func checkHole(t *testing.T, name string, r *Result, f *facets, h Hole) {
	t.Helper()
	const near = 0.003
	deep := math.Max(h.BoreDepth, h.FlatDepth)
	if deep == 0 {
		deep = 0.45 * h.Depth
	} else {
		deep += 0.75 * (h.Depth - deep)
	}
	if low, _ := bore(r, h.At.Add(h.Dir.Scale(deep)), h.Dir); math.Abs(2*low-h.Diameter) > 2*near {
		t.Errorf("%s: ⌀%.3f on the mesh, stated %.3f", name, 2*low, h.Diameter)
	}
	if h.Bore > 0 {
		if low, _ := bore(r, h.At.Add(h.Dir.Scale(h.BoreDepth-0.3)), h.Dir); math.Abs(2*low-h.Bore) > 2*near {
			t.Errorf("%s: the counterbore has ⌀%.3f, stated %.3f", name, 2*low, h.Bore)
		}
	}
	if h.Flats > 0 {
		if low, high := bore(r, h.At.Add(h.Dir.Scale(h.FlatDepth-0.3)), h.Dir); math.Abs(2*low-h.Flats) > 2*near || math.Abs(2*high-h.Flats*2/math.Sqrt(3)) > 0.02 {
			t.Errorf("%s: the pocket has %.3f over flats and %.3f over corners, stated %.3f", name, 2*low, 2*high, h.Flats)
		}
	}
	if h.Tip != (geom.Vec{}) {
		at := h.At.Add(h.Dir.Scale(deep))
		_, high := bore(r, at, h.Dir)
		if math.Abs(high-h.Diameter/2*math.Sqrt2) > 0.02*h.Diameter {
			t.Errorf("%s: the tip lies at %.3f, a teardrop's at %.3f", name, high, h.Diameter/2*math.Sqrt2)
		}
	}
	// A ray down the hole's own axis meets the bottom of a blind hole at its depth, and nothing in a through hole until past the part's wall.
	first := math.Inf(1)
	o, d := r.Place.Unapply(h.At.Sub(h.Dir.Scale(0.1))), r.Place.Unturn(h.Dir)
	for i := range f.m.Triangles {
		if x, ok := f.ray(i, o, d); ok && x > 0.2 && x < first {
			first = x
		}
	}
	switch {
	case h.Blind && math.Abs(first-0.1-h.Depth) > near:
		t.Errorf("%s: %.3f deep, stated %.3f", name, first-0.1, h.Depth)
	case !h.Blind && first-0.1 < h.Depth-near:
		t.Errorf("%s: a through hole of %.3f ends at %.3f", name, h.Depth, first-0.1)
	}
}
