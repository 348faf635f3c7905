package across

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// walker makes one pattern of the tables that the last pricing left. Without a limit of copies it
// takes what was priced. Within a limit it takes what is best of what is still allowed: head of
// within.go.
type walker struct {
	r       *pricer
	over    cutting.Span // that a ripper rips
	allowed []int64      // copies still allowed, by item; nil: no limit
	places  []cutting.Place
}

// rip lets a ripper lay out strips.
func (w *walker) rip(rip *ripper) { w.r, w.over = rip.pricer, rip.over }

// Walk gives the pattern that the last pricing found; nil where no piece has a place. With allowed,
// the copies still allowed by item, it gives a good pattern within these. An opener, an item that
// is not negative, goes first if it can.
func (r *pricer) Walk(allowed []int64, opener int) *cutting.Pattern {
	w := &walker{r: r, allowed: slices.Clone(allowed)}
	kind := r.kind
	if opener >= 0 && allowed == nil {
		kind = w.openWith(opener)
	}
	switch {
	case len(w.places) > 0:
	case allowed != nil:
		kind = w.chooseKind(opener)
	case kind == cutting.CrosscutFirst:
		w.placeLengths(r.lengths.route)
	default:
		w.rip(r.ripper)
		w.placeStrips(w.r.strips.route)
	}
	if len(w.places) == 0 {
		return nil
	}
	t := &cutting.Pattern{Stock: r.index, First: kind, Places: w.places}
	if kind == cutting.RipFirst {
		t.Ripped = w.over
	}
	return t
}

// mayUse says whether a copy of an item is allowed.
func (w *walker) mayUse(item int) bool { return w.allowed == nil || w.allowed[item] > 0 }

// place puts a piece at x, from left to right of the width.
func (w *walker) place(item int, x, left, right int64) {
	if w.allowed != nil {
		w.allowed[item]--
	}
	w.places = append(w.places, w.r.placed(item, x, left, right))
}

// takeBack takes back all pieces but the first n.
func (w *walker) takeBack(n int) {
	for _, pl := range w.places[n:] {
		if w.allowed != nil {
			w.allowed[pl.Item]++
		}
	}
	w.places = w.places[:n]
}

// placeLengths puts pieces into each length of a route.
func (w *walker) placeLengths(route []lengthAt) {
	for _, at := range route {
		w.fillLength(at.j, at.x, -1)
	}
}

// placeStrips puts pieces into each strip of a route.
func (w *walker) placeStrips(route []stripAt) {
	for _, at := range route {
		w.fillStrip(at, -1)
	}
}

// openWith puts an item first, and then what is best beside it and behind it. It takes the kind of
// pattern that is worth more with the item first. If the item has no place, nothing is put.
func (w *walker) openWith(item int) cutting.FirstCut {
	r := w.r
	m := r.clear.sawnIndex(item)
	length, crosscut := r.openingLength(item)
	strip, ripped, by := stripAt{}, int64(price.Never), (*ripper)(nil)
	for n := range r.rippers {
		if rip := &r.rippers[n]; m >= 0 {
			at, v := rip.openingStrip(&r.clear.sawn[m])
			if v += rip.ends; v > ripped {
				strip, ripped, by = at, v, rip
			}
		}
	}
	switch {
	case price.None(crosscut) && price.None(ripped):
		return r.kind
	case ripped > crosscut:
		w.rip(by)
		w.fillStrip(strip, m)
		next := w.r.after(strip.k, strip.n)
		w.placeStrips(w.r.traceStrips(next, true,
			w.r.touches(next, w.r.ys[strip.n]+r.clear.widths[strip.k])))
		return cutting.RipFirst
	}
	w.fillLength(length.j, length.x, item)
	w.placeLengths(r.lengthsAfter(length))
	return cutting.CrosscutFirst
}

// lengthsAfter gives the best lengths to follow a length.
func (r *pricer) lengthsAfter(at lengthAt) []lengthAt {
	if at.t >= 0 {
		return r.traceLengths(int(r.nextAlong[r.slot(at.t, at.j)]), false)
	}
	end := at.x + r.clear.lens[at.j] + r.p.Kerf
	best, total := r.clear.bestAlong(r.clear.alongStock.f1, r.stockSlope(), r.extent-end)
	if best <= r.stockSlope()*r.clear.beyondKeep(r.extent-end) {
		return nil
	}
	return r.traceClearLengths(total, end)
}

// openingLength is the first place of a length that is as long as an item and holds the item. value
// is about what a pattern is worth that begins so; price.Never: there is no such place.
func (r *pricer) openingLength(item int) (at lengthAt, value int64) {
	it, dual := &r.p.Items[item], r.ask.Duals[item]
	j, _ := slices.BinarySearch(r.clear.lens, it.Size)
	if it.Size > r.extent {
		return lengthAt{}, price.Never
	}
	if len(r.xs) == 0 {
		behind := r.extent - it.Size - r.p.Kerf
		best, _ := r.clear.bestAlong(r.clear.alongStock.f1, r.stockSlope(), behind)
		best = max(best, r.stockSlope()*r.clear.beyondKeep(behind))
		return lengthAt{j, -1, 0}, dual + best + r.besideOpener(j, 0, item)
	}
	for t, x := range r.xs {
		along := cutting.Span{From: x, To: x + it.Size}
		if along.To > r.extent {
			break
		}
		c := r.slot(t, j)
		if r.spots.Allow(it.Class, along, r.allAcross()) ||
			r.met(t, j) && r.mayLieRipped(item, along) {
			return lengthAt{j, t, x},
				dual + r.lengths.f[r.nextAlong[c]] + r.besideOpener(j, x, item)
		}
	}
	return lengthAt{}, price.Never
}

// besideOpener is the most to be had beside an item in length j at x, where the item is as long as
// the length.
func (r *pricer) besideOpener(j int, x int64, item int) int64 {
	if price.None(r.priceRipped(j, x)) {
		return 0
	}
	if side, n := r.placeFirst(item); side != nil {
		return max(0, r.ripped.besideFirst(r, side, n))
	}
	return 0
}

// mayLieRipped says whether an item has a place, sawn to its own width, in a ripped length that is
// as long as the item.
func (r *pricer) mayLieRipped(item int, along cutting.Span) bool {
	it := &r.p.Items[item]
	if it.Size < r.across.ShortestRip || !r.p.MaySaw(r.stock, item) {
		return false
	}
	return slices.ContainsFunc(r.ys, func(y int64) bool {
		return r.maySaw(along, y, it.Width) &&
			r.spots.Allow(it.Class, along, cutting.Span{From: y, To: y + it.Width})
	})
}

// openingStrip is the first place of a strip that is as wide as an item and holds the item. value
// is about what a pattern is worth that begins so; price.Never: there is no such place.
func (r *pricer) openingStrip(i *sawnItem) (at stripAt, value int64) {
	if i.size > r.extent {
		return stripAt{}, price.Never
	}
	dual := r.ask.Duals[i.item]
	for n := range r.ys {
		if !r.strippable[i.k][n] {
			continue
		}
		at := stripAt{i.k, n}
		after := r.strips.follows(r, i.k, n, true) - r.strips.ripLeft(r, n)
		if !r.spotted[i.k][n] {
			f0, behind := r.clear.alongStrip[i.k].f0, r.extent-i.size-r.p.Kerf
			best, _ := r.clear.bestAlong(f0, r.clear.slope(i.width), behind)
			return at, dual + max(0, best) + after
		}
		if t := r.firstStart(r.shape(at), i); t >= 0 {
			return at, dual + r.solvedStrip(at).f0[r.nextAlong[r.slot(t, i.j)]] + after
		}
	}
	return stripAt{}, price.Never
}

// firstStart is the first start of an item in a strip that is as wide as the item; -1: there is
// none.
func (r *pricer) firstStart(s *stripShape, i *sawnItem) int {
	for t, x := range r.xs {
		along := cutting.Span{From: x, To: x + i.size}
		if along.To > r.extent {
			break
		}
		if s.spots.Allow(i.class, along, cutting.Span{From: s.y, To: s.y + s.width}) {
			return t
		}
	}
	return -1
}
