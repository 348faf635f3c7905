// Package proof says whether the certificates of a plan prove its bound.
//
//	reading, found := check.Check(job, plan)
//	found = append(found, proof.Bounds(reading)...)    // no findings: plan and bound are accepted
//
// A certificate claims, for one group: no plan that meets exactly the pieces met here costs less
// than the bound. The claim is judged with the job and the checker's reading, and with nothing of
// the solver, in three steps.
//
// First, the certificate is about this job (group.go, stocks.go). Stocks are boards of the rack and
// lines of the yard as they are, at what they cost. Each board or line that could give a piece
// stands in exactly one group. Each blank cut as a part is counted in exactly one item, and each
// item names all that could give it. Each part that is made up is a want, with all ways to make it
// (wants.go).
//
// Second, its nodes are splits of all plans, by how many boards of a stock they use or buy in all
// (bought.go), choices of how parts are made up, or leaves: so every plan lies in some leaf
// (leaf.go).
//
// Third, each leaf proves a bound by weak duality. All amounts are whole ticks of money, as package
// model reckons worth:
//
//	d       copies of an item
//	pi      its dual, whole and at least 0
//	z       boards of a stock, from least to most, as the splits above the leaf leave them
//	best    the most that one board of the stock can give in pieces, at their duals, and offcuts,
//	        less what its rips cost
//	cost    what one board costs
//
//	bound = sum over items of pi d
//	      + sum over stocks of min( least (cost - best), most (cost - best) )
//
// Why: a board of a plan costs cost and its rips, less its offcuts. Its pieces and offcuts, less
// its rips, give at most best. The rooms along and across work best out, exactly, but for stocks
// that are rough or on a coarser grid. The group's bound is the least over its leaves. A leaf may
// carry a list that proves more (list.go, cuts.go).
//
// Bound and value are compared as they are. A group is optimal where the bound is less than 1/10000
// of the currency below the value: no plan is cheaper by so much, or more. Its bound is then stated
// as its value, else rounded down to 1/10000.
//
// # Parts that are made up
//
// A plan chooses how some parts come about: of one piece, of staves and layers, of staves of
// different widths, and how many spare copies there are. So a certificate counts in two ways:
//
//	"items": [{length, width, face, demand, stocks}, ...]
//	"wants": [{commission, part, demand, forgo, ways: [{item, pieces, copies}, ...],
//	         covers: [{need, layers, staves: [{item, steps}, ...]}, ...]}, ...]
//
// Items are blanks of parts and of pieces alike, and where these are alike they are one. The demand
// of an item is that of parts which are just cut. A want is so many copies, by whichever ways. Its
// pieces are no demand: a leaf reckons what they are worth at least, W of choice.go, beside pi d.
//
//	"choice": {want, way, at_most, low, high}
//
// parts the plans of a node by how often a way is used. Without wants all of this is nothing.
//
// A copy that is short is counted nowhere. Of spare copies all that may be are wanted, and one that
// is not made costs forgo. So the certificate bounds the cost of a plan and of what it forgoes; the
// bound of the group is that less what this plan forgoes.
//
// # Within the demands
//
// Best is worked out for any number of copies. Yet no board of a plan gives more than the d of an
// item. In small jobs, where one board could give all pieces many times over, that makes nearly all
// of the gap. So a leaf may say less (within.go):
//
//	"within": [{stock, gives}, ...]
//
// Then gives takes the place of best, in the leaf's bound and for its list. It is judged by a list
// of the stock, on which nothing may give more.
//
// # Rough stocks
//
// Where the measures of a shop share little, or a board holds very many blanks, to work best out
// takes too long. A certificate may therefore call a stock rough. Then best is what one board gives
// by area alone (along/rough.go, across/rough.go). That is no less than the exact best. So a stock
// that is called rough without need proves less, never more.
//
// # Coarser grids
//
// Or a certificate names the steps of a grid for a stock, along and across. Then best is worked out
// for blanks, kerfs and defects rounded down to the grid and a board rounded up (along/coarser.go,
// across/coarser.go), where that is less than by area. It is no less than the exact best either.
//
// # Lists and cuts
//
// Branching alone, over columns or over counts, leaves thousands of nodes where one or two rounds
// of cuts close the node; this was measured. So a leaf may name cuts by their multipliers, over the
// list of patterns that solver and checker each make for themselves:
//
//	"list": {target, cuts: [{den, rows: [[row, multiplier], ...]}, ...],
//	         struck: [{duals, cut_duals}, ...], duals, cut_duals}
//
// Patterns are struck off before the last duals, by others over the first cuts. In place of its
// last duals a list may be split (listsplit.go), and each side carries on likewise:
//
//	"split": {stocks, having, item, at_most, low: {cuts, struck, duals, cut_duals}, high: {...}}
//
// Where splits above say how many boards are bought in all, that is a row or two before all cuts.
// The target is part of it, since another target would make another list, and so other cuts. The
// rooms along and across list a stock, exactly. Where it is rough or on a coarser grid its patterns
// cannot be listed, so a group with such a stock has no lists.
//
// # Limits of work
//
// A certificate may come from a file and ask for any amount of work, so all of it is limited. Most
// limits here are well above what the solver allows itself, and must stay so: else a plan of ours
// would fail its own check. Two numbers are not limits of that kind. They decide what a cut is, so
// both sides must have them equal: [MostDen] and [MostCoef]. Package across says what one board
// that can be ripped may ask for. Past that a stock must be rough.
package proof
