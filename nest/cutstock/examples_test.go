package cutstock

import (
	"context"
	"testing"
)

// example is a published one-dimensional problem. Costs are whole.
type example struct {
	name, source string
	kerf         int64
	stocks       [][3]int64 // length, cost, supply
	items        [][2]int64 // length, demand
	optimum      int64
	relaxation   int64 // of the linear program, rounded up
}

const endless = Any

var examples = []example{
	{
		name:   "two lengths of stock and the first column generation",
		source: "P. C. Gilmore, R. E. Gomory, A linear programming approach to the cutting-stock problem, Oper. Res. 9 (1961) 849-859, as restated in Postek, Zocca, Gromicho, Kantor, Hands-On Mathematical Optimization with Python, 2025",
		stocks: [][3]int64{{5, 6, endless}, {6, 7, endless}, {9, 10, endless}},
		items:  [][2]int64{{2, 20}, {3, 10}, {4, 20}}, optimum: 170, relaxation: 170,
	},
	{
		name:   "rolls of 100 in",
		source: "V. Chvatal, Linear Programming, 1983, ch. 13, pp. 195-200",
		stocks: [][3]int64{{100, 1, endless}},
		items:  [][2]int64{{45, 97}, {36, 610}, {31, 395}, {14, 211}}, optimum: 453, relaxation: 453,
	},
	{
		name:   "a roll of 5600 mm",
		source: "Wikipedia, Cutting stock problem, section Illustration of one-dimensional cutting-stock problem",
		stocks: [][3]int64{{5600, 1, endless}},
		items: [][2]int64{{1380, 22}, {1520, 25}, {1560, 12}, {1710, 14}, {1820, 18}, {1880, 18}, {1930, 20}, {2000, 10}, {2050, 12},
			{2100, 14}, {2140, 16}, {2150, 18}, {2200, 20}}, optimum: 73, relaxation: 73,
	},
	{
		name:   "three of each length on hand",
		source: "J. Kantor, CBE40455 notebook 05.07 Stock Cutting",
		stocks: [][3]int64{{15, 15, 3}, {10, 10, 3}},
		items:  [][2]int64{{7, 3}, {6, 2}, {4, 6}, {3, 1}}, optimum: 60, relaxation: 60,
	},
	{
		name:   "the rounded relaxation is not reached: 13 items",
		source: "instance ANI13/1 of INFORMSJoC/2023.0399; cf. A. Caprara et al. on non-IRUP bin packing",
		stocks: [][3]int64{{160, 1, endless}},
		items:  [][2]int64{{65, 2}, {63, 1}, {54, 1}, {47, 1}, {46, 1}, {34, 3}, {12, 1}, {10, 1}, {8, 1}, {6, 1}}, optimum: 4, relaxation: 3,
	},
	{
		name:   "the rounded relaxation is not reached: gap 31/30",
		source: "M. Fieldhouse, The duality gap in trim problems, SICUP Bulletin 5 (1990)",
		stocks: [][3]int64{{30, 1, endless}},
		items:  [][2]int64{{15, 3}, {10, 5}, {6, 9}}, optimum: 6, relaxation: 5,
	},
	{
		name:   "scrub table, lengths of 8 to 20 ft, no kerf",
		source: "U.S. Army Engineer School, subcourse EN0069 Frame Structures, lesson 4, for the pieces; the least total of 46 ft is by our own exhaustive search",
		stocks: [][3]int64{{96, 96, endless}, {120, 120, endless}, {144, 144, endless}, {168, 168, endless}, {192, 192, endless}, {216, 216, endless}, {240, 240, endless}},
		items:  [][2]int64{{54, 4}, {36, 9}}, optimum: 46 * 12, relaxation: 45 * 12,
	},
	{
		name:   "scrub table, lengths of 8 to 20 ft, kerf 1/8 in",
		source: "the same; the least total of 48 ft is by our own exhaustive search. Lengths in 1/8 in",
		kerf:   1,
		stocks: [][3]int64{{768, 96, endless}, {960, 120, endless}, {1152, 144, endless}, {1344, 168, endless}, {1536, 192, endless}, {1728, 216, endless}, {1920, 240, endless}},
		items:  [][2]int64{{432, 4}, {288, 9}}, optimum: 48 * 12,
	},
}

// The published optimum is found, the bound does not pass it, and where the rounded relaxation is not reachable the bound does
// not pretend to be the optimum.
func TestPublishedExamples(t *testing.T) {
	for _, e := range examples {
		p := &Problem{Kerf: e.kerf}
		var holds []int
		for i, it := range e.items {
			p.Items = append(p.Items, Item{Size: it[0], Demand: it[1]})
			holds = append(holds, i)
		}
		for _, s := range e.stocks {
			p.Stocks = append(p.Stocks, Stock{To: s[0], Cost: s[1], Supply: s[2], Holds: holds, Rate: Rate{0, 1}})
		}
		r := Solve(context.Background(), p, Options{})
		if err := p.check(&r); err != nil {
			t.Errorf("%s: %v", e.name, err)
		}
		if r.Value != e.optimum || r.Bound > e.optimum || r.Bound < e.relaxation {
			t.Errorf("%s: value %d, bound %d; optimum %d, relaxation %d (%s)", e.name, r.Value, r.Bound, e.optimum, e.relaxation, e.source)
		}
		if e.relaxation > 0 && e.relaxation < e.optimum && r.Bound == r.Value && len(r.Certificate.Leaves) < 2 {
			t.Errorf("%s: bound %d is the optimum, yet the relaxation gives only %d", e.name, r.Bound, e.relaxation)
		}
		t.Logf("%s: value %d, bound %d, leaves %d", e.name, r.Value, r.Bound, len(r.Certificate.Leaves))
	}
}
