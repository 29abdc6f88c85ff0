package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"barwright/frame"
	"barwright/geom"
)

// partsList returns the list of bars (ISO 7573) by mark, in a width of mm.
func partsList(f *frame.Frame, u units, width float64) list {
	l := list{columns: []listColumn{
		{"Item", 14, Centre}, {"Qty", 12, Centre}, {"Designation", 46, Left},
		{"Length " + u.name(), 22, Right}, {"Mass kg", 20, Right}, {"Remarks", width - 114, Left}}}
	for _, p := range f.Parts {
		l.rows = append(l.rows, []string{p.Mark, fmt.Sprint(p.Quantity()), "bar " + p.Bar.Profile.Name,
			u.place(p.Bar.Length), fmt.Sprintf("%.2f", p.Mass), remarks(p)})
	}
	return l
}

// remarks says in few words what is machined on a part.
func remarks(p *frame.Part) string {
	var out []string
	if t := tapRemark(&p.Bar); t != "" {
		out = append(out, t)
	}
	if n := len(p.Bar.Holes); n == 1 {
		out = append(out, "1 hole")
	} else if n > 1 {
		out = append(out, fmt.Sprintf("%d holes", n))
	}
	if !p.Bar.Cuts[0].Square() || !p.Bar.Cuts[1].Square() {
		out = append(out, "mitred")
	}
	if p.Twin != nil {
		out = append(out, "mirror of "+p.Twin.Mark)
	}
	if len(out) == 0 {
		return "cut only"
	}
	return strings.Join(out, ", ")
}

// tapRemark says which ends are tapped.
func tapRemark(b *frame.Bar) string {
	var ends [2]bool
	thread := ""
	for _, t := range b.Taps {
		ends[t.End] = true
		if thread != "" && thread != t.Thread {
			thread = "ends"
		} else {
			thread = t.Thread
		}
	}
	switch {
	case ends[0] && ends[1]:
		return thread + " both ends"
	case ends[0]:
		return thread + " end 1"
	case ends[1]:
		return thread + " end 2"
	}
	return ""
}

// hardwareList returns what is bought besides bars.
func hardwareList(f *frame.Frame) list {
	l := list{title: "Hardware", columns: []listColumn{
		{"Qty", 12, Centre}, {"Item", 45, Left}, {"Standard", 28, Left}, {"Size", 41, Left}}}
	for _, h := range f.Hardware {
		standard := h.Standard
		if standard == "" {
			standard = "–"
		}
		l.rows = append(l.rows, []string{fmt.Sprint(h.Quantity), h.Item, standard, strings.ReplaceAll(h.Size, "x", " × ")})
	}
	return l
}

// rectangle is four corners of a frame that should be square: what one measures over two of them.
type rectangle struct {
	name, over string
	a, b       float64 // sides, mm
	short      float64 // how much shorter the diagonal is than that of sharp corners
}

// diagonal returns what the tape should read.
func (r rectangle) diagonal() float64 { return math.Hypot(r.a, r.b) - r.short }

// rectangles returns the rectangles of the frame's sets that can be measured over their outside corners: posts in plan,
// where the corners are rounded along the posts, and rings in their plane, where the corners are the bars' sharp
// cut ends.
func rectangles(f *frame.Frame) []rectangle {
	var out []rectangle
	for _, s := range f.Sets {
		if len(s.Members) != 4 {
			continue
		}
		size := s.Box().Size()
		switch {
		case s.Kind == frame.Posts:
			r := s.Members[0].Profile.CornerRadius
			out = append(out, rectangle{s.Name, "posts, outside corners", size.X, size.Y, 2 * r * (math.Sqrt2 - 1)})
		case s.Kind == frame.Ring && s.Corners != "within" && s.Corners != "":
			a, b := planeAxes(s.Plane)
			out = append(out, rectangle{s.Name, "rails, outside corners", size.Along(a), size.Along(b), 0})
		}
	}
	return out
}

// planeAxes returns the axes of a ring's plane.
func planeAxes(plane string) (a, b geom.Axis) {
	switch plane {
	case "xz":
		return geom.X, geom.Z
	case "yz":
		return geom.Y, geom.Z
	}
	return geom.X, geom.Y
}

// measureList returns the measuring table: both diagonals of each rectangle should read the same.
func measureList(f *frame.Frame, u units) list {
	l := list{title: "Measuring table (" + u.name() + "): both diagonals equal", columns: []listColumn{
		{"Set", 20, Left}, {"Sides", 31, Left}, {"Diagonals", 21, Right}, {"Measured over", 54, Left}}}
	var names [][]string
	for _, r := range rectangles(f) {
		row := []string{r.name, u.place(r.a) + " × " + u.place(r.b), u.place(r.diagonal()), r.over}
		k := slices.IndexFunc(l.rows, func(o []string) bool { return slices.Equal(o[1:], row[1:]) })
		if k < 0 {
			l.rows, names = append(l.rows, row), append(names, []string{r.name})
			continue
		}
		names[k] = append(names[k], r.name)
		l.rows[k][0] = strings.Join(names[k], ", ")
		if n := len(names[k]); n > 2 {
			l.rows[k][0] = fmt.Sprintf("%s and %d more", names[k][0], n-1)
		}
	}
	return l
}

// arrangementNotes returns the notes of the arrangement: unit, feet, masses, doorways, and the caution last.
func arrangementNotes(f *frame.Frame, u units) []string {
	out := []string{"Dimensions in " + u.name() + ". Positions from the left, the front and the floor."}
	out = append(out, footNotes(f, u)...)
	for _, m := range f.Masses {
		out = append(out, fmt.Sprintf("Mass %s: %s kg on %s.", m.Name, trimmed(m.Kg, 2), m.On.Name))
	}
	for _, d := range f.Doorways {
		out = append(out, doorwayNote(d, u))
	}
	return append(out, fmt.Sprintf("CAUTION: the bars weigh %.1f kg together. Lift with enough hands, keep fingers from between bars; cut ends are sharp until deburred.", frameMass(f)))
}

// doorwayNote says what the frame must pass on its way.
func doorwayNote(d *frame.Doorway, u units) string {
	text := fmt.Sprintf("To pass %s: ", d.Name)
	if d.Width > 0 {
		text += fmt.Sprintf("%s wide", u.place(d.Width))
	} else {
		text += fmt.Sprintf("a corner between corridors %s and %s wide", u.place(d.Corridor[0]), u.place(d.Corridor[1]))
	}
	if d.Height > 0 {
		text += fmt.Sprintf(", %s high", u.place(d.Height))
	}
	return text + "."
}

// frameMass returns the mass of all bars in kg.
func frameMass(f *frame.Frame) float64 {
	mass := 0.0
	for _, p := range f.Parts {
		mass += p.Mass * float64(p.Quantity())
	}
	return mass
}

// footNotes says which feet stand where, equal ones together.
func footNotes(f *frame.Frame, u units) []string {
	type kind struct {
		on, thread string
		height     float64
	}
	var kinds []kind
	under := map[kind][]string{}
	for _, t := range f.Feet {
		k := kind{t.On, t.Thread, t.Height}
		if under[k] == nil {
			kinds = append(kinds, k)
		}
		under[k] = append(under[k], t.Under.Name)
	}
	var out []string
	for _, k := range kinds {
		where := "screwed into the ends of "
		if k.on == frame.FootSlotPlate {
			where = "on slot plates under "
		}
		out = append(out, fmt.Sprintf("%d feet %s, %s high, %s%s.", len(under[k]), k.thread, u.place(k.height), where, joinNames(under[k])))
	}
	return out
}

// joinNames lists names, each once.
func joinNames(names []string) string {
	var out []string
	seen := map[string]bool{}
	for _, n := range names {
		if !seen[n] {
			seen[n] = true
			out = append(out, n)
		}
	}
	return strings.Join(out, ", ")
}
