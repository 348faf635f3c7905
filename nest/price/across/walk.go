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
	r       *pricer
	allowed []int64 // nil: no limit
	places  []cutting.Place
}

func (w *walker) mayUse(item int) bool { return w.allowed == nil || w.allowed[item] > 0 }

func (w *walker) place(item int, x, left, right int64) {
	if w.allowed != nil {
		w.allowed[item]--
	}
	w.places = append(w.places,
		cutting.Place{Item: item, At: w.r.stock.From + x, Left: left, Right: right})
}

// Walk gives the pattern that the last pricing found, or a good one that begins with an item.
func (r *pricer) Walk(room []int64, first int) *cutting.Pattern {
	w := &walker{r: r, allowed: slices.Clone(room)}
	kind := r.kind
	if first >= 0 && room == nil {
		kind = w.open(first)
	}
	switch {
	case len(w.places) > 0:
	case room != nil:
		kind = w.chooseKind(first)
	case kind == cutting.CrosscutFirst:
		w.placeLengths(r.lengths.route)
	default:
		w.placeStrips(r.strips.route)
	}
	if len(w.places) == 0 {
		return nil
	}
	return &cutting.Pattern{Stock: r.index, First: kind, Places: w.places}
}

func (w *walker) placeLengths(route []lengthAt) {
	for _, at := range route {
		w.fillLength(at.j, at.x, -1)
	}
}

func (w *walker) placeStrips(route []stripAt) {
	for _, at := range route {
		w.fillStrip(at.k, at.n, -1)
	}
}

// begin puts an item first, in the kind of pattern that is worth more so, and what is best beside
// and behind it.
func (w *walker) open(item int) (kind cutting.FirstCut) {
	r := w.r
	sw := -1
	for n := range r.clear.sawn {
		if r.clear.sawn[n].item == item {
			sw = n
		}
	}
	at, cross := r.openingLength(item)
	n, rip := -1, int64(price.Never)
	if sw >= 0 && r.mayRipFirst() {
		n, rip = r.openingStrip(&r.clear.sawn[sw])
	}
	switch {
	case cross < 0 && rip < 0:
		return r.kind
	case rip > cross:
		w.fillStrip(r.clear.sawn[sw].k, n, sw)
		w.placeStrips(r.traceStrips(r.nextAcross[r.clear.sawn[sw].k][n], r.strips.f0, nil))
		return cutting.RipFirst
	}
	w.fillLength(at.j, at.x, item)
	end := at.x + r.clear.lens[at.j] + r.p.Kerf
	if at.t >= 0 {
		w.placeLengths(r.traceLengths(int(r.nextAlong[at.t*len(r.clear.lens)+at.j]), false, nil))
	} else if v, to := r.bestClearRow(r.clear.sums, r.fullSlope(), r.extent-end); v > r.fullSlope()*r.clear.beyondKeep(r.extent-end) {
		w.placeLengths(r.traceClearLengths(to, end, nil))
	}
	return cutting.CrosscutFirst
}

func (r *pricer) fullSlope() int64 { return r.clear.s0 * (r.across.Width / r.clear.step) }

// beginCross is the first place of a length that an item makes as long as it is, and about what a
// pattern is worth that begins so.
func (r *pricer) openingLength(item int) (at lengthAt, value int64) {
	size := r.p.Items[item].Size
	a, _ := slices.BinarySearch(r.clear.lens, size)
	if size > r.extent {
		return at, price.Never
	}
	if len(r.xs) == 0 {
		rest := r.extent - size - r.p.Kerf
		v, _ := r.bestClearRow(r.clear.sums, r.fullSlope(), rest)
		return lengthAt{a, -1, 0}, Fine*r.ask.Duals[item] + max(v, r.fullSlope()*r.clear.beyondKeep(rest)) +
			r.besideOpener(a, 0, item)
	}
	for t, x := range r.xs {
		if x+size > r.extent {
			break
		}
		c := t*len(r.clear.lens) + a
		if r.free(r.p.Items[item].Class, cutting.Span{From: x, To: x + size}, r.fullWidth()) ||
			r.groupOf[c] >= 0 &&
				r.fitsRipped(x, item) {
			return lengthAt{a, t, x}, Fine*r.ask.Duals[item] + r.lengths.f[r.nextAlong[c]] +
				r.besideOpener(a, x, item)
		}
	}
	return at, price.Never
}

// besideIn is what can be had beside an item in a length that it makes as long as it is.
func (r *pricer) besideOpener(a int, x int64, item int) int64 {
	if r.priceRipped(a, x, x, false) < 0 {
		return 0
	}
	if m, n := r.firstPlace(item); m >= 0 {
		return max(0, r.ripped.f0[r.nextAcross[r.ripped.sides[m].k][n]])
	}
	return 0
}

// fits says whether a sawn item has a place of its own width at x, where its length may be ripped.
func (r *pricer) fitsRipped(x int64, item int) bool {
	it := &r.p.Items[item]
	if it.Size < r.across.ShortestRip || !r.clear.mayBeSawn(item) {
		return false
	}
	for _, y := range r.ys {
		if y >= r.across.Inset && y+it.Width <= r.across.Width-r.across.Inset &&
			r.free(it.Class, cutting.Span{From: x, To: x + it.Size},
				cutting.Span{From: y, To: y + it.Width}) {
			return true
		}
	}
	return false
}

// firstSide is the first place of an item in the length priced last: its side and start; -1: none.
func (r *pricer) firstPlace(item int) (side, start int) {
	u := &r.ripped
	for m := range u.sides {
		if s := &u.sides[m]; s.item == item {
			for n, y := range r.ys {
				if y >= r.across.Inset && y+s.width <= r.across.Width-r.across.Inset && s.mayLie(y) {
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
func (r *pricer) openingStrip(i *sawnItem) (n int, value int64) {
	if i.size > r.extent {
		return -1, price.Never
	}
	for n := range r.ys {
		v := int64(0)
		if y := r.ys[n]; y < r.across.Inset || y+i.width > r.across.Width-r.across.Inset {
			continue
		}
		if r.spotted[i.k][n] {
			t := r.firstStart(r.shape(i.k, n), i)
			if t < 0 {
				continue
			}
			run := r.fill(i.k, n)
			v = Fine*r.ask.Duals[i.item] + run.f0[r.nextAlong[t*len(r.clear.lens)+i.j]]
		} else {
			slope, rest := r.clear.slope(i.width), r.extent-i.size-r.p.Kerf
			best, _ := r.bestClearRow(r.clear.strip0[i.k], slope, rest)
			v = Fine*r.ask.Duals[i.item] + max(0, best)
		}
		return n, v + r.strips.f0[r.nextAcross[i.k][n]]
	}
	return -1, price.Never
}

// firstIn is the first start of an item as wide as the strip; -1: none.
func (r *pricer) firstStart(s *stripShape, i *sawnItem) int {
	for t, x := range r.xs {
		if x+i.size > r.extent {
			break
		}
		if !slices.ContainsFunc(s.spots, func(o *cutting.Spot) bool {
			return !o.Tolerated[i.class] && o.From < x+i.size && o.To > x
		}) {
			return t
		}
	}
	return -1
}
