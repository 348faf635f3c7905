package nest

import (
	"cmp"
	"slices"

	"rackwright/model"
	"rackwright/nest/cutlist"
	"rackwright/nest/cutting"
	"rackwright/nest/sawing"
)

// decoder turns patterns into boards and pieces.
type decoder struct {
	job   *model.Job
	worth *model.Valuation
	whose []int // for each part the first part of its commission
}

func newDecoder(job *model.Job, worth *model.Valuation) *decoder {
	d := &decoder{job: job, worth: worth}
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
	var boards []*cutlist.Board
	short = slices.Clone(short)
	for n, g := range groups {
		b, s := d.boards(g, uses[n])
		boards, short = append(boards, b...), append(short, s...)
	}
	out, units := cutlist.Write(d.job, d.worth, boards, date)
	sawing.Plain(d.job, out, units)
	out.Shortages = inOrder(d.job, short)
	return out, units
}

// layout is a board and how the engine lays it out.
type layout struct {
	*cutlist.Board
	places []cutting.Place
}

// boards gives the boards that a solution of a group uses, those of the rack first, in its order,
// then bought ones by their row; and the copies left short.
func (d *decoder) boards(g *group, uses []cutting.Use) (out []*cutlist.Board,
	short []model.Shortage) {
	layouts := d.layouts(g, uses)
	items, met := make([][]int, len(layouts)), make([]int, len(g.items))
	for n, l := range layouts {
		for _, pl := range l.places {
			items[n] = append(items[n], pl.Item)
			met[pl.Item]++
		}
	}
	dealt := g.deal(items, met, func(part int) int { return d.whose[part] })
	for n, l := range layouts {
		for k, pl := range l.places {
			c := dealt[n][k]
			l.Pieces = append(l.Pieces,
				cutlist.Piece{Part: c.part, Copy: c.copy, Rect: d.rect(g, l.Board, &pl)})
		}
		out = append(out, l.Board)
	}
	for n, it := range g.items {
		short = append(short, d.short(it.copies[met[n]:])...)
	}
	return out, short
}

// layouts takes a board for each time that a pattern is used.
func (d *decoder) layouts(g *group, uses []cutting.Use) (out []layout) {
	uses = slices.Clone(uses)
	slices.SortStableFunc(uses, func(a, b cutting.Use) int {
		return cmp.Compare(a.Pattern.Stock, b.Pattern.Stock)
	})
	taken := make([]int, len(g.stocks))
	for _, u := range uses {
		t := g.program.Normal(u.Pattern)
		var bought cutlist.Board // alike ones are looked up once
		for n := range u.Times {
			b := &cutlist.Board{}
			if *b = bought; n == 0 || g.stocks[t.Stock].onHand() {
				b = d.board(&g.stocks[t.Stock], taken[t.Stock])
				bought = *b
			}
			b.First = laidOut(&g.program.Stocks[t.Stock], &t)
			b.Ripped = model.Span{From: model.Length(t.Ripped.From) * d.worth.Unit,
				To: model.Length(t.Ripped.To) * d.worth.Unit}
			taken[t.Stock]++
			out = append(out, layout{b, t.Places})
		}
	}
	slices.SortStableFunc(out, func(a, b layout) int {
		return cmp.Or(cmp.Compare(btoi(a.Offer != nil), btoi(b.Offer != nil)),
			cmp.Compare(a.Row, b.Row))
	})
	return out
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
