package frame

import (
	"fmt"
	"math"

	"github.com/hashicorp/hcl/v2"
	"github.com/zclconf/go-cty/cty"

	"barwright/geom"
)

// faceWords are the names of the faces by axis: low, high, middle.
var faceWords = [3][3]string{{"left", "right", "mid_x"}, {"front", "back", "mid_y"}, {"bottom", "top", "mid_z"}}

// The places of a face in faceWords.
const (
	lowFace = iota
	highFace
	midFace
)

// faceNames returns the nine names in their usual order.
func faceNames() []string {
	var out []string
	for _, axis := range faceWords {
		out = append(out, axis[:]...)
	}
	return out
}

// faceOf returns axis and place of a face's name.
func faceOf(word string) (geom.Axis, int, bool) {
	for ax, words := range faceWords {
		for i, w := range words {
			if w == word {
				return geom.Axis(ax), i, true
			}
		}
	}
	return 0, 0, false
}

// barNode is a bar before it is placed: a box whose faces are cells.
type barNode struct {
	name   string
	at     hcl.Range
	set    *setNode // nil for a member or brace
	axis   geom.Axis
	faces  [3][3]*cell
	length *cell
	look   *looks
	brace  *braceNode // nil for a bar square to the axes
	broken bool       // its faces don't make a box, which was reported
	value  cty.Value  // the whole bar for formulas, once asked for
	member *Member    // once placed
}

// looks is what the bars of one block have in common: section and turn.
type looks struct {
	b        *block
	section  *cell // works out profile
	profile  *geom.Profile
	quarters *cell // quarter turns
	extra    int   // quarter turns on top, for the uprights of a ring
}

// face returns the cell of a face or the length, or nil.
func (b *barNode) face(word string) *cell {
	if word == "length" {
		return b.length
	}
	if ax, i, ok := faceOf(word); ok {
		return b.faces[ax][i]
	}
	return nil
}

// size returns how wide the section lies along an axis square to the bar.
func (l *loader) size(b *barNode, ax geom.Axis) (float64, bool) {
	return l.sectionSize(b.look, b.axis, ax)
}

// sectionSize returns how wide a section lies along ax on a bar that runs along run. The first size lies along
// the first free axis in the order X, Y, Z unless the section is turned.
func (l *loader) sectionSize(k *looks, run, ax geom.Axis) (float64, bool) {
	_, ok := l.get(k.section, hcl.Range{})
	q, ok2 := l.get(k.quarters, hcl.Range{})
	if !ok || !ok2 {
		return 0, false
	}
	first, _ := run.Others()
	s := k.profile.Size()
	if (ax == first) == ((int(q)+k.extra)%2 == 0) {
		return s.X, true
	}
	return s.Y, true
}

// readLooks prepares section and turn of a block's bars.
func (l *loader) readLooks(b *block) *looks {
	k := &looks{b: b}
	k.section = computed(b.name+".profile", b.at("profile"), func() (float64, bool) {
		var ok bool
		k.profile, ok = l.sectionOf(b)
		return 0, ok
	})
	k.quarters = computed(b.name+".turn", b.at("turn"), func() (float64, bool) {
		v, ok := b.num("turn", 0)
		if ok && (v < 0 || v > 270 || math.Mod(v, 90) != 0) {
			l.fail(b.at("turn"), fmt.Sprintf("turn is %s", show(v)), "A section turns by 0, 90, 180 or 270 degrees.")
			return 0, false
		}
		return v / 90, ok
	})
	return k
}

// span fills the faces of an axis from two cells for its low and high face.
func (l *loader) span(b *barNode, ax geom.Axis, low, high *cell) {
	words := faceWords[ax]
	b.faces[ax][lowFace], b.faces[ax][highFace] = low, high
	b.faces[ax][midFace] = computed(b.name+"."+words[midFace], b.at, func() (float64, bool) {
		lo, ok := l.get(low, hcl.Range{})
		hi, ok2 := l.get(high, hcl.Range{})
		return snap((lo + hi) / 2), ok && ok2
	})
}

// place fills the faces of an axis from one given face and a size.
func (l *loader) place(b *barNode, ax geom.Axis, which int, given *cell, size func() (float64, bool)) {
	// The other faces lie at the given one plus these parts of the size.
	parts := [3][3]float64{{0, 1, 0.5}, {-1, 0, -0.5}, {-0.5, 0.5, 0}}[which]
	for i := range 3 {
		if i == which {
			b.faces[ax][i] = given
			continue
		}
		part := parts[i]
		b.faces[ax][i] = computed(b.name+"."+faceWords[ax][i], b.at, func() (float64, bool) {
			v, ok := l.get(given, hcl.Range{})
			if !ok {
				return 0, false
			}
			s, ok := size()
			return snap(v + float64(part*s)), ok
		})
	}
}

// spanLength makes the length of a bar from the faces of its axis.
func (l *loader) spanLength(b *barNode) {
	low, high := b.faces[b.axis][lowFace], b.faces[b.axis][highFace]
	b.length = computed(b.name+".length", b.at, func() (float64, bool) {
		lo, ok := l.get(low, hcl.Range{})
		hi, ok2 := l.get(high, hcl.Range{})
		return snap(hi - lo), ok && ok2
	})
}

// barMotion returns the motion from bar coordinates to the frame of a bar square to the axes that fills a
// box: the section in x and y, z along the bar from end 0. Along Y, end 0 is the back end.
func barMotion(run geom.Axis, quarters int, box geom.Box) geom.Motion {
	x, y, z := geom.X.Unit(), geom.Y.Unit(), geom.Z.Unit()
	var m geom.Motion
	switch run {
	case geom.X:
		m = geom.Motion{EX: y, EY: z, EZ: x}
	case geom.Y:
		m = geom.Motion{EX: x, EY: z, EZ: y.Scale(-1)}
	default:
		m = geom.Motion{EX: x, EY: y, EZ: z}
	}
	m = turned(m, quarters)
	end := box.Low.Along(run)
	if run == geom.Y {
		end = box.High.Along(run)
	}
	m.T = plainZero(box.Centre().With(run, end))
	return m
}

// turned turns the section of a motion by quarter turns before it is placed.
func turned(m geom.Motion, quarters int) geom.Motion {
	turn := func(v geom.Vec2) geom.Vec {
		q := v.Quarter(quarters)
		return plainZero(m.EX.Scale(q.X).Add(m.EY.Scale(q.Y)))
	}
	return geom.Motion{EX: turn(geom.Vec2{X: 1}), EY: turn(geom.Vec2{Y: 1}), EZ: plainZero(m.EZ), T: m.T}
}

// plainZero turns negative zeros into plain ones.
func plainZero(v geom.Vec) geom.Vec { return geom.Vec{X: v.X + 0, Y: v.Y + 0, Z: v.Z + 0} }
