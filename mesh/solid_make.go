package mesh

import (
	"fmt"
	"runtime"
	"sync"
	"sync/atomic"

	"barwright/frame"
	"barwright/geom"
)

// maker makes solids one after the other in the same room: tables and lists that one needs on the way are
// kept for the next, and so are the split curves of the last section. The zero maker is ready.
type maker struct {
	builder builder
	faces   faces

	profile *geom.Profile // the last one, found in order
	split   float64       // the tolerance by which its curves are split
	section [][]geom.Vec2
}

// makers keeps the room of makers between calls of [Solid].
var makers = sync.Pool{New: func() any { return new(maker) }}

// solid makes the solid of a bar at a tolerance that is in order.
func (m *maker) solid(b *frame.Bar, tolerance float64) (*Mesh, error) {
	if err := checkBar(b); err != nil {
		return nil, err
	}
	if m.profile != b.Profile || m.split != tolerance {
		if err := b.Profile.Validate(); err != nil {
			return nil, fmt.Errorf("profile %s: %w", b.Profile.Name, err)
		}
		m.profile, m.split, m.section = b.Profile, tolerance, b.Profile.Region().Polygons(tolerance)
	}
	out, _, err := m.build(shapeOn(b, m.section), tolerance)
	return out, err
}

// Solids is [Solid] for many bars at once, on all processors: the mesh of each bar, in their order. Of several bars that
// cannot be made the error is that of the first, and index says which it is; it is -1 where the tolerance is to blame.
func Solids(bars []*frame.Bar, tolerance float64) (meshes []*Mesh, index int, err error) {
	if err := checkTolerance(tolerance); err != nil {
		return nil, -1, err
	}
	meshes = make([]*Mesh, len(bars))
	failed := make([]error, len(bars))
	var next atomic.Int64
	var all sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(bars)) {
		all.Go(func() {
			var m maker
			for i := next.Add(1) - 1; i < int64(len(bars)); i = next.Add(1) - 1 {
				meshes[i], failed[i] = m.solid(bars[i], tolerance)
			}
		})
	}
	all.Wait()
	for i, err := range failed {
		if err != nil {
			return nil, i, err
		}
	}
	return meshes, -1, nil
}
