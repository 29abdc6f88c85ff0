package frame

import (
	"fmt"

	"barwright/geom"

	"github.com/hashicorp/hcl/v2"
)

// findSpacers works out what the spacers of the file set, and how high they are: from the rail below on the same post, or from the
// post's end, to the near face of the rail.
func (f *Frame) findSpacers() hcl.Diagnostics {
	var diags hcl.Diagnostics
	for _, b := range f.Brackets {
		if b.Under == nil {
			continue
		}
		under, on := map[*Member]bool{}, map[*Member]bool{}
		for _, m := range b.Under {
			under[m] = true
		}
		for _, m := range b.On {
			on[m] = true
		}
		for _, c := range f.Contacts {
			if c.Kind == EndToSide && !c.Apart && under[c.A] && on[c.B] && !c.A.Brace {
				if s, ok := f.setter(c); ok {
					b.Sets = append(b.Sets, s)
				}
			}
		}
		if len(b.Sets) == 0 {
			diags = append(diags, problem(b.Origin, fmt.Sprintf("bracket %q finds no rail to set", b.Name),
				"on names posts and under rails whose ends butt them, with room below: on = leg, under = base."))
		}
	}
	return diags
}

// leastSpacer is the lowest spacer in mm that is worth printing.
const leastSpacer = 5

// setter returns how a spacer sets the rail of a contact on its post.
func (f *Frame) setter(c *Contact) (Setter, bool) {
	rail, post := c.A, c.B
	up := post.Direction()
	if up.X+up.Y+up.Z < 0 {
		up = up.Scale(-1)
	}
	level := -extreme(rail, up.Scale(-1))
	s := Setter{Post: post, Rail: rail}
	foot := -extreme(post, up.Scale(-1))
	// The highest bar that stands out of the post's same face under the rail.
	for _, o := range f.Contacts {
		other := o.A
		if o.A == post {
			other = o.B
		} else if o.B != post {
			continue
		}
		if other == rail || other.Brace || !f.sameFace(o, c, post) {
			continue
		}
		across := up.Cross(c.Normal)
		if extreme(other, across) < c.Patch.Centre().Dot(across) || -extreme(other, across.Scale(-1)) > c.Patch.Centre().Dot(across) {
			continue
		}
		if top := extreme(other, up); top <= level+geom.Coincident && top > foot {
			foot, s.On = top, other
		}
	}
	s.Height = level - foot
	return s, s.Height >= leastSpacer
}

// sameFace reports whether two contacts lie on one face of a bar.
func (f *Frame) sameFace(a, b *Contact, of *Member) bool {
	out := func(c *Contact) geom.Vec {
		if c.B == of {
			return c.Normal.Scale(-1)
		}
		return c.Normal
	}
	return out(a).Dot(out(b)) > 1-1e-6
}
