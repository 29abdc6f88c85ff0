package assembly

import (
	"math"

	"barwright/frame"
	"barwright/geom"
	"barwright/standard"
)

// model is a frame made ready for planning.
type model struct {
	f        *frame.Frame
	n        int
	index    map[*frame.Member]int
	bodies   []body
	mass     []float64 // kg, of each bar with what it alone holds
	fittings []fitting
	dirs     []geom.Vec
	joints   []joint
	at       [][]int         // joints of each member
	touch    [][]int         // neighbours by joints and touches, each once
	blocks   [][]set         // by direction and member: who stands in its way
	heights  [][6][2]float64 // of each member: lowest and highest point with each direction of the axes down
	narrow   bool            // only the best removal at each state is followed
	dropIn   bool            // slot nuts go in from the front
	// freed are joints that are taken as brackets with drop-in nuts, to find out what would free a locked frame.
	freed map[int]bool
	// mustSlide are joints whose head can't be loaded before: they close along the slot only.
	mustSlide map[int]bool
	courses   map[string]course // of units, by setKey
	needs     map[pair]set      // bars that must be in before two are joined, where a printed part holds three
}

// joint is a joint with what sits in slots or stands out at it.
type joint struct {
	*frame.Joint
	a, b   int
	pieces []piece
}

// pieceKind says what a piece is.
type pieceKind int

const (
	headPiece    pieceKind = iota // the head of an end screw in a slot
	nutPiece                      // a slot nut
	bracketPiece                  // a leg of a bracket, or a plate
)

// piece is something besides bars that can stand in the way.
type piece struct {
	kind     pieceKind
	in       int // the member in whose slot it sits, -1 for brackets
	owner    int // the other member of the joint
	side     geom.Side
	line, z  float64 // on the raw side
	half     float64 // half its length along the slot, mm
	body     body
	fastener *frame.Fastener
}

// newModel makes a frame ready.
func newModel(f *frame.Frame) *model {
	m := &model{f: f, n: len(f.Members), index: map[*frame.Member]int{}, freed: map[int]bool{}, mustSlide: map[int]bool{}, courses: map[string]course{}}
	m.dropIn = f.Assembly != nil && f.Assembly.DropIn
	for i, b := range f.Members {
		m.index[b] = i
		m.bodies = append(m.bodies, memberBody(b))
		mass := 0.0
		if b.Part != nil {
			mass = b.Part.Mass
		}
		m.mass = append(m.mass, mass)
	}
	m.addFittings()
	m.at = make([][]int, m.n)
	for _, j := range f.Joints {
		k := joint{Joint: j, a: m.index[j.A], b: m.index[j.B]}
		k.pieces = m.piecesOf(k)
		m.at[k.a] = append(m.at[k.a], len(m.joints))
		m.at[k.b] = append(m.at[k.b], len(m.joints))
		m.joints = append(m.joints, k)
	}
	m.neighbours()
	m.findWaits()
	m.findDirections()
	for i := range m.bodies {
		var h [6][2]float64
		for k := range 6 {
			a, b := m.bodies[i].span(m.dirs[k])
			h[k] = [2]float64{-b, -a}
		}
		m.heights = append(m.heights, h)
	}
	m.block()
	return m
}

// neighbours lists who holds whom: joints, and touches of bars that no joint parts.
func (m *model) neighbours() {
	m.touch = make([][]int, m.n)
	seen := map[[2]int]bool{}
	for _, c := range m.f.Contacts {
		a, b := m.index[c.A], m.index[c.B]
		if c.Apart || seen[[2]int{a, b}] {
			continue
		}
		seen[[2]int{a, b}], seen[[2]int{b, a}] = true, true
		m.touch[a], m.touch[b] = append(m.touch[a], b), append(m.touch[b], a)
	}
}

// mostDirections bounds the directions besides the six of the axes.
const mostDirections = 8

// findDirections lists the directions of moves, each beside its opposite: the axes, and for braces the way out of
// their corner.
func (m *model) findDirections() {
	for _, ax := range []geom.Axis{geom.X, geom.Y, geom.Z} {
		m.dirs = append(m.dirs, ax.Unit(), ax.Unit().Scale(-1))
	}
	for _, b := range m.f.Members {
		if !b.Brace || len(m.dirs) >= 6+mostDirections {
			continue
		}
		for _, d := range []geom.Vec{b.Place.EX, b.Place.EY} {
			known := false
			for _, k := range m.dirs {
				known = known || k.Dot(d) > 1-1e-6
			}
			if !known {
				m.dirs = append(m.dirs, d, d.Scale(-1))
			}
		}
	}
}

// opposite returns the index of the opposite direction.
func opposite(dir int) int { return dir ^ 1 }

// block fills blocks.
func (m *model) block() {
	m.blocks = make([][]set, len(m.dirs))
	joined := map[[2]int][]int{}
	for k, j := range m.joints {
		p := [2]int{min(j.a, j.b), max(j.a, j.b)}
		joined[p] = append(joined[p], k)
	}
	for k := range m.dirs {
		m.blocks[k] = make([]set, m.n)
		for i := range m.n {
			m.blocks[k][i] = newSet(m.n)
		}
	}
	for k := 0; k < len(m.dirs); k += 2 {
		for i := range m.n {
			for j := range m.n {
				if i == j {
					continue
				}
				if _, _, ok := sweep(&m.bodies[i], &m.bodies[j], m.dirs[k]); ok {
					m.blocks[k][i].add(j)
					m.blocks[k+1][j].add(i)
				}
			}
		}
	}
	for p, list := range joined {
		for k, d := range m.dirs {
			for _, j := range list {
				if m.holds(j, p[0], d) {
					m.blocks[k][p[0]].add(p[1])
					m.blocks[opposite(k)][p[1]].add(p[0])
				}
			}
		}
	}
}

// holds reports whether a joint lets its member i not move along d while the other stays: an end screw lets the butting bar
// go along the slot, with the screw in its end, and straight away from the slot, with the screw left in it.
func (m *model) holds(k, i int, d geom.Vec) bool {
	j := &m.joints[k]
	if j.With.Method != frame.EndScrew || m.freed[k] {
		return false
	}
	if i == j.b {
		d = d.Scale(-1)
	}
	return !m.along(k, d) && (m.mustSlide[k] || d.Dot(j.Normal) > -1+1e-6)
}

// along reports whether a direction runs along the slot of a joint's other bar.
func (m *model) along(k int, d geom.Vec) bool {
	return math.Abs(d.Dot(m.joints[k].B.Direction())) > 1-1e-6
}

// piecesOf returns what sits in slots and stands out at a joint.
func (m *model) piecesOf(j joint) []piece {
	var out []piece
	for i := range j.Fasteners {
		s := &j.Fasteners[i]
		switch {
		case s.InSlot:
			out = append(out, m.slotPiece(headPiece, s.HeadIn, s.HeadSide, s, j.a))
		case s.SlotNut:
			other := j.b
			if s.TipIn == j.B {
				other = j.a
			}
			out = append(out, m.slotPiece(nutPiece, s.TipIn, s.HeadSide, s, other))
		}
	}
	for _, b := range bracketBodies(j.Joint) {
		out = append(out, piece{kind: bracketPiece, in: -1, owner: j.a, body: b})
	}
	return out
}

// slotPiece returns the head or nut of a screw in a slot.
func (m *model) slotPiece(kind pieceKind, in *frame.Member, side geom.Side, s *frame.Fastener, owner int) piece {
	q := in.Place.Unapply(s.Seat)
	p := piece{kind: kind, in: m.index[in], owner: owner, side: side, fastener: s,
		line: geom.Vec2{X: q.X, Y: q.Y}.Dot(side.Toward()), z: q.Z}
	slot := in.Bar.Profile.Slot
	p.half, _ = pieceSize(kind, s, slot)
	_, high := pieceSize(kind, s, slot)
	p.body = slotBox(in, side, p.line, p.z, p.half, p.half, 0, slot.Lip+high)
	return p
}

// pieceSize returns half the length of a head or nut along its slot and its height behind the lips, mm. A slot nut is two
// diameters long (common practice, no source) and fills what is behind the lips to two thirds.
func pieceSize(kind pieceKind, s *frame.Fastener, slot geom.Slot) (half, high float64) {
	if kind == headPiece {
		if row, ok := standard.ScrewOf(s.Standard, s.Thread); ok {
			return row.HeadDiameter / 2, row.HeadHeight
		}
	}
	d := 8.0
	if t, ok := standard.ThreadByName(s.Thread); ok {
		d = t.Nominal
	}
	return d, (slot.Depth - slot.Lip) * 2 / 3
}

// slotBox returns a box in a bar's side: half its length along the bar, half its width across, from one depth to another.
func slotBox(in *frame.Member, side geom.Side, line, z, long, wide, from, to float64) body {
	p, q := in.Bar.Profile.Point(side, line-wide, from), in.Bar.Profile.Point(side, line+wide, to)
	low := geom.Vec{X: min(p.X, q.X), Y: min(p.Y, q.Y), Z: z - long}
	high := geom.Vec{X: max(p.X, q.X), Y: max(p.Y, q.Y), Z: z + long}
	return turnedBox(low, high, in.Place)
}

// bracketHead is how far in mm the heads of a bracket's screws stand out (common practice, no source).
const bracketHead = 4.0

// bracketBodies returns the legs of an angle bracket, or a plate.
func bracketBodies(j *frame.Joint) []body {
	if c := j.Corner; c != nil {
		thick := c.Leg/6 + bracketHead
		half := j.B.Bar.Profile.Slot.Cavity / 2
		across := c.LegA.Cross(c.LegB).Unit()
		m := geom.Motion{EX: c.LegB, EY: across, EZ: c.LegB.Cross(across), T: c.At}
		if m.EZ.Dot(c.LegA) < 0 {
			m.EZ = m.EZ.Scale(-1)
		}
		lean := c.LegA.Dot(m.EX) // an adjustable bracket's legs are not square
		legB := turnedBox(geom.Vec{X: min(0, c.Leg*lean), Y: -half}, geom.Vec{X: c.Leg, Y: half, Z: thick}, m)
		legA := turnedBox(geom.Vec{X: min(0, c.Leg*lean), Y: -half}, geom.Vec{X: thick + max(0, c.Leg*lean), Y: half, Z: c.Leg}, m)
		return []body{legB, legA}
	}
	if j.With.Method != frame.Plate || len(j.Fasteners) == 0 {
		return nil
	}
	out := geom.EmptyBox()
	pitch := j.B.Bar.Profile.Pitch
	for _, s := range j.Fasteners {
		n := s.Dir.Scale(-1)
		r := geom.Vec{X: 1 - math.Abs(n.X), Y: 1 - math.Abs(n.Y), Z: 1 - math.Abs(n.Z)}.Scale(pitch / 2 * 0.9)
		foot := s.Seat.Add(s.Dir.Scale(pitch / 6))
		out = out.Extend(foot.Add(r)).Extend(foot.Sub(r)).Extend(s.Seat.Add(n.Scale(bracketHead)))
	}
	return []body{boxBody(out)}
}

// inSlotOf reports whether a piece that moves along d runs inside a slot of a bar, as behind the end of a slot in a bar set on
// in the same line.
func (m *model) inSlotOf(i int, p *piece, d geom.Vec) bool {
	b := m.f.Members[i]
	if p.in < 0 || b.Brace || math.Abs(b.Direction().Dot(d)) < 1-1e-6 {
		return false
	}
	from := m.f.Members[p.in]
	n := from.SideNormal(p.side)
	side := b.SideFacing(n)
	if b.SideNormal(side).Dot(n) < 1-1e-6 {
		return false
	}
	at := from.SidePoint(p.side, p.z, p.line, 0)
	q := b.Place.Unapply(at)
	q2 := geom.Vec2{X: q.X, Y: q.Y}
	if math.Abs(q2.Dot(side.Normal())-b.Bar.Profile.Across(side)/2) > touching {
		return false
	}
	for _, line := range b.Bar.Profile.SlotLines(side) {
		if math.Abs(line-q2.Dot(side.Toward())) < touching && b.Bar.Profile.Slot.Cavity >= from.Bar.Profile.Slot.Cavity-touching {
			return true
		}
	}
	return false
}
