package stock

import (
	"bytes"
	"encoding/binary"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"
)

// decodeText turns a file's bytes into text: UTF-8 or UTF-16 with a byte order
// mark, UTF-8 without, else one byte a character, as older spreadsheets write.
func decodeText(raw []byte) string {
	switch {
	case bytes.HasPrefix(raw, []byte{0xEF, 0xBB, 0xBF}):
		raw = raw[3:]
	case bytes.HasPrefix(raw, []byte{0xFF, 0xFE}):
		return decode16(raw[2:], binary.LittleEndian)
	case bytes.HasPrefix(raw, []byte{0xFE, 0xFF}):
		return decode16(raw[2:], binary.BigEndian)
	}
	if utf8.Valid(raw) {
		return string(raw)
	}
	r := make([]rune, len(raw))
	for i, b := range raw {
		r[i] = rune(b)
	}
	return string(r)
}

// decode16 reads UTF-16; an odd last byte is dropped.
func decode16(raw []byte, order binary.ByteOrder) string {
	u := make([]uint16, len(raw)/2)
	for i := range u {
		u[i] = order.Uint16(raw[2*i:])
	}
	return string(utf16.Decode(u))
}

// prepare makes line ends uniform, obeys and drops a first line "sep=;", and
// finds the separator of the header. It returns how many lines it dropped.
func prepare(text string) (string, int, rune) {
	if !strings.Contains(text, "\n") {
		text = strings.ReplaceAll(text, "\r", "\n")
	}
	first, rest, _ := strings.Cut(text, "\n")
	first = strings.TrimSpace(first)
	if v, ok := strings.CutPrefix(strings.ToLower(first), "sep="); ok && len(v) == 1 && strings.Contains(",;\t|", v) {
		return rest, 1, rune(v[0])
	}
	head := text // the first line with something on it
	for head != "" {
		var line string
		line, head, _ = strings.Cut(head, "\n")
		if strings.TrimSpace(line) != "" {
			head = line
			break
		}
	}
	switch {
	case strings.Contains(head, ";"):
		return text, 0, ';'
	case strings.Contains(head, "\t"):
		return text, 0, '\t'
	}
	return text, 0, ','
}

// isSpace includes the no-break spaces that spreadsheets put into numbers.
func isSpace(r rune) bool {
	return unicode.IsSpace(r) || r == '\u00a0' || r == '\u202f' || r == '\ufeff'
}

// blank reports whether all cells are empty.
func blank(row []string) bool {
	for _, c := range row {
		if c != "" {
			return false
		}
	}
	return true
}

// number reads a cell as a number, with point or comma as its decimal sign.
func (t *table) number(row []string, line int, name string) (float64, error) {
	cell := t.get(row, name)
	fail := func(reason, remedy string) (float64, error) {
		return 0, t.sheet.at(line, name, reason, remedy)
	}
	if cell == "" {
		return fail("is empty", "write a number")
	}
	s := strings.ToLower(cell)
	if u, ok := strings.CutSuffix(s, "mm"); ok && name == "length" {
		s = u
	} else if len(s) > 1 && strings.HasSuffix(s, "m") && name == "length" {
		return fail(quote(cell)+" is not in millimetres", "write the length in mm, without a unit")
	}
	s = strings.TrimFunc(strings.Trim(s, "€$£"), isSpace)
	s = strings.Map(func(r rune) rune {
		if isSpace(r) || r == '\'' || r == '’' {
			return -1
		}
		return r
	}, s)
	point, comma := strings.Count(s, "."), strings.Count(s, ",")
	switch {
	case point == 1 && comma == 0 && t.comma && thousands(s, "."), comma == 1 && point == 0 && !t.comma && thousands(s, ","):
		plain := strings.NewReplacer(".", "", ",", "").Replace(s)
		return fail(quote(cell)+" can be read in two ways", "write "+plain+" without a separator, or with two decimals")
	case point > 0 && comma > 0 && strings.LastIndex(s, ",") > strings.LastIndex(s, "."):
		s = strings.ReplaceAll(s, ".", "")
	case point > 0 && comma > 0:
		s = strings.ReplaceAll(s, ",", "")
	}
	s = strings.Replace(s, ",", ".", 1)
	if strings.Trim(s, "+-.0123456789") != "" {
		return fail(quote(cell)+" is not a number", "write digits, with a decimal point or comma")
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return fail(quote(cell)+" is not a number", "write digits, with a decimal point or comma")
	}
	return v, nil
}

// thousands reports whether s looks like a number above a thousand with sep
// between its thousands, such as 1.234, and so may mean that.
func thousands(s, sep string) bool {
	a, b, _ := strings.Cut(strings.TrimLeft(s, "+-"), sep)
	return len(b) == 3 && len(a) >= 1 && len(a) <= 3 && a[0] != '0'
}

// positive reads a number above zero, up to most.
func (t *table) positive(row []string, line int, name string, most float64) (float64, error) {
	v, err := t.number(row, line, name)
	if err != nil {
		return 0, err
	}
	if v <= 0 || v > most {
		return 0, t.sheet.at(line, name, number(v)+" mm cannot be meant", "write a positive length in mm, at most "+number(most))
	}
	if toUnits(v) == 0 {
		return 0, t.sheet.at(line, name, quote(t.get(row, name))+" is less than a hundredth of a millimetre", "write the length in mm")
	}
	return v, nil
}

// whole reads a number of pieces or bars: at least one.
func (t *table) whole(row []string, line int, name string) (int, error) {
	v, err := t.number(row, line, name)
	if err != nil {
		return 0, err
	}
	if v != math.Trunc(v) || v < 1 || v > MaxPieces {
		remedy := "write a whole number from 1 to " + strconv.Itoa(MaxPieces)
		if v == 0 {
			remedy = "leave the row out, or write how many"
		}
		return 0, t.sheet.at(line, name, "a quantity of "+number(v)+" cannot be meant", remedy)
	}
	return int(v), nil
}

// yes reads a cell that says yes or no; empty is no.
func (t *table) yes(row []string, line int, name string) (bool, error) {
	switch strings.ToLower(t.get(row, name)) {
	case "yes", "y", "true", "x", "1", "ja", "j":
		return true, nil
	case "", "no", "n", "false", "0", "nein":
		return false, nil
	}
	return false, t.sheet.at(line, name, quote(t.get(row, name))+" is neither yes nor no", "write yes or no")
}
