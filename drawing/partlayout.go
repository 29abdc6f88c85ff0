package drawing

import (
	"fmt"
	"math"

	"barwright/geom"
)

// rowGap is the clear height between two views, mm.
const rowGap = 6.0

// sides returns the room that the main view needs left and right of the bar: the end view and the names.
func (a *attempt) sides() (left, right float64) {
	if a.endsBelow() {
		return TextWidth("End 1, datum", DimText) + nameGap, TextWidth("End 2", DimText) + 5
	}
	w := a.bar.Profile.Across(a.main) * a.scale
	end := w + 4*faceRing + 4
	return end + 6 + TextWidth("End 1, datum", DimText) + nameGap, end + 8 + TextWidth("End 2", DimText) + 5
}

// endsBelow reports whether the ends get a row of their own: on the upright A4, which is too narrow for them beside the bar.
func (a *attempt) endsBelow() bool { return a.size.Name == "A4" }

// rows draws the views, one a face, from the top of the sheet; the main one has the end views beside it.
func (a *attempt) rows() ([]*Sheet, error) {
	left, right := a.sides()
	space := a.size.Space().Width() - 2*clearMark
	along, ok := newLengthMap(a.bar, a.scale, space-left-right)
	if !ok || len(along.pieces)-1 > a.breaks {
		return nil, errNoRoom
	}
	low, high := -left, space-left
	labels := holeLabels(a.bar)
	var out []*Sheet
	for _, side := range a.faces {
		v := newFaceView(a.bar, side, along)
		v.labels = labels
		v.draw()
		v.name(side == a.main)
		below := -v.half
		if a.table {
			v.labelHoles()
			if v.holeCount() > 0 {
				v.axes()
				below -= 9
			}
		} else {
			below = v.running(a.u)
		}
		var calls []callout
		if side == a.main {
			v.overall(a.u, below)
			if !a.endsBelow() {
				calls = a.endViews(v)
			}
		}
		calls = append(calls, a.mitres(v, low, high)...)
		if !a.table {
			calls = append(calls, a.holeCallouts(v)...)
		}
		if !placeCallouts(v.Sheet, calls, low, high) {
			return nil, errNoRoom
		}
		move(v.Ops, geom.Vec2{X: left})
		out = append(out, v.Sheet)
	}
	if a.endsBelow() {
		return a.endsRow(out, space)
	}
	return out, nil
}

// endsRow adds a row with both ends, each in its half of the width, in the order in which they would stand beside the bar.
func (a *attempt) endsRow(rows []*Sheet, width float64) ([]*Sheet, error) {
	both := &Sheet{}
	var calls []callout
	for i := range 2 {
		end := 1 - i
		if a.o.Projection == "third" {
			end = i
		}
		e := &endView{&Sheet{}, a.bar, end, a.main, a.scale}
		e.draw()
		if low, high := boundsOfOps(e.Ops); low.X < -width/4 || high.X > width/4 {
			return nil, errNoRoom
		}
		at := geom.Vec2{X: width * (0.25 + 0.5*float64(i))}
		move(e.Ops, at)
		both.Add(e.Ops...)
		calls = append(calls, e.callouts(at, a.u)...)
	}
	if !placeCallouts(both, calls, 0, width) {
		return nil, errNoRoom
	}
	return append(rows, both), nil
}

func (v *faceView) holeCount() int {
	n := 0
	for _, h := range v.bar.Holes {
		if h.Side == v.side {
			n++
		}
	}
	return n
}

// endViews draws both ends beside the main view and returns the callouts of their taps. In first angle the view
// from the left stands at the right; in third angle each stands at its own end.
func (a *attempt) endViews(v *faceView) []callout {
	left, right := a.sides()
	half := a.bar.Profile.Across(a.main) / 2 * a.scale
	reach := half + 2*faceRing + 2
	places := [2]geom.Vec2{{X: v.along.width() + right - reach}, {X: -left + reach}}
	if a.o.Projection == "third" {
		places[0], places[1] = places[1], places[0]
	}
	var calls []callout
	for end, at := range places {
		e := &endView{&Sheet{}, a.bar, end, a.main, a.scale}
		e.draw()
		move(e.Ops, at)
		v.Add(e.Ops...)
		calls = append(calls, e.callouts(at, a.u)...)
	}
	return calls
}

// holeCallouts returns the callouts of a face's holes, one for each group.
func (a *attempt) holeCallouts(v *faceView) []callout {
	var out []callout
	for _, g := range holeGroups(a.bar, v.side) {
		c := callout{above: v.half, below: -v.half}
		for _, i := range g.holes {
			h := a.bar.Holes[i]
			c.anchors = append(c.anchors, anchor{v.centre(h), math.Max(h.Diameter, h.Bore) / 2 * a.scale})
			c.of = append(c.of, holeID(i))
		}
		lines := g.kind.lines(a.u)
		lines[0] = times(len(g.holes)) + lines[0]
		c.variants = [][]string{lines}
		out = append(out, c)
	}
	return out
}

// stack puts a row under those before it, on a further sheet where one may be taken.
func (a *attempt) stack(row *Sheet) bool {
	low, high := boundsOfOps(row.Ops)
	for range 2 {
		p := a.pages[len(a.pages)-1]
		if p.y-(high.Y-low.Y) >= p.area.Low.Y {
			move(row.Ops, geom.Vec2{X: p.area.Low.X, Y: p.y - high.Y})
			p.Add(row.Ops...)
			p.views = append(p.views, row.Ops...)
			p.y -= high.Y - low.Y + rowGap
			return true
		}
		if !a.split || len(a.pages) > 8 {
			return false
		}
		a.newPage()
	}
	return false
}

// floatBlock is a block that stands wherever there is room: ways to draw it, the best first.
type floatBlock struct {
	variants [][]Op
	toRight  bool // preferred corner
}

// floats returns the hole table, the section and the pictorial view.
func (a *attempt) floats() []floatBlock {
	var out []floatBlock
	if a.table {
		rows := holeRows(a.bar, a.u)
		const chunk = 24
		for len(rows) > 0 {
			n := min(chunk, len(rows))
			out = append(out, floatBlock{variants: [][]Op{drawHoleTable(rows[:n]).Ops}})
			rows = rows[n:]
		}
	}
	sec := floatBlock{toRight: true}
	for _, s := range sectionScales(a.bar.Profile, a.scale) {
		sec.variants = append(sec.variants, drawSection(a.bar.Profile, a.main, s, a.u))
	}
	pic := newPictorial(a.bar, a.main)
	pic.draw()
	low, high := boundsOfOps(pic.Ops)
	pic.Write(Label, geom.Vec2{X: (low.X + high.X) / 2, Y: low.Y - 4 - SmallText}, SmallText, Centre, "Pictorial view, not to scale")
	return append(out, sec, floatBlock{variants: [][]Op{pic.Ops}})
}

// sectionScales returns scales for the section, the best first: not smaller than the views, large enough to read and small
// enough for the paper.
func sectionScales(p *geom.Profile, views float64) []float64 {
	size := p.Size()
	large := math.Max(size.X, size.Y)
	var out []float64
	for _, s := range []float64{5, 2, 1, 0.5, 0.2, 0.1} {
		if s >= views && large*s <= 64 && (large*s >= 24 || len(out) == 0) {
			out = append(out, s)
		}
	}
	if len(out) == 0 {
		return []float64{views}
	}
	return out
}

// drawSection draws the section of a part with its main sizes and its name.
func drawSection(p *geom.Profile, face geom.Side, scale float64, u units) []Op {
	sec := newSectionView(p, face, scale)
	sec.draw()
	sec.sizes(u, true)
	low, _ := boundsOfOps(sec.Ops)
	sec.Write(Label, geom.Vec2{Y: low.Y - 4 - DimText}, DimText, Centre, fmt.Sprintf("Section, seen at end 1 (%s)", scaleName(scale)))
	return sec.Ops
}

// float puts a block where it stands clear of all else, as near to its corner as it goes.
func (a *attempt) float(b floatBlock) bool {
	for _, ops := range b.variants {
		for _, p := range a.pages {
			if p.place(ops, b.toRight) {
				return true
			}
		}
	}
	if !a.split || len(a.pages) > 8 {
		return false
	}
	a.newPage()
	return a.pages[len(a.pages)-1].place(b.variants[0], b.toRight)
}

// place looks for room for a block on a page.
func (p *page) place(ops []Op, toRight bool) bool {
	const step, gap = 3.0, 5.0
	low, high := boundsOfOps(ops)
	w, h := high.X-low.X, high.Y-low.Y
	var taken []Area
	for _, op := range p.Ops {
		if r := roleOf(op); r == Border || r == Grid {
			// Only the centring marks reach into the drawing space.
			if st, ok := op.(*Stroke); !ok || st.Closed || r == Grid {
				continue
			}
		}
		l, hi := op.Bounds()
		taken = append(taken, Area{geom.Vec2{X: l.X - gap, Y: l.Y - gap}, geom.Vec2{X: hi.X + gap, Y: hi.Y + gap}})
	}
	best, found, score := geom.Vec2{}, false, math.Inf(1)
	for x := p.area.Low.X; x+w <= p.area.High.X; x += step {
		dx := x - p.area.Low.X
		if toRight {
			dx = p.area.High.X - x - w
		}
		for y := p.foot; y+h <= p.area.High.Y; {
			s := dx + 0.7*(y-p.foot)
			if s >= score {
				break
			}
			next, blocked := blocker(taken, Area{geom.Vec2{X: x, Y: y}, geom.Vec2{X: x + w, Y: y + h}})
			if !blocked {
				best, found, score = geom.Vec2{X: x, Y: y}, true, s
				break
			}
			y = next
		}
	}
	if !found {
		return false
	}
	move(ops, best.Sub(low))
	p.Add(ops...)
	p.floats = append(p.floats, ops...)
	return true
}

// spreadOut evens the white space between the views and the blocks under them.
func (p *page) spreadOut() {
	if len(p.views) == 0 || len(p.floats) == 0 {
		return
	}
	views, _ := boundsOfOps(p.views)
	_, blocks := boundsOfOps(p.floats)
	const keep = 10.0
	slack := views.Y - blocks.Y - keep
	if slack <= 0 {
		return
	}
	move(p.views, geom.Vec2{Y: -slack / 3})
	move(p.floats, geom.Vec2{Y: slack / 3})
}

// blocker returns the top of an area that overlaps another, and whether one does.
func blocker(taken []Area, a Area) (top float64, blocked bool) {
	for _, t := range taken {
		if t.Low.X < a.High.X && a.Low.X < t.High.X && t.Low.Y < a.High.Y && a.Low.Y < t.High.Y {
			return t.High.Y, true
		}
	}
	return 0, false
}
