// Package rough prices stocks for which tables would be too large: those with very many items, or
// with measures that share too little.
//
// A [Pricer] finds patterns by one greedy look at the items, those first that are dearest for their
// area. It vouches for nothing: [ByArea] bounds what the stock gives, and so does the exact pricer
// of the stock on a coarser grid ([OnGrid]).
package rough

import (
	"cmp"
	"math/bits"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// Most is more than any stock gives that can be reckoned with.
const Most = 1 << 62

// ByArea is no less than what one stock gives at some duals. Let it be L long and W wide, with
// kerfs k along and r across.
//
//	room    L + k without Across; else (L + k) (W + r)
//	taken   of a piece l + k; else (l + k) (w + r), w = W where it is not sawn to its width
//	slope   the most that a unit of length, or of area, of an offcut is worth
//
//	ByArea = the most of  floor of dual x room / taken   over the items that fit along
//	                      slope x room
//
// Each piece takes what it covers with the kerfs behind and beside it, no two take the same, and
// all of it lies in the room. Offcuts lie in what is left. So the stock gives a sum of shares of
// the room, each at one of these rates; rips only cost. Where no item fits along it is the worth of
// the bare stock without spots. Past Most it is Most.
func ByArea(p *cutting.Problem, stock int, duals []int64) int64 {
	s := &p.Stocks[stock]
	long := s.To - s.From
	if long <= 0 {
		return 0
	}
	room, slope, bare := uint64(long+p.Kerf), s.Slope, long
	if a := s.Across; a != nil {
		room *= uint64(a.Width + p.Rip)
		slope, bare = max(slope, a.Strip), bare*a.Width
	}
	best, fits := uint64(0), false
	for _, i := range s.Holds {
		if p.Items[i].Size > long {
			continue
		}
		fits = true
		if hi, lo := bits.Mul64(uint64(duals[i]), room); hi != 0 || lo > best {
			taken := uint64(Taken(p, stock, i))
			if hi >= taken {
				return Most
			}
			v, _ := bits.Div64(hi, lo, taken)
			best = max(best, v)
		}
	}
	if !fits {
		return slope * bare
	}
	hi, lo := bits.Mul64(uint64(slope), room)
	if best = max(best, lo); hi != 0 || best > Most {
		return Most
	}
	return int64(best)
}

// Taken is what a piece of an item takes of a stock: length, or area with Across; kerfs included.
func Taken(p *cutting.Problem, stock, item int) int64 {
	it, s := &p.Items[item], &p.Stocks[stock]
	if !s.Rippable() {
		return it.Size + p.Kerf
	}
	width := s.Across.Width
	if p.MaySaw(s, item) {
		width = it.Width
	}
	return (it.Size + p.Kerf) * (width + p.Rip)
}

// Pricer prices one stock.
type Pricer struct {
	p     *cutting.Problem
	meter *price.Meter
	stock int
	taken []float64 // by index of Holds
	order []int     // of the last pricing
	best  *cutting.Pattern
}

// NewPricer makes one that counts its work on the meter.
func NewPricer(p *cutting.Problem, stock int, meter *price.Meter) *Pricer {
	r := &Pricer{p: p, meter: meter, stock: stock}
	for _, i := range p.Stocks[stock].Holds {
		r.taken = append(r.taken, float64(Taken(p, stock, i)))
	}
	return r
}

// Bare is what the stock is worth without a piece.
func (r *Pricer) Bare() int64 { return r.p.Worth(&cutting.Pattern{Stock: r.stock}) }

// Traits: Price misses much.
func (r *Pricer) Traits() price.Traits { return price.Traits{Quick: true} }

// Price gives the value of a pattern within the copies wanted.
func (r *Pricer) Price(a *price.Ask) int64 {
	r.rank(a.Duals)
	if r.best = r.fill(a.Demand); r.best == nil {
		return r.Bare()
	}
	value := r.best.Worth
	for _, pl := range r.best.Places {
		value += a.Duals[pl.Item]
	}
	return value
}

// Vouch vouches for nothing.
func (r *Pricer) Vouch(*price.Ask, int64) (int64, bool) { return 0, false }

// Walk gives the pattern of the last pricing, or a greedy one within the copies allowed. It has no
// openers.
func (r *Pricer) Walk(allowed []int64, opener int) *cutting.Pattern {
	switch {
	case opener >= 0:
		return nil
	case allowed == nil:
		return r.best
	}
	return r.fill(allowed)
}

// Fill gives a pattern of what is left, longest first, and takes it from there.
func (r *Pricer) Fill(left []int64, _ price.Asker) *cutting.Pattern {
	r.meter.Add(int64(len(r.taken)))
	return r.p.Greedy(r.stock, left)
}

// List has no answer.
func (r *Pricer) List(*price.Listing, int64, int64) (*price.List, bool) { return nil, false }

// rank puts the items in order, dearest for their area first.
func (r *Pricer) rank(duals []int64) {
	holds := r.p.Stocks[r.stock].Holds
	rate := make(map[int]float64, len(holds))
	r.order = r.order[:0]
	for n, i := range holds {
		if duals[i] > 0 {
			rate[i] = float64(duals[i]) / max(1, r.taken[n])
			r.order = append(r.order, i)
		}
	}
	slices.SortFunc(r.order, func(a, b int) int {
		return cmp.Or(cmp.Compare(rate[b], rate[a]), cmp.Compare(a, b))
	})
	r.meter.Add(8 * int64(len(r.order)))
}

// fill fills the stock within the copies allowed.
func (r *Pricer) fill(allowed []int64) *cutting.Pattern {
	left := slices.Clone(allowed)
	r.meter.Add(int64(len(r.order) * (1 + len(r.p.Stocks[r.stock].Spots))))
	return r.p.GreedyBy(r.stock, r.order, left)
}
