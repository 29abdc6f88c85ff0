package bracket

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"barwright/frame"
	"barwright/geom"
	"barwright/standard"
)

// Spec asks for one printed part. The zero value of a field means its default.
type Spec struct {
	Kind     string             // name of a [Kind]
	Profile  *geom.Profile      // what it sits on; it must pass Validate
	ProfileB *geom.Profile      // of an angle or brace foot: the profile of the second bar, nil for the same
	Thread   string             // of the screws, "M6"; "" takes the usual one for the profile's slot or core
	Wall     float64            // main wall, mm; 0 takes the default for the profile, and it is rounded up to whole lines
	Params   map[string]float64 // by the names of the kind's parameters
	Text     string             // mark to sink into the part: letters, figures, - . /; "" for none
	Material string             // printing polymer, "" for PETG
	Load     float64            // of the strength note, N; 0 for DefaultLoad
	// Allowances, nil for the defaults.
	Allowances *Allowances
	Bed        geom.Vec // largest print; zero for 220 × 220 × 250
	// Part is the bar that a drill jig serves.
	Part *frame.Part
}

// Param describes one parameter of a kind.
type Param struct {
	Name             string // as [Spec] names it
	Unit             string // "mm", "deg", "" for a count or a choice
	Default          float64
	Min, Max         float64 // limits, included
	Whole            bool    // only whole numbers
	About            string  // what it is
	ZeroMeansDefault bool    // 0 is allowed whatever Min says, and takes a figure from the profile
}

// Kind describes one kind of printed part.
type Kind struct {
	Name   string
	About  string
	Params []Param
	make   func(*model)
}

// defaultBed is the largest print in mm unless said otherwise: that of a usual small printer (common practice, no source).
var defaultBed = geom.Vec{X: 220, Y: 220, Z: 250}

// DefaultMaterial is the polymer of a part that names none.
const DefaultMaterial = "PETG"

// DefaultLoad is the load in N of the strength note of a part that names none.
const DefaultLoad = 100

// Kinds returns all kinds in a fixed order.
func Kinds() []Kind { return slices.Clone(kinds) }

// KindByName returns the kind of a name.
func KindByName(name string) (Kind, bool) {
	for _, k := range kinds {
		if k.Name == name {
			return k, true
		}
	}
	return Kind{}, false
}

func mm(name string, def, lo, hi float64, about string) Param {
	return Param{Name: name, Unit: "mm", Default: def, Min: lo, Max: hi, About: about}
}

func auto(name string, lo, hi float64, about string) Param {
	return Param{Name: name, Unit: "mm", Min: lo, Max: hi, About: about, ZeroMeansDefault: true}
}

func count(name string, def, lo, hi float64, about string) Param {
	return Param{Name: name, Default: def, Min: lo, Max: hi, Whole: true, About: about}
}

// kinds is never written.
var kinds = []Kind{
	{Name: "angle", make: makeAngle,
		About: "corner angle with two gussets; bar A lies under y = 0 along x, bar B under x = 0 along y, the slots' middle is z = 0",
		Params: []Param{
			count("cells", 1, 1, 4, "slots side by side that it covers"), count("screws", 1, 1, 3, "screws in each slot of a leg"),
			auto("gusset", 0.8, 12, "thickness of each gusset"), count("ribs", 1, 0, 1, "1: ribs key into both slots"),
			count("washer", 0, 0, 1, "1: room for washers"), mm("room_a", 0, 0, 5000, "free length of bar A from the corner, 0 for plenty"),
			mm("room_b", 0, 0, 5000, "free length of bar B from the corner, 0 for plenty")}},
	{Name: "plate-straight", make: makePlate, About: "flat plate over two bars end to end along x; the bars' face is z = 0", Params: plateParams},
	{Name: "plate-tee", make: makePlate, About: "flat plate over a bar along x and one that butts it from y; the bars' face is z = 0", Params: plateParams},
	{Name: "plate-ell", make: makePlate, About: "flat plate over a corner of bars along x and y; the bars' face is z = 0", Params: plateParams},
	{Name: "plate-cross", make: makePlate, About: "flat plate over a bar along x and two that butt it; the bars' face is z = 0", Params: plateParams},
	{Name: "corner-inside", make: makeInside,
		About:  "three-way corner in the inside: a post ends two rails; rails' tops are z = 0 (along x and y), the post's faces x = 0 and y = 0",
		Params: []Param{count("ribs", 1, 0, 1, "1: ribs key into the slots"), auto("gusset", 0.8, 12, "thickness of the webs")}},
	{Name: "corner-outside", make: makeOutside,
		About:  "three-way cap over the outside corner of three bars along x, y and z, whose outer faces are the coordinate planes",
		Params: []Param{auto("size", 10, 400, "length of its edges along the bars")}},
	{Name: "brace-foot", make: makeBrace,
		About: "foot of a diagonal: the base bar lies under y = 0 along x, the diagonal leaves the origin at the angle over -x, and the foot sits in the wide corner",
		Params: []Param{{Name: "angle", Unit: "deg", Default: 45, Min: 15, Max: 75, About: "between base and diagonal"},
			count("screws", 1, 1, 3, "screws in each leg"), count("ribs", 1, 0, 1, "1: ribs key into both slots"),
			auto("web", 0.8, 12, "thickness of the web"), mm("room_a", 0, 0, 5000, "free length of the base, 0 for plenty"),
			mm("room_b", 0, 0, 5000, "free length of the diagonal, 0 for plenty")}},
	{Name: "end-cap", make: makeCap, About: "cap on a bar's end, which lies at z = 0 with the bar below",
		Params: []Param{count("hold", 0, 0, 1, "0: tongues in the slots; 1: pins in the core bores"), mm("depth", 10, 4, 60, "length of tongues or pins"),
			auto("tongue", 0.8, 20, "thickness of the tongues"), mm("grip", 0.1, 0, 0.4, "oversize of the pins' edges on the bore"),
			mm("inset", 0.2, 0, 2, "how far the cap stays inside the bar's outline")}},
	{Name: "slot-cover", make: makeCover, About: "strip that snaps into a slot; the bar's face is z = 0, the slot runs along x",
		Params: []Param{mm("length", 100, 10, 1000, "length of the strip"), mm("leg", 1.2, 0.4, 6, "thickness of the snap legs"),
			mm("catch", 0.5, 0.2, 2, "how far the catches reach behind the lips"), mm("overlap", 1.5, 0.4, 10, "of the strip over the slot's edges")}},
	{Name: "cable-clip", make: makeCable, About: "clip that snaps into a slot and holds a cable along x; the bar's face is z = 0",
		Params: []Param{mm("cable", 6, 2, 40, "diameter of the cable"), mm("width", 10, 4, 60, "along the slot"), mm("leg", 1.2, 0.4, 6, "thickness of the snap legs"),
			mm("catch", 0.5, 0.2, 2, "how far the catches reach behind the lips")}},
	{Name: "panel-clip", make: makePanel, About: "screwed clip that holds a panel lying on the bar's face z = 0 beside it, toward +y; the slot runs along x",
		Params: []Param{mm("panel", 4, 1, 25, "thickness of the panel"), mm("squeeze", 0.2, 0, 1, "how much thinner the gap is than the panel"),
			mm("lap", 8, 3, 40, "of the lip over the panel"), auto("width", 6, 120, "along the slot"), count("ribs", 1, 0, 1, "1: a rib keys into the slot")}},
	{Name: "foot-pad", make: makePad, About: "pad under a post's end, which lies at z = 0 with the post above",
		Params: []Param{mm("margin", 8, 0, 60, "by which the pad is wider than the post"), mm("peg", 4, 1.5, 20, "height of the pegs in the slots")}},
	{Name: "caster-plate", make: makeCaster, About: "plate under a post's end (z = 0, post above) with a rectangle of holes for a caster",
		Params: []Param{mm("pattern_x", 60, 10, 200, "hole centres along x"), mm("pattern_y", 60, 10, 200, "hole centres along y"),
			{Name: "bolt", Unit: "mm", Default: 6, Min: 3, Max: 10, Whole: true, About: "thread of the caster's screws: 6 for M6"},
			count("insert", 0, 0, 2, "0: through holes; 1: pockets for nuts; 2: heat-set inserts"), mm("peg", 4, 1.5, 20, "height of the pegs in the slots"),
			mm("caster", 0, 0, 300, "height of the caster from the floor to its plate, 0 where not known: how the frame stands level follows from it")}},
	{Name: "drill-jig", make: nil, About: "sleeve that slides on a bar's end against a stop and guides the drill to the part's holes; z runs into the bar",
		Params: []Param{mm("guide", 8, 4, 30, "length of the drill's guide: the sleeve's wall"), mm("bush", 0, 0, 20, "diameter of a drill bush to glue in, 0 for none"),
			mm("pin", 4, 2, 10, "diameter of the pins that join the pieces")}},
	{Name: "tap-guide", make: makeTap, About: "sleeve for a bar's end that guides a tap along the core bores; z runs into the bar",
		Params: []Param{mm("guide", 16, 6, 60, "length of the tap's guide"), mm("sleeve", 25, 8, 120, "how far it slides on the bar"), mm("shank", 0, 0, 30, "diameter of the tap's shank, 0 for the thread's")}},
	{Name: "spacer", make: makeSpacer, About: "gauge that sets a rail at its height: it stands at z = 0, keyed into the slot of a post whose face is y = 0",
		Params: []Param{mm("height", 80, 5, 1000, "between its ends"), mm("deep", 12, 6, 60, "away from the post"), count("ribs", 1, 0, 1, "1: a rib keys into the slot")}},
	{Name: "square", make: makeSquare, About: "gauge for a right angle: its arms' edges lie on the bars' faces x = 0 and y = 0, its fence on their tops at z = 0",
		Params: []Param{mm("arm", 90, 30, 400, "length of the arms"), mm("broad", 14, 6, 80, "width of the arms"), mm("high", 12, 4, 60, "height of the edges"), mm("fence", 10, 4, 60, "overlap on the bars' tops")}},
}

var plateParams = []Param{
	count("cells", 1, 1, 4, "slots side by side that it covers"), count("screws", 2, 1, 4, "screws in each slot of an arm"),
	count("ribs", 1, 0, 1, "1: ribs key into the slots"), count("head", 0, 0, 1, "0: button heads on the plate; 1: cap heads sunk in counterbores"),
	count("washer", 0, 0, 1, "1: room for washers under button heads"), mm("room", 0, 0, 5000, "length of the shortest bar from its end, 0 for plenty"),
}

// resolve checks a spec and returns the model with all defaults filled in.
func (s Spec) resolve() (*model, *Error) {
	k, ok := KindByName(s.Kind)
	if !ok {
		return nil, fight(RuleKind, "kind", "there is no printed part %q", s.Kind)
	}
	m := &model{spec: s, kind: k, a: DefaultAllowances(), bed: s.Bed, values: map[string]float64{}}
	if s.Allowances != nil {
		m.a = *s.Allowances
	}
	if e := m.a.check(); e != nil {
		return nil, e
	}
	// A chamfer thinner than this is no more than the print's own roughness.
	if m.a.First < 0.05 {
		m.a.First = 0
	}
	if m.a.Edge < 0.05 {
		m.a.Edge = 0
	}
	if s.Part != nil && s.Profile == nil {
		m.spec.Profile = s.Part.Bar.Profile
	}
	if m.spec.Profile == nil {
		return nil, fight(RuleProfile, "profile", "no profile is given")
	}
	for _, p := range []*geom.Profile{m.spec.Profile, s.ProfileB} {
		if p == nil {
			continue
		}
		if err := p.Validate(); err != nil {
			return nil, fight(RuleProfile, "profile", "%v", err)
		}
	}
	m.p, m.pb = m.spec.Profile, s.ProfileB
	if m.pb == nil {
		m.pb = m.p
	}
	if m.bed == (geom.Vec{}) {
		m.bed = defaultBed
	}
	return m, m.fill()
}

// CheckPrinting checks what a spec says of every part, whatever its kind: bed, material, load, wall and allowances. It returns an *[Error].
func (s Spec) CheckPrinting() error {
	m := &model{spec: s, a: DefaultAllowances(), bed: s.Bed, p: &geom.Profile{Pitch: 30}}
	if s.Allowances != nil {
		m.a = *s.Allowances
	}
	if m.bed == (geom.Vec{}) {
		m.bed = defaultBed
	}
	m.spec.Params, m.spec.Text = nil, ""
	if e := m.a.check(); e != nil {
		return e
	}
	if e := m.fill(); e != nil {
		return e
	}
	return nil
}

// fill takes parameters, thread, wall and material.
func (m *model) fill() *Error {
	if e := m.fillParams(); e != nil {
		return e
	}
	for _, v := range []float64{m.bed.X, m.bed.Y, m.bed.Z} {
		if !(v >= 10 && v <= 900) {
			return fight(RuleParameter, "bed", "a bed of %g × %g × %g mm is no printer's", m.bed.X, m.bed.Y, m.bed.Z)
		}
	}
	m.load = m.spec.Load
	if m.load == 0 {
		m.load = DefaultLoad
	}
	if !(m.load > 0 && m.load <= 1e6) {
		return fight(RuleParameter, "load", "a load of %g N is out of range", m.spec.Load)
	}
	name := m.spec.Material
	if name == "" {
		name = DefaultMaterial
	}
	mat, ok := standard.PrintPolymer(name)
	if !ok {
		return fight(RuleParameter, "material", "no printing material %q is known", name)
	}
	m.material = mat
	switch w := m.spec.Wall; {
	case w == 0:
		// Grows with the profile: 3.2 at 20, 4 at 30, 4.8 at 40 (common practice, no source).
		m.wall = m.a.lines(0.08*math.Min(m.p.Pitch, 100) + 1.6)
	case !(w >= m.a.LeastTo-1e-9 && w <= 60):
		return fight(RuleThin, "wall", "a wall of %g mm is out of range: %g to 60", w, m.a.LeastTo)
	default:
		m.wall = m.a.lines(w)
	}
	return m.fillText()
}

func (m *model) fillParams() *Error {
	for _, p := range m.kind.Params {
		m.values[p.Name] = p.Default
	}
	names := make([]string, 0, len(m.spec.Params))
	for n := range m.spec.Params {
		names = append(names, n)
	}
	slices.Sort(names)
	for _, n := range names {
		i := slices.IndexFunc(m.kind.Params, func(p Param) bool { return p.Name == n })
		if i < 0 {
			return fight(RuleParameter, n, "%s has no parameter %q", m.kind.Name, n)
		}
		p, v := m.kind.Params[i], m.spec.Params[n]
		switch {
		case p.ZeroMeansDefault && v == 0:
		case !(v >= p.Min && v <= p.Max):
			return fight(RuleParameter, n, "%s", strings.TrimSpace(fmt.Sprintf("%s is %g; it must be %g to %g %s", n, v, p.Min, p.Max, p.Unit)))
		case p.Whole && v != math.Trunc(v):
			return fight(RuleParameter, n, "%s is %g; it must be a whole number", n, v)
		}
		m.values[n] = v
	}
	return nil
}

// longestText bounds the mark on a part.
const longestText = 24

func (m *model) fillText() *Error {
	if len(m.spec.Text) > longestText {
		return fight(RuleParameter, "text", "a mark of %d letters is too long; %d fit", len(m.spec.Text), longestText)
	}
	for _, r := range m.spec.Text {
		if _, ok := glyphs[upper(r)]; !ok && r != ' ' {
			return fight(RuleParameter, "text", "the mark %q holds %q; letters, figures, - . / fit", m.spec.Text, r)
		}
	}
	return nil
}
