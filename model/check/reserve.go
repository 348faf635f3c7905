package check

import (
	"cmp"
	"slices"

	"rackwright/model"
)

// The reserve, made again from the cuts. Of each kind of wood that boards are bought of,
//
//	L   the length of the bought boards in all
//	e   how much more it takes until the usable share suffices: [model.Settings.ReserveFor] of L
//
// boards of that kind stand by until their length is e. Only offers count that hold every part cut
// from bought boards of the kind. While no board left is as long as what is missing, one more of
// the offer cheapest per length is taken; then the cheapest board that is long enough. Prices
// include tax, and of equals the first in yard.csv is taken. Where all of that does not suffice the
// reserve stays short.

// reserve is how many boards of each offer are to stand by; count is how many are bought for use.
func (c *checker) reserve(count []int64) []int64 {
	cut := map[model.WoodKind]map[int]bool{} // the parts that bought boards of a kind give
	for _, u := range c.boards {
		if u.offer < 0 {
			continue
		}
		k := u.board.Kind()
		if cut[k] == nil {
			cut[k] = map[int]bool{}
		}
		for _, l := range u.pieces {
			cut[k][l.part] = true
		}
	}
	extra := make([]int64, len(count))
	for k, parts := range cut { // in any order: no kind touches the offers of another
		var bought model.Length
		var spare []int // offers that hold every part, cheapest per length first
		for i := range c.job.Yard {
			o := &c.job.Yard[i]
			if o.Kind() != k {
				continue
			}
			bought += model.Length(count[i]) * o.Length
			if c.holdsAll(o, parts) {
				spare = append(spare, i)
			}
		}
		slices.SortStableFunc(spare, func(a, b int) int {
			x, y := &c.job.Yard[a], &c.job.Yard[b]
			return cmp.Compare(int64(c.job.PaidFor(x))*int64(y.Length),
				int64(c.job.PaidFor(y))*int64(x.Length))
		})
		c.standBy(spare, c.job.Settings.ReserveFor(k.Material, bought), count, extra)
	}
	return extra
}

func (c *checker) holdsAll(o *model.Offer, parts map[int]bool) bool {
	for p := range parts {
		if held, _ := c.job.Holds(&c.job.Parts[p], &model.Board{Wood: o.Wood},
			model.FromYard); !held {
			return false
		}
	}
	return true
}

// standBy adds boards of the offers, in their order, until one board covers what is missing, then
// the cheapest that does.
func (c *checker) standBy(spare []int, missing model.Length, count, extra []int64) {
	left := func(i int) int64 {
		if n := c.job.ForSale(&c.job.Yard[i]); n != nil {
			return max(0, *n-count[i])
		}
		return model.MostReserve
	}
	for ; len(spare) > 0 && missing > 0; spare = spare[1:] {
		cheapest, longest := spare[0], model.Length(0)
		for _, i := range spare {
			if left(i) > 0 {
				longest = max(longest, c.job.Yard[i].Length)
			}
		}
		n := int64(0) // of the cheapest, before one board will do
		if l := c.job.Yard[cheapest].Length; missing > longest {
			n = min(left(cheapest), int64((missing-longest+l-1)/l))
		}
		extra[cheapest] += n
		if missing -= model.Length(n) * c.job.Yard[cheapest].Length; missing > longest {
			continue
		}
		last := -1
		for _, i := range spare {
			enough := left(i)-extra[i] > 0 && c.job.Yard[i].Length >= missing
			if enough && (last < 0 ||
				c.job.PaidFor(&c.job.Yard[i]) < c.job.PaidFor(&c.job.Yard[last]) ||
				c.job.PaidFor(&c.job.Yard[i]) == c.job.PaidFor(&c.job.Yard[last]) && i < last) {
				last = i
			}
		}
		if last >= 0 {
			extra[last]++
			return
		}
	}
}
