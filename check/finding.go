package check

import (
	"cmp"
	"slices"
	"strings"

	"barwright/frame"
	"barwright/geom"

	"github.com/hashicorp/hcl/v2"
)

// Severity says how bad a finding is.
type Severity string

// The severities.
const (
	Error   Severity = "error"   // can't be built
	Warning Severity = "warning" // can be built and will be regretted
	Note    Severity = "note"
)

// rank orders severities, the worst first.
func (s Severity) rank() int { return slices.Index([]Severity{Error, Warning, Note}, s) }

// Finding is one thing that a rule found.
type Finding struct {
	Rule     string
	Severity Severity
	Members  []string
	At       geom.Vec // the place in the frame, mm
	Message  string   // what is, what is needed, by how much
	Remedy   string
	Origin   hcl.Range // the line of the frame file that it comes from
}

// Rule is one design rule.
type Rule struct {
	Name    string
	Explain string // the page that check --explain prints
	run     func(*frame.Frame) []Finding
}

// Rules returns all rules in the order in which they run.
func Rules() []Rule {
	return []Rule{overlapRule(), looseEndRule(), nearMissRule(), afloatRule()}
}

// Run returns the findings of all rules, the worst first, then by rule, members and place.
func Run(f *frame.Frame) []Finding {
	var out []Finding
	for _, r := range Rules() {
		for _, g := range r.run(f) {
			g.Rule = r.Name
			out = append(out, g)
		}
	}
	slices.SortStableFunc(out, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(a.Severity.rank(), b.Severity.rank()), strings.Compare(a.Rule, b.Rule),
			slices.Compare(a.Members, b.Members), cmp.Compare(a.At.X, b.At.X), cmp.Compare(a.At.Y, b.At.Y), cmp.Compare(a.At.Z, b.At.Z))
	})
	return out
}

// Worst returns whether any finding is an error.
func Worst(findings []Finding) (errors bool) {
	return slices.ContainsFunc(findings, func(g Finding) bool { return g.Severity == Error })
}
