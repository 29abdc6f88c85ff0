package stock

import (
	"context"
	"encoding/binary"
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"
	"unicode/utf16"
)

// utf16le writes text as a spreadsheet's "Unicode text" does.
func utf16le(s string) string {
	b := []byte{0xFF, 0xFE}
	for _, u := range utf16.Encode([]rune(s)) {
		b = binary.LittleEndian.AppendUint16(b, u)
	}
	return string(b)
}

func TestReadPieces(t *testing.T) {
	want := []Piece{{1110.5, 4, "A1"}, {840, 2, "B2"}}
	for _, c := range []struct{ name, in string }{
		{"plain", "length,quantity,mark\n1110.5,4,A1\n840,2,B2\n"},
		{"no last line end", "length,quantity,mark\n1110.5,4,A1\n840,2,B2"},
		{"Windows line ends and a byte order mark", "\xEF\xBB\xBFlength,quantity,mark\r\n1110.5,4,A1\r\n840,2,B2\r\n"},
		{"semicolons and decimal commas", "length;quantity;mark\n1110,5;4;A1\n840;2;B2\n"},
		{"the same with a thousands point", "length;quantity;mark\n1.110,5;4;A1\n840,0;2;B2\n"},
		{"German headings in one-byte letters", "L\xE4nge;Anzahl;Marke\r\n1110,5;4;A1\r\n840;2;B2\r\n"},
		{"German headings in UTF-8", "Länge;Anzahl;Marke\n1110,5;4;A1\n840;2;B2\n"},
		{"tabs", "length\tquantity\tmark\n1110,5\t4\tA1\n840\t2\tB2\n"},
		{"UTF-16", utf16le("length\tquantity\tmark\r\n1110,5\t4\tA1\r\n840\t2\tB2\r\n")},
		{"a separator line", "sep=;\r\nlength;quantity;mark\r\n1110,5;4;A1\r\n840;2;B2\r\n"},
		{"columns in another order, capitals, spaces", "Mark, Quantity , LENGTH\nA1, 4 ,1110.5\nB2,2, 840 mm\n"},
		{"quoted decimal comma between commas", "length,quantity,mark\n\"1110,5\",4,A1\n\"840\",2,B2\n"},
		{"thousands apart", "length;quantity;mark\n1 110,5;4;A1\n840;2;B2\n"},
		{"blank rows and cells beyond the heading", "\nlength;quantity;mark\n;;\n1110,5;4;A1;;\n\n840;2;B2\n;;;\n"},
		{"carriage returns alone", "length,quantity,mark\r1110.5,4,A1\r840,2,B2\r"},
	} {
		got, err := ReadPieces(strings.NewReader(c.in), "pieces.csv")
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
		} else if !reflect.DeepEqual(got.Pieces, want) {
			t.Errorf("%s: %+v, want %+v", c.name, got.Pieces, want)
		}
	}
	got, err := ReadPieces(strings.NewReader("length\n100\n200\n"), "p")
	if err != nil || !reflect.DeepEqual(got.Pieces, []Piece{{100, 1, ""}, {200, 1, ""}}) {
		t.Errorf("lengths alone: %+v, %v", got, err)
	}
}

func TestReadBars(t *testing.T) {
	for _, c := range []struct {
		name, in string
		want     []Bar
	}{
		{"an empty quantity is as many as needed", "length,price,quantity\n6000,41.50,\n3000,22.8,5\n",
			[]Bar{{6000, 41.5, Unlimited, false}, {3000, 22.8, 5, false}}},
		{"an offcut has a quantity and no price", "length;price;quantity\n6000;41,50;\n1240;;1\n780;0;2\n",
			[]Bar{{6000, 41.5, Unlimited, false}, {1240, 0, 1, true}, {780, 0, 2, true}}},
		{"no prices at all", "length,quantity\n6000,\n3000,2\n", []Bar{{6000, 0, Unlimited, false}, {3000, 0, 2, false}}},
		{"said to be offcuts", "length,price,quantity,offcut\n6000,,,\n3000,,2,yes\n", []Bar{{6000, 0, Unlimited, false}, {3000, 0, 2, true}}},
		{"a currency sign", "length;price;quantity\n6000;41,50 €;\n", []Bar{{6000, 41.5, Unlimited, false}}},
	} {
		got, err := ReadBars(strings.NewReader(c.in), "bars.csv")
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
		} else if !reflect.DeepEqual(got.Bars, c.want) {
			t.Errorf("%s: %+v, want %+v", c.name, got.Bars, c.want)
		}
	}
}

func TestListErrors(t *testing.T) {
	for _, c := range []struct {
		name, in    string
		row, column int
		says        string
	}{
		{"empty file", "", 0, 0, "empty"},
		{"heading alone", "length,quantity,mark\n", 0, 0, "nothing below"},
		{"no heading", "1200,4,A1\n", 1, 1, "unknown heading"},
		{"no length column", "quantity,mark\n4,A1\n", 1, 0, "no column length"},
		{"unknown heading", "length,quantity,colour\n1,1,red\n", 1, 3, "unknown heading"},
		{"heading twice", "length,quantity,length\n1,1,2\n", 1, 3, "twice"},
		{"ragged: too few", "length,quantity,mark\n1200,4,A1\n840,2\n", 3, 3, "has 2 columns"},
		{"ragged: a decimal comma before an empty cell", "length,quantity,mark\n1200,5,4,\n", 2, 4, "decimal point"},
		{"ragged: a decimal comma between commas", "length,quantity,mark\n1200,5,4,A1\n", 2, 4, "decimal point"},
		{"no number", "length,quantity,mark\nlong,4,A1\n", 2, 1, "not a number"},
		{"hexadecimal is no number", "length,quantity,mark\n0x10,4,A1\n", 2, 1, "not a number"},
		{"NaN", "length,quantity,mark\nNaN,4,A1\n", 2, 1, "not a number"},
		{"infinity", "length,quantity,mark\nInf,4,A1\n", 2, 1, "not a number"},
		{"two commas", "length;quantity;mark\n1,2,3;4;A1\n", 2, 1, "not a number"},
		{"empty length", "length,quantity,mark\n,4,A1\n", 2, 1, "empty"},
		{"zero length", "length,quantity,mark\n0,4,A1\n", 2, 1, "cannot be meant"},
		{"negative length", "length,quantity,mark\n100,1,A1\n-5,4,A1\n", 3, 1, "cannot be meant"},
		{"metres", "length,quantity,mark\n1.2 m,4,A1\n", 2, 1, "millimetres"},
		{"centimetres", "length,quantity,mark\n120cm,4,A1\n", 2, 1, "millimetres"},
		{"read in two ways, semicolons", "length;quantity;mark\n1.110;4;A1\n", 2, 1, "two ways"},
		{"read in two ways, commas", "length,quantity,mark\n\"1,110\",4,A1\n", 2, 1, "two ways"},
		{"far too long", "length,quantity,mark\n1e3,4,A1\n", 2, 1, "not a number"},
		{"beyond a kilometre", "length,quantity,mark\n1000001,4,A1\n", 2, 1, "cannot be meant"},
		{"half a piece", "length,quantity,mark\n100,1.5,A1\n", 2, 2, "quantity of 1.5"},
		{"no pieces", "length,quantity,mark\n100,0,A1\n", 2, 2, "quantity of 0"},
		{"empty quantity", "length,quantity,mark\n100,,A1\n", 2, 2, "empty"},
		{"too many pieces", "length,quantity,mark\n100,1999999,A1\n100,2,A1\n", 3, 2, "split"},
		{"a quotation mark astray", "length,quantity,mark\n100,1,A\"1\n", 2, 0, "quotation"},
		{"the row counts blank ones too", "length,quantity,mark\n\n\n100,x,A1\n", 4, 2, "not a number"},
		{"and the separator line", "sep=,\nlength,quantity,mark\n100,x,A1\n", 3, 2, "not a number"},
	} {
		_, err := ReadPieces(strings.NewReader(c.in), "pieces.csv")
		var e *ListError
		if !errors.As(err, &e) {
			t.Errorf("%s: %v, want a *ListError", c.name, err)
			continue
		}
		if e.Row != c.row || e.Column != c.column || !strings.Contains(e.Error(), c.says) || !strings.HasPrefix(e.Error(), "pieces.csv") {
			t.Errorf("%s: row %d, column %d, %q; want row %d, column %d, with %q", c.name, e.Row, e.Column, e.Error(), c.row, c.column, c.says)
		}
	}
	for _, c := range []struct {
		in          string
		row, column int
	}{
		{"length,price,quantity\n6000,-1,\n", 2, 2},
		{"length,price,quantity\n6000,1,0\n", 2, 3},
		{"length,price,quantity,offcut\n6000,1,,perhaps\n", 2, 4},
	} {
		_, err := ReadBars(strings.NewReader(c.in), "bars.csv")
		var e *ListError
		if !errors.As(err, &e) || e.Row != c.row || e.Column != c.column {
			t.Errorf("%q: %v, want row %d, column %d", c.in, err, c.row, c.column)
		}
	}
}

// TestLocate leads an error of Solve back to the row of the list.
func TestLocate(t *testing.T) {
	pieces, err := ReadPieces(strings.NewReader("mark,length,quantity\nA1,1000,1\n\nA2,7000,2\n"), "pieces.csv")
	if err != nil {
		t.Fatal(err)
	}
	bars, err := ReadBars(strings.NewReader("length,price,quantity\n6000,40,\n"), "bars.csv")
	if err != nil {
		t.Fatal(err)
	}
	_, err = Solve(context.Background(), Problem{Pieces: pieces.Pieces, Bars: bars.Bars, Trim: 20}, Options{})
	var e *ListError
	if err = Locate(err, pieces, bars); !errors.As(err, &e) || e.File != "pieces.csv" || e.Row != 4 || e.Column != 2 {
		t.Errorf("%v, want pieces.csv, row 4, column 2", err)
	}
	if !strings.Contains(e.Error(), "5980") {
		t.Errorf("%v, want the longest usable length in it", e)
	}
}

func FuzzLists(f *testing.F) {
	for _, s := range []string{
		"length,quantity,mark\n1110.5,4,A1\n", "length;price;quantity\n6000;41,50;\n", "sep=;\nlength;quantity\n1;2",
		"\xEF\xBB\xBFlength\r\n1\r\n", utf16le("length\tprice\n6000\t1\n"), "length\n\"", "\xFF\xFE\x00", "sep=,", "length\n1.234,5\n",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		if p, err := ReadPieces(strings.NewReader(string(raw)), "f"); err == nil {
			if len(p.Pieces) == 0 || len(p.Pieces) != len(p.sheet.rows) {
				t.Fatal("pieces and rows differ")
			}
			for _, c := range p.Pieces {
				if !(c.Length > 0 && c.Length <= MaxLength) || c.Quantity < 1 {
					t.Fatalf("%+v", c)
				}
			}
		}
		if b, err := ReadBars(strings.NewReader(string(raw)), "f"); err == nil {
			for _, c := range b.Bars {
				if !(c.Length > 0 && c.Length <= MaxLength) || c.Quantity < 0 || math.IsNaN(c.Price) || c.Price < 0 {
					t.Fatalf("%+v", c)
				}
			}
		}
	})
}
