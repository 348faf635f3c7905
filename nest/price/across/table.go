package across

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// sawn is an item that can be sawn to its own width.
type sawn struct {
	item        int
	class       int
	size, width int64
	a, k        int // which length, which width
}

// table is what stocks without spots are worth, as far as it is the same for stocks that have
// everything but their length in common.
//
// h1(T) of a width is the greatest sum of pieces along a strip whose sizes + kerfs come to T, at
// least one as wide as the strip; h0(T) that without this. The gaps of a strip are best as one: u
// is convex. The same across a length, but for the inset, which no piece may use and which alone
// may be too narrow to be worth anything: there a gap just kw wide at the left can be better than
// none.
type table struct {
	p       *cutting.Problem
	s       *cutting.Stock // one of the stocks
	a       *cutting.Across
	step    int64 // across
	longest int64
	key     tableKey

	lens, widths []int64 // distinct, ascending
	sawn         []sawn  // by size, then item
	holds        []int
	lenOf        []int // of each of holds

	round int
	scale int64
	s0    int64

	// by width: by length, the best piece of any width and of the width itself, without spots
	pick       [][]pick
	hstep      int64
	h0, h1     [][]int64 // by width
	m0, m1     [][]int64 // the greatest of h0, h1 up to T
	plainClass [][cutting.Classes]int64
	across     [][]pick // by length: by width
	whole      []pick   // q, as pieces of a stock
	ripped, q  []int64  // by length: Q(l) of ripped lengths, and of any
	row0, row1 []int64  // room to work in
	crossed    []int64  // the greatest sum of Q whose lengths + kerfs come to T
	mcross     []int64  // up to T, or nothing
}

// tables are those made so far.
type tables []*table

// of is the table for a stock and a step across.
func (all *tables) of(p *cutting.Problem, s *cutting.Stock, step int64) *table {
	key := tableKeyOf(s, step)
	for _, t := range *all {
		if t.key == key && slices.Equal(t.s.Holds, s.Holds) &&
			slices.Equal(t.a.Whole, s.Across.Whole) {
			return t
		}
	}
	t := newTable(p, s, step)
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
type pick struct{ any, exact int64 }

func newTable(p *cutting.Problem, s *cutting.Stock, step int64) *table {
	t := &table{p: p, s: s, a: s.Across, step: step, round: -1}
	for _, i := range s.Holds {
		t.lens = append(t.lens, p.Items[i].Size)
		if t.saws(i) {
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
		if t.saws(i) {
			k, _ := slices.BinarySearch(t.widths, it.Width)
			t.sawn = append(t.sawn, sawn{i, it.Class, it.Size, it.Width, a, k})
		}
		t.hstep = price.GCD(t.hstep, it.Size+p.Kerf)
	}
	t.hstep = max(1, t.hstep)
	t.pick = make([][]pick, len(t.widths))
	for k := range t.pick {
		t.pick[k] = make([]pick, len(t.lens))
	}
	t.across = make([][]pick, len(t.lens))
	for a := range t.across {
		t.across[a] = make([]pick, len(t.widths))
	}
	t.plainClass = make([][cutting.Classes]int64, len(t.lens))
	t.ripped, t.q = make([]int64, len(t.lens)), make([]int64, len(t.lens))
	t.h0, t.h1 = make([][]int64, len(t.widths)), make([][]int64, len(t.widths))
	t.m0, t.m1 = make([][]int64, len(t.widths)), make([][]int64, len(t.widths))
	return t
}

// saws says whether an item can be sawn to its width at all.
func (t *table) saws(i int) bool {
	w := t.p.Items[i].Width
	return !slices.Contains(t.a.Whole, i) && w > 0 && w >= t.a.Narrowest &&
		w <= t.a.Width-2*t.a.Inset
}

// slope is the worth of a length unit of an offcut so wide, of which edge says that it has the
// whole width.
func (t *table) slope(width int64) int64 {
	if width < t.a.Keep && width < t.a.Width || width <= 0 {
		return 0
	}
	return t.s0 * (width / t.step)
}

func (t *table) run(length int64) int64 { return max(0, length-t.s.Keep) }

// besideStrip is the worth of what is trimmed off a piece in a strip, without spots.
func (t *table) besideStrip(i *sawn, w int64) int64 {
	return t.slope(w-i.width-t.p.Rip) * t.run(i.size)
}

// beyondLength is the worth of what is trimmed off a piece in a length, without spots.
func (t *table) beyondLength(i *sawn, l int64) int64 {
	return t.slope(i.width) * t.run(l-i.size-t.p.Kerf)
}

// inStrip says whether an item may lie in strips so wide, inLength whether in lengths so long.
func (t *table) inStrip(i *sawn, w int64) bool {
	return i.width == w || i.width < w && t.a.Trim && i.size >= t.a.ShortestRip
}

func (t *table) inLength(i *sawn, l int64) bool {
	return l >= t.a.ShortestRip && (i.size == l || i.size < l && t.a.Trim)
}

// fill makes the tables for one ask; it gives the steps that took.
func (t *table) fill(a *price.Ask) (work int64) {
	if t.round == a.Round && t.scale == a.Scale {
		return 0
	}
	t.round = a.Round
	if t.scale != a.Scale {
		t.scale = a.Scale
		t.s0 = slopeOf(t.s.Rate, a.Scale, t.step, t.a.Width)
	}
	t.picks(a)
	n := int((t.longest + t.p.Kerf) / t.hstep)
	for k := range t.widths {
		t.h0[k], t.h1[k] = t.knapsack(t.pick[k], t.lens, t.p.Kerf, t.hstep, n, t.h0[k], t.h1[k])
		t.m0[k], t.m1[k] = runningMax(t.h0[k], t.m0[k]), runningMax(t.h1[k], t.m1[k])
	}
	for l := range t.lens {
		t.q[l] = max(slices.Max(t.plainClass[l][:]), t.ripped[l])
	}
	t.whole = t.whole[:0]
	for _, q := range t.q {
		t.whole = append(t.whole, pick{q, q})
	}
	_, t.crossed = t.knapsack(t.whole, t.lens, t.p.Kerf, t.hstep, n, nil, t.crossed)
	t.mcross = runningMax(t.crossed, t.mcross)
	for i := range t.mcross {
		t.mcross[i] = max(0, t.mcross[i])
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
func (t *table) picks(a *price.Ask) {
	none := pick{price.Never, price.Never}
	for k, w := range t.widths {
		for l := range t.lens {
			t.pick[k][l] = none
		}
		for n := range t.sawn {
			if i := &t.sawn[n]; t.inStrip(i, w) {
				t.pick[k][i.a].take(Fine*a.Duals[i.item]+t.besideStrip(i, w), i.width == w)
			}
		}
	}
	for l := range t.lens {
		t.plainClass[l] = [cutting.Classes]int64{price.Never, price.Never, price.Never}
	}
	for n, i := range t.holds {
		v := &t.plainClass[t.lenOf[n]][t.p.Items[i].Class]
		*v = max(*v, Fine*a.Duals[i])
	}
	for l, length := range t.lens {
		for k := range t.widths {
			t.across[l][k] = none
		}
		for n := range t.sawn {
			if i := &t.sawn[n]; t.inLength(i, length) {
				t.across[l][i.k].take(Fine*a.Duals[i.item]+t.beyondLength(i, length),
					i.size == length)
			}
		}
		t.ripped[l] = t.row(l)
	}
}

func (v *pick) take(value int64, exact bool) {
	v.any = max(v.any, value)
	if exact {
		v.exact = max(v.exact, value)
	}
}
