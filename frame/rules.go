package frame

import "github.com/hashicorp/hcl/v2"

// jointRule is one joint or bracket block: it chooses the joining of every contact that it fits. The
// last rule in the file that fits wins.
type jointRule struct {
	between [2][]*Member // a contact between one of each; both nil where on is used
	on      []*Member    // a contact of any of these
	with    *Joining
	origin  hcl.Range
	ofBar   bool                 // from the joining attribute of bars: every joint and bracket block wins over it
	block   *Bracket             // of a part that holds bars that meet
	places  map[*Contact]*Shared // what serves which contact; worked out from block

	first, second, any map[*Member]bool // the same lists, for looking up; made by index
}

// index makes the lists quick to ask.
func (r *jointRule) index() {
	set := func(list []*Member) map[*Member]bool {
		out := make(map[*Member]bool, len(list))
		for _, m := range list {
			out[m] = true
		}
		return out
	}
	r.first, r.second, r.any = set(r.between[0]), set(r.between[1]), set(r.on)
}

// fits reports whether a joint block speaks of a contact.
func (r *jointRule) fits(c *Contact) bool {
	if r.block != nil {
		return r.places[c] != nil
	}
	if r.on != nil {
		return r.any[c.A] || r.any[c.B]
	}
	return r.first[c.A] && r.second[c.B] || r.first[c.B] && r.second[c.A]
}
