package check

import (
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// BenchmarkFoamCutter checks the example.
func BenchmarkFoamCutter(b *testing.B) {
	src, err := os.ReadFile("../examples/foam-cutter/frame.hcl")
	if err != nil {
		b.Fatal(err)
	}
	run(b, string(src))
}

// lattice returns a rack of nx × ny posts with rails at levels between all neighbours, on angle brackets.
func lattice(nx, ny, levels int) string {
	var s strings.Builder
	s.WriteString("frame {\n  profile = \"30x30-8\"\n  joining = \"angle-bracket\"\n}\n")
	const p = 300
	for i := range nx {
		for j := range ny {
			fmt.Fprintf(&s, "member \"p%d_%d\" {\n  left = %d\n  front = %d\n  bottom = 0\n  top = %d\n}\n", i, j, i*p, j*p, levels*p+30)
		}
	}
	for i := range nx {
		for j := range ny {
			if i+1 < nx {
				fmt.Fprintf(&s, "row \"x%d_%d\" {\n  count = %d\n  left = p%d_%d.right\n  right = p%d_%d.left\n  front = %d\n  first = { bottom = 100 }\n  step = %d\n}\n", i, j, levels, i, j, i+1, j, j*p, p)
			}
			if j+1 < ny {
				fmt.Fprintf(&s, "row \"y%d_%d\" {\n  count = %d\n  front = p%d_%d.back\n  back = p%d_%d.front\n  left = %d\n  first = { bottom = 100 }\n  step = %d\n}\n", i, j, levels, i, j, i, j+1, i*p, p)
			}
		}
	}
	return s.String()
}

func run(b *testing.B, src string) {
	b.Helper()
	f, err := frame.Parse("bench.hcl", []byte(src), frame.Options{})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		Run(f)
		f.Rectangles()
		f.Balance()
	}
	b.ReportMetric(float64(len(f.Members)), "members")
}

// BenchmarkLattice checks lattices of about 500, 1000, 2000 and 4000 members.
func BenchmarkLattice(b *testing.B) {
	for _, n := range [][3]int{{6, 6, 8}, {8, 8, 8}, {11, 11, 9}, {15, 15, 9}} {
		b.Run(fmt.Sprintf("%dx%dx%d", n[0], n[1], n[2]), func(b *testing.B) { run(b, lattice(n[0], n[1], n[2])) })
	}
}

// BenchmarkOpening searches all orientations of a box and of a lump of many corners, that are a little too big for an opening.
func BenchmarkOpening(b *testing.B) {
	r := rand.New(rand.NewPCG(15, 16))
	var lump []geom.Vec
	for range 40 {
		lump = append(lump, geom.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}.Unit().Scale(600))
	}
	for _, c := range []struct {
		name    string
		corners []geom.Vec
		w, h    float64
	}{{"box", boxCorners(900, 850, 860), 849, 1980}, {"tilted box", boxCorners(2000, 200, 2000), 1980, 700}, {"lump", lump, 1020, 1030}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				p := through(c.corners, c.w, c.h)
				b.ReportMetric(p.over, "mm-over")
				b.ReportMetric(p.over-p.bound, "mm-unproven")
			}
		})
	}
}

// BenchmarkCorner takes an outline round a corner that is a little too narrow.
func BenchmarkCorner(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		roundCorner(rectangle(1800, 400), 900, 900)
	}
}
