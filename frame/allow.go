package frame

import (
	"fmt"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2"
)

// Allowance is an allow attribute: rules whose findings the file lets be, and why.
type Allowance struct {
	Rules  []string
	Reason string
	// On is the names of the members that a finding must concern, one of them; nil for the whole frame.
	On []string
	// With is the names of the members on the other side of a joint block: a finding must concern one of On and one of
	// With. Nil where the block is no joint between two.
	With   []string
	Origin hcl.Range
}

// Fits reports whether the allowance speaks of a finding about some members.
func (a *Allowance) Fits(members []string) bool {
	has := func(list []string) bool {
		return list == nil || slices.ContainsFunc(members, func(m string) bool { return slices.Contains(list, m) })
	}
	return has(a.On) && has(a.With)
}

// RuleNames returns the names of the design rules, which allow attributes may name.
func RuleNames() []string {
	return []string{
		"overlap", "loose-end", "near-miss", "afloat", "off-slot", "hole-meets-tap", "hole-meets-hole", "hole-near-end", "hole-misses",
		"key-blocked", "thread-short", "screw-long", "head-crushes", "slot-crowded", "slot-shut", "bar-too-long", "wasteful-length",
		"foot-clash", "uneven-feet", "travel-clash", "doorway", "lift", "twin-trap",
	}
}

// LimitRuleNames returns the names of the rules that limits make, which allow attributes may name too.
func LimitRuleNames() []string {
	return []string{"limit-sag", "limit-racking", "limit-frequency", "limit-stress", "tips", "moves-freely"}
}

// Allowed returns the reason that the file gives for letting a finding of a rule about some members be, or "".
func (f *Frame) Allowed(rule string, members []string) string {
	for _, a := range f.Allowances {
		if slices.Contains(a.Rules, rule) && a.Fits(members) {
			return a.Reason
		}
	}
	return ""
}

// readAllowances reads the allow attributes of the frame block and of the blocks of bars; those of joints are read
// with the joints.
func (l *loader) readAllowances() {
	if l.frameBlock != nil {
		l.readAllowance(l.frameBlock, nil, nil)
	}
	for _, e := range l.declared {
		if e.bar == nil && e.set == nil {
			continue
		}
		bars, ok := []*barNode{e.bar}, true
		if e.set != nil {
			bars, ok = e.set.bars()
		}
		if members, good := placed(bars); ok && good {
			l.readAllowance(e.block, namesOf(members), nil)
		}
	}
}

// readAllowance reads allow and reason of a block.
func (l *loader) readAllowance(b *block, on, with []string) {
	if !b.has("allow") && !b.has("reason") {
		return
	}
	rules, at, ok := b.texts("allow")
	reason, ok1 := b.str("reason", "")
	if !ok || !ok1 {
		return
	}
	known := append(RuleNames(), LimitRuleNames()...)
	for i, r := range rules {
		if indexOf(known, r) < 0 {
			l.fail(at[i], fmt.Sprintf("There is no rule %q", shorten(r)), didYouMean(r, known))
			return
		}
	}
	switch {
	case len(rules) == 0:
		l.fail(b.at("reason"), "reason is for allow", "Name the rules: allow = [\"loose-end\"].")
	case strings.TrimSpace(reason) == "":
		l.fail(b.at("allow"), "allow needs a reason", "It stays visible beside what is found: reason = \"the arm is short\".")
	default:
		l.f.Allowances = append(l.f.Allowances, &Allowance{Rules: rules, Reason: reason, On: on, With: with, Origin: b.at("allow")})
	}
}

// namesOf returns the names of members, nil for none.
func namesOf(members []*Member) []string {
	var out []string
	for _, m := range members {
		out = append(out, m.Name)
	}
	return out
}
