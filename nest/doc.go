// Package nest plans a job: which board becomes which part, what to buy, what is left over.
//
// [Plan] is the one entry. Its steps:
//
//	group       which parts and boards belong together                      stocks.go, groups.go
//	formulate   each group as a cutting-stock program                       formulate.go, order.go
//	begin       each group by the simple rules                              solve.go
//	solve       from these plans on, groups side by side, until it ends     search.go
//	stand by    meanwhile, with a plan that is ready when a signal comes    standby.go
//	decode      patterns as boards, blanks dealt to parts                   decode.go, deal.go
//	certify     what is found and proven, in trade words                    certify.go
//	order       the cuts, meanwhile, for each way of working                proving.go
//	check       the independent checker judges the plan, in time            proving.go
//
// The words of the trade and those of the engine meet in formulate.go, decode.go and certify.go.
// The rows of a plan are written by package cutlist and put in order by package sawing. The
// engine's words are those of package cutting, and its search is package cutstock.
//
// [Replan] plans the rest of a job whose plan was begun: package rest says what that is, prior.go
// which layouts of the plan before still stand, keep.go which of them are kept.
//
// [Compare] plans the same jobs by the simple rules of package baseline, and commission by
// commission. [Months] plans the months of a shop with and without the offcuts of the months
// before. [Remarks] tells what is odd in a job but allowed.
package nest
