// Package check judges a plan against its job: every cut, every count, every cent.
//
//	reading, found := check.Check(job, plan)           // no findings: accepted
//	found = append(found, proof.Bounds(reading)...)    // and its bound proven
//
// A plan may have been read from a file, so nothing in it is trusted. The checker judges in this
// order:
//
//   - It splits the cuts into boards and finds the pieces on each (check.go).
//   - From the pieces alone it lays each board out by the rules. layout.go has the rules of a board
//     that is not ripped, ripped.go those of a ripped one. gap.go has those of the gaps on both. It
//     compares the rows of the plan with its own. Where pieces may lie is in pattern.go, what span
//     may be ripped in spans.go, and where the rips run in rips.go.
//   - It makes the cuts in the order of their steps, with one piece in hand (replay.go, safe.go).
//   - Where every board is right it makes the books again: what is bought, the reserve, the rack
//     after, the costs (books.go, reserve.go, costs.go).
//   - It judges the order of work against the cuts that it replayed, and counts what it takes
//     (sawn.go, order.go).
//   - It makes the words again: reasons of shortages, names of groups (words.go).
//   - How parts are made up it judges by package makeup, which says what ways there are (made.go).
//
// The checker shares no code with what made the plan but the meaning of words in package model; its
// doc.go lists that. Where the solver follows the same rule, the rule stands here a second time,
// written from the words and not from the solver's code.
//
// # Boards that cannot be ripped
//
// A board is laid out in one dimension where ripping it could gain nothing: [model.Job.Rippable].
// Nothing lies beside anything there, and nothing beside a blank is worth keeping. Such boards keep
// the pricing, lists, cuts and exact values of one dimension. Each board is decided by the parts it
// holds. Solver and checker ask the same function, as this is part of the meaning.
//
// # Plain lengths: the normal form
//
// The same places can be told as ripped or as not ripped. The checker accepts one telling only. A
// length that one blank may have whole, with nothing kept beside it, is plain. A strip of such
// blanks is no strip. That is fewer cuts, and never less worth. A plain narrow blank keeps all the
// width, to be milled off later.
//
// # Trims and steps
//
// Rip first takes both trims off first, while the board is whole, so that strips are as long as
// they will be used. Where the ripped span is the board's own, its ends come off instead, as beside
// a single length (spans.go). Then come the rips, then the crosscuts. Trimming cuts come last, so
// that each piece is cut short as late as possible. Every cut has a number of its own, with one
// exception: dust less than a kerf wide at an edge goes with the next cut of that piece.
//
// # Safe sizes
//
// shortest_rip 12 in and narrowest_rip 3/4 in are common practice, not a standard's numbers. They
// are rules of the layout, and they are held again at every step of the replay. A strip narrower
// than narrowest_rip is worth nothing, even where keep_width is less: an offcut that may not be
// ripped off must not pay.
package check
