package cutlist

import (
	"cmp"
	"slices"

	"rackwright/model"
)

// setups are the stops of the crosscut saw, longest first. The fences of the rip saw follow, widest
// first. Each has a row for each board, with how many pieces come off that board there.
func setups(boards []*Board) []model.Setup {
	saws := [2]counter{model.Along: {saw: "crosscut"}, model.Across: {saw: "rip"}}
	for n, b := range boards {
		outer := model.Along
		if b.First == model.RipFirst {
			outer = model.Across
		}
		inner := outer.Other()
		for _, l := range bundles(outer, b.Pieces) {
			saws[outer].add(n, b, l.Span)
			if p := &l.pieces[0]; outer == model.Along && p.Left == 0 && p.Right == b.Width {
				continue // a length that is not ripped
			}
			for _, p := range l.pieces {
				saws[inner].add(n, b, p.On(inner))
				if p.On(outer) != l.Span {
					saws[outer].add(n, b, p.On(outer))
				}
			}
		}
	}
	return append(saws[model.Along].sorted(), saws[model.Across].sorted()...)
}

// counter counts what comes off one saw, board by board. Until the setups are sorted, the number of
// each is that of its board.
type counter struct {
	saw  string
	rows []model.Setup
}

func (c *counter) add(board int, b *Board, size model.Span) {
	stop := size.To - size.From
	for n := len(c.rows) - 1; n >= 0 && c.rows[n].Setup == board; n-- {
		if c.rows[n].Stop == stop {
			c.rows[n].Pieces++
			return
		}
	}
	c.rows = append(c.rows,
		model.Setup{Saw: c.saw, Setup: board, Stop: stop, Board: b.ID, Pieces: 1})
}

// sorted gives the setups by their stop, longest first, then by board, and numbers them by their
// stop.
func (c *counter) sorted() []model.Setup {
	slices.SortStableFunc(c.rows, func(a, b model.Setup) int {
		return cmp.Or(cmp.Compare(b.Stop, a.Stop), cmp.Compare(a.Setup, b.Setup))
	})
	setup := 0
	for i := range c.rows {
		if i == 0 || c.rows[i].Stop != c.rows[i-1].Stop {
			setup++
		}
		c.rows[i].Setup = setup
	}
	return c.rows
}
