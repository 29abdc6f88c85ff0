package job

import (
	"errors"
	"fmt"
	"slices"

	"barwright/check"
	"barwright/frame"
	"barwright/geom"
	"barwright/statics"

	"github.com/hashicorp/hcl/v2"
)

// StiffnessOptions say how a frame is analysed. What is not given follows from the limit block.
type StiffnessOptions struct {
	Push        float64   // of the push at the top, N; 0: 100
	Accelerate  *geom.Vec // of what travels, g
	Warm        *float64  // rise of temperature, K
	Modes       int       // natural frequencies, 0: six
	RigidJoints bool      // every joint taken as stiff, for comparison
	Joints      map[string]statics.JointStiffness
}

// Stiffness is how a frame gives: the report of its load cases and frequencies, and the limits that it does not keep.
type Stiffness struct {
	Frame    *frame.Frame
	Report   *statics.Report
	Limits   statics.Limits
	Findings []check.Finding // of the limits, each a warning
}

// Stiffness analyses the frame. It returns a *[statics.Mechanism] where something can move freely.
func (j *Job) Stiffness(o StiffnessOptions) (*Stiffness, error) {
	if !o.usual() {
		return analyse(j.Frame, o, new(geom.SectionCache))
	}
	if j.stiffness == nil {
		s, err := analyse(j.Frame, o, new(geom.SectionCache))
		if err != nil {
			return nil, err
		}
		j.stiffness = s
	}
	return j.stiffness, nil
}

// usual reports whether nothing asks for other loads or joints than the frame file.
func (o *StiffnessOptions) usual() bool {
	return (o.Push == 0 || o.Push == usualPush) && (o.Modes == 0 || o.Modes == usualModes) && o.Accelerate == nil && o.Warm == nil && !o.RigidJoints && len(o.Joints) == 0
}

// What the analysis takes where nothing is said: the push in N and how many modes.
const (
	usualPush  = 100
	usualModes = 6
)

// analyse runs the load cases of a frame.
func analyse(f *frame.Frame, o StiffnessOptions, sections *geom.SectionCache) (*Stiffness, error) {
	for name := range o.Joints {
		if err := knownJoining(f, name); err != nil {
			return nil, err
		}
	}
	m, err := statics.FromFrame(f, statics.Options{Joints: o.Joints, RigidJoints: o.RigidJoints, Sections: sections})
	if err != nil {
		return nil, err
	}
	r, err := m.Analyse(o.loads(f.Limit))
	if err != nil {
		return nil, err
	}
	if o.RigidJoints {
		r.Notes = append([]string{"Every joint is taken as stiff, for comparison: real ones give."}, r.Notes...)
	}
	s := &Stiffness{Frame: f, Report: r, Limits: limitsOf(f.Limit)}
	s.Findings = limitFindings(f.Limit, s)
	return s, nil
}

// knownJoining refuses the name of a joining that no joint of the frame has.
func knownJoining(f *frame.Frame, name string) error {
	var known []string
	for _, k := range f.Joints {
		if k.With.Name == name {
			return nil
		}
		known = append(known, k.With.Name)
	}
	return &UsageError{fmt.Sprintf("no joint of the frame is made with %q; it has %s", name, listOf(known))}
}

// loads returns the load cases beside standing and travelling.
func (o *StiffnessOptions) loads(l *frame.Limit) statics.LoadOptions {
	out := statics.LoadOptions{Push: o.Push, Modes: o.Modes}
	if l != nil {
		out.Accelerate, out.Warm = l.Accelerate, l.Warm
	}
	if o.Accelerate != nil {
		out.Accelerate = *o.Accelerate
	}
	if o.Warm != nil {
		out.Warm = *o.Warm
	}
	return out
}

func limitsOf(l *frame.Limit) statics.Limits {
	if l == nil {
		return statics.Limits{}
	}
	return statics.Limits{Sag: l.Sag, Frequency: l.Frequency, Racking: l.Racking, Stress: l.Stress}
}

// limitFindings turns limits that are not kept, and load cases under which the frame does not stand, into findings. They are warnings: the frame
// can be built, and will be regretted.
func limitFindings(l *frame.Limit, s *Stiffness) []check.Finding {
	var out []check.Finding
	for _, b := range s.Report.Breaches(s.Limits) {
		g := check.Finding{Rule: "limit-" + b.Limit, Severity: check.Warning, Message: b.Message, Remedy: b.Remedy,
			At: geom.Vec{X: b.At[0], Y: b.At[1], Z: b.At[2]}, Origin: l.At(b.Limit)}
		if b.Member != "" {
			g.Members = []string{b.Member}
		} else { // of the whole frame: the middle of its top
			box := s.Frame.Box()
			g.At = box.Centre().With(geom.Z, box.High.Z)
		}
		out = append(out, g)
	}
	for _, c := range s.Report.LoadCases {
		if c.Failed == "" {
			continue
		}
		g := check.Finding{Rule: "tips", Severity: check.Warning, Message: c.Name + ": " + c.Failed,
			Remedy: "set the feet wider, take weight off the top, or hold the frame with a support block"}
		if l != nil {
			g.Origin = l.Origin
		}
		out = append(out, g)
	}
	for i := range out {
		out[i].Allowed = s.Frame.Allowed(out[i].Rule, out[i].Members)
	}
	return out
}

// checkLimits returns the findings of the limit block, nothing where there is none.
func (j *Job) checkLimits() []check.Finding {
	if j.Frame.Limit == nil {
		return nil
	}
	s, err := j.Stiffness(StiffnessOptions{})
	if err != nil {
		g := unknownStiffness(err, j.Frame.Limit.Origin)
		g.Allowed = j.Frame.Allowed(g.Rule, g.Members)
		return []check.Finding{g}
	}
	return s.Findings
}

// withMore puts findings from outside the design rules behind the errors and warnings, before notes; what the file allows comes last.
func withMore(findings, more []check.Finding) []check.Finding {
	var open []check.Finding
	for _, g := range more {
		if g.Allowed != "" {
			findings = append(findings, g)
		} else {
			open = append(open, g)
		}
	}
	i := slices.IndexFunc(findings, func(g check.Finding) bool { return g.Severity == check.Note || g.Allowed != "" })
	if i < 0 {
		i = len(findings)
	}
	return slices.Insert(findings, i, open...)
}

// unknownStiffness is the finding for a frame that cannot be analysed.
func unknownStiffness(err error, at hcl.Range) check.Finding {
	g := check.Finding{Rule: "moves-freely", Severity: check.Warning, Message: "the stiffness can't be worked out: " + err.Error(), Origin: at,
		Remedy: "brace or join what moves, or hold it with a foot or a support block"}
	var m *statics.Mechanism
	if errors.As(err, &m) {
		g.Members, g.At = m.Members, m.At
	}
	return g
}

// listOf lists names, each once.
func listOf(names []string) string {
	out, seen := "", map[string]bool{}
	for _, n := range names {
		if !seen[n] {
			seen[n] = true
			if out != "" {
				out += ", "
			}
			out += n
		}
	}
	return out
}
