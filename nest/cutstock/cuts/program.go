package cuts

import (
	"rackwright/nest/lp"
	"rackwright/nest/price"
)

// Entry is a pattern on a list: how many of which items it has, and what a use costs.
type Entry struct {
	Index  int // the caller's own number of it
	Stock  int
	Cost   int64
	Items  []int32 // distinct, ascending
	Counts []int32
}

// Program is the integer program over a list: to meet the demands at the least cost, by whole
// numbers of uses of its patterns, within the limits of the stocks.
type Program struct {
	Demand      []int64 // by item
	Least, Most []int64 // uses by stock; cutting.Any: no limit
	Rows        []Side  // hold besides; they come before all cuts
	List        []*Entry
	Near        []int64 // by entry: how far it is from being used; those nearest are tried first
	Target      int64   // what is to be proven: no plan costs less
	Unit        float64 // of the linear program
	Unmet       []int64 // by item, what leaving one piece unmet costs there
	Steps       int64   // that the first rounds may take
	Searching   int64   // steps that the search for a plan after them may take
	Branching   int64   // steps that branching may take then
	Few         int     // it does not branch where more patterns are left
	Checking    int64   // steps that it may take to derive the proof again

	Meter *price.Meter
	Solve func(*lp.Problem) lp.Status
	Over  func() bool                                // the search must end
	Goal  func() int64                               // proving this is enough
	Offer func(e []*Entry, uses func(j int) float64) // takes a whole solution

	making int64 // steps to derive the proof again
}

// Prove adds cuts round by round, and branches where they gain nothing more. It gives a proof and
// what it proves: the target, or what it came to. Nil where that is nothing.
func (p *Program) Prove() (*Proof, int64) {
	root := p.root()
	root.addCuts(rounds, p.Meter.Steps+p.Steps)
	root.known = root.proven
	p.branch(root)
	return root.proof()
}

// Making is about what it takes to derive the proof once more.
func (p *Program) Making() int64 { return p.making }
