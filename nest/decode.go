package nest

import (
	"cmp"
	"math"
	"slices"

	"rackwright/model"
	"rackwright/model/beside"
	"rackwright/nest/cutlist"
	"rackwright/nest/cutting"
	"rackwright/nest/sawing"
)

// decoder turns patterns into boards and pieces.
type decoder struct {
	job   *model.Job
	worth *model.Valuation
	whose []int  // for each part the first part of its commission
	prior *prior // nil: the plan takes the place of no other
	swaps int    // looked at to deal blanks to parts
}

func newDecoder(job *model.Job, worth *model.Valuation) *decoder {
	d := &decoder{job: job, worth: worth, swaps: dealWork}
	earliest := map[string]int{}
	for i := range job.Parts {
		c := job.Parts[i].Commission
		if _, seen := earliest[c]; !seen {
			earliest[c] = i
		}
		d.whose = append(d.whose, earliest[c])
	}
	return d
}

// write writes down what the patterns used for each group mean, and which copies are short besides
// those of parts that nothing holds. The cuts are in a plain order of work; the units are for a
// better one.
func (d *decoder) write(groups []*group, uses [][]cutting.Use, short []model.Shortage,
	date string) (*model.Plan, []cutlist.Unit) {
	cut, left := make([][]*cutlist.Board, len(groups)), make([][]model.Shortage, len(groups))
	beside.Each(len(groups), 0, func(n int) {
		cut[n], left[n] = d.boards(groups[n], d.prior.laidIn(n), uses[n])
	})
	boards := slices.Concat(cut...)
	short = slices.Concat(short, slices.Concat(left...))
	out, units := cutlist.Write(d.job, d.worth, boards, date, d.prior.given()...)
	sawing.Plain(d.job, out, units)
	out.Shortages = inOrder(d.job, short)
	out.Revision = d.prior.revision(out)
	return out, units
}

// layout is a board and how the engine lays it out.
type layout struct {
	*cutlist.Board
	places []cutting.Place
	copies []copyOf // of a board that keeps its layout, those of its places; else nil
	order  int      // of boards of one row, those of the plan before in their order; then others
}

// boards gives the boards that a solution of a group uses, those of the rack first, in its order,
// then bought ones by their row; and the copies left short. Boards that lie as before have the
// copies that they had.
func (d *decoder) boards(g *group, laid []laid, uses []cutting.Use) (out []*cutlist.Board,
	short []model.Shortage) {
	layouts := d.layouts(g, laid, uses)
	items, met := make([][]int, len(layouts)), make([]int, len(g.items))
	pinned := map[copyOf]bool{}
	for n, l := range layouts {
		for _, c := range l.copies {
			pinned[c] = true
		}
		if l.copies != nil {
			continue
		}
		for _, pl := range l.places {
			items[n] = append(items[n], pl.Item)
			met[pl.Item]++
		}
	}
	copies := g.copiesBut(pinned)
	dealt := deal(items, copies, met, func(part int) int { return d.whose[part] }, d.swaps)
	for n, l := range layouts {
		if l.copies != nil {
			dealt[n] = l.copies
		}
		for k, pl := range l.places {
			c := dealt[n][k]
			l.Pieces = append(l.Pieces,
				cutlist.Piece{Part: c.part, Copy: c.copy, Rect: d.rect(g, l.Board, &pl)})
		}
		out = append(out, l.Board)
	}
	for n := range g.items {
		short = append(short, d.short(copies[n][met[n]:])...)
	}
	return out, short
}

// copiesBut are the copies of each item, in the order in which they are served, without some.
func (g *group) copiesBut(some map[copyOf]bool) [][]copyOf {
	out := make([][]copyOf, len(g.items))
	for n := range g.items {
		if out[n] = g.items[n].copies; len(some) > 0 {
			out[n] = slices.DeleteFunc(slices.Clone(out[n]), func(c copyOf) bool {
				return some[c]
			})
		}
	}
	return out
}

// layouts takes a board for each time that a pattern is used.
func (d *decoder) layouts(g *group, laid []laid, uses []cutting.Use) (out []layout) {
	uses = slices.Clone(uses)
	slices.SortStableFunc(uses, func(a, b cutting.Use) int {
		return cmp.Compare(a.Pattern.Stock, b.Pattern.Stock)
	})
	out, uses = d.asBefore(g, laid, uses)
	taken, held := make([]int, len(g.stocks)), map[int]bool{} // rows of the rack
	for _, l := range out {
		if l.Offer == nil {
			held[l.Row] = true
		}
	}
	awaited := d.prior.awaited(out)
	next := func(s *stock, at int) int { // of the boards of the rack one that is free
		for held[s.boards[taken[at]]] {
			taken[at]++
		}
		return taken[at]
	}
	for _, u := range uses {
		t := g.program.Normal(u.Pattern)
		var bought cutlist.Board // alike ones are looked up once
		for n := range u.Times {
			s, b := &g.stocks[t.Stock], &cutlist.Board{}
			if *b = bought; s.onHand() {
				b = d.board(s, next(s, t.Stock))
			} else if n == 0 {
				b = d.board(s, 0)
				bought = *b
			}
			d.shape(g, &t, b)
			taken[t.Stock]++
			l := layout{Board: b, places: t.Places, order: math.MaxInt}
			if !s.onHand() {
				b.ID, l.order = awaited(b.Offer.Where.Line)
			}
			out = append(out, l)
		}
	}
	slices.SortStableFunc(out, func(a, b layout) int {
		return cmp.Or(cmp.Compare(btoi(a.Offer != nil), btoi(b.Offer != nil)),
			cmp.Compare(a.Row, b.Row), cmp.Compare(a.order, b.order))
	})
	return out
}

// shape says how a board is broken down by a pattern.
func (d *decoder) shape(g *group, t *cutting.Pattern, b *cutlist.Board) {
	b.First = laidOut(&g.program.Stocks[t.Stock], t)
	b.Ripped = model.Span{From: model.Length(t.Ripped.From) * d.worth.Unit,
		To: model.Length(t.Ripped.To) * d.worth.Unit}
}

// rect is where a place lies on its board.
func (d *decoder) rect(g *group, b *cutlist.Board, pl *cutting.Place) model.Rect {
	unit := d.worth.Unit
	r := model.Rect{From: model.Length(pl.At) * unit, Left: model.Length(pl.Left) * unit,
		Right: model.Length(pl.Right) * unit}
	r.To = r.From + model.Length(g.program.Items[pl.Item].Size)*unit
	if b.First == model.NotRipped {
		r.Left, r.Right = 0, b.Width
	}
	return r
}

func (d *decoder) board(s *stock, nth int) *cutlist.Board {
	if s.onHand() {
		return cutlist.OnRack(d.job, d.worth, s.boards[nth])
	}
	return cutlist.Bought(d.job, d.worth, s.offer)
}

// laidOut says how a board of a stock is laid out by a pattern in its normal form.
func laidOut(s *cutting.Stock, t *cutting.Pattern) model.First {
	if !s.Rippable() {
		return model.NotRipped
	}
	if t.First == cutting.RipFirst {
		return model.RipFirst
	}
	for _, pl := range t.Places {
		if pl.Left > 0 || pl.Right < s.Across.Width {
			return model.CrosscutFirst
		}
	}
	return model.NotRipped
}

// short names copies for which supply was short as a whole.
func (d *decoder) short(left []copyOf) (out []model.Shortage) {
	byPart := map[int][]int64{}
	for _, c := range left {
		byPart[c.part] = append(byPart[c.part], c.copy)
	}
	for i := range d.job.Parts {
		if byPart[i] != nil {
			out = append(out, shortage(&d.job.Parts[i], byPart[i], model.NotEnough))
		}
	}
	return out
}

// inOrder gives the shortages in the order of the parts list, one for each part and reason.
func inOrder(job *model.Job, short []model.Shortage) (out []model.Shortage) {
	for i := range job.Parts {
		for _, s := range short {
			if s.Commission == job.Parts[i].Commission && s.Part == job.Parts[i].Name {
				out = append(out, s)
			}
		}
	}
	return out
}
