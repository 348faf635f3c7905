package cuts

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Sum is what a split is about. Of whole plans it is a whole number: how many boards of some stocks
// are used that have at least so many copies of some items, or how many copies of an item boards of
// some stocks have.
type Sum struct {
	Stocks []int    // distinct, ascending
	Having []Having // items ascend
	Item   int      // AllItems: boards are counted
}

// Having asks for so many copies of an item on a board, or more.
type Having struct {
	Item   int
	Copies int64
}

// Side is a side of a split by a sum: it is at most so much, or it is more.
type Side struct {
	Sum
	AtMost int64
	High   bool
}

// AllItems stands for no item.
const AllItems = -1

// of gives the number of an entry in the sum; on says which stocks are counted.
func (s *Sum) of(on []bool, e *Entry) int64 {
	if !on[e.Stock] {
		return 0
	}
	for _, h := range s.Having {
		if e.copies(h.Item) < h.Copies {
			return 0
		}
	}
	if s.Item == AllItems {
		return 1
	}
	return e.copies(s.Item)
}

// copies is how many copies of an item an entry has.
func (e *Entry) copies(item int) int64 {
	if at, has := slices.BinarySearch(e.Items, int32(item)); has {
		return int64(e.Counts[at])
	}
	return 0
}

// on marks the stocks that a sum counts.
func (s *Sum) on(stocks int) []bool {
	out := make([]bool, stocks)
	for _, n := range s.Stocks {
		out[n] = true
	}
	return out
}

// side is the row of a side of a split: the sum is at most so much, or it is more.
func (n *node) side(s *Sum, atMost int64, high bool) *inequality {
	out := &inequality{make([]int32, len(n.list)), -atMost}
	sign := int64(-1)
	if high {
		out.least, sign = atMost+1, 1
	}
	on := s.on(len(n.Most))
	for j, e := range n.list {
		out.coefs[j] = int32(sign * s.of(on, e))
	}
	n.Meter.Add(int64(2 * len(n.list)))
	return out
}

// candidate is a sum that is not whole in a relaxation, and its value there.
type candidate struct {
	sum   Sum
	value float64
}

// away is how far the value is from whole.
func (c *candidate) away() float64 { return math.Abs(c.value - math.Round(c.value)) }

// Which sums are tried, of each kind those farthest from whole.
const (
	mostUses   = 4 // of a stock
	mostCopies = 3 // of an item on a stock, or on all that are bought
	mostHaving = 6 // of boards that have some copies of an item, or of two
)

// candidates gives sums to branch on that are not whole: all boards that are bought, or that are
// not; those of a stock; copies of an item on those bought, and on a stock.
func (n *node) candidates() (out []candidate) {
	stocks, items := len(n.Most), len(n.Demand)
	uses, copies := make([]float64, stocks), make([]float64, (stocks+1)*items)
	bought := func(s int) bool { return n.Most[s] < 0 }
	var kinds [2][]int // stocks that are bought, and others
	for s := range n.Most {
		if bought(s) {
			kinds[0] = append(kinds[0], s)
		} else if n.Most[s] > 0 {
			kinds[1] = append(kinds[1], s)
		}
	}
	for j, x := range n.values {
		if x < 1e-9 {
			continue
		}
		e := n.list[j]
		uses[e.Stock] += x
		for at, i := range e.Items {
			v := x * float64(e.Counts[at])
			copies[e.Stock*items+int(i)] += v
			if bought(e.Stock) {
				copies[stocks*items+int(i)] += v
			}
		}
	}
	for _, kind := range kinds {
		sum := 0.0
		for _, s := range kind {
			sum += uses[s]
		}
		if len(kind) > 1 {
			out = append(out, farthest([]candidate{{Sum{Stocks: kind, Item: AllItems}, sum}}, 1)...)
		}
	}
	var ofStock, onStock, onBought []candidate
	for s, v := range uses {
		ofStock = append(ofStock, candidate{Sum{Stocks: []int{s}, Item: AllItems}, v})
		for i := range items {
			onStock = append(onStock, candidate{Sum{Stocks: []int{s}, Item: i}, copies[s*items+i]})
		}
	}
	if len(kinds[0]) > 1 {
		for i := range items {
			onBought = append(onBought, candidate{Sum{Stocks: kinds[0], Item: i},
				copies[stocks*items+i]})
		}
	}
	n.Meter.Add(int64(stocks * items))
	out = slices.Concat(out, farthest(ofStock, mostUses), farthest(onBought, mostCopies),
		farthest(onStock, mostCopies))
	for most := 1; len(out) == 0 && most <= 2; most++ {
		out = farthest(n.havings(most), mostHaving)
	}
	return out
}

// havings gives, for the patterns in use, the boards of their stock that have as many copies of so
// many of their items, or more.
func (n *node) havings(items int) (out []candidate) {
	byStock := make([][]int, len(n.Most))
	for j, x := range n.values {
		if x > 1e-9 {
			byStock[n.list[j].Stock] = append(byStock[n.list[j].Stock], j)
		}
	}
	met := map[string]bool{}
	for s, used := range byStock {
		if len(used) < 2 {
			continue
		}
		on := make([]bool, len(n.Most))
		on[s] = true
		try := func(of []Having) {
			sum := Sum{Stocks: []int{s}, Having: of, Item: AllItems}
			key := fmt.Sprint(sum)
			if met[key] {
				return
			}
			met[key] = true
			v := 0.0
			for _, j := range used {
				v += n.values[j] * float64(sum.of(on, n.list[j]))
			}
			out = append(out, candidate{sum, v})
			n.Meter.Add(int64(8 * len(used)))
		}
		for _, j := range used {
			e := n.list[j]
			for at, i := range e.Items {
				one := Having{int(i), int64(e.Counts[at])}
				if items == 1 {
					try([]Having{one})
					continue
				}
				for more := at + 1; more < len(e.Items); more++ {
					try([]Having{one, {int(e.Items[more]), int64(e.Counts[more])}})
				}
			}
		}
	}
	return out
}

// farthest gives up to so many candidates that are not whole, those farthest from it.
func farthest(of []candidate, most int) []candidate {
	of = slices.DeleteFunc(of, func(c candidate) bool {
		return c.away() < fractional || c.value > MostCoef/2
	})
	slices.SortStableFunc(of, func(a, b candidate) int { return cmp.Compare(b.away(), a.away()) })
	return of[:min(len(of), most)]
}
