// Package job runs the whole job for the commands: it loads a frame, checks it, and
// writes the outputs that the design names, each whole or not at all.
//
// Start with [Open], which loads and checks a frame file; the methods of [Job] make one output each, and
// [Job.Build] makes all of them in a fresh folder that it swaps in.
package job
