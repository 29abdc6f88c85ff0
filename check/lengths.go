package check

import (
	"fmt"
	"math"

	"barwright/frame"
)

func barTooLongRule() Rule {
	return Rule{Name: "bar-too-long", run: barsTooLong, Explain: `bar-too-long (error; warning where the file names no stock)

A bar is longer than any bar of its profile that can be had: the stock block's bars and offcuts less its trim. Where
the file has no stock for the profile, 6000 mm is taken, as bars are usually sold (common practice, no source).

Remedy: make the bar of two and splice them, or add a longer bar to the stock block.`}
}

// usualBar is the length in mm in which bars are sold (common practice, no source).
const usualBar = 6000

// stockOf returns the stock of a profile, or nil.
func (m *model) stockOf(p string) *frame.Stock {
	for _, s := range m.f.Stocks {
		if s.Profile == p {
			return s
		}
	}
	return nil
}

func barsTooLong(m *model) []Finding {
	var out []Finding
	for _, p := range m.f.Parts {
		longest, sev := float64(usualBar), Warning
		text := "bars are usually sold"
		if s := m.stockOf(p.Bar.Profile.Name); s != nil {
			longest, sev = 0, Error
			for _, b := range s.Bars {
				longest = math.Max(longest, b.Length-s.Trim)
			}
			for _, l := range s.Offcuts {
				longest = math.Max(longest, l-s.Trim)
			}
			text = "the stock's longest bar gives"
			if s.Trim > 0 {
				text = fmt.Sprintf("the stock's longest bar gives, less %s mm of trim,", mm(s.Trim))
			}
		}
		if p.Bar.Length <= longest+0.001 {
			continue
		}
		first := p.Members[0]
		out = append(out, Finding{Severity: sev, Members: names(p.Members...), At: first.Box.Centre(), Origin: first.Origin,
			Message: fmt.Sprintf("%s is %s mm long; %s %s mm: %s mm too long", first.Name, mm(p.Bar.Length), text, mm(longest), mm(p.Bar.Length-longest)),
			Remedy:  "make it of two bars and splice them, or add a longer bar to the stock block"})
	}
	return out
}

func wastefulLengthRule() Rule {
	return Rule{Name: "wasteful-length", run: wastefulLengths, Explain: `wasteful-length (note)

A length that just misses one more piece from a bar: cut from one stock length by themselves, the pieces of a
part would need fewer bars if each were shorter by no more than 1 % and 10 mm. Pieces of n to a bar need n times
their length, n − 1 saw cuts and the trim. Only where the file has a stock block. Other parts may use
the leftovers: cut plans them all.

Remedy: shorten the part by what is said, if the design allows.`}
}

// Limits of what may be taken off a length to save a bar (common practice, no source).
const (
	shortenShare = 0.01
	shortenMost  = 10
)

func wastefulLengths(m *model) []Finding {
	var out []Finding
	for _, p := range m.f.Parts {
		s := m.stockOf(p.Bar.Profile.Name)
		if s == nil {
			continue
		}
		for _, b := range s.Bars {
			if g, ok := wasteful(p, s, b.Length); ok {
				out = append(out, g)
			}
		}
	}
	return out
}

// wasteful compares a part with one stock length.
func wasteful(p *frame.Part, s *frame.Stock, bar float64) (Finding, bool) {
	l, use := p.Bar.Length, bar-s.Trim
	n := int(math.Floor((use+s.Kerf)/(l+s.Kerf) + 1e-9))
	if n < 1 || n > 1e6 {
		return Finding{}, false
	}
	shorter := (float64(n+1)*l + float64(n)*s.Kerf - use) / float64(n+1)
	bars := func(k int) int { return (p.Quantity() + k - 1) / k }
	if shorter <= 0 || shorter > shortenMost || shorter > shortenShare*l || bars(n+1) >= bars(n) {
		return Finding{}, false
	}
	shorter = math.Ceil(shorter*10-1e-6) / 10
	return Finding{Severity: Note, Members: names(p.Members...), At: p.Members[0].Box.Centre(), Origin: p.Members[0].Origin,
		Message: fmt.Sprintf("%d pieces %s of %s mm go into a bar of %s mm; %d would if each were %s mm shorter: %d bars in place of %d", n, p.Mark, mm(l), mm(bar), n+1,
			mm(shorter), bars(n+1), bars(n)),
		Remedy: fmt.Sprintf("shorten the part to %s mm, if the design allows", mm(l-shorter))}, true
}
