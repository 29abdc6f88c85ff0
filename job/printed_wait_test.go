package job

import (
	"math"
	"strings"
	"testing"

	"barwright/assembly"
	"barwright/frame"
	"barwright/geom"
)

// made reports whether a joint can be made among bars: a printed part over three bars goes on only when all three are there.
func made(f *frame.Frame, j *frame.Joint, here map[*frame.Member]bool) bool {
	for _, u := range f.Uses {
		for _, k := range u.Joints {
			if k != j {
				continue
			}
			for _, m := range u.On {
				if !here[m] {
					return false
				}
			}
		}
	}
	return true
}

// piecesOf splits bars into what hangs together by joints that can be made, and by touches that no joint holds.
func piecesOf(f *frame.Frame, here map[*frame.Member]bool) [][]*frame.Member {
	parent := map[*frame.Member]*frame.Member{}
	var root func(m *frame.Member) *frame.Member
	root = func(m *frame.Member) *frame.Member {
		if parent[m] == nil || parent[m] == m {
			return m
		}
		return root(parent[m])
	}
	joined := map[[2]*frame.Member]bool{}
	for _, j := range f.Joints {
		joined[[2]*frame.Member{j.A, j.B}], joined[[2]*frame.Member{j.B, j.A}] = true, true
		if here[j.A] && here[j.B] && made(f, j, here) {
			parent[root(j.A)] = root(j.B)
		}
	}
	for _, c := range f.Contacts {
		if here[c.A] && here[c.B] && !c.Apart && !joined[[2]*frame.Member{c.A, c.B}] {
			parent[root(c.A)] = root(c.B)
		}
	}
	at := map[*frame.Member]int{}
	var out [][]*frame.Member
	for _, m := range f.Members {
		if !here[m] {
			continue
		}
		r := root(m)
		k, ok := at[r]
		if !ok {
			k = len(out)
			at[r] = k
			out = append(out, nil)
		}
		out[k] = append(out[k], m)
	}
	return out
}

// lowest returns how far bars reach along a direction down.
func lowest(bars []*frame.Member, down geom.Vec) float64 {
	low := math.Inf(-1)
	for _, m := range bars {
		for _, c := range m.Box.Corners() {
			low = math.Max(low, c.Dot(down))
		}
	}
	return low
}

// Where a three-way corner waits for its third bar, the joint holds nothing: what stands in such pieces must reach the table with each of
// them, or the step says that somebody holds it; nothing that is in pieces is turned or lifted as one.
func TestWaitingJointsHoldNothing(t *testing.T) {
	for _, name := range []string{"curing-cabinet", "stand"} {
		t.Run(name, func(t *testing.T) {
			j := openText(t, stand)
			if name != "stand" {
				var err error
				if j, err = Open("../examples/"+name+"/frame.hcl", nil); err != nil {
					t.Fatal(err)
				}
			}
			p, err := j.Plan(StepsOptions{})
			if err != nil {
				t.Fatal(err)
			}
			if p.Locked != nil {
				t.Fatal(p.Locked.Error())
			}
			waited := 0
			replayWaits(t, j.Frame, p.Steps, &waited)
			if waited == 0 {
				t.Error("no joint ever waits: the test shows nothing")
			}
		})
	}
}

func replayWaits(t *testing.T, f *frame.Frame, steps []*assembly.Step, waited *int) {
	here := map[*frame.Member]bool{}
	fixed := func(list []*frame.Member) bool { return list[0].Group == nil || list[0].Group.Travel == nil }
	for _, s := range steps {
		replayWaits(t, f, s.Build, waited)
		switch s.Kind {
		case assembly.TurnIt:
			if n := len(piecesOf(f, here)); n > 1 {
				t.Errorf("step %d turns %d loose pieces", s.Number, n)
			}
		case assembly.Place:
			pieces := piecesOf(f, here)
			var all []*frame.Member
			for _, p := range pieces {
				all = append(all, p...)
			}
			for _, p := range pieces {
				if fixed(p) && len(pieces) > 1 && !s.Hold && lowest(p, s.Down) < lowest(all, s.Down)-1 {
					t.Errorf("step %d: %s is off the table, is joined to nothing, and nobody holds it", s.Number, p[0].Name)
				}
			}
			unit := map[*frame.Member]bool{}
			for _, m := range s.Add {
				unit[m], here[m] = true, true
			}
			if n := len(piecesOf(f, unit)); n > 1 && !s.Each {
				t.Errorf("step %d lifts %d loose pieces as one", s.Number, n)
			}
			if strings.Contains(s.Line(), "are held by printed") {
				*waited++
			}
		case assembly.Square:
			for _, q := range s.Torques {
				for _, k := range q.Joints {
					if !made(f, k, here) {
						t.Errorf("step %d tightens %s to %s before its part is on", s.Number, k.A.Name, k.B.Name)
					}
				}
			}
		}
	}
}
