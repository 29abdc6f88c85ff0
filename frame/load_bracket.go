package frame

import (
	"fmt"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2"

	"barwright/standard"
)

// Bracket is the printed parts that one bracket block asks for. What they look like is worked out by package bracket; here
// stands what the file says.
type Bracket struct {
	Name, Kind string
	// Between is two lists of members for a kind that serves joints; On the members that the others sit on or belong to.
	Between  [2][]*Member
	On       []*Member
	Under    []*Member // of a spacer: the rails that it sets
	Sets     []Setter  // what follows from Under
	Face     string    // side of the frame that the bar's face looks to, "" where the kind has none
	End      string    // side of the frame that the bar's end lies toward
	Toward   string    // of a panel clip: where the panel lies
	At       []float64 // places from the bar's low end
	Quantity int       // of a gauge
	Thread   string
	Wall     float64
	Text     string
	Material string
	Load     float64
	Set      []BracketValue
	Origin   hcl.Range
}

// Stands reports whether the frame stands on the parts of the block: pads or casters under bars.
func (b *Bracket) Stands() bool {
	return (b.Kind == footPad || b.Kind == casterPlate) && b.End == "bottom"
}

// BracketValue is one parameter of a printed part, or one allowance.
type BracketValue struct {
	Name  string
	Value float64
}

// Printing is the figures that hold for all printed parts of a frame.
type Printing struct {
	Bed        [3]float64 // zero where not given
	Material   string
	Load       float64
	Wall       float64
	Allowances []BracketValue
	Origin     hcl.Range
}

// placing says how a kind of printed part finds its place.
type placing int

const (
	byJoint  placing = iota // between two bars that a joint joins
	byBars                  // on three bars that meet, at the joints between them
	byEnd                   // on a bar's end
	byFace                  // on a bar's face
	unplaced                // a gauge or jig, which stays with the builder
)

// bracketKind is a kind of printed part as the frame file knows it; a test of package job compares it with package bracket.
type bracketKind struct {
	name   string
	place  placing
	params []string
}

// bracketKinds is never written.
var bracketKinds = []bracketKind{
	{"angle", byJoint, []string{"cells", "screws", "gusset", "ribs", "washer"}},
	{"plate-straight", byJoint, []string{"cells", "screws", "ribs", "head", "washer"}},
	{"plate-tee", byJoint, []string{"cells", "screws", "ribs", "head", "washer"}},
	{"plate-ell", byJoint, []string{"cells", "screws", "ribs", "head", "washer"}},
	{"plate-cross", byBars, []string{"cells", "screws", "ribs", "head", "washer"}},
	{"corner-inside", byBars, []string{"ribs", "gusset"}},
	{"corner-outside", byBars, []string{"size"}},
	{"brace-foot", byJoint, []string{"screws", "ribs", "web"}},
	{"end-cap", byEnd, []string{"hold", "depth", "tongue", "grip", "inset"}},
	{"slot-cover", byFace, []string{"length", "leg", "catch", "overlap"}},
	{"cable-clip", byFace, []string{"cable", "width", "leg", "catch"}},
	{"panel-clip", byFace, []string{"panel", "squeeze", "lap", "width", "ribs"}},
	{"foot-pad", byEnd, []string{"margin", "peg"}},
	{"caster-plate", byEnd, []string{"pattern_x", "pattern_y", "bolt", "insert", "peg", "caster"}},
	{"drill-jig", unplaced, []string{"guide", "bush", "pin"}},
	{"tap-guide", unplaced, []string{"guide", "sleeve", "shank"}},
	{"spacer", unplaced, []string{"height", "deep", "ribs"}},
	{"square", unplaced, []string{"arm", "broad", "high", "fence"}},
}

// BracketKinds returns the kinds of printed parts that a bracket block can name, each with the parameters that it can set.
func BracketKinds() (names []string, params [][]string) {
	for _, k := range bracketKinds {
		names, params = append(names, k.name), append(params, slices.Clone(k.params))
	}
	return names, params
}

// allowanceNames are the allowances of the printing block: those of package bracket, compared by a test of package job.
var allowanceNames = []string{"line", "layer", "least_wall", "hole_upright", "hole_lying", "fit", "slide", "first_layer", "edge", "bridge", "seat", "nut_gap", "insert_depth", "across", "reach", "text_depth"}

// bracketBlocks describes the blocks of printed parts.
func bracketBlocks() []blockSpec {
	var kinds []string
	for _, k := range bracketKinds {
		kinds = append(kinds, "`\""+k.name+"\"`")
	}
	about := []string{"width of a line of extrusion", "layer height", "thinnest wall", "added to the diameter of holes that stand in the print", "added to that of holes that lie",
		"clearance on each side of ribs in a slot", "clearance of a sleeve on a bar", "chamfer of bottom edges", "chamfer of other edges", "longest bridge without support", "least plastic under a screw head",
		"added to the width of a nut's pocket", "added to the depth of an insert's hole", "strength across layers over that along them", "room for a driver over a screw", "depth of sunk text"}
	printing := []attrSpec{
		{name: "bed", kind: aNumbers, def: "[220, 220, 250]", meaning: "largest print: width, depth, height"},
		{name: "material", kind: aText, def: `"PETG"`, meaning: "printing polymer: " + strings.Join(printPolymers(), ", ")},
		{name: "load", kind: aNumber, def: "100", meaning: "load of the strength notes, N"},
		{name: "wall", kind: aNumber, def: "follows from the profile", meaning: "main wall"},
	}
	for i, n := range allowanceNames {
		printing = append(printing, attrSpec{name: n, kind: aNumber, def: "see `barwright bracket`", meaning: about[i]})
	}
	return []blockSpec{
		{name: "bracket", label: ownLabel, meaning: "printed parts; also made for joints with \"printed-angle\", \"printed-plate\" and \"printed-corner\"", attrs: []attrSpec{
			{name: "kind", kind: aText, required: true, meaning: strings.Join(kinds, ", ")},
			{name: "between", kind: aRefs, meaning: "angle, plate, brace-foot: two of member, set or group whose joints it serves; chooses their joining too"},
			{name: "on", kind: aRefs, meaning: "other kinds: the bars it sits on; of a corner or cross the bars that meet, and it chooses their joining too; of a jig the bars to be drilled"},
			{name: "under", kind: aRefs, meaning: "spacer: the rails that it sets on the posts of `on`; its height is that from the rail below, or from the post's end"},
			{name: "end", kind: aText, meaning: "cap, pad, caster plate: the bar's end, as the frame stands: `\"top\"`, `\"left\"` …"},
			{name: "face", kind: aText, meaning: "cover, clip, cross: the bar's face: `\"front\"` …; of an inside corner the side of the rails it sits on"},
			{name: "toward", kind: aText, meaning: "panel clip: where the panel lies, seen from the bar"},
			{name: "at", kind: aPlaces, def: "the middle", meaning: "cover, clip: places of its middle from the bar's low end"},
			{name: "quantity", kind: aCount, def: "1", meaning: "of a gauge or jig"},
			{name: "thread", kind: aText, def: "the usual one", meaning: "of the screws"},
			{name: "wall", kind: aNumber, def: "that of printing", meaning: "main wall"},
			{name: "text", kind: aText, def: "its mark", meaning: "sunk into the part"},
			{name: "material", kind: aText, def: "that of printing", meaning: "printing polymer"},
			{name: "load", kind: aNumber, def: "that of printing", meaning: "load of the strength note, N"},
			{name: "set", kind: aObject, def: "none", meaning: "parameters of the kind: `{ cells = 2 }`; `barwright bracket` lists them"},
		}},
		{name: "printing", once: true, meaning: "figures for all printed parts; each default is common practice", attrs: printing},
	}
}

// printPolymers returns the printing polymers that are known.
func printPolymers() []string { return materialNames(standard.Print) }

// readPrinting reads the printing block.
func (l *loader) readPrinting() {
	b := l.only("printing")
	if b == nil {
		return
	}
	p := &Printing{Origin: b.header}
	if b.has("bed") {
		v, ok := b.nums("bed", 3)
		if !ok {
			return
		}
		if slices.Min(v) <= 0 {
			l.fail(b.at("bed"), fmt.Sprintf("bed has a side of %s mm", show(slices.Min(v))), "Write width, depth and height: bed = [220, 220, 250].")
			return
		}
		copy(p.Bed[:], v)
	}
	var ok, ok1, ok2 bool
	p.Material, ok = l.polymer(b)
	p.Load, ok1 = b.positive("load", 0)
	p.Wall, ok2 = b.positive("wall", 0)
	for _, n := range allowanceNames {
		if v, good := b.num(n, 0); b.has(n) && good {
			p.Allowances = append(p.Allowances, BracketValue{n, v})
		}
	}
	if ok && ok1 && ok2 {
		l.f.Printing = p
	}
}

// polymer reads the material of a printed part.
func (l *loader) polymer(b *block) (string, bool) {
	s, ok := b.str("material", "")
	if ok && s != "" && indexOf(printPolymers(), s) < 0 {
		l.fail(b.at("material"), fmt.Sprintf("The printing material %q is not known", shorten(s)), didYouMean(s, printPolymers()))
		return s, false
	}
	return s, ok
}

// readBrackets reads the bracket blocks. Those of a kind that serves joints choose the joining of their joints.
func (l *loader) readBrackets() {
	l.each("bracket", func(b *block) {
		names, _ := BracketKinds()
		kind, ok := b.choice("kind", "", names...)
		i := indexOf(names, kind)
		if !ok || i < 0 {
			return
		}
		x := &Bracket{Name: b.name, Kind: kind, Origin: b.header}
		if !l.bracketFigures(b, x, bracketKinds[i]) || !l.bracketSides(b, x) || !l.bracketUses(b, bracketKinds[i]) || !l.bracketPlace(b, x, bracketKinds[i]) {
			return
		}
		l.f.Brackets = append(l.f.Brackets, x)
	})
}

// bracketFigures reads what every kind takes.
func (l *loader) bracketFigures(b *block, x *Bracket, k bracketKind) bool {
	var ok [6]bool
	x.Thread, ok[0] = b.str("thread", "")
	if ok[0] && b.has("thread") {
		_, ok[0] = l.thread(x.Thread, b.at("thread"))
	}
	x.Wall, ok[1] = b.positive("wall", 0)
	x.Text, ok[2] = b.str("text", "")
	x.Material, ok[3] = l.polymer(b)
	x.Load, ok[4] = b.positive("load", 0)
	x.Quantity, ok[5] = b.checkedInt("quantity", 1, 1, 1000)
	if o := b.object("set", k.params...); o != nil {
		for _, key := range o.keys {
			v, good := o.num(key, 0)
			if !good {
				return false
			}
			x.Set = append(x.Set, BracketValue{key, v})
		}
	} else if b.has("set") {
		return false
	}
	return !slices.Contains(ok[:], false)
}

// bracketSides reads where the parts lie, whatever the kind; what the kind does not have is refused later.
func (l *loader) bracketSides(b *block, x *Bracket) bool {
	var ok [7]bool
	x.End, ok[0] = b.choice("end", "", sideNames...)
	x.Face, ok[1] = b.choice("face", "", sideNames...)
	x.Toward, ok[2] = b.choice("toward", "", sideNames...)
	x.At, ok[3] = b.nums("at", -1)
	for i, name := range []string{"between", "on", "under"} {
		ok[4+i] = true
		if b.has(name) {
			_, ok[4+i] = b.refs(name, true)
		}
	}
	if ok[3] && b.has("at") && len(x.At) == 0 {
		l.fail(b.at("at"), "at names no place", "Write places from the bar's low end, at = [100, 400], or leave at out for the middle.")
		return false
	}
	return !slices.Contains(ok[:], false)
}

// bracketUses sees that the block gives what its kind needs, and nothing that it does not have.
func (l *loader) bracketUses(b *block, k bracketKind) bool {
	type use struct {
		name string
		in   []placing
		need bool
		why  string
	}
	for _, u := range []use{
		{"between", []placing{byJoint}, true, "name two: between = [crown, leg]"},
		{"on", []placing{byBars, byEnd, byFace, unplaced}, true, "name the bars: on = leg"},
		{"end", []placing{byEnd}, true, "say which: end = \"top\""},
		{"face", []placing{byFace}, true, "say which: face = \"front\""},
		{"at", []placing{byFace}, false, ""},
		{"quantity", []placing{unplaced}, false, ""},
	} {
		fits := slices.Contains(u.in, k.place) || u.name == "face" && (k.name == "plate-cross" || k.name == "corner-inside")
		switch {
		case b.has(u.name) && !fits:
			l.fail(b.at(u.name), fmt.Sprintf("A printed part %q has no %s", k.name, u.name), "")
			return false
		case !b.has(u.name) && fits && (u.need || u.name == "face" && k.name == "plate-cross") && slices.Contains(u.in, k.place):
			l.fail(b.header, fmt.Sprintf("%s lacks %q", b, u.name), strings.ToUpper(u.why[:1])+u.why[1:]+".")
			return false
		}
	}
	switch {
	case b.has("under") && k.name != "spacer":
		l.fail(b.at("under"), "Only a spacer has under", "Other gauges and jigs name their bars with on.")
		return false
	case k.name == "panel-clip" && !b.has("toward"):
		l.fail(b.header, fmt.Sprintf("%s lacks \"toward\"", b), "Say where the panel lies, seen from the bar: toward = \"right\".")
		return false
	case k.name != "panel-clip" && b.has("toward"):
		l.fail(b.at("toward"), "Only a panel clip has toward", "")
		return false
	case k.name == "plate-cross" && !b.has("face"):
		l.fail(b.header, fmt.Sprintf("%s lacks \"face\"", b), "Say which face of the bars it lies on: face = \"front\".")
		return false
	}
	return true
}

// bracketPlace reads where the parts go.
func (l *loader) bracketPlace(b *block, x *Bracket, k bracketKind) bool {
	if k.place == byJoint {
		return l.bracketJoint(b, x, k)
	}
	f, ok := b.refs("on", true)
	if !ok {
		return false
	}
	if x.On, ok = f.members(); !ok {
		return false
	}
	if b.has("under") {
		u, ok := b.refs("under", true)
		if !ok {
			return false
		}
		if x.Under, ok = u.members(); !ok {
			return false
		}
		for _, v := range x.Set {
			if v.Name == "height" {
				l.fail(b.at("set"), "height fights under", "With under the height follows from the place of the rails; leave one of the two out.")
				return false
			}
		}
	}
	if k.place == byBars {
		with := PrintedCorner
		if k.name == crossPlate {
			with = PrintedPlate
		}
		l.f.rules = append(l.f.rules, jointRule{block: x, with: l.joiningNamed(with), origin: b.header})
	}
	for _, m := range x.On {
		if k.place == byEnd {
			if _, ok := l.drilledEnd(b, m, x.End); !ok {
				return false
			}
		}
		if k.place == byFace {
			if _, ok := l.drilledSide(b, m, x.Face); !ok {
				return false
			}
			for _, v := range x.At {
				if !l.onMember(b, "at", m, v) || !l.pay(referenceCost) {
					return false
				}
			}
		}
	}
	return true
}

// bracketJoint makes the rule that joins two by the part.
func (l *loader) bracketJoint(b *block, x *Bracket, k bracketKind) bool {
	f, ok := b.refs("between", true)
	if !ok {
		return false
	}
	if len(f.entry) != 2 {
		l.fail(b.at("between"), fmt.Sprintf("between names %d", len(f.entry)), "It needs two: members, sets or groups.")
		return false
	}
	for i, e := range f.entry {
		if x.Between[i], ok = placed(e.bars); !ok {
			return false
		}
	}
	with := PrintedAngle
	if strings.HasPrefix(k.name, "plate") {
		with = PrintedPlate
	}
	l.f.rules = append(l.f.rules, jointRule{between: x.Between, with: l.joiningNamed(with), origin: b.header})
	return true
}

// Problem returns the error that something of the file can't be, found after the file was read: at a place of the file, what is
// wrong and what helps.
func (f *Frame) Problem(at hcl.Range, summary, detail string) *Diagnostics {
	return newDiagnostics(hcl.Diagnostics{problem(at, summary, detail)}, f.src)
}
