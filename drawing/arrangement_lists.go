package drawing

import (
	"fmt"
	"math"
	"strings"

	"barwright/frame"
)

// partsList returns the list of bars (ISO 7573) by mark, in a width of mm.
func partsList(f *frame.Frame, u units, width float64) list {
	l := list{columns: []listColumn{
		{"Item", 14, Centre}, {"Qty", 12, Centre}, {"Designation", 42, Left},
		{"Length " + u.name(), 26, Right}, {"Mass kg", 20, Right}, {"Remarks", width - 114, Left}}}
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

// arrangementNotes returns the notes of the arrangement: unit, feet, masses, doorways, and the caution last.
func arrangementNotes(f *frame.Frame, u units) []string {
	from := "the floor"
	if box := f.Box(); !f.OnFloor() && math.Abs(box.Low.Z-f.Floor) > 0.05 {
		from = "the lowest face"
	}
	out := []string{"Dimensions in " + u.name() + ". Positions from the left, the front and " + from + "."}
	out = append(out, footNotes(f, u)...)
	for _, m := range f.Masses {
		out = append(out, fmt.Sprintf("Mass %s: %s kg on %s.", m.Name, trimmed(m.Kg, 2), m.On.Name))
	}
	for _, d := range f.Doorways {
		out = append(out, doorwayNote(d, u))
	}
	return append(out, fmt.Sprintf("CAUTION: the frame weighs %s. Lift with enough hands, keep fingers from between bars; cut ends are sharp until deburred.", massWords(f)))
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

// massWords says what the frame weighs and what is counted.
func massWords(f *frame.Frame) string {
	w := f.Weights()
	return fmt.Sprintf("%.2f kg (%s)", w.Total(), w)
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
