package cutlist

import (
	"cmp"
	"math/bits"
	"slices"

	"rackwright/model"
)

// bills divide what each board costs, and what its offcuts are credited with, among the commissions
// of its pieces. A piece bears a share of its board by its length, a kerf with it; where the board
// is ripped, by its area, a kerf with it both ways.
type bills struct {
	job  *model.Job
	rows []model.Cost
	wood []model.Volume // of the blanks, by commission
	at   map[string]int // of a commission, in rows
}

func newBills(job *model.Job) *bills {
	s := &bills{job: job, at: map[string]int{}}
	for i, c := range job.Commissions {
		s.at[c.Name] = i
		s.rows = append(s.rows, model.Cost{Commission: c.Name})
	}
	s.wood = make([]model.Volume, len(s.rows))
	return s
}

// costs are the bills of all commissions. The tally of each is rounded once, so that small pieces
// lose nothing.
func (s *bills) costs() []model.Cost {
	for i := range s.rows {
		s.rows[i].Tally = s.wood[i].Millionths(s.job.Settings.Units)
	}
	return s.rows
}

// share bills one board; credit is what its offcuts are worth.
func (s *bills) share(b *Board, credit model.Money) {
	pieces := slices.Clone(b.Pieces)
	slices.SortFunc(pieces, func(x, y Piece) int {
		return cmp.Or(cmp.Compare(x.Part, y.Part), cmp.Compare(x.Copy, y.Copy))
	})
	weights := make([]int64, len(pieces))
	for n, p := range pieces {
		weights[n] = int64(p.To - p.From + s.job.Settings.CrosscutKerf)
		if b.First != model.NotRipped {
			weights[n] *= int64(p.Right - p.Left + s.job.Settings.RipKerf)
		}
	}
	yard, rack := split(0, weights), split(b.Cost, weights)
	if b.Offer != nil {
		yard, rack = rack, yard
	}
	handling, credits := split(s.job.Settings.Handling, weights), split(credit, weights)
	for n, p := range pieces {
		at := s.at[s.job.Parts[p.Part].Commission]
		row := &s.rows[at]
		row.Yard += yard[n]
		row.Rack += rack[n]
		row.Handling += handling[n]
		row.Credit += credits[n]
		row.Cost += yard[n] + rack[n] + handling[n] - credits[n]
		s.wood[at].Add(b.VolumeAcross(p.To-p.From, p.Right-p.Left, s.job.Settings.Units))
	}
}

// split shares an amount by weight, rounded down; what is left over goes by one unit to the largest
// fractions, earlier pieces first.
func split(amount model.Money, weights []int64) []model.Money {
	var total uint64
	for _, w := range weights {
		total += uint64(w)
	}
	out, fractions := make([]model.Money, len(weights)), make([]uint64, len(weights))
	left := amount
	for n, w := range weights {
		hi, lo := bits.Mul64(uint64(amount), uint64(w))
		q, r := bits.Div64(hi, lo, total)
		out[n], fractions[n] = model.Money(q), r
		left -= model.Money(q)
	}
	order := make([]int, len(weights))
	for n := range order {
		order[n] = n
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(fractions[b], fractions[a])
	})
	for _, n := range order[:left] {
		out[n]++
	}
	return out
}
