package job

import (
	"fmt"
	"io"
	"math"
	"strings"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
	"barwright/statics"
)

// shape is one way in which the frame moves, ready to be drawn.
type shape struct {
	slug, title string
	lines       []string
	moves       mover
	most        float64 // largest shift
	unit        string
	member      string
	at          geom.Vec
	atIs        string
}

// mover is a solved load case or a mode.
type mover interface {
	Model() *statics.Model
	Samples(beam, steps int) []statics.Sample
}

// shapes lists the load cases that have a result, the pushes and the modes, the case that gives most first.
func (s *Stiffness) shapes(modes int) []shape {
	var out []shape
	worst := s.Extremes().Case
	solved := func(name string) *statics.Solution {
		for _, x := range s.Report.Solutions {
			if x.Case.Name == name {
				return x
			}
		}
		return nil
	}
	for _, c := range s.Report.LoadCases {
		sol := solved(c.Name)
		if c.Failed != "" || sol == nil {
			continue
		}
		sh := shape{slug: slug(c.Name), title: upper(c.Name), moves: sol, most: c.Deflection, unit: "mm", member: c.AtMember,
			at: geom.Vec{X: c.At[0], Y: c.At[1], Z: c.At[2]}, atIs: Figure(c.Deflection) + " mm"}
		sh.lines = []string{fmt.Sprintf("most: %s mm, %s at %s", Figure(c.Deflection), c.AtMember, spot(c.At))}
		if c.Name == worst {
			sh.slug = ""
			out = append([]shape{sh}, out...)
			continue
		}
		out = append(out, sh)
	}
	for _, k := range s.Report.Racking {
		sol := solved("push along " + k.Direction)
		if sol == nil {
			continue
		}
		p := sol.Largest(geom.Vec{})
		out = append(out, shape{slug: slug(sol.Case.Name), title: fmt.Sprintf("Push of %s N along %s at the top", Figure(k.Push), k.Direction), moves: sol,
			most: p.Value, unit: "mm", member: sol.Model().Beams[p.Beam].Member, at: p.At, atIs: Figure(p.Value) + " mm",
			lines: []string{fmt.Sprintf("racking stiffness %s N/mm: the top gives %s mm", Figure(k.Stiffness), Figure(k.Shift))}})
	}
	for i := range s.Report.Modes[:min(modes, len(s.Report.Modes))] {
		m := &s.Report.Modes[i]
		out = append(out, shape{slug: fmt.Sprintf("mode-%d", i+1), title: fmt.Sprintf("Rings at %s Hz (mode %d)", Figure(m.Frequency), i+1), moves: m, most: 1,
			lines: []string{strings.TrimSpace("how far each place swings, as a share of the largest " + standsWords(s.Report.ModeMasses))}})
	}
	return out
}

// slug turns a name into the stem of a file.
func slug(name string) string {
	out := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		case r >= 'A' && r <= 'Z':
			return r + 'a' - 'A'
		}
		return '-'
	}, name)
	for strings.Contains(out, "--") {
		out = strings.ReplaceAll(out, "--", "-")
	}
	return strings.Trim(out[:min(len(out), 60)], "-")
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// samplesPerBeam is in how many steps the curve of a beam between two joints is followed.
const samplesPerBeam = 8

// movements returns how each bar of the frame moves.
func (sh *shape) movements(f *frame.Frame) map[*frame.Member]mesh.Movement {
	out := map[*frame.Member]mesh.Movement{}
	members := map[string]*frame.Member{}
	for _, m := range f.Members {
		members[m.Name] = m
	}
	centroid := map[*geom.Profile]geom.Vec2{}
	model := sh.moves.Model()
	for i := range model.Beams {
		b := &model.Beams[i]
		m := members[b.Member]
		if m == nil || b.Massless {
			continue
		}
		c, ok := centroid[m.Profile]
		if !ok {
			c = m.Profile.Properties().Centroid
			centroid[m.Profile] = c
		}
		mv := out[m]
		for _, s := range sh.moves.Samples(i, samplesPerBeam) {
			home := m.Place.Unapply(s.At)
			if n := len(mv.At); n > 0 && home.Z-mv.At[n-1] < 1e-3 {
				continue
			}
			if len(mv.At) == 0 && m.Group != nil && m.Group.Travel != nil {
				mv.Base = s.At.Sub(m.Place.Apply(geom.Vec{X: c.X, Y: c.Y, Z: b.At}))
			}
			mv.At, mv.Shift = append(mv.At, m.Place.Unapply(s.At.Sub(mv.Base)).Z), append(mv.Shift, s.Shift)
		}
		out[m] = mv
	}
	return out
}

// deformed returns what the picture of a shape shows.
func (s *Stiffness) deformed(sh *shape) *mesh.Deformed {
	d := &mesh.Deformed{Bars: sh.movements(s.Frame), Most: sh.most, Unit: sh.unit, Title: sh.title, Foot: s.Report.Caution}
	d.Scale = mesh.ExaggerationFor(s.Frame, sh.most)
	d.Lines = sh.lines
	if sh.unit != "" {
		d.Lines = append(d.Lines[:len(d.Lines):len(d.Lines)], "drawn "+magnified(d.Scale)+"; pale: at rest")
	} else {
		d.Lines = append(d.Lines[:len(d.Lines):len(d.Lines)], "the size of the swing is free; pale: at rest")
	}
	if sh.member != "" {
		d.Peak, d.PeakOn, d.PeakIs = &sh.at, s.Frame.Member(sh.member), sh.atIs
	}
	return d
}

// magnified says how many times larger than true shifts are drawn.
func magnified(k float64) string {
	if k >= 1 {
		return fmt.Sprintf("%s times larger than true", Length(k))
	}
	return fmt.Sprintf("%s times smaller than true", Length(math.Round(1/k)))
}

// picture lists the picture of a shape.
func (s *Stiffness) picture(sh shape, tolerance float64, o mesh.PictureOptions) output {
	name := "pictures/deformed.png"
	switch {
	case strings.HasPrefix(sh.slug, "mode-") && sh.unit == "":
		name = "pictures/" + sh.slug + ".png"
	case sh.slug != "":
		name = "pictures/deformed-" + sh.slug + ".png"
	}
	return output{name, whole(func(w io.Writer) error { return mesh.WriteDeformedPNG(w, s.Frame, s.deformed(&sh), tolerance, o) })}
}
