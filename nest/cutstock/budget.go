package cutstock

// budget is which share of Options.Work each phase gets, in basic steps. A phase ends when it has
// nothing left to do, when its share is spent, or with the whole.
type budget struct {
	columns int64 // the program over the columns, once the dives have found some
	// planning some stocks anew before branching: a better incumbent makes shorter lists
	reopeningFirst int64
	reopeningNext  int64 // the same, once the root is listed
	branching      int64 // the search tree; a total of all work so far, not a share of its own
	cutsOfList     int64 // cuts over the list of one node
	searchOfList   int64 // for a plan over that list, where cuts gain nothing more
	branchOfList   int64 // branching over that list, where neither gains more
	columnsNode    int64 // the program over the columns in a node that branching cannot split
	columnsAgain   int64 // the program over all columns that branching has found
	reopening      int64 // planning some stocks anew, again and again
	columnsOpen    int64 // the program over the columns of the stocks just reopened
	ties           int64 // plans of the same cost: not worth more than 2^28, whatever there is
}

// listing shares out what is left where nodes can be listed though boards can be ripped: more goes
// to branching, less to reopening after it.
func (b *budget) listing(work int64) {
	b.branching += work / 4
	b.reopeningNext = work / 8
}

// budgetOf shares out the work; where boards can be ripped, branching leaves three eighths to
// what follows, above all to reopening: plans gain more by that, and bounds hardly lose. A plan
// that is to be bettered is reopened for an eighth before and an eighth after.
func budgetOf(work int64, lists, better bool) budget {
	b := budget{
		columns:        work / 64,
		reopeningFirst: work / 64,
		branching:      work,
		cutsOfList:     work / 16,
		searchOfList:   work / 128,
		branchOfList:   work / 2,
		columnsNode:    work / 32,
		columnsAgain:   work / 8,
		columnsOpen:    work / 256,
		ties:           min(work/32, 1<<28),
	}
	if !lists {
		b.reopeningFirst = 0
		b.columnsAgain = work / 16
		b.branching -= work * 3 / 8
		b.reopening = work
	}
	if better {
		b.reopeningFirst = work / 8
		b.branching += work / 8
	}
	return b
}
