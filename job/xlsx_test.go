package job

import (
	"archive/zip"
	"bytes"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"barwright/frame"
	"barwright/internal/outside"
	"barwright/standard"
)

// workbook writes the lists of a frame and reads them back.
func workbook(t *testing.T, j *Job) ([]byte, *excelize.File) {
	t.Helper()
	p := planOf(t, j, CutOptions{})
	var out bytes.Buffer
	if err := WriteXLSX(&out, j.Frame, p); err != nil {
		t.Fatal(err)
	}
	book, err := excelize.OpenReader(bytes.NewReader(out.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { book.Close() })
	return out.Bytes(), book
}

const pricedStock = `stock "30x30-8" {
  bar    = [{ length = 6000, price = 1041.5 }]
  offcut = [1600]
}
`

// The cells are numbers with the formats that belong to them, and add up.
func TestWorkbookReadBack(t *testing.T) {
	j := jobOf(t, fourRails+pricedStock)
	_, book := workbook(t, j)
	if got := strings.Join(book.GetSheetList(), ", "); got != "Cut list, Bars, Cut plan, Hardware" {
		t.Fatalf("sheets %s", got)
	}
	for _, c := range []struct{ sheet, cell, shown, raw, format string }{
		{"Cut list", "A2", "A1", "A1", "@"},
		{"Cut list", "B2", "4", "4", "0"},
		{"Cut list", "D2", "1500.0", "1500", "0.0##"},
		{"Cut list", "G2", "cut square", "cut square", "@"},
		{"Cut list", "B3", "4", "4", "0"}, // the sum
		{"Bars", "B2", "6000.0", "6000", "0.0##"},
		{"Bars", "C2", "1", "1", "0"},
		{"Bars", "E2", "1,041.50", "1041.5", "#,##0.00"},
		{"Bars", "D3", "offcut", "offcut", "@"},
		{"Bars", "F4", "1,041.50", "1041.5", "#,##0.00"},
		{"Cut plan", "F2", "1500.0", "1500", "0.0##"},
	} {
		shown, err := book.GetCellValue(c.sheet, c.cell)
		if err != nil {
			t.Fatal(err)
		}
		raw, _ := book.GetCellValue(c.sheet, c.cell, excelize.Options{RawCellValue: true})
		id, _ := book.GetCellStyle(c.sheet, c.cell)
		style, err := book.GetStyle(id)
		if err != nil {
			t.Fatal(err)
		}
		format := ""
		if style.CustomNumFmt != nil {
			format = *style.CustomNumFmt
		}
		if shown != c.shown || raw != c.raw || format != c.format {
			t.Errorf("%s %s shows %q, holds %q, format %q; want %q, %q, %q", c.sheet, c.cell, shown, raw, format, c.shown, c.raw, c.format)
		}
		kind, _ := book.GetCellType(c.sheet, c.cell)
		if _, err := strconv.ParseFloat(c.raw, 64); err == nil && (kind == excelize.CellTypeSharedString || kind == excelize.CellTypeInlineString) {
			t.Errorf("%s %s is text, not a number", c.sheet, c.cell)
		}
	}
	mass, _ := book.GetCellValue("Cut list", "F3", excelize.Options{RawCellValue: true})
	if v, err := strconv.ParseFloat(mass, 64); err != nil || math.Abs(v-j.Frame.Weights().Bars) > 1e-4 {
		t.Errorf("mass in all %q; the frame has bars of %g", mass, j.Frame.Weights().Bars)
	}
}

// Headings stand still, every sheet prints its whole table with the headings on each page, the fingerprint under it.
func TestWorkbookPrints(t *testing.T) {
	j, err := Open("../examples/foam-cutter/frame.hcl", []string{"width=910"})
	if err != nil {
		t.Fatal(err)
	}
	data, book := workbook(t, j)
	area := map[string]string{}
	for _, n := range book.GetDefinedName() {
		area[n.Scope+"/"+n.Name] = n.RefersTo
	}
	for _, sheet := range book.GetSheetList() {
		panes, err := book.GetPanes(sheet)
		if err != nil || !panes.Freeze || panes.YSplit != 1 || panes.XSplit != 0 {
			t.Errorf("%s: headings are not frozen: %+v %v", sheet, panes, err)
		}
		rows, _ := book.GetRows(sheet)
		want := "'" + sheet + "'!$A$1:$"
		got := area[sheet+"/_xlnm.Print_Area"]
		if !strings.HasPrefix(got, want) || !strings.HasSuffix(got, "$"+strconv.Itoa(len(rows))) {
			t.Errorf("%s prints %s; it has %d rows", sheet, got, len(rows))
		}
		if got := area[sheet+"/_xlnm.Print_Titles"]; got != "'"+sheet+"'!$1:$1" {
			t.Errorf("%s repeats %q", sheet, got)
		}
		lay, err := book.GetPageLayout(sheet)
		if err != nil || lay.Orientation == nil || *lay.Orientation != "landscape" {
			t.Errorf("%s: %+v", sheet, lay)
		}
	}
	files := unzip(t, data)
	for name, text := range files {
		if strings.HasPrefix(name, "xl/worksheets/sheet") && (!strings.Contains(text, j.Frame.Fingerprint) || !strings.Contains(text, "width = 910")) {
			t.Errorf("%s does not print the fingerprint and what was set", name)
		}
	}
	if !strings.Contains(files["docProps/core.xml"], ">1980-01-01T00:00:00Z<") {
		t.Errorf("the file tells a time: %s", files["docProps/core.xml"])
	}
}

// unzip returns the files of a zip, and fails where one carries a time.
func unzip(t *testing.T, data []byte) map[string]string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, f := range z.File {
		if !f.Modified.IsZero() && f.Modified.Year() > 1980 {
			t.Errorf("%s carries the time %v", f.Name, f.Modified)
		}
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		b, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		out[f.Name] = string(b)
	}
	return out
}

func TestWorkbookSameBytes(t *testing.T) {
	first, _ := workbook(t, jobOf(t, fourRails+pricedStock))
	second, _ := workbook(t, jobOf(t, fourRails+pricedStock))
	if !bytes.Equal(first, second) {
		t.Error("the same lists, other bytes")
	}
}

// A text that a spreadsheet would take for a formula stays text.
func TestWorkbookHoldsNoFormula(t *testing.T) {
	var out bytes.Buffer
	if err := writeWorkbook(&out, "=title", "a & b", []page{{name: "It's", columns: []column{{"=head", formatText, 0}}, rows: [][]any{{"=1+1"}}}}); err != nil {
		t.Fatal(err)
	}
	book, err := excelize.OpenReader(bytes.NewReader(out.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	if got, _ := book.GetCellValue("It's", "A2"); got != "=1+1" {
		t.Errorf("cell %q", got)
	}
	for name, text := range unzip(t, out.Bytes()) {
		if strings.HasPrefix(name, "xl/worksheets/") && (strings.Contains(text, "<f>") || !strings.Contains(text, "a &amp;&amp; b")) {
			t.Errorf("%s: %s", name, text)
		}
	}
}

// One in twenty and at least two of screws and nuts (common practice, no source); nothing of the rest.
func TestSpares(t *testing.T) {
	for _, c := range []struct {
		item    string
		n, want int
	}{
		{"button head screw", 1, 2}, {"slot nut", 40, 2}, {"hexagon nut", 41, 3}, {"socket head cap screw", 100, 5}, {"socket head cap screw", 101, 6},
		{"heat-set insert", 8, 2}, {"levelling foot", 4, 0}, {"angle bracket", 100, 0},
	} {
		if got := spares(frame.Hardware{Item: c.item, Quantity: c.n}); got != c.want {
			t.Errorf("%d of %s: %d spares, want %d", c.n, c.item, got, c.want)
		}
	}
}

// Masses are in the list where a standard gives the shape, and nowhere else. The shapes themselves are tested where they are:
// an M8 nut of ISO 4032 is a hexagon of 13 across flats, 6.8 high, less its bore of 7.19: 146.4·6.8 − 40.6·6.8 = 719 mm³, 5.6 g of steel.
func TestHardwareMass(t *testing.T) {
	if m := (frame.Hardware{Item: "hexagon nut", Standard: "ISO 4032", Size: "M8"}).Kg(); math.Abs(m-0.0056) > 0.0002 {
		t.Errorf("M8 nut: %g kg", m)
	}
	cap, _ := standard.SocketCapScrew("M8")
	if m := (frame.Hardware{Item: "socket head cap screw", Standard: "ISO 4762", Size: "M8x20"}).Kg(); m != cap.Mass(20) || m < 0.01 {
		t.Errorf("M8x20: %g kg", m)
	}
	for _, h := range []frame.Hardware{{Item: "slot nut", Size: "M8, slot 8"}, {Item: "button head screw", Standard: "ISO 7380-1", Size: "M7x20"}, {Item: "screw", Standard: "ISO 1", Size: "M8x20"}} {
		if m := h.Kg(); m != 0 {
			t.Errorf("nobody says what %v weighs: %g kg", h, m)
		}
	}
}

// The codes of the labels, read from the printed page by a reader that nobody here wrote, say what the labels say.
func TestLabelCodesAreRead(t *testing.T) {
	reader, printer := outside.Program(t, "zbarimg"), outside.Program(t, "pdftoppm")
	j, err := Open("../examples/foam-cutter/frame.hcl", nil)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if _, err := planOf(t, j, CutOptions{}).Write(dir, CutSheetOptions{}); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(printer, "-r", "200", "-png", filepath.Join(dir, "labels.pdf"), filepath.Join(dir, "page")).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	pages, _ := filepath.Glob(filepath.Join(dir, "page*.png"))
	if len(pages) != 1 {
		t.Fatalf("%d pages", len(pages))
	}
	text, err := exec.Command(reader, "-q", "--raw", pages[0]).Output() // it grumbles about the desktop's bus, not about the picture
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range j.Frame.Members {
		want := m.Part.Mark + " " + Length(m.Length()) + " 30x30-8\n" + m.Name + "\nfoam-cutter " + j.Frame.Fingerprint + "\n"
		if !strings.Contains(string(text), want) {
			t.Errorf("no code says %q", want)
		}
	}
	if n := strings.Count(string(text), j.Frame.Fingerprint); n != len(j.Frame.Members) {
		t.Errorf("%d codes for %d bars", n, len(j.Frame.Members))
	}
}

// The sheets are the same bytes every time.
func TestCutFilesSameBytes(t *testing.T) {
	read := func() map[string]string {
		j, err := Open("../examples/work-stand/frame.hcl", nil)
		if err != nil {
			t.Fatal(err)
		}
		paths, err := planOf(t, j, CutOptions{Shorten: 5}).Write(t.TempDir(), CutSheetOptions{})
		if err != nil || len(paths) < 4 {
			t.Fatalf("%v %v", paths, err)
		}
		out := map[string]string{}
		for _, p := range paths {
			b, err := os.ReadFile(p)
			if err != nil {
				t.Fatal(err)
			}
			out[filepath.Base(p)] = string(b)
		}
		return out
	}
	a, b := read(), read()
	for name, text := range a {
		if b[name] != text {
			t.Errorf("%s differs between two runs", name)
		}
	}
}
