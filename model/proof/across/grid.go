package across

import (
	"cmp"
	"slices"
)

// A board on its grid: its defects, its lines, its blanks, and what a rectangle on it is worth.

// toGrid brings patches, lines and blanks onto the grid.
func (r *boardSearch) toGrid() {
	r.spots = r.spots[:0]
	for _, p := range r.patches {
		g := gridPatch{int(int64(p.From-r.from) / r.gx), int(int64(p.To-r.from) / r.gx),
			int(int64(p.Left) / r.gy), int(int64(p.Right) / r.gy), p.tolerated, p.weak}
		r.spots = append(r.spots, g)
	}
	r.cutLines()
	r.takeBlanks()
}

// cutLines cuts the width into lines that meet the same defects.
func (r *boardSearch) cutLines() {
	edges := append(r.cuts[:0], 0, r.m)
	for _, s := range r.spots {
		edges = append(edges, s.left, s.right)
	}
	r.cuts = edges
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
		one.runs = slices.Collect(outside(one.blocks, r.n))
		r.lines = append(r.lines, one)
	}
}

// takeBlanks brings the blanks onto the grid; of those alike the one with the highest dual.
func (r *boardSearch) takeBlanks() {
	r.lengths, r.widths, r.blanks = r.lengths[:0], r.widths[:0], r.blanks[:0]
	fits := func(i *Item) bool { return i.length > 0 && i.length <= r.to-r.from }
	for k := range r.items {
		if i := &r.items[k]; fits(i) {
			r.lengths = append(r.lengths, int(int64(i.length)/r.gx))
			if r.saws(i) {
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
		r.blanks = append(r.blanks, r.blankOf(i))
	}
	slices.SortFunc(r.blanks, func(a, b blank) int {
		return cmp.Or(cmp.Compare(a.length, b.length), cmp.Compare(a.width, b.width),
			cmp.Compare(a.face, b.face), cmp.Compare(b.value, a.value))
	})
	r.blanks = slices.CompactFunc(r.blanks, func(a, b blank) bool {
		return a.length == b.length && a.width == b.width && a.face == b.face
	})
}

// blankOf is an item on the grid.
func (r *boardSearch) blankOf(i *Item) blank {
	b := blank{width: -1, face: i.face, value: i.dual}
	b.length, _ = slices.BinarySearch(r.lengths, int(int64(i.length)/r.gx))
	if r.saws(i) {
		b.width, _ = slices.BinarySearch(r.widths, int(int64(i.width)/r.gy))
	}
	return b
}

// ripCost is what one rip over so many steps costs, in ticks.
func (r *boardSearch) ripCost(steps int) int64 { return r.ripping * int64(steps) * r.gx }

// runKept is what counts of a clear run of so many steps, in length units.
func (r *boardSearch) runKept(steps int) int64 {
	return beyondKeep(int64(steps)*r.gx, int64(r.keep))
}

// lineKept is the most that counts of [x+lo, x+hi) in one line, over all x from a to b. Only what
// blocks the line at every such x is seen, so it is exact where a = b. What is so seen is convex in
// x: the first run ends and the last begins at fixed places, and what lies between stays. So it is
// greatest at a or at b.
func (r *boardSearch) lineKept(l *lines, lo, hi, a, b int) int64 {
	if hi <= lo {
		return 0
	}
	start, last, between := -1, -1, int64(0)
	for k, s := range l.blocks {
		if s.from >= a+hi || s.to <= b+lo {
			continue
		}
		if start < 0 {
			start = k
		} else {
			between += r.runKept(s.from - l.blocks[last].to)
		}
		last = k
	}
	if start < 0 {
		return r.runKept(hi - lo)
	}
	at := func(x int) int64 {
		return r.runKept(max(0, l.blocks[start].from-x-lo)) +
			r.runKept(max(0, x+hi-l.blocks[last].to))
	}
	return between + max(at(a), at(b))
}

// slopeOf is s0 of a gap so wide.
func (r *boardSearch) slopeOf(width int) int64 {
	switch {
	case width == r.m:
		return r.s0Whole
	case width > 0 && width >= r.narrow:
		return r.s0Strip
	}
	return 0
}

// rectWorth is u of [from, to) x [left, right).
func (r *boardSearch) rectWorth(from, to, left, right int) (sum int64) {
	slope := r.slopeOf(right - left)
	if slope == 0 {
		return 0
	}
	for k := range r.lines {
		l := &r.lines[k]
		if n := min(l.right, right) - max(l.left, left); n > 0 {
			sum += int64(n) * r.lineKept(l, 0, to-from, from, from)
		}
	}
	return slope * sum
}
