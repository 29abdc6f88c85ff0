// Package check holds the design rules: what goes wrong in the workshop is found at the desk.
//
// [Run] goes through every [Rule] and returns the findings, sorted, each with
// the members, the place, a message with the numbers, a remedy and the line of the frame
// file that it comes from. Each rule has a file of its own; [Rules] lists them.
package check
