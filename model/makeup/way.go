package makeup

import (
	"cmp"
	"math/big"
	"slices"

	"rackwright/model"
)

// Way is one way to make up a part of alike pieces: of staves, of layers, of both, or as one of
// several in one blank.
type Way struct {
	Part    *model.Part
	Piece   model.Part  // to be entered: sizes, section, and Qty for all copies that are wanted
	Blank   model.Blank // of a piece
	Pieces  int64       // that make Copies of the part
	Copies  int64       // above 1 in a gang
	Length  model.Sum   // of a piece
	Across  Fill        // staves
	Through Fill        // layers
	Wood    model.Wood  // as one of the boards is
	Woods   model.Woods // that give a piece
	Price   *Price      // of Pieces; nil where no yard sells them
}

// Fill is how pieces beside or on each other come to a size of the part. Times 1: it is not made up
// in this direction, and nothing else is said.
type Fill struct {
	Times int64
	Net   model.Length // what each adds
	Need  model.Sum    // what Times x Net must come to
	Blank model.Sum    // size of a blank: net, joints and allowances
}

// Gives is what the pieces come to.
func (f *Fill) Gives() model.Length { return model.Length(f.Times) * f.Net }

// Price is what wood costs, by one row of the yard.
type Price struct {
	Offer  *model.Offer
	Beside int64 // as many pieces share the width of a board; 0: they take what they are wide
	Cost   model.Money
}

// Sets is how many times Pieces are cut for all copies that are wanted.
func (w *Way) Sets() int64 { return (w.Part.Qty + w.Copies - 1) / w.Copies }

// All is what the wood of all copies costs; only of a way with a price.
func (w *Way) All() model.Money { return times(w.Price.Cost, w.Sets()) }

// times is n times an amount, [model.MaxMoney] at most.
func times(cost model.Money, n int64) model.Money {
	all := big.NewInt(int64(cost))
	if all.Mul(all, big.NewInt(n)); all.Cmp(big.NewInt(int64(model.MaxMoney))) > 0 {
		return model.MaxMoney
	}
	return model.Money(all.Int64())
}

// maker looks for ways to make up one part.
type maker struct {
	job    *model.Job
	part   *model.Part
	stocks []stock
}

// stock is boards alike in section, surface and thickness.
type stock struct {
	model.Wood // of the first of them
	boards     []*model.Board
	runs       []int // where boards begin that differ from the one before
	offers     []*model.Offer
}

// makerOf looks through the wood that a part may come from, in input order.
func makerOf(job *model.Job, p *model.Part) *maker {
	m := &maker{job: job, part: p}
	for i := range job.Rack {
		if s := m.stock(&job.Rack[i].Wood); s != nil {
			b := &job.Rack[i]
			if k := len(s.boards); k == 0 || p.Board != "" || !same(s.boards[k-1], b) {
				s.runs = append(s.runs, k)
			}
			s.boards = append(s.boards, b)
		}
	}
	for i := range job.Yard {
		o := &job.Yard[i]
		if n := job.ForSale(o); n != nil && *n == 0 {
			continue
		}
		if s := m.stock(&o.Wood); s != nil {
			s.offers = append(s.offers, o)
		}
	}
	return m
}

// stock finds the stock of a wood; nil where the part may not come from it.
func (m *maker) stock(w *model.Wood) *stock {
	if w.Material != m.part.Material || m.part.Section != "" && m.part.Section != w.Section {
		return nil
	}
	n := slices.IndexFunc(m.stocks, func(s stock) bool {
		return s.Section == w.Section && s.Surface == w.Surface && s.Thickness == w.Thickness
	})
	if n < 0 {
		n, m.stocks = len(m.stocks), append(m.stocks, stock{Wood: *w})
	}
	return &m.stocks[n]
}

// piece is a part that is cut from a stock, of the sizes of the part itself.
func (m *maker) piece(s *stock) model.Part {
	q := *m.part
	q.Section, q.Copies, q.Of, q.Makes = s.Section, nil, 0, nil
	q.Staves, q.Layers, q.InOne, q.Spare = 0, 0, 0, 0
	return q
}

// give says which boards of a stock give a piece.
func (m *maker) give(s *stock, q *model.Part) (w model.Woods) {
	for n, first := range s.runs {
		last := len(s.boards)
		if n+1 < len(s.runs) {
			last = s.runs[n+1]
		}
		b := s.boards[first]
		if ok, _ := m.job.Holds(q, b, model.FromRack); ok && m.job.HasRun(q, b, model.FromRack) {
			w.Rack = append(w.Rack, s.boards[first:last]...)
		}
	}
	for _, o := range s.offers {
		if ok, _ := m.job.Holds(q, &model.Board{Wood: o.Wood}, model.FromYard); ok {
			w.Yard = append(w.Yard, o)
		}
	}
	return w
}

// same says whether two boards give the same pieces, as those of one row do that have no defects.
func same(a, b *model.Board) bool {
	return a.Wood == b.Wood && a.For == b.For && a.Untouched == b.Untouched &&
		a.Longest == b.Longest && a.Bought == b.Bought && len(a.Defects)+len(b.Defects) == 0
}

// stave makes a piece one of several that are glued edge to edge.
func (m *maker) stave(q *model.Part, net model.Length) {
	p := m.part
	q.Makes = &model.Makes{Part: p.Name, Length: p.Length, Width: p.Width, Thickness: p.Thickness,
		InOne: 1, Net: net}
}

// way is a way that takes so many pieces for copies of the part; false where no board gives one, or
// where all copies would take too many.
func (m *maker) way(s *stock, q model.Part, pieces, copies int64) (Way, bool) {
	w := Way{Part: m.part, Piece: q, Blank: m.job.BlankIn(&q, &s.Wood), Pieces: pieces,
		Copies: copies, Across: Fill{Times: 1}, Through: Fill{Times: 1}, Wood: s.Wood,
		Woods: m.give(s, &q)}
	if w.Piece.Qty = w.Sets() * pieces; w.Piece.Qty > model.MostCopies {
		return w, false
	}
	w.Price = m.price(&q, w.Woods.Yard, pieces)
	return w, len(w.Woods.Rack)+len(w.Woods.Yard) > 0
}

// price is that of pieces by the offer that is cheapest for them. A piece has its length and a kerf
// of a board, of whose width Beside pieces take a share each, where they may be ripped off it.
//
//	cost = floor( pieces x price of a board x (blank + kerf) / (length of the board x beside) )
func (m *maker) price(q *model.Part, offers []*model.Offer, pieces int64) (best *Price) {
	rip := m.job.Settings.RipKerf
	for _, o := range offers {
		b, beside := m.job.BlankIn(q, &o.Wood), int64(1)
		if safe := m.job.Settings.SafetyFor(o.Material, o.Section); !q.Whole(&o.Wood) &&
			b.Width >= safe.NarrowestRip {
			beside = max(1, int64((o.Width-2*m.job.Inset(&o.Wood)+rip)/(b.Width+rip)))
		}
		cost := m.cost(o, []int64{pieces, int64(b.Length + m.job.Settings.CrosscutKerf)},
			[]int64{int64(o.Length), beside})
		if best == nil || cost < best.Cost {
			best = &Price{o, beside, cost}
		}
	}
	return best
}

// cost is what one board of an offer costs, times nums, by dens; rounded down.
func (m *maker) cost(o *model.Offer, nums, dens []int64) model.Money {
	num, den := big.NewInt(int64(m.job.PaidFor(o))), big.NewInt(1)
	for _, n := range nums {
		num.Mul(num, big.NewInt(n))
	}
	for _, d := range dens {
		den.Mul(den, big.NewInt(d))
	}
	if num.Quo(num, den); num.Cmp(big.NewInt(int64(model.MaxMoney))) > 0 {
		return model.MaxMoney
	}
	return model.Money(num.Int64())
}

// sorted are ways by what all copies cost, those without a price last; then by fewer pieces. What
// differs in the thickness of its boards only is one way.
func sorted(ways []Way) (out []Way) {
	for _, w := range ways {
		n := slices.IndexFunc(out, func(o Way) bool {
			return o.Wood.Section == w.Wood.Section && o.Wood.Surface == w.Wood.Surface &&
				o.Pieces == w.Pieces && o.Copies == w.Copies && o.Blank == w.Blank &&
				o.Through.Times == w.Through.Times
		})
		if n < 0 {
			out = append(out, w)
			continue
		}
		o := &out[n]
		o.Woods.Rack = append(o.Woods.Rack, w.Woods.Rack...)
		o.Woods.Yard = append(o.Woods.Yard, w.Woods.Yard...)
		if o.Price == nil || w.Price != nil && w.Price.Cost < o.Price.Cost {
			o.Price = w.Price
		}
	}
	slices.SortStableFunc(out, func(a, b Way) int {
		return cmp.Or(compare(a.Price, a.Sets(), b.Price, b.Sets()),
			cmp.Compare(a.Pieces*a.Sets(), b.Pieces*b.Sets()))
	})
	return out
}

// compare sets what so many of each cost against each other.
func compare(a *Price, as int64, b *Price, bs int64) int {
	switch {
	case a == nil && b == nil:
		return 0
	case a == nil:
		return 1
	case b == nil:
		return -1
	}
	all := func(p *Price, n int64) *big.Int {
		c := big.NewInt(int64(p.Cost))
		return c.Mul(c, big.NewInt(n))
	}
	return all(a, as).Cmp(all(b, bs))
}

// step is what sizes to enter are rounded up to.
func (m *maker) step() model.Length {
	if m.job.Settings.Units == model.Millimetre {
		return model.UnitsPerMillimetre
	}
	return model.UnitsPerInch / 16
}

// share is a size by so many, rounded up: to the step, and as near as can be where that differs.
func (m *maker) share(of model.Length, n int64) []model.Length {
	exact := (of + model.Length(n) - 1) / model.Length(n)
	up := up(exact, m.step())
	if up == exact {
		return []model.Length{exact}
	}
	return []model.Length{up, exact}
}

// up rounds a length up to a multiple of step.
func up(l, step model.Length) model.Length { return (l + step - 1) / step * step }
