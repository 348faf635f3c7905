package across

import "rackwright/nest/price"

// recurCross runs the recursion from a start on backwards; what follows is as it was. Before the
// first length there is one gap, or none.
func (r *pricer) recurCross(from int) {
	u, lens, n := &r.cross, len(r.t.lens), len(r.xs)
	u.f[n] = 0
	u.scan.reset(&r.outer, r.t.s0, r.xs, r.te, u.f)
	for t := from; t >= 0; t-- {
		next := r.next[t*lens : (t+1)*lens]
		best := int64(price.Never)
		met := int(r.met[t])
		for _, e := range u.thin {
			if e.a >= met {
				break
			}
			best = max(best, e.any+u.f[next[e.a]])
		}
		for a := met; a < int(r.fit[t]); a++ {
			best = max(best, u.at[t*lens+a]+u.f[next[a]])
		}
		u.length[t] = best
		best = max(best, u.f[t+1])
		u.f[t] = max(best, u.scan.from(t, best))
	}
	u.begin, u.bound = 0, price.Never
	for t, v := range u.length {
		if v += r.t.s0 * r.begin[t]; v > u.bound {
			u.begin, u.bound = t, v
		}
	}
	r.steps += int64((from + 1) * (lens + len(r.outer.edges)))
}

// lengthsFrom follows the recursion from start t, where a length begins if must says so. Where
// values have fallen since it ran, it takes the best that there is.
func (r *pricer) lengthsFrom(t int, must bool, route []lengthAt) []lengthAt {
	u, lens := &r.cross, len(r.t.lens)
	for t < len(r.xs) {
		best, length := u.f[t+1], -1
		if must {
			best = price.Never
		}
		for a, v := range u.at[t*lens : (t+1)*lens] {
			if v += u.f[r.next[t*lens+a]]; v > best {
				best, length = v, a
			}
		}
		if u.f[t] > best && !must {
			if to := u.scan.follow(t, u.f[t]); to >= 0 {
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
		t = int(r.next[t*lens+length])
	}
	return route
}

// clearCross prices a stock without spots.
func (r *pricer) clearCross() {
	u := &r.cross
	best, end := r.clearRow(r.t.crossed, r.t.s0*(r.a.Width/r.t.step), r.span)
	if u.value = best; best >= 0 {
		u.route = r.clearLengths(end, 0, u.route[:0])
	}
}

// clearLengths gives the lengths that crossed(T) is made of, longest first, from x on.
func (r *pricer) clearLengths(end int, x int64, route []lengthAt) []lengthAt {
	h := r.t.crossed
step:
	for end > 0 {
		for a := len(r.t.lens) - 1; a >= 0; a-- {
			v, size := r.t.q[a], int((r.t.lens[a]+r.p.Kerf)/r.t.hstep)
			if v < 0 || size > end {
				continue
			}
			if size == end && v == h[end] || h[end-size] >= 0 && h[end-size]+v == h[end] {
				route = append(route, lengthAt{a, -1, x})
				x += r.t.lens[a] + r.p.Kerf
				end -= size
				continue step
			}
		}
		panic("cutstock: a length leads nowhere")
	}
	return route
}
