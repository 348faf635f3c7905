// Package across prices stocks on which pieces lie beside each other.
//
// Such a stock is crosscut into lengths that are ripped, or ripped into strips that are crosscut.
//
// A [Maker] makes the pricers. Vouch gives the most that any pattern of a stock is worth, exactly.
// Price gives the same or less, faster. Walk gives the pattern of the last pricing.
//
// # Symbols
//
//	x, y    a point along, from the usable start; a point across, from the left edge
//	L, W    how long and how wide the stock is
//	kc, kr  the kerf of a crosscut, and of a rip
//	e       the inset at either edge
//	kw      the least width of an offcut
//	keep    the part of each clear run that is worth nothing
//	g       the common step of everything across
//	u       the worth of an area
//
// A thing is a length, a strip or a piece. A row is what lies in one length or strip, or fills the
// stock: things one after the other, and gaps. A thing has full size if it is as long as its
// length, or as wide as its strip. A spot reaches into an area, or the area is clear of it.
//
// # Worth is linear
//
// All values are whole numbers, money x scale x [Fine]. An area at least kw wide, or as wide as the
// stock, is worth
//
//	u = s0 x sum over its bands of  width of the band / g
//	                                x sum over the clear runs of the band of max(0, run - keep)
//	s0 = ceil(scale x Fine x rate x g / W)
//
// A band is a part of the width in which the spots are the same all over. s0 is the worth of one
// unit of length of one step. A narrower area is worth nothing.
//
// The worth in a plan is rounded down run by run, and so is never above u. A rounded worth would not
// be linear, and few starts could not be proven to suffice. This costs about a unit of money for
// each offcut: so much weaker is a bound, and some optimal plans are not proven optimal. Fine keeps
// small what the rounding up of s0 adds. The checker of plans reckons in as many parts of a unit, by
// starts of its own, and comes to the same number.
//
// # Two kinds of pattern
//
// Crosscut first. The length l at x is worth Q(l, x), the better of two: one piece l long, plain,
// over the whole width; or the best row of ripped pieces across it, at least one of them l long. A
// shorter piece lies at one end of the length, and leaves a remainder at the other. A recursion
// along the stock chooses the lengths and the gaps between them (lengths.go).
//
// Rip first. The strip w wide at y is worth V(w, y), the best row of pieces along it, at least one
// of them w wide. A narrower piece lies at one side of the strip. A recursion across the stock
// chooses the strips and the gaps between them (strips.go).
//
// # One piece at least
//
// A stock is used for at least one piece, else a branch that asks for a stock would get it for
// nothing. So a pattern has a length or strip, and each of these a piece of full size. Where no
// piece has a place, the value is that of the bare stock.
//
// # Lazily
//
// Spots only take away: Q(l, x) <= Q(l) and V(w, y) <= V(w), the values where no spot is. Alike
// stocks share these (cleartable.go). The outer recursion starts with these bounds. What it chooses
// is then priced with its spots, and the recursion runs again. It ends when all that it chooses has
// the value that it was credited with: that is the best, as all else has at most its bound. Stocks
// without spots need no second round.
//
// # Where things may start
//
// All numbers are whole, and everything is a multiple of a grid, so that all multiples of the grid
// would do as starts. Fewer do. Take a best pattern. Shift a block of touching things along one
// axis, all else fixed. The value is linear in the shift between breakpoints.
//
//   - Where the value bends upwards there is no maximum. So it is where a run reaches keep.
//   - Elsewhere an edge of an area meets an edge of a spot: the area just clears the spot, or a gap
//     just reaches it. Across, a gap may also be just kw wide. There the value is the better one of
//     those on either side.
//
// So there is a best pattern in which each block leans on an anchor. Things start at these:
//
//   - the near end, and where a spot ends;
//   - where a spot starts + kerf, as a gap then ends where the spot starts;
//   - for each size z of a shorter (narrower) piece at the near side of its length (strip), where a
//     spot starts - z, and where it ends - kerf - z: the piece ends z behind the start, and its
//     remainder starts a kerf after that;
//   - across, a kerf behind a gap of kw from the edge of the stock, or from a block that leans
//     itself.
//
// Things end at the mirror images of these. The starts behind a block that leans are sums forward,
// those before it sums backward, of sizes + kerfs. The starts along do not depend on those across,
// so that both axes may be shifted in turn.
//
// # Two ways
//
// The quick way ends after a few rounds, and then takes the best of what is priced by then. Some
// pattern has that value: it is for columns. The other way goes on to the end: it is for bounds, and
// to see that no column is missing. A round prices some lengths besides those that it chose:
// pending.go says which.
//
// # Copies, lists and cuts
//
// A pattern may have any number of copies of an item. To count them, demands would have to be
// counted over the lengths of a stock, and over the rows in each. Where a relaxation uses too many,
// the search sets a quota: it prices the stock at lower duals.
//
// There are no lists of patterns, and no cuts. A list of all useful patterns would be one of all
// useful rows in all useful lengths. Groups with such a stock are closed by branching, or stay with
// a gap.
package across

// Fine is how many parts of a unit of money x scale are reckoned in. The checker's proof of a bound
// must reckon in as many.
const Fine = 1 << 10
