package mesh

import (
	"image"
	"math"

	"barwright/internal/parallel"
)

// Ambient occlusion: how many directions and steps are looked along, how far in pixels of a picture of a
// million pixels, and how dark the darkest corner gets.
const (
	occlusionDirections = 10
	occlusionSteps      = 5
	occlusionReach      = 27
	occlusionStrength   = 0.8
	// occlusionBias is the sine of the angle above a surface's own plane that does not count, so that
	// facets of rounds don't shade each other.
	occlusionBias = 0.2
)

// occlude finds how open each pixel's surface is to light, from the depths round it, after the horizon-based method of
// Bavoil, Sainz and Dimitrov (2008), with fixed directions in place of random ones.
func (p *painting) occlude() {
	reach := occlusionReach * math.Sqrt(float64(p.width)*float64(p.height)/1e6)
	type step struct{ dx, dy int }
	var steps [occlusionDirections][occlusionSteps]step
	for i := range steps {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.25) / occlusionDirections)
		for j := range steps[i] {
			r := reach * math.Pow((float64(j)+1)/occlusionSteps, 1.4)
			steps[i][j] = step{int(math.Round(r * cos)), int(math.Round(r * sin))}
		}
	}
	parallel.Do(p.height, func(y int) {
		for x := range p.width {
			i := y*p.width + x
			p.open[i] = 255
			if math.IsInf(float64(p.depth[i]), 1) {
				continue
			}
			at := p.place(x, y)
			n, ok := p.normal(x, y, at)
			if !ok {
				continue
			}
			radius := reach / p.camera.pixelsPerMM(at[2])
			deepest := p.depth[i] + float32(radius)
			sum := 0.0
			for d := range steps {
				most := 0.0
				for _, s := range steps[d] {
					qx, qy := x+s.dx, y+s.dy
					if qx < 0 || qy < 0 || qx >= p.width || qy >= p.height || p.depth[qy*p.width+qx] > deepest {
						continue
					}
					q := p.place(qx, qy)
					v := [3]float64{q[0] - at[0], q[1] - at[1], q[2] - at[2]}
					// Most of what is near lies in the surface's own plane or under it, or farther off than it matters.
					high := float64(n[0]*v[0]) + float64(n[1]*v[1]) + float64(n[2]*v[2])
					if high <= 0 {
						continue
					}
					square := dot3(v, v)
					if high*high <= occlusionBias*occlusionBias*square || square >= radius*radius {
						continue
					}
					if o := (high/math.Sqrt(square) - occlusionBias) * (1 - square/(radius*radius)); o > most {
						most = o
					}
				}
				sum += most
			}
			p.open[i] = uint8(255 * math.Max(0.25, 1-occlusionStrength*sum/occlusionDirections))
		}
	})
	p.calm(reach)
}

// calm takes the mean of each pixel's openness and that of its neighbours on about the same surface: with one sample a
// pixel, narrow slots would look dashed.
func (p *painting) calm(reach float64) {
	const r = 2
	out := make([]uint8, len(p.open))
	parallel.Do(p.height, func(y int) {
		for x := range p.width {
			i := y*p.width + x
			d := p.depth[i]
			if math.IsInf(float64(d), 1) {
				out[i] = 255
				continue
			}
			limit := float32(0.15 * reach / p.camera.pixelsPerMM(float64(d)))
			sum, n := 0, 0
			for qy := max(y-r, 0); qy <= min(y+r, p.height-1); qy++ {
				for qx := max(x-r, 0); qx <= min(x+r, p.width-1); qx++ {
					if j := qy*p.width + qx; p.depth[j] < d+limit && p.depth[j] > d-limit {
						sum += int(p.open[j])
						n++
					}
				}
			}
			out[i] = uint8(sum / n)
		}
	})
	p.open = out
}

// place returns the point seen at a pixel: right, down and depth in mm.
func (p *painting) place(x, y int) [3]float64 {
	d := float64(p.depth[y*p.width+x])
	k := p.camera.mmPerPixel(d)
	return [3]float64{(float64(x) + 0.5 - p.camera.shiftX) * k, (float64(y) + 0.5 - p.camera.shiftY) * k, d}
}

// normal returns the direction toward the viewer's side of the surface at a pixel, from the neighbour each way that lies nearer in depth.
func (p *painting) normal(x, y int, at [3]float64) ([3]float64, bool) {
	along := func(dx, dy int) ([3]float64, bool) {
		var best [3]float64
		found := false
		for _, s := range [2]int{1, -1} {
			qx, qy := x+s*dx, y+s*dy
			if qx < 0 || qy < 0 || qx >= p.width || qy >= p.height || math.IsInf(float64(p.depth[qy*p.width+qx]), 1) {
				continue
			}
			q := p.place(qx, qy)
			f := float64(s)
			v := [3]float64{f * (q[0] - at[0]), f * (q[1] - at[1]), f * (q[2] - at[2])}
			if !found || math.Abs(v[2]) < math.Abs(best[2]) {
				best, found = v, true
			}
		}
		return best, found
	}
	u, ok1 := along(1, 0)
	v, ok2 := along(0, 1)
	if !ok1 || !ok2 {
		return u, false
	}
	n := cross3(u, v)
	l := math.Sqrt(dot3(n, n))
	if l == 0 {
		return n, false
	}
	if n[2] > 0 { // depth grows away from the viewer
		l = -l
	}
	return [3]float64{n[0] / l, n[1] / l, n[2] / l}, true
}

// Looks of shadow and lines.
const (
	shadowStrength = 0.34
	lineStrength   = 0.88
	lineTone       = 38.0 // of 255
)

// compose lays shadow, surfaces and lines over the background.
func (p *painting) compose() *image.NRGBA {
	img := image.NewNRGBA(image.Rect(0, 0, p.width, p.height))
	parallel.Do(p.height, func(y int) {
		for x := range p.width {
			i := y*p.width + x
			var c [3]float64
			a := 0.0
			cover := float64(p.cover[i]) / 255
			if p.floor != nil && cover < 1 {
				a = shadowStrength * p.floor.at(&p.camera, float64(x)+0.5, float64(y)+0.5)
			}
			light := float64(p.open[i]) / 255
			line := lineStrength * float64(p.line[i]) / 255
			for k := range c {
				v := c[k]*(1-cover) + float64(p.colour[3*i+k])*light*cover
				c[k] = v*(1-line) + lineTone*line
			}
			a = a*(1-cover) + cover
			a = a*(1-line) + line
			put := img.Pix[4*i : 4*i+4 : 4*i+4]
			if !p.options.Transparent {
				for k := range c {
					put[k] = uint8(c[k] + (1-a)*255 + 0.5)
				}
				put[3] = 255
			} else if a > 0 {
				for k := range c {
					put[k] = uint8(math.Min(c[k]/a+0.5, 255))
				}
				put[3] = uint8(a*255 + 0.5)
			}
		}
	})
	return img
}
