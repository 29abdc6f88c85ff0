package frame

import (
	"fmt"

	"github.com/hashicorp/hcl/v2"

	"barwright/geom"
)

// maxRow is how many bars one row may have.
const maxRow = 2000

// rowNode is a row while it is prepared.
type rowNode struct {
	*setNode
	l           *loader
	template    *barNode
	axis        geom.Axis // along which the bars are repeated
	first, last *object
	middles     []float64 // of the bars on that axis, once worked out
	size        func() (float64, bool)
}

// declareRow prepares a row block. How many bars it has is worked out when somebody asks.
func (l *loader) declareRow(b *block) *setNode {
	s := &setNode{name: b.name, kind: Row, b: b}
	r := &rowNode{setNode: s, l: l, template: &barNode{name: b.name, at: b.header, set: s, look: l.readLooks(b)}}
	if !r.readTemplate() {
		s.spread = func() ([]*barNode, bool) { return nil, false }
		l.outerFaces(s)
		return s
	}
	var made *cell
	made = computed(b.name+".count", b.at("count"), func() (float64, bool) { return 0, r.spreadOut() })
	s.spread = func() ([]*barNode, bool) {
		_, ok := l.get(made, hcl.Range{})
		return s.list, ok
	}
	l.outerFaces(s)
	return s
}

// readTemplate reads the member that the row repeats, and the axis on which it has no place of its own.
func (r *rowNode) readTemplate() bool {
	b, l, n := r.b, r.l, r.template
	given := givenFaces(b)
	axis, known := l.runAxis(b, given)
	n.axis = axis
	ok := r.readSpacing(given, axis, known) && known
	for ax := range geom.Axis(3) {
		switch {
		case ax == axis && known && !(ok && ax == r.axis):
			ok = l.placeAlong(b, n, given[ax]) && ok
		case ok && ax == r.axis:
			// The spacing gives the place.
		default:
			ok = l.placeAcross(b, n, ax, given[ax], ok) && ok
		}
	}
	if !ok {
		return false
	}
	r.size = func() (float64, bool) { return l.size(n, r.axis) }
	if r.axis == n.axis {
		n.length = l.faceCell(b, b.name, "length")
		r.size = func() (float64, bool) { return l.get(n.length, hcl.Range{}) }
	}
	return true
}

// readSpacing reads first, last, step and between, and finds the axis of the spacing.
func (r *rowNode) readSpacing(given [3][]int, run geom.Axis, known bool) bool {
	b, l := r.b, r.l
	r.first, r.last = b.object("first", faceNames()...), b.object("last", faceNames()...)
	if b.has("first") && r.first == nil || b.has("last") && r.last == nil {
		return false
	}
	axis := geom.Axis(-1)
	for _, o := range []*object{r.first, r.last} {
		if o == nil {
			continue
		}
		if len(o.keys) != 1 {
			l.fail(o.at, fmt.Sprintf("%s needs exactly one face", o.name), "Write "+o.name+" = { mid_x = 120 }, for example.")
			return false
		}
		ax, _, _ := faceOf(o.keys[0])
		if axis >= 0 && ax != axis {
			l.fail(o.where[0], "first and last lie on different axes", fmt.Sprintf("%s is a face on %s, but first has its place on %s.", o.keys[0], axisName(ax), axisName(axis)))
			return false
		}
		axis = ax
	}
	if !r.checkSpacing() {
		return false
	}
	if axis < 0 {
		if axis = r.freeAxis(given, run, known); axis < 0 {
			return false
		}
	}
	r.axis = axis
	if len(given[axis]) > 0 {
		w := faceWords[axis][given[axis][0]]
		l.fail(b.at(w), fmt.Sprintf("%s fights the row's spacing along %s", w, axisName(axis)), "The spacing places the bars on that axis; take "+w+" away.")
		return false
	}
	return true
}

// checkSpacing sees that there is exactly one way of spacing.
func (r *rowNode) checkSpacing() bool {
	b, l := r.b, r.l
	ends := 0
	for _, w := range []string{"first", "last", "step"} {
		if b.has(w) {
			ends++
		}
	}
	switch {
	case b.has("between") && ends > 0:
		l.fail(b.at("between"), "between fights first, last and step", "Give either between = [a, b], or two of first, last and step.")
	case b.has("between"):
		return true
	case ends == 3:
		l.fail(b.at("step"), "step fights first and last", "Two of first, last and step fix the row; take one away.")
	case ends == 1 && b.has("step"):
		l.fail(b.at("step"), "step alone leaves open where the row begins", "Add first = { mid_x = … } in place of the face that the block gives there.")
	case ends == 2:
		return true
	default:
		l.fail(b.header, fmt.Sprintf("%s has no spacing", b), "Give first and last, or first and step, or between = [a, b].")
	}
	return false
}

// freeAxis returns the axis across the bars on which the block gives no face, or -1.
func (r *rowNode) freeAxis(given [3][]int, run geom.Axis, known bool) geom.Axis {
	if !known {
		return -1
	}
	axis := geom.Axis(-1)
	for ax := range geom.Axis(3) {
		if ax == run || len(given[ax]) > 0 {
			continue
		}
		if axis >= 0 {
			a, c := run.Others()
			r.l.fail(r.b.at("between"), "between leaves open along which axis",
				fmt.Sprintf("Give the bars a place along %s or %s; the other is the row's.", axisName(a), axisName(c)))
			return -1
		}
		axis = ax
	}
	if axis < 0 {
		r.l.fail(r.b.at("between"), "The bars have a place on every axis already", "Take the face away on the axis along which between spaces them.")
	}
	return axis
}

// spreadOut makes the bars of the row.
func (r *rowNode) spreadOut() bool {
	n, ok := r.b.checkedInt("count", 1, 1, maxRow)
	if !ok {
		return false
	}
	if r.l.spread += n; r.l.spread > maxMembers {
		r.l.tooMany(r.b.header)
		return false
	}
	if r.middles, ok = r.places(n); !ok {
		return false
	}
	for i := range n {
		c := *r.template
		c.name = fmt.Sprintf("%s[%d]", r.name, i)
		mid := constant(c.name+"."+faceWords[r.axis][midFace], r.b.header, snap(r.middles[i]))
		r.l.place(&c, r.axis, midFace, mid, r.size)
		r.list = append(r.list, &c)
	}
	return true
}

// places returns the middles of n bars along the axis of the spacing.
func (r *rowNode) places(n int) ([]float64, bool) {
	size, ok := r.size()
	if !ok {
		return nil, false
	}
	if r.b.has("between") {
		return r.clearGaps(n, size)
	}
	first, ok1 := r.middle(r.first, size)
	last, ok2 := r.middle(r.last, size)
	step, ok3 := r.b.num("step", 0)
	if !ok1 || !ok2 || !ok3 {
		return nil, false
	}
	if r.b.has("step") && step == 0 && n > 1 {
		r.l.fail(r.b.at("step"), "step is 0", "All bars would lie in one place.")
		return nil, false
	}
	out := make([]float64, n)
	for i := range out {
		switch {
		case r.last == nil:
			out[i] = first + float64(float64(i)*step)
		case r.first == nil:
			out[i] = last - float64(float64(n-1-i)*step)
		case n == 1:
			out[i] = first
		default:
			out[i] = first + float64((last-first)*float64(i)/float64(n-1))
		}
	}
	if r.first != nil && r.last != nil && n > 1 && first == last {
		r.l.fail(r.b.at("last"), "first and last are one place", "All bars would lie there.")
		return nil, false
	}
	return out, true
}

// clearGaps spreads the bars between two faces with equal gaps.
func (r *rowNode) clearGaps(n int, size float64) ([]float64, bool) {
	f, ok := r.b.nums("between", 2)
	if !ok {
		return nil, false
	}
	gap := (f[1] - f[0] - float64(float64(n)*size)) / float64(n+1)
	if gap < 0 {
		r.l.fail(r.b.at("between"), fmt.Sprintf("%d bars of %s mm don't fit between %s and %s", n, show(size), show(f[0]), show(f[1])),
			fmt.Sprintf("They need %s mm and have %s. Give the lower face first.", show(float64(n)*size), show(f[1]-f[0])))
		return nil, false
	}
	out := make([]float64, n)
	for i := range out {
		out[i] = f[0] + float64(float64(i+1)*gap) + float64((float64(i)+0.5)*size)
	}
	return out, true
}

// middle returns the middle of the bar whose face a first or last object gives.
func (r *rowNode) middle(o *object, size float64) (float64, bool) {
	if o == nil {
		return 0, true
	}
	_, which, _ := faceOf(o.keys[0])
	v, ok := o.num(o.keys[0], 0)
	switch which {
	case lowFace:
		v += size / 2
	case highFace:
		v -= size / 2
	}
	return v, ok
}
