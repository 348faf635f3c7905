package nest

import (
	"encoding/binary"
	"slices"

	"rackwright/nest/cutting"
)

// choice is a plan of a group: single uses, and for each layout which of them it is, or -1.
type choice struct {
	uses  []cutting.Use
	kept  []int
	value int64
	cost  int64 // what is minimised
	unmet []int64
}

// choice is a plan of some uses, in which layouts that stand are kept where that counts less.
func (k *keeping) choice(uses []cutting.Use) choice {
	var c choice
	for _, u := range uses {
		t := k.p.Normal(u.Pattern)
		t.Worth = k.p.Worth(&t)
		for range u.Times {
			c.uses = append(c.uses, cutting.Use{Pattern: t, Times: 1})
		}
	}
	c.kept = matched(k.p, k.laid, c.uses)
	k.exchange(&c)
	c.value = k.p.Value(c.uses)
	c.cost = c.value
	c.unmet = make([]int64, len(k.p.Items))
	for i := range c.unmet {
		c.unmet[i] = k.p.Items[i].Demand
	}
	for _, u := range c.uses {
		for _, pl := range u.Pattern.Places {
			c.unmet[pl.Item]--
		}
	}
	for _, of := range c.kept {
		if of >= 0 {
			c.cost -= k.change
		}
	}
	return c
}

// exchange puts layouts that stand in the place of uses with the same pieces: of the same stock, or
// of another where one of theirs is free. It takes the dearest use of those that may go.
func (k *keeping) exchange(c *choice) {
	left, free := make([]int64, len(k.p.Stocks)), map[int]bool{}
	for s := range left {
		left[s] = k.p.Stocks[s].Supply
	}
	for n, u := range c.uses {
		free[n] = true
		if left[u.Pattern.Stock] != cutting.Any {
			left[u.Pattern.Stock]--
		}
	}
	for _, of := range c.kept {
		delete(free, of)
	}
	with := map[string][]int{} // the uses that hold the same pieces
	for n := range c.uses {
		if free[n] {
			key := tallyOf(&c.uses[n].Pattern)
			with[key] = append(with[key], n)
		}
	}
	for n := range k.laid {
		if c.kept[n] >= 0 {
			continue
		}
		l, at := &k.laid[n].pattern, -1
		for _, i := range with[tallyOf(l)] {
			t := &c.uses[i].Pattern
			if free[i] && (t.Stock == l.Stock || left[l.Stock] != 0) &&
				k.p.Cost(l)-k.p.Cost(t) <= k.change &&
				(at < 0 || k.p.Cost(t) > k.p.Cost(&c.uses[at].Pattern)) {
				at = i
			}
		}
		if at < 0 {
			continue
		}
		if was := c.uses[at].Pattern.Stock; left[was] != cutting.Any {
			left[was]++
		}
		if left[l.Stock] != cutting.Any {
			left[l.Stock]--
		}
		c.uses[at].Pattern, c.kept[n] = *l, at
		delete(free, at)
	}
}

// tallyOf is the same for two patterns with the same pieces.
func tallyOf(t *cutting.Pattern) string {
	var key []byte
	items, counts := cutting.Tally(t.Places)
	for n := range items {
		key = binary.AppendVarint(binary.AppendVarint(key, int64(items[n])), counts[n])
	}
	return string(key)
}

// residual is what some uses leave of a program. What is not wanted any more no stock holds, and no
// more does a stock that is used up.
func residual(p *cutting.Problem, uses []cutting.Use) *cutting.Problem {
	left := *p
	left.Items, left.Stocks = slices.Clone(p.Items), slices.Clone(p.Stocks)
	for _, u := range uses {
		for _, pl := range u.Pattern.Places {
			left.Items[pl.Item].Demand -= u.Times
		}
		if s := &left.Stocks[u.Pattern.Stock]; s.Supply != cutting.Any {
			s.Supply -= u.Times
		}
	}
	for n := range left.Stocks {
		s := &left.Stocks[n]
		s.Holds = slices.DeleteFunc(slices.Clone(s.Holds), func(i int) bool {
			return s.Supply == 0 || left.Items[i].Demand <= 0
		})
	}
	return &left
}
