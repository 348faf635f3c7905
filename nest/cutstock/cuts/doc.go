// Package cuts closes integer programs over lists of patterns, by cuts and by branching.
//
// A list has every pattern that a plan below a target can use; package cutstock makes it. There
// may be a hundred thousand. Call [Program.Prove]. In each round
//
//   - relax.go solves the relaxation. It prices the list by inspection: only patterns that gain
//     enter the linear program, some hundreds of them;
//   - proof.go rounds its duals to whole numbers, and derives what they prove. Where that reaches
//     the target, the rounds are over;
//   - it strikes off the list what no plan below the target can use by these duals. Of fifty
//     thousand patterns a few hundred may be left after some rounds;
//   - separate.go finds cuts (cuts.go) that the relaxation violates.
//
// Where the relaxation is whole, it is a plan, and is offered. Where cuts gain nothing more,
// branch.go splits the plans by a sum that is whole in each (sum.go), and goes on with each side
// likewise (node.go). certificate.go writes down the tree, without what it does not need.
//
// Decisions:
//
// Patterns are struck off by steps that the proof names. A later cut has numbers for the patterns
// left only, and later duals need not hold for those struck off. So the proof gives, before its
// last duals, those by which patterns were struck off, and whoever derives it again does the same.
//
// Multipliers of the basis are tried as they are, and rounded to small denominators after a
// multiplication by 1 to 4. Where the exact ones have denominators of thousands, their cuts stop
// separating after some rounds; the rounded ones go on. This was measured.
//
// A node below the root has two rounds of cuts. Month 5 of the benchmarks, cedar 1x6, is closed so,
// and neither with none nor with four in the same work.
package cuts
