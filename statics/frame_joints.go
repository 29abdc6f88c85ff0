package statics

import (
	"math"

	"barwright/frame"
	"barwright/geom"
)

// link is a joint on its way into the model.
type link struct {
	joint *frame.Joint
	k     JointStiffness
	// byEnd says that the butting bar's end hangs on the other bar with nothing else at that end.
	byEnd bool
}

func (l *link) other(m *frame.Member) *frame.Member {
	if l.joint.A == m {
		return l.joint.B
	}
	return l.joint.A
}

// release returns the joint as springs in the butting bar's own axes.
func (l *link) release() Release {
	r := Rigid()
	r[3], r[4], r[5] = l.k.Twist, l.k.Bend, l.k.Bend
	return r
}

// planJoints finds the stiffness of every joint and where the bars are cut for it.
func (b *builder) planJoints() {
	for _, j := range b.out.Frame.Joints {
		if b.bars[j.A] == nil || b.bars[j.B] == nil || j.With == nil || j.With.Method == frame.NoJoining {
			continue
		}
		l := &link{joint: j, k: b.stiffnessOf(j)}
		b.joints = append(b.joints, l)
		a, other := b.bars[j.A], b.bars[j.B]
		switch j.Kind {
		case frame.EndToSide:
			b.claimEnd(a, j.EndA, l)
			other.cut(other.project(a.point(a.end(j.EndA))))
		case frame.EndToEnd:
			a.loose[j.EndA], other.loose[j.EndB] = true, true
		default:
			for _, p := range patchPoints(j, a.shift) {
				a.cut(a.project(p))
				other.cut(other.project(p))
			}
		}
	}
	// A bar whose both ends would hang on others without a node between is fine; one that hangs on a bar which hangs on it is
	// not, and no box frame has it: the node of the other bar must be its own.
	for _, l := range b.joints {
		if l.joint.Kind != frame.EndToSide {
			continue
		}
		other := b.bars[l.joint.B]
		z := other.project(b.bars[l.joint.A].point(b.bars[l.joint.A].end(l.joint.EndA)))
		for end := range 2 {
			if math.Abs(z-other.end(end)) < sameCut {
				other.loose[end] = true
			}
		}
	}
}

// end returns the raw z of an end of the axis.
func (n *bar) end(end int) float64 {
	if end == 0 {
		return n.from
	}
	return n.to
}

// claimEnd lets a joint hold an end alone, unless another does so already.
func (b *builder) claimEnd(n *bar, end int, l *link) {
	if n.ends[end] != nil {
		n.loose[end] = true
		return
	}
	n.ends[end] = l
}

// stiffnessOf returns the stiffness of a joint: given, or estimated.
func (b *builder) stiffnessOf(j *frame.Joint) JointStiffness {
	if b.o.RigidJoints {
		return JointStiffness{math.Inf(1), math.Inf(1)}
	}
	if k, ok := b.o.Joints[j.With.Name]; ok {
		return k
	}
	k := EstimateJoint(j)
	b.note("Joints %q of %s: %.1f kN·m/rad across the bar, an estimate.", j.With.Name, j.A.Profile.Name, k.Bend/1e6)
	return k
}

// patchPoints returns where a joint of two sides acts: in the middle of the contact, or near both ends of a long one.
func patchPoints(j *frame.Joint, shift geom.Vec) []geom.Vec {
	mid, size := j.Patch.Centre().Add(shift), j.Patch.Size()
	for _, ax := range []geom.Axis{geom.X, geom.Y, geom.Z} {
		l := size.Along(ax)
		pitch := j.A.Profile.Pitch
		if l <= 3*pitch {
			continue
		}
		d := ax.Unit().Scale(l/2 - pitch/2)
		return []geom.Vec{mid.Sub(d), mid.Add(d)}
	}
	return []geom.Vec{mid}
}

// addJoints adds the springs of joints that do not hang an end on another bar.
func (b *builder) addJoints() {
	for _, l := range b.joints {
		j := l.joint
		a, other := b.bars[j.A], b.bars[j.B]
		switch j.Kind {
		case frame.EndToSide:
			if a.ends[j.EndA] == l && !a.loose[j.EndA] {
				continue // done with the beam
			}
			p := a.point(a.end(j.EndA))
			b.spring(a.nodeAt(a.end(j.EndA)), other.nodeAt(other.project(p)), p, l, a)
		case frame.EndToEnd:
			p := a.point(a.end(j.EndA))
			b.spring(a.nodeAt(a.end(j.EndA)), other.nodeAt(other.end(j.EndB)), p, l, a)
		default:
			points := patchPoints(j, a.shift)
			for _, p := range points {
				b.spring(a.nodeAt(a.project(p)), other.nodeAt(other.project(p)), p, l, a)
			}
		}
	}
}

// stiffTurn stands for a joint without give where a spring needs a number, N·mm/rad.
const stiffTurn = 1e10

// spring adds a joint between two nodes at a place, in the axes of the butting bar.
func (b *builder) spring(from, to int, at geom.Vec, l *link, n *bar) {
	x := n.member.Direction()
	y := n.y
	twist, bend := math.Min(l.k.Twist, stiffTurn), math.Min(l.k.Bend, stiffTurn)
	p := at
	b.out.Springs = append(b.out.Springs, Spring{A: from, B: to, At: &p, Axes: [3]geom.Vec{x, y, x.Cross(y)},
		K: [6]float64{shiftStiffness, shiftStiffness, shiftStiffness, twist, bend, bend}})
}
