package mesh

import (
	"math/big"
	"math/rand/v2"
	"testing"
)

// TestWide compares the 192-bit integers with math/big.
func TestWide(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	value := func(w wide) *big.Int {
		v := new(big.Int).SetUint64(w[2])
		v.Lsh(v, 64).Add(v, new(big.Int).SetUint64(w[1]))
		v.Lsh(v, 64).Add(v, new(big.Int).SetUint64(w[0]))
		if int64(w[2]) < 0 {
			v.Sub(v, new(big.Int).Lsh(big.NewInt(1), 192))
		}
		return v
	}
	for range 20000 {
		a, b, c := r.Int64()>>r.IntN(62), -r.Int64()>>r.IntN(62), (r.Int64()-1<<62)>>r.IntN(62)
		got := product(a, b).minus(product(b, c)).plus(product(c, a)).times(c >> 2)
		want := new(big.Int).Mul(big.NewInt(a), big.NewInt(b))
		want.Sub(want, new(big.Int).Mul(big.NewInt(b), big.NewInt(c))).Add(want, new(big.Int).Mul(big.NewInt(c), big.NewInt(a))).Mul(want, big.NewInt(c>>2))
		if value(got).Cmp(want) != 0 || got.sign() != want.Sign() {
			t.Fatalf("%d %d %d: %v, want %v", a, b, c, value(got), want)
		}
	}
}

// randomPlane returns a plane of small numbers, so that ties are common, or of large ones.
func randomPlane(r *rand.Rand, n, d int64, rank int32) plane {
	v := func(n int64) int64 { return r.Int64N(2*n+1) - n }
	return newPlane([3]int64{v(n), v(n), v(n)}, v(d), rank)
}

// TestFourth compares with Cramer's rule in rational numbers, shifts included as small rationals.
func TestFourth(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	ties := 0
	for i := range 20000 {
		n, d := int64(3), int64(5)
		if i%2 == 1 {
			n, d = 1<<28, 1<<58
		}
		var p [4]plane
		for k := range p {
			p[k] = randomPlane(r, n, d, int32(k)*int32(r.IntN(2)))
		}
		if det(&p[0].n, &p[1].n, &p[2].n).sign() == 0 {
			continue
		}
		plainValue := rationalFourth(p, 0)
		if plainValue.Sign() == 0 {
			ties++
		}
		// A shift of 2^-200 to the power of the rank, far below the smallest value that the integers can make.
		if got, want := fourth(&p[0], &p[1], &p[2], &p[3]), rationalFourth(p, 200).Sign(); got != want {
			t.Fatalf("%v: %d, want %d", p, got, want)
		}
	}
	if ties < 100 {
		t.Errorf("only %d ties were tried", ties)
	}
}

// rationalFourth is n_s·x·det − d_s·det with every d of rank k > 0 raised by 2^(-bits·k).
func rationalFourth(p [4]plane, bits uint) *big.Rat {
	d := make([]*big.Rat, 4)
	for i := range p {
		d[i] = new(big.Rat).SetInt64(p[i].d)
		if k := p[i].rank; k > 0 && bits > 0 {
			d[i].Add(d[i], new(big.Rat).SetFrac(big.NewInt(1), new(big.Int).Lsh(big.NewInt(1), bits*uint(k))))
		}
	}
	// Gauss on the 4×4 matrix of normals and offsets: its determinant is, but for the sign, what is asked for.
	m := make([][]*big.Rat, 4)
	for i := range p {
		m[i] = []*big.Rat{big.NewRat(p[i].n[0], 1), big.NewRat(p[i].n[1], 1), big.NewRat(p[i].n[2], 1), d[i]}
	}
	det := big.NewRat(-1, 1)
	for c := range 4 {
		row := c
		for row < 4 && m[row][c].Sign() == 0 {
			row++
		}
		if row == 4 {
			return new(big.Rat)
		}
		if row != c {
			m[row], m[c] = m[c], m[row]
			det.Neg(det)
		}
		det.Mul(det, m[c][c])
		for i := c + 1; i < 4; i++ {
			f := new(big.Rat).Quo(m[i][c], m[c][c])
			for j := c; j < 4; j++ {
				m[i][j].Sub(m[i][j], new(big.Rat).Mul(f, m[c][j]))
			}
		}
	}
	return det
}
