package across

import "math/bits"

// Vectors of counts, of which the same ones are met over and over. Each is packed into a few words:
// an item has a field of bits in which no count up to its demand reaches the highest bit. So two
// vectors are added word by word. With room, a vector that has what each field lacks to that bit,
// the highest bit of a field says that there is more of the item than is wanted.

// vectors numbers the vectors that are met; 0 is the number of the empty one.
type vectors struct {
	fields       []field // by item
	words        int     // of a vector
	guards, room []uint64
	all, sum     []uint64
	slots        []int32 // by hash the number of a vector, plus one; 0 is free
	n            int
}

// field is where the count of an item stands.
type field struct {
	word, shift int
	mask        uint64 // of counts
}

// start forgets all vectors, and notes the empty one; no count may be above its demand.
func (v *vectors) start(demands []int64) {
	v.fields, v.all, v.n = v.fields[:0], v.all[:0], 0
	word, shift := 0, 0
	for _, d := range demands {
		size := bits.Len64(uint64(d)) + 1
		if shift+size > 64 {
			word, shift = word+1, 0
		}
		v.fields = append(v.fields, field{word, shift, 1<<(size-1) - 1})
		shift += size
	}
	v.words = word + 1
	v.guards, v.room = clearWords(v.guards, v.words), clearWords(v.room, v.words)
	for i, f := range v.fields {
		v.guards[f.word] |= (f.mask + 1) << f.shift
		v.room[f.word] |= (f.mask - uint64(demands[i])) << f.shift
	}
	v.sum = clearWords(v.sum, v.words)
	v.slots = clearSlots(v.slots)
	v.number()
}

// clearSlots gives a few free slots.
func clearSlots(old []int32) []int32 {
	const few = 1 << 10
	if cap(old) < few {
		return make([]int32, few)
	}
	old = old[:few]
	clear(old)
	return old
}

// mix makes a hash of one word more.
func mix(hash, word uint64) uint64 {
	high, low := bits.Mul64(hash^word, 0x9e3779b97f4a7c15)
	return high ^ low
}

// number is the number of the vector in sum.
func (v *vectors) number() int32 {
	hash := uint64(1)
	for _, w := range v.sum {
		hash = mix(hash, w)
	}
	at := int(hash) & (len(v.slots) - 1)
	for ; v.slots[at] != 0; at = (at + 1) & (len(v.slots) - 1) {
		if v.isSum(v.slots[at] - 1) {
			return v.slots[at] - 1
		}
	}
	v.all = append(v.all, v.sum...)
	v.n++
	v.slots[at] = int32(v.n)
	if 2*v.n > len(v.slots) {
		v.spread()
	}
	return int32(v.n - 1)
}

// isSum says whether a vector is that in sum.
func (v *vectors) isSum(id int32) bool {
	for k, w := range v.at(id) {
		if w != v.sum[k] {
			return false
		}
	}
	return true
}

// spread doubles the slots.
func (v *vectors) spread() {
	v.slots = make([]int32, 2*len(v.slots))
	for id := range v.n {
		hash := uint64(1)
		for _, w := range v.at(int32(id)) {
			hash = mix(hash, w)
		}
		at := int(hash) & (len(v.slots) - 1)
		for v.slots[at] != 0 {
			at = (at + 1) & (len(v.slots) - 1)
		}
		v.slots[at] = int32(id + 1)
	}
}

// at gives the words of a vector.
func (v *vectors) at(id int32) []uint64 {
	return v.all[int(id)*v.words : (int(id)+1)*v.words]
}

// plus is the number of the sum of two vectors; false where that is more than is wanted.
func (v *vectors) plus(a, b int32) (int32, bool) {
	more := v.at(b)
	for k, w := range v.at(a) {
		v.sum[k] = w + more[k]
		if (v.sum[k]+v.room[k])&v.guards[k] != 0 {
			return 0, false
		}
	}
	return v.number(), true
}

// one is the number of the vector of one piece of an item that is wanted.
func (v *vectors) one(item int) int32 {
	clear(v.sum)
	f := v.fields[item]
	v.sum[f.word] = 1 << f.shift
	return v.number()
}

// count is how many of an item a vector has.
func (v *vectors) count(id int32, item int) int64 {
	f := v.fields[item]
	return int64(v.at(id)[f.word] >> f.shift & f.mask)
}
