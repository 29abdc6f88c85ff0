package drawing

import (
	"strings"
	"testing"

	"barwright/geom"
)

// A sheet for each profile asks for the sizes that decide, and says with which the drawings were made. The figures are those of the
// design's table of profiles.
func TestMeasureSheets(t *testing.T) {
	var profiles []*geom.Profile
	for _, name := range geom.BuiltinNames() {
		p, ok := geom.Builtin(name)
		if !ok {
			t.Fatal(name)
		}
		profiles = append(profiles, p)
	}
	for _, o := range []Options{{}, {Units: "inch"}, {NotForManufacture: true}} {
		sheets, err := MeasureSheets(profiles, TitleBlock{Title: "Test", Fingerprint: "01234567"}, o)
		if err != nil {
			t.Fatal(err)
		}
		if len(sheets) != len(profiles) {
			t.Fatalf("%d sheets for %d profiles", len(sheets), len(profiles))
		}
		names := map[string]bool{}
		for i, s := range sheets {
			for _, c := range s.Verify() {
				t.Errorf("%s: %v", profiles[i].Name, c)
			}
			if names[s.Name] {
				t.Errorf("two sheets are called %s", s.Name)
			}
			names[s.Name] = true
			if len(s.Texts(Dimension)) == 0 {
				t.Errorf("%s: %s at %v has no sizes on the section", profiles[i].Name, s.Size.Name, o)
			}
			if !strings.Contains(allText(s), "01234567") || !strings.Contains(allText(s), profiles[i].Name) {
				t.Errorf("%s lacks the fingerprint or its profile", s.Name)
			}
		}
	}
	p, _ := geom.Builtin("30x30-8")
	sheets, err := MeasureSheets([]*geom.Profile{p}, TitleBlock{}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	table := ""
	for _, x := range sheets[0].Texts(Table) {
		table += x.String + "|"
	}
	for _, want := range []string{"Outside size, both ways|30|", "Slot opening between the lips|8.2|", "Lip thickness|2|",
		"Cavity, widest place behind the lips|16.5|", "Slot depth, face to floor|9|", "Core bore, diameter|6.8|"} {
		if !strings.Contains(table, want) {
			t.Errorf("the table lacks %q: %s", want, table)
		}
	}
}
