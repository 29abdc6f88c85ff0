package drawing

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"barwright/frame"
	"barwright/geom"
)

// Figures of drill templates, mm.
const (
	templateReach  = 110.0 // how far from its end a template covers a bar
	templateHeight = 200.0 // of the faces that one strip holds
	rulerLength    = 100.0
)

// DrillTemplates returns paper templates for drilling by hand: for each end of a part with holes near it a sheet A4 at
// full size, with the faces side by side to be folded round the bar. Holes farther than 110 mm from both ends
// are not on them, which the sheets say.
func DrillTemplates(f *frame.Frame, o Options) ([]*Sheet, error) {
	o, err := o.settle(f)
	if err != nil {
		return nil, err
	}
	var out []*Sheet
	for _, p := range f.Parts {
		identity := partNumber(f, p) + ", input " + f.Fingerprint
		if set := settingsOf(f); set != "" {
			identity += ", set " + set
		}
		for end := range 2 {
			sheets, err := endTemplates(p, end, o, identity)
			if err != nil {
				return nil, fmt.Errorf("template of part %s, end %d: %w", p.Mark, end+1, err)
			}
			out = append(out, sheets...)
		}
	}
	return out, nil
}

// template is the strip of one end, in paper coordinates.
type template struct {
	*Sheet
	bar    *frame.Bar
	end    int
	u      units
	labels []string
	left   float64 // where the strip begins
	width  float64 // how much of the bar it covers
	scene  scene
	listed []int
}

// near reports whether a hole lies in reach of an end, with room for its whole circle.
func (t *template) near(h frame.Hole) bool {
	z := h.Z
	if t.end == 1 {
		z = t.bar.Length - z
	}
	return z+math.Max(h.Diameter, h.Bore)/2 <= t.width
}

// endTemplates returns the sheets of an end, none where no hole is near: one, or more where the faces of a large section
// do not fit one strip.
func endTemplates(p *frame.Part, end int, o Options, identity string) ([]*Sheet, error) {
	b := &p.Bar
	width := math.Min(templateReach, b.Length)
	probe := template{bar: b, end: end, width: width}
	any := false
	for _, h := range b.Holes {
		any = any || probe.near(h)
	}
	if !any {
		return nil, nil
	}
	var out []*Sheet
	for first := 0; first < 4; {
		last, height := first, 0.0
		for last < 4 && (last == first || height+b.Profile.Along(geom.Side(last)) <= templateHeight) {
			height += b.Profile.Along(geom.Side(last))
			last++
		}
		if height > templateHeight {
			return nil, errors.New("a face is too wide for a template on A4")
		}
		s, err := drawTemplate(p, end, first, last, width, o, identity)
		if err != nil {
			return nil, err
		}
		if s != nil {
			out = append(out, s)
		}
		first = last
	}
	return out, nil
}

// drawTemplate draws the faces first up to but not including last; nil where none of them has a hole near the end.
func drawTemplate(p *frame.Part, end, first, last int, width float64, o Options, identity string) (*Sheet, error) {
	size, _ := SizeOf("A4")
	mark := Clean(p.Mark)
	name := fmt.Sprintf("template-%s-end-%d", fileStem(mark), end+1)
	if first > 0 || last < 4 {
		name += fmt.Sprintf("-faces-%d-%d", first+1, last)
	}
	t := &template{Sheet: &Sheet{Name: name, Title: fmt.Sprintf("Drill template %s, end %d", mark, end+1), Size: size},
		bar: &p.Bar, end: end, u: units{o.Units == "inch"}, labels: holeLabels(&p.Bar), width: width, left: 38}
	space := size.Space()
	t.Rect(Border, space.Low, space.High)
	top := space.High.Y - 8
	t.Write(Label, geom.Vec2{X: space.Low.X + 5, Y: top - 5}, ViewText, Left, Fit(fmt.Sprintf("Drill template: part %s, end %d", mark, end+1), ViewText, 160))
	y := top - 13
	for _, l := range Wrap(fmt.Sprintf("Full size. Print at 100 %%, without fitting to the page, and measure both rulers: %g mm. Cut out, fold at the dashed lines, wrap round the bar with this side out and the end line at end %d, turn to the face numbers, centre-punch through the crosses and check with a rule before drilling. The part drawing rules.", rulerLength, end+1), SmallText, 165) {
		t.Write(Note, geom.Vec2{X: space.Low.X + 5, Y: y}, SmallText, Left, l)
		y -= noteLine
	}
	y -= 2
	holes := 0
	bottom := t.strip(first, last, y, &holes)
	if holes == 0 {
		return nil, nil
	}
	if !t.list(y, bottom, space) {
		return nil, errNoRoom
	}
	t.rulers(space)
	t.Write(Note, geom.Vec2{X: space.Low.X + 8, Y: space.Low.Y + 25}, SmallText, Left, Fit(identity, SmallText, 140))
	if o.NotForManufacture {
		t.Write(Stamp, geom.Vec2{X: space.Low.X + 8, Y: space.Low.Y + 16}, ViewText, Left, "NOT FOR MANUFACTURE")
	}
	if clashes := t.Verify(); len(clashes) > 0 {
		return nil, errors.New(clashes[0].String())
	}
	return t.Sheet, nil
}

// x returns where a place along the bar lies: end 1 at the left of its strip, end 2 at the right of its own.
func (t *template) x(z float64) float64 {
	if t.end == 1 {
		return t.left + t.width - (t.bar.Length - z)
	}
	return t.left + z
}

// holeSpot is where a hole's label belongs.
type holeSpot struct {
	hole int
	at   geom.Vec2
	r    float64
}

// face draws the centre lines, the number and the holes of a face whose upper edge lies at y, and returns the holes.
func (t *template) face(s geom.Side, y float64) []holeSpot {
	var out []holeSpot
	mid := y - t.bar.Profile.Along(s)/2
	for _, o := range t.bar.Profile.CellLines(s) {
		t.Line(CentreLine, geom.Vec2{X: t.left, Y: mid - o}, geom.Vec2{X: t.left + t.width, Y: mid - o})
	}
	numbered(t.Sheet, geom.Vec2{X: t.left - 6, Y: mid}, int(s)+1)
	for i, h := range t.bar.Holes {
		if h.Side != s || !t.near(h) {
			continue
		}
		c, r := geom.Vec2{X: t.x(h.Z), Y: mid - h.Offset}, h.Diameter/2
		t.Circle(Outline, c, r)
		if h.Bore > 0 {
			r = h.Bore / 2
			t.Circle(Edge, c, r)
		}
		t.Line(Edge, c.Sub(geom.Vec2{X: r + 2}), c.Add(geom.Vec2{X: r + 2}))
		t.Line(Edge, c.Sub(geom.Vec2{Y: r + 2}), c.Add(geom.Vec2{Y: r + 2}))
		out = append(out, holeSpot{i, c, r})
		t.listed = append(t.listed, i)
	}
	return out
}

// strip draws faces below each other from y down: seen from outside with end 1 left, the next face is the lower one.
func (t *template) strip(first, last int, y float64, holes *int) (bottom float64) {
	right := t.left + t.width
	endX, farX := t.left, right
	if t.end == 1 {
		endX, farX = right, t.left
	}
	top := y
	var labels []holeSpot
	for s := geom.Side(first); s < geom.Side(last); s++ {
		role := Fold
		if int(s) == first {
			role = Outline
		}
		t.Line(role, geom.Vec2{X: t.left, Y: y}, geom.Vec2{X: right, Y: y})
		labels = append(labels, t.face(s, y)...)
		y -= t.bar.Profile.Along(s)
	}
	*holes += len(labels)
	t.Line(Outline, geom.Vec2{X: t.left, Y: y}, geom.Vec2{X: right, Y: y})
	t.Line(Outline, geom.Vec2{X: endX, Y: top}, geom.Vec2{X: endX, Y: y})
	t.Line(Break, geom.Vec2{X: farX, Y: top}, geom.Vec2{X: farX, Y: y})
	name := fmt.Sprintf("END %d", t.end+1)
	if t.end == 0 {
		name += ", DATUM"
	}
	at := &Text{Role: Label, At: geom.Vec2{X: t.left - 11, Y: (top + y) / 2}, String: name, Height: DimText, Turn: math.Pi / 2, Align: Centre}
	if t.end == 1 {
		at.At.X = right + 6
	}
	t.Add(at)
	t.scene.add(t.Ops...)
	for _, l := range labels {
		t.labelHole(l.hole, l.at, l.r)
	}
	return y
}

// labelHole writes the name of a hole where it stands clear, as near as can be.
func (t *template) labelHole(hole int, c geom.Vec2, r float64) {
	for d := r + 2; d < r+30; d += 1 {
		for k := range 16 {
			a := math.Pi/4 + float64(k)*math.Pi/8
			x := &Text{Role: Label, At: c.Add(geom.Vec2{X: d * math.Cos(a), Y: d*math.Sin(a) - DimText/2}), String: t.labels[hole], Height: DimText, Align: Centre}
			if t.scene.fits(x) {
				t.Add(x)
				t.scene.add(x)
				return
			}
		}
	}
}

// list writes what each hole on the strip is: right of it, then under it. It reports false where they do not fit.
func (t *template) list(top, bottom float64, space Area) bool {
	const width = 40.0
	columns := []struct{ x, top, bottom float64 }{
		{t.left + t.width + 11, top, space.Low.Y + rulerLength + 38},
		{space.Low.X + 8, bottom - 6, space.Low.Y + 28}, {space.Low.X + 54, bottom - 6, space.Low.Y + 28}, {space.Low.X + 100, bottom - 6, space.Low.Y + 28},
	}
	y := columns[0].top - SmallText
	for _, e := range t.entries(width) {
		need := float64(len(e.lines)) * noteLine
		for y-need < columns[0].bottom {
			if columns = columns[1:]; len(columns) == 0 {
				return false
			}
			y = columns[0].top - SmallText
		}
		for k, l := range e.lines {
			text := &Text{Role: Note, At: geom.Vec2{X: columns[0].x, Y: y}, String: l, Height: SmallText}
			if k == 0 && e.id != "" {
				text.Shows, text.Of, text.Value = Position, []string{e.id}, e.z
			}
			t.Add(text)
			y -= noteLine
		}
		y -= 1.5
	}
	return true
}

// templateEntry is one paragraph of a template's list.
type templateEntry struct {
	id    string
	z     float64
	lines []string
}

// entries returns the holes on the strip, then what it leaves out.
func (t *template) entries(width float64) []templateEntry {
	var out []templateEntry
	for _, i := range t.listed {
		h := t.bar.Holes[i]
		lines := append([]string{fmt.Sprintf("%s: %s from end 1", t.labels[i], t.u.place(h.Z))},
			Wrap(strings.Join(kindOf(h).lines(t.u), ", "), SmallText, width)...)
		out = append(out, templateEntry{holeID(i), h.Z, lines})
	}
	if far := len(t.bar.Holes) - t.reached(); far > 0 {
		out = append(out, templateEntry{lines: Wrap(fmt.Sprintf("%d more on no template: see the part drawing.", far), SmallText, width)})
	}
	if !t.bar.Cuts[t.end].Square() {
		out = append(out, templateEntry{lines: Wrap("The end line stands at the long point of the mitre.", SmallText, width)})
	}
	return out
}

// reached counts the holes that lie near either end.
func (t *template) reached() int {
	n := 0
	other := *t
	other.end = 1 - t.end
	for _, h := range t.bar.Holes {
		if t.near(h) || other.near(h) {
			n++
		}
	}
	return n
}

// rulers draws two rulers, one each way, since a printer may scale them differently.
func (t *template) rulers(space Area) {
	o := geom.Vec2{X: space.Low.X + 8, Y: space.Low.Y + 6}
	t.ruler(o, geom.Vec2{X: 1}, geom.Vec2{Y: 1})
	t.Write(Label, geom.Vec2{X: o.X + rulerLength + 4, Y: o.Y}, DimText, Left, "100 mm")
	v := geom.Vec2{X: space.High.X - 6, Y: space.Low.Y + 14}
	t.ruler(v, geom.Vec2{Y: 1}, geom.Vec2{X: -1})
	t.Add(&Text{Role: Label, At: geom.Vec2{X: v.X, Y: v.Y + rulerLength + 4}, String: "100 mm", Height: DimText, Turn: math.Pi / 2})
}

// ruler draws a ruler from o along a direction with its ticks to one side.
func (t *template) ruler(o, along, tick geom.Vec2) {
	t.Line(Outline, o, o.Add(along.Scale(rulerLength)))
	for i := 0; i <= int(rulerLength); i += 5 {
		l := 2.0
		if i%10 == 0 {
			l = 3.5
		}
		p := o.Add(along.Scale(float64(i)))
		t.Line(Edge, p, p.Add(tick.Scale(l)))
	}
}
