package job

import (
	"testing"

	"barwright/frame"
)

// BenchmarkPrintParts makes all printed parts of the foam cutter and of the curing cabinet.
func BenchmarkPrintParts(b *testing.B) {
	for _, name := range []string{"foam-cutter", "curing-cabinet"} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				b.StopTimer()
				f, err := frame.Load("../examples/"+name+"/frame.hcl", frame.Options{})
				if err != nil {
					b.Fatal(err)
				}
				b.StartTimer()
				if _, err := printParts(f); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
