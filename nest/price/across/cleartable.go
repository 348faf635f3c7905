package across

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// clearTable says what things are worth where no spot is. Stocks that differ in length and spots
// only share one. With spots nothing is worth more, so these values are bounds everywhere.
type clearTable struct {
	p       *cutting.Problem
	stock   *cutting.Stock // one of those that share the table
	across  *cutting.Across
	key     tableKey
	step    int64 // everything across is a multiple of it
	longest int64 // extent of the longest stock

	lens   []int64    // sizes of the items, ascending, each once
	widths []int64    // widths of the sawn items, ascending, each once
	holds  []int      // the items, by size, then index
	lenOf  []int      // the length of each of holds
	sawn   []sawnItem // by size, then index
	grid   int64      // each size + kerf is a multiple of it

	// What follows is of one round of pricing. All values are money x scale x Fine.
	round int
	scale int64
	s0    int64 // worth of an offcut one unit long and one step wide

	inStrip      [][]pieceValue           // by width and length: a piece in a strip so wide
	inLength     [][]pieceValue           // by length and width: a piece in a ripped length so long
	plain        [][cutting.Classes]int64 // by length: the best item of each class, not sawn
	ripped       []int64                  // by length: the best row across it
	q            []int64                  // by length: Q, the better of plain and ripped
	lengthValues []pieceValue             // q once more, each of full size
	alongStrip   []knapsack               // by width: pieces along a strip
	alongStock   knapsack                 // lengths along a stock
	acrossLength knapsack                 // pieces across a length; used for each in turn
}

// sawnItem is an item that can be sawn to its own width. j is the index of its length, k that of
// its width.
type sawnItem struct {
	item, class int
	size, width int64
	j, k        int
}

// pieceValue is the most that a piece in a length or strip may be worth: any piece, and one of full
// size, as long as its length or as wide as its strip. price.Never: there is no such piece.
type pieceValue struct{ any, full int64 }

// noPiece is the value where no piece may lie.
var noPiece = pieceValue{price.Never, price.Never}

// raise takes one more piece into account.
func (v *pieceValue) raise(value int64, full bool) {
	v.any = max(v.any, value)
	if full {
		v.full = max(v.full, value)
	}
}

// newClearTable makes the table of a stock and those alike, without values yet.
func newClearTable(p *cutting.Problem, s *cutting.Stock, step int64) *clearTable {
	t := &clearTable{p: p, stock: s, across: s.Across, step: step, round: -1}
	t.holds = slices.Clone(s.Holds)
	cutting.SortBySize(p, t.holds)
	for _, i := range t.holds {
		t.lens = append(t.lens, p.Items[i].Size)
		t.grid = price.GCD(t.grid, p.Items[i].Size+p.Kerf)
		if t.mayBeSawn(i) {
			t.widths = append(t.widths, p.Items[i].Width)
		}
	}
	t.grid = max(1, t.grid)
	slices.Sort(t.widths)
	t.lens, t.widths = slices.Compact(t.lens), slices.Compact(t.widths)
	for _, i := range t.holds {
		it := &p.Items[i]
		j, _ := slices.BinarySearch(t.lens, it.Size)
		t.lenOf = append(t.lenOf, j)
		if t.mayBeSawn(i) {
			k, _ := slices.BinarySearch(t.widths, it.Width)
			t.sawn = append(t.sawn, sawnItem{i, it.Class, it.Size, it.Width, j, k})
		}
	}
	for range t.widths {
		t.inStrip = append(t.inStrip, make([]pieceValue, len(t.lens)))
	}
	for range t.lens {
		t.inLength = append(t.inLength, make([]pieceValue, len(t.widths)))
	}
	t.plain = make([][cutting.Classes]int64, len(t.lens))
	t.ripped, t.q = make([]int64, len(t.lens)), make([]int64, len(t.lens))
	t.lengthValues = make([]pieceValue, len(t.lens))
	t.alongStrip = make([]knapsack, len(t.widths))
	return t
}

// mayBeSawn says whether an item can be sawn to its own width at all.
func (t *clearTable) mayBeSawn(item int) bool {
	width := t.p.Items[item].Width
	return !slices.Contains(t.across.Whole, item) && width > 0 && width >= t.across.Narrowest &&
		width <= t.across.Width-2*t.across.Inset
}

// fitsStrip says whether an item may lie in a strip so wide: as wide, or trimmed.
func (t *clearTable) fitsStrip(i *sawnItem, width int64) bool {
	return i.width == width ||
		i.width < width && t.across.Trim && i.size >= t.across.ShortestRip
}

// fitsLength says whether an item may lie in a ripped length so long: as long, or trimmed.
func (t *clearTable) fitsLength(i *sawnItem, length int64) bool {
	return length >= t.across.ShortestRip &&
		(i.size == length || i.size < length && t.across.Trim)
}

// slope is the worth of one unit of length of an offcut so wide: 0 for one that is too narrow to be
// worth anything, and not as wide as the stock.
func (t *clearTable) slope(width int64) int64 {
	if width < t.across.Keep && width < t.across.Width || width <= 0 {
		return 0
	}
	return t.s0 * (width / t.step)
}

// beyondKeep is the part of a clear run that is worth something.
func (t *clearTable) beyondKeep(run int64) int64 { return max(0, run-t.stock.Keep) }

// worthBeside is the worth of what is trimmed off beside a piece in a strip so wide.
func (t *clearTable) worthBeside(i *sawnItem, width int64) int64 {
	return t.slope(width-i.width-t.p.Rip) * t.beyondKeep(i.size)
}

// worthBehind is the worth of what is trimmed off behind a piece in a length so long.
func (t *clearTable) worthBehind(i *sawnItem, length int64) int64 {
	return t.slope(i.width) * t.beyondKeep(length-i.size-t.p.Kerf)
}

// steps is how many steps of the grid a size + kerf has.
func (t *clearTable) steps(size int64) int { return int((size + t.p.Kerf) / t.grid) }

// bestAlong is the most that a row of f and one gap behind it are worth in so much length, for rows
// along a strip or stock whose gaps have that slope. It gives the total of that row as well, in
// steps. price.Never: there is no such row.
func (t *clearTable) bestAlong(f []int64, slope, length int64) (best int64, total int) {
	best = price.Never
	if length+t.p.Kerf < 0 {
		return best, 0
	}
	for at, v := range f[:min(len(f), t.steps(length)+1)] {
		if v < 0 {
			continue
		}
		if v += slope * t.beyondKeep(length-int64(at)*t.grid); v > best {
			best, total = v, at
		}
	}
	return best, total
}

// update computes all values for one round of pricing, if that is not done; it gives the steps that
// this takes.
func (t *clearTable) update(ask *price.Ask) int64 {
	if t.round == ask.Round && t.scale == ask.Scale {
		return 0
	}
	t.round = ask.Round
	if t.scale != ask.Scale {
		t.scale = ask.Scale
		t.s0 = unitSlope(t.stock.Rate, ask.Scale, t.step, t.across.Width)
	}
	t.valuePieces(ask)
	t.valueLengths()
	n := t.steps(t.longest)
	for k := range t.widths {
		t.alongStrip[k].fill(t.inStrip[k], t.lens, t.p.Kerf, t.grid, n)
		t.alongStrip[k].sumUp()
	}
	t.alongStock.fill(t.lengthValues, t.lens, t.p.Kerf, t.grid, n)
	t.alongStock.sumUp()
	return 2 * int64(n) * int64(len(t.lens)) * int64(len(t.widths)+1)
}

// valuePieces computes what pieces are worth in strips, in ripped lengths and not sawn.
func (t *clearTable) valuePieces(ask *price.Ask) {
	for k, width := range t.widths {
		for j := range t.lens {
			t.inStrip[k][j] = noPiece
		}
		for m := range t.sawn {
			if i := &t.sawn[m]; t.fitsStrip(i, width) {
				v := Fine*ask.Duals[i.item] + t.worthBeside(i, width)
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
				v := Fine*ask.Duals[i.item] + t.worthBehind(i, length)
				t.inLength[j][i.k].raise(v, i.size == length)
			}
		}
		t.plain[j] = [cutting.Classes]int64{price.Never, price.Never, price.Never}
	}
	for n, i := range t.holds {
		v := &t.plain[t.lenOf[n]][t.p.Items[i].Class]
		*v = max(*v, Fine*ask.Duals[i])
	}
}

// valueLengths computes what lengths are worth.
func (t *clearTable) valueLengths() {
	for j := range t.lens {
		t.ripped[j] = t.bestRow(j)
		t.q[j] = max(slices.Max(t.plain[j][:]), t.ripped[j])
		t.lengthValues[j] = pieceValue{t.q[j], t.q[j]}
	}
}

// bestRow is the most that a row of pieces across a length is worth, with the gaps beside it.
//
// The pieces of a best row touch, with one gap on their left and one on their right. The worth of a
// gap is convex in its width, so that one wide gap is best: the row starts at the inset. But the
// inset alone may be too narrow to be worth anything. Then a gap on the left that is just wide
// enough can be better, and the row starts a kerf after it.
func (t *clearTable) bestRow(j int) int64 {
	if t.lens[j] < t.across.ShortestRip || len(t.widths) == 0 {
		return price.Never
	}
	step := int64(0)
	for _, width := range t.widths {
		step = price.GCD(step, width+t.p.Rip)
	}
	free := t.across.Width - 2*t.across.Inset + t.p.Rip
	if free < 0 {
		return price.Never
	}
	row := &t.acrossLength
	row.fill(t.inLength[j], t.widths, t.p.Rip, step, int(free/step))
	best := int64(price.Never)
	for at, v := range row.f1 {
		if v < 0 {
			continue
		}
		for _, y := range []int64{t.across.Inset, max(t.across.Inset, t.across.Keep+t.p.Rip)} {
			end := y + int64(at)*step // a kerf behind the last piece
			if end-t.p.Rip <= t.across.Width-t.across.Inset {
				gaps := t.slope(y-t.p.Rip) + t.slope(t.across.Width-end)
				best = max(best, v+gaps*t.beyondKeep(t.lens[j]))
			}
		}
	}
	return best
}
