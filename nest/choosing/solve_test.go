package choosing

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/nest/cutstock"
	"rackwright/nest/cutting"
)

// coin is the least amount that counts.
const coin = 1 << 16

// tiny is a random program with wants: boards of two kinds, of the second any number.
func tiny(r *rand.Rand) *cutting.Problem {
	p := &cutting.Problem{Kerf: r.Int64N(2), Coin: coin}
	for range 2 + r.IntN(3) {
		p.Items = append(p.Items, cutting.Item{Size: 2 + r.Int64N(6), Demand: r.Int64N(2)})
	}
	for s := range 2 {
		st := cutting.Stock{To: 8 + r.Int64N(8), Cost: coin * (100 + r.Int64N(100)),
			Supply: 1 + r.Int64N(2),
			Slope:  coin * r.Int64N(8), Keep: r.Int64N(3)}
		if s == 1 {
			st.Supply, st.Cost = cutting.Any, st.Cost+100*coin
		}
		for i := range p.Items {
			if s == 1 || r.IntN(3) > 0 {
				st.Holds = append(st.Holds, i)
			}
		}
		p.Stocks = append(p.Stocks, st)
	}
	for range 1 + r.IntN(2) {
		w := cutting.Want{Demand: 1 + r.Int64N(3), Forgo: cutting.Any}
		for range 1 + r.IntN(3) {
			w.Ways = append(w.Ways, cutting.Way{Item: r.IntN(len(p.Items)), Pieces: 1 + r.Int64N(3),
				Copies: 1 + r.Int64N(2)*r.Int64N(2)})
		}
		if r.IntN(3) == 0 {
			w.Forgo = coin * r.Int64N(60)
		}
		if r.IntN(3) == 0 && w.Demand < 3 {
			c := cutting.Cover{Need: 4 + r.Int64N(4), Layers: 1 + r.Int64N(2)}
			for i := range min(3, len(p.Items)) {
				c.Staves = append(c.Staves, cutting.Stave{Item: i, Steps: 2 + int64(i)})
			}
			w.Covers = append(w.Covers, c)
		}
		p.Wants = append(p.Wants, w)
	}
	return p
}

// everyChoice calls do with every choice of a program in which nothing can be left out.
func everyChoice(p *cutting.Problem, do func([]cutting.Chosen)) {
	chosen := make([]cutting.Chosen, len(p.Wants))
	var want func(j int)
	want = func(j int) {
		if j == len(p.Wants) {
			do(chosen)
			return
		}
		w := &p.Wants[j]
		var sets []cutting.Covered
		for at := range w.Covers {
			for _, counts := range everySet(&w.Covers[at], w.Covers[at].Need, 0) {
				sets = append(sets, cutting.Covered{Cover: at, Counts: counts})
			}
		}
		var way func(at int, left int64)
		way = func(at int, left int64) {
			switch {
			case left <= 0 || at == len(w.Ways)+len(sets):
				if left <= 0 || w.Forgo != cutting.Any {
					want(j + 1)
				}
			case at < len(w.Ways):
				for n := int64(0); left-(n-1)*w.Ways[at].Copies > 0; n++ {
					chosen[j].Times[at] = n
					way(at+1, left-n*w.Ways[at].Copies)
				}
				chosen[j].Times[at] = 0
			default:
				before := chosen[j].Covers
				for n := int64(0); n <= left; n++ {
					way(at+1, left-n)
					chosen[j].Covers = append(chosen[j].Covers, sets[at-len(w.Ways)])
				}
				chosen[j].Covers = before
			}
		}
		chosen[j] = none(w)
		way(0, w.Demand)
	}
	want(0)
}

// everySet gives all sets of staves, from one on, that come to a need and of which none can go.
func everySet(c *cutting.Cover, need int64, from int) (out [][]int64) {
	if need <= 0 {
		return [][]int64{make([]int64, len(c.Staves))}
	}
	for at := from; at < len(c.Staves); at++ {
		for _, counts := range everySet(c, need-c.Staves[at].Steps, at) {
			counts[at]++
			out = append(out, counts)
		}
	}
	return out
}

// cheapest is what boards cost at least that give just so many copies of each item; memo remembers.
func cheapest(p *cutting.Problem, left, supply []int64, memo map[string]int64) int64 {
	if !slices.ContainsFunc(left, func(n int64) bool { return n > 0 }) {
		return 0
	}
	key := fmt.Sprint(left, supply)
	if v, known := memo[key]; known {
		return v
	}
	best := int64(math.MaxInt64 / 4)
	for s := range p.Stocks {
		if supply[s] == 0 {
			continue
		}
		st := &p.Stocks[s]
		rest, others := slices.Clone(left), slices.Clone(supply)
		if others[s] != cutting.Any {
			others[s]--
		}
		var fill func(k int, used, pieces int64)
		fill = func(k int, used, pieces int64) {
			if k == len(st.Holds) {
				if pieces == 0 {
					return
				}
				gap := max(0, st.To-used-p.Kerf-st.Keep) // behind the last cut
				best = min(best, st.Cost-st.Slope*gap+cheapest(p, rest, others, memo))
				return
			}
			i := st.Holds[k]
			fill(k+1, used, pieces)
			n := int64(0)
			for rest[i] > 0 {
				add := p.Items[i].Size
				if pieces > 0 || n > 0 {
					add += p.Kerf
				}
				if used+add > st.To {
					break
				}
				used += add
				rest[i]--
				n++
				fill(k+1, used, pieces+n)
			}
			rest[i] += n
		}
		fill(0, 0, 0)
	}
	memo[key] = best
	return best
}

// simple is the first way of each want.
func simple(p *cutting.Problem) (out []cutting.Chosen) {
	for j := range p.Wants {
		w := &p.Wants[j]
		c := none(w)
		if w.Forgo == cutting.Any {
			c.Times[0] = (w.Demand + w.Ways[0].Copies - 1) / w.Ways[0].Copies
		}
		out = append(out, c)
	}
	return out
}

// Of all choices, each planned by trying all fillings of all boards, none is cheaper than the plan
// by as much as its bound allows; with covers the bound is the relaxation's, else the plan is
// optimal.
func TestAgainstEveryChoice(t *testing.T) {
	r := rand.New(rand.NewPCG(161, 162))
	proven, covers := 0, 0
	for n := range 400 {
		p := tiny(r)
		best := optimum(p)
		res := Solve(t.Context(), p, simple(p), cutstock.Options{Work: 1e8})
		if short(res.Unmet) {
			t.Fatalf("%d: %+v: unmet %v", n, p, res.Unmet)
		}
		fixed := p.Fixed(res.Chosen)
		met := make([]int64, len(p.Items))
		for _, u := range res.Uses {
			for _, pl := range u.Pattern.Places {
				met[pl.Item] += u.Times
			}
		}
		for i := range met {
			if met[i] != fixed.Items[i].Demand {
				t.Errorf("%d: item %d is cut %d times, %d are wanted", n, i, met[i],
					fixed.Items[i].Demand)
			}
		}
		for j := range p.Wants {
			if w := &p.Wants[j]; w.Forgo == cutting.Any && res.Chosen[j].Made(w) != w.Demand {
				t.Errorf("%d: %d of want %d are made, of %d", n, res.Chosen[j].Made(w), j, w.Demand)
			}
		}
		forgone := p.Forgone(res.Chosen)
		cost, bound := res.Value+forgone, res.Bound+forgone
		if p.Value(res.Uses) != res.Value || cost < best || bound > best {
			t.Errorf("%d: %+v: value %d, forgone %d, bound %d; the best costs %d", n, p, res.Value,
				forgone, res.Bound, best)
		}
		if slices.ContainsFunc(p.Wants, func(w cutting.Want) bool { return w.Covers != nil }) {
			covers++
			continue
		}
		if cost != best || res.Value-res.Bound >= coin {
			t.Errorf("%d: %+v: costs %d, bound %d; the best costs %d", n, p, cost, bound, best)
		}
		proven++
	}
	if proven < 100 || covers < 50 {
		t.Errorf("%d without covers, %d with", proven, covers)
	}
}

// With a blade in millimetres in an inch shop a panel, a gang and a board cost no more than with
// one of 1/8 in to which its kerfs are rounded up; nothing overlaps.
func TestAwkwardKerfsCostNoMore(t *testing.T) {
	const inch = 8128 // units of 1/320 mm
	shop := func(kerf, rip int64) *cutting.Problem {
		p := &cutting.Problem{Kerf: kerf, Rip: rip, Coin: 1}
		for n := range int64(12) {
			p.Items = append(p.Items, cutting.Item{Size: (11+2*n)*inch + inch/8*n,
				Width: inch * (4 + n%5) / 2, Demand: n % 3})
		}
		gang := cutting.Item{Size: 6*4*inch + 5*kerf, Width: 3 * inch / 2}
		p.Items = append(p.Items, gang)
		var all []int
		for i := range p.Items {
			all = append(all, i)
		}
		for n, long := range []int64{72, 96} {
			s := cutting.Stock{To: long * inch, Cost: long * inch * 11 * inch / 2 * 14,
				Supply: cutting.Any, Slope: 8, Keep: 12 * inch, Holds: all, Across: &cutting.Across{
					Width: 11 * inch / 2, Inset: inch / 8, Keep: inch, Strip: 5, Trim: true,
					ShortestRip: 12 * inch, Narrowest: inch}}
			if n == 0 {
				s.Supply, s.Cost = 2, s.Cost/14*10
				s.Spots = []cutting.Spot{{From: 20 * inch, To: 21 * inch, Right: inch, Weak: true}}
			}
			p.Stocks = append(p.Stocks, s)
		}
		p.Wants = []cutting.Want{
			{Demand: 2, Forgo: cutting.Any, Ways: []cutting.Way{{Item: 7, Pieces: 3, Copies: 1},
				{Item: 8, Pieces: 2, Copies: 1}}},
			{Demand: 12, Forgo: cutting.Any, Ways: []cutting.Way{{Item: 12, Pieces: 1, Copies: 6}}},
		}
		return p
	}
	thick, thin := shop(inch/8, inch/8), shop(28*32, 24*32)
	if _, ok := cutstock.RoundedUp(thin); !ok {
		t.Fatal("the kerfs are not rounded up")
	}
	opt := cutstock.Options{Work: 4e8}
	want := Solve(t.Context(), thick, simple(thick), opt)
	got := Solve(t.Context(), thin, simple(thin), opt)
	if short(got.Unmet) || got.Value > want.Value || got.Bound > got.Value ||
		got.Bound > want.Value {
		t.Errorf("thin kerfs: value %d, bound %d, unmet %v; thick: value %d, bound %d", got.Value,
			got.Bound, got.Unmet, want.Value, want.Bound)
	}
	// the plans at hand count where the search ends at once: a poor one to begin with, and this
	var poor []cutting.Use
	fixed := thin.Fixed(got.Chosen)
	for i := range fixed.Items {
		if one := make([]int64, len(fixed.Items)); fixed.Items[i].Demand > 0 {
			one[i] = 1
			poor = append(poor, cutting.Use{Pattern: *fixed.Greedy(1, one),
				Times: fixed.Items[i].Demand})
		}
	}
	ended, end := context.WithCancel(t.Context())
	end()
	last := Solve(ended, thin, got.Chosen, cutstock.Options{Starts: [][]cutting.Use{poor},
		Fallbacks: [][]cutting.Use{got.Uses}})
	if short(last.Unmet) || last.Value != got.Value || thin.Value(poor) <= got.Value {
		t.Errorf("a plan at hand costs %d, what comes out %d, unmet %v; the poor one %d", got.Value,
			last.Value, last.Unmet, thin.Value(poor))
	}
	for _, u := range got.Uses {
		if !thin.Stands(&u.Pattern) {
			t.Errorf("%+v may not lie so", u.Pattern)
		}
	}
}
