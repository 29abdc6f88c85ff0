package drawing

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"testing"

	"barwright/geom"
)

// dxfEntity is one entity as its pairs of group code and value.
type dxfEntity struct {
	kind string
	tags map[int]string
}

func (e dxfEntity) num(t *testing.T, code int) float64 {
	v, err := strconv.ParseFloat(e.tags[code], 64)
	if err != nil {
		t.Fatalf("%s: group %d is %q", e.kind, code, e.tags[code])
	}
	return v
}

// readDXF splits a file into the entities of its last section.
func readDXF(t *testing.T, b []byte) []dxfEntity {
	lines := strings.Split(strings.TrimRight(string(b), "\n"), "\n")
	if len(lines)%2 != 0 {
		t.Fatal("an odd number of lines")
	}
	var out []dxfEntity
	in := false
	for i := 0; i < len(lines); i += 2 {
		code, err := strconv.Atoi(strings.TrimSpace(lines[i]))
		if err != nil {
			t.Fatalf("line %d: %v", i+1, err)
		}
		value := strings.TrimSpace(lines[i+1])
		switch {
		case code == 2 && value == "ENTITIES":
			in = true
		case !in:
		case code == 0 && (value == "ENDSEC" || value == "EOF"):
			in = false
		case code == 0:
			out = append(out, dxfEntity{value, map[int]string{}})
		default:
			out[len(out)-1].tags[code] = value
		}
	}
	return out
}

// TestSectionDXFIsExact: lines and arcs of the file enclose the area of the section, by Green's theorem.
func TestSectionDXFIsExact(t *testing.T) {
	for _, name := range []string{"20x20-6", "30x60-8", "80x80-10"} {
		p := profile(t, name)
		var b bytes.Buffer
		if err := WriteSectionDXF(&b, p); err != nil {
			t.Fatal(err)
		}
		var region geom.Region
		var area float64
		for _, e := range readDXF(t, b.Bytes()) {
			if e.tags[8] != "OUTLINE" {
				t.Errorf("layer %q", e.tags[8])
			}
			c := vec(e.num(t, 10), e.num(t, 20))
			switch e.kind {
			case "LINE":
				region = append(region, geom.Loop{geom.Line(c, vec(e.num(t, 11), e.num(t, 21)))})
			case "ARC":
				r, a, z := e.num(t, 40), e.num(t, 50)*math.Pi/180, e.num(t, 51)*math.Pi/180
				at := func(a float64) geom.Vec2 { return c.Add(vec(r*math.Cos(a), r*math.Sin(a))) }
				region = append(region, geom.Loop{geom.Arc(at(a), at(z), c, 1)})
			case "CIRCLE":
				area -= math.Pi * e.num(t, 40) * e.num(t, 40)
			default:
				t.Errorf("entity %s", e.kind)
			}
		}
		if got, want := area+region.Area(), p.Region().Area(); math.Abs(got-want) > 1e-3 {
			t.Errorf("%s: the file encloses %.4f mm², the section has %.4f", name, got, want)
		}
	}
}

// TestSheetDXF: every operation is there on its layer, in ASCII.
func TestSheetDXF(t *testing.T) {
	sheets, err := PartSheets(workshopFrame(t), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range sheets {
		var b bytes.Buffer
		if err := WriteDXF(&b, s); err != nil {
			t.Fatal(err)
		}
		for _, c := range b.Bytes() {
			if c > 0x7e {
				t.Fatalf("%s: byte %#x (release 12 has ASCII)", s.Name, c)
			}
		}
		count := map[string]int{}
		for _, e := range readDXF(t, b.Bytes()) {
			count[e.kind+" "+e.tags[8]]++
		}
		if got, want := count["TEXT DIMENSION"], len(s.Texts(Dimension)); got != want {
			t.Errorf("%s: %d dimension texts, want %d", s.Name, got, want)
		}
		if count["CIRCLE OUTLINE"] == 0 || count["LINE OUTLINE"] == 0 || count["LINE BORDER"] == 0 {
			t.Errorf("%s: %v", s.Name, count)
		}
	}
}
