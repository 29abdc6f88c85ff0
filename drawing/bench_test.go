package drawing

import (
	"io"
	"testing"

	"barwright/frame"
)

// benchFrame returns a frame of n parts.
func benchFrame(b *testing.B, n int) *frame.Frame {
	f := workshopFrame(b)
	parts := f.Parts
	f.Parts = nil
	for i := range n {
		f.Parts = append(f.Parts, parts[i%len(parts)])
	}
	return f
}

func BenchmarkPartSheets10(b *testing.B) {
	f := benchFrame(b, 10)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := PartSheets(f, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWritePDF10(b *testing.B) {
	sheets, err := PartSheets(benchFrame(b, 10), Options{})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if err := WritePDF(io.Discard, &Book{Title: "t", Sheets: sheets}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWriteSVG10(b *testing.B) {
	sheets, err := PartSheets(benchFrame(b, 10), Options{})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		for _, s := range sheets {
			if err := WriteSVG(io.Discard, s, true); err != nil {
				b.Fatal(err)
			}
		}
	}
}
