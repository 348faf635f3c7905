package main

import (
	"slices"

	"rackwright/io/layout"
	"rackwright/model"
)

// The simple rules, and what an order takes, from the rows of a plan alone. What is in hand is told
// by where the cuts lie: a cut of what the last cut left is one of the same unit.

// sawing is one cut and the unit that it is made on.
type sawing struct {
	*model.Sawing
	unit int
	wood string
}

// shop are the cuts of a plan, board by board, in the order of their steps.
type shop struct {
	times model.WorkTimes
	cuts  []sawing
	units int
}

func newShop(job *model.Job, plan *model.Plan) *shop {
	type step struct {
		board string
		step  int
	}
	rows := map[step]*model.Sawing{}
	for i := range plan.Order {
		rows[step{plan.Order[i].Board, plan.Order[i].Step}] = &plan.Order[i]
	}
	s := &shop{times: job.Settings.Work, units: -1}
	for _, b := range layout.Boards(job, plan) {
		cuts, _ := b.Cuts()
		for n := range cuts {
			row := rows[step{b.ID, cuts[n].Step}]
			before := (*model.Sawing)(nil)
			if n > 0 {
				before = rows[step{b.ID, cuts[n-1].Step}]
			}
			if before == nil || before.Pass != row.Pass || cuts[n-1].Far != cuts[n].Piece {
				s.units++
			}
			if row != before { // else it shaves an edge first
				s.cuts = append(s.cuts, sawing{row, s.units,
					b.Rows[0].Material + " " + string(b.Rows[0].Section)})
			}
		}
	}
	return s
}

// takes counts settings, lifts and minutes.
func (s *shop) takes(order []sawing) (w model.WayOfWork) {
	type stand struct {
		wood   string
		length model.Length
	}
	stands := map[string]stand{}
	for n, c := range order {
		if at := (stand{c.wood, c.Setting}); c.Setting > 0 && stands[c.Saw] != at {
			stands[c.Saw] = at
			w.Settings++
		}
		if n == 0 || order[n-1].unit != c.unit {
			w.Lifts++
		}
	}
	w.Minutes = model.Minutes(w.Settings)*s.times.Setting + model.Minutes(w.Lifts)*s.times.Lift
	return w
}

func (s *shop) boardByBoard() []sawing { return s.cuts }

// longestFirst goes pass by pass and wood by wood, from the longest setting down, and cuts whatever
// can be cut at it; again and again, until all is cut.
func (s *shop) longestFirst() (order []sawing) {
	var woods []string
	last := 0
	for _, c := range s.cuts {
		if last = max(last, c.Pass); !slices.Contains(woods, c.wood) {
			woods = append(woods, c.wood)
		}
	}
	for pass := 1; pass <= last; pass++ {
		for _, wood := range woods {
			units, settings := map[int][]sawing{}, []model.Length{0}
			var in []int
			for _, c := range s.cuts {
				if c.Pass != pass || c.wood != wood {
					continue
				}
				if units[c.unit] == nil {
					in = append(in, c.unit)
				}
				units[c.unit] = append(units[c.unit], c)
				settings = append(settings, c.Setting)
			}
			slices.Sort(settings)
			settings = slices.Compact(settings)
			slices.Reverse(settings)
			order = append(order, sweep(in, units, settings)...)
		}
	}
	return order
}

// sweep cuts units at one setting after the other. What is cut at its mark goes along, or comes
// last.
func sweep(in []int, units map[int][]sawing, settings []model.Length) (order []sawing) {
	for again := true; again; {
		again = false
		for _, setting := range settings {
			for _, u := range in {
				n, meets := 0, false
				for n < len(units[u]) && (units[u][n].Setting == 0 || units[u][n].Setting == setting) {
					meets = meets || units[u][n].Setting == setting
					n++
				}
				if meets && (setting > 0 || n == len(units[u])) {
					order = append(order, units[u][:n]...)
					units[u] = units[u][n:]
					again = true
				}
			}
		}
	}
	return order
}
