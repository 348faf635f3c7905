package across

import (
	"slices"

	"rackwright/nest/price"
)

// copies are how many copies of each of up to five items a row has.
type copies [5]int8

// worths are sets of copies, and the most that a row of each is worth, pieces apart.
type worths map[copies]int64

// raise takes one more row into account.
func (w worths) raise(c copies, v int64) {
	if old, ok := w[c]; !ok || v > old {
		w[c] = v
	}
}

// rowPart is one thing in a row: so long, with what it may hold.
type rowPart struct {
	size  int64
	holds worths
	full  bool
}

// rowList is the meaning of a row, as bestRow has it, for each set of copies within most.
type rowList struct {
	start, end, lo, hi, kerf, cut int64
	most                          copies
	parts                         func(int64) []rowPart
	gap                           func(from, to int64) int64
	memo                          map[rowState]worths
}

type rowState struct {
	from        int64
	full, begun bool
}

func (l *rowList) from(s rowState) worths {
	if w, ok := l.memo[s]; ok {
		return w
	}
	out := worths{}
	if s.full {
		out[copies{}] = l.gap(s.from, l.end)
	}
	for x := max(s.from, l.lo); x < l.hi; x++ {
		for _, c := range l.parts(x) {
			if x+c.size > l.hi {
				continue
			}
			cost := int64(0)
			if x > l.start && !(s.begun && x == s.from) {
				cost += l.cut
			}
			if x+c.size < l.end {
				cost += l.cut
			}
			v := l.gap(s.from, x-l.kerf) - cost
			for has, follows := range l.from(rowState{x + c.size + l.kerf, s.full || c.full, true}) {
				for held, worth := range c.holds {
					if all, ok := l.sum(has, held); ok {
						out.raise(all, v+worth+follows)
					}
				}
			}
		}
	}
	l.memo[s] = out
	return out
}

// sum adds copies; false where they are more than may be.
func (l *rowList) sum(a, b copies) (copies, bool) {
	for i := range a {
		if a[i] += b[i]; a[i] > l.most[i] {
			return a, false
		}
	}
	return a, true
}

func (l rowList) all() worths {
	l.memo = map[rowState]worths{}
	return l.from(rowState{l.start, false, false})
}

// one is a piece of an item.
func one(i int, worth int64) worths {
	c := copies{}
	c[i] = 1
	return worths{c: worth}
}

// lengthLists is what a length at x may hold.
func (b *bruteForce) lengthLists(x, length int64, most copies) worths {
	out := worths{}
	if length >= b.a.ShortestRip {
		e := b.a.Inset
		out = rowList{0, b.a.Width, e, b.a.Width - e, b.p.Rip, length * b.p.RipCost, most,
			func(y int64) []rowPart { return b.acrossAt(x, length, y) },
			func(y, z int64) int64 { return b.u(x, x+length, y, z) }, nil}.all()
	}
	for _, i := range b.s.Holds {
		if b.p.Items[i].Size == length && most[i] > 0 && b.allows(i, x, 0, b.a.Width) {
			for c, v := range one(i, 0) {
				out.raise(c, v)
			}
		}
	}
	return out
}

// acrossAt are the pieces that may lie at y in a length at x.
func (b *bruteForce) acrossAt(x, length, y int64) (out []rowPart) {
	for _, i := range b.s.Holds {
		it := b.p.Items[i]
		if !b.sawn(i) || it.Size > length || it.Size < length && !b.a.Trim ||
			!b.freed(x, x+length, y, y+it.Width) {
			continue
		}
		near, far, full := x+it.Size, x+length-it.Size, it.Size == length
		if b.allows(i, x, y, y+it.Width) {
			u := b.u(near+b.p.Kerf, x+length, y, y+it.Width)
			out = append(out, rowPart{it.Width, one(i, u), full})
		}
		if b.allows(i, far, y, y+it.Width) {
			u := b.u(x, far-b.p.Kerf, y, y+it.Width)
			out = append(out, rowPart{it.Width, one(i, u), full})
		}
	}
	return out
}

// stripLists is what a strip at y may hold.
func (b *bruteForce) stripLists(y, width int64, most copies) worths {
	if !b.freed(b.from, b.to, y, y+width) {
		return nil
	}
	return rowList{b.from, b.to, b.from, b.to, b.p.Kerf, 0, most,
		func(x int64) []rowPart { return b.alongAt(y, width, x) },
		func(x, z int64) int64 { return b.u(x, z, y, y+width) }, nil}.all()
}

// alongAt are the pieces that may lie at x in a strip at y.
func (b *bruteForce) alongAt(y, width, x int64) (out []rowPart) {
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
			out = append(out, rowPart{it.Size, one(i, u-trim), full})
		}
		if b.allows(i, x, right, y+width) && (full || b.free(x, x+it.Size, right-b.p.Rip)) {
			u := b.u(x, x+it.Size, y, right-b.p.Rip)
			out = append(out, rowPart{it.Size, one(i, u-trim), full})
		}
	}
	return out
}

// lists is the most that a layout of each set of copies is worth, pieces apart.
func (b *bruteForce) lists(most copies) worths {
	var sizes, widths []int64
	for _, i := range b.s.Holds {
		sizes = append(sizes, b.p.Items[i].Size)
		if b.sawn(i) {
			widths = append(widths, b.p.Items[i].Width)
		}
	}
	from, to, w, e := b.s.From, b.s.To, b.a.Width, b.a.Inset
	out := rowList{from, to, from, to, b.p.Kerf, 0, most,
		slabLists(sizes, to, func(x, size int64) worths { return b.lengthLists(x, size, most) }),
		func(x, z int64) int64 { return b.u(x, z, 0, w) }, nil}.all()
	for _, on := range b.spans() {
		b.from, b.to = on.From, on.To
		ends := b.ends()
		for c, v := range (rowList{0, w, e, w - e, b.p.Rip, (b.to - b.from) * b.p.RipCost, most,
			slabLists(widths, w-e, func(y, size int64) worths { return b.stripLists(y, size, most) }),
			func(y, z int64) int64 { return b.u(b.from, b.to, y, z) }, nil}.all()) {
			out.raise(c, v+ends)
		}
	}
	b.from, b.to = from, to
	return out
}

// slabLists gives the lengths or strips of some sizes that may lie at a point and end at hi.
func slabLists(sizes []int64, hi int64, holds func(at, size int64) worths) func(int64) []rowPart {
	slices.Sort(sizes)
	sizes = slices.Compact(sizes)
	memo := map[int64][]rowPart{}
	return func(at int64) []rowPart {
		out, ok := memo[at]
		if ok {
			return out
		}
		for _, size := range sizes {
			if at+size <= hi {
				if w := holds(at, size); len(w) > 0 {
					out = append(out, rowPart{size, w, true})
				}
			}
		}
		memo[at] = out
		return out
	}
}

// worthAt is what copies are worth at duals.
func (c copies) worthAt(duals []int64) (sum int64) {
	for i, d := range duals {
		sum += d * int64(c[i])
	}
	return sum
}

// noneAt is price.Never where there is nothing to list.
func (w worths) most(duals []int64) int64 {
	best := int64(price.Never)
	for c, v := range w {
		best = max(best, v+c.worthAt(duals))
	}
	return best
}
