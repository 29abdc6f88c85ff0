package mesh

// table numbers triples of integers in the order in which they are first asked for. It is an
// open hash table, so that its numbers depend on nothing but that order.
type table struct {
	keys  [][3]int32
	slots []int32 // number + 1
}

// reset empties the table and makes room for about n triples.
func (t *table) reset(n int) {
	size := 16
	for size < 2*n {
		size *= 2
	}
	if len(t.slots) < size {
		t.slots = make([]int32, size)
	} else {
		clear(t.slots)
	}
	t.keys = t.keys[:0]
	if cap(t.keys) < n {
		t.keys = make([][3]int32, 0, n)
	}
}

func mix(k [3]int32) uint64 {
	h := uint64(uint32(k[0]))*0x9E3779B97F4A7C15 ^ uint64(uint32(k[1]))*0xC2B2AE3D27D4EB4F ^ uint64(uint32(k[2]))*0x165667B19E3779F9
	return (h ^ h>>29) * 0xBF58476D1CE4E5B9 >> 20
}

// number returns the number of a triple.
func (t *table) number(k [3]int32) int32 {
	if 2*len(t.keys) >= len(t.slots) {
		t.grow()
	}
	mask := uint64(len(t.slots) - 1)
	for i := mix(k) & mask; ; i = (i + 1) & mask {
		s := t.slots[i]
		if s == 0 {
			t.keys = append(t.keys, k)
			t.slots[i] = int32(len(t.keys))
			return int32(len(t.keys) - 1)
		}
		if t.keys[s-1] == k {
			return s - 1
		}
	}
}

func (t *table) grow() {
	t.slots = make([]int32, max(16, 2*len(t.slots)))
	mask := uint64(len(t.slots) - 1)
	for n, k := range t.keys {
		i := mix(k) & mask
		for t.slots[i] != 0 {
			i = (i + 1) & mask
		}
		t.slots[i] = int32(n + 1)
	}
}

// find returns the number of a triple and whether it has one.
func (t *table) find(k [3]int32) (int32, bool) {
	if len(t.slots) == 0 {
		return 0, false
	}
	mask := uint64(len(t.slots) - 1)
	for i := mix(k) & mask; t.slots[i] != 0; i = (i + 1) & mask {
		if s := t.slots[i]; t.keys[s-1] == k {
			return s - 1, true
		}
	}
	return 0, false
}
