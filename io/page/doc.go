// Package page writes a plan as one page for a browser: report.html.
//
// Start at [Write]. The page is one file that fetches nothing: text, style, script and drawings are
// in it. It is for a phone at the yard, a screen at the saw and paper. Without its script all of it
// can be read; the script remembers ticks, filters boards and puts drawings in as they come into
// view.
//
//	page.go          the page as a whole
//	buy.go           what to buy, yard by yard
//	order.go         the order of work
//	boards.go        the boards, one by one
//	commissions.go   what each commission costs, its parts, and offcuts back
//	chart.go         net wood costs side by side
//	parts            template, style and script
package page
