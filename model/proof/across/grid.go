package across

import (
	"cmp"
	"slices"
)

// A rippable board on its grid: its defects, its lines, and its blanks.

// sort brings patches, lines and blanks onto the grid.
func (r *Most) sort() {
	r.spots = r.spots[:0]
	edges := []int{0, r.m}
	for _, p := range r.patches {
		g := gridPatch{int(int64(p.From-r.from) / r.gx), int(int64(p.To-r.from) / r.gx),
			int(int64(p.Left) / r.gy), int(int64(p.Right) / r.gy), p.tolerated}
		r.spots, edges = append(r.spots, g), append(edges, g.left, g.right)
	}
	slices.Sort(edges)
	edges = slices.Compact(edges)
	r.lines = r.lines[:0]
	for k := 1; k < len(edges); k++ {
		one := lines{left: edges[k-1], right: edges[k]}
		for _, s := range r.spots { // sorted by start
			if s.left >= one.right || s.right <= one.left {
				continue
			}
			if last := len(one.blocks) - 1; last >= 0 && one.blocks[last].to >= s.from {
				one.blocks[last].to = max(one.blocks[last].to, s.to)
			} else {
				one.blocks = append(one.blocks, gridSpan{s.from, s.to})
			}
		}
		at := 0
		for _, b := range append(slices.Clone(one.blocks), gridSpan{r.n, r.n}) {
			if b.from > at {
				one.runs = append(one.runs, gridSpan{at, b.from})
			}
			at = b.to
		}
		r.lines = append(r.lines, one)
	}
	r.take()
}

// take brings the blanks onto the grid; of those alike the one with the highest dual.
func (r *Most) take() {
	r.lengths, r.widths, r.blanks = r.lengths[:0], r.widths[:0], r.blanks[:0]
	fits := func(i *Item) bool { return i.length > 0 && i.length <= r.to-r.from }
	safe := func(i *Item) bool {
		return !i.whole && i.width > 0 && i.width >= r.narrowest && i.width <= r.width-2*r.inset
	}
	for k := range r.items {
		if i := &r.items[k]; fits(i) {
			r.lengths = append(r.lengths, int(int64(i.length)/r.gx))
			if safe(i) {
				r.widths = append(r.widths, int(int64(i.width)/r.gy))
			}
		}
	}
	for _, s := range []*[]int{&r.lengths, &r.widths} {
		slices.Sort(*s)
		*s = slices.Compact(*s)
	}
	for k := range r.items {
		i := &r.items[k]
		if !fits(i) {
			continue
		}
		b := blank{width: -1, face: i.face, value: i.dual * Fine}
		b.length, _ = slices.BinarySearch(r.lengths, int(int64(i.length)/r.gx))
		if safe(i) {
			b.width, _ = slices.BinarySearch(r.widths, int(int64(i.width)/r.gy))
		}
		r.blanks = append(r.blanks, b)
	}
	slices.SortFunc(r.blanks, func(a, b blank) int {
		return cmp.Or(cmp.Compare(a.length, b.length), cmp.Compare(a.width, b.width),
			cmp.Compare(a.face, b.face), cmp.Compare(b.value, a.value))
	})
	r.blanks = slices.CompactFunc(r.blanks, func(a, b blank) bool {
		return a.length == b.length && a.width == b.width && a.face == b.face
	})
}

// beyond is what a run of so many steps gives beyond keep, in one line.
func (r *Most) beyond(steps int) int64 { return r.worth * over(int64(steps)*r.gx, int64(r.keep)) }

// most is the most that [x+lo, x+hi) is worth in one line of some, over all x from a to b: exact
// where there is one. Only what blocks it at every x is seen. With that the worth is convex in x:
// the first run ends and the last begins where they do, and what is between stays.
func (r *Most) most(l *lines, lo, hi, a, b int) int64 {
	if hi <= lo {
		return 0
	}
	first, last, between := -1, -1, int64(0)
	for k, s := range l.blocks {
		if s.from >= a+hi || s.to <= b+lo {
			continue
		}
		if first < 0 {
			first = k
		} else {
			between += r.beyond(s.from - l.blocks[last].to)
		}
		last = k
	}
	if first < 0 {
		return r.beyond(hi - lo)
	}
	at := func(x int) int64 {
		return r.beyond(max(0, l.blocks[first].from-x-lo)) +
			r.beyond(max(0, x+hi-l.blocks[last].to))
	}
	return between + max(at(a), at(b))
}

// wide says whether a gap of a width is worth anything; left is where it begins.
func (r *Most) wide(left, width int) bool {
	return width > 0 && (width >= r.narrow || left == 0 && width == r.m)
}

// rect is what [from, to) x [left, right) is worth.
func (r *Most) rect(from, to, left, right int) (sum int64) {
	if !r.wide(left, right-left) {
		return 0
	}
	for k := range r.lines {
		l := &r.lines[k]
		if n := min(l.right, right) - max(l.left, left); n > 0 {
			sum += int64(n) * r.most(l, 0, to-from, from, from)
		}
	}
	return sum
}
