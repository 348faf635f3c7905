package cutting

import "slices"

// Patterns of stocks with Across changed a little: without one of their pieces, and pushed
// together.

// dropped is a pattern of a stock with Across without its nth piece: the slab it lay in shrinks to
// the largest of those left, at the side where they may lie; where they may not, they go with it.
func (p *Problem) dropped(t *Pattern, n int) Pattern {
	gone := t.Places[n]
	var stay []Slab
	for _, b := range p.Slabs(t) {
		at := slices.Index(b.Places, gone)
		if at < 0 {
			stay = append(stay, b)
			continue
		}
		b.Places = slices.Delete(slices.Clone(b.Places), at, at+1)
		gone = Place{Item: -1}
		if p.shrink(t, &b) {
			stay = append(stay, b)
		}
	}
	return p.pushed(Pattern{Stock: t.Stock, First: t.First, Places: places(stay)})
}

// shrink makes a slab as large as its largest piece; false where there is none, or no way.
func (p *Problem) shrink(t *Pattern, b *Slab) bool {
	outer := t.First.Outer()
	var size int64
	for _, pl := range b.Places {
		on := p.On(outer, pl)
		size = max(size, on.To-on.From)
	}
	if size == b.To-b.From {
		return true
	}
	for _, from := range []int64{b.From, b.To - size} {
		to, ok := from+size, size > 0
		moved := slices.Clone(b.Places)
		for i, pl := range moved {
			on := p.On(outer, pl)
			near, far := pl.Put(outer, from), pl.Put(outer, to-(on.To-on.From))
			switch {
			case p.Legal(t.Stock, near):
				moved[i] = near
			case p.Legal(t.Stock, far):
				moved[i] = far
			default:
				ok = false
			}
		}
		if ok {
			b.Span, b.Places = Span{from, to}, moved
			return true
		}
	}
	return false
}

// pushed moves slabs, and in them pieces, in the same order as near to the start (the left edge) as
// they may lie, where that loses no worth; else the pieces in their slabs alone.
func (p *Problem) pushed(t Pattern) Pattern {
	t.Worth = p.Worth(&t)
	for _, slabsToo := range []bool{true, false} {
		if out := p.push(t, slabsToo); out.Worth >= t.Worth {
			return out
		}
	}
	return t
}

func (p *Problem) push(t Pattern, slabsToo bool) Pattern {
	s, slabs := &p.Stocks[t.Stock], p.Slabs(&t)
	outer, inner := t.First.Outer(), t.First.Inner()
	behind := [2][]int64{Along: s.ends(Along), Crosswise: s.ends(Crosswise)}
	from := s.first(outer)
	for n := range slabs {
		b := &slabs[n]
		for _, to := range append([]int64{from}, behind[outer]...) {
			if slabsToo && to >= from && to < b.From && p.shift(t.Stock, outer, b, to) {
				break
			}
		}
		from = b.To + p.kerf(outer)
		if s.plain(t.First, b) {
			continue
		}
		at := s.first(inner)
		for i, pl := range b.Places {
			for _, to := range append([]int64{at}, behind[inner]...) {
				if moved := pl.Put(inner, to); to >= at && to < p.On(inner, pl).From &&
					p.Legal(t.Stock, moved) {
					b.Places[i] = moved
					break
				}
			}
			at = p.On(inner, b.Places[i]).To + p.kerf(inner)
		}
	}
	out := Pattern{Stock: t.Stock, First: t.First, Places: places(slabs)}
	out.Worth = p.Worth(&out)
	return out
}

// shift moves a slab with its pieces so that it starts at a point; false where they may not lie
// there.
func (p *Problem) shift(stock int, outer Axis, b *Slab, to int64) bool {
	moved := slices.Clone(b.Places)
	for i, pl := range moved {
		moved[i] = pl.Put(outer, p.On(outer, pl).From-b.From+to)
		if !p.Legal(stock, moved[i]) {
			return false
		}
	}
	b.Span, b.Places = Span{to, b.To - b.From + to}, moved
	return true
}

// first is where a sawn piece may start at the earliest in a direction.
func (s *Stock) first(a Axis) int64 {
	if a == Crosswise {
		return s.Across.Inset
	}
	return s.From
}

// ends are where something may lean on a spot in a direction, ascending.
func (s *Stock) ends(a Axis) (out []int64) {
	for _, spot := range s.Spots {
		if a == Crosswise {
			out = append(out, spot.Right)
		} else {
			out = append(out, spot.To)
		}
	}
	slices.Sort(out)
	return out
}
