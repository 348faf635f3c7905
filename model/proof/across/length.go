package across

import (
	"cmp"
	"slices"

	"rackwright/model"
)

// What a length gives (crosscut first). A plain length is one blank of its length that takes the
// whole width. Any other length is a row of blanks across, at least one of them as long as the
// length. Only a length that is long enough may be ripped. A blank shorter than the length lies at
// one end of it. What is trimmed off that blank beyond a kerf is worth something where it is as
// wide as kw. Each rip is as long as the length. A plain length has none.
//
// For a length that may start anywhere from a to b the value is the most that it gives, or more. Of
// the defects only those are seen that it meets wherever it starts, the weak ones among them. Of
// what is worth something the most is taken. With a = b the value is exact.

// side is a place of a blank in a length, or in a strip: all of it, or at one end or edge of it.
type side struct {
	lo, hi         int // the blank
	leftLo, leftHi int // what is left of the length or strip beyond the kerf
}

// placesIn gives the places of a blank of one size in a length or strip of another.
func (r *boardSearch) placesIn(size, outer, kerf int) []side {
	if size == outer {
		return append(r.sides[:0], side{0, outer, outer, outer})
	}
	r.sides = append(r.sides[:0], side{0, size, min(size+kerf, outer), outer},
		side{outer - size, outer, 0, max(0, outer-size-kerf)})
	return r.sides
}

// lengthMost is the most that the length of an index gives that starts anywhere from a to b.
func (r *boardSearch) lengthMost(index, a, b int) int64 {
	l := r.lengths[index]
	best := int64(impossible)
	if r.ends() {
		return best
	}
	for k := range r.blanks { // plain
		if i := &r.blanks[k]; i.length == index && i.value > best && !r.barred(i.face, a+l, b) {
			best = i.value
		}
	}
	if !r.canRip(l) || len(r.widths) == 0 {
		return best
	}
	c := &r.column
	c.layers = 1
	r.sumLines(c, l, a, b)
	c.ripsCost(r.ripCost(l))
	for k := range r.spots {
		if p := &r.spots[k]; p.weak && p.from < a+l && p.to > b {
			c.shutRips(p.left, p.right)
		}
	}
	for k := range r.widths {
		for i := range c.exact[k] {
			c.exact[k][i], c.other[k][i] = impossible, impossible
		}
	}
	for k := range r.blanks {
		i := &r.blanks[k]
		if !r.goesInLength(i, index) {
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

// goesInLength says whether a blank may be in a ripped length of an index.
func (r *boardSearch) goesInLength(i *blank, index int) bool {
	return i.width >= 0 && (i.length == index || i.length < index && r.trimming)
}

// sumLines fills in what all lines before each place are worth in strips, and before a rip there,
// over a length l that starts anywhere from a to b.
func (r *boardSearch) sumLines(c *rowAcross, l, a, b int) {
	var all int64  // up to where the lines begin
	n, rip := 0, 0 // so many places are done
	for k := range r.lines {
		one := &r.lines[k]
		v := r.s0Strip * r.lineKept(one, 0, l, a, b)
		for ; n < c.places.n && int(c.places.at[n]) <= one.right; n++ {
			c.sum[n] = all + int64(int(c.places.at[n])-one.left)*v
		}
		for ; rip < c.places.n && int(c.places.at[rip])-c.kerf <= one.right; rip++ {
			c.before[rip] = all + int64(max(0, int(c.places.at[rip])-c.kerf-one.left))*v
		}
		all += int64(one.right-one.left) * v
	}
	for ; n < c.places.n; n++ {
		c.sum[n] = all
	}
	c.sum[c.places.n] = all
}

// barred says whether a piece of the whole width meets a defect, wherever it starts, that its face
// does not tolerate. It ends no sooner than end, and starts no later than start.
func (r *boardSearch) barred(f model.Face, end, start int) bool {
	return slices.ContainsFunc(r.spots, func(s gridPatch) bool {
		return s.from < end && s.to > start && !s.tolerated[f]
	})
}

// raiseAcross raises values, by place across, to what one blank gives at one place in a length.
func (r *boardSearch) raiseAcross(i *blank, s side, a, b int, values []int64) {
	w := r.widths[i.width]
	counted, sums, slope := r.lines, r.sums[:0], r.slopeOf(w)
	if s.leftHi <= s.leftLo || slope == 0 {
		counted = nil
	}
	for k := range counted {
		sums = append(sums, slope*r.lineKept(&counted[k], s.leftLo, s.leftHi, a, b))
	}
	bars := r.bars[:0]
	for k := range r.spots {
		if p := &r.spots[k]; !p.tolerated[i.face] && p.from < a+s.hi && p.to > b+s.lo {
			bars = append(bars, gridSpan{p.left - w + 1, p.right}) // no place there
		}
	}
	slices.SortFunc(bars, func(a, b gridSpan) int { return cmp.Compare(a.from, b.from) })
	r.sums, r.bars = sums, bars
	for free := range outside(bars, r.m-r.edge-w+1) {
		first, end := r.column.places.within(max(free.from, r.edge), free.to-1)
		for n := first; n < end; n++ {
			v := i.value
			if len(counted) > 0 {
				v += r.besideWorth(counted, sums, int(r.column.places.at[n]), w)
			}
			values[n] = max(values[n], v)
		}
	}
}

// besideWorth is what is left beside a blank that is w wide at y; each of the lines counts so much.
func (r *boardSearch) besideWorth(counted []lines, sums []int64, y, w int) (v int64) {
	for k := range counted {
		if n := min(counted[k].right, y+w) - max(counted[k].left, y); n > 0 {
			v += int64(n) * sums[k]
		}
	}
	return v
}
