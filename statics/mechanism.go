package statics

import (
	"fmt"
	"math"
	"strings"

	"barwright/geom"
	"barwright/internal/sparse"
)

// Mechanism is the error for a frame in which something moves without resistance.
type Mechanism struct {
	// Members move as one body; Others move with them. Whole says that everything moves.
	Members, Others []string
	Whole           bool
	// Body names the members in a builder's words: "ring crown", "leg.front_left".
	Body string
	// Turn is the axis of a turn, through At, or zero; Slide the direction of a shift, or zero.
	Turn, Slide geom.Vec
	At          geom.Vec
}

// Error says what moves, how, and why: "ring crown can turn about Z: nothing braces it".
func (m *Mechanism) Error() string {
	var how, cause string
	switch {
	case m.Turn == (geom.Vec{}):
		how = "slide along " + axisName(m.Slide)
	case m.Slide == (geom.Vec{}):
		how = "turn about " + axisName(m.Turn)
		if !m.Whole {
			how += fmt.Sprintf(" through (%.0f, %.0f, %.0f)", m.At.X, m.At.Y, m.At.Z)
		}
	default:
		how = fmt.Sprintf("turn about %s and slide along %s", axisName(m.Turn), axisName(m.Slide))
	}
	cause = "nothing braces it"
	if m.Whole {
		cause = "no support holds it"
	}
	text := fmt.Sprintf("%s can %s: %s", m.Body, how, cause)
	if len(m.Others) > 0 {
		text += "; with it moves " + listNames(m.Others, 6)
	}
	return text
}

// listNames joins names, at most n of them.
func listNames(names []string, n int) string {
	if len(names) <= n {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:n], ", "), len(names)-n)
}

// axisName returns "X", "Y", "Z", or the direction in numbers.
func axisName(d geom.Vec) string {
	d = d.Unit()
	for _, ax := range []geom.Axis{geom.X, geom.Y, geom.Z} {
		if math.Abs(d.Along(ax)) > 0.999 {
			return strings.ToUpper(ax.String())
		}
	}
	return fmt.Sprintf("(%.2f, %.2f, %.2f)", d.X, d.Y, d.Z)
}

// twist is the movement of a rigid body: its turn, and the shift of the frame's middle.
type twist struct{ turn, shift geom.Vec }

func (a twist) sub(b twist) twist { return twist{a.turn.Sub(b.turn), a.shift.Sub(b.shift)} }

// size returns the largest shift of a point in the frame, of a size.
func (a twist) size(span float64) float64 { return a.turn.Len()*span + a.shift.Len() }

// stillShare is the share of the largest movement under which a body counts as still, or two as moving alike.
const stillShare = 1e-4

// mostFree is how many free movements are looked at to find the plainest.
const mostFree = 8

// noEnergy is the share of its terms under which the energy of a movement is only their rounding.
const noEnergy = 1e-13

// findMechanism returns the plainest free movement, or nil. A pivot of the factor that vanished tells one;
// where stiffnesses differ so much that rounding hides it, the softest movement has no energy.
func findMechanism(k *mesh, stiff *sparse.Sym, f *sparse.Factor) *Mechanism {
	if len(f.Loose) == 0 {
		if stiff.N == 0 {
			return nil
		}
		x := sparse.Softest(stiff, f)
		if e, size := stiff.Energy(x); e > noEnergy*size {
			return nil
		}
		m, _ := k.describe(k.expand(x))
		return m
	}
	var best *Mechanism
	moving := math.MaxInt
	for i := range min(len(f.Loose), mostFree) {
		if m, n := k.describe(k.expand(f.Free(i))); n < moving {
			best, moving = m, n
		}
	}
	return best
}

// describe names a movement and counts the beams that it moves.
func (k *mesh) describe(u []float64) (*Mechanism, int) {
	box := geom.EmptyBox()
	for _, n := range k.model.Nodes {
		box = box.Extend(n)
	}
	mid, span := box.Centre(), box.Size().Len()
	twists := make([]twist, len(k.model.Beams))
	var most float64
	for i := range k.model.Beams {
		twists[i] = k.twistOf(i, u, mid)
		most = math.Max(most, twists[i].size(span))
	}
	if most*1e6 < largest(u)*span || most == 0 {
		return k.looseNode(u), 1
	}
	body, moving := k.largestBody(twists, most*stillShare, span)
	m := &Mechanism{Whole: len(body) == len(twists)}
	in := map[int]bool{}
	for _, i := range body {
		in[i] = true
		m.Members = appendNew(m.Members, k.model.Beams[i].Member)
	}
	for i, t := range twists {
		if !in[i] && t.size(span) > most*stillShare {
			if name := k.model.Beams[i].Member; !contains(m.Members, name) {
				m.Others = appendNew(m.Others, name)
			}
		}
	}
	m.Body = k.nameBody(body, m)
	m.motion(twists[body[0]], mid, span)
	return m, moving
}

func largest(u []float64) (m float64) {
	for _, v := range u {
		m = math.Max(m, math.Abs(v))
	}
	return m
}

// twistOf returns how a beam moves as a rigid body, by its own ends.
func (k *mesh) twistOf(beam int, u []float64, mid geom.Vec) twist {
	p := &k.parts[k.first[beam]]
	d := p.toLocal(k.endMovements(p, u))
	a, _ := k.model.tips(beam)
	x := p.axes[0]
	shift := p.global([3]float64{d[0], d[1], d[2]})
	far := p.global([3]float64{d[6], d[7], d[8]})
	// Across the axis the turn follows from the ends' shifts, along it from the ends' turns.
	turn := x.Cross(far.Sub(shift)).Scale(1 / p.length).Add(x.Scale(d[3]))
	return twist{turn, shift.Add(turn.Cross(mid.Sub(a)))}
}

// largestBody returns the beams of the body of most bars that moves as one (of equals, the one that turns least: what leans
// on its feet is less to the point than what slides on top), and how many beams move at all.
func (k *mesh) largestBody(t []twist, tol, span float64) (body []int, moving int) {
	taken := make([]bool, len(t))
	bars, turn := 0, 0.0
	for i := range t {
		if t[i].size(span) <= tol {
			continue
		}
		moving++
		if taken[i] {
			continue
		}
		var group []int
		names := map[string]bool{}
		for j := i; j < len(t); j++ {
			if !taken[j] && t[j].sub(t[i]).size(span) <= tol {
				taken[j] = true
				group = append(group, j)
				names[k.model.Beams[j].Member] = true
			}
		}
		if w := t[i].turn.Len() * span; len(names) > bars || len(names) == bars && w < turn-tol {
			body, bars, turn = group, len(names), w
		}
	}
	return body, moving
}

// nameBody returns what a builder calls the beams.
func (k *mesh) nameBody(body []int, m *Mechanism) string {
	if m.Whole {
		return "the whole frame"
	}
	set := k.model.Beams[body[0]].Set
	for _, i := range body {
		if k.model.Beams[i].Set != set {
			set = ""
		}
	}
	if set != "" && len(m.Members) > 1 {
		return set
	}
	return listNames(m.Members, 4)
}

// motion splits a twist into a turn about an axis and a slide along it.
func (m *Mechanism) motion(t twist, mid geom.Vec, span float64) {
	w := t.turn.Len()
	if w*span < 1e-3*t.shift.Len() {
		m.Slide = t.shift.Unit()
		return
	}
	m.Turn = t.turn.Unit()
	along := m.Turn.Scale(m.Turn.Dot(t.shift))
	if along.Len() > 1e-3*w*span {
		m.Slide = along.Unit()
	}
	m.At = mid.Add(t.turn.Cross(t.shift).Scale(1 / (w * w)))
}

// looseNode describes a node that turns by itself, every bar being loose there.
func (k *mesh) looseNode(u []float64) *Mechanism {
	at, most := 0, 0.0
	for n := range k.model.Nodes {
		d := u[6*n : 6*n+6]
		for _, v := range d {
			if math.Abs(v) > most {
				at, most = n, math.Abs(v)
			}
		}
	}
	d := u[6*at : 6*at+6]
	m := &Mechanism{At: k.model.Nodes[at], Turn: geom.Vec{X: d[3], Y: d[4], Z: d[5]}.Unit(), Body: "a loose joint"}
	for _, b := range k.model.Beams {
		if b.Ends[0] == at || b.Ends[1] == at {
			m.Members = appendNew(m.Members, b.Member)
		}
	}
	if m.Turn == (geom.Vec{}) {
		m.Slide = geom.Vec{X: d[0], Y: d[1], Z: d[2]}.Unit()
	}
	if len(m.Members) > 0 {
		m.Body = "the joint of " + listNames(m.Members, 4)
	}
	return m
}

func appendNew(list []string, name string) []string {
	if name == "" || contains(list, name) {
		return list
	}
	return append(list, name)
}

func contains(list []string, name string) bool {
	for _, s := range list {
		if s == name {
			return true
		}
	}
	return false
}
