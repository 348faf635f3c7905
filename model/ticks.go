package model

import (
	"iter"
	"maps"
	"math/big"
	"slices"
)

// What worth is reckoned in: units of length and ticks of money (worth.go).
//
// U is what all lengths of the job share, so that all cells are whole. F is as large as lets solver
// and checker reckon in 64 bits:
//
//	2^F x max(2^14, copies wanted) x what the dearest board costs  is at most  2^60
//
// with handling, and with three rips as long as the longest board, as no copy has more. What
// a spare copy may cost counts as a board does.
//
// So a slope is true to some 10^-7 in a shop of round measures, and 10^-3 where they share nothing.

// noPlaces are lengths that are no part of any place on a board, so that they need not be multiples
// of the unit. What parts are made up of is entered as parts.
var noPlaces = []string{"allowance.thickness", "allowance.thickness_s2s", "allowance.plane_limit",
	"safety.shortest_blank", "safety.shortest_rip", "count.tolerance", "glue_up.joint",
	"glue_up.face_joint", "glue_up.panel", "glue_up.narrowest", "glue_up.widest", "glue_up.step",
	"glue_up.extra_length", "gang.longest", "machine.jointer_width", "machine.planer_width",
	"machine.planer_shortest"}

// unit is the greatest length that all lengths of the job are multiples of which are part of some
// place on a board: sizes along and across, and what is cut off or kept clear.
func (j *Job) unit() Length {
	var all int64
	add := func(lengths ...Length) {
		for _, l := range lengths {
			all = gcd(all, int64(max(l, -l)))
		}
	}
	for _, l := range j.Settings.Lengths() {
		if !slices.Contains(noPlaces, l.Key) {
			add(*l.Value)
		}
	}
	for _, overrides := range []iter.Seq[Override]{maps.Values(j.Settings.Materials),
		maps.Values(j.Settings.Sections)} {
		for o := range overrides {
			for _, l := range o.Lengths() {
				if *l.Value != nil && !slices.Contains(noPlaces, l.Key) {
					add(**l.Value)
				}
			}
		}
	}
	for i := range j.Rack {
		b := &j.Rack[i]
		add(b.Length, b.Width)
		for _, d := range b.Defects {
			add(d.From, d.To, d.Left, d.Right)
		}
	}
	for i := range j.Yard {
		add(j.Yard[i].Length, j.Yard[i].Width)
	}
	for _, parts := range [][]Part{j.Parts, j.Pieces} {
		for i := range parts {
			add(parts[i].Length, parts[i].Width)
		}
	}
	return max(1, Length(all))
}

const (
	mostTicks  = 60 // what all boards of a plan cost takes no more bits
	fewestBits = 14 // of the copies wanted: one board may give as many at the dearest's price
)

// bits is F.
func (v *Valuation) bits() uint {
	dearest, copies := Money(1), int64(1)<<fewestBits
	for i := range v.job.Yard {
		if n := v.job.ForSale(&v.job.Yard[i]); n == nil || *n > 0 {
			dearest = max(dearest, v.job.PaidFor(&v.job.Yard[i]))
		}
	}
	for i := range v.job.Rack {
		dearest = max(dearest, v.atMost(&v.job.Rack[i]))
	}
	var wanted int64
	for _, parts := range [][]Part{v.job.Parts, v.job.Pieces} {
		for i := range parts {
			if wanted += parts[i].Qty + parts[i].Spare; parts[i].Spare > 0 {
				dearest = max(dearest, v.job.Settings.SpareAtMost)
			}
		}
	}
	total := big.NewInt(int64(dearest + v.job.Settings.Handling))
	total.Add(total, v.dearestRips())
	total.Mul(total, big.NewInt(max(copies, wanted)))
	return uint(max(0, mostTicks-total.BitLen()))
}

// dearestRips is what the rips of one copy cost at most: one at either side and one that trims it,
// each as long as the longest board. It is rounded up.
func (v *Valuation) dearestRips() *big.Int {
	if v.job.Settings.Ripping == 0 {
		return new(big.Int)
	}
	var longest Length
	for i := range v.job.Yard {
		longest = max(longest, v.job.Yard[i].Length)
	}
	for i := range v.job.Rack {
		longest = max(longest, v.job.Rack[i].Length)
	}
	per, _ := v.job.Settings.Units.YardUnit()
	cost := big.NewInt(3 * int64(longest))
	cost.Mul(cost, big.NewInt(int64(v.job.Settings.Ripping)))
	cost.Quo(cost, big.NewInt(int64(per)))
	return cost.Add(cost, big.NewInt(1))
}

// ripping is what a rip of one unit costs, in ticks.
//
//	ripping = floor( 2^F x money per length x U )
func (v *Valuation) ripping() int64 {
	per, _ := v.job.Settings.Units.YardUnit()
	ticks := big.NewInt(int64(v.job.Settings.Ripping))
	ticks.Mul(ticks.Lsh(ticks, v.Bits), big.NewInt(int64(v.Unit)))
	return ticks.Quo(ticks, big.NewInt(int64(per))).Int64()
}

// RipCost is what rips that are so long in all cost, in ticks.
func (v *Valuation) RipCost(l Length) int64 { return v.Rip * int64(l/v.Unit) }

// Ticks is money in ticks.
func (v *Valuation) Ticks(m Money) int64 { return int64(m) << v.Bits }

// Shown is an amount in ticks rounded for showing: to the nearest 1/10000, halves up. So of two
// amounts the greater never shows less.
func (v *Valuation) Shown(ticks *big.Int) Money {
	twice := new(big.Int).Lsh(ticks, 1)
	twice.Add(twice, new(big.Int).Lsh(big.NewInt(1), v.Bits))
	return Money(twice.Rsh(twice, v.Bits+1).Int64()) // Rsh rounds down
}

// ShownTicks is one amount, rounded as [Valuation.Shown] does.
func (v *Valuation) ShownTicks(ticks int64) Money { return v.Shown(big.NewInt(ticks)) }
