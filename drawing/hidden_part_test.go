package drawing

import (
	"math"
	"reflect"
	"runtime"
	"testing"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
)

// A view asked for in a box fills it in one direction and keeps within it in the other.
func TestPartPictorialFillsItsBox(t *testing.T) {
	m := boxMesh(geom.Box{High: geom.Vec{X: 30, Y: 30, Z: 200}})
	p := PartPictorial(m, geom.Identity(), Pictorial(), 80, 50, 0)
	if p.Size.X > 80+1e-9 || p.Size.Y > 50+1e-9 || p.Size.X < 80-1e-9 && p.Size.Y < 50-1e-9 {
		t.Errorf("the picture takes %v of 80 × 50", p.Size)
	}
	low, high := geom.Vec2{X: math.Inf(1), Y: math.Inf(1)}, geom.Vec2{}
	for _, l := range p.Lines {
		for _, q := range l.Points {
			low = geom.Vec2{X: min(low.X, q.X), Y: min(low.Y, q.Y)}
			high = geom.Vec2{X: max(high.X, q.X), Y: max(high.Y, q.Y)}
		}
	}
	if low.Len() > 1e-6 || high.Dist(p.Size) > 1e-6 {
		t.Errorf("lines run from %v to %v, want the origin to %v", low, high, p.Size)
	}
}

// Hidden edges make a view whole: of a box all twelve edges are drawn, nine visible and three hidden (elementary geometry).
func TestHiddenEdgesOnRequest(t *testing.T) {
	body := Body{Mesh: boxMesh(geom.Box{High: geom.Vec{X: 30, Y: 50, Z: 200}}), Place: geom.Identity()}
	var length [2]float64
	for _, l := range HiddenLines([]Body{body}, Pictorial(), LineOptions{Hidden: true}) {
		k := 0
		if l.Hidden {
			k = 1
		}
		for i := 1; i < len(l.Points); i++ {
			length[k] += l.Points[i].Dist(l.Points[i-1])
		}
	}
	if length[1] == 0 || math.Abs(length[0]-3*length[1]) > 1e-6 {
		t.Errorf("%.3f mm visible, %.3f mm hidden; want three to one", length[0], length[1])
	}
}

// A simplified bar has the outer size of the true one, and shows slots and holes only where they can be read.
func TestSimpleBodies(t *testing.T) {
	p30, ok := geom.Builtin("30x30-8")
	if !ok {
		t.Fatal("the profile is missing")
	}
	b := frame.Bar{Profile: p30, Length: 400, Cuts: [2]frame.Cut{{}, {SlopeX: -1}}, Holes: []frame.Hole{{Z: 100, Diameter: 9, Bore: 15, BoreDepth: 9}}}
	for _, c := range []struct {
		scale       float64
		slots, rims int
	}{{0.1, 0, 1}, {0.2, 8, 4}, {0.02, 0, 0}} {
		body := simpleBody(&b, geom.Identity(), c.scale, slotSquare)
		slots, rims := 0, 0
		for _, l := range body.Drawn {
			if l.Kind == Slotline {
				slots++
			} else {
				rims++
			}
		}
		if slots != c.slots || rims != c.rims {
			t.Errorf("1:%g shows %d slot edges and %d rims, want %d and %d", 1/c.scale, slots, rims, c.slots, c.rims)
		}
		box := geom.EmptyBox()
		for _, p := range body.Mesh.Points {
			box = box.Extend(geom.Vec{X: float64(p[0]), Y: float64(p[1]), Z: float64(p[2])})
		}
		if s := box.Size(); s != (geom.Vec{X: 30, Y: 30, Z: 400}) {
			t.Errorf("the box is %v", s)
		}
	}
}

// The lines do not depend on how many workers find them.
func TestLinesDoNotDependOnWorkers(t *testing.T) {
	_, scene := load(t, cutter)
	var bodies []Body
	for _, it := range scene.Items {
		bodies = append(bodies, Body{Mesh: scene.Shapes[it.Shape].Mesh, Place: it.Place})
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	one := HiddenLines(bodies, Pictorial(), LineOptions{Scale: 0.5})
	runtime.GOMAXPROCS(5)
	if five := HiddenLines(bodies, Pictorial(), LineOptions{Scale: 0.5}); len(one) == 0 || !reflect.DeepEqual(one, five) {
		t.Error("one worker and five find different lines")
	}
}

// No bodies, and a mesh without triangles, give no lines and no panic.
func TestEmptyBodies(t *testing.T) {
	if l := HiddenLines(nil, Pictorial(), LineOptions{}); len(l) != 0 {
		t.Errorf("nothing draws %v", l)
	}
	if l := HiddenLines([]Body{{Mesh: &mesh.Mesh{}, Place: geom.Identity()}}, Pictorial(), LineOptions{Hidden: true}); len(l) != 0 {
		t.Errorf("an empty mesh draws %v", l)
	}
}
