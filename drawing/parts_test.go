package drawing

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sort"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// profile returns a built-in profile.
func profile(t testing.TB, name string) *geom.Profile {
	p, ok := geom.Builtin(name)
	if !ok {
		t.Fatalf("no profile %s", name)
	}
	return p
}

// part wraps a bar as a part of quantity n.
func part(mark string, b frame.Bar, n int) *frame.Part {
	sort.SliceStable(b.Holes, func(i, j int) bool {
		h, k := b.Holes[i], b.Holes[j]
		if h.Side != k.Side {
			return h.Side < k.Side
		}
		if h.Z != k.Z {
			return h.Z < k.Z
		}
		return h.Offset < k.Offset
	})
	p := &frame.Part{Mark: mark, Bar: b, Mass: b.Length * 0.00085}
	for i := range n {
		p.Members = append(p.Members, &frame.Member{Name: fmt.Sprint(mark, i)})
	}
	return p
}

// bothTaps returns the taps of the cores of both ends.
func taps(p *geom.Profile, ends ...int) []frame.Tap {
	depth := map[string]float64{"M6": 18, "M8": 22, "M10": 26}[p.Thread]
	var out []frame.Tap
	for _, e := range ends {
		for _, c := range p.Cores() {
			out = append(out, frame.Tap{End: e, Core: c, Thread: p.Thread, Depth: depth, Drill: p.Core, DrillDepth: depth})
		}
	}
	return out
}

// workshopFrame returns a frame with parts of many kinds.
func workshopFrame(t testing.TB) *frame.Frame {
	p20, p30, p40 := profile(t, "20x20-6"), profile(t, "30x30-8"), profile(t, "40x80-10")
	p60 := profile(t, "30x60-8")
	access := func(side geom.Side, z float64) frame.Hole {
		return frame.Hole{Side: side, Z: z, Diameter: 7, Purpose: frame.Access}
	}
	f := &frame.Frame{Name: "stand", Title: "Hot-wire foam cutter", Reference: "FC-100", Revision: "B", Fingerprint: "1a2b3c4d",
		Projection: "first", Units: "mm", Settings: []frame.Setting{{Name: "width", Value: 900}},
		TitleBlock: frame.TitleBlock{Owner: "Workshop", Creator: "A. Maker", Approver: "B. Checker", Date: "2026-03-01"}}
	f.Parts = []*frame.Part{
		part("A1", frame.Bar{Profile: p30, Length: 1110, Taps: taps(p30, 0), Holes: []frame.Hole{
			access(1, 65), access(1, 395), access(1, 1095), access(2, 65), access(2, 1095)}}, 4),
		part("A2", frame.Bar{Profile: p30, Length: 840, Taps: taps(p30, 0, 1)}, 4),
		part("A3", frame.Bar{Profile: p30, Length: 640, Taps: taps(p30, 0), Holes: []frame.Hole{
			{Side: 0, Z: 625, Diameter: 9, Bore: 15, BoreDepth: 9, Purpose: frame.Clearance}}}, 2),
		part("A4", frame.Bar{Profile: p30, Length: 600, Taps: taps(p30, 0), Holes: []frame.Hole{
			access(0, 15), access(0, 585), {Side: 0, Z: 120, Offset: 4, Diameter: 5, Depth: 12, Thread: "M6", ThreadDepth: 9, Purpose: frame.Drilled},
			{Side: 1, Z: 200, Diameter: 5.5}, {Side: 1, Z: 206, Diameter: 5.5}, {Side: 3, Z: 300, Diameter: 9, Bore: 15, BoreDepth: 9}}}, 1),
		part("B1", frame.Bar{Profile: p60, Length: 900, Taps: taps(p60, 0, 1), Holes: []frame.Hole{
			{Side: 0, Z: 450, Offset: -15, Diameter: 7}, {Side: 0, Z: 450, Offset: 15, Diameter: 7}}}, 2),
		part("C1", frame.Bar{Profile: p40, Length: 2200, Taps: taps(p40, 0, 1), Holes: []frame.Hole{
			{Side: 1, Z: 20, Diameter: 8}, {Side: 1, Z: 1100, Diameter: 8}, {Side: 1, Z: 2180, Diameter: 8}}}, 2),
		part("D1", frame.Bar{Profile: p20, Length: 180}, 6),
		part("D2", frame.Bar{Profile: p20, Length: 420.5, Cuts: [2]frame.Cut{{SlopeX: 1}, {SlopeX: -1}}}, 2),
		part("A5", frame.Bar{Profile: p30, Length: 1500, Taps: taps(p30, 1), Holes: []frame.Hole{
			access(0, 15), access(0, 45), access(0, 500), access(0, 530), access(2, 700), access(2, 1485)}}, 2),
		part("A6", frame.Bar{Profile: p30, Length: 2000, Holes: []frame.Hole{
			access(0, 15), access(1, 45), access(2, 500), access(3, 530), access(0, 700), access(1, 1485), access(2, 1900), access(3, 1985)}}, 1),
	}
	f.Parts[0].Twin = f.Parts[8]
	return f
}

// randomPart returns a part that the file language could ask for.
func randomPart(t testing.TB, r *rand.Rand, mark string) *frame.Part {
	names := []string{"20x20-6", "30x30-8", "40x40-10", "20x40-6", "30x60-8", "40x80-10", "60x60-8", "20x60-6"}
	p := profile(t, names[r.IntN(len(names))])
	b := frame.Bar{Profile: p, Length: math.Round(10*(60+r.Float64()*r.Float64()*2900)) / 10}
	for end := range 2 {
		switch r.IntN(5) {
		case 0, 1:
			b.Taps = append(b.Taps, taps(p, end)...)
		case 2:
			if b.Length > 300 {
				slope := math.Tan(float64(15+r.IntN(31)) * math.Pi / 180)
				if r.IntN(2) == 0 {
					b.Cuts[end].SlopeX = slope * float64(1-2*r.IntN(2))
				} else {
					b.Cuts[end].SlopeY = slope * float64(1-2*r.IntN(2))
				}
			}
		}
	}
	n := r.IntN(7)
	if r.IntN(6) == 0 {
		n = r.IntN(20)
	}
	sides := r.Perm(4)[:1+r.IntN(4)]
	for range n {
		h := frame.Hole{Side: geom.Side(sides[r.IntN(len(sides))]), Diameter: []float64{5.5, 7, 8, 4.25}[r.IntN(4)]}
		lines := p.CellLines(h.Side)
		h.Offset = lines[r.IntN(len(lines))]
		h.Z = math.Round(10*(p.Pitch/2+r.Float64()*(b.Length-p.Pitch))) / 10
		switch r.IntN(6) {
		case 0:
			h.Depth = 12
		case 1:
			h.Bore, h.BoreDepth = 13, p.Slot.Depth
		case 2:
			h.Thread, h.Diameter, h.Depth, h.ThreadDepth = "M6", 5, 12, 9
		case 3:
			h.Offset += math.Round(20*(r.Float64()-0.5)) / 10
		}
		clear := true
		for _, o := range b.Holes {
			if o.Side == h.Side && math.Abs(o.Z-h.Z) < (math.Max(o.Diameter, o.Bore)+math.Max(h.Diameter, h.Bore))/2+1 && math.Abs(o.Offset-h.Offset) < 14 {
				clear = false
			}
		}
		if clear {
			b.Holes = append(b.Holes, h)
		}
	}
	return part(mark, b, 1+r.IntN(8))
}
