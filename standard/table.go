package standard

import (
	"embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// files holds every table of the package.
//
//go:embed *.csv
var files embed.FS

// record is one row of a table while it is read. The getters panic on a bad
// cell: the tables are part of the program, a test reads all of them, and no
// user's file can reach them.
type record struct {
	file   string
	line   int
	column []string
	cells  []string
}

// table returns a function that reads the named file at its first call and
// returns the same rows ever after. Callers must not change them: exported
// functions hand out copies.
func table[T any](file string, read func(record) T) func() []T {
	return sync.OnceValue(func() []T {
		records := readTable(file)
		rows := make([]T, len(records))
		for i, r := range records {
			rows[i] = read(r)
		}
		return rows
	})
}

// readTable parses one embedded CSV file; it panics if the file is malformed.
func readTable(file string) []record {
	f, err := files.Open(file)
	if err != nil {
		panic(fmt.Sprintf("standard: %v", err))
	}
	defer f.Close()
	reader := csv.NewReader(f)
	reader.Comment = '#'
	column, err := reader.Read()
	if err != nil {
		panic(fmt.Sprintf("standard: %s: %v", file, err))
	}
	var records []record
	for {
		cells, err := reader.Read()
		if cells == nil {
			break
		}
		if err != nil {
			panic(fmt.Sprintf("standard: %s: %v", file, err))
		}
		line, _ := reader.FieldPos(0)
		records = append(records, record{file: file, line: line, column: column, cells: cells})
	}
	return records
}

// text returns the cell of the named column.
func (r record) text(column string) string {
	i := slices.Index(r.column, column)
	if i < 0 {
		panic(fmt.Sprintf("standard: %s has no column %q", r.file, column))
	}
	return r.cells[i]
}

// float returns the number in the named column, 0 for an empty cell.
func (r record) float(column string) float64 {
	cell := r.text(column)
	if cell == "" {
		return 0
	}
	return r.parse(column, cell)
}

// floats returns the numbers, separated by spaces, in the named column.
func (r record) floats(column string) []float64 {
	var list []float64
	for _, cell := range strings.Fields(r.text(column)) {
		list = append(list, r.parse(column, cell))
	}
	return list
}

// upTo returns the upper end of a range, with open for an empty cell.
func (r record) upTo(column string, open float64) float64 {
	if r.text(column) == "" {
		return open
	}
	return r.float(column)
}

func (r record) parse(column, cell string) float64 {
	v, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		panic(fmt.Sprintf("standard: %s:%d: column %q: %v", r.file, r.line, column, err))
	}
	return v
}

// source returns the row's source and confidence.
func (r record) source() Source {
	return Source{Text: r.text("source"), Checked: r.checked("confidence")}
}

// checked reads a confidence column.
func (r record) checked(column string) bool {
	switch r.text(column) {
	case "checked":
		return true
	case "memory":
		return false
	}
	panic(fmt.Sprintf("standard: %s:%d: %s is neither checked nor memory", r.file, r.line, column))
}

// find returns the first row that matches. The tables are short, so a scan is
// faster than a map and keeps the order of the standard.
func find[T any](rows []T, match func(T) bool) (T, bool) {
	for _, row := range rows {
		if match(row) {
			return row, true
		}
	}
	var none T
	return none, false
}
