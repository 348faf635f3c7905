// Package cuts closes integer programs over lists of patterns, by cuts.
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
// Where the relaxation is whole, it is a plan, and is offered.
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
package cuts
