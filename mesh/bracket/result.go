package bracket

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
)

// Result is one printed part.
type Result struct {
	Kind  string      // name of its [Kind]
	Name  string      // "angle", "drill-jig A3 end 1 piece 2"
	Mesh  *mesh.Mesh  // as it is printed: flat on z = 0, inside x ≥ 0 and y ≥ 0
	Place geom.Motion // from the printed to the mounted position
	// Contacts are the faces that touch bars, in mounted coordinates.
	Contacts []Contact
	Ribs     []Rib     // keys in slots
	Screws   []Screw   // what holds it
	Holes    []Hole    // those of the screws and all others
	Drawn    Drawn     // its measures, and how it is best seen
	Size     geom.Vec  // of the print, mm
	Volume   float64   // mm³, from the mesh
	Mass     float64   // kg in the material, printed solid
	Material string    // printing polymer
	Wall     float64   // main wall, mm
	Notes    []string  // for the printer and the builder, most important first
	Strength *Strength // nil for parts that carry no load

	model *model
}

// Contact is a face of a part that touches a bar: a point of it, the way toward the bar and the way of the bar's
// slot there (zero on a bar's end). Mounted coordinates.
type Contact struct {
	At, Toward, Along geom.Vec
	Bar               int // 0 for bar A, the post or the only bar; 1 for the next one
}

// Rib is a key in a slot, in mounted coordinates: it runs from At along Along, and stands into the slot by Depth.
type Rib struct {
	At, Along, Toward    geom.Vec
	Length, Width, Depth float64
	Taper                float64 // of its entry, by 45°
	Clearance            float64 // on each side to the slot's opening
	Bar                  int
}

// Screw is one screw of a part, in mounted coordinates.
type Screw struct {
	Seat, Dir    geom.Vec // middle of the face under the head, and the way from head to tip
	Standard     string   // "ISO 7380-1", "ISO 4762"
	Thread       string
	Length       float64
	HeadDiameter float64
	HeadHeight   float64
	Key          float64
	Hole         float64 // diameter of the hole in the print
	Grip         float64 // plastic under the head
	Into         string  // "slot nut" or "core"
	Bar          int
}

// Item returns the name of the screw in lists.
func (s Screw) Item() string {
	if s.Standard == "ISO 4762" {
		return "socket head cap screw"
	}
	return "button head screw"
}

// DriverDiameter is the room in mm that a driver for the screw's key needs: the key's corners and half a millimetre round them
// (common practice, no source).
func (s Screw) DriverDiameter() float64 { return s.Key*2/math.Sqrt(3) + 1 }

// Hardware returns the bought parts that a printed part needs, screws first: one line for each size.
func (r *Result) Hardware() []frame.Hardware {
	var out []frame.Hardware
	add := func(h frame.Hardware) {
		for i := range out {
			if out[i].Item == h.Item && out[i].Standard == h.Standard && out[i].Size == h.Size {
				out[i].Quantity++
				return
			}
		}
		h.Quantity = 1
		out = append(out, h)
	}
	for _, s := range r.Screws {
		add(frame.Hardware{Item: s.Item(), Standard: s.Standard, Size: fmt.Sprintf("%sx%g", s.Thread, s.Length)})
	}
	for _, s := range r.Screws {
		if s.Into == "slot nut" {
			p := r.model.p
			if s.Bar == 1 {
				p = r.model.pb
			}
			add(frame.Hardware{Item: "slot nut", Size: fmt.Sprintf("%s, slot %.0f", s.Thread, p.Slot.Opening)})
		}
	}
	return append(out, r.model.extra...)
}

// Grams writes a mass in kg as grams, with a decimal where it is small.
func Grams(kg float64) string {
	if kg < 0.00995 {
		return fmt.Sprintf("%.1f g", kg*1000)
	}
	return fmt.Sprintf("%.0f g", kg*1000)
}

// finish builds the mesh of a model.
func (m *model) finish(name string) (*Result, error) {
	for _, c := range m.cuts {
		m.body.Cut(c)
	}
	for _, c := range m.late {
		m.body.Add(c)
	}
	if m.err == nil {
		m.checkDrivers()
	}
	if m.err != nil {
		return nil, m.err
	}
	print := m.print()
	solid, err := m.body.Build(print, true)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	r := &Result{Kind: m.kind.Name, Name: name, Place: print.Then(geom.Shift(solid.Shift)).Inverse(),
		Contacts: m.contacts, Ribs: m.ribs, Screws: m.screws, Holes: m.holes, Drawn: m.finishDrawn(), Material: m.material.Name, Wall: m.wall, model: m}
	r.Mesh = &mesh.Mesh{Points: solid.Points, Triangles: solid.Triangles, Surfaces: make([]mesh.Surface, len(solid.Triangles))}
	for i := range r.Mesh.Surfaces {
		r.Mesh.Surfaces[i] = mesh.Printed
	}
	r.Size = r.Mesh.Box().High
	r.Volume = r.Mesh.Volume()
	r.Mass = r.Volume * m.material.Density
	if e := m.checkBed(r.Size); e != nil {
		return nil, e
	}
	r.Strength = m.strength
	r.Notes = m.allNotes(r)
	return r, nil
}

// checkBed compares the print with the bed, turned by a quarter where that helps.
func (m *model) checkBed(s geom.Vec) *Error {
	const play = 1e-3
	long, short := math.Max(s.X, s.Y), math.Min(s.X, s.Y)
	if s.Z <= m.bed.Z+play && long <= math.Max(m.bed.X, m.bed.Y)+play && short <= math.Min(m.bed.X, m.bed.Y)+play {
		return nil
	}
	return fight(RuleBed, m.bedFields+",bed", "printed as it must stand, the part is %.1f × %.1f × %.1f mm; the bed is %g × %g × %g",
		s.X, s.Y, s.Z, m.bed.X, m.bed.Y, m.bed.Z)
}

// mostPerimeters is how many lines round a part are asked for at most: what a thicker wall has between them is infill (common practice,
// no source).
const mostPerimeters = 6

// allNotes returns the kind's own notes and those that every print has.
func (m *model) allNotes(r *Result) []string {
	infill := "40 % infill"
	if m.strength != nil {
		infill = "60 % infill or more, it carries load"
	}
	perimeters := min(max(3, int(math.Ceil(m.wall/2/m.a.Line))), mostPerimeters)
	notes := append([]string{}, m.notes...)
	notes = append(notes,
		fmt.Sprintf("Wall %s; print with %d perimeters, layers of %g, %s; no support.", m.a.count(m.wall), perimeters, m.a.Layer, infill),
		fmt.Sprintf("%s, %s when solid. It softens at about %.0f °C (typical, ISO 75 at 0.45 MPa): in a warm enclosure keep 20 °C under that.",
			m.material.Name, Grams(r.Mass), m.material.Softens))
	if m.material.Softens < 70 {
		notes = append(notes, "Near heaters, motors or in the sun choose a polymer that softens later, such as ASA or PC.")
	}
	if len(r.Screws) > 0 {
		notes = append(notes, "Tighten by hand with the short arm of the key: plastic creeps; about a quarter of the steel value, and again after a day.")
	}
	return notes
}
