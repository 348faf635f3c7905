package check

import (
	"slices"

	"rackwright/model"
)

// A board that is ripped first may be crosscut before, to a span of its own: where one end is
// split, the rips begin behind the split. The span begins at the near trim or where a weak defect
// ends, and ends at the far trim or where one begins. Defects count with their margin, and only
// edges between the trims.

func (u *usedBoard) hasSpan() bool { return u.span != model.Span{} }

// slabsReach is from where to where slabs reach in the direction in which they lie beside each
// other.
func (c *checker) slabsReach(u *usedBoard, a model.Axis) model.Span {
	if a == model.Along && u.hasSpan() {
		return u.span
	}
	return c.usable(u, a)
}

// weakDefect is a defect that no rip runs through, with its margin.
type weakDefect struct {
	model.Rect
	kind string
}

// weakDefects gives those of a board, in the order in which they were recorded.
func (c *checker) weakDefects(b *model.Board) (out []weakDefect) {
	m := c.job.Settings.Margin
	for _, d := range b.Defects {
		at := model.Rect{From: max(0, d.From-m), To: min(d.To+m, b.Length),
			Left: max(0, d.Left-m), Right: min(d.Right+m, b.Width)}
		if at.From < at.To && at.Left < at.Right && slices.Contains(c.job.Settings.Weak, d.Kind) {
			out = append(out, weakDefect{at, d.Kind})
		}
	}
	return out
}

// judgeSpan judges the span of a board by itself. Where it is not to be, the board is judged as if
// it had none.
func (c *checker) judgeSpan(u *usedBoard) {
	if !u.hasSpan() {
		return
	}
	before, where, s := len(c.found), "plan.json: board "+u.id, u.span
	between := c.usable(u, model.Along)
	starts, ends := []model.Length{between.From}, []model.Length{between.To}
	for _, d := range c.weakDefects(u.board) {
		if between.From < d.To && d.To < between.To {
			starts = append(starts, d.To)
		}
		if between.From < d.From && d.From < between.To {
			ends = append(ends, d.From)
		}
	}
	switch {
	case u.down != model.RipFirst:
		c.say(where, "has a span to be ripped, from %s to %s, yet is not ripped first",
			c.shop(s.From), c.shop(s.To))
	case s.From < 0 || s.To <= s.From:
		c.say(where, "the span to be ripped, from %s to %s, is none", c.shop(s.From), c.shop(s.To))
	case s == between:
		c.say(where, "the span to be ripped, from %s to %s, is all between the trims; then it is "+
			"not to be written", c.shop(s.From), c.shop(s.To))
	default:
		if !slices.Contains(starts, s.From) {
			c.say(where, "the span to be ripped begins at %s, which is neither the trim nor where "+
				"a weak defect, with its margin, ends", c.shop(s.From))
		}
		if !slices.Contains(ends, s.To) {
			c.say(where, "the span to be ripped ends at %s, which is neither the trim nor where "+
				"a weak defect, with its margin, begins", c.shop(s.To))
		}
	}
	if len(c.found) > before {
		u.span = model.Span{}
	}
}

// judgeInSpan judges that all blanks of a board lie in its span.
func (c *checker) judgeInSpan(u *usedBoard, where string) {
	for i := range u.pieces {
		if l := &u.pieces[i]; u.hasSpan() && (l.From < u.span.From || l.To > u.span.To) {
			c.say(where, "%s goes from %s to %s, but only the span from %s to %s is ripped",
				c.job.Parts[l.part].Name, c.shop(l.From), c.shop(l.To), c.shop(u.span.From),
				c.shop(u.span.To))
		}
	}
}
