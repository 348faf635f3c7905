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
	if way == "" {
		way = model.LeastTime
	}
	time := s.leastTime()
	clutter, exact := s.leastClutter(ctx, time)
	ways := []model.WayOfWork{s.measure(time), s.measure(clutter)}
	ways[0].Way, ways[1].Way, ways[1].Exact = model.LeastTime, model.LeastClutter, exact
	plan.Work = model.Work{Order: way, Ways: ways}
	plan.Order = s.rows(time)
	if way == model.LeastClutter {
		plan.Order = s.rows(clutter)
	}
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

// leastTime goes pass by pass.
func (s *shop) leastTime() (all []cut) {
	for n := range s.units {
		for k := range s.units[n].Cuts {
			all = append(all, cut{n, k})
		}
	}
	slices.SortStableFunc(all, func(a, b cut) int {
		return cmp.Compare(s.pass(a.unit), s.pass(b.unit))
	})
	return all
}

func (s *shop) pass(unit int) int { return s.units[unit].Cuts[0].Pass }
