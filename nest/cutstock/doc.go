// Package cutstock searches: it solves one cutting-stock program to a plan with a proven bound.
//
//	min   sum (c_s - v_p) x_p       x_p: how often pattern p of stock s is used
//	                                v_p: worth of the offcuts that p returns, less its rips
//	s.t.  sum a_ip x_p >= d_i       for each item i          dual pi_i >= 0
//	      sum of p of s x_p <= u_s  for each stock s         dual mu_s <= 0
//	      x whole
//
// Demands are met with ">=": so the duals are never negative. Surplus pieces are taken out at the
// end. That costs no more, but where a strip becomes narrower and its rip would meet a weak spot.
// Supply may fall short: each item has a column of its own that meets it at a price above any real
// one. What such columns meet in the end is unmet.
//
// # The way of a search
//
// Call [Solve].
//
//   - colgen.go generates columns: a linear program over those found ([lp.Problem], master.go),
//     then the columns that its duals ask the pricers for (pricers.go), until there are none.
//   - bound.go rounds the duals to whole numbers and derives the bound from them. within.go solves
//     the relaxation once more, over patterns within the demands, where a pricer counts any number
//     of copies.
//   - dive.go and combine.go look for plans: straight down the relaxation, and by an integer
//     program over the columns found. incumbent.go keeps the best, and tells.
//   - branch.go branches on how many of a stock are used, or are bought in all (limits.go). Most
//     nodes are closed by finish.go: list.go lists every pattern that a cheaper plan could use, and
//     package cuts adds cuts over them and branches, until nothing there is cheaper. It makes the
//     list shorter where there is next to no gap.
//   - reopen.go plans some stocks of the incumbent anew, again and again, above all where boards
//     can be ripped. ties.go picks among plans of the same cost.
//   - wants.go solves relaxations in which it is open how what is wanted is made ([Choosing]).
//     descend.go walks down from them to plans, rechoose.go plans some stocks anew, with all that
//     was chosen. Package choosing calls them.
//
// With awkward kerfs a plan is looked for with kerfs rounded up, first (pricers.go). Where tables
// would be too large, or a pricing too long, gridbound.go bounds what a stock gives on a coarser
// grid (grids.go) or by area, and looks for the best prices on these grids. Where all pricing takes
// long refine.go says which stock is worked out how finely.
// Package rough looks for patterns of stocks without tables. Programs of many items have a way of
// their own (many.go): a first plan fills stocks in turn, stocks with spots are priced at fewer
// starts, and the relaxation ends in time for dives. With very many items it is solved for
// duals that lie on a surface over length and width (surface.go).
//
// Floating point is used in the linear programs only. Every plan is valued, and every bound
// derived, in whole ticks of money. Work is counted on one meter, and budget.go says which share
// each phase gets: so the same limit gives the same plan on any machine.
//
// # Decisions
//
// Lists and cuts. A leaf of the certificate may name cuts by their multipliers, over a list of
// patterns that solver and checker each make for themselves. The target of the list is part of the
// leaf: another target makes another list, and so other cuts. Where the list for the incumbent's
// cost is too long, a list for a cost nearer to the bound raises the bound to that cost. Measured:
// branching alone, over columns or counts, leaves thousands of nodes where one or two rounds of
// cuts close the node.
//
// Limits. The checker's own limits of a list (patterns, steps) are above [LongestList] and those of
// the pricers; else a plan of ours could fail its own check.
//
// Copies. The pricing of a stock that can be ripped counts any number of copies: demands would have
// to be counted over the lengths and over the rows in each. Lists do count them. So the relaxation
// is first solved by pricing, which is quick, and then over patterns within the demands, by a few
// lists of those that gain. Measured: that takes a tenth of a second, and raises the bound by 0.1
// to 0.8 % in half of the groups. Without it nothing is proven in small jobs, where one board could
// give all pieces many times over.
//
// What counts as cheaper. Costs are in ticks of money, far finer than any purse; a coin is the
// least amount that counts ([cutting.Problem]). A plan is proven when none is cheaper by a coin,
// and no search is for less. Else a search would go on for plans that look the same, and the
// rounding of duals to whole ticks would keep its last bound just below every plan.
//
// Penalties for unmet pieces are 64 times the dearest stock, times up to 10 by their length. The
// dearest stock costs at most 2^46 parts, and the pieces of one stock may be worth up to 2^59
// together: so the duals of up to 100 pieces on a stock need not be cut down.
//
// Setups have no place among the ties: there is one stop for each size, whatever the plan, and at
// most one fence for each width.
//
// Indices: i item, s stock, t pattern, j column, n anything else.
package cutstock
