package drawing

import (
	"fmt"
	"strings"

	"barwright/geom"
)

// MeasureSheets returns a sheet for each profile on which its user writes what the bars at hand measure, before
// anything is cut: the sizes that the drawings take, and boxes beside them. It returns an error where no sheet holds a section.
func MeasureSheets(profiles []*geom.Profile, t TitleBlock, o Options) ([]*Sheet, error) {
	var out []*Sheet
	for _, p := range profiles {
		var last error
	tries:
		for _, sizes := range []bool{true, false} { // without sizes on the section where they find no place: the table has them
			for _, format := range []string{"A4", "A3", "A2"} {
				for _, scale := range []float64{5, 2, 1, 0.5, 0.2, 0.1} {
					var s *Sheet
					if s, last = measureSheet(p, t, o, format, scale, sizes); last != nil {
						continue
					}
					if n := len(out); n > 0 {
						s.Name = fmt.Sprintf("%s-%d", s.Name, n+1)
					}
					out = append(out, s)
					break tries
				}
			}
		}
		if last != nil {
			return nil, fmt.Errorf("measure-first sheet of %s: %w", p.Name, last)
		}
	}
	NumberSheets(out)
	return out, nil
}

// measureSheet lays the sheet out at a scale: the section, under it the table, at the foot the notes.
func measureSheet(p *geom.Profile, t TitleBlock, o Options, format string, scale float64, sizes bool) (*Sheet, error) {
	size, _ := SizeOf(format)
	name := Clean(p.Name)
	s := &Sheet{Name: "measure-first", Title: "Measure first: " + name, Size: size}
	s.DrawBorder()
	t.Supplement = "Profile " + name + ": measure before cutting"
	t.DocumentType, t.Material, t.Scale, t.Projection = "Measuring sheet", p.Alloy, scaleName(scale), o.Projection
	t.NotForManufacture = o.NotForManufacture
	block := s.DrawTitleBlock(t)
	space := size.Space()
	u := units{o.Units == "inch"}
	// On A4 notes, table and section stand over each other; on larger sheets notes and table over the title block, the section
	// beside it.
	left, width := space.Low.X+clearMark, space.Width()-2*clearMark
	beside := block.Low.X > left
	if beside {
		left, width = block.Low.X+2, block.Width()-2-clearMark
	}
	y := block.High.Y + 3
	y += s.drawNotes(measureNotes(p, u), geom.Vec2{X: left, Y: y}, width) + 5
	l := measureTable(p, u)
	l.columns[len(l.columns)-1].width += width - l.width()
	s.drawDown(l, geom.Vec2{X: left, Y: y + l.height()})
	y += l.height() + 5
	room := Area{geom.Vec2{X: left, Y: y}, geom.Vec2{X: left + width, Y: space.High.Y - clearMark}}
	if beside {
		room = Area{geom.Vec2{X: space.Low.X + clearMark, Y: space.Low.Y + clearMark}, geom.Vec2{X: left - listGap, Y: space.High.Y - clearMark}}
	}
	sec := newSectionView(p, -1, scale)
	sec.draw()
	if sizes && !sec.allSizes(u) {
		return nil, errNoRoom
	}
	low, high := boundsOfOps(sec.Ops)
	if high.X-low.X > room.Width() || high.Y-low.Y > room.Height() {
		return nil, errNoRoom
	}
	move(sec.Ops, room.Low.Add(room.High).Scale(0.5).Sub(low.Add(high).Scale(0.5)))
	s.Add(sec.Ops...)
	if clashes := s.Verify(); len(clashes) > 0 {
		return nil, fmt.Errorf("%v", clashes[0])
	}
	return s, nil
}

// measureTable lists the sizes that matter, each with a box for what was measured.
func measureTable(p *geom.Profile, u units) list {
	l := list{columns: []listColumn{{"Size", 62, Left}, {"Drawn with", 26, Right}, {"Measured", 34, Left}, {"Difference", 28, Left}}}
	add := func(name string, mm float64) { l.rows = append(l.rows, []string{name, u.size(mm), "", ""}) }
	size := p.Size()
	if size.X == size.Y {
		add("Outside size, both ways", size.X)
	} else {
		add("Outside size, narrow", min(size.X, size.Y))
		add("Outside size, wide", max(size.X, size.Y))
	}
	if p.Cells[0]*p.Cells[1] > 1 {
		add("Pitch from slot to slot", p.Pitch)
	}
	add("Slot opening between the lips", p.Slot.Opening)
	add("Lip thickness", p.Slot.Lip)
	add("Cavity, widest place behind the lips", p.Slot.Cavity)
	add("Slot depth, face to floor", p.Slot.Depth)
	add("Core bore, diameter", p.Core)
	return l
}

// measureNotes says how to measure and what to do with it, the caution last.
func measureNotes(p *geom.Profile, u units) []string {
	return []string{
		fmt.Sprintf("Dimensions in %s. The profiles of the program are generic: the bars at hand may differ.", u.name()),
		"Saw a clean slice off a bar, square and free of burr, and measure it with a caliper at three slots; write down the least opening and the greatest lip.",
		"The core bore decides the thread: the tap drill of the thread, a little less or the same. Try a tap in an offcut before the first bar.",
		fmt.Sprintf("If a size differs by more than %s, write it into a profile block of the frame file, there in mm, and make all sheets anew: profile %q { … }.", u.size(0.1), strings.ReplaceAll(Clean(p.Name), `"`, "")),
		"CAUTION: sawn edges are sharp. Break them before measuring.",
	}
}
