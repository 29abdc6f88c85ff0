package frame

import (
	"math"

	"barwright/geom"
	"barwright/standard"
)

// builtinJoinings returns the joining methods that every frame file knows. The figures are common practice,
// no source: the screw reaches two diameters into the end once its head sits
// behind the lip, the thread is two pitches longer, and the access hole lets the
// key's corners pass.
func builtinJoinings() []*Joining {
	return []*Joining{
		{Name: string(EndScrew), Method: EndScrew, Sizes: []JoiningSize{
			{Thread: "M6", Screw: "M6", ScrewLength: 16, TapDepth: 18, Access: 5.5, Key: 4, Screws: 1},
			{Thread: "M8", Screw: "M8", ScrewLength: 20, TapDepth: 22, Access: 7, Key: 5, Screws: 1},
			{Thread: "M10", Screw: "M10", ScrewLength: 25, TapDepth: 26, Access: 8, Key: 6, Screws: 1},
		}},
		{Name: string(ThroughScrew), Method: ThroughScrew, Sizes: []JoiningSize{
			{Thread: "M6", Screw: "M6", TapDepth: 18, Key: 5, Screws: 1},
			{Thread: "M8", Screw: "M8", TapDepth: 22, Key: 6, Screws: 1},
			{Thread: "M10", Screw: "M10", TapDepth: 26, Key: 8, Screws: 1},
		}},
		{Name: string(AngleBracket), Method: AngleBracket, Sizes: bracketSizes(1)},
		{Name: string(Plate), Method: Plate, Sizes: bracketSizes(2)},
		{Name: PrintedAngle, Method: AngleBracket, Printed: true, Sizes: bracketSizes(1)},
		{Name: PrintedPlate, Method: Plate, Printed: true, Sizes: bracketSizes(2)},
		{Name: PrintedCorner, Method: ThreeWay, Printed: true, Sizes: bracketSizes(1)},
		{Name: string(NoJoining), Method: NoJoining},
	}
}

// slotFloor is what a screw in a slot nut keeps free of the slot's floor, mm, and nutHold how many diameters of thread hold in the nut at
// least (common practice, no source).
const (
	slotFloor = 0.5
	nutHold   = 0.5
)

// slotScrew returns the longest stock screw through a grip that does not meet the floor of a slot, or the given length where none
// holds in the slot's nut.
func slotScrew(norm, thread string, slot geom.Slot, grip, usual float64) float64 {
	t, ok := standard.ThreadByName(thread)
	if !ok {
		return usual
	}
	l, ok := standard.RoundDownLengthOf(norm, thread, grip+slot.Depth-slotFloor)
	if !ok || l < grip+slot.Lip+nutHold*t.Nominal {
		return usual
	}
	return l
}

// bracketSizes returns the screws that go with slot nuts: one size under the core's thread, as slot nuts
// have less room (common practice, no source).
func bracketSizes(screws int) []JoiningSize {
	return []JoiningSize{
		{Thread: "M6", Screw: "M5", ScrewLength: 10, Key: 3, Screws: screws},
		{Thread: "M8", Screw: "M6", ScrewLength: 12, Key: 4, Screws: screws},
		{Thread: "M10", Screw: "M8", ScrewLength: 16, Key: 5, Screws: screws},
	}
}

// sizeFor returns the figures of a joining for a bar whose core takes a thread.
func (j *Joining) sizeFor(thread string) JoiningSize {
	for _, s := range j.Sizes {
		if s.Thread == thread || s.Thread == "" {
			if s.Screw == "" {
				s.Screw = thread
			}
			return j.fill(s)
		}
	}
	return j.fill(JoiningSize{Thread: thread, Screw: thread})
}

// fill works out the figures that a joining leaves open from the screw's own.
func (j *Joining) fill(s JoiningSize) JoiningSize {
	if s.Screws == 0 {
		s.Screws = 1
		if j.Method == Plate {
			s.Screws = 2
		}
	}
	screw, ok := j.screw(s.Screw)
	t, ok2 := standard.ThreadByName(s.Screw)
	if !ok || !ok2 {
		return s
	}
	if s.Key == 0 {
		s.Key = screw.Key
	}
	if s.ScrewLength == 0 && j.Method != ThroughScrew {
		want := 2.5 * t.Nominal
		if j.Method != EndScrew {
			want = 2 * t.Nominal
		}
		if l, ok := standard.RoundUpLengthOf(screw.Standard, s.Screw, want); ok {
			s.ScrewLength = l
		}
	}
	if j.Method == EndScrew || j.Method == ThroughScrew {
		if s.TapDepth == 0 {
			s.TapDepth = max(s.ScrewLength+2, math.Ceil(2.5*t.Nominal+2))
		}
		if s.Access == 0 && j.Method == EndScrew {
			// The corners of the key stand 2/√3 of its width apart; half a millimetre lets it slide.
			s.Access = math.Ceil(2*(s.Key*2/math.Sqrt(3)+0.5)) / 2
		}
	}
	return s
}

// screw returns the screw that a joining uses with a thread.
func (j *Joining) screw(thread string) (standard.Screw, bool) {
	if j.Method == ThroughScrew {
		return standard.SocketCapScrew(thread)
	}
	return standard.ButtonHeadScrew(thread)
}

// screwItem returns the name of that screw in lists.
func (j *Joining) screwItem() string {
	if j.Method == ThroughScrew {
		return "socket head cap screw"
	}
	return "button head screw"
}
