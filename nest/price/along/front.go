package along

// Fronts: the sums of pieces that are worth having.
//
//	T, v    the length that some pieces take, a kerf behind each; the sum of their duals
//	front   sums (T, v) by rising T, the empty one first; of any two with a piece the longer one
//	        is worth more
//
// A sum that a shorter one is worth as much as is left out, and so is all that is made of it: put
// the same pieces behind the shorter one. The empty sum leaves none out, since a stock is used for
// at least one piece. A front has some dozens of sums, however small a measure the lengths share:
// so nothing here goes by units of length.
//
// A front that grows beyond mostSums is thinned. Of two neighbours the shorter T stands with the
// greater v, so that no bound made of it is too low.

// mostSums is how long a front may be.
const mostSums = 1 << 15

// sum is one of a front.
type sum struct {
	length, value int64
	last          int32 // of adder.added, what came last; -1: it is empty
}

type front []sum

// adder makes fronts of pieces that take no more than a length together.
type adder struct {
	longest int64
	added   []addition
	merged  int64 // steps
	spare   front
}

// addition is a number of copies of an item, and what was there before.
type addition struct {
	item, count, before int32
}

// start gives the front without any item.
func (a *adder) start(f front) front {
	a.added, a.merged = a.added[:0], 0
	return append(f[:0], sum{last: -1})
}

// add gives the front with up to so many copies of an item more, each of a size and a value. Copies
// come in batches by powers of two. The front handed in is used up.
func (a *adder) add(f front, item int, copies, size, value int64) front {
	copies = min(copies, a.longest/size)
	for c := int64(1); copies > 0; c *= 2 {
		c = min(c, copies)
		by := addition{item: int32(item), count: int32(c)}
		f, a.spare = a.batch(a.spare[:0], f, by, c*size, c*value), f
		copies -= c
	}
	return f
}

// batch appends to out the front f with a batch more. Of equals it keeps the sum without the batch.
func (a *adder) batch(out, f front, by addition, size, value int64) front {
	a.merged += int64(2 * len(f))
	out = append(out, f[0])
	old, new := 1, 0
	for most := int64(-1); ; {
		more := new < len(f) && f[new].length+size <= a.longest
		if more && (old == len(f) || f[new].length+size < f[old].length ||
			f[new].length+size == f[old].length && f[new].value+value > f[old].value) {
			if v := f[new].value + value; v > most {
				most = v
				by.before = f[new].last
				out = append(out, sum{f[new].length + size, v, int32(len(a.added))})
				a.added = append(a.added, by)
			}
			new++
			continue
		}
		if old == len(f) {
			break
		}
		if f[old].value > most {
			most = f[old].value
			out = append(out, f[old])
		}
		old++
	}
	if len(out) > mostSums {
		out = out.thinned()
	}
	return out
}

// thinned joins neighbours, but for the empty sum.
func (f front) thinned() front {
	n := 1
	for i := 1; i < len(f); i += 2 {
		length := f[i].length
		f[n] = f[min(i+1, len(f)-1)]
		f[n].length = length
		n++
	}
	return f[:n]
}

// pieces are the items of a sum, in the order in which they were added, the last first.
func (a *adder) pieces(s sum) (items []int) {
	for at := s.last; at >= 0; at = a.added[at].before {
		for range a.added[at].count {
			items = append(items, int(a.added[at].item))
		}
	}
	return items
}

// scale is a front with, for each of its sums, that of the greatest v - slope T up to there. It
// says what a length can give: pieces, and a stretch behind them.
type scale struct {
	front
	first int // the sums from there on count
	slope int64
	lead  []int32
}

// newScale makes one of the sums from first on.
func newScale(f front, first int, slope int64) *scale {
	s := &scale{f, first, slope, make([]int32, len(f))}
	best := first
	for i := first; i < len(f); i++ {
		if f[i].value-slope*f[i].length > f[best].value-slope*f[best].length {
			best = i
		}
		s.lead[i] = int32(best)
	}
	return s
}

// most gives the most that a length can give, and the sum for it; the shortest, where several give
// as much. A kerf behind the last piece need not be part of the length. A stretch of t is worth
// slope x max(0, t - keep). Not ok: no sum is so short.
func (s *scale) most(length, kerf, keep int64) (value int64, at int, ok bool) {
	end := s.upTo(length + kerf)
	if end <= s.first {
		return 0, 0, false
	}
	value, at = s.front[end-1].value, end-1
	if n := s.upTo(length - keep); n > s.first {
		lead := int(s.lead[n-1])
		v := s.front[lead].value + s.slope*(length-keep-s.front[lead].length)
		if v >= value {
			return v, lead, true
		}
	}
	return value, at, true
}

// upTo is how many sums take at most so much.
func (f front) upTo(length int64) int {
	n, end := 0, len(f)
	for n < end {
		if mid := int(uint(n+end) / 2); f[mid].length <= length {
			n = mid + 1
		} else {
			end = mid
		}
	}
	return n
}

// scales are those of fronts that stay the same, by slope.
type scales map[int64]*scale

// get gives that of a slope.
func (s scales) get(f front, first int, slope int64) *scale {
	if s[slope] == nil {
		s[slope] = newScale(f, first, slope)
	}
	return s[slope]
}
