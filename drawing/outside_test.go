package drawing

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"barwright/internal/outside"
)

// run runs an outside program and returns what it says.
func runReader(t *testing.T, path string, args ...string) string {
	t.Helper()
	out, err := exec.Command(path, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %v: %v\n%s", path, args, err, out)
	}
	return string(out)
}

// writeBook writes the part sheets of the workshop frame as a PDF and returns its path.
func writeBook(t *testing.T, o Options) (string, []*Sheet) {
	t.Helper()
	f := workshopFrame(t)
	sheets, err := PartSheets(f, o)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := WritePDF(&b, &Book{Title: f.Title, Sheets: sheets}); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "parts.pdf")
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return path, sheets
}

// word is a word that pdftotext found, in mm from the lower left corner.
type word struct {
	text                   string
	left, low, right, high float64
}

var (
	pageTag = regexp.MustCompile(`<page width="([0-9.]+)" height="([0-9.]+)">`)
	wordTag = regexp.MustCompile(`<word xMin="([-0-9.]+)" yMin="([-0-9.]+)" xMax="([-0-9.]+)" yMax="([-0-9.]+)">(.*?)</word>`)
)

// words reads the words of every page with pdftotext.
func pdfWords(t *testing.T, pdf string) [][]word {
	text := runReader(t, outside.Program(t, "pdftotext"), "-bbox", pdf, "-")
	var pages [][]word
	height := 0.0
	for _, line := range strings.Split(text, "\n") {
		if m := pageTag.FindStringSubmatch(line); m != nil {
			height, _ = strconv.ParseFloat(m[2], 64)
			pages = append(pages, nil)
		}
		if m := wordTag.FindStringSubmatch(line); m != nil {
			var v [4]float64
			for i := range v {
				v[i], _ = strconv.ParseFloat(m[i+1], 64)
			}
			const mm = 25.4 / 72
			w := word{unescape(m[5]), v[0] * mm, (height - v[3]) * mm, v[2] * mm, (height - v[1]) * mm}
			pages[len(pages)-1] = append(pages[len(pages)-1], w)
		}
	}
	return pages
}

func unescape(s string) string {
	return strings.NewReplacer("&lt;", "<", "&gt;", ">", "&quot;", `"`, "&#39;", "'", "&apos;", "'", "&amp;", "&").Replace(s)
}

// TestWordsOfThePDF: an outside reader finds every text of the record, no two words on each other, none outside the sheet.
func TestWordsOfThePDF(t *testing.T) {
	path, sheets := writeBook(t, Options{NotForManufacture: true})
	checkWords(t, sheets, pdfWords(t, path))
}

// fontLine is the height of a line of the font, from its ascent to its descent, over that of its capitals: 0.905 + 0.212 and 0.688 of
// the size by the font's own tables.
const fontLine = (0.905 + 0.212) / 0.688

// checkWords compares the words that an outside reader found with the texts of sheets.
func checkWords(t *testing.T, sheets []*Sheet, pages [][]word) {
	t.Helper()
	if len(pages) != len(sheets) {
		t.Fatalf("%d pages, want %d", len(pages), len(sheets))
	}
	for i, p := range pages {
		s := sheets[i]
		found := map[string]int{}
		for j, w := range p {
			found[w.text]++
			if w.left < 0 || w.low < 0 || w.right > s.Size.Width || w.high > s.Size.Height {
				t.Errorf("%s: %q leaves the sheet", s.Name, w.text)
			}
			// The box of a turned word has its height lying; a word of one letter may be narrower than high.
			// Symbols alone come from a font with other lines.
			if tall := math.Max(w.high-w.low, w.right-w.left); tall/fontLine < 2.5-0.02 && strings.Trim(w.text, "⌀⌴↧") != "" {
				t.Errorf("%s: the reader sees %q %.2f mm high", s.Name, w.text, tall/fontLine)
			}
			for _, o := range p[:j] {
				// The reader's boxes have the font's full line height, about 1.6 times that of a capital.
				d := math.Min(shrink(w), shrink(o))
				if w.left+d < o.right-d && o.left+d < w.right-d && w.low+d < o.high-d && o.low+d < w.high-d {
					t.Errorf("%s: %q on %q", s.Name, w.text, o.text)
				}
			}
		}
		for _, x := range s.Texts() {
			if x.Turn != 0 && x.Turn != math.Pi/2 {
				continue // the reader takes slanted words apart
			}
			for _, w := range pieces(x.String) {
				if found[w] == 0 {
					t.Errorf("%s: the reader does not find %q of %q", s.Name, w, x.String)
				}
				found[w]--
			}
		}
	}
}

// pieces splits a text as the reader does: at spaces and where the font changes.
func pieces(text string) []string {
	var out []string
	for _, r := range runs(text, 1) {
		out = append(out, strings.Fields(r.text)...)
	}
	return out
}

func shrink(w word) float64 { return 0.3 * math.Min(w.right-w.left, w.high-w.low) }

// TestWordsLieWhereMeasured: an outside reader sees texts as wide as this package measures them.
func TestWordsLieWhereMeasured(t *testing.T) {
	s := blank()
	want := map[string]*Text{}
	for i, text := range []string{"1015.5", "M8-6H", "⌀", "through", "AVATAR", "Fingerprint", "⌴", "EN"} {
		want[text] = s.Write(Note, vec(50, 50+20*float64(i)), 5, Left, text)
	}
	var b bytes.Buffer
	if err := WritePDF(&b, &Book{Title: "t", Sheets: []*Sheet{s}}); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "t.pdf")
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, w := range pdfWords(t, path)[0] {
		x := want[w.text]
		if x == nil {
			t.Errorf("unknown word %q", w.text)
			continue
		}
		n++
		if width := TextWidth(x.String, 5); math.Abs(w.left-50) > 0.05 || math.Abs(w.right-50-width) > 0.05 {
			t.Errorf("%q from %.2f to %.2f, measured %.2f", w.text, w.left, w.right, width)
		}
		if x.At.Y < w.low-0.1 || x.At.Y+5 > w.high+0.1 {
			t.Errorf("%q stands from %.2f to %.2f, base line %.2f", w.text, w.low, w.high, x.At.Y)
		}
	}
	if n != len(want) {
		t.Errorf("%d words, want %d", n, len(want))
	}
}

// TestTextOfThePDF: the plain text holds lengths and callouts as one would search for them.
func TestTextOfThePDF(t *testing.T) {
	path, _ := writeBook(t, Options{})
	text := runReader(t, outside.Program(t, "pdftotext"), "-layout", path, "-")
	for _, want := range []string{"FC-100-A1", "1110", "2× ⌀7 through", "M8-6H × 22, core bore as extruded", "⌴ ⌀15 ↧ 9", "2× M10-6H × 26, core bore as extruded", "M6-6H × 9, ⌀5 ↧ 12",
		"ISO 2768-m", "EN AW-6060 T66", "1a2b3c4d", "width = 900", "420.5", "45°", "1 / 10", "mirror image"} {
		if !strings.Contains(text, want) {
			t.Errorf("the text does not hold %q", want)
		}
	}
}

func TestPDFIsSound(t *testing.T) {
	path, sheets := writeBook(t, Options{})
	if out := runReader(t, outside.Program(t, "qpdf"), "--check", path); !strings.Contains(out, "No syntax or stream encoding errors") {
		t.Error(out)
	}
	// Bookmarks by mark: the titles of the outline as qpdf sees them.
	outline := runReader(t, outside.Program(t, "qpdf"), "--json", "--json-key=outlines", path)
	for _, p := range workshopFrame(t).Parts {
		if n := strings.Count(outline, fmt.Sprintf(`"title": "%s - `, p.Mark)); n != 1 {
			t.Errorf("%d bookmarks of %s", n, p.Mark)
		}
	}
	info := runReader(t, outside.Program(t, "pdfinfo"), path)
	if !regexp.MustCompile(fmt.Sprintf(`Pages: +%d\n`, len(sheets))).MatchString(info) || !strings.Contains(info, "Hot-wire foam cutter") || strings.Contains(info, "CreationDate") {
		t.Error(info)
	}
	for i, line := range strings.Split(strings.TrimSpace(runReader(t, outside.Program(t, "pdffonts"), path)), "\n") {
		// name, type, encoding, embedded, subset, unicode
		if i > 1 && !regexp.MustCompile(` yes yes yes `).MatchString(line) {
			t.Errorf("font not embedded as a subset with its characters: %s", line)
		}
	}
}

// TestSVGIsWellFormed reads every SVG with Go's XML reader and with xmllint.
func TestSVGIsWellFormed(t *testing.T) {
	f := workshopFrame(t)
	f.Title = `<Cutter> & "friends"`
	sheets, err := PartSheets(f, Options{})
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	var files []string
	for i, s := range sheets {
		for _, paths := range []bool{true, false} {
			var b bytes.Buffer
			if err := WriteSVG(&b, s, paths); err != nil {
				t.Fatal(err)
			}
			d := xml.NewDecoder(bytes.NewReader(b.Bytes()))
			texts := 0
			for {
				token, err := d.Token()
				if err == io.EOF {
					break
				}
				if err != nil {
					t.Fatalf("%s: %v", s.Name, err)
				}
				if e, ok := token.(xml.StartElement); ok && e.Name.Local == "text" {
					texts++
				}
			}
			if (texts == 0) != paths {
				t.Errorf("%s: %d text elements, as paths: %v", s.Name, texts, paths)
			}
			file := filepath.Join(dir, fmt.Sprint(i, paths, ".svg"))
			if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
			files = append(files, file)
		}
	}
	runReader(t, outside.Program(t, "xmllint"), append([]string{"--noout"}, files...)...)
}

// TestDXFIsSound audits part sheets and sections with ezdxf.
func TestDXFIsSound(t *testing.T) {
	python := outside.Program(t, "python3")
	if _, err := os.Stat("/usr/bin/python3"); err == nil {
		python = "/usr/bin/python3" // where Debian's packages are
	}
	if err := exec.Command(python, "-c", "import ezdxf").Run(); err != nil {
		outside.Missing(t, "python3-ezdxf")
	}
	dir := t.TempDir()
	sheets, err := PartSheets(workshopFrame(t), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"router", "drilled", "braced", "closed", "long", "upright"} {
		f, _ := load(t, frameFile(t, name))
		more, err := PartSheets(f, Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range more {
			s.Name = name + "-" + s.Name
		}
		sheets = append(sheets, more...)
	}
	var files []string
	save := func(name string, b []byte) {
		file := filepath.Join(dir, name+".dxf")
		if err := os.WriteFile(file, b, 0o644); err != nil {
			t.Fatal(err)
		}
		files = append(files, file)
	}
	for _, s := range sheets {
		var b bytes.Buffer
		if err := WriteDXF(&b, s); err != nil {
			t.Fatal(err)
		}
		save(s.Name, b.Bytes())
	}
	p := profile(t, "40x80-10")
	var b bytes.Buffer
	if err := WriteSectionDXF(&b, p); err != nil {
		t.Fatal(err)
	}
	save("section", b.Bytes())
	checkDXFs(t, python, files)
}

// checkDXFs audits files; the last one is the section of 40x80-10.
func checkDXFs(t *testing.T, python string, files []string) {
	t.Helper()
	script := `
import ezdxf, math, sys
for f in sys.argv[1:]:
    d = ezdxf.readfile(f)
    a = d.audit()
    # The area by Green's theorem over what the reader sees.
    area = 0.0
    for e in d.modelspace():
        if e.dxftype() == "CIRCLE": area -= math.pi * e.dxf.radius ** 2
    print(d.dxfversion, len(a.errors), len(a.fixes), len(d.modelspace()), sum(1 for e in d.modelspace() if e.dxftype() == "ARC"), area)
`
	out := strings.Split(strings.TrimSpace(runReader(t, python, append([]string{"-c", script}, files...)...)), "\n")
	if len(out) != len(files) {
		t.Fatalf("%d lines for %d files", len(out), len(files))
	}
	for i, line := range out {
		if !strings.HasPrefix(line, "AC1009 0 0 ") {
			t.Errorf("%s: %s", files[i], line)
		}
	}
	var arcs int
	var circles float64
	if _, err := fmt.Sscanf(out[len(out)-1], "AC1009 0 0 78 %d %g", &arcs, &circles); err != nil || arcs != 4 || math.Abs(circles+2*math.Pi*8.5*8.5/4) > 1e-6 {
		t.Errorf("section: %s", out[len(out)-1])
	}

}
