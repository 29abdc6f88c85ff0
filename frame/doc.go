// Package frame is the domain: it reads a frame file, places every member, finds
// the joints between them from geometry, and works out each bar's machining,
// the parts that are alike, and the hardware.
//
// Start with [Load]: it returns a complete [Frame] or [Diagnostics] that point at
// the lines that are wrong. Positions are millimetres with X left to right, Y
// front to back and Z up; masses are kilograms, angles radians.
//
// A [Member] is a bar in its place. Its [Bar] is the machined bar in raw coordinates
// (z along the bar from its end 0); [Member.Place] moves it into the frame. Members
// whose bars are the same after a [Turn] share one [Part] and its mark.
//
// The language of the file is described in LANGUAGE.md beside this package.
package frame
