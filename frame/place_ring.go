package frame

import (
	"fmt"

	"github.com/hashicorp/hcl/v2"

	"barwright/geom"
)

// ringPlane describes the plane of a ring: its two axes and its normal.
type ringPlane struct {
	u, v, n geom.Axis
	// rails are named low v, high v (along u), low u, high u (along v).
	rails [4]string
	// corners are named by v then u: low-low, low-high, high-low, high-high.
	corners [4]string
}

// The rails of a ring in ringPlane.rails.
const (
	lowV = iota
	highV
	lowU
	highU
)

func ringPlaneOf(name string) ringPlane {
	switch name {
	case "xz":
		return ringPlane{geom.X, geom.Z, geom.Y, [4]string{"bottom_rail", "top_rail", "left_rail", "right_rail"},
			[4]string{"bottom_left", "bottom_right", "top_left", "top_right"}}
	case "yz":
		return ringPlane{geom.Y, geom.Z, geom.X, [4]string{"bottom_rail", "top_rail", "front_rail", "back_rail"},
			[4]string{"bottom_front", "bottom_back", "top_front", "top_back"}}
	}
	return ringPlane{geom.X, geom.Y, geom.Z, [4]string{"front_rail", "back_rail", "left_rail", "right_rail"},
		[4]string{"front_left", "front_right", "back_left", "back_right"}}
}

// cornerKind says how the rails meet in a corner of a ring.
type cornerKind int

const (
	throughU   cornerKind = iota // the rail along u runs to the outside
	throughV                     // the rail along v runs to the outside
	cornerPost                   // both rails end at the post
)

// ringNode is a ring while it is prepared.
type ringNode struct {
	*setNode
	l       *loader
	p       ringPlane
	corner  [4]cornerKind
	posts   *setNode
	flush   string
	outer   [2][2]*cell // by u, v and low, high: the outer faces of the rails
	which   int         // the face that is given along the normal
	level   *cell       // that face
	missing bool
}

// declareRing prepares a ring block.
func (l *loader) declareRing(b *block) *setNode {
	s := &setNode{name: b.name, kind: Ring, b: b}
	plane, ok := b.choice("plane", "xy", "xy", "xz", "yz")
	s.plane = plane
	r := &ringNode{setNode: s, l: l, p: ringPlaneOf(plane)}
	s.keys = r.p.rails[:]
	ok = r.readWithin() && ok
	ok = r.readLevel() && ok
	ok = r.readCorners() && ok
	ok = r.readHandAndFlush() && ok
	base := l.readLooks(b)
	for i, key := range r.p.rails {
		look := base
		n := &barNode{name: b.name + "." + key, at: b.header, set: s, axis: r.p.u}
		if i >= lowU {
			n.axis = r.p.v
		}
		if plane == "xz" && n.axis == geom.Z {
			// Turned once more, so that all four rails show the same side in the ring.
			up := *base
			up.extra = 1
			look = &up
			look.section = computed(b.name+".profile", b.at("profile"), func() (float64, bool) {
				v, ok := l.get(base.section, hcl.Range{})
				look.profile = base.profile
				return v, ok
			})
		}
		n.look = look
		s.list = append(s.list, n)
	}
	if !ok {
		for _, n := range s.list {
			n.breakFaces()
		}
	} else {
		r.placeRails()
	}
	l.outerFaces(s)
	return s
}

// readWithin finds the posts that a ring stands between, or the outer faces that are given in their place.
func (r *ringNode) readWithin() bool {
	b, l := r.b, r.l
	ok := true
	if b.has("within") {
		ok = r.findPosts()
	}
	for i, ax := range []geom.Axis{r.p.u, r.p.v} {
		words := faceWords[ax]
		if b.has(words[midFace]) {
			l.fail(b.at(words[midFace]), fmt.Sprintf("A ring has no %s in its plane", words[midFace]),
				fmt.Sprintf("Give its outside faces %s and %s.", words[lowFace], words[highFace]))
			ok = false
		}
		for side := range 2 {
			w := words[side]
			switch {
			case b.has("within") && b.has(w):
				l.fail(b.at(w), fmt.Sprintf("%s fights within", w), "The posts give the ring its outside faces; take one of the two away.")
				ok = false
			case b.has(w):
				r.outer[i][side] = l.faceCell(b, b.name, w)
			case !b.has("within"):
				l.fail(b.header, fmt.Sprintf("%s lacks %q", b, w), "A ring has its four outside faces, or within = POSTS.")
				ok = false
			}
		}
	}
	return ok
}

func (r *ringNode) findPosts() bool {
	b, l := r.b, r.l
	if r.plane != "xy" {
		l.fail(b.at("within"), fmt.Sprintf("A ring in plane %q can't stand within posts", r.plane),
			"Give its outside faces: left = leg.front_left.right, for example.")
		return false
	}
	e := b.expr("within")
	t, diags := hcl.AbsTraversalForExpr(e)
	if diags.HasErrors() {
		l.fail(e.Range(), "within needs the name of posts", "Write within = leg, where posts \"leg\" stand in the file.")
		return false
	}
	name := t.RootName()
	ent := l.names[name]
	switch {
	case ent == nil:
		l.unknownName(name, t[0].SourceRange())
		return false
	case ent.kind != string(Posts) || len(t) > 1:
		l.fail(e.Range(), fmt.Sprintf("within needs posts; %s is not", shorten(name)), "Name a posts block.")
		return false
	}
	r.posts = ent.set
	r.within = ent.set
	return true
}

// readLevel finds the one face along the ring's normal.
func (r *ringNode) readLevel() bool {
	b, l := r.b, r.l
	words := faceWords[r.p.n]
	given := givenFaces(b)[r.p.n]
	if len(given) == 0 {
		l.fail(b.header, fmt.Sprintf("%s has no place along %s", b, axisName(r.p.n)), fmt.Sprintf("Give one of %s, %s and %s.", words[0], words[1], words[2]))
		return false
	}
	if len(given) > 1 {
		l.fail(b.at(words[given[1]]), fmt.Sprintf("%s fights %s", words[given[1]], words[given[0]]), "One face is enough; the section of the rails does the rest.")
		return false
	}
	r.which = given[0]
	r.level = l.faceCell(b, b.name, words[given[0]])
	return true
}

// through returns the corner kind of a word such as "x-through" in the ring's plane.
func (r *ringNode) through(word string) (cornerKind, bool) {
	switch word {
	case r.p.u.String() + "-through":
		return throughU, true
	case r.p.v.String() + "-through":
		return throughV, true
	}
	return 0, false
}

// cornerWords are what a corner, or all of them, can be.
func (r *ringNode) cornerWords(all bool) []string {
	words := []string{r.p.u.String() + "-through", r.p.v.String() + "-through"}
	if all {
		return append(words, "pinwheel")
	}
	return append(words, "post")
}

// pinwheel is how the corners of a pinwheel lie: the front rail's leading end butts the right rail, the
// right rail's the back rail, and so on round.
var pinwheel = [4]cornerKind{throughU, throughV, throughV, throughU}

func (r *ringNode) readCorners() bool {
	b, l := r.b, r.l
	e := b.expr("corners")
	if e == nil {
		r.corners = r.cornerWords(true)[0]
		if b.has("within") {
			r.corners = "within"
			r.corner = [4]cornerKind{cornerPost, cornerPost, cornerPost, cornerPost}
		}
		return true
	}
	if o := hcl.UnwrapExpression(e); l.isObject(o) {
		return r.readEachCorner()
	}
	word, ok := l.text(e)
	if !ok {
		return false
	}
	if word == "post" && b.has("within") {
		r.corners = "within"
		r.corner = [4]cornerKind{cornerPost, cornerPost, cornerPost, cornerPost}
		return true
	}
	if word == "pinwheel" {
		r.corners = word
		r.corner = pinwheel
		return true
	}
	kind, ok := r.through(word)
	if !ok {
		l.fail(e.Range(), fmt.Sprintf("corners can't be %q", shorten(word)), didYouMean(word, r.cornerWords(true)))
		return false
	}
	r.corners = word
	r.corner = [4]cornerKind{kind, kind, kind, kind}
	return true
}

// readEachCorner reads corners = { front_left = "x-through", … }.
func (r *ringNode) readEachCorner() bool {
	b, l := r.b, r.l
	o := b.object("corners", r.p.corners[:]...)
	if o == nil {
		return false
	}
	usual := throughU
	if b.has("within") {
		usual = cornerPost
	}
	good := true
	for i, name := range r.p.corners {
		r.corner[i] = usual
		word, ok := o.text(name, "")
		if !ok || word == "" {
			good = good && ok
			continue
		}
		kind, ok := r.through(word)
		if word == "post" {
			kind, ok = cornerPost, true
			if !b.has("within") {
				l.fail(o.value[name].Range(), "There is no post in this corner", "Say which posts: within = POSTS.")
				good = false
			}
		}
		if !ok {
			l.fail(o.value[name].Range(), fmt.Sprintf("A corner can't be %q", shorten(word)), didYouMean(word, r.cornerWords(false)))
			good = false
		}
		r.corner[i] = kind
	}
	return good
}

func (r *ringNode) readHandAndFlush() bool {
	b, l := r.b, r.l
	hand, ok := b.choice("hand", "", "reverse")
	if hand == "reverse" {
		if r.corners != "pinwheel" {
			l.fail(b.at("hand"), "Only a pinwheel has a hand", "Add corners = \"pinwheel\", or take hand away.")
			ok = false
		}
		for i, k := range r.corner {
			r.corner[i] = throughU + throughV - k
		}
	}
	flush, ok2 := b.choice("flush", "", "outside", "inside")
	if flush != "" && !b.has("within") {
		l.fail(b.at("flush"), "flush is measured from posts", "It needs within = POSTS; without posts the outside faces say where the rails lie.")
		ok2 = false
	}
	r.flush = flush
	return ok && ok2
}

// placeRails makes the faces of the four rails.
func (r *ringNode) placeRails() {
	if r.posts != nil {
		r.outerFromPosts()
	}
	l := r.l
	for i, n := range r.list {
		across, side := 1, i // along u: the place on v
		if i >= lowU {
			across, side = 0, i-lowU
		}
		ax := []geom.Axis{r.p.u, r.p.v}[across]
		l.place(n, ax, side, r.outer[across][side], func() (float64, bool) { return l.size(n, ax) })
		l.place(n, r.p.n, r.which, r.level, func() (float64, bool) { return l.size(n, r.p.n) })
		l.span(n, n.axis, r.railEnd(i, 0), r.railEnd(i, 1))
		l.spanLength(n)
	}
}

// railEnd returns the cell of a rail's low (0) or high (1) end, by what happens in that corner.
func (r *ringNode) railEnd(rail, end int) *cell {
	alongU := rail < lowU
	corner := 2*rail + end // of a rail along u: corners lie v first
	own, runs := 0, throughU
	if !alongU {
		corner = 2*end + (rail - lowU)
		own, runs = 1, throughV
	}
	ax := r.list[rail].axis
	switch r.corner[corner] {
	case cornerPost:
		post := r.posts.list[corner]
		return post.faces[ax][1-end]
	case runs:
		return r.outer[own][end]
	}
	// The rail ends at the inner face of the one that runs through.
	other := r.list[lowU+end]
	if !alongU {
		other = r.list[lowV+end]
	}
	l := r.l
	return computed(r.list[rail].name+"."+faceWords[ax][end], r.b.header, func() (float64, bool) {
		return l.get(other.faces[ax][1-end], hcl.Range{})
	})
}

// outerFromPosts puts the rails' outer faces where their slots' centre lines meet the posts', or flush with the
// posts' outside or inside.
func (r *ringNode) outerFromPosts() {
	l := r.l
	for i, ax := range []geom.Axis{r.p.u, r.p.v} {
		for side := range 2 {
			post := r.posts.list[[2][2]int{{0, 1}, {0, 2}}[i][side]]
			rail := r.list[[2][2]int{{lowU, highU}, {lowV, highV}}[i][side]]
			sign := float64(1 - 2*side) // inward
			r.outer[i][side] = computed(r.name+"."+faceWords[ax][side], r.b.header, func() (float64, bool) {
				face, ok := l.get(post.faces[ax][side], hcl.Range{})
				postSize, ok2 := l.size(post, ax)
				railSize, ok3 := l.size(rail, ax)
				if !ok || !ok2 || !ok3 {
					return 0, false
				}
				switch r.flush {
				case "outside":
					return face, true
				case "inside":
					return snap(face + float64(sign*(postSize-railSize))), true
				}
				// The outermost line of cores on the outermost slot line of the post.
				shift := (post.look.profile.Pitch - rail.look.profile.Pitch) / 2
				return snap(face + float64(sign*shift)), true
			})
		}
	}
}

// isObject reports whether an expression is written in braces.
func (l *loader) isObject(e hcl.Expression) bool {
	_, diags := hcl.ExprMap(e)
	return !diags.HasErrors()
}
