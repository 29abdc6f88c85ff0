package drawing

import (
	"bytes"
	"os"
	"testing"
)

func TestLook(t *testing.T) {
	dir := os.Getenv("BARWRIGHT_LOOK")
	if dir == "" {
		t.Skip()
	}
	f := workshopFrame(t)
	for _, p := range f.Parts {
		o, _ := Options{}.settle(f)
		ss, err := partSheets(f, p, o)
		if err != nil {
			t.Errorf("%s: %v", p.Mark, err)
			a := newAttempt(f, p, o, "A3", 1, needsTable(&p.Bar), false)
			_, err = a.run()
			t.Log(err)
			if len(a.pages) == 0 {
				continue
			}
			ss = []*Sheet{a.pages[0].Sheet}
		}
		var b bytes.Buffer
		WritePDF(&b, &Book{Title: f.Title, Sheets: ss})
		os.WriteFile(dir+"/"+p.Mark+".pdf", b.Bytes(), 0o644)
		t.Log(p.Mark, len(ss), ss[0].Size.Name, b.Len())
	}
}
