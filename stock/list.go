package stock

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// Plain lists, for people without a frame file: comma-separated values as
// spreadsheets write them. A list written where the comma is the decimal sign
// has semicolons between its columns and is read as well; so are tabs, a byte
// order mark, UTF-16, and either kind of line end.

// maxListBytes bounds what is read of a list.
const maxListBytes = 64 << 20

// ListError is a fault in a list, with its place as a spreadsheet counts it.
type ListError struct {
	File   string
	Row    int    // from 1, the header being row 1; 0 for the file as a whole
	Column int    // from 1; 0 for the row as a whole
	Name   string // the column's heading
	Reason string
	Remedy string
}

// Error gives the place, the fault and the remedy.
func (e *ListError) Error() string {
	var b strings.Builder
	b.WriteString(e.File)
	if e.Row > 0 {
		fmt.Fprintf(&b, ", row %d", e.Row)
	}
	if e.Column > 0 {
		fmt.Fprintf(&b, ", column %d", e.Column)
	}
	if e.Name != "" {
		fmt.Fprintf(&b, " (%s)", e.Name)
	}
	b.WriteString(": " + e.Reason)
	if e.Remedy != "" {
		b.WriteString("; " + e.Remedy)
	}
	return b.String()
}

// sheet remembers where the entries of a list came from.
type sheet struct {
	file   string
	rows   []int          // of each entry
	column map[string]int // from 1, by heading
}

// at makes an error at an entry's column.
func (s *sheet) at(row int, name, reason, remedy string) *ListError {
	return &ListError{s.file, row, s.column[name], name, reason, remedy}
}

// PieceList is a list of pieces as read from a file.
type PieceList struct {
	Pieces []Piece
	sheet  sheet
}

// BarList is a list of bars as read from a file.
type BarList struct {
	Bars  []Bar
	sheet sheet
}

// ReadPieces reads a list with the columns length, quantity and mark, in any
// order; without a quantity column each row is one piece, without a mark
// column pieces have no mark. The name is used in errors, which are *ListError.
func ReadPieces(r io.Reader, name string) (*PieceList, error) {
	t, err := readTable(r, name, []heading{
		{"length", []string{"length_mm", "länge", "laenge"}, true},
		{"quantity", []string{"anzahl", "menge", "stück", "stueck"}, false},
		{"mark", []string{"marke", "bezeichnung"}, false},
	})
	if err != nil {
		return nil, err
	}
	out := &PieceList{sheet: t.sheet}
	total := 0
	for k, row := range t.cells {
		line := t.sheet.rows[k]
		c := Piece{Quantity: 1, Mark: t.get(row, "mark")}
		if c.Length, err = t.positive(row, line, "length", MaxLength); err != nil {
			return nil, err
		}
		if t.sheet.column["quantity"] > 0 {
			if t.get(row, "quantity") == "" {
				return nil, t.sheet.at(line, "quantity", "is empty", "write how many pieces are needed")
			}
			if c.Quantity, err = t.whole(row, line, "quantity"); err != nil {
				return nil, err
			}
		}
		if total += c.Quantity; total > MaxPieces {
			return nil, t.sheet.at(line, "quantity", "makes more than "+strconv.Itoa(MaxPieces)+" pieces in all", "split the list")
		}
		out.Pieces = append(out.Pieces, c)
	}
	return out, nil
}

// ReadBars reads a list with the columns length, price and quantity, in any
// order; price and quantity may be missing or empty, an empty quantity meaning
// as many as needed. A further column offcut (yes or no) may mark bars that
// are on hand; where other bars have a price, a bar with a quantity and no
// price is taken for one. Errors are *ListError.
func ReadBars(r io.Reader, name string) (*BarList, error) {
	t, err := readTable(r, name, []heading{
		{"length", []string{"length_mm", "länge", "laenge"}, true},
		{"price", []string{"preis"}, false},
		{"quantity", []string{"anzahl", "menge", "stück", "stueck"}, false},
		{"offcut", []string{"rest", "reststück"}, false},
	})
	if err != nil {
		return nil, err
	}
	out := &BarList{sheet: t.sheet}
	priced := false
	for k, row := range t.cells {
		line := t.sheet.rows[k]
		var b Bar
		if b.Length, err = t.positive(row, line, "length", MaxLength); err != nil {
			return nil, err
		}
		if t.get(row, "price") != "" {
			if b.Price, err = t.number(row, line, "price"); err != nil {
				return nil, err
			}
			if b.Price < 0 || b.Price > MaxPrice {
				return nil, t.sheet.at(line, "price", "a price of "+number(b.Price)+" cannot be meant", "write zero or a positive number up to a million")
			}
		}
		if t.get(row, "quantity") != "" {
			if b.Quantity, err = t.whole(row, line, "quantity"); err != nil {
				return nil, err
			}
		}
		if b.Offcut, err = t.yes(row, line, "offcut"); err != nil {
			return nil, err
		}
		priced = priced || b.Price > 0
		out.Bars = append(out.Bars, b)
	}
	for k := range out.Bars {
		b := &out.Bars[k]
		b.Offcut = b.Offcut || (priced && b.Price == 0 && b.Quantity != Unlimited)
	}
	return out, nil
}

// Locate turns an *InputError of Solve into a *ListError at the row and column
// that it came from; other errors are returned as they are.
func Locate(err error, pieces *PieceList, bars *BarList) error {
	var in *InputError
	if !errors.As(err, &in) || in.Index < 0 {
		return err
	}
	var s *sheet
	switch {
	case in.Part == "piece" && pieces != nil:
		s = &pieces.sheet
	case in.Part == "bar" && bars != nil:
		s = &bars.sheet
	}
	if s == nil || in.Index >= len(s.rows) {
		return err
	}
	return s.at(s.rows[in.Index], in.Field, in.Reason, in.Remedy)
}

// heading is a column that a list may have.
type heading struct {
	name     string
	also     []string
	required bool
}

// table is a list's cells below its header.
type table struct {
	sheet sheet
	cells [][]string
	comma bool // the comma may be the decimal sign: columns are not separated by it
}

// readTable reads and checks the shape of a list.
func readTable(r io.Reader, name string, want []heading) (*table, error) {
	raw, err := io.ReadAll(io.LimitReader(r, maxListBytes+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(raw) > maxListBytes {
		return nil, &ListError{File: name, Reason: "is larger than 64 MB", Remedy: "split the list"}
	}
	text, skipped, sep := prepare(decodeText(raw))
	t := &table{sheet: sheet{file: name, column: map[string]int{}}, comma: sep != ','}
	c := csv.NewReader(strings.NewReader(text))
	c.Comma = sep
	c.FieldsPerRecord = -1
	c.ReuseRecord = false
	var head []string
	for {
		row, err := c.Read()
		if err == io.EOF {
			break
		}
		var bad *csv.ParseError
		if errors.As(err, &bad) {
			return nil, &ListError{File: name, Row: bad.Line + skipped, Reason: "a quotation mark is out of place", Remedy: `quote a whole cell, and write "" for a mark inside it`}
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		line, _ := c.FieldPos(0)
		line += skipped
		for k := range row {
			row[k] = strings.TrimFunc(row[k], isSpace)
		}
		if blank(row) {
			continue
		}
		if head == nil {
			head = row
			if err := t.readHead(head, line, want); err != nil {
				return nil, err
			}
			continue
		}
		if row, err = t.fitRow(row, len(head), line); err != nil {
			return nil, err
		}
		t.cells = append(t.cells, row)
		t.sheet.rows = append(t.sheet.rows, line)
	}
	if head == nil {
		return nil, &ListError{File: name, Reason: "is empty", Remedy: "begin with the heading " + headings(want)}
	}
	if len(t.cells) == 0 {
		return nil, &ListError{File: name, Reason: "has a heading and nothing below it", Remedy: "add a row for each length"}
	}
	return t, nil
}

// headings lists the column names as a header is written.
func headings(want []heading) string {
	var names []string
	for _, h := range want {
		if h.name != "offcut" {
			names = append(names, h.name)
		}
	}
	return strings.Join(names, ",")
}

// readHead finds the columns by their headings.
func (t *table) readHead(head []string, line int, want []heading) error {
	for k, cell := range head {
		if cell == "" {
			continue
		}
		name := ""
		for _, h := range want {
			if strings.EqualFold(cell, h.name) {
				name = h.name
			}
			for _, a := range h.also {
				if strings.EqualFold(cell, a) {
					name = h.name
				}
			}
		}
		switch {
		case name == "":
			return &ListError{t.sheet.file, line, k + 1, "", "unknown heading " + quote(cell), "the heading is " + headings(want)}
		case t.sheet.column[name] > 0:
			return &ListError{t.sheet.file, line, k + 1, name, "this heading is there twice", "keep one of the two columns"}
		}
		t.sheet.column[name] = k + 1
	}
	for _, h := range want {
		if h.required && t.sheet.column[h.name] == 0 {
			return &ListError{File: t.sheet.file, Row: line, Reason: "there is no column " + h.name, Remedy: "the heading is " + headings(want)}
		}
	}
	return nil
}

// fitRow drops empty cells beyond the header and refuses other ragged rows. Between commas it drops none:
// in "6000,41,50," the empty cell tells of a decimal comma.
func (t *table) fitRow(row []string, n, line int) ([]string, error) {
	for t.comma && len(row) > n && row[len(row)-1] == "" {
		row = row[:len(row)-1]
	}
	if len(row) != n {
		e := &ListError{File: t.sheet.file, Row: line,
			Reason: fmt.Sprintf("has %d columns where the heading has %d", len(row), n),
			Remedy: "give every row as many cells as the heading"}
		if len(row) > n {
			e.Column = n + 1
			if !t.comma {
				e.Remedy = "write a decimal point, or separate the columns by semicolons"
			}
		} else {
			e.Column = len(row) + 1
		}
		return nil, e
	}
	return row, nil
}

// get returns a row's cell under a heading, empty if there is no such column.
func (t *table) get(row []string, name string) string {
	if k := t.sheet.column[name]; k > 0 {
		return row[k-1]
	}
	return ""
}

// quote shows a cell, shortened.
func quote(s string) string {
	if r := []rune(s); len(r) > 40 {
		s = string(r[:40]) + "…"
	}
	return strconv.Quote(s)
}
