package drawing

import (
	"fmt"
	"math"

	"barwright/geom"
)

// SweepData is what the plot of a sweep shows: some quantities over one axis, a line for each combination of the others.
type SweepData struct {
	Title   TitleBlock
	XName   string
	X       []float64 // places along the axis, rising; for names 0, 1, 2 …
	XLabels []string  // the names; nil where X are numbers
	Series  []string  // what each line stands for
	Panels  []SweepPanel
	Best    [2]int // series and index on X of the best, -1 where there is none
	Notes   []string
	Caution string
}

// SweepPanel is one quantity. Values holds a number for each series and place, NaN where there is no result.
type SweepPanel struct {
	Name   string // with its unit
	Limit  float64
	Values [][]float64
}

// Figures of a plot, mm.
const (
	plotColumns  = 3
	plotRows     = 2
	plotLeft     = 15.0 // of a panel, for the numbers
	plotRight    = 12.0 // for the word at a limit
	plotTop      = 9.0
	plotBottom   = 15.0
	plotTick     = 1.5
	plotMark     = 0.9 // radius of a marker
	plotRing     = 2.2 // radius of the ring round the best
	seriesASheet = 6
	mostSeries   = 24
)

// SweepSheets draws the plot of a sweep, six lines a sheet, 24 at most. It returns an error where a sheet fails its proof.
func SweepSheets(d SweepData, o Options) ([]*Sheet, error) {
	var out []*Sheet
	n := min(len(d.Series), mostSeries)
	for first := 0; first < n; first += seriesASheet {
		s := &Sheet{Name: "sweep", Title: "Sweep"}
		if first > 0 {
			s.Name, s.Title = fmt.Sprintf("sweep-%d", len(out)+1), fmt.Sprintf("Sweep, sheet %d", len(out)+1)
		}
		p := &sweepPlot{Sheet: s, d: &d, first: first, last: min(first+seriesASheet, n)}
		p.draw(o)
		if clashes := s.Verify(); len(clashes) > 0 {
			return nil, fmt.Errorf("%s: %v", s.Name, clashes[0])
		}
		out = append(out, s)
	}
	NumberSheets(out)
	return out, nil
}

// sweepPlot is one sheet in the making.
type sweepPlot struct {
	*Sheet
	d           *SweepData
	first, last int // series on this sheet
}

func (p *sweepPlot) draw(o Options) {
	p.Size, _ = SizeOf("A3")
	p.DrawBorder()
	t := p.d.Title
	t.Scale, t.Projection, t.NotForManufacture = "–", o.Projection, o.NotForManufacture
	block := p.DrawTitleBlock(t)
	space := p.Size.Space()
	area := Area{geom.Vec2{X: space.Low.X + clearMark, Y: block.High.Y + 4}, geom.Vec2{X: space.High.X - clearMark, Y: space.High.Y - clearMark}}
	w, h := area.Width()/plotColumns, area.Height()/plotRows
	cell := func(i int) Area {
		low := geom.Vec2{X: area.Low.X + w*float64(i%plotColumns), Y: area.High.Y - h*float64(i/plotColumns+1)}
		return Area{low, low.Add(geom.Vec2{X: w, Y: h})}
	}
	for i := range p.d.Panels[:min(len(p.d.Panels), plotColumns*plotRows-1)] {
		p.panel(&p.d.Panels[i], cell(i))
	}
	p.legend(cell(plotColumns*plotRows - 1))
	at := geom.Vec2{X: space.Low.X + 4, Y: space.Low.Y + 2}
	var notes []string
	for _, n := range p.d.Notes {
		notes = append(notes, Clean(n))
	}
	p.drawNotes(append(notes, p.d.Caution), at, p.Size.Width/2-4-at.X)
}

// plotAxis maps values to mm on the paper.
type plotAxis struct{ low, high, from, to float64 }

func (a plotAxis) at(v float64) float64 {
	if a.high == a.low {
		return (a.from + a.to) / 2
	}
	return a.from + (v-a.low)/(a.high-a.low)*(a.to-a.from)
}

// panel draws one quantity.
func (p *sweepPlot) panel(q *SweepPanel, cell Area) {
	box := Area{geom.Vec2{X: cell.Low.X + plotLeft, Y: cell.Low.Y + plotBottom}, geom.Vec2{X: cell.High.X - plotRight, Y: cell.High.Y - plotTop}}
	p.Write(Label, geom.Vec2{X: cell.Low.X, Y: cell.High.Y - DimText - 1}, DimText, Left, Fit(q.Name, DimText, cell.Width()-2))
	p.Rect(Table, box.Low, box.High)
	x := p.xAxis(box)
	low, high, ok := p.spread(q)
	if !ok {
		p.Write(Note, box.Low.Add(box.High).Scale(0.5), SmallText, Centre, "no figures")
		return
	}
	ticks := niceTicks(low, high, 5)
	y := plotAxis{ticks[0], ticks[len(ticks)-1], box.Low.Y, box.High.Y}
	digits := tickDigits(ticks)
	for _, v := range ticks {
		at := y.at(v)
		p.Line(Table, geom.Vec2{X: box.Low.X - plotTick, Y: at}, geom.Vec2{X: box.Low.X, Y: at})
		t := p.Write(Table, geom.Vec2{X: box.Low.X - plotTick - 0.8, Y: at - SmallText/2}, SmallText, Right, fixed(v, digits))
		t.Of, t.Value = []string{q.Name}, v
	}
	if q.Limit > 0 && q.Limit >= y.low && q.Limit <= y.high {
		at := y.at(q.Limit)
		p.Line(Outline, geom.Vec2{X: box.Low.X, Y: at}, geom.Vec2{X: box.High.X, Y: at})
		p.Write(Note, geom.Vec2{X: box.High.X + 1, Y: at - SmallText/2}, SmallText, Left, "limit")
	}
	for k := p.first; k < p.last; k++ {
		p.series(q, k, x, y)
	}
}

// spread returns the least and greatest value of all series, from 0 where that is near, with the limit where that is in reach.
func (p *sweepPlot) spread(q *SweepPanel) (low, high float64, ok bool) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, vs := range q.Values {
		for _, v := range vs {
			if !math.IsNaN(v) {
				low, high = math.Min(low, v), math.Max(high, v)
			}
		}
	}
	if low > high {
		return 0, 0, false
	}
	if q.Limit > 0 && q.Limit > low/2 && q.Limit < 2*high {
		low, high = math.Min(low, q.Limit), math.Max(high, q.Limit)
	}
	if low > 0 && low < 0.6*high {
		low = 0
	}
	return low, high, true
}

// xAxis draws the axis of the values that are tried.
func (p *sweepPlot) xAxis(box Area) plotAxis {
	d := p.d
	in := 4.0 // the outermost points stand off the sides
	if d.XLabels != nil {
		in = box.Width() / (2 * float64(len(d.X)))
	}
	a := plotAxis{d.X[0], d.X[len(d.X)-1], box.Low.X + in, box.High.X - in}
	p.Write(Label, geom.Vec2{X: (box.Low.X + box.High.X) / 2, Y: box.Low.Y - 12}, SmallText, Centre, Fit(d.XName, SmallText, box.Width()))
	tick := func(v float64, text string, room float64) {
		at := a.at(v)
		p.Line(Table, geom.Vec2{X: at, Y: box.Low.Y}, geom.Vec2{X: at, Y: box.Low.Y - plotTick})
		if t := Fit(text, SmallText, room); t != "" && t != "…" {
			p.Write(Table, geom.Vec2{X: at, Y: box.Low.Y - plotTick - 1 - SmallText}, SmallText, Centre, t).Value = v
		}
	}
	if d.XLabels == nil && len(d.X) > 1 {
		ticks := niceTicks(d.X[0], d.X[len(d.X)-1], 5)
		digits := tickDigits(ticks)
		for _, v := range ticks {
			if v >= a.low-1e-9 && v <= a.high+1e-9 {
				tick(v, fixed(v, digits), 15)
			}
		}
		return a
	}
	room := box.Width() / float64(len(d.X))
	every := int(math.Ceil(8 / room))
	for i := 0; i < len(d.X); i += every {
		text := fmt.Sprint(trimmed(d.X[i], 3))
		if d.XLabels != nil {
			text = d.XLabels[i]
		}
		tick(d.X[i], text, room*float64(every)-1)
	}
	return a
}

// series draws one line with its markers, and a ring round the best.
func (p *sweepPlot) series(q *SweepPanel, k int, x, y plotAxis) {
	var run []geom.Vec2
	end := func() {
		if len(run) > 1 && p.d.XLabels == nil { // names have no order that a line could follow
			p.Polyline(seriesRole(k-p.first), run...)
		}
		run = nil
	}
	for i, v := range q.Values[k] {
		if math.IsNaN(v) {
			end()
			continue
		}
		at := geom.Vec2{X: x.at(p.d.X[i]), Y: y.at(v)}
		run = append(run, at)
		p.marker(k-p.first, at)
		if p.d.Best == [2]int{k, i} {
			p.Circle(Symbol, at, plotRing)
		}
	}
	end()
}

// seriesRole returns the line of the n-th series of a sheet.
func seriesRole(n int) Role { return []Role{Edge, Hidden, CentreLine, Phantom}[n%4] }

// marker draws the marker of the n-th series of a sheet.
func (p *sweepPlot) marker(n int, at geom.Vec2) {
	r := plotMark
	square := []geom.Vec2{at.Add(geom.Vec2{X: -r, Y: -r}), at.Add(geom.Vec2{X: r, Y: -r}), at.Add(geom.Vec2{X: r, Y: r}), at.Add(geom.Vec2{X: -r, Y: r})}
	up := []geom.Vec2{at.Add(geom.Vec2{X: -1.2 * r, Y: -r}), at.Add(geom.Vec2{X: 1.2 * r, Y: -r}), at.Add(geom.Vec2{Y: 1.4 * r})}
	switch n % 6 {
	case 0:
		p.Dot(Symbol, at, r)
	case 1:
		p.Fill(Symbol, square...)
	case 2:
		p.Fill(Symbol, up...)
	case 3:
		p.Circle(Edge, at, r)
	case 4:
		p.Polygon(Edge, square...)
	default:
		p.Polygon(Edge, up...)
	}
}

// legend says which line stands for what.
func (p *sweepPlot) legend(cell Area) {
	x, y := cell.Low.X+plotLeft, cell.High.Y-DimText-1
	p.Write(Label, geom.Vec2{X: x, Y: y}, DimText, Left, "Marks")
	y -= 8
	for k := p.first; k < p.last; k++ {
		if p.d.XLabels == nil {
			p.Line(seriesRole(k-p.first), geom.Vec2{X: x, Y: y + 1.2}, geom.Vec2{X: x + 20, Y: y + 1.2})
		}
		p.marker(k-p.first, geom.Vec2{X: x + 10, Y: y + 1.2})
		p.Write(Note, geom.Vec2{X: x + 23, Y: y}, SmallText, Left, Fit(p.d.Series[k], SmallText, cell.High.X-x-24))
		y -= 6
	}
	if p.d.Best[0] >= 0 {
		p.Circle(Symbol, geom.Vec2{X: x + 10, Y: y + 1.2}, plotRing)
		p.Write(Note, geom.Vec2{X: x + 23, Y: y}, SmallText, Left, "the best under the limits")
	}
}

// niceTicks returns at least two round numbers, about n, that span from low to high.
func niceTicks(low, high float64, n int) []float64 {
	if !(high > low) {
		pad := math.Max(math.Abs(low)*0.1, 1e-3)
		low, high = low-pad, high+pad
	}
	raw := (high - low) / float64(n)
	decade := math.Pow(10, math.Floor(math.Log10(raw)))
	step := 10 * decade
	for _, k := range []float64{1, 2, 5} {
		if k*decade >= raw*(1-1e-9) {
			step = k * decade
			break
		}
	}
	first, last := math.Floor(low/step+1e-9), math.Ceil(high/step-1e-9)
	var out []float64
	for i := first; i <= last && len(out) < 50; i++ {
		out = append(out, i*step)
	}
	return out
}

// tickDigits returns how many decimals the ticks need.
func tickDigits(ticks []float64) int {
	step := ticks[1] - ticks[0]
	return max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
}
