package cutstock

import (
	"context"
	"math/rand/v2"
	"testing"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across"
)

// What refining says that a stock gives is never less than it gives in truth, worked out by a
// pricer of its own without any limit. The more steps it has, the less do all stocks give beyond
// that, and at last they give next to nothing more.
func TestRefinedStocksGiveNoLess(t *testing.T) {
	p := manySizes(rand.New(rand.NewPCG(17, 6)))
	p.Stocks = p.Stocks[8:11] // two with spots
	duals := areaDuals(p)
	truth := make([]int64, len(p.Stocks))
	own := across.NewMaker(p, &price.Meter{}, price.Unlimited())
	k := newSolver(context.Background(), p, Options{Work: 4e9})
	if !k.thin {
		t.Fatal("all stocks are priced exactly")
	}
	for s := range p.Stocks {
		truth[s], _ = own.Pricer(s).Vouch(k.ask(duals, k.demands()), price.Never)
	}
	last := int64(1) << 62
	for _, steps := range []int64{1e5, 3e8, 1e9} {
		k.refined = nil
		k.refine(duals, steps)
		var beyond int64
		for s := range p.Stocks {
			if p.Stocks[s].Supply == cutting.Any {
				continue
			}
			v, ok := k.refined.at(s, duals)
			if least := max(truth[s], p.Stocks[s].Cost); !ok || v < truth[s] {
				t.Fatalf("%d steps: stock %d gives %d, not %d", steps, s, v, truth[s])
			} else {
				beyond += max(0, v-least)
			}
			if b := k.bounds[s]; b.on == b.area || !b.inexact {
				t.Errorf("%d steps: stock %d is bounded by %+v", steps, s, b)
			}
		}
		if beyond >= last {
			t.Errorf("%d steps: %d beyond, no less than before", steps, beyond)
		}
		last = beyond
	}
	if _, ok := k.refined.at(0, make([]int64, len(duals))); ok {
		t.Error("at other duals nothing is known")
	}
}
