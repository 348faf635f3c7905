package nest

import (
	"math/rand/v2"
	"slices"

	"rackwright/nest/cutstock"
	"rackwright/nest/cutting"
)

// Reopening: from a choice of what is kept on (keep.go), some uses are planned anew, again and
// again. In turn two kinds of them are opened:
//
//   - those that are not as before, and some that are, sooner such as hold the same pieces or cost
//     more than their pieces are worth by the duals;
//   - those that stand in the way of layouts which are put back.
//
// Where few layouts stand each set of them is kept first, with all else planned anew: of plans of
// the same value some keep more layouts, and what is drawn may not come to them.
//
// Which they are is drawn from a fixed sequence, so that the same input gives the same plan.

// The search ends after so many rounds, or after so many in a row that gain nothing.
const (
	mostRounds = 48
	mostFailed = 16
	mostSets   = 16 // of layouts that stand
)

// reopen is (c): it plans some uses anew, again and again.
func (k *keeping) reopen(best choice, below int64, duals []int64) choice {
	rng := rand.New(rand.NewPCG(3, 1))
	opt := k.opt
	opt.Work = max(1, k.opt.Work/reopenShare/mostRounds)
	if opt.Memory > 0 {
		opt.Memory = max(1, opt.Memory/8)
	}
	opt.Observe, opt.Found, opt.Fallbacks = nil, nil, nil
	best, tried := k.eachSet(best, below, opt)
	for round, failed := tried, 0; k.change > 0 && round < mostRounds &&
		failed < mostFailed; round++ {
		if best.cost-k.coin < below || k.ctx.Err() != nil {
			break
		}
		var open []bool
		var back []cutting.Use
		if lost := k.lost(&best); round%2 == 1 && len(lost) > 0 {
			rng.Shuffle(len(lost), func(i, j int) { lost[i], lost[j] = lost[j], lost[i] })
			for _, n := range lost[:min(len(lost), 1+round/2%mostPutBack)] {
				back = append(back, cutting.Use{Pattern: k.laid[n].pattern, Times: 1})
			}
			open = k.inTheWay(&best, back)
			if more := k.around(rng, &best, duals, 0); round/2%2 == 1 && open != nil {
				for n := range more {
					open[n] = open[n] || more[n]
				}
			}
		} else {
			open = k.around(rng, &best, duals, 1+round/2%6)
		}
		if open == nil {
			failed++
			continue
		}
		if now, ok := k.planned(&best, open, back, opt); ok && now.cost < best.cost {
			best, failed = now, 0
		} else {
			failed++
		}
	}
	return best
}

// eachSet keeps each set of few layouts in turn, and plans anew what is left. It gives the best
// choice, and how many sets it tried.
func (k *keeping) eachSet(best choice, below int64, opt cutstock.Options) (choice, int) {
	all, tried := 1<<len(k.laid), 0
	for set := 1; k.change > 0 && all <= mostSets && set < all-1; set++ {
		if best.cost-k.coin < below || k.ctx.Err() != nil {
			break
		}
		var back []cutting.Use
		for n := range k.laid {
			if set>>n&1 == 1 {
				back = append(back, cutting.Use{Pattern: k.laid[n].pattern, Times: 1})
			}
		}
		open := slices.Repeat([]bool{true}, len(best.uses))
		if now, ok := k.planned(&best, open, back, opt); ok && now.cost < best.cost {
			best = now
		}
		tried++
	}
	return best, tried
}

// lost are the layouts that are not kept.
func (k *keeping) lost(c *choice) (out []int) {
	for n, of := range c.kept {
		if of < 0 {
			out = append(out, n)
		}
	}
	return out
}

// planned plans anew what some uses hold, less what is put back.
func (k *keeping) planned(c *choice, open []bool, back []cutting.Use,
	opt cutstock.Options) (choice, bool) {
	stay, start := slices.Clone(back), []cutting.Use(nil)
	for n, u := range c.uses {
		if open[n] {
			start = append(start, u)
		} else {
			stay = append(stay, u)
		}
	}
	left := residual(k.p, stay)
	for i := range left.Items {
		if left.Items[i].Demand < 0 {
			return choice{}, false
		}
	}
	if opt.Starts = nil; len(back) == 0 {
		opt.Starts = [][]cutting.Use{start}
	}
	r := cutstock.Solve(k.ctx, left, opt)
	if slices.ContainsFunc(r.Unmet, aboveZero) {
		return choice{}, false
	}
	return k.choice(slices.Concat(stay, r.Uses)), true
}

// mostOpened is how many uses that are not as before are opened together.
const mostOpened = 8

// around opens the uses that are not as before, of many some that hold the same items, and so many
// of those that are: sooner such as hold the same items, and such as cost more than the duals say
// that their pieces are worth. It gives nil where there is nothing to open.
func (k *keeping) around(rng *rand.Rand, c *choice, duals []int64, asBefore int) []bool {
	open, kept := make([]bool, len(c.uses)), make([]bool, len(c.uses))
	for _, of := range c.kept {
		if of >= 0 {
			kept[of] = true
		}
	}
	wanted := make([]bool, len(k.p.Items))
	any := false
	draw := func(of bool) bool {
		var weights []float64
		var sum float64
		for n := range c.uses {
			var w float64
			if kept[n] == of && !open[n] {
				w = k.weight(&c.uses[n].Pattern, duals, wanted)
			}
			weights, sum = append(weights, w), sum+w
		}
		at := rng.Float64() * sum
		for n, w := range weights {
			if at -= w; w > 0 && at < 0 {
				open[n], any = true, true
				for _, pl := range c.uses[n].Pattern.Places {
					wanted[pl.Item] = true
				}
				return true
			}
		}
		return false
	}
	for range mostOpened {
		if !draw(false) {
			break
		}
	}
	for range asBefore {
		draw(true)
	}
	if !any {
		return nil
	}
	return open
}

// weight is how soon a use is opened.
func (k *keeping) weight(t *cutting.Pattern, duals []int64, wanted []bool) float64 {
	excess, shared := float64(k.p.Cost(t)), 1.0
	for _, pl := range t.Places {
		excess -= float64(duals[pl.Item])
		if wanted[pl.Item] {
			shared++
		}
	}
	return (max(0, excess)/float64(max(1, k.change)) + 0.25) * shared
}

// mostPutBack is how many layouts are put back together.
const mostPutBack = 3

// inTheWay opens the uses that hold the pieces of layouts, first those that are not as before, and
// those that have their boards; nil where that is not all.
func (k *keeping) inTheWay(c *choice, back []cutting.Use) []bool {
	open, kept := make([]bool, len(c.uses)), make([]bool, len(c.uses))
	for _, of := range c.kept {
		if of >= 0 {
			kept[of] = true
		}
	}
	need := make([]int64, len(k.p.Items)) // pieces
	over := make([]int64, len(k.p.Stocks))
	for s := range over {
		over[s] = -k.p.Stocks[s].Supply
	}
	for _, u := range slices.Concat(back, c.uses) {
		over[u.Pattern.Stock] += u.Times
	}
	for _, u := range back {
		for _, pl := range u.Pattern.Places {
			need[pl.Item]++
		}
	}
	opened := func(n int) {
		open[n] = true
		for _, pl := range c.uses[n].Pattern.Places {
			need[pl.Item]--
		}
		over[c.uses[n].Pattern.Stock]--
	}
	for _, asBefore := range []bool{false, true} {
		for n := range c.uses {
			if s := c.uses[n].Pattern.Stock; kept[n] == asBefore && over[s] > 0 &&
				k.p.Stocks[s].Supply != cutting.Any {
				opened(n)
			}
		}
	}
	for slices.ContainsFunc(need, aboveZero) {
		n := k.holdsMost(c, need, open, kept)
		if n < 0 {
			return nil
		}
		opened(n)
	}
	return open
}

// holdsMost is the use not open that holds most of the pieces needed; one that is not as before
// counts for more. It is -1 where none holds any.
func (k *keeping) holdsMost(c *choice, need []int64, open, kept []bool) int {
	best, most := -1, 0
	for n := range c.uses {
		if open[n] {
			continue
		}
		has := 0
		for _, pl := range c.uses[n].Pattern.Places {
			if need[pl.Item] > 0 {
				has++
			}
		}
		if !kept[n] {
			has *= 4
		}
		if has > most {
			best, most = n, has
		}
	}
	return best
}
