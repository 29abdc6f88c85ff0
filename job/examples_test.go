package job

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"barwright/check"
	"barwright/frame"
	"barwright/internal/outside"
)

// examples returns the frame files that a newcomer can build.
func examples(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob("../examples/*/frame.hcl")
	if err != nil || len(files) < 2 {
		t.Fatalf("%d examples found (%v); want at least two", len(files), err)
	}
	return files
}

// built builds an example into a temporary folder.
func built(t *testing.T, file string) (*Job, string) {
	t.Helper()
	j, err := Open(file, nil)
	if err != nil {
		t.Fatal(err)
	}
	out, err := j.Build(filepath.Join(t.TempDir(), "out"))
	if err != nil {
		t.Fatal(err)
	}
	return j, out
}

func TestExamplesBuild(t *testing.T) {
	for _, file := range examples(t) {
		t.Run(filepath.Base(filepath.Dir(file)), func(t *testing.T) {
			j, out := built(t, file)
			for _, g := range j.Findings {
				if g.Severity != check.Note {
					t.Errorf("finding: %s: %s", g.Rule, g.Message)
				}
			}
			svgs, err := filepath.Glob(filepath.Join(out, "drawings", "*.svg"))
			if err != nil || len(svgs) < 1+len(j.Frame.Parts) {
				t.Errorf("%d sheets for %d parts", len(svgs), len(j.Frame.Parts))
			}
			for _, svg := range svgs {
				if err := wellFormed(svg); err != nil {
					t.Errorf("%s: %v", filepath.Base(svg), err)
				}
			}
			checkReport(t, j.Frame, filepath.Join(out, "report.json"))
			checkPDF(t, j.Frame, filepath.Join(out, "drawings.pdf"), len(svgs))
		})
	}
}

// wellFormed reads a file as XML to its end.
func wellFormed(path string) error {
	b, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	d := xml.NewDecoder(bytes.NewReader(b))
	for elements := 0; ; elements++ {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			if elements < 10 {
				return fmt.Errorf("only %d tokens", elements)
			}
			return nil
		} else if err != nil {
			return err
		}
	}
}

// checkReport reads report.json back and holds its laws: lengths follow from the boxes, quantities
// from the members, and every part's machining lies on its bar.
func checkReport(t *testing.T, f *frame.Frame, path string) {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var r struct {
		Members []struct {
			Name     string     `json:"name"`
			Mark     string     `json:"mark"`
			Along    string     `json:"along"`
			LengthMM float64    `json:"length_mm"`
			Low      [3]float64 `json:"low_mm"`
			High     [3]float64 `json:"high_mm"`
			End1     string     `json:"end_1"`
			Faces    []string   `json:"faces"`
		} `json:"members"`
		Parts []struct {
			Mark      string  `json:"mark"`
			Quantity  int     `json:"quantity"`
			LengthMM  float64 `json:"length_mm"`
			Machining []struct {
				Kind string   `json:"kind"`
				From *float64 `json:"from_end_1_mm"`
			} `json:"machining"`
		} `json:"parts"`
	}
	if err := json.Unmarshal(b, &r); err != nil {
		t.Fatal(err)
	}
	if len(r.Members) != len(f.Members) || len(r.Parts) != len(f.Parts) || len(r.Parts) == 0 {
		t.Fatalf("report has %d members and %d parts; the frame %d and %d", len(r.Members), len(r.Parts), len(f.Members), len(f.Parts))
	}
	count := map[string]int{}
	// A brace looks between two sides: "top-left" is opposite to "bottom-right".
	across := strings.NewReplacer("left", "right", "right", "left", "front", "back", "back", "front", "bottom", "top", "top", "bottom")
	for _, m := range r.Members {
		count[m.Mark]++
		if axis := strings.Index("xyz", m.Along); axis >= 0 && m.High[axis]-m.Low[axis] != m.LengthMM {
			t.Errorf("%s is %g long, its box %g", m.Name, m.LengthMM, m.High[axis]-m.Low[axis])
		}
		// Faces 1 and 3, 2 and 4 look opposite ways, and none along the bar.
		if len(m.Faces) != 4 || m.Faces[2] != across.Replace(m.Faces[0]) || m.Faces[3] != across.Replace(m.Faces[1]) || slices.Contains(m.Faces, m.End1) {
			t.Errorf("%s: faces %v with end 1 %s", m.Name, m.Faces, m.End1)
		}
	}
	for _, p := range r.Parts {
		if p.Quantity != count[p.Mark] {
			t.Errorf("%s: quantity %d, but %d members", p.Mark, p.Quantity, count[p.Mark])
		}
		for _, m := range p.Machining {
			if m.Kind == "hole" && (m.From == nil || *m.From <= 0 || *m.From >= p.LengthMM) {
				t.Errorf("%s: a hole off the bar", p.Mark)
			}
		}
	}
}

// checkPDF lets poppler read the drawings: the pages, and every mark, length and hole callout in the text.
func checkPDF(t *testing.T, f *frame.Frame, path string, sheets int) {
	t.Helper()
	info, err := exec.Command(outside.Program(t, "pdfinfo"), path).Output()
	if err != nil {
		t.Fatal(err)
	}
	if want := fmt.Sprintf("Pages: %d\n", sheets); !strings.Contains(strings.Join(strings.Fields(string(info)), " ")+" ", strings.TrimSpace(want)+" ") {
		t.Errorf("pdfinfo says %q; want %d pages", info, sheets)
	}
	text, err := exec.Command(outside.Program(t, "pdftotext"), "-layout", path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	pages := strings.Split(string(text), "\f")
	for _, p := range f.Parts {
		page := ""
		for _, q := range pages {
			if strings.Contains(q, "Part "+p.Mark+":") {
				page += q
			}
		}
		want := []string{p.Mark, Length(p.Bar.Length), p.Bar.Profile.Name}
		for _, h := range p.Bar.Holes {
			want = append(want, "⌀"+Length(h.Diameter))
		}
		for _, tap := range p.Bar.Taps {
			want = append(want, tap.Thread+"-6H × "+Length(tap.Depth))
		}
		for _, s := range want {
			if !strings.Contains(page, s) {
				t.Errorf("the sheet of %s lacks %q", p.Mark, s)
			}
		}
	}
}
