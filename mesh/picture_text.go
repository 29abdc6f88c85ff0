package mesh

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"github.com/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// pen draws text and flat shapes on a picture.
type pen struct {
	img  *image.NRGBA
	face font.Face
	size float64 // height of the letters' em in pixels
}

// newPen returns a pen with letters of a size in step with the picture's.
func newPen(img *image.NRGBA, width, height int) *pen {
	size := math.Max(9, math.Round(2*15.5*math.Sqrt(float64(width)*float64(height)/(1200*900)))/2)
	f, err := opentype.Parse(liberationsansregular.TTF)
	if err != nil {
		panic("the built-in font cannot be read: " + err.Error()) // embedded bytes: it can't happen
	}
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		panic("the built-in font has no face: " + err.Error())
	}
	return &pen{img, face, size}
}

// textWidth returns the width of text in pixels.
func (p *pen) textWidth(text string) float64 {
	return float64(font.MeasureString(p.face, text)) / 64
}

// text writes text with its middle at a place.
func (p *pen) text(x, y float64, text string, c color.Color) {
	d := font.Drawer{Dst: p.img, Src: image.NewUniform(c), Face: p.face}
	// Capitals are about 0.72 em high: half of that under the middle is the base line.
	d.Dot = fixed.Point26_6{
		X: fixed.Int26_6(math.Round(64 * (x - p.textWidth(text)/2))),
		Y: fixed.Int26_6(math.Round(64 * (y + 0.345*p.size))),
	}
	d.DrawString(text)
}

// point is a place in the picture, in pixels.
type point struct{ x, y float64 }

// fill fills a polygon with smooth edges.
func (p *pen) fill(pts []point, c color.Color) {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, q := range pts {
		x0, y0, x1, y1 = math.Min(x0, q.x), math.Min(y0, q.y), math.Max(x1, q.x), math.Max(y1, q.y)
	}
	box := image.Rect(int(math.Floor(x0)), int(math.Floor(y0)), int(math.Ceil(x1))+1, int(math.Ceil(y1))+1).Intersect(p.img.Bounds())
	if box.Empty() {
		return
	}
	r := vector.NewRasterizer(box.Dx(), box.Dy())
	for i, q := range pts {
		x, y := float32(q.x-float64(box.Min.X)), float32(q.y-float64(box.Min.Y))
		if i == 0 {
			r.MoveTo(x, y)
		} else {
			r.LineTo(x, y)
		}
	}
	r.ClosePath()
	mask := image.NewAlpha(image.Rect(0, 0, box.Dx(), box.Dy()))
	r.Draw(mask, mask.Bounds(), image.Opaque, image.Point{})
	draw.DrawMask(p.img, box, image.NewUniform(c), image.Point{}, mask, image.Point{}, draw.Over)
}

// lineTo fills a straight line of a width.
func (p *pen) lineTo(a, b point, width float64, c color.Color) {
	l := math.Hypot(b.x-a.x, b.y-a.y)
	if l == 0 {
		return
	}
	nx, ny := (b.y-a.y)/l*width/2, (a.x-b.x)/l*width/2
	p.fill([]point{{a.x + nx, a.y + ny}, {b.x + nx, b.y + ny}, {b.x - nx, b.y - ny}, {a.x - nx, a.y - ny}}, c)
}

// pill fills a rectangle w wide and h high with half round ends; where w = h it is a disc.
func (p *pen) pill(x, y, w, h float64, c color.Color) {
	const n = 24
	r := h / 2
	var pts []point
	for side := range 2 {
		for k := 0; k <= n; k++ {
			sin, cos := math.Sincos(math.Pi * (float64(k)/n - 0.5 + float64(side)))
			dx := w/2 - r
			if side == 1 {
				dx = -dx
			}
			pts = append(pts, point{x + dx + r*cos, y + r*sin})
		}
	}
	p.fill(pts, c)
}
