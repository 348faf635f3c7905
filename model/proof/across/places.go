package across

import (
	"math/bits"
	"slices"
)

// The places on one axis: the points at which pieces, lengths and strips need to start (doc.go).
// They are reached from anchors by sums of parts, forward and backward. A part is the size of a
// piece and a kerf, so the point right behind a piece and its kerf is a place as well: the last one
// is a kerf behind the end.
//
// A set has a bit for each point. A word of it is final once all words before it have been gone
// through, so each part shifts a word at a time. Backward is forward in a mirror.

// places are the places on one axis, numbered as they rise.
type places struct {
	set  []uint64 // a bit for each point from 0 to the last
	rank []int32  // by word of the set: how many places lie before it
	at   []int32  // none where they are more than maxPlaces
	n    int      // how many there are
	last int      // the last point
	full bool     // each point is a place
	back []uint64 // while they are looked for: those reached backward, the last point first
}

// reach makes the places up to last that are reached from the anchors by sums of parts, each above
// 0. Anchors beyond are left out. The points of also are places, but nothing is reached from them.
func (p *places) reach(last int, anchors, parts, also []int) {
	words := last/64 + 1
	p.set, p.back = clearWords(p.set, words), clearWords(p.back, words)
	for _, a := range anchors {
		if a >= 0 && a <= last {
			mark(p.set, a)
			mark(p.back, 64*words-1-a)
		}
	}
	addSums(p.set, parts)
	addSums(p.back, parts)
	for w, word := range p.back {
		p.set[words-1-w] |= bits.Reverse64(word)
	}
	for _, a := range also {
		mark(p.set, a)
	}
	p.set[words-1] &= ^uint64(0) >> (63 - last%64)
	p.number()
	p.last, p.full = last, p.n == last+1
}

// clearWords gives so many words of 0, and uses the old ones again.
func clearWords(old []uint64, n int) []uint64 {
	if cap(old) < n {
		return make([]uint64, n)
	}
	old = old[:n]
	clear(old)
	return old
}

// mark puts a point into a set.
func mark(set []uint64, x int) { set[x/64] |= 1 << (x % 64) }

// addSums adds all sums of parts to the points of a set.
func addSums(set []uint64, parts []int) {
	for w := range set {
		for again := true; again; { // parts of less than a word stay in it
			old := set[w]
			for _, part := range parts {
				if part < 64 {
					set[w] |= set[w] << part
				}
			}
			again = set[w] != old
		}
		word := set[w]
		if word == 0 {
			continue
		}
		for _, part := range parts {
			to, by := w+part/64, part%64
			if part >= 64 && to < len(set) {
				set[to] |= word << by
			}
			if by > 0 && to+1 < len(set) {
				set[to+1] |= word >> (64 - by)
			}
		}
	}
}

// number numbers the places of the set.
func (p *places) number() {
	p.rank, p.at, p.n = p.rank[:0], p.at[:0], 0
	for _, word := range p.set {
		p.rank = append(p.rank, int32(p.n))
		p.n += bits.OnesCount64(word)
	}
	if p.n > maxPlaces {
		return
	}
	p.at = slices.Grow(p.at, p.n)
	for w, word := range p.set {
		for ; word != 0; word &= word - 1 {
			p.at = append(p.at, int32(w*64+bits.TrailingZeros64(word)))
		}
	}
}

// from is the first place at x or behind it, of [0, last]; their count where there is none.
func (p *places) from(x int) int {
	if p.full {
		return x
	}
	w := uint(x) / 64
	return int(p.rank[w]) + bits.OnesCount64(p.set[w]&(1<<(uint(x)%64)-1))
}

// within are the places in [a, b]: the first, and the one behind the last. b may lie behind the
// last of all.
func (p *places) within(a, b int) (first, end int) {
	if a > p.last {
		return p.n, p.n
	}
	if end = p.n; b < p.last {
		end = p.from(b + 1)
	}
	return p.from(a), end
}

// is gives the place at x; false where there is none. x is in [0, last].
func (p *places) is(x int) (int, bool) {
	return p.from(x), p.set[x/64]>>(x%64)&1 != 0
}
