package check

import (
	"cmp"
	"fmt"
	"math/big"
	"slices"

	"rackwright/model"
)

// Where the pieces of a ripped board may lie, rule by rule, each with a finding of its own. First
// comes the width of each piece by itself, then how the pieces lie to each other.

// judgeWidth judges the width of a blank on a ripped board: all of the board's, or its own between
// the insets.
func (c *checker) judgeWidth(u *usedBoard, where string, p *model.Part, r *model.Cut) bool {
	l := laidPiece{Cut: r}
	if u.down == model.CrosscutFirst && l.takesAllOf(u) {
		return true
	}
	before, width := len(c.found), u.board.Width
	narrowest := c.job.Settings.SafetyFor(u.board.Material, u.board.Section).NarrowestRip
	inset, want := c.job.Inset(&u.board.Wood), c.job.BlankIn(p, &u.board.Wood).Width
	switch {
	case p.Whole(&u.board.Wood):
		c.say(where,
			"%s is as wide as the board, so it is not ripped; it goes across from %s to %s",
			p.Name, c.shop(r.Left), c.shop(r.Right))
	case r.Left < 0 || r.Right > width || r.Right-r.Left != want:
		c.say(where, "the blank of %s goes across from %s to %s; it is to be %s wide, on a "+
			"board of %s",
			p.Name, c.shop(r.Left), c.shop(r.Right), c.shop(want), c.shop(width))
	case r.Left < inset || r.Right > width-inset:
		c.say(where, "%s goes across from %s to %s; the rounded edges of the board leave %s to %s",
			p.Name, c.shop(r.Left), c.shop(r.Right), c.shop(inset), c.shop(width-inset))
	case want < narrowest:
		c.say(where, "%s is ripped to %s, less than the %s of narrowest_rip", p.Name, c.shop(want),
			c.shop(narrowest))
	}
	return len(c.found) == before
}

// ripWords are what a length or strip is called, and how it is measured.
type ripWords struct{ name, size, small, cut string }

func (b *rippedBoard) words() ripWords {
	if b.way == model.Along {
		return ripWords{"length", "long", "shorter", "crosscut"}
	}
	return ripWords{"strip", "wide", "narrower", "rip"}
}

// judgePattern judges how the pieces of a ripped board lie to each other, and gives its slabs.
func (c *checker) judgePattern(u *usedBoard) *rippedBoard {
	b := c.findSlabs(u)
	where, w := "cuts.csv: board "+u.id, b.words()
	if s := c.slabsReach(u, model.Along); b.way == model.Across {
		name := "the board between its trims"
		if u.hasSpan() {
			name = fmt.Sprintf("the span from %s to %s", c.shop(s.From), c.shop(s.To))
		}
		c.judgeRipLength(u, where, name, s.To-s.From)
		c.judgeInSpan(u, where)
	}
	for i := range b.slabs {
		r, s := &b.slabs[i], b.slabs[i].On(b.way)
		name := fmt.Sprintf("the %s from %s to %s", w.name, c.shop(s.From), c.shop(s.To))
		if i > 0 && s.From-b.slabs[i-1].On(b.way).To < c.kerf(b.way) {
			c.say(where, "%s is nearer than a kerf of the %s to the one before it", name, w.cut)
		}
		if b.way == model.Along && !r.plain {
			c.judgeRipLength(u, where, name, s.To-s.From)
		}
		c.judgeSlab(b, r, where, name)
	}
	c.judgeWeak(b, where)
	return b
}

// judgeRipLength judges that what is ripped is long enough to be ripped.
func (c *checker) judgeRipLength(u *usedBoard, where, name string, length model.Length) {
	if least := c.job.Settings.SafetyFor(u.board.Material,
		u.board.Section).ShortestRip; length < least {
		c.say(where, "%s is ripped, and is %s long, less than the %s of shortest_rip", name,
			c.shop(length), c.shop(least))
	}
}

// judgeSlab judges the blanks of one length or strip.
func (c *checker) judgeSlab(b *rippedBoard, r *slab, where, name string) {
	w, way, full := b.words(), b.way.Other(), false
	for i := range r.blanks {
		l := &r.blanks[i]
		part := c.job.Parts[l.part].Name
		if i > 0 && l.rect().On(way).From-r.blanks[i-1].rect().On(way).To < c.kerf(way) {
			c.say(where, "in %s, %s is nearer than a kerf to the piece before it, or lies over it",
				name, part)
		}
		if !b.trimmed(r, l) {
			full = true
			continue
		}
		s, outer := l.rect().On(b.way), r.On(b.way)
		if !c.job.Settings.TrimmingCut {
			c.say(where, "%s is %s than %s, and trimming_cut of [rip] allows no third cut", part,
				w.small, name)
		}
		if s.From != outer.From && s.To != outer.To {
			c.say(where, "%s lies at neither side of %s, so that one cut does not trim it", part,
				name)
		}
		if b.way == model.Across {
			c.judgeRipLength(b.usedBoard, where, part, l.To-l.From)
		}
	}
	if !full {
		c.say(where, "no blank is as %s as %s", w.size, name)
	}
}

// judgePlainest judges that the board is told in its normal form: nothing is ripped that could
// stand plain with as many offcuts. Where the board stands plain, an end piece outside the ripped
// span is part of a gap that has the whole width as well, and no less is kept of it. rows are those
// of the board.
func (c *checker) judgePlainest(b *rippedBoard, rows []model.Cut) {
	where := "cuts.csv: board " + b.id
	offcut := func(beside func(r model.Rect) bool) bool {
		for i := range rows {
			if r := &rows[i]; r.Kind == model.KindOffcut &&
				beside(model.Rect{From: r.From, To: r.To, Left: r.Left, Right: r.Right}) {
				return true
			}
		}
		return false
	}
	if b.way == model.Across {
		strip := &b.slabs[0]
		couldAll := len(b.slabs) == 1 && !offcut(func(r model.Rect) bool {
			return r.From < strip.To && strip.From < r.To && // no end piece: plain, it is one too
				r.On(model.Across) != strip.On(model.Across)
		})
		for i := range strip.blanks {
			couldAll = couldAll && c.couldStandPlain(b.usedBoard, &strip.blanks[i])
		}
		if couldAll {
			c.say(where, "is ripped into one strip with nothing kept beside it; all its blanks "+
				"could take the whole width, and nothing be ripped")
		}
		return
	}
	allPlain := true
	for i := range b.slabs {
		r := &b.slabs[i]
		if r.plain {
			continue
		}
		allPlain = false
		if len(r.blanks) == 1 && c.couldStandPlain(b.usedBoard, &r.blanks[0]) &&
			!offcut(func(o model.Rect) bool { return o.From < r.To && r.From < o.To }) {
			c.say(where, "the length from %s to %s is ripped for one blank with nothing kept "+
				"beside it; it could take the whole width",
				c.shop(r.From), c.shop(r.To))
		}
	}
	if allPlain {
		c.say(where, "is not ripped, yet plan.json has it laid out by crosscuts and rips")
	}
}

// couldStandPlain says whether a blank could take the whole width where it lies.
func (c *checker) couldStandPlain(u *usedBoard, l *laidPiece) bool {
	for _, d := range c.intolerable(u.board, c.job.Parts[l.part].Face) {
		if d.From < l.To && l.From < d.To {
			return false
		}
	}
	return true
}

// judgeTiling judges that the rows of a ripped board cover all of it, and nothing twice.
func (c *checker) judgeTiling(u *usedBoard) {
	for i := range u.rows {
		r := &u.rows[i]
		if r.From >= r.To || r.Left >= r.Right {
			c.say(c.rowName(u, i), "is of no size: it goes from %s to %s and across from %s to %s",
				c.shop(r.From), c.shop(r.To), c.shop(r.Left), c.shop(r.Right))
			return
		}
		if r.From < 0 || r.To > u.board.Length || r.Left < 0 || r.Right > u.board.Width {
			c.say(c.rowName(u, i),
				"goes from %s to %s and across from %s to %s, off the board, which is %s by %s",
				c.shop(r.From), c.shop(r.To), c.shop(r.Left), c.shop(r.Right),
				c.shop(u.board.Length),
				c.shop(u.board.Width))
			return
		}
	}
	if i, k := rowsOverlap(u.rows); i >= 0 {
		c.say(c.rowName(u, max(i, k)), "overlaps line %d", u.firstRow+min(i, k)+2)
	} else if !rowsCover(u.rows, u.board) {
		c.say("cuts.csv: board "+u.id, "the rows leave a gap: they do not cover all of the board")
	}
}

// rowsOverlap finds two rows that lie over each other; -1 where none do.
func rowsOverlap(rows []model.Cut) (int, int) {
	order := make([]int, len(rows))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(rows[a].From, rows[b].From) })
	var open []int // that reach beyond the start of the one at hand
	for _, i := range order {
		r := &rows[i]
		open = slices.DeleteFunc(open, func(k int) bool { return rows[k].To <= r.From })
		for _, k := range open {
			if rows[k].Left < r.Right && r.Left < rows[k].Right {
				return i, k
			}
		}
		open = append(open, i)
	}
	return -1, -1
}

// rowsCover says whether rows on a board that do not overlap are all of it.
func rowsCover(rows []model.Cut, b *model.Board) bool {
	left := new(big.Int).Mul(big.NewInt(int64(b.Length)), big.NewInt(int64(b.Width)))
	for i := range rows {
		r := &rows[i]
		left.Sub(left, new(big.Int).Mul(big.NewInt(int64(r.To-r.From)),
			big.NewInt(int64(r.Right-r.Left))))
	}
	return left.Sign() == 0
}
