package cutstock

import (
	"math"
	"math/rand/v2"
	"testing"

	"rackwright/nest/cutting"
)

// randomLimits are limits of a few stocks, of some of which there is any number, with what one
// board of each costs beyond what it gives.
func randomLimits(r *rand.Rand) (p *cutting.Problem, l limits, net []int64) {
	p, l.mostBought = &cutting.Problem{}, cutting.Any
	for range 2 + r.IntN(3) {
		s := cutting.Stock{Supply: r.Int64N(4)}
		least := r.Int64N(s.Supply + 1)
		most := least + r.Int64N(s.Supply-least+1)
		if r.IntN(2) == 0 {
			s.Supply, most = cutting.Any, cutting.Any
			if least = r.Int64N(3) / 2; r.IntN(3) == 0 {
				most = least + r.Int64N(3)
			}
		}
		p.Stocks = append(p.Stocks, s)
		l.least, l.most = append(l.least, least), append(l.most, most)
	}
	if l.leastBought = r.Int64N(4); r.IntN(2) == 0 {
		l.mostBought = l.leastBought + r.Int64N(3)
	}
	for s := range p.Stocks {
		v := r.Int64N(40) - 15
		if !l.end(p, s) {
			v = max(0, v)
		}
		net = append(net, v)
	}
	return p, l, net
}

// leastTried is what boards come to at least, by trying all numbers of them, with one of a stock if
// it is not negative; false where the limits leave none.
func leastTried(p *cutting.Problem, l limits, net []int64, with int) (int64, bool) {
	const many = 9 // without an end none is below 0, so more are of no use
	best := int64(math.MaxInt64)
	var try func(s int, sum, bought int64)
	try = func(s int, sum, bought int64) {
		if s == len(net) {
			if bought >= l.leastBought && (l.mostBought == cutting.Any || bought <= l.mostBought) {
				best = min(best, sum)
			}
			return
		}
		least, most := l.least[s], l.most[s]
		if most == cutting.Any {
			most = many
		}
		if s == with {
			least = max(1, least)
		}
		for z := least; z <= most; z++ {
			if isBought(p, s) {
				try(s+1, sum+z*net[s], bought+z)
			} else {
				try(s+1, sum+z*net[s], bought)
			}
		}
	}
	try(0, 0, 0)
	return best, best < math.MaxInt64
}

// What boards come to is the least over all numbers of them within the limits.
func TestLimitsGiveTheLeast(t *testing.T) {
	r := rand.New(rand.NewPCG(141, 142))
	tried, more, none := 0, 0, 0
	for n := range 5000 {
		p, l, net := randomLimits(r)
		least, some := leastTried(p, l, net, -1)
		if !some {
			continue
		}
		var sum total
		if l.add(&sum, p, net); sum.bound() != least {
			t.Fatalf("%d: boards come to %d, not %d: %+v of %+v at %v", n, least, sum.bound(), l,
				p.Stocks, net)
		}
		for s := range net {
			want, can := leastTried(p, l, net, s)
			got, may := l.more(p, net, s)
			switch {
			case !can:
				none++
				if may && !l.asks(p, s) && l.mostBought == cutting.Any {
					t.Fatalf("%d: stock %d cannot be used: %+v of %+v", n, s, l, p.Stocks)
				}
			case !may || got != want-least:
				t.Fatalf("%d: with stock %d boards come to %d more, not %d (%t): %+v of %+v at %v",
					n, s, want-least, got, may, l, p.Stocks, net)
			default:
				if tried++; got > 0 {
					more++
				}
			}
		}
	}
	if tried < 3000 || more < 500 || none < 300 {
		t.Errorf("%d tried, %d of them more, %d none: too few to trust", tried, more, none)
	}
}
