package check

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"barwright/frame"
	"barwright/geom"
	"barwright/standard"
)

func keyBlockedRule() Rule {
	return Rule{Name: "key-blocked", run: keysBlocked, Explain: `key-blocked (error, warning or note)

No straight way for the hexagon key to a screw, or no room to swing it. The key enters from outside along the screw's
axis, through the access hole where there is one. Either arm may go in: it must reach the socket with its bend
outside, the arm needs its whole length free in front of the hole to get in, and the other arm needs 60° free to turn
at its height. Every other bar, bracket, plate, panel and printed part counts; a printed part leaves the straight way to its own
screws free, which was seen to when it was made. Arms are the longest of ISO 2936:2014.

error    the screw can't be tightened in any order of building: what is in the way must stand before, or blocks
         in the same way (two opposed end-screws on one post block each other's key)
warning  the same, but a shorter key than ISO 2936's might do
note     it can be tightened before what blocks it is there, and not afterwards

Remedy: a bracket on one of the two joints, or a joint a little higher or lower.`}
}

// keyNeed is the way that a key takes to a screw.
type keyNeed struct {
	joint      *frame.Joint    // nil for a screw of a printed part that serves no joint
	own        *body           // the printed part that the screw holds, or nil
	bars       []*frame.Member // that must stand when it is tightened
	name       string          // as a message calls it
	screw      *frame.Fastener
	key        standard.Key
	from       geom.Vec // where the key's axis comes out of the hole
	out        geom.Vec // outward along it
	reach      float64  // from there down to the bottom of the socket; less than 0 where the socket stands out
	headHeight float64
}

// keyResult is what stands in a key's way.
type keyResult struct {
	blockers []obstacle
	free     float64 // straight, in front of the hole
	need     float64
	swing    bool // the straight way is free, but not the swing
}

// keyNeedOf returns the way to a screw, or false where its sizes are not known.
func (m *model) keyNeedOf(j *frame.Joint, own *body, s *frame.Fastener) (keyNeed, bool) {
	key, ok := standard.HexKey(s.Key)
	screw, ok2 := standard.ScrewOf(s.Standard, s.Thread)
	if !ok || !ok2 {
		return keyNeed{}, false
	}
	n := keyNeed{joint: j, own: own, screw: s, key: key, out: s.Dir.Scale(-1), from: s.Seat}
	depth := 0.0
	if own != nil {
		n.bars, n.name = own.owners, fmt.Sprintf("the screw %s of %s", s.Thread, own.name)
		depth = own.over(s.Seat, n.out)
	}
	if j != nil {
		n.bars, n.name = []*frame.Member{j.A, j.B}, fmt.Sprintf("the screw %s of %s and %s", s.Thread, j.A.Name, j.B.Name)
	}
	if s.HeadIn != nil {
		// From the seat to the outside of the bar on the key's side.
		side := s.HeadIn.SideFacing(n.out)
		depth = s.HeadIn.SidePoint(side, 0, 0, 0).Sub(s.Seat).Dot(n.out)
	}
	n.from = s.Seat.Add(n.out.Scale(depth))
	n.headHeight = screw.HeadHeight
	n.reach = depth - (screw.HeadHeight - screw.SocketDepth)
	return n, true
}

// arms returns the two ways to use the key: the arm that goes in and the one that turns.
func (n *keyNeed) arms() [][2]float64 {
	k := n.key
	var out [][2]float64
	for _, a := range [][2]float64{{k.ShortArmMax, k.LongArmMax}, {k.LongArmMax, k.ShortArmMax}} {
		if a[0] > 0 && n.height(a[0]) >= k.Size/2 {
			out = append(out, a)
		}
	}
	return out
}

// height returns how high above the hole the middle of the turning arm stands.
func (n *keyNeed) height(arm float64) float64 { return arm - n.reach - n.key.Size/2 }

// blocked returns what is in the way of the key, the way of using it that needs the least room first.
func (m *model) blocked(n *keyNeed) (keyResult, bool) {
	var first *keyResult
	for _, arm := range n.arms() {
		near := m.obstacles(n, arm)
		r := keyResult{need: arm[0], free: arm[0]}
		r.straight(n, near, arm[0])
		if len(r.blockers) == 0 && !r.swings(n, near, arm) {
			r.swing = true
		}
		if len(r.blockers) == 0 {
			return keyResult{}, false
		}
		if first == nil {
			first = &r
		}
	}
	if first == nil {
		return keyResult{need: n.reach + n.key.Size, free: math.Max(n.key.ShortArmMax, n.key.LongArmMax)}, n.key.LongArmMax > 0
	}
	return *first, true
}

// straight notes what stands in front of the hole, and how much is free.
func (r *keyResult) straight(n *keyNeed, near []obstacle, arm float64) {
	radius := n.key.AcrossCorners / 2
	// The joint's own bracket leaves the screw's way free; its head lies on it.
	start := n.from.Add(n.out.Scale(radius + 0.01))
	end := n.from.Add(n.out.Scale(arm - radius))
	for i := range near {
		o := &near[i]
		from := start
		if o.body != nil && o.body.printed != nil {
			if o.body == n.own {
				continue
			}
			// Pins and tongues of a printed part may stand in the hole itself.
			from = n.screw.Seat.Add(n.out.Scale(n.headHeight + radius))
		}
		if !o.hits(from, end, radius) {
			continue
		}
		r.blockers = append(r.blockers, *o)
		low, high := 0.0, arm
		for range 20 {
			mid := (low + high) / 2
			if o.hits(start, n.from.Add(n.out.Scale(math.Max(mid, radius+0.02))), radius) {
				high = mid
			} else {
				low = mid
			}
		}
		r.free = math.Min(r.free, low+radius)
	}
	if len(r.blockers) > 0 {
		r.free = math.Max(0, r.free)
		if r.free < 2*radius+0.1 {
			r.free = 0 // the hole is covered
		}
	}
}

// swingPlaces is how many places of the turning arm are tried round the screw.
const swingPlaces = 24

// swings reports whether the turning arm has 60° free, and notes what is in its way where it has not.
func (r *keyResult) swings(n *keyNeed, near []obstacle, arm [2]float64) bool {
	radius := n.key.AcrossCorners / 2
	u := n.out.Cross(geom.Vec{Z: 1})
	if u.Len() < 0.5 {
		u = geom.Vec{X: 1}
	}
	u = u.Unit()
	v := n.out.Cross(u)
	hub := n.from.Add(n.out.Scale(n.height(arm[0])))
	hit := make([]bool, len(near))
	free := func(i int) bool {
		a := 2 * math.Pi * float64(i) / swingPlaces
		tip := hub.Add(u.Scale(arm[1] * math.Cos(a))).Add(v.Scale(arm[1] * math.Sin(a)))
		ok := true
		for k := range near {
			if near[k].hits(hub, tip, radius) {
				ok, hit[k] = false, true
			}
		}
		return ok
	}
	need := int(math.Ceil(standard.KeySwing/(2*math.Pi/swingPlaces))) + 1
	run := 0
	for i := range swingPlaces + need {
		if !free(i % swingPlaces) {
			run = 0
			continue
		}
		if run++; run >= need {
			return true
		}
	}
	for k := range near {
		if hit[k] {
			r.blockers = append(r.blockers, near[k])
		}
	}
	return false
}

// blockedKey is one screw whose key is in trouble.
type blockedKey struct {
	keyNeed
	keyResult
}

func keysBlocked(m *model) []Finding {
	var all []blockedKey
	look := func(j *frame.Joint, own *body, screws []frame.Fastener) {
		for i := range screws {
			n, ok := m.keyNeedOf(j, own, &screws[i])
			if !ok {
				continue
			}
			if r, bad := m.blocked(&n); bad {
				all = append(all, blockedKey{n, r})
			}
		}
	}
	bodies := m.jointBodies()
	for _, j := range m.f.Joints {
		look(j, bodies[j], j.Fasteners)
	}
	for _, p := range m.f.Printed {
		look(nil, &m.bodies[m.printed[p]], p.Screws)
	}
	loops := m.beforeLoops(all)
	var out []Finding
	seen := map[string]bool{}
	under := map[string]int{} // findings of screws under printed parts that are alike, or behind one sheet
	for i := range all {
		g := m.keyFinding(&all[i], loops)
		if name := cmp.Or(all[i].cover(), all[i].sheetOver()); name != "" && g.Severity == Note {
			if k, ok := under[name]; ok {
				out[k].Members = append(out[k].Members, g.Members...)
				continue
			}
			under[name] = len(out)
			out = append(out, g)
			continue
		}
		key := slices.Clone(g.Members)
		slices.Sort(key)
		id := fmt.Sprint(g.Severity, key, all[i].swing)
		if !seen[id] {
			out = append(out, g)
		}
		seen[id] = true
	}
	return out
}

// cover returns the kind and mark of the printed parts that alone are in the key's way, or "".
func (b *blockedKey) cover() string {
	name := ""
	for _, o := range b.blockers {
		if o.body == nil || o.body.printed == nil {
			return ""
		}
		of, _, _ := strings.Cut(o.body.name, " (")
		if name != "" && name != of {
			return ""
		}
		name = of
	}
	return name
}

// sheetOver returns the name of the sheet that alone is in the key's way, or "".
func (b *blockedKey) sheetOver() string {
	if len(b.blockers) == 1 && b.blockers[0].body != nil && b.blockers[0].body.sheet != nil {
		return b.blockers[0].name
	}
	return ""
}

// remedy returns what helps against what is in the key's way.
func (b *blockedKey) remedy(sev Severity) string {
	bracket := func(o obstacle) bool { return o.body != nil && o.body.joint != nil && o.body.joint == b.joint }
	foreign := func(o obstacle) bool { return !bracket(o) && (o.bar == nil || !slices.Contains(b.bars, o.bar)) }
	switch {
	case sev == Note && b.sheetOver() != "" && b.blockers[0].body.screwed:
		return "let it be so: the sheet comes off by its screws"
	case sev == Note && b.sheetOver() != "":
		return "let it be so, or screw the sheet on outside: screwed = true"
	case slices.ContainsFunc(b.blockers, bracket) && !slices.ContainsFunc(b.blockers, foreign):
		return "take another joining for this joint, or leave room for its bracket in the joint's other corner, which may be wider"
	}
	return "take an angle bracket for one of the joints, or move one of the bars along the slot"
}

// beforeLoops finds the members that would each have to stand before the other: a joint's bars must stand, and its
// screw be tight, before what blocks the key.
func (m *model) beforeLoops(all []blockedKey) []int {
	before := make([][]int, len(m.f.Members))
	for i := range all {
		for _, o := range all[i].blockers {
			for _, bar := range o.bars() {
				if slices.Contains(all[i].bars, bar) {
					continue
				}
				k := m.index[bar]
				for _, own := range all[i].bars {
					before[m.index[own]] = append(before[m.index[own]], k)
				}
			}
		}
	}
	return strong(before)
}

// keyFinding writes the finding of one screw.
func (m *model) keyFinding(b *blockedKey, loops []int) Finding {
	who, what, sev := m.blockersInWords(b, loops)
	g := Finding{Severity: sev, Members: names(who...), At: b.from}
	if b.joint != nil {
		g.Origin = b.joint.Origin
	} else {
		g.Origin = b.own.origin
	}
	switch {
	case len(b.blockers) == 0:
		g.Severity = Warning
		g.Message = fmt.Sprintf("no arm of a %s mm key reaches %s: it is %s mm down its hole, the longest arm has %s mm", mm(b.key.Size), b.name, mm(b.need), mm(b.free))
		g.Remedy = "use a longer driver, or another joining"
		return g
	case b.swing:
		g.Message = fmt.Sprintf("a %s mm key on %s can't swing 60°: %s in its way", mm(b.key.Size), b.name, areIn(what))
	default:
		g.Message = fmt.Sprintf("a %s mm key can't reach %s: %s in its way, %s mm of straight way are free, %s mm are needed, %s more",
			mm(b.key.Size), b.name, areIn(what), mm(b.free), mm(b.need), mm(b.need-b.free))
	}
	g.Remedy = b.remedy(sev)
	if sev == Note && b.sheetOver() != "" {
		g.Message += fmt.Sprintf("; tighten it, and others beside it, before %s stands: to tighten it again the sheet must come off", strings.Join(what, ", "))
	} else if sev == Note && b.cover() != "" {
		g.Message += fmt.Sprintf("; tighten it, and others under such parts, before %s stands: to tighten it again the part must come off", strings.Join(what, ", "))
	} else if sev == Note {
		g.Message += fmt.Sprintf("; tighten it before %s stands, it can't be tightened again afterwards", strings.Join(what, ", "))
	}
	return g
}

// blockersInWords returns the members that a blocked key concerns, the names of what is in its way, and how bad that is.
func (m *model) blockersInWords(b *blockedKey, loops []int) (who []*frame.Member, what []string, sev Severity) {
	who, sev = slices.Clone(b.keyNeed.bars), Note
	own := func(bar *frame.Member) bool { return slices.Contains(b.keyNeed.bars, bar) }
	foreign := slices.ContainsFunc(b.blockers, func(o obstacle) bool { return o.bar == nil || !own(o.bar) })
	for _, o := range b.blockers {
		// The joint's own bars are named only where nothing else is in the way.
		if foreign && o.bar != nil && own(o.bar) {
			continue
		}
		what = append(what, o.name)
		first := b.joint == nil && o.bar != nil && own(o.bar) // a bar that must stand before the part does
		if o.bar != nil && !slices.Contains(who, o.bar) {
			who = append(who, o.bar)
			k := loops[m.index[o.bar]]
			first = slices.ContainsFunc(b.keyNeed.bars, func(bar *frame.Member) bool { return loops[m.index[bar]] == k })
		}
		switch {
		case first && b.free == 0:
			sev = Error
		case first && sev == Note, o.body != nil && o.body.serves(b.joint) && sev == Note:
			sev = Warning
		}
	}
	return who, what, sev
}

func areIn(what []string) string {
	if len(what) == 1 {
		return what[0] + " is"
	}
	return strings.Join(what, ", ") + " are"
}
