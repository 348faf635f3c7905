// Package layout reads a plan back board by board: what becomes of each place, and how it is cut.
//
// Start at [Boards]. [Board.Cuts] makes the cuts of a board one after the other, with the pieces in
// hand; [Board.InHand] says what such a piece is.
//
//	layout.go  a board with its rows and their letters
//	cuts.go    its cuts, in order
//	hand.go    what a piece in hand is
//	fence.go   what the fence is set to in a rip
package layout
