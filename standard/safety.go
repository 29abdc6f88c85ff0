package standard

import "slices"

// SafetyFigure is one handling figure or caution. It guides a shop and is no
// risk assessment; local rules win.
type SafetyFigure struct {
	// Topic names it, such as "lift_reference_home" or "crush_gap_finger".
	Topic string
	// Value is in Unit; both are empty for a caution in words.
	Value float64
	Unit  string
	// Caution is a sentence for a guide or a sheet.
	Caution string
	Source  Source
}

var safetyFigures = table("safety.csv", func(r record) SafetyFigure {
	return SafetyFigure{
		Topic:   r.text("topic"),
		Value:   r.float("value"),
		Unit:    r.text("unit"),
		Caution: r.text("caution"),
		Source:  r.source(),
	}
})

// SafetyFigures returns all figures and cautions.
func SafetyFigures() []SafetyFigure { return slices.Clone(safetyFigures()) }

// Safety returns the figure or caution on a topic.
func Safety(topic string) (SafetyFigure, bool) {
	return find(safetyFigures(), func(s SafetyFigure) bool { return s.Topic == topic })
}

// CrushGap returns the least gap in mm that does not crush a part of the body:
// "finger", "hand_wrist_fist", "arm", "foot", "toes", "leg", "head" or "body"
// (ISO 13854 table 1).
func CrushGap(part string) (float64, bool) {
	s, ok := Safety("crush_gap_" + part)
	return s.Value, ok
}

// HomeLift is what one person of unknown age and sex lifts, in kg: the
// smallest reference mass of ISO 11228-1:2021, recalled.
const HomeLift = 15

// TeamLift returns what a number of people lift together in kg, if each alone
// lifts one: two count two thirds of the sum, three a half (HSE guidance L23).
// It is false for fewer than one and more than three, where a
// hoist or a plan is due.
func TeamLift(one float64, people int) (float64, bool) {
	switch people {
	case 1:
		return one, true
	case 2:
		return one * 2 * 2 / 3, true
	case 3:
		return one * 3 / 2, true
	}
	return 0, false
}
