package cutstock

import (
	"cmp"
	"context"
	"slices"
	"testing"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// kinds are two optima: of layouts that are crosscut first, and of those that are ripped first.
type kinds [2]int64

func (k kinds) better() int64 { return max(k[0], k[1]) }

// optima are those of layouts in which a piece may be trimmed by a third cut, and of those in which
// none may: all pieces of a length are then equally long, all of a strip equally wide.
type optima struct{ trimmed, exact kinds }

func (o *optima) of(trim bool) kinds {
	if trim {
		return o.trimmed
	}
	return o.exact
}

// knapsack2 is a published problem in two dimensions: the pieces of greatest value from one stock,
// without kerf and without turning them.
type knapsack2 struct {
	name          string
	length, width int64
	items         [][4]int64 // size, width, value, most copies (0: no limit)
	unbounded     optima     // with the limits of copies ignored
	bounded       *optima    // with them
}

// Sizes, values and limits: repository ESICUP/datasets, licence CC0 1.0; cgcut from N.
// Christofides, C. Whitlock, An algorithm for two-dimensional cutting problems, Oper. Res. 25
// (1977) 30-44, WANG1 from P. Y. Wang, Two algorithms for constrained two-dimensional cutting stock
// problems, Oper. Res. 31 (1983) 573-586, OF from J. F. Oliveira, J. S. Ferreira (1990), gcut1 from
// J. E. Beasley, Algorithms for unconstrained two-dimensional guillotine cutting, JORS 36 (1985)
// 297-306 (citations partly from memory). Optima: the bounded ones of OF1 and OF2 with trimming are
// published (a collected table of best values and bounds; the papers are not at hand) and were
// computed anew; all others are computed: without limits by two dynamic programs, and here by a
// third, with limits by an arc-flow program proven by CBC.
var knapsacks = []knapsack2{
	{
		name: "cgcut1", length: 15, width: 10,
		items: [][4]int64{{8, 4, 66, 2}, {3, 7, 35, 1}, {8, 2, 24, 3}, {3, 4, 17, 5},
			{3, 3, 11, 2}, {3, 2, 8, 2}, {2, 1, 2, 1}},
		unbounded: optima{trimmed: kinds{248, 240}, exact: kinds{248, 240}},
		bounded:   &optima{trimmed: kinds{244, 240}, exact: kinds{244, 240}},
	},
	{
		name: "cgcut2", length: 40, width: 70,
		items: [][4]int64{{21, 22, 582, 1}, {31, 13, 403, 1}, {9, 35, 315, 3}, {9, 24, 216, 3},
			{30, 7, 210, 2}, {11, 13, 143, 3}, {10, 14, 140, 1}, {14, 8, 110, 3}, {12, 8, 94, 3},
			{13, 7, 90, 3}},
		unbounded: optima{trimmed: kinds{3076, 2902}, exact: kinds{3076, 2800}},
		bounded:   &optima{trimmed: kinds{2444, 2535}, exact: kinds{2022, 2208}},
	},
	{
		name: "cgcut3", length: 40, width: 70,
		items: [][4]int64{{31, 43, 500, 4}, {30, 41, 480, 2}, {29, 39, 460, 4},
			{28, 38, 440, 4}, {27, 37, 420, 3}, {26, 36, 410, 4}, {25, 35, 400, 3},
			{24, 34, 380, 4}, {33, 23, 360, 4}, {22, 32, 340, 3}, {31, 21, 320, 3},
			{29, 18, 300, 3}, {17, 27, 280, 2}, {15, 24, 240, 2}, {16, 25, 260, 4},
			{15, 24, 240, 1}, {23, 14, 220, 4}, {21, 12, 180, 3}, {19, 11, 160, 4},
			{9, 17, 140, 1}},
		unbounded: optima{trimmed: kinds{2240, 2240}, exact: kinds{2240, 2240}},
		bounded:   &optima{trimmed: kinds{1740, 1720}, exact: kinds{1440, 1520}},
	},
	{
		name: "WANG1", length: 33, width: 69,
		items: [][4]int64{{31, 43, 1333, 1}, {30, 41, 1230, 1}, {29, 39, 1131, 1},
			{28, 38, 1064, 1}, {27, 37, 999, 1}, {26, 36, 936, 1}, {25, 35, 875, 2},
			{24, 34, 816, 2}, {33, 23, 759, 3}, {22, 32, 704, 2}, {31, 21, 651, 3},
			{29, 18, 522, 3}, {17, 27, 459, 2}, {16, 25, 400, 4}, {15, 24, 360, 2},
			{15, 24, 360, 1}, {23, 14, 322, 4}, {21, 12, 252, 3}, {19, 11, 209, 4},
			{9, 17, 153, 1}},
		unbounded: optima{trimmed: kinds{2277, 2277}, exact: kinds{2277, 2277}},
		bounded:   &optima{trimmed: kinds{2277, 2277}, exact: kinds{2277, 2277}},
	},
	{
		name: "OF1", length: 70, width: 40,
		items: [][4]int64{{29, 5, 145, 1}, {9, 39, 351, 4}, {55, 9, 495, 1}, {31, 15, 465, 1},
			{11, 16, 176, 2}, {23, 21, 483, 3}, {29, 14, 406, 4}, {16, 19, 304, 3}, {9, 36, 324, 2},
			{22, 4, 88, 2}},
		unbounded: optima{trimmed: kinds{2742, 2713}, exact: kinds{2742, 2665}},
		bounded:   &optima{trimmed: kinds{2660, 2713}, exact: kinds{2660, 2437}},
	},
	{
		name: "OF2", length: 70, width: 40,
		items: [][4]int64{{22, 18, 396, 2}, {40, 10, 400, 1}, {13, 27, 351, 3},
			{23, 18, 414, 2}, {29, 8, 232, 4}, {16, 4, 64, 1}, {47, 9, 423, 1}, {19, 19, 361, 4},
			{13, 16, 208, 2}, {36, 16, 576, 4}},
		unbounded: optima{trimmed: kinds{2776, 2740}, exact: kinds{2760, 2740}},
		bounded:   &optima{trimmed: kinds{2522, 2515}, exact: kinds{2442, 2307}},
	},
	{
		name: "gcut1", length: 250, width: 250,
		items: [][4]int64{{167, 184, 30728, 0}, {114, 118, 13452, 0}, {167, 152, 25384, 0},
			{83, 140, 11620, 0}, {70, 86, 6020, 0}, {143, 166, 23738, 0}, {120, 160, 19200, 0},
			{66, 148, 9768, 0}, {87, 141, 12267, 0}, {69, 165, 11385, 0}},
		unbounded: optima{trimmed: kinds{53808, 56460}, exact: kinds{53808, 56460}},
	},
}

// program is the problem as one of cutting stock: the stock itself costs nothing and is there once,
// and every item has a stock of its own that holds just one of it and costs its value. A plan then
// costs the value of what is not cut from the first stock.
func (e *knapsack2) program(trim, bounded bool) (p *cutting.Problem, total int64) {
	p = &cutting.Problem{Stocks: []cutting.Stock{
		{To: e.length, Supply: 1,
			Across: &cutting.Across{Width: e.width, Trim: trim}}}}
	for i, it := range e.items {
		demand := it[3]
		if !bounded {
			demand = e.length / it[0] * (e.width / it[1])
		}
		p.Items = append(p.Items, cutting.Item{Size: it[0], Width: it[1], Demand: demand})
		p.Stocks[0].Holds = append(p.Stocks[0].Holds, i)
		p.Stocks = append(p.Stocks,
			cutting.Stock{To: it[0], Cost: it[2], Supply: cutting.Any,
				Holds: []int{i}})
		total += demand * it[2]
	}
	return p, total
}

// Without limits of copies the pricer's value is the optimum of the better kind.
func TestTwoStagePricing(t *testing.T) {
	for _, e := range knapsacks {
		for _, trim := range []bool{true, false} {
			p, _ := e.program(trim, false)
			var values, demand []int64
			k := newSolver(context.Background(), inCoins(p), Options{})
			for i, it := range e.items {
				values, demand = append(values, it[2]*coin), append(demand, p.Items[i].Demand)
			}
			got, _ := k.pricers[0].Vouch(k.ask(values, demand), price.Never)
			if want := e.unbounded.of(trim).better() * coin; got != want {
				t.Errorf("%s, trimming %t: %d, optimum %d", e.name, trim, got/coin, want/coin)
			}
		}
	}
}

// The table itself: both kinds by the textbook's recursion, a knapsack in each length or strip, and
// one of lengths or strips.
func TestTwoStageOptimaWithoutLimits(t *testing.T) {
	for _, e := range knapsacks {
		for _, trim := range []bool{true, false} {
			want := e.unbounded.of(trim)
			for kind, turned := range []bool{false, true} {
				if got := e.byRecursion(trim, turned); got != want[kind] {
					t.Errorf("%s, trimming %t, kind %d: %d in the table, %d by recursion", e.name,
						trim, kind, want[kind], got)
				}
			}
		}
	}
}

// byRecursion gives the optimum without limits of copies, turned: of layouts ripped first.
func (e *knapsack2) byRecursion(trim, turned bool) int64 {
	length, width := e.length, e.width
	items := slices.Clone(e.items)
	if turned {
		length, width = width, length
		for i := range items {
			items[i][0], items[i][1] = items[i][1], items[i][0]
		}
	}
	all := make([]int64, length+1)
	for _, first := range items {
		in := make([]int64, width+1) // of one length as long as the first
		for y := range in {
			for _, it := range items {
				if (it[0] == first[0] || trim && it[0] < first[0]) && it[1] <= int64(y) {
					in[y] = max(in[y], it[2]+in[int64(y)-it[1]])
				}
			}
		}
		for x := first[0]; x <= length; x++ {
			all[x] = max(all[x], in[width]+all[x-first[0]])
		}
		for x := int64(1); x <= length; x++ {
			all[x] = max(all[x], all[x-1])
		}
	}
	return all[length]
}

// With limits the whole solver's bound is never above the optimum, its plan is one that can be cut,
// and where the problem is small the plan is best.
func TestTwoStageWithLimits(t *testing.T) {
	for _, e := range knapsacks {
		if e.bounded == nil {
			continue
		}
		for _, trim := range []bool{true, false} {
			p, total := e.program(trim, true)
			optimum := e.bounded.of(trim).better()
			r := solveWhole(p, Options{Work: 1e8})
			cut := e.cutFromFirst(t, trim, &r)
			if r.Value != total-cut {
				t.Errorf("%s, trimming %t: costs %d, and what is not cut is worth %d", e.name, trim,
					r.Value, total-cut)
			}
			if cut > optimum || r.Bound > total-optimum {
				t.Errorf("%s, trimming %t: value %d, at most %d by the bound; the optimum is %d",
					e.name, trim, cut, total-r.Bound, optimum)
			}
			if cut < optimum && slices.Contains(foundIn[trim], e.name) {
				t.Errorf("%s, trimming %t: value %d, the optimum is %d", e.name, trim, cut, optimum)
			}
			t.Logf("%s, trimming %t: value %d, optimum %d, at most %d by the bound", e.name, trim,
				cut, optimum, total-r.Bound)
		}
	}
}

// foundIn are the problems whose optimum is to be found, with trimming and without, in so little
// work. The bound of the one left out is far from it.
var foundIn = map[bool][]string{true: {"cgcut1", "cgcut2", "cgcut3", "WANG1", "OF1", "OF2"},
	false: {"cgcut1", "cgcut3", "WANG1", "OF1", "OF2"}}

// cutFromFirst gives the value of what a plan cuts from the first stock, and fails where that
// cannot be cut.
func (e *knapsack2) cutFromFirst(t *testing.T, trim bool, r *Result) (value int64) {
	copies := make([]int64, len(e.items))
	for _, u := range r.Uses {
		if u.Pattern.Stock != 0 {
			continue
		}
		if u.Times != 1 || value > 0 {
			t.Errorf("%s: the stock is used more than once", e.name)
		}
		for _, pl := range u.Pattern.Places {
			value += e.items[pl.Item][2]
			if copies[pl.Item]++; copies[pl.Item] > e.items[pl.Item][3] {
				t.Errorf("%s: too many of item %d", e.name, pl.Item)
			}
		}
		if !e.canBeCut(trim, &u.Pattern) {
			t.Errorf("%s, trimming %t: %+v cannot be cut", e.name, trim, u.Pattern)
		}
	}
	return value
}

// box is [from, to] the way of the first cuts' spacing, [low, high] the other way.
type box struct{ from, to, low, high int64 }

// canBeCut says whether a pattern falls into lengths (or strips) by cuts from edge to edge, each as
// long as its longest piece, in which pieces lie beside each other, each of its item's size. A
// piece that has its length for itself may keep the whole width.
func (e *knapsack2) canBeCut(trim bool, pattern *cutting.Pattern) bool {
	var boxes []box
	first := pattern.First == cutting.CrosscutFirst
	for _, pl := range pattern.Places {
		it := e.items[pl.Item]
		whole := first && pl.Left == 0 && pl.Right == e.width
		if pl.At < 0 || pl.At+it[0] > e.length || pl.Left < 0 || pl.Right > e.width ||
			pl.Right-pl.Left != it[1] && !whole {
			return false
		}
		b := box{pl.At, pl.At + it[0], pl.Left, pl.Right}
		if !first {
			b = box{pl.Left, pl.Right, pl.At, pl.At + it[0]}
		}
		boxes = append(boxes, b)
	}
	slices.SortFunc(boxes, func(a, b box) int {
		return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(b.to, a.to))
	})
	for len(boxes) > 0 {
		n, end := 1, boxes[0].to
		for n < len(boxes) && boxes[n].from < end { // what lies beside it
			end = max(end, boxes[n].to)
			n++
		}
		if !oneStrip(trim, boxes[:n], boxes[0].from, end) {
			return false
		}
		boxes = boxes[n:]
	}
	return true
}

// oneStrip says whether boxes lie side by side in [from, to], one of them all of it, the others at
// an end of it, if they may be trimmed.
func oneStrip(trim bool, boxes []box, from, to int64) bool {
	full := false
	for i, b := range boxes {
		all := b.from == from && b.to == to
		full = full || all
		if !all && (!trim || b.from != from && b.to != to) {
			return false
		}
		for _, c := range boxes[:i] {
			if b.low < c.high && c.low < b.high {
				return false
			}
		}
	}
	return full
}
