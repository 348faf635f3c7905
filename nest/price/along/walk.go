package along

import (
	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// farthest is how many steps the search for gaps may take in one walk, at least and for each
// position. Where lengths have no more than a unit in common, and gaps of next to nothing are worth
// something, there can be a gap at every unit, and each takes a scan of its run.
const farthest, farthestEach = 1 << 16, 4

// Walk follows the last pricing from the stock's start; with room it takes the best step allowed at
// each place.
func (r *Linked) Walk(room []int64, first int) *cutting.Pattern {
	w := walker{r: r, room: room, layer: 1,
		until: r.walked + farthest + farthestEach*int64(len(r.pos))}
	t := 0
	if first >= 0 && r.p.Legal(r.index, cutting.Place{Item: first, At: r.s.From}) {
		t = w.put(first, 0)
	}
	for b := 0; t < len(r.pos); {
		t, b = w.step(t, b)
	}
	return cutting.NewPattern(r.index, w.places)
}

type walker struct {
	r      *Linked
	room   []int64
	left   []int64 // of room, made when the first piece is put
	places []cutting.Place
	layer  int   // 1: no piece yet
	until  int64 // what r.walked may come to
}

func (w *walker) put(item, t int) int {
	if w.room != nil {
		if w.left == nil {
			w.left = append([]int64(nil), w.room...)
		}
		w.left[item]--
	}
	x := w.r.pos[t]
	w.layer = 0
	w.places = append(w.places, cutting.Place{Item: item, At: x})
	return w.r.at(x + w.r.p.Items[item].Size + w.r.p.Kerf)
}

func (w *walker) allowed(item int) bool {
	if w.left != nil {
		return w.left[item] > 0
	}
	return w.room == nil || w.room[item] > 0
}

// at is the first position at or after x.
func (r *Linked) at(x int64) int {
	lo, hi := 0, len(r.pos)
	for lo < hi {
		if mid := (lo + hi) / 2; r.pos[mid] >= x {
			hi = mid
		} else {
			lo = mid + 1
		}
	}
	return lo
}

// step takes the best of F at position t: a piece before dust before a gap where they are equal. A
// gap is only looked at where it is better than both, or may be, as what is best is not allowed:
// finding where it leads takes a scan of its run.
func (w *walker) step(t, b int) (int, int) {
	r := w.r
	x := r.pos[t]
	f := r.f[w.layer][b]
	best, item := f[t+1], -1
	for q := len(r.items) - 1; q >= 0; q-- {
		for n := int(r.fit[q][t]) - 1; n >= 0; n-- {
			i := r.items[q][n]
			if v := r.duals[i] + r.f[0][b][r.at(x+r.p.Items[i].Size+r.p.Kerf)]; v >= best &&
				w.allowed(i) && (item < 0 || v > best) {
				best, item = v, i
			}
		}
	}
	if f[t] > best && r.walked < w.until {
		if g, next, flag := r.gapStep(w.layer, t, b); g > best {
			return next, flag
		}
	}
	if item >= 0 {
		return w.put(item, t), b
	}
	return t + 1, b
}

// gapStep finds G at position t with flag b, where the next piece may start, and the flag there.
func (r *Linked) gapStep(layer, t, b int) (best int64, next, flag int) {
	x, k, end := r.pos[t], r.p.Kerf, len(r.pos)
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
		for y := t + 1; y < end && r.pos[y]-k <= run.To; y++ {
			if t := r.pos[y] - k - x - r.s.Keep; t > 0 && r.s.Rate.Num > 0 {
				bonus, f := r.flagged(b)
				take((r.s.Rate.For(t)+bonus)*r.scale+r.f[layer][f][y], y, f)
			}
		}
		w, bonus, f := r.s.Rate.For(run.To-x-r.s.Keep), int64(0), b
		if run.To-x > r.s.Keep && r.s.Rate.Num > 0 {
			bonus, f = r.flagged(b)
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
		v, at, f2 := r.gapStep(layer, r.at(r.runs[j].From), 0)
		take((w+bonus)*r.scale+v, at, f2)
		return best, next, flag
	}
	v, at, f := r.gapStep(layer, r.at(r.runs[j].From), 0)
	take(v, at, f)
	return best, next, flag
}

// flagged gives the bonus of one more run longer than keep, and the flag after it.
func (r *Linked) flagged(b int) (bonus int64, flag int) {
	if !r.linked {
		return 0, 0
	}
	return int64(b), 1
}
