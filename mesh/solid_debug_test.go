package mesh

import "testing"

func debugBalance(t *testing.T, s *shape, tol float64) {
	b := builder{tolerance: tol}
	if err := b.prepare(s, 0); err != nil {
		t.Fatal(err)
	}
	b.run()
	for i, tl := range b.tools {
		t.Logf("tool %d: planes %d-%d sides %d axis %d", i, tl.first, tl.last, tl.sides, tl.axis)
	}
	bal := map[[2]int32]int{}
	for _, d := range b.edges {
		bal[[2]int32{d.face, d.a}]++
		bal[[2]int32{d.face, d.b}]--
	}
	n := 0
	for k, v := range bal {
		if v != 0 && n < 12 {
			n++
			key := b.corners.keys[k[1]]
			t.Logf("face %d vertex %v: %d at %v", k[0], key, v, b.place(key))
		}
	}
}
