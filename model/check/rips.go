package check

import "rackwright/model"

// The rips of a board, from its pieces. A side of a blank or strip that is not the board's own edge
// is sawn by a rip, a kerf wide, beyond the side. Two sides a kerf apart face the same rip.
//
//	crosscut first: the sides of the blanks in each length that is not plain, as long as it
//	rip first:      the sides of the strips, as long as the span that is ripped
//	                of a blank narrower than its strip the one side inside the strip, as long as
//	                the blank

// rip is the kerf of one rip, as long as what is in hand; beside is what it is a side of.
type rip struct {
	model.Rect
	beside string
}

// rips gives the rips of a board.
func (b *rippedBoard) rips(kerf model.Length, parts []model.Part) (out []rip) {
	side := func(along model.Span, y, to model.Length, beside string) {
		out = append(out, rip{model.Rect{From: along.From, To: along.To, Left: y, Right: to},
			beside})
	}
	// sides adds those of what lies side by side in a rectangle, from the left on.
	sides := func(along model.Span, across []model.Span, beside func(i int) string) {
		for i, s := range across {
			if s.From > 0 && (i == 0 || across[i-1].To+kerf != s.From) {
				side(along, s.From-kerf, s.From, beside(i))
			}
			if s.To < b.board.Width {
				side(along, s.To, s.To+kerf, beside(i))
			}
		}
	}
	name := func(l *laidPiece) string { return parts[l.part].Name }
	if b.way == model.Across {
		var strips []model.Span
		for i := range b.slabs {
			strips = append(strips, b.slabs[i].On(model.Across))
		}
		sides(b.slabs[0].On(model.Along), strips, func(int) string { return "a strip" })
		for i := range b.slabs {
			r := &b.slabs[i]
			for k := range r.blanks {
				l := &r.blanks[k]
				switch {
				case !b.trimmed(r, l):
				case l.Left == r.Left:
					side(l.rect().On(model.Along), l.Right, l.Right+kerf, name(l))
				default:
					side(l.rect().On(model.Along), l.Left-kerf, l.Left, name(l))
				}
			}
		}
		return out
	}
	for i := range b.slabs {
		r := &b.slabs[i]
		if r.plain {
			continue
		}
		var blanks []model.Span
		for k := range r.blanks {
			blanks = append(blanks, r.blanks[k].rect().On(model.Across))
		}
		sides(r.On(model.Along), blanks, func(k int) string { return name(&r.blanks[k]) })
	}
	return out
}

// ripLength is how long the rips of a board are in all.
func (c *checker) ripLength(b *rippedBoard) (sum model.Length) {
	for _, r := range b.rips(c.job.Settings.RipKerf, c.job.Parts) {
		sum += r.To - r.From
	}
	return sum
}

// judgeWeak judges that no rip runs through a weak defect. A line between two of them, where the
// kerf is 0, runs through neither.
func (c *checker) judgeWeak(b *rippedBoard, where string) {
	weak := c.weakDefects(b.board)
	if len(weak) == 0 {
		return
	}
	for _, r := range b.rips(c.job.Settings.RipKerf, c.job.Parts) {
		for _, d := range weak {
			if d.From < r.To && r.From < d.To && d.Left < r.Right && r.Left < d.Right {
				c.say(where, "the rip beside %s, from %s to %s, at %s across, runs through the %s "+
					"that, with its margin, goes from %s to %s and across from %s to %s",
					r.beside, c.shop(r.From), c.shop(r.To), c.shop(max(0, r.Left)), d.kind,
					c.shop(d.From), c.shop(d.To), c.shop(d.Left), c.shop(d.Right))
			}
		}
	}
}
