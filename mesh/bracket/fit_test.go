package bracket

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"barwright/frame"
	"barwright/geom"
	"barwright/internal/outside"
	"barwright/mesh"
)

// fitFrames are frames whose joints take printed parts; want counts the parts by kind.
var fitFrames = []struct {
	name, file string
	want       map[string]int
}{
	{"box of 30", `
frame {
  profile = "30x30-8"
  joining = "angle-bracket"
}
posts "leg" {
  left   = 0
  right  = 500
  front  = 0
  back   = 400
  bottom = 0
  top    = 600
}
ring "low" {
  within = leg
  bottom = 90
}
ring "high" {
  within = leg
  bottom = 400
}
`, map[string]int{"angle": 16}},
	{"box of 20 with a middle rail", `
frame {
  profile = "20x20-6"
  joining = "angle-bracket"
}
posts "leg" {
  left   = 0
  right  = 300
  front  = 0
  back   = 400
  bottom = 0
  top    = 350
}
ring "low" {
  within = leg
  bottom = 60
}
member "mid" {
  left   = low.left_rail.right
  right  = low.right_rail.left
  mid_y  = 200
  bottom = low.bottom
}
`, map[string]int{"angle": 10}},
	{"mixed sizes", `
frame {
  profile = "40x40-10"
  joining = "angle-bracket"
}
member "post" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 500
}
member "rail" {
  profile = "30x60-8"
  left    = post.right
  right   = post.right + 400
  mid_y   = post.mid_y
  bottom  = 200
}
`, map[string]int{"angle": 1}},
	{"two slots side by side", `
frame {
  profile = "40x80-10"
  joining = "angle-bracket"
}
member "post" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 500
}
member "rail" {
  left   = post.right
  right  = post.right + 400
  front  = post.front
  bottom = 200
  turn   = 90
}
`, map[string]int{"angle": 1}},
	{"plates", `
frame {
  profile = "30x30-8"
  joining = "plate"
}
member "through" {
  left   = 0
  right  = 600
  front  = 0
  bottom = 0
}
member "butt" {
  front  = through.back
  back   = through.back + 300
  mid_x  = 300
  bottom = 0
}
member "left_butt" {
  front  = through.back
  back   = through.back + 300
  left   = 0
  bottom = 0
}
member "right_butt" {
  front  = through.back
  back   = through.back + 300
  right  = 600
  bottom = 0
}
member "more" {
  left   = through.right
  right  = through.right + 400
  front  = 0
  bottom = 0
}
`, map[string]int{"plate-tee": 1, "plate-ell": 2, "plate-straight": 1}},
	{"braces", `
frame {
  profile = "30x30-8"
  joining = "end-screw"
}
member "base" {
  left   = 0
  right  = 1200
  front  = 0
  bottom = 0
}
member "far_post" {
  right  = 1200
  front  = 0
  bottom = base.top
  top    = 530
}
member "post" {
  left   = 0
  front  = 0
  bottom = base.top
  top    = 530
}
brace "stay" {
  from = { on = base, at = 400 }
  to   = { on = post, at = 300 }
}
brace "flat" {
  from = { on = base, at = 650 }
  to   = { on = far_post, at = 160 }
}
`, map[string]int{"brace-foot": 4}},
}

// fitted is a part in its place.
type fitted struct {
	joint *frame.Joint
	part  *Result
	place geom.Motion // from mounted coordinates to the frame
}

func fitParts(t *testing.T, f *frame.Frame) []fitted {
	t.Helper()
	var out []fitted
	for _, j := range f.Joints {
		s, place, err := ForJoint(j, Spec{Text: "A1"})
		var typed *Error
		if errors.As(err, &typed) && typed.Rule == RuleKind {
			continue
		}
		if err != nil {
			t.Errorf("%s and %s: %v", j.A.Name, j.B.Name, err)
			continue
		}
		r, err := Build(s)
		if err != nil {
			t.Errorf("%s and %s: %v", j.A.Name, j.B.Name, err)
			continue
		}
		out = append(out, fitted{j, r, place})
	}
	return out
}

// inBar reports whether a point of the frame lies in a bar's material, holes left out of account.
func inBar(m *frame.Member, polygons [][]geom.Vec2, p geom.Vec) bool {
	q := m.Place.Unapply(p)
	c := m.Bar.Cuts
	if q.Z < m.Bar.Plane(0)+c[0].SlopeX*q.X+c[0].SlopeY*q.Y || q.Z > m.Bar.Plane(1)+c[1].SlopeX*q.X+c[1].SlopeY*q.Y {
		return false
	}
	in := false
	for _, poly := range polygons {
		for i, a := range poly {
			b := poly[(i+1)%len(poly)]
			if (a.Y > q.Y) != (b.Y > q.Y) && q.X < a.X+(q.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
				in = !in
			}
		}
	}
	return in
}

// TestFit places printed parts on the bars of frames: faces touch, ribs stand clear in their slots, screws
// meet slot lines, drivers pass, and no point of a part lies in a bar.
func TestFit(t *testing.T) {
	for _, c := range fitFrames {
		t.Run(c.name, func(t *testing.T) {
			f, err := frame.Parse("fit.hcl", []byte(c.file), frame.Options{})
			if err != nil {
				t.Fatal(err)
			}
			count := map[string]int{}
			for _, p := range fitParts(t, f) {
				count[p.part.Kind]++
				checkFit(t, f, p)
				if screws := len(p.part.Screws); c.name == "two slots side by side" && screws != 4 {
					t.Errorf("the angle has %d screws, want one in each of two slots of both bars", screws)
				}
			}
			for k, n := range c.want {
				if count[k] != n {
					t.Errorf("%d of %s, want %d", count[k], k, n)
				}
			}
			if len(count) != len(c.want) {
				t.Errorf("kinds %v, want %v", count, c.want)
			}
		})
	}
}

func checkFit(t *testing.T, f *frame.Frame, p fitted) {
	t.Helper()
	name := p.part.Kind + " of " + p.joint.A.Name + " and " + p.joint.B.Name
	for _, c := range p.part.Contacts {
		at, toward := p.place.Apply(c.At), p.place.Turn(c.Toward)
		if m := touching(f, at, toward); m == nil {
			t.Errorf("%s: the face at %v touches no bar", name, at)
		}
	}
	for _, r := range p.part.Ribs {
		checkRib(t, f, name, p.place, r)
	}
	if len(p.part.Ribs) == 0 {
		t.Errorf("%s has no ribs", name)
	}
	for _, s := range p.part.Screws {
		checkScrew(t, f, name, p, s)
	}
	// Points all over the part's surface, a hundredth inside it, and off the edges, which may lie in the plane of a bar's face.
	type section struct {
		m        *frame.Member
		polygons [][]geom.Vec2
	}
	var near []section
	box := geom.EmptyBox()
	toFrame := p.part.Place.Then(p.place)
	g := facetsOf(p.part.Mesh)
	for _, q := range g.p {
		box = box.Extend(toFrame.Apply(q))
	}
	for _, m := range f.Members {
		if !m.Box.Intersect(box.Grow(1)).Empty() {
			near = append(near, section{m, m.Bar.Profile.Region().Polygons(0.01)})
		}
	}
	for i, tr := range g.m.Triangles {
		a, b, c := g.p[tr[0]], g.p[tr[1]], g.p[tr[2]]
		n := int(math.Min(40, 2+math.Max(a.Dist(b), math.Max(b.Dist(c), c.Dist(a)))))
		for u := 0; u <= n; u++ {
			for v := 0; u+v <= n; v++ {
				q := a.Add(b.Sub(a).Scale((float64(u) + 0.05) / (float64(n) + 0.15))).Add(c.Sub(a).Scale((float64(v) + 0.05) / (float64(n) + 0.15))).Sub(g.n[i].Scale(0.01))
				for _, s := range near {
					if at := toFrame.Apply(q); inBar(s.m, s.polygons, at) {
						t.Errorf("%s: the point %v of the part lies in %s", name, at, s.m.Name)
						return
					}
				}
			}
		}
	}
}

// touching returns the bar whose side has the point on it, facing back at the direction.
func touching(f *frame.Frame, at, toward geom.Vec) *frame.Member {
	for _, m := range f.Members {
		for s := range geom.Side(4) {
			if m.SideNormal(s).Dot(toward) > -1+1e-4 {
				continue
			}
			q := m.Place.Unapply(at)
			o := geom.Vec2{X: q.X, Y: q.Y}
			if math.Abs(o.Dot(s.Normal())-m.Bar.Profile.Across(s)/2) < 0.01 && math.Abs(o.Dot(s.Toward())) <= m.Bar.Profile.Along(s)/2 &&
				q.Z >= -1e-6 && q.Z <= m.Bar.Length+1e-6 {
				return m
			}
		}
	}
	return nil
}

// offSlot returns how far a line into a bar at a point passes from the nearest slot's middle, and the slot's opening.
func offSlot(m *frame.Member, at, toward geom.Vec) (float64, float64) {
	s := m.SideFacing(toward.Scale(-1))
	q := m.Place.Unapply(at)
	off := math.Inf(1)
	for _, l := range m.Bar.Profile.SlotLines(s) {
		off = math.Min(off, math.Abs(geom.Vec2{X: q.X, Y: q.Y}.Dot(s.Toward())-l))
	}
	return off, m.Bar.Profile.Slot.Opening
}

func checkRib(t *testing.T, f *frame.Frame, name string, place geom.Motion, r Rib) {
	t.Helper()
	toward := place.Turn(r.Toward)
	for _, z := range []float64{0, r.Length} {
		at := place.Apply(r.At.Add(r.Along.Scale(z)))
		m := touching(f, at, toward)
		if m == nil {
			t.Errorf("%s: a rib ends at %v, beyond its bar", name, at)
			continue
		}
		off, opening := offSlot(m, at, toward)
		if clear := opening/2 - r.Width/2 - off; clear < r.Clearance-1e-3 {
			t.Errorf("%s: a rib is %.4f mm clear of the slot of %s, want %g", name, clear, m.Name, r.Clearance)
		}
		if r.Depth >= m.Bar.Profile.Slot.Lip {
			t.Errorf("%s: a rib of %g mm reaches behind the lip of %s", name, r.Depth, m.Name)
		}
	}
}

func checkScrew(t *testing.T, f *frame.Frame, name string, p fitted, s Screw) {
	t.Helper()
	dir := p.place.Turn(s.Dir)
	seat := p.place.Apply(s.Seat)
	face := seat.Add(dir.Scale(s.Grip))
	m := touching(f, face, dir)
	if m == nil {
		t.Errorf("%s: the screw at %v meets no bar", name, seat)
		return
	}
	if off, _ := offSlot(m, face, dir); off > 0.01 {
		t.Errorf("%s: a screw passes %.4f mm from the slot's middle of %s", name, off, m.Name)
	}
	// Into the nut by at least 0.6 diameters, and short of the slot's floor.
	slot := m.Bar.Profile.Slot
	if past := s.Length - s.Grip; past < slot.Lip || past > slot.Depth {
		t.Errorf("%s: a screw of %g mm reaches %.2f mm into a slot with a lip of %g and a floor at %g", name, s.Length, past, slot.Lip, slot.Depth)
	}
	at := axes(seat, dir.Scale(-1))
	part := facetsOf(p.part.Mesh)
	back := p.part.Place.Then(p.place)
	for z := s.HeadHeight + 0.1; z <= s.HeadHeight+30; z += 1.5 {
		for k := range 12 {
			sn, cs := math.Sincos(float64(k) * math.Pi / 6)
			q := at.Apply(geom.Vec{X: s.DriverDiameter() / 2 * cs, Y: s.DriverDiameter() / 2 * sn, Z: z})
			for _, b := range f.Members {
				if in := b.Place.Unapply(q); !b.Brace && b.Box.Grow(-1e-6).Intersect(geom.Box{Low: q, High: q}).Empty() == false && in.Z >= 0 {
					t.Errorf("%s: the driver of a screw meets %s", name, b.Name)
					return
				}
			}
			if k%4 == 0 && z < 12 && part.inside(back.Unapply(q)) {
				t.Errorf("%s: the driver of a screw meets the part", name)
				return
			}
		}
	}
}

// overlapFile writes pairs of meshes: counts as uint32, points as float32, little endian.
func overlapFile(t *testing.T, pairs [][2]*mesh.Mesh) string {
	t.Helper()
	var w bytes.Buffer
	put := func(v any) { binary.Write(&w, binary.LittleEndian, v) }
	put(uint32(len(pairs)))
	for _, p := range pairs {
		for _, m := range p {
			put(uint32(len(m.Points)))
			put(m.Points)
			put(uint32(len(m.Triangles)))
			put(m.Triangles)
		}
	}
	path := filepath.Join(t.TempDir(), "pairs")
	if err := os.WriteFile(path, w.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// moved returns a mesh after a motion.
func moved(m *mesh.Mesh, place geom.Motion) *mesh.Mesh {
	out := &mesh.Mesh{Triangles: m.Triangles, Surfaces: m.Surfaces}
	for _, p := range m.Points {
		q := place.Apply(geom.Vec{X: float64(p[0]), Y: float64(p[1]), Z: float64(p[2])})
		out.Points = append(out.Points, [3]float32{float32(q.X), float32(q.Y), float32(q.Z)})
	}
	return out
}

// TestOverlap has manifold-3d intersect each part, in its place, with the solid of every bar near it: they share nothing
// but their faces. Slanting faces are rounded by some micrometres, which over a face of 1000 mm² is a few mm³.
func TestOverlap(t *testing.T) {
	node := outside.Program(t, "node")
	here, err := filepath.Abs("../../testdata/external/node_modules")
	if err != nil {
		t.Fatal(err)
	}
	modules := outside.Module(t, here, "manifold-3d")
	var pairs [][2]*mesh.Mesh
	var names []string
	for _, c := range fitFrames {
		f, err := frame.Parse("fit.hcl", []byte(c.file), frame.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range fitParts(t, f) {
			part := moved(p.part.Mesh, p.part.Place.Then(p.place))
			for _, m := range f.Members {
				if m.Box.Intersect(part.Box()).Empty() {
					continue
				}
				solid, err := mesh.Solid(&m.Part.Bar, 0.02)
				if err != nil {
					t.Fatal(err)
				}
				pairs = append(pairs, [2]*mesh.Mesh{part, moved(solid, m.PartPlace())})
				names = append(names, c.name+": "+p.part.Kind+" on "+m.Name)
			}
		}
	}
	cmd := exec.Command(node, "testdata/overlap.mjs", overlapFile(t, pairs), modules)
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(lines) != len(pairs) || len(pairs) < 40 {
		t.Fatalf("%d answers for %d pairs", len(lines), len(pairs))
	}
	worst := 0.0
	for i, l := range lines {
		var a struct {
			Status []string
			Volume float64
		}
		if err := json.Unmarshal([]byte(l), &a); err != nil {
			t.Fatal(err)
		}
		if a.Status[0] != "NoError" || a.Status[1] != "NoError" {
			t.Errorf("%s: %v", names[i], a.Status)
		}
		limit := 0.05
		if strings.Contains(names[i], "brace-foot") {
			limit = 3
		}
		if a.Volume > limit {
			t.Errorf("%s: they share %.4f mm³", names[i], a.Volume)
		}
		worst = math.Max(worst, a.Volume)
	}
	t.Logf("%d pairs, at most %.4f mm³ in common", len(pairs), worst)
}
