package assembly

import (
	"fmt"
	"slices"
	"strings"

	"barwright/frame"
)

// writePrinted says which printed parts close joints, and which come once a third bar is in.
func (b *builder) writePrinted(s *Step, joints []*frame.Joint) {
	here := s.bars.clone()
	if s.ctx != nil {
		here.join(s.ctx)
	}
	var plain []*frame.Joint // no part was made for them
	var order []string
	marks := map[string][]*frame.PrintedUse{}
	seen := map[*frame.PrintedUse]bool{}
	for _, j := range joints {
		if !j.With.Printed {
			continue
		}
		t := b.f.UseOf(j)
		if t == nil {
			plain = append(plain, j)
			continue
		}
		if third := b.missing(t, here); third != nil {
			until := "until then they only touch: push neither"
			if b.loose(here, b.downOf(s)) {
				until = "clamp or hold them until then"
			}
			s.say("%s and %s are held by %s, which goes on when %s is in; %s.", j.A.Name, j.B.Name, t.Name(), third.Name, until)
			continue
		}
		if seen[t] {
			continue
		}
		seen[t] = true
		if marks[t.Name()] == nil {
			order = append(order, t.Name())
		}
		marks[t.Name()] = append(marks[t.Name()], t)
		s.Printed = append(s.Printed, t)
	}
	if len(plain) > 0 {
		s.say("Set the printed parts onto their bars and start their screws in the slot nuts: %s.", pairs(plain))
	}
	for _, name := range order {
		list := marks[name]
		var screws []frame.Fastener
		var at []string
		for _, t := range list {
			for _, j := range t.Joints {
				screws = append(screws, j.Fasteners...)
			}
			at = append(at, onBars(t))
		}
		s.say("Set %s onto %s and start %s in the slot nuts%s.", eachOf(name, len(list)), places(at), screwWords(screws), keyWords(screws))
	}
}

// downOf returns the index of a step's direction down.
func (b *builder) downOf(s *Step) int {
	for k, d := range b.dirs[:6] {
		if d.Dot(s.Down) > 0.9 {
			return k
		}
	}
	return upright
}

// missing returns a bar that a part holds and that is not there yet, or nil.
func (b *builder) missing(t *frame.PrintedUse, here set) *frame.Member {
	for _, m := range t.On {
		if !here.has(b.index[m]) {
			return m
		}
	}
	return nil
}

// onBars names the bars that a part holds.
func onBars(t *frame.PrintedUse) string {
	if t.Shared != nil {
		return t.Shared.Name()
	}
	var out []string
	for _, m := range t.On {
		out = append(out, m.Name)
	}
	return strings.Join(out, " and ")
}

// eachOf counts a part where several are needed.
func eachOf(name string, n int) string {
	if n == 1 {
		return name
	}
	return fmt.Sprintf("%d × %s", n, name)
}

// places lists what parts sit on, each in turn.
func places(at []string) string {
	if len(at) == 1 {
		return at[0]
	}
	return strings.Join(short(at), "; onto ") + ","
}

// short cuts a list of places at six.
func short(list []string) []string {
	if len(list) <= 6 {
		return list
	}
	return append(slices.Clone(list[:5]), fmt.Sprintf("%d more", len(list)-5))
}

// screwWords counts screws by size.
func screwWords(list []frame.Fastener) string {
	count := map[string]int{}
	var order []string
	for _, x := range list {
		k := fmt.Sprintf("%s×%g", x.Thread, x.Length)
		if count[k]++; count[k] == 1 {
			order = append(order, k)
		}
	}
	var out []string
	for _, k := range order {
		out = append(out, fmt.Sprintf("%d screws %s", count[k], k))
	}
	if len(list) == 1 {
		return "a screw " + order[0]
	}
	return words(out)
}

// keyWords names the keys of screws.
func keyWords(list []frame.Fastener) string {
	var out []string
	for _, x := range list {
		if k := fixed(x.Key, 1); x.Key > 0 && !slices.Contains(out, k) {
			out = append(out, k)
		}
	}
	if len(out) == 0 {
		return ""
	}
	return " (key " + words(out) + ")"
}

// writeSpacers says which spacers set the rails that come to posts in a step.
func (b *builder) writeSpacers(s *Step) {
	for _, t := range b.f.Gauges("spacer") {
		type stand struct {
			on     string
			height float64
		}
		posts, rails := map[stand][]string{}, map[stand][]string{}
		var order []stand
		for _, x := range t.Sets {
			if !slices.ContainsFunc(s.Joints, func(j *frame.Joint) bool { return j.A == x.Rail && j.B == x.Post }) {
				continue
			}
			k := stand{"level with the post's lower end", x.Height}
			if x.On != nil {
				k.on = "standing on " + x.On.Name
			}
			if posts[k] == nil {
				order = append(order, k)
			}
			posts[k] = append(posts[k], x.Post.Name)
			rails[k] = append(rails[k], x.Rail.Name)
		}
		if len(order) > 0 {
			s.Gauges = append(s.Gauges, t)
		}
		for _, k := range order {
			s.say("Key %s into the slot of %s under the rail, %s: it sets %s %s mm over that. Take it out when the screws are tight.",
				t.Name(), words(unique(posts[k])), k.on, words(unique(rails[k])), show(k.height))
		}
	}
}

// trySquare names the square to check corners with: a printed one where the frame has it.
func (b *builder) trySquare() string {
	if list := b.f.Gauges("square"); len(list) > 0 {
		return list[0].Name()
	}
	return "a try square"
}

// padsOf lists the pads and caster plates that stand under bars.
func (b *builder) padsOf() []*frame.PrintedUse {
	var out []*frame.PrintedUse
	for _, t := range b.f.Uses {
		if t.Kind == "foot-pad" || t.Kind == "caster-plate" {
			out = append(out, t)
		}
	}
	return out
}

// writePads says how pads and caster plates are fitted.
func (b *builder) writePads(s *Step) {
	for _, g := range byName(s.Printed) {
		var under []string
		var screws []frame.Fastener
		for _, t := range g {
			under = append(under, t.On[0].Name)
			screws = append(screws, t.Screws...)
		}
		tail := "."
		if g[0].Kind == "caster-plate" {
			tail = ". Bolt the casters under."
		}
		s.say("Set %s onto the %s of %s, the pegs in the slots, and screw down with %s into the tapped ends%s%s",
			eachOf(g[0].Name(), len(g)), endSide(g[0].End, len(g)), words(under), screwWords(screws), keyWords(screws), tail)
	}
}

// endSide names ends of bars.
func endSide(end string, n int) string {
	s := map[string]string{"bottom": "lower", "top": "upper"}[end]
	if s == "" {
		s = end
	}
	if n == 1 {
		return s + " end"
	}
	return s + " ends"
}

// byName groups parts of one mark, in the order in which they come.
func byName(list []*frame.PrintedUse) [][]*frame.PrintedUse {
	var out [][]*frame.PrintedUse
	at := map[string]int{}
	for _, t := range list {
		k := t.Name() + "\x00" + t.End + t.Face
		i, ok := at[k]
		if !ok {
			i = len(out)
			at[k] = i
			out = append(out, nil)
		}
		out[i] = append(out[i], t)
	}
	return out
}

// lastOrder is the order in which printed parts that join nothing go on: what is screwed, then what is pressed in, covers last.
var lastOrder = []string{"corner-inside", "corner-outside", "plate-cross", "panel-clip", "cable-clip", "end-cap", "slot-cover"}

// lastPrinted fills the step in which the printed parts go on that join nothing. It is false where there is none.
func (b *builder) lastPrinted(s *Step) bool {
	for _, kind := range lastOrder {
		for _, t := range b.f.Uses {
			if t.Kind == kind && len(t.Joints) == 0 {
				s.Printed = append(s.Printed, t)
			}
		}
	}
	return len(s.Printed) > 0
}

// writeFit says how the last printed parts go on.
func (b *builder) writeFit(s *Step) {
	for _, g := range byName(s.Printed) {
		t := g[0]
		name := eachOf(t.Name(), len(g))
		var at []string
		var screws []frame.Fastener
		for _, x := range g {
			at = append(at, onBars(x))
			screws = append(screws, x.Screws...)
		}
		at = unique(at)
		on := words(short(at))
		if t.Shared != nil {
			on = places(at)
		}
		with := fmt.Sprintf("with %s in slot nuts that drop in from the front%s", screwWords(screws), keyWords(screws))
		switch t.Kind {
		case "end-cap":
			s.say("Press %s into the %s of %s; a rubber mallet helps.", name, endSide(t.End, len(g)), on)
		case "slot-cover":
			s.say("Press %s into the %s slot of %s.", name, t.Face, on)
		case "cable-clip":
			s.say("Snap %s into the %s slot of %s, then the cable into the clips.", name, t.Face, on)
		case "panel-clip":
			s.say("Screw %s onto the %s side of %s %s; they hold the sheet.", name, t.Face, on, with)
		case "corner-outside":
			s.say("Screw %s over the corner of %s %s.", name, on, with)
		default:
			s.say("Screw %s onto %s %s.", name, on, with)
		}
	}
}
