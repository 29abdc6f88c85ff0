package assembly_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"barwright/assembly"
	"barwright/frame"
)

func parse(t testing.TB, text string) *frame.Frame {
	t.Helper()
	f, err := frame.Parse("test.hcl", []byte(text), frame.Options{})
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return f
}

func plan(t testing.TB, f *frame.Frame) *assembly.Plan {
	t.Helper()
	p, err := assembly.New(f, assembly.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// sound fails unless a plan exists and passes the replayer.
func sound(t testing.TB, p *assembly.Plan) {
	t.Helper()
	if p.Locked != nil {
		t.Errorf("locked: %v", p.Locked)
		return
	}
	for i, f := range replay(p).faults {
		if i == 5 {
			t.Errorf("… and more")
			break
		}
		t.Errorf("%s", f)
	}
}

func TestExamples(t *testing.T) {
	files, err := filepath.Glob("../examples/*/frame.hcl")
	if err != nil || len(files) < 2 {
		t.Fatalf("%d examples found (%v)", len(files), err)
	}
	for _, path := range files {
		t.Run(filepath.Base(filepath.Dir(path)), func(t *testing.T) {
			f, err := frame.Load(path, frame.Options{})
			if err != nil {
				t.Fatal(err)
			}
			sound(t, plan(t, f))
		})
	}
}

// generated returns the text of a frame of a kind: racks, boxes, nested rings, lattices.
func generated(kind string, r *rand.Rand) string {
	var b strings.Builder
	profile := []string{"20x20-6", "30x30-8", "40x40-10"}[r.IntN(3)]
	pitch := map[string]int{"20x20-6": 20, "30x30-8": 30, "40x40-10": 40}[profile]
	joining := []string{"end-screw", "end-screw", "end-screw", "through-screw", "angle-bracket"}[r.IntN(5)]
	fmt.Fprintf(&b, "frame {\n profile = %q\n joining = %q\n}\n", profile, joining)
	w, d, h := 400+10*r.IntN(60), 300+10*r.IntN(50), 500+10*r.IntN(120)
	switch kind {
	case "rack":
		fmt.Fprintf(&b, "posts \"leg\" {\n left = 0\n right = %d\n front = 0\n back = %d\n bottom = 0\n top = %d\n}\n", w, d, h)
		n := 2 + r.IntN(5)
		for k := range n {
			fmt.Fprintf(&b, "ring \"shelf%d\" {\n within = leg\n bottom = %d\n}\n", k, 60+k*(h-120-pitch)/n)
			if r.IntN(2) == 0 {
				fmt.Fprintf(&b, "row \"slat%d\" {\n front = shelf%d.front_rail.back\n back = shelf%d.back_rail.front\n bottom = shelf%d.bottom\n count = %d\n first = { mid_x = %d }\n last = { mid_x = %d }\n}\n",
					k, k, k, k, 2+r.IntN(4), 3*pitch, w-3*pitch)
			}
		}
	case "box":
		fmt.Fprintf(&b, "posts \"leg\" {\n left = 0\n right = %d\n front = 0\n back = %d\n bottom = 0\n top = %d\n}\n", w, d, h)
		fmt.Fprintf(&b, "ring \"base\" {\n within = leg\n bottom = %d\n}\n", r.IntN(2)*60)
		corners := []string{"x-through", "y-through", "pinwheel"}[r.IntN(3)]
		if r.IntN(3) > 0 {
			fmt.Fprintf(&b, "ring \"crown\" {\n left = 0\n right = %d\n front = 0\n back = %d\n bottom = leg.top\n corners = %q\n}\n", w, d, corners)
		} else {
			fmt.Fprintf(&b, "ring \"crown\" {\n within = leg\n top = leg.top\n}\n")
		}
		if r.IntN(2) == 0 {
			fmt.Fprintf(&b, "member \"beam\" {\n left = base.left_rail.right\n right = base.right_rail.left\n mid_y = %d\n bottom = base.bottom\n}\n", d/2)
		}
		if r.IntN(3) == 0 {
			fmt.Fprintf(&b, "brace \"stay\" {\n from = { on = leg.front_left, at = %d }\n to = { on = base.left_rail, at = %d }\n}\n", h/2+60, d/3)
		}
	case "nested":
		levels := 2 + r.IntN(3)
		lo := 0
		for k := range levels {
			corners := []string{"x-through", "y-through", "pinwheel"}[r.IntN(3)]
			fmt.Fprintf(&b, "ring \"ring%d\" {\n left = %d\n right = %d\n front = %d\n back = %d\n bottom = 0\n corners = %q\n}\n", k, lo, w+400-lo, lo, d+400-lo, corners)
			if k > 0 {
				for s, side := range []string{"left", "right"} {
					from, to := fmt.Sprintf("ring%d.left_rail.right", k-1), fmt.Sprintf("ring%d.left_rail.left", k)
					if s == 1 {
						from, to = fmt.Sprintf("ring%d.right_rail.right", k), fmt.Sprintf("ring%d.right_rail.left", k-1)
					}
					fmt.Fprintf(&b, "member \"%s%d\" {\n left = %s\n right = %s\n mid_y = %d\n bottom = 0\n}\n", side, k, from, to, (d+400)/2)
				}
			}
			lo += 60 + pitch
		}
	case "lattice":
		nx, ny := 2+r.IntN(3), 2+r.IntN(3)
		most := 300
		perLevel := (nx-1)*ny + nx*(ny-1)
		nz := 2 + r.IntN(3)
		if r.IntN(12) == 0 {
			nz = (most - nx*ny) / perLevel
		}
		nz = min(nz, (most-nx*ny)/perLevel)
		step := 250
		for i := range nx {
			for j := range ny {
				fmt.Fprintf(&b, "member \"p_%d_%d\" {\n left = %d\n front = %d\n bottom = 0\n top = %d\n}\n", i, j, i*step, j*step, nz*140+80)
			}
		}
		for k := range nz {
			for i := range nx {
				for j := range ny {
					if i+1 < nx {
						fmt.Fprintf(&b, "member \"x_%d_%d_%d\" {\n left = p_%d_%d.right\n right = p_%d_%d.left\n front = %d\n bottom = %d\n}\n", i, j, k, i, j, i+1, j, j*step, 40+k*140)
					}
					if j+1 < ny {
						fmt.Fprintf(&b, "member \"y_%d_%d_%d\" {\n front = p_%d_%d.back\n back = p_%d_%d.front\n left = %d\n bottom = %d\n}\n", i, j, k, i, j, i, j+1, i*step, 40+k*140+r.IntN(2)*pitch)
					}
				}
			}
		}
	}
	return b.String()
}

func TestGenerated(t *testing.T) {
	count := 0
	for _, kind := range []string{"rack", "box", "nested", "lattice"} {
		for seed := range 50 {
			count++
			t.Run(fmt.Sprintf("%s-%d", kind, seed), func(t *testing.T) {
				text := generated(kind, rand.New(rand.NewPCG(uint64(seed), uint64(len(kind)))))
				f := parse(t, text)
				p := plan(t, f)
				sound(t, p)
				if t.Failed() && os.Getenv("SHOW") != "" {
					t.Log(text)
				}
			})
		}
	}
	if count != 200 {
		t.Fatalf("%d frames", count)
	}
}
