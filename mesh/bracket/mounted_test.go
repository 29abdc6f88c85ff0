package bracket

import (
	"math"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// barAt returns a bar whose axis starts at a point and runs along a direction; side Right of its section looks along right.
func barAt(p *geom.Profile, length float64, at, along, right geom.Vec) *frame.Member {
	place := geom.Motion{EX: right, EY: along.Cross(right), EZ: along, T: at}
	half := p.Size().Scale(0.5)
	box := place.ApplyBox(geom.Box{Low: geom.Vec{X: -half.X, Y: -half.Y}, High: geom.Vec{X: half.X, Y: half.Y, Z: length}})
	return &frame.Member{Name: "bar along " + frame.DirectionName(along), Profile: p, Place: place, Box: box, Bar: frame.Bar{Profile: p, Length: length}}
}

// TestMounted places the kinds that no joint asks for on the bars that their descriptions name, and checks them as TestFit does.
func TestMounted(t *testing.T) {
	x, y, z := geom.Vec{X: 1}, geom.Vec{Y: 1}, geom.Vec{Z: 1}
	for _, name := range []string{"20x20-6", "30x30-8", "40x40-10", "30x60-8"} {
		p := profile(t, name)
		h, size := p.Pitch/2, p.Size()
		onFace := []*frame.Member{barAt(p, 400, geom.Vec{X: -200, Z: -size.Y / 2}, x, y)}
		below := []*frame.Member{barAt(p, 300, geom.Vec{Z: -300}, z, x)}
		above := []*frame.Member{barAt(p, 300, geom.Vec{}, z, x)}
		inner := []*frame.Member{barAt(p, 600, geom.Vec{X: -h, Y: -h, Z: -300}, z, x),
			barAt(p, 300, geom.Vec{Y: -h, Z: -h}, x, y), barAt(p, 300, geom.Vec{X: -h, Z: -h}, y, z)}
		outer := []*frame.Member{barAt(p, 300, geom.Vec{X: h, Y: h}, z, x),
			barAt(p, 300, geom.Vec{X: 2 * h, Y: h, Z: h}, x, y), barAt(p, 300, geom.Vec{X: h, Y: 2 * h, Z: h}, y, z)}
		level := []*frame.Member{barAt(p, 300, geom.Vec{Y: -h, Z: -h}, x, y), barAt(p, 300, geom.Vec{X: -h, Y: -2 * h, Z: -h}, y, z)}
		post := []*frame.Member{barAt(p, 300, geom.Vec{Y: size.Y / 2}, z, x)}
		caster := map[string]float64{"pattern_x": size.X + 30, "pattern_y": 60}
		tests := []struct {
			kind   string
			params map[string]float64
			bars   []*frame.Member
			square bool // only for sections of one cell
		}{
			{"end-cap", nil, below, false}, {"end-cap", map[string]float64{"hold": 1, "grip": 0}, below, false},
			{"slot-cover", nil, onFace, true}, {"cable-clip", nil, onFace, true}, {"panel-clip", nil, onFace, true},
			{"foot-pad", nil, above, false}, {"caster-plate", caster, above, false}, {"tap-guide", nil, above, false},
			{"corner-inside", nil, inner, true}, {"corner-outside", nil, outer, true}, {"spacer", nil, post, true}, {"square", nil, level, true},
		}
		for _, tc := range tests {
			if tc.square && size.X != size.Y {
				continue
			}
			r, err := Build(Spec{Kind: tc.kind, Profile: p, Params: tc.params})
			if err != nil {
				t.Errorf("%s on %s: %v", tc.kind, name, err)
				continue
			}
			checkMounted(t, tc.kind+" on "+name, r, tc.bars)
		}
	}
}

// checkMounted checks contacts, screws, ribs and that nothing of the part lies in a bar. A snug tongue may not touch either.
func checkMounted(t *testing.T, name string, r *Result, bars []*frame.Member) {
	t.Helper()
	f := &frame.Frame{Members: bars}
	if len(r.Contacts) == 0 {
		t.Errorf("%s touches nothing", name)
	}
	for _, c := range r.Contacts {
		if c.Bar > 0 && r.Kind == "spacer" {
			continue // the rail that it carries
		}
		if touching(f, c.At, c.Toward) == nil && !onEnd(bars, c.At, c.Toward) {
			t.Errorf("%s: the face at %v toward %v touches no bar", name, c.At, c.Toward)
		}
	}
	for _, rib := range r.Ribs {
		checkRib(t, f, name, geom.Identity(), rib)
	}
	for _, s := range r.Screws {
		if s.Into == "core" {
			q := bars[0].Place.Unapply(s.Seat)
			off := math.Inf(1)
			for _, c := range bars[0].Bar.Profile.Cores() {
				off = math.Min(off, c.Dist(geom.Vec2{X: q.X, Y: q.Y}))
			}
			if off > 1e-6 {
				t.Errorf("%s: a screw passes %.4f mm from the core's middle", name, off)
			}
			continue
		}
		checkScrew(t, f, name, fitted{part: r, place: geom.Identity()}, s)
	}
	g := facetsOf(r.Mesh)
	for _, m := range bars {
		polygons := m.Bar.Profile.Region().Polygons(0.005)
		for i, tr := range g.m.Triangles {
			a, b, c := g.p[tr[0]], g.p[tr[1]], g.p[tr[2]]
			n := int(math.Min(30, 2+math.Max(a.Dist(b), math.Max(b.Dist(c), c.Dist(a)))))
			for u := 0; u <= n; u++ {
				for v := 0; u+v <= n; v++ {
					q := a.Add(b.Sub(a).Scale((float64(u) + 0.05) / (float64(n) + 0.15))).Add(c.Sub(a).Scale((float64(v) + 0.05) / (float64(n) + 0.15))).Sub(g.n[i].Scale(0.01))
					if at := r.Place.Apply(q); inBar(m, polygons, at) {
						t.Errorf("%s: the point %v of the part lies in the %s", name, at, m.Name)
						return
					}
				}
			}
		}
	}
}

// onEnd reports whether a point lies on the end of a bar that faces back at the direction.
func onEnd(bars []*frame.Member, at, toward geom.Vec) bool {
	for _, m := range bars {
		q := m.Place.Unapply(at)
		if d := m.Direction().Dot(toward); d > 1-1e-9 && math.Abs(q.Z) < 1e-6 || d < -1+1e-9 && math.Abs(q.Z-m.Bar.Length) < 1e-6 {
			return true
		}
	}
	return false
}
