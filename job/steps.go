package job

import (
	"fmt"
	"io"

	"barwright/assembly"
	"barwright/frame"
)

// StepsOptions choose an assembly plan.
type StepsOptions struct{ From string }

// Plan returns the plan of building the frame, made once for each option. It returns a *[UsageError] where an option names nothing.
func (j *Job) Plan(o StepsOptions) (*assembly.Plan, error) {
	if p := j.plans[o]; p != nil {
		return p, nil
	}
	p, err := assembly.New(j.Frame, assembly.Options{From: o.From})
	if err != nil {
		return nil, &UsageError{err.Error()}
	}
	if j.plans == nil {
		j.plans = map[StepsOptions]*assembly.Plan{}
	}
	j.plans[o] = p
	return p, nil
}

// StepsReport is the content of steps --json.
type StepsReport struct {
	Steps    []StepReport  `json:"steps"`
	From     []string      `json:"from,omitempty"`
	Locked   *LockedReport `json:"locked,omitempty"`
	Warnings []string      `json:"warnings,omitempty"`
}

// StepReport is one step. Directions are those of the finished frame.
type StepReport struct {
	Number   int             `json:"number"`
	Kind     string          `json:"kind"`
	Unit     string          `json:"unit,omitempty"`
	Build    []StepReport    `json:"build,omitempty"` // how the unit is built before
	Add      []string        `json:"add"`
	Each     bool            `json:"one_by_one,omitempty"`
	Move     *[3]Number      `json:"move"`                 // the way that ends in place; null for the first bar
	First    *FirstReport    `json:"move_first,omitempty"` // null where one straight way does it
	Down     [3]Number       `json:"down"`                 // which way of the frame points down
	Load     []LoadReport    `json:"load"`
	Turn     *TurnReport     `json:"turn"`
	LiftKG   Number          `json:"lift_kg"`
	People   int             `json:"people,omitempty"` // 4: a hoist, or more
	Hold     bool            `json:"hold,omitempty"`   // somebody holds what stands
	Joints   []StepJoint     `json:"joints,omitempty"`
	Measure  []MeasureReport `json:"measure,omitempty"`
	Tighten  []TorqueReport  `json:"tighten,omitempty"`
	Feet     []string        `json:"feet,omitempty"` // the members under which they stand
	Printed  []PrintedReport `json:"printed,omitempty"`
	Gauges   []string        `json:"gauges,omitempty"` // marks of the printed gauges it needs
	Text     string          `json:"text"`
	Cautions []string        `json:"cautions,omitempty"`
}

// FirstReport is the way before the last: as far as mm off the place, the bars come along move; then along this direction.
type FirstReport struct {
	Move  [3]Number `json:"then_move"`
	WayMM Number    `json:"way_mm"`
}

// LoadReport is what goes into one slot from one end.
type LoadReport struct {
	Member  string   `json:"member"`
	Face    int      `json:"face"`
	FromEnd int      `json:"from_end"` // 0: from the front
	Nuts    int      `json:"nuts"`     // how many, nuts or screws
	Item    string   `json:"item"`
	Size    string   `json:"size"`
	AtMM    []Number `json:"at_mm"` // from end 1, in the order of loading
}

// TurnReport is a turn of what stands.
type TurnReport struct {
	Down   [3]Number `json:"down"` // after it
	About  string    `json:"about"`
	MassKG Number    `json:"mass_kg"`
	People int       `json:"people"`
}

// PrintedReport is a printed part that goes on in a step.
type PrintedReport struct {
	Mark string   `json:"mark"`
	Kind string   `json:"kind"`
	On   []string `json:"on"`
}

// StepJoint is a joint that a step closes.
type StepJoint struct {
	Members [2]string `json:"members"`
	With    string    `json:"with"`
}

// MeasureReport is two diagonals that should read the same.
type MeasureReport struct {
	Name    string       `json:"name"`
	Over    string       `json:"over"`
	SidesMM [2]Number    `json:"sides_mm"`
	ReadMM  Number       `json:"read_mm"`
	EndsMM  [4][3]Number `json:"ends_mm"`
}

// TorqueReport is screws to be tightened alike.
type TorqueReport struct {
	Screws   int      `json:"screws"`
	Item     string   `json:"item"`
	Size     string   `json:"size"`
	KeyMM    Number   `json:"key_mm"`
	TorqueNM Number   `json:"torque_nm"`
	Limit    string   `json:"limit"`
	Source   string   `json:"source"`
	Order    []string `json:"order"`
}

// LockedReport says why there is no order.
type LockedReport struct {
	Entry   int      `json:"entry,omitempty"` // of the given order
	Members []string `json:"members"`
	Why     []string `json:"why"`
	Remedy  string   `json:"remedy"`
}

// NewStepsReport returns the report of a plan.
func NewStepsReport(p *assembly.Plan) *StepsReport {
	r := &StepsReport{Steps: stepReports(p.Steps), From: namesOf(p.From), Warnings: p.Warnings}
	if l := p.Locked; l != nil {
		r.Locked = &LockedReport{Entry: l.Entry, Members: namesOf(l.Members), Why: append([]string{}, l.Why...), Remedy: l.Remedy}
	}
	return r
}

func namesOf(list []*frame.Member) []string {
	out := make([]string, 0, len(list))
	for _, m := range list {
		out = append(out, m.Name)
	}
	return out
}

func stepReports(steps []*assembly.Step) []StepReport {
	out := make([]StepReport, 0, len(steps))
	for _, s := range steps {
		out = append(out, stepReport(s))
	}
	return out
}

func stepReport(s *assembly.Step) StepReport {
	r := StepReport{Number: s.Number, Kind: string(s.Kind), Unit: s.Unit, Add: namesOf(s.Add), Each: s.Each, Down: point(s.Down),
		Load: []LoadReport{}, LiftKG: round(s.Mass, 2), People: s.People, Hold: s.Hold, Text: s.Line(), Cautions: s.Cautions}
	if len(s.Build) > 0 {
		r.Build = stepReports(s.Build)
	}
	if n := len(s.Moves); n > 0 {
		d := point(s.Moves[n-1].Dir)
		if n > 1 {
			d = point(s.Moves[0].Dir)
			r.First = &FirstReport{point(s.Moves[1].Dir), Number(s.Moves[1].Way)}
		}
		r.Move = &d
	}
	for _, l := range s.Load {
		e := LoadReport{Member: l.Member.Name, Face: l.Face, FromEnd: l.End, Nuts: l.Count, Item: l.Item, Size: l.Size}
		for _, z := range l.At {
			e.AtMM = append(e.AtMM, Number(z))
		}
		r.Load = append(r.Load, e)
	}
	if t := s.Turn; t != nil {
		r.Turn = &TurnReport{point(t.Down), t.About.String(), round(t.Mass, 2), t.People}
	}
	for _, j := range s.Joints {
		r.Joints = append(r.Joints, StepJoint{[2]string{j.A.Name, j.B.Name}, j.With.Name})
	}
	for _, d := range s.Measure {
		m := MeasureReport{Name: d.Name, Over: d.Over, SidesMM: [2]Number{Number(d.A), Number(d.B)}, ReadMM: round(d.Read, 1)}
		for i, p := range d.Ends {
			m.EndsMM[i] = point(p)
		}
		r.Measure = append(r.Measure, m)
	}
	for _, t := range s.Torques {
		r.Tighten = append(r.Tighten, torqueReport(t))
	}
	for _, f := range s.Feet {
		r.Feet = append(r.Feet, f.Under.Name)
	}
	for _, t := range s.Printed {
		r.Printed = append(r.Printed, PrintedReport{t.Mark, t.Kind, namesOf(t.On)})
	}
	for _, t := range s.Gauges {
		r.Gauges = append(r.Gauges, t.Mark)
	}
	return r
}

func torqueReport(t assembly.Torque) TorqueReport {
	r := TorqueReport{Screws: t.Count, Item: t.Item, Size: fmt.Sprintf("%sx%g", t.Thread, t.Length), KeyMM: Number(t.Key),
		TorqueNM: Number(t.NM), Limit: t.Limit, Source: t.Source}
	for _, j := range t.Joints {
		r.Order = append(r.Order, j.A.Name+" to "+j.B.Name)
	}
	return r
}

// WriteSteps prints a plan for a terminal.
func WriteSteps(w io.Writer, p *assembly.Plan) {
	writeSteps(w, p.Steps, "")
	for _, t := range p.Warnings {
		fmt.Fprintf(w, "warning: %s\n", t)
	}
	if p.Locked != nil {
		fmt.Fprintf(w, "error: %s\n", p.Locked.Error())
	}
}

func writeSteps(w io.Writer, steps []*assembly.Step, in string) {
	for _, s := range steps {
		number := fmt.Sprintf("%s%d", in, s.Number)
		if len(s.Build) > 0 {
			fmt.Fprintf(w, "%s. On the table, build the %s:\n", number, s.Unit)
			writeSteps(w, s.Build, number+".")
		}
		fmt.Fprintf(w, "%s. %s\n", number, s.Headline())
		for _, t := range s.Text {
			fmt.Fprintf(w, "    %s\n", t)
		}
		for _, t := range s.Cautions {
			fmt.Fprintf(w, "    CAUTION: %s\n", t)
		}
	}
}
