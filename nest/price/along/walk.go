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
	w := walker{r: r, left: slices.Clone(allowed), layer: 1,
		until: r.walked + walkSteps + walkStepsEach*int64(len(r.starts))}
	t := 0
	if opener >= 0 && r.p.Legal(r.index, cutting.Place{Item: opener, At: r.s.From}) {
		t = w.put(opener, 0)
	}
	for b := 0; t < len(r.starts); {
		t, b = w.step(t, b)
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
func (r *linked) at(x int64) int {
	t, _ := slices.BinarySearch(r.starts, x)
	return t
}

// step takes the best of F at start t with flag b, and gives the next start and its flag. Of equals
// it takes a piece before nothing, and nothing before a gap. A gap is looked for only where it may
// be better than both, since that takes a scan of its run.
func (w *walker) step(t, b int) (int, int) {
	r := w.r
	x := r.starts[t]
	f := r.f[w.layer][b]
	best, item := f[t+1], -1
	for q := len(r.items) - 1; q >= 0; q-- {
		for n := int(r.fits[q][t]) - 1; n >= 0; n-- {
			i := r.items[q][n]
			if v := r.duals[i] + r.f[0][b][r.at(x+r.p.Items[i].Size+r.p.Kerf)]; v >= best &&
				w.allows(i) && (item < 0 || v > best) {
				best, item = v, i
			}
		}
	}
	if f[t] > best && r.walked < w.until {
		if g, next, flag := r.gapFrom(w.layer, t, b); g > best {
			return next, flag
		}
	}
	if item >= 0 {
		return w.put(item, t), b
	}
	return t + 1, b
}

// gapFrom gives G at start t with flag b, the start where what follows the gap begins, and the flag
// there.
func (r *linked) gapFrom(layer, t, b int) (best int64, next, flag int) {
	x, k, end := r.starts[t], r.p.Kerf, len(r.starts)
	best, next, flag = price.Never-1, end, b
	take := func(v int64, at, f int) {
		if v > best {
			best, next, flag = v, at, f
		}
	}
	j := 0
	for j < len(r.runs) && r.runs[j].To <= x {
		j++
	}
	if after := r.at(x + k); after > t {
		take(r.f[layer][b][after], after, b)
	}
	if j == len(r.runs) {
		take(r.f[layer][b][end], end, b)
		return best, next, flag
	}
	if run := r.runs[j]; run.From <= x {
		r.walked += int64(end - t)
		for y := t + 1; y < end && r.starts[y]-k <= run.To; y++ {
			if t := r.starts[y] - k - x - r.s.Keep; t > 0 && r.s.Rate.Num > 0 {
				bonus, f := r.afterStretch(b)
				take((r.s.Rate.For(t)+bonus)*r.scale+r.f[layer][f][y], y, f)
			}
		}
		w, bonus, f := r.s.Rate.For(run.To-x-r.s.Keep), int64(0), b
		if run.To-x > r.s.Keep && r.s.Rate.Num > 0 {
			bonus, f = r.afterStretch(b)
		}
		if run.To >= r.s.To {
			take((w+bonus)*r.scale+r.f[layer][f][end], end, f)
			return best, next, flag
		}
		after := r.at(run.To + k)
		take((w+bonus)*r.scale+r.f[layer][f][after], after, f)
		if j++; j == len(r.runs) {
			return best, next, flag
		}
		v, at, f2 := r.gapFrom(layer, r.at(r.runs[j].From), 0)
		take((w+bonus)*r.scale+v, at, f2)
		return best, next, flag
	}
	v, at, f := r.gapFrom(layer, r.at(r.runs[j].From), 0)
	take(v, at, f)
	return best, next, flag
}

// afterStretch gives what follows from a stretch longer than keep that begins with flag b: the
// bonus, in units of money, and the new flag.
func (r *linked) afterStretch(b int) (bonus int64, flag int) {
	if !r.trades {
		return 0, 0
	}
	return int64(b), 1
}
