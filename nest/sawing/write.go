package sawing

import (
	"cmp"
	"context"
	"slices"

	"rackwright/model"
	"rackwright/nest/cutlist"
)

// Write fills Order and Work of a plan. The units are those of its boards. Both ways of working
// are worked out, and Order follows the one that is named, least time if none is.
func Write(ctx context.Context, job *model.Job, plan *model.Plan, units []cutlist.Unit,
	way model.Way) {
	s := newShop(job, plan, units)
	time := s.leastTime(ctx)
	clutter, exact := s.leastClutter(ctx, time)
	s.fill(plan, time, clutter, exact)
	if way == model.LeastClutter {
		plan.Work.Order, plan.Order = way, s.rows(clutter)
	}
}

// Plain fills them as well, at once: the boards in both orders come as they stand in the plan.
func Plain(job *model.Job, plan *model.Plan, units []cutlist.Unit) {
	s := newShop(job, plan, units)
	var passes []cut
	for n := range units {
		for k := range units[n].Cuts {
			passes = append(passes, cut{n, k})
		}
	}
	slices.SortStableFunc(passes, func(a, b cut) int {
		return cmp.Compare(s.pass(a.unit), s.pass(b.unit))
	})
	s.fill(plan, passes, s.boardByBoard(s.sawnBoards(passes)), false)
}

// fill writes down what both orders take, and that of least time. An order is known to be the one
// of fewest commissions open where no more are open than have blanks of one board.
func (s *shop) fill(plan *model.Plan, time, clutter []cut, exact bool) {
	ways, least := []model.WayOfWork{s.measure(time), s.measure(clutter)}, 0
	for b, whose := range s.whose {
		if len(s.unitsOf[b]) > 0 {
			least = max(least, len(whose))
		}
	}
	ways[0].Way, ways[1].Way = model.LeastTime, model.LeastClutter
	ways[1].Exact = exact || ways[1].Open == least
	plan.Work = model.Work{Order: model.LeastTime, Ways: ways}
	plan.Order = s.rows(time)
}

// cut is one cut: an index of the units, and one of the cuts of that unit.
type cut struct{ unit, at int }

// shop is what is to be sawn.
type shop struct {
	job     *model.Job
	units   []cutlist.Unit
	wood    []wood  // by board
	whose   [][]int // by board, the commissions that have a blank of it
	unitsOf [][]int // by board
	parties int     // how many commissions there are
	due     []int64 // by commission its rank, who is due first the lowest
}

// wood is what a setting of a saw holds for, besides its length.
type wood struct {
	material string
	section  model.Section
}

func newShop(job *model.Job, plan *model.Plan, units []cutlist.Unit) *shop {
	s := &shop{job: job, units: units}
	number := map[string]int{}
	var due []string
	for i := range job.Commissions {
		due = append(due, job.Commissions[i].Due)
		number[job.Commissions[i].Name] = i
	}
	woods := map[string]wood{}
	for i := range plan.Cuts {
		c := &plan.Cuts[i]
		woods[c.Board] = wood{c.Material, c.Section}
	}
	for i := range plan.Placements {
		p := &plan.Placements[i]
		s.wood = append(s.wood, woods[p.Board])
		var whose []int
		for _, piece := range p.Pieces {
			if n := number[piece.Commission]; !slices.Contains(whose, n) {
				whose = append(whose, n)
			}
		}
		s.whose = append(s.whose, whose)
	}
	s.unitsOf = make([][]int, len(plan.Placements))
	for n := range units {
		s.unitsOf[units[n].Board] = append(s.unitsOf[units[n].Board], n)
	}
	s.parties = len(job.Commissions)
	s.due = byDue(due)
	return s
}

// rows writes an order down.
func (s *shop) rows(order []cut) (out []model.Sawing) {
	for n, c := range order {
		row := s.units[c.unit].Cuts[c.at]
		row.Sequence = n + 1
		out = append(out, row)
	}
	return out
}

func (s *shop) pass(unit int) int { return s.units[unit].Cuts[0].Pass }
