package frame

import (
	"fmt"
	"math"

	"github.com/hashicorp/hcl/v2"
	"github.com/zclconf/go-cty/cty"

	"barwright/geom"
)

// setNode is posts, a ring or a row before it is placed.
type setNode struct {
	name    string
	kind    SetKind
	b       *block
	keys    []string                  // names of the members; nil for a row
	list    []*barNode                // the members, once known
	spread  func() ([]*barNode, bool) // makes them: how many a row has must be worked out
	faces   [3][3]*cell               // of the outer box
	plane   string
	corners string
	within  *setNode
	value   cty.Value
	result  *Set
}

// bars returns the members of a set, or false where an error was reported.
func (s *setNode) bars() ([]*barNode, bool) {
	if s.list != nil || s.spread == nil {
		return s.list, true
	}
	return s.spread()
}

// face returns the cell of a face of the outer box, or nil.
func (s *setNode) face(word string) *cell {
	if ax, i, ok := faceOf(word); ok {
		return s.faces[ax][i]
	}
	return nil
}

// outerFaces prepares the faces of the outer box of a set.
func (l *loader) outerFaces(s *setNode) {
	for ax := range s.faces {
		for i := range s.faces[ax] {
			s.faces[ax][i] = computed(s.name+"."+faceWords[ax][i], s.b.header, func() (float64, bool) {
				return l.outerFace(s, geom.Axis(ax), i)
			})
		}
	}
}

func (l *loader) outerFace(s *setNode, ax geom.Axis, which int) (float64, bool) {
	if which == midFace {
		low, ok := l.get(s.faces[ax][lowFace], hcl.Range{})
		high, ok2 := l.get(s.faces[ax][highFace], hcl.Range{})
		return snap((low + high) / 2), ok && ok2
	}
	bars, ok := s.bars()
	if !ok {
		return 0, false
	}
	best := math.Inf(1)
	pick := math.Min
	if which == highFace {
		best, pick = -best, math.Max
	}
	for _, b := range bars {
		v, ok := l.get(b.faces[ax][which], hcl.Range{})
		if !ok {
			return 0, false
		}
		best = pick(best, v)
	}
	return best, !math.IsInf(best, 0)
}

// postNames are the members of posts: Y low then high, X low then high.
var postNames = []string{"front_left", "front_right", "back_left", "back_right"}

// declarePosts prepares a posts block.
func (l *loader) declarePosts(b *block) *setNode {
	s := &setNode{name: b.name, kind: Posts, b: b, keys: postNames}
	look := l.readLooks(b)
	tops, bottoms := b.object("tops", postNames...), b.object("bottoms", postNames...)
	broken := b.has("tops") && tops == nil || b.has("bottoms") && bottoms == nil
	outer := map[string]*cell{}
	for _, w := range []string{"left", "right", "front", "back", "bottom", "top"} {
		if !b.has(w) {
			broken = true
			continue
		}
		outer[w] = l.faceCell(b, b.name, w)
	}
	for i, key := range postNames {
		n := &barNode{name: b.name + "." + key, at: b.header, set: s, axis: geom.Z, look: look}
		s.list = append(s.list, n)
		if broken {
			n.breakFaces()
			continue
		}
		for ax, side := range []int{i % 2, i / 2} {
			ax := geom.Axis(ax)
			l.place(n, ax, side, outer[faceWords[ax][side]], func() (float64, bool) { return l.size(n, ax) })
		}
		l.span(n, geom.Z, l.override(bottoms, key, outer["bottom"]), l.override(tops, key, outer["top"]))
		l.spanLength(n)
	}
	l.outerFaces(s)
	return s
}

// override returns the cell of a key where an object gives it, else the usual one.
func (l *loader) override(o *object, key string, usual *cell) *cell {
	if o == nil || !o.has(key) {
		return usual
	}
	return computed(fmt.Sprintf("%s.%s.%s", o.b.name, o.name, key), o.value[key].Range(), func() (float64, bool) {
		v, ok := o.num(key, 0)
		return snap(v), ok
	})
}
