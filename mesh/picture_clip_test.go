package mesh

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"barwright/geom"
)

// TestSheetHidesWhatIsBehind draws a sheet, in two and in many triangles, before something red: nothing red may show through the borders of
// triangles, wherever they and the tiles of the picture lie.
func TestSheetHidesWhatIsBehind(t *testing.T) {
	var holes []PlateHole
	for k := range 24 {
		holes = append(holes, PlateHole{geom.Vec2{X: 20 + 68*float64(k%12), Y: 10 + 580*float64(k/12)}, 6})
	}
	red := mustPlate(t, rectangle(560, 360), nil, 4, DefaultTolerance)
	stand := geom.Motion{EX: geom.Vec{X: 1}, EY: geom.Vec{Z: 1}, EZ: geom.Vec{Y: -1}}
	behind := stand
	behind.T = geom.Vec{X: 120, Y: 60, Z: 120}
	drilled := mustPlate(t, rectangle(800, 600), holes, 4, DefaultTolerance)
	for i := range drilled.Surfaces {
		drilled.Surfaces[i] = Fitting // else the walls of holes are orange
	}
	for name, sheet := range map[string]*Mesh{"plain": mustPlate(t, rectangle(800, 600), nil, 4, DefaultTolerance), "with holes": drilled} {
		s := &Scene{
			Shapes: []*Shape{{Name: "sheet", Mesh: sheet}, {Name: "red", Mesh: red}},
			Items:  []Item{{Name: "sheet", Shape: 0, Place: stand, Kind: FittingItem}, {Name: "red", Shape: 1, Place: behind, Kind: FittingItem}},
		}
		for _, perspective := range []bool{false, true} {
			for i := range 4 {
				o := PictureOptions{Width: 480 + 50*i, Height: 360 + 40*i, View: fmt.Sprintf("%d,%d", 9*i-20, 6*i-10), Perspective: perspective, Highlight: []string{"red"}}
				img := picture(t, s, o)
				for k := 0; k < len(img.Pix); k += 4 {
					// The sheet is grey with a little blue.
					if r, b := int(img.Pix[k]), int(img.Pix[k+2]); r > b+2 {
						t.Fatalf("%s, view %s, %d × %d: pixel %d, %d is %v", name, o.View, o.Width, o.Height, k/4%o.Width, k/4/o.Width, img.Pix[k:k+3])
					}
				}
			}
		}
	}
}

// TestClipKeepsArea clips random triangles: what is left has the area that the triangle and the square share, by counting points on a fine
// lattice, keeps its sense, and lies on the triangle's plane.
func TestClipKeepsArea(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 5))
	var c clipper
	const low, high, cells = 10.0, 50.0, 200
	for n := range 300 {
		var tri [3]spot
		for i := range tri {
			tri[i].x, tri[i].y = 60*r.Float64(), 60*r.Float64()
			if n%3 == 0 { // far outside
				tri[i].x, tri[i].y = 5*(tri[i].x-30), 5*(tri[i].y-30)
			}
			tri[i].z = 0.2 + 0.003*tri[i].x - 0.001*tri[i].y
			tri[i].colour.R = 0.5 - 0.002*tri[i].x + 0.001*tri[i].y
		}
		area := func(p []spot) float64 {
			sum := 0.0
			for i, a := range p {
				b := p[(i+1)%len(p)]
				sum += (a.x*b.y - a.y*b.x) / 2
			}
			return sum
		}
		whole := area(tri[:])
		inside := func(x, y float64) bool {
			for i := range tri {
				a, b := tri[i], tri[(i+1)%3]
				if ((b.x-a.x)*(y-a.y)-(b.y-a.y)*(x-a.x))*whole < 0 {
					return false
				}
			}
			return true
		}
		count := 0
		const step = (high - low) / cells
		for i := range cells * cells {
			if inside(low+step*(float64(i%cells)+0.5), low+step*(float64(i/cells)+0.5)) {
				count++
			}
		}
		out := c.clip(tri, low, high)
		want := math.Copysign(float64(count)*step*step, whole)
		// The border of at most seven sides crosses some cells.
		if got := area(out); math.Abs(got-want) > 8*cells*step*step/4 || got*whole < 0 {
			t.Errorf("triangle %d: area %.3f, want %.3f", n, got, want)
		}
		for _, s := range out {
			if s.x < low-1e-9 || s.x > high+1e-9 || s.y < low-1e-9 || s.y > high+1e-9 || math.Abs(s.z-(0.2+0.003*s.x-0.001*s.y)) > 1e-12 || math.Abs(s.colour.R-(0.5-0.002*s.x+0.001*s.y)) > 1e-12 {
				t.Errorf("triangle %d: corner %+v", n, s)
			}
		}
	}
}
