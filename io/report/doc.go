// Package report puts into words, for people, what a job and its plan say.
//
// Start at [Summary], [Comparison], [BoardList], [Show], [Explain], [ExplainParts] or [Movement]:
// each prints one report. Every list that tells someone to cut ends with its cautions.
//
//	printer.go             the one way to print: lines, tables, lengths, money, shares
//	summary.go, buy.go     what a plan does, what to buy, and ways of planning side by side
//	months.go              months that follow each other, in several ways of planning
//	words.go               what the summary says, text by text, for pages and papers
//	files.go               what an out folder holds, and how to open it
//	rips.go                how many rips there are
//	boards.go              all boards, a line each
//	show.go, drawing.go    one board, drawn
//	order.go               its cuts in words
//	cautions.go            what is to be careful of, for every list that tells someone to cut
//	explain.go             why a blank is as big as it is, and what its wood costs
//	movement.go            how wide parts move over the year
package report
