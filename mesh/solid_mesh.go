package mesh

// triangulate cuts every face into triangles.
func (f *faces) triangulate() {
	t := &f.triangulator
	t.solid, t.local = f.points.keys, fill(t.local, len(f.points.keys), 0)
	var flats []int32
	// A face of n corners has n-2 triangles and two more for each hole; holes are fewer than faces.
	room := len(f.edges)
	for i := range f.normal {
		if f.start[i+1] > f.start[i] {
			room--
		}
	}
	f.triangles = make([][3]uint32, 0, room)
	f.surfaces = make([]Surface, 0, room)
	for face := range f.normal {
		own := f.edges[f.start[face]:f.start[face+1]]
		if len(own) == 0 {
			continue
		}
		t.u, t.v = projection(f.normal[face])
		t.face(own, func(a, b, c int32, flat bool) {
			if flat {
				flats = append(flats, int32(len(f.triangles)))
			}
			f.triangles = append(f.triangles, [3]uint32{uint32(a), uint32(b), uint32(c)})
			f.surfaces = append(f.surfaces, f.kind[face])
		})
	}
	if len(flats) > 0 {
		f.turnFlats(flats)
	}
}

// projection returns the two axes on which a face is seen at its largest and counter-clockwise.
func projection(n [3]int64) (u, v int) {
	k := 0
	for i := 1; i < 3; i++ {
		if max(n[i], -n[i]) > max(n[k], -n[k]) {
			k = i
		}
	}
	if n[k] < 0 {
		return (k + 2) % 3, (k + 1) % 3
	}
	return (k + 1) % 3, (k + 2) % 3
}

// turnFlats gets rid of triangles without area: three points on a line, which rounding makes of a thin face.
// The longest side of each is shared with a triangle that then gets the middle point.
func (f *faces) turnFlats(flats []int32) {
	owner := make(map[[2]uint32]int32, 3*len(f.triangles))
	for i, t := range f.triangles {
		for k := range t {
			owner[[2]uint32{t[k], t[(k+1)%3]}] = int32(i)
		}
	}
	for tries := 8*len(flats) + 64; len(flats) > 0 && tries > 0; tries-- {
		i := flats[len(flats)-1]
		flats = flats[:len(flats)-1]
		a, b, c, ok := f.middle(f.triangles[i])
		if !ok {
			continue
		}
		j, found := owner[[2]uint32{a, c}]
		if !found || j == i {
			continue
		}
		d := apex(f.triangles[j], a, c)
		if d == b {
			continue
		}
		f.triangles[i], f.triangles[j] = [3]uint32{a, b, d}, [3]uint32{b, c, d}
		f.surfaces[i] = f.surfaces[j]
		delete(owner, [2]uint32{a, c})
		delete(owner, [2]uint32{c, a})
		for _, n := range [2]int32{i, j} {
			t := f.triangles[n]
			for k := range t {
				owner[[2]uint32{t[k], t[(k+1)%3]}] = n
			}
			if _, _, _, flat := f.middle(t); flat {
				flats = append(flats, n)
			}
		}
	}
}

// middle returns a triangle of no area turned so that its second point lies between the others, and whether it has no area.
func (f *faces) middle(t [3]uint32) (a, b, c uint32, flat bool) {
	for k := range 3 {
		a, b, c = t[k], t[(k+1)%3], t[(k+2)%3]
		p, q, r := f.points.keys[a], f.points.keys[b], f.points.keys[c]
		var x, y [3]int64
		var dot int64
		for i := range x {
			x[i], y[i] = int64(p[i])-int64(q[i]), int64(r[i])-int64(q[i])
			dot += x[i] * y[i]
		}
		if x[1]*y[2] != x[2]*y[1] || x[2]*y[0] != x[0]*y[2] || x[0]*y[1] != x[1]*y[0] {
			return a, b, c, false
		}
		if dot < 0 {
			return a, b, c, true
		}
	}
	return a, b, c, false
}

// apex returns the point of a triangle that is neither a nor c.
func apex(t [3]uint32, a, c uint32) uint32 {
	for _, p := range t {
		if p != a && p != c {
			return p
		}
	}
	return a
}

// properTriangles tells whether each edge of triangles between merged points is used once in each direction. Other
// edges cannot be used twice.
func (f *faces) properTriangles() bool {
	t := &f.small
	t.reset(16)
	for _, d := range f.triangles {
		for k := range d {
			a, b := d[k], d[(k+1)%3]
			if f.merged[a] && f.merged[b] {
				before := len(t.keys)
				t.number([3]int32{int32(a), int32(b), 0})
				if len(t.keys) == before {
					return false
				}
			}
		}
	}
	return true
}

// mesh returns the solid in mm, with the points that triangles use.
func (f *faces) mesh(g grid) *Mesh {
	m := &Mesh{Triangles: f.triangles, Surfaces: f.surfaces}
	f.number = fill(f.number, len(f.points.keys), 0)
	number := f.number
	m.Points = make([][3]float32, 0, len(number))
	for i, t := range f.triangles {
		for k, p := range t {
			if number[p] == 0 {
				q := f.points.keys[p]
				m.Points = append(m.Points, [3]float32{
					float32(float64(q[0]) / g.perMM), float32(float64(q[1]) / g.perMM), float32(float64(q[2]) / g.perMM),
				})
				number[p] = int32(len(m.Points))
			}
			m.Triangles[i][k] = uint32(number[p] - 1)
		}
	}
	return m
}
