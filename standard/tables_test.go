package standard

import (
	"io/fs"
	"strings"
	"testing"
)

// readers names, for every table, something that reads all of its rows.
var readers = map[string]func() int{
	"alloy_strengths.csv":      func() int { return len(alloyStrengths()) },
	"button_head_screws.csv":   func() int { return len(buttonHeadScrews()) },
	"clearance_holes.csv":      func() int { return len(clearances()) },
	"counterbores.csv":         func() int { return len(counterbores()) },
	"countersunk_screws.csv":   func() int { return len(countersunkScrews()) },
	"doorways.csv":             func() int { return len(passages()) },
	"engagement.csv":           func() int { return len(engagements()) },
	"extrusion_tolerances.csv": func() int { return len(extrusionRows()) },
	"general_tolerances.csv":   func() int { return len(toleranceRows()) },
	"hex_keys.csv":             func() int { return len(hexKeys()) },
	"hex_nuts.csv":             func() int { return len(hexNuts()) },
	"lettering.csv":            func() int { return len(letteringHeights()) },
	"line_groups.csv":          func() int { return len(lineGroups()) },
	"materials.csv":            func() int { return len(materials()) },
	"printing.csv":             func() int { return len(printRules()) },
	"safety.csv":               func() int { return len(safetyFigures()) },
	"scales.csv":               func() int { return len(scales()) },
	"screw_lengths.csv":        func() int { return len(screwLengths()) },
	"set_screws.csv":           func() int { return len(setScrews()) },
	"sheets.csv":               func() int { return len(sheets()) },
	"socket_cap_screws.csv":    func() int { return len(socketCapScrews()) },
	"threads.csv":              func() int { return len(threads()) },
	"title_fields.csv":         func() int { return len(titleFields()) },
	"torque.csv":               func() int { return len(torqueRows()) },
	"washers.csv":              func() int { return len(washers()) },
}

// TestEveryTable reads every embedded file and checks the head that says where
// its figures come from, and the source and confidence of each row.
func TestEveryTable(t *testing.T) {
	names, err := fs.Glob(files, "*.csv")
	if err != nil || len(names) != len(readers) {
		t.Fatalf("%d tables embedded, %d known here, error %v", len(names), len(readers), err)
	}
	for _, name := range names {
		t.Run(name, func(t *testing.T) {
			checkHead(t, name)
			records := readTable(name)
			read, ok := readers[name]
			if !ok || read() != len(records) || len(records) < 5 {
				t.Fatalf("known %v, %d records", ok, len(records))
			}
			seen := map[string]bool{}
			for _, r := range records {
				if source := r.source(); len(source.Text) < 5 {
					t.Errorf("line %d: no source", r.line)
				}
				key := strings.Join(r.cells, "|")
				if seen[key] {
					t.Errorf("line %d: stands twice", r.line)
				}
				seen[key] = true
			}
		})
	}
}

func checkHead(t *testing.T, name string) {
	t.Helper()
	text, err := files.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	head, _, _ := strings.Cut(string(text), "source,confidence\n")
	if !strings.HasPrefix(head, "# Standard: ") {
		t.Error("the first line does not name the standard")
	}
	for _, want := range []string{"\n# Unit: ", "\n# Checked: ", "\n# checked = "} {
		if !strings.Contains(head, want) {
			t.Errorf("the head lacks %q", want)
		}
	}
	if !strings.HasPrefix(head, "# Standard: none") && !strings.Contains(head, "\n# Edition and table: ") &&
		name != "safety.csv" && name != "doorways.csv" {
		t.Error("the head names no edition and table")
	}
}

// TestBrokenTablesPanic makes sure that a slip in a table cannot pass unseen.
func TestBrokenTablesPanic(t *testing.T) {
	r := record{file: "x.csv", line: 3, column: []string{"d", "confidence"}, cells: []string{"8,5", "sure"}}
	for name, broken := range map[string]func(){
		"no such file":   func() { readTable("none.csv") },
		"no such column": func() { r.text("pitch") },
		"not a number":   func() { r.float("d") },
		"not in a list":  func() { r.floats("d") },
		"no confidence":  func() { r.checked("confidence") },
	} {
		t.Run(name, func(t *testing.T) {
			defer func() {
				message, _ := recover().(string)
				if !strings.HasPrefix(message, "standard: ") {
					t.Errorf("got %q", message)
				}
			}()
			broken()
			t.Error("did not panic")
		})
	}
}
