package frame

import "strings"

// PrintedUse is printed parts of one mark as whoever builds the frame meets them: one part in its place, or a gauge in hand. [Load] makes
// none: whoever builds the parts adds them with [Frame.AddUses].
type PrintedUse struct {
	Mark string    // "P1"
	Kind string    // of the printed part: "angle"
	On   []*Member // the bars that it sits on; of a jig those to be drilled
	// Joints are those that it serves, nil for a part that joins nothing. Of a part that holds three bars they may be fewer
	// than its corners, or none.
	Joints []*Joint
	Shared *Shared
	End    string // of a cap, pad or caster plate: the bar's end, as the frame stands
	Face   string // of a cover or clip: the bar's face
	At     float64
	Screws []Fastener // of a part that serves no joint
	Sets   []Setter   // of a spacer
}

// Setter is what a spacer sets: it stands on a bar or level with a post's end, and the rail on it.
type Setter struct {
	Post, Rail *Member
	On         *Member // the bar that it stands on, nil for the end of the post
	Height     float64 // mm
}

// kindWords are the kinds of printed parts in a builder's words.
var kindWords = map[string]string{
	"plate-straight": "straight plate", "plate-tee": "tee plate", "plate-ell": "corner plate", "plate-cross": "cross plate",
	"corner-inside": "inside corner", "corner-outside": "outside corner",
}

// PrintedName returns what a printed part of a kind is called: "printed cross plate".
func PrintedName(kind string) string {
	if w, ok := kindWords[kind]; ok {
		return "printed " + w
	}
	return "printed " + strings.ReplaceAll(kind, "-", " ")
}

// Name returns what a text calls the part: "printed angle P1".
func (f *PrintedUse) Name() string { return PrintedName(f.Kind) + " " + f.Mark }

// AddUses adds printed parts.
func (f *Frame) AddUses(list ...*PrintedUse) { f.Uses = append(f.Uses, list...) }

// UseOf returns the printed part that serves a joint, or nil.
func (f *Frame) UseOf(j *Joint) *PrintedUse {
	for _, t := range f.Uses {
		for _, k := range t.Joints {
			if k == j {
				return t
			}
		}
	}
	return nil
}

// Gauges returns the printed gauges of a kind that the builder has at hand.
func (f *Frame) Gauges(kind string) []*PrintedUse {
	var out []*PrintedUse
	for _, t := range f.Uses {
		if t.Kind == kind {
			out = append(out, t)
		}
	}
	return out
}
