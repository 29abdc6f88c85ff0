package csg

import "math/bits"

// int128 is a signed integer of 128 bits in two's complement.
type int128 struct {
	hi int64
	lo uint64
}

// mul64 returns the exact product of two integers.
func mul64(a, b int64) int128 {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	h := int64(hi)
	if a < 0 {
		h -= b
	}
	if b < 0 {
		h -= a
	}
	return int128{h, lo}
}

func (a int128) add(b int128) int128 {
	lo, c := bits.Add64(a.lo, b.lo, 0)
	return int128{a.hi + b.hi + int64(c), lo}
}

func (a int128) neg() int128 {
	lo, c := bits.Add64(^a.lo, 1, 0)
	return int128{^a.hi + int64(c), lo}
}

func (a int128) sub(b int128) int128 { return a.add(b.neg()) }

// times returns a·b; the caller knows that it fits.
func (a int128) times(b int64) int128 {
	hi, lo := bits.Mul64(a.lo, uint64(b))
	h := int64(hi) + a.hi*b
	if b < 0 {
		h -= int64(a.lo)
	}
	return int128{h, lo}
}

// sign returns -1, 0 or 1.
func (a int128) sign() int {
	switch {
	case a.hi < 0:
		return -1
	case a.hi == 0 && a.lo == 0:
		return 0
	}
	return 1
}

// float returns the nearest float64, within two roundings.
func (a int128) float() float64 {
	if a.hi < 0 {
		return -a.neg().float()
	}
	return float64(a.hi)*(1<<64) + float64(a.lo)
}
