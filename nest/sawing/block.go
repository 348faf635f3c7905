package sawing

import (
	"context"
	"slices"
)

// mostMoves is how many boards may be sawn in thought, to put blocks in order.
const mostMoves = 1_000_000

// stands are where the stops of both saws stand: by the pass, odd or even.
type stands [2]stand

// saws put boards in order, one after the other.
type saws struct {
	*shop
	at     stands
	passes [][]passOf // by board, those that it has
	moves  int
}

// passOf is one pass of a board.
type passOf struct {
	*words
	saw   int             // pass, odd or even
	known map[letter]plan // by the setting that there is before
}

func newSaws(s *shop) *saws {
	out := &saws{shop: s, passes: make([][]passOf, len(s.unitsOf))}
	for b, units := range s.unitsOf {
		for len(units) > 0 {
			pass := s.pass(units[0])
			n := 0
			for n < len(units) && s.pass(units[n]) == pass {
				n++
			}
			out.passes[b] = append(out.passes[b],
				passOf{s.wordsOf(units[:n]), pass % 2, map[letter]plan{}})
			units = units[n:]
		}
	}
	return out
}

// plan is how a pass of a board is sawn, from where the stops stand.
func (p *passOf) plan(ctx context.Context, at stands) plan {
	start := slices.Index(p.letters, at[p.saw])
	best, known := p.known[start]
	if !known {
		best = p.solve(ctx, start)[0]
		p.known[start] = best
	}
	return best
}

// saw saws a board in thought: the minutes, and where the stops stand then.
func (s *saws) saw(ctx context.Context, b int, at stands) (minutes int64, then stands) {
	s.moves++
	for n := range s.passes[b] {
		p := &s.passes[b][n]
		best := p.plan(ctx, at)
		minutes += best.cost
		if best.end != none {
			at[p.saw] = p.letters[best.end]
		}
	}
	return minutes, at
}

// all saws boards in thought, one after the other.
func (s *saws) all(ctx context.Context, boards []int, at stands) (minutes int64) {
	var m int64
	for _, b := range boards {
		m, at = s.saw(ctx, b, at)
		minutes += m
	}
	return minutes
}

// sawBlock puts the boards of a block in order, and saws them.
func (s *saws) sawBlock(ctx context.Context, block []int) (order []cut) {
	for _, b := range s.moved(ctx, s.nearest(ctx, block)) {
		for n := range s.passes[b] {
			p := &s.passes[b][n]
			order = append(order, s.cuts(p.words, p.plan(ctx, s.at).visits)...)
		}
		_, s.at = s.saw(ctx, b, s.at)
	}
	return order
}

// nearest puts next the board that saves most by where the stops stand.
func (s *saws) nearest(ctx context.Context, block []int) (out []int) {
	rest, at := slices.Clone(block), s.at
	for len(rest) > 0 {
		best, most := 0, int64(-1)
		for n, b := range rest {
			alone, _ := s.saw(ctx, b, stands{})
			here, _ := s.saw(ctx, b, at)
			if saves := alone - here; saves > most {
				best, most = n, saves
			}
			if s.moves > mostMoves {
				break
			}
		}
		_, at = s.saw(ctx, rest[best], at)
		out = append(out, rest[best])
		rest = slices.Delete(rest, best, best+1)
	}
	return out
}

// moved moves single boards to other places as long as that saves minutes.
func (s *saws) moved(ctx context.Context, block []int) []int {
	takes := s.all(ctx, block, s.at)
	for again := true; again; {
		again = false
		for from := range block {
			for to := range block {
				if from == to || s.moves > mostMoves || ctx.Err() != nil {
					continue
				}
				other := slices.Delete(slices.Clone(block), from, from+1)
				other = slices.Insert(other, to, block[from])
				if m := s.all(ctx, other, s.at); m < takes {
					block, takes, again = other, m, true
				}
			}
		}
	}
	return block
}
