package cutlist

import (
	"cmp"
	"slices"

	"rackwright/model"
)

// setups are the stops of the crosscut saw, longest first, then the fences of the rip saw, widest
// first, each with what comes off the saw there from each board.
func setups(boards []*Board) []model.Setup {
	var crosscut, rip counter
	for n, b := range boards {
		if b.First == model.RipFirst {
			for _, strip := range bundles(across, b.Pieces) {
				rip.add("rip", n, b, strip.To-strip.From)
				for _, p := range strip.pieces {
					crosscut.add("crosscut", n, b, p.To-p.From)
					if p.Right-p.Left < strip.To-strip.From {
						rip.add("rip", n, b, p.Right-p.Left)
					}
				}
			}
			continue
		}
		for _, length := range bundles(along, b.Pieces) {
			crosscut.add("crosscut", n, b, length.To-length.From)
			if len(length.pieces) == 1 && length.pieces[0].Left == 0 &&
				length.pieces[0].Right == b.Width {
				continue
			}
			for _, p := range length.pieces {
				rip.add("rip", n, b, p.Right-p.Left)
				if p.To-p.From < length.To-length.From {
					crosscut.add("crosscut", n, b, p.To-p.From)
				}
			}
		}
	}
	return append(crosscut.setups(), rip.setups()...)
}

// counter counts what comes off one saw. Until setups are sorted, the number of each is that of its
// board.
type counter []model.Setup

func (c *counter) add(saw string, board int, b *Board, stop model.Length) {
	n := slices.IndexFunc(*c, func(s model.Setup) bool {
		return s.Board == b.ID && s.Stop == stop
	})
	if n < 0 {
		n = len(*c)
		*c = append(*c, model.Setup{Saw: saw, Setup: board, Stop: stop, Board: b.ID})
	}
	(*c)[n].Pieces++
}

// setups sorts them by their stop, longest first, then by board, and numbers them by their stop.
func (c counter) setups() []model.Setup {
	slices.SortStableFunc(c, func(a, b model.Setup) int {
		return cmp.Or(cmp.Compare(b.Stop, a.Stop), cmp.Compare(a.Setup, b.Setup))
	})
	setup := 0
	for i := range c {
		if i == 0 || c[i].Stop != c[i-1].Stop {
			setup++
		}
		c[i].Setup = setup
	}
	return c
}
