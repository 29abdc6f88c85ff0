package standard

import "slices"

// PrintRule is one design rule for parts printed with a 0.4 mm nozzle. All of
// them are common practice, no standard, and should be parameters.
type PrintRule struct {
	// Rule names it, such as "wall_min" or "heat_set_hole_M5".
	Rule string
	// Min, Typical and Max are in Unit, 0 where not given.
	Min, Typical, Max float64
	Unit              string
	// Meaning explains the rule in a sentence.
	Meaning string
	Source  Source
}

var printRules = table("printing.csv", func(r record) PrintRule {
	return PrintRule{
		Rule:    r.text("rule"),
		Min:     r.float("min"),
		Typical: r.float("typical"),
		Max:     r.float("max"),
		Unit:    r.text("unit"),
		Meaning: r.text("meaning"),
		Source:  r.source(),
	}
})

// PrintRules returns all printing rules.
func PrintRules() []PrintRule { return slices.Clone(printRules()) }

// PrintRuleByName returns the printing rule with the given name.
func PrintRuleByName(rule string) (PrintRule, bool) {
	return find(printRules(), func(p PrintRule) bool { return p.Rule == rule })
}
