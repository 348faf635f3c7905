package along

import (
	"cmp"
	"math/bits"
	"slices"

	"rackwright/model"
)

// Where pieces of a linked board have to start, on its grid. A row is a number of pieces a kerf
// apart. A layout that gives the most has each row against something: the row cannot slide on
// without loss. So
//
//	forward     a piece starts at S, behind a spot, or where a gap up to the start of a spot lets
//	            it: at the spot's start + k. Behind a piece, its kerf paid, the next may start.
//	backward    a piece ends at U, before a spot, or a kerf before a piece that starts behind a
//	            spot. A kerf before its start, the piece before it may end.
//
// Only such starts count; with a kerf that shares nothing with the sizes they are one in hundreds.

// places are such starts, in steps of the grid from S.
type places struct {
	points []int // rising
	set    []uint64
	before []int32 // by word of the set: how many lie before it
}

// index is how many places lie before x: the number of the first one at x or later. U and all
// beyond it have the number of places.
func (p *places) index(x int) int {
	w := x >> 6
	if w >= len(p.before) {
		return len(p.points)
	}
	return int(p.before[w]) + bits.OnesCount64(p.set[w]&(1<<(x&63)-1))
}

// find is the number of a place, -1 where x is none; U and all beyond count as one.
func (p *places) find(x, u int) int {
	if x < u && p.set[x>>6]>>(x&63)&1 == 0 {
		return -1
	}
	return p.index(x)
}

// block is a stretch that a face does not tolerate, in steps of the grid.
type block struct{ from, to int }

// finder finds places on a board.
type finder struct {
	*table
	sizes [model.Faces][]int // of the blanks, rising
	left  int                // how many places may be found yet, here and there
}

// blocksOf gives by face what it does not tolerate, joined where it touches.
func (t *table) blocksOf() (out [model.Faces][]block) {
	for f := range out {
		for _, s := range t.Spots { // by their starts
			if s.Tolerated[f] {
				continue
			}
			b := block{t.at(s.From), t.at(s.To)}
			if n := len(out[f]); n > 0 && out[f][n-1].to >= b.from {
				out[f][n-1].to = max(out[f][n-1].to, b.to)
			} else {
				out[f] = append(out[f], b)
			}
		}
	}
	return out
}

// fill finds the places of some blanks; false where they are more than most.
func (p *places) fill(t *table, items []Item, most int) bool {
	f := finder{table: t, left: 2 * most}
	for _, i := range items {
		f.sizes[i.Face] = append(f.sizes[i.Face], int(int64(i.Length)/t.step))
	}
	for k := range f.sizes {
		slices.Sort(f.sizes[k])
		f.sizes[k] = slices.Compact(f.sizes[k])
	}
	words := t.n/64 + 1
	if cap(p.set) < words {
		p.set, p.before = make([]uint64, words), make([]int32, words)
	}
	p.set, p.before = p.set[:words], p.before[:words]
	clear(p.set)
	f.backward(p.set)
	f.forward(p.set)
	if p.points = p.points[:0]; f.left < 0 {
		return false
	}
	for w, word := range p.set {
		p.before[w] = int32(len(p.points))
		for ; word != 0; word &= word - 1 {
			p.points = append(p.points, 64*w+bits.TrailingZeros64(word))
		}
	}
	return true
}

// forward adds the starts from S on.
func (f *finder) forward(set []uint64) {
	anchors := []int{0}
	for _, s := range f.Spots {
		anchors = append(anchors, f.at(s.To), f.at(s.From)+f.kerf)
	}
	for w, word := range f.reach(anchors, &f.blocks, nil) {
		set[w] |= word
	}
}

// backward adds the starts from U on: those of pieces that are reached forward in a mirror.
func (f *finder) backward(set []uint64) {
	anchors := []int{0}
	for _, s := range f.Spots {
		anchors = append(anchors, f.n-f.at(s.From), f.n-f.at(s.To)+f.kerf)
	}
	var blocks [model.Faces][]block
	for face, list := range f.blocks {
		blocks[face] = make([]block, len(list))
		for k, b := range list {
			blocks[face][len(list)-1-k] = block{f.n - b.to, f.n - b.from}
		}
	}
	f.reach(anchors, &blocks, set)
}

// reach gives the points, from the anchors on, that pieces between the blocks lead to, each with a
// kerf behind it. In a mirror the set takes in where each of them starts.
func (f *finder) reach(anchors []int, blocks *[model.Faces][]block,
	mirror []uint64) []uint64 {
	own := make([]uint64, f.n/64+1)
	put := func(x int) {
		if x < f.n {
			own[x>>6] |= 1 << (x & 63)
		}
	}
	for _, x := range anchors {
		put(x)
	}
	var next [model.Faces]int // the first block that ends behind the point
	for w := range own {
		for done := uint64(0); own[w]&^done != 0; {
			bit := bits.TrailingZeros64(own[w] &^ done)
			done |= 1 << bit
			if f.left--; f.left < 0 {
				return own
			}
			x := 64*w + bit
			for face, sizes := range f.sizes {
				some, n := blocks[face], &next[face]
				for *n < len(some) && some[*n].to <= x {
					*n++
				}
				limit := f.n
				if *n < len(some) {
					limit = some[*n].from
				}
				for _, size := range sizes {
					if x+size > limit {
						break
					}
					if mirror != nil {
						start := f.n - x - size
						mirror[start>>6] |= 1 << (start & 63)
					}
					put(x + size + f.kerf)
				}
			}
		}
	}
	return own
}

// barredFrom is the first position at x or later that a face does not tolerate; U, where there is
// none.
func (t *table) barredFrom(f model.Face, x int) int {
	blocks := t.blocks[f]
	k, _ := slices.BinarySearchFunc(blocks, x+1, func(b block, x int) int {
		return cmp.Compare(b.to, x)
	})
	if k == len(blocks) {
		return t.n
	}
	return max(x, blocks[k].from)
}

// barredBefore says whether what a face does not tolerate ends at x.
func (t *table) barredBefore(f model.Face, x int) bool {
	_, found := slices.BinarySearchFunc(t.blocks[f], x, func(b block, x int) int {
		return cmp.Compare(b.to, x)
	})
	return found
}
