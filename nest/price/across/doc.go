// Package across prices stocks on which pieces lie beside each other.
//
// Such a stock is crosscut into lengths that are ripped, or ripped into strips that are crosscut.
//
// A [Maker] makes the pricers. Vouch gives the most that any pattern of a stock is worth, exactly.
// Price gives the same or less, faster. Walk gives the pattern of the last pricing. List gives
// every pattern that is worth enough. The rooms below say what offcuts are worth, where things may
// start, and list rows of things.
//
// # Symbols
//
//	x, y  a point along, from the usable start; a point across, from the left edge
//	W     how wide the stock is
//	kw    the least width of an offcut, but for one as wide as the stock
//	keep  the part of each clear run that is worth nothing
//	g     a step: everything across is a multiple of it
//	u     the worth of an area
//	s0    that of one unit of length of one step
//	rip   what one rip costs: RipCost times its length
//
// A thing is a length, a strip or a piece. A row is a number of things one after the other, with
// gaps between them: the pieces of a length or strip, or the lengths or strips of a stock. A piece
// has full size if it is as long as its length, or as wide as its strip. A spot reaches into an
// area, or else the area is clear of the spot.
//
// # Worth is linear
//
// An area at least kw wide, or as wide as the stock, is worth
//
//	u  = s0 x sum over its bands of  width of the band / g
//	                                x sum over the clear runs of the band of max(0, run - keep)
//	s0 = g x Slope of an area as wide as the stock, g x Strip of any other
//
// A band is a part of the width in which the spots are the same all over. s0 is the worth of one
// unit of length of one step. A narrower area is worth nothing. As wide as the stock are only gaps
// between lengths, and what lies behind a piece, or in a strip, that is as wide itself.
//
// # Two kinds of pattern
//
// Crosscut first. The length l at x is worth Q(l, x), the better of two. One is a piece l long,
// plain, over the whole width. The other is the best row of ripped pieces across the length, at
// least one of them l long. A shorter piece lies at one end of the length, and leaves a remainder
// at the other. A recursion along the stock chooses the lengths and the gaps between them
// (lengths.go).
//
// Rip first. The strip w wide at y is worth V(w, y): the best row of pieces along it, at least one
// of them w wide. A narrower piece lies at one side of the strip. A recursion across the stock
// chooses the strips and the gaps between them (strips.go).
//
// # Rips
//
// A thing across has a rip on each side, but at the stock's edge. It is as long as the length, or
// as the stock that is ripped first. Two things just a kerf apart share one: a row across has a
// second table for starts that touch the thing before (acrossfill.go). A piece narrower than its
// strip has a rip of its own length, which its value bears. So a value may be below nothing, and
// only price.None means that there is no such thing.
//
// No rip meets a weak spot. That only bars places: of a piece in a length by the spots in the
// length, of a strip by all, of a trimmed piece by those that its rip meets beside it.
//
// A stock with weak spots may be ripped first over a part of its length. Each such span is priced
// as a stock of its own, with the worth of the two ends added (strips.go).
//
// # One piece at least
//
// A stock is used for at least one piece, else a branch that asks for a stock would get it for
// nothing. So a pattern has a length or strip, and each of these a piece of full size. Where no
// piece has a place, the value is that of the bare stock.
//
// # Lazily
//
// Spots only take away: Q(l, x) <= Q(l) and V(w, y) <= V(w), the values where no spot is. Stocks
// that differ in length and spots only share these (cleartable.go). The outer recursion starts with
// them as bounds. The lengths or strips that it chooses are then priced with their spots, and the
// recursion runs again. It ends when all that it chooses has been priced. Its choice is then the
// best, for everything else was credited with no less than its value. Stocks without spots need no
// second round.
//
// # Where things may start
//
// All numbers are whole, and everything is a multiple of a grid, so that all multiples of the grid
// would do as starts. Fewer do. Take a best pattern. Shift a block of touching things along one
// axis, all else fixed. Where it touches another block, the two are shifted as one. Between
// breakpoints the value is linear in the shift, so that some breakpoint is best. These are of two
// sorts:
//
//   - The value bends upwards, as where a run reaches keep. No maximum is there.
//   - An edge of an area meets an edge of a spot: the area just clears the spot, or a gap just
//     reaches it. Across, a gap may also be just kw wide. The value at such a point is the better
//     one of the values on either side.
//
// So there is a best pattern in which each block leans on an anchor. Things may start at these:
//
//   - the near end, and where a spot ends;
//   - a kerf after a spot starts: the gap before then ends where the spot starts;
//   - for each size z, z before a spot starts, and kerf + z before a spot ends: a piece that is
//     shorter (narrower) than its length (strip) may lie at the near side. It ends z after the
//     start, and its remainder starts a kerf after that;
//   - across, a kerf after a gap of kw that begins at the edge of the stock, or at a block that
//     leans itself;
//   - across, where a rip just clears a weak spot: the thing starts a kerf behind the spot, or ends
//     a kerf before it; or a rip on the other side does, and it ends where the spot ends, or starts
//     where the spot starts; and likewise the rip that trims a piece of size z in a strip.
//
// Rips change none of that: while a block is shifted their number stays the same, and falls only
// where it touches another block or an edge.
//
// Things may end at the mirror images of these. Behind a block that leans, the starts are sums
// forward of sizes + kerfs; before it, they are sums backward. The starts along do not depend on
// those across, so that both axes may be shifted in turn.
//
// # Two ways
//
// The quick way ends after a few rounds, and then takes the best of what is priced by then. Some
// pattern has that value: this way is for columns. The exact way goes on to the end. It is for
// bounds, and to see that no column is missing. A round prices some lengths besides those that it
// chose: pending.go says which.
//
// # Many lengths
//
// Where lengths are many and hardly alike, a search would price thousands of them among spots. So
// there each begins with a bound that knows of the spots (amongspots.go), and the starts of one
// length are bounded in wider groups (groups.go).
//
// # Rows without gaps
//
// Where no spot is, a row is known by its total of sizes + kerfs (knapsack.go). Its tables have a
// row for each total that can be, and no row that a shorter one is worth as much as. With a kerf
// that shares nothing with the sizes these are some hundreds, where the multiples of the measure
// that all share are a hundred thousand.
//
// # Limits
//
// A [Maker] keeps to a budget. It makes no pricer of a stock whose tables would take more memory
// than is left, one quick pricing of which would take more steps than are left, or whose places
// would be too many for the checker. Where the budget limits starts times lengths, stocks with more
// have some of their starts, give columns only, and share memory (setup.go). An exact pricing that
// takes too many steps is broken off. Nor need it tell values apart below a floor, under which the
// bound is the same.
//
// # Copies
//
// A pattern that is priced may have any number of copies of an item. To count them, demands would
// have to be counted over the lengths of a stock, and over the rows in each. A search that is to
// keep to the demands lists.
//
// # Lists
//
// A list does count copies. It has each set of counts within the demands that is worth enough, in
// the layout whose offcuts are worth most, less its rips. Rows of pieces in lengths and strips are
// listed first, then rows of these (package rows). The tables of the last pricing bound what may
// lie beside a thing. So no row is listed that is worth too little with the most that may be beside
// it.
//
// Why a list needs no other starts than a pricing: what is proven of a best pattern above holds of
// the best layout of each set of counts. For while things are shifted, the counts stay the same.
package across
