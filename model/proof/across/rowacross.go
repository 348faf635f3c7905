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

// rowAcross is the search for the best row across.
type rowAcross struct {
	m, kerf, keep, inset int // W, k, kw, and where no piece lies at either edge
	layers               int // how many are used
	widths               []int
	exact, other         [][]int64 // value of exact pieces and of others, by width and position
	sum                  []int64
	line                 int64  // d
	shut                 []bool // by q up to W + k: no rip may lie at [q - k, q)

	a, b [layers][]int64
	any  [layers][]int64 // the most of C from here on
	gap  [layers][]int64 // the most of sum(q - k) + C(q) from here on
}

// size makes room for a board.
func (c *rowAcross) size(m, kerf, keep, inset int, widths []int) {
	c.m, c.kerf, c.keep, c.inset, c.widths = m, kerf, keep, inset, widths
	c.sum = slices.Grow(c.sum[:0], m+1)[:m+1]
	for layer := range layers {
		for _, s := range []*[]int64{&c.b[layer], &c.any[layer], &c.gap[layer], &c.a[layer]} {
			*s = slices.Grow((*s)[:0], m+2)[:m+2]
		}
	}
	c.exact, c.other = makeRows(c.exact, len(widths), m+1), makeRows(c.other, len(widths), m+1)
	c.shut = slices.Grow(c.shut[:0], m+kerf+1)[:m+kerf+1]
}

// ripsCost sets what one rip costs, and that it may lie anywhere.
func (c *rowAcross) ripsCost(each int64) {
	c.line = each
	clear(c.shut)
}

// shutRips lets no rip run into [left, right).
func (c *rowAcross) shutRips(left, right int) {
	for q := max(0, left+1); q < min(right+c.kerf, len(c.shut)); q++ {
		c.shut[q] = true
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

// best is the most of a row across with an exact piece in it; impossible where there is none.
func (c *rowAcross) best() int64 {
	for layer := range c.layers {
		c.any[layer][c.m+1], c.gap[layer][c.m+1] = impossible, impossible
	}
	most := int64(impossible)
	for y := c.m; y >= 0; y-- {
		c.start(y)
		for layer := range c.layers {
			b := c.ripped(layer, y)
			c.any[layer][y], c.gap[layer][y] = max(c.any[layer][y+1], b), c.gap[layer][y+1]
			if b > impossible && y >= c.kerf {
				c.gap[layer][y] = max(c.gap[layer][y], b+c.sum[y-c.kerf])
			}
			c.a[layer][y] = c.after(layer, y)
		}
		most = max(most, c.first(c.layers-1, y))
	}
	return most
}

// ripped is C(q).
func (c *rowAcross) ripped(layer, q int) int64 {
	if b := c.b[layer][q]; b > impossible && !c.shut[q] {
		return b - c.line
	}
	return impossible
}

// first is the most of a row whose first piece starts at q.
func (c *rowAcross) first(layer, q int) int64 {
	b := c.b[layer][q]
	if q > 0 {
		b = c.ripped(layer, q)
	}
	if b > impossible {
		b += c.gapBefore(q)
	}
	return b
}

// gapBefore is what the gap before the first piece is worth, which starts at q.
func (c *rowAcross) gapBefore(q int) int64 {
	if to := q - c.kerf; to > 0 && to >= c.keep {
		return c.sum[to]
	}
	return 0
}

// start works out B(y).
func (c *rowAcross) start(y int) {
	b0, b1 := int64(impossible), int64(impossible)
	for k, w := range c.widths {
		if y < c.inset || y+w > c.m-c.inset {
			continue
		}
		a := c.a[0][y+w]
		if a <= impossible {
			continue
		}
		if v := c.exact[k][y]; v > impossible {
			b0, b1 = max(b0, v+a), max(b1, v+a)
		}
		if c.layers > 1 {
			if v := c.other[k][y]; v > impossible {
				b0 = max(b0, v+a)
				if a := c.a[1][y+w]; a > impossible {
					b1 = max(b1, v+a)
				}
			}
		}
	}
	c.b[0][y], c.b[1][y] = b0, b1
}

// after works out A(p).
func (c *rowAcross) after(layer, p int) int64 {
	s := p + c.kerf
	most := int64(impossible)
	if p < c.m && c.shut[s] {
		return most
	}
	if layer == 0 {
		most = 0
		if s < c.m && c.m-s >= c.keep {
			most = c.sum[c.m] - c.sum[s]
		}
	}
	if s <= c.m {
		most = max(most, c.b[layer][s], c.any[layer][s])
		if q := s + c.kerf + c.keep; q <= c.m && c.gap[layer][q] > impossible {
			most = max(most, c.gap[layer][q]-c.sum[s])
		}
	}
	if p < c.m && most > impossible {
		most -= c.line
	}
	return most
}

// trace gives the pieces of a best row, in one layer, whose worth is most.
func (c *rowAcross) trace(most int64, out []placedAt) []placedAt {
	b, a := c.b[0], c.a[0]
	q := 0
	for q < c.m && (b[q] == impossible || c.first(0, q) != most) {
		q++
	}
	for q <= c.m {
		p := -1
		for k, w := range c.widths {
			if y := q; y >= c.inset && y+w <= c.m-c.inset && c.exact[k][y] > impossible &&
				a[y+w] > impossible && c.exact[k][y]+a[y+w] == b[y] {
				out, p = append(out, placedAt{k, y}), y+w
				break
			}
		}
		if p < 0 {
			break
		}
		q = c.nextPiece(p)
	}
	return out
}

// nextPiece finds the piece that A(p) goes on with; beyond the edge where that is none.
func (c *rowAcross) nextPiece(p int) int {
	s, want := p+c.kerf, c.a[0][p]+c.line
	if p < c.m && s <= c.m && c.b[0][s] > impossible && c.b[0][s] == want {
		return s
	}
	for q := s; p < c.m && q <= c.m; q++ {
		b := c.ripped(0, q)
		if b <= impossible {
			continue
		}
		if b == want || q-c.kerf-s >= c.keep && q-c.kerf >= s &&
			b+c.sum[q-c.kerf]-c.sum[s] == want {
			return q
		}
	}
	return c.m + 1
}
