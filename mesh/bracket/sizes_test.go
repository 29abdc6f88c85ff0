package bracket

import (
	"math"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// bore measures a hole on the mesh: the least and the largest distance from a point of its axis to the wall, over directions square
// to the axis. Mounted coordinates.
func bore(r *Result, at, axis geom.Vec) (least, most float64) {
	f := facetsOf(r.Mesh)
	p := axes(r.Place.Unapply(at), r.Place.Unturn(axis))
	least = math.Inf(1)
	for k := range 192 {
		s, c := math.Sincos(2 * math.Pi * (float64(k) + 1e-5) / 192)
		d := p.Turn(geom.Vec{X: c, Y: s})
		hit := math.Inf(1)
		for i := range f.m.Triangles {
			if t, ok := f.ray(i, p.T, d); ok && t > 0 && t < hit {
				hit = t
			}
		}
		least, most = math.Min(least, hit), math.Max(most, hit)
	}
	return least, most
}

// TestHoles measures clearance holes and counterbores on the mesh against published tables: ISO 273:1979 medium series; DIN
// 974-1:2008 series 1; ISO 4762 and ISO 7380-1 heads and keys, ISO 4032 nuts. Figures typed from the standards' tables; what is added
// for printing is common practice, no source.
func TestHoles(t *testing.T) {
	const source = "ISO 273 medium, DIN 974-1 series 1, ISO 4762, ISO 7380-1"
	tests := []struct {
		thread                        string
		clearance, counterbore        float64
		head7380, key7380, height7380 float64
		head4762, key4762, height4762 float64
	}{
		{"M4", 4.5, 8, 7.6, 2.5, 2.2, 7.22, 3, 4},
		{"M5", 5.5, 10, 9.5, 3, 2.75, 8.72, 4, 5},
		{"M6", 6.6, 11, 10.5, 4, 3.3, 10.22, 5, 6},
		{"M8", 9, 15, 14, 5, 4.4, 13.27, 6, 8},
	}
	for _, tc := range tests {
		for head := range 2 {
			r, err := Build(Spec{Kind: "plate-straight", Profile: profile(t, "40x40-10"), Thread: tc.thread, Params: map[string]float64{"head": float64(head)}})
			if err != nil {
				t.Errorf("%s: %v", tc.thread, err)
				continue
			}
			s := r.Screws[0]
			wantHead, wantKey, wantHeight := tc.head7380, tc.key7380, tc.height7380
			if head == 1 {
				wantHead, wantKey, wantHeight = tc.head4762, tc.key4762, tc.height4762
			}
			if s.HeadDiameter != wantHead || s.Key != wantKey || s.HeadHeight != wantHeight {
				t.Errorf("%s: head %g × %g, key %g; want %g × %g, %g (%s)", tc.thread, s.HeadDiameter, s.HeadHeight, s.Key, wantHead, wantHeight, wantKey, source)
			}
			low, high := bore(r, s.Seat.Add(s.Dir.Scale(s.Grip-0.5)), s.Dir)
			if want := tc.clearance/2 + 0.1; math.Abs(low-want) > 0.002 || high > want/math.Cos(math.Pi/16)+0.002 {
				t.Errorf("%s: the hole measures ⌀%.3f to %.3f, want %.2f (%s, 0.2 added)", tc.thread, 2*low, 2*high, 2*want, source)
			}
			if head == 1 {
				low, _ := bore(r, s.Seat.Sub(s.Dir.Scale(1)), s.Dir)
				if want := tc.counterbore/2 + 0.1; math.Abs(low-want) > 0.002 {
					t.Errorf("%s: the counterbore measures ⌀%.3f, want %.2f (%s, 0.2 added)", tc.thread, 2*low, 2*want, source)
				}
				// The head sinks in: ISO 4762 k under the plate's face.
				if sunk := r.Wall - s.Grip; sunk < wantHeight {
					t.Errorf("%s: a head %g high sinks %g", tc.thread, wantHeight, sunk)
				}
			}
		}
	}
}

// TestTeardrop measures a lying hole: round below, its tip √2 radii over the axis (geometry: two tangents at 45°).
func TestTeardrop(t *testing.T) {
	r, err := Build(Spec{Kind: "brace-foot", Profile: profile(t, "30x30-8")})
	if err != nil {
		t.Fatal(err)
	}
	s := r.Screws[0]
	low, high := bore(r, s.Seat.Add(s.Dir), s.Dir)
	want := (6.6 + 0.3) / 2 // ISO 273 medium for M6, 0.3 added for lying holes (common practice, no source)
	if math.Abs(low-want) > 0.002 || math.Abs(high-want*math.Sqrt2) > 0.02 {
		t.Errorf("radius %.3f to %.3f, want %.3f and a tip at %.3f", low, high, want, want*math.Sqrt2)
	}
}

// TestPockets measures the pockets of nuts (ISO 4032:2012: s and m) and the holes of heat-set inserts (common practice).
func TestPockets(t *testing.T) {
	nuts := map[float64][2]float64{4: {7, 3.2}, 5: {8, 4.7}, 6: {10, 5.2}, 8: {13, 6.8}}
	for _, bolt := range []float64{4, 5, 6, 8} {
		r, err := Build(Spec{Kind: "caster-plate", Profile: profile(t, "30x30-8"), Params: map[string]float64{"bolt": bolt, "insert": 1, "pattern_x": 70, "pattern_y": 70}})
		if err != nil {
			t.Errorf("M%g: %v", bolt, err)
			continue
		}
		at := geom.Vec{X: 35, Y: 35, Z: -0.5}
		low, high := bore(r, at, geom.Vec{Z: 1})
		if want := (nuts[bolt][0] + 0.3) / 2; math.Abs(low-want) > 0.002 || math.Abs(high-want*2/math.Sqrt(3)) > 0.02 {
			t.Errorf("M%g: the pocket measures %.3f over flats, %.3f over corners; want %.2f", bolt, 2*low, 2*high, 2*want)
		}
		f := facetsOf(r.Mesh)
		deep := math.Inf(1)
		for i := range f.m.Triangles {
			// From above, beside the hole but within the nut.
			o := r.Place.Unapply(geom.Vec{X: 35 + bolt/2 + 1.2, Y: 35, Z: 5})
			if d, ok := f.ray(i, o, geom.Vec{Z: -1}); ok && d > 0 && d < deep {
				deep = d
			}
		}
		if deep-5 < nuts[bolt][1] || deep-5 > nuts[bolt][1]+0.5 {
			t.Errorf("M%g: the pocket is %.2f deep for a nut %g high", bolt, deep-5, nuts[bolt][1])
		}
	}
	inserts := map[float64]float64{3: 4.0, 4: 5.6, 5: 6.4, 6: 8.0}
	for _, bolt := range []float64{3, 4, 5, 6} {
		r, err := Build(Spec{Kind: "caster-plate", Profile: profile(t, "30x30-8"), Params: map[string]float64{"bolt": bolt, "insert": 2}})
		if err != nil {
			t.Errorf("M%g: %v", bolt, err)
			continue
		}
		if low, _ := bore(r, geom.Vec{X: 30, Y: 30, Z: -6}, geom.Vec{Z: 1}); math.Abs(2*low-inserts[bolt]) > 0.004 {
			t.Errorf("M%g: the hole for an insert measures ⌀%.3f, want %.1f (common practice, no source)", bolt, 2*low, inserts[bolt])
		}
	}
}

// TestJigGuides measures the guides of drill jigs on their meshes: each of the part's holes has one guide, exactly on its axis.
func TestJigGuides(t *testing.T) {
	part := jigPart(t, 840)
	part.Bar.Holes = append(part.Bar.Holes, frame.Hole{Side: geom.Left, Z: 420, Diameter: 5.5})
	all, err := BuildAll(Spec{Kind: "drill-jig", Part: part})
	if err != nil {
		t.Fatal(err)
	}
	found := make([]int, len(part.Bar.Holes))
	for _, r := range all {
		end := 0
		if r.Name[:len("drill-jig A3 end 2")] == "drill-jig A3 end 2" {
			end = 1
		}
		for i, h := range part.Bar.Holes {
			// In the jig's coordinates: z from its stop; from end 2 the bar is turned about its x axis.
			n := h.Side.Normal()
			z, out := h.Z, geom.Vec{X: n.X, Y: n.Y}
			if end == 1 {
				z, out.Y = part.Bar.Length-h.Z, -out.Y
			}
			at := out.Scale(15 + 0.2 + 4).Add(geom.Vec{Z: z})
			if q := r.Place.Unapply(at); q.Z < 1 || q.Z > r.Size.Z-1 {
				continue
			}
			low, high := bore(r, at, out)
			want := (h.Diameter + 0.3) / 2
			if math.Abs(low-want) > 0.002 || math.Abs(high-want*math.Sqrt2) > 0.03 {
				continue
			}
			found[i]++
		}
	}
	for i, n := range found {
		if n != 1 {
			t.Errorf("hole %d at %g mm has %d guides", i, part.Bar.Holes[i].Z, n)
		}
	}
	if len(all) != 3 {
		t.Errorf("%d pieces, want 3: two coupled from end 1 and one from end 2", len(all))
	}
}

// TestVolumes compares volumes with sums of plain prisms.
func TestVolumes(t *testing.T) {
	a := DefaultAllowances()
	a.First, a.VHole, a.HHole = 0, 0, 0
	p := profile(t, "30x30-8")
	hole := func(d float64, n float64) float64 { // of n tangents about a circle of diameter d
		return n * d * d / 4 * math.Tan(math.Pi/n)
	}
	tests := []struct {
		spec   Spec
		want   float64
		source string
	}{
		{Spec{Kind: "spacer", Params: map[string]float64{"height": 5.1, "deep": 6, "ribs": 0}}, 24 * 5.1 * 6, "derived: a box (its text does not fit)"},
		{Spec{Kind: "plate-straight", Wall: 4, Params: map[string]float64{"ribs": 0, "screws": 1}},
			(29*59 - 4*9*(1-6*math.Tan(math.Pi/24)) - 2*hole(6.6, 24)) * 4, "derived: 59 × 29 × 4 with corners of 3 and two holes"},
		{Spec{Kind: "slot-cover", Wall: 1.2, Params: map[string]float64{"length": 10, "overlap": 1.5, "leg": 1.2, "catch": 0.5}},
			10*11.2*1.2 + 2*8*snapArea(p, 1.2, 0.5), "derived: a strip and two legs of 8"},
		{Spec{Kind: "panel-clip", Wall: 4, Params: map[string]float64{"ribs": 0, "squeeze": 0}},
			20*12.1*8 + (20*8-2*(4-16*math.Tan(math.Pi/16)))*4 - hole(6.6, 24)*8, "derived: foot 20 × 12.1 × 8, lip 20 × 8 × 4 with two corners of 2, a hole"},
	}
	for _, tc := range tests {
		tc.spec.Profile, tc.spec.Allowances = p, &a
		r, err := Build(tc.spec)
		if err != nil {
			t.Errorf("%s: %v", tc.spec.Kind, err)
			continue
		}
		if math.Abs(r.Volume-tc.want) > 2e-4*tc.want {
			t.Errorf("%s: %.3f mm³, want %.3f (%s)", tc.spec.Kind, r.Volume, tc.want, tc.source)
		}
	}
}

// snapArea is the section of a snap leg under the strip: the leg from the face to where the catch begins, and below it a
// pentagon.
func snapArea(p *geom.Profile, leg, catch float64) float64 {
	open := p.Slot.Opening/2 - 0.1
	in := open - leg
	z0 := -p.Slot.Lip - 0.1
	z1, z2 := z0-catch, z0-catch-0.4
	tip := z2 - math.Min(2*catch, 1.4)
	leg2 := leg * -z0
	// Under z0: the leg's width plus the catch's triangle, the step of 0.4, and the entry.
	below := (leg+leg+catch)/2*catch + (leg+catch)*0.4 + ((leg+catch)+(open-0.3*leg-in))/2*(z2-tip)
	_ = z1
	return leg2 + below
}

// TestVolumeByPoints counts random points inside the pieces of every kind against the mesh's volume: the points know
// nothing of edges and faces.
func TestVolumeByPoints(t *testing.T) {
	for _, c := range lookCases(t) {
		all, err := BuildAll(c.spec)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range all {
			// An additive sequence fills the box evenly (Roberts 2018: powers of the root of x⁴ = x + 1).
			inside := 0
			const n, g = 60000, 1.2207440846057596
			for i := range n {
				at := func(step float64) float64 { v := 0.5 + float64(i+1)/step; return v - math.Floor(v) }
				p := geom.Vec{X: at(g) * r.Size.X, Y: at(g*g) * r.Size.Y, Z: at(g*g*g) * r.Size.Z}
				if r.model.body.Inside(r.Place.Apply(p)) {
					inside++
				}
			}
			got := float64(inside) / n * r.Size.X * r.Size.Y * r.Size.Z
			if math.Abs(got-r.Volume) > 0.01*r.Volume+0.001*r.Size.X*r.Size.Y*r.Size.Z {
				t.Errorf("%s: %.0f mm³ by points, %.0f by the mesh", r.Name, got, r.Volume)
			}
		}
	}
}
