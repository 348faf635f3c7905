// Package outcome is what became of the boards of a plan that were cut: as planned, or as marked.
//
// Start at [Cutting.Outcome]. It turns the plan, the rack as it is and what the maker marked into
// what the book enters: offcuts that come, boards that go, and of each board into what its wood
// went. It reads no file and enters nothing.
//
//	board.go    a board of the plan: its rows, its marks, and whether it is as planned
//	sawn.go     what became of one that was cut, to the last unit of area
//	rest.go     what is left of one that was not cut to its end
//	offcuts.go  offcuts as they enter the rack
//
// Decided here:
//
// Measures of the plan count unless the tape says otherwise. A piece has the size of its blank. So
// what is not accounted for is waste, as much as there is of it.
//
// A defect that is marked on a piece or on what is left is measured on the board, from its marked
// end. It is entered on whatever of the board is kept there, and is gone with all else.
//
// What is left of a board is one piece of it. It reaches to an end and an edge that no cut made, as
// far as there is one: the far end and the right edge first, as boards are cut from the marked end
// and the left edge on. That is where its defects are found again.
package outcome
