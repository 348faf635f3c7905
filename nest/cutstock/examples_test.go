package cutstock

import (
	"slices"
	"testing"

	"rackwright/nest/cutting"
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

const endless = cutting.Any

var examples = []example{
	{
		name: "two lengths of stock and the first column generation",
		source: "P. C. Gilmore, R. E. Gomory, A linear programming approach to the cutting-stock " +
			"problem, Oper. Res. 9 (1961) 849-859, as restated in Postek, Zocca, Gromicho, " +
			"Kantor, Hands-On Mathematical Optimization with Python, 2025",
		stocks: [][3]int64{{5, 6, endless}, {6, 7, endless}, {9, 10, endless}},
		items:  [][2]int64{{2, 20}, {3, 10}, {4, 20}}, optimum: 170, relaxation: 170,
	},
	{
		name:   "rolls of 100 in",
		source: "V. Chvatal, Linear Programming, 1983, ch. 13, pp. 195-200",
		stocks: [][3]int64{{100, 1, endless}},
		items:  [][2]int64{{45, 97}, {36, 610}, {31, 395}, {14, 211}}, optimum: 453,
		relaxation: 453,
	},
	{
		name: "a roll of 5600 mm",
		source: "Wikipedia, Cutting stock problem, section Illustration of one-dimensional " +
			"cutting-stock problem",
		stocks: [][3]int64{{5600, 1, endless}},
		items: [][2]int64{{1380, 22}, {1520, 25}, {1560, 12}, {1710, 14}, {1820, 18}, {1880, 18},
			{1930, 20}, {2000, 10}, {2050, 12},
			{2100, 14}, {2140, 16}, {2150, 18}, {2200, 20}}, optimum: 73, relaxation: 73,
	},
	{
		name:   "three of each length on hand",
		source: "J. Kantor, CBE40455 notebook 05.07 Stock Cutting",
		stocks: [][3]int64{{15, 15, 3}, {10, 10, 3}},
		items:  [][2]int64{{7, 3}, {6, 2}, {4, 6}, {3, 1}}, optimum: 60, relaxation: 60,
	},
	{
		name: "the rounded relaxation is not reached: 13 items",
		source: "instance ANI13/1 of INFORMSJoC/2023.0399; cf. A. Caprara et al. on non-IRUP " +
			"bin packing",
		stocks: [][3]int64{{160, 1, endless}},
		items: [][2]int64{{65, 2}, {63, 1}, {54, 1}, {47, 1}, {46, 1}, {34, 3}, {12, 1}, {10, 1},
			{8, 1}, {6, 1}}, optimum: 4, relaxation: 3,
	},
	{
		name:   "the rounded relaxation is not reached: gap 31/30",
		source: "M. Fieldhouse, The duality gap in trim problems, SICUP Bulletin 5 (1990)",
		stocks: [][3]int64{{30, 1, endless}},
		items:  [][2]int64{{15, 3}, {10, 5}, {6, 9}}, optimum: 6, relaxation: 5,
	},
	{
		name: "scrub table, lengths of 8 to 20 ft, no kerf",
		source: "U.S. Army Engineer School, subcourse EN0069 Frame Structures, lesson 4, for the " +
			"pieces; the least total of 46 ft is by our own exhaustive search",
		stocks: [][3]int64{{96, 96, endless}, {120, 120, endless}, {144, 144, endless},
			{168, 168, endless}, {192, 192, endless}, {216, 216, endless}, {240, 240, endless}},
		items: [][2]int64{{54, 4}, {36, 9}}, optimum: 46 * 12, relaxation: 45 * 12,
	},
	{
		name: "scrub table, lengths of 8 to 20 ft, kerf 1/8 in",
		source: "the same; the least total of 48 ft is by our own exhaustive search. " +
			"Lengths in 1/8 in",
		kerf: 1,
		stocks: [][3]int64{{768, 96, endless}, {960, 120, endless}, {1152, 144, endless},
			{1344, 168, endless}, {1536, 192, endless}, {1728, 216, endless}, {1920, 240, endless}},
		items: [][2]int64{{432, 4}, {288, 9}}, optimum: 48 * 12,
	},
	{
		name: "rolls of 110 in",
		source: "R. Fourer, D. M. Gay, B. W. Kernighan, AMPL: A Modeling Language for " +
			"Mathematical Programming, 2nd ed., 2003, cut.dat",
		stocks: [][3]int64{{110, 1, endless}},
		items:  [][2]int64{{20, 48}, {45, 35}, {50, 24}, {55, 10}, {75, 8}}, optimum: 47,
		relaxation: 47,
	},
	{
		name:   "rolls of 115",
		source: "IBM ILOG Concert sample cutstock, cutstock.dat",
		stocks: [][3]int64{{115, 1, endless}},
		items:  [][2]int64{{25, 50}, {40, 36}, {50, 24}, {55, 8}, {70, 30}}, optimum: 60,
		relaxation: 60,
	},
	{
		name:   "twenty widths from rolls of 1000",
		source: "JuMP documentation, tutorial on column generation for cutting stock",
		stocks: [][3]int64{{1000, 1, endless}},
		items: [][2]int64{{750, 189}, {538, 33}, {530, 36}, {510, 41}, {502, 35}, {322, 37},
			{308, 44}, {298, 49}, {201, 37}, {162, 36}, {145, 42}, {110, 33}, {86, 47}, {82, 35},
			{66, 49}, {51, 42}}, optimum: 334, relaxation: 334,
	},
	{
		name: "bins of 9",
		source: "J. P. Pedroso et al., Mathematical Optimization: Solving Problems using SCIP " +
			"and Python, example CuttingStockExample2; optimum by an arc-flow program",
		stocks: [][3]int64{{9, 1, endless}},
		items:  [][2]int64{{2, 4}, {3, 2}, {4, 6}, {5, 6}, {6, 2}, {7, 2}, {8, 2}}, optimum: 13,
		relaxation: 13,
	},
	{
		name: "large demands, rolls of 110",
		source: "J. Lee, A First Course in Linear Optimization, csp.dat; optimum by an " +
			"arc-flow program",
		stocks: [][3]int64{{110, 1, endless}},
		items:  [][2]int64{{70, 205}, {40, 2321}, {55, 143}, {25, 1089}, {35, 117}}, optimum: 1378,
		relaxation: 1378,
	},
	{
		name:   "bars of 10",
		source: "MiniZinc benchmarks, cutstock.mzn, J. Puchinger, 2007",
		stocks: [][3]int64{{10, 1, endless}},
		items:  [][2]int64{{7, 2}, {5, 2}, {3, 4}}, optimum: 4, relaxation: 4,
	},
	{
		name: "boards of 17 ft",
		source: "W. L. Winston, Operations Research: Applications and Algorithms, section on " +
			"column generation (data from memory; optimum by an arc-flow program)",
		stocks: [][3]int64{{17, 1, endless}},
		items:  [][2]int64{{3, 25}, {5, 20}, {9, 15}}, optimum: 19, relaxation: 19,
	},
	{
		name:   "boards of 20 ft",
		source: "textbook exercise on 20-foot boards; optimum by an arc-flow program",
		stocks: [][3]int64{{20, 1, endless}},
		items:  [][2]int64{{3, 50}, {4, 25}, {8, 15}, {10, 70}}, optimum: 54, relaxation: 54,
	},
	{
		name:   "boards of 25 ft into 7, 9 and 10 ft",
		source: "textbook exercise on 25-foot boards; optimum by an arc-flow program",
		stocks: [][3]int64{{25, 1, endless}},
		items:  [][2]int64{{7, 700}, {9, 1200}, {10, 300}}, optimum: 775, relaxation: 775,
	},
	{
		name:   "boards of 25 ft into 7, 9 and 11 ft",
		source: "textbook exercise on 25-foot boards; optimum by an arc-flow program",
		stocks: [][3]int64{{25, 1, endless}},
		items:  [][2]int64{{7, 5000}, {9, 1200}, {11, 300}}, optimum: 2167, relaxation: 2167,
	},
	{
		name: "rolls of 100 in, 35 instead of 36",
		source: "SAS/OR User's Guide: Mathematical Programming, Example 4.5; optimum by an " +
			"arc-flow program",
		stocks: [][3]int64{{100, 1, endless}},
		items:  [][2]int64{{45, 97}, {35, 610}, {31, 395}, {14, 211}}, optimum: 453,
		relaxation: 453,
	},
	{
		name:   "three lengths, cost by length",
		source: "tutorial on three stock lengths at least waste; optimum by an arc-flow program",
		stocks: [][3]int64{{100, 100, endless}, {80, 80, endless}, {55, 55, endless}},
		items:  [][2]int64{{45, 150}, {30, 200}, {18, 175}}, optimum: 16575, relaxation: 16572,
	},
	{
		name: "two lengths, cost by length",
		source: "question on steel bars of 1.5 m and 2 m for desk legs; optimum by an " +
			"arc-flow program",
		stocks: [][3]int64{{150, 150, endless}, {200, 200, endless}},
		items:  [][2]int64{{40, 432}, {60, 500}, {70, 400}}, optimum: 75300, relaxation: 75280,
	},
	{
		name: "2x4 for a sofa, no kerf",
		source: "Postek, Zocca, Gromicho, Kantor, Hands-On Mathematical Optimization with " +
			"Python, 2025, notebook 05/06, Woodworking",
		stocks: [][3]int64{{288, 168, endless}, {384, 186, endless}, {576, 257, endless},
			{672, 265, endless}, {768, 292, endless}, {960, 367, endless}, {1152, 440, endless},
			{1344, 514, endless}, {1536, 692, endless}, {1728, 862, endless},
			{1920, 1040, endless}},
		items:   [][2]int64{{576, 6}, {566, 1}, {564, 3}, {228, 1}, {204, 10}, {100, 1}},
		optimum: 3123, relaxation: 3108,
	},
	{
		name:   "2x4 for a sofa, eleven lengths, kerf 1/8 in (lengths in 1/8 in, money in cents)",
		source: "the same with a kerf of 1/8 in for every part",
		kerf:   1,
		stocks: [][3]int64{{287, 168, endless}, {383, 186, endless}, {575, 257, endless},
			{671, 265, endless}, {767, 292, endless}, {959, 367, endless}, {1151, 440, endless},
			{1343, 514, endless}, {1535, 692, endless}, {1727, 862, endless},
			{1919, 1040, endless}},
		items:   [][2]int64{{576, 6}, {566, 1}, {564, 3}, {228, 1}, {204, 10}, {100, 1}},
		optimum: 3228, relaxation: 3217,
	},
	{
		name:   "2x4 for a sofa, kerf 1/4 in",
		source: "the same with a kerf of 1/4 in for every part; its own heuristic gives 32.44",
		kerf:   2,
		stocks: [][3]int64{{286, 168, endless}, {382, 186, endless}, {574, 257, endless},
			{670, 265, endless}, {766, 292, endless}, {958, 367, endless}, {1150, 440, endless},
			{1342, 514, endless}, {1534, 692, endless}, {1726, 862, endless},
			{1918, 1040, endless}},
		items:   [][2]int64{{576, 6}, {566, 1}, {564, 3}, {228, 1}, {204, 10}, {100, 1}},
		optimum: 3228, relaxation: 3217,
	},
}

// Every published optimum is found and proven, also where the rounded relaxation does not reach it:
// there by a list and cuts.
func TestPublishedExamples(t *testing.T) {
	for _, e := range examples {
		p := &cutting.Problem{Kerf: e.kerf}
		var holds []int
		for i, it := range e.items {
			p.Items = append(p.Items, cutting.Item{Size: it[0], Demand: it[1]})
			holds = append(holds, i)
		}
		for _, s := range e.stocks {
			p.Stocks = append(p.Stocks,
				cutting.Stock{To: s[0], Cost: s[1], Supply: s[2], Holds: holds})
		}
		r := solveWhole(p, Options{})
		if err := checkResult(p, &r); err != nil {
			t.Errorf("%s: %v", e.name, err)
		}
		if r.Value != e.optimum || r.Bound != e.optimum {
			t.Errorf("%s: value %d, bound %d; optimum %d (%s)", e.name, r.Value, r.Bound, e.optimum,
				e.source)
		}
		listed := func(l *Leaf) bool { return l.List != nil }
		if e.relaxation < e.optimum && r.Certificate.Split == nil &&
			!slices.ContainsFunc(leavesOf(r.Certificate), listed) {
			t.Errorf("%s: the relaxation gives %d only, and the certificate has nothing beyond it",
				e.name, e.relaxation)
		}
	}
}
