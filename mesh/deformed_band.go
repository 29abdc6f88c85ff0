package mesh

// band returns a mesh with its triangles cut along planes across z, at places that rise. Points on an edge are made once for
// all triangles beside it, so that what was closed stays closed.
func band(m *Mesh, planes []float64) *Mesh {
	b := &bander{planes: planes, from: m, out: &Mesh{Points: append([][3]float32(nil), m.Points...)}, made: map[[3]uint32]uint32{}}
	for i, t := range m.Triangles {
		b.triangle(t, m.Surfaces[i])
	}
	return b.out
}

type bander struct {
	planes    []float64
	from, out *Mesh
	made      map[[3]uint32]uint32 // a point by the lower and higher end of its edge, and its plane
	corners   []uint32
}

func (b *bander) z(p uint32) float64 { return float64(b.from.Points[p][2]) }

// triangle cuts one triangle into what lies between neighbouring planes.
func (b *bander) triangle(t [3]uint32, s Surface) {
	low, high := b.z(t[0]), b.z(t[0])
	for _, p := range t[1:] {
		low, high = min(low, b.z(p)), max(high, b.z(p))
	}
	first := 0
	for first < len(b.planes) && b.planes[first] <= low {
		first++
	}
	for k := first; ; k++ { // the slab below plane k
		b.slab(t, k, s)
		if k >= len(b.planes) || b.planes[k] >= high {
			return
		}
	}
}

// slab adds the part of a triangle between planes k-1 and k.
func (b *bander) slab(t [3]uint32, k int, s Surface) {
	b.corners = b.corners[:0]
	for i := range t {
		p, q := t[i], t[(i+1)%3]
		zp, zq := b.z(p), b.z(q)
		if (k == 0 || zp >= b.planes[k-1]) && (k >= len(b.planes) || zp <= b.planes[k]) {
			b.corners = append(b.corners, p)
		}
		order := [2]int{k - 1, k}
		if zp > zq {
			order = [2]int{k, k - 1}
		}
		for _, n := range order {
			if n < 0 || n >= len(b.planes) {
				continue
			}
			if z := b.planes[n]; min(zp, zq) < z && z < max(zp, zq) {
				b.corners = append(b.corners, b.point(p, q, n))
			}
		}
	}
	for i := 2; i < len(b.corners); i++ {
		b.out.Triangles = append(b.out.Triangles, [3]uint32{b.corners[0], b.corners[i-1], b.corners[i]})
		b.out.Surfaces = append(b.out.Surfaces, s)
	}
}

// point returns the point where an edge meets a plane.
func (b *bander) point(p, q uint32, plane int) uint32 {
	key := [3]uint32{min(p, q), max(p, q), uint32(plane)}
	if n, ok := b.made[key]; ok {
		return n
	}
	u, v := b.from.Points[key[0]], b.from.Points[key[1]]
	t := (b.planes[plane] - float64(u[2])) / (float64(v[2]) - float64(u[2]))
	at := func(i int) float32 {
		return float32(float64(u[i]) + float64(t*(float64(v[i])-float64(u[i]))))
	}
	n := uint32(len(b.out.Points))
	b.out.Points = append(b.out.Points, [3]float32{at(0), at(1), float32(b.planes[plane])})
	b.made[key] = n
	return n
}
