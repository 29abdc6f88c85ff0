package job

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// combStep is the distance in mm of the lines along which solids are compared, and skin the depth in mm under which they only touch:
// slanting planes of a printed part are turned by 2⁻¹⁴ at most, 5 µm over 80 mm.
const (
	combStep = 0.5
	skin     = 0.006
)

// TestPartsOverlapNothing compares every printed part in its place with the machined bars, the panels and the other printed parts near it,
// along lines half a millimetre apart in three directions: none of them lies in both deeper than the skin. The pins of an end cap
// bite into their bores by as much as is meant.
func TestPartsOverlapNothing(t *testing.T) {
	eachFitScene(t, func(t *testing.T, s *fitScene) {
		pairs := 0
		s.pairs(func(a, b *placedSolid) {
			pairs++
			// In the part's own directions, in which its faces on square bars lie along the lines or across.
			back := a.place.Inverse()
			a, b = a.moved(back), b.moved(back)
			box := a.box.Intersect(b.box).Grow(0.1)
			want, play := s.meantOverlap(a, b)
			if want > 0 {
				if v := pinsShare(a, b, b.bar.Bar.Profile); math.Abs(v-want) > play {
					t.Errorf("%s and %s: %.3f mm³ in common, %.3f ± %.3f are meant", a.name, b.name, v, want, play)
				}
				return
			}
			for ax := range geom.Axis(3) {
				v, deep := combOf(a, b, box, ax, combStep).common(skin)
				if v > 0 {
					t.Errorf("%s and %s: %.3f mm³ in common along %v, up to %.3f mm deep", a.name, b.name, v, ax, deep)
					return
				}
			}
		})
		t.Logf("%d pairs", pairs)
		if pairs < len(s.parts) {
			t.Errorf("%d parts, only %d pairs", len(s.parts), pairs)
		}
	})
}

// pairs calls fn for every printed part and every bar, panel or later printed part whose boxes meet.
func (s *fitScene) pairs(fn func(a, b *placedSolid)) {
	for i, a := range s.parts {
		for _, list := range [][]*placedSolid{s.bars, s.panels, s.parts[i+1:]} {
			for _, b := range list {
				if !a.box.Grow(0.01).Intersect(b.box).Empty() {
					fn(a, b)
				}
			}
		}
	}
}

// meantOverlap returns the volume that a press fit shares with its bar, and its allowance: 0 but for an end cap's pins. A pin is an octagon
// whose corners lie grip/2 outside of the bore of radius R. Outside of the bore lies its area 2√2·r² less that of the circle, whose
// eight segments beyond the sides it has not. The pin tapers over its last millimetre, so that the volume lies between that over the whole
// depth and that over a millimetre less; bores are polygons within chord.
func (s *fitScene) meantOverlap(part, bar *placedSolid) (want, play float64) {
	block := s.capOf(part, bar)
	if block == nil {
		return 0, 0
	}
	values := map[string]float64{"hold": 0, "grip": 0.1, "depth": 10} // the defaults that barwright bracket lists
	for _, v := range block.Set {
		values[v.Name] = v.Value
	}
	if values["hold"] != 1 {
		return 0, 0
	}
	profile := bar.bar.Bar.Profile
	bore := profile.Core / 2
	corner := bore + values["grip"]/2
	side := corner * math.Cos(math.Pi/8)
	area := 2 * math.Sqrt2 * corner * corner
	if side < bore {
		segment := bore*bore*math.Acos(side/bore) - side*math.Sqrt(bore*bore-side*side)
		area -= math.Pi*bore*bore - 8*segment
	} else {
		area -= math.Pi * bore * bore
	}
	n := float64(len(profile.Cores()))
	whole := n * area * values["depth"]
	tip := n * area
	return whole - tip/2, tip/2 + 0.1*whole
}

// capOf returns the block of the file that asks for a cap on a bar's end, or nil where the part is no cap or sits on another bar.
func (s *fitScene) capOf(part, bar *placedSolid) *frame.Bracket {
	for _, b := range s.j.Frame.Brackets {
		if b.Kind == "end-cap" && bar.bar != nil && part.name == fmt.Sprintf("%s %s %s (end-cap)", part.part.Mark, bar.name, b.End) && slices.Contains(b.On, bar.bar) {
			return b
		}
	}
	return nil
}

// pinsShare measures what the pins of a cap share with the bores, along the bar: lines so near to each other that the tips of the
// octagon's corners, some hundredths of a millimetre high, are seen.
func pinsShare(part, bar *placedSolid, profile *geom.Profile) float64 {
	sum, r := 0.0, profile.Core/2+0.3
	for _, c := range profile.Cores() {
		box := geom.Box{Low: geom.Vec{X: c.X - r, Y: c.Y - r, Z: -100}, High: geom.Vec{X: c.X + r, Y: c.Y + r, Z: 100}}
		v, _ := combOf(part, bar, box, geom.Z, 0.02).common(0)
		sum += v
	}
	return sum
}

// TestPanelClipSqueezes lays a panel under a clip's lip: they share the lip's area, the two corners of which are rounded with 2 mm, by the
// squeeze. That is what the rule overlap lets be.
func TestPanelClipSqueezes(t *testing.T) {
	s := newFitScene(t, openText(t, cube))
	for _, p := range s.parts {
		r := p.part.Result
		if r.Kind != "panel-clip" {
			continue
		}
		const panel, squeeze, lap = 4, 0.2, 8 // the defaults that barwright bracket lists
		own := p.moved(p.place.Inverse())
		foot, width := own.box.High.Y-lap, own.box.Size().X
		board := geom.PrismPolyhedron(geom.Identity(), []geom.Vec2{{X: -40, Y: foot}, {X: 40, Y: foot}, {X: 40, Y: foot + 60}, {X: -40, Y: foot + 60}}, 0, panel)
		b := &placedSolid{name: "board", box: board.Box()}
		for _, f := range board.Faces {
			n := uint32(len(b.points))
			b.points = append(b.points, f...)
			b.tris = append(b.tris, [3]uint32{n, n + 1, n + 2}, [3]uint32{n, n + 2, n + 3})
		}
		want := squeeze * (width*lap - 2*(1-math.Pi/4)*2*2)
		v, deep := combOf(own, b, own.box, geom.Z, 0.1).common(1e-6)
		if math.Abs(v-want) > 0.02*want || math.Abs(deep-squeeze) > 1e-4 {
			t.Errorf("%s: the lip presses %.3f mm³ of the panel, up to %.4f mm deep; want %.3f and %g", p.name, v, deep, want, squeeze)
		}
		if got := r.Squeeze(); got < want || got > 1.05*want {
			t.Errorf("%s: %.3f mm³ of squeeze are let be, want %.3f", p.name, got, want)
		}
		return
	}
	t.Error("the frame has no panel clip")
}
