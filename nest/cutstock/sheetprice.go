package cutstock

// rounds is how often the outer recursion of the quick way runs.
const rounds = 3

func (r *sheet) price(a *ask) int64 {
	best := r.find(a, rounds)
	r.count()
	return best
}

// vouch gives the greatest value of any pattern exactly, divided by 1024 and rounded up; where no
// piece has a place, that of the bare stock.
func (r *sheet) vouch(a *ask) int64 {
	best := r.find(a, 0)
	r.count()
	return best
}

func (r *sheet) traits() traits { return traits{fine: 1 << 10, quick: true, copies: true} }

// list has no answer: there are too many ways across.
func (r *sheet) list(*listing, int64, int64) ([]listed, bool) { return nil, false }

// fill prices what is left as if all were worth their size.
func (r *sheet) fill(left []int64, ask asker) *Pattern {
	duals := make([]int64, len(left))
	for i, n := range left {
		if it := &r.p.Items[i]; n > 0 {
			duals[i] = it.Size / 64 * max(1, it.Width/64)
		}
	}
	r.count()
	r.find(ask(duals, left), rounds)
	t := r.walk(left, -1)
	if t == nil {
		return nil
	}
	for _, pl := range t.Places {
		left[pl.Item]--
	}
	t.Worth = r.p.WorthOf(t)
	return t
}

// find prices both kinds, each in at most so many rounds; 0: until it is exact.
func (r *sheet) find(a *ask, rounds int) int64 {
	r.asked = a
	r.pass++
	r.steps += r.t.fill(a)
	for _, run := range r.strips {
		run.stale = true
	}
	best := int64(never)
	r.cross.value, r.rip.value = never, never
	r.cross.route, r.rip.route = r.cross.route[:0], r.rip.route[:0]
	if r.only != onlyRip {
		r.priceCross(rounds)
		best = r.cross.value
		r.best = CrosscutFirst
	}
	if r.only != onlyCrosscut && r.span >= r.a.ShortestRip && len(r.t.widths) > 0 {
		r.priceRip(rounds, best)
		if r.rip.value > best {
			best = r.rip.value
			r.best = RipFirst
		}
	}
	if best < 0 && rounds > 0 { // nothing found so far
		return r.find(a, 0)
	}
	if best < 0 {
		best = worthOf(r.all, r.t.s0, r.s.Keep, 0, r.span)
	}
	return (best + 1023) / 1024
}

// count puts the steps since the last count on the meter: each takes longer than those of the
// linear program.
func (r *sheet) count() {
	r.m.add(2*r.steps + 1)
	r.steps = 0
}

// bare is what the stock is worth without any piece, money x scale, rounded up.
func (r *sheet) bare(scale int64) int64 {
	return (worthOf(r.all, slopeOf(r.s.Rate, scale, r.t.step, r.a.Width), r.s.Keep, 0, r.span) +
		1023) / 1024
}
