package across

import (
	"cmp"
	"slices"
)

// What a strip gives (rip first): a row of blanks along it, at least one of them as wide as the
// strip. A blank narrower than the strip must be long enough to be ripped, and lies at one edge of
// the strip. It is trimmed by one rip as long as the blank. What is trimmed off it beyond a kerf is
// worth something where it is as wide as kw. The rips on both sides of the strip are those of the
// row of strips.
//
// For a strip that may start anywhere from a to b the value is the most that it gives, or more:
//
//   - Of the defects only those are seen that the strip, or the trimming rip, meets wherever the
//     strip lies.
//   - Of the lines of a gap, so many of each kind are counted as it has wherever the strip lies.
//     All its other lines are taken to be clear.
//
// With a = b the value is exact. The kerf of a trimming rip may reach beyond the strip. A weak
// defect there bars the rip beside the strip as well, so no such strip is in any layout.

// findBands adds the bands of [y+lo, y+hi), as they are for all y from a to b. There are none where
// such a gap is worth nothing.
func (r *boardSearch) findBands(lo, hi, a, b int, out []band) []band {
	others, slope := hi-lo, r.slopeOf(hi-lo) // others: lines that are taken to be clear
	if slope == 0 {
		return out
	}
	for k := range r.lines {
		one := &r.lines[k]
		n := min(min(one.right, a+hi)-max(one.left, a+lo), min(one.right, b+hi)-max(one.left, b+lo))
		if n <= 0 || len(one.blocks) == 0 {
			continue
		}
		out = append(out, band{slope * int64(n), one.runs})
		others -= n
	}
	if others > 0 {
		out = append(out, band{slope * int64(others), []gridSpan{{0, r.n}}})
	}
	return out
}

// stripMost is the most that the strip of an index gives that starts anywhere from a to b. Its
// blanks start at some places.
func (r *boardSearch) stripMost(at *places, index, a, b int) int64 {
	w := r.widths[index]
	if r.ends() {
		return impossible
	}
	row := &r.strip
	row.prepare(at, r.n, r.kerf, r.gx, int64(r.keep), r.findBands(0, w, a, b, nil))
	row.layers, row.options = 1, row.options[:0]
	for k := range r.blanks {
		i := &r.blanks[k]
		if !r.goesInStrip(i, index) {
			continue
		}
		if i.width < index {
			row.layers = 2
		}
		for _, s := range r.placesIn(r.widths[i.width], w, r.rip) {
			r.addOptions(i, s, a, b, i.width == index)
		}
	}
	row.fill(r.n)
	return row.best()
}

// goesInStrip says whether a blank may be in a strip of an index.
func (r *boardSearch) goesInStrip(i *blank, index int) bool {
	long := r.lengths[i.length]
	return long <= r.n && i.width >= 0 &&
		(i.width == index || i.width < index && r.trimming && r.canRip(long))
}

// addOptions adds the options of one blank at one place across a strip: where it may lie along the
// strip, between the defects that its face does not tolerate.
func (r *boardSearch) addOptions(i *blank, s side, a, b int, exact bool) {
	l := r.lengths[i.length]
	var left []band
	if s.leftHi > s.leftLo {
		left = r.findBands(s.leftLo, s.leftHi, a, b, r.left[:0])
	}
	value, rip := i.value, -1 // where the trimming rip begins across the strip
	if !exact {
		value -= r.ripCost(l)
		if rip = s.hi; s.lo > 0 {
			rip = s.lo - r.rip
		}
	}
	bars := r.bars[:0]
	for k := range r.spots {
		p := &r.spots[k]
		if !p.tolerated[i.face] && p.left < a+s.hi && p.right > b+s.lo ||
			!exact && p.weak && p.left < a+rip+r.rip && p.right > b+rip {
			bars = append(bars, gridSpan{p.from - l + 1, p.to}) // no start there
		}
	}
	r.left, r.bars = left, bars
	for free := range outside(bars, r.n-l+1) {
		r.addBetween(value, l, free.from, free.to-1, left, exact)
	}
}

// addBetween adds the options of a blank that may start anywhere from a to b, with left beside it.
// An option has one value where left is clear, else one by place, with that of a clear left as the
// most.
func (r *boardSearch) addBetween(value int64, l, a, b int, left []band, exact bool) {
	row := &r.strip
	clear := int64(0)
	for _, one := range left {
		clear += one.worth
	}
	clear *= beyondKeep(int64(l)*r.gx, int64(r.keep))
	spans := r.notClear(l, left, clear > 0)
	if value += clear; len(spans) > 0 {
		left = slices.Clone(left) // it is needed again
	}
	add := func(from, to int, beside []band) {
		if from <= to {
			row.options = append(row.options, option{length: l, a: from, b: to, exact: exact,
				value: value, beside: beside, clear: clear})
		}
	}
	at := a
	for _, s := range spans {
		from, to := max(s.from, at), min(s.to-1, b)
		if from > to {
			continue
		}
		add(at, from-1, nil)
		add(from, to, left)
		at = to + 1
	}
	add(at, b, nil)
}

// notClear gives where something l long starts that meets what is not clear in some band, by start;
// nothing where that does not matter.
func (r *boardSearch) notClear(l int, bands []band, matters bool) []gridSpan {
	r.blocked = r.blocked[:0]
	if !matters {
		return nil
	}
	for _, one := range bands {
		for s := range outside(one.clear, r.n) {
			r.blocked = append(r.blocked, gridSpan{s.from - l + 1, s.to})
		}
	}
	slices.SortFunc(r.blocked, func(a, b gridSpan) int { return cmp.Compare(a.from, b.from) })
	return r.blocked
}
