package price_test

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across"
	"rackwright/nest/price/along"
)

// grain is a unit of all lengths and widths of the problems here.
const grain = 64

// random is a problem of one stock, with Across or without, of up to three spots and as many items.
func random(r *rand.Rand, wide bool) *cutting.Problem {
	n := func(lo, hi int64) int64 { return lo + r.Int64N(hi-lo+1) }
	s := cutting.Stock{To: grain * n(8, 16), Keep: grain * n(0, 3), Supply: 1, Slope: n(0, 50)}
	width := grain * n(4, 8)
	for range n(0, 3) {
		spot := cutting.Spot{From: grain * n(0, s.To/grain-1)}
		spot.To = min(s.To, spot.From+grain/4*n(1, 12))
		spot.Tolerated[1], spot.Tolerated[2] = n(0, 2) == 0, n(0, 1) == 0
		if wide {
			spot.Left = grain * n(0, width/grain-1)
			spot.Right = min(width, spot.Left+grain*n(1, 4))
		}
		s.Spots = append(s.Spots, spot)
	}
	slices.SortFunc(s.Spots, func(a, b cutting.Spot) int { return cmp.Compare(a.From, b.From) })
	p := &cutting.Problem{Kerf: grain / 4 * n(0, 2), Rip: grain / 4 * n(0, 2)}
	if wide {
		s.Across = &cutting.Across{Width: width, Inset: grain / 4 * n(0, 1), Keep: grain * n(1, 3),
			Strip: n(0, s.Slope), Trim: n(0, 1) == 0}
	}
	for i := range int(n(1, 3)) {
		p.Items = append(p.Items, cutting.Item{Size: grain * n(2, 7), Width: grain * n(1, 3),
			Class: int(n(0, 2)), Demand: n(1, 3)})
		s.Holds = append(s.Holds, i)
		if wide && n(0, 3) == 0 {
			s.Across.Whole = append(s.Across.Whole, i)
		}
	}
	p.Stocks = []cutting.Stock{s}
	return p
}

// pricing is a pricer of the one stock of a problem, and what it is asked.
type pricing struct {
	price.Pricer
	p     *cutting.Problem
	meter price.Meter
	ask   *price.Ask
}

func newPricing(r *rand.Rand, p *cutting.Problem) *pricing {
	g := &pricing{p: p, ask: &price.Ask{}}
	if p.Stocks[0].Across != nil {
		g.Pricer = across.NewMaker(p, &g.meter, price.Unlimited()).Pricer(0)
	} else {
		g.Pricer = along.NewMaker(p, &g.meter).Pricer(0)
	}
	for i := range p.Items {
		g.ask.Duals = append(g.ask.Duals, r.Int64N(40*p.Items[i].Size))
		g.ask.Demand = append(g.ask.Demand, p.Items[i].Demand)
	}
	return g
}

// counts are how many copies of each item a pattern has.
func (g *pricing) counts(t *cutting.Pattern) []int64 {
	out := make([]int64, len(g.p.Items))
	for _, pl := range t.Places {
		out[pl.Item]++
	}
	return out
}

// value is what a pattern is worth with the duals, its offcuts by the meaning of worth.
func (g *pricing) value(t *cutting.Pattern) int64 {
	v := g.p.Worth(t)
	for _, pl := range t.Places {
		v += g.ask.Duals[pl.Item]
	}
	return v
}

// fault says why a pattern cannot be cut: a piece lies where it may not, or too near to another.
func (g *pricing) fault(t *cutting.Pattern) string {
	for n, pl := range t.Places {
		if !g.p.Legal(0, pl) {
			return fmt.Sprintf("%+v is not legal", pl)
		}
		for _, other := range t.Places[:n] {
			apart := func(a cutting.Axis, kerf int64) bool {
				x, y := g.p.On(a, pl), g.p.On(a, other)
				return x.From >= y.To+kerf || y.From >= x.To+kerf
			}
			if !apart(cutting.Along, g.p.Kerf) &&
				(g.p.Stocks[0].Across == nil || !apart(cutting.Crosswise, g.p.Rip)) {
				return fmt.Sprintf("%+v is too near to %+v", pl, other)
			}
		}
	}
	return ""
}

// fits says whether a piece of any of the items wanted may lie anywhere.
func (g *pricing) fits(wanted []int64) bool {
	s := &g.p.Stocks[0]
	for i, it := range g.p.Items {
		if wanted[i] == 0 {
			continue
		}
		for x := s.From; x+it.Size <= s.To; x += grain / 4 {
			at := cutting.Place{Item: i, At: x}
			if s.Across == nil {
				if g.p.Legal(0, at) {
					return true
				}
				continue
			}
			if at.Right = s.Across.Width; g.p.Legal(0, at) {
				return true
			}
			if slices.Contains(s.Across.Whole, i) {
				continue
			}
			for y := s.Across.Inset; y+it.Width <= s.Across.Width-s.Across.Inset; y += grain / 4 {
				at.Left, at.Right = y, y+it.Width
				if g.p.Legal(0, at) {
					return true
				}
			}
		}
	}
	return false
}

// every calls a check with many pricers of both rooms.
func every(t *testing.T, check func(t *testing.T, r *rand.Rand, g *pricing)) {
	for _, wide := range []bool{false, true} {
		name := map[bool]string{false: "along", true: "across"}[wide]
		t.Run(name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(51, 1))
			for range 1500 {
				check(t, r, newPricing(r, random(r, wide)))
			}
		})
	}
}

// No layout that a pricer gives is worth more than it vouches for, nor more than its price where it
// is not quick. A quick one leaves the layout of its vouched value for Walk. Work is counted.
func TestValues(t *testing.T) {
	every(t, func(t *testing.T, r *rand.Rand, g *pricing) {
		empty := g.p.Worth(&cutting.Pattern{})
		if bare := g.Bare(); bare != empty {
			t.Fatalf("bare %d, but nothing is worth %d\n%+v", bare, empty, g.p)
		}
		before := g.meter.Steps
		priced := g.Price(g.ask)
		first := g.Walk(nil, -1)
		between := g.meter.Steps
		vouched, _ := g.Vouch(g.ask, price.Never)
		if before >= between || between >= g.meter.Steps {
			t.Fatalf("steps %d, %d, %d", before, between, g.meter.Steps)
		}
		if priced > vouched || (first == nil) != !g.fits(g.ask.Demand) {
			t.Fatalf("priced %d, vouched %d, layout %+v\n%+v", priced, vouched, first, g.p)
		}
		if first == nil {
			return
		}
		layouts := []*cutting.Pattern{first, g.Walk(nil, -1)}
		if v := g.value(layouts[1]); g.Traits().Quick && v != vouched {
			t.Fatalf("%+v is worth %d, vouched %d\n%+v", layouts[1], v, vouched, g.p)
		}
		allowed := make([]int64, len(g.p.Items))
		for i := range allowed {
			allowed[i] = r.Int64N(g.p.Items[i].Demand + 1)
		}
		for opener := -1; opener < len(g.p.Items); opener++ {
			if opener >= 0 && allowed[opener] == 0 {
				continue
			}
			some := g.Walk(allowed, opener)
			if some == nil {
				continue
			}
			for i, n := range g.counts(some) {
				if n > allowed[i] {
					t.Fatalf("%+v, allowed %v\n%+v", some, allowed, g.p)
				}
			}
			layouts = append(layouts, some)
		}
		for _, l := range layouts {
			v, why := g.value(l), g.fault(l)
			if why != "" || v > vouched || !g.Traits().Quick && v > priced {
				t.Fatalf("%s: %+v is worth %d, priced %d, vouched %d\n%+v", why, l, v, priced,
					vouched, g.p)
			}
		}
	})
}

// Fill takes from what is left just what it lays, says what that is worth, and gives up only where
// nothing fits.
func TestFill(t *testing.T) {
	every(t, func(t *testing.T, r *rand.Rand, g *pricing) {
		left := make([]int64, len(g.p.Items))
		for i := range left {
			left[i] = r.Int64N(3)
		}
		before := slices.Clone(left)
		got := g.Fill(left, func(duals, wanted []int64) *price.Ask {
			return &price.Ask{Duals: duals, Demand: slices.Clone(wanted), Round: 1}
		})
		if got == nil {
			if g.fits(before) || !slices.Equal(left, before) {
				t.Fatalf("nothing of %v; left %v\n%+v", before, left, g.p)
			}
			return
		}
		if why := g.fault(got); why != "" || got.Worth != g.p.Worth(got) || len(got.Places) == 0 {
			t.Fatalf("%s: %+v\n%+v", why, got, g.p)
		}
		for i, n := range g.counts(got) {
			if n+left[i] != before[i] {
				t.Fatalf("%+v of %v leaves %v\n%+v", got, before, left, g.p)
			}
		}
	})
}

// A list has each set of counts once, within the demands, worth enough, in a layout that is worth
// what it says, whatever is asked before it is laid out; the layout that was priced is on it, if it
// is within the demands and worth enough. A pricer that says that it lists does.
func TestList(t *testing.T) {
	listed := 0
	every(t, func(t *testing.T, r *rand.Rand, g *pricing) {
		g.Price(g.ask)
		best := g.Walk(nil, -1)
		vouched, _ := g.Vouch(g.ask, price.Never)
		least := vouched - r.Int64N(vouched+1)
		l := &price.Listing{Ask: g.ask, Most: 1 << 20}
		list, ok := g.List(l, vouched, least)
		if !ok && g.Traits().Lists {
			t.Fatalf("listed %t, traits %+v", ok, g.Traits())
		}
		if !ok {
			return
		}
		if r.IntN(2) == 0 { // a list is laid out whatever was asked since
			left := slices.Clone(g.ask.Demand)
			g.Fill(left, func(duals, wanted []int64) *price.Ask {
				return &price.Ask{Duals: duals, Demand: slices.Clone(wanted), Round: 1}
			})
		}
		worths := map[string]int64{}
		for _, e := range list.Patterns() {
			v, key := e.Worth, fmt.Sprint(g.counts(&e))
			for i, n := range g.counts(&e) {
				v += n * g.ask.Duals[i]
				if n > g.ask.Demand[i] {
					t.Fatalf("%+v, wanted %v", e, g.ask.Demand)
				}
			}
			_, twice := worths[key]
			if why := g.fault(&e); why != "" || twice || v < least ||
				e.Worth != g.p.Worth(&e) {
				t.Fatalf("%s: %+v, twice %t, value %d, at least %d\n%+v", why, e, twice, v, least,
					g.p)
			}
			worths[key] = e.Worth
		}
		listed += list.Len()
		if best == nil || g.value(best) < least {
			return
		}
		for i, n := range g.counts(best) {
			if n > g.ask.Demand[i] {
				return
			}
		}
		if w, on := worths[fmt.Sprint(g.counts(best))]; !on || w < g.p.Worth(best) {
			t.Fatalf("%+v is not on the list, or with %d\n%+v", best, w, g.p)
		}
	})
	if listed < 2000 {
		t.Errorf("%d layouts listed: too few to tell", listed)
	}
}
