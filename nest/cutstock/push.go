package cutstock

import "slices"

// Patterns of stocks with Across changed a little: without one of their pieces, and pushed
// together.

// dropped is a pattern of a stock with Across without its nth piece: the slab it lay in shrinks to
// the largest of those left, at the side where they may lie; where they may not, they go with it.
func (p *Problem) dropped(t *Pattern, n int) Pattern {
	gone := t.Places[n]
	slabs := p.Slabs(t)
	var rest []Slab
	for _, b := range slabs {
		at := slices.Index(b.Places, gone)
		if at < 0 {
			rest = append(rest, b)
			continue
		}
		b.Places = slices.Delete(slices.Clone(b.Places), at, at+1)
		gone = Place{Item: -1}
		if p.shrink(t, &b) {
			rest = append(rest, b)
		}
	}
	out := Pattern{Stock: t.Stock, First: t.First, Places: places(rest)}
	return p.pushed(out)
}

// shrink makes a slab as large as its largest piece; false where there is none, or no way.
func (p *Problem) shrink(t *Pattern, b *Slab) bool {
	var size int64
	for _, pl := range b.Places {
		size = max(size, p.along(t.First, pl))
	}
	if size == b.To-b.From {
		return true
	}
	for _, from := range []int64{b.From, b.To - size} {
		to, ok := from+size, size > 0
		moved := slices.Clone(b.Places)
		for i := range moved {
			near, far := p.moved(t.First, moved[i], from),
				p.moved(t.First, moved[i], to-p.along(t.First, moved[i]))
			switch {
			case p.clearOf(t.Stock, near.Item, p.areaOf(near)):
				moved[i] = near
			case p.clearOf(t.Stock, far.Item, p.areaOf(far)):
				moved[i] = far
			default:
				ok = false
			}
		}
		if ok {
			b.From, b.To, b.Places = from, to, moved
			return true
		}
	}
	return false
}

// along is the size of a piece in the direction in which slabs follow each other.
func (p *Problem) along(first First, pl Place) int64 {
	if first == RipFirst {
		return pl.Right - pl.Left
	}
	return p.Items[pl.Item].Size
}

// moved is a piece put elsewhere in that direction.
func (p *Problem) moved(first First, pl Place, to int64) Place {
	if first == RipFirst {
		pl.Left, pl.Right = to, to+pl.Right-pl.Left
	} else {
		pl.At = to
	}
	return pl
}

func (p *Problem) areaOf(pl Place) area {
	return area{pl.At, pl.At + p.Items[pl.Item].Size, pl.Left, pl.Right}
}

// pushed moves slabs, and in them pieces, in the same order as near to the start (the left edge) as
// they may lie, where that loses no worth; else the pieces in their slabs alone.
func (p *Problem) pushed(t Pattern) Pattern {
	t.Worth = p.WorthOf(&t)
	for _, slabsToo := range []bool{true, false} {
		if out := p.push(t, slabsToo); out.Worth >= t.Worth {
			return out
		}
	}
	return t
}

func (p *Problem) push(t Pattern, slabsToo bool) Pattern {
	s, slabs := &p.Stocks[t.Stock], p.Slabs(&t)
	a := s.Across
	var xs, ys []int64 // where something may lean on a spot
	for i := range a.Spots {
		xs, ys = append(xs, a.Spots[i].To), append(ys, a.Spots[i].Right)
	}
	slices.Sort(xs)
	slices.Sort(ys)
	outer, inner, start, edge, gap, step := xs, ys, s.From, a.Inset, p.Kerf, p.Rip
	other := RipFirst
	if t.First == RipFirst {
		outer, inner, start, edge, gap, step = ys, xs, a.Inset, s.From, p.Rip, p.Kerf
		other = CrosscutFirst
	}
	from := start
	for n := range slabs {
		b := &slabs[n]
		for _, to := range append([]int64{from}, outer...) {
			if !slabsToo || to < from || to >= b.From {
				continue
			}
			moved, ok := slices.Clone(b.Places), true
			for i, pl := range moved {
				x := pl.At
				if t.First == RipFirst {
					x = pl.Left
				}
				moved[i] = p.moved(t.First, pl, x-b.From+to)
				ok = ok && p.clearOf(t.Stock, pl.Item, p.areaOf(moved[i]))
			}
			if ok {
				b.From, b.To, b.Places = to, b.To-b.From+to, moved
				break
			}
		}
		from = b.To + gap
		if t.First == CrosscutFirst && a.plain(b) {
			continue
		}
		in := edge
		for i, pl := range b.Places {
			now := pl.Left
			if t.First == RipFirst {
				now = pl.At
			}
			for _, to := range append([]int64{in}, inner...) {
				if moved := p.moved(other, pl, to); to >= in && to < now &&
					p.clearOf(t.Stock, pl.Item, p.areaOf(moved)) {
					b.Places[i], now = moved, to
					break
				}
			}
			in = now + p.along(other, pl) + step
		}
	}
	out := Pattern{Stock: t.Stock, First: t.First, Places: places(slabs)}
	out.Worth = p.WorthOf(&out)
	return out
}
