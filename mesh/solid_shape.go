package mesh

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"barwright/geom"
)

// shape is a bar as the solid needs it: a section, two end planes, round drills. All in mm.
type shape struct {
	section [][]geom.Vec2 // outlines counter-clockwise, holes clockwise
	ends    [2]endPlane
	drills  []drill
	paints  []paint
}

// endPlane is z = at + sx·x + sy·y.
type endPlane struct{ at, sx, sy float64 }

// drill takes away a round prism along an axis between two places on it.
type drill struct {
	axis      int        // 0, 1, 2: x, y, z
	centre    [2]float64 // on the two other axes, in the order x, y, z
	radius    float64
	low, high float64 // -Inf, +Inf: from, to outside
}

// paint marks the walls of a loop of the section as machined from one end over a depth.
type paint struct {
	loop  int
	below bool // z < at, else z > at
	at    float64
}

var errNothingLeft = errors.New("the machining leaves nothing of the bar")

// grid turns mm into whole grid units: the largest power of two a mm with which all coordinates stay below 2²⁹, at most 2²⁰.
type grid struct{ perMM float64 }

func gridFor(reach float64) grid {
	g := grid{1 << 20}
	for reach*g.perMM > 1<<29 {
		g.perMM /= 2
	}
	return g
}

func (g grid) units(mm float64) int64 { return onGrid(mm * g.perMM) }

// same is the distance in mm under which two places given by the input are made one; a fraction of the
// tolerance so that a polygon for a circle stays convex.
func same(tolerance float64) float64 { return math.Min(geom.Coincident, tolerance/20) }

// builder prepares the engine from a shape.
type builder struct {
	engine
	grid      grid
	tolerance float64
	near      int64      // places closer than this are made one
	steps     [3][]int64 // coordinates of the section's corners on x and y, and of ends and drills on z
	loops     [][2]int32
	low, high [3]int64

	outline  [][2]int64
	polygons [][2]int64 // of all drills, one after the other
	boxes    []bounds   // of all planes of tools
	quarters map[int][]geom.Vec2
}

// build makes the solid of a shape. Where it would touch itself along an edge, the drills are made wider and deeper by
// a tenth of the tolerance, at most 0.002 mm, and more, until it doesn't.
func build(s *shape, tolerance float64) (*Mesh, error) {
	m, _, err := buildTries(s, tolerance)
	return m, err
}

// buildTries is build; it also returns how often the drills grew.
func buildTries(s *shape, tolerance float64) (*Mesh, int, error) {
	return new(maker).build(s, tolerance)
}

// build makes the solid of a shape and returns how often the drills grew.
func (m *maker) build(s *shape, tolerance float64) (*Mesh, int, error) {
	const tries = 12
	b, f := &m.builder, &m.faces
	b.tolerance = tolerance
	for try := range tries {
		if err := b.prepare(s, try); err != nil {
			return nil, try, err
		}
		b.run()
		if !f.settle(&b.engine) {
			continue
		}
		if len(f.edges) == 0 {
			return nil, try, errNothingLeft
		}
		for _, p := range s.paints {
			f.paint(b, p)
		}
		f.triangulate()
		if f.properTriangles() {
			return f.mesh(b.grid), try, nil
		}
	}
	return nil, tries, fmt.Errorf("no closed solid found in %d tries", tries)
}

// reset forgets the last shape and keeps its room.
func (b *builder) reset() {
	b.planes, b.owner, b.wall = b.planes[:0], b.owner[:0], b.wall[:0]
	b.corner, b.prev, b.next = b.corner[:0], b.prev[:0], b.next[:0]
	b.tools, b.loops = b.tools[:0], b.loops[:0]
	b.steps[2] = b.steps[2][:0]
	b.polygons, b.boxes = b.polygons[:0], b.boxes[:0]
}

// prepare sets up the planes of section, box, ends and drills.
func (b *builder) prepare(s *shape, try int) error {
	b.reset()
	reach := 1.0
	for _, l := range s.section {
		for _, p := range l {
			reach = math.Max(reach, math.Max(math.Abs(p.X), math.Abs(p.Y)))
			for _, e := range s.ends {
				reach = math.Max(reach, math.Abs(e.at+e.sx*p.X+e.sy*p.Y))
			}
		}
	}
	reach += 2
	b.grid = gridFor(reach)
	b.reach = reach * b.grid.perMM
	b.near = max(1, int64(same(b.tolerance)*b.grid.perMM))
	b.setSection(s.section)
	if len(b.corner) == 0 {
		return errNothingLeft
	}
	b.setBox(s.ends)
	for _, e := range [2]int{0, 1} {
		b.addEnd(s.ends[e], e)
	}
	for i, d := range s.drills {
		// Growth by unequal steps, so that no two drills keep the place at which they touch, and by more than what is
		// made the same.
		more := 2 * float64(try) * same(b.tolerance) * (1 + 0.31*float64(i%7))
		d.radius, d.low, d.high = d.radius+more, d.low-more, d.high+more
		b.addDrill(d)
	}
	return nil
}

// setSection rounds the section's corners to the grid, makes coordinates that are nearly the same the same, and drops corners that are none.
func (b *builder) setSection(section [][]geom.Vec2) {
	count := 0
	for _, l := range section {
		count += len(l)
	}
	b.corner, b.prev, b.next = slices.Grow(b.corner, count), slices.Grow(b.prev, count), slices.Grow(b.next, count)
	for axis := range 2 {
		all := slices.Grow(b.steps[axis][:0], count)
		for _, l := range section {
			for _, p := range l {
				all = append(all, b.grid.units([2]float64{p.X, p.Y}[axis]))
			}
		}
		b.steps[axis] = distinct(all, b.near/8)
	}
	for _, l := range section {
		pts := b.outline[:0]
		for _, p := range l {
			pts = append(pts, [2]int64{nearest(b.steps[0], b.grid.units(p.X), b.near), nearest(b.steps[1], b.grid.units(p.Y), b.near)})
		}
		b.outline = pts
		pts = withoutStraight(pts)
		first := int32(len(b.corner))
		b.loops = append(b.loops, [2]int32{first, first + int32(len(pts))})
		for i, p := range pts {
			n := int32(len(pts))
			b.corner = append(b.corner, p)
			b.prev = append(b.prev, first+(int32(i)+n-1)%n)
			b.next = append(b.next, first+(int32(i)+1)%n)
		}
	}
	b.planes, b.owner = slices.Grow(b.planes, 5*count+8), slices.Grow(b.owner, 5*count+8)
	for i, k := range b.next {
		p, q := b.corner[i], b.corner[k]
		n := [3]int64{q[1] - p[1], p[0] - q[0], 0}
		b.addPlane(newPlane(n, n[0]*p[0]+n[1]*p[1], 0), -1)
	}
}

func (b *builder) addPlane(p plane, owner int32) int32 {
	b.planes = append(b.planes, p)
	b.owner = append(b.owner, owner)
	return int32(len(b.planes) - 1)
}

// distinct sorts the values and keeps the first of each run with gaps of at most near.
func distinct(v []int64, near int64) []int64 {
	slices.Sort(v)
	out := v[:0]
	last := int64(math.MinInt64 / 2)
	for _, x := range v {
		if x-last > near {
			out = append(out, x)
		}
		last = x
	}
	return out
}

// nearest returns the value of a sorted list that is nearest to v and at most near from it, else v.
func nearest(list []int64, v, near int64) int64 {
	i, _ := slices.BinarySearch(list, v)
	best, gap := v, near+1
	for _, k := range [2]int{i - 1, i} {
		if k >= 0 && k < len(list) {
			if d := max(list[k]-v, v-list[k]); d < gap {
				best, gap = list[k], d
			}
		}
	}
	return best
}

// withoutStraight drops corners at which the outline doesn't turn.
func withoutStraight(pts [][2]int64) [][2]int64 {
	for again := true; again && len(pts) > 2; {
		again = false
		for i := 0; i < len(pts) && len(pts) > 2; i++ {
			n := len(pts)
			if orient(pts[(i+n-1)%n], pts[i], pts[(i+1)%n]) == 0 {
				pts = append(pts[:i], pts[i+1:]...)
				again = true
				i--
			}
		}
	}
	if len(pts) < 3 {
		return nil
	}
	return pts
}

// setBox adds the six planes round everything and the level one.
func (b *builder) setBox(ends [2]endPlane) {
	b.low, b.high = [3]int64{}, [3]int64{}
	for _, c := range b.corner {
		for i, v := range c {
			b.low[i], b.high[i] = min(b.low[i], v), max(b.high[i], v)
		}
	}
	for _, e := range ends {
		lo, hi := e.span(b)
		b.low[2], b.high[2] = min(b.low[2], lo), max(b.high[2], hi)
	}
	b.limit = int32(len(b.planes))
	mm := int64(b.grid.perMM)
	for axis := range 3 {
		b.low[axis] -= mm
		b.high[axis] += mm
		var n [3]int64
		n[axis] = 1
		b.addPlane(newPlane([3]int64{-n[0], -n[1], -n[2]}, -b.low[axis], 0), -1)
		b.addPlane(newPlane(n, b.high[axis], 0), -1)
	}
	b.level = b.addPlane(newPlane([3]int64{0, 0, 1}, 0, 0), -1)
	b.wall = slices.Grow(b.wall, len(b.corner))
	for i, k := range b.next {
		w := noBounds()
		for _, c := range [2][2]int64{b.corner[i], b.corner[k]} {
			w.add([3]float64{float64(c[0]), float64(c[1]), float64(b.low[2])})
			w.add([3]float64{float64(c[0]), float64(c[1]), float64(b.high[2])})
		}
		b.wall = append(b.wall, w)
	}
}

// span returns the lowest and highest z of an end plane over the section.
func (e endPlane) span(b *builder) (lo, hi int64) {
	lo, hi = math.MaxInt64, math.MinInt64
	for _, c := range b.corner {
		z := int64(e.at*b.grid.perMM + e.sx*float64(c[0]) + e.sy*float64(c[1]))
		lo, hi = min(lo, z-2), max(hi, z+2)
	}
	return lo, hi
}

// slopeUnits is the denominator of an end plane's slopes.
const slopeUnits = 1 << 26

// addEnd takes away what lies beyond an end.
func (b *builder) addEnd(e endPlane, end int) {
	at := b.grid.units(e.at)
	n := [3]int64{0, 0, 1}
	d := at
	if e.sx != 0 || e.sy != 0 {
		n = [3]int64{-int64(math.Round(e.sx * slopeUnits)), -int64(math.Round(e.sy * slopeUnits)), slopeUnits}
		d = at * slopeUnits
	} else {
		b.remember(at)
	}
	lo, hi := e.span(b)
	face := noBounds()
	face.add([3]float64{float64(b.low[0]), float64(b.low[1]), float64(lo)})
	face.add([3]float64{float64(b.high[0]), float64(b.high[1]), float64(hi)})
	box := face
	if end == 0 {
		box.low[2] = math.Inf(-1)
	} else {
		n, d = [3]int64{-n[0], -n[1], -n[2]}, -d
		box.high[2] = math.Inf(1)
	}
	first := b.addPlane(newPlane(n, d, int32(len(b.planes))), int32(len(b.tools)))
	b.boxes = append(b.boxes, face)
	b.tools = append(b.tools, tool{first: first, last: first + 1, box: box, boxes: b.boxes[len(b.boxes)-1:], surface: CutEnd})
}
