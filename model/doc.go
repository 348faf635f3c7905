// Package model holds the words of a shop and their meaning: the job, and the plan made for it.
//
// A job has commissions, parts, rack, yard and settings. A plan says how boards are cut:
//
//	0                                                       Length
//	|trim|  part  |k|   part   |k| waste |defect| waste |k| part |trim|
//	     S        a board, from its marked end, cut left to right    U
//
// Lengths are whole units of 1/320 mm, money is whole units of 1/10000 of the currency. A face says
// how clean a part must be. A defect counts with a margin on each side. A kerf parts what a saw
// separates.
//
// The rooms below it: check judges a plan against its job, proof says whether a certificate proves
// its bound, movement how wide parts move over the year, makeup how a part can be made up of
// pieces. Package model imports the standard library only, and no room of it imports the solver.
//
// # What solver and checker share
//
// The checker is to find any fault of the solver, so the two share no code but this package. It is
// their common language: what a word means is said once, and a fault here passes both. Besides
// types, constants and the list [Hindrances], they share these functions and methods:
//
//	sizes      BlankLength, BlankIn, Whole, Inset, AllowanceFor, KeepWidth, TrimFor, SafetyFor
//	holding    Holds, HasRun, Rippable, Tolerates, ForSale, Carried
//	defects    WidenedRects, ClearRuns
//	worth      Valuation, SlopeOfBoard, SlopeOfOffer, WorthOfBoard, WorthOfRect, Keep
//	rips       RipCost
//	money      PriceOf, TaxOf, PaidFor, ReserveFor, Ticks, Shown, ShownTicks
//	tally      Kind, VolumeAcross, Add, Millionths, NewTallier, Boards
//	geometry   On, Other, With, Rect
//	bins       BinsOf, TakeFrom, PutAway
//	words      Shop, Total
//	copies     CopyAt, All
//	ways       MadeUp, ByWays
//
// No other function is called from both sides; TestSharedFunctionsAreListed compares. Of package
// makeup they share which ways there are to make a part (ChoiceOf), and which parts are cut then
// (Prepare, MadeOf, AsMade): that is the meaning of a row of the parts list, too.
//
// How pieces lie on a board, how a board is cut and numbered, what a gap becomes, what a board can
// give, and what cuts prove: all that is written twice, on purpose.
//
// # The rate is per area
//
// With rips a wide board gives more blanks than a narrow one, and an offcut may be a strip. Per
// length, whatever the width, a strip would be worth as much as the board that it came off. So a
// board has the rate of its kind of wood in proportion to its own width, and a strip its share of
// the board's. The width that counts is that of the board as it lies there, never the section's. An
// offcut as wide as its board is worth the same on next month's rack.
//
// # Worth across
//
// Worth (worth.go) is a whole slope times whole cells, so no sum of it is ever rounded. It does not
// matter how a rectangle is cut into bands, and splitting never pays, to the last tick. Bounds and
// values are compared as they are, and rounded for showing only. A strip has a slope of its own,
// [OffcutRule] strip_value of the board's. Next month nothing would tell it from a board of that
// width, so a strip carries its worth to the rack as its value.
//
// # Prices and taxes
//
// What one board of an offer costs is [Job.PaidFor], and whether it can be had is [Job.ForSale].
// Both are the meaning of an offer, and nobody else looks at its price or its number. A price per
// board foot counts each board by itself: with halves in turn it would hang on what else is bought.
// Price and tax together are at most [DearestBoard]. Rates are before tax, and of offers that can
// be had. Tax only adds to what a board costs, so no bought board is worth more whole than it cost.
//
// # The reserve
//
// The reserve is chosen after planning, from what is then left for sale, and with no search, so
// that it can be redone by hand. A board of it must hold every part that is cut from bought boards
// of its kind of wood. "Long enough for the longest blank" alone would let a narrow board of a
// random-width lot stand in for a wide one. usable is at least 0.01, and a row without a number
// lends [MostReserve] boards, so that no count leaves what buy.csv may hold.
//
// # Two tallies
//
// What is cut up is counted by volume, exact and additive, and rounded once where it is written.
// The surface-measure rule is one for whole boards, so it counts in buy.csv only. Both are whole
// numbers of cubic units of length, so nothing is rounded before the end. Halves alternate within a
// kind of wood, over the rows of buy.csv. A lot of boards of unlike widths has a row for each
// width, and all halves would go up if each row began anew.
//
// # The width in buy.csv
//
// In a lot of random widths material, section and length do not tell which board is meant, so a row
// has the width, too. Its total stays qty x price; what is paid is total and tax.
//
// # Facts of boards
//
// for, untouched, longest, and the board of a part are rules of holding and no more: worth, offcut
// and waste are as ever. An offcut stays reserved, as it is still that customer's wood. The next
// job without that commission is refused until the maker says otherwise. An offcut inherits longest
// where it is longer.
//
// ID means any board ID.1, ID.2, ... by the spelling of the ids alone, so that it still holds on
// next month's rack, where each has a row of its own. A rack with both ID and ID.n is refused where
// a part names ID. A part with a board comes from no bought board, whatever its id. Designs name no
// board: they are made again and again.
package model
