package frame

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"barwright/standard"
)

// The ways in which a foot is held.
const (
	FootPostEnd   = "post-end"   // its stud is screwed into the tapped lower end of a post
	FootSlotPlate = "slot-plate" // its stud is screwed into a plate that is held in a rail's slot
)

// hardwareOrder is the order of items in the hardware list.
var hardwareOrder = []string{
	"button head screw", "socket head cap screw", "plain washer", "slot nut", "hexagon nut", "angle bracket", "adjustable bracket", "flat plate", "levelling foot", "slot plate", "heat-set insert", "printed part",
}

// countHardware fills Hardware from joints and feet, in the order of hardwareOrder, then by size.
func (f *Frame) countHardware() {
	counts := map[Hardware]int{}
	add := func(h Hardware, n int) { counts[h] += n }
	for _, j := range f.Joints {
		if j.With.Printed {
			continue // its part brings screws and nuts of its own
		}
		for _, s := range j.Fasteners {
			add(s.hardware(), 1)
			if s.SlotNut {
				add(slotNut(s.TipIn, s.Thread), 1)
			}
		}
		switch j.With.Method {
		case AngleBracket:
			size := min(j.A.Bar.Profile.Pitch, j.B.Bar.Profile.Pitch)
			item := "angle bracket"
			if j.slanted() {
				item = "adjustable bracket"
			}
			add(Hardware{Item: item, Size: fmt.Sprintf("%gx%g, slot %.0f", size, size, j.B.Bar.Profile.Slot.Opening)}, 1)
		case Plate:
			add(Hardware{Item: "flat plate", Size: fmt.Sprintf("for %s, slot %.0f", j.B.Bar.Profile.Name, j.B.Bar.Profile.Slot.Opening)}, 1)
		}
	}
	for _, t := range f.Feet {
		add(Hardware{Item: "levelling foot", Size: fmt.Sprintf("%s, %g high", t.Thread, t.Height)}, 1)
		add(footNut(t), 1)
		if t.On == FootSlotPlate {
			size := bracketSizeFor(t.Under.Bar.Profile.Thread)
			add(Hardware{Item: "slot plate", Size: fmt.Sprintf("%s, slot %.0f", t.Thread, t.Under.Bar.Profile.Slot.Opening)}, 1)
			add(plateScrew(t), slotPlateScrews)
			add(slotNut(t.Under, size.Screw), slotPlateScrews)
		}
	}
	f.panelHardware(add)
	f.Hardware = nil
	for h, n := range counts {
		h.Quantity = n
		f.Hardware = append(f.Hardware, h)
	}
	f.sortHardware()
}

// AddHardware adds what printed parts need, and the parts themselves, to the hardware list.
func (f *Frame) AddHardware(list []Hardware) {
	for _, h := range list {
		i := slices.IndexFunc(f.Hardware, func(o Hardware) bool {
			return o.Item == h.Item && o.Standard == h.Standard && o.Size == h.Size && o.Note == h.Note
		})
		if i >= 0 {
			f.Hardware[i].Quantity += h.Quantity
			continue
		}
		f.Hardware = append(f.Hardware, h)
	}
	f.sortHardware()
}

// sortHardware puts the list in the order of hardwareOrder, then of standard, size and note.
func (f *Frame) sortHardware() {
	slices.SortFunc(f.Hardware, func(a, b Hardware) int {
		return cmp.Or(
			cmp.Compare(slices.Index(hardwareOrder, a.Item), slices.Index(hardwareOrder, b.Item)),
			cmp.Compare(a.Standard, b.Standard), compareMarks(a.Size, b.Size), cmp.Compare(a.Note, b.Note))
	})
}

// hardware returns the list line of a screw.
func (s *Fastener) hardware() Hardware {
	return Hardware{Item: s.Item, Standard: s.Standard, Size: fmt.Sprintf("%sx%g", s.Thread, s.Length)}
}

// footNut returns the list line of a foot's lock nut.
func footNut(t *Foot) Hardware {
	return Hardware{Item: "hexagon nut", Standard: "ISO 4032", Size: t.Thread}
}

// plateScrew returns the list line of the screws that hold a foot's slot plate.
func plateScrew(t *Foot) Hardware {
	size := bracketSizeFor(t.Under.Bar.Profile.Thread)
	return Hardware{Item: "button head screw", Standard: "ISO 7380-1", Size: fmt.Sprintf("%sx%g", size.Screw, size.ScrewLength)}
}

// Kg returns the mass of one piece in kg: what the item itself knows, or of a screw or nut of a standard the mass that follows
// from the standard's sizes. It is 0 where none is known.
func (h Hardware) Kg() float64 {
	if h.Mass > 0 {
		return h.Mass
	}
	thread, length, _ := strings.Cut(h.Size, "x")
	mm, _ := strconv.ParseFloat(length, 64)
	if s, ok := standard.ScrewOf(h.Standard, thread); ok {
		return s.Mass(mm)
	}
	if n, ok := standard.HexNut(thread); ok && n.Standard == h.Standard {
		return n.Mass()
	}
	if w, ok := standard.Washer(thread); ok && h.Standard == "ISO 7089" {
		return w.Mass()
	}
	return 0
}

// slotPlateScrews is how many screws hold a foot's slot plate.
const slotPlateScrews = 2

// slotNut returns the list line of a slot nut for a bar's slot.
func slotNut(m *Member, thread string) Hardware {
	return Hardware{Item: "slot nut", Size: fmt.Sprintf("%s, slot %.0f", thread, m.Bar.Profile.Slot.Opening)}
}

// bracketSizeFor returns the screw that goes with slot nuts in a bar whose core takes a thread.
func bracketSizeFor(thread string) JoiningSize {
	j := &Joining{Method: AngleBracket, Sizes: bracketSizes(1)}
	return j.sizeFor(thread)
}
