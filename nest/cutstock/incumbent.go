package cutstock

import (
	"cmp"
	"context"
	"slices"

	"rackwright/nest/cutting"
)

// meetsNothing is the plan without any use.
func (k *solver) meetsNothing() solution {
	sol := solution{unmet: make([]int64, len(k.p.Items))}
	for i, it := range k.p.Items {
		sol.unmet[i] = it.Demand
		sol.short += it.Demand * it.Size
	}
	return sol
}

// offer makes a plan of patterns, without their surplus, and keeps it if it is better than the
// incumbent: less unmet length, then less cost, then what ties.go says.
func (k *solver) offer(uses []cutting.Use) {
	sol := k.trimmed(uses)
	if sol.short > 0 {
		sol = k.trimmed(k.completed(uses, sol.unmet))
	}
	if sol.short < k.incumbent.short || sol.short == k.incumbent.short &&
		sol.value <= k.incumbent.value {
		for i := range sol.uses { // each stock laid out anew for its own pieces
			sol.uses[i].Pattern = k.p.Layout(sol.uses[i].Pattern)
		}
		sol.value = k.p.Value(sol.uses)
	}
	sol.tie = tieOf(k.p, sol.uses)
	if cmp.Or(cmp.Compare(sol.short, k.incumbent.short), cmp.Compare(sol.value, k.incumbent.value),
		sol.tie.compare(k.incumbent.tie)) < 0 {
		k.incumbent = sol
		k.found()
	}
}

// completed adds stocks that are still there for what a plan leaves unmet, each as full as its
// pricer fills it; once the search is over, as it can be filled without one.
func (k *solver) completed(uses []cutting.Use, unmet []int64) []cutting.Use {
	left := slices.Clone(unmet)
	used := make([]int64, len(k.p.Stocks))
	for _, u := range uses {
		used[u.Pattern.Stock] += u.Times
	}
	out := slices.Clone(uses)
	for s := range k.p.Stocks {
		for n := used[s]; k.p.Stocks[s].Supply == cutting.Any || n < k.p.Stocks[s].Supply; n++ {
			if k.ctx.Err() != nil {
				return out
			}
			var t *cutting.Pattern
			if k.over() {
				t = k.p.Greedy(s, left)
			} else {
				t = k.pricers[s].Fill(left, k.ask)
			}
			if t == nil {
				break
			}
			out = append(out, cutting.Use{Pattern: *t, Times: 1})
		}
	}
	return out
}

// trimmed takes out what no demand asks for, each time the copy whose absence gains most worth;
// patterns left empty are not used.
func (k *solver) trimmed(uses []cutting.Use) solution {
	sol := k.meetsNothing()
	for _, u := range uses {
		for _, place := range u.Pattern.Places {
			sol.unmet[place.Item] -= u.Times
		}
	}
	for _, u := range uses {
		if k.surplus(sol.unmet, &u.Pattern) < 0 {
			if u.Times > 0 && len(u.Pattern.Places) > 0 {
				sol.uses = append(sol.uses, u)
			}
			continue
		}
		for range u.Times { // each copy may lose other pieces
			t := u.Pattern
			for {
				drop := k.surplus(sol.unmet, &t)
				if drop < 0 {
					break
				}
				less := k.p.Drop(&t, drop)
				for _, place := range t.Places { // its length or strip may go with it
					sol.unmet[place.Item]++
				}
				for _, place := range less.Places {
					sol.unmet[place.Item]--
				}
				t = less
			}
			if len(t.Places) > 0 {
				sol.uses = append(sol.uses, cutting.Use{Pattern: t, Times: 1})
			}
		}
	}
	sol.short = 0
	for i, n := range sol.unmet {
		sol.short += n * k.p.Items[i].Size
	}
	sol.value = k.p.Value(sol.uses)
	return sol
}

// manyPieces is how many pieces a pattern has of which the first surplus one will do.
const manyPieces = 64

// surplus is the place of a pattern whose piece is not wanted and whose absence gains most worth;
// -1 if there is none.
func (k *solver) surplus(unmet []int64, t *cutting.Pattern) int {
	at, gain := -1, int64(0)
	for n, pl := range t.Places {
		if unmet[pl.Item] >= 0 {
			continue
		}
		if len(t.Places) > manyPieces {
			return n
		}
		w := k.p.Drop(t, n)
		if at < 0 || w.Worth > gain {
			at, gain = n, w.Worth
		}
	}
	return at
}

// observe tells what the search is doing, and what it knows.
func (k *solver) observe(phase string) {
	k.phase = phase
	if k.opt.Observe == nil {
		return
	}
	e := Event{Phase: phase, Value: k.incumbent.value, Bound: k.bound, Proven: k.cert != nil,
		Done: phase == "done"}
	if f := &k.floor; f.Unmet != nil { // plans at hand that are not taken in yet
		short := shortOf(k.p, f.Unmet)
		if short < k.incumbent.short {
			e.Bound, e.Proven = f.Bound, f.Certificate != nil
		}
		if short < k.incumbent.short || short == k.incumbent.short && f.Value < e.Value {
			e.Value = f.Value
		}
	}
	k.opt.Observe(e)
}

// found tells that more is known.
func (k *solver) found() {
	if k.opt.Found != nil {
		k.opt.Found(k.result())
	}
	k.observe(k.phase)
}

// closed says that the incumbent is proven: no plan is cheaper by a coin.
func (k *solver) closed() bool { return k.incumbent.short == 0 && k.goal() <= k.bound }

// goal is the least bound that leaves no plan cheaper than the incumbent by a coin.
func (k *solver) goal() int64 { return k.incumbent.value - k.coin + 1 }

// result is what is known now.
func (k *solver) result() Result {
	r := Result{Uses: k.incumbent.uses, Unmet: slices.Clone(k.incumbent.unmet),
		Value: k.incumbent.value, Bound: k.bound, Certificate: k.cert, PlainBound: k.plainBound,
		Plain: k.plain}
	for i, n := range k.missing {
		r.Unmet[i] += n
	}
	proven := k.cert != nil && k.incumbent.short == 0
	if was := &k.floor; was.Unmet != nil && cmp.Or(
		cmp.Compare(shortOf(k.p, was.Unmet), shortOf(k.p, r.Unmet)),
		cmp.Compare(was.Value, r.Value)) < 0 {
		proven = proven && slices.Equal(was.Unmet, r.Unmet)
		r.Uses, r.Unmet, r.Value = was.Uses, was.Unmet, was.Value
	}
	if !proven { // for what this plan meets
		r.Bound, r.Certificate = k.free.Bound, k.free.Certificate
		r.PlainBound, r.Plain = r.Bound, r.Certificate
	}
	switch {
	case r.Value-k.coin < r.Bound:
	case context.Cause(k.ctx) == context.DeadlineExceeded:
		r.Ended = Clock
	case k.ctx.Err() != nil:
		r.Ended = Interrupted
	case k.pricing != nil && k.meter.Steps >= k.opt.Work:
		r.Ended = WorkLimit
	}
	return r
}

// shortOf is how long unmet pieces are together.
func shortOf(p *cutting.Problem, unmet []int64) (sum int64) {
	for i, n := range unmet {
		sum += n * p.Items[i].Size
	}
	return sum
}
