package job

import (
	"bytes"
	"encoding/json"
	"math"

	"barwright/frame"
	"barwright/geom"
)

// orderedMap is a JSON object whose names keep their order.
type orderedMap struct {
	names  []string
	values []Number
}

func (m *orderedMap) add(name string, v Number) {
	m.names, m.values = append(m.names, name), append(m.values, v)
}

// MarshalJSON writes the pairs in their order.
func (m *orderedMap) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, name := range m.names {
		if i > 0 {
			b.WriteByte(',')
		}
		key, err := json.Marshal(name)
		if err != nil {
			return nil, err
		}
		b.Write(key)
		b.WriteByte(':')
		b.WriteString(m.values[i].String())
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// MitreAngle returns the angle in degrees by which a cut leans from square, and the face on which the long point lies.
func MitreAngle(c frame.Cut, end int) (float64, int) {
	slope := math.Hypot(c.SlopeX, c.SlopeY)
	// At end 0 the cut's plane is lowest, and the bar longest, against the slope.
	long := geom.Vec2{X: -c.SlopeX, Y: -c.SlopeY}
	if end == 1 {
		long = long.Scale(-1)
	}
	best, face := math.Inf(-1), 0
	for s := range geom.Side(4) {
		if v := s.Normal().Dot(long); v > best+1e-9 {
			best, face = v, int(s)+1
		}
	}
	return math.Atan(slope) * 180 / math.Pi, face
}
