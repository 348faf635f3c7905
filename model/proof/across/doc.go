// Package across works out the most that one board can give if it may be ripped, and every pattern
// it can be used for.
//
//	Most.One       the most that one board gives at given duals, of all layouts of both kinds:
//	               blanks at their duals, at least one of them, with any number of copies, and gaps
//	               at u, less what its rips cost
//	Lister.List    all counts of blanks within the demands that some layout gives and that reach a
//	               given value, each with the most of what all else of such a layout is worth: its
//	               gaps, less its rips
//
// The symbols are the same in all files:
//
//	[S, U)   the usable span along the board, between the trims
//	W        the width of the board
//	keep     keep_length
//	kw       the least width of an offcut that is not as wide as the board
//	c        what a rip costs for each length unit, in ticks
//	gx, gy   the steps of the grid, along and across
//	s0       the worth of one step across for each length unit, in ticks
//	u        the worth of a gap:
//
//	u  = s0 x sum over bands of lines of  (width of the band / gy) x beyond
//	     beyond = sum over the clear runs of the band in the gap of max(0, run - keep)
//	s0 = gy x the slope of an offcut as wide as the board, or of a strip
//	     0 where the gap is narrower than kw and not as wide as the board
//
// gy is a greatest common divisor. It is that of the width of the board, the inset, the rip kerf,
// kw, the widths of the blanks sawn to width, and the edges of the defects across. Where no blank
// has a place, the most is u of the whole board. As wide as the board are only gaps between
// lengths, those outside a ripped span, and what a strip or a blank leaves that is as wide itself.
//
// # Rips
//
// A rip lies on each side of a blank or strip but at the board's own edge. Two sides a rip kerf
// apart share one. None runs into a weak defect: with k the rip kerf, [y, y + k) meets none over
// the length of the rip.
//
//	crosscut first    a length of l that is ripped     c l  for each rip
//	rip first         a ripped span [p, q)             c (q - p)  for each rip beside a strip
//	                  a blank of l in a wider strip    c l
//
// A layout may be worth less than nothing. Where there is one with a piece, the best of these is
// the most all the same: a board that is used gives a piece.
//
// # Why a grid is enough
//
// gx is the greatest common divisor of U - S, the crosscut kerf, the lengths of the blanks, and the
// edges of the defects from S.
//
// Take a layout and hold its positions along the board. Each blank, gap and trimming remainder is
// worth a sum over the lines that it covers. So the value is linear in the positions across, up to
// certain places. There a position passes the edge of a defect, a kerf is no longer whole, or a gap
// passes kw. At such a place the value may jump, but then the position at the place itself has the
// better value. So the value is greatest where as many of these conditions hold as there are
// positions. Each condition says that the difference of two positions equals a sum of what gy
// divides, so all positions are on the grid. Rips change nothing of this. How many there are is
// constant but where two sides come to share one, or a side comes to the board's own edge. Both are
// conditions of this kind, and there the value is the better one. A weak defect [L, R) bars a rip
// at y only where L - k < y < R, so the two ends of that are conditions, too.
//
// Then hold the positions across. The worth of a run is max(0, run - keep). It is convex in the
// positions along, until one passes the edge of a defect or makes a kerf less than whole. So the
// value is greatest in a corner of these conditions, which is on the grid likewise. keep need not
// be on it. The lengths of rips are those of blanks and spans, whatever the positions along.
//
// # Which places are enough
//
// Of the points of the grid few are needed. A thing is a length, a strip or a blank. Things touch
// where they lie just a kerf apart. Take a best layout, hold one axis, and on the other shift a
// block of things that touch each other, all else held. The layout stays legal and its value convex
// in the shift, until one of these holds:
//
//   - The block touches another thing, so that there are fewer blocks, or an end of what may be
//     sawn.
//   - A gap, or what is left beside a blank, that grows at its far end meets a defect there; or one
//     that shrinks at its near end has just come clear of a defect. Where such an end goes over any
//     other edge of a defect the value bends upwards, so the shift goes on.
//   - A blank is just clear of a defect that it may not lie over, or a rip of a weak one.
//   - Across, a gap is just kw wide. From then on both its sides are shifted as one block.
//
// A convex value is greatest at an end of its stretch. Nor is it ever less there than just before,
// as all conditions are closed. So there is a best layout in which each block has one of these. It
// then holds a thing that starts at an anchor, or that has an anchor just a kerf behind its end:
//
//	k                    the kerf along the axis; [L, R) a defect on it
//	near end, far + k    along of the span, across of what may be sawn
//	R, L + k             of each defect; across, of a weak one, L and R + k as well
//	kw + k, W - kw       across: a gap kw wide lies at the edge of the board
//	a + s + k, a - s - k    for each anchor a of a defect and each size s of a blank that may be
//	                     shorter than its length, or narrower than its strip
//
// The last are those of a blank shorter than its length, or narrower than its strip, and of what is
// left beside it: one of its two ends is s or s + k away from an end of the other. Blanks along a
// strip have none of these.
//
// The parts are all sizes, each + k, and across kw + k. What follows the anchor in the block starts
// at the anchor + a sum of parts, as does the point a kerf behind the block. What comes before it
// starts at the anchor - a sum of parts. These are the places. Shifting on one axis moves nothing
// on the other, so places on both are enough together. Where there is no defect, all gaps of a row
// along are best merged into one, at either end: there one anchor is enough.
//
// Blanks of any size may start at a place. Where no place is just a kerf behind one, the row along
// goes on at the next place. So a blank that is longer and worth no more is never needed.
//
// # The search
//
// Layouts are searched in two steps, one inside the other.
//
//	                   inner: what it gives                     outer: the board
//	crosscut first     a length at x, a row of blanks across    a row of lengths along
//	rip first          a strip at y, a row of blanks along      a row of strips across
//
// A board that is ripped first over a span of its own is searched as a board by itself (spans.go).
//
// What a length or a strip gives depends on where it lies only by the defects that it meets. So the
// outer search begins with what it gives anywhere at best. It works out what it gives in truth only
// where the best layout found that way has it, until that layout has none but true values.
//
// # Lists
//
// All that is said here of the grid and of places holds with the counts of a layout held fixed: no
// shift changes them. So the best layout of each vector of counts lies at places, too. A list goes
// through layouts there, thing by thing, and leaves off where the most that can still follow is
// too little. Layouts that have come as far with the same counts are one.
//
//	lister.go                      the stock, and what is listed
//	freerow.go, freeboard.go       rows that meet no defect: their things lie in any order
//	placedrow.go, fixedboard.go,   rows where defects lie, and the lengths and strips that are
//	fixedpieces.go,                worth looking at
//	knownpieces.go
//
// # Limits
//
// What a board may ask for is limited, so that its memory stays below some 200 MB. Past a limit it
// is refused. A solver that asks for an exact proof keeps to these:
//
//	n, m          (U - S) / gx and W / gy: at most maxAlong = 2^23 and maxAcross = 2^19
//	defects       between the trims, alike ones once: at most maxPatches = 2^7
//	X             places of lengths, or of blanks along strips, the more of both: at most
//	              maxPlaces = 2^19
//	widths x Y    Y: places across, likewise: at most maxCells = 2^20
//	steps         (defects + 1) x blanks x (lengths x Y + widths x X): at most maxSteps = 2^31
//
// gx and gy are as above. Blanks are those no longer than the span, those alike in length, width
// and face counted once; widths are those that may be sawn. X is no more than n + k/gx + 1, and Y
// no more than m + r/gy + 1, for the kerfs k and r. So where n + k/gx is below 2^19, and widths x
// (m + r/gy + 1) no more than 2^20, these two limits are kept whatever the sizes are.
//
//	most.go, grid.go, board.go     the board on its grid
//	reach.go, places.go            the places
//	searches.go, guess.go          the two outer searches, and their guesses
//	spans.go                       boards ripped first between weak defects
//	length.go, strip.go            what a length and a strip give
//	rowacross.go                   the best row of pieces across
//	rowalong.go, gap.go            the best row of pieces along, and the gaps in it
//
// Of a list all is limited by itself, well above what a solver lists: it may have 400,000 patterns
// in a leaf (along.MaxListed) where a solver's has 300,000, maxMet = 2^22 vectors, and as many rows
// under way, and maxListSteps = 2^29 steps. Of lists of 100,000 patterns or more, of the invented
// months, none met more than three vectors a pattern, and none took 2^23 steps.
package across
