package across

import (
	"math/rand/v2"
	"testing"

	"rackwright/nest/price"
)

// Where lengths are many, no length among spots is worth more than it begins with, and none of a
// group more than the group's bound. Many begin with less than where no spot is.
func TestNothingAmongSpotsIsWorthMoreThanItsBounds(t *testing.T) {
	r := rand.New(rand.NewPCG(18, 3))
	spotted, less, wide := 0, 0, 0
	for n := range 1200 {
		p, duals := tinyStock(r, 9, 24)
		switch n % 3 {
		case 1:
			p, duals = sparseStock(r)
		case 2:
			p, duals = weakStock(r)
		}
		q := someMaker(p, true).newPricer(0)
		if len(q.spots) == 0 {
			continue
		}
		q.begin(&price.Ask{Duals: duals, Round: 1, Demand: make([]int64, len(duals))})
		q.resetLengths()
		bound := func(s, j int) int64 { return q.lengths.value[q.slot(s, j)] }
		worth := func(s, j int) int64 {
			return max(q.priceRipped(j, q.xs[s]), q.bestPlain(j, q.xs[s]))
		}
		for s := range q.xs {
			for j := int(q.clearLens[s]); j < int(q.fitLens[s]); j++ {
				spotted++
				if bound(s, j) < q.clear.q[j] {
					less++
				}
				if v := worth(s, j); v > bound(s, j) {
					t.Fatalf("case %d: length %d at %d is worth %d, bounded by %d\n%+v\n%+v",
						n, j, q.xs[s], v, bound(s, j), p, *p.Stocks[0].Across)
				}
			}
		}
		for g := range q.groups {
			if g := &q.groups[g]; g.last > g.first {
				wide++
				q.boundGroup(g)
				for s := g.first; s <= g.last; s++ {
					if v := worth(s, g.j); v > bound(s, g.j) {
						t.Fatalf("case %d: length %d at %d is worth %d, its group %d\n%+v\n%+v", n,
							g.j, q.xs[s], v, bound(s, g.j), p, *p.Stocks[0].Across)
					}
				}
			}
		}
	}
	if spotted < 10_000 || less < spotted/20 || wide < 100 {
		t.Errorf("%d lengths among spots, %d of them begin with less, %d groups", spotted, less, wide)
	}
}

// Over the concave hull of a front nothing is less than over the front, and without a limit the
// same.
func TestHullIsNoLessThanItsFront(t *testing.T) {
	r := rand.New(rand.NewPCG(18, 4))
	limited := 0
	for n := range 2000 {
		f := front{{0, 0}}
		for range r.IntN(12) {
			last := f[len(f)-1]
			f = append(f, rowTotal{last.total + 1 + r.Int64N(9), last.value + 1 + r.Int64N(60)})
		}
		h := hullOf(f, nil)
		end := f[len(f)-1].total
		for range 20 {
			limit, each := r.Int64N(end+3), r.Int64N(25)
			want := int64(price.Never)
			for _, row := range f {
				if row.total <= limit {
					want = max(want, row.value-each*row.total)
				}
			}
			switch got := h.most(limit, each); {
			case got < want:
				t.Fatalf("front %d %v: %d up to %d at %d each, by the hull %d", n, f, want, limit,
					each, got)
			case limit >= end && got != want:
				t.Fatalf("front %d %v: %d at %d each, by the hull %d", n, f, want, each, got)
			case got > want:
				limited++
			}
		}
	}
	if limited == 0 {
		t.Error("no limit fell between two corners")
	}
}
