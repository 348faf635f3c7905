package across

import "rackwright/nest/price"

// knapsack gives h0 and h1 over multiples of step up to n.
func (t *clearTable) knapsack(of []pieceValue, sizes []int64, kerf, step int64, n int, h0,
	h1 []int64) ([]int64, []int64) {
	if len(h0) != n+1 {
		h0 = make([]int64, n+1)
	}
	if len(h1) != n+1 {
		h1 = make([]int64, n+1)
	}
	for i := range h0 {
		h0[i], h1[i] = price.Never, price.Never
	}
	h0[0] = 0
	type entry struct {
		size       int
		any, exact int64
	}
	var list []entry // without what a smaller one is as good as
	any, exact := int64(price.Never), int64(price.Never)
	for a, v := range of {
		e := entry{int((sizes[a] + kerf) / step), price.Never, price.Never}
		if v.any > any {
			e.any, any = v.any, v.any
		}
		if v.full > exact {
			e.exact, exact = v.full, v.full
		}
		if e.any >= 0 || e.exact >= 0 {
			list = append(list, e)
		}
	}
	for at := 0; at <= n; at++ {
		b0, b1 := h0[at], h1[at]
		if b0 < 0 && b1 < 0 {
			continue
		}
		for _, e := range list {
			to := at + e.size
			if to > n {
				break
			}
			h0[to] = max(h0[to], b0+e.any)
			h1[to] = max(h1[to], b1+e.any, b0+e.exact)
		}
	}
	return h0, h1
}

// row is the best row of pieces across a length without spots.
func (t *clearTable) bestRow(l int) int64 {
	if t.lens[l] < t.across.ShortestRip || len(t.widths) == 0 {
		return price.Never
	}
	step := int64(0)
	for _, w := range t.widths {
		step = price.GCD(step, w+t.p.Rip)
	}
	room := t.across.Width - 2*t.across.Inset + t.p.Rip
	if room < 0 {
		return price.Never
	}
	t.scratch0, t.scratch1 = t.knapsack(t.inLength[l], t.widths, t.p.Rip, step, int(room/step), t.scratch0,
		t.scratch1)
	best := int64(price.Never)
	for at, v := range t.scratch1 {
		if v < 0 {
			continue
		}
		for _, y := range []int64{t.across.Inset, max(t.across.Inset, t.across.Keep+t.p.Rip)} {
			end := y + int64(at)*step // a kerf behind the last piece
			if end-t.p.Rip <= t.across.Width-t.across.Inset {
				best = max(best, v+(t.slope(y-t.p.Rip)+t.slope(t.across.Width-end))*t.beyondKeep(t.lens[l]))
			}
		}
	}
	return best
}
