package job

import (
	"math"

	"barwright/check"
	"barwright/frame"
	"barwright/geom"
)

// Report is the content of report.json: stable names, lower-case with underscores, the unit in the name.
type Report struct {
	Frame    FrameReport      `json:"frame"`
	Params   *orderedMap      `json:"params"`
	Members  []MemberReport   `json:"members"`
	Parts    []PartReport     `json:"parts"`
	Joints   []JointReport    `json:"joints"`
	Feet     []FootReport     `json:"feet"`
	Hardware []HardwareReport `json:"hardware"`
	Cut      *CutReport       `json:"cut,omitempty"`      // of a build
	Assembly *StepsReport     `json:"assembly,omitempty"` // of a build
	Measures MeasuresReport   `json:"measures"`
	Findings []FindingReport  `json:"findings"`
	// Stiffness is there in a build; StiffnessFailed says why it is not.
	Stiffness       *StiffnessReport  `json:"stiffness,omitempty"`
	StiffnessFailed string            `json:"stiffness_failed,omitempty"`
	Files           map[string]string `json:"files,omitempty"` // SHA-256 of each written file; encoding/json sorts the names
}

// FrameReport is what holds for the whole frame.
type FrameReport struct {
	Name      string    `json:"name"`
	Title     string    `json:"title"`
	Reference string    `json:"reference,omitempty"`
	Revision  string    `json:"revision,omitempty"`
	SizeMM    [3]Number `json:"size_mm"` // height from the floor
	MassKG    Number    `json:"mass_kg"` // as far as it is known
	// Masses is what mass_kg is the sum of.
	Masses      MassesReport `json:"masses"`
	Fingerprint string       `json:"fingerprint"`
}

// MassesReport is the mass of a frame by what it is made of. What the frame carries is not among it.
type MassesReport struct {
	BarsKG     Number   `json:"bars_kg"`
	PanelsKG   Number   `json:"panels_kg"`
	PrintedKG  Number   `json:"printed_parts_kg"` // as if printed solid; without gauges and jigs
	HardwareKG Number   `json:"hardware_kg"`      // screws and nuts of a standard, without spares
	NotCounted []string `json:"not_counted"`      // items of which no mass is known
}

func massesReport(w frame.Weights) MassesReport {
	return MassesReport{round(w.Bars, 3), round(w.Panels, 3), round(w.Printed, 3), round(w.Hardware, 3), append([]string{}, w.Uncounted...)}
}

// MemberReport is one bar in its place.
type MemberReport struct {
	Name     string    `json:"name"`
	Mark     string    `json:"mark"`
	Profile  string    `json:"profile"`
	LengthMM Number    `json:"length_mm"`
	Along    string    `json:"along"` // "x", "y", "z", or "brace"
	LowMM    [3]Number `json:"low_mm"`
	HighMM   [3]Number `json:"high_mm"`
	End1     string    `json:"end_1"` // the side of the frame at which the part's datum end lies
	Faces    [4]string `json:"faces"` // the sides to which faces 1 to 4 look
	Group    string    `json:"group,omitempty"`
}

// PartReport is one mark.
type PartReport struct {
	Mark      string            `json:"mark"`
	Profile   string            `json:"profile"`
	LengthMM  Number            `json:"length_mm"`
	Quantity  int               `json:"quantity"`
	MassKG    Number            `json:"mass_kg"` // of one bar, machined
	Members   []string          `json:"members"`
	Twin      string            `json:"mirror_twin,omitempty"`
	Machining []MachiningReport `json:"machining"`
}

// MachiningReport is one tapped end, hole or mitre, from the datum end and by face.
type MachiningReport struct {
	Kind            string     `json:"kind"` // "tap", "hole", "mitre"
	End             int        `json:"end,omitempty"`
	Thread          string     `json:"thread,omitempty"`
	Face            int        `json:"face,omitempty"`
	FromEnd1MM      *Number    `json:"from_end_1_mm,omitempty"`
	OffsetMM        *Number    `json:"offset_mm,omitempty"`
	CoreMM          *[2]Number `json:"core_mm,omitempty"` // of a tap in a bar of several cells: from the centre toward face 1, toward face 2
	DiameterMM      *Number    `json:"diameter_mm,omitempty"`
	DepthMM         *depth     `json:"depth_mm,omitempty"`
	DrillDepthMM    *Number    `json:"drill_depth_mm,omitempty"`
	CounterboreMM   *Number    `json:"counterbore_mm,omitempty"`
	CounterboreDeep *Number    `json:"counterbore_depth_mm,omitempty"`
	ThreadDepthMM   *Number    `json:"thread_depth_mm,omitempty"`
	AngleDeg        *Number    `json:"angle_deg,omitempty"` // of a mitre, from square
	Purpose         string     `json:"purpose,omitempty"`
}

// depth is a depth in mm, or null for a hole that goes through.
type depth struct {
	through bool
	mm      Number
}

// MarshalJSON writes null for a through hole.
func (d depth) MarshalJSON() ([]byte, error) {
	if d.through {
		return []byte("null"), nil
	}
	return d.mm.MarshalJSON()
}

// JointReport is one joint.
type JointReport struct {
	Members []string  `json:"members"`
	Kind    string    `json:"kind"`
	With    string    `json:"with"`
	AtMM    [3]Number `json:"at_mm"`
	Screws  int       `json:"screws"`
}

// FootReport is one foot.
type FootReport struct {
	Under    string    `json:"under"`
	On       string    `json:"on"`
	Thread   string    `json:"thread"`
	AtMM     [3]Number `json:"at_mm"`
	HeightMM Number    `json:"height_mm"`
}

// HardwareReport is one line of the hardware list.
type HardwareReport struct {
	Item     string `json:"item"`
	Standard string `json:"standard,omitempty"`
	Size     string `json:"size"`
	Quantity int    `json:"quantity"`
	Spares   int    `json:"spares"` // to order besides
	// MassKG is that of one piece, null where none is known.
	MassKG *Number `json:"mass_kg"`
	Note   string  `json:"note,omitempty"`
}

// FindingReport is one finding.
type FindingReport struct {
	Rule     string    `json:"rule"`
	Severity string    `json:"severity"`
	Members  []string  `json:"members"`
	AtMM     [3]Number `json:"at_mm"`
	Message  string    `json:"message"`
	Remedy   string    `json:"remedy"`
	File     string    `json:"file,omitempty"`
	Line     int       `json:"line,omitempty"`
	Allowed  string    `json:"allowed,omitempty"` // the reason that the file gives for letting it be
}

// NewReport returns the report of a frame and its findings.
func NewReport(f *frame.Frame, findings []check.Finding) *Report {
	r := &Report{Params: &orderedMap{}, Members: []MemberReport{}, Parts: []PartReport{}, Joints: []JointReport{},
		Feet: []FootReport{}, Hardware: []HardwareReport{}, Measures: newMeasures(f), Findings: []FindingReport{}}
	mass := f.Weights()
	r.Frame = FrameReport{Name: f.Name, Title: f.Title, Reference: f.Reference, Revision: f.Revision,
		SizeMM: point(Size(f)), MassKG: round(mass.Total(), 3), Masses: massesReport(mass), Fingerprint: f.Fingerprint}
	for _, p := range f.Params {
		r.Params.add(p.Name, Number(p.Value))
	}
	for _, m := range f.Members {
		r.Members = append(r.Members, memberReport(m))
	}
	for _, p := range f.Parts {
		r.Parts = append(r.Parts, partReport(p))
	}
	for _, j := range f.Joints {
		r.Joints = append(r.Joints, JointReport{Members: []string{j.A.Name, j.B.Name}, Kind: string(j.Kind),
			With: j.With.Name, AtMM: point(j.At), Screws: len(j.Fasteners)})
	}
	for _, t := range f.Feet {
		r.Feet = append(r.Feet, FootReport{t.Under.Name, t.On, t.Thread, point(t.At), Number(t.Height)})
	}
	for _, h := range f.Hardware {
		line := HardwareReport{Item: h.Item, Standard: h.Standard, Size: h.Size, Quantity: h.Quantity, Spares: spares(h), Note: h.Note}
		if kg := h.Kg(); kg > 0 {
			line.MassKG = num(float64(round(kg, 4)))
		}
		r.Hardware = append(r.Hardware, line)
	}
	for _, g := range findings {
		r.Findings = append(r.Findings, findingReport(g))
	}
	return r
}

func findingReport(g check.Finding) FindingReport {
	return FindingReport{g.Rule, string(g.Severity), append([]string{}, g.Members...), point(g.At), g.Message, g.Remedy, g.Origin.Filename, g.Origin.Start.Line, g.Allowed}
}

// Size returns the outside size of the frame in mm, its height from the floor.
func Size(f *frame.Frame) geom.Vec {
	b := f.Box()
	s := b.Size()
	if len(f.Members) > 0 && b.Low.Z > f.Floor {
		s.Z = b.High.Z - f.Floor
	}
	return s
}

func memberReport(m *frame.Member) MemberReport {
	r := MemberReport{Name: m.Name, Mark: m.Part.Mark, Profile: m.Bar.Profile.Name, LengthMM: Number(m.Length()), Along: m.Axis.String(),
		LowMM: point(m.Box.Low), HighMM: point(m.Box.High), End1: m.EndName(1), Faces: m.FaceNames()}
	if m.Brace {
		r.Along = "brace"
	}
	if m.Group != nil {
		r.Group = m.Group.Name
	}
	return r
}

func partReport(p *frame.Part) PartReport {
	r := PartReport{Mark: p.Mark, Profile: p.Bar.Profile.Name, LengthMM: Number(p.Bar.Length), Quantity: p.Quantity(),
		MassKG: round(p.Mass, 4), Machining: machiningReport(&p.Bar)}
	for _, m := range p.Members {
		r.Members = append(r.Members, m.Name)
	}
	if p.Twin != nil {
		r.Twin = p.Twin.Mark
	}
	return r
}

// round returns a figure rounded to some decimals.
func round(v float64, decimals int) Number {
	p := 1.0
	for range decimals {
		p *= 10
	}
	return Number(math.Round(v*p) / p)
}

func num(v float64) *Number { n := Number(v); return &n }

// machiningReport lists what is done to a bar: mitres, taps, holes.
func machiningReport(b *frame.Bar) []MachiningReport {
	out := []MachiningReport{}
	for end := range b.Cuts {
		if !b.Cuts[end].Square() {
			angle, face := MitreAngle(b.Cuts[end], end)
			out = append(out, MachiningReport{Kind: "mitre", End: end + 1, Face: face, AngleDeg: num(angle)})
		}
	}
	for _, t := range b.Taps {
		m := MachiningReport{Kind: "tap", End: t.End + 1, Thread: t.Thread, DepthMM: &depth{mm: Number(t.Depth)}}
		if len(b.Profile.Cores()) > 1 {
			m.CoreMM = &[2]Number{Number(t.Core.X), Number(t.Core.Y)}
		}
		if t.Drill != b.Profile.Core {
			m.DiameterMM, m.DrillDepthMM = num(t.Drill), num(t.DrillDepth)
		}
		out = append(out, m)
	}
	for _, h := range b.Holes {
		m := MachiningReport{Kind: "hole", Face: int(h.Side) + 1, FromEnd1MM: num(h.Z), OffsetMM: num(h.Offset), DiameterMM: num(h.Diameter),
			DepthMM: &depth{through: h.Through(), mm: Number(h.Depth)}, Thread: h.Thread, Purpose: h.Purpose.String()}
		if h.Bore > 0 {
			m.CounterboreMM, m.CounterboreDeep = num(h.Bore), num(h.BoreDepth)
		}
		if h.ThreadDepth > 0 {
			m.ThreadDepthMM = num(h.ThreadDepth)
		}
		out = append(out, m)
	}
	return out
}
