// Package sawing puts the cuts of a plan in an order of work: which unit is taken in hand when, and
// where stop and fence stand.
//
// [Write] is the one entry. It fills Order and Work of a plan whose boards are written down, by
// both ways of working:
//
//   - time.go: pass by pass, in the fewest minutes. Each pass and kind of wood is a problem of its
//     own (words.go says which), solved exactly where it is small (exact.go), else by a beam search
//     (beam.go, carry.go).
//   - clutter.go: board by board, with the fewest commissions open at once, then in few minutes.
//   - measure.go counts what an order takes, whichever way it goes.
//
// All of it is counted work: the same plan has the same order anywhere. Once the context has ended
// the beam is a single state, so that a plan always gets a whole order, soon.
package sawing
