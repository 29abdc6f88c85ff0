package geom

import (
	"fmt"
	"math"
)

// Side is one of the four long sides of a bar, numbered from the side that looks
// along +x of its section in the direction from x to y. Looking at the bar's end
// at z = 0 from outside, that is clockwise.
type Side int

// The sides of a section.
const (
	Right  Side = iota // looks along +x
	Top                // looks along +y
	Left               // looks along -x
	Bottom             // looks along -y
)

// String returns the name used in a profile block's closed list.
func (s Side) String() string { return [...]string{"right", "top", "left", "bottom"}[s] }

// Normal returns the direction in which the side looks.
func (s Side) Normal() Vec2 { return Vec2{1, 0}.Quarter(int(s)) }

// Toward returns the direction along the side in which offsets grow: toward the next-numbered side.
func (s Side) Toward() Vec2 { return Vec2{0, 1}.Quarter(int(s)) }

// Opposite returns the side across the section.
func (s Side) Opposite() Side { return (s + 2) % 4 }

// Slot is the cross-section of one T-shaped slot, in mm.
type Slot struct {
	Opening float64 // width between the lips
	Lip     float64 // thickness of the lips
	Cavity  float64 // widest place behind the lips
	Depth   float64 // outside face to slot floor
	Chamfer float64 // 45° at the floor of the cavity
}

// Profile is a parametric slotted section: a rectangle of square cells, each with a core bore at its
// centre and a slot in each outer side. Where two cells meet, their facing cavities
// join to one closed chamber. All sizes are mm.
type Profile struct {
	Name         string
	Cells        [2]int // pitches wide (x) and high (y)
	Pitch        float64
	CornerRadius float64
	Slot         Slot
	Core         float64 // diameter of the core bore
	Thread       string  // the thread that the core bore takes: "M8"
	// Closed says which sides have no slot opening: the cavity stays as a
	// chamber behind a wall as thick as the lip.
	Closed [4]bool
	Alloy  string
}

// Size returns width (x) and height (y) of the section in mm.
func (p *Profile) Size() Vec2 {
	return Vec2{float64(p.Cells[0]) * p.Pitch, float64(p.Cells[1]) * p.Pitch}
}

// Across returns the size of the section along the normal of a side: the way a cross hole goes through.
func (p *Profile) Across(s Side) float64 {
	if s == Right || s == Left {
		return p.Size().X
	}
	return p.Size().Y
}

// Along returns the width of a side of the section.
func (p *Profile) Along(s Side) float64 { return p.Across((s + 1) % 4) }

// Cores returns the centres of the core bores, row by row from low x and low y.
func (p *Profile) Cores() []Vec2 {
	out := make([]Vec2, 0, p.Cells[0]*p.Cells[1])
	for j := range p.Cells[1] {
		for i := range p.Cells[0] {
			out = append(out, p.cell(i, j))
		}
	}
	return out
}

// cell returns the centre of a cell.
func (p *Profile) cell(i, j int) Vec2 {
	return Vec2{
		(float64(i) - float64(p.Cells[0]-1)/2) * p.Pitch,
		(float64(j) - float64(p.Cells[1]-1)/2) * p.Pitch,
	}
}

// SlotLines returns the offsets of the slots' centre lines on a side from the middle of
// the side, growing toward the next-numbered side. A closed side has none.
func (p *Profile) SlotLines(s Side) []float64 {
	if p.Closed[s] {
		return nil
	}
	return p.CellLines(s)
}

// CellLines returns the offsets of the cells' centre lines on a side, as
// [Profile.SlotLines] does, whether the side is closed or not.
func (p *Profile) CellLines(s Side) []float64 {
	n := p.Cells[1]
	if s == Top || s == Bottom {
		n = p.Cells[0]
	}
	out := make([]float64, n)
	for i := range out {
		out[i] = (float64(i) - float64(n-1)/2) * p.Pitch
	}
	return out
}

// Point returns the section point on a side at an offset from its middle (growing toward the
// next-numbered side) and a depth under the outside face.
func (p *Profile) Point(s Side, offset, depth float64) Vec2 {
	return s.Normal().Scale(p.Across(s)/2 - depth).Add(s.Toward().Scale(offset))
}

// Symmetric reports whether turning the section by n quarter turns counter-clockwise maps it to itself.
func (p *Profile) Symmetric(n int) bool {
	n = ((n % 4) + 4) % 4
	if n%2 != 0 && p.Cells[0] != p.Cells[1] {
		return false
	}
	for s := range Side(4) {
		if p.Closed[s] != p.Closed[(s+Side(n))%4] {
			return false
		}
	}
	return true
}

// Same reports whether two profiles have the same section and alloy, whatever their names.
func (p *Profile) Same(q *Profile) bool {
	a, b := *p, *q
	a.Name, b.Name = "", ""
	return a == b
}

// Region returns the exact outline of the section. The profile must pass [Profile.Validate].
func (p *Profile) Region() Region {
	outer := Loop{}
	for _, s := range []Side{Right, Top, Left, Bottom} {
		outer = append(outer, p.sideEdges(s)...)
	}
	region := Region{joinEnds(outer)}
	for s := range Side(4) {
		if p.Closed[s] {
			for _, o := range p.CellLines(s) {
				region = append(region, p.closedChamber(s, o))
			}
		}
	}
	region = append(region, p.innerChambers()...)
	for _, c := range p.Cores() {
		region = append(region, p.coreLoop(c))
	}
	return region
}

// sideEdges returns one side of the outline, counter-clockwise from the end of one corner to the end of the next.
func (p *Profile) sideEdges(s Side) Loop {
	half, r, t := p.Along(s)/2, p.CornerRadius, p.Slot
	at := func(offset, depth float64) Vec2 { return p.Point(s, offset, depth) }
	pts := []Vec2{at(-half+r, 0)}
	for _, o := range p.SlotLines(s) {
		a, b, c := t.Opening/2, t.Cavity/2, t.Cavity/2-t.Chamfer
		pts = append(pts,
			at(o-a, 0), at(o-a, t.Lip), at(o-b, t.Lip), at(o-b, t.Depth-t.Chamfer), at(o-c, t.Depth),
			at(o+c, t.Depth), at(o+b, t.Depth-t.Chamfer), at(o+b, t.Lip), at(o+a, t.Lip), at(o+a, 0))
	}
	pts = append(pts, at(half-r, 0))
	loop := linesThrough(pts)
	if r > 0 {
		next := p.Point((s+1)%4, -p.Along((s+1)%4)/2+r, 0)
		loop = append(loop, Arc(at(half-r, 0), next, at(half-r, r), 1))
	}
	return loop
}

// closedChamber returns the loop of the cavity behind a closed side at a cell's centre line.
func (p *Profile) closedChamber(s Side, o float64) Loop {
	t := p.Slot
	b, c := t.Cavity/2, t.Cavity/2-t.Chamfer
	at := func(offset, depth float64) Vec2 { return p.Point(s, o+offset, depth) }
	return closeLoop(linesThrough([]Vec2{
		at(-b, t.Lip), at(-b, t.Depth-t.Chamfer), at(-c, t.Depth), at(c, t.Depth), at(b, t.Depth-t.Chamfer), at(b, t.Lip),
	}))
}

// innerChambers returns the chambers where cells meet.
func (p *Profile) innerChambers() Region {
	var out Region
	t := p.Slot
	b, c, d := t.Cavity/2, t.Cavity/2-t.Chamfer, t.Depth
	e := d - t.Chamfer
	shape := []Vec2{{-d, -c}, {-d, c}, {-e, b}, {e, b}, {d, c}, {d, -c}, {e, -b}, {-e, -b}}
	add := func(at Vec2, quarter int) {
		pts := make([]Vec2, len(shape))
		for i, q := range shape {
			pts[i] = q.Quarter(quarter).Add(at)
		}
		out = append(out, closeLoop(linesThrough(pts)))
	}
	for j := range p.Cells[1] {
		for i := range p.Cells[0] {
			if i+1 < p.Cells[0] {
				add(p.cell(i, j).Add(Vec2{p.Pitch / 2, 0}), 0)
			}
			if j+1 < p.Cells[1] {
				add(p.cell(i, j).Add(Vec2{0, p.Pitch / 2}), 1)
			}
		}
	}
	return out
}

// coreLoop returns the clockwise circle of a core bore as four arcs that begin on the section's axes, so
// that the polygon has corners there whatever the tolerance.
func (p *Profile) coreLoop(c Vec2) Loop {
	var l Loop
	for k := range 4 {
		a := c.Add(Vec2{p.Core / 2, 0}.Quarter(-k))
		b := c.Add(Vec2{p.Core / 2, 0}.Quarter(-k - 1))
		l = append(l, Arc(a, b, c, -1))
	}
	return l
}

// linesThrough joins points by straight edges, leaving out edges of no length.
func linesThrough(pts []Vec2) Loop {
	var l Loop
	for i := 1; i < len(pts); i++ {
		if pts[i].Dist(pts[i-1]) > 1e-9 {
			l = append(l, Line(pts[i-1], pts[i]))
		}
	}
	return l
}

// closeLoop adds the edge from the last point to the first unless they are the same place.
func closeLoop(l Loop) Loop {
	if l[len(l)-1].To.Dist(l[0].From) <= 1e-9 {
		return joinEnds(l)
	}
	return append(l, Line(l[len(l)-1].To, l[0].From))
}

// joinEnds makes each edge begin at the very bits where the one before ends.
func joinEnds(l Loop) Loop {
	for i := range l {
		l[i].From = l[(i+len(l)-1)%len(l)].To
	}
	return l
}

// Builtin returns the built-in generic profile of a name such as "30x60-8" (or its alias
// "generic-30x60-slot8"; "generic-30-slot8" is the square one), and whether there is one. The
// dimensions are generic, chosen for this project: measure the bars you have.
func Builtin(name string) (*Profile, bool) {
	w, h, slot, ok := parseName(name)
	if !ok {
		return nil, false
	}
	base, ok := series[slot]
	if !ok {
		return nil, false
	}
	cw, ch := w/base.Pitch, h/base.Pitch
	if cw != math.Trunc(cw) || ch != math.Trunc(ch) || cw < 1 || ch < 1 || cw > maxBuiltinCells || ch > maxBuiltinCells {
		return nil, false
	}
	p := base
	p.Cells = [2]int{int(cw), int(ch)}
	p.Name = fmt.Sprintf("%gx%g-%d", w, h, slot)
	return &p, true
}

// maxBuiltinCells is how many pitches a built-in profile may have each way.
const maxBuiltinCells = 4
