package across

import "rackwright/nest/price"

// recurCross runs the recursion from a start on backwards; what follows is as it was. Before the
// first length there is one gap, or none.
func (r *pricer) solveLengths(from int) {
	u, lens, n := &r.lengths, len(r.clear.lens), len(r.xs)
	u.f[n] = 0
	u.scan.reset(&r.fullGaps, r.clear.s0, r.xs, r.gapEnds, u.f)
	for t := from; t >= 0; t-- {
		next := r.nextAlong[t*lens : (t+1)*lens]
		best := int64(price.Never)
		met := int(r.clearLens[t])
		for _, e := range u.clearOptions {
			if e.j >= met {
				break
			}
			best = max(best, e.any+u.f[next[e.j]])
		}
		for a := met; a < int(r.fitLens[t]); a++ {
			best = max(best, u.value[t*lens+a]+u.f[next[a]])
		}
		u.leading[t] = best
		best = max(best, u.f[t+1])
		u.f[t] = max(best, u.scan.best(t, best))
	}
	u.opening, u.bound = 0, price.Never
	for t, v := range u.leading {
		if v += r.clear.s0 * r.openingGap[t]; v > u.bound {
			u.opening, u.bound = t, v
		}
	}
	r.steps += int64((from + 1) * (lens + len(r.fullGaps.edges)))
}

// lengthsFrom follows the recursion from start t, where a length begins if must says so. Where
// values have fallen since it ran, it takes the best that there is.
func (r *pricer) traceLengths(t int, must bool, route []lengthAt) []lengthAt {
	u, lens := &r.lengths, len(r.clear.lens)
	for t < len(r.xs) {
		best, length := u.f[t+1], -1
		if must {
			best = price.Never
		}
		for a, v := range u.value[t*lens : (t+1)*lens] {
			if v += u.f[r.nextAlong[t*lens+a]]; v > best {
				best, length = v, a
			}
		}
		if u.f[t] > best && !must {
			if to := u.scan.trace(t, u.f[t]); to >= 0 {
				t = to
				continue
			}
		}
		must = false
		if length < 0 || best < 0 {
			t++
			continue
		}
		route = append(route, lengthAt{length, t, r.xs[t]})
		t = int(r.nextAlong[t*lens+length])
	}
	return route
}

// clearCross prices a stock without spots.
func (r *pricer) priceClear() {
	u := &r.lengths
	best, end := r.bestClearRow(r.clear.sums, r.clear.s0*(r.across.Width/r.clear.step), r.extent)
	if u.best = best; best >= 0 {
		u.route = r.traceClearLengths(end, 0, u.route[:0])
	}
}

// clearLengths gives the lengths that crossed(T) is made of, longest first, from x on.
func (r *pricer) traceClearLengths(end int, x int64, route []lengthAt) []lengthAt {
	h := r.clear.sums
step:
	for end > 0 {
		for a := len(r.clear.lens) - 1; a >= 0; a-- {
			v, size := r.clear.q[a], int((r.clear.lens[a]+r.p.Kerf)/r.clear.grid)
			if v < 0 || size > end {
				continue
			}
			if size == end && v == h[end] || h[end-size] >= 0 && h[end-size]+v == h[end] {
				route = append(route, lengthAt{a, -1, x})
				x += r.clear.lens[a] + r.p.Kerf
				end -= size
				continue step
			}
		}
		panic("cutstock: a length leads nowhere")
	}
	return route
}
