package job

import (
	"fmt"
	"math"
	"slices"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh/bracket"
)

// wantedParts lists the printed parts that a frame asks for: those of its joints, then those of its bracket blocks.
func wantedParts(f *frame.Frame) ([]*wanted, error) {
	base, err := printingSpec(f)
	if err != nil {
		return nil, err
	}
	var list []*wanted
	served := map[*frame.Bracket]bool{}
	for _, j := range f.Joints {
		if !j.With.Printed || j.Shared != nil {
			continue
		}
		w, b, err := wantJoint(f, j, base)
		if err != nil {
			return nil, err
		}
		served[b] = true
		list = append(list, w)
	}
	shared, err := wantShared(f, base, served)
	if err != nil {
		return nil, err
	}
	list = append(list, shared...)
	for _, b := range f.Brackets {
		switch {
		case serves(b.Kind):
			continue
		case b.Between[0] != nil:
			if !served[b] {
				return nil, f.Problem(b.Origin, fmt.Sprintf("bracket %q serves no joint", b.Name), "The members it names do not meet, or a later joint or bracket block joins them otherwise.")
			}
			continue
		}
		more, err := wantBlock(f, b, blockSpec(b, base))
		if err != nil {
			return nil, err
		}
		list = append(list, more...)
	}
	return list, nil
}

// printingSpec returns what the printing block says of every part.
func printingSpec(f *frame.Frame) (bracket.Spec, error) {
	var s bracket.Spec
	p := f.Printing
	if p == nil {
		return s, nil
	}
	s.Bed = geom.Vec{X: p.Bed[0], Y: p.Bed[1], Z: p.Bed[2]}
	s.Material, s.Load, s.Wall = p.Material, p.Load, p.Wall
	if len(p.Allowances) > 0 {
		a := bracket.DefaultAllowances()
		for _, v := range p.Allowances {
			into := allowanceField(&a, v.Name)
			if into == nil {
				return s, f.Problem(p.Origin, fmt.Sprintf("There is no allowance %q", v.Name), "")
			}
			*into = v.Value
		}
		s.Allowances = &a
	}
	if err := s.CheckPrinting(); err != nil {
		return s, f.Problem(p.Origin, "No part can be printed so", sentence(f, err)+".")
	}
	return s, nil
}

// blockSpec returns base with what a bracket block says.
func blockSpec(b *frame.Bracket, base bracket.Spec) bracket.Spec {
	s := base
	s.Kind, s.Thread, s.Text = b.Kind, b.Thread, b.Text
	if b.Wall > 0 {
		s.Wall = b.Wall
	}
	if b.Material != "" {
		s.Material = b.Material
	}
	if b.Load > 0 {
		s.Load = b.Load
	}
	s.Params = map[string]float64{}
	for _, v := range b.Set {
		s.Params[v.Name] = v.Value
	}
	return s
}

// wantJoint derives the part of a joint, and finds the bracket block that chose it, or nil.
func wantJoint(f *frame.Frame, j *frame.Joint, base bracket.Spec) (*wanted, *frame.Bracket, error) {
	var block *frame.Bracket
	spec := base
	for _, b := range f.Brackets {
		if b.Between[0] != nil && b.Origin == j.Origin {
			block, spec = b, blockSpec(b, base)
		}
	}
	w := &wanted{name: j.A.Name + " on " + j.B.Name, joint: j, on: []*frame.Member{j.A, j.B}, count: 1, origin: j.Origin}
	s, mount, err := bracket.ForJoint(j, spec)
	if err != nil {
		w.spec.Kind = spec.Kind
		if w.spec.Kind == "" {
			w.spec.Kind = "bracket"
		}
		return nil, nil, partProblem(f, w, err)
	}
	if block != nil && s.Kind != block.Kind {
		return nil, nil, f.Problem(block.Origin, fmt.Sprintf("%s asks for a printed part %q at %s", block.Name, block.Kind, w.name), fmt.Sprintf("What fits there is %q.", s.Kind))
	}
	w.spec, w.mount = s, &mount
	return w, block, nil
}

// wantBlock lists the parts of a bracket block that no joint serves.
func wantBlock(f *frame.Frame, b *frame.Bracket, s bracket.Spec) ([]*wanted, error) {
	switch b.Kind {
	case "drill-jig":
		return wantJigs(f, b, s)
	case "spacer":
		if b.Under != nil {
			return wantSpacers(b, s), nil
		}
		fallthrough
	case "tap-guide", "square":
		s.Profile = b.On[0].Bar.Profile
		return []*wanted{{spec: s, name: fmt.Sprintf("bracket %q", b.Name), count: b.Quantity, origin: b.Origin, on: b.On}}, nil
	}
	var out []*wanted
	for _, m := range b.On {
		var more []*wanted
		var err error
		if b.End != "" {
			more, err = wantEnd(f, b, s, m)
		} else {
			more, err = wantFace(f, b, s, m)
		}
		if err != nil {
			return nil, err
		}
		out = append(out, more...)
	}
	return out, nil
}

// wantJigs lists a drill jig for each part of the bars that has holes.
func wantJigs(f *frame.Frame, b *frame.Bracket, s bracket.Spec) ([]*wanted, error) {
	var out []*wanted
	for _, p := range f.Parts {
		for _, m := range b.On {
			if m.Part != p || len(p.Bar.Holes) == 0 {
				continue
			}
			s.Part, s.Profile = p, p.Bar.Profile
			out = append(out, &wanted{spec: s, name: "part " + p.Mark, count: b.Quantity, origin: b.Origin, on: p.Members})
			break
		}
	}
	if len(out) == 0 {
		return nil, f.Problem(b.Origin, fmt.Sprintf("bracket %q finds no hole to drill", b.Name), "None of its bars has a hole. Name bars that have, or leave the jig out.")
	}
	return out, nil
}

// wantSpacers lists a spacer for each height that a block's rails need.
func wantSpacers(b *frame.Bracket, s bracket.Spec) []*wanted {
	var out []*wanted
	by := map[float64]*wanted{}
	for _, x := range b.Sets {
		h := math.Round(x.Height*100) / 100
		w := by[h]
		if w == nil {
			w = &wanted{spec: s, name: "setting " + x.Rail.Name, count: b.Quantity, origin: b.Origin}
			w.spec.Profile = x.Post.Bar.Profile
			w.spec.Params = map[string]float64{}
			for n, v := range s.Params {
				w.spec.Params[n] = v
			}
			w.spec.Params["height"] = h
			by[h] = w
			out = append(out, w)
		}
		w.sets = append(w.sets, x)
		if !slices.Contains(w.on, x.Post) {
			w.on = append(w.on, x.Post)
		}
	}
	return out
}

// toward returns the direction of a side of the frame.
func toward(side string) geom.Vec {
	return map[string]geom.Vec{"left": {X: -1}, "right": {X: 1}, "front": {Y: -1}, "back": {Y: 1}, "bottom": {Z: -1}, "top": {Z: 1}}[side]
}

// wantEnd places a cap, pad or caster plate on a bar's end.
func wantEnd(f *frame.Frame, b *frame.Bracket, s bracket.Spec, m *frame.Member) ([]*wanted, error) {
	end := 0
	if m.Direction().Dot(toward(b.End)) > 0 {
		end = 1
	}
	if !m.Bar.Cuts[end].Square() {
		return nil, f.Problem(b.Origin, fmt.Sprintf("The %s end of %s is mitred", b.End, m.Name), "A printed part sits on a square end.")
	}
	s.Profile = m.Bar.Profile
	if b.Kind == "end-cap" {
		s.Params = tongues(f, m, end, s.Params)
	}
	at := m.Place.Apply(geom.Vec{Z: m.Bar.Plane(end)})
	mount := geom.Motion{EX: m.Place.EX, EY: m.Place.EY, EZ: m.Place.EZ, T: at}
	// A cap looks out of the bar, a pad into it.
	if (end == 1) != (b.Kind == "end-cap") {
		switch closed := m.Bar.Profile.Closed; {
		case closed[1] == closed[3]:
			mount.EY, mount.EZ = mount.EY.Scale(-1), mount.EZ.Scale(-1)
		case closed[0] == closed[2]:
			mount.EX, mount.EZ = mount.EX.Scale(-1), mount.EZ.Scale(-1)
		default:
			return nil, f.Problem(b.Origin, fmt.Sprintf("No printed part is made for the %s end of %s", b.End, m.Name), "Its closed faces lie over a corner; turn the bar end for end.")
		}
	}
	return []*wanted{{spec: s, mount: &mount, name: m.Name + " " + b.End, count: 1, origin: b.Origin, on: []*frame.Member{m}, end: b.End}}, nil
}

// wantFace places covers and clips on a bar's face.
func wantFace(f *frame.Frame, b *frame.Bracket, s bracket.Spec, m *frame.Member) ([]*wanted, error) {
	z := toward(b.Face)
	side := m.SideFacing(z)
	p := m.Bar.Profile
	lines := p.SlotLines(side)
	if len(lines) == 0 {
		return nil, f.Problem(b.Origin, fmt.Sprintf("The %s face of %s has no slot", b.Face, m.Name), "It is closed.")
	}
	line := lines[0]
	for _, l := range lines {
		if math.Abs(l) < math.Abs(line)-1e-9 {
			line = l
		}
	}
	s.Profile = p
	x, back := m.Direction(), 0.0
	given := s.Params
	s.Params = map[string]float64{}
	for n, v := range given {
		s.Params[n] = v
	}
	switch b.Kind {
	case "slot-cover":
		if s.Params["length"] == 0 {
			s.Params["length"] = m.Bar.Length
		}
		back = s.Params["length"] / 2
	case "cable-clip":
		if back = s.Params["width"] / 2; back == 0 {
			back = paramDefault(b.Kind, "width") / 2
		}
	case "panel-clip":
		y := toward(b.Toward)
		if math.Abs(y.Dot(z)) > 1e-6 || math.Abs(y.Dot(x)) > 1e-6 {
			return nil, f.Problem(b.Origin, fmt.Sprintf("toward = %q does not lie square to %s and its %s face", b.Toward, m.Name, b.Face), "Name the side of the bar on which the panel lies.")
		}
		x = y.Cross(z)
	}
	at := b.At
	if len(at) == 0 {
		at = []float64{m.Bar.Length / 2}
	}
	var out []*wanted
	for i, v := range at {
		if b.Kind != "panel-clip" && (v < back-geom.Coincident || v > m.Bar.Length-back+geom.Coincident) {
			return nil, overEnd(f, b, m, v, back)
		}
		if m.LowEnd() == 1 {
			v = m.Bar.Length - v
		}
		mount := geom.Motion{EX: x, EY: z.Cross(x), EZ: z, T: m.SidePoint(side, v, line, 0).Sub(x.Scale(back))}
		name := m.Name + " " + b.Face
		if len(at) > 1 {
			name = fmt.Sprintf("%s %d", name, i+1)
		}
		out = append(out, &wanted{spec: s, mount: &mount, name: name, count: 1, origin: b.Origin, on: []*frame.Member{m}, face: b.Face, at: at[i]})
	}
	return out, nil
}

// overEnd is the error that a cover or clip, whose middle and half length are given, reaches over the end of its bar.
func overEnd(f *frame.Frame, b *frame.Bracket, m *frame.Member, at, half float64) error {
	if 2*half > m.Bar.Length {
		return f.Problem(b.Origin, fmt.Sprintf("The %s is %s mm long, more than %s", b.Kind, Length(2*half), m.Name), fmt.Sprintf("That bar is %s mm long.", Length(m.Bar.Length)))
	}
	return f.Problem(b.Origin, fmt.Sprintf("The %s at %s reaches over the end of %s", b.Kind, Length(at), m.Name),
		fmt.Sprintf("It is %s mm long, and at is its middle: take a place from %s to %s, or set another length.", Length(2*half), Length(half), Length(m.Bar.Length-half)))
}

// paramDefault returns the default of a kind's parameter.
func paramDefault(kind, name string) float64 {
	k, _ := bracket.KindByName(kind)
	for _, p := range k.Params {
		if p.Name == name {
			return p.Default
		}
	}
	return 0
}
