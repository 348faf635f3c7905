package nest

import (
	"cmp"
	"math/bits"
	"slices"

	"rackwright/model"
)

// rows writes down what a set of boards and their pieces mean: the cuts, what to buy, the rack
// after, setups and costs.
func (d *decoder) rows(boards []*used, date string) *model.Plan {
	p := &model.Plan{Date: date}
	gone := map[string]bool{}
	var offcuts []model.Board
	shares := newShares(d.job)
	for _, u := range boards {
		gone[u.ID] = true
		cuts := d.tile(u)
		p.Cuts = append(p.Cuts, cuts...)
		p.Placements = append(p.Placements, placement(u))
		var credit model.Money
		bad := d.job.WidenedRects(&u.Board, nil)
		for _, c := range cuts {
			if c.Kind == model.KindOffcut {
				worth := d.worth.WorthOfRect(u.rate, &u.Wood,
					model.Rect{From: c.From, To: c.To, Left: c.Left, Right: c.Right}, bad)
				credit += worth
				offcuts = append(offcuts, offcut(u, c, worth, date))
			}
		}
		shares.board(u, credit)
	}
	for i := range d.job.Rack {
		if !gone[d.job.Rack[i].ID] {
			p.Rack = append(p.Rack, d.job.Rack[i])
		}
	}
	p.Rack = append(p.Rack, offcuts...)
	p.Buy = purchases(d.job, boards)
	p.Setups = setups(boards)
	p.Costs = shares.costs
	for i := range p.Costs {
		// once, so that small pieces lose nothing
		p.Costs[i].Tally = shares.wood[i].Millionths(d.job.Settings.Units)
		p.Value += p.Costs[i].Cost
	}
	return p
}

func placement(u *used) model.Placement {
	pl := model.Placement{Board: u.ID, First: u.first}
	if u.offer != nil {
		pl.Offer = u.offer.Where.Line
	}
	for _, c := range u.pieces {
		p := model.Piece{Commission: c.part.Commission, Part: c.part.Name, Copy: c.copy,
			From: c.From, To: c.To}
		if u.first != model.NotRipped {
			p.Left, p.Right = c.Left, c.Right
		}
		pl.Pieces = append(pl.Pieces, p)
	}
	return pl
}

// offcut is what a cut puts back on the rack: as wide as it is, with the defects that lie in it,
// measured from its own end and edge.
func offcut(u *used, c model.Cut, worth model.Money, date string) model.Board {
	b := model.Board{ID: c.Offcut, Wood: u.Wood, Bin: u.Bin, Since: date, For: u.For}
	b.Length, b.Width = c.To-c.From, c.Right-c.Left
	if u.Longest < b.Length { // else it can give no longer one anyway
		b.Longest = u.Longest
	}
	if u.Value != nil {
		b.Value = &worth
	}
	for _, f := range u.Defects {
		if f.From < c.To && f.To > c.From && f.Left < c.Right && f.Right > c.Left {
			f.From, f.To = max(f.From, c.From)-c.From, min(f.To, c.To)-c.From
			f.Left, f.Right = max(f.Left, c.Left)-c.Left, min(f.Right, c.Right)-c.Left
			b.Defects = append(b.Defects, f)
		}
	}
	return b
}

// purchases are the boards to use, then those of the reserve, both in the order of the yard.
func purchases(job *model.Job, boards []*used) (out []model.Purchase) {
	yard := model.NewTallier(&job.Settings)
	use := make([]int64, len(job.Yard))
	for _, u := range boards {
		if u.offer != nil {
			use[u.order]++
		}
	}
	for n, qty := range [][]int64{use, reserve(job, boards)} {
		for i, q := range qty {
			if q == 0 {
				continue
			}
			o := &job.Yard[i]
			out = append(out, model.Purchase{
				Material: o.Material, Section: o.Section, Length: o.Length, Width: o.Width,
				Yard: o.Yard, Grade: o.Grade,
				Qty: q, Price: job.PriceOf(o), Total: model.Money(q) * job.PriceOf(o),
				Tax:   model.Money(q) * job.TaxOf(o),
				Tally: yard.Boards(&o.Wood, q).Millionths(job.Settings.Units), Reserve: n == 1,
			})
		}
	}
	return out
}

// shares divides what each board costs among the commissions of its pieces: by length, a kerf with
// each, or where the board is ripped by area.
type shares struct {
	job   *model.Job
	costs []model.Cost
	wood  []model.Volume // of the blanks, by commission
	at    map[string]int
}

func newShares(job *model.Job) *shares {
	s := &shares{job: job, at: map[string]int{}}
	for i, c := range job.Commissions {
		s.at[c.Name] = i
		s.costs = append(s.costs, model.Cost{Commission: c.Name})
	}
	s.wood = make([]model.Volume, len(s.costs))
	return s
}

func (s *shares) board(u *used, credit model.Money) {
	pieces := slices.Clone(u.pieces)
	slices.SortFunc(pieces, func(a, b piece) int {
		return cmp.Or(cmp.Compare(a.index, b.index), cmp.Compare(a.copy, b.copy))
	})
	weights := make([]int64, len(pieces))
	for n, p := range pieces {
		weights[n] = int64(p.To - p.From + s.job.Settings.CrosscutKerf)
		if u.first != model.NotRipped { // by area
			weights[n] *= int64(p.Right - p.Left + s.job.Settings.RipKerf)
		}
	}
	var yard, rack model.Money
	if u.offer != nil {
		yard = u.cost
	} else {
		rack = u.cost
	}
	y, r := split(yard, weights), split(rack, weights)
	h, c := split(s.job.Settings.Handling, weights), split(credit, weights)
	for n, p := range pieces {
		at := s.at[p.part.Commission]
		row := &s.costs[at]
		row.Yard += y[n]
		row.Rack += r[n]
		row.Handling += h[n]
		row.Credit += c[n]
		row.Cost += y[n] + r[n] + h[n] - c[n]
		s.wood[at].Add(u.VolumeAcross(p.To-p.From, p.Right-p.Left, s.job.Settings.Units))
	}
}

// split shares an amount by weight, rounded down; what is left over goes by one unit to the largest
// fractions, earlier pieces first.
func split(amount model.Money, weights []int64) []model.Money {
	var total uint64
	for _, w := range weights {
		total += uint64(w)
	}
	out, rest := make([]model.Money, len(weights)), make([]uint64, len(weights))
	left := amount
	for n, w := range weights {
		hi, lo := bits.Mul64(uint64(amount), uint64(w))
		q, m := bits.Div64(hi, lo, total)
		out[n], rest[n] = model.Money(q), m
		left -= model.Money(q)
	}
	order := make([]int, len(weights))
	for n := range order {
		order[n] = n
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rest[b], rest[a]) })
	for _, n := range order[:left] {
		out[n]++
	}
	return out
}
