package job

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"barwright/frame"
)

// Formats of numbers in workbooks, as ECMA-376 writes them.
const (
	formatText   = "@"
	formatCount  = "0"
	formatLength = "0.0##"
	formatMass   = "0.000"
	formatMoney  = "#,##0.00"
)

// column is one column of a sheet of a workbook.
type column struct {
	head   string
	format string
	most   float64 // widest that the column may be, characters; longer text wraps
}

// page is one sheet of a workbook. Cells are text, int or float64; nil is an empty cell.
type page struct {
	name    string
	columns []column
	rows    [][]any
	total   bool // the last row is a sum
}

// WriteXLSX writes all lists as one workbook: a sheet each, with formats, frozen headings and areas to print. The same lists
// give the same bytes.
func WriteXLSX(w io.Writer, f *frame.Frame, p *CutPlan) error {
	return writeWorkbook(w, f.Title, footer(f, p), listPages(f, p))
}

// footer is what stands under every printed page: which frame, which input, what was set.
func footer(f *frame.Frame, p *CutPlan) string {
	s := fmt.Sprintf("%s, input %s", f.Title, f.Fingerprint)
	if set := p.set(); len(set) > 0 {
		s += ", " + strings.Join(set, ", ")
	}
	return s
}

// writeWorkbook writes pages as a workbook.
func writeWorkbook(w io.Writer, title, foot string, pages []page) error {
	book := excelize.NewFile()
	defer book.Close()
	// The clock is not asked, so that the same lists give the same bytes.
	const never = "1980-01-01T00:00:00Z"
	if err := book.SetDocProps(&excelize.DocProperties{Title: title, Subject: foot, Creator: "barwright", Created: never, Modified: never}); err != nil {
		return err
	}
	s, err := newStyles(book, pages)
	if err != nil {
		return err
	}
	for i, p := range pages {
		if i == 0 {
			err = book.SetSheetName(book.GetSheetName(0), p.name)
		} else {
			_, err = book.NewSheet(p.name)
		}
		if err == nil {
			err = p.fill(book, s)
		}
		if err == nil {
			err = p.layout(book, foot)
		}
		if err != nil {
			return fmt.Errorf("sheet %s: %w", p.name, err)
		}
	}
	return book.Write(w)
}

// styles are the cell styles of a workbook by format.
type styles struct {
	head        int
	plain, bold map[string]int
}

// newStyles makes the styles that the pages need, in the order of their columns.
func newStyles(book *excelize.File, pages []page) (*styles, error) {
	s := &styles{plain: map[string]int{}, bold: map[string]int{}}
	line := []excelize.Border{{Type: "bottom", Style: 1, Color: "000000"}}
	var err error
	top := &excelize.Alignment{Vertical: "top", WrapText: true}
	if s.head, err = book.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}, Border: line, Alignment: top}); err != nil {
		return nil, err
	}
	for _, p := range pages {
		for _, c := range p.columns {
			if _, ok := s.plain[c.format]; ok {
				continue
			}
			format := c.format
			if s.plain[c.format], err = book.NewStyle(&excelize.Style{CustomNumFmt: &format, Alignment: top}); err != nil {
				return nil, err
			}
			if s.bold[c.format], err = book.NewStyle(&excelize.Style{CustomNumFmt: &format, Alignment: top, Font: &excelize.Font{Bold: true},
				Border: []excelize.Border{{Type: "top", Style: 1, Color: "000000"}}}); err != nil {
				return nil, err
			}
		}
	}
	return s, nil
}

// fill writes the cells.
func (p *page) fill(book *excelize.File, s *styles) error {
	for c, col := range p.columns {
		cell, err := excelize.CoordinatesToCellName(c+1, 1)
		if err != nil {
			return err
		}
		if err := book.SetCellStr(p.name, cell, col.head); err != nil {
			return err
		}
		if err := book.SetCellStyle(p.name, cell, cell, s.head); err != nil {
			return err
		}
	}
	for r, row := range p.rows {
		for c, v := range row {
			cell, err := excelize.CoordinatesToCellName(c+1, r+2)
			if err != nil {
				return err
			}
			style := s.plain[p.columns[c].format]
			if p.total && r == len(p.rows)-1 {
				style = s.bold[p.columns[c].format]
			}
			if err := book.SetCellStyle(p.name, cell, cell, style); err != nil {
				return err
			}
			switch v := v.(type) {
			case string: // never a formula, whatever it begins with
				err = book.SetCellStr(p.name, cell, v)
			case int:
				err = book.SetCellInt(p.name, cell, int64(v))
			case float64:
				err = book.SetCellFloat(p.name, cell, float64(Number(v)), -1, 64)
			}
			if err != nil {
				return err
			}
		}
	}
	return nil
}

// layout sets widths, frozen headings, and how the sheet is printed: lying, as wide as the page, headings on every page.
func (p *page) layout(book *excelize.File, foot string) error {
	for c, col := range p.columns {
		name, err := excelize.ColumnNumberToName(c + 1)
		if err != nil {
			return err
		}
		if err := book.SetColWidth(p.name, name, name, p.width(c, col)); err != nil {
			return err
		}
	}
	if err := book.SetPanes(p.name, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}); err != nil {
		return err
	}
	last, err := excelize.CoordinatesToCellName(len(p.columns), len(p.rows)+1, true)
	if err != nil {
		return err
	}
	sheet := "'" + strings.ReplaceAll(p.name, "'", "''") + "'!"
	for _, n := range []excelize.DefinedName{
		{Name: "_xlnm.Print_Area", RefersTo: sheet + "$A$1:" + last, Scope: p.name},
		{Name: "_xlnm.Print_Titles", RefersTo: sheet + "$1:$1", Scope: p.name},
	} {
		if err := book.SetDefinedName(&n); err != nil {
			return err
		}
	}
	lying, wide, high, a4 := "landscape", 1, 0, 9 // ECMA-376: paper size 9 is A4, no bound on pages downward
	fit := true
	if err := book.SetSheetProps(p.name, &excelize.SheetPropsOptions{FitToPage: &fit}); err != nil {
		return err
	}
	if err := book.SetPageLayout(p.name, &excelize.PageLayoutOptions{Orientation: &lying, FitToWidth: &wide, FitToHeight: &high, Size: &a4}); err != nil {
		return err
	}
	text := []rune(strings.ReplaceAll(foot, "&", "&&"))
	if len(text) > 200 { // a footer holds 255 signs
		text = append(text[:199], '…')
	}
	return book.SetHeaderFooter(p.name, &excelize.HeaderFooterOptions{OddHeader: "&L&A", OddFooter: "&L" + string(text) + "&R&P / &N"})
}

// width returns the width of a column in characters.
func (p *page) width(c int, col column) float64 {
	most := float64(utf8.RuneCountInString(col.head))
	for _, r := range p.rows {
		n := 0
		switch v := r[c].(type) {
		case string:
			n = utf8.RuneCountInString(v)
		case int:
			n = len(fmt.Sprint(v))
		case float64:
			n = len(fmt.Sprintf("%.3f", v))
		}
		most = max(most, float64(n))
	}
	limit := col.most
	if limit == 0 {
		limit = 40
	}
	return min(most, limit) + 2
}
