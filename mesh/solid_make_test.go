package mesh

import (
	"slices"
	"strings"
	"testing"

	"barwright/frame"
)

// TestSolidsAreThoseOfOneByOne makes bars of all kinds together, twice, and each alone: room kept from one bar must not show in the next.
func TestSolidsAreThoseOfOneByOne(t *testing.T) {
	ps := sweepProfiles(t)
	var bars []*frame.Bar
	var alone []*Mesh
	for seed := uint64(0); len(bars) < 60; seed++ {
		b := randomBar(t, ps, seed)
		m, err := Solid(&b, DefaultTolerance)
		if err == errNothingLeft {
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		bars, alone = append(bars, &b), append(alone, m)
	}
	for range 2 {
		together, _, err := Solids(bars, DefaultTolerance)
		if err != nil {
			t.Fatal(err)
		}
		for i, m := range together {
			w := alone[i]
			if !slices.Equal(m.Points, w.Points) || !slices.Equal(m.Triangles, w.Triangles) || !slices.Equal(m.Surfaces, w.Surfaces) {
				t.Errorf("bar %d differs from the one made alone", i)
			}
		}
	}
}

func TestSolidsNameTheFirstBadBar(t *testing.T) {
	good := benchBar(t, 0)
	long, none := *good, *good
	long.Length, none.Profile = 1e9, nil
	_, i, err := Solids([]*frame.Bar{good, &long, good, &none}, DefaultTolerance)
	if i != 1 || err == nil || !strings.Contains(err.Error(), "1e+09 mm long") {
		t.Errorf("bar %d: %v; want bar 1, which is too long", i, err)
	}
	if m, i, err := Solids(nil, DefaultTolerance); len(m) != 0 || i != -1 || err != nil {
		t.Errorf("no bars: %v, %d, %v", m, i, err)
	}
	if _, i, err := Solids([]*frame.Bar{good}, 0); i != -1 || err == nil {
		t.Errorf("no tolerance: %d, %v", i, err)
	}
}
