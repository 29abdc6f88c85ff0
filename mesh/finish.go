package mesh

import (
	"image/color"
	"math"
)

// finish is how one kind of surface looks, in every format and picture.
type finish struct {
	name      string
	colour    color.RGBA // sRGB
	metal     float64    // glTF metallicFactor
	roughness float64    // glTF roughnessFactor
	gloss     float64    // OBJ specular
	shine     int        // OBJ specular exponent
}

// The finishes, in the order in which files list them.
const (
	bareFinish = iota
	machinedFinish
	printedFinish
	fittingFinish
)

// finishes holds the colours: bars a light neutral grey, machined places orange and
// printed ones bluish green of the set of Okabe and Ito, "Color Universal Design" (2008).
// Metals are metals (metallic 1) and plastic is none; roughness is chosen by eye.
var finishes = [...]finish{
	bareFinish:     {"aluminium", color.RGBA{208, 210, 213, 255}, 1, 0.42, 0.35, 40},
	machinedFinish: {"machined", color.RGBA{230, 159, 0, 255}, 1, 0.3, 0.45, 60},
	printedFinish:  {"printed", color.RGBA{0, 158, 115, 255}, 0, 0.75, 0.1, 10},
	fittingFinish:  {"fitting", color.RGBA{126, 130, 135, 255}, 1, 0.55, 0.3, 30},
}

// highlightColour is the vermilion of the member in question, sky blue is for references (Okabe and Ito).
var highlightColour = color.RGBA{213, 94, 0, 255}

// finishOf returns the index in finishes of a surface of an item.
func finishOf(s Surface, k Kind) int {
	switch {
	case s == Machined:
		return machinedFinish
	case s == Printed || k == PrintedItem:
		return printedFinish
	case s == Fitting || k == FittingItem:
		return fittingFinish
	}
	return bareFinish
}

// linear returns an sRGB component as linear light (IEC 61966-2-1), rounded to four
// decimals so that no last bit of Pow reaches a file.
func linear(c uint8) float64 {
	v := float64(c) / 255
	if v <= 0.04045 {
		v /= 12.92
	} else {
		v = math.Pow((v+0.055)/1.055, 2.4)
	}
	return math.Round(v*1e4) / 1e4
}
