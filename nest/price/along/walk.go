package along

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// A walk may take so many steps in search of gaps: some at least, and some for each start. A gap
// takes a scan of its run, and there can be one at every unit: where lengths have no more than a
// unit in common, and gaps of next to nothing are worth something.
const walkSteps, walkStepsEach = 1 << 16, 4

// Walk follows the last pricing from the stock's start. With allowed it takes the best step allowed
// at each start.
func (r *linked) Walk(allowed []int64, opener int) *cutting.Pattern {
	if r.of != r {
		r.solve(r.asked)
	}
	w := walker{r: r, left: slices.Clone(allowed), layer: 1,
		until: r.walked + walkSteps + walkStepsEach*int64(len(r.starts))}
	t := 0
	if opener >= 0 && r.p.Legal(r.index, cutting.Place{Item: opener, At: r.s.From}) {
		t = w.put(opener, 0)
	}
	for t < len(r.starts) {
		t = w.step(t)
	}
	return cutting.NewPattern(r.index, w.places)
}

// walker makes one layout.
type walker struct {
	r      *linked
	left   []int64 // copies still allowed, by item; nil: no limit
	places []cutting.Place
	layer  int   // 1: no piece yet
	until  int64 // what r.walked may come to
}

// put puts a piece of an item at start t and gives the start behind it.
func (w *walker) put(item, t int) int {
	if w.left != nil {
		w.left[item]--
	}
	x := w.r.starts[t]
	w.layer = 0
	w.places = append(w.places, cutting.Place{Item: item, At: x})
	return w.r.at(x + w.r.p.Items[item].Size + w.r.p.Kerf)
}

func (w *walker) allows(item int) bool { return w.left == nil || w.left[item] > 0 }

// at is the first start at or after x.
func (r *linked) at(x int64) int { return r.first.find(r.starts, x) }

// step takes the best of F at start t and gives the next start. Of equals it takes a piece before
// nothing, and nothing before a gap. A gap is looked for only where it may be better than both,
// since that takes a scan of its run.
func (w *walker) step(t int) int {
	r := w.r
	x := r.starts[t]
	f := r.f[w.layer]
	best, item := f[t+1], -1
	for q := len(r.items) - 1; q >= 0 && r.pieces[t] >= best; q-- {
		for _, i := range slices.Backward(r.fitting(q, t)) {
			if !w.allows(i) {
				continue
			}
			v := r.duals[i] + r.f[0][r.at(x+r.p.Items[i].Size+r.p.Kerf)]
			if v > best || v == best && item < 0 {
				best, item = v, i
			}
		}
	}
	if f[t] > best && r.walked < w.until {
		if g, next := r.gapFrom(w.layer, t); g > best {
			return next
		}
	}
	if item >= 0 {
		return w.put(item, t)
	}
	return t + 1
}

// gapFrom gives G at start t, and the start where what follows the gap begins.
func (r *linked) gapFrom(layer, t int) (best int64, next int) {
	x, k, end := r.starts[t], r.p.Kerf, len(r.starts)
	f := r.f[layer]
	best, next = price.Never-1, end
	take := func(v int64, at int) {
		if v > best {
			best, next = v, at
		}
	}
	j := 0
	for j < len(r.runs) && r.runs[j].To <= x {
		j++
	}
	if after := r.at(x + k); after > t {
		take(f[after], after)
	}
	if j == len(r.runs) {
		take(f[end], end)
		return best, next
	}
	run := r.runs[j]
	if run.From > x {
		take(r.gapFrom(layer, r.at(run.From)))
		return best, next
	}
	r.walked += int64(end - t)
	for y := t + 1; y < end && r.starts[y]-k <= run.To; y++ {
		if w := r.worth(r.starts[y] - k - x); w > 0 {
			take(w+f[y], y)
		}
	}
	w := r.worth(run.To - x)
	if run.To >= r.s.To {
		take(w+f[end], end)
		return best, next
	}
	after := r.at(run.To + k)
	take(w+f[after], after)
	if j++; j < len(r.runs) {
		v, at := r.gapFrom(layer, r.at(r.runs[j].From))
		take(w+v, at)
	}
	return best, next
}
