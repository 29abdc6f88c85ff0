package frame

import (
	"fmt"

	"github.com/hashicorp/hcl/v2"
)

// Assembly is what the builder says of the order of building.
type Assembly struct {
	// Order is what goes in, one entry after the other: the members of an entry go in as one. Members that
	// it does not name follow.
	Order [][]*Member
	// Lift is what one person lifts, kg; 0: the usual figure.
	Lift float64
	// DropIn says that the slot nuts can be put into a slot from its front.
	DropIn bool
	Origin hcl.Range
}

// readAssembly reads the assembly block.
func (l *loader) readAssembly() {
	b := l.only("assembly")
	if b == nil {
		return
	}
	a := &Assembly{Origin: b.header}
	var ok, ok1 bool
	a.Lift, ok = b.positive("lift", 0)
	nuts, ok1 := b.choice("nuts", "slide-in", "slide-in", "drop-in")
	a.DropIn = nuts == "drop-in"
	if !ok || !ok1 {
		return
	}
	if b.has("order") {
		if a.Order, ok = b.assemblyOrder(); !ok {
			return
		}
	}
	l.f.Assembly = a
}

// assemblyOrder reads the entries of the order; no member may stand in two of them.
func (b *block) assemblyOrder() ([][]*Member, bool) {
	f, ok := b.refs("order", true)
	if !ok {
		return nil, false
	}
	var out [][]*Member
	seen := map[*Member]bool{}
	for _, e := range f.entry {
		members, ok := placed(e.bars)
		if !ok {
			return nil, false
		}
		for _, m := range members {
			if seen[m] {
				b.l.fail(b.at("order"), fmt.Sprintf("%s is named twice in the order", m.Name), "A bar goes in once: take one of the two away.")
				return nil, false
			}
			seen[m] = true
		}
		out = append(out, members)
	}
	return out, true
}
