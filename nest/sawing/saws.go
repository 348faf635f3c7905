package sawing

import (
	"context"
	"slices"
)

// mostMoves is how many boards may be sawn in thought, to put them in order.
const mostMoves = 1_000_000

// stands are where the stops of both saws stand: by the pass, odd or even.
type stands [2]stand

// saws put boards in order, one after the other.
type saws struct {
	*shop
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

// sawAll puts boards in order, and saws them. As they come, few commissions are open.
func (s *saws) sawAll(ctx context.Context, boards []int) (order []cut) {
	q := &sequence{saws: s, boards: slices.Clone(boards), open: make([]int, s.parties)}
	q.most = q.mostOpen()
	q.nearest(ctx)
	q.better(ctx)
	var at stands
	for _, b := range q.boards {
		for n := range s.passes[b] {
			p := &s.passes[b][n]
			best := p.plan(ctx, at)
			order = append(order, s.cuts(p.words, best.visits)...)
			if best.end != none {
				at[p.saw] = p.letters[best.end]
			}
		}
	}
	return order
}
