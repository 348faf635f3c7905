package across

import (
	"cmp"
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
// The best t is found cell by cell (gap.go). Two layers, as in rowacross.go.
//
// What may start at x is a list of options that stays the same for a stretch of the board. A(s)
// falls along the board, so one option dominates another where it is no longer, of no less value,
// and exact if the other is.

// impossible is below all that can come to anything, and leaves room to add to.
const impossible = -1 << 62

// option is a piece that may start anywhere from a to b.
type option struct {
	length, a, b int
	exact        bool
	value        int64
	values       []int64 // by position from a on, of which value is the most; nil: all are value
	kind         int     // index of its length
}

// rowAlong is the search for the best row.
type rowAlong struct {
	n, kerf    int   // U, k
	grid, keep int64 // length units of a step; keep in length units
	layers     int   // how many are used
	options    []option
	edges      []int        // of the cells
	pairs      [][]cellPair // by i, then j - i - 1; the last j is U itself
	own        []int64      // worth of the runs that hold a cell

	f, a [layers][]int64
	then [layers][]int32 // the position in F that A(s) goes on with; n for none

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
	option  *option // where it has values, else nil
}

// prepare makes room for a board; the bands are what gaps are worth by.
func (r *rowAlong) prepare(n, kerf int, grid, keep int64, bands []band) {
	r.n, r.kerf, r.grid, r.keep = n, kerf, grid, keep
	r.takeApart(bands)
	for layer := range layers {
		r.f[layer] = slices.Grow(r.f[layer][:0], n+1)[:n+1]
		r.a[layer] = slices.Grow(r.a[layer][:0], n+1)[:n+1]
		r.then[layer] = slices.Grow(r.then[layer][:0], n+1)[:n+1]
	}
}

// fill works out F and A from the cell in which top lies down to S.
func (r *rowAlong) fill(top int) {
	if top >= r.n-1 {
		top = r.n - 1
		for layer := range layers {
			r.f[layer][r.n], r.a[layer][r.n], r.then[layer][r.n] = impossible, 0, int32(r.n)
		}
		r.a[1][r.n] = impossible
		r.closeCell(len(r.edges) - 1)
	}
	r.sortOptions()
	cell, _ := slices.BinarySearch(r.edges, top+1)
	r.here, r.ahead, r.next = r.here[:0], 0, r.edges[cell]
	for cell--; cell >= 0; cell-- {
		var best [layers]int64
		var at [layers]int32
		for layer := range r.layers {
			best[layer] = impossible
		}
		for x := r.edges[cell+1] - 1; x >= r.edges[cell]; x-- {
			r.start(x)
			for layer := range r.layers {
				if t := x + r.kerf; r.own[cell] > 0 && t < r.n && r.f[layer][t] > impossible {
					if v := r.own[cell]*int64(x)*r.grid + r.f[layer][t]; v > best[layer] {
						best[layer], at[layer] = v, int32(t)
					}
				}
				r.after(layer, cell, x, best[layer], at[layer])
			}
		}
		if cell > 0 {
			r.closeCell(cell)
		}
	}
}

// sortOptions puts the options in the order in which they come, from the far end.
func (r *rowAlong) sortOptions() {
	slices.SortFunc(r.options, func(a, b option) int { return cmp.Compare(b.b, a.b) })
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
		if c.values != nil {
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

// start works out F(x).
func (r *rowAlong) start(x int) {
	if x < r.next {
		r.choose(x)
	}
	f0, f1, a0, a1 := r.f[0][x+1], int64(impossible), r.a[0], r.a[1]
	if r.layers > 1 {
		f1 = r.f[1][x+1]
	}
	for k := range r.needed {
		s := &r.needed[k]
		v, next := s.value, min(x+s.advance, r.n)
		if s.option != nil {
			v = s.option.values[x-s.option.a]
		}
		with := v + a0[next]
		f0 = max(f0, with)
		if s.exact {
			f1 = max(f1, with)
		} else if a := a1[next]; a > impossible {
			f1 = max(f1, v+a)
		}
	}
	r.f[0][x] = f0
	if r.layers > 1 {
		r.f[1][x] = f1
	}
}

// after works out A(x); here is the best of the gaps that end in the cell of x, and at is their t +
// k.
func (r *rowAlong) after(layer, cell, x int, here int64, at int32) {
	best, then := r.f[layer][x], int32(x)
	if layer == 0 && best < 0 && x > 0 { // nothing more; at S itself there is a piece to come
		best, then = 0, int32(r.n)
	}
	s := int64(x) * r.grid
	if here > impossible {
		if v := here - r.own[cell]*(s+r.keep); v > best {
			best, then = v, at
		}
	}
	alpha, pairs := -r.own[cell]*s, r.pairs[cell]
	for j := range pairs {
		p := &pairs[j]
		if p.ends > 0 {
			alpha += p.ends * (s + beyondKeep(int64(r.edges[cell+1+j])*r.grid-s, r.keep))
		}
		if j == len(pairs)-1 && x == 0 {
			break
		}
		if v := p.most[layer] + alpha; v > best && p.most[layer] > impossible {
			best, then = v, p.at[layer]
		}
	}
	r.a[layer][x], r.then[layer][x] = best, then
}

// best is the most of a row with an exact piece in it; impossible where there is none.
func (r *rowAlong) best() int64 { return r.a[r.layers-1][0] }

// placedAt is a piece of a row: the index of its length, and where it starts.
type placedAt struct{ kind, at int }

// trace gives the pieces of a best row, in one layer.
func (r *rowAlong) trace(out []placedAt) []placedAt {
	f, a := r.f[0], r.a[0]
	for s := 0; s < r.n; {
		x := int(r.then[0][s])
		for x < r.n && f[x] == f[x+1] {
			x++
		}
		k := slices.IndexFunc(r.options, func(c option) bool {
			return c.a <= x && x <= c.b && c.value+a[min(x+c.length+r.kerf, r.n)] == f[x]
		})
		if k < 0 { // nothing more
			break
		}
		out = append(out, placedAt{r.options[k].kind, x})
		s = x + r.options[k].length + r.kerf
	}
	return out
}
