package drawing

import (
	"math"
	"strings"
	"testing"

	"barwright/geom"
)

// TestBorder: trimmed sizes, margins and drawing space of ISO 5457 table 1, typed from the table.
func TestBorder(t *testing.T) {
	for _, c := range []struct {
		name                         string
		width, height, inner, upward float64
		columns, rows                int
	}{
		{"A4", 210, 297, 180, 277, 4, 6}, {"A3", 420, 297, 390, 277, 8, 6},
		{"A2", 594, 420, 564, 400, 12, 8}, {"A1", 841, 594, 811, 574, 16, 12},
	} {
		size, ok := SizeOf(c.name)
		if !ok || size.Width != c.width || size.Height != c.height {
			t.Fatalf("%s: %+v", c.name, size)
		}
		s := &Sheet{Size: size}
		s.DrawBorder()
		frame := s.Ops[0].(*Stroke)
		low, high := frame.Bounds()
		if low != vec(20, 10) || high != vec(20+c.inner, 10+c.upward) {
			t.Errorf("%s: border from %v to %v", c.name, low, high)
		}
		var letters, numbers int
		for _, x := range s.Texts(Grid) {
			if x.Height != 3.5 {
				t.Errorf("%s: field text %g high, want 3.5", c.name, x.Height)
			}
			if strings.ContainsAny(x.String, "IO") {
				t.Errorf("%s: letter %s is not used (ISO 5457)", c.name, x.String)
			}
			if x.String[0] >= 'A' {
				letters++
			} else {
				numbers++
			}
		}
		sides := 2
		if c.name == "A4" { // top and right only
			sides = 1
		}
		if numbers != c.columns*sides || letters != c.rows*sides {
			t.Errorf("%s: %d by %d field names, want %d by %d on %d sides (ISO 5457 table 2, recalled)", c.name, numbers, letters, c.columns, c.rows, sides)
		}
		if got := s.Verify(); len(got) > 0 {
			t.Errorf("%s: %v", c.name, got[0])
		}
	}
}

func TestTitleBlock(t *testing.T) {
	long := strings.Repeat("Very long value ", 30)
	for _, b := range []TitleBlock{
		{},
		{Owner: "Workshop", Number: "FC-100-A1", Revision: "B", Date: "2026-03-01", Title: "Cutter", Supplement: "Part", DocumentType: "Part drawing",
			Creator: "A. Maker", Approver: "B. Checker", Scale: "1:2", Projection: "first", Tolerance: "ISO 2768-m", Material: "EN AW-6060 T66",
			Mass: "0.7 kg", Quantity: "4", Fingerprint: "1a2b3c4d", Settings: "width = 900", NotForManufacture: true},
		{Owner: long, Number: long, Revision: long, Date: long, Title: long, Supplement: long, DocumentType: long, Creator: long, Approver: long,
			Department: long, Scale: long, Tolerance: long, Material: long, Mass: long, Quantity: long, Fingerprint: long, Settings: long + long + long},
	} {
		for _, name := range []string{"A4", "A3", "A1"} {
			size, _ := SizeOf(name)
			s := &Sheet{Size: size}
			s.DrawBorder()
			a := s.DrawTitleBlock(b)
			if got := s.Verify(); len(got) > 0 {
				t.Errorf("%s: %v", name, got[0])
			}
			// 180 mm wide in the lower right corner of the drawing space (ISO 7200, ISO 5457).
			if math.Abs(a.Width()-180) > 1e-9 || a.High.X != size.Width-10 || a.Low.Y != 10 {
				t.Errorf("%s: block %+v", name, a)
			}
			all := ""
			for _, x := range s.Texts(Title, Stamp) {
				all += x.String + "\n"
			}
			// The mandatory fields of ISO 7200:2004.
			for _, f := range []string{"Legal owner", "Identification number", "Date of issue", "Sheet", "Title", "Approved by", "Created by", "Document type"} {
				if !strings.Contains(all, f) {
					t.Errorf("%s: no field %q", name, f)
				}
			}
			if strings.Contains(all, "NOT FOR MANUFACTURE") != b.NotForManufacture {
				t.Errorf("%s: stamp is wrong", name)
			}
			for _, v := range []string{b.Owner, b.Number, b.Date, b.Scale, b.Material, b.Mass, b.Fingerprint} {
				if len(v) < 30 && !strings.Contains(all, v) {
					t.Errorf("%s: value %q is not shown", name, v)
				}
			}
		}
	}
}

// TestProjectionSymbol: the end view shows the small end; in first angle it lies on the side away from
// that end, in third angle on its side (ISO 5456-2). Both circles are full, 1 to 2.
func TestProjectionSymbol(t *testing.T) {
	for _, p := range []string{"first", "third"} {
		s := blank()
		s.drawProjection(vec(100, 100), p)
		var cone *Stroke
		var rings []*Arc
		for _, op := range s.Ops {
			if roleOf(op) != Symbol {
				continue
			}
			switch op := op.(type) {
			case *Stroke:
				cone = op
			case *Arc:
				rings = append(rings, op)
			}
		}
		low, high := cone.Bounds()
		tall := map[bool]float64{}
		for _, q := range cone.Points {
			tall[q.X == low.X] = math.Max(tall[q.X == low.X], q.Y-100)
		}
		smallLeft := tall[true] < tall[false]
		ringsLeft := rings[0].Centre.X < low.X
		if ringsLeft != (p == "third") || !smallLeft {
			t.Errorf("%s angle: small end left %v, circles left %v", p, smallLeft, ringsLeft)
		}
		if math.Abs(rings[1].Radius/rings[0].Radius-2) > 1e-9 || math.Abs((high.X-low.X)-2*rings[1].Radius) > 1e-9 {
			t.Errorf("%s angle: proportions", p)
		}
	}
}

// TestLengthMap: what is kept is at scale, the order is kept, the ends are where they are, a bar that fits is not broken.
func TestLengthMap(t *testing.T) {
	f := workshopFrame(t)
	for _, p := range f.Parts {
		for _, width := range []float64{150, 250, 3000} {
			m, ok := newLengthMap(&p.Bar, 0.5, width)
			if !ok {
				continue
			}
			if got := m.width(); got > width+1e-9 {
				t.Errorf("%s: %g wide in %g", p.Mark, got, width)
			}
			if p.Bar.Length*0.5 <= width && len(m.pieces) > 1 {
				t.Errorf("%s: broken though it fits", p.Mark)
			}
			if m.at(0) != 0 || math.Abs(m.at(p.Bar.Length)-m.width()) > 1e-9 {
				t.Errorf("%s: ends at %g and %g", p.Mark, m.at(0), m.at(p.Bar.Length))
			}
			for _, h := range p.Bar.Holes {
				for _, d := range []float64{-h.Diameter / 2, h.Diameter / 2} {
					if got := m.at(h.Z+d) - m.at(h.Z); math.Abs(got-d*0.5) > 1e-9 {
						t.Errorf("%s: a hole at %g is drawn out of scale", p.Mark, h.Z)
					}
				}
			}
			last := -1.0
			for z := 0.0; z <= p.Bar.Length; z += 1 {
				if x := m.at(z); x < last-1e-9 {
					t.Fatalf("%s: %g comes before what is left of it", p.Mark, z)
				} else {
					last = x
				}
			}
		}
	}
}

// TestThreadEndView: bore as a full wide circle, nominal diameter as three quarters of a narrow circle open at the
// top right, 0.7 mm apart at least (ISO 6410-1).
func TestThreadEndView(t *testing.T) {
	f := workshopFrame(t)
	e := &endView{&Sheet{}, &f.Parts[1].Bar, 0, geom.Right, 2}
	e.draw()
	var bore, root *Arc
	for _, op := range e.Ops {
		if a, ok := op.(*Arc); ok && a.Centre == (geom.Vec2{}) {
			if a.Role == Thread {
				root = a
			} else if a.Role == Outline {
				bore = a
			}
		}
	}
	if bore == nil || root == nil {
		t.Fatal("bore or thread is missing")
	}
	// M8 in a core of 6.8, drawn 2:1.
	if bore.Radius != 6.8 || root.Radius != 8 || math.Abs(root.Sweep-1.5*math.Pi) > 1e-12 || root.Start != math.Pi/2 {
		t.Errorf("bore %+v, root %+v", bore, root)
	}
	small := &endView{&Sheet{}, &f.Parts[1].Bar, 0, geom.Right, 0.5}
	small.draw()
	for _, op := range small.Ops {
		if a, ok := op.(*Arc); ok && a.Role == Thread && a.Radius-1.7 < 0.7-1e-9 {
			t.Errorf("circles of a thread %.2f apart", a.Radius-1.7)
		}
	}
}

// TestEndViewsTurnClockwise: seen at end 1 the faces run clockwise 1, 2, 3, 4; seen at end 2 the other way.
func TestEndViewsTurnClockwise(t *testing.T) {
	f := workshopFrame(t)
	for end := range 2 {
		for face := range geom.Side(4) {
			e := &endView{&Sheet{}, &f.Parts[0].Bar, end, face, 1}
			for k := range geom.Side(4) {
				a, b := e.point(k.Normal()), e.point(((k + 1) % 4).Normal())
				clockwise := a.Cross(b) < 0
				if clockwise != (end == 0) {
					t.Errorf("end %d with face %d: faces %d and %d turn wrongly", end+1, face+1, k+1, (k+1)%4+1)
				}
			}
		}
	}
}
