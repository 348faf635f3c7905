package across

import (
	"cmp"
	"math"
	"slices"
)

// The best row of pieces along a board, which are its lengths, or the blanks of one strip.
// Positions are steps of the grid from S. From the far end, with k the kerf and u(s,t) the worth of
// a gap:
//
//	F(x)   a piece starts at x or later:
//	       max of  F(x + 1)
//	               the value of a piece at x + A(x + its length + k)
//	A(s)   a piece ends a kerf before s:
//	       max of  F(s)
//	               u(s,t) + F(t + k)     for s < t
//	               u(s,U)                with no piece any more
//
// The best t is found cell by cell (gap.go). Two layers, as in rowacross.go. F and A are worked out
// at places only. Where none is just a kerf behind a piece, it goes on at the next one.
//
// What may start at x is a list of options that stays the same for a stretch of the board. A(s)
// falls along the board, so one option dominates another where it is no longer, of no less value,
// and exact if the other is.

// impossible is below all that can come to anything, and leaves room to add to.
const impossible = -1 << 62

// nothing is the most of each layer where there is none.
var nothing = [layers]int64{impossible, impossible}

// option is a piece that may start anywhere from a to b.
type option struct {
	length, a, b int
	exact        bool
	value        int64
	beside       []band // where not nil, value counts these as clear; they are not all over
	clear        int64  // what they count so
	kind         int    // index of its length
}

// rowAlong is the search for the best row.
type rowAlong struct {
	n, kerf    int   // U, k
	grid, keep int64 // length units of a step; keep in length units
	layers     int   // how many are used
	places     *places
	options    []option
	edges      []int        // of the cells
	pairs      [][]cellPair // by i, then j - i - 1; the last j is U itself
	own        []int64      // worth of the runs that hold a cell
	bends      []bend       // those of the pairs

	f, a [layers][]int64 // by place
	then [layers][]int32 // the place in F that A(s) goes on with; their number for none

	ahead  int            // so many options have come
	here   []*option      // of these, what may start here
	needed []neededOption // of these, what no other dominates
	next   int            // all of these stay the same down to here
}

// neededOption is an option that no other dominates.
type neededOption struct {
	advance int // its length and a kerf
	exact   bool
	value   int64
	option  *option // where it has something beside it, else nil
}

// prepare makes room for a board whose pieces start at some places; the bands are what gaps are
// worth by.
func (r *rowAlong) prepare(at *places, n, kerf int, grid, keep int64, bands []band) {
	r.places, r.n, r.kerf, r.grid, r.keep = at, n, kerf, grid, keep
	r.takeApart(bands)
	for layer := range layers {
		r.f[layer] = slices.Grow(r.f[layer][:0], at.n+1)[:at.n+1]
		r.a[layer] = slices.Grow(r.a[layer][:0], at.n+1)[:at.n+1]
		r.then[layer] = slices.Grow(r.then[layer][:0], at.n+1)[:at.n+1]
	}
}

// offer adds the option of a length of an index, if it gives anything.
func (r *rowAlong) offer(index, length, a, b int, value int64) {
	if value > impossible {
		r.options = append(r.options,
			option{length: length, a: a, b: b, exact: true, value: value, kind: index})
	}
}

// fill works out F and A from the cell in which top lies down to S.
func (r *rowAlong) fill(top int) {
	at := r.places.at
	if top >= r.n-1 {
		top = r.n - 1
		for i := r.places.n; i >= 0 && (i == r.places.n || int(at[i]) >= r.n); i-- {
			for layer := range r.layers {
				r.f[layer][i], r.a[layer][i], r.then[layer][i] = impossible, 0,
					int32(r.places.n)
			}
			r.a[1][i] = impossible
		}
		r.closeCell(len(r.edges) - 1)
	}
	slices.SortFunc(r.options, func(a, b option) int { return cmp.Compare(b.b, a.b) })
	cell, _ := slices.BinarySearch(r.edges, top+1)
	r.here, r.ahead, r.next = r.here[:0], 0, math.MaxInt
	i := r.places.from(r.edges[cell]) - 1
	for cell--; cell >= 0; cell-- {
		best, then := nothing, [layers]int32{}
		from, to := r.edges[cell], r.edges[cell+1]
		_, gaps := r.places.within(0, min(to-1+r.kerf, r.n-1)) // behind gaps that end in the cell
		for ; i >= 0 && int(at[i]) >= from; i-- {
			s := int(at[i])
			r.start(i, s)
			for ; gaps > 0 && int(at[gaps-1])-r.kerf >= s; gaps-- {
				t := int64(int(at[gaps-1]) - r.kerf)
				for layer := range r.layers {
					f := r.f[layer][gaps-1]
					if v := r.own[cell]*t*r.grid + f; f > impossible && v > best[layer] {
						best[layer], then[layer] = v, int32(gaps-1)
					}
				}
			}
			for layer := range r.layers {
				r.after(layer, cell, i, best[layer], then[layer])
			}
		}
		if cell > 0 {
			r.closeCell(cell)
		}
	}
}

// choose finds the options needed at x and below, as far as they stay the same.
func (r *rowAlong) choose(x int) {
	r.here = slices.DeleteFunc(r.here, func(c *option) bool { return c.a > x })
	for ; r.ahead < len(r.options) && r.options[r.ahead].b >= x; r.ahead++ {
		if c := &r.options[r.ahead]; c.a <= x {
			at, _ := slices.BinarySearchFunc(r.here, c, func(a, b *option) int {
				return cmp.Or(cmp.Compare(a.length, b.length), cmp.Compare(b.value, a.value))
			})
			r.here = slices.Insert(r.here, at, c)
		}
	}
	r.next = 0
	if r.ahead < len(r.options) {
		r.next = r.options[r.ahead].b + 1
	}
	r.needed = r.needed[:0]
	exact, any := int64(impossible), int64(impossible)
	for _, c := range r.here {
		r.next = max(r.next, c.a)
		v := c.value
		if c.exact && v <= exact || !c.exact && v <= any {
			continue
		}
		s := neededOption{c.length + r.kerf, c.exact, c.value, nil}
		if c.beside != nil {
			s.option = c
		} else {
			any = max(any, v)
			if c.exact {
				exact = max(exact, v)
			}
		}
		r.needed = append(r.needed, s)
	}
}

// start works out F(x) of one place.
func (r *rowAlong) start(i, x int) {
	if x < r.next {
		r.choose(x)
	}
	f0, f1, a0, a1 := r.f[0][i+1], int64(impossible), r.a[0], r.a[1]
	if r.layers > 1 {
		f1 = r.f[1][i+1]
	}
	for k := range r.needed {
		s := &r.needed[k]
		v, next := s.value, r.places.from(x+s.advance)
		if o := s.option; o != nil {
			v += r.bandsWorth(o.beside, x, x+o.length) - o.clear
		}
		with := v + a0[next]
		f0 = max(f0, with)
		if s.exact {
			f1 = max(f1, with)
		} else if a := a1[next]; a > impossible {
			f1 = max(f1, v+a)
		}
	}
	r.f[0][i] = f0
	if r.layers > 1 {
		r.f[1][i] = f1
	}
}

// after works out A of one place in a cell, and what it goes on with; here is the best of the gaps
// that end in the cell, and then what follows them.
func (r *rowAlong) after(layer, cell, i int, here int64, then int32) {
	s := int64(r.places.at[i])
	best, next := r.f[layer][i], int32(i)
	if layer == 0 && best < 0 && s > 0 { // nothing more; at S itself there is a piece to come
		best, next = 0, int32(r.places.n)
	}
	last := s == 0
	s *= r.grid
	if here > impossible {
		if v := here - r.own[cell]*(s+r.keep); v > best {
			best, next = v, then
		}
	}
	alpha, pairs := -r.own[cell]*s, r.pairs[cell]
	for j := range pairs {
		p := &pairs[j]
		if p.ends > 0 {
			alpha += p.ends * (s + beyondKeep(int64(r.edges[cell+1+j])*r.grid-s, r.keep))
		}
		if j == len(pairs)-1 && last {
			break
		}
		if v := p.most[layer] + alpha; v > best && p.most[layer] > impossible {
			best, next = v, p.then[layer]
		}
	}
	r.a[layer][i], r.then[layer][i] = best, next
}

// bandsWorth is what bands are worth between two points along the board.
func (r *rowAlong) bandsWorth(bands []band, from, to int) (sum int64) {
	for _, b := range bands {
		for _, c := range b.clear {
			if f, t := max(c.from, from), min(c.to, to); f < t {
				sum += b.worth * beyondKeep(int64(t-f)*r.grid, r.keep)
			}
		}
	}
	return sum
}

// best is the most of a row with an exact piece in it; impossible where there is none.
func (r *rowAlong) best() int64 { return r.a[r.layers-1][0] }

// behind is A(s) of a place, with an exact piece still to come.
func (r *rowAlong) behind(s int) int64 { return r.a[r.layers-1][r.places.from(s)] }

// placedAt is a piece of a row: the index of its length, and where it starts.
type placedAt struct{ kind, at int }

// trace gives the pieces of a best row, in one layer.
func (r *rowAlong) trace(out []placedAt) []placedAt {
	f, a, at := r.f[0], r.a[0], r.places.at
	for s := 0; s < r.places.n; {
		i := int(r.then[0][s])
		for i < r.places.n && f[i] == f[i+1] {
			i++
		}
		if i == r.places.n { // nothing more
			break
		}
		x := int(at[i])
		k := slices.IndexFunc(r.options, func(c option) bool {
			return c.a <= x && x <= c.b && c.value+a[r.places.from(x+c.length+r.kerf)] == f[i]
		})
		if k < 0 {
			break
		}
		out = append(out, placedAt{r.options[k].kind, x})
		s = r.places.from(x + r.options[k].length + r.kerf)
	}
	return out
}
