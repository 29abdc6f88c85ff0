package check

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/geom"
	"barwright/standard"

	"github.com/hashicorp/hcl/v2"
)

// leastWall is the wall in mm that should stay between two holes (common practice, no source).
const leastWall = 1.5

// metalShare is how much of the place where two holes cross must be metal for a wall between them to matter. A core
// bore as wide as the access holes leaves 21 % of the square round it, the built-in profiles up to 35 % (common practice,
// no source).
const metalShare = 0.4

// drilled is a hole with what the rules ask about it.
type drilled struct {
	frame.Hole
	bar *frame.Member
}

// name calls the hole as a message does.
func (h *drilled) name() string {
	at, end := fromEnd(h.bar, h.Z)
	return fmt.Sprintf("the %s hole ⌀%s %s mm from the %s end of %s", h.Purpose, mm(h.Diameter), mm(at), endName(h.bar, end), h.bar.Name)
}

// centre returns the point of the hole's axis in the middle of the bar.
func (h *drilled) centre() geom.Vec {
	return h.bar.SidePoint(h.Side, h.Z, h.Offset, h.bar.Bar.Profile.Across(h.Side)/2)
}

// wide returns the hole's greatest radius and the depth to which it goes.
func (h *drilled) wide(depth float64) float64 {
	if h.Bore > 0 && depth < h.BoreDepth {
		return h.Bore / 2
	}
	return h.Diameter / 2
}

// reach returns how deep the hole goes.
func (h *drilled) reach() float64 {
	if h.Through() {
		return h.bar.Bar.Profile.Across(h.Side)
	}
	return h.Depth
}

// holesOf returns the holes of a member.
func holesOf(b *frame.Member) []drilled {
	out := make([]drilled, len(b.Bar.Holes))
	for i, h := range b.Bar.Holes {
		out[i] = drilled{h, b}
	}
	return out
}

// originOf returns the line of the drill block that made a hole, else that of the bar.
func (m *model) originOf(h *drilled) hcl.Range {
	if h.Purpose == frame.Drilled {
		for _, d := range m.f.Drills {
			if d.Hole.Diameter != h.Diameter || d.Hole.Depth != h.Depth || d.Hole.Thread != h.Thread || d.Hole.Bore != h.Bore {
				continue
			}
			for _, b := range d.On {
				if b == h.bar {
					return d.Origin
				}
			}
		}
	}
	return h.bar.Origin
}

func holeMeetsTapRule() Rule {
	return Rule{Name: "hole-meets-tap", run: holesMeetTaps, Explain: `hole-meets-tap (error where the hole meets the screw, else warning)

A hole across the bar runs through the thread tapped into one of its ends. Where the screw reaches the hole, the key
or screw that should pass the hole can't; where only spare thread is met, the tap catches on the hole's edge and the
thread is torn.

The thread reaches from the end to the depth that the joining gives; a hole is met where its edge lies
before that.

Remedy: move the hole or the joint along the bar, or take a bracket for one of the two joints.`}
}

func holesMeetTaps(m *model) []Finding {
	screws := m.screwReach()
	var out []Finding
	for _, b := range m.f.Members {
		if len(b.Bar.Taps) == 0 {
			continue
		}
		for _, h := range holesOf(b) {
			for _, t := range b.Bar.Taps {
				if g, ok := holeMeetsTap(&h, t, screws[tapKey{b, t.End, t.Core}]); ok {
					g.Origin = m.originOf(&h)
					out = append(out, g)
				}
			}
		}
	}
	return out
}

// tapKey names a tapped bore.
type tapKey struct {
	bar  *frame.Member
	end  int
	core geom.Vec2
}

// screwReach returns how far the screws of joints reach into tapped ends.
func (m *model) screwReach() map[tapKey]float64 {
	out := map[tapKey]float64{}
	for _, j := range m.f.Joints {
		for i := range j.Fasteners {
			s := &j.Fasteners[i]
			if s.TipIn == nil || s.TipEnd < 0 {
				continue
			}
			k := tapKey{s.TipIn, s.TipEnd, coreOf(s)}
			out[k] = math.Max(out[k], s.Length-grip(s))
		}
	}
	return out
}

// coreOf returns the core bore that a screw goes into.
func coreOf(s *frame.Fastener) geom.Vec2 {
	p := s.TipIn.Place.Unapply(s.Seat)
	best := geom.Vec2{}
	for i, c := range s.TipIn.Bar.Profile.Cores() {
		if q := (geom.Vec2{X: p.X, Y: p.Y}); i == 0 || c.Dist(q) < best.Dist(q) {
			best = c
		}
	}
	return best
}

// grip returns what a screw passes from its seat to the end that it goes into.
func grip(s *frame.Fastener) float64 { return s.TipIn.EndPoint(s.TipEnd).Sub(s.Seat).Dot(s.Dir) }

// holeMeetsTap compares one hole with one tapped bore.
func holeMeetsTap(h *drilled, t frame.Tap, screw float64) (Finding, bool) {
	p := h.bar.Bar.Profile
	row, ok := standard.ThreadByName(t.Thread)
	if !ok {
		return Finding{}, false
	}
	deep := p.Across(h.Side)/2 - t.Core.Dot(h.Side.Normal()) // of the bore's axis under the hole's side
	r := h.wide(deep)
	aside := math.Abs(t.Core.Dot(h.Side.Toward()) - h.Offset)
	if aside >= r+row.Nominal/2 || h.reach() <= deep-row.Nominal/2 {
		return Finding{}, false
	}
	z := math.Abs(h.Z - h.bar.Bar.Plane(t.End))
	edge := z - r
	if edge >= t.Depth {
		return Finding{}, false
	}
	what, need, sev := "thread", t.Depth, Warning
	if edge < screw {
		what, sev = fmt.Sprintf("screw, which reaches %s mm,", mm(screw)), Error
	}
	return Finding{Severity: sev, Members: names(h.bar), At: h.bar.SidePoint(h.Side, h.Z, h.Offset, deep),
		Message: fmt.Sprintf("%s meets the %s in its tapped end %s × %s: its edge lies %s mm from the end, %s mm are needed, %s more",
			h.name(), what, t.Thread, mm(t.Depth), mm(edge), mm(need), mm(need-edge)),
		Remedy: "move the hole's joint along the bar, or take a bracket for one of the two joints"}, true
}

func holeMeetsHoleRule() Rule {
	return Rule{Name: "hole-meets-hole", run: holesMeetHoles, Explain: `hole-meets-hole (error where they break into each other, else warning)

Two holes of a bar leave less than 1.5 mm of wall between them, or break into each other in metal: the second drill runs off
into the first hole. Holes on one axis are one hole and no finding. Access holes that cross at right angles in a core bore
meet in the empty bore and are usual; they give no finding. But two through screws that cross in a core meet each other
(error), and a through screw that crosses an access hole bars the key's way once it is in (note).

The least wall is common practice, no source.

Remedy: move one of the joints along the bar by what is said, or make both holes one.`}
}

func holesMeetHoles(m *model) []Finding {
	var out []Finding
	for _, b := range m.f.Members {
		holes := holesOf(b)
		order := byPlace(holes)
		for i, x := range order {
			for _, y := range order[i+1:] {
				g, h := &holes[x], &holes[y]
				if h.Z-g.Z > 200 { // wider than any two holes and their wall
					break
				}
				if f, ok := m.twoHoles(g, h); ok && len(out) <= mostFindings {
					out = append(out, f)
				}
			}
		}
	}
	return out
}

// twoHoles compares two holes of one bar.
func (m *model) twoHoles(g, h *drilled) (Finding, bool) {
	dz := math.Abs(h.Z - g.Z)
	rg, rh := math.Max(g.Diameter, g.Bore)/2, math.Max(h.Diameter, h.Bore)/2
	if dz > rg+rh+leastWall {
		return Finding{}, false
	}
	wall, ok := 0.0, false
	if (g.Side-h.Side)%2 == 0 {
		wall, ok = parallelWall(g, h)
	} else {
		wall, ok = m.crossingWall(g, h)
	}
	if (g.Side-h.Side)%2 != 0 {
		if f, ok := m.screwsCross(g, h); ok {
			return f, true
		}
	}
	if !ok || wall >= leastWall {
		return Finding{}, false
	}
	f := Finding{Severity: Warning, Members: names(g.bar), At: g.centre().Add(h.centre()).Scale(0.5), Origin: m.originOf(h),
		Message: fmt.Sprintf("%s and %s leave a wall of %s mm; %s mm are needed, %s more", g.name(), h.name(), mm(wall), mm(leastWall), mm(leastWall-wall)),
		Remedy:  fmt.Sprintf("move one of them along the bar by %s mm at least", mm(leastWall-wall))}
	if wall < 0 {
		f.Severity = Error
		f.Message = fmt.Sprintf("%s and %s break into each other by %s mm; a wall of %s mm is needed", g.name(), h.name(), mm(-wall), mm(leastWall))
	}
	if m.originOf(g) != g.bar.Origin {
		f.Origin = m.originOf(g)
	}
	return f, true
}

// screwsCross finds screws that meet inside the bar, and screws that bar a key's way.
func (m *model) screwsCross(g, h *drilled) (Finding, bool) {
	if g.Purpose == frame.Drilled || h.Purpose == frame.Drilled || g.Purpose == frame.Access && h.Purpose == frame.Access {
		return Finding{}, false
	}
	apart := math.Abs(h.Z - g.Z)
	if need := (g.Diameter + h.Diameter) / 2; apart < need {
		f := Finding{Severity: Error, Members: names(g.bar), At: g.centre().Add(h.centre()).Scale(0.5), Origin: g.bar.Origin,
			Message: fmt.Sprintf("the screws through %s and %s meet inside the bar: they lie %s mm apart along it, %s mm are needed, %s more", g.name(), h.name(), mm(apart), mm(need), mm(need-apart)),
			Remedy:  fmt.Sprintf("move one of the joints along the bar by %s mm, or take another joining for one", mm(need-apart))}
		if g.Purpose == frame.Access || h.Purpose == frame.Access {
			f.Severity = Note
			f.Message = fmt.Sprintf("a screw bars the key's way where %s and %s cross, %s mm apart along the bar, %s mm would clear it: tighten the screw in the slot first", g.name(), h.name(), mm(apart), mm(need))
		}
		return f, true
	}
	return Finding{}, false
}

// parallelWall returns the wall between two holes drilled the same or the opposite way.
func parallelWall(g, h *drilled) (float64, bool) {
	offset, across := h.Offset, g.bar.Bar.Profile.Across(g.Side)
	from, to := [2]float64{0, 0}, [2]float64{g.reach(), h.reach()}
	if g.Side != h.Side {
		offset = -offset
		from[1], to[1] = across-h.reach(), across
	}
	d := math.Hypot(h.Z-g.Z, offset-g.Offset)
	if d < geom.Coincident {
		return 0, false // one hole
	}
	if apart := math.Max(from[1]-to[0], from[0]-to[1]); apart > 0 {
		return math.Max(apart, d-(g.Diameter+h.Diameter)/2), true
	}
	wall := d - (g.Diameter+h.Diameter)/2
	// Counterbores are wide only where they are deep.
	for _, pair := range [2][2]*drilled{{g, h}, {h, g}} {
		b, o := pair[0], pair[1]
		if b.Bore == 0 {
			continue
		}
		other := o.Diameter / 2
		if b.Side == o.Side && o.Bore > 0 {
			other = o.Bore / 2
		}
		if b.Side == o.Side || o.reach() > across-b.BoreDepth {
			wall = math.Min(wall, d-b.Bore/2-other)
		}
	}
	return wall, true
}

// crossingWall returns the wall along the bar between two holes square to each other, where they cross in metal.
func (m *model) crossingWall(g, h *drilled) (float64, bool) {
	p := g.bar.Bar.Profile
	// Each hole's axis lies at the depth of the other's offset.
	at := g.Side.Toward().Scale(g.Offset).Add(h.Side.Toward().Scale(h.Offset))
	dg := p.Across(g.Side)/2 - at.Dot(g.Side.Normal())
	dh := p.Across(h.Side)/2 - at.Dot(h.Side.Normal())
	rg, rh := g.wide(dg), h.wide(dh)
	if g.reach() < dg-rh || h.reach() < dh-rg {
		return 0, false
	}
	wall := math.Abs(h.Z-g.Z) - rg - rh
	half := geom.Vec2{X: rh, Y: rg}
	if g.Side == geom.Top || g.Side == geom.Bottom {
		half = geom.Vec2{X: rg, Y: rh}
	}
	return wall, metalIn(m.section(p), at, half) > metalShare
}

// metalIn returns which share of a rectangle of the section is metal.
func metalIn(polygons [][]geom.Vec2, at, half geom.Vec2) float64 {
	const n = 24
	in := 0
	for i := range n {
		y := at.Y + half.Y*(2*(float64(i)+0.5)/n-1)
		for k := range n {
			if inside(polygons, geom.Vec2{X: at.X + half.X*(2*(float64(k)+0.5)/n-1), Y: y}) {
				in++
			}
		}
	}
	return float64(in) / (n * n)
}

// inside reports whether a point lies in the metal of a section.
func inside(polygons [][]geom.Vec2, p geom.Vec2) bool {
	in := false
	for _, poly := range polygons {
		a := poly[len(poly)-1]
		for _, b := range poly {
			if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
				in = !in
			}
			a = b
		}
	}
	return in
}
