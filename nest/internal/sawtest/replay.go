// Package sawtest makes the cuts of a board one after the other, for tests of whatever writes them
// down.
package sawtest

import (
	"fmt"
	"slices"

	"rackwright/model"
)

// Replay makes the steps of one board and says what is wrong with them, "" for nothing. Each step
// is in one piece, and all its sawdust and trim go from edge to edge of it. In the end each piece
// is one row, or the waste of one gap, and has the number of the last cut that it came from.
func Replay(cuts []model.Cut) string {
	hands, steps := []hand{{rows: cuts, last: 1}}, 0
	for _, c := range cuts {
		steps = max(steps, c.Step)
	}
	for step := 1; step <= steps; step++ {
		saws := func(c model.Cut) bool {
			return c.Step == step && (c.Kind == model.KindKerf || c.Kind == model.KindTrim)
		}
		in := slices.IndexFunc(hands, func(h hand) bool {
			return len(h.rows) > 1 && slices.ContainsFunc(h.rows, saws)
		})
		if in < 0 {
			if steps == 1 && len(cuts) == 1 {
				return ""
			}
			return fmt.Sprintf("step %d cuts nothing", step)
		}
		pieces := []hand{{hands[in].rows, step}}
		for _, c := range hands[in].rows {
			if !saws(c) {
				continue
			}
			at := slices.IndexFunc(pieces, func(h hand) bool { return slices.Contains(h.rows, c) })
			b := pieces[at].bounds()
			var before, after []model.Cut
			for _, o := range pieces[at].rows {
				switch {
				case o == c:
				case c.Left == b.Left && c.Right == b.Right && o.To <= c.From, c.From == b.From &&
					c.To == b.To && o.Right <= c.Left:
					before = append(before, o)
				case c.Left == b.Left && c.Right == b.Right && o.From >= c.To, c.From == b.From &&
					c.To == b.To && o.Left >= c.Right:
					after = append(after, o)
				default:
					return fmt.Sprintf("step %d does not go from edge to edge: %+v of %+v", step, c,
						b)
				}
			}
			pieces = slices.Delete(pieces, at, at+1)
			for _, rows := range [][]model.Cut{before, after} {
				if len(rows) > 0 {
					pieces = append(pieces, hand{rows, step})
				}
			}
		}
		hands = append(slices.Delete(hands, in, in+1), pieces...)
		if slices.ContainsFunc(hands, func(h hand) bool {
			return len(h.rows) > 1 && slices.ContainsFunc(h.rows, saws)
		}) {
			return fmt.Sprintf("step %d cuts two pieces", step)
		}
	}
	for _, h := range hands {
		for _, c := range h.rows {
			loose := c.Kind == model.KindWaste || c.Kind == model.KindDefect
			if len(h.rows) > 1 && !loose || c.Step != h.last {
				return fmt.Sprintf("in the end %+v, last cut %d", h.rows, h.last)
			}
		}
	}
	return ""
}

// hand is a piece of a board at a moment of the work: the rows that are in it, and the last cut
// that freed it.
type hand struct {
	rows []model.Cut
	last int
}

func (h hand) bounds() model.Rect {
	b := model.Rect{From: h.rows[0].From, To: h.rows[0].To, Left: h.rows[0].Left,
		Right: h.rows[0].Right}
	for _, c := range h.rows {
		b = model.Rect{From: min(b.From, c.From), To: max(b.To, c.To), Left: min(b.Left, c.Left),
			Right: max(b.Right, c.Right)}
	}
	return b
}
