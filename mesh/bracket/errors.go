package bracket

import (
	"fmt"
	"strings"
)

// The rules that an [Error] can name.
const (
	RuleKind      = "kind"         // no such kind
	RuleParameter = "parameter"    // unknown, out of its limits or no number
	RuleProfile   = "profile"      // the profile itself cannot be, or lacks what the kind needs
	RuleThread    = "thread"       // unknown, or too large for the slot
	RuleWall      = "wall-in-slot" // a wall or leg does not fit into the slot
	RuleScrew     = "screw-length" // no stock length both holds and ends before the slot's floor
	RuleDriver    = "screw-access" // a head or driver has no way to the screw
	RuleRoom      = "room"         // longer than the bars it sits on
	RuleBed       = "bed"          // larger than the printer
	RulePart      = "part"         // a jig for a bar that it cannot serve
	RuleSize      = "size"         // two sizes leave nothing between them
	RuleThin      = "thin"         // something would be thinner than the least wall
)

// Error says that a part cannot be made as asked, and what fights.
type Error struct {
	Rule   string   // one of the Rule constants
	Fields []string // the parameters or sizes that fight
	Detail string   // what is wrong, with the figures
}

// Error returns the detail and the names of what fights.
func (e *Error) Error() string {
	if len(e.Fields) == 0 {
		return e.Detail
	}
	return fmt.Sprintf("%s (%s)", e.Detail, strings.Join(e.Fields, " against "))
}

// fight returns an error; fields are separated by commas.
func fight(rule, fields, format string, args ...any) *Error {
	return &Error{Rule: rule, Fields: strings.Split(fields, ","), Detail: fmt.Sprintf(format, args...)}
}
