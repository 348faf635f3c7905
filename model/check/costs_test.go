package check

import (
	"fmt"
	"math/big"
	"math/rand/v2"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

// A total is dealt out by largest remainder; here parts are eighths.
func TestLargestRemainder(t *testing.T) {
	c := &checker{worth: &model.Valuation{Bits: 3}}
	third, half := big.NewRat(8*10, 3), big.NewRat(4, 1)
	for _, x := range []struct {
		what   string
		total  model.Money
		shares []*big.Rat
		want   []model.Money
	}{
		{"three thirds of 10: of equals the first", 10, []*big.Rat{third, third, third},
			[]model.Money{4, 3, 3}},
		{"10 over 2 : 3 : 3, that is 2.5, 3.75, 3.75", 10,
			[]*big.Rat{big.NewRat(20, 1), big.NewRat(30, 1), big.NewRat(30, 1)},
			[]model.Money{2, 4, 4}},
		{"nothing", 0, []*big.Rat{new(big.Rat), new(big.Rat)}, []model.Money{0, 0}},
		{"nobody", 0, nil, nil},
		{"half a unit that was rounded up", 1, []*big.Rat{new(big.Rat), half},
			[]model.Money{0, 1}},
		{"half a unit that was rounded down", 0, []*big.Rat{new(big.Rat), half},
			[]model.Money{0, 0}},
		{"a unit too many all over: 1, 2 1/8 and 3 are 7", 7,
			[]*big.Rat{big.NewRat(8, 1), big.NewRat(17, 1), big.NewRat(24, 1)},
			[]model.Money{1, 3, 3}},
		{"two too many: 1, 2 1/8 and 3 are 8", 8,
			[]*big.Rat{big.NewRat(8, 1), big.NewRat(17, 1), big.NewRat(24, 1)},
			[]model.Money{2, 3, 3}},
		{"a unit too few: 1, 2 1/8 and 3 are 5", 5,
			[]*big.Rat{big.NewRat(8, 1), big.NewRat(17, 1), big.NewRat(24, 1)},
			[]model.Money{0, 2, 3}},
		{"below 0: -1/8 is -1 and 7/8", 0, []*big.Rat{big.NewRat(-1, 1), big.NewRat(1, 1)},
			[]model.Money{0, 0}},
	} {
		if got := c.largestRemainder(x.total, x.shares); fmt.Sprint(got) != fmt.Sprint(x.want) {
			t.Errorf("%s: %v, want %v", x.what, got, x.want)
		}
	}
}

// dealtOut deals out a total in money by the words: the exact shares in money, each rounded down;
// then a unit for whoever is farthest below, or from whoever is farthest above.
func dealtOut(total model.Money, shares []*big.Rat) []int64 {
	out, left := make([]int64, len(shares)), int64(total)
	for i, s := range shares {
		out[i] = floorOf(s)
		left -= out[i]
	}
	for ; left != 0; left -= sign(left) {
		farthest, at := new(big.Rat), -1
		for i, s := range shares {
			off := new(big.Rat).Sub(s, big.NewRat(out[i], 1))
			if left < 0 {
				off.Neg(off)
			}
			if at < 0 || off.Cmp(farthest) > 0 {
				farthest, at = off, i
			}
		}
		out[at] += sign(left)
	}
	return out
}

func sign(n int64) int64 {
	if n < 0 {
		return -1
	}
	return 1
}

// floorOf rounds down, below 0 too.
func floorOf(r *big.Rat) int64 {
	q, m := new(big.Int).DivMod(r.Num(), r.Denom(), new(big.Int))
	if m.Sign() < 0 {
		panic("the rest is below 0")
	}
	return q.Int64()
}

// halfUp rounds to the nearest, halves up.
func halfUp(r *big.Rat) int64 { return floorOf(new(big.Rat).Add(r, big.NewRat(1, 2))) }

// Whatever the boards cost and whose pieces lie on them: the costs as the words have them are
// accepted, and nothing else is. They sum up to the value, and no amount but a credit is a whole
// unit off its exact share. The sums of rack, ripping and value are in fractions, so each is
// rounded by up to a half. The credit makes up for all: it may be 1 off, and 3/2 where rips cost
// something.
func TestCostsOfRandomPlans(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 62))
	var above, below, half int
	for n := range 3000 {
		job, commissions := &model.Job{}, 1+r.IntN(5)
		s := &job.Settings
		s.Units, s.CrosscutKerf, s.RipKerf = model.Inch, model.Length(r.IntN(4)),
			model.Length(r.IntN(4))
		for k := range commissions {
			job.Commissions = append(job.Commissions, model.Commission{Name: fmt.Sprint("C", k)})
		}
		c := newChecker(job, &model.Plan{})
		c.worth = &model.Valuation{Bits: handmade.Pick[uint](r, 0, 1, 2, 10, 30)}
		unit := int64(1) << c.worth.Bits
		var sums [columns]*big.Rat
		shares := [columns][]*big.Rat{}
		for k := range shares {
			sums[k] = new(big.Rat)
			for range commissions {
				shares[k] = append(shares[k], new(big.Rat))
			}
		}
		for b := range 1 + r.IntN(4) {
			u := &usedBoard{id: fmt.Sprint("B", b), offer: -1, board: &model.Board{Wood: model.Wood{
				Section: "4/4", Length: 100, Width: 50, Thickness: 9}}}
			if r.IntN(2) == 0 {
				u.down = handmade.Pick(r, model.CrosscutFirst, model.RipFirst)
			}
			u.net = netCost{handling: r.Int64N(9) * unit, credit: r.Int64N(50 * unit)}
			if n%2 == 0 {
				u.net.ripping = r.Int64N(9 * unit)
			}
			if r.IntN(2) == 0 {
				u.net.yard = r.Int64N(100) * unit
			} else {
				u.net.rack = r.Int64N(100 * unit)
			}
			weights, all := []int64{}, int64(0)
			for range 1 + r.IntN(4) {
				x, y := model.Length(r.IntN(50)), model.Length(r.IntN(25))
				cut := &model.Cut{Commission: fmt.Sprint("C", r.IntN(commissions)), From: x,
					To: x + 1 + model.Length(r.IntN(50)), Left: y,
					Right: y + 1 + model.Length(r.IntN(25))}
				u.pieces = append(u.pieces, laidPiece{0, cut})
				w := int64(cut.To - cut.From + s.CrosscutKerf)
				if u.down != model.NotRipped {
					w *= int64(cut.Right - cut.Left + s.RipKerf)
				}
				weights, all = append(weights, w), all+w
			}
			c.boards = append(c.boards, u)
			for k, amount := range []int64{yardColumn: u.net.yard, rackColumn: u.net.rack,
				handlingColumn: u.net.handling, rippingColumn: u.net.ripping,
				creditColumn: u.net.credit} {
				money := big.NewRat(amount, unit)
				sums[k].Add(sums[k], money)
				for i, p := range u.pieces {
					whose := int(p.Commission[1] - '0')
					part := new(big.Rat).Mul(money, big.NewRat(weights[i], all))
					shares[k][whose].Add(shares[k][whose], part)
				}
			}
		}
		exact := new(big.Rat).Add(sums[yardColumn], sums[rackColumn])
		exact.Add(exact, sums[handlingColumn]).Add(exact, sums[rippingColumn])
		exact.Sub(exact, sums[creditColumn])
		value := model.Money(halfUp(exact))
		yard, handling := model.Money(halfUp(sums[yardColumn])),
			model.Money(halfUp(sums[handlingColumn]))
		rack, ripping := model.Money(halfUp(sums[rackColumn])),
			model.Money(halfUp(sums[rippingColumn]))
		totals := [columns]model.Money{yardColumn: yard, rackColumn: rack,
			handlingColumn: handling, rippingColumn: ripping,
			creditColumn: yard + rack + handling + ripping - value}
		bills, _ := c.bills()
		c.plan.Value = value
		c.plan.Costs = make([]model.Cost, commissions)
		var sum model.Money
		for k, total := range totals {
			for i, given := range dealtOut(total, shares[k]) {
				off := new(big.Rat).Sub(big.NewRat(given, 1), shares[k][i])
				size, near := new(big.Rat).Abs(off), false
				switch whole := big.NewRat(1, 1); {
				case k != creditColumn:
					near = size.Cmp(whole) < 0
				case sums[rippingColumn].Sign() > 0:
					near = size.Cmp(big.NewRat(3, 2)) <= 0
				default:
					near = size.Cmp(whole) < 0 || off.Cmp(whole) == 0
				}
				switch {
				case !near:
					t.Fatalf("%d: column %d, row %d has %d of %v", n, k, i, given, shares[k][i])
				case off.Sign() > 0:
					above++
				case off.Sign() < 0:
					below++
				}
				row := &c.plan.Costs[i]
				*[]*model.Money{yardColumn: &row.Yard, rackColumn: &row.Rack,
					handlingColumn: &row.Handling, rippingColumn: &row.Ripping,
					creditColumn: &row.Credit}[k] = model.Money(given)
			}
		}
		for i := range c.plan.Costs {
			row := &c.plan.Costs[i]
			row.Commission = job.Commissions[i].Name
			row.Cost = row.Yard + row.Rack + row.Handling + row.Ripping - row.Credit
			row.Tally = bills[i].wood.Millionths(model.Inch)
			sum += row.Cost
		}
		if sum != value {
			t.Fatalf("%d: the rows sum to %d, the value is %d", n, sum, value)
		}
		if new(big.Rat).Sub(new(big.Rat).SetInt64(int64(value)), exact).Cmp(big.NewRat(1, 2)) == 0 {
			half++
		}
		if c.costs(); len(c.found) > 0 {
			t.Fatalf("%d: %v\n%+v", n, c.found, c.plan.Costs)
		}
		row := &c.plan.Costs[r.IntN(commissions)]
		*handmade.Pick(r, &row.Cost, &row.Yard, &row.Rack, &row.Handling, &row.Ripping,
			&row.Credit,
			&c.plan.Value) += handmade.Pick[model.Money](r, -1, 1)
		if c.costs(); len(c.found) == 0 {
			t.Fatalf("%d: an amount that is a unit off is accepted: %+v", n, c.plan)
		}
	}
	if above < 1000 || below < 1000 || half < 100 {
		t.Errorf("%d amounts above their share, %d below it, %d values at a half: too few", above,
			below, half)
	}
}

// What each board of the tiny plan costs, to the last tick: price or worth, with handling of 5,
// less what its offcut is worth. R1 keeps 19 of its length. The offcut of R2 keeps 9 of 29; 900 x
// 2^34 is 10932750.04 times 29 x 48768. That of B2 keeps 46.
func TestNetCostsAreExact(t *testing.T) {
	const wide = 6 * int64(model.UnitsPerInch)
	ticks := handmade.TinyTicks
	reading, found := Check(handmade.Tiny())
	want := []int64{19*wide*handmade.TinySlope + ticks(5), ticks(905) - 9*wide*10932750,
		ticks(1005), ticks(2105) - 46*wide*handmade.TinySlope}
	if len(found) > 0 || len(reading.Boards) != len(want) {
		t.Fatalf("%d boards: %v", len(reading.Boards), found)
	}
	for i, b := range reading.Boards {
		if b.Net != want[i] {
			t.Errorf("board %d costs %d ticks, want %d", i, b.Net, want[i])
		}
	}
}

// A strip carries its worth to the rack, and so does any offcut of a board with a value of its own;
// no other offcut does.
func TestWhatOffcutsCarryToTheRack(t *testing.T) {
	const s = handmade.Sixteenth
	for _, c := range []struct {
		what  string
		share model.Fraction // that a strip keeps
		own   *model.Money
		width model.Length // of the offcut, in sixteenths of 88
		want  *model.Money
	}{
		// 2000 for 400 x 88, half of it is 1000 / 35200 a cell, of 120 x 44 or 120 x 88
		{"a strip at all its worth: 150", model.Fraction{Num: 1, Den: 1}, nil, 44,
			new(model.Money(150))},
		{"a strip at 3/5 of it", model.Fraction{Num: 3, Den: 5}, nil, 44, new(model.Money(90))},
		{"a strip at nothing", model.Fraction{Num: 0, Den: 1}, nil, 44, new(model.Money(0))},
		{"all the width", model.Fraction{Num: 3, Den: 5}, nil, 88, nil},
		// 900 for a board that keeps 320 x 88: 900 x 120 x 44 / 28160 = 168.75
		{"a strip of a board with a value", model.Fraction{Num: 1, Den: 1}, new(model.Money(900)),
			44, new(model.Money(169))},
		{"3/5 of that: 101.25", model.Fraction{Num: 3, Den: 5}, new(model.Money(900)), 44,
			new(model.Money(101))},
		{"all the width of one: 337.5", model.Fraction{Num: 3, Den: 5}, new(model.Money(900)), 88,
			new(model.Money(337))}, // its slope, rounded down, is just below the half
	} {
		job, _ := handmade.Ripped()
		job.Settings.Offcut.StripValue = c.share
		job.Rack[0].Value, job.Rack[0].Defects = c.own, nil
		k := newChecker(job, &model.Plan{})
		u := &usedBoard{id: "R1", origin: model.FromRack, board: &job.Rack[0], offer: -1}
		got := k.offcut(u, &model.Cut{Kind: model.KindOffcut, To: 200 * s,
			Left: (88 - c.width) * s, Right: 88 * s}).Value
		if (got == nil) != (c.want == nil) || got != nil && *got != *c.want {
			t.Errorf("%s: %v, want %v", c.what, shown(got), shown(c.want))
		}
	}
}

// shown is money that may be missing.
func shown(m *model.Money) any {
	if m == nil {
		return "none"
	}
	return int64(*m)
}
