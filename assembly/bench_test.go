package assembly_test

import (
	"fmt"
	"strings"
	"testing"

	"barwright/assembly"
	"barwright/frame"
)

// latticeText returns a lattice of 4 × 4 posts and levels of 24 rails.
func latticeText(levels int) string {
	var b strings.Builder
	b.WriteString("frame {\n profile = \"30x30-8\"\n joining = \"end-screw\"\n}\n")
	for i := range 4 {
		for j := range 4 {
			fmt.Fprintf(&b, "member \"p_%d_%d\" {\n left = %d\n front = %d\n bottom = 0\n top = %d\n}\n", i, j, i*250, j*250, levels*140+80)
			for k := range levels {
				if i+1 < 4 {
					fmt.Fprintf(&b, "member \"x_%d_%d_%d\" {\n left = p_%d_%d.right\n right = p_%d_%d.left\n front = %d\n bottom = %d\n}\n", i, j, k, i, j, i+1, j, j*250, 40+k*140)
				}
				if j+1 < 4 {
					fmt.Fprintf(&b, "member \"y_%d_%d_%d\" {\n front = p_%d_%d.back\n back = p_%d_%d.front\n left = %d\n bottom = %d\n}\n", i, j, k, i, j, i, j+1, i*250, 40+k*140)
				}
			}
		}
	}
	return b.String()
}

func BenchmarkFoamCutter(b *testing.B) {
	f, err := frame.Load("../examples/foam-cutter/frame.hcl", frame.Options{})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := assembly.New(f, assembly.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLattice300(b *testing.B) {
	f := parse(b, latticeText(12)) // 304 bars
	b.ReportAllocs()
	for b.Loop() {
		if _, err := assembly.New(f, assembly.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
