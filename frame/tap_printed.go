package frame

import (
	"fmt"

	"github.com/hashicorp/hcl/v2"

	"barwright/geom"
	"barwright/standard"
)

// tapPrinted taps every core bore of the ends that carry a printed foot pad or caster plate: a screw goes into each.
func (f *Frame) tapPrinted() hcl.Diagnostics {
	var diags hcl.Diagnostics
	for _, b := range f.Brackets {
		if b.Kind != "foot-pad" && b.Kind != "caster-plate" {
			continue
		}
		for _, m := range b.On {
			thread := b.Thread
			if thread == "" {
				thread = m.Bar.Profile.Thread
			}
			row, ok := standard.ThreadByName(thread)
			if !ok || m.Bar.Profile.Core > row.MinorMax {
				diags = append(diags, problem(b.Origin, fmt.Sprintf("The thread of %q does not fit %s", b.Name, m.Name),
					fmt.Sprintf("A thread %s cannot be cut into its core bore, %g mm wide; it takes %s.", thread, m.Bar.Profile.Core, m.Bar.Profile.Thread)))
				continue
			}
			for _, core := range m.Bar.Profile.Cores() {
				m.tap(m.endAt(b.End), core, thread, f.footTapDepth(thread, row.Nominal))
			}
		}
	}
	return diags
}

// endAt returns the end of a bar that lies toward a side of the frame: "left", "top".
func (m *Member) endAt(side string) int {
	for ax, pair := range directions {
		for k, name := range pair {
			if d := geom.Axis(ax).Unit().Scale(float64(2*k - 1)); name == side && m.Direction().Dot(d) > 0 {
				return 1
			}
		}
	}
	return 0
}
