// Package along prices stocks on which every piece takes the whole width, so that pieces follow
// each other. Make a [Maker] and ask it for the pricer of each stock.
//
// Words:
//
//	clear run   a part of a stock that no spot reaches into, as long as it goes
//	gap         what lies between two pieces, or between a piece and an end of the stock, less a
//	            kerf towards each piece
//	stretch     the part of a gap in one clear run; of length t it is worth
//	            w(t) = slope x max(0, t - keep)
//	to trade    to move, and give to the stretch on the one side what is taken on the other: so a
//	            piece can that lies over a spot it tolerates, or beside one narrower than the kerf
//
// There are two pricers:
//
//	separate    no piece can trade: each clear run is filled for itself, by a knapsack
//	linked      some piece can: a recursion over the starts where a piece may lie
//
// The map:
//
//	maker.go                  which stock has which pricer
//	separate.go, knapsack.go  the first pricer; front.go: the sums of pieces that it looks at;
//	                          fillings.go: its list of layouts
//	linked.go, cursor.go      the second pricer, its recursion; walk.go: its layouts; labels.go:
//	                          its list of layouts
//	starts.go                 where a piece may start, so that no layout is missed
//	layouts.go                the layouts of a list, by their counts
//
// Decisions:
//
// Nothing goes by units of length. With a kerf in millimetres in an inch shop a board has a hundred
// thousand of them, and some dozens of sums or starts that count. Work is still counted by lengths,
// as of a table, up to a limit: so that a round measure has the plans that it had.
//
// Demands bound the copies. In one clear run an item has at most as many copies as are wanted. That
// is exact for a stock of one run and a valid relaxation for several. On linked stocks copies are
// unlimited in the bound; the layouts that a search takes from them keep to the demands.
//
// A stock is used for at least one piece. Else a branch that asks for a stock would get it for
// nothing.
package along
