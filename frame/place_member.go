package frame

import (
	"fmt"
	"strings"

	"github.com/hashicorp/hcl/v2"

	"barwright/geom"
)

// axisName is how messages call an axis.
func axisName(ax geom.Axis) string { return strings.ToUpper(ax.String()) }

// givenFaces returns which faces of each axis a block gives.
func givenFaces(b *block) [3][]int {
	var out [3][]int
	for ax, words := range faceWords {
		for i, w := range words {
			if b.has(w) {
				out[ax] = append(out[ax], i)
			}
		}
	}
	return out
}

// faceCell makes a cell of a face, or of the length, that the block gives.
func (l *loader) faceCell(b *block, owner, word string) *cell {
	return computed(owner+"."+word, b.at(word), func() (float64, bool) {
		v, ok := b.num(word, 0)
		return snap(v), ok
	})
}

// declareMember prepares a member block: its faces become cells.
func (l *loader) declareMember(b *block) *barNode {
	n := &barNode{name: b.name, at: b.header, look: l.readLooks(b)}
	given := givenFaces(b)
	axis, known := l.runAxis(b, given)
	n.axis = axis
	ok := known
	for ax := range geom.Axis(3) {
		if ax == axis && known {
			ok = l.placeAlong(b, n, given[ax]) && ok
		} else {
			ok = l.placeAcross(b, n, ax, given[ax], known) && ok
		}
	}
	if !ok {
		n.breakFaces()
	}
	return n
}

// breakFaces makes every face of a bar fail silently, as the reason has been reported.
func (b *barNode) breakFaces() {
	b.broken = true
	bad := &cell{name: b.name, at: b.at, state: cellDone}
	for ax := range b.faces {
		b.faces[ax] = [3]*cell{bad, bad, bad}
	}
	b.length = bad
}

// runAxis finds the axis along which a bar runs from what its block gives.
func (l *loader) runAxis(b *block, given [3][]int) (geom.Axis, bool) {
	along, ok := b.choice("along", "", "x", "y", "z")
	if !ok {
		return 0, false
	}
	var full []geom.Axis
	for ax, faces := range given {
		if len(faces) >= 2 {
			full = append(full, geom.Axis(ax))
		}
	}
	said := geom.Axis(indexOf([]string{"x", "y", "z"}, along))
	switch {
	case len(full) > 1:
		a, c := full[0], full[1]
		l.fail(b.at(faceWords[c][given[c][1]]), fmt.Sprintf("%s is held on both sides along %s and along %s", b, axisName(a), axisName(c)),
			fmt.Sprintf("A bar runs along one axis; its section gives its size on the others. %s fights %s: take one of them away.",
				faceList(a, given[a]), faceList(c, given[c])))
		return 0, false
	case along != "" && b.has("length"):
		return said, true
	case len(full) == 1 && along != "" && said != full[0]:
		l.fail(b.at("along"), fmt.Sprintf("along = %q fights %s", along, faceList(full[0], given[full[0]])),
			fmt.Sprintf("Those two faces make the bar run along %s.", axisName(full[0])))
		return 0, false
	case len(full) == 1:
		return full[0], true
	case along != "":
		return said, true
	case !b.has("length"):
		l.fail(b.header, fmt.Sprintf("%s has no length", b), missingEnds(given))
		return 0, false
	}
	l.fail(b.at("length"), "length alone leaves open which way the bar runs", "Add along = \"x\", \"y\" or \"z\".")
	return 0, false
}

// missingEnds says which second face would give a bar its length.
func missingEnds(given [3][]int) string {
	for ax, faces := range given {
		if len(faces) == 0 {
			return fmt.Sprintf("Give both %s and %s (or one of them, length and along), and one face on each of the other axes.",
				faceWords[ax][lowFace], faceWords[ax][highFace])
		}
	}
	return "Along its axis a bar has two of low face, high face and length: give both left and right, for example, or add length and along."
}

// faceList names the given faces of an axis: "left and right".
func faceList(ax geom.Axis, faces []int) string {
	var words []string
	for _, i := range faces {
		words = append(words, faceWords[ax][i])
	}
	return strings.Join(words, " and ")
}

// placeAlong fills the faces of a bar on its own axis: two of low, high and length, or middle and length.
func (l *loader) placeAlong(b *block, n *barNode, faces []int) bool {
	ax, words := n.axis, faceWords[n.axis]
	both := len(faces) == 2 && faces[0] == lowFace && faces[1] == highFace
	switch {
	case b.has("length") && len(faces) == 1:
		n.length = l.faceCell(b, n.name, "length")
		given := l.faceCell(b, n.name, words[faces[0]])
		l.place(n, ax, faces[0], given, func() (float64, bool) { return l.get(n.length, hcl.Range{}) })
		return true
	case b.has("length") && len(faces) > 1:
		l.fail(b.at("length"), fmt.Sprintf("length fights %s", faceList(ax, faces)), "Two of the three fix the bar; take one away.")
		return false
	case both:
		l.span(n, ax, l.faceCell(b, n.name, words[lowFace]), l.faceCell(b, n.name, words[highFace]))
		l.spanLength(n)
		return true
	case len(faces) > 1:
		last := faces[len(faces)-1]
		l.fail(b.at(words[last]), fmt.Sprintf("%s fights %s", words[last], faceList(ax, faces[:len(faces)-1])),
			fmt.Sprintf("Along its axis a bar has two of %s, %s and length, or %s and length.", words[lowFace], words[highFace], words[midFace]))
		return false
	case len(faces) == 1:
		l.fail(b.header, fmt.Sprintf("%s has no length", b), fmt.Sprintf("It runs along %s: give a second face there, or length.", axisName(ax)))
		return false
	}
	l.fail(b.header, fmt.Sprintf("%s has no place along %s", b, axisName(ax)), fmt.Sprintf("Give one of %s, %s and %s.", words[0], words[1], words[2]))
	return false
}

// placeAcross fills the faces of an axis across a bar from the one face that is given there.
// certain says that the bar's own axis is known.
func (l *loader) placeAcross(b *block, n *barNode, ax geom.Axis, faces []int, certain bool) bool {
	words := faceWords[ax]
	switch {
	case len(faces) == 1:
		given := l.faceCell(b, n.name, words[faces[0]])
		l.place(n, ax, faces[0], given, func() (float64, bool) { return l.size(n, ax) })
		return true
	case len(faces) == 0:
		if certain {
			l.fail(b.header, fmt.Sprintf("%s has no place along %s", b, axisName(ax)), fmt.Sprintf("Give one of %s, %s and %s.", words[0], words[1], words[2]))
		}
	case certain:
		l.fail(b.at(words[faces[1]]), fmt.Sprintf("%s fights %s", words[faces[1]], words[faces[0]]),
			"Across the bar one face is enough; its section does the rest.")
	}
	return false
}
