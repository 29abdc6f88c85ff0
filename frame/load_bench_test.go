package frame

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

// lattice returns a file of n storeys, each a ring of member blocks with formulas.
func lattice(n int) []byte {
	var b strings.Builder
	b.WriteString("frame { profile = \"30x30-8\" }\nparam \"w\" { value = 900 }\nparam \"step\" { value = 100 }\n")
	for i := range n {
		fmt.Fprintf(&b, `
member "front_%[1]d" {
  left   = 0
  right  = w
  front  = 0
  bottom = %[1]d * step
}
member "back_%[1]d" {
  left   = front_%[1]d.left
  right  = front_%[1]d.right
  back   = 700
  bottom = front_%[1]d.bottom
}
member "left_%[1]d" {
  front = front_%[1]d.back
  back  = back_%[1]d.front
  left  = 0
  mid_z = (front_%[1]d.top + back_%[1]d.bottom) / 2
}
member "right_%[1]d" {
  front = front_%[1]d.back
  back  = back_%[1]d.front
  right = w
  mid_z = left_%[1]d.mid_z
}
`, i)
	}
	return []byte(b.String())
}

// placeOnly reads a file without what follows from the places of the members.
func placeOnly(b *testing.B, src []byte) {
	body, diags := parseBody("bench.hcl", src)
	if diags.HasErrors() {
		b.Fatal(diags)
	}
	l := newLoader("bench.hcl", src)
	l.readBlocks(body)
	l.makeSafe(body)
	if err := l.readParams(nil); err != nil {
		b.Fatal(err)
	}
	l.build()
	if len(l.diags) > 0 {
		b.Fatal(l.diags)
	}
}

func BenchmarkPlace(b *testing.B) {
	for _, n := range []int{10, 100, 1000} {
		src := lattice(n)
		b.Run(fmt.Sprintf("members=%d", 4*n), func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				placeOnly(b, src)
			}
		})
	}
}

func BenchmarkParseOnly(b *testing.B) {
	src := lattice(500)
	b.ReportAllocs()
	for range b.N {
		if _, diags := parseBody("bench.hcl", src); diags.HasErrors() {
			b.Fatal(diags)
		}
	}
}

func BenchmarkLoadFoamCutter(b *testing.B) {
	src, err := os.ReadFile("../examples/foam-cutter/frame.hcl")
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for range b.N {
		if _, err := Parse("frame.hcl", src, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
