package frame

import (
	"strings"
	"testing"
)

const assemblyFrame = `
frame { profile = "30x30-8" }
posts "leg" {
  left   = 0
  right  = 600
  front  = 0
  back   = 450
  bottom = 0
  top    = 700
}
member "rail" {
  left  = leg.front_left.right
  right = leg.front_right.left
  front = 0
  mid_z = 400
}
group "pair" { members = [leg.back_left, leg.back_right] }
`

func TestAssemblyBlock(t *testing.T) {
	f, err := Parse("a.hcl", []byte(assemblyFrame+"assembly {\n order = [leg.front_left, rail, pair]\n lift = 12\n nuts = \"drop-in\"\n}\n"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	a := f.Assembly
	if a == nil || len(a.Order) != 3 || a.Lift != 12 || !a.DropIn {
		t.Fatalf("read %+v", a)
	}
	if len(a.Order[2]) != 2 || a.Order[2][0].Name != "leg.back_left" || a.Order[1][0].Name != "rail" {
		t.Errorf("entries %v", a.Order)
	}
	f, err = Parse("a.hcl", []byte(assemblyFrame), Options{})
	if err != nil || f.Assembly != nil {
		t.Errorf("without a block: %+v, %v", f.Assembly, err)
	}
}

func TestAssemblyBlockErrors(t *testing.T) {
	for _, c := range []struct{ block, want string }{
		{"assembly { order = [rail, rail] }", "rail is named twice"},
		{"assembly { order = [leg, leg.front_left] }", "leg.front_left is named twice"},
		{"assembly { order = [] }", "order names nothing"},
		{"assembly { order = [rial] }", `There is no "rial"`},
		{"assembly { lift = 0 }", "lift"},
		{"assembly { nuts = \"square\" }", `nuts can't be "square"`},
		{"assembly { }\nassembly { }", "A second assembly block"},
	} {
		_, err := Parse("a.hcl", []byte(assemblyFrame+c.block+"\n"), Options{})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v; want %q", c.block, err, c.want)
		}
	}
}
