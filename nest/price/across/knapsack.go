package across

import (
	"cmp"
	"math/bits"
	"slices"

	"rackwright/nest/price"
)

// knapsack holds the best rows of things without gaps, any number of each thing, by the total T of
// their sizes + kerfs:
//
//	f0(T)  the most that a row of total T is worth
//	f1(T)  the most that one is worth with a thing of full size in it
//
// A row that is worth no more than a shorter one is left out.
type knapsack struct{ f0, f1 front }

// front is the rows of one table that are worth more than all shorter ones, ascending.
type front []rowTotal

// rowTotal is the total of a row, and what the row is worth.
type rowTotal struct{ total, value int64 }

// at is the value of the row of just that total; price.Never: there is none.
func (f front) at(total int64) int64 {
	if n := f.first(total); n < len(f) && f[n].total == total {
		return f[n].value
	}
	return price.Never
}

// upTo is the most that a row of at most that total is worth; price.Never: there is none.
func (f front) upTo(total int64) int64 {
	if n := f.first(total + 1); n > 0 {
		return f[n-1].value
	}
	return price.Never
}

// first is the index of the first row of at least that total.
func (f front) first(total int64) int {
	n, _ := slices.BinarySearchFunc(f, total, func(r rowTotal, total int64) int {
		return cmp.Compare(r.total, total)
	})
	return n
}

// table is f0 for a row that has its full-size thing elsewhere, f1 for one that has not.
func (h *knapsack) table(full bool) front {
	if full {
		return h.f0
	}
	return h.f1
}

// compute computes the rows of things of a list, of the totals of p. A row is left out where a
// shorter one is worth as much and slack more. It gives the steps taken.
func (h *knapsack) compute(p *places, list []option, slack int64) (steps int64) {
	h.f0, h.f1 = h.f0[:0], h.f1[:0]
	f0, f1 := p.clear()
	f0[0] = 0
	least0, least1 := int64(price.Never), int64(price.Never) // what a longer row must pass
	at := 0
	steps = int64(p.count / 4)
	for word, set := range p.words {
		for ; set != 0; set &= set - 1 {
			total := p.grid * int64(64*word+bits.TrailingZeros64(set))
			b0, b1 := f0[at], f1[at]
			at++
			if b0 <= least0 || price.None(b0) {
				b0 = price.Never
			} else {
				h.f0 = append(h.f0, rowTotal{total, b0})
				least0 = max(least0, b0-slack)
			}
			if b1 <= least1 || price.None(b1) {
				b1 = price.Never
			} else {
				h.f1 = append(h.f1, rowTotal{total, b1})
				least1 = max(least1, b1-slack)
			}
			if price.None(b0) && price.None(b1) {
				continue
			}
			for m := range list {
				o := &list[m]
				end := total + o.size + p.kerf
				if steps++; end > p.most {
					break
				}
				to := p.index(end)
				f0[to] = max(f0[to], b0+o.any)
				f1[to] = max(f1[to], b1+o.any, b0+o.full)
			}
		}
	}
	return steps
}

// places are the totals that rows of things can have: sums of sizes + kerfs. With a kerf that
// shares nothing with the sizes they are far fewer than the multiples of the grid that all share.
type places struct {
	kerf, most int64 // no total is more than most
	grid       int64
	words      []uint64 // a bit for each multiple of the grid
	before     []int32  // by word: how many places are in earlier ones
	count      int
	f0, f1     []int64 // memory for a knapsack
}

// mostPlaces is how many places a table may have.
const mostPlaces = 1 << 18

// newPlaces makes the places of things of some sizes, ascending, each at least 1; nil where they
// are too many.
func newPlaces(sizes []int64, kerf, most int64) *places {
	p := &places{kerf: kerf, most: most}
	for _, size := range sizes {
		p.grid = price.GCD(p.grid, size+kerf)
	}
	p.grid = max(1, p.grid)
	p.words = make([]uint64, most/p.grid/64+1)
	p.words[0] = 1
	for word := range p.words {
		for done := uint64(0); p.words[word]&^done != 0; {
			bit := (p.words[word] &^ done) & -(p.words[word] &^ done)
			done |= bit
			total := p.grid * int64(64*word+bits.TrailingZeros64(bit))
			for _, size := range sizes {
				end := total + size + kerf
				if end > most {
					break
				}
				at := end / p.grid
				p.words[at/64] |= 1 << (at % 64)
			}
		}
		p.before = append(p.before, int32(p.count))
		if p.count += bits.OnesCount64(p.words[word]); p.count > mostPlaces {
			return nil
		}
	}
	return p
}

// memory is what the places take, in bytes, besides those for knapsacks.
func (p *places) memory() int64 { return 12 * int64(len(p.words)) }

// index is how many places are before one.
func (p *places) index(total int64) int {
	at := total / p.grid
	return int(p.before[at/64]) + bits.OnesCount64(p.words[at/64]&(1<<(at%64)-1))
}

// clear gives tables with no row for any place.
func (p *places) clear() (f0, f1 []int64) {
	if p.f0 == nil {
		p.f0, p.f1 = make([]int64, p.count), make([]int64, p.count)
	}
	for at := range p.f0 {
		p.f0[at], p.f1[at] = price.Never, price.Never
	}
	return p.f0, p.f1
}

// option is a thing of one size and the most that it may be worth.
type option struct {
	n    int // the index of the size
	size int64
	pieceValue
}

// options are all things that have a value.
func options(values []pieceValue, sizes []int64) (out []option) {
	for n, v := range values {
		if !price.None(v.any) {
			out = append(out, option{n, sizes[n], v})
		}
	}
	return out
}

// undominated gives the options up to a size, ascending. A value is price.Never if it is dominated:
// a smaller thing is worth as much. An option without a value is left out.
func undominated(values []pieceValue, sizes []int64, longest int64) (out []option) {
	best := noPiece
	for n, v := range values {
		if sizes[n] > longest {
			break
		}
		o := option{n, sizes[n], noPiece}
		if v.any > best.any {
			o.any, best.any = v.any, v.any
		}
		if v.full > best.full {
			o.full, best.full = v.full, v.full
		}
		if !price.None(o.any) || !price.None(o.full) {
			out = append(out, o)
		}
	}
	return out
}
