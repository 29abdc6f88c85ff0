package job

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"barwright/stock"
)

// CutList plans from plain lists of pieces and bars, for people without a frame file. Errors are *[FileError] where a
// list can't be read, *[stock.ListError] with row and column where it is wrong.
func CutList(ctx context.Context, pieces, bars string, o CutOptions) (*CutPlan, error) {
	a, err := readList(pieces)
	if err != nil {
		return nil, err
	}
	b, err := readList(bars)
	if err != nil {
		return nil, err
	}
	pieceList, err := stock.ReadPieces(bytes.NewReader(a), pieces)
	if err != nil {
		return nil, err
	}
	barList, err := stock.ReadBars(bytes.NewReader(b), bars)
	if err != nil {
		return nil, err
	}
	c := CutProfile{Problem: stock.Problem{Pieces: pieceList.Pieces, Bars: barList.Bars}}
	// What a stock block takes where it says nothing.
	c.Problem.Kerf = assumedKerf
	if o.Kerf == nil {
		c.Assumed = append(c.Assumed, fmt.Sprintf("a kerf of %s is assumed; --kerf says another", Length(assumedKerf)))
	} else {
		c.Problem.Kerf = *o.Kerf
	}
	if o.Trim != nil {
		c.Problem.Trim = *o.Trim
	}
	if o.Keep != nil {
		c.Problem.Keep = *o.Keep
	}
	if c.Plan, err = stock.Solve(ctx, c.Problem, stock.Options{TimeLimit: o.TimeLimit}); err != nil {
		return nil, inList(stock.Locate(err, pieceList, barList))
	}
	name := strings.TrimSuffix(filepath.Base(pieces), filepath.Ext(pieces))
	p := &CutPlan{Name: name, Title: name, Profiles: []CutProfile{c}, Fingerprint: listFingerprint(a, b, &c.Problem)}
	if o.Shorten > 0 {
		if err := (*Job)(nil).findSavings(ctx, p, o); err != nil {
			return nil, err
		}
	}
	return p, nil
}

// readList reads a list whole, up to a little more than is accepted, so that the reader of lists can refuse it.
func readList(path string) ([]byte, error) {
	const most = 64<<20 + 1
	f, err := os.Open(path)
	if err != nil {
		return nil, &FileError{path, err, "Is the name right?"}
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, most))
	if err != nil {
		return nil, &FileError{path, err, ""}
	}
	return b, nil
}

// inList says of a fault of kerf, trim or keep which flag it came from.
func inList(err error) error {
	if in := asInput(err); in != nil {
		switch in.Part {
		case "kerf", "trim", "keep":
			return &UsageError{"--" + in.Error()}
		}
	}
	return err
}

// listFingerprint names the input of a plan from lists: eight hex digits.
func listFingerprint(pieces, bars []byte, p *stock.Problem) string {
	h := sha256.New()
	fmt.Fprintf(h, "%d\x00%d\x00", len(pieces), len(bars))
	h.Write(pieces)
	h.Write(bars)
	fmt.Fprintf(h, "\x00%s %s %s", Number(p.Kerf), Number(p.Trim), Number(p.Keep))
	return hex.EncodeToString(h.Sum(nil))[:8]
}
