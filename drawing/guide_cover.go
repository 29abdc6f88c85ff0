package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"barwright/assembly"
	"barwright/frame"
	"barwright/geom"
	"barwright/standard"
)

// cover draws the first page: the frame, its size and mass, the tools, and the cautions.
func (g *guide) cover() {
	g.newPage()
	s := g.page
	s.Title = "Cover"
	a := s.Size.Space()
	left := a.Low.X + 5
	y := a.High.Y - 14
	s.Write(Label, geom.Vec2{X: left, Y: y}, TitleText, Left, Fit(g.title(), TitleText, a.Width()-10))
	y -= 8
	sub := "Assembly guide"
	if g.f.Reference != "" {
		sub += ", " + g.f.Reference
	}
	if g.f.Revision != "" {
		sub += ", revision " + g.f.Revision
	}
	s.Write(Label, geom.Vec2{X: left, Y: y}, DimText, Left, Fit(sub, DimText, a.Width()-10))
	y -= 4
	dry := *g
	dry.sheets = nil
	dry.newPage()
	below := dry.y
	dry.coverText()
	below -= dry.y
	high := max(leastCover, min(mostCover, y-1-below-g.bottom()))
	pic := Area{geom.Vec2{X: left, Y: y - high}, geom.Vec2{X: a.High.X - 5, Y: y}}
	p := g.finished()
	g.drawShot(&p, pic, len(g.f.Members) <= mostBalloons)
	g.y = y - high - 1
	g.coverText()
}

// Height of the picture on the cover in mm: as much as what is said under it leaves.
const (
	leastCover = 50.0
	mostCover  = 94.0
)

// coverText writes what stands under the picture of the cover.
func (g *guide) coverText() {
	a := g.page.Size.Space()
	left := a.Low.X + 5
	g.line("%s", g.sizes())
	g.line("%s", g.lifting())
	g.y -= 3
	g.heading("Tools")
	for _, t := range g.tools() {
		g.ticked(t)
	}
	g.y -= 2
	g.heading("How to read this guide")
	for _, t := range g.howToRead() {
		g.line("%s", t)
	}
	var cautions [][]string
	for _, c := range g.coverCautions() {
		cautions = append(cautions, Wrap(Clean("CAUTION: "+c), SmallText, a.Width()-16))
	}
	g.y = g.drawCautions(cautions, left, g.y-1, a.Width()-10)
}

// sizes says how large and heavy the frame is.
func (g *guide) sizes() string {
	box := g.f.Box().Size()
	if b := g.f.Box(); b.Low.Z > g.f.Floor {
		box.Z = b.High.Z - g.f.Floor
	}
	return fmt.Sprintf("Size %s × %s × %s %s (width × depth × height). It weighs %s. %d bars of %d kinds, %d joints.",
		g.u.place(box.X), g.u.place(box.Y), g.u.place(box.Z), g.u.name(), massWords(g.f), len(g.f.Members), len(g.f.Parts), len(g.f.Joints))
}

// lifting says what one person lifts.
func (g *guide) lifting() string {
	return fmt.Sprintf("Lifting counts with %s kg for one person (ISO 11228-1, people of unknown age and sex at home). Two lift two thirds of the sum of what each lifts alone.", trimmed(g.plan.Lift, 1))
}

// howToRead explains marks, directions and pictures.
func (g *guide) howToRead() []string {
	out := []string{
		"Each bar carries its mark (A1, A2 …) and has an end 1 and faces 1 to 4, as on its drawing: seen on end 1 the faces run clockwise; the marking lies on end 2 or on a hidden face. Left, right, front, back, top and bottom are those of the finished frame, also while it lies.",
		"What goes in is drawn bold, a little off its place, with an arrow. A ring with a dot marks where screws or nuts wait in a slot; the detail circle shows that face with end 1 at the left, and the arrow the end from which they go in. The ring goes with the bar as it is drawn, also where that is off its place.",
		"Screws stay a quarter turn loose until a step says otherwise.",
	}
	if len(g.printed) > 0 {
		out = append(out, "P1, P2 … are printed parts. A thin chain line shows the way of one to its place, dashed lines one that a bar hides.")
	}
	return out
}

// checkBars says how bars are checked.
const checkBars = "Measure each bar before it is built in; a wrong length or a hole on the wrong face shows now or in the last step. Lengths may differ by the tolerance of the drawing. Count the tapped ends and holes against the drawing, and screw one screw into each tapped end by hand."

// line writes a text over the width of the page.
func (g *guide) line(format string, args ...any) {
	a := g.page.Size.Space()
	for _, t := range Wrap(Clean(fmt.Sprintf(format, args...)), SmallText, a.Width()-10) {
		g.need(guideLine)
		g.y -= guideLine
		g.page.Write(Note, geom.Vec2{X: a.Low.X + 5, Y: g.y}, SmallText, Left, t)
	}
	g.y--
}

// heading writes a heading.
func (g *guide) heading(text string) {
	g.need(16)
	g.y -= 6
	g.page.Write(Label, geom.Vec2{X: g.page.Size.Space().Low.X + 5, Y: g.y}, DimText, Left, text)
	g.y -= 1
}

// ticked writes a text behind a box to tick.
func (g *guide) ticked(text string) {
	a := g.page.Size.Space()
	lines := Wrap(Clean(text), SmallText, a.Width()-10-guideIndent)
	g.need(guideLine * float64(len(lines)))
	for i, t := range lines {
		g.y -= guideLine
		if i == 0 {
			g.tick(geom.Vec2{X: a.Low.X + 5, Y: g.y})
		}
		g.page.Write(Note, geom.Vec2{X: a.Low.X + 5 + guideIndent, Y: g.y}, SmallText, Left, t)
	}
	g.y -= 0.8
}

// tools lists the tools with the sizes of the keys.
func (g *guide) tools() []string {
	var keys []float64
	least, most := math.Inf(1), 0.0
	for _, j := range g.f.Joints {
		for i := range j.Fasteners {
			s := &j.Fasteners[i]
			if !slices.Contains(keys, s.Key) {
				keys = append(keys, s.Key)
			}
			if t, ok := assembly.TorqueFor(s); ok {
				least, most = min(least, t.NM), max(most, t.NM)
			}
		}
	}
	slices.Sort(keys)
	var out []string
	for _, k := range keys {
		t := fmt.Sprintf("Hexagon key %s mm (ISO 2936)", trimmed(k, 1))
		if row, ok := standard.HexKey(k); ok {
			t += fmt.Sprintf(", long arm about %s mm, straight end: it must pass the access holes", trimmed(row.LongArmMax, 0))
		}
		out = append(out, t)
	}
	if most > 0 {
		span := trimmed(most, 1)
		if least < most {
			span = trimmed(least, 1) + " to " + span
		}
		out = append(out, fmt.Sprintf("Torque wrench for %s N·m with bits of these sizes", span))
	}
	for _, t := range footThreads(g.f) {
		if n, ok := standard.HexNut(t); ok {
			out = append(out, fmt.Sprintf("Two spanners %s mm for the feet %s", trimmed(n.AcrossFlats, 1), t))
		}
	}
	return append(out, "Tape measure, try square, spirit level, soft mallet, marker",
		"A flat table or floor larger than the frame's largest side, two blocks of wood, a cloth against scratches; gloves for carrying")
}

// footThreads returns the threads of the feet.
func footThreads(f *frame.Frame) []string {
	var out []string
	for _, t := range f.Feet {
		if !slices.Contains(out, t.Thread) {
			out = append(out, t.Thread)
		}
	}
	return out
}

// coverCautions returns the cautions that hold for the whole work.
func (g *guide) coverCautions() []string {
	var out []string
	for _, topic := range []string{"sharp_edges", "assembly_pinch", "long_bar", "children"} {
		if c, ok := standard.Safety(topic); ok && c.Caution != "" {
			out = append(out, strings.ToUpper(c.Caution[:1])+c.Caution[1:]+".")
		}
	}
	return append(out, "This guide is an aid and no risk assessment; local rules and the judgement of those who do the work come first.")
}

// layOut draws the page of what to lay out and to check before starting.
func (g *guide) layOut() {
	g.newPage()
	g.page.Title = "Lay out and check"
	g.heading("Lay out and check the bars")
	g.line("%s", checkBars)
	g.table(g.barCheck())
	if len(g.f.Hardware) > 0 {
		g.y -= 3
		g.heading("Lay out the hardware, with spares")
		g.table(g.hardwareCheck())
		g.line("Spares: five in a hundred and at least two of what is small; they are not used up in the steps.")
	}
	if len(g.plan.From) > 0 {
		var names []string
		for _, m := range g.plan.From {
			names = append(names, m.Name)
		}
		g.line("Built already: %s.", strings.Join(names, ", "))
	}
	for _, w := range g.plan.Warnings {
		g.line("NOTE: %s", w)
	}
}

// table draws a list in pieces that fit the pages.
func (g *guide) table(l list) {
	small := l.lettering() == SmallText
	for len(l.rows) > 0 {
		g.need(4 * rowHeight)
		n := min(len(l.rows), int((g.y-g.bottom())/rowHeight)-2)
		part := l
		part.small = small
		part.rows = l.rows[:n]
		l.rows = l.rows[n:]
		g.y -= 2
		g.page.drawDown(part, geom.Vec2{X: g.page.Size.Space().Low.X + 5, Y: g.y})
		g.y -= part.height() + 2
	}
}

// barCheck returns the list of bars with room for what is measured.
func (g *guide) barCheck() list {
	l := list{columns: []listColumn{{"Mark", 14, Centre}, {"Qty", 11, Centre}, {"Profile", 24, Left}, {"Length " + g.u.name(), 22, Right},
		{"Tapped, holes", 46, Left}, {"Measured", 30, Left}, {"OK", 23, Left}}}
	for _, p := range g.f.Parts {
		l.rows = append(l.rows, []string{p.Mark, fmt.Sprint(p.Quantity()), p.Bar.Profile.Name, g.u.place(p.Bar.Length), remarks(p), "", ""})
	}
	return l
}

// hardwareCheck returns the hardware with spares.
func (g *guide) hardwareCheck() list {
	l := list{columns: []listColumn{{"Qty", 12, Centre}, {"Spare", 14, Centre}, {"Item", 44, Left}, {"Standard", 28, Left}, {"Size", 49, Left}, {"There", 23, Left}}}
	for _, h := range g.f.Hardware {
		norm := h.Standard
		if norm == "" {
			norm = "–"
		}
		spare := max(2, int(math.Ceil(0.05*float64(h.Quantity))))
		switch h.Item {
		case "levelling foot", "slot plate", "flat plate", "printed part":
			spare = 0
		}
		l.rows = append(l.rows, []string{fmt.Sprint(h.Quantity), fmt.Sprint(spare), h.Item, norm, strings.ReplaceAll(h.Size, "x", " × "), ""})
	}
	return l
}

// problems says on a page of its own why the frame can't be put together.
func (g *guide) problems() {
	if g.plan.Locked == nil {
		return
	}
	g.need(60)
	g.heading("The frame can't be put together")
	for t := range strings.SplitSeq(g.plan.Locked.Error(), "\n") {
		g.line("%s", strings.TrimSpace(t))
	}
}

// take lists the bars and hardware of a step.
func (g *guide) take(s *assembly.Step) []string {
	if s.Kind != assembly.Place && s.Kind != assembly.FitFeet && s.Kind != assembly.Fit && len(s.Gauges) == 0 {
		return nil
	}
	var out []string
	count := map[string]int{}
	var order []string
	add := func(text string, n int) {
		if count[text] == 0 {
			order = append(order, text)
		}
		count[text] += n
	}
	if s.Unit != "" {
		add(s.Unit, 1)
	} else {
		for _, m := range s.Add {
			add(fmt.Sprintf("%s, %s long", m.Part.Mark, g.u.place(m.Length())), 1)
		}
	}
	for _, j := range s.Joints {
		if j.With.Printed {
			continue // its part brings them
		}
		for i := range j.Fasteners {
			f := &j.Fasteners[i]
			add(fmt.Sprintf("%s %s × %s", f.Item, f.Thread, trimmed(f.Length, 1)), 1)
		}
		if j.With.Method == frame.AngleBracket {
			add("bracket", 1)
		}
		if j.With.Method == frame.Plate {
			add("flat plate", 1)
		}
	}
	for _, t := range s.Printed {
		add(t.Name(), 1)
		screws := slices.Clone(t.Screws)
		for _, j := range t.Joints {
			screws = append(screws, j.Fasteners...)
		}
		for i := range screws {
			add(fmt.Sprintf("%s %s × %s", strings.TrimPrefix(screws[i].Item, "socket head "), screws[i].Thread, trimmed(screws[i].Length, 1)), 1)
			if s.Kind == assembly.Fit && screws[i].SlotNut {
				add("slot nut "+screws[i].Thread, 1)
			}
		}
	}
	for _, t := range s.Gauges {
		add(t.Name(), 1)
	}
	for _, l := range s.Load {
		if l.Item == "slot nut" {
			add("slot nut "+l.Size, l.Count)
		}
	}
	for _, f := range s.Feet {
		add(fmt.Sprintf("levelling foot %s, lock nut", f.Thread), 1)
		if f.On == frame.FootSlotPlate {
			add("slot plate, 2 button head screws", 1)
		}
	}
	for _, t := range order {
		out = append(out, fmt.Sprintf("%d × %s", count[t], t))
	}
	return out
}
