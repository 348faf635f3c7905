// Package along prices stocks on which pieces follow each other and none lies beside another.
//
// A [Maker] chooses: where no piece can trade clear wood on its one side for clear wood on its
// other, each clear run is filled for itself by one knapsack ([Separate], separate.go; its list in
// fillings.go). Else clear runs are linked, and a recursion walks over the starts where a piece may
// lie ([Linked], linked.go, over starts.go; its list in labels.go).
//
// Copies. In one clear run an item has at most as many copies as are wanted. That is exact for a
// stock of one run, and a valid relaxation for several. On linked stocks copies are unlimited.
//
// One piece at least. A stock is used for at least one piece; else a branch that asks for a stock
// would get it for nothing.
//
// The bonus. Worth is rounded down run by run. So an arrangement off the starts considered can be
// worth a unit (1/10000 of the currency) more for each further run of a chain. The pricing adds
// that unit where a piece can trade clear wood: head of linked.go.
package along
