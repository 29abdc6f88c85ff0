package check

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/geom"
)

func looseEndRule() Rule {
	return Rule{Name: "loose-end", run: looseEnds, Explain: `loose-end (warning)

An end of a bar touches nothing, and the bar is held at fewer than two places. A bar's end that stands free is
usual where the bar is held at two places along its length: that gives no finding. A foot under an end, a
support, and the floor under an upright bar hold it too. Bars of a
travelling group are held by carriages, which the file does not draw.

Remedy: let the bar run to a face of the bar that it should meet, or hold it at a second place.`}
}

func looseEnds(m *model) []Finding {
	feet := map[*frame.Member][]*frame.Foot{}
	for _, t := range m.f.Feet {
		feet[t.Under] = append(feet[t.Under], t)
	}
	for _, s := range m.f.Supports {
		feet[s.On] = append(feet[s.On], nil)
	}
	var out []Finding
	for i, b := range m.f.Members {
		touched, places := [2]bool{}, len(m.contacts[i])+len(feet[b])
		for _, c := range m.contacts[i] {
			end := c.EndA
			if c.B == b {
				end = c.EndB
			}
			if end >= 0 {
				touched[end] = true
			}
		}
		for _, t := range feet[b] {
			if t != nil && t.On == frame.FootPostEnd {
				touched[lowEnd(b)] = true
			}
		}
		if low := lowEnd(b); onFloor(b, m.f.Floor) && !touched[low] {
			touched[low] = true
			places++
		}
		if places >= 2 || moving(b) != nil {
			continue
		}
		for end, ok := range touched {
			if !ok {
				out = append(out, m.looseEnd(b, end, places))
			}
		}
	}
	return out
}

// onFloor reports whether an upright bar stands on the floor with its end.
func onFloor(b *frame.Member, floor float64) bool {
	return !b.Brace && b.Axis == geom.Z && math.Abs(b.Box.Low.Z-floor) <= geom.Coincident
}

func (m *model) looseEnd(b *frame.Member, end, places int) Finding {
	at := b.EndPoint(end)
	text := fmt.Sprintf("the %s end of %s touches nothing", endName(b, end), b.Name)
	switch places {
	case 0:
		text += "; the bar is held nowhere and needs two places"
	case 1:
		text += "; the bar is held at 1 place and needs 2"
	}
	if other, gap := m.ahead(b, end); other != nil {
		text += fmt.Sprintf("; %s is %s mm ahead", other.Name, mm(gap))
	}
	return Finding{Severity: Warning, Members: names(b), At: at, Origin: b.Origin, Message: text,
		Remedy: "let it run to a face of the bar that it should meet, or hold the bar at a second place"}
}

// ahead returns the nearest bar in the line of a bar beyond its end, and how far away it begins.
func (m *model) ahead(b *frame.Member, end int) (*frame.Member, float64) {
	if b.Brace {
		return nil, 0
	}
	d, ax := b.EndNormal(end), b.Axis
	face := b.EndPoint(end).Along(ax)
	beam := b.Box.Grow(-geom.Coincident)
	if d.Along(ax) > 0 {
		beam.Low, beam.High = beam.Low.With(ax, face), beam.High.With(ax, face+b.Length())
	} else {
		beam.Low, beam.High = beam.Low.With(ax, face-b.Length()), beam.High.With(ax, face)
	}
	var best *frame.Member
	gap := math.Inf(1)
	for _, k := range m.tree.near(beam) {
		o := m.f.Members[k]
		if o == b {
			continue
		}
		g := o.Box.Low.Along(ax) - face
		if d.Along(ax) < 0 {
			g = face - o.Box.High.Along(ax)
		}
		if g > 0 && g < gap {
			best, gap = o, g
		}
	}
	return best, gap
}
