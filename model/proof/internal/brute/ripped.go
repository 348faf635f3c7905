package brute

import (
	"rackwright/model"
)

// Ripped is one board of which all layouts are tried that package model allows: crosscut first, and
// ripped first over every span.
type Ripped struct {
	Job    *model.Job
	Worth  *model.Valuation
	Board  *model.Board
	Origin model.Origin
	Slope  model.Slope
	Parts  []*model.Part // nil where the board does not hold it

	bad, weak []model.Rect
	ways      map[model.Rect]ways // of lengths and strips
}

// ways are what offcuts are worth less what rips cost, in ticks, by the copies of the parts.
type ways map[Counts]int64

// raise notes one more layout.
func (w ways) raise(c Counts, value int64) {
	if old, known := w[c]; !known || value > old {
		w[c] = value
	}
}

// Ways gives, for each number of copies of the parts that the board can give, at least one in all
// and none above what is wanted, the most that its offcuts are worth less what its rips cost.
func (b *Ripped) Ways() map[Counts]int64 {
	b.bad, b.weak = b.Job.WidenedRects(b.Board, nil), b.Job.WeakRects(b.Board)
	trim, out := b.Job.Settings.TrimFor(b.Board, b.Origin), ways{}
	from, to := trim, b.Board.Length-trim
	if from < to {
		b.crosscut(from, to, out)
		b.ripFirst(from, to, out)
	}
	return out
}

// left is what a rectangle is worth that is left.
func (b *Ripped) left(from, to, left, right model.Length) int64 {
	return b.Worth.WorthOfRect(b.Slope, &b.Board.Wood, model.Rect{From: from, To: to, Left: left,
		Right: right}, b.bad)
}

// fits says whether a part may lie in a rectangle.
func (b *Ripped) fits(p *model.Part, r model.Rect) bool {
	tolerated := func(kind string) bool { return b.Job.Settings.Tolerates(p.Face, kind) }
	return !meets(b.Job.WidenedRects(b.Board, tolerated), r)
}

func meets(rects []model.Rect, r model.Rect) bool {
	for _, w := range rects {
		if w.From < r.To && w.To > r.From && w.Left < r.Right && w.Right > r.Left {
			return true
		}
	}
	return false
}

// rips gives what the rips beside [y, y+w) cost over [from, to), and whether they keep off all weak
// defects. free is where the piece before ends; below 0 there is none.
func (b *Ripped) rips(from, to, free, y, w model.Length) (cost int64, allowed bool) {
	kerf := b.Job.Settings.RipKerf
	var at []model.Length
	if y > 0 && (free < 0 || y != free+kerf) {
		at = append(at, y-kerf)
	}
	if y+w < b.Board.Width {
		at = append(at, y+w)
	}
	return b.cuts(from, to, at...)
}

// cuts gives what rips cost that take their kerf right of some places, and whether all are allowed.
func (b *Ripped) cuts(from, to model.Length, at ...model.Length) (cost int64, allowed bool) {
	for _, y := range at {
		if meets(b.weak, model.Rect{From: from, To: to, Left: y,
			Right: y + b.Job.Settings.RipKerf}) {
			return 0, false
		}
		cost += b.Worth.RipCost(to - from)
	}
	return cost, true
}

// plus is one copy more of a part; false where that is more than is wanted.
func (b *Ripped) plus(c Counts, part int) (Counts, bool) {
	c[part]++
	return c, c[part] <= b.Parts[part].Qty
}

// sum is the copies of both; false where that is more than is wanted.
func (b *Ripped) sum(c, d Counts) (Counts, bool) {
	for k, p := range b.Parts {
		if c[k] += d[k]; c[k] > 0 && c[k] > p.Qty {
			return c, false
		}
	}
	return c, true
}

// sawn visits the parts that are sawn to width and may be ripped off, with their blanks.
func (b *Ripped) sawn(visit func(part int, l, w model.Length)) {
	safe := b.Job.Settings.SafetyFor(b.Board.Material, b.Board.Section)
	for k, p := range b.Parts {
		if p == nil || p.Whole(&b.Board.Wood) {
			continue
		}
		if blank := b.Job.BlankIn(p, &b.Board.Wood); blank.Width >= safe.NarrowestRip {
			visit(k, blank.Length, blank.Width)
		}
	}
}

// shortest is how long a piece must be to be ripped.
func (b *Ripped) shortest() model.Length {
	return b.Job.Settings.SafetyFor(b.Board.Material, b.Board.Section).ShortestRip
}

// crosscut tries all rows of lengths in [from, to).
func (b *Ripped) crosscut(from, to model.Length, out ways) {
	kerf, unit := b.Job.Settings.CrosscutKerf, b.Worth.Unit
	b.ways = map[model.Rect]ways{}
	ends := map[model.Length]ways{from: {Counts{}: 0}} // by where the last length ends
	for free := from; free <= to; free += unit {
		if len(ends[free]) == 0 {
			continue
		}
		start := free // of what follows
		if free > from {
			start += kerf
			for c, v := range ends[free] {
				out.raise(c, v+b.left(start, to, 0, b.Board.Width))
			}
		}
		for x := start; x < to; x += unit {
			gap := b.left(start, x-kerf, 0, b.Board.Width)
			for _, l := range b.lengths() {
				if x+l <= to {
					b.extend(ends, free, x+l, gap, b.inLength(x, l))
				}
			}
		}
	}
}

// extend adds to the ways of all that ends at one place those of one piece more.
func (b *Ripped) extend(ends map[model.Length]ways, free, end model.Length, gap int64, piece ways) {
	if ends[end] == nil {
		ends[end] = ways{}
	}
	for c, v := range ends[free] {
		for d, w := range piece {
			if sum, ok := b.sum(c, d); ok {
				ends[end].raise(sum, v+gap+w)
			}
		}
	}
}

// lengths are those of the blanks, each once.
func (b *Ripped) lengths() (out []model.Length) {
	seen := map[model.Length]bool{}
	for _, p := range b.Parts {
		if p == nil {
			continue
		}
		if l := b.Job.BlankLength(p); !seen[l] {
			seen[l], out = true, append(out, l)
		}
	}
	return out
}

// inLength gives the ways of the length [x, x+l).
func (b *Ripped) inLength(x, l model.Length) ways {
	key := model.Rect{From: x, To: x + l, Left: 0, Right: b.Board.Width}
	if w, known := b.ways[key]; known {
		return w
	}
	out := ways{}
	b.ways[key] = out
	for k, p := range b.Parts {
		if p != nil && b.Job.BlankLength(p) == l && b.fits(p, key) { // plain
			c, _ := b.plus(Counts{}, k)
			out.raise(c, 0)
		}
	}
	if l >= b.shortest() {
		b.acrossLength(x, l, -1, false, Counts{}, 0, out)
	}
	return out
}

// acrossLength tries all that can follow across a length behind a piece that ends at free, below 0
// where there is none yet; full says whether some piece is as long as the length.
func (b *Ripped) acrossLength(x, l, free model.Length, full bool, c Counts, value int64, out ways) {
	s, width := &b.Job.Settings, b.Board.Width
	start := model.Length(0)
	if free >= 0 {
		start = free + s.RipKerf
	}
	if full {
		out.raise(c, value+b.left(x, x+l, start, width))
	}
	inset := b.Job.Inset(&b.Board.Wood)
	for y := max(start, inset); y < width; y += b.Worth.Unit {
		b.sawn(func(k int, long, wide model.Length) {
			if long > l || y+wide > width-inset || long < l && !s.TrimmingCut {
				return
			}
			cost, allowed := b.rips(x, x+l, free, y, wide)
			sum, wanted := b.plus(c, k)
			if !allowed || !wanted {
				return
			}
			then := func(at model.Length, left int64) {
				if b.fits(b.Parts[k],
					model.Rect{From: at, To: at + long, Left: y, Right: y + wide}) {
					b.acrossLength(x, l, y+wide, full || long == l, sum,
						value+b.left(x, x+l, start, y-s.RipKerf)+left-cost, out)
				}
			}
			then(x, b.left(x+long+s.CrosscutKerf, x+l, y, y+wide))
			if long < l {
				then(x+l-long, b.left(x, x+l-long-s.CrosscutKerf, y, y+wide))
			}
		})
	}
}

// ripFirst tries all rows of strips over all spans.
func (b *Ripped) ripFirst(from, to model.Length, out ways) {
	kerf, tried := b.Job.Settings.CrosscutKerf, map[model.Span]bool{}
	starts, ends := []model.Length{from}, []model.Length{to}
	for _, w := range b.weak {
		if w.To > from && w.To < to {
			starts = append(starts, w.To)
		}
		if w.From > from && w.From < to {
			ends = append(ends, w.From)
		}
	}
	for _, p := range starts {
		for _, q := range ends {
			if tried[model.Span{From: p, To: q}] || q <= p || q-p < b.shortest() {
				continue
			}
			tried[model.Span{From: p, To: q}] = true
			outside := int64(0)
			if p > from {
				outside += b.left(from, p-kerf, 0, b.Board.Width)
			}
			if q < to {
				outside += b.left(q+kerf, to, 0, b.Board.Width)
			}
			b.ripOver(model.Span{From: p, To: q}, outside, out)
		}
	}
}

// ripOver tries all rows of strips over one span.
func (b *Ripped) ripOver(span model.Span, outside int64, out ways) {
	kerf, unit, inset := b.Job.Settings.RipKerf, b.Worth.Unit, b.Job.Inset(&b.Board.Wood)
	b.ways = map[model.Rect]ways{}
	const none = -1
	ends := map[model.Length]ways{none: {Counts{}: outside}}
	follow := func(free, start model.Length) {
		for y := max(start, inset); y < b.Board.Width; y += unit {
			gap, done := b.left(span.From, span.To, start, y-kerf), map[model.Length]bool{}
			b.sawn(func(_ int, _, w model.Length) {
				if done[w] || y+w > b.Board.Width-inset {
					return
				}
				done[w] = true
				if cost, allowed := b.rips(span.From, span.To, free, y, w); allowed {
					b.extend(ends, free, y+w, gap-cost, b.inStrip(span, y, w))
				}
			})
		}
	}
	follow(none, 0)
	for free := unit; free <= b.Board.Width; free += unit {
		for c, v := range ends[free] {
			out.raise(c, v+b.left(span.From, span.To, free+kerf, b.Board.Width))
		}
		if len(ends[free]) > 0 {
			follow(free, free+kerf)
		}
	}
}

// inStrip gives the ways of the strip [y, y+w) over a span.
func (b *Ripped) inStrip(span model.Span, y, w model.Length) ways {
	key := model.Rect{From: span.From, To: span.To, Left: y, Right: y + w}
	if known, is := b.ways[key]; is {
		return known
	}
	out := ways{}
	b.ways[key] = out
	b.alongStrip(key, span.From, true, false, Counts{}, 0, out)
	return out
}

// alongStrip tries all that can follow along a strip behind a piece that ends at free; full says
// whether some piece is as wide as the strip.
func (b *Ripped) alongStrip(strip model.Rect, free model.Length, first, full bool, c Counts,
	value int64, out ways) {
	s, start := &b.Job.Settings, free
	if !first {
		start += s.CrosscutKerf
	}
	if full {
		out.raise(c, value+b.left(start, strip.To, strip.Left, strip.Right))
	}
	for x := start; x < strip.To; x += b.Worth.Unit {
		b.sawn(func(k int, long, wide model.Length) {
			narrow := wide < strip.Right-strip.Left
			if x+long > strip.To || wide > strip.Right-strip.Left ||
				narrow && (!s.TrimmingCut || long < b.shortest()) {
				return
			}
			sum, wanted := b.plus(c, k)
			if !wanted {
				return
			}
			then := func(y model.Length, left int64, rips ...model.Length) {
				cost, allowed := b.cuts(x, x+long, rips...)
				if allowed && b.fits(b.Parts[k],
					model.Rect{From: x, To: x + long, Left: y, Right: y + wide}) {
					b.alongStrip(strip, x+long, false, full || !narrow, sum,
						value+b.left(start, x-s.CrosscutKerf, strip.Left, strip.Right)+left-cost,
						out)
				}
			}
			if !narrow {
				then(strip.Left, 0)
				return
			}
			near, far := strip.Left+wide, strip.Right-wide
			then(strip.Left, b.left(x, x+long, near+s.RipKerf, strip.Right), near)
			then(far, b.left(x, x+long, strip.Left, far-s.RipKerf), far-s.RipKerf)
		})
	}
}
