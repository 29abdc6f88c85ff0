package job

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"barwright/drawing"
	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
	"barwright/mesh/bracket"
)

// BracketOptions asks for one printed part from the command line alone. The zero value of a field means its default.
type BracketOptions struct {
	Kind            string
	Profile, Second string // names of profiles; Second is that of an angle's or brace foot's other bar
	Frame           string // frame file with profile blocks of those names, and with the part of a drill jig
	Part            string // mark of the part that a drill jig serves
	Thread          string
	Wall            float64
	Bed             string // "220x220x250"
	Text, Material  string
	Load            float64
	Set             []string // "name=value": parameters of the kind
	Allow           []string // "name=value": allowances
}

// BracketReport is what `bracket --json` prints of a printed part.
type BracketReport struct {
	Name     string         `json:"name"`
	Kind     string         `json:"kind"`
	Quantity int            `json:"quantity"`
	SizeMM   [3]Number      `json:"size_mm"`
	Volume   Number         `json:"volume_mm3"`
	MassKG   Number         `json:"mass_kg"`
	Material string         `json:"material"`
	WallMM   Number         `json:"wall_mm"`
	Screws   []BracketScrew `json:"screws"`
	Notes    []string       `json:"notes"`
	Strength *BracketLoad   `json:"strength"`
	On       []string       `json:"on,omitempty"`    // what it serves in a frame
	Files    []string       `json:"files,omitempty"` // written
}

// BracketScrew is one screw of a printed part; its seat counts from the corner of the print.
type BracketScrew struct {
	Item     string    `json:"item"`
	Standard string    `json:"standard"`
	Size     string    `json:"size"`
	Into     string    `json:"into"`
	HoleMM   Number    `json:"hole_mm"`
	GripMM   Number    `json:"grip_mm"`
	SeatMM   [3]Number `json:"seat_mm"`
}

// BracketLoad is the estimate of strength.
type BracketLoad struct {
	LoadN      Number `json:"load_n"`
	BendingMPa Number `json:"bending_mpa"`
	ShearMPa   Number `json:"shear_mpa"`
	BreaksMPa  Number `json:"breaks_mpa"`
	Use        Number `json:"use"`
	Formula    string `json:"formula"`
	Source     string `json:"source"`
	Caution    string `json:"caution"`
}

// Spec returns what the options ask for. Errors are *[UsageError] and those of a frame file that can't be read.
func (o BracketOptions) Spec() (bracket.Spec, error) {
	s := bracket.Spec{Kind: o.Kind, Thread: o.Thread, Wall: o.Wall, Text: o.Text, Material: o.Material, Load: o.Load}
	if _, ok := bracket.KindByName(o.Kind); !ok {
		return s, unknownKind(o.Kind)
	}
	var err error
	if s.Params, err = numbers(o.Set); err != nil {
		return s, err
	}
	if s.Allowances, err = allowances(nil, o.Allow); err != nil {
		return s, err
	}
	if o.Bed != "" {
		if s.Bed, err = parseBed(o.Bed); err != nil {
			return s, err
		}
	}
	if o.Part != "" || o.Kind == "drill-jig" {
		if s.Part, err = o.part(); err != nil {
			return s, err
		}
		s.Profile = s.Part.Bar.Profile
		return s, nil
	}
	if s.Profile, err = FindProfile(o.Profile, o.Frame, nil); err == nil && o.Second != "" {
		s.ProfileB, err = FindProfile(o.Second, o.Frame, nil)
	}
	return s, err
}

// part returns the part of the frame that a drill jig serves.
func (o BracketOptions) part() (*frame.Part, error) {
	if o.Frame == "" || o.Part == "" {
		return nil, &UsageError{"a drill jig is made from a part: barwright bracket drill-jig --frame frame.hcl --part A1"}
	}
	f, err := frame.Load(o.Frame, frame.Options{})
	if err != nil {
		return nil, err
	}
	return (&Job{Frame: f}).part(o.Part)
}

func unknownKind(name string) error {
	var names []string
	for _, k := range bracket.Kinds() {
		names = append(names, k.Name)
	}
	return &UsageError{fmt.Sprintf("%q is neither a frame file nor a kind of printed part; there are %s", name, strings.Join(names, ", "))}
}

// numbers reads "name=value" pairs; the last of a name holds.
func numbers(pairs []string) (map[string]float64, error) {
	out := map[string]float64{}
	for _, p := range pairs {
		name, text, ok := strings.Cut(p, "=")
		v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
		if !ok || err != nil || strings.TrimSpace(name) == "" {
			return nil, &UsageError{fmt.Sprintf("%q is no parameter: write name=value, such as cells=2", p)}
		}
		out[strings.TrimSpace(name)] = v
	}
	return out, nil
}

// parseBed reads a printer's bed, "220x220x250".
func parseBed(text string) (geom.Vec, error) {
	var v [3]float64
	fields := strings.FieldsFunc(text, func(r rune) bool { return r == 'x' || r == '×' })
	ok := len(fields) == 3
	for i, f := range fields[:min(3, len(fields))] {
		n, err := strconv.ParseFloat(strings.TrimSpace(f), 64)
		ok = ok && err == nil && n > 0
		v[i] = n
	}
	if !ok {
		return geom.Vec{}, &UsageError{fmt.Sprintf("%q is no bed: write its width, depth and height, such as 220x220x250", text)}
	}
	return geom.Vec{X: v[0], Y: v[1], Z: v[2]}, nil
}

// allowanceNames are the allowances as files and flags name them, in the order of [bracket.Allowances].
var allowanceNames = []string{"line", "layer", "least_wall", "hole_upright", "hole_lying", "fit", "slide", "first_layer", "edge", "bridge", "seat", "nut_gap", "insert_depth", "across", "reach", "text_depth"}

// allowanceField returns the field of an allowance, or nil.
func allowanceField(a *bracket.Allowances, name string) *float64 {
	i := slices.Index(allowanceNames, name)
	if i < 0 {
		return nil
	}
	return []*float64{&a.Line, &a.Layer, &a.LeastTo, &a.VHole, &a.HHole, &a.Fit, &a.Slide, &a.First, &a.Edge, &a.Bridge, &a.Seat, &a.NutGap, &a.InsertIn, &a.Across, &a.Reach, &a.Text}[i]
}

// allowances returns the given allowances, or the defaults, with some changed; nil where nothing is.
func allowances(base *bracket.Allowances, pairs []string) (*bracket.Allowances, error) {
	if len(pairs) == 0 {
		return base, nil
	}
	a := bracket.DefaultAllowances()
	if base != nil {
		a = *base
	}
	for _, p := range pairs {
		v, err := numbers([]string{p})
		if err != nil {
			return nil, err
		}
		for name, x := range v { // one entry
			into := allowanceField(&a, name)
			if into == nil {
				return nil, &UsageError{fmt.Sprintf("there is no allowance %q; there are %s", name, strings.Join(allowanceNames, ", "))}
			}
			*into = x
		}
	}
	return &a, nil
}

// WriteBracket builds a printed part, writes STL, 3MF and PDF of each of its pieces into a folder, unless that is "", and
// returns the reports.
func WriteBracket(out string, o BracketOptions, d drawing.Options) ([]*BracketReport, error) {
	s, err := o.Spec()
	if err != nil {
		return nil, err
	}
	all, err := bracket.BuildAll(s)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", o.Kind, err)
	}
	var reports []*BracketReport
	for _, r := range all {
		rep := newBracketReport(r, 1)
		if out != "" {
			list, err := partFiles(r, fileName(r.Name), drawing.TitleBlock{}, d)
			if err != nil {
				return nil, err
			}
			if rep.Files, err = (&Job{}).writeAll(out, list, "bracket"); err != nil {
				return nil, err
			}
		}
		reports = append(reports, rep)
	}
	return reports, nil
}

// fileName turns a part's name into the stem of its files.
func fileName(name string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '_', r == '.':
			return r
		}
		return '-'
	}, name)
}

// partFiles lists STL, 3MF and PDF of a printed part.
func partFiles(r *bracket.Result, stem string, b drawing.TitleBlock, o drawing.Options) ([]output, error) {
	sheet, err := drawing.BracketSheet(r, b, o)
	if err != nil {
		return nil, err
	}
	drawing.NumberSheets([]*drawing.Sheet{sheet})
	book := &drawing.Book{Title: "Printed part " + r.Name, Subject: "Printed part", Sheets: []*drawing.Sheet{sheet}}
	scene := printScene(r)
	return []output{
		{stem + ".stl", func(w io.Writer) error { return mesh.WriteSTL(w, scene) }},
		{stem + ".3mf", func(w io.Writer) error { return mesh.Write3MF(w, scene) }},
		{stem + ".pdf", whole(func(w io.Writer) error { return drawing.WritePDF(w, book) })},
	}, nil
}

// printScene is one printed part as it lies on the printer.
func printScene(r *bracket.Result) *mesh.Scene {
	return &mesh.Scene{Title: r.Name, Shapes: []*mesh.Shape{{Name: r.Name, Mesh: r.Mesh}},
		Items: []mesh.Item{{Name: r.Name, Place: geom.Identity(), Kind: mesh.PrintedItem}}}
}

func newBracketReport(r *bracket.Result, quantity int) *BracketReport {
	p := &BracketReport{Name: r.Name, Kind: r.Kind, Quantity: quantity, SizeMM: vector(r.Size), Volume: round(r.Volume, 3),
		MassKG: round(r.Mass, 5), Material: r.Material, WallMM: Number(r.Wall), Notes: r.Notes, Screws: []BracketScrew{}}
	for _, s := range r.Screws {
		p.Screws = append(p.Screws, BracketScrew{Item: s.Item(), Standard: s.Standard, Size: fmt.Sprintf("%sx%g", s.Thread, s.Length), Into: s.Into,
			HoleMM: round(s.Hole, 3), GripMM: round(s.Grip, 3), SeatMM: vector(r.Place.Unapply(s.Seat))})
	}
	if s := r.Strength; s != nil {
		p.Strength = &BracketLoad{LoadN: Number(s.Load), BendingMPa: round(s.Bending, 3), ShearMPa: round(s.Shear, 3), BreaksMPa: round(s.Allowed, 2),
			Use: round(s.Use, 4), Formula: s.Formula, Source: s.Source, Caution: s.Caution}
	}
	return p
}

func vector(v geom.Vec) [3]Number {
	return [3]Number{round(v.X, 3) + 0, round(v.Y, 3) + 0, round(v.Z, 3) + 0}
}

// WriteBracketReports prints printed parts for a terminal.
func WriteBracketReports(w io.Writer, reports []*BracketReport) error {
	for i, r := range reports {
		if i > 0 {
			fmt.Fprintln(w)
		}
		fmt.Fprintf(w, "%d × %s: %s × %s × %s mm, %s of %s, wall %s mm\n", r.Quantity, r.Name, Length(float64(r.SizeMM[0])), Length(float64(r.SizeMM[1])), Length(float64(r.SizeMM[2])),
			bracket.Grams(float64(r.MassKG)), r.Material, r.WallMM)
		if len(r.On) > 0 {
			fmt.Fprintf(w, "  for %s\n", strings.Join(r.On, "; "))
		}
		writeScrews(w, r.Screws)
		for _, n := range r.Notes {
			fmt.Fprintf(w, "  %s\n", n)
		}
		if s := r.Strength; s != nil {
			fmt.Fprintf(w, "  strength, %s\n  from %s\n  %s\n", s.Formula, s.Source, s.Caution)
		}
		for _, f := range r.Files {
			fmt.Fprintf(w, "wrote %s\n", f)
		}
	}
	return nil
}

// writeScrews prints a line for screws that are alike.
func writeScrews(w io.Writer, screws []BracketScrew) {
	var lines []string
	count := map[string]int{}
	for _, s := range screws {
		line := fmt.Sprintf("%s %s %s into the %s, hole ⌀%s, %s mm of plastic under the head", s.Item, s.Standard, s.Size, s.Into, s.HoleMM, s.GripMM)
		if count[line]++; count[line] == 1 {
			lines = append(lines, line)
		}
	}
	for _, line := range lines {
		fmt.Fprintf(w, "  %d × %s\n", count[line], line)
	}
}

// BracketKind is what `bracket --json` without a kind prints of each.
type BracketKind struct {
	Name   string         `json:"name"`
	About  string         `json:"about"`
	Params []BracketParam `json:"parameters"`
}

// BracketParam is one parameter of a kind.
type BracketParam struct {
	Name    string  `json:"name"`
	Unit    string  `json:"unit"`
	Default *Number `json:"default"` // null: follows from the profile
	Min     Number  `json:"min"`
	Max     Number  `json:"max"`
	About   string  `json:"about"`
}

// BracketKinds returns all kinds of printed parts.
func BracketKinds() []BracketKind {
	var out []BracketKind
	for _, k := range bracket.Kinds() {
		b := BracketKind{Name: k.Name, About: k.About, Params: []BracketParam{}}
		for _, p := range k.Params {
			q := BracketParam{Name: p.Name, Unit: p.Unit, Min: Number(p.Min), Max: Number(p.Max), About: p.About}
			if !p.ZeroMeansDefault {
				v := Number(p.Default)
				q.Default = &v
			}
			b.Params = append(b.Params, q)
		}
		out = append(out, b)
	}
	return out
}

// WriteBracketKinds prints the kinds of printed parts with their parameters, and the allowances, for a terminal.
func WriteBracketKinds(w io.Writer) error {
	for _, k := range BracketKinds() {
		fmt.Fprintf(w, "%s\n  %s\n", k.Name, k.About)
		var rows [][]string
		for _, p := range k.Params {
			def := "computed"
			if p.Default != nil {
				def = p.Default.String()
			}
			rows = append(rows, []string{"  ", p.Name, def, strings.TrimSpace(fmt.Sprintf("%s to %s %s", p.Min, p.Max, p.Unit)), p.About})
		}
		if err := WriteTable(w, rows); err != nil {
			return err
		}
	}
	a := bracket.DefaultAllowances()
	var words []string
	for _, n := range allowanceNames {
		words = append(words, fmt.Sprintf("%s=%g", n, *allowanceField(&a, n)))
	}
	_, err := fmt.Fprintf(w, "\nallowances (--allowance): %s\n\nbarwright bracket angle --profile 30x30-8 --set cells=1\n", strings.Join(words, " "))
	return err
}

// IsFrameFile reports whether an argument of the bracket command means a frame file rather than a kind.
func IsFrameFile(arg string) bool {
	if _, ok := bracket.KindByName(arg); ok {
		return false
	}
	if filepath.Ext(arg) != "" || strings.ContainsRune(arg, filepath.Separator) {
		return true
	}
	_, err := os.Stat(arg)
	return err == nil
}
