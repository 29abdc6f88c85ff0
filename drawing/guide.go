package drawing

import (
	"errors"
	"fmt"

	"barwright/assembly"
	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
)

// Sizes of the guide's pages in mm. Layout is common practice, no source; the page is A4 with the filing margin of ISO 5457.
const (
	guideLine    = 4.2  // from text line to text line
	guideTick    = 2.6  // side of a box to tick
	guideIndent  = 6.0  // of a text behind its box
	takeIndent   = 4.5  // of a line of what to take
	guideHead    = 11.0 // height of a step's heading
	guideGap     = 5.0  // between steps
	guideFooter  = 9.0
	guideSide    = 62.0 // width of the column beside a picture
	guidePicture = 58.0 // height of the picture of a step
	guideSmall   = 46.0 // and of one that builds a unit
	guideFirst   = 30.0 // and of a first bar
)

// guide makes the pages of an assembly guide.
type guide struct {
	f      *frame.Frame
	plan   *assembly.Plan
	scene  *mesh.Scene
	u      units
	known  topologies
	item   map[*frame.Member]int // index in the scene
	feet   []int                 // items of the feet, in the order of the frame
	sheets []*Sheet
	page   *Sheet
	y      float64 // where the next block begins
	footed map[*frame.Foot]bool
	// printed are the scene's items of the printed parts, fitted those that are on.
	printed map[*frame.PrintedUse]int
	fitted  map[*frame.PrintedUse]bool
	boxes   map[int]geom.Box // of shapes of the scene, as far as they were asked for
}

// GuideSheets returns the pages of the assembly guide of a plan: a cover, what to lay out and to check, the steps, each with a pictorial
// view with hidden lines removed in which what goes in is drawn bold, and what to measure. It returns an error where the scene is
// not the frame's.
func GuideSheets(f *frame.Frame, scene *mesh.Scene, plan *assembly.Plan, o Options) ([]*Sheet, error) {
	g, err := newGuide(f, scene, plan, o)
	if err != nil {
		return nil, err
	}
	g.cover()
	g.layOut()
	g.newPage()
	g.steps(plan.Steps, "")
	g.problems()
	NumberSheets(g.sheets)
	return g.sheets, nil
}

func newGuide(f *frame.Frame, scene *mesh.Scene, plan *assembly.Plan, o Options) (*guide, error) {
	if plan == nil || plan.Frame != f || scene == nil || len(scene.Items) < len(f.Members) || len(f.Members) == 0 {
		return nil, errors.New("guide: the plan or the scene is not the frame's")
	}
	o, err := o.settle(f)
	if err != nil {
		return nil, err
	}
	g := &guide{f: f, plan: plan, scene: scene, u: units{o.Units == "inch"}, known: topologies{}, item: map[*frame.Member]int{}, footed: map[*frame.Foot]bool{},
		printed: map[*frame.PrintedUse]int{}, fitted: map[*frame.PrintedUse]bool{}, boxes: map[int]geom.Box{}}
	for i, it := range scene.Items {
		if it.Member != nil {
			g.item[it.Member] = i
		} else if it.Kind == mesh.FittingItem {
			g.feet = append(g.feet, i)
		}
	}
	g.findPrinted()
	return g, nil
}

// title returns what the frame is called.
func (g *guide) title() string {
	if g.f.Title != "" {
		return g.f.Title
	}
	return g.f.Name
}

// newPage begins a page with its border and footer.
func (g *guide) newPage() {
	size, _ := SizeOf("A4")
	s := &Sheet{Name: fmt.Sprintf("guide-%d", len(g.sheets)+1), Title: "Assembly guide", Size: size}
	a := size.Space()
	s.Rect(Border, a.Low, a.High)
	y := a.Low.Y + guideFooter
	s.Line(Table, geom.Vec2{X: a.Low.X, Y: y}, geom.Vec2{X: a.High.X, Y: y})
	base := a.Low.Y + 3.2
	s.Write(Title, geom.Vec2{X: a.Low.X + 3, Y: base}, SmallText, Left, Fit("Assembly guide: "+g.title(), SmallText, 105))
	s.Write(Title, geom.Vec2{X: a.Low.X + 112, Y: base}, SmallText, Left, "input "+g.f.Fingerprint)
	s.Add(&Text{Role: Title, At: geom.Vec2{X: a.High.X - 3, Y: base}, String: "1 / 1", Height: SmallText, Align: Right, Of: []string{sheetNumber}})
	g.sheets = append(g.sheets, s)
	g.page, g.y = s, a.High.Y-guideGap
}

// bottom returns how far down a page may be filled.
func (g *guide) bottom() float64 { return g.page.Size.Space().Low.Y + guideFooter + 3 }

// need begins a new page where less than a height is left.
func (g *guide) need(height float64) {
	if g.y-height < g.bottom() {
		g.newPage()
	}
}

// guideBlock is a step laid out before it is drawn.
type guideBlock struct {
	number   string
	step     *assembly.Step
	unit     string
	texts    [][]string // wrapped
	cautions [][]string
	take     [][]string // wrapped
	details  []detail
	width    float64
	picture  float64 // height
	side     float64 // height of the column beside the picture
	plain    bool    // no picture
	// takeUnder is set where what to take stands under the list of measures, in the picture's own room.
	takeUnder bool
}

// layout measures a step.
func (g *guide) layout(s *assembly.Step, number, unit string) guideBlock {
	a := SizeA4().Space()
	b := guideBlock{number: number, step: s, unit: unit, width: a.Width() - 10, picture: guidePicture}
	if unit != "" {
		b.picture = guideSmall
	}
	if s.Kind == assembly.Place && len(s.Moves) == 0 && len(s.Add) == 1 {
		b.picture = guideFirst
	}
	if s.Kind == assembly.Tighten || s.Kind == assembly.Check || s.Kind == assembly.Fit && !g.drawable(s) {
		b.picture, b.plain = 0, true
	}
	for _, t := range s.Text {
		b.texts = append(b.texts, Wrap(Clean(t), SmallText, b.width-guideIndent))
	}
	for _, t := range s.Cautions {
		b.cautions = append(b.cautions, Wrap(Clean("CAUTION: "+t), SmallText, b.width-6))
	}
	b.side = 8
	for _, t := range g.take(s) {
		lines := Wrap(Clean(t), SmallText, guideSide-takeIndent-4.5)
		b.take = append(b.take, lines)
		b.side += float64(len(lines)) * guideLine
	}
	b.details = g.details(s)
	if len(b.take) == 0 {
		b.side = 0
	}
	if t := g.measures(s); s.Kind == assembly.Square && len(t.rows) > 0 {
		b.takeUnder = len(b.take) > 0
		b.picture, b.side = max(b.picture, t.height()+7+b.side), 0
	}
	rows := (len(b.details) + 1) / 2
	b.side += float64(rows) * (2*detailRadius + detailText + 1)
	return b
}

// SizeA4 returns the size of the guide's pages.
func SizeA4() Size {
	s, _ := SizeOf("A4")
	return s
}

// height returns the height of a block.
func (b *guideBlock) height() float64 {
	h := guideHead + max(b.picture, b.side) + guideGap
	for _, t := range b.texts {
		h += float64(len(t))*guideLine + 1
	}
	for _, c := range b.cautions {
		h += float64(len(c)) * guideLine
	}
	if len(b.cautions) > 0 {
		h += 6
	}
	return h
}

// steps draws steps one after the other, those that build a unit before the unit goes in.
func (g *guide) steps(list []*assembly.Step, in string) {
	for _, s := range list {
		number := fmt.Sprintf("%s%d", in, s.Number)
		if len(s.Build) > 0 {
			g.unitHeading(number, s)
			g.steps(s.Build, number+".")
		}
		unit := ""
		if in != "" {
			unit = in
		}
		b := g.layout(s, number, unit)
		g.need(b.height())
		g.draw(&b)
		g.done(s)
	}
}

// unitHeading names the unit that the next steps build.
func (g *guide) unitHeading(number string, s *assembly.Step) {
	first := g.layout(s.Build[0], number, number)
	g.need(14 + first.height())
	a := g.page.Size.Space()
	g.y -= 8
	g.page.Write(Label, geom.Vec2{X: a.Low.X + 5, Y: g.y}, ViewText, Left, Fit(fmt.Sprintf("For step %s, on the table: the %s", number, s.Unit), ViewText, a.Width()-10))
	g.y -= 3
	g.page.Line(TableFrame, geom.Vec2{X: a.Low.X + 5, Y: g.y}, geom.Vec2{X: a.High.X - 5, Y: g.y})
	g.y -= guideGap
}

// draw draws a block from the top of what is left of the page.
func (g *guide) draw(b *guideBlock) {
	a := g.page.Size.Space()
	left := a.Low.X + 5
	s := g.page
	y := g.y - 7
	tag := "Step " + b.number
	s.Write(Label, geom.Vec2{X: left, Y: y}, ViewText, Left, tag)
	at := left + TextWidth(tag, ViewText) + 5
	s.Write(Label, geom.Vec2{X: at, Y: y}, DimText, Left, Fit(b.step.Headline(), DimText, a.High.X-5-at))
	y = g.y - guideHead
	h := max(b.picture, b.side)
	pic := Area{geom.Vec2{X: left, Y: y - h}, geom.Vec2{X: a.High.X - 5, Y: y}}
	if b.side > 0 {
		pic.High.X -= guideSide
		g.drawSide(b, geom.Vec2{X: pic.High.X + 3, Y: y}, pic)
	}
	if !b.plain {
		g.drawStep(b, pic)
	}
	y -= h
	for _, t := range b.texts {
		y = g.goOn(b, left, y, float64(len(t))*guideLine)
		y -= guideLine
		g.tick(geom.Vec2{X: left, Y: y})
		for i, line := range t {
			if i > 0 {
				y -= guideLine
			}
			g.page.Write(Note, geom.Vec2{X: left + guideIndent, Y: y}, SmallText, Left, line)
		}
		y -= 1
	}
	high := 6.0
	for _, c := range b.cautions {
		high += float64(len(c)) * guideLine
	}
	if len(b.cautions) > 0 {
		y = g.goOn(b, left, y, high)
	}
	y = g.drawCautions(b.cautions, left, y, b.width)
	g.y = y - guideGap
}

// goOn returns where the next lines of a step begin: on a further page where the page has no room for them.
func (g *guide) goOn(b *guideBlock, left, y, height float64) float64 {
	if y-height >= g.bottom() {
		return y
	}
	g.newPage()
	y = g.y - 7
	g.page.Write(Label, geom.Vec2{X: left, Y: y}, ViewText, Left, "Step "+b.number+", continued")
	return y - 4
}

// tick draws a box to tick whose lower left corner lies on a text's base line.
func (g *guide) tick(at geom.Vec2) {
	g.page.Rect(Table, at, at.Add(geom.Vec2{X: guideTick, Y: guideTick}))
}

// drawCautions draws cautions in a frame of their own and returns where the page goes on.
func (g *guide) drawCautions(list [][]string, left, y, width float64) float64 {
	if len(list) == 0 {
		return y
	}
	y -= 2
	top := y
	y -= 1.5
	for _, c := range list {
		for _, line := range c {
			y -= guideLine
			g.page.Write(Note, geom.Vec2{X: left + 3, Y: y + 0.7}, SmallText, Left, line)
		}
	}
	y -= 1.5
	g.page.Rect(TableFrame, geom.Vec2{X: left, Y: y}, geom.Vec2{X: left + width, Y: top})
	return y
}

// drawSide draws what to take, and the details of what is loaded, beside a picture.
func (g *guide) drawSide(b *guideBlock, at geom.Vec2, pic Area) {
	if len(b.take) > 0 {
		at.Y -= 4
		g.page.Write(Label, at, DimText, Left, "Take")
		at.Y -= 1.5
		for _, t := range b.take {
			at.Y -= guideLine
			g.tick(at)
			for i, line := range t {
				if i > 0 {
					at.Y -= guideLine
				}
				g.page.Write(Note, at.Add(geom.Vec2{X: takeIndent}), SmallText, Left, line)
			}
		}
	}
	for i, d := range b.details {
		x := at.X + detailRadius + float64(i%2)*(2*detailRadius+3)
		if i%2 == 0 && i > 0 {
			at.Y -= 2*detailRadius + detailText + 1
		}
		g.drawDetail(d, geom.Vec2{X: x, Y: at.Y - 3 - detailRadius})
	}
}
