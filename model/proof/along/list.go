package along

import (
	"cmp"
	"fmt"
	"math"
	"math/big"
	"slices"

	"rackwright/model"
)

// The list L of a stock in a leaf: all that one board of it can be used for in a plan cheaper than
// V, a target that the certificate names. Let lb be the leaf's bound and T = scale (V-1) - lb. A
// board with pieces a and offcuts worth w costs scale (cost - w) = sum of pi a + net + e with net =
// scale cost - best and e >= 0, as pieces and offcuts never give more than best. Summed over the
// boards of a plan of the leaf this is lb, the e of every board, and what the numbers of boards
// give beyond the leaf's bound: net at least, where a board is used of a stock with net > 0 that
// need not be used. A plan cheaper than V, at most V-1, thus has on every board
//
//	e + (net where least = 0 and net > 0, else 0) <= T, that is  sum of pi a + scale w >= need                      (*)
//	need = scale cost - T where least = 0 and net > 0, else best - T
//
// L has all counts a of the blanks that the stock holds, at most the demands and at least one
// piece, that some layout gives and that meet (*) with the greatest worth w*(a) of a layout of
// them. w* is never below the true worth:
//
// On a board that is not linked (boundboard.go) pieces pushed to one side of their clear run lose
// nothing: a run of length R whose pieces with a kerf each come to T <= R + k is left floor(rate (R
// - T - keep)), and w* is the sum. On a linked board see boundchain.go.

const (
	MaxListed = 20_000     // patterns in a leaf; more are refused rather than left to run for hours
	maxSteps  = 20_000_000 // of the search for those of one stock
	maxKept   = 1 << 20    // vectors, or labels, met on the way
	maxCells  = 1 << 24    // of the tables for it

	fineMeasure = "its lengths share too small a measure"
)

// Pattern is what one board is used for: counts of the items of the certificate, and the greatest
// worth of its offcuts.
type Pattern struct {
	Takes []Take
	Worth int64
}

type Take struct {
	Item   int
	Copies int64
}

// Lister lists one stock after another. Blanks that cannot be on the board are left out.
type Lister struct {
	bar    *Board
	items  []listed // longest first
	kerf   model.Length
	scale  int64
	need   int64
	counts vectors
	best   []int64 // the greatest worth by vector; -1 where none is found
	full   int     // how many may be found yet
	steps  int     // of the search
	cells  int64   // of its tables
	why    string  // there is no list
	chain  chain
}

// listed is a blank with its item in the certificate; its demand is no more than a board can give.
type listed struct {
	Item
	item int
}

// vectors gives each vector of counts a number.
type vectors struct {
	width int
	all   []uint16
	ids   map[string]int32
	next  []int32 // with one more of an item; 0 is not known yet
	key   []byte
}

func (v *vectors) start(width int) {
	v.width, v.all, v.next = width, v.all[:0], v.next[:0]
	if v.ids == nil {
		v.ids = map[string]int32{}
	}
	clear(v.ids)
	v.id(make([]uint16, width))
}

func (v *vectors) of(id int32) []uint16 { return v.all[int(id)*v.width : (int(id)+1)*v.width] }

func (v *vectors) id(counts []uint16) int32 {
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

// more is the vector with one more of an item.
func (v *vectors) more(id int32, item int) int32 {
	at := int(id)*v.width + item
	if v.next[at] == 0 {
		counts := slices.Clone(v.of(id))
		counts[item]++
		then := v.id(counts)
		v.next[at] = then
	}
	return v.next[at]
}

// List lists a stock of which one board gives at most so much; full is how many patterns may be
// found. It says why where it cannot.
func (l *Lister) List(b *Board, held []Item, index []int, kerf model.Length, scale, gives int64,
	need *big.Int, full int) ([]Pattern, string) {
	l.steps, l.cells, l.why = 0, 0, ""
	linked := b.linked(held, kerf)
	most := big.NewInt(gives)
	if linked { // a chain may be worth a unit more for each of its runs
		most.Add(most, new(big.Int).Mul(big.NewInt(int64((b.To-b.From)/(b.Keep+1))+1),
			big.NewInt(scale)))
	}
	if b.To <= b.From || need.Cmp(most) > 0 {
		return nil, ""
	}
	l.need = -1 << 62
	if need.BitLen() <= 62 {
		l.need = need.Int64()
	}
	l.bar, l.kerf, l.scale, l.full = b, kerf, scale, full
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
	l.counts.start(len(l.items))
	l.best, l.chain.labels = l.best[:0], l.chain.labels[:0]
	if linked {
		l.chain.list(l, b.step(held, kerf))
	} else {
		l.runs()
	}
	if l.why != "" {
		return nil, l.why
	}
	return l.found(), ""
}

func (l *Lister) found() []Pattern {
	var out []Pattern
	for id, worth := range l.best {
		if id == 0 || worth < 0 {
			continue
		}
		p := Pattern{Worth: worth}
		for k, c := range l.counts.of(int32(id)) {
			if c > 0 {
				p.Takes = append(p.Takes, Take{l.items[k].item, int64(c)})
			}
		}
		out = append(out, p)
	}
	return out
}

// step counts one step of the search; false where there are to be no more.
func (l *Lister) step() bool {
	l.steps++
	if l.why == "" && (l.steps > maxSteps ||
		max(len(l.counts.ids), len(l.chain.labels)) > maxKept) {
		l.why = "that takes too long"
	}
	return l.why == ""
}

// Work is how much the last list took, in steps of the search and cells of its tables.
func (l *Lister) Work() int64 { return int64(l.steps) + l.cells }

// add notes a layout of a vector that meets the need.
func (l *Lister) add(id int32, worth int64) {
	for int(id) >= len(l.best) {
		l.best = append(l.best, -1)
	}
	if l.best[id] < 0 && id > 0 {
		if l.full--; l.full < 0 {
			l.why = fmt.Sprintf("there are more than %d in the leaf", MaxListed)
		}
	}
	l.best[id] = max(l.best[id], worth)
}
