package along

import (
	"cmp"
	"fmt"
	"math"
	"math/big"
	"slices"

	"rackwright/model"
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

// Pattern is what one board can be used for: how many of which items, and w*, the greatest worth of
// the offcuts beside them, in ticks.
type Pattern struct {
	Takes []Take
	Worth int64
}

// Take is how many copies of an item a pattern has, at least one.
type Take struct {
	Item   int
	Copies int64
}

// Lister lists one stock after another. Its zero value is ready. Blanks that cannot be on the board
// are left out.
type Lister struct {
	bar    *Board
	items  []listed // longest first
	kerf   model.Length
	need   int64
	met    vectors
	best   []int64 // the greatest worth by vector; -1 where none is found
	left   int     // how many may be found yet
	steps  int     // of the search
	cells  int64   // of its tables
	why    string  // there is no list
	search labelSearch
}

// listed is a blank and the number of its item; its demand is no more than a board can give.
type listed struct {
	Item
	item int
}

// vectors numbers the vectors of counts that are met; 0 is the number of the empty one.
type vectors struct {
	width int
	all   []uint16
	ids   map[string]int32
	next  []int32 // with one more of an item; 0 is not known yet
	key   []byte
}

// start forgets all vectors and notes the empty one.
func (v *vectors) start(width int) {
	v.width, v.all, v.next = width, v.all[:0], v.next[:0]
	if v.ids == nil {
		v.ids = map[string]int32{}
	}
	clear(v.ids)
	v.number(make([]uint16, width))
}

// countsAt is the vector of a number.
func (v *vectors) countsAt(id int32) []uint16 {
	return v.all[int(id)*v.width : (int(id)+1)*v.width]
}

// number is the number of a vector.
func (v *vectors) number(counts []uint16) int32 {
	v.key = v.key[:0]
	for _, c := range counts {
		v.key = append(v.key, byte(c), byte(c>>8))
	}
	id, known := v.ids[string(v.key)]
	if !known {
		id = int32(len(v.ids))
		v.ids[string(v.key)] = id
		v.all = append(v.all, counts...)
		v.next = append(v.next, make([]int32, v.width)...)
	}
	return id
}

// oneMore gives the number of the vector with one more of an item.
func (v *vectors) oneMore(id int32, item int) int32 {
	at := int(id)*v.width + item
	if v.next[at] == 0 {
		counts := slices.Clone(v.countsAt(id))
		counts[item]++
		then := v.number(counts)
		v.next[at] = then
	}
	return v.next[at]
}

// List lists a stock, or says why it cannot. held are the items that the board holds, and index are
// their numbers. gives is the most that one board gives. A pattern is listed where it reaches need,
// and there may be as many patterns as limit says.
func (l *Lister) List(b *Board, held []Item, index []int, kerf model.Length, gives int64,
	need *big.Int, limit int) ([]Pattern, string) {
	l.steps, l.cells, l.why = 0, 0, ""
	if b.To <= b.From || need.Cmp(big.NewInt(gives)) > 0 {
		return nil, ""
	}
	l.need = -1 << 62
	if need.BitLen() <= 62 {
		l.need = need.Int64()
	}
	l.bar, l.kerf, l.left = b, kerf, limit
	l.items = l.items[:0]
	for k, i := range held {
		i.Demand = min(i.Demand, int64(b.To-b.From+kerf)/int64(i.Length+kerf))
		if i.Demand > math.MaxInt16 {
			return nil, "it gives too many pieces"
		}
		if i.Demand > 0 {
			l.items = append(l.items, listed{i, index[k]})
		}
	}
	slices.SortStableFunc(l.items, func(a, b listed) int { return cmp.Compare(b.Length, a.Length) })
	l.met.start(len(l.items))
	l.best, l.search.labels = l.best[:0], l.search.labels[:0]
	if b.isLinked(held, kerf) {
		l.search.list(l)
	} else {
		l.listSeparate()
	}
	if l.why != "" {
		return nil, l.why
	}
	return l.found(), ""
}

// found gives what add has noted.
func (l *Lister) found() []Pattern {
	var out []Pattern
	for id, worth := range l.best {
		if id == 0 || worth < 0 {
			continue
		}
		p := Pattern{Worth: worth}
		for k, c := range l.met.countsAt(int32(id)) {
			if c > 0 {
				p.Takes = append(p.Takes, Take{l.items[k].item, int64(c)})
			}
		}
		out = append(out, p)
	}
	return out
}

// countStep counts one step of the search; false where no more may follow.
func (l *Lister) countStep() bool {
	l.steps++
	if l.why == "" && (l.steps > maxSteps ||
		max(len(l.met.ids), len(l.search.labels)) > maxMet) {
		l.why = tooLong
	}
	return l.why == ""
}

// Work is how much the last list took, in steps of the search and cells of its tables.
func (l *Lister) Work() int64 { return int64(l.steps) + l.cells }

// add notes a layout of a vector of counts that meets the need.
func (l *Lister) add(id int32, worth int64) {
	for int(id) >= len(l.best) {
		l.best = append(l.best, -1)
	}
	if l.best[id] < 0 && id > 0 {
		if l.left--; l.left < 0 {
			l.why = fmt.Sprintf("there are more than %d in the leaf", MaxListed)
		}
	}
	l.best[id] = max(l.best[id], worth)
}
