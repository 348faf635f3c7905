package along

import (
	"cmp"
	"fmt"
	"math"
	"math/big"
	"slices"

	"rackwright/model"
	"rackwright/model/proof/internal/patterns"
)

// The list of a stock in a leaf says what one board of the stock can be used for. It is about plans
// of the leaf that are cheaper than a target. It holds all counts of the blanks, at most the
// demands and at least one piece, that some layout gives and that meet the need below. Each comes
// with the greatest worth w* that the offcuts of a layout of these counts have.
//
// Where the need comes from, all in ticks:
//
//	V         the target
//	lb        the leaf's bound by its duals
//	best      the most that a board gives at these duals
//	net       cost - best
//	T         V - 1 - lb
//	counts a, worth w of the offcuts: a board with these costs cost - w
//	e         what it costs beyond its pieces: cost - w - sum of pi a - net >= 0
//
// Summed over its boards, a plan costs lb, the e of every board, and what the numbers of boards
// give beyond the leaf's bound. The last is net at least, where a board is used of a stock with net
// > 0 that need not be used. A plan cheaper than V costs at most V - 1, so on every board
//
//	need <= sum of pi a + w
//	need  = cost - T    where least = 0 and net > 0
//	      = best - T    else
//
// On a board that is not linked, pieces pushed to one side of their clear run lose nothing. Let the
// pieces of a run of length R come to t <= R + k, each with a kerf. What is left of the run is
// worth w(R - t), and w* is the sum over the runs (fill.go). rows.go lists linked boards.

// MaxListed is how many patterns the lists of a leaf may have together. More are refused rather
// than left to run for hours.
const MaxListed = 400_000

const (
	maxSteps = 60_000_000 // of the search for the list of one stock
	maxMet   = 1 << 21    // vectors, or labels, met on the way
	maxCells = 1 << 24    // of the tables for it

	fineMeasure = "its lengths share too small a measure"
	tooLong     = "that takes too long"
)

// Lister lists one stock after another. Its zero value is ready. Blanks that cannot be on the board
// are left out.
type Lister struct {
	bar    *Board
	items  []Item // longest first; no more of them are wanted than a board can give
	kerf   model.Length
	need   int64
	met    patterns.Found
	steps  int    // of the search
	cells  int64  // of its tables
	why    string // there is no list
	search labelSearch
}

// List lists a stock, or says why it cannot. held are the items that the board holds, and gives is
// the most that one board gives. A pattern is listed where it reaches need, and there may be as
// many patterns as limit says.
func (l *Lister) List(b *Board, held []Item, kerf model.Length, gives int64, need *big.Int,
	limit int) ([]patterns.Pattern, string) {
	l.steps, l.cells, l.why = 0, 0, ""
	if b.To <= b.From || need.Cmp(big.NewInt(gives)) > 0 {
		return nil, ""
	}
	l.need = -1 << 62
	if need.BitLen() <= 62 {
		l.need = need.Int64()
	}
	l.bar, l.kerf, l.items = b, kerf, l.items[:0]
	for _, i := range held {
		i.Demand = min(i.Demand, int64(b.To-b.From+kerf)/int64(i.Length+kerf))
		if i.Demand > math.MaxInt16 {
			return nil, "it gives too many pieces"
		}
		if i.Demand > 0 {
			l.items = append(l.items, i)
		}
	}
	slices.SortStableFunc(l.items, func(a, b Item) int { return cmp.Compare(b.Length, a.Length) })
	found := make([]patterns.Item, len(l.items))
	for k, i := range l.items {
		found[k] = patterns.Item{Number: i.Number, Dual: i.Dual, Demand: i.Demand}
	}
	l.met.Start(found, limit)
	l.search.labels.Start(0)
	if b.isLinked(held, kerf) {
		l.search.list(l)
	} else {
		l.listSeparate()
	}
	if l.why != "" {
		return nil, l.why
	}
	return l.met.Patterns(), ""
}

// countStep counts one step of the search; false where no more may follow.
func (l *Lister) countStep() bool {
	l.steps++
	if met, _ := l.met.Met(); l.why == "" &&
		(l.steps > maxSteps || max(met, l.search.labels.Len()) > maxMet) {
		l.why = tooLong
	}
	return l.why == ""
}

// Work is how much the last list took, in steps of the search and cells of its tables.
func (l *Lister) Work() int64 { return int64(l.steps) + l.cells }

// add notes a layout of a vector of counts that meets the need.
func (l *Lister) add(id int32, value int64) {
	if !l.met.Add(id, value) {
		l.why = fmt.Sprintf("there are more than %d in the leaf", MaxListed)
	}
}
