package across

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// sawn is an item that can be sawn to its own width.
type sawnItem struct {
	item        int
	class       int
	size, width int64
	j, k        int // which length, which width
}

// table is what stocks without spots are worth, as far as it is the same for stocks that have
// everything but their length in common.
//
// h1(T) of a width is the greatest sum of pieces along a strip whose sizes + kerfs come to T, at
// least one as wide as the strip; h0(T) that without this. The gaps of a strip are best as one: u
// is convex. The same across a length, but for the inset, which no piece may use and which alone
// may be too narrow to be worth anything: there a gap just kw wide at the left can be better than
// none.
type clearTable struct {
	p       *cutting.Problem
	stock   *cutting.Stock // one of the stocks
	across  *cutting.Across
	step    int64 // across
	longest int64
	key     tableKey

	lens, widths []int64    // distinct, ascending
	sawn         []sawnItem // by size, then item
	holds        []int
	lenOf        []int // of each of holds

	round int
	scale int64
	s0    int64

	// by width: by length, the best piece of any width and of the width itself, without spots
	inStrip                [][]pieceValue
	grid                   int64
	strip0, strip1         [][]int64 // by width
	strip0UpTo, strip1UpTo [][]int64 // the greatest of h0, h1 up to T
	plain                  [][cutting.Classes]int64
	inLength               [][]pieceValue // by length: by width
	lengths                []pieceValue   // q, as pieces of a stock
	ripped, q              []int64        // by length: Q(l) of ripped lengths, and of any
	scratch0, scratch1     []int64        // room to work in
	sums                   []int64        // the greatest sum of Q whose lengths + kerfs come to T
	sumsUpTo               []int64        // up to T, or nothing
}

// tables are those made so far.
type clearTables []*clearTable

// of is the table for a stock and a step across.
func (all *clearTables) forStock(p *cutting.Problem, s *cutting.Stock, step int64) *clearTable {
	key := tableKeyOf(s, step)
	for _, t := range *all {
		if t.key == key && slices.Equal(t.stock.Holds, s.Holds) &&
			slices.Equal(t.across.Whole, s.Across.Whole) {
			return t
		}
	}
	t := newClearTable(p, s, step)
	t.key = key
	*all = append(*all, t)
	return t
}

// tableKey is what stocks that share a table have in common, beside what they hold.
type tableKey struct {
	step, keep                                         int64
	rate                                               cutting.Rate
	width, inset, keepWidth, shortestRip, narrowestRip int64
	trim                                               bool
}

func tableKeyOf(s *cutting.Stock, step int64) tableKey {
	a := s.Across
	return tableKey{step, s.Keep, s.Rate, a.Width, a.Inset, a.Keep, a.ShortestRip, a.Narrowest,
		a.Trim}
}

// pick is the value of a piece, of any and of one that makes a length or strip as long or wide as
// it is; never: there is none.
type pieceValue struct{ any, full int64 }

func newClearTable(p *cutting.Problem, s *cutting.Stock, step int64) *clearTable {
	t := &clearTable{p: p, stock: s, across: s.Across, step: step, round: -1}
	for _, i := range s.Holds {
		t.lens = append(t.lens, p.Items[i].Size)
		if t.mayBeSawn(i) {
			t.widths = append(t.widths, p.Items[i].Width)
		}
	}
	slices.Sort(t.lens)
	t.lens = slices.Compact(t.lens)
	slices.Sort(t.widths)
	t.widths = slices.Compact(t.widths)
	t.holds = slices.Clone(s.Holds)
	cutting.SortBySize(p, t.holds)
	for _, i := range t.holds {
		it := &p.Items[i]
		a, _ := slices.BinarySearch(t.lens, it.Size)
		t.lenOf = append(t.lenOf, a)
		if t.mayBeSawn(i) {
			k, _ := slices.BinarySearch(t.widths, it.Width)
			t.sawn = append(t.sawn, sawnItem{i, it.Class, it.Size, it.Width, a, k})
		}
		t.grid = price.GCD(t.grid, it.Size+p.Kerf)
	}
	t.grid = max(1, t.grid)
	t.inStrip = make([][]pieceValue, len(t.widths))
	for k := range t.inStrip {
		t.inStrip[k] = make([]pieceValue, len(t.lens))
	}
	t.inLength = make([][]pieceValue, len(t.lens))
	for a := range t.inLength {
		t.inLength[a] = make([]pieceValue, len(t.widths))
	}
	t.plain = make([][cutting.Classes]int64, len(t.lens))
	t.ripped, t.q = make([]int64, len(t.lens)), make([]int64, len(t.lens))
	t.strip0, t.strip1 = make([][]int64, len(t.widths)), make([][]int64, len(t.widths))
	t.strip0UpTo, t.strip1UpTo = make([][]int64, len(t.widths)), make([][]int64, len(t.widths))
	return t
}

// saws says whether an item can be sawn to its width at all.
func (t *clearTable) mayBeSawn(i int) bool {
	w := t.p.Items[i].Width
	return !slices.Contains(t.across.Whole, i) && w > 0 && w >= t.across.Narrowest &&
		w <= t.across.Width-2*t.across.Inset
}

// slope is the worth of a length unit of an offcut so wide, of which edge says that it has the
// whole width.
func (t *clearTable) slope(width int64) int64 {
	if width < t.across.Keep && width < t.across.Width || width <= 0 {
		return 0
	}
	return t.s0 * (width / t.step)
}

func (t *clearTable) beyondKeep(length int64) int64 { return max(0, length-t.stock.Keep) }

// besideStrip is the worth of what is trimmed off a piece in a strip, without spots.
func (t *clearTable) worthBeside(i *sawnItem, w int64) int64 {
	return t.slope(w-i.width-t.p.Rip) * t.beyondKeep(i.size)
}

// beyondLength is the worth of what is trimmed off a piece in a length, without spots.
func (t *clearTable) worthBehind(i *sawnItem, l int64) int64 {
	return t.slope(i.width) * t.beyondKeep(l-i.size-t.p.Kerf)
}

// inStrip says whether an item may lie in strips so wide, inLength whether in lengths so long.
func (t *clearTable) fitsStrip(i *sawnItem, w int64) bool {
	return i.width == w || i.width < w && t.across.Trim && i.size >= t.across.ShortestRip
}

func (t *clearTable) fitsLength(i *sawnItem, l int64) bool {
	return l >= t.across.ShortestRip && (i.size == l || i.size < l && t.across.Trim)
}

// fill makes the tables for one ask; it gives the steps that took.
func (t *clearTable) update(a *price.Ask) (work int64) {
	if t.round == a.Round && t.scale == a.Scale {
		return 0
	}
	t.round = a.Round
	if t.scale != a.Scale {
		t.scale = a.Scale
		t.s0 = unitSlope(t.stock.Rate, a.Scale, t.step, t.across.Width)
	}
	t.valuePieces(a)
	n := int((t.longest + t.p.Kerf) / t.grid)
	for k := range t.widths {
		t.strip0[k], t.strip1[k] = t.knapsack(t.inStrip[k], t.lens, t.p.Kerf, t.grid, n, t.strip0[k], t.strip1[k])
		t.strip0UpTo[k], t.strip1UpTo[k] = runningMax(t.strip0[k], t.strip0UpTo[k]), runningMax(t.strip1[k], t.strip1UpTo[k])
	}
	for l := range t.lens {
		t.q[l] = max(slices.Max(t.plain[l][:]), t.ripped[l])
	}
	t.lengths = t.lengths[:0]
	for _, q := range t.q {
		t.lengths = append(t.lengths, pieceValue{q, q})
	}
	_, t.sums = t.knapsack(t.lengths, t.lens, t.p.Kerf, t.grid, n, nil, t.sums)
	t.sumsUpTo = runningMax(t.sums, t.sumsUpTo)
	for i := range t.sumsUpTo {
		t.sumsUpTo[i] = max(0, t.sumsUpTo[i])
	}
	return 2 * int64(n) * int64(len(t.lens)) * int64(len(t.widths)+1)
}

func runningMax(h, m []int64) []int64 {
	m = append(m[:0], h...)
	for i := 1; i < len(m); i++ {
		m[i] = max(m[i], m[i-1])
	}
	return m
}

// picks finds the best pieces, and Q of ripped lengths.
func (t *clearTable) valuePieces(a *price.Ask) {
	none := pieceValue{price.Never, price.Never}
	for k, w := range t.widths {
		for l := range t.lens {
			t.inStrip[k][l] = none
		}
		for n := range t.sawn {
			if i := &t.sawn[n]; t.fitsStrip(i, w) {
				t.inStrip[k][i.j].raise(Fine*a.Duals[i.item]+t.worthBeside(i, w), i.width == w)
			}
		}
	}
	for l := range t.lens {
		t.plain[l] = [cutting.Classes]int64{price.Never, price.Never, price.Never}
	}
	for n, i := range t.holds {
		v := &t.plain[t.lenOf[n]][t.p.Items[i].Class]
		*v = max(*v, Fine*a.Duals[i])
	}
	for l, length := range t.lens {
		for k := range t.widths {
			t.inLength[l][k] = none
		}
		for n := range t.sawn {
			if i := &t.sawn[n]; t.fitsLength(i, length) {
				t.inLength[l][i.k].raise(Fine*a.Duals[i.item]+t.worthBehind(i, length),
					i.size == length)
			}
		}
		t.ripped[l] = t.bestRow(l)
	}
}

func (v *pieceValue) raise(value int64, exact bool) {
	v.any = max(v.any, value)
	if exact {
		v.full = max(v.full, value)
	}
}
