package cutlist

import (
	"math/big"

	"rackwright/model"
)

// bills divide what each board costs, its rips with it, and what its offcuts are credited with,
// among the commissions of its pieces, exactly. A piece bears a share of its board by its length, a
// kerf with it; where the board is ripped, by its area, a kerf with it both ways.
type bills struct {
	job   *model.Job
	worth *model.Valuation
	rows  []bill
	at    map[string]int // of a commission, in rows
}

// bill is what one commission bears, in ticks.
type bill struct {
	yard, rack, handling, ripping, credit big.Rat
	wood                                  model.Volume // of the blanks
}

func newBills(job *model.Job, worth *model.Valuation) *bills {
	s := &bills{job: job, worth: worth, at: map[string]int{},
		rows: make([]bill, len(job.Commissions))}
	for i, c := range job.Commissions {
		s.at[c.Name] = i
	}
	return s
}

// share bills one board; credit is what its offcuts are worth, in ticks.
func (s *bills) share(b *Board, credit int64) {
	weights, total := map[int]*big.Int{}, new(big.Int) // by commission
	for _, p := range b.Pieces {
		weight := big.NewInt(int64(p.To - p.From + s.job.Settings.CrosscutKerf))
		if b.First != model.NotRipped {
			weight.Mul(weight, big.NewInt(int64(p.Right-p.Left+s.job.Settings.RipKerf)))
		}
		total.Add(total, weight)
		at := s.at[s.job.Parts[p.Part].Commission]
		if sum := weights[at]; sum != nil {
			weight.Add(weight, sum)
		}
		weights[at] = weight
		s.rows[at].wood.Add(b.VolumeAcross(p.To-p.From, p.Right-p.Left, s.job.Settings.Units))
	}
	handling, ripping := s.worth.Ticks(s.job.Settings.Handling), s.worth.RipCost(rips(s.job, b))
	for at, weight := range weights {
		row, part := &s.rows[at], new(big.Rat).SetFrac(weight, total)
		bear := func(column *big.Rat, ticks int64) {
			if ticks != 0 {
				column.Add(column, new(big.Rat).Mul(part, new(big.Rat).SetInt64(ticks)))
			}
		}
		if b.Offer != nil {
			bear(&row.yard, b.Cost)
		} else {
			bear(&row.rack, b.Cost)
		}
		bear(&row.handling, handling)
		bear(&row.ripping, ripping)
		bear(&row.credit, credit)
	}
}

// costs are the bills of all commissions in money, and the plan's value. Only sums are rounded: the
// value, what is paid, rack, handling and ripping; the credit is what is over. Each sum is dealt
// out to the commissions. The tally of each is rounded once, so that small pieces lose nothing.
func (s *bills) costs() (out []model.Cost, value model.Money) {
	out = make([]model.Cost, len(s.rows))
	net := new(big.Rat)
	sum := func(of func(*bill) *big.Rat) *big.Rat {
		all := new(big.Rat)
		for i := range s.rows {
			all.Add(all, of(&s.rows[i]))
		}
		net.Add(net, all)
		return all
	}
	shown := func(ticks *big.Rat) model.Money { return s.worth.Shown(ticks.Num()) }
	yard := shown(sum(func(b *bill) *big.Rat { return &b.yard }))
	rack := shown(sum(func(b *bill) *big.Rat { return &b.rack }))
	handling := shown(sum(func(b *bill) *big.Rat { return &b.handling }))
	ripping := shown(sum(func(b *bill) *big.Rat { return &b.ripping }))
	sum(func(b *bill) *big.Rat { return new(big.Rat).Neg(&b.credit) })
	value = shown(net)
	deal := func(total model.Money, of func(*bill) *big.Rat, to func(*model.Cost) *model.Money) {
		var shares []*big.Rat
		for i := range s.rows {
			shares = append(shares, new(big.Rat).Quo(of(&s.rows[i]),
				new(big.Rat).SetInt64(s.worth.Ticks(1))))
		}
		for i, m := range Deal(total, shares) {
			*to(&out[i]) = m
		}
	}
	deal(yard, func(b *bill) *big.Rat { return &b.yard },
		func(c *model.Cost) *model.Money { return &c.Yard })
	deal(rack, func(b *bill) *big.Rat { return &b.rack },
		func(c *model.Cost) *model.Money { return &c.Rack })
	deal(handling, func(b *bill) *big.Rat { return &b.handling },
		func(c *model.Cost) *model.Money { return &c.Handling })
	deal(ripping, func(b *bill) *big.Rat { return &b.ripping },
		func(c *model.Cost) *model.Money { return &c.Ripping })
	deal(yard+rack+handling+ripping-value, func(b *bill) *big.Rat { return &b.credit },
		func(c *model.Cost) *model.Money { return &c.Credit })
	for i := range out {
		c := &out[i]
		c.Commission = s.job.Commissions[i].Name
		c.Cost = c.Yard + c.Rack + c.Handling + c.Ripping - c.Credit
		c.Tally = s.rows[i].wood.Millionths(s.job.Settings.Units)
	}
	return out, value
}

// Deal shares a total out by largest remainder. Shares are in the same unit, exact. Each gets its
// share rounded down. A unit too few goes to the one that is then farthest below its share, a unit
// too many comes from the one farthest above; of equals it is the first.
func Deal(total model.Money, shares []*big.Rat) []model.Money {
	out, below := make([]model.Money, len(shares)), make([]*big.Rat, len(shares))
	left := total
	for n, v := range shares {
		whole := new(big.Int).Div(v.Num(), v.Denom()) // Euclid: rounds down, as Denom is above 0
		out[n] = model.Money(whole.Int64())
		left -= out[n]
		below[n] = new(big.Rat).Sub(v, new(big.Rat).SetInt(whole))
	}
	give := func(n int, units int64) {
		out[n] += model.Money(units)
		below[n].Sub(below[n], big.NewRat(units, 1))
		left -= model.Money(units)
	}
	for left != 0 && len(out) > 0 {
		at := 0
		for n := range below {
			if c := below[n].Cmp(below[at]); left > 0 && c > 0 || left < 0 && c < 0 {
				at = n
			}
		}
		if left > 0 {
			give(at, 1)
		} else {
			give(at, -1)
		}
	}
	return out
}
