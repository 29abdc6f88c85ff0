package job

import (
	"strings"

	"barwright/frame"
)

// listPages are the sheets of the workbook.
func listPages(f *frame.Frame, p *CutPlan) []page {
	hardware, printed := hardwarePages(f)
	pages := []page{partsPage(f), barsPage(p), planPage(p), hardware}
	if len(printed.rows) > 0 {
		pages = append(pages, printed)
	}
	if len(f.Panels) > 0 {
		pages = append(pages, panelsPage(f))
	}
	return pages
}

// partsPage is the cut list by mark.
func partsPage(f *frame.Frame) page {
	p := page{name: "Cut list", total: true, columns: []column{{"Mark", formatText, 0}, {"Quantity", formatCount, 0}, {"Profile", formatText, 0},
		{"Length mm", formatLength, 0}, {"kg each", formatMass, 0}, {"kg", formatMass, 0}, {"Machining", formatText, 60}, {"Members", formatText, 50}}}
	n, kg := 0, 0.0
	for _, q := range f.Parts {
		words := Words(&q.Bar)
		if len(words) == 0 {
			words = []string{"cut square"}
		}
		all := q.Mass * float64(q.Quantity())
		n, kg = n+q.Quantity(), kg+all
		p.rows = append(p.rows, []any{q.Mark, q.Quantity(), q.Bar.Profile.Name, q.Bar.Length, float64(round(q.Mass, 4)), float64(round(all, 4)),
			strings.Join(words, "; "), strings.Join(memberNames(q), ", ")})
	}
	p.rows = append(p.rows, []any{"Sum", n, nil, nil, nil, float64(round(kg, 4)), nil, nil})
	return p
}

// barsPage is the bars to buy.
func barsPage(c *CutPlan) page {
	p := page{name: "Bars", total: true, columns: []column{{"Profile", formatText, 0}, {"Length mm", formatLength, 0}, {"Quantity", formatCount, 0},
		{"From", formatText, 0}, {"Price each", formatMoney, 0}, {"Price", formatMoney, 0}}}
	n := 0
	for _, b := range c.Purchases() {
		row := []any{b.Profile, b.Length, b.Quantity, "to buy", nil, nil}
		if b.Offcut {
			row[3] = "offcut"
		}
		if b.Price > 0 {
			row[4], row[5] = b.Price, b.Price*float64(b.Quantity)
		}
		n += b.Quantity
		p.rows = append(p.rows, row)
	}
	sum := []any{"Sum", nil, n, nil, nil, nil}
	if t := c.Total(); t.Priced {
		sum[5] = t.Cost
	}
	p.rows = append(p.rows, sum)
	return p
}

// planPage is the pieces in the order of sawing.
func planPage(c *CutPlan) page {
	p := page{name: "Cut plan", columns: []column{{"Profile", formatText, 0}, {"Bar", formatCount, 0}, {"Bar mm", formatLength, 0}, {"Cut", formatCount, 0},
		{"Mark", formatText, 0}, {"Length mm", formatLength, 0}, {"Left mm", formatLength, 0}, {"Done", formatText, 0}}}
	for _, q := range c.Profiles {
		for i, b := range q.Plan.Bars {
			for k, cut := range b.Cuts {
				row := []any{q.Profile, i + 1, b.StockLength, k + 1, cut.Mark, cut.Length, nil, nil}
				if k == len(b.Cuts)-1 {
					row[6] = b.Left
				}
				p.rows = append(p.rows, row)
			}
		}
	}
	return p
}

// printedPart is the item of the hardware list that is printed, not bought.
const printedPart = "printed part"

// hardwarePages are the hardware to buy and the parts to print.
func hardwarePages(f *frame.Frame) (hardware, printed page) {
	hardware = page{name: "Hardware", columns: []column{{"Item", formatText, 0}, {"Standard", formatText, 0}, {"Size", formatText, 0}, {"Needed", formatCount, 0},
		{"Spares", formatCount, 0}, {"Order", formatCount, 0}, {"kg each, about", formatMass, 0},
		{"To order", formatText, 50}, {"Note", formatText, 50}}}
	printed = page{name: "Printed parts", columns: []column{{"Part", formatText, 0}, {"Quantity", formatCount, 0}, {"kg each, about", formatMass, 0}, {"Note", formatText, 60}}}
	for _, h := range f.Hardware {
		var mass any
		if m := h.Kg(); m > 0 {
			mass = m
		}
		if h.Item == printedPart {
			printed.rows = append(printed.rows, []any{h.Size, h.Quantity, mass, h.Note})
			continue
		}
		hardware.rows = append(hardware.rows, []any{h.Item, h.Standard, h.Size, h.Quantity, spares(h), h.Quantity + spares(h), mass, designation(h), h.Note})
	}
	return hardware, printed
}

// panelsPage is the panels.
func panelsPage(f *frame.Frame) page {
	p := page{name: "Panels", columns: []column{{"Panel", formatText, 0}, {"Thickness mm", formatLength, 0}, {"Material", formatText, 0},
		{"Width mm", formatLength, 0}, {"Height mm", formatLength, 0}, {"Notches", formatCount, 0}, {"Holes", formatCount, 0}, {"kg", formatMass, 0},
		{"Held by", formatText, 60}}}
	for _, q := range f.Panels {
		var names []string
		for _, m := range q.HeldBy {
			names = append(names, m.Name)
		}
		row := []any{q.Name, q.Thickness, q.Material, nil, nil, nil, nil, nil, strings.Join(names, ", ")}
		if s := q.Sheet; s != nil {
			row[3], row[4], row[5], row[6], row[7] = s.Size.X, s.Size.Y, s.Notches, len(s.Holes), float64(round(s.Mass, 3))
		}
		p.rows = append(p.rows, row)
	}
	return p
}
