package frame

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty/function"

	"barwright/geom"
)

// Options are what the command line adds to a frame file.
type Options struct {
	Set   []string // "name=value": replaces the value of a param; the last one of a name holds
	Marks *Marks   // the marks that parts have had; nil: none, and [Load] looks beside the file
	Swaps []Swap   // profiles that take the place of the file's
}

// maxMembers bounds how many bars a frame may have.
const maxMembers = 20000

// Load reads a frame file and works out the frame. The error is a *[ReadError] where the file can't be
// read, a *[SetError] where a setting does not fit, a *[MarksError] where the record of marks beside the file is damaged,
// and *[Diagnostics] where the file is not a frame.
func Load(path string, o Options) (*Frame, error) {
	src, err := readFile(path)
	if err != nil {
		return nil, &ReadError{Path: path, Err: err}
	}
	if o.Marks == nil {
		if o.Marks, err = loadMarks(path); err != nil {
			return nil, err
		}
	}
	return Parse(path, src, o)
}

// Again works out the frame of the same file and marks with other settings, "name=value" each. The errors are those of
// [Parse].
func (f *Frame) Again(set []string) (*Frame, error) {
	return Parse(f.File, f.src, Options{Set: set, Marks: f.marks})
}

// readFile reads a file up to a little more than is allowed, so that a wrong one takes no memory.
func readFile(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, maxFileBytes+1))
}

// Parse works out the frame of a file's text; name stands for the file in messages. The errors are those of [Load]
// but *[ReadError].
func Parse(name string, src []byte, o Options) (*Frame, error) {
	src = bytes.TrimPrefix(src, []byte("\xef\xbb\xbf"))
	body, diags := parseBody(name, src)
	if diags.HasErrors() {
		return nil, newDiagnostics(diags, src)
	}
	l := newLoader(name, src)
	l.f.src, l.f.marks, l.swaps = src, o.Marks, o.Swaps
	l.readBlocks(body)
	l.makeSafe(body)
	if err := l.readParams(o.Set); err != nil {
		return nil, err
	}
	l.readProfiles()
	if err := l.checkSwaps(); err != nil {
		return nil, err
	}
	l.build()
	if len(l.diags) == 0 {
		l.diags = append(l.diags, l.f.complete()...)
	}
	if l.diags.HasErrors() {
		return nil, newDiagnostics(l.diags, src)
	}
	return l.f, nil
}

// parseBody parses the text after the checks that protect the parser.
func parseBody(name string, src []byte) (*hclsyntax.Body, hcl.Diagnostics) {
	if diags := guardBytes(name, src); diags.HasErrors() {
		return nil, diags
	}
	diags := guardTokens(name, src)
	if diags.HasErrors() {
		return nil, diags
	}
	file, diags := hclsyntax.ParseConfig(src, name, hcl.InitialPos)
	if diags.HasErrors() {
		return nil, plainSyntax(diags)
	}
	return file.Body.(*hclsyntax.Body), nil
}

// loader reads one file.
type loader struct {
	f     *Frame
	src   []byte
	diags hcl.Diagnostics

	blocks  []*block                // of the file, in order, with those of unknown kind left out
	names   map[string]*entity      // the one namespace
	order   []*entity               // its entities in the order of the file
	profile map[string]*profileNode // by canonical name

	stack   []asked // cells being worked out
	unknown int     // unknown names reported
	budget  int     // left for loops
	refused []int   // places in the file of what is not evaluated, in order

	declared     []*entity          // every block of the file, in order
	feet         map[geom.Vec]*Foot // by place, rounded
	spread       int                // bars that rows made
	full         bool               // too many members were reported
	frameBlock   *block
	usual        *cell // works out the frame's own profile
	usualProfile *geom.Profile
	functions    map[string]function.Function
	swaps        []Swap
}

func newLoader(name string, src []byte) *loader {
	l := &loader{
		f:       &Frame{Name: frameName(name), File: name},
		src:     src,
		names:   map[string]*entity{},
		profile: map[string]*profileNode{},
		budget:  loopBudget,
		feet:    map[geom.Vec]*Foot{},
	}
	l.functions = functions(l.pay)
	return l
}

// frameName returns the file's stem, or its folder's name where the stem is "frame".
func frameName(path string) string {
	base := filepath.Base(path)
	stem := strings.TrimSuffix(base, filepath.Ext(base))
	if stem != "frame" {
		return stem
	}
	dir := filepath.Base(filepath.Dir(path))
	if dir == "." || dir == ".." || dir == string(filepath.Separator) {
		if abs, err := filepath.Abs(path); err == nil {
			dir = filepath.Base(filepath.Dir(abs))
		}
	}
	if dir == "." || dir == string(filepath.Separator) {
		return stem
	}
	return dir
}

// fail reports an error.
func (l *loader) fail(at hcl.Range, summary, detail string) {
	if len(l.diags) < 4*maxDiagnostics {
		l.diags = append(l.diags, problem(at, summary, detail))
	}
}

// build places the members and reads everything about them.
func (l *loader) build() {
	l.frameBlock = l.only("frame")
	l.declare()
	l.placeAll()
	l.readFrame()
	l.checkProfiles()
	l.readJoinings()
	l.readGroups()
	l.readJoints()
	l.readPrinting()
	l.readBrackets()
	l.orderRules()
	l.readAllowances()
	l.readDrills()
	l.readFeet()
	l.readSupports()
	l.readMasses()
	l.readPanels()
	l.readDoorways()
	l.readStocks()
	l.readSuppliers()
	l.readAssembly()
	l.readLimit()
	l.readTitleBlock()
	if len(l.f.Members) == 0 && len(l.diags) == 0 {
		l.fail(l.fileEnd(), "There is no member", "A frame needs at least one member, posts, ring or row block.")
	}
	l.fingerprint()
}

// fileEnd is the range of the first line, for what is missing from the file as a whole.
func (l *loader) fileEnd() hcl.Range {
	return hcl.Range{Filename: l.f.File, Start: hcl.InitialPos, End: hcl.InitialPos}
}

// fingerprint names the input: eight hex digits of the file's bytes and the settings.
func (l *loader) fingerprint() {
	h := sha256.New()
	h.Write(l.src)
	for _, s := range l.f.Settings {
		fmt.Fprintf(h, "\x00%s=%v", s.Name, s.Value)
	}
	for _, s := range l.swaps {
		fmt.Fprintf(h, "\x00%s.profile=%s", s.Block, s.Profile)
	}
	l.f.Fingerprint = hex.EncodeToString(h.Sum(nil))[:8]
}

// useProfile notes that a member has a section.
func (l *loader) useProfile(p *geom.Profile) {
	for _, q := range l.f.Profiles {
		if q == p {
			return
		}
	}
	l.f.Profiles = append(l.f.Profiles, p)
}
