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

// layout writes a plan as "stock: item@at item@at; ...".
func layout(uses []cutting.Use) string {
	var s string
	for n, u := range singly(uses) {
		if n > 0 {
			s += "; "
		}
		s += fmt.Sprintf("%d:", u.Pattern.Stock)
		for _, pl := range u.Pattern.Places {
			s += fmt.Sprintf(" %d@%d", pl.Item, pl.At)
		}
	}
	return s
}

// singly gives each use of a plan by itself.
func singly(uses []cutting.Use) (out []cutting.Use) {
	for _, u := range uses {
		out = append(out, slices.Repeat([]cutting.Use{{Pattern: u.Pattern, Times: 1}},
			int(u.Times))...)
	}
	return out
}

func repeat(counts ...int) (list []int) {
	for i, n := range counts {
		list = append(list, slices.Repeat([]int{i}, n)...)
	}
	return list
}

// In eighths of an inch; the yard sells 8 to 20 ft by 2, a little cheaper per foot the longer they
// are.
func yard(feet ...int64) (stocks []cutting.Stock) {
	price := map[int64]int64{8: 800, 10: 990, 12: 1176, 14: 1358, 16: 1536, 18: 1710, 20: 1880}
	for _, f := range feet {
		stocks = append(stocks,
			cutting.Stock{To: f * 96, Cost: price[f], Supply: cutting.Any, Holds: []int{0, 1}})
	}
	return stocks
}

// U.S. Army Engineer School, subcourse EN0069 Frame Structures, lesson 4 (no kerf, 8 to 20 ft by
// 2), and one trade page's warning that four 24 in parts do not come out of 96 in with a 1/8 in
// kerf.
func TestPublishedLumberProblems(t *testing.T) {
	all := []int64{8, 10, 12, 14, 16, 18, 20}
	for _, c := range []struct {
		name   string
		inches []int64
		list   []int
		kerf   int64 // eighths of an inch
		feet   []int64
		want   []int64 // feet bought
		left   int64   // inches left on the last one
	}{
		{"EN0069: two at 4 ft 6 in: one 10 ft, 12 in left", []int64{54}, repeat(2), 0, all,
			[]int64{10}, 12},
		{"EN0069: two at 3 ft: one 8 ft, 24 in left", []int64{36}, repeat(2), 0, all, []int64{8},
			24},
		{"EN0069: four at 2 ft 4 in: one 10 ft, 8 in left", []int64{28}, repeat(4), 0, all,
			[]int64{10}, 8},
		{"EN0069: nine at 3 ft of 8 or 10 ft: three 10 ft", []int64{36}, repeat(9), 0,
			[]int64{8, 10}, []int64{10, 10, 10}, 12},
		{"EN0069: scrub table, 10 ft only: five", []int64{54, 36}, repeat(4, 9), 0, []int64{10},
			[]int64{10, 10, 10, 10, 10}, 12},
		{"EN0069: scrub table with a 1/8 in kerf: still five", []int64{54, 36}, repeat(4, 9), 1,
			[]int64{10}, []int64{10, 10, 10, 10, 10}, 12},
		{"four 24 in of 96 in, kerf 1/8: only three fit", []int64{24}, repeat(4), 1, []int64{8},
			[]int64{8, 8}, 72},
	} {
		p := &cutting.Problem{Stocks: yard(c.feet...), Kerf: c.kerf}
		for _, in := range c.inches {
			p.Items = append(p.Items, cutting.Item{Size: in * 8})
		}
		for i := range p.Stocks {
			p.Stocks[i].Holds = p.Stocks[i].Holds[:len(p.Items)]
		}
		uses, unmet := baseline.Plan(context.Background(), p, make([]bool, len(p.Stocks)), c.list,
			baseline.BestFitDecreasing)
		var got []int64
		left := int64(0)
		for _, u := range singly(uses) {
			got = append(got, p.Stocks[u.Pattern.Stock].To/96)
			left = p.Stocks[u.Pattern.Stock].To / 8
			for _, pl := range u.Pattern.Places {
				left -= p.Items[pl.Item].Size / 8
			}
		}
		if !slices.Equal(got, c.want) || left != c.left || slices.Max(unmet) > 0 {
			t.Errorf("%s: got feet %v with %d in left on the last, unmet %v", c.name, got, left,
				unmet)
		}
	}
}

// The scrub table with lengths of 8 to 20 ft at one price per foot: the least purchase is 46 ft
// with no kerf and 48 ft with 1/8 in (by exhaustive search, computed for this project). The rules
// open 8 ft boards: 4 of 54 + 36, 3 of 36.
func TestRulesStayAboveTheLeastPurchase(t *testing.T) {
	for kerf, least := range []int64{46, 48} {
		p := &cutting.Problem{Items: []cutting.Item{{Size: 54 * 8}, {Size: 36 * 8}},
			Kerf: int64(kerf), Stocks: yard(8, 10, 12, 14, 16, 18, 20)}
		for i := range p.Stocks {
			p.Stocks[i].Cost = p.Stocks[i].To / 96
		}
		for _, rule := range baseline.Rules() {
			uses, _ := baseline.Plan(context.Background(), p, make([]bool, 7), repeat(4, 9), rule)
			if v := p.Value(uses); v != 56 || v < least {
				t.Errorf("%s, kerf %d/8: bought %d ft, want 56 (at least %d)", rule, kerf, v, least)
			}
		}
	}
}

// Layouts worked out by hand. Items: 0 is 60, 1 is 40, 2 is 30 (tolerates the spot), 3 is 25.
func TestLayoutsByHand(t *testing.T) {
	spot := cutting.Spot{From: 50, To: 55, Tolerated: [cutting.Classes]bool{false, false, true}}
	p := &cutting.Problem{
		Items: []cutting.Item{{Size: 60}, {Size: 40}, {Size: 30, Class: 2}, {Size: 25}},
		Kerf:  2,
		Stocks: []cutting.Stock{
			{From: 0, To: 110, Cost: 300, Supply: 1, Spots: []cutting.Spot{spot},
				Holds: []int{0, 1, 2, 3}, Slope: 3, Keep: 10},
			{From: 5, To: 75, Cost: 250, Supply: 1, Holds: []int{0, 1, 2, 3},
				Slope: 3, Keep: 10},
			{From: 2, To: 200, Cost: 900, Supply: 1, Holds: []int{0, 1, 2, 3},
				Slope: 3, Keep: 10},
			{From: 2, To: 100, Cost: 500, Supply: cutting.Any, Holds: []int{0, 1, 3},
				Slope: 3, Keep: 10},
		},
	}
	onHand := []bool{true, true, false, false}
	for _, c := range []struct {
		why   string
		rule  baseline.Rule
		list  []int
		want  string
		unmet []int64
	}{
		{"the shortest on hand first; a strict piece jumps the spot, a tolerant one lies on it",
			baseline.FirstFit, []int{1, 1, 2, 3}, "1: 1@5 3@47; 0: 1@0 2@42", []int64{0, 0, 0, 0}},
		{"a piece may end at the stock's end, without a kerf after it",
			baseline.FirstFit, []int{1, 2}, "1: 1@5; 0: 2@0", []int64{0, 0, 0, 0}},
		{"no clear stretch of 60 on stock 0; the bought one cheaper per length comes first",
			baseline.FirstFit, []int{0, 0, 0}, "1: 0@5; 2: 0@2 0@64", []int64{0, 0, 0, 0}},
		{"longest first: 60, 40, 30",
			baseline.FirstFitDecreasing, []int{2, 1, 0}, "1: 0@5; 0: 1@0 2@42",
			[]int64{0, 0, 0, 0}},
		{"bought 2 goes back for 3, which takes the piece for less: 500 - 3 x (36 - 10) against " +
			"900 - 3 x (136 - 10)",
			baseline.BestFitDecreasing, []int{0, 0}, "1: 0@5; 3: 0@2", []int64{0, 0, 0, 0}},
		{"where nothing holds a piece it is unmet",
			baseline.FirstFit, []int{2, 0, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2},
			"1: 2@5 2@37; 2: 0@2 2@64 2@96 2@128 2@160; 0: 2@0 2@32 2@64", []int64{0, 0, 5, 0}},
	} {
		uses, unmet := baseline.Plan(context.Background(), p, onHand, c.list, c.rule)
		if got := layout(uses); got != c.want || !slices.Equal(unmet, c.unmet) {
			t.Errorf("%s:\n got %s, unmet %v\nwant %s, unmet %v", c.why, got, unmet, c.want,
				c.unmet)
		}
	}
	uses, _ := baseline.Plan(context.Background(), p, onHand, []int{1}, baseline.FirstFit)
	if got := uses[0].Pattern.Worth; got != 3*(75-47-10) {
		t.Errorf("the offcut [47, 75) at 3 a unit, 10 kept, is worth 54; got %d", got)
	}
	if got := fmt.Sprint(baseline.Rules()); got != "[first fit first fit, longest first best fit, longest first]" {
		t.Errorf("rules: %s", got)
	}
}

// The 15 goes into the first open stock that takes it, or where least stays free: 38 - 2 - 15 = 21
// on stock 0, 18 - 2 - 15 = 1 on stock 1.
func TestBestFitTakesTheTightest(t *testing.T) {
	p := &cutting.Problem{
		Items: []cutting.Item{{Size: 70}, {Size: 90}, {Size: 15}},
		Kerf:  2,
		Stocks: []cutting.Stock{
			{To: 130, Supply: 1, Holds: []int{1, 2}},
			{To: 90, Supply: 1, Holds: []int{0, 2}},
		},
	}
	for rule, want := range map[baseline.Rule]string{
		baseline.FirstFit:           "1: 0@0 2@72; 0: 1@0",
		baseline.FirstFitDecreasing: "0: 1@0 2@92; 1: 0@0",
		baseline.BestFitDecreasing:  "0: 1@0; 1: 0@0 2@72",
	} {
		uses, _ := baseline.Plan(context.Background(), p, []bool{true, true}, []int{0, 1, 2}, rule)
		if got := layout(uses); got != want {
			t.Errorf("%s: got %s, want %s", rule, got, want)
		}
	}
}

// problems draws small problems with spots, trims, classes, holding, supplies and prices, and a
// list of pieces.
func problems(t *rapid.T) (*cutting.Problem, []bool, []int) {
	small := func(lo, hi int64, what string) int64 { return rapid.Int64Range(lo, hi).Draw(t, what) }
	p := &cutting.Problem{Kerf: small(0, 3, "kerf")}
	for range small(1, 4, "items") {
		p.Items = append(p.Items,
			cutting.Item{Size: small(1, 12, "size"), Class: int(small(0, 2, "class"))})
	}
	var onHand []bool
	for range small(0, 6, "stocks") {
		s := cutting.Stock{From: small(0, 2, "from"), Cost: small(0, 50, "cost"),
			Supply: small(-1, 3, "supply"),
			Slope:  small(0, 3, "slope"), Keep: small(0, 5, "keep")}
		s.To = s.From + small(-1, 30, "length")
		for range small(0, 3, "spots") {
			from := small(0, 30, "spot from")
			sp := cutting.Spot{From: from, To: from + small(1, 4, "spot length")}
			for c := range small(0, 2, "tolerated by") {
				sp.Tolerated[2-c] = true
			}
			s.Spots = append(s.Spots, sp)
		}
		slices.SortFunc(s.Spots, func(x, y cutting.Spot) int { return int(x.From - y.From) })
		for i := range p.Items {
			if small(0, 3, "holds") > 0 {
				s.Holds = append(s.Holds, i)
			}
		}
		p.Stocks = append(p.Stocks, s)
		onHand = append(onHand, rapid.Bool().Draw(t, "on hand"))
	}
	list := rapid.SliceOfN(rapid.IntRange(0, len(p.Items)-1), 0, 25).Draw(t, "list")
	return p, onHand, list
}

// accounted says that a rule exceeds no supply and places each copy or leaves it unmet, and that it
// gives the same again.
func accounted(t *rapid.T, p *cutting.Problem, onHand []bool, list []int, rule baseline.Rule) {
	uses, unmet := baseline.Plan(context.Background(), p, onHand, list, rule)
	count, used := slices.Clone(unmet), make([]int64, len(p.Stocks))
	for _, u := range uses {
		used[u.Pattern.Stock] += u.Times
		for _, pl := range u.Pattern.Places {
			count[pl.Item] += u.Times
		}
	}
	for s, n := range used {
		if supply := p.Stocks[s].Supply; supply >= 0 && n > supply {
			t.Fatalf("%s: %d of stock %d used, supply %d", rule, n, s, supply)
		}
	}
	for _, i := range list {
		count[i]--
	}
	if slices.ContainsFunc(count, func(n int64) bool { return n != 0 }) {
		t.Fatalf("%s: placed + unmet - asked = %v", rule, count)
	}
	again, _ := baseline.Plan(context.Background(), p, onHand, list, rule)
	if d := cmp.Diff(uses, again); d != "" {
		t.Fatalf("%s: the second run differs: %s", rule, d)
	}
}

// Every layout is legal, no supply is exceeded, and each copy of the list is placed or unmet; twice
// gives the same.
func TestEveryLayoutIsLegal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, onHand, list := problems(t)
		asked := slices.Clone(list)
		for _, rule := range baseline.Rules() {
			uses, _ := baseline.Plan(context.Background(), p, onHand, list, rule)
			for _, u := range uses {
				if u.Times < 1 || len(u.Pattern.Places) == 0 ||
					u.Pattern.Worth != p.Worth(&u.Pattern) {
					t.Fatalf("%s: use %+v", rule, u)
				}
				for n, pl := range u.Pattern.Places {
					if why := fault(p, u.Pattern.Stock, u.Pattern.Places[:n], pl); why != "" {
						t.Fatalf("%s: %+v: %s", rule, u, why)
					}
					if n > 0 && u.Pattern.Places[n-1].At > pl.At {
						t.Fatalf("%s: %+v: not sorted", rule, u)
					}
				}
			}
			accounted(t, p, onHand, list, rule)
		}
		if !slices.Equal(list, asked) {
			t.Fatal("the list was changed")
		}
	})
}

// fault says what is wrong with a piece on a stock beside others, unit by unit.
func fault(p *cutting.Problem, s int, others []cutting.Place, pl cutting.Place) string {
	stock, it := p.Stocks[s], p.Items[pl.Item]
	if !slices.Contains(stock.Holds, pl.Item) {
		return "not held"
	}
	for x := pl.At; x < pl.At+it.Size; x++ {
		if x < stock.From || x >= stock.To {
			return "outside"
		}
		for _, sp := range stock.Spots {
			if x >= sp.From && x < sp.To && !sp.Tolerated[it.Class] {
				return "on a spot"
			}
		}
		for _, o := range others {
			if oEnd := o.At + p.Items[o.Item].Size; x >= o.At-p.Kerf && x < oEnd+p.Kerf {
				return "within a kerf of another piece"
			}
		}
	}
	return ""
}

// First fit, done again the slow way: every start of every stock is tried, unit by unit.
func TestFirstFitTakesTheFirstThatFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, onHand, list := problems(t)
		got, gotUnmet := baseline.Plan(context.Background(), p, onHand, list, baseline.FirstFit)
		var want []cutting.Use
		unmet, used := make([]int64, len(p.Items)), make([]int64, len(p.Stocks))
		start := func(s, i int, places []cutting.Place) int64 {
			for at := p.Stocks[s].From; at < p.Stocks[s].To; at++ {
				if fault(p, s, places, cutting.Place{Item: i, At: at}) == "" {
					return at
				}
			}
			return -1
		}
		for _, i := range list {
			into, at := -1, int64(-1)
			for n := range want {
				if at = start(want[n].Pattern.Stock, i, want[n].Pattern.Places); at >= 0 {
					into = n
					break
				}
			}
			if into < 0 {
				best := -1
				for s, stock := range p.Stocks {
					if start(s, i, nil) < 0 || stock.Supply >= 0 && used[s] >= stock.Supply {
						continue
					}
					if best < 0 || rank(p, onHand, s).before(rank(p, onHand, best)) {
						best = s
					}
				}
				if best < 0 {
					unmet[i]++
					continue
				}
				used[best]++
				into, at = len(want), start(best, i, nil)
				want = append(want, cutting.Use{Pattern: cutting.Pattern{Stock: best}, Times: 1})
			}
			pat := &want[into].Pattern
			pat.Places = append(pat.Places, cutting.Place{Item: i, At: at})
			slices.SortFunc(pat.Places, func(a, b cutting.Place) int { return int(a.At - b.At) })
		}
		if layout(got) != layout(want) || !slices.Equal(gotUnmet, unmet) {
			t.Fatalf("got %s, unmet %v; want %s, unmet %v", layout(got), gotUnmet, layout(want),
				unmet)
		}
	})
}

// ranking is what decides between stocks to open: on hand before bought, then length or price per
// length, then length.
type ranking struct {
	bought           bool
	num, den, length int64
	s                int
}

func rank(p *cutting.Problem, onHand []bool, s int) ranking {
	length := p.Stocks[s].To - p.Stocks[s].From
	if onHand[s] {
		return ranking{false, 0, 1, length, s}
	}
	return ranking{true, p.Stocks[s].Cost, length, length, s}
}

func (a ranking) before(b ranking) bool {
	if a.bought != b.bought {
		return b.bought
	}
	if x, y := a.num*b.den, b.num*a.den; x != y {
		return x < y
	}
	return a.length < b.length || a.length == b.length && a.s < b.s
}
