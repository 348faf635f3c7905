package across

import "slices"

// Fewer starts. A stock with spots and many sizes has so many starts and lengths that its tables
// are large and a pricing takes long. Where only columns are asked of it, some of the starts along
// will do: each thing then starts at the next of these, and little is lost. What is found is a
// pattern. But it need not be the best, so that such a pricer vouches for nothing.

// tooFine says whether a stock with spots has too many starts and lengths.
func (k *Maker) tooFine(r *pricer) bool {
	return k.budget.Cells > 0 &&
		r.extent/r.gridAlong()*int64(len(r.clear.lens)) > k.budget.Cells
}

// someStarts are starts in equal steps, and those just behind a spot, for about so many cells: a
// start and a length each.
func (r *pricer) someStarts(cells int64) (out []int64) {
	step := r.extent*int64(len(r.clear.lens))/cells + 1
	for x := int64(0); x < r.extent; x += step {
		out = append(out, x)
	}
	for _, o := range r.spots {
		if o.To < r.extent {
			out = append(out, o.To)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// countClear counts by start how many of the lengths fit, and are clear.
func (r *pricer) countClear() {
	for t, x := range r.xs {
		r.fitLens[t] = int32(firstFrom(r.clear.lens, r.extent-x+1))
		limit := r.extent
		for _, o := range r.spots {
			if o.To > x {
				limit = min(limit, max(x, o.From))
			}
		}
		r.clearLens[t] = int32(firstFrom(r.clear.lens, limit-x+1))
	}
}

// met says whether a spot reaches into length j at start t, or the stock ends there.
func (r *pricer) met(t, j int) bool { return j >= int(r.clearLens[t]) }

// groupAt is the group of a length at a start, by its slot; -1: it is in none.
func (r *pricer) groupAt(c int) int32 {
	if r.thin {
		return -1
	}
	return r.groupOf[c]
}

// lent is memory that the thin pricers of one maker share: for what one of them has found last.
type lent struct {
	to     *lengthSearch
	value  []int64
	priced []bool
	fills  []*rippedFill
}

// lend lends so many slots to a search; what was lent before is taken back.
func (k *Maker) lend(s *lengthSearch, slots int) {
	l := &k.lent
	if l.to != nil && l.to != s {
		l.to.value, l.to.priced = nil, nil
	}
	l.to = s
	l.value, l.priced = slices.Grow(l.value[:0], slots), slices.Grow(l.priced[:0], slots)
	s.value, s.priced = l.value[:slots], l.priced[:slots]
}

// fillOf is the fill of ripped lengths of a pricer. Thin ones with as many starts across share it.
func (k *Maker) fillOf(r *pricer) *rippedFill {
	if !r.thin {
		return &rippedFill{}
	}
	for _, f := range k.lent.fills {
		if f.of == r.clear && f.starts == len(r.ys) {
			return f
		}
	}
	f := &rippedFill{of: r.clear, starts: len(r.ys)}
	k.lent.fills = append(k.lent.fills, f)
	return f
}
