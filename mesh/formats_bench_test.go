package mesh

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"runtime"
	"runtime/debug"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// torus is a closed mesh of 2·n·m triangles. With m = 8 it has creases, at which GLB has to hold points twice.
func torus(n, m int, size float64) *Mesh {
	out := &Mesh{}
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		for j := range m {
			t, d := math.Sincos(2 * math.Pi * float64(j) / float64(m))
			r := size * (3 + d)
			out.Points = append(out.Points, [3]float32{float32(r * c), float32(r * s), float32(size * t)})
			a, b := uint32(i*m+j), uint32(i*m+(j+1)%m)
			e, f := uint32((i+1)%n*m+j), uint32((i+1)%n*m+(j+1)%m)
			out.Triangles = append(out.Triangles, [3]uint32{a, e, b}, [3]uint32{b, e, f})
		}
	}
	out.Surfaces = make([]Surface, len(out.Triangles))
	return out
}

// millionScene has a million triangles in 20 different shapes, each placed once: the worst case for what is held.
func millionScene() *Scene {
	s := &Scene{Title: "A million"}
	for i := range 20 {
		s.Shapes = append(s.Shapes, &Shape{Name: fmt.Sprint("part ", i), Mesh: torus(3125, 8, 10+float64(i))})
		s.Items = append(s.Items, Item{Name: fmt.Sprint("bar ", i), Shape: i, Place: geom.Shift(geom.Vec{X: 200 * float64(i)})})
	}
	return s
}

// watcher counts bytes and looks at the heap as they come.
type watcher struct {
	bytes, next int
	peak        uint64
}

func (w *watcher) Write(b []byte) (int, error) {
	w.bytes += len(b)
	if w.bytes >= w.next {
		w.next = w.bytes + 1<<20
		w.look()
	}
	return len(b), nil
}

func (w *watcher) look() {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	w.peak = max(w.peak, m.HeapInuse)
}

// TestMillionTrianglesFitInMemory asks that no writer needs more than 200 MB for a million triangles, the scene included.
func TestMillionTrianglesFitInMemory(t *testing.T) {
	s := millionScene()
	if s.Triangles() != 1_000_000 {
		t.Fatalf("%d triangles", s.Triangles())
	}
	// With the limit the collector works as hard as it must to stay under it, and what is held beyond it shows.
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(180 << 20))
	for _, f := range formats {
		runtime.GC()
		var w watcher
		if err := f.write(&w, s); err != nil {
			t.Fatal(err)
		}
		w.look()
		t.Logf("%s: %d MB written, heap %d MB", f.name, w.bytes>>20, w.peak>>20)
		if w.peak > 200e6 {
			t.Errorf("%s: the heap grew to %d MB", f.name, w.peak/1e6)
		}
	}
	runtime.KeepAlive(s)
}

// bigFrame is a frame of 2,000 members of 20 parts, drilled differently.
func bigFrame(tb testing.TB) *frame.Frame {
	tb.Helper()
	p, ok := geom.Builtin("30x30-8")
	if !ok {
		tb.Fatal("no profile 30x30-8")
	}
	f := &frame.Frame{Title: "Big"}
	for i := range 20 {
		q := &frame.Part{Mark: fmt.Sprint("A", i+1), Bar: frame.Bar{Profile: p, Length: 1000 - 10*float64(i)}}
		for k := range 3 {
			for _, side := range []geom.Side{geom.Right, geom.Top} {
				q.Bar.Holes = append(q.Bar.Holes, frame.Hole{Side: side, Z: 100 + 250*float64(k) + 20*float64(side) + float64(i), Diameter: 7})
			}
		}
		f.Parts = append(f.Parts, q)
	}
	for i := range 2000 {
		q := f.Parts[i%20]
		m := &frame.Member{Name: fmt.Sprintf("row[%d]", i), Part: q, Profile: p, Bar: q.Bar, Place: geom.Shift(geom.Vec{X: 50 * float64(i%50), Y: 50 * float64(i/50)})}
		q.Members = append(q.Members, m)
		f.Members = append(f.Members, m)
	}
	return f
}

func TestBigFrameGLBIsSmall(t *testing.T) {
	s, err := NewScene(bigFrame(t), DefaultTolerance)
	if err != nil {
		t.Fatal(err)
	}
	var w watcher
	if err := WriteGLB(&w, s); err != nil {
		t.Fatal(err)
	}
	if w.bytes > 5e6 {
		t.Errorf("2,000 members of 20 parts take %d bytes, more than 5 MB", w.bytes)
	}
}

func BenchmarkBigFrameGLB(b *testing.B) {
	f := bigFrame(b)
	b.ReportAllocs()
	for b.Loop() {
		s, err := NewScene(f, DefaultTolerance)
		if err != nil {
			b.Fatal(err)
		}
		if err := WriteGLB(io.Discard, s); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFormats(b *testing.B) {
	s := millionScene()
	for _, f := range formats {
		b.Run(f.name, func(b *testing.B) {
			var out bytes.Buffer
			if err := f.write(&out, s); err != nil {
				b.Fatal(err)
			}
			b.SetBytes(int64(out.Len()))
			b.ReportAllocs()
			for b.Loop() {
				out.Reset()
				if err := f.write(&out, s); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
