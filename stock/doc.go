// Package stock plans how bars are bought and cut, and proves what the plan is
// worth.
//
// Start with [Solve]: it takes a [Problem] (pieces, kinds of bar, kerf, trim)
// and returns a [Plan] with the cost, a proven lower bound and the cuts of
// every bar in the order of sawing. [ReadPieces] and [ReadBars] read the same
// from plain lists, [WhatIf] asks which length made a little shorter would save
// a bar, [NewReport] gives the plan the shape that other programs read.
//
// The rule of the saw: n pieces from one bar take at least n−1 cuts, each a
// kerf wide; a last remainder shorter than the kerf goes to dust. The trim
// comes off every bar first, both ends together, offcuts too. So pieces fit if
//
//	Σ length + kerf·(n−1) ≤ bar − trim
//
// The best plan costs least; of those it has fewest bars, then the longest
// single leftover, then the fewest different patterns. The cost is proven, the
// rest is as good as the search finds.
//
// Inside, all is counted in whole numbers: lengths in hundredths of a
// millimetre, prices in hundredths of a cent (instance.go). Pieces of one
// length are one row with a quantity, so the work grows with the lengths, not
// with the pieces.
//
//	heuristic.go, fullest.go   a first plan, at once
//	master.go                  column generation over all patterns
//	simplex.go, basis.go       its linear programme
//	knapsack.go, grid.go       its pricing problem
//	bound.go                   the proven bound, in whole numbers
//	dive.go                    whole plans from the fractional optimum
//	branch.go                  branch and price: the rest of the proof
//	finish.go, leftover.go     fewer bars, the longest leftover, fewer patterns
//	order.go                   the order of sawing
//	plan.go, json.go           the answer
//	list.go, listtext.go       plain lists
//
// Lengths outside are millimetres.
package stock
