package job

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"barwright/frame"
)

// MeasuresReport is what a builder measures when the frame stands: rectangles with their diagonals, mass and balance.
type MeasuresReport struct {
	MassKG            Number            `json:"mass_kg"`    // of the frame, as far as it is known
	CarriedKG         Number            `json:"carried_kg"` // masses and what rides on groups
	CentreOfGravityMM [3]Number         `json:"centre_of_gravity_mm"`
	TippingAngleDeg   *Number           `json:"tipping_angle_deg"` // null where the frame stands on no area
	TipsTo            string            `json:"tips_to,omitempty"`
	GeneralTolerance  string            `json:"general_tolerance"`
	Rectangles        []RectangleReport `json:"rectangles"`
}

// RectangleReport is four bars round an opening and what a tape should read.
type RectangleReport struct {
	Name            string    `json:"name,omitempty"` // of the set that made it
	Members         []string  `json:"members"`        // the two along the first axis, then the two along the second
	Plane           string    `json:"plane"`
	OuterMM         [2]Number `json:"outer_mm"`
	InnerMM         [2]Number `json:"inner_mm"`
	OuterCorners    string    `json:"outer_corners"`     // "sawn ends", "posts", "mixed" or "none"
	OuterDiagonalMM *Number   `json:"outer_diagonal_mm"` // over the outer corners, the posts' rounding taken off; null where a bar runs past
	InnerDiagonalMM *Number   `json:"inner_diagonal_mm"` // between the inner corners; null where posts stand in them
	// By how much the two diagonals may differ: for sides square within 0.1°, and within the general tolerance.
	DiffersSquareMM  Number `json:"diagonals_differ_0_1_deg_mm"`
	DiffersGeneralMM Number `json:"diagonals_differ_general_mm"`
}

// newMeasures works out the measuring table of a frame.
func newMeasures(f *frame.Frame) MeasuresReport {
	b := f.Balance()
	m := MeasuresReport{MassKG: round(b.Bars+b.Fittings, 3), CarriedKG: round(b.Carried, 3), GeneralTolerance: "ISO 2768-" + frame.GeneralClass,
		CentreOfGravityMM: [3]Number{round(b.Centre.X, 1), round(b.Centre.Y, 1), round(b.Centre.Z, 1)}, Rectangles: []RectangleReport{}}
	if !math.IsNaN(b.Tip) {
		deg := round(b.Tip*180/math.Pi, 1)
		m.TippingAngleDeg, m.TipsTo = &deg, frame.DirectionName(b.TipTo)
	}
	for _, r := range f.Rectangles() {
		m.Rectangles = append(m.Rectangles, rectangleReport(&r))
	}
	return m
}

func rectangleReport(r *frame.Rectangle) RectangleReport {
	out := RectangleReport{Name: r.Name, Plane: r.U.String() + r.V.String(), OuterCorners: cornerWords(r),
		OuterMM: [2]Number{Number(r.Outer[0]), Number(r.Outer[1])}, InnerMM: [2]Number{Number(r.Inner[0]), Number(r.Inner[1])},
		DiffersSquareMM: round(r.Square, 2), DiffersGeneralMM: round(r.General, 2)}
	for _, m := range r.Bars {
		out.Members = append(out.Members, m.Name)
	}
	if r.OuterDiagonal > 0 {
		d := round(r.OuterDiagonal, 1)
		out.OuterDiagonalMM = &d
	}
	if r.InnerDiagonal > 0 {
		d := round(r.InnerDiagonal, 1)
		out.InnerDiagonalMM = &d
	}
	return out
}

// cornerWords says what stands in the outer corners of a rectangle.
func cornerWords(r *frame.Rectangle) string {
	count := map[frame.CornerKind]int{}
	for _, c := range r.Corner {
		count[c]++
	}
	switch {
	case count[frame.PastCorner] > 0:
		return "none"
	case count[frame.PostCorner] == 4:
		return "posts"
	case count[frame.SharpCorner] == 4:
		return "sawn ends"
	}
	return "mixed"
}

// mostRows is how many rectangles the terminal shows.
const mostRows = 40

// WriteMeasures prints the measuring table for a terminal.
func WriteMeasures(w io.Writer, f *frame.Frame) {
	m := newMeasures(f)
	if len(m.Rectangles) > 0 {
		t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
		fmt.Fprintf(t, "measure (mm)\tplane\toutside\tdiagonal\tinside\tdiagonal\tmay differ by: 0.1°\t%s\n", m.GeneralTolerance)
		for i := range m.Rectangles {
			if i == mostRows {
				break
			}
			r := &m.Rectangles[i]
			fmt.Fprintf(t, "%s\t%s\t%s × %s\t%s\t%s × %s\t%s\t%s\t%s\n", rowName(r), r.Plane, tenth(r.OuterMM[0]), tenth(r.OuterMM[1]), diagonal(r.OuterDiagonalMM),
				tenth(r.InnerMM[0]), tenth(r.InnerMM[1]), diagonal(r.InnerDiagonalMM), tenth(r.DiffersSquareMM), tenth(r.DiffersGeneralMM))
		}
		t.Flush()
		if n := len(m.Rectangles) - mostRows; n > 0 {
			fmt.Fprintf(w, "and %d more, which --json lists\n", n)
		}
		fmt.Fprintln(w, "Both diagonals of a rectangle should read the same. Outside: over sawn ends, or over the rounded edges of posts; – where a bar is in the way.")
		fmt.Fprintln(w)
	}
	fmt.Fprintln(w, massLine(f))
	c := m.CentreOfGravityMM
	fmt.Fprintf(w, "centre of gravity at %s, %s, %s", tenth(c[0]), tenth(c[1]), tenth(c[2]))
	if m.CarriedKG > 0 {
		fmt.Fprintf(w, " with %s kg carried", m.CarriedKG)
	}
	switch {
	case m.TippingAngleDeg == nil:
		fmt.Fprintln(w, "; it stands on no area")
	case *m.TippingAngleDeg <= 0:
		fmt.Fprintf(w, "; IT FALLS OVER to the %s\n", m.TipsTo)
	default:
		fmt.Fprintf(w, "; it tips over to the %s at %s°\n", m.TipsTo, *m.TippingAngleDeg)
	}
}

// rowName names a rectangle by its set, or by its bars.
func rowName(r *RectangleReport) string {
	if r.Name != "" {
		return r.Name
	}
	return strings.Join(r.Members, ", ")
}

// tenth writes a length to a tenth of a millimetre.
func tenth(n Number) string { return Length(float64(n)) }

// diagonal writes a diagonal, or a dash where it can't be measured.
func diagonal(n *Number) string {
	if n == nil {
		return "–"
	}
	return tenth(*n)
}
