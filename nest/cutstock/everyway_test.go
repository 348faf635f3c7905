package cutstock

import (
	"slices"

	"rackwright/nest/cutting"
)

// everyWay gives the greatest worth of each set of counts that one stock can be laid out for. A set
// is a number in mixed radix, a digit an item.
type everyWay struct {
	p     *cutting.Problem
	s     *cutting.Stock
	a     *cutting.Across
	radix []int // what one copy of an item counts in a set
	on    cutting.Span
}

type thing struct {
	size, worth int64
	set         int
	full        bool // as long, or as wide, as what it lies in
}

// more is a set with another added; false where that is more than is wanted.
func (w *everyWay) more(set, other int) (int, bool) {
	for i, it := range w.p.Items {
		all := int(it.Demand) + 1
		if set/w.radix[i]%all+other/w.radix[i]%all >= all {
			return 0, false
		}
	}
	return set + other, true
}

// row lays things in a row over [start, end), in [lo, hi), a kerf apart at least. cut is what a cut
// beside one costs; two things just a kerf apart share it.
func (w *everyWay) row(start, end, lo, hi, kerf, cut int64, things func(at int64) []thing,
	gap func(from, to int64) int64) map[int]int64 {
	type state struct {
		set         int
		begun, full bool
	}
	at := make([]map[state]int64, end-start+kerf+1)
	at[0] = map[state]int64{{}: 0}
	out := map[int]int64{}
	for n := range at {
		from := start + int64(n)
		for st, v := range at[n] {
			if st.full {
				raise(out, st.set, v+gap(from, end))
			}
			for x := max(from, lo); x < hi; x++ {
				for _, t := range things(x) {
					set, ok := w.more(st.set, t.set)
					if !ok || x+t.size > hi {
						continue
					}
					v := v + gap(from, x-kerf) + t.worth
					if x > start && (!st.begun || x > from) {
						v -= cut
					}
					if x+t.size < end {
						v -= cut
					}
					to := x + t.size + kerf - start
					if at[to] == nil {
						at[to] = map[state]int64{}
					}
					raise(at[to], state{set, true, st.full || t.full}, v)
				}
			}
		}
	}
	return out
}

func raise[K comparable](m map[K]int64, k K, v int64) {
	if old, has := m[k]; !has || v > old {
		m[k] = v
	}
}

// area is the worth of an area, line by line.
func (w *everyWay) area(from, to, left, right int64) (sum int64) {
	slope := w.s.Slope
	switch {
	case w.a == nil:
		left, right = 0, 1
	case left == 0 && right == w.a.Width:
	case right-left < w.a.Keep:
		return 0
	default:
		slope = w.a.Strip
	}
	for y := left; y < right; y++ {
		run := int64(0)
		for x := from; x < to; x++ {
			if run++; w.spotted(x, x+1, y, y+1, func(cutting.Spot) bool { return true }) {
				run = 0
			}
			if x+1 == to || w.spotted(x+1, x+2, y, y+1, func(cutting.Spot) bool { return true }) {
				sum += slope * max(0, run-w.s.Keep)
				run = 0
			}
		}
	}
	return sum
}

// spotted says whether a spot of a kind reaches into an area.
func (w *everyWay) spotted(from, to, left, right int64, of func(cutting.Spot) bool) bool {
	return slices.ContainsFunc(w.s.Spots, func(o cutting.Spot) bool {
		return of(o) && o.From < to && o.To > from &&
			(w.a == nil || o.Left < right && o.Right > left)
	})
}

// clean says whether a piece of an item may lie at x, from left to right.
func (w *everyWay) clean(i int, x, left, right int64) bool {
	it := &w.p.Items[i]
	return !w.spotted(x, x+it.Size, left, right, func(o cutting.Spot) bool {
		return !o.Tolerated[it.Class]
	})
}

// ripped says whether the saw may run along y, its kerf behind it.
func (w *everyWay) ripped(from, to, y int64) bool {
	return !w.spotted(from, to, y, y+w.p.Rip, func(o cutting.Spot) bool { return o.Weak })
}

// freed says whether both sides of something may be ripped, but for the edges of the stock.
func (w *everyWay) freed(from, to, left, right int64) bool {
	return (left == 0 || w.ripped(from, to, left-w.p.Rip)) &&
		(right == w.a.Width || w.ripped(from, to, right))
}

func (w *everyWay) sawn(i int) bool {
	return !slices.Contains(w.a.Whole, i) && w.p.Items[i].Width >= w.a.Narrowest
}

// all gives every set with a piece.
func (w *everyWay) all() map[int]int64 {
	s := w.s
	gap := func(x, z int64) int64 { return w.area(x, z, 0, w.width()) }
	out := w.row(s.From, s.To, s.From, s.To, w.p.Kerf, 0, w.lengths(), gap)
	if w.a == nil {
		return out
	}
	for from := s.From; from < s.To; from++ {
		for to := from + 1; to <= s.To; to++ {
			if to-from < w.a.ShortestRip || from > s.From && !w.weak(func(o cutting.Spot) bool {
				return o.To == from
			}) || to < s.To && !w.weak(func(o cutting.Spot) bool { return o.From == to }) {
				continue
			}
			w.on = cutting.Span{From: from, To: to}
			ends := gap(s.From, from-w.p.Kerf) + gap(to+w.p.Kerf, s.To)
			strips := w.row(0, w.a.Width, w.a.Inset, w.a.Width-w.a.Inset, w.p.Rip,
				(to-from)*w.p.RipCost, w.strips(),
				func(y, z int64) int64 { return w.area(from, to, y, z) })
			for set, v := range strips {
				raise(out, set, v+ends)
			}
		}
	}
	return out
}

func (w *everyWay) weak(at func(cutting.Spot) bool) bool {
	return slices.ContainsFunc(w.s.Spots, func(o cutting.Spot) bool { return o.Weak && at(o) })
}

func (w *everyWay) width() int64 {
	if w.a == nil {
		return 1
	}
	return w.a.Width
}

// once remembers what lies at a point.
func once(things func(at int64) []thing) func(at int64) []thing {
	known := map[int64][]thing{}
	return func(at int64) []thing {
		out, has := known[at]
		if !has {
			out = things(at)
			known[at] = out
		}
		return out
	}
}

// lengths are those that may start at a point: a piece over the whole width, or a row of pieces.
func (w *everyWay) lengths() func(at int64) []thing {
	return once(func(x int64) (out []thing) {
		var sizes []int64
		for _, i := range w.s.Holds {
			size := w.p.Items[i].Size
			if x+size > w.s.To {
				continue
			}
			if w.clean(i, x, 0, w.width()) {
				out = append(out, thing{size, 0, w.radix[i], true})
			}
			if w.a != nil && size >= w.a.ShortestRip {
				sizes = append(sizes, size)
			}
		}
		slices.Sort(sizes)
		for _, size := range slices.Compact(sizes) {
			for set, v := range w.length(x, size) {
				out = append(out, thing{size, v, set, true})
			}
		}
		return out
	})
}

// length gives the sets of a length that is ripped.
func (w *everyWay) length(x, size int64) map[int]int64 {
	pieces := once(func(y int64) (out []thing) {
		for _, i := range w.s.Holds {
			it := &w.p.Items[i]
			right := y + it.Width
			if !w.sawn(i) || it.Size > size || it.Size < size && !w.a.Trim ||
				right > w.a.Width || !w.freed(x, x+size, y, right) {
				continue
			}
			near, far := x+it.Size, x+size-it.Size
			if w.clean(i, x, y, right) {
				out = append(out, thing{it.Width, w.area(near+w.p.Kerf, x+size, y, right),
					w.radix[i], it.Size == size})
			}
			if w.clean(i, far, y, right) {
				out = append(out, thing{it.Width, w.area(x, far-w.p.Kerf, y, right), w.radix[i],
					it.Size == size})
			}
		}
		return out
	})
	return w.row(0, w.a.Width, w.a.Inset, w.a.Width-w.a.Inset, w.p.Rip, size*w.p.RipCost, pieces,
		func(y, z int64) int64 { return w.area(x, x+size, y, z) })
}

// strips are those that may start at a point across.
func (w *everyWay) strips() func(at int64) []thing {
	return once(func(y int64) (out []thing) {
		var widths []int64
		for _, i := range w.s.Holds {
			if w.sawn(i) {
				widths = append(widths, w.p.Items[i].Width)
			}
		}
		slices.Sort(widths)
		for _, width := range slices.Compact(widths) {
			if y+width > w.a.Width || !w.freed(w.on.From, w.on.To, y, y+width) {
				continue
			}
			for set, v := range w.strip(y, width) {
				out = append(out, thing{width, v, set, true})
			}
		}
		return out
	})
}

// strip gives the sets of a strip.
func (w *everyWay) strip(y, width int64) map[int]int64 {
	pieces := once(func(x int64) (out []thing) {
		for _, i := range w.s.Holds {
			it := &w.p.Items[i]
			to, full := x+it.Size, it.Width == width
			if !w.sawn(i) || it.Width > width || to > w.on.To || !full &&
				(!w.a.Trim || it.Size < w.a.ShortestRip) {
				continue
			}
			left, right := y+it.Width, y+width-it.Width
			trim := it.Size * w.p.RipCost
			if full {
				trim = 0
			}
			if w.clean(i, x, y, left) && (full || w.ripped(x, to, left)) {
				out = append(out, thing{it.Size, w.area(x, to, left+w.p.Rip, y+width) - trim,
					w.radix[i], full})
			}
			if w.clean(i, x, right, y+width) && (full || w.ripped(x, to, right-w.p.Rip)) {
				out = append(out, thing{it.Size, w.area(x, to, y, right-w.p.Rip) - trim, w.radix[i],
					full})
			}
		}
		return out
	})
	return w.row(w.on.From, w.on.To, w.on.From, w.on.To, w.p.Kerf, 0, pieces,
		func(x, z int64) int64 { return w.area(x, z, y, y+width) })
}
