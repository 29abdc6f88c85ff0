package statics

import (
	"bufio"
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"barwright/geom"
	"barwright/internal/outside"
)

// solidBox returns a box frame of solid square bars 30 × 30 with stiff corners, on clamped feet.
func solidBox() *Model {
	a := 30.0
	s := &Section{Area: a * a, Iy: a * a * a * a / 12, Iz: a * a * a * a / 12, J: 0.140577 * a * a * a * a, ShearY: 5. / 6 * a * a, ShearZ: 5. / 6 * a * a}
	mt := &Material{E: 70000, G: 70000 / 2.66, Density: 2.7e-6}
	m := box(geom.Identity(), math.Inf(1))
	for i := range m.Beams {
		b := &m.Beams[i]
		b.Section, b.Material, b.Offset = s, mt, [2]geom.Vec{}
	}
	for i := range m.Supports {
		m.Supports[i].Fixed = [6]bool{true, true, true, true, true, true}
		m.Supports[i].Lifts = false
	}
	return m
}

// TestAgainstCalculiX runs the same frame through CalculiX (Debian package calculix-ccx), whose beams are expanded to
// quadratic bricks: no beam theory of ours is in it.
func TestAgainstCalculiX(t *testing.T) {
	ccx := outside.Program(t, "ccx")
	m := solidBox()
	s := prepare(t, m)
	wire := m.beamOf("wire_beam")
	const steps = 40
	// A node where bars meet makes the elements round it stiffer, the less the shorter they are.
	d := newDeck(m, steps)
	top := m.Beams[m.beamOf("crown.front_rail")].Ends[0]
	loads := []struct {
		name string
		node int
		f    geom.Vec
	}{
		{"load on the wire beam", d.inner(wire, steps), geom.Vec{Z: -100}},
		{"racking along X", top, geom.Vec{X: 100}},
		{"racking along Y", top, geom.Vec{Y: 100}},
	}
	out := d.run(t, ccx, func(w *bytes.Buffer) {
		for _, l := range loads {
			fmt.Fprintf(w, "*STEP\n*STATIC\n*CLOAD,OP=NEW\n")
			for c := range geom.Axis(3) {
				if v := l.f.Along(c); v != 0 {
					fmt.Fprintf(w, "%d,%d,%g\n", l.node+1, int(c)+1, v)
				}
			}
			fmt.Fprintf(w, "*NODE PRINT,NSET=SEEN\nU\n*END STEP\n")
		}
		fmt.Fprintf(w, "*STEP\n*FREQUENCY\n6\n*NODE PRINT,NSET=SEEN\nU\n*END STEP\n")
	}, loads[0].node, top)
	shifts := parseShifts(t, out)
	for i, l := range loads {
		var c Case
		if l.node == top {
			c.Nodes = []NodeLoad{{top, l.f, geom.Vec{}}}
		} else {
			c.Points = []PointLoad{{Place{wire, 450}, l.f, geom.Vec{}}}
		}
		sol := solve(t, s, &c)
		got := sol.Shift(l.node % len(m.Nodes))
		if l.node != top {
			got = sol.At(Place{wire, 450}).Shift
		}
		check(t, l.name, got.Dot(l.f)/l.f.Len(), shifts[i][l.node+1].Dot(l.f)/l.f.Len(), 0.03, "CalculiX")
		t.Logf("%s: %.6g mm, CalculiX %.6g mm", l.name, got.Dot(l.f)/l.f.Len(), shifts[i][l.node+1].Dot(l.f)/l.f.Len())
	}
	want := parseFrequencies(t, out)
	modes, err := s.Modes(6)
	if err != nil {
		t.Fatal(err)
	}
	for i, md := range modes {
		check(t, fmt.Sprint("mode ", i+1), md.Frequency, want[i], 0.03, "CalculiX")
		t.Logf("mode %d: %.3f Hz, CalculiX %.3f Hz", i+1, md.Frequency, want[i])
	}
}

// deck is a model as CalculiX input: every beam cut into elements of three nodes.
type deck struct {
	m     *Model
	n     int // elements a beam
	nodes []geom.Vec
	first []int // first inner node of each beam
}

func newDeck(m *Model, n int) *deck {
	d := &deck{m: m, n: n, nodes: slices.Clone(m.Nodes)}
	for i := range m.Beams {
		d.first = append(d.first, len(d.nodes))
		a, b := m.tips(i)
		for k := 1; k < 2*n; k++ {
			d.nodes = append(d.nodes, a.Add(b.Sub(a).Scale(float64(k)/float64(2*n))))
		}
	}
	return d
}

// inner returns the node at half step k of a beam.
func (d *deck) inner(beam, k int) int {
	switch k {
	case 0:
		return d.m.Beams[beam].Ends[0]
	case 2 * d.n:
		return d.m.Beams[beam].Ends[1]
	}
	return d.first[beam] + k - 1
}

// run writes the deck, runs the solver and returns what it prints.
func (d *deck) run(t *testing.T, ccx string, steps func(*bytes.Buffer), seen ...int) string {
	t.Helper()
	var w bytes.Buffer
	fmt.Fprintln(&w, "*NODE,NSET=ALL")
	for i, p := range d.nodes {
		fmt.Fprintf(&w, "%d,%.9g,%.9g,%.9g\n", i+1, p.X, p.Y, p.Z)
	}
	e := 1
	for axis := range geom.Axis(3) {
		fmt.Fprintf(&w, "*ELEMENT,TYPE=B32R,ELSET=E%d\n", axis)
		for i := range d.m.Beams {
			a, b := d.m.tips(i)
			if math.Abs(b.Sub(a).Unit().Along(axis)) < 0.9 {
				continue
			}
			for k := range d.n {
				fmt.Fprintf(&w, "%d,%d,%d,%d\n", e, d.inner(i, 2*k)+1, d.inner(i, 2*k+1)+1, d.inner(i, 2*k+2)+1)
				e++
			}
		}
	}
	mt := d.m.Beams[0].Material
	fmt.Fprintf(&w, "*MATERIAL,NAME=ALU\n*ELASTIC\n%g,%g\n*DENSITY\n%g\n", mt.E, mt.E/(2*mt.G)-1, mt.Density/1000)
	side := math.Sqrt(d.m.Beams[0].Section.Area)
	for axis, n1 := range []string{"0.,0.,1.", "0.,0.,1.", "1.,0.,0."} {
		fmt.Fprintf(&w, "*BEAM SECTION,ELSET=E%d,MATERIAL=ALU,SECTION=RECT\n%g,%g\n%s\n", axis, side, side, n1)
	}
	fmt.Fprintln(&w, "*BOUNDARY")
	for _, s := range d.m.Supports {
		fmt.Fprintf(&w, "%d,1,6\n", s.Node+1)
	}
	fmt.Fprintln(&w, "*NSET,NSET=SEEN")
	for _, n := range seen {
		fmt.Fprintf(&w, "%d\n", n+1)
	}
	steps(&w)
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "frame.inp"), w.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(ccx, "frame")
	cmd.Dir = dir
	if text, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("CalculiX: %v\n%s", err, text)
	}
	dat, err := os.ReadFile(filepath.Join(dir, "frame.dat"))
	if err != nil {
		t.Fatal(err)
	}
	return string(dat)
}

// parseShifts returns the printed shifts of each step by node.
func parseShifts(t *testing.T, dat string) (out []map[int]geom.Vec) {
	t.Helper()
	sc := bufio.NewScanner(strings.NewReader(dat))
	for sc.Scan() {
		if strings.Contains(sc.Text(), "displacements") {
			out = append(out, map[int]geom.Vec{})
			continue
		}
		f := strings.Fields(sc.Text())
		if len(f) != 4 || len(out) == 0 {
			continue
		}
		n, err := strconv.Atoi(f[0])
		if err != nil {
			continue
		}
		var v [3]float64
		for i := range 3 {
			if v[i], err = strconv.ParseFloat(f[i+1], 64); err != nil {
				t.Fatal(err)
			}
		}
		out[len(out)-1][n] = geom.Vec{X: v[0], Y: v[1], Z: v[2]}
	}
	if len(out) < 3 {
		t.Fatalf("CalculiX printed %d steps", len(out))
	}
	return out
}

// parseFrequencies returns the printed frequencies in Hz.
func parseFrequencies(t *testing.T, dat string) (out []float64) {
	t.Helper()
	_, table, ok := strings.Cut(dat, "E I G E N V A L U E   O U T P U T")
	if !ok {
		t.Fatal("CalculiX printed no frequencies")
	}
	for _, l := range strings.Split(table, "\n") {
		f := strings.Fields(l)
		if len(f) == 5 {
			if n, err := strconv.Atoi(f[0]); err == nil && n == len(out)+1 {
				v, err := strconv.ParseFloat(f[3], 64)
				if err != nil {
					t.Fatal(err)
				}
				out = append(out, v)
			}
		}
		if len(f) > 0 && strings.HasPrefix(l, "     P A R T") {
			break
		}
	}
	if len(out) < 6 {
		t.Fatalf("CalculiX printed %d frequencies", len(out))
	}
	return out
}
