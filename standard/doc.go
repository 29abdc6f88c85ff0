// Package standard holds tables from published standards and handbooks:
// threads, clearance holes, screws, nuts, washers, keys, counterbores,
// general tolerances, materials, tightening torques, drawing sheets, and the
// handling, printing and doorway figures that checks need.
//
// # A tour
//
// Each family has one CSV file and one Go file. The CSV starts with comment
// lines that name the standard, its edition and table, the unit and how the
// figures were checked; it is embedded in the program and read once, at the
// first question. Start with the function named after the thing:
//
//	hole, ok := standard.ClearanceHole("M8")     // ISO 273
//	screw, ok := standard.ButtonHeadScrew("M8")  // ISO 7380-1
//	tol, ok := standard.GeneralTolerance("m", 840)
//	alloy, ok := standard.Alloy("EN AW-6060 T66")
//
// A look-up returns false where the standard has no such row; nothing here
// interpolates. Functions with a plural name return the whole table in its
// printed order, in a slice the caller owns.
//
// # Sources
//
// Every row carries a [Source]: the standard it comes from, and whether the
// figure was compared with an independent text or recomputed (Checked) or is
// recalled only. A finding that rests on a row that is not checked should warn
// at most. Where one column of a checked row is recalled, the comment on its
// field says so.
//
// # Units
//
// Millimetres, newtons, megapascals, kilograms and radians throughout, so a
// density is in kg/mm³ and a torque in N·mm; the CSV files keep the units in
// which the standards print. A thread is named as on a drawing: "M8".
package standard
