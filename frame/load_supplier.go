package frame

import (
	"fmt"

	"github.com/hashicorp/hcl/v2"
)

// Supplier is what somebody asks for bars of one profile cut to length. Prices are in the
// currency of the stock's.
type Supplier struct {
	Profile  string
	PerMetre float64 // of the lengths ordered
	PerCut   float64 // one a bar
	PerTap   float64 // one a tapped core bore
	PerHole  float64 // one a cross hole, tapped or not
	Longest  float64 // mm, the longest bar that is cut and sent; 0: no limit
	Origin   hcl.Range
}

// readSuppliers makes the suppliers of the supplier blocks.
func (l *loader) readSuppliers() {
	l.each("supplier", func(b *block) {
		p, ok := l.findProfile(b.name, b.nameRange)
		s := &Supplier{Origin: b.header}
		for _, v := range []struct {
			name string
			into *float64
		}{{"per_metre", &s.PerMetre}, {"per_cut", &s.PerCut}, {"per_tap", &s.PerTap}, {"per_hole", &s.PerHole}} {
			var ok1 bool
			*v.into, ok1 = b.notNegative(v.name, 0)
			ok = ok && ok1
		}
		var ok1 bool
		s.Longest, ok1 = b.positive("longest", 0)
		if !ok || !ok1 {
			return
		}
		for _, old := range l.f.Suppliers {
			if old.Profile == p.Name {
				l.fail(b.header, fmt.Sprintf("A second supplier of %s", p.Name), fmt.Sprintf("The first stands on line %d.", old.Origin.Start.Line))
				return
			}
		}
		s.Profile = p.Name
		l.f.Suppliers = append(l.f.Suppliers, s)
	})
}
