package assembly

import (
	"fmt"

	"barwright/frame"
	"barwright/geom"
)

// Kind says what is done in a step.
type Kind string

// The kinds of steps.
const (
	Place   Kind = "place"   // bars go in
	TurnIt  Kind = "turn"    // what stands on the table is turned
	FitFeet Kind = "feet"    // feet are screwed in or on
	Square  Kind = "square"  // diagonals are measured, the frame is pushed square
	Tighten Kind = "tighten" // screws are tightened
	Fit     Kind = "fit"     // printed covers, caps and clips go on
	Check   Kind = "check"   // what to look at in the end
)

// Plan is an order of building.
type Plan struct {
	Frame *frame.Frame
	Steps []*Step
	// From is what is there before the first step, nil for nothing.
	From []*frame.Member
	// Locked says why there is no order, nil where there is one.
	Locked *Locked
	// Warnings are what to know before starting: keys that do not reach, nuts that must drop in.
	Warnings []string
	// Lift is what one person lifts, kg.
	Lift float64
}

// Step is one step of building. Directions are those of the finished frame, whichever way it lies meanwhile.
type Step struct {
	Number int
	Kind   Kind
	Unit   string          // name of what goes in, where it was built by itself; "" for single bars
	Build  []*Step         // how it is built on the table before
	Add    []*frame.Member // what goes in
	Each   bool            // the bars go in one after the other, each by the same way
	Moves  []Move          // straight ways, the last of which ends in place; none for the first bar
	Down   geom.Vec        // which way of the frame points down meanwhile
	Load   []Load          // into slots, before the bars go in
	Joints []*frame.Joint  // that the step closes, loosely
	Turn   *Turn
	Mass   float64 // kg that is lifted at once
	People int     // that lift it; 4 stands for a hoist or a plan
	Hold   bool    // somebody must hold what stands until the step is done
	Feet   []*frame.Foot
	// Printed are the printed parts that go on in the step.
	Printed []*frame.PrintedUse
	// Gauges are the printed ones that it needs.
	Gauges  []*frame.PrintedUse
	Panels  []*frame.Panel // that go into their slots before the bars close them in
	Measure []Diagonal
	Torques []Torque
	// Text is what to do, one sentence an item; Cautions stand beside it.
	Text, Cautions []string

	// Before is which way of the frame pointed down before a turn.
	Before geom.Vec

	early []*frame.Joint // to be tightened now, as no key reaches them later
	event int
	bars  set
	ctx   set // what stands already where the bars go in
}

// Move is a straight way: a unit vector, and a distance in mm, 0 where the bars come from as far off as one likes.
type Move struct {
	Dir geom.Vec
	Way float64
}

// Load is screws or nuts that go into one slot of a bar from one of its ends.
type Load struct {
	Member *frame.Member
	Face   int    // of the part, 1 to 4
	End    int    // of the part, 1 or 2; 0: from the front, drop-in nuts
	Item   string // "button head screw", "slot nut"
	Size   string // "M8x20", "M6"
	Count  int
	At     []float64 // mm from end 1 of the part, in the order in which they go in
	Line   float64   // mm from the middle of the face toward the next face: which of several slots
	Places []geom.Vec
	pieces []*loaded
}

// Turn is a turn of what stands on the table.
type Turn struct {
	Down   geom.Vec // which way of the frame points down after it
	About  geom.Axis
	Mass   float64
	People int
}

// String returns the axis in words.
func (t *Turn) String() string { return fmt.Sprintf("about %s", t.About) }

// Options choose a plan.
type Options struct {
	// From names a group, set or member that is built already.
	From string
}

// NameError says that an option names what the frame does not have.
type NameError struct{ Name, Near string }

// Error names it and the nearest name.
func (e *NameError) Error() string {
	s := fmt.Sprintf("there is no group, set or member %q", e.Name)
	if e.Near != "" {
		s += fmt.Sprintf("; did you mean %q?", e.Near)
	}
	return s
}

// MostBars is how many bars a frame may have to be planned: the table of what blocks what grows with the square.
const MostBars = 600

// New plans the building of a frame. Where no order exists, or a given one can't be followed, the plan says why in
// Locked and holds the steps that can be done. It returns a *[NameError] where an option names nothing, and an error for a frame
// of more than [MostBars] bars.
func New(f *frame.Frame, o Options) (*Plan, error) {
	if len(f.Members) > MostBars {
		return nil, fmt.Errorf("an order is found for frames of at most %d bars; this one has %d", MostBars, len(f.Members))
	}
	m := newModel(f)
	p := &Plan{Frame: f, Lift: m.oneLift()}
	from := newSet(m.n)
	if o.From != "" {
		list, err := named(f, o.From)
		if err != nil {
			return nil, err
		}
		p.From = list
		for _, b := range list {
			from.add(m.index[b])
		}
	}
	b := &builder{model: m, plan: p, from: from}
	b.run()
	return p, nil
}

// builder turns courses into steps.
type builder struct {
	*model
	plan   *Plan
	from   set
	events []*Step // in the order in which they are done, those of units before the unit goes in
	parent map[*Step]*Step
	loads  []*loaded
}

// mostTries bounds how often an order is looked for anew.
const mostTries = 12

// run plans, and plans again without what turned out not to work: a head that no open slot lets in makes its straight way of
// joining impossible.
func (b *builder) run() {
	all := newSet(b.n)
	for i := range b.n {
		all.add(i)
	}
	tries := mostTries
	if b.n > coreLimit*2 {
		tries = mostTries / 4
	}
	for try := range tries {
		b.events, b.loads, b.parent, b.plan.Warnings = nil, nil, map[*Step]*Step{}, nil
		var removals []removal
		removals, b.plan.Locked = b.order(all)
		b.plan.Steps = b.forward(removals, nil)
		again := b.load()
		if len(again) == 0 || try == tries-1 {
			break
		}
		for _, k := range again {
			b.mustSlide[k] = true
			for d := range b.dirs {
				b.blockPair(d, b.joints[k].a, b.joints[k].b)
			}
		}
		b.courses = map[string]course{}
	}
	b.finish()
}

// order returns the removals of the whole frame, in the order of taking apart, as far as it comes apart.
func (b *builder) order(all set) ([]removal, *Locked) {
	m := b.model
	only := set(nil)
	if !b.from.empty() {
		only = all.minus(b.from)
	}
	if a := m.f.Assembly; a != nil && len(a.Order) > 0 {
		return b.givenOrder(all)
	}
	c := m.takeApart(all, upright, only)
	if c.stuck != nil {
		return c.removals, m.explain(c.stuck, b.from)
	}
	return c.removals, nil
}

// forward turns removals into steps in the order of building.
func (b *builder) forward(removals []removal, parent *Step) []*Step {
	var out []*Step
	down := -1
	for k := len(removals) - 1; k >= 0; k-- {
		r := &removals[k]
		if down >= 0 && r.down != down {
			out = append(out, b.turnStep(down, r.down, r.from.minus(r.bars), parent))
		}
		down = r.down
		out = append(out, b.placeStep(r, parent))
	}
	if parent == nil && down >= 0 && down != upright && b.plan.Locked == nil {
		out = append(out, b.turnStep(down, upright, removals[0].from, nil))
	}
	return out
}

// placeStep makes the step of a removal read backward.
func (b *builder) placeStep(r *removal, parent *Step) *Step {
	m := b.model
	s := &Step{Kind: Place, Down: m.dirs[r.down], Mass: m.massOf(r.bars), bars: r.bars, ctx: r.from.minus(r.bars), Hold: r.held}
	s.People = peopleFor(s.Mass, b.plan.Lift)
	for _, i := range r.bars.list() {
		s.Add = append(s.Add, m.f.Members[i])
	}
	if !s.ctx.empty() {
		s.Moves = append(s.Moves, Move{Dir: m.dirs[opposite(r.how.dir)]})
		if r.how.first >= 0 {
			s.Moves = append(s.Moves, Move{Dir: m.dirs[opposite(r.how.first)], Way: r.how.way})
		}
	}
	if len(s.Add) > 1 {
		s.Unit = b.nameOf(r)
		s.Build = b.forward(r.build, s)
	}
	b.parent[s] = parent
	s.event = len(b.events)
	b.events = append(b.events, s)
	for k := range m.joints {
		j := &m.joints[k]
		if r.bars.has(j.a) && s.ctx.has(j.b) || r.bars.has(j.b) && s.ctx.has(j.a) {
			s.Joints = append(s.Joints, j.Joint)
		}
	}
	return s
}

// nameOf names what goes in as one.
func (b *builder) nameOf(r *removal) string {
	if r.unit != nil {
		return r.unit.name
	}
	all := newSet(b.n)
	for i := range b.n {
		all.add(i)
	}
	for _, ax := range []geom.Axis{geom.Z, geom.Y, geom.X} {
		if b.planeOf(r.bars) == ax.Unit() {
			return b.unitName(r.bars, ax, all)
		}
	}
	if t := b.f.Members[r.bars.list()[0]]; t.Set != nil {
		return fmt.Sprintf("unit of %s", t.Set.Name)
	}
	return fmt.Sprintf("unit of %s", b.f.Members[r.bars.list()[0]].Name)
}

// turnStep makes a turn of what stands.
func (b *builder) turnStep(from, to int, standing set, parent *Step) *Step {
	m := b.model
	s := &Step{Kind: TurnIt, Down: m.dirs[to], Before: m.dirs[from], ctx: standing, bars: newSet(m.n)}
	s.Mass = m.massOf(standing)
	s.People = peopleFor(s.Mass, b.plan.Lift)
	t := &Turn{Down: m.dirs[to], Mass: s.Mass, People: s.People, About: turnAxis(from, to)}
	s.Turn = t
	b.parent[s] = parent
	s.event = len(b.events)
	b.events = append(b.events, s)
	return s
}

// turnAxis returns the axis about which the frame goes from one direction down to another; half turns go about a level axis.
func turnAxis(from, to int) geom.Axis {
	a, c := from/2, to/2
	if a == c {
		if a == 0 {
			return geom.Y
		}
		return geom.X
	}
	return geom.Axis(3 - a - c)
}

// Standing returns the bars of the frame that stand already, where a step is done, in the order of the frame.
func (s *Step) Standing(f *frame.Frame) []*frame.Member {
	var out []*frame.Member
	for i, m := range f.Members {
		if s.ctx != nil && s.ctx.has(i) {
			out = append(out, m)
		}
	}
	return out
}
