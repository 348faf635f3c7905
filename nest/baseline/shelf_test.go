package baseline_test

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"rackwright/nest/baseline"
	"rackwright/nest/cutting"
)

// across gives some stocks of a problem a width, their spots a span of it, and each item a width of
// its own.
func across(t *rapid.T, p *cutting.Problem) {
	small := func(lo, hi int64, what string) int64 { return rapid.Int64Range(lo, hi).Draw(t, what) }
	p.Rip = small(0, 2, "rip kerf")
	for i := range p.Items {
		p.Items[i].Width = small(1, 6, "width")
	}
	for n := range p.Stocks {
		s := &p.Stocks[n]
		if small(0, 3, "across") == 0 {
			continue
		}
		a := &cutting.Across{Width: 14 - small(0, 9, "stock narrower by"),
			Inset: small(0, 1, "inset"), Keep: small(1, 6, "keep width"),
			Trim: small(0, 2, "trim") > 0, ShortestRip: small(0, 8, "shortest rip"),
			Narrowest: small(1, 3, "narrowest")}
		var spots []cutting.Spot
		for _, sp := range s.Spots {
			if sp.From, sp.To = max(sp.From, s.From), min(sp.To, s.To); sp.From < sp.To {
				sp.Left = small(0, a.Width-1, "left")
				sp.Right = small(sp.Left+1, a.Width, "right")
				spots = append(spots, sp)
			}
		}
		slices.SortFunc(spots, func(x, y cutting.Spot) int { return int(x.From - y.From) })
		s.Spots = spots
		s.Holds = slices.DeleteFunc(s.Holds, func(i int) bool {
			return p.Items[i].Width > a.Width-2*a.Inset
		})
		for _, i := range s.Holds {
			if small(0, 4, "whole") == 0 {
				a.Whole = append(a.Whole, i)
			}
		}
		s.Across = a
	}
}

// flaw says what is wrong with a pattern of a stock with Across, by the rules of model/across.go,
// and looks at its pieces unit by unit.
func flaw(p *cutting.Problem, t *cutting.Pattern) string {
	s := &p.Stocks[t.Stock]
	a := s.Across
	taken := map[[2]int64]bool{}
	for _, pl := range t.Places {
		it, whole := p.Items[pl.Item], slices.Contains(a.Whole, pl.Item)
		plain := t.First == cutting.CrosscutFirst && pl.Left == 0 && pl.Right == a.Width
		switch {
		case !slices.Contains(s.Holds, pl.Item):
			return "not held"
		case !plain && whole:
			return "a whole piece is sawn"
		case !plain && (pl.Right-pl.Left != it.Width || pl.Left < a.Inset ||
			pl.Right > a.Width-a.Inset || it.Width < a.Narrowest):
			return "not sawn to its width inside the insets"
		}
		for x := pl.At; x < pl.At+it.Size; x++ {
			for y := pl.Left; y < pl.Right; y++ {
				if x < s.From || x >= s.To || taken[[2]int64{x, y}] {
					return "outside, or over another piece"
				}
				taken[[2]int64{x, y}] = true
				for _, sp := range s.Spots {
					if !sp.Tolerated[it.Class] && sp.From <= x && x < sp.To && sp.Left <= y &&
						y < sp.Right {
						return "on a spot"
					}
				}
			}
		}
	}
	kerf := p.Kerf
	if t.First == cutting.RipFirst {
		kerf = p.Rip
	}
	// its length or strip: what the longest or widest piece beside it takes
	for _, pl := range t.Places {
		from, to := outer(p, t, pl)
		for _, o := range t.Places {
			if lo, hi := outer(p, t, o); lo <= from && to <= hi {
				from, to = lo, hi
			}
		}
		var inside []cutting.Place
		for _, o := range t.Places {
			lo, hi := outer(p, t, o)
			switch {
			case from <= lo && hi <= to:
				inside = append(inside, o)
			case lo < to+kerf && from < hi+kerf:
				return "lengths or strips too near to each other"
			}
		}
		if why := inBundle(p, t, pl, inside, from, to); why != "" {
			return why
		}
	}
	return ""
}

// outer is where a piece lies from length to length, or from strip to strip; inner is the other
// way.
func outer(p *cutting.Problem, t *cutting.Pattern, pl cutting.Place) (from, to int64) {
	if t.First == cutting.RipFirst {
		return pl.Left, pl.Right
	}
	return pl.At, pl.At + p.Items[pl.Item].Size
}

func inner(p *cutting.Problem, t *cutting.Pattern, pl cutting.Place) (from, to int64) {
	if t.First == cutting.RipFirst {
		return pl.At, pl.At + p.Items[pl.Item].Size
	}
	return pl.Left, pl.Right
}

// inBundle judges a piece in its length or strip at [from, to).
func inBundle(p *cutting.Problem, t *cutting.Pattern, pl cutting.Place, inside []cutting.Place,
	from, to int64) string {
	a := p.Stocks[t.Stock].Across
	lo, hi := outer(p, t, pl)
	long, kerf := to-from, p.Rip
	if t.First == cutting.RipFirst {
		long, kerf = p.Stocks[t.Stock].To-p.Stocks[t.Stock].From, p.Kerf
	}
	if t.First == cutting.CrosscutFirst && pl.Left == 0 && pl.Right == a.Width {
		if lo != from || hi != to {
			return "a piece of the whole width is not as long as its length"
		}
	} else if long < a.ShortestRip {
		return "too short to be ripped"
	}
	if lo > from || hi < to {
		switch {
		case !a.Trim:
			return "trimmed against the rule"
		case lo > from && hi < to:
			return "trimmed on both sides"
		case t.First == cutting.RipFirst && p.Items[pl.Item].Size < a.ShortestRip:
			return "too short to be trimmed along"
		}
	}
	full := false
	x, y := inner(p, t, pl)
	for _, o := range inside {
		l, h := outer(p, t, o)
		full = full || l == from && h == to
		if u, v := inner(p, t, o); o != pl && u < y+kerf && x < v+kerf {
			return "within a kerf of another piece"
		}
	}
	if !full {
		return "a length or strip that no piece fills"
	}
	return ""
}

// Stocks with Across: every layout is legal, in its normal form, and worth what it says; no supply
// is exceeded, each copy is placed or unmet; twice gives the same; and it is no worse than the plan
// that rips nothing.
func TestEveryRippedLayoutIsLegal(t *testing.T) {
	met := map[string]int{}
	test := func(t *rapid.T) {
		p, onHand, list := problems(t)
		across(t, p)
		for _, rule := range baseline.Rules() {
			uses, unmet := baseline.Plan(context.Background(), p, onHand, list, rule)
			for _, u := range uses {
				t1 := &u.Pattern
				if u.Times < 1 || len(t1.Places) == 0 || t1.Worth != p.Worth(t1) {
					t.Fatalf("%s: use %+v", rule, u)
				}
				for n, pl := range t1.Places {
					if p.Stocks[t1.Stock].Across == nil {
						if why := fault(p, t1.Stock, t1.Places[:n], pl); why != "" {
							t.Fatalf("%s: %+v: %s", rule, u, why)
						}
					}
				}
				if p.Stocks[t1.Stock].Across != nil {
					if why := flaw(p, t1); why != "" {
						t.Fatalf("%s: %+v of %+v %+v: %s", rule, u, p.Stocks[t1.Stock],
							*p.Stocks[t1.Stock].Across, why)
					}
					met[kindOf(p, t1)]++
				}
				if d := cmp.Diff(*t1, p.Normal(*t1)); d != "" {
					t.Fatalf("%s: not the normal form: %s", rule, d)
				}
			}
			accounted(t, p, onHand, list, rule)
			noWorse(t, p, onHand, list, rule, uses, unmet)
		}
	}
	for range 8 {
		rapid.Check(t, test)
	}
	for _, k := range []string{"0 ripped false", "0 ripped true", "1 ripped true"} {
		if met[k] < 20 {
			t.Fatalf("too few of a kind: %v", met)
		}
	}
}

func kindOf(p *cutting.Problem, t *cutting.Pattern) string {
	ripped := slices.ContainsFunc(t.Places, func(pl cutting.Place) bool {
		return pl.Right-pl.Left < p.Stocks[t.Stock].Across.Width
	})
	return fmt.Sprint(int(t.First), " ripped ", ripped || t.First == cutting.RipFirst)
}

// noWorse compares a plan with that of the same rule where nothing can be ripped.
func noWorse(t *rapid.T, p *cutting.Problem, onHand []bool, list []int, rule baseline.Rule,
	uses []cutting.Use, unmet []int64) {
	q := *p
	q.Stocks = slices.Clone(p.Stocks)
	for n := range q.Stocks {
		q.Stocks[n].Across = nil
	}
	plain, left := baseline.Plan(context.Background(), &q, onHand, list, rule)
	var more, less int64
	for i := range p.Items {
		more, less = more+unmet[i]*p.Items[i].Size, less+left[i]*p.Items[i].Size
	}
	if more > less || more == less && p.Value(uses) > q.Value(plain) {
		t.Fatalf("%s: ripping makes it worse: unmet %d for %d, then %d for %d", rule, more, less,
			p.Value(uses), q.Value(plain))
	}
}

// Worked out by hand: two rails beside each other in a stock 88 wide with 1 lost at each edge and a
// kerf of 2; a piece of the whole width and a spot.
func TestShelvesByHand(t *testing.T) {
	spot := cutting.Spot{From: 30, To: 50, Left: 0, Right: 20}
	for _, c := range []struct {
		why    string
		widths []int64 // of pieces 100 long; 88 is the whole width
		spots  []cutting.Spot
		rate   int64
		want   string
	}{
		{"two side by side, from the inset on", []int64{42, 42}, nil, 0,
			"0:0 0@0[1-43] 0@0[45-87]"},
		{"one that leaves nothing beside it takes the whole width", []int64{60}, nil, 0,
			"0:0 0@0[0-88]"},
		{"one ripped off an offcut as long as the stock", []int64{20}, nil, 1, "0:1 0@0[1-21]"},
		{"right of a spot", []int64{42, 42}, []cutting.Spot{spot}, 0,
			"0:0 0@0[20-62] + 0:0 0@0[20-62]"},
		{"narrower pieces in one length", []int64{30, 26, 26}, nil, 0,
			"0:0 0@0[1-31] 1@0[33-59] 1@0[61-87]"},
	} {
		p := &cutting.Problem{Kerf: 2, Rip: 2,
			Stocks: []cutting.Stock{
				{To: 110, Cost: 1000, Supply: cutting.Any, Keep: 20, Spots: c.spots,
					Slope: c.rate,
					Across: &cutting.Across{Width: 88, Inset: 1, Keep: 24, Strip: c.rate,
						Trim: true, ShortestRip: 50, Narrowest: 12}}}}
		var list []int
		for _, w := range c.widths {
			i := slices.IndexFunc(p.Items, func(it cutting.Item) bool { return it.Width == w })
			if i < 0 {
				i = len(p.Items)
				p.Items = append(p.Items, cutting.Item{Size: 100, Width: w})
				p.Stocks[0].Holds = append(p.Stocks[0].Holds, i)
			}
			list = append(list, i)
		}
		uses, unmet := baseline.Plan(context.Background(), p, []bool{false}, list,
			baseline.BestFitDecreasing)
		var got string
		for n, u := range singly(uses) {
			if n > 0 {
				got += " + "
			}
			got += fmt.Sprintf("%d:%d", u.Pattern.Stock, u.Pattern.First)
			for _, pl := range u.Pattern.Places {
				got += fmt.Sprintf(" %d@%d[%d-%d]", pl.Item, pl.At, pl.Left, pl.Right)
			}
		}
		if got != c.want || slices.Max(unmet) > 0 {
			t.Errorf("%s: got %s, unmet %v; want %s", c.why, got, unmet, c.want)
		}
	}
}
