package job

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh/bracket"
	"barwright/standard"
)

// placedKinds are the kinds of printed parts that find a place in a frame.
var placedKinds = []string{"angle", "plate-straight", "plate-tee", "plate-ell", "plate-cross", "corner-inside", "corner-outside", "brace-foot",
	"end-cap", "slot-cover", "cable-clip", "panel-clip", "foot-pad", "caster-plate"}

// eachFitScene runs a test on every frame with printed parts.
func eachFitScene(t *testing.T, run func(t *testing.T, s *fitScene)) {
	t.Helper()
	seen := map[string]int{}
	for _, f := range fitFrames() {
		t.Run(f[0], func(t *testing.T) {
			s := newFitScene(t, openText(t, f[1]))
			countKinds(seen, s)
			run(t, s)
		})
	}
	for _, name := range []string{"foam-cutter", "curing-cabinet"} {
		t.Run(name, func(t *testing.T) {
			j, err := Open("../examples/"+name+"/frame.hcl", nil)
			if err != nil {
				t.Fatal(err)
			}
			s := newFitScene(t, j)
			countKinds(seen, s)
			run(t, s)
		})
	}
	for _, k := range placedKinds {
		if seen[k] == 0 {
			t.Errorf("no frame has a %s", k)
		}
	}
}

func countKinds(seen map[string]int, s *fitScene) {
	for _, p := range s.parts {
		seen[p.part.Result.Kind]++
	}
}

// TestPartsTouchTheirBars sees that each face that is to lie on a bar does, over an area, within a hundredth of a millimetre.
func TestPartsTouchTheirBars(t *testing.T) {
	eachFitScene(t, func(t *testing.T, s *fitScene) {
		faces := 0
		for _, p := range s.parts {
			for _, c := range p.part.Result.Contacts {
				faces++
				// A motion whose z is the way toward the bar, about the contact.
				x := c.Along
				if x.Len() < 0.5 {
					x = geom.Vec{X: 1}
				}
				face := geom.Motion{EX: x, EY: c.Toward.Cross(x), EZ: c.Toward, T: c.At}.Then(p.place).Inverse()
				a := p.moved(face)
				area := 0.0
				for _, b := range s.bars {
					if b.box.Intersect(p.box.Grow(0.01)).Empty() {
						continue
					}
					b := b.moved(face)
					reach := b.bar.Bar.Profile.Pitch / 2
					box := geom.Box{Low: geom.Vec{X: -reach, Y: -reach, Z: -5}, High: geom.Vec{X: reach, Y: reach, Z: 5}}
					comb := combOf(a, b, box, geom.Z, combStep)
					for i := range comb.lines {
						for _, u := range spans(comb.lines[i][0]) {
							for _, v := range spans(comb.lines[i][1]) {
								if math.Abs(u[1]) < 0.01 && math.Abs(v[0]) < 0.01 {
									area += combStep * combStep
								}
							}
						}
					}
				}
				// A cover and a clip rest on the two edges of a slot, over a millimetre and more on each side.
				if area < 20 {
					t.Errorf("%s: its face at %v lies on bars over %.1f mm²", p.name, p.place.Apply(c.At), area)
				}
			}
		}
		if faces < len(s.parts) {
			t.Errorf("%d parts have %d faces", len(s.parts), faces)
		}
	})
}

// fitAllowance is the clearance of ribs in slots that the frames ask for: the default.
const fitAllowance = 0.1

// TestRibsClearTheirSlots measures from each rib's flanks to the lips of its slot, on the meshes: the fit allowance on each side.
func TestRibsClearTheirSlots(t *testing.T) {
	ribs := 0
	eachFitScene(t, func(t *testing.T, s *fitScene) {
		for _, p := range s.parts {
			for _, r := range p.part.Result.Ribs {
				ribs++
				s.checkRib(t, p, r.At, r.Along, r.Toward, r.Length, r.Depth, p.part.Result.Kind == "brace-foot")
			}
		}
	})
	if ribs < 100 {
		t.Errorf("only %d ribs", ribs)
	}
}

// checkRib measures one rib at nine places of its middle part. The flanks of a brace foot's ribs slope: they are clear by more.
func (s *fitScene) checkRib(t *testing.T, p *placedSolid, at, along, toward geom.Vec, length, depth float64, sloping bool) {
	t.Helper()
	side := p.place.Turn(toward.Cross(along))
	least, most := math.Inf(1), math.Inf(-1)
	for k := 1; k < 10; k++ {
		from := p.place.Apply(at.Add(along.Scale(length * (0.2 + 0.06*float64(k)))).Add(toward.Scale(0.35 * depth)))
		for _, way := range []geom.Vec{side, side.Scale(-1)} {
			own := p.first(from, way, 30)
			gap := math.Inf(1)
			for _, b := range s.bars {
				gap = math.Min(gap, b.first(from, way, 30)-own)
			}
			least, most = math.Min(least, gap), math.Max(most, gap)
		}
	}
	if least < fitAllowance-0.003 || most > fitAllowance+0.003 && !sloping {
		t.Errorf("%s: the rib at %v is clear of the lips by %.4f to %.4f mm, want %g", p.name, p.place.Apply(at), least, most, fitAllowance)
	}
}

// TestScrewsMeetTheirSlots measures from each screw's axis to the bar's metal on both sides, a little under the face: it passes midway
// between the lips, or in the middle of the bore; and its tip ends in the slot, short of its floor, or in the thread.
func TestScrewsMeetTheirSlots(t *testing.T) {
	screws := 0
	eachFitScene(t, func(t *testing.T, s *fitScene) {
		for _, p := range s.parts {
			for _, c := range p.part.Result.Screws {
				screws++
				seat, dir := p.place.Apply(c.Seat), p.place.Turn(c.Dir)
				x := p.place.Turn(geom.Vec{X: 1, Y: 0.3, Z: 0.2})
				x = x.Sub(dir.Scale(x.Dot(dir))).Unit()
				bar := s.barAt(seat.Add(dir.Scale(c.Grip)), seat.Add(dir.Scale(c.Length)))
				if bar == nil {
					t.Errorf("%s: the screw at %v ends in no bar", p.name, seat)
					continue
				}
				slot := bar.bar.Bar.Profile.Slot
				past := c.Length - c.Grip
				across := []geom.Vec{x, dir.Cross(x), x.Add(dir.Cross(x)).Unit(), x.Sub(dir.Cross(x)).Unit()}
				deep := 3.0
				if c.Into == "slot nut" {
					deep = 0.6 * slot.Lip
					across = []geom.Vec{bar.bar.Direction().Cross(dir)}
					if past < slot.Lip || past > slot.Depth {
						t.Errorf("%s: a screw reaches %.2f mm into a slot with a lip of %g and a floor at %g", p.name, past, slot.Lip, slot.Depth)
					}
					if what := s.nutRoom(p, bar, c); what != "" {
						t.Errorf("%s: the nut of the screw at %v meets %s", p.name, seat, what)
					}
				} else if tapped := tapUnder(bar.bar, seat); past > tapped {
					t.Errorf("%s: a screw reaches %.2f mm into %s, whose thread is %.2f mm deep", p.name, past, bar.name, tapped)
				}
				from := seat.Add(dir.Scale(c.Grip + deep))
				for _, w := range across {
					one, two := bar.first(from, w, 40), bar.first(from, w.Scale(-1), 40)
					if math.Abs(one-two) > 0.04 || one > 30 {
						t.Errorf("%s: the screw at %v has %.3f and %.3f mm to the metal of %s", p.name, seat, one, two, bar.name)
						break
					}
				}
			}
		}
	})
	if screws < 200 {
		t.Errorf("only %d screws", screws)
	}
}

// barAt returns the bar on whose face one point lies and whose outline holds the other.
func (s *fitScene) barAt(face, tip geom.Vec) *placedSolid {
	for _, b := range s.bars {
		if math.Abs(off(b.bar, face)) < 0.02 && off(b.bar, tip) < 0 {
			return b
		}
	}
	return nil
}

// holds reports whether a point lies in the solid: a ray from it meets the surface an odd number of times.
func (s *placedSolid) holds(at geom.Vec) bool {
	if geom.EmptyBox().Extend(at).Intersect(s.box).Empty() {
		return false
	}
	return len(s.hits(at, geom.Vec{X: 0.4821, Y: 0.3917, Z: 0.7837}.Unit(), 1e5))%2 == 1
}

// nutRoom names what stands where a screw's nut or tip is: a nut as long as the cavity is wide, halfway as wide as mouth and cavity,
// and 0.8 diameters high (common practice, no source), looked at in its corners, edges and faces.
func (s *fitScene) nutRoom(p *placedSolid, bar *placedSolid, c bracket.Screw) string {
	seat, dir := p.place.Apply(c.Seat), p.place.Turn(c.Dir)
	slot := bar.bar.Bar.Profile.Slot
	row, _ := standard.ThreadByName(c.Thread)
	along, across := bar.bar.Direction(), bar.bar.Direction().Cross(dir)
	face := seat.Add(dir.Scale(c.Grip))
	high := math.Min(0.8*row.Nominal, slot.Depth-slot.Lip)
	points := []geom.Vec{seat.Add(dir.Scale(c.Length - 0.05))}
	for _, u := range []float64{-1, 0, 1} {
		for _, v := range []float64{-1, 0, 1} {
			for _, w := range []float64{0.02, 0.5, 0.98} {
				points = append(points, face.Add(along.Scale(0.99*u*slot.Cavity/2)).Add(across.Scale(v*(slot.Opening+slot.Cavity)/4)).Add(dir.Scale(slot.Lip+w*high)))
			}
		}
	}
	for _, q := range points {
		for _, list := range [][]*placedSolid{s.bars, s.parts, s.panels} {
			for _, b := range list {
				if b != p && b != bar && b.holds(q) {
					return fmt.Sprintf("%s at %v", b.name, q)
				}
			}
		}
	}
	return ""
}

// tapUnder returns the depth of thread in the core nearest to a point.
func tapUnder(m *frame.Member, at geom.Vec) float64 {
	q := m.Place.Unapply(at)
	end := 0
	if q.Z > m.Bar.Length/2 {
		end = 1
	}
	for _, tap := range m.Bar.Taps {
		if tap.End == end && tap.Core.Dist(geom.Vec2{X: q.X, Y: q.Y}) < 0.01 {
			return tap.Depth
		}
	}
	return 0
}

// TestDriversReachScrews looks along each screw's axis for a straight way for the key and a turn of 60° for its other arm, past the meshes
// of bars and printed parts. Where there is none, the rule key-blocked must say so.
func TestDriversReachScrews(t *testing.T) {
	free, blocked := 0, 0
	eachFitScene(t, func(t *testing.T, s *fitScene) {
		for _, p := range s.parts {
			for _, c := range p.part.Result.Screws {
				why := s.driverBlocked(p, c.Seat, c.Dir, c.HeadHeight, c.Key, c.DriverDiameter())
				if why == "" {
					free++
					continue
				}
				blocked++
				if !s.toldOf(p) {
					t.Errorf("%s: no key gets to the screw at %v, %s, and no finding says so", p.name, p.place.Apply(c.Seat), why)
				}
			}
		}
	})
	t.Logf("%d screws can be reached in the finished frame, %d only before a bar or part that a finding names", free, blocked)
	if free < 150 {
		t.Errorf("only %d screws can be reached", free)
	}
}

// toldOf reports whether a finding of key-blocked is about a part.
func (s *fitScene) toldOf(p *placedSolid) bool {
	name, _, _ := strings.Cut(p.name, " (")
	_, name, _ = strings.Cut(name, " ") // without its mark
	for _, g := range s.j.Findings {
		if g.Rule == "key-blocked" && (strings.Contains(g.Message, "("+name+")") || strings.Contains(g.Message, strings.ReplaceAll(name, " on ", " and "))) {
			return true
		}
	}
	return false
}
