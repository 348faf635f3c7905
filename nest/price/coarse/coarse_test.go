package coarse_test

import (
	"math/rand/v2"
	"testing"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across"
	"rackwright/nest/price/coarse"
)

// Units of 1/320 mm, of which an inch has 8,128.
const inch, mm = 8128, 320

func shop(kerf, rip int64) *cutting.Problem {
	p := &cutting.Problem{Kerf: kerf, Rip: rip, RipCost: 1, Coin: 1}
	s := cutting.Stock{To: 60 * inch, Cost: 1 << 40, Supply: 1, Slope: 20, Keep: 12 * inch,
		Across: &cutting.Across{Width: 11 * inch / 2, Inset: inch / 8, Keep: inch, Strip: 12, Trim: true,
			ShortestRip: 12 * inch, Narrowest: inch}}
	for n, size := range []int64{13, 17, 22} {
		p.Items = append(p.Items, cutting.Item{Size: size*inch + inch/8*int64(n),
			Width: inch * int64(3+n) / 2, Class: n, Demand: 9})
		s.Holds = append(s.Holds, n)
	}
	s.Spots = []cutting.Spot{{From: 20 * inch, To: 21 * inch, Left: 0, Right: inch, Weak: true},
		{From: 40 * inch, To: 42 * inch, Left: 2 * inch, Right: 3 * inch,
			Tolerated: [3]bool{false, false, true}}}
	p.Stocks = []cutting.Stock{s}
	return p
}

func TestKerfsAreRoundedUpToWhatSizesShare(t *testing.T) {
	for _, c := range []struct{ kerf, rip, wantKerf, wantRip int64 }{
		{28 * mm / 10, 24 * mm / 10, inch / 8, inch / 8}, // 2.8 mm, 2.4 mm
		{inch / 8, inch / 8, 0, 0},                       // they share it already
		{0, 0, 0, 0},
		{inch / 8, 3 * mm, inch / 8, inch / 8},
	} {
		up, ok := coarse.Kerfs(shop(c.kerf, c.rip))
		if !ok && c.wantKerf == 0 {
			continue
		}
		if ok != (c.wantKerf > 0) || up.Kerf != c.wantKerf || up.Rip != c.wantRip {
			t.Errorf("kerfs %d and %d become %d and %d (%t), not %d and %d", c.kerf, c.rip, up.Kerf,
				up.Rip, ok, c.wantKerf, c.wantRip)
		}
	}
}

// What is found with kerfs rounded up is legal with the true ones: it is worth no more than the
// best, and no less than it was with the others.
func TestPatternsAreLaidOutWithTheTrueKerfs(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	found := 0
	for n := range 300 {
		p := shop(28*mm/10, 24*mm/10)
		up, ok := coarse.Kerfs(p)
		if !ok {
			t.Fatal("the kerfs stay")
		}
		m := &price.Meter{}
		fine := across.NewMaker(p, m, price.Unlimited()).Pricer(0)
		rounded := across.NewMaker(up, m, price.Unlimited()).Pricer(0)
		r := coarse.NewPricer(p, rounded, fine)
		ask := &price.Ask{Demand: []int64{9, 9, 9}, Round: n + 1}
		for i := range p.Items {
			ask.Duals = append(ask.Duals, p.Items[i].Size*p.Items[i].Width/inch*rng.Int64N(200))
		}
		value := r.Price(ask)
		t1 := r.Walk(nil, -1)
		if t1 == nil {
			continue
		}
		found++
		got := p.Worth(t1)
		for _, pl := range t1.Places {
			got += ask.Duals[pl.Item]
		}
		best, _ := r.Vouch(ask, price.Never)
		if got < value || got > best {
			t.Fatalf("ask %d: %d found, %d when laid out, %d at best\n%+v", n, value, got, best, t1)
		}
		ask.Fine = true
		if v := r.Price(ask); v > best {
			t.Fatalf("ask %d: %d with the true kerfs, %d at best", n, v, best)
		}
	}
	if found < 250 {
		t.Errorf("only %d patterns were found", found)
	}
}
