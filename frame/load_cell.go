package frame

import (
	"fmt"
	"math"
	"strings"

	"github.com/hashicorp/hcl/v2"
)

// cell is one number of the file that is worked out when somebody asks for it: a parameter, a face, a length.
// Single faces are cells of their own so that A may read B's left while B reads A's top.
type cell struct {
	name  string // as one would write it: "wire_beam.left"
	at    hcl.Range
	run   func() (float64, bool)
	state cellState
	ok    bool
	value float64
}

type cellState uint8

const (
	cellNew cellState = iota
	cellBusy
	cellDone
)

// asked is one cell that is being worked out and the place in the file that asked for it.
type asked struct {
	c    *cell
	from hcl.Range
}

// maxChain is how many references may follow each other.
const maxChain = 10000

// get returns the value of a cell, working it out if need be. from is the reference that asks, or the zero
// range where none is written. Where it returns false an error has been reported.
func (l *loader) get(c *cell, from hcl.Range) (float64, bool) {
	switch c.state {
	case cellDone:
		return c.value, c.ok
	case cellBusy:
		l.circle(c, from)
		return 0, false
	}
	if len(l.stack) >= maxChain {
		l.fail(c.at, "Too many references hang on each other", fmt.Sprintf("A chain of references has at most %d links.", maxChain))
		c.state = cellDone
		return 0, false
	}
	c.state = cellBusy
	l.stack = append(l.stack, asked{c, from})
	v, ok := c.run()
	l.stack = l.stack[:len(l.stack)-1]
	c.value, c.ok, c.state = v, ok, cellDone
	return c.value, c.ok
}

// circle reports a circle of references by all its names.
func (l *loader) circle(c *cell, from hcl.Range) {
	i := len(l.stack) - 1
	for l.stack[i].c != c {
		i--
	}
	ring := l.stack[i:]
	at := from
	var names []string
	for _, f := range ring {
		if n := f.c.name; len(names) == 0 || names[len(names)-1] != n {
			names = append(names, n)
		}
		if at.Filename == "" && f.c != c {
			at = f.from
		}
	}
	if at.Filename == "" {
		at = c.at
	}
	if names[len(names)-1] != c.name {
		names = append(names, c.name)
	}
	if len(names) == 1 {
		names = append(names, c.name)
	}
	const shown = 24
	if len(names) > shown {
		names = append(append(append([]string{}, names[:shown/2]...), "…"), names[len(names)-shown/2:]...)
	}
	l.fail(at, "References run in a circle: "+strings.Join(names, " → "), "Give one of these by a number or by something outside the circle.")
}

// snap takes the rounding noise off a position: a millionth of a millimetre is far below what
// anything can be made to.
func snap(v float64) float64 {
	return math.Round(v*1e6)/1e6 + 0 // adding zero turns a negative zero into a plain one
}

// constant is a cell that holds a number.
func constant(name string, at hcl.Range, v float64) *cell {
	return &cell{name: name, at: at, state: cellDone, ok: true, value: v}
}

// computed is a cell worked out from others.
func computed(name string, at hcl.Range, run func() (float64, bool)) *cell {
	return &cell{name: name, at: at, run: run}
}
