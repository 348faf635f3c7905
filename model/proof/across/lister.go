package across

import (
	"math"
	"math/big"
	"slices"

	"rackwright/model"
	"rackwright/model/proof/internal/patterns"
)

// The list of a stock in a leaf, as package along has it: every vector of counts, at most the
// demands and at least one piece, that some layout gives and that reaches the need, with the
// greatest worth of a layout of these counts: its gaps, less its rips.
//
// With the counts held, whatever a layout is worth more than its pieces is worth it by its gaps and
// rips. So what doc.go says of grids and places holds for the best layout of each vector as it does
// for the best of all.
//
//	a clear board        sets of lengths or strips, each a set of blanks (freerow.go, freeboard.go)
//	one with defects     rows of lengths or strips from the near end on (placedrow.go), each a row
//	                     of blanks (fixedboard.go)
//
// Rows that have come as far with the same pieces are one. A row is left as soon as it
// is worth less than the need even if the best follows. What is best is worked out for any number
// of copies where there are defects, else as far as the demands hold by themselves in each length
// or strip.

const (
	maxListSteps = 1 << 29 // of the search for the list of one stock
	maxMet       = 1 << 22 // vectors, or labels, met on the way
	mostNumbers  = 1 << 25 // that these vectors are packed into

	tooLong = "that takes too long"
	tooMany = "it gives too many pieces"
)

// Wanted is an item that a board holds, with its demand and its number.
type Wanted struct {
	Item
	Demand int64
	Number int
}

// wantedBlank is an item wanted on the grid; its value is its dual.
type wantedBlank struct {
	blank
	demand int64 // no more than the board can give
	one    int32 // the vector of one piece
}

// Lister lists one stock after another. Its zero value is ready.
type Lister struct {
	Stop func() bool // where not nil, true ends a search under way

	search boardSearch
	blanks []wantedBlank // of the items that the board can give, and no others alike left out
	plain  []int64       // by length what a plain one gives at most

	need            int64
	met             patterns.Found
	steps           int64
	why             string // there is no list
	inFree, outFree freeRow
	outer, inner    placedRow
	known           map[string]*known // by what things are alike
	key             []byte
}

// List lists a stock, or says why it cannot: what reaches the need, and no more than limit says.
func (l *Lister) List(b *Board, held []Wanted, kerf, rip model.Length, need *big.Int,
	limit int) ([]patterns.Pattern, string) {
	l.steps, l.why = 0, ""
	l.outer.forget()
	l.inner.forget()
	if b.to <= b.from || need.BitLen() > 62 && need.Sign() > 0 {
		return nil, ""
	}
	l.need = -1 << 61 // no layout is worth less
	if need.BitLen() <= 61 {
		l.need = need.Int64()
	}
	if why := l.ready(b, held, kerf/b.unit, rip/b.unit, limit); why != "" {
		return nil, why
	}
	if len(l.blanks) > 0 {
		l.list()
	}
	if l.search.stopped {
		l.why = "the search was stopped"
	}
	if l.why != "" {
		return nil, l.why
	}
	return l.met.Patterns(), ""
}

// ready brings the board and its blanks onto the grid.
func (l *Lister) ready(b *Board, held []Wanted, kerf, rip model.Length, limit int) string {
	r := &l.search
	r.stop, r.stopped, r.Board, r.items = l.Stop, false, b, r.items[:0]
	held = slices.DeleteFunc(slices.Clone(held), func(i Wanted) bool {
		return i.Demand <= 0 || i.length > b.to-b.from
	})
	for _, i := range held {
		r.items = append(r.items, i.Item)
	}
	if why := r.measure(kerf, rip); why != "" {
		return why
	}
	r.toGrid()
	if why := r.findPlaces(); why != "" {
		return why
	}
	l.blanks = l.blanks[:0] // each for itself
	l.plain = noValues(len(r.lengths))
	var items []patterns.Item
	for _, i := range held {
		b := r.blankOf(&i.Item)
		most := int64((r.n + r.kerf) / (r.lengths[b.length] + r.kerf))
		if b.width >= 0 {
			most *= max(1, int64(r.acrossRoom()/(r.widths[b.width]+r.rip)))
		}
		d := min(i.Demand, most)
		if d > math.MaxInt16 {
			return tooMany
		}
		l.blanks = append(l.blanks, wantedBlank{blank: b, demand: d})
		items = append(items, patterns.Item{Number: i.Number, Dual: i.dual, Demand: d})
		l.plain[b.length] = max(l.plain[b.length], i.dual)
	}
	l.met.Start(items, limit)
	for k := range l.blanks {
		l.blanks[k].one = l.met.OneMore(0, k)
	}
	return ""
}

// list lists the board.
func (l *Lister) list() {
	r := &l.search
	if len(r.spots) > 0 {
		l.listFixed()
		return
	}
	if l.freeLengths() {
		l.listClear(len(r.lengths), l.inLength)
	}
	if l.why == "" && l.freeStrips() {
		d := r.ripCost(r.n)
		l.listClear(len(r.widths), func(what int, need int64) []content {
			list := l.inStrip(what, need+d)
			for k := range list {
				list[k].value -= d
			}
			return list
		})
	}
}

// step counts steps; false where no more may follow.
func (l *Lister) step(n int64) bool {
	l.steps += n
	met, words := l.met.Met()
	if l.why == "" && (l.steps > maxListSteps || words > mostNumbers ||
		max(met, l.outer.ends.Len(), l.outer.starts.Len(), l.inner.ends.Len(),
			l.inner.starts.Len()) > maxMet) {
		l.why = tooLong
	}
	return l.why == ""
}

// Work is how much the last list took, in steps.
func (l *Lister) Work() int64 { return l.steps }

// found notes a layout that reaches the need.
func (l *Lister) found(vec int32, value int64) {
	if !l.met.Add(vec, value) {
		l.why = "there are too many in the leaf"
	}
}
