// Package cutting is a cutting-stock program in engine words: items, stocks, patterns, and what a
// layout is worth.
//
// A [Problem] asks for so many copies of each [Item]. A [Stock] gives pieces and returns offcuts. A
// [Pattern] is one stock laid out: a [Place] for each piece. On most stocks every piece takes the
// whole width. On a stock with [Across] pieces may lie beside each other, and the pattern says
// which cut comes first:
//
//	whole width         |AAAA|BB|...|    pieces one after the other; dots are left
//
//	crosscut first      |AAAA|CC|...|    the stock is cut into lengths,
//	                    |AAAA|DD|...|    a length is ripped into pieces beside each other
//
//	rip first           |EEEEEE|FF|.|    the stock is ripped into strips,
//	                    |GGG|HHHHH|.|    a strip is cut into pieces behind each other
//
// [Problem.Legal] says where a piece may lie, [Problem.Worth] what the offcuts of a pattern are
// worth, less what its rips cost (rips.go). [Problem.Greedy] fills a stock, [Problem.Drop] takes a
// piece out, [Problem.Layout] lays pieces out anew, [Problem.Normal] gives the normal form.
//
// All lengths are whole units, all costs and worths whole ticks of money: worth is linear, so that
// nothing is rounded. Spans are half open, [From, To). Indices: i item, s stock, n anything else; t
// is a pattern.
package cutting
