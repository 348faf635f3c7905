package counts

import "slices"

// Set numbers counts of one form from 0 on, in the order in which they were put.
type Set struct {
	words int
	n     int
	data  []uint64
	slots []int32 // a number and 1, or 0
}

// NewSet makes an empty set of counts of a form.
func NewSet(f *Form) *Set { return &Set{words: f.words, slots: make([]int32, 64)} }

// Clear takes all out of the set.
func (s *Set) Clear() {
	s.n, s.data = 0, s.data[:0]
	clear(s.slots)
}

// Len is how many are in the set.
func (s *Set) Len() int { return s.n }

// At are the counts of a number.
func (s *Set) At(n int) Counts { return s.data[n*s.words : (n+1)*s.words : (n+1)*s.words] }

// Put gives the number of counts, and says whether it is a new one.
func (s *Set) Put(c Counts) (n int, fresh bool) {
	at := s.slot(c)
	if s.slots[at] > 0 {
		return int(s.slots[at]) - 1, false
	}
	if len(s.data)+len(c) > cap(s.data) {
		s.data = slices.Grow(s.data, len(s.data)+64*len(c))
	}
	s.data = append(s.data, c...)
	s.n++
	s.slots[at] = int32(s.n)
	if 2*s.n > len(s.slots) {
		s.grow()
	}
	return s.n - 1, true
}

// Find gives the number of counts; -1: they are not in the set.
func (s *Set) Find(c Counts) int { return int(s.slots[s.slot(c)]) - 1 }

// slot is where counts stand, or would.
func (s *Set) slot(c Counts) int {
	mask := len(s.slots) - 1
	at := int(hash(c)) & mask
	for s.slots[at] > 0 && !s.has(int(s.slots[at])-1, c) {
		at = (at + 1) & mask
	}
	return at
}

// has says whether a number is that of some counts.
func (s *Set) has(n int, c Counts) bool {
	for w, v := range s.data[n*s.words : (n+1)*s.words] {
		if v != c[w] {
			return false
		}
	}
	return true
}

func (s *Set) grow() {
	s.slots = make([]int32, 4*len(s.slots))
	for n := range s.n {
		s.slots[s.slot(s.At(n))] = int32(n + 1)
	}
}

func hash(c Counts) uint64 {
	h := uint64(0x9e3779b97f4a7c15)
	for _, w := range c {
		h = (h ^ w) * 0xff51afd7ed558ccd
		h ^= h >> 32
	}
	return h
}
