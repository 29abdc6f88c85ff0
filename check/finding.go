package check

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
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
	// Allowed is the reason that the file gives for letting it be, "" where it does not.
	Allowed string
}

// Rule is one design rule.
type Rule struct {
	Name    string
	Explain string // the page that check --explain prints
	run     func(*model) []Finding
}

// Rules returns all rules in the order in which they run.
func Rules() []Rule {
	return []Rule{
		overlapRule(), looseEndRule(), nearMissRule(), afloatRule(),
		offSlotRule(), holeMeetsTapRule(), holeMeetsHoleRule(), holeNearEndRule(), holeMissesRule(),
		keyBlockedRule(), threadShortRule(), screwLongRule(), headCrushesRule(), slotCrowdedRule(), slotShutRule(),
		barTooLongRule(), wastefulLengthRule(), footClashRule(), unevenFeetRule(), travelClashRule(),
		doorwayRule(), liftRule(), twinTrapRule(),
	}
}

// Run returns the findings of all rules: what the file allows last, else the worst first, then by rule, members and place.
func Run(f *frame.Frame) []Finding {
	m := newModel(f)
	var out []Finding
	for _, r := range Rules() {
		found := r.run(m)
		for i := range found {
			found[i].Rule = r.Name
			found[i].Allowed = f.Allowed(r.Name, found[i].Members)
		}
		out = append(out, shortened(found)...)
	}
	slices.SortStableFunc(out, compareFindings)
	return out
}

// mostFindings is how many findings of one rule are listed: a frame with more has one mistake that makes them all.
const mostFindings = 2000

// shortened returns the worst findings of a rule, and says where there are more.
func shortened(found []Finding) []Finding {
	if len(found) <= mostFindings {
		return found
	}
	slices.SortStableFunc(found, compareFindings)
	found = found[:mostFindings]
	found[mostFindings-1].Message += fmt.Sprintf("; only the first %d of this rule are listed", mostFindings)
	return found
}

func compareFindings(a, b Finding) int {
	allowed := func(g *Finding) int {
		if g.Allowed != "" {
			return 1
		}
		return 0
	}
	return cmp.Or(cmp.Compare(allowed(&a), allowed(&b)), cmp.Compare(a.Severity.rank(), b.Severity.rank()),
		strings.Compare(a.Rule, b.Rule), slices.Compare(a.Members, b.Members), cmp.Compare(a.At.X, b.At.X),
		cmp.Compare(a.At.Y, b.At.Y), cmp.Compare(a.At.Z, b.At.Z), strings.Compare(a.Message, b.Message))
}

// Worst returns whether any finding that the file does not allow is an error.
func Worst(findings []Finding) (errors bool) {
	return slices.ContainsFunc(findings, func(g Finding) bool { return g.Severity == Error && g.Allowed == "" })
}

// mm writes a length for a message: at most two decimals, never -0.
func mm(v float64) string { return decimals(v, 2) }

// decimals writes a figure with at most n decimals.
func decimals(v float64, n int) string {
	p := math.Pow(10, float64(n))
	v = math.Round(v*p) / p
	if v == 0 {
		return "0"
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// names returns the names of members.
func names(members ...*frame.Member) []string {
	out := make([]string, len(members))
	for i, m := range members {
		out[i] = m.Name
	}
	return out
}
