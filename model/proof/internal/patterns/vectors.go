package patterns

import (
	"math/bits"
	"slices"
)

// Vectors of counts, of which the same ones are met over and over. Each is packed into a few words:
// an item has a field of bits in which no count up to its demand reaches the highest bit. So two
// vectors are added word by word. With room, a vector that has what each field lacks to that bit,
// the highest bit of a field says that there is more of the item than is wanted.

// Vectors numbers the vectors that are met; 0 is the number of the empty one.
type Vectors struct {
	fields       []field // by item
	words        int     // of a vector
	guards, room []uint64
	all, sum     []uint64
	slots        slots
	n            int
}

// field is where the count of an item stands.
type field struct {
	word, shift int
	mask        uint64 // of counts
}

// start forgets all vectors, and notes the empty one; no count may be above its demand.
func (v *Vectors) start(items []Item) {
	v.fields, v.all, v.n = v.fields[:0], v.all[:0], 0
	word, shift := 0, 0
	for _, i := range items {
		size := bits.Len64(uint64(i.Demand)) + 1
		if shift+size > 64 {
			word, shift = word+1, 0
		}
		v.fields = append(v.fields, field{word, shift, 1<<(size-1) - 1})
		shift += size
	}
	v.words = word + 1
	v.guards, v.room = make([]uint64, v.words), make([]uint64, v.words)
	for i, f := range v.fields {
		v.guards[f.word] |= (f.mask + 1) << f.shift
		v.room[f.word] |= (f.mask - uint64(items[i].Demand)) << f.shift
	}
	v.sum, v.slots = make([]uint64, v.words), v.slots.cleared()
	v.number()
}

// number is the number of the vector in sum.
func (v *Vectors) number() int32 {
	at := v.slots.at(hashOf(v.sum))
	for ; v.slots[at] != 0; at = v.slots.after(at) {
		if id := v.slots[at] - 1; slices.Equal(v.at(id), v.sum) {
			return id
		}
	}
	v.all = append(v.all, v.sum...)
	v.n++
	v.slots.put(at, v.n, func(id int) uint64 { return hashOf(v.at(int32(id))) })
	return int32(v.n - 1)
}

// hashOf is the hash of a vector.
func hashOf(words []uint64) uint64 {
	hash := uint64(1)
	for _, w := range words {
		hash = mix(hash, w)
	}
	return hash
}

// at gives the words of a vector.
func (v *Vectors) at(id int32) []uint64 {
	return v.all[int(id)*v.words : (int(id)+1)*v.words]
}

// Met is how many vectors were met, and how many words they are packed into.
func (v *Vectors) Met() (vectors, words int) { return v.n, len(v.all) }

// Plus is the number of the sum of two vectors; false where that is more than is wanted.
func (v *Vectors) Plus(a, b int32) (int32, bool) {
	more := v.at(b)
	for k, w := range v.at(a) {
		v.sum[k] = w + more[k]
		if (v.sum[k]+v.room[k])&v.guards[k] != 0 {
			return 0, false
		}
	}
	return v.number(), true
}

// Of is the number of a vector that has so many of each item, of none more than is wanted.
func (v *Vectors) Of(counts []int64) int32 {
	clear(v.sum)
	for i, f := range v.fields {
		v.sum[f.word] |= uint64(counts[i]) << f.shift
	}
	return v.number()
}

// OneMore is the number of a vector that has one more of an item, of which more are wanted.
func (v *Vectors) OneMore(id int32, item int) int32 {
	copy(v.sum, v.at(id))
	f := v.fields[item]
	v.sum[f.word] += 1 << f.shift
	return v.number()
}

// Count is how many of an item a vector has.
func (v *Vectors) Count(id int32, item int) int64 {
	f := v.fields[item]
	return int64(v.at(id)[f.word] >> f.shift & f.mask)
}
