// Package papers sets what a maker carries to the yard, to the saw and to the bench, as PDF.
//
// Start at [Yard], [Saw], [Bench], [Labels] or [Count]: each writes one paper. A paper is laid out
// from top to bottom on one [sheet], which knows of lines, tick boxes and page breaks. Every text
// is measured before it is placed, and can be taken out of the file again as it was written. The
// same plan gives the same bytes: the files know no clock.
//
//	papers.go    which papers there are
//	sheet.go     pages with their head and foot
//	text.go      texts, boxes and rules on them
//	rows.go      tables with a box before each row
//	signs.go     which signs the fonts have, and what stands for the others
//	pieces.go    what comes off the saw, in order, each with its id
//	yard.go      what to buy
//	saw.go       the order of work, with a drawing of each board
//	board.go     the boards in it
//	bench.go     a sheet for each commission
//	count.go     the sheet for a count of the rack
//	labels.go    labels on their grid
//	code.go      the code on a label that a telephone reads
package papers
