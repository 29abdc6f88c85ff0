// Package sparse solves large sparse symmetric systems: it orders the unknowns so that little
// fills in, factors A = L·D·Lᵀ over dense fronts, solves for many right-hand sides with one factor,
// and finds the lowest modes of K·x = λ·M·x.
//
// Collect entries in a [Builder], compress them to a [Sym], and [Factorize] it. Unknowns that share
// their neighbours (the six movements of a node) may be given as blocks, so that the ordering sees
// one vertex for each. [Modes] needs the factor of K and a [Sym] for M.
//
// Nothing here depends on the order of goroutines or of maps: the same input gives the same bits.
package sparse
