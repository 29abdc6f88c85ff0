package assembly

import (
	"strings"
	"testing"

	"barwright/frame"
)

// Screws on printed parts get a quarter of the torque of the same screw under metal, as plastic creeps (common practice, no source).
func TestTorqueOnPlastic(t *testing.T) {
	f, err := frame.Parse("p.hcl", []byte(`frame {
  profile = "30x30-8"
  joining = "angle-bracket"
}
member "long" {
  left   = 0
  right  = 800
  front  = 0
  bottom = 0
}
member "butt" {
  mid_x  = 400
  front  = long.back
  length = 500
  along  = "y"
  bottom = 0
}`), frame.Options{})
	if err != nil {
		t.Fatal(err)
	}
	s := f.Joints[0].Fasteners[0]
	metal, ok := TorqueFor(&s)
	s.Printed = true
	plastic, ok2 := TorqueFor(&s)
	if !ok || !ok2 {
		t.Fatal("no torque")
	}
	if r := plastic.Preload / metal.Preload; r < 0.2499 || r > 0.2501 || plastic.NM >= metal.NM || !strings.Contains(plastic.Limit, "plastic") {
		t.Errorf("plastic %.0f N, %g N·m (%s); metal %.0f N, %g N·m", plastic.Preload, plastic.NM, plastic.Limit, metal.Preload, metal.NM)
	}
}
