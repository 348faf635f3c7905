// Package makeup says how a part can be made up of pieces that boards give.
//
// Start at [ChoiceOf]: all that a plan may choose from for a part, of [GlueUps], [Covers] and
// [Gangs]. Each has its arithmetic in terms that can be printed, and what its wood costs. [AsMade]
// is the job as it is cut, once it is chosen. [Hindrance], [Advise] and [RemarksOn] are what a
// maker is told before there is a plan. Nothing here plans. The mathematics stands at the head of
// each file.
//
//	stave   one of several pieces beside each other, glued edge to edge
//	layer   one of several pieces on each other, glued face to face
//	net     what a stave or layer adds to the glue-up, joints off
//	gang    several parts, too short to be cut alone, in one blank
//
// # A piece is a part
//
// What is cut is a [model.Part] of its own, as it would be entered, so that [model.Job.Holds] and
// [model.Job.BlankIn] judge it like any other. They have the last word on which wood will do.
//
// # What a glued edge loses
//
// A glued edge is a sawn edge, so it loses the greater of [glue_up] joint and [allowance] edge. All
// staves of a panel are alike: each may lie inside it or at its edge.
//
// # Rounding
//
// Sizes of pieces are rounded up to 1/16 in or 1 mm, as a fence and a planer are set. Where only
// the exact size fits, it is taken as it is.
//
// # What wood costs
//
// By area, from the yard, with tax: a piece takes its length and a kerf, and of a board's width the
// share that is left when as many as fit lie beside each other. Of random widths any board will do,
// so a cover takes just its staves and their kerfs. Each takes the offer that is cheapest for it.
// What no yard sells has no price, and comes last.
package makeup
