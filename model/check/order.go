package check

import (
	"fmt"

	"rackwright/model"
)

// The order of work. The replay of each board says what its cuts are (sawn.go). Each is to stand in
// order.csv once, as it is, and none before one that it needs: the one before it of the same unit,
// and the one that its unit came of. Then what the order takes is counted again.

// order judges order.csv, and what plan.json says of it.
func (c *checker) order() {
	w := &c.plan.Work
	where := "plan.json: work"
	if w.Order != model.LeastTime && w.Order != model.LeastClutter {
		c.say(where, "the order %q is neither %q nor %q", w.Order, model.LeastTime,
			model.LeastClutter)
		return
	}
	if len(w.Ways) != 2 || w.Ways[0].Way != model.LeastTime || w.Ways[1].Way != model.LeastClutter {
		c.say(where, "it does not tell of the ways %q and %q, in this order", model.LeastTime,
			model.LeastClutter)
		return
	}
	for i := range w.Ways {
		way := &w.Ways[i]
		if want := c.minutes(way.Settings, way.Lifts); way.Minutes != want {
			c.say(where, "%d settings and %d lifts take %s minutes, not %s", way.Settings,
				way.Lifts, want, way.Minutes)
		}
	}
	c.judgeOpen(where)
	cuts := c.ordered()
	if cuts == nil {
		return
	}
	got, want := &w.Ways[0], c.takes(cuts)
	if w.Order == model.LeastClutter {
		got = &w.Ways[1]
	}
	c.fields(where, []field{{"settings", got.Settings, want.Settings},
		{"lifts", got.Lifts, want.Lifts}, {"open", got.Open, want.Open}})
}

// judgeOpen judges how many commissions are open, as far as that can be told of both ways. Boards
// in the order of their first cuts, one after the other, never have more open than any order of the
// cuts. No order has fewer open than one board has.
func (c *checker) judgeOpen(where string) {
	time, clutter, least := &c.plan.Work.Ways[0], &c.plan.Work.Ways[1], 0
	for _, u := range c.boards {
		open := map[string]bool{}
		for _, l := range u.pieces {
			open[l.Commission] = true
		}
		if len(u.sawn) > 0 { // else it is taken as it is
			least = max(least, len(open))
		}
	}
	switch {
	case clutter.Open > time.Open:
		c.say(where, "the order of least clutter has %d commissions open, that of least time %d",
			clutter.Open, time.Open)
	case clutter.Open < least:
		c.say(where, "one board has blanks of %d commissions, and no more than %d are open", least,
			clutter.Open)
	case clutter.Open == least && !clutter.Exact:
		c.say(where, "no order has fewer commissions open, yet that is not said")
	}
	if time.Exact {
		c.say(where, "of the order of least time nothing is said to be proven")
	}
}

func (c *checker) minutes(settings, lifts int) model.Minutes {
	w := &c.job.Settings.Work
	return model.Minutes(settings)*w.Setting + model.Minutes(lifts)*w.Lift
}

// orderedCut is a row of order.csv: a cut of a board.
type orderedCut struct {
	board *usedBoard
	*sawn
}

// boardStep is where a cut is found.
type boardStep struct {
	board string
	step  int
}

// ordered judges the rows one after the other, and gives their cuts; nil where the rest cannot be
// judged.
func (c *checker) ordered() (cuts []orderedCut) {
	all := map[boardStep]orderedCut{}
	for _, u := range c.boards {
		for i := range u.sawn {
			all[boardStep{u.id, u.sawn[i].step}] = orderedCut{u, &u.sawn[i]}
		}
	}
	before := len(c.found)
	cuts, done := []orderedCut{}, map[boardStep]bool{}
	for i := range c.plan.Order {
		g := &c.plan.Order[i]
		where, key := fmt.Sprintf("order.csv: line %d", i+2), boardStep{g.Board, g.Step}
		cut, known := all[key]
		switch {
		case !known:
			c.say(where, "there is no step %d of board %s in cuts.csv", g.Step, g.Board)
			continue
		case done[key]:
			c.say(where, "step %d of board %s stands there once more", g.Step, g.Board)
			continue
		}
		done[key] = true
		c.fields(where, []field{{"pass", g.Pass, cut.pass}, {"sequence", g.Sequence, i + 1},
			{"saw", g.Saw, cut.saw}, {"setting", g.Setting, cut.setting},
			{"piece", g.Piece, cut.piece}})
		for _, step := range cut.board.needed(cut.sawn) {
			if !done[boardStep{g.Board, step}] {
				c.say(where, "step %d of board %s comes before step %d, which it needs", g.Step,
					g.Board, step)
			}
		}
		cuts = append(cuts, cut)
	}
	if n := len(all) - len(done); n > 0 {
		c.say("order.csv", "%d of the %d cuts of cuts.csv are missing", n, len(all))
	}
	c.inWay(cuts)
	if len(c.found) > before {
		return nil
	}
	return cuts
}

// needed gives the steps that a cut of a board cannot go without.
func (u *usedBoard) needed(s *sawn) (steps []int) {
	for i := range u.sawn {
		o := &u.sawn[i]
		if o.step < s.step && (o.unit == s.unit || o.near == s.hand || o.far == s.hand) {
			steps = append(steps, o.step)
		}
	}
	return steps
}

// inWay judges that the order goes the way that it is said to go.
func (c *checker) inWay(cuts []orderedCut) {
	begun := map[string]bool{}
	for i := range cuts {
		where := fmt.Sprintf("order.csv: line %d", i+2)
		same := i > 0 && cuts[i-1].board == cuts[i].board
		switch {
		case c.plan.Work.Order == model.LeastTime && i > 0 && cuts[i].pass < cuts[i-1].pass:
			c.say(where, "pass %d comes after pass %d: the order of least time goes pass by pass",
				cuts[i].pass, cuts[i-1].pass)
			return
		case c.plan.Work.Order == model.LeastClutter && begun[cuts[i].board.id] && !same:
			c.say(where, "board %s comes up again: the order of least clutter finishes one board "+
				"after the other", cuts[i].board.id)
			return
		}
		begun[cuts[i].board.id] = true
	}
}

// takes counts what an order takes.
func (c *checker) takes(cuts []orderedCut) (w model.WayOfWork) {
	type wood struct {
		material string
		section  model.Section
		setting  model.Length
	}
	stands := map[string]wood{} // by saw
	last := map[string]int{}    // row of the last cut of a commission
	for i, cut := range cuts {
		at := wood{cut.board.board.Material, cut.board.board.Section, cut.setting}
		if cut.setting > 0 && stands[cut.saw] != at {
			stands[cut.saw] = at
			w.Settings++
		}
		if i == 0 || cuts[i-1].board != cut.board || cuts[i-1].unit != cut.unit {
			w.Lifts++
		}
		for _, l := range cut.board.pieces {
			last[l.Commission] = i
		}
	}
	open := map[string]bool{}
	for i, cut := range cuts {
		for _, l := range cut.board.pieces {
			open[l.Commission] = true
		}
		w.Open = max(w.Open, len(open))
		for _, l := range cut.board.pieces {
			if last[l.Commission] == i {
				delete(open, l.Commission)
			}
		}
	}
	return w
}
