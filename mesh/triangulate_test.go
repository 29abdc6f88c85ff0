package mesh

import (
	"strconv"
	"strings"
	"testing"
)

// faceCorpus holds faces as outlines "x,y x,y …" separated by "/": counter-clockwise outlines, clockwise holes. Areas are counted on squared paper.
var faceCorpus = []struct {
	name, face string
	area       int64 // twice
	triangles  int
}{
	{"square", "0,0 4,0 4,4 0,4", 32, 2},
	{"arrow", "0,0 4,0 1,1 0,4", 8, 2},
	{"corners on a straight side", "0,0 1,0 2,0 4,0 4,4 2,4 0,4 0,1", 32, 6},
	{"comb", "0,0 7,0 7,4 6,4 6,1 5,1 5,4 4,4 4,1 3,1 3,4 2,4 2,1 1,1 1,4 0,4", 38, 14},
	{"a hole", "0,0 6,0 6,6 0,6 / 2,2 2,4 4,4 4,2", 64, 8},
	{"a hole that touches the outline from inside", "0,0 6,0 6,6 0,6 0,3 / 0,3 2,4 2,2", 68, 5 + 3 - 2},
	{"two holes that touch", "0,0 8,0 8,6 0,6 / 2,2 2,4 4,3 / 4,3 6,4 6,2", 88, 4 + 6 - 2 + 2},
	{"two holes level with each other", "0,0 9,0 9,5 0,5 / 1,2 1,3 2,3 2,2 / 5,2 5,3 6,3 6,2", 86, 4 + 8 - 2 + 4},
	{"two outlines, a hole in the second", "0,0 2,0 2,2 0,2 / 4,0 9,0 9,5 4,5 / 5,1 5,2 6,2 6,1", 8 + 50 - 2, 2 + 8},
	{"an island in a hole", "0,0 9,0 9,9 0,9 / 2,2 2,7 7,7 7,2 / 4,4 5,4 5,5 4,5", 162 - 50 + 2, 8 + 2},
	{"two lobes that touch", "0,0 2,0 2,2 4,2 4,4 2,4 2,2 0,2", 16, 4},
}

// parseFace reads a face of the corpus: edges and the place of each point, equal places being one point.
func parseFace(t *testing.T, s string, turn int) ([]edge, [][3]int32) {
	var edges []edge
	var points table
	points.reset(16)
	for _, loop := range strings.Split(s, "/") {
		var l []int32
		for _, w := range strings.Fields(loop) {
			a, b, ok := strings.Cut(w, ",")
			x, err1 := strconv.Atoi(a)
			y, err2 := strconv.Atoi(b)
			if !ok || err1 != nil || err2 != nil {
				t.Fatalf("%q is no point", w)
			}
			for range turn {
				x, y = -y, x
			}
			l = append(l, points.number([3]int32{int32(x), int32(y), 0}))
		}
		for i := range l {
			edges = append(edges, edge{0, l[i], l[(i+1)%len(l)]})
		}
	}
	return edges, points.keys
}

// TestTriangulateCorpus triangulates each face at four quarter turns: the triangles must turn left, cover the area, and have the face's edges as their boundary.
func TestTriangulateCorpus(t *testing.T) {
	for _, c := range faceCorpus {
		for turn := range 4 {
			edges, points := parseFace(t, c.face, turn)
			tr := triangulator{solid: points, v: 1, local: make([]int32, len(points))}
			boundary := map[[2]int32]int{}
			n, area := 0, int64(0)
			tr.face(edges, func(a, b, d int32, flat bool) {
				o := orient(tr.flatten(a), tr.flatten(b), tr.flatten(d))
				if o <= 0 || flat {
					t.Errorf("%s, turned %d: a triangle of area %d", c.name, turn, o)
				}
				n, area = n+1, area+o
				for _, e := range [3][2]int32{{a, b}, {b, d}, {d, a}} {
					boundary[e]++
					boundary[[2]int32{e[1], e[0]}]--
				}
			})
			for _, e := range edges {
				boundary[[2]int32{e.a, e.b}]--
				boundary[[2]int32{e.b, e.a}]++
			}
			for e, k := range boundary {
				if k != 0 {
					t.Errorf("%s, turned %d: edge %v is left over", c.name, turn, e)
				}
			}
			if n != c.triangles || area != c.area {
				t.Errorf("%s, turned %d: %d triangles of area %d/2, want %d of %d/2", c.name, turn, n, area, c.triangles, c.area)
			}
		}
	}
}
