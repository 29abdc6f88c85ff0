package job

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"barwright/check"
	"barwright/frame"
)

// WritePartsCSV writes the cut list: one line a mark. Every line carries the fingerprint of the input.
func WritePartsCSV(w io.Writer, f *frame.Frame) error {
	rows := [][]string{{"mark", "quantity", "profile", "length_mm", "mass_kg", "machining", "members", "fingerprint"}}
	for _, p := range f.Parts {
		rows = append(rows, []string{p.Mark, strconv.Itoa(p.Quantity()), p.Bar.Profile.Name, Number(p.Bar.Length).String(),
			round(p.Mass, 4).String(), strings.Join(Words(&p.Bar), "; "), strings.Join(memberNames(p), " "), f.Fingerprint})
	}
	return writeCSV(w, rows)
}

// WriteHardwareCSV writes the hardware list: what the frame needs, the spares, and how many to order.
func WriteHardwareCSV(w io.Writer, f *frame.Frame) error {
	rows := [][]string{{"item", "standard", "size", "quantity", "spares", "order", "mass_kg", "designation", "note", "fingerprint"}}
	for _, h := range f.Hardware {
		mass := ""
		if m := h.Kg(); m > 0 {
			mass = round(m, 4).String()
		}
		rows = append(rows, []string{h.Item, h.Standard, h.Size, strconv.Itoa(h.Quantity), strconv.Itoa(spares(h)),
			strconv.Itoa(h.Quantity + spares(h)), mass, designation(h), h.Note, f.Fingerprint})
	}
	return writeCSV(w, rows)
}

// designation returns what to write into an order: of a fastener of a standard its name, standard and size ("button head screw
// ISO 7380-1 - M8x20", in the way of ISO 8991), else its name and size. The property class is left to the buyer.
func designation(h frame.Hardware) string {
	if h.Standard == "" {
		return h.Item + " " + h.Size
	}
	return h.Item + " " + h.Standard + " - " + h.Size
}

// spares returns how many more to order of what gets lost: one in twenty and at least two of screws, nuts, washers and inserts (common
// practice, no source).
func spares(h frame.Hardware) int {
	for _, small := range []string{"screw", "nut", "washer", "insert"} {
		if strings.HasSuffix(h.Item, small) {
			return max(2, (h.Quantity+19)/20)
		}
	}
	return 0
}

func writeCSV(w io.Writer, rows [][]string) error {
	c := csv.NewWriter(w)
	for _, r := range rows {
		if err := c.Write(r); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

func memberNames(p *frame.Part) []string {
	names := make([]string, len(p.Members))
	for i, m := range p.Members {
		names[i] = m.Name
	}
	return names
}

// WriteTable writes rows as columns that line up. A column whose heading begins with > is set flush right.
func WriteTable(w io.Writer, rows [][]string) error {
	if len(rows) == 0 {
		return nil
	}
	right := make([]bool, len(rows[0]))
	width := make([]int, len(rows[0]))
	for i, h := range rows[0] {
		if rest, ok := strings.CutPrefix(h, ">"); ok {
			rows[0][i], right[i] = rest, true
		}
	}
	for _, r := range rows {
		for i, c := range r {
			width[i] = max(width[i], utf8.RuneCountInString(c))
		}
	}
	for _, r := range rows {
		var line strings.Builder
		for i, c := range r {
			pad := strings.Repeat(" ", width[i]-utf8.RuneCountInString(c))
			if right[i] {
				line.WriteString(pad + c)
			} else {
				line.WriteString(c + pad)
			}
			line.WriteString("  ")
		}
		if _, err := fmt.Fprintln(w, strings.TrimRight(line.String(), " ")); err != nil {
			return err
		}
	}
	return nil
}

// WriteParts writes the cut list and the hardware list for a terminal.
func WriteParts(w io.Writer, f *frame.Frame) error {
	rows := [][]string{{"mark", ">qty", "profile", ">length", ">kg each", "machining"}}
	for _, p := range f.Parts {
		words := Words(&p.Bar)
		if len(words) == 0 {
			words = []string{"cut square"}
		}
		for i, s := range words {
			row := []string{"", "", "", "", "", s}
			if i == 0 {
				row = []string{p.Mark, strconv.Itoa(p.Quantity()), p.Bar.Profile.Name, Length(p.Bar.Length), fmt.Sprintf("%.2f", p.Mass), s}
			}
			rows = append(rows, row)
		}
	}
	if err := WriteTable(w, rows); err != nil {
		return err
	}
	fmt.Fprintln(w)
	rows = [][]string{{">qty", ">spare", "item", "standard", "size"}}
	for _, h := range f.Hardware {
		spare := ""
		if n := spares(h); n > 0 {
			spare = "+" + strconv.Itoa(n)
		}
		rows = append(rows, []string{strconv.Itoa(h.Quantity), spare, h.Item, h.Standard, h.Size})
	}
	if err := WriteTable(w, rows); err != nil {
		return err
	}
	if err := WritePanels(w, f); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "\n%s\n", massLine(f))
	return err
}

// massLine says what the frame weighs and what is counted.
func massLine(f *frame.Frame) string {
	w := f.Weights()
	return fmt.Sprintf("weighs %.2f kg: %s", w.Total(), w)
}

// Summary returns the line that says how large and heavy a frame is, as far as masses are known.
func Summary(f *frame.Frame, findings []check.Finding) string {
	s := Size(f)
	count := map[check.Severity]int{}
	allowed := 0
	for _, g := range findings {
		if g.Allowed != "" {
			allowed++
		} else {
			count[g.Severity]++
		}
	}
	last := ""
	if allowed > 0 {
		last = fmt.Sprintf(", %d allowed", allowed)
	}
	mass := f.Weights()
	return fmt.Sprintf("%s: %s × %s × %s mm, %.1f kg (bars %.1f); %s, %s, %s; %s, %s, %s", f.Name, Length(s.X), Length(s.Y), Length(s.Z), mass.Total(), mass.Bars,
		plural(len(f.Members), "bar"), plural(len(f.Parts), "different part"), plural(len(f.Joints), "joint"),
		plural(count[check.Error], "error"), plural(count[check.Warning], "warning"), plural(count[check.Note], "note")) + last
}

// plural writes a count with its noun.
func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
