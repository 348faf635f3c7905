package across

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// walker makes a pattern of the last pricing. Without room it is the one that was priced; with
// room each length and strip of it takes the best that is still allowed, by what the recursions say
// would follow.
type walker struct {
	r      *pricer
	left   []int64 // nil: no limit
	places []cutting.Place
}

func (w *walker) allowed(item int) bool { return w.left == nil || w.left[item] > 0 }

func (w *walker) put(item int, x, left, right int64) {
	if w.left != nil {
		w.left[item]--
	}
	w.places = append(w.places,
		cutting.Place{Item: item, At: w.r.s.From + x, Left: left, Right: right})
}

// Walk gives the pattern that the last pricing found, or a good one that begins with an item.
func (r *pricer) Walk(room []int64, first int) *cutting.Pattern {
	w := &walker{r: r, left: slices.Clone(room)}
	kind := r.best
	if first >= 0 && room == nil {
		kind = w.begin(first)
	}
	switch {
	case len(w.places) > 0:
	case room != nil:
		kind = w.within(first)
	case kind == cutting.CrosscutFirst:
		w.lengths(r.cross.route)
	default:
		w.strips(r.rip.route)
	}
	if len(w.places) == 0 {
		return nil
	}
	return &cutting.Pattern{Stock: r.index, First: kind, Places: w.places}
}

func (w *walker) lengths(route []lengthAt) {
	for _, at := range route {
		w.length(at.a, at.x, -1)
	}
}

func (w *walker) strips(route []stripAt) {
	for _, at := range route {
		w.strip(at.k, at.n, -1)
	}
}

// begin puts an item first, in the kind of pattern that is worth more so, and what is best beside
// and behind it.
func (w *walker) begin(item int) (kind cutting.FirstCut) {
	r := w.r
	sw := -1
	for n := range r.t.sawn {
		if r.t.sawn[n].item == item {
			sw = n
		}
	}
	at, cross := r.beginCross(item)
	n, rip := -1, int64(price.Never)
	if sw >= 0 && r.mayRip() {
		n, rip = r.beginRip(&r.t.sawn[sw])
	}
	switch {
	case cross < 0 && rip < 0:
		return r.best
	case rip > cross:
		w.strip(r.t.sawn[sw].k, n, sw)
		w.strips(r.stripsFrom(r.nexty[r.t.sawn[sw].k][n], r.rip.f0, nil))
		return cutting.RipFirst
	}
	w.length(at.a, at.x, item)
	end := at.x + r.t.lens[at.a] + r.p.Kerf
	if at.t >= 0 {
		w.lengths(r.lengthsFrom(int(r.next[at.t*len(r.t.lens)+at.a]), false, nil))
	} else if v, to := r.clearRow(r.t.crossed, r.fullSlope(), r.span-end); v > r.fullSlope()*r.t.run(r.span-end) {
		w.lengths(r.clearLengths(to, end, nil))
	}
	return cutting.CrosscutFirst
}

func (r *pricer) fullSlope() int64 { return r.t.s0 * (r.a.Width / r.t.step) }

// beginCross is the first place of a length that an item makes as long as it is, and about what a
// pattern is worth that begins so.
func (r *pricer) beginCross(item int) (at lengthAt, value int64) {
	size := r.p.Items[item].Size
	a, _ := slices.BinarySearch(r.t.lens, size)
	if size > r.span {
		return at, price.Never
	}
	if len(r.xs) == 0 {
		rest := r.span - size - r.p.Kerf
		v, _ := r.clearRow(r.t.crossed, r.fullSlope(), rest)
		return lengthAt{a, -1, 0}, Fine*r.asked.Duals[item] + max(v, r.fullSlope()*r.t.run(rest)) +
			r.besideIn(a, 0, item)
	}
	for t, x := range r.xs {
		if x+size > r.span {
			break
		}
		c := t*len(r.t.lens) + a
		if r.free(r.p.Items[item].Class, cutting.Span{From: x, To: x + size}, r.whole()) ||
			r.groups[c] >= 0 &&
				r.fits(x, item) {
			return lengthAt{a, t, x}, Fine*r.asked.Duals[item] + r.cross.f[r.next[c]] +
				r.besideIn(a, x, item)
		}
	}
	return at, price.Never
}

// besideIn is what can be had beside an item in a length that it makes as long as it is.
func (r *pricer) besideIn(a int, x int64, item int) int64 {
	if r.runLength(a, x, x, false) < 0 {
		return 0
	}
	if m, n := r.firstSide(item); m >= 0 {
		return max(0, r.length.f0[r.nexty[r.length.sides[m].k][n]])
	}
	return 0
}

// fits says whether a sawn item has a place of its own width at x, where its length may be ripped.
func (r *pricer) fits(x int64, item int) bool {
	it := &r.p.Items[item]
	if it.Size < r.a.ShortestRip || !r.t.saws(item) {
		return false
	}
	for _, y := range r.ys {
		if y >= r.a.Inset && y+it.Width <= r.a.Width-r.a.Inset &&
			r.free(it.Class, cutting.Span{From: x, To: x + it.Size},
				cutting.Span{From: y, To: y + it.Width}) {
			return true
		}
	}
	return false
}

// firstSide is the first place of an item in the length priced last: its side and start; -1: none.
func (r *pricer) firstSide(item int) (side, start int) {
	u := &r.length
	for m := range u.sides {
		if s := &u.sides[m]; s.item == item {
			for n, y := range r.ys {
				if y >= r.a.Inset && y+s.width <= r.a.Width-r.a.Inset && s.may(y) {
					return m, n
				}
			}
			return -1, 0
		}
	}
	return -1, 0
}

// beginRip is the first place of a strip that an item makes as wide as it is, and about what a
// pattern is worth that begins so.
func (r *pricer) beginRip(i *sawn) (n int, value int64) {
	if i.size > r.span {
		return -1, price.Never
	}
	for n := range r.ys {
		v := int64(0)
		if y := r.ys[n]; y < r.a.Inset || y+i.width > r.a.Width-r.a.Inset {
			continue
		}
		if r.over[i.k][n] {
			t := r.firstIn(r.shape(i.k, n), i)
			if t < 0 {
				continue
			}
			run := r.runStrip(i.k, n)
			v = Fine*r.asked.Duals[i.item] + run.f0[r.next[t*len(r.t.lens)+i.a]]
		} else {
			slope, rest := r.t.slope(i.width), r.span-i.size-r.p.Kerf
			best, _ := r.clearRow(r.t.h0[i.k], slope, rest)
			v = Fine*r.asked.Duals[i.item] + max(0, best)
		}
		return n, v + r.rip.f0[r.nexty[i.k][n]]
	}
	return -1, price.Never
}

// firstIn is the first start of an item as wide as the strip; -1: none.
func (r *pricer) firstIn(s *stripShape, i *sawn) int {
	for t, x := range r.xs {
		if x+i.size > r.span {
			break
		}
		if !slices.ContainsFunc(s.over, func(o *cutting.Spot) bool {
			return !o.Tolerated[i.class] && o.From < x+i.size && o.To > x
		}) {
			return t
		}
	}
	return -1
}
