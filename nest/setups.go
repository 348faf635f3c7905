package nest

import (
	"cmp"
	"slices"

	"rackwright/model"
)

// setups are the stops of the crosscut saw, longest first, then the fences of the rip saw, widest
// first, each with what comes off the saw there from each board.
func setups(boards []*used) []model.Setup {
	var crosscut, rip counter
	for n, u := range boards {
		if u.first == model.RipFirst {
			for _, strip := range bundles(across, u.pieces) {
				rip.add("rip", n, u, strip.To-strip.From)
				for _, p := range strip.pieces {
					crosscut.add("crosscut", n, u, p.To-p.From)
					if p.Right-p.Left < strip.To-strip.From {
						rip.add("rip", n, u, p.Right-p.Left)
					}
				}
			}
			continue
		}
		for _, length := range bundles(along, u.pieces) {
			crosscut.add("crosscut", n, u, length.To-length.From)
			if len(length.pieces) == 1 && length.pieces[0].Left == 0 &&
				length.pieces[0].Right == u.Width {
				continue
			}
			for _, p := range length.pieces {
				rip.add("rip", n, u, p.Right-p.Left)
				if p.To-p.From < length.To-length.From {
					crosscut.add("crosscut", n, u, p.To-p.From)
				}
			}
		}
	}
	return append(crosscut.setups(), rip.setups()...)
}

// counter counts what comes off one saw; the number of a setup is that of its board until it is
// sorted.
type counter []model.Setup

func (c *counter) add(saw string, board int, u *used, stop model.Length) {
	at := slices.IndexFunc(*c, func(s model.Setup) bool {
		return s.Board == u.ID && s.Stop == stop
	})
	if at < 0 {
		at = len(*c)
		*c = append(*c, model.Setup{Saw: saw, Setup: board, Stop: stop, Board: u.ID})
	}
	(*c)[at].Pieces++
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
