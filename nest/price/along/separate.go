package along

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// Pricing of stocks whose pieces cannot trade clear wood: no held item tolerates any spot, no spot
// is narrower than the kerf. Then every clear run is filled from its start for itself, and
//
//	best = sum over runs R of max over T of h(T) + w(R - T),   T <= R + k, w = 0 from T = R on, not all T 0,
//
// where h(T) is the greatest sum of duals of pieces whose sizes + kerfs come to T, of each item at
// most its demand: a bounded knapsack, the same one for every run of every stock that holds the
// same items. With one run this is exact; with several, a bound that lets each run have all copies.
// Copies are split in powers of two, each power one layer of the knapsack.

// knapsack is h for one set of items, over multiples of a common step of size + kerf.
type knapsack struct {
	p     *cutting.Problem
	holds []int
	items []int // longest first
	step  int64
	h     []int64 // by T / step; -1: no set of pieces comes to T
	round int

	layers []layer
}

// layer is count copies of an item, and where taking them was better.
type layer struct {
	item  int
	count int64
	took  []uint64
}

func newKnapsack(p *cutting.Problem, items []int, longest int64) *knapsack {
	n := &knapsack{p: p, holds: items, items: slices.Clone(items), round: -1}
	cutting.SortBySize(p, n.items)
	slices.Reverse(n.items)
	for _, i := range items {
		n.step = price.GCD(n.step, p.Items[i].Size+p.Kerf)
	}
	n.step = max(1, n.step)
	n.h = make([]int64, (longest+p.Kerf)/n.step+1)
	return n
}

// fill makes h for one ask.
func (n *knapsack) fill(a *price.Ask) {
	if n.round == a.Round {
		return
	}
	n.round = a.Round
	for t := range n.h {
		n.h[t] = -1
	}
	n.h[0] = 0
	used := 0
	for _, i := range n.items {
		size := (n.p.Items[i].Size + n.p.Kerf) / n.step
		copies := min(a.Demand[i], int64(len(n.h)-1)/size)
		for c := int64(1); copies > 0; c *= 2 {
			c = min(c, copies)
			if used == len(n.layers) {
				n.layers = append(n.layers, layer{took: make([]uint64, len(n.h)/64+1)})
			}
			l := &n.layers[used]
			l.item, l.count = i, c
			n.layer(l, int(c*size), c*a.Duals[i])
			used++
			copies -= c
		}
	}
	n.layers = n.layers[:used]
}

func (n *knapsack) layer(l *layer, size int, value int64) {
	clear(l.took)
	for t := len(n.h) - 1; t >= size; t-- {
		if before := n.h[t-size]; before >= 0 && before+value > n.h[t] {
			n.h[t] = before + value
			l.took[t/64] |= 1 << (t % 64)
		}
	}
}

// pieces are the items that h(T) is made of, longest first.
func (n *knapsack) pieces(t int) (items []int) {
	for at := len(n.layers) - 1; at >= 0; at-- {
		l := &n.layers[at]
		if l.took[t/64]>>(t%64)&1 == 0 {
			continue
		}
		t -= int(l.count * (n.p.Items[l.item].Size + n.p.Kerf) / n.step)
		for range l.count {
			items = append(items, l.item)
		}
	}
	slices.Reverse(items)
	return items
}

func (n *knapsack) work() int64 { return int64(len(n.h)) * int64(2*len(n.items)) }

// Separate prices one stock by its clear Separate.
type Separate struct {
	p     *cutting.Problem
	m     *price.Meter
	index int
	s     *cutting.Stock
	clear []cutting.Span
	sack  *knapsack
	worth [][]int64 // of each run: w(R - T) by T / step, where that was worth keeping

	asked *price.Ask
	ends  []int // of each run, the T/step that is best
}

func newSeparate(p *cutting.Problem, index int, sack *knapsack, m *price.Meter) *Separate {
	r := &Separate{p: p, m: m, index: index, s: &p.Stocks[index], sack: sack}
	r.clear = r.s.ClearRuns()
	r.ends = make([]int, len(r.clear))
	const keep = 1 << 13
	for _, run := range r.clear {
		if w := []int64(nil); len(sack.h) <= keep {
			for t := int64(0); t*sack.step <= run.To-run.From; t++ {
				w = append(w, r.s.Rate.For(run.To-run.From-t*sack.step-r.s.Keep))
			}
			r.worth = append(r.worth, w)
		}
	}
	return r
}

func (r *Separate) Bare(scale int64) int64 {
	return r.p.Worth(&cutting.Pattern{Stock: r.index}) * scale
}

func (r *Separate) Traits() price.Traits { return price.Traits{Fine: 1, Lists: true} }

func (r *Separate) Fill(left []int64, _ price.Asker) *cutting.Pattern {
	return r.p.Greedy(r.index, left)
}

func (r *Separate) Vouch(a *price.Ask) int64 { return r.Price(a) }

func (r *Separate) Price(a *price.Ask) int64 {
	r.m.Add(int64(len(r.clear)+1) * int64(len(r.sack.h)))
	r.asked = a
	r.sack.fill(a)
	var sum int64
	used, least, at := false, int64(price.Never), 0
	for j := range r.clear {
		empty, v, t := r.run(j, 0)
		if v >= empty {
			used = true
			sum += v
			r.ends[j] = t
			continue
		}
		sum += empty
		r.ends[j] = 0
		if v-empty > least {
			least, at = v-empty, j
		}
	}
	if !used && least > price.Never/2 { // a piece must go somewhere: where it costs least
		_, _, r.ends[at] = r.run(at, 0)
		sum += least
	}
	return sum
}

// run gives, of one run of which the first taken units are used up already, the value of leaving it
// empty, the best value of pieces in it, and their T/step.
func (r *Separate) run(j int, taken int64) (empty, best int64, end int) {
	length := r.clear[j].To - r.clear[j].From - taken
	empty, best = r.s.Rate.For(length-r.s.Keep)*r.asked.Scale, price.Never
	last := (length + r.p.Kerf) / r.sack.step
	for t := 1; length+r.p.Kerf >= 0 && t < len(r.sack.h) && int64(t) <= last; t++ {
		v := r.sack.h[t]
		if v < 0 {
			continue
		}
		if taken == 0 && r.worth != nil {
			if t < len(r.worth[j]) {
				v += r.worth[j][t] * r.asked.Scale
			}
		} else {
			v += r.s.Rate.For(length-int64(t)*r.sack.step-r.s.Keep) * r.asked.Scale
		}
		if v > best {
			best, end = v, t
		}
	}
	return empty, best, end
}

func (r *Separate) Walk(room []int64, first int) *cutting.Pattern {
	left := slices.Clone(room)
	var places []cutting.Place
	for j, run := range r.clear {
		if room == nil { // each run may have all copies
			left = slices.Clone(r.asked.Demand)
		}
		at := run.From
		put := func(i int) {
			if size := r.p.Items[i].Size; at+size <= run.To && left[i] > 0 {
				places = append(places, cutting.Place{Item: i, At: at})
				at += size + r.p.Kerf
				left[i]--
			}
		}
		end := r.ends[j]
		if first >= 0 && r.p.Items[first].Size <= run.To-run.From {
			put(first)
			if empty, v, t := r.run(j, at-run.From); v > empty {
				end = t
			} else {
				end = 0
			}
			first = -1
		}
		for _, i := range r.sack.pieces(end) {
			put(i)
		}
	}
	return cutting.NewPattern(r.index, places)
}
