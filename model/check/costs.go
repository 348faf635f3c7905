package check

import (
	"fmt"
	"math/big"

	"rackwright/model"
)

// What each commission costs: the last of the books of a plan (books.go).

// netCost is what one board costs, for its pieces to share, in ticks.
type netCost struct{ yard, rack, handling, ripping, credit int64 }

// sum is yard, rack, handling and ripping, less the credit for offcuts.
func (n netCost) sum() int64 { return n.yard + n.rack + n.handling + n.ripping - n.credit }

// netCostOf works out what a board costs, from the job, its rips and its offcut rows.
func (c *checker) netCostOf(u *usedBoard) netCost {
	n := netCost{handling: c.worth.Ticks(c.job.Settings.Handling)}
	if u.offer >= 0 {
		n.yard = c.worth.Ticks(c.job.PaidFor(&c.job.Yard[u.offer]))
	} else {
		n.rack = c.worth.WorthOfBoard(u.board)
	}
	if u.ripped != nil {
		n.ripping = c.worth.RipCost(c.ripLength(u.ripped))
	}
	for i := range u.rows {
		if r := &u.rows[i]; r.Kind == model.KindOffcut && 0 <= r.From && r.From < r.To &&
			r.To <= u.board.Length {
			n.credit += c.credit(u, r)
		}
	}
	return n
}

// bill is what one commission bears of the boards that its pieces come from: of each column of
// costs.csv so many ticks, exactly.
type bill struct {
	columns [columns]*big.Rat
	wood    model.Volume
}

// The columns of a bill.
const (
	yardColumn = iota
	rackColumn
	handlingColumn
	rippingColumn
	creditColumn
	columns
)

// costs judges costs.csv, and that the whole is the plan's value.
func (c *checker) costs() {
	bills, value := c.bills()
	var want [columns][]model.Money
	totals := c.totals(bills, value)
	for k := range want {
		shares := make([]*big.Rat, len(bills))
		for i := range bills {
			shares[i] = bills[i].columns[k]
		}
		want[k] = c.largestRemainder(totals[k], shares)
	}
	if shown := c.worth.Shown(value); c.plan.Value != shown {
		c.say("plan.json: value", "is %v; the boards used, with handling and rips, "+
			"less their offcuts, cost %v",
			c.plan.Value, shown)
	}
	if len(c.plan.Costs) != len(bills) {
		c.say("costs.csv", "has %d rows for %d commissions", len(c.plan.Costs), len(bills))
	}
	for i := range min(len(bills), len(c.plan.Costs)) {
		g := &c.plan.Costs[i]
		yard, rack := want[yardColumn][i], want[rackColumn][i]
		handling, ripping := want[handlingColumn][i], want[rippingColumn][i]
		credit := want[creditColumn][i]
		c.fields(fmt.Sprintf("costs.csv: line %d", i+2), []field{
			{"commission", g.Commission, c.job.Commissions[i].Name},
			{"cost", g.Cost, yard + rack + handling + ripping - credit},
			{"yard_cost", g.Yard, yard}, {"rack_cost", g.Rack, rack},
			{"handling", g.Handling, handling}, {"ripping", g.Ripping, ripping},
			{"offcut_credit", g.Credit, credit},
			{"tally", tallied(g.Tally),
				tallied(bills[i].wood.Millionths(c.job.Settings.Units))},
		})
	}
}

// bills shares what each board costs among the commissions of its pieces, by length with a kerf, or
// by area with a kerf both ways where the board is ripped. It gives the sum of all boards, too.
func (c *checker) bills() ([]bill, *big.Int) {
	order := map[string]int{}
	out := make([]bill, len(c.job.Commissions))
	for i := range out {
		order[c.job.Commissions[i].Name] = i
	}
	shares := make([][columns][]*big.Rat, len(out))
	value := new(big.Int)
	for _, u := range c.boards {
		value.Add(value, big.NewInt(u.net.sum()))
		weights, all := make([]*big.Int, len(u.pieces)), new(big.Int)
		for i, l := range u.pieces {
			weights[i] = big.NewInt(int64(l.To - l.From + c.job.Settings.CrosscutKerf))
			if u.down != model.NotRipped { // an area
				weights[i].Mul(weights[i],
					big.NewInt(int64(l.Right-l.Left+c.job.Settings.RipKerf)))
			}
			all.Add(all, weights[i])
		}
		for i, l := range u.pieces {
			at, known := order[l.Commission]
			if !known || all.Sign() == 0 {
				// its part is in the job, so only a job that was not read from files comes here
				continue
			}
			for k, amount := range [columns]int64{yardColumn: u.net.yard, rackColumn: u.net.rack,
				handlingColumn: u.net.handling, rippingColumn: u.net.ripping,
				creditColumn: u.net.credit} {
				if amount != 0 {
					share := new(big.Rat).SetFrac(weights[i], all)
					share.Mul(share, new(big.Rat).SetInt64(amount))
					shares[at][k] = append(shares[at][k], share)
				}
			}
			out[at].wood.Add(
				u.board.VolumeAcross(l.To-l.From, l.Right-l.Left, c.job.Settings.Units))
		}
	}
	for i := range out {
		for k := range out[i].columns {
			out[i].columns[k] = sumOf(shares[i][k])
		}
	}
	return out, value
}

// sumOf adds up fractions, by halves: their denominators share little, so that each step of a
// running sum would be longer than the one before.
func sumOf(all []*big.Rat) *big.Rat {
	switch n := len(all); n {
	case 0:
		return new(big.Rat)
	case 1:
		return all[0]
	default:
		return new(big.Rat).Add(sumOf(all[:n/2]), sumOf(all[n/2:]))
	}
}

// totals are the sums of the columns in money. The credit makes up what the others come to more
// than the value.
func (c *checker) totals(bills []bill, value *big.Int) (out [columns]model.Money) {
	for k := range out {
		var shares []*big.Rat
		for i := range bills {
			shares = append(shares, bills[i].columns[k])
		}
		sum := sumOf(shares)
		out[k] = c.worth.Shown(new(big.Int).Quo(sum.Num(), sum.Denom()))
	}
	out[creditColumn] = out[yardColumn] + out[rackColumn] + out[handlingColumn] +
		out[rippingColumn] - c.worth.Shown(value)
	return out
}

// largestRemainder deals a total out by shares in ticks: each has its own rounded down. While that
// is not the total, a unit more goes to the share farthest above what it has, or a unit is taken
// from the one farthest below, of equals from the first.
func (c *checker) largestRemainder(total model.Money, shares []*big.Rat) []model.Money {
	unit := new(big.Int).Lsh(big.NewInt(1), c.worth.Bits)
	out, rest := make([]model.Money, len(shares)), make([]*big.Rat, len(shares)) // rest in ticks
	for i, s := range shares {
		ticks := new(big.Int).Div(s.Num(), s.Denom()) // rounded down
		whole := ticks.Rsh(ticks, c.worth.Bits)
		out[i] = model.Money(whole.Int64())
		total -= out[i]
		rest[i] = new(big.Rat).Sub(s, new(big.Rat).SetInt(whole.Mul(whole, unit)))
	}
	for step := model.Money(1); total != 0 && len(out) > 0; {
		if total < 0 {
			step = -1
		}
		best := 0
		for i := range rest {
			if rest[i].Cmp(rest[best])*int(step) > 0 {
				best = i
			}
		}
		out[best] += step
		total -= step
		rest[best].Sub(rest[best],
			new(big.Rat).SetInt(new(big.Int).Mul(unit, big.NewInt(int64(step)))))
	}
	return out
}
