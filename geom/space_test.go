package geom

import (
	"math"
	"testing"
)

func TestVec(t *testing.T) {
	a, b := Vec{1, 2, 3}, Vec{-4, 5, 0.5}
	if got := a.Add(b).Sub(b); got != a {
		t.Errorf("add and take away: %v", got)
	}
	if got := a.Cross(b); math.Abs(got.Dot(a)) > 1e-12 || math.Abs(got.Dot(b)) > 1e-12 || got != (Vec{-14, -12.5, 13}) {
		t.Errorf("cross %v", got)
	}
	if X.Unit().Cross(Y.Unit()) != Z.Unit() || Y.Unit().Cross(Z.Unit()) != X.Unit() {
		t.Error("the axes are not right-handed")
	}
	if (Vec{2, 3, 6}).Len() != 7 || (Vec{2, 3, 6}).Dist(Vec{}) != 7 {
		t.Error("length of 2 3 6")
	}
	if (Vec{}).Unit() != (Vec{}) || (Vec{0, -3, 0}).Unit() != (Vec{0, -1, 0}) {
		t.Error("unit")
	}
	for _, ax := range []Axis{X, Y, Z} {
		if got := a.With(ax, 9).Along(ax); got != 9 {
			t.Errorf("with %s: %g", ax, got)
		}
		u, v := ax.Others()
		if u == ax || v == ax || u >= v {
			t.Errorf("others of %s: %s %s", ax, u, v)
		}
		if got := a.With(ax, 9); got.Along(u) != a.Along(u) || got.Along(v) != a.Along(v) {
			t.Errorf("with %s changed more", ax)
		}
	}
	if X.String()+Y.String()+Z.String() != "xyz" {
		t.Error("names of axes")
	}
}

func TestVec2Quarter(t *testing.T) {
	v := Vec2{3, 0.1}
	for n, want := range map[int]Vec2{0: {3, 0.1}, 1: {-0.1, 3}, 2: {-3, -0.1}, 3: {0.1, -3}, 4: {3, 0.1}, -1: {0.1, -3}, -5: {0.1, -3}} {
		if got := v.Quarter(n); got != want {
			t.Errorf("%d quarters: %v, want %v", n, got, want)
		}
	}
	if v.Cross(v.Quarter(1)) <= 0 || v.Dot(v.Quarter(1)) != 0 {
		t.Error("a quarter turn is counter-clockwise and square")
	}
}

// sample returns motions that mix turns and shifts.
func sample() []Motion {
	s, c := math.Sincos(0.7)
	turn := Motion{EX: Vec{c, s, 0}, EY: Vec{-s, c, 0}, EZ: Vec{0, 0, 1}, T: Vec{1, 2, 3}}
	tip := Motion{EX: Vec{0, 0, -1}, EY: Vec{0, 1, 0}, EZ: Vec{1, 0, 0}, T: Vec{-5, 0, 7}}
	return []Motion{Identity(), Shift(Vec{4, -5, 6}), turn, tip, turn.Then(tip), tip.Then(turn).Then(turn)}
}

func TestMotionLaws(t *testing.T) {
	points := []Vec{{}, {1, 0, 0}, {0, 2, 0}, {0, 0, -3}, {4, 5, 6}}
	for i, m := range sample() {
		for _, p := range points {
			if d := m.Inverse().Apply(m.Apply(p)).Dist(p); d > 1e-12 {
				t.Errorf("motion %d: inverse misses %v by %g", i, p, d)
			}
			if d := m.Unapply(m.Apply(p)).Dist(p); d > 1e-12 {
				t.Errorf("motion %d: unapply misses %v by %g", i, p, d)
			}
			if d := m.Unturn(m.Turn(p)).Dist(p); d > 1e-12 {
				t.Errorf("motion %d: unturn misses %v by %g", i, p, d)
			}
			for _, q := range points {
				if d := m.Apply(p).Dist(m.Apply(q)) - p.Dist(q); math.Abs(d) > 1e-12 {
					t.Errorf("motion %d changes a distance by %g", i, d)
				}
			}
			for j, n := range sample() {
				if d := m.Then(n).Apply(p).Dist(n.Apply(m.Apply(p))); d > 1e-12 {
					t.Errorf("motions %d then %d: %g", i, j, d)
				}
			}
		}
		if d := m.EX.Cross(m.EY).Dist(m.EZ); d > 1e-12 {
			t.Errorf("motion %d is no rotation: %g", i, d)
		}
	}
	if got := Shift(Vec{1, 2, 3}).Apply(Vec{1, 1, 1}); got != (Vec{2, 3, 4}) {
		t.Errorf("shift: %v", got)
	}
}

func TestMotionBox(t *testing.T) {
	quarter := Motion{EX: Vec{0, 1, 0}, EY: Vec{-1, 0, 0}, EZ: Vec{0, 0, 1}, T: Vec{10, 0, 0}}
	got := quarter.ApplyBox(Box{Vec{1, 2, 3}, Vec{4, 6, 8}})
	if want := (Box{Vec{4, 1, 3}, Vec{8, 4, 8}}); got != want {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestBox(t *testing.T) {
	a, b := Box{Vec{0, 0, 0}, Vec{2, 3, 4}}, Box{Vec{1, 1, 1}, Vec{5, 5, 5}}
	if got := a.Union(b); got != (Box{Vec{0, 0, 0}, Vec{5, 5, 5}}) {
		t.Errorf("union %v", got)
	}
	if got := a.Intersect(b); got != (Box{Vec{1, 1, 1}, Vec{2, 3, 4}}) || got.Volume() != 6 {
		t.Errorf("intersection %v of volume %g", got, got.Volume())
	}
	e := EmptyBox()
	if !e.Empty() || e.Union(a) != a || e.Volume() != 0 || !e.Intersect(a).Empty() || e.Overlaps(a) {
		t.Error("the empty box")
	}
	if got := e.Extend(Vec{1, 2, 3}); got != (Box{Vec{1, 2, 3}, Vec{1, 2, 3}}) || got.Empty() || got.Volume() != 0 {
		t.Errorf("a point's box %v", got)
	}
	if a.Centre() != (Vec{1, 1.5, 2}) || a.Size() != (Vec{2, 3, 4}) || a.Volume() != 24 {
		t.Error("centre, size, volume")
	}
	if got := a.Grow(1).Move(Vec{1, 1, 1}); got != (Box{Vec{0, 0, 0}, Vec{4, 5, 6}}) {
		t.Errorf("grown and moved %v", got)
	}
	// Boxes that touch, or reach into each other by no more than rounding, do not overlap.
	touching := a.Move(Vec{2, 0, 0})
	if a.Overlaps(touching) || !a.Overlaps(touching.Move(Vec{-2 * Coincident, 0, 0})) || a.Overlaps(touching.Move(Vec{-Coincident / 2, 0, 0})) {
		t.Error("overlap of touching boxes")
	}
	corners := a.Corners()
	if corners[0] != a.Low || corners[7] != a.High || corners[1] != (Vec{2, 0, 0}) || corners[2] != (Vec{0, 3, 0}) || corners[4] != (Vec{0, 0, 4}) {
		t.Errorf("corners %v", corners)
	}
}
