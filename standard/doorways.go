package standard

import "slices"

// Passage is a typical door, corridor or other place that a frame must pass.
// Lengths in mm. Measure the real one: these figures are for a warning.
type Passage struct {
	// Kind is "door", "clear_opening", "corridor", "stair", "lift" or "ceiling".
	Kind string
	// Name describes it, such as "rebated leaf 860 x 1985".
	Name string
	// Width and Height are those of a door's leaf, 0 for other kinds.
	Width, Height float64
	// Clear is the free width, or the height under a ceiling.
	Clear  float64
	Source Source
}

var passages = table("doorways.csv", func(r record) Passage {
	return Passage{
		Kind:   r.text("kind"),
		Name:   r.text("name"),
		Width:  r.float("width_mm"),
		Height: r.float("height_mm"),
		Clear:  r.float("clear_mm"),
		Source: r.source(),
	}
})

// Passages returns all passages, grouped by kind.
func Passages() []Passage { return slices.Clone(passages()) }

// PassageByName returns the passage with the given name.
func PassageByName(name string) (Passage, bool) {
	return find(passages(), func(p Passage) bool { return p.Name == name })
}
