package frame

import (
	"fmt"

	"barwright/geom"
)

// Swap gives bars another profile than the file says: the bars of one member, posts, ring, row or brace block,
// or, where Block is "", all bars that take the frame's own profile.
type Swap struct{ Block, Profile string }

// With works out the frame of the same file and marks with other settings, "name=value" each, and other profiles. The errors are
// those of [Parse]; a swap that names no block or no profile is a *[SetError].
func (f *Frame) With(set []string, swaps []Swap) (*Frame, error) {
	return Parse(f.File, f.src, Options{Set: set, Marks: f.marks, Swaps: swaps})
}

// checkSwaps refuses swaps that name no block of bars or no profile.
func (l *loader) checkSwaps() error {
	for _, s := range l.swaps {
		text := "profile=" + s.Profile
		if s.Block != "" {
			text = s.Block + "." + text
			e := l.names[s.Block]
			if e == nil || e.block == nil || e.block.spec.attr("profile") == nil {
				return &SetError{Setting: text, Problem: fmt.Sprintf("there are no bars called %q.", shorten(s.Block)), Remedy: didYouMean(s.Block, l.barNames())}
			}
		}
		if _, ok := l.profile[s.Profile]; ok {
			continue
		}
		if _, ok := geom.Builtin(s.Profile); !ok {
			var known []string
			l.each("profile", func(b *block) { known = append(known, b.name) })
			return &SetError{Setting: text, Problem: fmt.Sprintf("there is no profile %q.", shorten(s.Profile)), Remedy: profileHint(s.Profile, append(known, geom.BuiltinNames()...))}
		}
	}
	return nil
}

// barNames returns the names of the blocks that make bars.
func (l *loader) barNames() (out []string) {
	for _, e := range l.order {
		if e.block != nil && e.block.spec.attr("profile") != nil {
			out = append(out, e.block.name)
		}
	}
	return out
}

// swapped returns the profile that takes the place of a block's own, if one does.
func (l *loader) swapped(b *block, name string) (p *geom.Profile, known, ok bool) {
	for _, s := range l.swaps {
		if s.Block == name {
			p, ok = l.findProfile(s.Profile, b.at("profile"))
			return p, true, ok
		}
	}
	return nil, false, false
}
