package across

import (
	"slices"

	"rackwright/model"
)

// What a length gives (crosscut first): either one blank of its length, plain, which takes the
// whole width; or, where it is long enough to be ripped, a row across of blanks, one at least of
// its own length. A blank that is shorter lies at one end, and what is trimmed off it beyond a kerf
// is worth something where it is as wide as kw.
//
// For a length that may start anywhere from a to b it is what it gives at the best, or more: of the
// defects only those are seen that are met wherever it starts, and of what is worth something the
// most. With a = b it is exact.

// side is a blank at one end of a length, or at one edge of a strip: from lo to hi of it, and what
// is left of it beyond the kerf.
type side struct {
	lo, hi         int
	restLo, restHi int
}

// placesIn gives the places of a blank of one size in a larger one: all of it, or either end.
func (r *Most) placesIn(size, of, kerf int) []side {
	if size == of {
		return append(r.sides[:0], side{0, of, of, of})
	}
	r.sides = append(r.sides[:0], side{0, size, min(size+kerf, of), of},
		side{of - size, of, 0, max(0, of-size-kerf)})
	return r.sides
}

// length gives what the length of an index gives that starts from a to b.
func (r *Most) length(index, a, b int) int64 {
	l := r.lengths[index]
	best := int64(impossible)
	for k := range r.blanks { // plain
		if i := &r.blanks[k]; i.length == index && i.value > best && !r.barred(i.face, a+l, b) {
			best = i.value
		}
	}
	if int64(l)*r.gx < int64(r.shortest) || len(r.widths) == 0 {
		return best
	}
	c := &r.column
	c.layers = 1
	r.addUp(c, l, a, b)
	for k := range r.widths {
		for y := range c.exact[k] {
			c.exact[k][y], c.other[k][y] = impossible, impossible
		}
	}
	for k := range r.blanks {
		i := &r.blanks[k]
		if i.width < 0 || i.length > index || i.length < index && !r.trimming {
			continue
		}
		values := c.exact[i.width]
		if i.length < index {
			c.layers, values = 2, c.other[i.width]
		}
		for _, s := range r.placesIn(r.lengths[i.length], l, r.kerf) {
			r.raiseAcross(i, s, a, b, values)
		}
	}
	return max(best, c.best())
}

// addUp fills in what the lines are worth over so much of the length from a to b on.
func (r *Most) addUp(c *rowAcross, l, a, b int) {
	c.sum[0] = 0
	for k := range r.lines {
		one := &r.lines[k]
		v := r.most(one, 0, l, a, b)
		for y := one.left; y < one.right; y++ {
			c.sum[y+1] = c.sum[y] + v
		}
	}
}

// barred says whether a face does not tolerate a defect that a piece of the whole width meets
// wherever it starts: it ends no sooner than first, and starts no later than last.
func (r *Most) barred(f model.Face, first, last int) bool {
	return slices.ContainsFunc(r.spots, func(s gridPatch) bool {
		return s.from < first && s.to > last && !s.tolerated[f]
	})
}

// raiseAcross raises the values of the places across of one blank at one end of a length.
func (r *Most) raiseAcross(i *blank, s side, a, b int, values []int64) {
	w := r.widths[i.width]
	lines, sums := r.lines, r.sums[:0]
	if s.restHi <= s.restLo || w < r.narrow || r.worth == 0 {
		lines = nil
	}
	for k := range lines {
		sums = append(sums, r.most(&lines[k], s.restLo, s.restHi, a, b))
	}
	bars := r.bars[:0]
	for k := range r.spots {
		if p := &r.spots[k]; !p.tolerated[i.face] && p.from < a+s.hi && p.to > b+s.lo {
			bars = append(bars, gridSpan{p.left - w, p.right}) // no place between
		}
	}
	r.sums, r.bars = sums, bars
	for y := r.edge; y+w <= r.m-r.edge; y++ {
		if slices.ContainsFunc(bars, func(p gridSpan) bool { return p.from < y && y < p.to }) {
			continue
		}
		v := i.value
		for k := range lines {
			if n := min(lines[k].right, y+w) - max(lines[k].left, y); n > 0 {
				v += int64(n) * sums[k]
			}
		}
		values[y] = max(values[y], v)
	}
}
