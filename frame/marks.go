package frame

import (
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
)

// Marks is the record of the marks that a frame's parts have had. It lies beside the frame file
// ([MarksPath]) and only grows: a part whose shape is in it keeps its mark, a new shape gets a number that no
// shape has had.
type Marks struct{ entries []markEntry }

// markEntry is one line of the record.
type markEntry struct {
	mark, profile string
	length        string // mm, for people; the shape decides
	shape         string
}

// MarksError is a fault in a record of marks.
type MarksError struct {
	File   string
	Line   int // from 1; 0 for the file as a whole
	Reason string
}

// Error gives the place, the fault and what to do.
func (e *MarksError) Error() string {
	where := e.File
	if e.Line > 0 {
		where += ":" + strconv.Itoa(e.Line)
	}
	return where + ": " + e.Reason + "\n  barwright parts --lock writes this file: mend the line, or take the file from your version control."
}

// MarksPath returns where the record of a frame file's marks lies: beside it, ending in .marks.
func MarksPath(path string) string {
	return strings.TrimSuffix(path, filepath.Ext(path)) + ".marks"
}

// Bounds of a record of marks.
const (
	maxMarkLines = 100_000
	shapeDigits  = 16
)

// marksHead is the heading of the record.
var marksHead = []string{"mark", "profile", "length_mm", "shape"}

// loadMarks reads the record beside a frame file; nil where there is none.
func loadMarks(path string) (*Marks, error) {
	name := MarksPath(path)
	if name == path {
		return nil, nil
	}
	src, err := readFile(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		var p *os.PathError
		if errors.As(err, &p) {
			err = p.Err
		}
		return nil, &ReadError{Path: name, Err: err}
	}
	return ParseMarks(name, src)
}

// ParseMarks reads a record of marks; name stands for the file in messages. The error is a *[MarksError].
func ParseMarks(name string, src []byte) (*Marks, error) {
	if len(src) > maxFileBytes {
		return nil, &MarksError{name, 0, "the file is larger than 4 MB."}
	}
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(src, []byte("\xef\xbb\xbf"))))
	r.Comment = '#'
	r.FieldsPerRecord = len(marksHead)
	m := &Marks{}
	for first := true; ; first = false {
		row, err := r.Read()
		if err == io.EOF {
			break
		}
		var bad *csv.ParseError
		if errors.As(err, &bad) {
			return nil, &MarksError{name, bad.Line, fmt.Sprintf("a line holds %s, with commas between.", strings.Join(marksHead, ", "))}
		}
		if err != nil {
			return nil, &MarksError{name, 0, err.Error()}
		}
		line, _ := r.FieldPos(0)
		if first {
			if strings.Join(row, ",") != strings.Join(marksHead, ",") {
				return nil, &MarksError{name, line, "the heading must be " + strings.Join(marksHead, ",") + "."}
			}
			continue
		}
		e := markEntry{row[0], row[1], row[2], row[3]}
		if reason := e.fault(); reason != "" {
			return nil, &MarksError{name, line, reason}
		}
		if m.entries = append(m.entries, e); len(m.entries) > maxMarkLines {
			return nil, &MarksError{name, line, fmt.Sprintf("there are more than %d lines.", maxMarkLines)}
		}
	}
	return m, nil
}

// fault says what is wrong with a line, "" where it is sound.
func (e markEntry) fault() string {
	_, err := hex.DecodeString(e.shape)
	switch {
	case !goodMark(e.mark): // marks become names of files
		return fmt.Sprintf("%q is no mark.", shorten(e.mark))
	case len(e.shape) != shapeDigits || err != nil || strings.ToLower(e.shape) != e.shape:
		return fmt.Sprintf("%q is no shape: it is %d hexadecimal digits.", shorten(e.shape), shapeDigits)
	}
	return ""
}

// shape names what makes a part: its profile's name and everything in its key. It is written to files that last, so a
// change of [Bar.key] gives every locked part a new mark.
func (f *Frame) shape(p *Part) string {
	profile := f.Profiles[f.profileIndex(p.Bar.Profile)].Name
	sum := sha256.Sum256([]byte(fmt.Sprint(profile, p.Bar.key(false))))
	return hex.EncodeToString(sum[:])[:shapeDigits]
}

// Lock returns the text of the record of marks with every part of the frame in it: the lines that were there, then
// the new ones by mark.
func (f *Frame) Lock() []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "# The marks that the parts of %s have had. Keep this file beside it. barwright parts --lock\n"+
		"# adds lines; none is ever taken away, so that no mark comes to mean another part.\n", filepath.Base(f.File))
	w := csv.NewWriter(&b)
	w.Write(marksHead) // a buffer takes everything
	last := map[string]string{}
	if f.marks != nil {
		for _, e := range f.marks.entries {
			w.Write([]string{e.mark, e.profile, e.length, e.shape})
			last[e.shape] = e.mark
		}
	}
	for _, p := range f.Parts {
		if s := f.shape(p); last[s] != p.Mark {
			w.Write([]string{p.Mark, f.Profiles[f.profileIndex(p.Bar.Profile)].Name, show(p.Bar.Length), s})
		}
	}
	w.Flush()
	return b.Bytes()
}

// givenMark is a mark as the program gives them: letters and a number.
var givenMark = regexp.MustCompile(`^([A-Z]{1,4})([0-9]{1,6})$`)

// numbering is what the record says of marks still to give.
type numbering struct {
	letters []string       // of each profile
	highest map[string]int // number that the letters have had
	had     map[string]bool
}

// numbering works out letters and numbers. A profile keeps the letters that its first line has; others take the next that no
// line uses.
func (f *Frame) numbering(lock *Marks) numbering {
	n := numbering{letters: make([]string, len(f.Profiles)), highest: map[string]int{}, had: map[string]bool{}}
	used := map[string]bool{}
	if lock != nil {
		for _, e := range lock.entries {
			n.had[e.mark] = true
			m := givenMark.FindStringSubmatch(e.mark)
			if m == nil {
				continue
			}
			number, _ := strconv.Atoi(m[2])
			n.highest[m[1]] = max(n.highest[m[1]], number)
			used[m[1]] = true
			for i, p := range f.Profiles {
				if p.Name == e.profile && n.letters[i] == "" {
					n.letters[i] = m[1]
				}
			}
		}
	}
	next := 0
	for i := range n.letters {
		for n.letters[i] == "" {
			if s := profileLetters(next); !used[s] {
				n.letters[i] = s
			}
			next++
		}
	}
	return n
}

// marksFor returns a mark for each part: the one that its members ask for, that its shape has in the record, or the next
// number of its profile's letters, by falling length.
func (f *Frame) marksFor(asked map[*Part]string, lock *Marks) map[*Part]string {
	out := map[*Part]string{}
	taken := map[string]bool{}
	give := func(p *Part, mark string) { out[p], taken[mark] = mark, true }
	byShape := map[string]*Part{}
	for _, p := range f.Parts {
		if mark := asked[p]; mark != "" {
			give(p, mark)
		}
		if lock != nil {
			byShape[f.shape(p)] = p
		}
	}
	if lock != nil {
		for i := len(lock.entries) - 1; i >= 0; i-- { // the last line of a shape holds
			e := lock.entries[i]
			if p := byShape[e.shape]; p != nil && out[p] == "" && !taken[e.mark] {
				give(p, e.mark)
			}
		}
	}
	n := f.numbering(lock)
	for _, p := range f.Parts {
		letters := n.letters[f.profileIndex(p.Bar.Profile)]
		for out[p] == "" {
			n.highest[letters]++
			if mark := fmt.Sprintf("%s%d", letters, n.highest[letters]); !taken[mark] && !n.had[mark] {
				give(p, mark)
			}
		}
	}
	return out
}

// lockMarks gives the parts their marks. Where the record changes any, the fingerprint changes too: paper with other marks
// is other paper.
func (f *Frame) lockMarks(asked map[*Part]string) {
	marks := f.marksFor(asked, nil)
	if f.marks != nil {
		plain := marks
		marks = f.marksFor(asked, f.marks)
		h := sha256.New()
		h.Write([]byte(f.Fingerprint))
		changed := false
		for _, p := range f.Parts {
			changed = changed || marks[p] != plain[p]
			fmt.Fprintf(h, "\x00%s=%s", f.shape(p), marks[p])
		}
		if changed {
			f.Fingerprint = hex.EncodeToString(h.Sum(nil))[:8]
		}
	}
	for _, p := range f.Parts {
		p.Mark = marks[p]
	}
}
