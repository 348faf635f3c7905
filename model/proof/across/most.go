package across

import (
	"fmt"
	"math/big"

	"rackwright/model"
	"rackwright/model/proof/internal/integer"
)

const tooLarge = "the duals are too large to reckon with"

// layers: rows with what a row must have, and rows in which it is yet to come.
const layers = 2

// Most works out the most that boards can give. Its zero value is ready; it keeps what serves for
// the next board.
type Most struct {
	Stop   func() bool // where not nil, true ends a search under way
	search boardSearch
}

// One is the most that one board can give, less what its rips cost, in ticks. It may be below 0.
// The string says why where it cannot be worked out. items are those that the board holds. The
// kerfs are those of the job.
func (m *Most) One(b *Board, items []Item, kerf, rip model.Length) (int64, string) {
	m.search.stop, m.search.stopped = m.Stop, false
	return m.search.one(b, items, kerf/b.unit, rip/b.unit)
}

// boardSearch is the search on one board at a time. It keeps its memory for the next board.
type boardSearch struct {
	*Board
	items     []Item
	gx, gy    int64 // steps of the grid
	n, m      int   // U and W on it
	kerf, rip int   // the kerfs on it
	// inset and kw on it; narrow above m: only all the width is wide enough
	edge, narrow     int
	s0Whole, s0Strip int64 // s0 as wide as the board, and of a strip
	lines            []lines
	spots            []gridPatch
	lengths          []int // of the blanks, rising
	widths           []int // of those that may be sawn to width, rising
	blanks           []blank
	row, strip       rowAlong
	// where lengths start; blanks along strips, with defects and without; what lies across in
	// lengths, and strips
	ofLengths, ofBlanks, ofClear, ofColumn, ofBoard places

	ownSpans                    []ownSpan
	clearStrips                 [][]int64 // by width and span: what a clear strip so long gives
	column                      rowAcross
	board                       rowAcross
	lengthGuesses, stripGuesses guesses
	sides                       []side
	left                        []band
	bars, blocked               []gridSpan
	sums                        []int64
	cuts, parts, anchors        []int

	stop    func() bool // as in Most
	stopped bool
}

// gridPatch is a patch on the grid.
type gridPatch struct {
	from, to, left, right int
	tolerated             [model.Faces]bool
	weak                  bool
}

// blank is an item on the grid, of those alike the one with the highest dual.
type blank struct {
	length, width int // index among the lengths and among the widths; width -1: plain only
	face          model.Face
	value         int64
}

// lines are those from left to right, which meet the same defects.
type lines struct {
	left, right int
	blocks      []gridSpan // what of their length is not clear
	runs        []gridSpan // what is
}

// one is [Most.One].
func (r *boardSearch) one(b *Board, items []Item, kerf, rip model.Length) (int64, string) {
	if b.to <= b.from {
		return 0, ""
	}
	r.Board, r.items = b, items
	if why := r.measure(kerf, rip); why != "" {
		return 0, why
	}
	r.toGrid()
	if why := r.findPlaces(); why != "" {
		return 0, why
	}
	most := r.ripSpans(bestOfBoth(r.crosscutFirst(), r.ripFirst()))
	if r.stopped {
		return 0, "the search was stopped"
	}
	if most <= impossible {
		most = r.rectWorth(0, r.n, 0, r.m)
	}
	return most, ""
}

// measure sets the grid and what offcuts are worth on it; it says why where it cannot.
func (r *boardSearch) measure(kerf, rip model.Length) string {
	b := r.Board
	gx, gy := integer.GCD(int64(b.to-b.from), int64(kerf)),
		integer.GCD(integer.GCD(int64(r.width), int64(r.inset)),
			integer.GCD(int64(rip), int64(r.keepWidth)))
	for _, i := range r.items {
		gx = integer.GCD(gx, int64(i.length))
		if !i.whole {
			gy = integer.GCD(gy, int64(i.width))
		}
	}
	for _, p := range r.patches {
		gx, gy = integer.GCD(gx, integer.GCD(int64(p.From-b.from), int64(p.To-b.from))),
			integer.GCD(gy, integer.GCD(int64(p.Left), int64(p.Right)))
	}
	r.gx, r.gy = gx, gy
	if n, m := int64(b.to-b.from)/gx, int64(r.width)/gy; n > maxAlong || m > maxAcross {
		return fmt.Sprintf("the sizes share too small a measure to be judged, with %d positions "+
			"along and %d across, over %d or %d,",
			n, m, maxAlong, maxAcross)
	}
	r.n, r.m = int(int64(b.to-b.from)/gx), int(int64(r.width)/gy)
	r.kerf, r.rip = int(min(int64(kerf)/gx, int64(r.n))), int(min(int64(rip)/gy, int64(r.m)))
	r.edge, r.narrow = int(min(int64(r.inset)/gy, int64(r.m))),
		int(min(int64(r.keepWidth)/gy, int64(r.m)+1))
	if !b.Fits(r.items, kerf, rip) {
		return tooLarge
	}
	r.s0Whole, r.s0Strip = b.slope.Whole*gy, b.slope.Strip*gy
	return ""
}

// ends says whether the search is to end. Then no length and no strip gives anything any more.
func (r *boardSearch) ends() bool {
	r.stopped = r.stopped || r.stop != nil && r.stop()
	return r.stopped
}

// mostRips is how many rips over the whole board a layout may be charged with before there is one
// that is worth more: a piece, and one more of a sort that is still to come, each with a rip on
// both sides, and one that trims it.
const mostRips = 6

// Fits says whether no value on the board can reach 2^61, or -2^61, so that it can be reckoned
// with. The kerfs are in units. Each blank takes an area of its own, with a kerf on two sides.
func (a *Board) Fits(items []Item, kerf, rip model.Length) bool {
	most := new(big.Int)
	area := new(big.Int).Mul(big.NewInt(int64(a.to-a.from+kerf)),
		big.NewInt(int64(a.width+rip)))
	for _, i := range items {
		each := new(big.Int).Mul(big.NewInt(int64(max(1, i.length+kerf))),
			big.NewInt(int64(max(1, i.width+rip))))
		all := new(big.Int).Mul(area, big.NewInt(i.dual))
		if all = integer.Ceil(all, each); all.Cmp(most) > 0 {
			most = all
		}
	}
	all := new(big.Int).Mul(big.NewInt(a.slope.Whole), big.NewInt(int64(a.width)))
	most.Add(most, all.Mul(all, big.NewInt(int64(a.to-a.from))))
	rips := new(big.Int).Mul(big.NewInt(a.ripping), big.NewInt(mostRips*int64(a.to-a.from)))
	return most.Add(most, rips).BitLen() <= 61
}
