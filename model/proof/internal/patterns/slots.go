package patterns

import "math/bits"

// slots find things by their hash: each holds the number of a thing, plus one; 0 is free. There are
// a power of 2 of them, and no more than half of them hold one.
type slots []int32

// cleared are a few free slots.
func (s slots) cleared() slots {
	const few = 1 << 10
	if cap(s) < few {
		return make(slots, few)
	}
	s = s[:few]
	clear(s)
	return s
}

// put puts the last of so many things into a free slot, and makes more of them where they are few.
// hash is that of a thing.
func (s *slots) put(at, things int, hash func(thing int) uint64) {
	(*s)[at] = int32(things)
	if 2*things <= len(*s) {
		return
	}
	*s = make(slots, 2*len(*s))
	for k := range things {
		at := s.at(hash(k))
		for (*s)[at] != 0 {
			at = s.after(at)
		}
		(*s)[at] = int32(k + 1)
	}
}

// at is the first slot to look at for a hash, and after the one to look at next.
func (s slots) at(hash uint64) int { return int(hash) & (len(s) - 1) }

func (s slots) after(at int) int { return (at + 1) & (len(s) - 1) }

// mix makes a hash of one word more.
func mix(hash, word uint64) uint64 {
	high, low := bits.Mul64(hash^word, 0x9e3779b97f4a7c15)
	return high ^ low
}
