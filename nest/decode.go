package nest

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"rackwright/model"
	"rackwright/nest/cutting"
)

// used is one board of a plan: what it is, how it is laid out, and the pieces cut from it.
type used struct {
	model.Board // of a bought one: its new id and its wood
	origin      model.Origin
	offer       *model.Offer
	order       int // of the rack, or of the yard
	rate        model.Rate
	cost        model.Money // price with tax, or worth on the rack
	first       model.First // how it is laid out
	pieces      []piece     // in the order of the cuts
}

// piece is a blank where it is cut; one that is not ripped takes the whole width of its board.
type piece struct {
	part  *model.Part
	index int // of the part in the job
	copy  int64
	model.Rect
}

// decoder turns patterns into boards and pieces.
type decoder struct {
	job   *model.Job
	worth *model.Valuation
	ids   map[string]bool // taken, lower case
	next  map[string]int  // last number given, by kind of id
	whose []int           // for each part the first part of its commission
}

func newDecoder(job *model.Job) *decoder {
	d := &decoder{job: job, worth: job.Valuation(), ids: map[string]bool{}, next: map[string]int{}}
	for i := range job.Rack {
		d.ids[strings.ToLower(job.Rack[i].ID)] = true
	}
	first := map[string]int{}
	for i := range job.Parts {
		c := job.Parts[i].Commission
		if _, seen := first[c]; !seen {
			first[c] = i
		}
		d.whose = append(d.whose, first[c])
	}
	return d
}

// id gives a new id, never one of the input's: batch, kind and a number.
func (d *decoder) id(kind string) string {
	prefix := kind + "-"
	if d.job.Settings.Batch != "" {
		prefix = d.job.Settings.Batch + "-" + prefix
	}
	for {
		d.next[kind]++
		id := fmt.Sprint(prefix, d.next[kind])
		if !d.ids[strings.ToLower(id)] {
			d.ids[strings.ToLower(id)] = true
			return id
		}
	}
}

// boards gives the boards that a solution of a group uses, rack boards first, and the copies left
// short.
func (d *decoder) boards(g *group, uses []cutting.Use) (out []*used, short []model.Shortage) {
	uses = slices.Clone(uses)
	slices.SortStableFunc(uses, func(a, b cutting.Use) int {
		return cmp.Compare(a.Pattern.Stock, b.Pattern.Stock)
	})
	taken := make([]int, len(g.stocks))
	type layout struct {
		u      *used
		places []cutting.Place
	}
	var layouts []layout
	for _, u := range uses {
		t := g.program.Straight(u.Pattern)
		for range u.Times {
			b := d.board(&g.stocks[t.Stock], taken[t.Stock])
			b.first = laidOut(&g.program.Stocks[t.Stock], &t)
			taken[t.Stock]++
			layouts = append(layouts, layout{b, t.Places})
		}
	}
	// rack boards in the order of the rack, then bought ones by their row
	slices.SortStableFunc(layouts, func(a, b layout) int {
		return cmp.Or(cmp.Compare(a.u.origin, b.u.origin), cmp.Compare(a.u.order, b.u.order))
	})
	items, met := make([][]int, len(layouts)), make([]int, len(g.items))
	for n, l := range layouts {
		for _, pl := range l.places {
			items[n] = append(items[n], pl.Item)
			met[pl.Item]++
		}
	}
	dealt := g.deal(items, met, func(part int) int { return d.whose[part] })
	for n, l := range layouts {
		if l.u.origin == model.FromYard {
			l.u.ID = d.id("buy")
		}
		for k, pl := range l.places {
			c, at := dealt[n][k],
				model.Rect{From: model.Length(pl.At), Left: model.Length(pl.Left),
					Right: model.Length(pl.Right)}
			if at.To = at.From + g.items[pl.Item].length; l.u.first == model.NotRipped {
				at.Left, at.Right = 0, l.u.Width
			}
			l.u.pieces = append(l.u.pieces, piece{&d.job.Parts[c.part], c.part, c.copy, at})
		}
		out = append(out, l.u)
	}
	for n, it := range g.items {
		short = append(short, d.short(it.copies[met[n]:])...)
	}
	return out, short
}

func (d *decoder) board(s *stock, nth int) *used {
	if s.onHand() {
		b := &d.job.Rack[s.boards[nth]]
		return &used{Board: *b, origin: model.FromRack, order: s.boards[nth],
			rate: d.worth.RateOfBoard(b), cost: d.worth.WorthOfBoard(b)}
	}
	o := &d.job.Yard[s.offer]
	return &used{Board: model.Board{Wood: o.Wood}, origin: model.FromYard, offer: o, order: s.offer,
		rate: d.worth.RateOfOffer(o), cost: d.job.PaidFor(o)}
}

// laidOut says how a board of a stock is laid out by a pattern in its normal form.
func laidOut(s *cutting.Stock, t *cutting.Pattern) model.First {
	if s.Across == nil {
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
