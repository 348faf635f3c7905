package report

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"rackwright/io/table"
	"rackwright/model"
	"rackwright/model/makeup"
)

// What a plan changes that takes the place of another, and why.

// WhyReplanned is what happened since a plan was booked.
type WhyReplanned struct {
	Plan      string        // as the book calls it
	Cut       int           // pieces that are cut
	Spoiled   []model.Piece // and wanted again
	Missing   []string      // boards that were not delivered
	Gone      []string      // boards that went off the rack otherwise
	Otherwise [][2]string   // boards that are not as the plan has them, and in what
	Freed     []model.Part  // parts that cannot come from the board that they name
}

// Replanned tells what a plan changes in the one before it, and why. No line is longer than width.
func Replanned(w io.Writer, was, job *model.Job, before, plan *model.Plan, why *WhyReplanned,
	width int) error {
	p := printer{w: w, job: job, width: width}
	c := changes{printer: &p, was: before, now: plan, why: why, boardsOf: map[pieceName]string{},
		laidBefore: map[string]*model.Laid{}}
	c.index()
	wanted := pieceCount(job)
	p.line("Revision %d: what is left of plan %s, %s of %d.", plan.Revision.Number, why.Plan,
		count(wanted, "piece"), pieceCount(was))
	c.causes()
	c.layouts()
	c.moved()
	c.boards()
	p.line("")
	p.line("What is left, by itself")
	p.line("")
	return p.err
}

// changes is what changes from one plan to the next.
type changes struct {
	*printer
	was, now   *model.Plan
	why        *WhyReplanned
	boardsOf   map[pieceName]string // of the plan before
	laidBefore map[string]*model.Laid
}

type pieceName struct {
	commission, part string
	number           int64
}

func nameOf(c *model.Piece) pieceName { return pieceName{c.Commission, c.Part, c.Copy} }

func (c *changes) index() {
	for i := range c.was.Placements {
		x := &c.was.Placements[i]
		for k := range x.Pieces {
			c.boardsOf[nameOf(&x.Pieces[k])] = x.Board
		}
	}
	for i := range c.now.Revision.Before {
		b := &c.now.Revision.Before[i]
		c.laidBefore[b.Board] = b
	}
}

// causes says what happened.
func (c *changes) causes() {
	var rows [][2]string
	add := func(what string, names []string) {
		if len(names) > 0 {
			rows = append(rows, [2]string{what, strings.Join(few(names), "; ")})
		}
	}
	if c.why.Cut > 0 {
		rows = append(rows, [2]string{"Cut so far", count(c.why.Cut, "piece")})
	}
	var spoiled []string
	names := makeup.NamesOf(c.job)
	for i := range c.why.Spoiled {
		s := &c.why.Spoiled[i]
		spoiled = append(spoiled, s.Commission+", "+
			names.Of(s.Commission, s.Part, s.Copy, "%s, copy %d"))
	}
	add("Spoiled, wanted again", spoiled)
	add("Not delivered", c.why.Missing)
	add("No longer on the rack", c.why.Gone)
	for _, b := range c.why.Otherwise {
		rows = append(rows, [2]string{"Not as planned", b[0] + ": " + b[1]})
	}
	for i := range c.why.Freed {
		f := &c.why.Freed[i]
		rows = append(rows, [2]string{"From any board now", fmt.Sprintf(
			"%s, %s: board %s cannot give it any more", f.Commission, f.Name, f.Board)})
	}
	if len(rows) == 0 {
		rows = append(rows, [2]string{"Nothing happened", "all is as it was planned"})
	}
	p := c.printer
	p.line("")
	for _, r := range rows {
		p.item(fmt.Sprintf("  %-22s ", r[0]), "%s", r[1])
	}
}

// layouts says how many boards keep their layout.
func (c *changes) layouts() {
	r := c.now.Revision
	if len(r.Before) == 0 {
		return
	}
	c.line("")
	text := keptOf(r)
	if r.Changed > 0 {
		text += fmt.Sprintf(" Each that is not counts %s in the search, together %s %s, by "+
			"[work] change of shop.toml; that is no part of the net wood cost.",
			Money(r.Change), Money(r.Counts), c.job.Settings.Currency)
	}
	c.line("%s", text)
}

// Revision says of a plan that takes the place of another what of that one stays.
func Revision(r *model.Revision) string {
	text := "It takes the place of an earlier plan, and is of what was left to cut."
	if len(r.Before) > 0 {
		text += " " + keptOf(r)
	}
	return text
}

// keptOf says how many boards keep their layout.
func keptOf(r *model.Revision) string {
	kept := len(r.Before) - int(r.Changed)
	if r.Changed == 0 {
		return fmt.Sprintf("All boards not begun, %d, are cut as laid out before.", kept)
	}
	return fmt.Sprintf("Of %s not begun, %d %s cut as laid out before.",
		count(len(r.Before), "board"), kept, isOrAre(kept))
}

func isOrAre(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

// move is where copies of a part come from, before and now.
type move struct {
	commission, part, from, to, why string
	copies                          []int64
}

// moved lists the pieces that come from another board than before.
func (c *changes) moved() {
	var all []*move
	for i := range c.now.Placements {
		x := &c.now.Placements[i]
		for k := range x.Pieces {
			piece := &x.Pieces[k]
			from := c.boardsOf[nameOf(piece)]
			if from == x.Board {
				continue
			}
			why := c.because(piece, from)
			at := slices.IndexFunc(all, func(m *move) bool {
				return m.commission == piece.Commission && m.part == piece.Part &&
					m.from == from && m.to == x.Board && m.why == why
			})
			if at < 0 {
				at = len(all)
				all = append(all, &move{piece.Commission, piece.Part, from, x.Board, why, nil})
			}
			all[at].copies = append(all[at].copies, piece.Copy)
		}
	}
	if len(all) == 0 {
		return
	}
	slices.SortStableFunc(all, func(a, b *move) int {
		return cmp.Or(cmp.Compare(a.commission, b.commission), cmp.Compare(a.part, b.part))
	})
	var rows [][]string
	names := makeup.NamesOf(c.job)
	for _, m := range all {
		slices.Sort(m.copies)
		part, copies := c.copies(names, m)
		rows = append(rows, []string{m.commission, part, copies, orNone(m.from), m.to, m.why})
	}
	c.line("")
	c.line("Pieces from other boards than before")
	c.table([]table.Column{{Name: "commission"}, {Name: "part"}, {Name: "copy"}, {Name: "before"},
		{Name: "now"}, {Name: "why"}}, rows)
}

// copies names the part of a move and its copies; pieces that make a part by what they make.
func (c *changes) copies(names makeup.Names, m *move) (part, copies string) {
	var out []string
	made := names[[2]string{m.commission, m.part}]
	if made == nil {
		for _, n := range m.copies {
			out = append(out, strconv.FormatInt(n, 10))
		}
		return m.part, strings.Join(out, " ")
	}
	part = made.Makes.Part
	for _, n := range m.copies {
		name := strings.TrimPrefix(makeup.NameOf(made, n), part)
		out = append(out, strings.TrimLeft(name, ", "))
	}
	return part, strings.Join(out, "; ")
}

// because says why a piece comes from another board.
func (c *changes) because(piece *model.Piece, from string) string {
	name := nameOf(piece)
	is := func(list []string) bool { return slices.Contains(list, from) }
	switch {
	case slices.ContainsFunc(c.why.Spoiled, func(s model.Piece) bool { return nameOf(&s) == name }):
		return "spoiled"
	case from == "":
		return "was short"
	case is(c.why.Missing):
		return "not delivered"
	case is(c.why.Gone):
		return "board is gone"
	case slices.ContainsFunc(c.why.Otherwise, func(b [2]string) bool { return b[0] == from }):
		return "board is not as planned"
	case c.laidBefore[from] == nil:
		return "board is begun"
	}
	return "to make room, or it costs less"
}

// boards lists those no longer needed, and those that are needed besides.
func (c *changes) boards() {
	now := map[string]bool{}
	for i := range c.now.Placements {
		now[c.now.Placements[i].Board] = true
	}
	var back, notBought, more, used, anew []string
	for i := range c.now.Revision.Before {
		if b := &c.now.Revision.Before[i]; now[b.Board] {
			continue
		} else if b.Offer != 0 {
			notBought = append(notBought, b.Board)
		} else {
			back = append(back, b.Board)
		}
	}
	for i := range c.now.Placements {
		x := &c.now.Placements[i]
		if was := c.laidBefore[x.Board]; was != nil {
			if !x.Same(&was.Placement) {
				anew = append(anew, x.Board)
			}
		} else if x.Offer != 0 {
			more = append(more, x.Board)
		} else {
			used = append(used, x.Board)
		}
	}
	if len(back)+len(notBought)+len(more)+len(used)+len(anew) == 0 {
		return
	}
	c.line("")
	for _, row := range []struct {
		what   string
		boards []string
	}{{"Laid out anew", anew}, {"No longer needed", back}, {"No longer to buy", notBought},
		{"More to buy", more}, {"More from the rack", used}} {
		if len(row.boards) > 0 {
			c.item(fmt.Sprintf("  %-22s ", row.what), "%s", strings.Join(row.boards, ", "))
		}
	}
}
