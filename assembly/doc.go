// Package assembly finds an order in which a frame can be built, and says step by step what to do.
//
// Start with [New]. It takes the finished frame apart and reads the way backward. For each straight direction a table says which
// bar stands in which other's way: their outer shapes are swept along it, and an end screw lets its bars part only along
// the slot, with the screw in the tapped end, or straight away from it, with the screw left in the slot (after R. H. Wilson and
// J.-C. Latombe, "Geometric reasoning about mechanical assembly", 1994). What comes off is one bar, a flat unit that can be built
// by itself on the table, or the bars that must move together. Screw heads, slot nuts and brackets are swept too. Taking a bar
// away never puts another in the way, so the greedy search reaches an end where there is one; a few removals at each
// state are followed to the end to find the course that asks for the least.
//
// Heads and nuts that go into a slot from its end are then loaded as late as the slot is open.
//
// A [Plan] holds [Step] values in the order of working; those that build a unit on the table stand in the Build of the step
// in which the unit goes in. Directions are those of the finished frame; Step.Down says which of them points down
// meanwhile. Where no order exists [Locked] names the bars that lock each other and the joining that would free them.
//
// Lengths are millimetres, masses kilograms; torques are N·m, as they are read off a wrench.
package assembly
