package across

import (
	"cmp"
	"slices"
)

// What a strip gives (rip first): a row along of blanks, one at least of its own width. A blank
// that is narrower, long enough to be ripped, lies at one edge, and what is trimmed off it beyond a
// kerf is worth something where it is as wide as kw.
//
// For a strip that may lie anywhere from a to b it is what it gives at the best, or more: of the
// defects only those are seen that are met wherever it lies; of the lines of a gap as many as there
// are of each sort wherever it lies, and for the rest clear ones. With a = b it is exact.

// bands gives the lines of [y+lo, y+hi) for all y from a to b; none where such a gap is worth
// nothing.
func (r *Most) bands(lo, hi, a, b int, out []band) []band {
	rest := hi - lo
	if r.worth == 0 || !r.wide(a+lo, rest) {
		return out
	}
	for k := range r.lines {
		one := &r.lines[k]
		n := min(min(one.right, a+hi)-max(one.left, a+lo), min(one.right, b+hi)-max(one.left, b+lo))
		if n <= 0 || len(one.blocks) == 0 {
			continue
		}
		out = append(out, band{r.worth * int64(n), one.runs})
		rest -= n
	}
	if rest > 0 {
		out = append(out, band{r.worth * int64(rest), []gridSpan{{0, r.n}}})
	}
	return out
}

// stripOf gives what the strip of an index gives that starts from a to b.
func (r *Most) stripOf(index, a, b int) int64 {
	w := r.widths[index]
	row := &r.strip
	row.prepare(r.n, r.kerf, r.gx, int64(r.keep), r.bands(0, w, a, b, nil))
	row.layers, row.options = 1, row.options[:0]
	for k := range r.blanks {
		i := &r.blanks[k]
		if i.width < 0 || i.width > index {
			continue
		}
		if i.width < index {
			if !r.trimming || int64(r.lengths[i.length])*r.gx < int64(r.shortest) {
				continue
			}
			row.layers = 2
		}
		for _, s := range r.placesIn(r.widths[i.width], w, r.rip) {
			r.along(i, s, a, b, i.width == index)
		}
	}
	row.fill(r.n)
	return row.best()
}

// along adds the options of one blank at one edge of a strip: its places between the defects that
// its face does not tolerate.
func (r *Most) along(i *blank, s side, a, b int, exact bool) {
	l := r.lengths[i.length]
	var rest []band
	if s.restHi > s.restLo {
		rest = r.bands(s.restLo, s.restHi, a, b, r.rest[:0])
	}
	bars := r.bars[:0]
	for k := range r.spots {
		if p := &r.spots[k]; !p.tolerated[i.face] && p.left < a+s.hi && p.right > b+s.lo {
			bars = append(bars, gridSpan{p.from - l + 1, p.to}) // no start there
		}
	}
	r.rest, r.bars = rest, bars
	from := 0
	for _, p := range append(bars, gridSpan{r.n - l + 1, r.n}) { // by start
		if p.from > from {
			r.between(i.value, l, from, min(p.from, r.n-l+1)-1, rest, exact)
		}
		from = max(from, p.to)
	}
}

// between adds the options of a blank that may start from a to b, by what is left beside it: of one
// value where that is clear.
func (r *Most) between(value int64, l, a, b int, rest []band, exact bool) {
	row := &r.strip
	add := func(from, to int, v int64, values []int64) {
		if from <= to {
			row.options = append(row.options,
				option{length: l, a: from, b: to, exact: exact, value: v, values: values})
		}
	}
	clear := int64(0)
	for _, one := range rest {
		clear += one.worth
	}
	clear *= over(int64(l)*r.gx, int64(r.keep))
	at := a
	for _, s := range r.notClear(l, rest, clear > 0) {
		from, to := max(s.from, at), min(s.to-1, b)
		if from > to {
			continue
		}
		add(at, from-1, value+clear, nil)
		values, most := make([]int64, to-from+1), int64(0)
		for x := from; x <= to; x++ {
			values[x-from] = value + r.beside(rest, x, x+l)
			most = max(most, values[x-from])
		}
		add(from, to, most, values)
		at = to + 1
	}
	add(at, b, value+clear, nil)
}

// notClear gives where something l long starts that meets what is not clear in some band, by start;
// nothing where that is of no matter.
func (r *Most) notClear(l int, bands []band, matters bool) []gridSpan {
	r.blocked = r.blocked[:0]
	if !matters {
		return nil
	}
	for _, one := range bands {
		at := 0
		for _, c := range append(slices.Clone(one.clear), gridSpan{r.n, r.n}) {
			if c.from > at {
				r.blocked = append(r.blocked, gridSpan{at - l + 1, c.from})
			}
			at = c.to
		}
	}
	slices.SortFunc(r.blocked, func(a, b gridSpan) int { return cmp.Compare(a.from, b.from) })
	return r.blocked
}

// beside is what the lines of bands are worth from one place to another.
func (r *Most) beside(bands []band, from, to int) (sum int64) {
	for _, b := range bands {
		for _, c := range b.clear {
			if f, t := max(c.from, from), min(c.to, to); f < t {
				sum += b.worth * over(int64(t-f)*r.gx, int64(r.keep))
			}
		}
	}
	return sum
}
