package check

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/geom"

	"github.com/hashicorp/hcl/v2"
)

func doorwayRule() Rule {
	return Rule{Name: "doorway", run: doorways, Explain: `doorway (error; warning where no way was found but none is excluded)

The frame does not pass a declared doorway. Where the frame as a whole does not, each declared group without travel is
tried by itself, and the rest of the frame as one.

An opening: the convex hull of the bars, feet and printed parts is pushed straight through in any orientation. All orientations are
searched by branch and bound, to half a millimetre; the best one is reported with the width and height that it
needs. Bars that could be threaded through one after the other by turning on the way are not considered.

A corridor with a corner: the outline from above is carried level, on its feet or tipped onto a side (each axis up
in turn), and turned freely on the way round. It must also fit under the height.

No play is added: give the clear sizes less what hands and padding need (20 mm all round is common practice, no source).

Remedy: build it of groups that pass, carry it in parts, or change its size by what is said.`}
}

// mostPassages is how many ways of a body through a doorway are looked at.
const mostPassages = 60

// carried is what goes through a doorway at one time.
type carried struct {
	name    string
	members []*frame.Member
	origin  hcl.Range
	corners []geom.Vec
}

func doorways(m *model) []Finding {
	if len(m.f.Doorways) == 0 || len(m.f.Members) == 0 {
		return nil
	}
	whole := m.newCarried("the frame", m.f.Members)
	var parts []*carried
	var out []Finding
	left := mostPassages
	for _, d := range m.f.Doorways {
		if left <= 0 {
			return append(out, Finding{Severity: Warning, At: m.box.Centre(), Origin: d.Origin,
				Message: fmt.Sprintf("only %d ways through doorways are looked at: doorway %q and those after it are not", mostPassages, d.Name), Remedy: "name fewer doorways"})
		}
		left--
		g, bad := passes(d, whole)
		if !bad {
			continue
		}
		if parts == nil {
			parts = m.carriedParts()
		}
		if len(parts) < 2 {
			out = append(out, g)
			continue
		}
		for _, p := range parts {
			left--
			if g, bad := passes(d, p); bad {
				out = append(out, g)
			}
		}
	}
	return out
}

// carriedParts returns the groups that are carried by themselves, and the rest.
func (m *model) carriedParts() []*carried {
	var out []*carried
	var rest []*frame.Member
	for _, b := range m.f.Members {
		if b.Group == nil || b.Group.Travel != nil {
			rest = append(rest, b)
		}
	}
	for _, g := range m.f.Groups {
		if g.Travel == nil {
			out = append(out, m.newCarried(fmt.Sprintf("group %q", g.Name), g.Members))
		}
	}
	if len(out) > 0 && len(rest) > 0 {
		out = append(out, m.newCarried("the frame without its groups", rest))
	}
	return out
}

func (m *model) newCarried(name string, members []*frame.Member) *carried {
	var c cloud
	in := map[*frame.Member]bool{}
	for _, b := range members {
		in[b] = true
		if b.Brace {
			c.points = append(c.points, m.bars[m.index[b]].corners()...)
		} else {
			c.boxes = append(c.boxes, b.Box)
		}
	}
	for i := range m.bodies {
		switch b := &m.bodies[i]; {
		case !in[b.owners[0]]:
		case b.kind == "foot", b.printed != nil && !b.onBrace():
			c.boxes = append(c.boxes, b.box)
		case b.printed != nil:
			for k := range b.pieces {
				for _, f := range b.pieces[k].poly.Faces {
					c.points = append(c.points, f...)
				}
			}
		}
	}
	return &carried{name: name, members: members, corners: c.corners()}
}

// passes compares a body with a doorway.
func passes(d *frame.Doorway, c *carried) (Finding, bool) {
	box := geom.EmptyBox()
	for _, p := range c.corners {
		box = box.Extend(p)
	}
	g := Finding{Severity: Error, Members: names(c.members...), At: box.Centre(), Origin: d.Origin}
	if c.name == "the frame" {
		g.Members = nil
	}
	if d.Corridor != [2]float64{} {
		return corridor(d, c, g)
	}
	p := through(c.corners, d.Width, d.Height)
	if p.over <= geom.Coincident {
		return g, false
	}
	g.Message = fmt.Sprintf("%s does not pass doorway %q of %s × %s mm in any orientation: at best it needs %.1f × %.1f mm, %.1f mm too much, %s",
		c.name, d.Name, mm(d.Width), mm(d.Height), p.width, p.height, p.over, orientation(&p))
	if p.bound <= 0 {
		g.Severity = Warning
		g.Message = fmt.Sprintf("no way was found for %s through doorway %q of %s × %s mm: at best it needs %.1f × %.1f mm, %.1f mm too much, %s",
			c.name, d.Name, mm(d.Width), mm(d.Height), p.width, p.height, p.over, orientation(&p))
	}
	g.Remedy = fmt.Sprintf("make it %.0f mm smaller that way, or carry it in groups that pass", math.Ceil(p.over))
	return g, true
}

// orientation describes a way through an opening.
func orientation(p *pass) string {
	return fmt.Sprintf("pushed along %s with %s up", axisWords(p.push()), axisWords(p.up))
}

// axisWords writes a direction of the frame: "Y" or "(0.71, 0.7, 0)".
func axisWords(d geom.Vec) string {
	for _, ax := range []geom.Axis{geom.X, geom.Y, geom.Z} {
		if math.Abs(d.Along(ax)) > 1-1e-9 {
			return [3]string{"X", "Y", "Z"}[ax]
		}
	}
	return fmt.Sprintf("(%s, %s, %s)", mm(d.X), mm(d.Y), mm(d.Z))
}

// corridor compares a body with a corridor's corner.
func corridor(d *frame.Doorway, c *carried, g Finding) (Finding, bool) {
	best, bestTurn, up, tall := math.Inf(1), 0.0, geom.Z, math.Inf(1)
	for _, ax := range []geom.Axis{geom.Z, geom.Y, geom.X} {
		u, v := ax.Others()
		var plan []geom.Vec2
		low, high := math.Inf(1), math.Inf(-1)
		for _, p := range c.corners {
			plan = append(plan, geom.Vec2{X: p.Along(u), Y: p.Along(v)})
			low, high = math.Min(low, p.Along(ax)), math.Max(high, p.Along(ax))
		}
		tall = math.Min(tall, high-low)
		if high-low > d.Height+geom.Coincident {
			continue
		}
		over, turn := roundCorner(hull2(plan), d.Corridor[0], d.Corridor[1])
		if over <= geom.Coincident {
			return g, false
		}
		if over < best-0.5 {
			best, bestTurn, up = over, turn, ax
		}
	}
	if math.IsInf(best, 1) {
		g.Message = fmt.Sprintf("%s does not fit under doorway %q, %s mm high: its smallest size is %s mm, %s mm too much", c.name, d.Name, mm(d.Height), mm(tall), mm(tall-d.Height))
		g.Remedy = "carry it in groups that pass"
		return g, true
	}
	g.Message = fmt.Sprintf("%s does not go round the corner of doorway %q, %s and %s mm wide: at best, with %s up, both corridors would have to be %.0f mm wider; it sticks at a turn of %.0f°",
		c.name, d.Name, mm(d.Corridor[0]), mm(d.Corridor[1]), axisWords(up.Unit()), best, math.Mod(bestTurn*180/math.Pi, 90))
	g.Remedy = "carry it in groups that pass, or make it shorter"
	return g, true
}
