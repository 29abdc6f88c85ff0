package mesh

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"strconv"

	"barwright/frame"
	"barwright/geom"
)

// deformedPage is the sheet on which a moved frame is drawn: words above, the frame, the colour scale at its right, the
// caution at the bottom.
type deformedPage struct {
	img    *image.NRGBA
	inner  image.Rectangle // of the frame with the scale
	beside float64         // of the scale
	pen    *pen
}

func newDeformedPage(w, h int, d *Deformed) *deformedPage {
	p := &deformedPage{img: image.NewNRGBA(image.Rect(0, 0, w, h))}
	draw.Draw(p.img, p.img.Bounds(), image.White, image.Point{}, draw.Src)
	p.pen = newPen(p.img, w, h)
	top, bottom := p.line(float64(len(d.Lines))+1)+p.pen.size, 1.4*p.line(float64(len(p.wrap(d.Foot, float64(w)-3*p.pen.size))))
	p.beside = math.Min(p.scaleWidth(d), 0.3*float64(w))
	p.inner = image.Rect(0, int(top), w, max(h-int(bottom), int(top)+minPictureSide))
	return p
}

// line returns the height of n lines of text.
func (p *deformedPage) line(n float64) float64 { return 1.45 * p.pen.size * n }

// wrap splits text at blanks into lines of a width in pixels.
func (p *deformedPage) wrap(text string, width float64) []string {
	var out []string
	line := ""
	for _, w := range splitWords(text) {
		if next := line + " " + w; line != "" && p.pen.textWidth(next) > width {
			out = append(out, line)
			line = w
		} else if line == "" {
			line = w
		} else {
			line = next
		}
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

func splitWords(text string) (out []string) {
	word := ""
	for _, c := range text + " " {
		if c != ' ' {
			word += string(c)
			continue
		}
		if word != "" {
			out = append(out, word)
		}
		word = ""
	}
	return out
}

// left writes text that begins at x.
func (p *deformedPage) left(x, y float64, text string, c color.Color) {
	p.pen.text(x+p.pen.textWidth(text)/2, y, text, c)
}

// ghost draws the edges of the frame's boxes at rest.
func (p *deformedPage) ghost(f *frame.Frame, d *Deformed, c *camera) {
	width := math.Max(1, p.pen.size/14)
	for _, m := range f.Members {
		mv, ok := d.Bars[m]
		if !ok {
			continue
		}
		size := m.Profile.Size()
		corner := func(i int, z float64) point {
			x, y := size.X/2, size.Y/2
			if i == 1 || i == 2 {
				x = -x
			}
			if i >= 2 {
				y = -y
			}
			px, py, _ := c.project(m.Place.Apply(geom.Vec{X: x, Y: y, Z: z}).Add(mv.Base))
			return point{px + float64(p.inner.Min.X), py + float64(p.inner.Min.Y)}
		}
		for i := range 4 {
			a, b := corner(i, 0), corner(i, m.Length())
			p.pen.lineTo(a, b, width, ghostColour)
			p.pen.lineTo(a, corner((i+1)%4, 0), width, ghostColour)
			p.pen.lineTo(b, corner((i+1)%4, m.Length()), width, ghostColour)
		}
	}
}

// mark points at the place that moves most.
func (p *deformedPage) mark(d *Deformed, c *camera) {
	at, ok := d.peak()
	if !ok {
		return
	}
	x, y, _ := c.project(at)
	l := label{text: oneLine(d.PeakIs), at: point{x + float64(p.inner.Min.X), y + float64(p.inner.Min.Y)}}
	l.to = point{l.at.x, math.Max(l.at.y-4*p.pen.size, float64(p.inner.Min.Y)+p.pen.size)}
	p.pen.leader(l)
	p.pen.balloon(l.to.x, l.to.y, l.text, inkColour)
}

// write puts the words and the scale on the page.
func (p *deformedPage) write(d *Deformed) {
	x, y := 1.5*p.pen.size, 1.4*p.pen.size
	p.left(x, y, oneLine(d.Title), inkColour)
	for _, l := range d.Lines {
		y += p.line(1)
		p.left(x, y, oneLine(l), faintColour)
	}
	foot := p.wrap(oneLine(d.Foot), float64(p.img.Bounds().Dx())-3*p.pen.size)
	y = float64(p.img.Bounds().Dy()) - p.line(float64(len(foot))) + 0.2*p.pen.size
	for _, l := range foot {
		p.left(x, y, l, faintColour)
		y += p.line(1)
	}
	p.scale(d)
}

// scaleTicks are the shares at which the scale carries numbers.
const scaleTicks = 5

// tick returns the number at a tick.
func (d *Deformed) tick(i int) string {
	if i == 0 {
		return "0"
	}
	v := d.Most * float64(i) / (scaleTicks - 1)
	digits := 2 - int(math.Floor(math.Log10(math.Max(d.Most, 1e-9))))
	return strconv.FormatFloat(v, 'f', max(0, min(digits, 4)), 64)
}

func (d *Deformed) scaleHead() string {
	if d.Unit == "" {
		return "share of most"
	}
	return "shift, " + d.Unit
}

// scaleWidth returns the room that the scale takes at the right, in pixels.
func (p *deformedPage) scaleWidth(d *Deformed) float64 {
	widest := p.pen.textWidth(d.scaleHead())
	for i := range scaleTicks {
		widest = math.Max(widest, 2*p.pen.size+p.pen.textWidth(d.tick(i)))
	}
	return widest + 3*p.pen.size
}

// scale draws the colour scale.
func (p *deformedPage) scale(d *Deformed) {
	x := math.Floor(float64(p.inner.Max.X) - p.beside)
	high := 0.55 * float64(p.inner.Dy())
	top := float64(p.inner.Min.Y) + (float64(p.inner.Dy())-high)/2
	wide := 1.3 * p.pen.size
	rows := int(high)
	for i := range rows {
		y := int(top) + i
		c := ScaleColour(1 - (float64(i)+0.5)/float64(rows))
		draw.Draw(p.img, image.Rect(int(x), y, int(x+wide), y+1), image.NewUniform(c), image.Point{}, draw.Src)
	}
	low := math.Floor(top) + float64(rows)
	for i := range scaleTicks {
		y := low - float64(rows)*float64(i)/(scaleTicks-1)
		p.pen.lineTo(point{math.Floor(x + wide), y}, point{x + wide + 0.5*p.pen.size, y}, math.Max(1, p.pen.size/12), inkColour)
		p.left(x+wide+0.8*p.pen.size, y, d.tick(i), inkColour)
	}
	p.left(x, math.Floor(top)-1.3*p.pen.size, d.scaleHead(), inkColour)
}
