package across

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// Walks within copies. The tables know no limit of copies. A walk that has a limit puts lengths one
// after the other from the near end on, or strips from the left edge on. At each start it takes the
// length (strip) with the greatest sum of two values: its own in the last pricing, and the most
// that may follow in the tables. It only tries lengths with an allowed piece as long as the length,
// and strips with one as wide as the strip.

// chooseKind makes a pattern of either kind within the copies allowed; an opener that is not
// negative goes first in both. The pattern whose pieces are worth more is kept; chooseKind gives
// its kind.
func (w *walker) chooseKind(opener int) cutting.FirstCut {
	allowed, kind := w.allowed, w.r.kind
	var best []cutting.Place
	value := int64(price.Never)
	try := func(first cutting.FirstCut, choose func(opener int)) {
		w.allowed, w.places = slices.Clone(allowed), nil
		choose(opener)
		sum := -w.r.p.RipCost * w.r.p.RipLength(&cutting.Pattern{Stock: w.r.index, First: first,
			Ripped: w.over, Places: w.places})
		for _, pl := range w.places {
			sum += w.r.ask.Duals[pl.Item]
		}
		if len(w.places) > 0 && sum > value {
			best, value, kind = w.places, sum, first
		}
	}
	try(cutting.CrosscutFirst, w.chooseLengths)
	if rip := w.r.likeliest(); rip != nil {
		w.rip(rip)
		try(cutting.RipFirst, w.chooseStrips)
	}
	w.places = best
	return kind
}

// chooseLengths puts lengths one after the other, an opener first.
func (w *walker) chooseLengths(opener int) {
	r, spotted := w.r, len(w.r.xs) > 0
	x, t := int64(0), 0
	fill := func(j int, at int64, opener int) bool {
		if !w.fillLength(j, at, opener) {
			return false
		}
		x = at + r.clear.lens[j] + r.p.Kerf
		t = firstFrom(r.xs, x)
		return true
	}
	if opener >= 0 && w.mayUse(opener) {
		if at, value := r.openingLength(opener); !price.None(value) {
			fill(at.j, at.x, opener)
		}
	}
	usable := w.usableLengths()
	for {
		if spotted {
			if t >= len(r.xs) {
				return
			}
			x = r.xs[t]
		}
		switch j := r.bestLength(x, t, usable); {
		case j >= 0 && fill(j, x, -1):
			usable = w.usableLengths()
		case j >= 0:
			usable[j] = false
		case spotted:
			t++
			usable = w.usableLengths()
		default:
			return
		}
	}
}

// usableLengths says for which lengths an allowed piece is as long as the length.
func (w *walker) usableLengths() []bool {
	out := make([]bool, len(w.r.clear.lens))
	for n, i := range w.r.clear.holds {
		j := w.r.clear.lenOf[n]
		out[j] = out[j] || w.mayUse(i)
	}
	return out
}

// bestLength is the usable length that gives most at x, start t, with what may follow; -1: none may
// lie there.
func (r *pricer) bestLength(x int64, t int, usable []bool) int {
	best, length := int64(price.Never), -1
	for j, size := range r.clear.lens {
		if !usable[j] || x+size > r.extent {
			continue
		}
		v, follows := r.clear.q[j], int64(0)
		if len(r.xs) > 0 {
			c := r.slot(t, j)
			v, follows = r.lengths.value[c], r.lengths.f[r.nextAlong[c]]
		} else {
			follows = max(0, r.clear.alongStock.f1.upTo(r.extent-x-size))
		}
		if !price.None(v) && v+follows > best {
			best, length = v+follows, j
		}
	}
	return length
}

// chooseStrips puts strips one after the other, an opener first.
func (w *walker) chooseStrips(opener int) {
	r, n := w.r, 0
	m := r.clear.sawnIndex(opener)
	if m >= 0 && w.mayUse(opener) {
		at, value := r.openingStrip(&r.clear.sawn[m])
		if !price.None(value) && w.fillStrip(at, m) {
			n = r.after(at.k, at.n)
		}
	}
	usable := w.usableWidths()
	for n < len(r.ys) {
		switch k := r.bestStrip(n, usable); {
		case k >= 0 && w.fillStrip(stripAt{k, n}, -1):
			n = r.after(k, n)
			usable = w.usableWidths()
		case k >= 0:
			usable[k] = false
		default:
			n++
			usable = w.usableWidths()
		}
	}
}

// usableWidths says for which widths of a strip an allowed piece is as wide as the strip.
func (w *walker) usableWidths() []bool {
	out := make([]bool, len(w.r.clear.widths))
	for m := range w.r.clear.sawn {
		i := &w.r.clear.sawn[m]
		out[i.k] = out[i.k] || i.size <= w.r.extent && w.mayUse(i.item)
	}
	return out
}

// bestStrip is the usable width of a strip that gives most at start n, with what may follow; -1:
// none may lie there.
func (r *pricer) bestStrip(n int, usable []bool) int {
	best, strip := int64(price.Never), -1
	for k := range r.clear.widths {
		v := r.strips.any[k][n]
		if price.None(v) || !usable[k] {
			continue
		}
		if v += r.strips.follows(r, k, n, true); v > best {
			best, strip = v, k
		}
	}
	return strip
}
