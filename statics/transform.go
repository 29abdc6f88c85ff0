package statics

import "barwright/geom"

// Changes of coordinates: from a beam's own ends in local axes, through the give of its end springs and the arms, to the
// nodes in the frame's axes.

// congruent returns gᵀ·m·g.
func congruent(m, g *mat12) *mat12 {
	var t, out mat12
	for i := range 12 {
		for j := range 12 {
			if v := m[i][j]; v != 0 {
				for c := range 12 {
					t[i][c] += v * g[j][c]
				}
			}
		}
	}
	for i := range 12 {
		for j := range 12 {
			if v := g[i][j]; v != 0 {
				for c := range 12 {
					out[j][c] += v * t[i][c]
				}
			}
		}
	}
	return &out
}

// toFrame turns a matrix of the arms' tips in local axes into one of the nodes in the frame's axes.
func (e *element) toFrame(k *mat12) *mat12 {
	out := new(mat12)
	a := [3][3]float64{}
	for i, v := range e.axes {
		a[i] = [3]float64{v.X, v.Y, v.Z}
	}
	for bi := 0; bi < 12; bi += 3 {
		for bj := 0; bj < 12; bj += 3 {
			var t [3][3]float64
			for i := range 3 {
				for j := range 3 {
					v := k[bi+i][bj+j]
					if v == 0 {
						continue
					}
					for c := range 3 {
						t[i][c] += v * a[j][c]
					}
				}
			}
			for i := range 3 {
				for r := range 3 {
					v := a[i][r]
					if v == 0 {
						continue
					}
					for c := range 3 {
						out[bi+r][bj+c] += v * t[i][c]
					}
				}
			}
		}
	}
	for end, o := range e.offset {
		if o != (geom.Vec{}) {
			shiftEnd(out, 6*end, o)
		}
	}
	return out
}

// arm returns the rows of ω × o as combinations of ω: the shift of an arm's tip.
func arm(o geom.Vec) [3][3]float64 {
	return [3][3]float64{{0, o.Z, -o.Y}, {-o.Z, 0, o.X}, {o.Y, -o.X, 0}}
}

// shiftEnd moves an end of a matrix from the arm's tip to its node.
func shiftEnd(k *mat12, at int, o geom.Vec) {
	a := arm(o)
	for i := range 12 {
		for c := range 3 {
			for s := range 3 {
				k[i][at+3+c] += k[i][at+s] * a[s][c]
			}
		}
	}
	for j := range 12 {
		for c := range 3 {
			for s := range 3 {
				k[at+3+c][j] += a[s][c] * k[at+s][j]
			}
		}
	}
}

// toLocal turns movements of the nodes in the frame's axes into those of the beam's own ends in local axes, without
// what its loads add.
func (e *element) toLocal(d *vec12) (out vec12) {
	for end := range 2 {
		u := geom.Vec{X: d[6*end], Y: d[6*end+1], Z: d[6*end+2]}
		t := geom.Vec{X: d[6*end+3], Y: d[6*end+4], Z: d[6*end+5]}
		u = u.Add(t.Cross(e.offset[end]))
		for i, ax := range e.axes {
			out[6*end+i], out[6*end+3+i] = ax.Dot(u), ax.Dot(t)
		}
	}
	if e.give == nil {
		return out
	}
	return e.give.mul(&out)
}

// toNodes turns forces on the beam's own ends into forces on the nodes in the frame's axes.
func (e *element) toNodes(f *vec12) (out vec12) {
	g := *f
	if e.give != nil {
		g = e.give.mulT(f)
	}
	for end := range 2 {
		var u, t geom.Vec
		for i, ax := range e.axes {
			u, t = u.Add(ax.Scale(g[6*end+i])), t.Add(ax.Scale(g[6*end+3+i]))
		}
		t = t.Add(e.offset[end].Cross(u))
		out[6*end], out[6*end+1], out[6*end+2] = u.X, u.Y, u.Z
		out[6*end+3], out[6*end+4], out[6*end+5] = t.X, t.Y, t.Z
	}
	return out
}

func (m *mat12) mul(v *vec12) (out vec12) {
	for i := range 12 {
		for j := range 12 {
			out[i] += m[i][j] * v[j]
		}
	}
	return out
}

func (m *mat12) mulT(v *vec12) (out vec12) {
	for i := range 12 {
		for j := range 12 {
			out[j] += m[i][j] * v[i]
		}
	}
	return out
}

// local returns a frame vector in local axes.
func (e *element) local(v geom.Vec) [3]float64 {
	return [3]float64{e.axes[0].Dot(v), e.axes[1].Dot(v), e.axes[2].Dot(v)}
}

// global returns a local vector in the frame.
func (e *element) global(v [3]float64) geom.Vec {
	return e.axes[0].Scale(v[0]).Add(e.axes[1].Scale(v[1])).Add(e.axes[2].Scale(v[2]))
}
