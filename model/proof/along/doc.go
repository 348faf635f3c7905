// Package along works out the most that one board can give along its length, and every pattern it
// can be used for.
//
// Its boards are those that cannot be ripped, so that every layout is one of the length alone.
//
//	Most.One       the most that one board gives at given duals: pieces at their duals, at least
//	               one of them, and offcuts at their worth
//	Lister.List    all counts of pieces that some layout gives and that reach a given value, each
//	               with the greatest worth of the offcuts beside them
//
// The symbols are the same in all files:
//
//	[S, U)    the usable span: S = trim, U = length - trim
//	spots     the defects with their margins, clipped to [S, U)
//	k         the kerf
//	l, pi, d  length, dual and demand of a blank
//	w(t)      the worth of a clear run of length t: slope x max(0, t - keep)
//
// Lengths are in units of the job's valuation, values in ticks of money.
//
// A bound is right only if the most is never too low, so it is worked out over all layouts. Where
// no piece fits it is the worth of the whole board. At least one piece is asked for: else a leaf
// that wants a board used would be met by a board used for nothing.
//
// # Linked boards
//
// A board is linked where a piece can trade the length of two clear runs against each other. A
// piece can trade if it lies over a spot that it tolerates, or beside one narrower than the kerf.
// On any other board each clear run stands for itself: pushing its pieces to one side merges its
// gaps into one. That loses nothing, as w(s) + w(t) <= w(s + t). So there are two ways to work a
// board out:
//
//	           not linked      linked
//	the most   runs.go         table.go
//	the list   fill.go         rows.go, labels.go
//	over       stairs.go       places.go
//
// The last line is what both go over in place of units of length. With a kerf in millimetres in an
// inch shop a board has a hundred thousand units, and some dozens of stairs or places.
package along
