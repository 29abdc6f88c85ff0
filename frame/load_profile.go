package frame

import (
	"errors"
	"fmt"
	"strings"

	"github.com/hashicorp/hcl/v2"

	"barwright/geom"
	"barwright/standard"
)

// profileNode is a section of the file or a built-in one, made once.
type profileNode struct {
	b       *block
	made    *cell
	profile *geom.Profile
}

// readProfiles makes the profile blocks known. Each is checked even if no member uses it.
func (l *loader) readProfiles() {
	l.each("profile", func(b *block) {
		if _, taken := l.profile[b.name]; taken {
			return // reported as a second one
		}
		p := &profileNode{b: b}
		p.made = computed("profile "+b.name, b.header, func() (float64, bool) {
			var ok bool
			p.profile, ok = l.makeProfile(b)
			return 0, ok
		})
		l.profile[b.name] = p
	})
}

// checkProfiles works out the profiles that no member uses.
func (l *loader) checkProfiles() {
	l.each("profile", func(b *block) {
		if p := l.profile[b.name]; p != nil && p.b == b {
			l.get(p.made, hcl.Range{})
		}
	})
}

// sectionOf returns the section of a block's bars: its own profile attribute or the frame's.
func (l *loader) sectionOf(b *block) (*geom.Profile, bool) {
	if p, known, ok := l.swapped(b, b.name); known {
		return p, ok
	}
	from := b
	if !b.has("profile") {
		from = l.frameBlock
		if from == nil || !from.has("profile") {
			l.fail(b.header, fmt.Sprintf("%s has no profile", b), "Add profile = \"30x30-8\" here, or to the frame block for all members.")
			return nil, false
		}
	}
	if from == l.frameBlock {
		if l.usual == nil {
			l.usual = computed("frame.profile", from.at("profile"), func() (float64, bool) {
				var ok bool
				l.usualProfile, ok = l.namedProfile(from)
				return 0, ok
			})
		}
		_, ok := l.get(l.usual, hcl.Range{})
		return l.usualProfile, ok
	}
	return l.namedProfile(from)
}

// namedProfile returns the section that a block's profile attribute names.
func (l *loader) namedProfile(b *block) (*geom.Profile, bool) {
	if b == l.frameBlock {
		if p, known, ok := l.swapped(b, ""); known {
			return p, ok
		}
	}
	name, ok := b.str("profile", "")
	if !ok {
		return nil, false
	}
	return l.findProfile(name, b.at("profile"))
}

// findProfile returns a section by its name: one of the file's own first, then a built-in one.
func (l *loader) findProfile(name string, at hcl.Range) (*geom.Profile, bool) {
	if p := l.profile[name]; p != nil {
		if p.made != nil {
			_, ok := l.get(p.made, at)
			return p.profile, ok
		}
		return p.profile, true
	}
	p, ok := geom.Builtin(name)
	if !ok {
		var known []string
		l.each("profile", func(b *block) { known = append(known, b.name) })
		l.fail(at, fmt.Sprintf("There is no profile %q", shorten(name)), profileHint(name, append(known, geom.BuiltinNames()...)))
		return nil, false
	}
	if own := l.profile[p.Name]; own != nil {
		return l.findProfile(p.Name, at)
	}
	l.profile[p.Name] = &profileNode{profile: p}
	return p, true
}

// profileHint says what a profile may be called.
func profileHint(name string, known []string) string {
	if near := nearestName(name, known); near != "" {
		return fmt.Sprintf("Did you mean %q?", near)
	}
	return "Built-in ones are named by size and slot: " + strings.Join(known[:min(len(known), 6)], ", ") + " … Write a profile block for one of your own."
}

// makeProfile makes the section of a profile block.
func (l *loader) makeProfile(b *block) (*geom.Profile, bool) {
	p := &geom.Profile{Name: b.name, Cells: [2]int{1, 1}}
	good := true
	number := func(b *block, name string, def float64) float64 {
		v, ok := b.num(name, def)
		good = good && ok && (b.has(name) || b.spec.attr(name).required == false)
		return v
	}
	p.Pitch = number(b, "pitch", 0)
	p.CornerRadius = number(b, "corner_radius", 1.5)
	slot, core := b.inner["slot"], b.inner["core"]
	for _, part := range []string{"slot", "core"} {
		if b.inner[part] == nil {
			if !b.tried[part] {
				l.fail(b.header, fmt.Sprintf("%s lacks %q", b, part), fmt.Sprintf("Add %s { … } with the sizes of your bars.", part))
			}
			good = false
		}
	}
	if slot != nil {
		p.Slot = geom.Slot{Opening: number(slot, "opening", 0), Lip: number(slot, "lip", 0), Cavity: number(slot, "cavity", 0),
			Depth: number(slot, "depth", 0), Chamfer: number(slot, "chamfer", 0)}
	}
	if core != nil {
		p.Core = number(core, "bore", 0)
	}
	good = l.readCells(b, p) && good
	good = l.readClosed(b, p) && good
	good = l.readAlloy(b, p) && good
	if !good || !l.validate(b, p) {
		return nil, false
	}
	return p, l.coreThread(core, p)
}

func (l *loader) readCells(b *block, p *geom.Profile) bool {
	cells, ok := b.nums("cells", 2)
	for i, v := range cells {
		if v != float64(int(v)) {
			l.fail(b.at("cells"), fmt.Sprintf("cells has %s", show(v)), "Pitches are counted in whole numbers.")
			return false
		}
		p.Cells[i] = int(v)
	}
	return ok
}

func (l *loader) readClosed(b *block, p *geom.Profile) bool {
	sides, at, ok := b.texts("closed")
	for i, s := range sides {
		n := indexOf([]string{"right", "top", "left", "bottom"}, s)
		if n < 0 {
			l.fail(at[i], fmt.Sprintf("A section has no side %q", shorten(s)), didYouMean(s, []string{"left", "right", "top", "bottom"}))
			return false
		}
		p.Closed[n] = true
	}
	return ok
}

func (l *loader) readAlloy(b *block, p *geom.Profile) bool {
	alloy, ok := b.str("alloy", geom.DefaultAlloy)
	if !ok {
		return false
	}
	if !knownAlloy(alloy) {
		l.fail(b.at("alloy"), fmt.Sprintf("The alloy %q is not known", shorten(alloy)), didYouMean(alloy, alloyNames()))
		return false
	}
	p.Alloy = alloy
	return true
}

// validate checks the section's shape and points at the two dimensions that fight.
func (l *loader) validate(b *block, p *geom.Profile) bool {
	err := p.Validate()
	if err == nil {
		return true
	}
	var rule *geom.RuleError
	if !errors.As(err, &rule) {
		l.fail(b.header, fmt.Sprintf("%s can't be", b), err.Error())
		return false
	}
	at := b.header
	var places []string
	for i, field := range rule.Fields {
		r := b.fieldAt(field)
		if i == 0 {
			at = r
		}
		places = append(places, fmt.Sprintf("%s (line %d)", field, r.Start.Line))
	}
	remedy := "Change " + strings.Join(places, " or ") + "."
	if len(places) == 1 {
		remedy = "Correct " + places[0] + "."
	}
	l.fail(at, fmt.Sprintf("%s can't be: %s", b, rule.Detail), remedy)
	return false
}

// fieldAt returns the place of a field such as "slot.cavity".
func (b *block) fieldAt(field string) hcl.Range {
	part, name, ok := strings.Cut(field, ".")
	if !ok {
		return b.at(part)
	}
	if in := b.inner[part]; in != nil {
		return in.at(name)
	}
	return b.header
}

// coreThread finds the thread that is tapped into the core: the one given, or the standard one that the bore takes.
func (l *loader) coreThread(core *block, p *geom.Profile) bool {
	thread, ok := core.str("thread", "")
	if !ok {
		return false
	}
	if core.has("thread") {
		t, ok := l.thread(thread, core.at("thread"))
		if ok && p.Core > t.MinorMax {
			l.fail(core.at("thread"), fmt.Sprintf("%s can't be cut into a bore of %s mm", thread, show(p.Core)),
				fmt.Sprintf("Its core hole is %s mm wide at most.", show(t.MinorMax)))
			ok = false
		}
		p.Thread = thread
		return ok
	}
	for _, t := range standard.Threads() {
		if t.Accepts(p.Core) || t.TapDrill >= p.Core && t.Choice == 1 {
			p.Thread = t.Name
			return true
		}
	}
	l.fail(core.at("bore"), fmt.Sprintf("No thread fits a bore of %s mm", show(p.Core)), "Threads up to M16 are known.")
	return false
}

// thread returns a standard thread by its name.
func (l *loader) thread(name string, at hcl.Range) (standard.Thread, bool) {
	t, ok := standard.ThreadByName(name)
	if !ok {
		var known []string
		for _, t := range standard.Threads() {
			known = append(known, t.Name)
		}
		l.fail(at, fmt.Sprintf("There is no thread %q", shorten(name)), "Known: "+strings.Join(known, ", ")+".")
	}
	return t, ok
}

// knownAlloy reports whether an alloy is in the standards' tables.
func knownAlloy(name string) bool {
	_, ok := standard.Alloy(name)
	return ok
}

// alloyNames returns the alloys that are known.
func alloyNames() []string { return materialNames(standard.Aluminium) }

func materialNames(kind standard.MaterialKind) []string {
	var out []string
	for _, m := range standard.Materials() {
		if m.Kind == kind {
			out = append(out, m.Name)
		}
	}
	return out
}
