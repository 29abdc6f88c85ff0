package assembly

import (
	"fmt"
	"testing"
	"time"

	"barwright/frame"
)

func TestTry(t *testing.T) {
	for _, p := range []string{"../examples/foam-cutter/frame.hcl", "../examples/work-stand/frame.hcl"} {
		f, err := frame.Load(p, frame.Options{})
		if err != nil {
			t.Fatal(err)
		}
		t0 := time.Now()
		m := newModel(f)
		all := newSet(m.n)
		for i := range m.n {
			all.add(i)
		}
		c := m.takeApart(all, upright, nil)
		fmt.Println(p, time.Since(t0), "stuck", c.stuck, c.cost)
		m.dump(c.removals, "")
	}
}

func (m *model) dump(out []removal, in string) {
	for _, r := range out {
		var names []string
		for _, i := range r.bars.list() {
			names = append(names, m.f.Members[i].Name)
		}
		u := ""
		if r.unit != nil {
			u = r.unit.name
		}
		fmt.Println(in, names, u, "dir", m.dirs[r.how.dir], "first", r.how.first, "down", m.dirs[r.down], "held", r.held, fmt.Sprintf("%.2f", r.cost))
		if r.build != nil {
			fmt.Println(in, "   built with down", m.dirs[r.start])
			m.dump(r.build, in+"      ")
		}
	}
}
