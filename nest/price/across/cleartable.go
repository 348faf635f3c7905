package across

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// clearTable says what things are worth where no spot is. With spots nothing is worth more, so that
// these values are bounds everywhere. Stocks that differ in length and spots only share a table.
type clearTable struct {
	p       *cutting.Problem
	stock   *cutting.Stock // one of those that share the table
	across  *cutting.Across
	step    int64 // everything across is a multiple of it
	many    bool  // its lengths are
	longest int64 // extent of the longest stock
	tooLong int64 // an extent for which rows take too much; 0: none is known

	lens   []int64    // sizes of the items, ascending, each once
	widths []int64    // widths of the sawn items, ascending, each once
	holds  []int      // the items, by size, then index
	lenOf  []int      // by item of holds: the index of its length
	sawn   []sawnItem // by size, then index
	places *places    // the totals of rows along

	ofWidth [][]int32 // by k: the sawn items so wide
	sidesIn []int     // by j: how many sides of pieces a ripped length has, near and far

	// s0 of an offcut as wide as the stock, and of a narrower one
	whole, strip int64

	round int // of pricing, that what follows is of

	inStrip [][]pieceValue // by k of a strip and j: a piece of length j in the strip
	// by j of a length and k: a piece of width k in the length
	inLength     [][]pieceValue
	plain        [][cutting.Classes]int64 // by j: the best item of each class, over the whole width
	ripped       []int64                  // by j: the best row across a ripped length
	q            []int64                  // by j: Q, the better of plain and ripped
	lengthValues []pieceValue             // q as values of things of full size
	alongStrip   []knapsack               // by k: rows of pieces along a strip
	alongStock   knapsack                 // rows of lengths along a stock
	acrossLength knapsack                 // rows of pieces across a length, each in turn
	placesAcross *places                  // the totals of these; nil: there can be none
	listing      *listTables              // nil: nothing has been listed yet
	densities    densities                // for bounds among spots (amongspots.go)
	hulls        []hull                   // likewise, by j: of the rows across a length
}

// sawnItem is an item that can be sawn to its own width.
type sawnItem struct {
	item, class int
	size, width int64
	j, k        int // indices of its length and its width
}

// pieceValue is the most that a piece at a place may be worth: any piece, and one of full size.
// price.Never: there is no such piece.
type pieceValue struct{ any, full int64 }

// noPiece is the value of a place where no piece may lie.
var noPiece = pieceValue{price.Never, price.Never}

// raise takes one more piece into account, which may have full size.
func (v *pieceValue) raise(value int64, full bool) {
	v.any = max(v.any, value)
	if full {
		v.full = max(v.full, value)
	}
}

// newClearTable makes a table for a stock, without tables and values yet.
func newClearTable(p *cutting.Problem, s *cutting.Stock, step int64) *clearTable {
	t := &clearTable{p: p, stock: s, across: s.Across, step: step, round: -1,
		whole: s.Slope * step, strip: s.Across.Strip * step}
	t.holds = slices.Clone(s.Holds)
	cutting.SortBySize(p, t.holds)
	for _, i := range t.holds {
		t.lens = append(t.lens, p.Items[i].Size)
		if p.MaySaw(s, i) {
			t.widths = append(t.widths, p.Items[i].Width)
		}
	}
	slices.Sort(t.widths)
	t.lens, t.widths = slices.Compact(t.lens), slices.Compact(t.widths)
	for _, i := range t.holds {
		it := &p.Items[i]
		j, _ := slices.BinarySearch(t.lens, it.Size)
		t.lenOf = append(t.lenOf, j)
		if p.MaySaw(s, i) {
			k, _ := slices.BinarySearch(t.widths, it.Width)
			t.sawn = append(t.sawn, sawnItem{i, it.Class, it.Size, it.Width, j, k})
		}
	}
	return t
}

// makeTables makes the tables of a table that has none yet.
func (t *clearTable) makeTables() {
	for range t.widths {
		t.inStrip = append(t.inStrip, make([]pieceValue, len(t.lens)))
	}
	for range t.lens {
		t.inLength = append(t.inLength, make([]pieceValue, len(t.widths)))
	}
	t.ofWidth, t.sidesIn = make([][]int32, len(t.widths)), make([]int, len(t.lens))
	for m := range t.sawn {
		i := &t.sawn[m]
		t.ofWidth[i.k] = append(t.ofWidth[i.k], int32(m))
		t.sidesIn[i.j]++ // of its own length one, of longer ones two
	}
	shorter := 0
	for j, length := range t.lens {
		own := t.sidesIn[j]
		if t.across.Trim {
			t.sidesIn[j] += 2 * shorter
		}
		if shorter += own; length < t.across.ShortestRip {
			t.sidesIn[j] = 0
		}
	}
	if t.boundsAmong() {
		t.hulls = make([]hull, len(t.lens))
	}
	t.plain = make([][cutting.Classes]int64, len(t.lens))
	t.ripped, t.q = make([]int64, len(t.lens)), make([]int64, len(t.lens))
	t.lengthValues = make([]pieceValue, len(t.lens))
	t.alongStrip = make([]knapsack, len(t.widths))
}

// sawnIndex is the index of an item in sawn; -1: it is not there.
func (t *clearTable) sawnIndex(item int) int {
	return slices.IndexFunc(t.sawn, func(i sawnItem) bool { return i.item == item })
}

// fitsStrip says whether an item may lie in a strip so wide: it is as wide, or may be trimmed off.
func (t *clearTable) fitsStrip(i *sawnItem, width int64) bool {
	return i.width == width ||
		i.width < width && t.across.Trim && i.size >= t.across.ShortestRip
}

// fitsLength says whether an item may lie in a ripped length so long: it is as long, or may be
// trimmed off.
func (t *clearTable) fitsLength(i *sawnItem, length int64) bool {
	return length >= t.across.ShortestRip &&
		(i.size == length || i.size < length && t.across.Trim)
}

// s0 is the worth of one unit of length of one step of an offcut so wide. It is 0 if the offcut is
// narrower than any that has worth, and not as wide as the stock.
func (t *clearTable) s0(width int64) int64 {
	return t.stock.SlopeOf(cutting.Span{To: width}) * t.step
}

// slope is the worth of one unit of length of an offcut so wide.
func (t *clearTable) slope(width int64) int64 { return t.s0(width) * (width / t.step) }

// beyondKeep is the part of a clear run so long that is worth something.
func (t *clearTable) beyondKeep(run int64) int64 { return max(0, run-t.stock.Keep) }

// worthTrimmed is the worth of what is trimmed off beside a piece in a strip so wide, less what the
// rip costs that trims it.
func (t *clearTable) worthTrimmed(i *sawnItem, width int64) int64 {
	if i.width == width {
		return 0
	}
	return t.slope(width-i.width-t.p.Rip)*t.beyondKeep(i.size) - t.p.RipCost*i.size
}

// worthBehind is the worth of what is trimmed off behind a piece in a length so long.
func (t *clearTable) worthBehind(i *sawnItem, length int64) int64 {
	return t.slope(i.width) * t.beyondKeep(length-i.size-t.p.Kerf)
}

// bestAlong is the most that one row of f, and one gap behind the row, are worth in so much length.
// f is of a knapsack along, slope that of the gap. It gives the total of the row as well.
// price.Never: there is no row.
func (t *clearTable) bestAlong(f front, slope, length int64) (best, total int64) {
	best = price.Never
	for _, row := range f {
		if row.total > length+t.p.Kerf {
			break
		}
		if v := row.value + slope*t.beyondKeep(length-row.total); v > best {
			best, total = v, row.total
		}
	}
	return best, total
}

// update computes all values of one round of pricing, unless they are those of the last one. It
// gives the steps taken.
func (t *clearTable) update(ask *price.Ask) (steps int64) {
	if t.round == ask.Round {
		return 0
	}
	t.round = ask.Round
	t.valuePieces(ask)
	if t.boundsAmong() {
		t.setDensities(ask)
	}
	steps = int64(len(t.sawn)*(len(t.widths)+len(t.lens))) + t.valueLengths()
	for k := range t.widths {
		steps += t.alongStrip[k].compute(t.places, undominated(t.inStrip[k], t.lens, t.longest), 0)
	}
	list := undominated(t.lengthValues, t.lens, t.longest)
	return steps + t.alongStock.compute(t.places, list, 0)
}

// valuePieces computes what pieces are worth in strips, in ripped lengths, and over the whole
// width.
func (t *clearTable) valuePieces(ask *price.Ask) {
	for k, width := range t.widths {
		for j := range t.lens {
			t.inStrip[k][j] = noPiece
		}
		for m := range t.sawn {
			if i := &t.sawn[m]; t.fitsStrip(i, width) {
				v := ask.Duals[i.item] + t.worthTrimmed(i, width)
				t.inStrip[k][i.j].raise(v, i.width == width)
			}
		}
	}
	for j, length := range t.lens {
		for k := range t.widths {
			t.inLength[j][k] = noPiece
		}
		for m := range t.sawn {
			if i := &t.sawn[m]; t.fitsLength(i, length) {
				v := ask.Duals[i.item] + t.worthBehind(i, length)
				t.inLength[j][i.k].raise(v, i.size == length)
			}
		}
		t.plain[j] = [cutting.Classes]int64{price.Never, price.Never, price.Never}
	}
	for n, i := range t.holds {
		v := &t.plain[t.lenOf[n]][t.p.Items[i].Class]
		*v = max(*v, ask.Duals[i])
	}
}

// valueLengths computes what lengths are worth: ripped, and at their best. It gives the steps
// taken.
func (t *clearTable) valueLengths() (steps int64) {
	for j := range t.lens {
		row, taken := t.bestRow(j)
		t.ripped[j], steps = row, steps+taken
		t.q[j] = max(slices.Max(t.plain[j][:]), t.ripped[j])
		t.lengthValues[j] = pieceValue{t.q[j], t.q[j]}
	}
	return steps
}

// freeAcross is what rows of pieces may take of the width, a kerf behind the last one included.
func (t *clearTable) freeAcross() int64 { return t.across.Width - 2*t.across.Inset + t.p.Rip }

// bestRow is the most that a row of pieces across length j is worth, with the gaps beside the row;
// and the steps taken.
//
// The worth of a gap is convex in its width, so that one wide gap is best. Then the pieces touch
// and start at the inset. But the inset on their left may be too narrow to be worth anything, where
// a gap just wide enough would be. So the pieces may also start a kerf after such a gap.
//
// Touching pieces share their rips: each but the last pays the one on its right.
func (t *clearTable) bestRow(j int) (best, steps int64) {
	if t.lens[j] < t.across.ShortestRip || len(t.widths) == 0 {
		return price.Never, 1
	}
	free := t.freeAcross()
	if free < 0 {
		return price.Never, 1
	}
	line := t.p.RipCost * t.lens[j]
	list := undominated(t.inLength[j], t.widths, free)
	if line > 0 { // a wider piece may reach the edge, and need no rip there
		list = options(t.inLength[j], t.widths)
	}
	for m := range list {
		list[m].any -= line
		list[m].full -= line
	}
	// A row that reaches the edge needs a rip less: so it may be worth more than a shorter one.
	steps = t.acrossLength.compute(t.placesAcross, list, line)
	if t.boundsAmong() {
		t.hulls[j] = hullOf(t.acrossLength.f0, t.hulls[j])
	}
	best = price.Never
	for _, row := range t.acrossLength.f1 {
		if v, _ := t.besideRow(row.total, line, t.lens[j]); !price.None(v) {
			best = max(best, row.value+v)
		}
	}
	return best, steps
}
