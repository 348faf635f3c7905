package proof

import (
	"fmt"
	"math/big"
	"math/bits"

	"rackwright/model"
	"rackwright/model/proof/across"
	"rackwright/model/proof/along"
)

// The stocks of a certificate are boards of the rack that are all alike, or one line of the yard.

// oneBoard is one board of a stock as its bound sees it.
type oneBoard struct {
	cost   int64         // price or worth, with handling; in ticks
	along  *along.Board  // nil where it can be ripped
	across *across.Board // nil where it cannot
}

// look gives one board of a wood as its bound sees it.
func (p *proof) look(w int) oneBoard {
	board, origin := p.board(w)
	b, slope := oneBoard{cost: p.worth.Ticks(p.job.Settings.Handling)}, p.slope(w)
	if origin == model.FromRack {
		b.cost += p.worth.WorthOfBoard(board)
	} else {
		b.cost += p.worth.Ticks(p.job.PaidFor(&p.job.Yard[w-len(p.job.Rack)]))
	}
	if p.rippable[w] {
		b.across = across.NewBoard(p.job, p.worth, board, origin, slope)
	} else {
		b.along = along.NewBoard(p.job, p.worth, board, origin, slope)
	}
	return b
}

// slope is that of the offcuts of one wood.
func (p *proof) slope(w int) model.Slope {
	if w < len(p.job.Rack) {
		return p.worth.SlopeOfBoard(&p.job.Rack[w])
	}
	return p.worth.SlopeOfOffer(&p.job.Yard[w-len(p.job.Rack)])
}

// bare is what one board of a wood is worth between its trims, as it lies there, in ticks.
func (p *proof) bare(w int) int64 {
	board, origin := p.board(w)
	trim := p.job.Settings.TrimFor(board, origin)
	return p.worth.WorthOfRect(p.slope(w), &board.Wood,
		model.Rect{From: trim, To: board.Length - trim, Right: board.Width},
		p.job.WidenedRects(board, nil))
}

// equal says whether two boards have the same bound, whatever is cut from them.
func (b *oneBoard) equal(o *oneBoard) bool {
	return b.cost == o.cost && b.along.Equal(o.along) && b.across.Equal(o.across)
}

// net is what a board costs less what it gives, in ticks.
func (b *oneBoard) net(gives int64) *big.Int {
	return new(big.Int).Sub(big.NewInt(b.cost), big.NewInt(gives))
}

// stock is one stock of a certificate, found again in the job.
type stock struct {
	oneBoard
	supply int64 // unlimited: any number
	rough  bool  // what one board gives is bounded by area, not worked out
	// the steps of the coarser grid on which it is worked out, in units; 0: as it is
	grid, gridAcross model.Length
	woods            []int
}

// judgeStocks finds the stocks of a certificate in the job. It judges that they are what they claim
// to be, and that no other stock names their boards.
func (p *proof) judgeStocks(g int, where string) []stock {
	cert := &p.plan.Groups[g].Certificate
	out := make([]stock, len(cert.Stocks))
	for i := range cert.Stocks {
		claim, s := &cert.Stocks[i], &out[i]
		s.rough = claim.Rough
		where := fmt.Sprintf("%s, stock %d", where, i)
		p.judgeGrid(claim, s, where)
		if (len(claim.Boards) == 0) == (claim.Yard == 0) {
			p.say(where, "is to be either boards of the rack or a line of the yard")
			continue
		}
		for _, id := range claim.Boards {
			if r, known := p.rack[id]; known {
				s.woods = append(s.woods, r)
			} else {
				p.say(where, "the rack has no board %q", id)
			}
		}
		if y, known := p.offers[claim.Yard]; known && claim.Yard != 0 {
			s.woods = append(s.woods, len(p.job.Rack)+y)
		} else if claim.Yard != 0 {
			p.say(where, "line %d of yard.csv sells no board", claim.Yard)
		}
		for k, w := range s.woods {
			if p.owner[w] >= 0 {
				p.say(where, "%s stands in the stocks twice", p.woodName(w))
			}
			p.owner[w] = g
			s.supply += p.supply(w)
			one := p.look(w)
			if k == 0 {
				s.oneBoard = one
			} else if !one.equal(&s.oneBoard) {
				p.say(where, "%s and %s are not alike", p.woodName(s.woods[0]), p.woodName(w))
			}
		}
		if len(s.woods) == 0 {
			continue
		}
		if s.across == nil && s.gridAcross > 0 {
			p.say(where, "has a grid across, but %s cannot be ripped", p.woodName(s.woods[0]))
		}
		if claim.Cost != s.cost {
			p.say(where, "%s costs %v (%d ticks) with handling, not %v (%d)",
				p.woodName(s.woods[0]), p.worth.ShownTicks(s.cost), s.cost,
				p.worth.ShownTicks(claim.Cost), claim.Cost)
		}
		if (claim.Supply == nil) != (s.supply == unlimited) || claim.Supply != nil &&
			*claim.Supply != s.supply {
			p.say(where, "the supply of %s is not what is there", p.woodName(s.woods[0]))
		}
	}
	return out
}

// judgeGrid judges the grid of a stock.
func (p *proof) judgeGrid(claim *model.CertStock, s *stock, where string) {
	u := p.worth.Unit
	s.grid, s.gridAcross = claim.Grid/u, claim.GridAcross/u
	for _, step := range []model.Length{claim.Grid, claim.GridAcross} {
		if step != 0 && (step < 2*u || step%u != 0 || step > maxGrid) {
			p.say(where, "%d is no step of a coarser grid; it is to be a multiple of %d, from "+
				"%d to %d", step, u, 2*u, maxGrid)
		}
	}
	if s.rough && s.onGrid() {
		p.say(where, "is bounded by area and has a grid as well")
	}
}

// maxGrid is the greatest step of a grid: half a metre.
const maxGrid = 500 * model.UnitsPerMillimetre

// onGrid says whether what a board gives is worked out on a coarser grid.
func (s *stock) onGrid() bool { return s.grid > 0 || s.gridAcross > 0 }

// findRippable finds the woods that can be ripped.
func (p *Prover) findRippable() {
	parts := make([][]*model.Part, len(p.job.Rack)+len(p.job.Yard)) // by wood those that it holds
	for i, set := range p.held {
		for _, w := range woodsIn(set) {
			parts[w] = append(parts[w], p.parts[i])
		}
	}
	for w := range parts {
		board, origin := p.board(w)
		p.rippable = append(p.rippable, p.job.Rippable(board, origin, parts[w]))
	}
}

// woodsIn lists the woods of a set.
func woodsIn(set string) (out []int) {
	for at := range len(set) {
		for bit := set[at]; bit != 0; bit &= bit - 1 {
			out = append(out, at*8+bits.TrailingZeros8(bit))
		}
	}
	return out
}
