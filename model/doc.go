// Package model holds the words of the trade: a job (commissions, parts, rack, yard, settings), the
// plan made for it, and the rules that say what a plan means. It imports the standard library only
// and never the solver, so that [check.Check] and [proof.Bounds] can judge any plan without trusting who
// made it.
//
//	0                                                       Length
//	|trim|  part  |k|   part   |k| waste |defect| waste |k| part |trim|
//	     S        a board, from its marked end, cut left to right    U
//
// Lengths are whole units of 1/320 mm, money is whole units of 1/10000 of the currency. A face says
// how clean a part must be; a defect counts with a margin on each side; a kerf parts what a saw
// separates.
package model
