package job

import "barwright/check"

// LimitRules returns the rules that the limit block makes, with their pages. They run with the analysis of the frame, not with
// the design rules.
func LimitRules() []check.Rule {
	const estimate = "\n\nThe figure is an estimate for comparing designs, not a structural certificate; joints and feet are the least certain."
	return []check.Rule{
		{Name: "limit-sag", Explain: `limit-sag (warning)

A place of the frame shifts further than the limit block's sag, in any direction, in one of the load cases: standing, each
travelling mass and group at its worst place, accelerate, warm.

Remedy: take a higher profile for the bar that is named, turn it upright, shorten its span, or hold it in the middle.` + estimate},
		{Name: "limit-racking", Explain: `limit-racking (warning)

The top meets a push along X or Y more softly than the limit block's racking, in N/mm. The push is spread over the
top of the frame, and the feet hold.

Remedy: a brace or a plate in that direction, stiffer joints, or a ring lower down.` + estimate},
		{Name: "limit-frequency", Explain: `limit-frequency (warning)

The lowest natural frequency, with what travels where the frame rings lowest, lies under the limit block's frequency.

Remedy: make it stiffer where it racks, with braces or stiffer joints, or take weight off the top.` + estimate},
		{Name: "limit-stress", Explain: `limit-stress (warning)

A bar is stressed to a larger share of its alloy's yield strength (EN 1999-1-1) than the limit block's stress. It is the
stress along the bar from tension and bending; what a screw does to the lips of a slot is not in it.

Remedy: take a larger profile for that bar.` + estimate},
		{Name: "tips", Explain: `tips (warning)

Under a load case the frame lifts off its feet and tips or slides.

Remedy: set the feet wider, take weight off the top, or hold the frame with a support block.`},
		{Name: "moves-freely", Explain: `moves-freely (warning)

The limits can't be checked, as something moves without resistance: a support is missing, or joints that hold no turn make a
mechanism. The message names the members and the motion.

Remedy: brace or join what moves, or hold it with a foot or a support block.`},
	}
}
