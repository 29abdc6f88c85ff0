package job

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"barwright/internal/outside"
)

// writeSolid writes a solid as the reader of pairs takes it: counts as uint32, points as float32, little endian.
func writeSolid(w *bytes.Buffer, s *placedSolid) {
	put := func(v any) { binary.Write(w, binary.LittleEndian, v) }
	put(uint32(len(s.points)))
	for _, p := range s.points {
		put([3]float32{float32(p.X), float32(p.Y), float32(p.Z)})
	}
	put(uint32(len(s.tris)))
	put(s.tris)
}

// Volumes in mm³ up to which manifold-3d's boolean of two solids that only touch may differ from 0. Both are brought into the part's own
// coordinates, where its faces on square bars lie on round figures; the far ends of a bar of 1 m round to 0.00003 mm in float32,
// which over 1500 mm² of contact is 0.05. A slanting plane of a foot has a normal of integers up to 2¹⁴, so that it is turned by half a step, 2⁻¹⁵, against
// the brace's face: over a leg of 45 × 39 mm that is 45²/2·39·2⁻¹⁵ mm³.
const (
	touchSquare = 0.05
	touchSlant  = 45 * 45 / 2 * 39 / 32768.0
)

// TestPartsShareNothingByManifold has manifold-3d (Lalish and others, an open geometry kernel) intersect each printed part in its place with
// every machined bar, panel and other printed part near it: volume 0, or what a cap's pins are meant to bite.
func TestPartsShareNothingByManifold(t *testing.T) {
	node := outside.Program(t, "node")
	here, err := filepath.Abs("../testdata/external/node_modules")
	if err != nil {
		t.Fatal(err)
	}
	modules := outside.Module(t, here, "manifold-3d")
	eachFitScene(t, func(t *testing.T, s *fitScene) {
		type pair struct {
			name              string
			want, play, limit float64
		}
		var pairs []pair
		var solids bytes.Buffer
		s.pairs(func(a, b *placedSolid) {
			want, play := s.meantOverlap(a, b)
			limit := touchSquare
			if a.part.Result.Kind == "brace-foot" {
				limit = touchSlant
			}
			pairs = append(pairs, pair{a.name + " and " + b.name, want, play, limit})
			back := a.place.Inverse()
			writeSolid(&solids, a.moved(back))
			writeSolid(&solids, b.moved(back))
		})
		file := filepath.Join(t.TempDir(), "pairs")
		count := binary.LittleEndian.AppendUint32(nil, uint32(len(pairs)))
		if err := os.WriteFile(file, append(count, solids.Bytes()...), 0o644); err != nil {
			t.Fatal(err)
		}
		cmd := exec.Command(node, "../mesh/bracket/testdata/overlap.mjs", file, modules)
		cmd.Stderr = os.Stderr
		out, err := cmd.Output()
		if err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(strings.TrimSpace(string(out)), "\n")
		if len(lines) != len(pairs) || len(pairs) < len(s.parts) {
			t.Fatalf("%d answers for %d pairs of %d parts", len(lines), len(pairs), len(s.parts))
		}
		square, slant := 0.0, 0.0
		for i, l := range lines {
			var a struct {
				Status []string
				Volume float64
			}
			if err := json.Unmarshal([]byte(l), &a); err != nil {
				t.Fatal(err)
			}
			p := pairs[i]
			if a.Status[0] != "NoError" || a.Status[1] != "NoError" {
				t.Errorf("%s: %v", p.name, a.Status)
			}
			off := math.Abs(a.Volume - p.want)
			if off > p.limit+p.play {
				t.Errorf("%s: they share %.4f mm³, %.4f ± %.4f is meant", p.name, a.Volume, p.want, p.limit+p.play)
			}
			if p.limit == touchSlant {
				slant = math.Max(slant, off)
			} else if p.want == 0 {
				square = math.Max(square, off)
			}
		}
		t.Logf("%d pairs; square ones share at most %.5f mm³, at braces %.4f", len(pairs), square, slant)
	})
}
