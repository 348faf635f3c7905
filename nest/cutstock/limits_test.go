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

// wantingOne is a master of one want of some ways, each of a board of its own, with copies that may
// be forgone.
func wantingOne(t *testing.T, demand int64, copies []int64) *master {
	p := &cutting.Problem{Coin: 1}
	w := cutting.Want{Demand: demand, Forgo: 1000}
	for i, n := range copies {
		p.Items = append(p.Items, cutting.Item{Size: 5})
		p.Stocks = append(p.Stocks, cutting.Stock{To: 10, Cost: 100, Supply: cutting.Any,
			Holds: []int{i}})
		w.Ways = append(w.Ways, cutting.Way{Item: i, Pieces: 1, Copies: n})
	}
	p.Wants = []cutting.Want{w}
	c := NewChoosing(t.Context(), p, make([]cutting.Chosen, 1), Options{Work: 1e6})
	m := newMaster(c.k.p, c.k.costs, &c.k.pool)
	m.wants = c.addTo(m, NoLimits(p))
	return m
}

// Beside uses that are sure no way is left a use in vain, and none is taken away that may be of
// use: with all uses that a way is left, and those of others that are sure, there are enough
// copies, and with one less there are not.
func TestTightenLeavesWhatMayBeOfUse(t *testing.T) {
	r := rand.New(rand.NewPCG(151, 152))
	full, some := 0, 0
	for range 500 {
		demand := 1 + r.Int64N(9)
		copies := []int64{1 + r.Int64N(2), 1 + r.Int64N(4), 1 + r.Int64N(6)}
		m := wantingOne(t, demand, copies)
		w, sure := m.wants, int64(0)
		cols := w.columnsOf(0)
		for n, col := range cols {
			least := r.Int64N(3) / 2
			m.lp.SetColumn(col, float64(least), math.Inf(1))
			sure += least * int64(w.copiesOf(0, n))
		}
		w.tighten(m)
		for n, col := range cols {
			lo, hi := m.wholeBounds(col)
			each := int64(w.copiesOf(0, n))
			switch more := int64(hi - lo); {
			case sure >= demand:
				if full++; more != 0 {
					t.Fatalf("%d copies are sure of %d, and a way is left %d uses", sure, demand,
						more)
				}
			case sure+more*each < demand || sure+(more-1)*each >= demand:
				t.Fatalf("%d copies are sure of %d, and a way of %d is left %d uses", sure, demand,
					each, more)
			default:
				some++
			}
			if !w.enough(m, 0, n, lo) {
				t.Fatalf("way %d is not needed: the others have an end", n)
			}
		}
		for _, col := range cols {
			lo, _ := m.wholeBounds(col)
			m.lp.SetColumn(col, lo, lo)
		}
		if lo, _ := m.wholeBounds(cols[0]); w.enough(m, 0, 0, lo) != (sure >= demand) {
			t.Fatalf("%d copies of %d: enough says %v", sure, demand, !(sure >= demand))
		}
	}
	if full < 300 || some < 300 {
		t.Errorf("%d and %d: too few to trust", full, some)
	}
}
