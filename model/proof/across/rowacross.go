package across

import "slices"

// The best row of pieces across a board, which are its strips, or the blanks of one ripped length.
// Positions are steps of the grid from the left edge.
//
//	sum(y)   the worth of all lines before y, over the length of the gaps
//	k, W     the kerf and the width
//	d        what one rip costs: c times its length
//
// A gap [a,b) is worth sum(b) - sum(a) where it is at least kw wide, else nothing. It never has the
// whole width, as there is a piece.
//
// A piece that ends at p < W has a rip at [p, p + k), and one that starts at q > 0 has a rip at
// [q - k, q). The two are one rip where q = p + k. No rip lies where a weak defect is. From the
// right edge:
//
//	B(q)   a piece starts at q, the rip before it not counted:
//	       the most of its value + A(q + its width)
//	C(q)   B(q) - d where there may be a rip before q, else nothing
//	A(p)   a piece ends at p; s = p + k; 0 where p = W; nothing where no rip may be at p; else
//	       -d + max of  B(s)                               it shares the rip
//	                    C(q)                               for q >= s
//	                    sum(q - k) - sum(s) + C(q)         for q >= s + k + kw
//	                    the worth of [s,W)                 with no piece any more
//
// The first piece, at q, gives C(q) and the worth of [0, q - k), or B(0) at the edge. C(s) is in
// the second line for short: it is no more than B(s). No test asks whether a value is below 0: rips
// may make a layout worth less than nothing.
//
// Two layers: a row must have a piece of one sort, an exact one, as wide or long as what it lies
// in. In one layer the row has it, in the other it is yet to come.
//
// Pieces start at places, and a kerf behind each there is one: B, C and A(s - k) stand by place, of
// which each is a q and an s.

// rowAcross is the search for the best row across.
type rowAcross struct {
	m, kerf, keep, inset int // W, k, kw, and where no piece lies at either edge
	layers               int // how many are used
	places               *places
	widths               []int
	exact, other         [][]int64 // value of exact pieces and of others, by width and place
	sum, before          []int64   // sum(q) and sum(q - k) by place; the last of sum is sum(W)
	line                 int64     // d
	shut                 []bool    // by place: no rip may lie at [q - k, q)

	a, b [layers][]int64
	any  [layers][]int64 // the most of C from here on
	gap  [layers][]int64 // the most of sum(q - k) + C(q) from here on
	most int64           // of a row
}

// size makes room for a board whose pieces start at some places.
func (c *rowAcross) size(at *places, m, kerf, keep, inset int, widths []int) {
	c.places, c.m, c.kerf, c.keep, c.inset, c.widths = at, m, kerf, keep, inset, widths
	for _, s := range []*[]int64{&c.sum, &c.before} {
		*s = slices.Grow((*s)[:0], at.n+1)[:at.n+1]
	}
	for layer := range layers {
		for _, s := range []*[]int64{&c.b[layer], &c.any[layer], &c.gap[layer], &c.a[layer]} {
			*s = slices.Grow((*s)[:0], at.n+1)[:at.n+1]
		}
	}
	c.exact, c.other = makeRows(c.exact, len(widths), at.n), makeRows(c.other, len(widths), at.n)
	c.shut = slices.Grow(c.shut[:0], at.n)[:at.n]
}

// ripsCost sets what one rip costs, and that it may lie anywhere.
func (c *rowAcross) ripsCost(each int64) {
	c.line = each
	clear(c.shut)
}

// shutRips lets no rip run into [left, right).
func (c *rowAcross) shutRips(left, right int) {
	first, end := c.places.within(max(0, left+1), right+c.kerf-1)
	for i := first; i < end; i++ {
		c.shut[i] = true
	}
}

// makeRows gives so many slices of so many numbers, and uses the old ones again.
func makeRows(old [][]int64, rows, cols int) [][]int64 {
	for len(old) < rows {
		old = append(old, nil)
	}
	for k := range rows {
		old[k] = slices.Grow(old[k][:0], cols)[:cols]
	}
	return old
}

// noValues are so many numbers of what cannot be.
func noValues(n int) []int64 { return slices.Repeat([]int64{impossible}, n) }

// best is the most of a row across with an exact piece in it; impossible where there is none.
func (c *rowAcross) best() int64 {
	n := c.places.n
	for layer := range c.layers {
		c.any[layer][n], c.gap[layer][n] = impossible, impossible
	}
	c.most = impossible
	for i := n - 1; i >= 0; i-- {
		y := int(c.places.at[i])
		c.start(i, y)
		for layer := range c.layers {
			b := c.ripped(layer, i)
			c.any[layer][i], c.gap[layer][i] = max(c.any[layer][i+1], b), c.gap[layer][i+1]
			if b > impossible && y >= c.kerf {
				c.gap[layer][i] = max(c.gap[layer][i], b+c.before[i])
			}
			c.a[layer][i] = c.after(layer, i, y)
		}
		c.most = max(c.most, c.first(c.layers-1, i, y))
	}
	return c.most
}

// ripped is C of a place.
func (c *rowAcross) ripped(layer, i int) int64 {
	if b := c.b[layer][i]; b > impossible && !c.shut[i] {
		return b - c.line
	}
	return impossible
}

// first is the most of a row whose first piece starts at a place, which is at q.
func (c *rowAcross) first(layer, i, q int) int64 {
	b := c.b[layer][i]
	if q > 0 {
		b = c.ripped(layer, i)
	}
	if to := q - c.kerf; b > impossible && to > 0 && to >= c.keep { // the gap before it
		b += c.before[i]
	}
	return b
}

// start works out B of a place, which is at y.
func (c *rowAcross) start(i, y int) {
	b0, b1 := int64(impossible), int64(impossible)
	for k, w := range c.widths {
		if y < c.inset || y+w > c.m-c.inset {
			continue
		}
		exact, other := c.exact[k][i], int64(impossible)
		if c.layers > 1 {
			other = c.other[k][i]
		}
		if exact <= impossible && other <= impossible {
			continue
		}
		next, is := c.places.is(y + w + c.kerf)
		if !is || c.a[0][next] <= impossible {
			continue
		}
		a := c.a[0][next]
		if exact > impossible {
			b0, b1 = max(b0, exact+a), max(b1, exact+a)
		}
		if other > impossible {
			b0 = max(b0, other+a)
			if a := c.a[1][next]; a > impossible {
				b1 = max(b1, other+a)
			}
		}
	}
	c.b[0][i], c.b[1][i] = b0, b1
}

// after works out A(s - k) of a place at s.
func (c *rowAcross) after(layer, i, s int) int64 {
	most := int64(impossible)
	edge := s-c.kerf == c.m
	if !edge && c.shut[i] {
		return most
	}
	if layer == 0 {
		most = 0
		if s < c.m && c.m-s >= c.keep {
			most = c.sum[c.places.n] - c.sum[i]
		}
	}
	most = max(most, c.b[layer][i], c.any[layer][i])
	if next, _ := c.places.within(s+c.kerf+c.keep, c.m); c.gap[layer][next] > impossible {
		most = max(most, c.gap[layer][next]-c.sum[i])
	}
	if !edge && most > impossible {
		most -= c.line
	}
	return most
}

// trace gives the pieces of a best row, in one layer.
func (c *rowAcross) trace(out []placedAt) []placedAt {
	b, a, n := c.b[0], c.a[0], c.places.n
	i := 0
	for i < n && (b[i] == impossible || c.first(0, i, int(c.places.at[i])) != c.most) {
		i++
	}
	for i < n {
		next, y := -1, int(c.places.at[i])
		for k, w := range c.widths {
			if y < c.inset || y+w > c.m-c.inset || c.exact[k][i] <= impossible {
				continue
			}
			if to, is := c.places.is(y + w + c.kerf); is && a[to] > impossible &&
				c.exact[k][i]+a[to] == b[i] {
				out, next = append(out, placedAt{k, y}), to
				break
			}
		}
		if next < 0 {
			break
		}
		i = c.nextPiece(next)
	}
	return out
}

// nextPiece finds the piece that A goes on with of a place; beyond all where that is none.
func (c *rowAcross) nextPiece(i int) int {
	s, n := int(c.places.at[i]), c.places.n
	if s-c.kerf == c.m {
		return n
	}
	want := c.a[0][i] + c.line
	if c.b[0][i] > impossible && c.b[0][i] == want {
		return i
	}
	for k := i; k < n; k++ {
		b := c.ripped(0, k)
		if b <= impossible {
			continue
		}
		gap := int(c.places.at[k]) - c.kerf - s
		if b == want || gap >= c.keep && gap >= 0 && b+c.before[k]-c.sum[i] == want {
			return k
		}
	}
	return n
}
