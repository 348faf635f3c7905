// Package cutlist writes boards and their pieces down as a plan: cuts, buy list, costs and
// the rack after.
//
// [Write] is the one entry. It is given boards, each with the places of its pieces, and decides
// nothing of what is cut from which board. What it decides are the words of the plan:
//
//   - lines.go: what becomes of every place of a board, and by which cut; gaps.go: what lies
//     between the pieces, an offcut or waste; steps.go: the numbers of the cuts.
//   - units.go: what is taken in hand, and where stop and fence stand then.
//   - costs.go: how the commissions share what a board costs; rips.go: how long its rips are.
//   - buy.go and reserve.go: what to buy, for the pieces and on top of them.
//
// The checker (package check of model) comes to the same rows by rules of its own.
package cutlist
