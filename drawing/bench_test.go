package drawing

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"testing"

	"barwright/frame"
	"barwright/mesh"
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

// drawAll makes all sheets of a frame and writes them as PDF and SVG, as draw does, and returns the bytes of the PDF and its pages.
func drawAll(b *testing.B, f *frame.Frame) (size, pages int) {
	scene, err := mesh.NewScene(f, mesh.DefaultTolerance)
	if err != nil {
		b.Fatal(err)
	}
	all, _ := bookOf(b, f, scene, Options{})
	var out bytes.Buffer
	if err := WritePDF(&out, &Book{Title: f.Title, Sheets: all}); err != nil {
		b.Fatal(err)
	}
	for _, s := range all {
		if err := WriteSVG(io.Discard, s, true); err != nil {
			b.Fatal(err)
		}
	}
	return out.Len(), len(all)
}

func benchDraw(b *testing.B, text string) {
	f, err := frame.Parse("frame.hcl", []byte(text), frame.Options{})
	if err != nil {
		b.Fatal(err)
	}
	size, pages := 0, 0
	b.ReportAllocs()
	for b.Loop() {
		size, pages = drawAll(b, f)
	}
	b.ReportMetric(float64(size)/float64(pages), "bytes/page")
	b.ReportMetric(float64(len(f.Parts)), "parts")
}

// BenchmarkDrawFoamCutter is the whole of draw for the example: under 1 s is asked.
func BenchmarkDrawFoamCutter(b *testing.B) { benchDraw(b, realFrames(b)["foam-cutter"]) }

// BenchmarkDraw200Parts is the whole of draw for a frame of 200 bars, no two alike: under 10 s is asked.
func BenchmarkDraw200Parts(b *testing.B) {
	var text strings.Builder
	text.WriteString(head("Many parts", "30x30-8"))
	for i := range 66 {
		x, w, d, h := i%11*1500, 500+7*i, 300+5*i, 400+3*i
		y := i / 11 * 1200
		fmt.Fprintf(&text, "member \"post%d\" {\n  left = %d\n  front = %d\n  bottom = 0\n  top = %d\n}\n", i, x, y, h)
		fmt.Fprintf(&text, "member \"rail%d\" {\n  left = post%[1]d.right\n  right = post%[1]d.right + %d\n  front = %d\n  bottom = 60\n}\n", i, w, y)
		fmt.Fprintf(&text, "member \"side%d\" {\n  left = %d\n  front = post%[1]d.back\n  back = post%[1]d.back + %[3]d\n  bottom = 100\n}\n", i, x, d)
	}
	for i := range 2 {
		fmt.Fprintf(&text, "member \"more%d\" {\n  along = \"x\"\n  left = %d\n  length = %d\n  front = 9000\n  bottom = 0\n}\n", i, i*3000, 1900+i)
	}
	benchDraw(b, text.String())
}
