package openstacks

import "math/bits"

// set is a set of customers, or of products, by their indices.
type set []uint64

func newSet(n int) set { return make(set, (n+63)/64) }

func (s set) has(i int) bool { return s[i/64]>>(i%64)&1 == 1 }

func (s set) add(i int) { s[i/64] |= 1 << (i % 64) }

func (s set) remove(i int) { s[i/64] &^= 1 << (i % 64) }

// unite adds all of t.
func (s set) unite(t set) {
	for i, w := range t {
		s[i] |= w
	}
}

// size is how many are in s.
func (s set) size() (n int) {
	for _, w := range s {
		n += bits.OnesCount64(w)
	}
	return n
}

// without is how many are in s and not in t.
func (s set) without(t set) (n int) {
	for i, w := range s {
		n += bits.OnesCount64(w &^ t[i])
	}
	return n
}

// within says whether all of s that are not in except are in t.
func (s set) within(t, except set) bool {
	for i, w := range s {
		if w&^t[i]&^except[i] != 0 {
			return false
		}
	}
	return true
}

// all goes through s, lowest first.
func (s set) all(yield func(int) bool) {
	for i, w := range s {
		for ; w != 0; w &= w - 1 {
			if !yield(i*64 + bits.TrailingZeros64(w)) {
				return
			}
		}
	}
}
