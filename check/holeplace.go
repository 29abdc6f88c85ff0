package check

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"barwright/geom"
)

// byPlace returns the indices of holes by their place along the bar.
func byPlace(holes []drilled) []int {
	order := make([]int, len(holes))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(holes[i].Z, holes[j].Z) })
	return order
}

// edgeFactor is the least distance of a hole's middle from an edge in diameters: 1.2 d0 (EN 1999-1-1 table 8.2, recalled,
// so that it warns only).
const edgeFactor = 1.2

func holeNearEndRule() Rule {
	return Rule{Name: "hole-near-end", run: holesNearEnds, Explain: `hole-near-end (warning; error where the hole breaks out)

The middle of a hole lies less than 1.2 of its diameter from the end of the bar, or the hole's edge less than 1 mm from a
long edge of the bar; a counterbore counts with half a millimetre of wall. 1.2 diameters is the least edge distance of
EN 1999-1-1 for bolts (recalled). On a mitred end the shorter side counts.

Remedy: move the hole inward by what is said, or let the bar run on.`}
}

func holesNearEnds(m *model) []Finding {
	var out []Finding
	for _, b := range m.f.Members {
		for _, h := range holesOf(b) {
			for end := range 2 {
				if g, ok := nearEnd(&h, end); ok {
					g.Origin = m.originOf(&h)
					out = append(out, g)
				}
			}
			if g, ok := nearSide(&h); ok {
				g.Origin = m.originOf(&h)
				out = append(out, g)
			}
		}
	}
	return out
}

// endDistance returns how far the hole's axis lies from the plane of an end at the nearest.
func endDistance(h *drilled, end int) float64 {
	bar := &h.bar.Bar
	c, least := bar.Cuts[end], math.Inf(1)
	for _, depth := range [2]float64{0, h.reach()} {
		q := bar.Profile.Point(h.Side, h.Offset, depth)
		plane := bar.Plane(end) + float64(c.SlopeX*q.X) + float64(c.SlopeY*q.Y)
		d := h.Z - plane
		if end == 1 {
			d = plane - h.Z
		}
		least = math.Min(least, d)
	}
	return least
}

func nearEnd(h *drilled, end int) (Finding, bool) {
	d := endDistance(h, end)
	need := edgeFactor * h.Diameter
	if h.Bore > 0 {
		need = math.Max(need, h.Bore/2+0.5)
	}
	if d >= need-geom.Coincident {
		return Finding{}, false
	}
	g := Finding{Severity: Warning, Members: names(h.bar), At: h.bar.SidePoint(h.Side, h.Z, h.Offset, 0),
		Message: fmt.Sprintf("the %s hole ⌀%s in the %s side of %s lies %s mm from the %s end; %s mm are needed, %s more", h.Purpose, mm(h.Diameter),
			sideName(h.bar, h.Side), h.bar.Name, mm(d), endName(h.bar, end), mm(need), mm(need-d)),
		Remedy: fmt.Sprintf("move it inward by %s mm, or let the bar run on", mm(need-d))}
	if d < h.Diameter/2 {
		g.Severity = Error
		g.Message += "; it breaks out of the end"
	}
	return g, true
}

func nearSide(h *drilled) (Finding, bool) {
	half := h.bar.Bar.Profile.Along(h.Side) / 2
	wall := half - math.Abs(h.Offset) - math.Max(h.Diameter, h.Bore)/2
	if wall >= 1-geom.Coincident {
		return Finding{}, false
	}
	g := Finding{Severity: Warning, Members: names(h.bar), At: h.bar.SidePoint(h.Side, h.Z, h.Offset, 0),
		Message: fmt.Sprintf("%s leaves %s mm of the %s side's edge; 1 mm is needed, %s more", h.name(), mm(wall), sideName(h.bar, h.Side), mm(1-wall)),
		Remedy:  fmt.Sprintf("bring it %s mm nearer to the middle of the side, or drill smaller", mm(1-wall))}
	if wall < 0 {
		g.Severity = Error
		g.Message = fmt.Sprintf("%s breaks out of the edge of the %s side by %s mm; a wall of 1 mm is needed", h.name(), sideName(h.bar, h.Side), mm(-wall))
	}
	return g, true
}

func holeMissesRule() Rule {
	return Rule{Name: "hole-misses", run: holesMiss, Explain: `hole-misses (error where nothing is cut, else warning)

A drill that would cut nothing, as a shallow hole in the opening of a slot does, or only scratch the metal; and a
drill that would start on a slope or on one edge and run off: on the rounded edge of the bar, on the lip of a slot
with its middle in the opening, on the chamfer in the slot. A point of 118° is taken: its rim follows 0.6 of the
distance from its middle. A hole whose middle lies on a slot's centre line or on flat metal is right.

The figures are common practice, no source.

Remedy: put the hole on a slot's centre line or on the flat, or start it with a centre drill in a bush.`}
}

// Figures of a drill's start, mm (common practice, no source).
const (
	pointSlope = 0.6 // how much the rim of a 118° point stands back, per mm from its middle
	flatWithin = 0.3 // heights that count as one flat
	leastMetal = 0.5 // cut at least, as a mean over the hole
	startPatch = 1.0 // round the middle that must be flat
)

func holesMiss(m *model) []Finding {
	var out []Finding
	for _, b := range m.f.Members {
		seen := map[[4]float64]string{} // what holds for a side, an offset and a size holds along the bar
		for _, h := range holesOf(b) {
			key := [4]float64{float64(h.Side), h.Offset, h.Diameter, h.Depth}
			why, ok := seen[key]
			if !ok {
				why = m.badStart(&h)
				seen[key] = why
			}
			if why == "" {
				continue
			}
			sev := Warning
			if why == cutsNothing {
				sev = Error
				why = fmt.Sprintf(why, mm(h.Depth))
			}
			out = append(out, Finding{Severity: sev, Members: names(b), At: b.SidePoint(h.Side, h.Z, h.Offset, 0), Origin: m.originOf(&h),
				Message: fmt.Sprintf("%s, in its %s side, %s", h.name(), sideName(b, h.Side), why),
				Remedy:  "put it on a slot's centre line or on flat metal, or deeper; or start it with a centre drill in a bush"})
		}
	}
	return out
}

// cutsNothing is what is said of a hole in the air.
const cutsNothing = "meets no metal: it is %s mm deep, and the slot there is deeper"

// badStart says why the drill of a hole does not start well, or returns "".
func (m *model) badStart(h *drilled) string {
	poly := m.section(h.bar.Bar.Profile)
	r, steps := h.Diameter/2, 20
	first := func(u float64) float64 { return surface(h, poly, u) }
	metal, bite, biteAt := 0.0, math.Inf(1), 0.0
	var edge [2]float64
	for i := range edge {
		edge[i] = math.Inf(1)
	}
	for i := -steps; i <= steps; i++ {
		du := r * float64(i) / float64(steps) * 0.999
		d := first(h.Offset + du)
		metal += math.Max(0, h.reach()-d) * math.Sqrt(math.Max(0, r*r-du*du))
		c := d + pointSlope*math.Abs(du)
		if c < bite-1e-9 {
			bite, biteAt = c, du
		}
		if i < 0 {
			edge[0] = math.Min(edge[0], c)
		} else if i > 0 {
			edge[1] = math.Min(edge[1], c)
		}
	}
	mean := metal * r / float64(steps) * 2 / (math.Pi * r * r)
	switch {
	case mean <= 1e-6:
		return cutsNothing
	case mean < leastMetal:
		return fmt.Sprintf("only scratches the metal: %s mm on the mean, %s mm are needed", mm(mean), mm(leastMetal))
	}
	patch := math.Min(r, startPatch)
	here, low, high := first(h.Offset), first(h.Offset-patch), first(h.Offset+patch)
	if math.Abs(biteAt) < patch && math.Abs(low-high) <= flatWithin && math.Abs(here-low) <= flatWithin {
		return ""
	}
	if math.Abs(biteAt) >= patch && math.Abs(edge[0]-edge[1]) <= flatWithin {
		return "" // both rims bite alike and keep it straight
	}
	if math.Abs(biteAt) >= patch {
		return fmt.Sprintf("starts on one edge, %s mm from its middle, and runs off: one side bites %s mm before the other, %s mm are allowed",
			mm(math.Abs(biteAt)), mm(math.Abs(edge[0]-edge[1])), mm(flatWithin))
	}
	return fmt.Sprintf("starts on a slope: the metal there falls %s mm over %s mm, %s mm are allowed", mm(math.Abs(low-high)), mm(2*patch), mm(flatWithin))
}

// surface returns how deep under the hole's side the first metal lies at an offset; beyond the side's edge, infinitely deep.
func surface(h *drilled, polygons [][]geom.Vec2, u float64) float64 {
	n, t := h.Side.Normal(), h.Side.Toward()
	face, first := h.bar.Bar.Profile.Across(h.Side)/2, math.Inf(1)
	for _, poly := range polygons {
		a := poly[len(poly)-1]
		for _, b := range poly {
			ua, ub := a.Dot(t)-u, b.Dot(t)-u
			if (ua < 0) != (ub < 0) {
				w := ua / (ua - ub)
				first = math.Min(first, face-(a.Dot(n)*(1-w)+b.Dot(n)*w))
			}
			a = b
		}
	}
	return math.Min(first, 1e6)
}
