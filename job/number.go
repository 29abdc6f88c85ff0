package job

import (
	"math"
	"strconv"

	"barwright/geom"
)

// Number is a figure in JSON: rounded to a millionth, never -0, never in exponents below a billion, so that
// the same model gives the same bytes.
type Number float64

// MarshalJSON writes the number with as few digits as it needs.
func (n Number) MarshalJSON() ([]byte, error) { return []byte(n.String()), nil }

// String writes the number with as few digits as it needs.
func (n Number) String() string {
	v := math.Round(float64(n)*1e6) / 1e6
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return "0"
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// point writes a point as three numbers.
func point(v geom.Vec) [3]Number { return [3]Number{Number(v.X), Number(v.Y), Number(v.Z)} }

// Length writes a length in mm as tables and drawings show it: at most one decimal.
func Length(mm float64) string {
	v := math.Round(mm*10) / 10
	if v == 0 {
		return "0"
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}
