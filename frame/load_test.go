package frame

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// base is a frame of four posts and a ring, without errors. It has ten lines.
const base = `frame { profile = "30x30-8" }
param "width" {
  value = 900
  min   = 300
  max   = 2000
}
posts "leg" {
  left = 0
  right = width
  front = 0
  back = 700
  bottom = 40
  top = 1150
}
ring "low" {
  within = leg
  bottom = 90
}
`

// baseLines is how many lines base has.
var baseLines = strings.Count(base, "\n")

// badFile is a case of bad input: what is expected at which place. Lines are counted in in, from 1.
type badFile struct {
	name   string
	in     string // behind base unless alone
	alone  bool
	line   int
	column int
	want   string // part of the summary
	remedy string // part of the remedy
	only   bool   // nothing else is reported
}

func (c badFile) check(t *testing.T) {
	t.Helper()
	src, line := base+c.in, c.line+baseLines
	if c.alone {
		src, line = c.in, c.line
	}
	_, err := Parse("bad.hcl", []byte(src), Options{})
	var d *Diagnostics
	if !errors.As(err, &d) {
		t.Fatalf("error %v; want diagnostics", err)
	}
	for _, e := range d.Entries() {
		if e.Line == line && (c.column == 0 || e.Column == c.column) && strings.Contains(e.Summary, c.want) && strings.Contains(e.Remedy, c.remedy) {
			if c.only && len(d.List) != 1 {
				t.Errorf("%d errors; want only one:\n%s", len(d.List), formatted(d))
			}
			return
		}
	}
	t.Errorf("no error at %d:%d with %q and remedy %q, but:\n%s", line, c.column, c.want, c.remedy, formatted(d))
}

func formatted(d *Diagnostics) string {
	var b strings.Builder
	d.Format(&b, false, 100)
	return b.String()
}

func TestBadNames(t *testing.T) {
	for _, c := range []badFile{
		{name: "unknown block", in: `membr "a" {}`, line: 1, column: 1, want: `no block "membr"`, remedy: `"member"`, only: true},
		{name: "unknown attribute", in: "member \"a\" {\n  lft = 0\n  right = 30\n}", line: 2, column: 3, want: `no attribute "lft"`, remedy: `"left"`},
		{name: "unknown profile", in: "member \"a\" {\n  left=0\n  right=30\n  front=0\n  top=0\n  profile = \"30x30-9\"\n}", line: 6, column: 3, want: `no profile "30x30-9"`, remedy: `"30x30-8"`, only: true},
		{name: "unknown member", in: "joint {\n  between = [leg.front_left, lowe]\n  with = \"plate\"\n}", line: 2, column: 30, want: `no "lowe"`, remedy: `"low"`, only: true},
		{name: "unknown member of a set", in: "joint {\n  on = leg.front_lft\n  with = \"plate\"\n}", line: 2, column: 11, want: `no "front_lft"`, remedy: `"front_left"`, only: true},
		{name: "unknown joining", in: "joint {\n  on = leg\n  with = \"end-scerw\"\n}", line: 3, column: 3, want: `no joining "end-scerw"`, remedy: `"end-screw"`, only: true},
		{name: "unknown name in a formula", in: "let \"a\" { value = widht / 2 }", line: 1, column: 19, want: `no "widht"`, remedy: `"width"`, only: true},
		{name: "unknown face", in: "let \"a\" { value = leg.tpo }", line: 1, column: 22, want: `no "tpo"`, remedy: `"top"`, only: true},
		{name: "unknown function", in: "let \"a\" { value = flor(3.2) }", line: 1, column: 19, want: `no function "flor"`, remedy: `"floor"`, only: true},
		{name: "two of one name", in: "member \"leg\" {\n  left=0\n  right=30\n  front=0\n  top=0\n}", line: 1, column: 8, want: `"leg" is used twice`, remedy: "posts on line 7", only: true},
		{name: "two of one name across kinds", in: "let \"width\" { value = 3 }", line: 1, column: 5, want: `"width" is used twice`, remedy: "param on line 2", only: true},
		{name: "dash in a name", in: "let \"wire-beam\" { value = 3 }", line: 1, column: 5, want: `can't be a name`, remedy: "wire_beam", only: true},
		{name: "minus without blanks", in: "let \"a\" { value = width-30 }", line: 1, column: 19, want: `no "width-30"`, remedy: "width - 30", only: true},
		{name: "minus behind a face", in: "let \"a\" { value = leg.top-12 }", line: 1, column: 22, want: `no "top-12"`, remedy: "leg.top - 12", only: true},
		{name: "a second frame block", in: "frame {}", line: 1, column: 1, want: "A second frame", remedy: "line 1", only: true},
		{name: "a block without its name", in: "member {\n left=0\n right=30\n front=0\n top=0\n}", line: 1, column: 1, want: "no name", remedy: `member "name"`, only: true},
		{name: "a name too many", in: "joint \"x\" {\n on=leg\n with=\"plate\"\n}", line: 1, column: 7, want: "one too many", only: true},
		{name: "an attribute outside", in: "title = \"x\"", line: 1, column: 1, want: "outside of any block", remedy: "frame { title", only: true},
		{name: "a text without quotes", in: "joint {\n on=leg\n with = plate\n}", line: 3, column: 9, want: "quotes", remedy: `"plate"`, only: true},
		{name: "slot as an attribute", in: "profile \"p\" {\n pitch=30\n slot = { lip = 2 }\n core { bore = 6.8 }\n}", line: 3, column: 2, want: `"slot" is a block`, remedy: "slot {", only: true},
		{name: "travel of a mass", in: "mass \"m\" {\n kg=1\n on=leg.front_left\n travel=[1,2]\n}", line: 4, column: 2, want: `no attribute "travel"`, remedy: "path", only: true},
		{name: "row index too high", in: "row \"r\" {\n left=30\n right=870\n bottom=400\n count=3\n first={mid_y=100}\n step=50\n}\nlet \"a\" { value = r[3].top }", line: 9, column: 20, want: "no member of this number", remedy: "0 to 2", only: true},
	} {
		t.Run(c.name, c.check)
	}
}

func TestBadFaces(t *testing.T) {
	bar := func(lines string) string { return "member \"a\" {\n" + lines + "\n}" }
	for _, c := range []badFile{
		{name: "no length", in: bar(" left=0\n front=0\n top=0"), line: 1, column: 1, want: "has no length", remedy: "both left and right", only: true},
		{name: "no place on an axis", in: bar(" left=0\n right=300\n front=0"), line: 1, column: 1, want: "no place along Z", remedy: "bottom, top and mid_z", only: true},
		{name: "two axes missing", in: bar(" left=0\n right=300"), line: 1, column: 1, want: "no place along Y"},
		{name: "two axes missing, the other", in: bar(" left=0\n right=300"), line: 1, column: 1, want: "no place along Z"},
		{name: "two faces across", in: bar(" left=0\n right=300\n front=0\n back=30\n top=0"), line: 5, column: 2, want: "both sides along X and along Y", remedy: "left and right fights front and back", only: true},
		{name: "face and middle across", in: bar(" along=\"x\"\n length=300\n left=0\n front=0\n mid_y=30\n top=0"), line: 6, column: 2, want: "mid_y fights front", only: true},
		{name: "length too much", in: bar(" left=0\n right=300\n length=300\n front=0\n top=0"), line: 4, column: 2, want: "length fights left and right", only: true},
		{name: "length contradicts", in: bar(" left=0\n right=300\n length=200\n front=0\n top=0"), line: 4, column: 2, want: "length fights left and right", only: true},
		{name: "three faces", in: bar(" left=0\n right=300\n mid_x=150\n front=0\n top=0"), line: 4, column: 2, want: "mid_x fights left and right", only: true},
		{name: "length without along", in: bar(" left=0\n length=300\n front=0\n top=0"), line: 3, column: 2, want: "which way", remedy: "along", only: true},
		{name: "along contradicts", in: bar(" left=0\n right=300\n along=\"y\"\n front=0\n top=0"), line: 4, column: 2, want: `along = "y" fights left and right`, only: true},
		{name: "along is no axis", in: bar(" left=0\n right=300\n along=\"w\"\n front=0\n top=0"), line: 4, column: 2, want: `along can't be "w"`, remedy: "x, y, z", only: true},
		{name: "negative length", in: bar(" left=300\n right=0\n front=0\n top=0"), line: 3, column: 2, want: "-300 mm long", remedy: "left face lies at 300", only: true},
		{name: "zero length", in: bar(" left=300\n right=300\n front=0\n top=0"), line: 3, column: 2, want: "0 mm long", only: true},
		{name: "a turn of 45", in: bar(" left=0\n right=300\n front=0\n top=0\n turn=45"), line: 6, column: 2, want: "turn is 45", remedy: "0, 90, 180 or 270", only: true},
		{name: "no profile", alone: true, in: bar(" left=0\n right=300\n front=0\n top=0"), line: 1, column: 1, want: "no profile", remedy: "frame block", only: true},
		{name: "a ring without a level", in: "ring \"r\" {\n within=leg\n}", line: 1, column: 1, want: "no place along Z", only: true},
		{name: "a ring without a side", in: "ring \"r\" {\n left=0\n right=30\n front=0\n top=0\n}", line: 1, column: 1, want: `lacks "back"`, remedy: "within", only: true},
		{name: "within and a face", in: "ring \"r\" {\n within=leg\n left=0\n top=400\n}", line: 3, column: 2, want: "left fights within", only: true},
		{name: "within a ring", in: "ring \"r\" {\n within=low\n top=400\n}", line: 2, column: 9, want: "needs posts", only: true},
		{name: "corners misspelt", in: "ring \"r\" {\n within=leg\n top=400\n corners=\"pinwhel\"\n}", line: 4, column: 10, want: `corners can't be "pinwhel"`, remedy: "pinwheel", only: true},
		{name: "corners of another plane", in: "ring \"r\" {\n plane=\"xz\"\n left=0\n right=300\n bottom=0\n top=300\n front=0\n corners=\"y-through\"\n}", line: 8, column: 10, want: "y-through", remedy: "-through", only: true},
		{name: "a corner without a post", in: "ring \"r\" {\n left=0\n right=300\n front=0\n back=300\n top=0\n corners={ front_left = \"post\" }\n}", line: 7, column: 25, want: "no post", remedy: "within", only: true},
		{name: "hand without a pinwheel", in: "ring \"r\" {\n within=leg\n top=400\n hand=\"reverse\"\n}", line: 4, column: 2, want: "pinwheel", only: true},
		{name: "a row without spacing", in: "row \"r\" {\n left=30\n right=870\n bottom=400\n count=3\n}", line: 1, column: 1, want: "no spacing", remedy: "first and last", only: true},
		{name: "a row with too much", in: "row \"r\" {\n left=30\n right=870\n bottom=400\n count=3\n first={mid_y=100}\n last={mid_y=300}\n step=100\n}", line: 8, column: 2, want: "step fights first and last", only: true},
		{name: "a row of 2.5", in: "row \"r\" {\n left=30\n right=870\n bottom=400\n count=2.5\n first={mid_y=100}\n step=100\n}", line: 5, column: 2, want: "count is 2.5", remedy: "", only: true},
		{name: "a row of a million", in: "row \"r\" {\n left=30\n right=870\n bottom=400\n count=1000000\n first={mid_y=100}\n step=100\n}", line: 5, column: 2, want: "1 to 2000", only: true},
		{name: "a row that is too tight", in: "row \"r\" {\n left=30\n right=870\n bottom=400\n count=30\n between=[30,600]\n}", line: 6, column: 2, want: "30 bars of 30 mm don't fit", remedy: "900 mm and have 570", only: true},
		{name: "a brace out of its plane", in: "brace \"b\" {\n from={ on=leg.front_left, at=300 }\n to={ on=low.back_rail, at=300 }\n}", line: 1, column: 1, want: "one plane", only: true},
		{name: "a brace beyond its member", in: "brace \"b\" {\n from={ on=leg.front_left, at=3000 }\n to={ on=low.left_rail, at=300 }\n}", line: 2, column: 31, want: "outside of leg.front_left", remedy: "1110", only: true},
		{name: "a brace with too much", in: "brace \"b\" {\n from={ on=leg.front_left, at=300 }\n to={ on=low.left_rail, at=300 }\n angle=45\n}", line: 4, column: 2, want: "angle fights", only: true},
		{name: "a brace without a place", in: "brace \"b\" {\n from={ on=leg.front_left, at=300 }\n to={ on=low.left_rail }\n}", line: 3, column: 5, want: `lacks "at"`, remedy: "angle", only: true},
	} {
		t.Run(c.name, c.check)
	}
}

func TestBadNumbers(t *testing.T) {
	let := func(formula string) string { return "let \"a\" { value = " + formula + " }" }
	for _, c := range []badFile{
		{name: "unit", in: let("30mm"), line: 1, column: 19, want: "30mm is not a number", remedy: "write 30.", only: true},
		{name: "inches", in: let("2in"), line: 1, column: 19, want: "2in", remedy: "inch(2)", only: true},
		{name: "decimal comma", in: "let \"a\" {\n value = 1,5\n}", line: 2, column: 10, want: "comma", remedy: "1.5", only: true},
		{name: "absurd", in: let("1e300"), line: 1, column: 19, want: "out of all bounds", only: true},
		{name: "absurd product", in: let("1e6 * 1e6"), line: 1, column: 19, want: "out of all bounds", only: true},
		{name: "over a kilometre", in: let("2000000"), line: 1, column: 19, want: "out of all bounds", remedy: "1000000", only: true},
		{name: "division by zero", in: let("1 / 0"), line: 1, column: 19, want: "can't be computed", remedy: "divides by zero", only: true},
		{name: "hidden division by zero", in: let("1 / (1 / 0)"), line: 1, column: 24, want: "can't be computed", only: true},
		{name: "zero by zero", in: let("0 / 0"), line: 1, column: 19, want: "can't be computed", only: true},
		{name: "remainder by zero", in: let("5 % 0"), line: 1, column: 19, want: "can't be computed", only: true},
		{name: "root of a negative", in: let("sqrt(-4)"), line: 1, column: 19, want: "can't be computed", remedy: "square root", only: true},
		{name: "tangent of 90", in: let("tan(90)"), line: 1, column: 19, want: "can't be computed", remedy: "infinite", only: true},
		{name: "text", in: let(`"30"`), line: 1, column: 19, want: "not a text", remedy: "without quotes", only: true},
		{name: "text in a formula", in: let(`"30" + 1`), line: 1, column: 19, want: "can't be computed", only: true},
		{name: "a member", in: let("leg.front_left"), line: 1, column: 19, want: "not a member", remedy: ".left", only: true},
		{name: "range", in: let("range(1000000)[3]"), line: 1, column: 19, want: "can't be computed", remedy: "at most 2000", only: true},
		{name: "param out of its limits", alone: true, in: "param \"w\" {\n value=5\n min=10\n}", line: 2, column: 2, want: "w = 5 is below", remedy: "", only: false},
		{name: "param that refers", in: "param \"h\" { value = width / 2 }", line: 1, column: 21, want: "can't refer", remedy: "let", only: true},
		{name: "limits crossed", in: "param \"h\" {\n value=3\n min=5\n max=2\n}", line: 4, column: 2, want: "less than min", only: true},
		{name: "negative mass", in: "mass \"m\" {\n kg=-1\n on=leg.front_left\n}", line: 2, column: 2, want: "more than 0", only: true},
		{name: "for in for", in: let("[for a in [1] : [for b in [1] : a]]"), line: 1, column: 35, want: "for inside another", only: true},
		{name: "two numbers", in: "let \"a\" {\n value = 3 4\n}", line: 2, want: "behind the value", only: false},
	} {
		t.Run(c.name, c.check)
	}
}

func TestCircles(t *testing.T) {
	bar := func(name, left, right, front, top string) string {
		return "member \"" + name + "\" {\n left=" + left + "\n right=" + right + "\n front=" + front + "\n top=" + top + "\n}\n"
	}
	for _, c := range []badFile{
		{name: "two members", in: bar("a", "b.right", "500", "0", "0") + bar("b", "0", "a.left", "0", "0"), line: 9, column: 8, want: "a.left → b.right → a.left", only: true},
		{name: "itself", in: bar("a", "a.left", "500", "0", "0"), line: 2, column: 7, want: "a.left → a.left", only: true},
		{name: "through the length", in: bar("a", "0", "a.length", "0", "0"), line: 3, column: 8, want: "a.right → a.length → a.right", only: true},
		{name: "lets", in: "let \"p\" { value = q }\nlet \"q\" { value = r + 1 }\nlet \"r\" { value = p }", line: 3, column: 19, want: "p → q → r → p", only: true},
		{name: "its own set", in: "ring \"r\" {\n within=leg\n top=r.bottom\n}", line: 3, column: 6, want: "r.bottom", only: true},
	} {
		t.Run(c.name, c.check)
	}
	// Between single faces there is no circle.
	f := parse(t, base+bar("a", "b.left", "500", "0", "700")+bar("b", "100", "600", "100", "a.top"))
	if a, b := f.Member("a"), f.Member("b"); a.Box.Low.X != 100 || b.Box.High.Z != 700 {
		t.Errorf("a.left %g, b.top %g; want 100, 700", a.Box.Low.X, b.Box.High.Z)
	}
}

func TestBadDetails(t *testing.T) {
	profile := func(slot string) string {
		return "profile \"p\" {\n pitch=30\n slot {\n" + slot + "\n }\n core {\n  bore=6.8\n }\n}"
	}
	drill := func(lines string) string { return "drill \"d\" {\n on=leg.front_left\n" + lines + "\n}" }
	foot := func(lines string) string { return "foot {\n" + lines + "\n}" }
	for _, c := range []badFile{
		{name: "lips that meet", in: profile("  opening=8\n  lip=2\n  cavity=29.5\n  depth=9"), line: 6, column: 3, want: "cavity", remedy: "slot.cavity (line 24) or pitch (line 20)", only: true},
		{name: "core into the slot", in: profile("  opening=8\n  lip=2\n  cavity=16\n  depth=11.5\n  chamfer=6"), line: 11, column: 3, want: "core bore and the slot floor", remedy: "slot.depth", only: true},
		{name: "slot lacks a size", in: profile("  opening=8\n  lip=2\n  cavity=16"), line: 3, column: 2, want: `slot lacks "depth"`, only: true},
		{name: "unknown thread", in: "profile \"p\" {\n pitch=30\n slot {\n  opening=8\n  lip=2\n  cavity=16\n  depth=9\n  chamfer=3\n }\n core {\n  bore=6.8\n  thread=\"M9\"\n }\n}", line: 12, column: 3, want: `no thread "M9"`, remedy: "M", only: true},
		{name: "unknown alloy", in: "profile \"p\" {\n pitch=30\n alloy=\"lead\"\n slot {\n  opening=8\n  lip=2\n  cavity=16\n  depth=9\n  chamfer=3\n }\n core { bore=6.8 }\n}", line: 3, column: 2, want: `alloy "lead"`, only: true},
		{name: "drill face", in: drill(" face=\"top\"\n from=\"bottom\"\n distance=10\n diameter=5"), line: 3, column: 2, want: "no top face", remedy: "left, right, front, back", only: true},
		{name: "drill end", in: drill(" face=\"left\"\n from=\"front\"\n distance=10\n diameter=5"), line: 4, column: 2, want: "no front end", remedy: "bottom, top", only: true},
		{name: "drill beyond the bar", in: drill(" face=\"left\"\n from=\"top\"\n distance=2000\n diameter=5"), line: 5, column: 2, want: "outside of leg.front_left", remedy: "1110", only: true},
		{name: "drill beside the face", in: drill(" face=\"left\"\n from=\"top\"\n distance=20\n offset=16\n diameter=5"), line: 6, column: 2, want: "leaves the face", remedy: "30 mm wide", only: true},
		{name: "drill too deep", in: drill(" face=\"left\"\n from=\"top\"\n distance=20\n depth=40\n diameter=5"), line: 1, column: 1, want: "deeper than", remedy: "through", only: true},
		{name: "drill without size", in: drill(" face=\"left\"\n from=\"top\"\n distance=20"), line: 1, column: 1, want: "no diameter", only: true},
		{name: "narrow counterbore", in: drill(" face=\"left\"\n from=\"top\"\n distance=20\n diameter=9\n counterbore={ diameter=8, depth=3 }"), line: 7, want: "no wider than its hole", only: true},
		{name: "foot under a rail without a place", in: foot(" under=low.back_rail"), line: 1, column: 1, want: "Where under low.back_rail", remedy: "at = [", only: true},
		{name: "foot at a place under a post", in: foot(" under=leg.back_left\n at=[30]"), line: 3, column: 2, want: "stands upright", only: true},
		{name: "foot beyond the rail", in: foot(" under=low.back_rail\n at=[30, 900]"), line: 3, column: 2, want: "Place 2, 900", remedy: "840", only: true},
		{name: "foot on a plate under a post", in: foot(" under=leg\n on=\"slot-plate\""), line: 3, column: 2, want: "stands upright", remedy: "post-end", only: true},
		{name: "feet in one place", in: foot(" under=leg") + "\n" + foot(" under=leg.back_left"), line: 4, column: 1, want: "second foot", remedy: "line 19", only: true},
		{name: "feet without room", in: "member \"a\" {\n left=30\n right=870\n front=200\n bottom=0\n}\n" + foot(" under=a\n at=50"), line: 7, column: 1, want: "no room", only: true},
		{name: "two groups", in: "group \"g\" { members=leg }\ngroup \"h\" { members=[leg.back_left] }", line: 2, column: 13, want: "in two groups", remedy: `"g" on line 19`, only: true},
		{name: "travel backwards", in: "group \"g\" {\n members=low\n travel={ along=\"z\", from=5, to=1 }\n}", line: 3, column: 33, want: "from 5 to 1", only: true},
		{name: "panel of two", in: "panel \"p\" {\n held_by=[leg.back_left, leg.back_right]\n thickness=4\n}", line: 2, column: 2, want: "names 2 bars", only: true},
		{name: "doorway without width", in: "doorway \"d\" { height=2000 }", line: 1, column: 1, want: "no width", only: true},
		{name: "stock of an unknown profile", in: "stock \"31x31-8\" { offcut=[100] }", line: 1, column: 7, want: `no profile "31x31-8"`, only: true},
		{name: "stock without length", in: "stock \"30x30-8\" { bar=[{ price=3 }] }", line: 1, column: 24, want: "needs a length", only: true},
		{name: "joint of nothing", in: "joint { with=\"plate\" }", line: 1, column: 1, want: "names no members", only: true},
		{name: "joint of three", in: "joint {\n between=[leg, low, leg]\n with=\"plate\"\n}", line: 2, column: 2, want: "between names 3", only: true},
		{name: "joint by texts", in: "joint {\n on=\"leg\"\n with=\"plate\"\n}", line: 2, column: 5, want: "not a text", remedy: "without quotes", only: true},
		{name: "joining without a base", in: "joining \"mine\" { key=5 }", line: 1, column: 1, want: `lacks "base"`, remedy: "end-screw", only: true},
		{name: "a bad mark", in: "member \"a\" {\n left=30\n right=870\n front=0\n top=400\n mark=\"A 1\"\n}", line: 6, column: 2, want: "can't be a mark", only: true},
	} {
		t.Run(c.name, c.check)
	}
}

func TestBadFiles(t *testing.T) {
	deep := strings.Repeat("[", 200) + strings.Repeat("]", 200)
	long := "1" + strings.Repeat(" + 1", 4000)
	many := strings.Repeat("[", 100000)
	for _, c := range []badFile{
		{name: "empty", in: "", alone: true, line: 1, column: 1, want: "empty", remedy: "barwright new", only: true},
		{name: "blanks", in: " \n\n", alone: true, line: 1, column: 1, want: "empty", only: true},
		{name: "only a comment", in: "# nothing\n", alone: true, line: 1, column: 1, want: "no member", only: true},
		{name: "huge", in: strings.Repeat("# a comment\n", 10<<20/12), alone: true, line: 1, column: 1, want: "too big", remedy: "4 MB", only: true},
		{name: "binary", in: "frame {\n\x7fELF\x00\x01", alone: true, line: 2, column: 5, want: "not a text file", only: true},
		{name: "latin-1", in: "# caf\xe9\n", alone: true, line: 1, column: 6, want: "not UTF-8", only: true},
		{name: "deep nesting", in: "let \"a\" { value = " + deep + " }", line: 1, want: "nested too deeply", remedy: "100", only: true},
		{name: "very deep nesting", in: "let \"a\" { value = " + many, line: 1, want: "nested too deeply", only: true},
		{name: "a long expression", in: "let \"a\" { value = " + long + " }", line: 1, column: 17, want: "too long", remedy: "5000", only: true},
		{name: "many minus signs", in: "let \"a\" { value = " + strings.Repeat("-", 100000) + "1 }", line: 1, want: "too long", only: true},
		{name: "a long number", in: "let \"a\" { value = " + strings.Repeat("1", 100) + " }", line: 1, column: 19, want: "too many digits", only: true},
		{name: "not closed", in: "member \"a\" {\n left=0", line: 1, want: "not closed", remedy: "}", only: false},
		{name: "no closing quote", in: "member \"a {\n}", line: 1, want: "", only: false},
		{name: "html", in: "<!DOCTYPE html>\n<html></html>\n", alone: true, line: 1, column: 1, want: "neither an attribute nor a block"},
		{name: "a directive", in: "let \"a\" { value = \"%{ if true }x%{ endif }\" }", line: 1, want: "not read", only: true},
	} {
		t.Run(c.name, c.check)
	}
}

// A chain of references in the wrong order is followed; one without an end is refused before the stack overflows.
func TestLongChains(t *testing.T) {
	chain := func(n int) string {
		var b strings.Builder
		for i := range n {
			b.WriteString("let \"c" + itoa(i) + "\" { value = c" + itoa(i+1) + " + 1 }\n")
		}
		return b.String() + "let \"c" + itoa(n) + "\" { value = 0 }\n"
	}
	parse(t, base+chain(5000))
	_, err := Parse("chain.hcl", []byte(base+chain(60000)), Options{})
	var d *Diagnostics
	if !errors.As(err, &d) || !strings.Contains(formatted(d), "Too many references") {
		t.Errorf("error %v; want one about the length of the chain", err)
	}
}

func itoa(i int) string {
	if i < 10 {
		return string(rune('0' + i))
	}
	return itoa(i/10) + itoa(i%10)
}

// All errors of a file are shown, sorted by place.
func TestAllErrors(t *testing.T) {
	src := base + `member "a" {
  lft = 0
  right = 300
  front = nobody.back
  top = 30 / 0
}
membr "b" {}
joint {
  on = a
  with = "glue"
}
`
	_, err := Parse("all.hcl", []byte(src), Options{})
	var d *Diagnostics
	if !errors.As(err, &d) {
		t.Fatal(err)
	}
	var got []int
	for _, e := range d.Entries() {
		got = append(got, e.Line-baseLines)
	}
	want := []int{1, 2, 4, 5, 7, 10}
	if len(got) != len(want) {
		t.Fatalf("errors on lines %v; want %v:\n%s", got, want, formatted(d))
	}
	for i := range want {
		if got[i] != want[i] {
			t.Fatalf("errors on lines %v; want %v", got, want)
		}
	}
}

func TestSettings(t *testing.T) {
	for _, c := range []struct{ name, set, want string }{
		{"unknown", "widht=800", `no param "widht". Did you mean "width"?`},
		{"not a number", "width=wide", `"wide" is not a number`},
		{"with a unit", "width=800mm", `"800mm" is not a number`},
		{"not a number at all", "width=NaN", `"NaN" is not a number`},
		{"infinite", "width=inf", "out of all bounds"},
		{"too small", "width=100", "below the least value allowed, 300. width goes from 300 to 2000."},
		{"too large", "width=3000", "above the largest value allowed, 2000"},
		{"no equals sign", "width", "not name=value"},
		{"not a param", "leg=3", "It is a posts; only a param can be set."},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Parse("set.hcl", []byte(base), Options{Set: []string{c.set}})
			var e *SetError
			if !errors.As(err, &e) || !strings.Contains(e.Error(), c.want) || !strings.Contains(e.Error(), "--set "+c.set) {
				t.Errorf("error %v; want a SetError with %q", err, c.want)
			}
		})
	}
	a := parse(t, base)
	b, err := Parse("set.hcl", []byte(base), Options{Set: []string{"width=700", "width = 800"}})
	if err != nil {
		t.Fatal(err)
	}
	if b.Box().Size().X != 800 || b.Params[0].Value != 800 || len(b.Settings) != 1 || b.Settings[0].Value != 800 {
		t.Errorf("width %g, settings %v; want 800", b.Box().Size().X, b.Settings)
	}
	if a.Fingerprint == b.Fingerprint || len(a.Fingerprint) != 8 {
		t.Errorf("fingerprints %s and %s; want two of eight digits", a.Fingerprint, b.Fingerprint)
	}
}

func TestLoadFiles(t *testing.T) {
	dir := t.TempDir()
	var r *ReadError
	if _, err := Load(filepath.Join(dir, "none.hcl"), Options{}); !errors.As(err, &r) || !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a missing file: %v; want a ReadError that is ErrNotExist", err)
	}
	if _, err := Load(dir, Options{}); !errors.As(err, &r) {
		t.Errorf("a folder: %v; want a ReadError", err)
	}
	path := filepath.Join(dir, "stand", "frame.hcl")
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte("\xef\xbb\xbf"+strings.ReplaceAll(base, "\n", "\r\n")), 0o666); err != nil {
		t.Fatal(err)
	}
	f, err := Load(path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if f.Name != "stand" || f.Title != "stand" || len(f.Members) != 8 {
		t.Errorf("name %q, title %q, %d members; want stand, stand, 8", f.Name, f.Title, len(f.Members))
	}
	if n := frameName("some/where/cutter.hcl"); n != "cutter" {
		t.Errorf("name %q; want cutter", n)
	}
}
