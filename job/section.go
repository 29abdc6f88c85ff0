package job

import (
	"fmt"
	"io"
	"math"
	"strings"

	"barwright/drawing"
	"barwright/frame"
	"barwright/geom"
	"barwright/standard"
)

// SectionReport is what `section --json` prints.
type SectionReport struct {
	Profile    string    `json:"profile"`
	Alloy      string    `json:"alloy"`
	SizeMM     [2]Number `json:"size_mm"`
	AreaMM2    Number    `json:"area_mm2"`
	MassKGPerM Number    `json:"mass_kg_per_m"`
	CentroidMM [2]Number `json:"centroid_mm"`
	IxMM4      Number    `json:"ix_mm4"`
	IyMM4      Number    `json:"iy_mm4"`
	IxyMM4     Number    `json:"ixy_mm4"`
	WxMM3      Number    `json:"wx_mm3"`
	WyMM3      Number    `json:"wy_mm3"`
	JMM4       Number    `json:"j_mm4"`
	JLowMM4    Number    `json:"j_low_mm4"` // proven bounds of J
	JHighMM4   Number    `json:"j_high_mm4"`
	ShearXMM2  Number    `json:"shear_area_x_mm2"`
	ShearYMM2  Number    `json:"shear_area_y_mm2"`
	CoreMM     Number    `json:"core_bore_mm"`
	Thread     string    `json:"core_thread"`
}

// FindProfile returns a built-in profile by name or, where a frame file is given, one of its own.
func FindProfile(name, framePath string, set []string) (*geom.Profile, error) {
	if framePath != "" {
		f, err := frame.Load(framePath, frame.Options{Set: set})
		if err != nil {
			return nil, err
		}
		for _, p := range f.Profiles {
			if p.Name == name {
				return p, nil
			}
		}
	}
	if p, ok := geom.Builtin(name); ok {
		return p, nil
	}
	return nil, &UsageError{fmt.Sprintf("there is no profile %q; the built-in ones are %s, and more of the same pitches.\n  A profile of your own: barwright section NAME --frame frame.hcl",
		name, strings.Join(geom.BuiltinNames(), ", "))}
}

// NewSectionReport works out the properties of a profile.
func NewSectionReport(p *geom.Profile) (*SectionReport, error) {
	s := p.Properties()
	t, err := p.Torsion()
	if err != nil {
		return nil, err
	}
	alloy, ok := standard.Alloy(p.Alloy)
	if !ok {
		alloy, _ = standard.Alloy(geom.DefaultAlloy)
	}
	size := p.Size()
	return &SectionReport{
		Profile: p.Name, Alloy: p.Alloy, SizeMM: [2]Number{Number(size.X), Number(size.Y)},
		AreaMM2: round(s.Area, 3), MassKGPerM: round(s.Area*alloy.Density*1000, 4),
		CentroidMM: [2]Number{Number(s.Centroid.X), Number(s.Centroid.Y)},
		IxMM4:      Number(significant(s.Ix)), IyMM4: Number(significant(s.Iy)), IxyMM4: Number(significant(s.Ixy)),
		WxMM3: Number(significant(s.Wx())), WyMM3: Number(significant(s.Wy())),
		JMM4: Number(significant(t.J)), JLowMM4: Number(significant(t.JLow)), JHighMM4: Number(significant(t.JHigh)),
		ShearXMM2: Number(significant(t.ShearX)), ShearYMM2: Number(significant(t.ShearY)),
		CoreMM: Number(p.Core), Thread: p.Thread,
	}, nil
}

// significant rounds to a hundredth: finer digits of a second moment say nothing.
func significant(v float64) float64 { return math.Round(v*100) / 100 }

// WriteSection prints the properties for a terminal.
func WriteSection(w io.Writer, r *SectionReport) error {
	rows := [][]string{
		{"profile", r.Profile, ""},
		{"alloy", r.Alloy, ""},
		{"size", r.SizeMM[0].String() + " × " + r.SizeMM[1].String(), "mm"},
		{"area", fmt.Sprintf("%.1f", float64(r.AreaMM2)), "mm²"},
		{"mass", fmt.Sprintf("%.3f", float64(r.MassKGPerM)), "kg/m"},
		{"centroid", fmt.Sprintf("%.2f, %.2f", float64(r.CentroidMM[0]), float64(r.CentroidMM[1])), "mm from the middle"},
		{"Ix", fmt.Sprintf("%.0f", float64(r.IxMM4)), "mm⁴"},
		{"Iy", fmt.Sprintf("%.0f", float64(r.IyMM4)), "mm⁴"},
		{"Wx", fmt.Sprintf("%.0f", float64(r.WxMM3)), "mm³"},
		{"Wy", fmt.Sprintf("%.0f", float64(r.WyMM3)), "mm³"},
		{"J (torsion)", fmt.Sprintf("%.0f", float64(r.JMM4)), fmt.Sprintf("mm⁴, proven between %.0f and %.0f", float64(r.JLowMM4), float64(r.JHighMM4))},
		{"shear area x", fmt.Sprintf("%.0f", float64(r.ShearXMM2)), "mm²"},
		{"shear area y", fmt.Sprintf("%.0f", float64(r.ShearYMM2)), "mm²"},
		{"core bore", r.CoreMM.String(), "mm, takes " + r.Thread},
	}
	return WriteTable(w, rows)
}

// WriteSectionSheets writes the dimensioned drawing of a profile as SVG and PDF into a folder and returns the paths.
func WriteSectionSheets(out string, p *geom.Profile, r *SectionReport) ([]string, error) {
	sheet, err := drawing.ProfileSheet(p, drawing.ProfileProperties{
		Area: float64(r.AreaMM2), Mass: float64(r.MassKGPerM), Ix: float64(r.IxMM4), Iy: float64(r.IyMM4), J: float64(r.JMM4),
		Centroid: geom.Vec2{X: float64(r.CentroidMM[0]), Y: float64(r.CentroidMM[1])}, Alloy: p.Alloy,
	}, drawing.TitleBlock{}, drawing.Options{})
	if err != nil {
		return nil, err
	}
	sheet.Name = "section-" + p.Name
	drawing.NumberSheets([]*drawing.Sheet{sheet})
	book := &drawing.Book{Title: "Profile " + p.Name, Subject: "Section of a profile", Sheets: []*drawing.Sheet{sheet}}
	return (&Job{}).writeAll(out, bookOutputs(book, sheet.Name, "", false), "section")
}
