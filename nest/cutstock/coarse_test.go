package cutstock

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across"
	"rackwright/nest/price/coarse"
)

// Units of 1/320 mm, of which an inch has 8,128.
const inch, mm = 8128, 320

// awkwardShop is a small program of an inch shop whose saws have such kerfs.
func awkwardShop(kerf, rip int64) *cutting.Problem {
	p := &cutting.Problem{Kerf: kerf, Rip: rip, Coin: 1}
	for n, size := range []int64{13, 17, 22, 29} {
		p.Items = append(p.Items, cutting.Item{Size: size*inch + inch/8*int64(n),
			Width: inch * int64(3+n) / 2, Class: n % 3, Demand: int64(4 + n)})
	}
	all := []int{0, 1, 2, 3}
	for n, long := range []int64{60, 72, 96} {
		s := cutting.Stock{To: long * inch, Cost: long * inch * 11 * inch / 2 * 14,
			Supply: cutting.Any, Slope: 8, Keep: 12 * inch, Holds: all,
			Across: &cutting.Across{Width: 11 * inch / 2, Inset: inch / 8, Keep: inch, Strip: 5,
				Trim: true, ShortestRip: 12 * inch, Narrowest: inch}}
		if n == 0 {
			s.Supply, s.Cost = 2, s.Cost/14*10
			s.Spots = []cutting.Spot{{From: 20 * inch, To: 21 * inch, Right: inch, Weak: true},
				{From: 40 * inch, To: 42 * inch, Left: 2 * inch, Right: 3 * inch,
					Tolerated: [3]bool{false, false, true}}}
		}
		p.Stocks = append(p.Stocks, s)
	}
	return p
}

func TestKerfsAreRoundedUpToWhatSizesShare(t *testing.T) {
	for _, c := range []struct{ kerf, rip, wantKerf, wantRip int64 }{
		{28 * mm / 10, 24 * mm / 10, inch / 8, inch / 8}, // 2.8 mm, 2.4 mm
		{inch / 8, inch / 8, 0, 0},                       // they share it already
		{0, 0, 0, 0},
		{inch / 8, 3 * mm, inch / 8, inch / 8},
	} {
		up, ok := RoundedUp(awkwardShop(c.kerf, c.rip))
		if !ok && c.wantKerf == 0 {
			continue
		}
		if ok != (c.wantKerf > 0) || up.Kerf != c.wantKerf || up.Rip != c.wantRip {
			t.Errorf("kerfs %d and %d become %d and %d (%t), not %d and %d", c.kerf, c.rip, up.Kerf,
				up.Rip, ok, c.wantKerf, c.wantRip)
		}
	}
}

// withGangs is the same with blanks of several pieces, whose sizes have kerfs in them.
func withGangs(p *cutting.Problem) *cutting.Problem {
	for _, k := range []int64{2, 5} {
		p.Items = append(p.Items, cutting.Item{Size: k*5*inch + (k-1)*p.Kerf, Width: 2 * inch,
			Demand: 2})
	}
	for s := range p.Stocks {
		p.Stocks[s].Holds = []int{0, 1, 2, 3, 4, 5}
	}
	for n := range 4 { // they are few among all
		it := p.Items[n]
		it.Size += 3 * inch
		p.Items = append(p.Items, it)
		for s := range p.Stocks {
			p.Stocks[s].Holds = append(p.Stocks[s].Holds, 6+n)
		}
	}
	return p
}

func TestBlanksWithKerfsInThemAreRoundedUp(t *testing.T) {
	p := withGangs(awkwardShop(28*mm/10, 24*mm/10))
	up, ok := RoundedUp(p)
	if !ok || up.Kerf != inch/8 || up.Rip != inch/8 {
		t.Fatalf("kerfs become %d and %d (%t)", up.Kerf, up.Rip, ok)
	}
	longer := 0
	for i := range p.Items {
		switch more := up.Items[i].Size - p.Items[i].Size; {
		case more < 0 || more >= inch/8 || up.Items[i].Size%(inch/8) != 0:
			t.Errorf("item %d of %d becomes %d", i, p.Items[i].Size, up.Items[i].Size)
		case more > 0:
			longer++
		}
	}
	if longer != 2 {
		t.Errorf("%d items become longer, not the two blanks of several pieces", longer)
	}
	opt := Options{Work: 4e8}
	thick := Solve(context.Background(), withGangs(awkwardShop(inch/8, inch/8)), opt)
	thin := Solve(context.Background(), p, opt)
	if thin.Value > thick.Value || thin.Bound > thin.Value {
		t.Errorf("thin kerfs: value %d, bound %d; thick: value %d", thin.Value, thin.Bound,
			thick.Value)
	}
	for _, u := range thin.Uses {
		if !p.Stands(&u.Pattern) {
			t.Errorf("%+v may not lie so", u.Pattern)
		}
	}
}

// Whatever is laid out with kerfs and sizes rounded up may be cut with the true ones, though a
// piece may no longer be as long as its length.
func TestPatternsOfLargerSizesStand(t *testing.T) {
	r := rand.New(rand.NewPCG(71, 1))
	pieces, lost := 0, 0
	for n := range 60 {
		p := withGangs(awkwardShop(28*mm/10, 24*mm/10))
		for i := range p.Items {
			if r.IntN(3) == 0 {
				p.Items[i].Size = p.Items[r.IntN(len(p.Items))].Size - r.Int64N(inch/16)
			}
			p.Items[i].Class, p.Items[i].Width = r.IntN(3), inch*(2+r.Int64N(4))/2
		}
		for s := range p.Stocks {
			p.Stocks[s].Spots = nil
			for from := r.Int64N(30) * inch; r.IntN(5) > 0 && from+2*inch < p.Stocks[s].To; {
				left := r.Int64N(5) * inch
				p.Stocks[s].Spots = append(p.Stocks[s].Spots, cutting.Spot{From: from,
					To: from + r.Int64N(2*inch) + 1, Left: left, Right: left + inch/2,
					Tolerated: [3]bool{1: true, 2: r.IntN(2) == 0}})
				from += (3 + r.Int64N(25)) * inch
			}
		}
		up := *p
		up.Kerf, up.Rip, up.Items = inch/8, inch/8, slices.Clone(p.Items)
		ask := &price.Ask{Round: 1}
		for i := range up.Items {
			it := &up.Items[i]
			it.Size = upTo(inch/8, it.Size)
			ask.Duals = append(ask.Duals, it.Size*it.Width*(80+r.Int64N(60)))
			ask.Demand = append(ask.Demand, it.Demand)
		}
		maker := across.NewMaker(&up, &price.Meter{}, price.Unlimited())
		for s := range up.Stocks {
			pricer := maker.Pricer(s)
			pricer.Price(ask)
			for opener := range up.Items {
				got := pricer.Walk(ask.Demand, opener)
				if got == nil {
					continue
				}
				laid := p.Closed(*got, coarse.Apart(p, &up))
				lost += len(got.Places) - len(laid.Places)
				if !p.Stands(&laid) || laid.Worth != p.Worth(&laid) {
					t.Fatalf("program %d, stock %d: %+v, laid out from %+v\n%+v", n, s, laid, got, p)
				}
				pieces += len(laid.Places)
			}
		}
	}
	if pieces < 1000 || lost*20 > pieces {
		t.Errorf("%d pieces laid out, %d lost", pieces, lost)
	}
}

// A plan of patterns that are handed in stands without any search for columns.
func TestPatternsAreColumnsToBeginWith(t *testing.T) {
	p := awkwardShop(inch/8, inch/8)
	best := Solve(context.Background(), p, Options{Work: 4e8})
	var known []cutting.Pattern
	for _, u := range best.Uses {
		known = append(known, u.Pattern)
	}
	const little = 3e6
	with := Solve(context.Background(), p, Options{Work: little, Patterns: known})
	without := Solve(context.Background(), p, Options{Work: little})
	if with.Value > best.Value || without.Value <= best.Value {
		t.Errorf("with little work the plan costs %d with the patterns, %d without; the best %d",
			with.Value, without.Value, best.Value)
	}
}

// With a thinner blade no plan is dearer than with the one to which it is rounded up, and no bound
// is above that of any of its plans.
func TestAwkwardKerfs(t *testing.T) {
	opt := Options{Work: 2e8}
	thick := Solve(context.Background(), awkwardShop(inch/8, inch/8), opt)
	p := awkwardShop(28*mm/10, 24*mm/10)
	thin := Solve(context.Background(), p, opt)
	if thin.Value > thick.Value || thin.Bound > thin.Value || thin.Bound > thick.Value {
		t.Errorf("thin kerfs: value %d, bound %d; thick: value %d, bound %d", thin.Value,
			thin.Bound, thick.Value, thick.Bound)
	}
	for _, u := range thin.Uses {
		for _, pl := range u.Pattern.Places {
			if !p.Legal(u.Pattern.Stock, pl) {
				t.Errorf("%+v may not lie there", pl)
			}
		}
	}
}
