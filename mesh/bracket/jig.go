package bracket

import (
	"fmt"
	"math"
	"slices"

	"barwright/frame"
	"barwright/geom"
	"barwright/internal/parallel"
	"barwright/mesh/bracket/csg"
	"barwright/standard"
)

// pinLong is how far the pins that join two pieces reach into the upper one, mm.
const pinLong = 5

// mostPieces bounds the pieces of a jig for one end: their errors add up.
const mostPieces = 16

// stopThick is the thickness of a jig's end stop, mm.
const stopThick = 5

// jigHole is a hole of the part as a jig sees it: z runs from the jig's stop into the bar.
type jigHole struct {
	side        geom.Side
	z, offset   float64
	diameter    float64
	partSide    geom.Side // in the part's own numbering
	fromPartEnd float64
}

// jigPiece is a piece of a jig: it covers the bar from one place to another and holds the guides between.
type jigPiece struct {
	end      int // 0 or 1 of the part
	number   int
	of       int
	from, to float64
	text     float64 // where the text's middle stands, 0 for none
	holes    []jigHole
}

// buildJig makes the jig for the holes of a part: each hole is guided from the end it lies nearer to.
func buildJig(s Spec) ([]*Result, error) {
	base, e := s.resolve()
	if e != nil {
		return nil, e
	}
	if s.Part == nil {
		return nil, fight(RulePart, "part", "a drill jig needs the part that it is for")
	}
	if !s.Part.Bar.Profile.Same(base.p) {
		return nil, fight(RulePart, "part,profile", "the part's profile is %s, the jig's %s", s.Part.Bar.Profile.Name, base.p.Name)
	}
	if len(s.Part.Bar.Holes) == 0 {
		return nil, fight(RulePart, "part", "part %s has no holes to drill", s.Part.Mark)
	}
	var models []*model
	var names []string
	for end := range 2 {
		holes, e := base.jigHoles(end)
		if e != nil {
			return nil, e
		}
		if len(holes) == 0 {
			continue
		}
		pieces, e := base.jigPieces(end, holes)
		if e != nil {
			return nil, e
		}
		for _, p := range pieces {
			m, e := s.resolve()
			if e != nil {
				return nil, e
			}
			m.makeJigPiece(p)
			name := fmt.Sprintf("drill-jig %s end %d", s.Part.Mark, end+1)
			if p.of > 1 {
				name += fmt.Sprintf(" piece %d", p.number)
			}
			models, names = append(models, m), append(names, name)
		}
	}
	return finishAll(models, names)
}

// finishAll builds the meshes of models side by side. Of several errors it returns that of the first model.
func finishAll(models []*model, names []string) ([]*Result, error) {
	out, failed := make([]*Result, len(models)), make([]error, len(models))
	parallel.Do(len(models), func(i int) { out[i], failed[i] = models[i].finish(names[i]) })
	if err := parallel.FirstError(failed); err != nil {
		return nil, err
	}
	return out, nil
}

// jigHoles returns the holes that are guided from an end, by rising distance.
func (m *model) jigHoles(end int) ([]jigHole, *Error) {
	bar := m.spec.Part.Bar
	turned := bar
	if end == 1 {
		turned = frame.Turn{Flip: true}.Apply(&bar)
	}
	var out []jigHole
	other := !bar.Cuts[1-end].Square()
	for _, h := range turned.Holes {
		if h.Z > bar.Length/2+geom.Coincident && !other || math.Abs(h.Z-bar.Length/2) <= geom.Coincident && end == 1 && !other {
			continue // nearer to the other end
		}
		if !bar.Cuts[end].Square() {
			if other {
				return nil, fight(RulePart, "part", "both ends of part %s are mitred: a jig has no square end to stop at", m.spec.Part.Mark)
			}
			return nil, nil
		}
		side := h.Side
		if end == 1 {
			side = (4 - h.Side) % 4
		}
		d := math.Max(h.Diameter, h.Bore)
		out = append(out, jigHole{side: h.Side, z: h.Z, offset: h.Offset, diameter: d, partSide: side, fromPartEnd: h.Z})
	}
	slices.SortStableFunc(out, func(a, b jigHole) int { return int(math.Copysign(1, a.z-b.z)) })
	return out, nil
}

// margin returns how far material must reach beyond the middle of a guide hole along the bar.
func (m *model) guideMargin(h jigHole) float64 {
	return (m.guideDiameter(h)+m.a.HHole)/2*math.Sqrt2 + 3
}

// guideDiameter returns the hole that a guide gets before allowances.
func (m *model) guideDiameter(h jigHole) float64 {
	if b := m.v("bush"); b > 0 {
		return b
	}
	return h.diameter
}

// jigPieces splits a jig into pieces that the bed takes.
func (m *model) jigPieces(end int, holes []jigHole) ([]jigPiece, *Error) {
	room := m.bed.Z - 1 - m.v("pin") - 2
	textRows := m.jigText(end, nil)
	text := 0.0
	if h, _ := m.jigTextHeight(); h > 0 {
		text = float64(len(textRows))*h*1.5 + 2
	}
	last := 0.0
	for _, h := range holes {
		if m.v("bush") > 0 && m.v("bush") < h.diameter+1 {
			return nil, fight(RulePart, "bush,part", "a bush of %g mm outside can't guide a drill of %g mm", m.v("bush"), h.diameter)
		}
		last = math.Max(last, h.z+m.guideMargin(h))
	}
	total := math.Max(last+text, 0.8*m.p.Pitch)
	total = math.Min(total, math.Max(m.spec.Part.Bar.Length, last))
	var out []jigPiece
	from := 0.0
	for from < total-1e-9 {
		if len(out) >= mostPieces {
			return nil, fight(RuleBed, "part,bed", "the holes of part %s lie so far from its ends that the jig would need more than %d pieces", m.spec.Part.Mark, mostPieces)
		}
		to := from + room
		if from == 0 {
			to -= stopThick
		}
		if to >= total {
			to = total
		} else {
			// What is left is shared evenly, so that no piece is a mere ring.
			share := math.Ceil((total - from) / (to - from))
			to = math.Floor(from + (total-from)/share)
			for i := len(holes) - 1; i >= 0; i-- {
				if g := m.guideMargin(holes[i]) + pinLong + 1; math.Abs(holes[i].z-to) < g {
					to = math.Floor(holes[i].z - g)
				}
			}
			if to <= from+2*m.v("pin") {
				return nil, fight(RuleBed, "part,bed", "the holes of part %s stand so close that a jig can't be parted between them within the bed's %g mm", m.spec.Part.Mark, m.bed.Z)
			}
		}
		p := jigPiece{end: end, number: len(out) + 1, from: from, to: to}
		for _, h := range holes {
			if h.z > from && h.z < to {
				p.holes = append(p.holes, h)
			}
		}
		out = append(out, p)
		from = to
	}
	for i := range out {
		out[i].of = len(out)
		out[i].text = m.textPlace(out[i], text)
	}
	return out, nil
}

// textPlace finds the highest free stretch of a piece for its text; 0 for none.
func (m *model) textPlace(p jigPiece, text float64) float64 {
	if text == 0 {
		return 0
	}
	for z := p.to - text/2; z >= p.from+text/2-1e-9; z-- {
		free := true
		for _, h := range p.holes {
			free = free && math.Abs(h.z-z) >= text/2+m.guideMargin(h)-3
		}
		if free {
			return z
		}
	}
	return 0
}

// jigText returns the rows of text of a face: the mark, then end and face.
func (m *model) jigText(end int, h *jigHole) []string {
	row := fmt.Sprintf("E%d", end+1)
	if h != nil {
		row += fmt.Sprintf(" F%d", int(h.partSide)+1)
	}
	if m.spec.Part.Mark == "" {
		return []string{row}
	}
	return []string{m.spec.Part.Mark, row}
}

// jigTextHeight returns the height of a jig's text, 0 where none fits.
func (m *model) jigTextHeight() (float64, bool) {
	wide := math.Min(m.p.Size().X, m.p.Size().Y) + m.v("guide")
	h := math.Min(6, wide/math.Max(textWidth(m.spec.Part.Mark, 1), textWidth("E1 F1", 1)))
	if !m.legible(h) {
		return 0, false
	}
	for _, r := range m.spec.Part.Mark {
		if _, ok := glyphs[upper(r)]; !ok {
			return 0, false
		}
	}
	return h, true
}

// sleeveBody adds a sleeve round the bar from one place to another, open at both ends.
func (m *model) sleeveBody(from, to, wall float64) (outer geom.Vec2) {
	inner := m.p.Size().Scale(0.5).Add(geom.Vec2{X: m.a.Slide / 2, Y: m.a.Slide / 2})
	outer = inner.Add(geom.Vec2{X: wall, Y: wall})
	m.add(csg.Prism(geom.Identity(), csg.Rounded(outer.Scale(-1), outer, 3), from, to, m.a.First, m.a.First))
	place := geom.Identity()
	o := csg.Rectangle(inner.Scale(-1), inner)
	lo := math.Max(from, 0)
	m.cut(csg.Prism(place, o, lo-btoi(from >= 0), to+1, 0, 0))
	m.cut(csg.Flare(place, o, to, 1, 1)) // lets the bar in
	if from >= 0 && m.a.First > 0 {
		m.cut(csg.Flare(place, o, from, m.a.First, -1))
	}
	return outer
}

func btoi(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// makeJigPiece builds one piece; it stands on its stop or on the face that joins the piece before.
func (m *model) makeJigPiece(p jigPiece) {
	guide := m.a.lines(m.v("guide"))
	m.wall = guide
	pin := m.v("pin")
	if p.of > 1 && guide < pin+2*m.a.Fit+m.a.VHole+2*m.a.LeastTo+4*m.a.First {
		m.fail(fight(RuleThin, "pin,guide", "a pin of %g mm does not stand in a wall of %g mm", pin, guide))
		return
	}
	low := p.from
	if p.number == 1 {
		low = -stopThick
	}
	m.stand(geom.Vec{Z: 1}, geom.Vec{X: 1}, low, "part")
	outer := m.sleeveBody(low, p.to, guide)
	if p.number == 1 {
		for _, c := range m.p.Cores() { // chips fall out, and the bar's end is seen against the stop
			place := axes(geom.Vec{X: c.X, Y: c.Y, Z: low}, geom.Vec{Z: 1})
			r := math.Min(m.p.Core/2+3, m.p.Pitch/2-3)
			o := csg.Circle(geom.Vec2{}, r)
			m.hole(place, 2*r, stopThick, "chips")
			m.cut(csg.Prism(place, o, -1, stopThick+1, 0, 0))
			m.flare(place, o)
		}
		m.contacts = append(m.contacts, Contact{Toward: geom.Vec{Z: 1}})
	}
	for _, h := range p.holes {
		m.guideHole(h, guide)
	}
	m.windows(p, guide)
	m.pins(p, outer, guide, pin)
	m.jigMarks(p, outer)
	m.jigMeasures(p, outer, guide, low, pin)
	m.jigNotes(p)
}

// guideHole cuts the guide of one hole through the wall of its face.
func (m *model) guideHole(h jigHole, guide float64) {
	n := h.side.Normal()
	q := m.p.Point(h.side, h.offset, -m.a.Slide/2-guide)
	place := axes(geom.Vec{X: q.X, Y: q.Y, Z: h.z}, geom.Vec{X: -n.X, Y: -n.Y})
	o, d := m.round(place, m.guideDiameter(h))
	what := fmt.Sprintf("drill %g", h.diameter)
	if m.v("bush") > 0 {
		what = fmt.Sprintf("bush %g, drill %g", m.v("bush"), h.diameter)
	}
	m.hole(place, d, guide, what)
	m.cut(csg.Prism(place, o, -1, guide+1, 0, 0))
}

// windows lightens the sleeve where nothing is guided: upright openings with a roof of 45°, through which the bar is seen.
func (m *model) windows(p jigPiece, guide float64) {
	const rim = 10
	for side := range geom.Side(4) {
		half := m.p.Along(side)/2 - 5
		stops := []float64{p.from, p.to}
		if p.text != 0 {
			h, _ := m.jigTextHeight()
			stops = append(stops, p.text-1.5*h, p.text+1.5*h)
		}
		for _, h := range p.holes {
			if h.side == side {
				stops = append(stops, h.z-m.guideMargin(h), h.z+m.guideMargin(h))
			}
		}
		slices.Sort(stops)
		n := side.Normal()
		q := m.p.Point(side, 0, -m.a.Slide/2-guide)
		for i := 0; i+1 < len(stops); i++ {
			lo, hi := stops[i]+rim/2, stops[i+1]-rim/2
			if p.text != 0 && stops[i] < p.text && stops[i+1] > p.text {
				continue
			}
			if m.guarded(p, side, lo, hi) {
				continue
			}
			for hi-lo > 2*half+4 {
				top := math.Min(hi, lo+4*half)
				place := axes(geom.Vec{X: q.X, Y: q.Y}, geom.Vec{X: -n.X, Y: -n.Y}) // its x is the frame's z
				m.cut(csg.Prism(place, csg.Polygon(geom.Vec2{X: lo, Y: -half}, geom.Vec2{X: top - half, Y: -half},
					geom.Vec2{X: top, Y: 0}, geom.Vec2{X: top - half, Y: half}, geom.Vec2{X: lo, Y: half}), -1, guide+1, 0, 0))
				lo = top + rim
			}
		}
	}
}

// guarded reports whether a stretch of a side overlaps the surroundings of one of its guides.
func (m *model) guarded(p jigPiece, side geom.Side, lo, hi float64) bool {
	for _, h := range p.holes {
		if g := m.guideMargin(h); h.side == side && h.z+g > lo && h.z-g < hi {
			return true
		}
	}
	return false
}

// pins joins the pieces: three pins on the upper face, holes in the lower one.
func (m *model) pins(p jigPiece, outer geom.Vec2, guide, pin float64) {
	if p.of == 1 {
		return
	}
	const long = pinLong
	for k := range 3 {
		c := geom.Vec2{X: outer.X - guide/2, Y: outer.Y - guide/2}
		if k == 1 {
			c.X = -c.X
		}
		if k == 2 {
			c.Y = -c.Y
		}
		if p.number < p.of {
			place := axes(geom.Vec{X: c.X, Y: c.Y, Z: p.to}, geom.Vec{Z: 1})
			m.late = append(m.late, csg.Prism(place, csg.Circle(geom.Vec2{}, pin/2), -1, long, 0, 0.8))
		}
		if p.number > 1 {
			place := axes(geom.Vec{X: c.X, Y: c.Y, Z: p.from}, geom.Vec{Z: 1})
			o, d := m.round(place, pin+2*m.a.Fit)
			m.hole(place, d, long+0.6, "pin").Blind = true
			m.cut(csg.Prism(place, o, -1, long+0.6, 0, 0))
			m.flare(place, o)
		}
	}
}

// jigMarks sinks the mark, the end and the number of each face that is drilled.
func (m *model) jigMarks(p jigPiece, outer geom.Vec2) {
	h, ok := m.jigTextHeight()
	if !ok || p.text == 0 {
		return
	}
	done := [4]bool{}
	marks := p.holes
	if len(marks) == 0 {
		marks = []jigHole{{}}
	}
	for i := range marks {
		hole := &marks[i]
		if done[hole.side] {
			continue
		}
		done[hole.side] = true
		n, t := hole.side.Normal(), hole.side.Toward()
		out := geom.Vec{X: n.X, Y: n.Y}
		reach := outer.X
		if n.Y != 0 {
			reach = outer.Y
		}
		rows := m.jigText(p.end, hole)
		if len(p.holes) == 0 {
			rows = m.jigText(p.end, nil)
		}
		for k, row := range rows {
			up := (float64(len(rows)-1)/2 - float64(k)) * h * 1.5
			// Read upright with the stop below: right × up is the face's own normal.
			right := geom.Vec{X: t.X, Y: t.Y}
			m.sink(row, out.Scale(reach).Add(geom.Vec{Z: p.text + up}), right, geom.Vec{Z: 1}, h)
		}
	}
}

func (m *model) jigNotes(p jigPiece) {
	m.notes = append(m.notes, fmt.Sprintf("Part %s, end %d. Slide the sleeve on until the bar meets the stop, clamp it, and drill through the guides.", m.spec.Part.Mark, p.end+1))
	for _, h := range p.holes {
		m.notes = append(m.notes, fmt.Sprintf("Face %d: ⌀%g at %g mm from end %d.", int(h.partSide)+1, h.diameter, math.Round(h.fromPartEnd*1000)/1000, p.end+1))
	}
	if p.of > 1 {
		m.notes = append(m.notes, fmt.Sprintf("Piece %d of %d: put the pieces together on their pins, pressed tight; measure the first hole before drilling on, as prints shrink.", p.number, p.of))
	}
	m.notes = append(m.notes, "Clear the chips often; wear eye protection, gloves off. Print standing on the stop.")
}

// makeTap builds the guide for tapping the core bores.
func makeTap(m *model) {
	thread := m.coreThread()
	t, ok := standard.ThreadByName(thread)
	if !ok {
		return
	}
	if m.spec.Wall == 0 {
		m.wall = m.a.lines(math.Max(3.2, m.wall))
	}
	shank := m.v("shank")
	if shank == 0 {
		shank = t.Nominal
	}
	guide := m.v("guide")
	if shank+2*m.a.LeastTo > m.p.Pitch-0.5 {
		m.fail(fight(RuleThin, "shank,pitch", "guides for a shank of %g mm leave no wall between bores %g mm apart", shank, m.p.Pitch))
		return
	}
	m.stand(geom.Vec{Z: 1}, geom.Vec{X: 1}, -guide, "guide,sleeve")
	outer := m.sleeveBody(-guide, m.v("sleeve"), m.wall)
	m.contacts = append(m.contacts, Contact{Toward: geom.Vec{Z: 1}})
	for _, c := range m.p.Cores() {
		place := axes(geom.Vec{X: c.X, Y: c.Y, Z: -guide}, geom.Vec{Z: 1})
		o, d := m.round(place, shank)
		m.hole(place, d, guide, fmt.Sprintf("shank %g of the tap", shank))
		m.cut(csg.Prism(place, o, -1, guide+1, 0, 0))
		m.flare(place, o)
	}
	m.tapMeasures(outer, guide, m.v("sleeve"))
	text := thread
	if m.spec.Text != "" {
		text = m.spec.Text + " " + thread
	}
	if h := math.Min(6, math.Min(1.6*outer.Y/textWidth(text, 1), 0.7*(guide+m.v("sleeve")))); m.legible(h) {
		m.sink(text, geom.Vec{X: outer.X, Z: (m.v("sleeve") - guide) / 2}, geom.Vec{Y: 1}, geom.Vec{Z: 1}, h)
	}
	m.notes = append(m.notes, fmt.Sprintf("Guides for the shank of an %s tap, %g mm, square to the bar's end. Cut with oil, back off every half turn.", thread, shank), "Print standing on the guide's face.")
}
