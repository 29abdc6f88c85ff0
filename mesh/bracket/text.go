package bracket

import (
	"math"

	"barwright/geom"
	"barwright/mesh/bracket/csg"
)

// glyphs are letters as strokes on a grid 4 wide and 6 high: each stroke is four figures, from x y to x y. A slanting
// stroke rises at least as much as it runs, so that its upper edge prints on an upright wall. It is never written.
var glyphs = map[rune][]string{
	'A': {"0004", "4044", "0426", "4426", "0343"}, 'B': {"0006", "0636", "0333", "0030", "3645", "4534", "3342", "4241", "4130", "3433"},
	'C': {"4636", "3616", "1605", "0501", "0110", "1040"}, 'D': {"0006", "0626", "2644", "4442", "4220", "2000"},
	'E': {"0006", "0646", "0333", "0040"}, 'F': {"0006", "0646", "0333"}, 'G': {"4616", "1605", "0501", "0110", "1040", "4043", "4323"},
	'H': {"0006", "4046", "0343"}, 'I': {"2026", "1636", "1030"}, 'J': {"4641", "4130", "3010", "1001"},
	'K': {"0006", "0313", "1346", "1340"}, 'L': {"0006", "0040"}, 'M': {"0006", "0623", "2346", "4640"}, 'N': {"0006", "0640", "4046"},
	'O': {"1636", "3645", "4541", "4130", "3010", "1001", "0105", "0516"}, 'P': {"0006", "0636", "3645", "4544", "4433", "3303"},
	'Q': {"1636", "3645", "4541", "4130", "3010", "1001", "0105", "0516", "2240"}, 'R': {"0006", "0636", "3645", "4544", "4433", "3303", "1340"},
	'S': {"4616", "1605", "0504", "0413", "1333", "3342", "4241", "4130", "3000"}, 'T': {"0646", "2026"},
	'U': {"0601", "0110", "1030", "3041", "4146"}, 'V': {"0602", "0220", "2042", "4246"}, 'W': {"0600", "0023", "2340", "4046"},
	'X': {"0046", "0640"}, 'Y': {"0623", "4623", "2023"}, 'Z': {"0646", "4600", "0040"},
	'0': {"1636", "3645", "4541", "4130", "3010", "1001", "0105", "0516", "1135"}, '1': {"2026", "2615", "1030"},
	'2': {"0516", "1636", "3645", "4544", "4400", "0040"}, '3': {"0636", "3645", "4544", "4433", "3342", "4241", "4130", "3000", "1333"},
	'4': {"3036", "3602", "0242"}, '5': {"4606", "0603", "0333", "3342", "4241", "4130", "3000"},
	'6': {"3616", "1605", "0501", "0110", "1030", "3041", "4142", "4233", "3303"}, '7': {"0646", "4610"},
	'8': {"1636", "3645", "4544", "4433", "1333", "3342", "4241", "4130", "3010", "1001", "0102", "0213", "1304", "0405", "0516"},
	'9': {"3010", "3041", "4145", "4536", "3616", "1605", "0504", "0413", "1343"}, '-': {"1333"}, '.': {"2020"}, '/': {"0046"},
}

// upper returns the capital of a letter.
func upper(r rune) rune {
	if r >= 'a' && r <= 'z' {
		return r - 'a' + 'A'
	}
	return r
}

// strokeWidth is the width of a stroke over the height of a capital.
const strokeWidth = 0.16

// advance is the distance of letters over the height of a capital: four grid steps and two between.
const advance = 1.0

// textWidth returns how long a text of a height is.
func textWidth(text string, height float64) float64 {
	n := len([]rune(text))
	if n == 0 {
		return 0
	}
	return height * (advance*float64(n) - 2.0/6)
}

// legible reports whether a text of a height prints: strokes no narrower than a line and a half, and what stands
// between them no thinner than the least wall.
func (m *model) legible(height float64) bool {
	return height*strokeWidth >= 1.5*m.a.Line-1e-9 && height*(2.0/6-strokeWidth) >= m.a.LeastTo-1e-9
}

// sink cuts a text into a face. at is the middle of the text on the face, right and up are the ways it reads, and
// the face looks along right × up. The strokes are grooves with flanks of 45°, so that they print on any face.
func (m *model) sink(text string, at, right, up geom.Vec, height float64) {
	const over = 0.25 // the groove's planes run on over the face, so that none ends in it
	u, half := height/6, height*strokeWidth/2
	deep := math.Min(m.a.Text, 0.8*half)
	place := geom.Motion{EX: right, EY: up, EZ: right.Cross(up), T: at}
	x := -textWidth(text, height) / 2
	for _, r := range text {
		for _, s := range glyphs[upper(r)] {
			point := func(i int) geom.Vec2 {
				return geom.Vec2{X: x + float64(s[i]-'0')*u, Y: float64(s[i+1]-'0')*u - height/2}
			}
			m.cut(csg.Prism(place, stroke(point(0), point(2), half+over), -deep, over+0.05, deep+over, 0))
		}
		x += height * advance
	}
}

// stroke returns the outline of a line with cut-off corners at both ends.
func stroke(a, b geom.Vec2, half float64) csg.Outline {
	var out csg.Outline
	for k := range 8 {
		n := octagon[k]
		d := a.Dot(n)
		if e := b.Dot(n); e > d {
			d = e
		}
		out = append(out, csg.HalfPlane{N: n, D: d + half})
	}
	if d := b.Sub(a); d.X != 0 && d.Y != 0 && d.X != d.Y && d.X != -d.Y {
		n := d.Quarter(1).Scale(1 / d.Len())
		out = append(out, csg.HalfPlane{N: n, D: n.Dot(a) + half}, csg.HalfPlane{N: n.Scale(-1), D: half - n.Dot(a)})
	}
	return out
}

// octagon is eight directions round the plane.
var octagon = func() (o [8]geom.Vec2) {
	const r = 0.7071067811865476
	for q := range 4 {
		o[2*q] = geom.Vec2{X: 1}.Quarter(q)
		o[2*q+1] = geom.Vec2{X: r, Y: r}.Quarter(q)
	}
	return o
}()
