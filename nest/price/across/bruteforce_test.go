package across

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// bruteForce prices a stock with Across by exhaustive search over every unit, straight from the
// meaning of patterns. The worth u of an area adds up single lines.
type bruteForce struct {
	p        *cutting.Problem
	s        *cutting.Stock
	a        *cutting.Across
	duals    []int64
	from, to int64 // the ripped span
}

func newBruteForce(p *cutting.Problem, duals []int64) *bruteForce {
	s := &p.Stocks[0]
	return &bruteForce{p, s, s.Across, duals, s.From, s.To}
}

// spans are all from where to where the stock may be ripped first.
func (b *bruteForce) spans() (out []cutting.Span) {
	for from := b.s.From; from < b.s.To; from++ {
		for to := from + 1; to <= b.s.To; to++ {
			near, far := from == b.s.From, to == b.s.To
			for _, o := range b.s.Spots {
				near = near || o.Weak && o.To == from
				far = far || o.Weak && o.From == to
			}
			if near && far && to-from >= b.a.ShortestRip {
				out = append(out, cutting.Span{From: from, To: to})
			}
		}
	}
	return out
}

// free says whether a kerf at y, over a part of the length, meets no weak spot.
func (b *bruteForce) free(from, to, y int64) bool {
	return !slices.ContainsFunc(b.s.Spots, func(o cutting.Spot) bool {
		return o.Weak && o.From < to && o.To > from && o.Left < y+b.p.Rip && o.Right > y
	})
}

// freed says whether a thing may be ripped off at both sides.
func (b *bruteForce) freed(from, to, left, right int64) bool {
	return (left == 0 || b.free(from, to, left-b.p.Rip)) &&
		(right == b.a.Width || b.free(from, to, right))
}

// u is the worth of an area.
func (b *bruteForce) u(from, to, left, right int64) (sum int64) {
	slope := b.a.Strip
	if left == 0 && right == b.a.Width {
		slope = b.s.Slope
	} else if right-left < b.a.Keep {
		return 0
	}
	for y := left; y < right; y++ {
		run := int64(0)
		for x := from; x <= to; x++ {
			if x == to || slices.ContainsFunc(b.s.Spots, func(o cutting.Spot) bool {
				return o.Left <= y && y < o.Right && o.From <= x && x < o.To
			}) {
				sum += slope * max(0, run-b.s.Keep)
				run = 0
				continue
			}
			run++
		}
	}
	return sum
}

// allows says whether a piece of an item may lie at x, from left to right.
func (b *bruteForce) allows(i int, x, left, right int64) bool {
	it := b.p.Items[i]
	return !slices.ContainsFunc(b.s.Spots, func(o cutting.Spot) bool {
		return !o.Tolerated[it.Class] && o.From < x+it.Size && o.To > x && o.Left < right &&
			o.Right > left
	})
}

// sawn says whether an item may be sawn to its own width.
func (b *bruteForce) sawn(i int) bool {
	return !slices.Contains(b.a.Whole, i) && b.p.Items[i].Width >= b.a.Narrowest
}

// part is one thing in a row: so long, worth so much. A row must have one of full size.
type part struct {
	size, value int64
	full        bool
}

// bestRow is the most that a row of parts is worth. It fills [start, end), its parts lie in [lo,
// hi), a kerf apart. parts gives those that may lie at a point, gap what a gap is worth. cut is
// what it costs to part them from what is beside them.
func bestRow(start, end, lo, hi, kerf, cut int64, parts func(int64) []part,
	gap func(from, to int64) int64) int64 {
	type state struct {
		from  int64
		full  bool
		begun bool
	}
	memo := map[state]int64{}
	var best func(s state) int64
	best = func(s state) int64 {
		if v, ok := memo[s]; ok {
			return v
		}
		v := int64(price.Never)
		if s.full {
			v = gap(s.from, end)
		}
		for x := max(s.from, lo); x < hi; x++ {
			for _, c := range parts(x) {
				if x+c.size > hi {
					continue
				}
				follows := best(state{x + c.size + kerf, s.full || c.full, true})
				if x > start && !(s.begun && x == s.from) {
					follows -= cut
				}
				if x+c.size < end {
					follows -= cut
				}
				if follows > price.Never/2 {
					v = max(v, gap(s.from, x-kerf)+c.value+follows)
				}
			}
		}
		memo[s] = v
		return v
	}
	return best(state{start, false, false})
}

// length is the most that a length at x may hold.
func (b *bruteForce) length(x, length int64) int64 {
	best := int64(price.Never)
	for _, i := range b.s.Holds {
		if b.p.Items[i].Size == length && b.allows(i, x, 0, b.a.Width) {
			best = max(best, b.duals[i])
		}
	}
	if length < b.a.ShortestRip {
		return best
	}
	parts := func(y int64) (out []part) {
		for _, i := range b.s.Holds {
			it := b.p.Items[i]
			if !b.sawn(i) || it.Size > length || it.Size < length && !b.a.Trim ||
				!b.freed(x, x+length, y, y+it.Width) {
				continue
			}
			near, far, full := x+it.Size, x+length-it.Size, it.Size == length
			if b.allows(i, x, y, y+it.Width) {
				u := b.u(near+b.p.Kerf, x+length, y, y+it.Width)
				out = append(out, part{it.Width, b.duals[i] + u, full})
			}
			if b.allows(i, far, y, y+it.Width) {
				u := b.u(x, far-b.p.Kerf, y, y+it.Width)
				out = append(out, part{it.Width, b.duals[i] + u, full})
			}
		}
		return out
	}
	gap := func(y, z int64) int64 { return b.u(x, x+length, y, z) }
	e := b.a.Inset
	cut := length * b.p.RipCost
	return max(best, bestRow(0, b.a.Width, e, b.a.Width-e, b.p.Rip, cut, parts, gap))
}

// strip is the most that a strip at y may hold.
func (b *bruteForce) strip(y, width int64) int64 {
	if !b.freed(b.from, b.to, y, y+width) {
		return price.Never
	}
	parts := func(x int64) (out []part) {
		for _, i := range b.s.Holds {
			it := b.p.Items[i]
			if !b.sawn(i) || it.Width > width || it.Width < width &&
				(!b.a.Trim || it.Size < b.a.ShortestRip) {
				continue
			}
			left, right, full := y+it.Width, y+width-it.Width, it.Width == width
			trim := it.Size * b.p.RipCost
			if full {
				trim = 0
			}
			if b.allows(i, x, y, left) && (full || b.free(x, x+it.Size, left)) {
				u := b.u(x, x+it.Size, left+b.p.Rip, y+width)
				out = append(out, part{it.Size, b.duals[i] + u - trim, full})
			}
			if b.allows(i, x, right, y+width) && (full || b.free(x, x+it.Size, right-b.p.Rip)) {
				u := b.u(x, x+it.Size, y, right-b.p.Rip)
				out = append(out, part{it.Size, b.duals[i] + u - trim, full})
			}
		}
		return out
	}
	gap := func(x, z int64) int64 { return b.u(x, z, y, y+width) }
	return bestRow(b.from, b.to, b.from, b.to, b.p.Kerf, 0, parts, gap)
}

// best is the most that a pattern of the kinds is worth, and whether any piece has a place.
func (b *bruteForce) best(only kind) (int64, bool) {
	var sizes, widths []int64
	for _, i := range b.s.Holds {
		sizes = append(sizes, b.p.Items[i].Size)
		if b.sawn(i) {
			widths = append(widths, b.p.Items[i].Width)
		}
	}
	from, to, w, e := b.s.From, b.s.To, b.a.Width, b.a.Inset
	v := int64(price.Never)
	if only != onlyRip {
		gap := func(x, z int64) int64 { return b.u(x, z, 0, w) }
		v = bestRow(from, to, from, to, b.p.Kerf, 0, slabs(sizes, to, b.length), gap)
	}
	for _, on := range b.spans() {
		if only == onlyCrosscut {
			break
		}
		b.from, b.to = on.From, on.To
		gap := func(y, z int64) int64 { return b.u(b.from, b.to, y, z) }
		cut := (b.to - b.from) * b.p.RipCost
		strips := bestRow(0, w, e, w-e, b.p.Rip, cut, slabs(widths, w-e, b.strip), gap)
		v = max(v, strips+b.ends())
	}
	b.from, b.to = from, to
	if v < price.Never/2 {
		return b.u(from, to, 0, w), false
	}
	return v, true
}

// ends is what lies before and behind the ripped span.
func (b *bruteForce) ends() int64 {
	return b.u(b.s.From, b.from-b.p.Kerf, 0, b.a.Width) +
		b.u(b.to+b.p.Kerf, b.s.To, 0, b.a.Width)
}

// slabs gives the lengths or strips of some sizes that may lie at a point and end at hi.
func slabs(sizes []int64, hi int64, value func(at, size int64) int64) func(int64) []part {
	slices.Sort(sizes)
	sizes = slices.Compact(sizes)
	memo := map[int64][]part{}
	return func(at int64) []part {
		out, ok := memo[at]
		if ok {
			return out
		}
		for _, size := range sizes {
			if at+size > hi {
				continue
			}
			if v := value(at, size); v > price.Never/2 {
				out = append(out, part{size, v, true})
			}
		}
		memo[at] = out
		return out
	}
}

// has says whether a piece of an item has a place at all.
func (b *bruteForce) has(i int, only kind) bool {
	it, e := b.p.Items[i], b.a.Inset
	for x := b.s.From; x+it.Size <= b.s.To; x++ {
		if only != onlyRip && b.allows(i, x, 0, b.a.Width) {
			return true
		}
		for y := e; b.sawn(i) && y+it.Width <= b.a.Width-e; y++ {
			if !b.allows(i, x, y, y+it.Width) {
				continue
			}
			if only != onlyRip && it.Size >= b.a.ShortestRip &&
				b.freed(x, x+it.Size, y, y+it.Width) {
				return true
			}
			if only != onlyCrosscut && slices.ContainsFunc(b.spans(), func(on cutting.Span) bool {
				return on.From <= x && on.To >= x+it.Size &&
					b.freed(on.From, on.To, y, y+it.Width)
			}) {
				return true
			}
		}
	}
	return false
}
