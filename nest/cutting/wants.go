package cutting

import "slices"

// Want is something of which so many copies are wanted, and which is made of pieces in one of
// several ways. The pieces are copies of items, beside those that the items are wanted for
// themselves.
type Want struct {
	Demand int64
	Size   int64 // length of a copy, by which it counts where supply is short
	Forgo  int64 // ticks of money that a copy costs which is not made; Any: all have to be
	Ways   []Way
	Covers []Cover
}

// Way makes Copies of so many pieces of an item.
type Way struct {
	Item           int
	Pieces, Copies int64
}

// Cover makes a copy of staves, in each of its layers: as many as come to Need, or to more.
type Cover struct {
	Need, Layers int64
	Staves       []Stave // by their widths
}

// Stave is a piece that counts so many steps.
type Stave struct {
	Item  int
	Steps int64
}

// Chosen says how the copies of a want come about.
type Chosen struct {
	Times  []int64   // by way, how many times it is used
	Covers []Covered // by copy
}

// Covered is a copy that is made by a cover: of how many staves of each width, in one layer.
type Covered struct {
	Cover  int
	Counts []int64
}

// Made is how many copies come about, at most as many as are wanted.
func (c *Chosen) Made(w *Want) int64 {
	n := int64(len(c.Covers))
	for at, times := range c.Times {
		n += times * w.Ways[at].Copies
	}
	return min(n, w.Demand)
}

// Forgone is what the copies cost that are not made.
func (p *Problem) Forgone(chosen []Chosen) (cost int64) {
	for j := range chosen {
		if w := &p.Wants[j]; w.Forgo != Any {
			cost += w.Forgo * (w.Demand - chosen[j].Made(w))
		}
	}
	return cost
}

// Direct is the program without its wants.
func (p *Problem) Direct() *Problem {
	out := *p
	out.Wants = nil
	return &out
}

// Fixed is the program in which the pieces are wanted that were chosen. Stocks do not hold what is
// not.
func (p *Problem) Fixed(chosen []Chosen) *Problem {
	out := p.Direct()
	out.Items, out.Stocks = append([]Item{}, p.Items...), append([]Stock{}, p.Stocks...)
	for j := range chosen {
		w := &p.Wants[j]
		for at, times := range chosen[j].Times {
			out.Items[w.Ways[at].Item].Demand += times * w.Ways[at].Pieces
		}
		for _, c := range chosen[j].Covers {
			v := &w.Covers[c.Cover]
			for at, n := range c.Counts {
				out.Items[v.Staves[at].Item].Demand += n * v.Layers
			}
		}
	}
	for s := range out.Stocks {
		st := &out.Stocks[s]
		st.Holds = slices.DeleteFunc(slices.Clone(st.Holds), func(i int) bool {
			return out.Items[i].Demand == 0
		})
	}
	return out
}

// Compact is a program without the items that are not wanted; at says which index each of its items
// has in this one.
func (p *Problem) Compact() (out *Problem, at []int) {
	out = p.Direct()
	out.Items, out.Stocks = nil, append([]Stock{}, p.Stocks...)
	index := make([]int, len(p.Items))
	for i := range p.Items {
		if index[i] = -1; p.Items[i].Demand > 0 {
			index[i], at = len(at), append(at, i)
			out.Items = append(out.Items, p.Items[i])
		}
	}
	those := func(items []int) (some []int) {
		for _, i := range items {
			if index[i] >= 0 {
				some = append(some, index[i])
			}
		}
		return some
	}
	for s := range out.Stocks {
		st := &out.Stocks[s]
		st.Holds = those(st.Holds)
		if st.Across != nil {
			a := *st.Across
			a.Whole = those(a.Whole)
			st.Across = &a
		}
	}
	return out, at
}

// Useful is by item how many copies a plan may have a use for, at the most.
func (p *Problem) Useful() []int64 {
	out := make([]int64, len(p.Items))
	for i := range p.Items {
		out[i] = p.Items[i].Demand
	}
	for j := range p.Wants {
		w := &p.Wants[j]
		for _, way := range w.Ways {
			out[way.Item] += way.Pieces * ((w.Demand + way.Copies - 1) / way.Copies)
		}
		for _, c := range w.Covers {
			for _, s := range c.Staves {
				out[s.Item] += (c.Need + s.Steps - 1) / s.Steps * c.Layers * w.Demand
			}
		}
	}
	return out
}
