package mesh

import (
	"image/color"
	"math"
)

// ScaleColour returns the colour of a share from 0, at rest, to 1: from the grey of bars over orange and vermilion
// (Okabe and Ito) to a dark violet. Its lightness (CIELAB L*, ISO/CIE 11664-4) falls evenly, so that the order
// shows in grey and to every kind of colour vision.
func ScaleColour(share float64) color.RGBA {
	x := math.Max(0, math.Min(share, 1)) * float64(len(scaleStops)-1)
	i := min(int(x), len(scaleStops)-2)
	t := x - float64(i)
	a, b := scaleStops[i], scaleStops[i+1]
	return fromLab(a[0]+float64(t*(b[0]-a[0])), a[1]+float64(t*(b[1]-a[1])), a[2]+float64(t*(b[2]-a[2])))
}

// scaleStops are the stops of the scale in CIELAB (D65): the hues of a light grey, orange (230,159,0), vermilion
// (213,94,0), a red violet and a dark violet, at lightnesses in equal steps.
var scaleStops = [][3]float64{{87, -0.5, -1.5}, {71, 19, 75}, {55, 44, 64}, {39, 54, 12}, {23, 42, -34}}

// fromLab turns CIELAB with the white of D65 into sRGB (ISO/CIE 11664-4; IEC 61966-2-1), each part cut off at its
// ends.
func fromLab(l, a, b float64) color.RGBA {
	fy := (l + 16) / 116
	back := func(f float64) float64 {
		if f > 6.0/29 {
			return f * f * f
		}
		return 3 * (6.0 / 29) * (6.0 / 29) * (f - 4.0/29)
	}
	x, y, z := 0.95047*back(fy+a/500), back(fy), 1.08883*back(fy-b/200)
	part := func(v float64) uint8 {
		if v <= 0.0031308 {
			v *= 12.92
		} else {
			v = 1.055*math.Pow(v, 1/2.4) - 0.055
		}
		return uint8(math.Round(255 * math.Max(0, math.Min(v, 1))))
	}
	return color.RGBA{
		part(float64(3.2404542*x) - float64(1.5371385*y) - float64(0.4985314*z)),
		part(float64(-0.9692660*x) + float64(1.8760108*y) + float64(0.0415560*z)),
		part(float64(0.0556434*x) - float64(0.2040259*y) + float64(1.0572252*z)),
		255,
	}
}
