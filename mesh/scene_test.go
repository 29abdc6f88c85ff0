package mesh

import (
	"fmt"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// testFrame is a frame like a hot-wire foam cutter, put together by hand: four legs on feet, a ring of rails low
// and high, and slats; 16 bars of 30x30-8.
func testFrame(tb testing.TB) *frame.Frame {
	tb.Helper()
	p, ok := geom.Builtin("30x30-8")
	if !ok {
		tb.Fatal("no profile 30x30-8")
	}
	f := &frame.Frame{Name: "cutter", Title: "Hot-wire foam cutter"}
	part := func(mark string, length float64, holes ...frame.Hole) *frame.Part {
		q := &frame.Part{Mark: mark, Bar: frame.Bar{Profile: p, Length: length, Holes: holes}}
		f.Parts = append(f.Parts, q)
		return q
	}
	through := func(side geom.Side, z float64) frame.Hole { return frame.Hole{Side: side, Z: z, Diameter: 7} }
	leg := part("A1", 1110, through(geom.Right, 65), through(geom.Top, 65), through(geom.Right, 1095), through(geom.Top, 1095))
	rail := part("A2", 840, frame.Hole{Side: geom.Top, Z: 420, Diameter: 7, Depth: 15, Bore: 14, BoreDepth: 9})
	side := part("A3", 640, through(geom.Right, 100), through(geom.Right, 540))
	slat := part("A4", 640)
	beam := part("A5", 840, through(geom.Right, 60), through(geom.Right, 780))
	add := func(name string, q *frame.Part, place geom.Motion) *frame.Member {
		m := &frame.Member{Name: name, Profile: p, Part: q, Place: place, Bar: q.Bar}
		m.Box = place.ApplyBox(geom.Box{Low: geom.Vec{X: -15, Y: -15}, High: geom.Vec{X: 15, Y: 15, Z: q.Bar.Length}})
		q.Members = append(q.Members, m)
		f.Members = append(f.Members, m)
		return m
	}
	alongX := func(x, y, z float64) geom.Motion {
		return geom.Motion{EX: geom.Vec{Y: 1}, EY: geom.Vec{Z: 1}, EZ: geom.Vec{X: 1}, T: geom.Vec{X: x, Y: y, Z: z}}
	}
	alongY := func(x, y, z float64) geom.Motion {
		return geom.Motion{EX: geom.Vec{Z: 1}, EY: geom.Vec{X: 1}, EZ: geom.Vec{Y: 1}, T: geom.Vec{X: x, Y: y, Z: z}}
	}
	for i, at := range [][2]float64{{15, 15}, {885, 15}, {15, 685}, {885, 685}} {
		name := [...]string{"leg.front_left", "leg.front_right", "leg.back_left", "leg.back_right"}[i]
		m := add(name, leg, geom.Shift(geom.Vec{X: at[0], Y: at[1], Z: 40}))
		f.Feet = append(f.Feet, &frame.Foot{Under: m, At: geom.Vec{X: at[0], Y: at[1], Z: 40}, Height: 40, On: "post-end", Thread: "M8"})
	}
	for _, level := range []struct {
		name string
		z    float64
	}{{"base", 105}, {"crown", 1135}} {
		add(level.name+".front_rail", rail, alongX(30, 15, level.z))
		add(level.name+".back_rail", rail, alongX(30, 685, level.z))
		add(level.name+".left_rail", side, alongY(15, 30, level.z))
		add(level.name+".right_rail", side, alongY(885, 30, level.z))
	}
	for i := range 3 {
		add(fmt.Sprintf("slat[%d]", i), slat, alongY(225+225*float64(i), 30, 105))
	}
	add("wire_beam", beam, alongX(30, 15, 420))
	return f
}

func testScene(tb testing.TB) *Scene {
	tb.Helper()
	s, err := NewScene(testFrame(tb), 0.02)
	if err != nil {
		tb.Fatal(err)
	}
	return s
}
