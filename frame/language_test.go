package frame

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

// The table between these lines of LANGUAGE.md is made from the schema.
const (
	tableBegin = "<!-- blocks: begin -->\n"
	tableEnd   = "<!-- blocks: end -->\n"
)

// languageTable returns the table of all blocks and attributes.
func languageTable() string {
	var b strings.Builder
	b.WriteString("| block | attribute | type | default | meaning |\n| --- | --- | --- | --- | --- |\n")
	for i := range schema.blocks {
		writeBlock(&b, &schema.blocks[i], "")
	}
	return b.String()
}

func writeBlock(b *strings.Builder, s *blockSpec, parent string) {
	name := parent + s.name
	label := map[labelSpec]string{noLabel: "", nameLabel: ` "name"`, ownLabel: ` "text"`}[s.label]
	fmt.Fprintf(b, "| **`%s%s`** | | | | %s |\n", name, label, cellText(s.meaning))
	for _, a := range s.attrs {
		def := a.def
		if a.required {
			def = "*must be given*"
		}
		fmt.Fprintf(b, "| `%s` | `%s` | %s | %s | %s |\n", name, a.name, a.kind, cellText(def), cellText(a.meaning))
	}
	for i := range s.blocks {
		writeBlock(b, &s.blocks[i], name+" / ")
	}
}

func cellText(s string) string { return strings.ReplaceAll(s, "|", "\\|") }

// LANGUAGE.md holds the schema as it is. With BARWRIGHT_WRITE_LANGUAGE=1 the test writes the table.
func TestLanguageTable(t *testing.T) {
	const path = "LANGUAGE.md"
	src, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	head, rest, ok := strings.Cut(string(src), tableBegin)
	table, tail, ok2 := strings.Cut(rest, tableEnd)
	if !ok || !ok2 {
		t.Fatalf("%s lacks the lines %q and %q", path, tableBegin, tableEnd)
	}
	if want := languageTable(); table != want {
		if os.Getenv("BARWRIGHT_WRITE_LANGUAGE") != "" {
			if err := os.WriteFile(path, []byte(head+tableBegin+want+tableEnd+tail), 0o666); err != nil {
				t.Fatal(err)
			}
			return
		}
		t.Errorf("the table in %s is not the schema's; it should be\n%s", path, want)
	}
	text := strings.Join(strings.Fields(head+tail), " ")
	for _, limit := range []string{
		fmt.Sprintf("%d MB", maxFileBytes>>20), fmt.Sprintf("%d words and signs,", maxTokens), fmt.Sprintf("%d levels", maxNesting),
		fmt.Sprintf("%d words and signs in one", maxExpressionToken), fmt.Sprintf("%d bars in a row", maxRow),
		fmt.Sprintf("%d in all", maxMembers), fmt.Sprintf("chains of %d", maxChain), fmt.Sprintf("and %d", int(maxSize)),
	} {
		if !strings.Contains(text, limit) {
			t.Errorf("%s does not say %q", path, limit)
		}
	}
	for _, name := range functionNames() {
		if !strings.Contains(head+tail, "`"+name) {
			t.Errorf("%s does not tell of the function %s", path, name)
		}
	}
}

// Each example in LANGUAGE.md is a file that loads.
func TestLanguageExamples(t *testing.T) {
	src, err := os.ReadFile("LANGUAGE.md")
	if err != nil {
		t.Fatal(err)
	}
	pieces := strings.Split(string(src), "```hcl\n")[1:]
	if len(pieces) == 0 {
		t.Fatal("no examples")
	}
	for i, p := range pieces {
		text, _, _ := strings.Cut(p, "```")
		if _, err := Parse(fmt.Sprintf("example-%d.hcl", i+1), []byte(text), Options{}); err != nil {
			t.Errorf("example %d: %v", i+1, err)
		}
	}
}

// Every attribute of the schema is read by something: a wrong type in it is noticed.
func TestEveryAttributeIsRead(t *testing.T) {
	seen := map[string]bool{}
	for _, src := range seeds(t) {
		for i := range schema.blocks {
			b := &schema.blocks[i]
			for _, a := range b.attrs {
				for _, line := range strings.Split(string(src), "\n") {
					if strings.HasPrefix(strings.TrimSpace(line), a.name+" ") {
						seen[b.name+"."+a.name] = true
					}
				}
			}
		}
	}
	for i := range schema.blocks {
		b := &schema.blocks[i]
		for _, a := range b.attrs {
			checkRead(t, b, a)
		}
	}
	if len(seen) == 0 {
		t.Error("the examples use no attribute")
	}
}

// checkRead gives an attribute a value that fits no type, and expects to hear of it.
func checkRead(t *testing.T, b *blockSpec, a attrSpec) {
	t.Helper()
	label := ""
	if b.label != noLabel {
		label = ` "it"`
		if b.name == "stock" || b.name == "supplier" {
			label = ` "30x30-8"`
		}
	}
	const odd = "1 == 1" // neither number, text, list, object nor reference
	value := odd
	if a.kind == aFlag {
		value = "3"
	}
	var text strings.Builder
	fmt.Fprintf(&text, "frame2 {}\n%s%s {\n  %s = %s\n", b.name, label, a.name, value)
	for _, other := range b.attrs {
		if fits, ok := fitting(b.name, other); ok && other.name != a.name && !(a.name == "tap" && other.name == "diameter") {
			fmt.Fprintf(&text, "  %s = %s\n", other.name, fits)
		}
	}
	text.WriteString("}\n")
	src := base + strings.TrimPrefix(text.String(), "frame2 {}\n")
	if b.name == "frame" {
		src = strings.Replace(text.String(), "frame2 {}\n", "", 1) + strings.SplitN(base, "\n", 2)[1]
	}
	_, err := Parse("odd.hcl", []byte(src), Options{})
	if err == nil {
		t.Errorf("%s.%s = %s goes unnoticed", b.name, a.name, value)
		return
	}
	d, ok := err.(*Diagnostics)
	if !ok {
		t.Fatal(err)
	}
	line := strings.Count(src[:strings.Index(src, "  "+a.name+" = "+value)], "\n") + 1
	for _, e := range d.Entries() {
		if e.Line == line {
			return
		}
	}
	t.Errorf("%s.%s = %s: nothing is said about that line:\n%s", b.name, a.name, value, formatted(d))
}

// fitting returns a value for an attribute that must be given, or that the block can't do without.
func fitting(block string, a attrSpec) (string, bool) {
	switch block + "." + a.name {
	case "member.left", "member.front", "member.bottom", "row.front", "row.left", "ring.left", "ring.front", "ring.bottom", "posts.left", "posts.front", "posts.bottom":
		return "300", true
	case "member.right", "row.right", "ring.right", "ring.back", "posts.right", "posts.back", "posts.top":
		return "600", true
	case "row.first":
		return "{ mid_z = 500 }", true
	case "row.step":
		return "50", true
	case "bracket.kind":
		return `"cable-clip"`, true
	case "joint.between":
		return "[leg, low]", true
	case "joining.base", "joint.with":
		return `"plate"`, true
	case "drill.diameter":
		return "5", true
	case "drill.face":
		return `"left"`, true
	case "drill.from":
		return `"top"`, true
	case "brace.from":
		return "{ on = leg.front_left, at = 500 }", true
	case "brace.to":
		return "{ on = low.left_rail, at = 300 }", true
	case "doorway.width":
		return "800", true
	case "stock.offcut":
		return "[900]", true
	case "frame.profile":
		return `"30x30-8"`, true
	}
	if !a.required {
		return "", false
	}
	switch a.kind {
	case aNumber, aCount, aPlaces:
		return "100", true
	case aRef:
		return "leg.front_left", true
	case aRefs:
		return "low", true
	}
	return "", false
}
