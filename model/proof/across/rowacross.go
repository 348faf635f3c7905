package across

import "slices"

// The best row of pieces across a board, which are its strips, or the blanks of one ripped length;
// positions are steps of the grid from the left edge. sum(y) is the worth of all lines before y
// over the length of the gaps, so a gap [a,b) is worth sum(b) - sum(a) where it is at least keep
// wide, else nothing (it is never of the whole width, as there is a piece). From the right edge,
// with a kerf k,
//
//	B(q)  a piece starts at q: the most of its value + A(q + its width)
//	A(p)  a piece ends at p, s = p + k: the most of B(q) over q >= s;  sum(q-k) + B(q) - sum(s) over q >= s + k + keep;
//	      and the worth of [s,W), with no piece any more
//
// and the first piece has the gap [0,q-k) before it. Two layers as along the board.

// rowAcross is the search for the best row across.
type rowAcross struct {
	m, kerf, keep, inset int
	layers               int
	widths               []int
	exact, other         [][]int64 // by width and position
	sum                  []int64

	b, any, gap [layers][]int64 // B; the most of B from here on; the same of sum(q-k) + B(q)
	a           [layers][]int64
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
	c.exact, c.other = grid2(c.exact, len(widths), m+1), grid2(c.other, len(widths), m+1)
}

// grid2 gives so many slices of so many numbers.
func grid2(old [][]int64, rows, cols int) [][]int64 {
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
			b := c.b[layer][y]
			c.any[layer][y], c.gap[layer][y] = max(c.any[layer][y+1], b), c.gap[layer][y+1]
			if b > impossible && y >= c.kerf {
				c.gap[layer][y] = max(c.gap[layer][y], b+c.sum[y-c.kerf])
			}
			c.a[layer][y] = c.after(layer, y)
		}
		if b := c.b[c.layers-1][y]; b > impossible {
			most = max(most, b+c.first(y))
		}
	}
	return most
}

// first is what the gap before a first piece at q is worth.
func (c *rowAcross) first(q int) int64 {
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
		if v := c.exact[k][y]; v > impossible {
			b0, b1 = max(b0, v+c.a[0][y+w]), max(b1, v+c.a[0][y+w])
		}
		if c.layers > 1 {
			if v := c.other[k][y]; v > impossible {
				b0 = max(b0, v+c.a[0][y+w])
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
	if layer == 0 {
		most = 0
		if s < c.m && c.m-s >= c.keep {
			most = c.sum[c.m] - c.sum[s]
		}
	}
	if s > c.m {
		return most
	}
	most = max(most, c.any[layer][s])
	if q := s + c.kerf + c.keep; q <= c.m && c.gap[layer][q] > impossible {
		most = max(most, c.gap[layer][q]-c.sum[s])
	}
	return most
}

// trace gives the pieces of a best row with one layer whose worth is most.
func (c *rowAcross) trace(most int64, out []placed) []placed {
	b, a := c.b[0], c.a[0]
	q := 0
	for q < c.m && (b[q] == impossible || b[q]+c.first(q) != most) {
		q++
	}
	for q <= c.m {
		p := -1
		for k, w := range c.widths {
			if y := q; y >= c.inset && y+w <= c.m-c.inset && c.exact[k][y] > impossible &&
				c.exact[k][y]+a[y+w] == b[y] {
				out, p = append(out, placed{k, y}), y+w
				break
			}
		}
		if p < 0 {
			break
		}
		q = c.next(p)
	}
	return out
}

// next finds the piece that A(p) goes on with; beyond the edge where that is none.
func (c *rowAcross) next(p int) int {
	b, want := c.b[0], c.a[0][p]
	for s, q := p+c.kerf, p+c.kerf; q <= c.m; q++ {
		if b[q] == impossible {
			continue
		}
		if b[q] == want || q-c.kerf-s >= c.keep && q-c.kerf >= s &&
			b[q]+c.sum[q-c.kerf]-c.sum[s] == want {
			return q
		}
	}
	return c.m + 1
}
