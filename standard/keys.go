package standard

import (
	"math"
	"slices"
)

// KeySwing is the angle in radians that a plain hexagon key needs to turn
// before it can be set again: 60 degrees. Common practice, no source.
const KeySwing = math.Pi / 3

// Key is an angled hexagon key (ISO 2936). Lengths in mm.
type Key struct {
	// Size is the nominal width across flats.
	Size float64
	// AcrossCorners is the sharp size across corners, Size/cos 30°; a real
	// key is a little smaller, so a hole that passes this passes the key.
	AcrossCorners float64
	// ShortArm and LongArm are the nominal arms of the 2001 edition, 0 where
	// unknown. They are recalled.
	ShortArm, LongArm float64
	// ShortArmMax and LongArmMax are the largest arms of the 2014 edition, the
	// long one of the standard length. Use them to ask whether a key has room.
	ShortArmMax, LongArmMax float64
	// Source covers all but the nominal arms.
	Source Source
}

var hexKeys = table("hex_keys.csv", func(r record) Key {
	return Key{
		Size:          r.float("s_mm"),
		AcrossCorners: r.float("s_mm") / math.Cos(math.Pi/6),
		ShortArm:      r.float("short_arm_mm"),
		LongArm:       r.float("long_arm_mm"),
		ShortArmMax:   r.float("short_arm_max_mm"),
		LongArmMax:    r.float("long_arm_max_mm"),
		Source:        r.source(),
	}
})

// HexKeys returns all keys by rising size.
func HexKeys() []Key { return slices.Clone(hexKeys()) }

// HexKey returns the key with the given width across flats in mm.
func HexKey(acrossFlats float64) (Key, bool) {
	return find(hexKeys(), func(k Key) bool { return math.Abs(k.Size-acrossFlats) < sameSize })
}

// sameSize is the distance under which two nominal sizes are the same: a
// thousandth of a millimetre, far under the smallest step of any table.
const sameSize = 1e-3
