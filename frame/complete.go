package frame

import "github.com/hashicorp/hcl/v2"

// complete works out everything that follows from the placed members: contacts, joints,
// machining, parts, marks and hardware.
func (f *Frame) complete() hcl.Diagnostics {
	diags := f.findContacts()
	if diags.HasErrors() {
		return diags
	}
	if diags = append(diags, f.makeJoints()...); diags.HasErrors() {
		return diags
	}
	diags = append(diags, f.findSpacers()...)
	diags = append(diags, f.tapFeet()...)
	diags = append(diags, f.tapPrinted()...)
	diags = append(diags, f.tidyMachining()...)
	diags = append(diags, f.makeParts()...)
	diags = append(diags, f.cutPanels()...)
	f.countHardware()
	return diags
}
