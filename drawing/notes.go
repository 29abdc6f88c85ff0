package drawing

import (
	"fmt"
	"strings"

	"barwright/frame"
	"barwright/geom"
	"barwright/standard"
)

// partNotes returns the notes of a part's sheet, the caution last.
func partNotes(f *frame.Frame, p *frame.Part, u units, table bool) []string {
	b := &p.Bar
	notes := []string{
		fmt.Sprintf("Dimensions in %s, decimal point. Dimensions in brackets are for reference.", u.name()),
		"Positions run from end 1, the datum end. Faces are numbered clockwise as seen at end 1. Every view keeps end 1 left.",
	}
	if len(b.Holes) > 0 && !table {
		notes = append(notes, "All holes lie on the centre lines drawn.")
	}
	if table {
		notes = append(notes, "Hole table: X from end 1, Y from the lower edge of the view; Y in brackets: on a centre line drawn.")
		if hasStack(b) {
			notes = append(notes, "Labels over one another name holes over one another.")
		}
	}
	if hasExits(b) {
		notes = append(notes, "A narrow circle without dimension or label is where a through hole of the opposite face comes out.")
	}
	notes = append(notes, endNotes(b)...)
	notes = append(notes, "Break outside edges 0.1 to 0.3 mm, leave inside edges free of burr. Do not scratch the faces.")
	if hasThread(b) {
		notes = append(notes, "Threads ISO 965-1, class 6H, on the full depth given; tap with cutting fluid, clear the chips.")
	}
	notes = append(notes, jigNotes(f, p)...)
	if p.Twin != nil {
		notes = append(notes, fmt.Sprintf("%s is the mirror image of %s: do not mix them up.", Clean(p.Twin.Mark), Clean(p.Mark)))
	}
	notes = append(notes, fmt.Sprintf("Mark each piece %s on end 2 or on a hidden face.", Clean(p.Mark)))
	return append(notes, "CAUTION: sawn ends and chips are sharp, chips are hot. Clamp the bar; wear eye protection; no gloves near turning tools. Follow the rules of the shop and of the place.")
}

// jigNotes names the printed jigs and guides with which the part is drilled and tapped.
func jigNotes(f *frame.Frame, p *frame.Part) []string {
	var out []string
	for _, t := range f.Gauges("drill-jig") {
		if len(t.On) > 0 && t.On[0].Part == p && len(p.Bar.Holes) > 0 {
			out = append(out, fmt.Sprintf("Drill with the %s.", Clean(t.Name())))
		}
	}
	for _, t := range f.Gauges("tap-guide") {
		if len(t.On) > 0 && len(p.Bar.Taps) > 0 && t.On[0].Bar.Profile.Same(p.Bar.Profile) {
			out = append(out, fmt.Sprintf("Tap the ends with the %s.", Clean(t.Name())))
		}
	}
	return out
}

func hasThread(b *frame.Bar) bool {
	for _, h := range b.Holes {
		if h.Thread != "" {
			return true
		}
	}
	return len(b.Taps) > 0
}

// hasStack reports whether two holes of a face have one place along the bar.
func hasStack(b *frame.Bar) bool {
	for i, h := range b.Holes {
		if i > 0 && b.Holes[i-1].Side == h.Side && h.Z-b.Holes[i-1].Z < geom.Coincident {
			return true
		}
	}
	return false
}

// hasExits reports whether a through hole comes out in a face that has machining, and so is drawn.
func hasExits(b *frame.Bar) bool {
	for _, h := range b.Holes {
		if !h.Through() {
			continue
		}
		for _, o := range b.Holes {
			if o.Side == h.Side.Opposite() {
				return true
			}
		}
	}
	return false
}

// endNotes says how the ends are cut and which stay untouched.
func endNotes(b *frame.Bar) []string {
	var square, plain []string
	for end := range 2 {
		if b.Cuts[end].Square() {
			square = append(square, fmt.Sprint(end+1))
		}
		if len(tapGroups(b, end)) == 0 {
			plain = append(plain, fmt.Sprint(end+1))
		}
	}
	var out []string
	if len(square) < 2 {
		out = append(out, "The length is over the long points of the mitred ends; saw them flat within 0.2 mm in 100 mm.")
	}
	if len(square) > 0 {
		out = append(out, fmt.Sprintf("%s square to the long faces within %s mm in 100 mm.", ends("Cut", square), trimmed(standard.SawSquareness*100, 2)))
	}
	if len(plain) > 0 {
		verb := " stays"
		if len(plain) == 2 {
			verb = " stay"
		}
		out = append(out, strings.TrimPrefix(ends("", plain), " ")+verb+" untouched but for the saw cut: no thread.")
	}
	return out
}

// ends returns "Cut end 1" or "Cut ends 1 and 2", "End 1" without a verb.
func ends(verb string, which []string) string {
	word := "end "
	if len(which) > 1 {
		word = "ends "
	}
	if verb == "" {
		word = "E" + word[1:]
	}
	return verb + " " + word + strings.Join(which, " and ")
}

// notesPlace returns where notes stand and how wide they are: left of the title block and of the centring mark, or over the
// block on A4, where it takes the whole width.
func (s *Sheet) notesPlace(block Area) (at geom.Vec2, width float64) {
	space := s.Size.Space()
	if block.Low.X-space.Low.X < 100 {
		return geom.Vec2{X: space.Low.X + 4, Y: block.High.Y + 3}, space.Width() - 8
	}
	return geom.Vec2{X: space.Low.X + 4, Y: space.Low.Y + 2}, min(block.Low.X, s.Size.Width/2) - space.Low.X - 8
}

const noteLine = SmallText * LineSpace

// drawNotes writes numbered notes wrapped to a width, the last one, a caution, in a box under them. Their lower
// left corner lies at a place; it returns the height that they take.
func (s *Sheet) drawNotes(notes []string, at geom.Vec2, width float64) float64 {
	const indent, pad = 6.0, 1.5
	caution := Wrap(notes[len(notes)-1], SmallText, width-2*pad)
	y := at.Y + pad + 0.3
	for i := len(caution) - 1; i >= 0; i-- {
		s.Write(Note, geom.Vec2{X: at.X + pad, Y: y}, SmallText, Left, caution[i])
		y += noteLine
	}
	s.Rect(TableFrame, at, geom.Vec2{X: at.X + width, Y: y})
	y += 2
	for i := len(notes) - 2; i >= 0; i-- {
		lines := Wrap(notes[i], SmallText, width-indent)
		for j := len(lines) - 1; j >= 0; j-- {
			s.Write(Note, geom.Vec2{X: at.X + indent, Y: y}, SmallText, Left, lines[j])
			if j == 0 {
				s.Write(Note, geom.Vec2{X: at.X, Y: y}, SmallText, Left, fmt.Sprint(i+1))
			}
			y += noteLine
		}
	}
	s.Write(Note, geom.Vec2{X: at.X, Y: y + 1}, DimText, Left, "Notes")
	return y + 1 + DimText - at.Y
}
