package cutstock

import (
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/nest/cutting"
)

// What is passed over by the bits of its items is not proper, with more items than bits, too.
func TestEachProperIsEachProperOne(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 1))
	p := &cutting.Problem{}
	for range 150 {
		p.Items = append(p.Items, cutting.Item{Size: 1 + rng.Int64N(9), Demand: rng.Int64N(3)})
	}
	p.Stocks = []cutting.Stock{{To: 100, Cost: 100, Supply: cutting.Any}, {To: 50, Cost: 40}}
	for i := range p.Items {
		for s := range p.Stocks {
			p.Stocks[s].Holds = append(p.Stocks[s].Holds, i)
		}
	}
	m := newMaster(p, costsOf(p), &pool{seen: map[string]*column{}})
	var cols, want, got []*column
	for range 4000 {
		pattern, at := cutting.Pattern{Stock: rng.IntN(5) / 4}, int64(0)
		for range 1 + rng.IntN(4) {
			i := rng.IntN(len(p.Items))
			pattern.Places = append(pattern.Places, cutting.Place{Item: i, At: at})
			at += p.Items[i].Size
		}
		cols = append(cols, newColumn(p, pattern))
		if m.proper(cols[len(cols)-1]) {
			want = append(want, cols[len(cols)-1])
		}
	}
	m.eachProper(cols, func(c *column) { got = append(got, c) })
	if !slices.Equal(got, want) {
		t.Errorf("%d of %d columns, want %d", len(got), len(cols), len(want))
	}
	if len(want) < len(cols)/10 || len(want) > len(cols)*9/10 {
		t.Errorf("%d of %d are proper: the test says little", len(want), len(cols))
	}
}
