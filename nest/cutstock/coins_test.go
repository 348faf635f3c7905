package cutstock

import (
	"context"
	"slices"

	"rackwright/nest/cutting"
)

// coin is how many ticks make a unit of money of the problems here.
const coin = 1 << 20

// inCoins is a problem whose money is in whole units, in ticks.
func inCoins(p *cutting.Problem) *cutting.Problem {
	q := *p
	q.Coin, q.RipCost, q.Stocks = coin, p.RipCost*coin, slices.Clone(p.Stocks)
	for s := range q.Stocks {
		st := &q.Stocks[s]
		st.Cost, st.Slope = st.Cost*coin, st.Slope*coin
		if st.Across != nil {
			a := *st.Across
			a.Strip *= coin
			st.Across = &a
		}
	}
	return &q
}

// solveWhole solves a problem whose money is in whole units, and gives its result in these: a bound
// rounded up, as no plan costs a fraction.
func solveWhole(p *cutting.Problem, opt Options) Result {
	scale := func(uses []cutting.Use, mul, div int64) []cutting.Use {
		uses = slices.Clone(uses)
		for n := range uses {
			uses[n].Pattern.Worth = uses[n].Pattern.Worth * mul / div
		}
		return uses
	}
	opt.Starts, opt.Fallbacks = slices.Clone(opt.Starts), slices.Clone(opt.Fallbacks)
	for _, plans := range [][][]cutting.Use{opt.Starts, opt.Fallbacks} {
		for n := range plans {
			plans[n] = scale(plans[n], coin, 1)
		}
	}
	r := Solve(context.Background(), inCoins(p), opt)
	r.Uses, r.Value, r.Bound = scale(r.Uses, 1, coin), r.Value/coin, roundUp(r.Bound)
	return r
}

// roundUp is an amount in ticks in whole units.
func roundUp(parts int64) int64 {
	up := parts / coin
	if parts%coin > 0 {
		up++
	}
	return up
}

// leavesOf are the leaves of a proof.
func leavesOf(p *Proof) []*Leaf {
	if p.Split == nil {
		return []*Leaf{p.Leaf}
	}
	return append(leavesOf(p.Split.Low), leavesOf(p.Split.High)...)
}
