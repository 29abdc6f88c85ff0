package drawing

import (
	"math"

	"barwright/geom"

	"github.com/tdewolff/canvas"
)

// ptPerMm is points of 1/72 inch in a millimetre.
const ptPerMm = 72 / 25.4

// painter puts a sheet's operations on a canvas renderer.
type painter struct {
	r     canvas.Renderer
	fonts [2]*canvas.Font
	faces map[faceKey]*canvas.FontFace
}

type faceKey struct {
	font   uint8
	height float64
}

// paint draws all operations in their order.
func (p *painter) paint(s *Sheet) {
	for _, op := range s.Ops {
		switch op := op.(type) {
		case *Stroke:
			p.stroke(op)
		case *Arc:
			p.arc(op)
		case *Text:
			p.text(op)
		}
	}
}

// lineStyle returns the canvas style of a line; dashes are cut beforehand, so that all lines are solid.
func lineStyle(width float64) canvas.Style {
	st := canvas.DefaultStyle
	st.Fill = canvas.Paint{Color: canvas.Transparent}
	st.Stroke = canvas.Paint{Color: canvas.Black}
	st.StrokeWidth = width
	st.StrokeCapper, st.StrokeJoiner = canvas.RoundCap, canvas.RoundJoin
	return st
}

func (p *painter) stroke(s *Stroke) {
	path := &canvas.Path{}
	if s.Filled {
		addPolyline(path, s.Points, true)
		p.r.RenderPath(path, canvas.DefaultStyle, canvas.Identity)
		return
	}
	pen := s.Role.Pen()
	if pen.Type == Continuous {
		addPolyline(path, s.Points, s.Closed)
	} else {
		pts := s.Points
		if s.Closed {
			pts = append(pts[:len(pts):len(pts)], pts[0])
		}
		for _, d := range dash(pts, pen) {
			addPolyline(path, d, false)
		}
	}
	p.r.RenderPath(path, lineStyle(pen.Width), canvas.Identity)
}

func addPolyline(path *canvas.Path, pts []geom.Vec2, closed bool) {
	for i, q := range pts {
		if i == 0 {
			path.MoveTo(q.X, q.Y)
		} else {
			path.LineTo(q.X, q.Y)
		}
	}
	if closed {
		path.Close()
	}
}

func (p *painter) arc(a *Arc) {
	path := &canvas.Path{}
	if a.Filled {
		addArc(path, a, a.Start, a.Sweep)
		path.Close()
		p.r.RenderPath(path, canvas.DefaultStyle, canvas.Identity)
		return
	}
	pen := a.Role.Pen()
	if pen.Type == Continuous {
		addArc(path, a, a.Start, a.Sweep)
		if a.full() {
			path.Close()
		}
	} else {
		for _, d := range pattern(a.Sweep*a.Radius, pen) {
			addArc(path, a, a.Start+d[0]/a.Radius, (d[1]-d[0])/a.Radius)
		}
	}
	p.r.RenderPath(path, lineStyle(pen.Width), canvas.Identity)
}

// full reports whether the arc is a circle.
func (a *Arc) full() bool { return a.Sweep > 2*math.Pi-1e-9 }

// addArc adds an arc in pieces under a half turn.
func addArc(path *canvas.Path, a *Arc, start, sweep float64) {
	q := a.point(start)
	path.MoveTo(q.X, q.Y)
	n := int(math.Ceil(sweep / (math.Pi * 0.75)))
	for i := 1; i <= n; i++ {
		q = a.point(start + sweep*float64(i)/float64(n))
		path.ArcTo(a.Radius, a.Radius, 0, false, true, q.X, q.Y)
	}
}

// pattern returns where the dashes of a line of a length begin and end. The pattern of ISO 128-2 (dash 12, long
// dash 24, gap 3 line widths, dot half a width) is stretched a little so that
// the line begins and ends with a dash; a line shorter than one pattern stays solid.
func pattern(length float64, pen Pen) [][2]float64 {
	d := pen.Width
	var long, between float64
	dots := 0
	switch pen.Type {
	case Dashed:
		long, between = 12*d, 3*d
	case Chain:
		long, between, dots = 24*d, 6.5*d, 1
	case DoubleChain:
		long, between, dots = 24*d, 10*d, 2
	}
	n := math.Round((length - long) / (long + between))
	if n < 1 {
		return [][2]float64{{0, length}}
	}
	k := length / (long*(n+1) + between*n)
	long, between = long*k, between*k
	gap := between / float64(dots+1)
	var out [][2]float64
	at := 0.0
	for i := 0.0; i <= n; i++ {
		out = append(out, [2]float64{at, at + long})
		at += long
		if i < n {
			for j := range dots {
				c := at + gap*float64(j+1)
				out = append(out, [2]float64{c - d/4, c + d/4})
			}
			at += between
		}
	}
	return out
}

// dash cuts a polyline into the dashes of a pen.
func dash(pts []geom.Vec2, pen Pen) [][]geom.Vec2 {
	lengths := make([]float64, len(pts))
	for i := 1; i < len(pts); i++ {
		lengths[i] = lengths[i-1] + pts[i].Dist(pts[i-1])
	}
	total := lengths[len(pts)-1]
	if total == 0 {
		return nil
	}
	at := func(d float64, i int) geom.Vec2 {
		t := (d - lengths[i-1]) / (lengths[i] - lengths[i-1])
		return pts[i-1].Add(pts[i].Sub(pts[i-1]).Scale(t))
	}
	var out [][]geom.Vec2
	i := 1
	for _, d := range pattern(total, pen) {
		for i < len(pts)-1 && lengths[i] <= d[0] {
			i++
		}
		piece := []geom.Vec2{at(d[0], i)}
		for i < len(pts)-1 && lengths[i] < d[1] {
			piece = append(piece, pts[i])
			i++
		}
		out = append(out, append(piece, at(d[1], i)))
	}
	return out
}

// text draws a text, each run in its font.
func (p *painter) text(t *Text) {
	turn := canvas.Identity.Translate(t.At.X, t.At.Y)
	if t.Turn != 0 {
		turn = turn.Rotate(t.Turn * 180 / math.Pi)
	}
	shift := t.shift(TextWidth(t.String, t.Height))
	for _, r := range runs(t.String, t.Height) {
		m := turn.Translate(shift+r.x, 0)
		p.r.RenderText(canvas.NewTextLine(p.face(r.font, t.Height), r.text, canvas.Left), m)
	}
}

// face returns the face of a font whose capitals are height mm high.
func (p *painter) face(font uint8, height float64) *canvas.FontFace {
	k := faceKey{font, height}
	if f, ok := p.faces[k]; ok {
		return f
	}
	f := p.fonts[font].Face(height/letters().capital[font]*ptPerMm, canvas.Black)
	p.faces[k] = f
	return f
}
