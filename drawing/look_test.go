package drawing

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"testing"
)

func TestLook(t *testing.T) {
	dir := os.Getenv("BARWRIGHT_LOOK")
	if dir == "" {
		t.Skip()
	}
	f := workshopFrame(t)
	r := rand.New(rand.NewPCG(1, 2))
	parts := f.Parts
	for i := range 60 {
		p := randomPart(t, r, fmt.Sprintf("R%d", i+1))
		if i >= 40 {
			parts = append(parts, p)
		}
	}
	for _, p := range parts {
		o, _ := Options{NotForManufacture: p.Mark == "A2", Size: os.Getenv("BARWRIGHT_SIZE"), Projection: os.Getenv("BARWRIGHT_PROJ"), Units: os.Getenv("BARWRIGHT_UNITS")}.settle(f)
		ss, err := partSheets(f, p, o)
		if err != nil {
			t.Errorf("%s: %v", p.Mark, err)
			continue
		}
		var b bytes.Buffer
		WritePDF(&b, &Book{Title: f.Title, Sheets: ss})
		os.WriteFile(dir+"/"+p.Mark+".pdf", b.Bytes(), 0o644)
		t.Log(p.Mark, len(ss), ss[0].Size.Name, b.Len())
	}
}

func TestLookProfiles(t *testing.T) {
	dir := os.Getenv("BARWRIGHT_LOOK")
	if dir == "" {
		t.Skip()
	}
	for _, n := range []string{"20x20-6", "30x30-8", "40x80-10", "60x60-8", "40x160-10", "80x80-10"} {
		s, err := ProfileSheet(profile(t, n), ProfileProperties{Area: 321.5, Mass: 0.868, Ix: 31234, Iy: 31234, J: 1234}, TitleBlock{}, Options{})
		if err != nil {
			t.Error(err)
			continue
		}
		var b bytes.Buffer
		WritePDF(&b, &Book{Title: n, Sheets: []*Sheet{s}})
		os.WriteFile(dir+"/P"+n+".pdf", b.Bytes(), 0o644)
	}
}

func TestLookTemplates(t *testing.T) {
	dir := os.Getenv("BARWRIGHT_LOOK")
	if dir == "" {
		t.Skip()
	}
	f := workshopFrame(t)
	ss, err := DrillTemplates(f, Options{NotForManufacture: true})
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	WritePDF(&b, &Book{Title: "T", Sheets: ss})
	os.WriteFile(dir+"/T.pdf", b.Bytes(), 0o644)
	b.Reset()
	WriteDXF(&b, ss[0])
	os.WriteFile(dir+"/T.dxf", b.Bytes(), 0o644)
	sheets, _ := PartSheets(f, Options{})
	b.Reset()
	WriteDXF(&b, sheets[0])
	os.WriteFile(dir+"/A1.dxf", b.Bytes(), 0o644)
	b.Reset()
	WriteSectionDXF(&b, profile(t, "40x80-10"))
	os.WriteFile(dir+"/section.dxf", b.Bytes(), 0o644)
}
