package makeup

import (
	"cmp"
	"slices"

	"rackwright/model"
)

// Cover is a panel of staves of different widths, as boards of random widths give them: in whole
// steps, their net widths together at least the part's and the panel allowance.
//
//	n staves of net widths w, each a multiple of step from narrowest to widest:
//	    sum of w  at least  width + panel
//
// No stave may be left out, and none be a step narrower, or wood is wasted. So either the sum is
// the need rounded up to a step, or all staves are of the narrowest width. That gives the range of
// n, each of which can be met:
//
//	fewest = need / widest, rounded up, and 2 at least
//	most   = need / narrowest, rounded up
//
// The widest stave that pays has the fewest others beside it, all of them of the narrowest width:
//
//	pays = need rounded up to a step - (fewest - 1) x narrowest, and widest at most
//
// Each layer is covered by itself.
type Cover struct {
	Part         *model.Part
	Need         model.Sum // of the net widths together
	Step         model.Length
	Staves       []Stave // by their widths, a step apart, as far as a wider one pays
	Fewest, Most int64   // staves in a layer
	Through      Fill    // layers
	Wood         model.Wood
	Woods        model.Woods // that give one of the narrowest
	Price        *Price      // with the fewest staves; nil where no yard sells them
}

// Stave is one of a cover.
type Stave struct {
	Net   model.Length
	Piece model.Part // to be entered
	Blank model.Blank
}

// Net is what the fewest staves come to together.
func (c *Cover) Net() model.Length {
	return max(up(c.Need.Total(), c.Step), model.Length(c.Fewest)*c.Staves[0].Net)
}

// Covers are the ways to make up a part of random widths, one for each section, surface and
// thickness that comes so. The cheapest stands first.
func Covers(job *model.Job, p *model.Part) (out []Cover) {
	m := makerOf(job, p)
	for i := range m.stocks {
		s := &m.stocks[i]
		if thick, wide := s.Section.Nominal(); thick == 0 || wide > 0 {
			continue // of one width
		}
		if c, ok := m.cover(s); ok {
			out = append(out, c)
		}
	}
	slices.SortStableFunc(out, func(a, b Cover) int {
		return cmp.Or(compare(a.Price, 1, b.Price, 1),
			cmp.Compare(a.Fewest*a.Through.Times, b.Fewest*b.Through.Times))
	})
	return out
}

func (m *maker) cover(s *stock) (c Cover, ok bool) {
	g := m.job.Settings.GlueUpFor(s.Material, s.Section)
	c = Cover{Part: m.part, Need: m.panel(&g), Step: g.Step, Wood: s.Wood}
	q := m.piece(s)
	if c.Through, q.Thickness, ok = m.layers(s); !ok {
		return c, false
	}
	q.Length += g.ExtraLength
	need, narrowest := c.Need.Total(), up(g.Narrowest, g.Step)
	lost, edge := m.edge(s), m.job.Settings.AllowanceFor(s.Material).Edge
	stave := func(net model.Length) model.Part {
		q := q
		q.Width = net + 2*(lost.Length-edge)
		m.stave(&q, net)
		return q
	}
	widest := min(g.Widest, m.widest(s)) / g.Step * g.Step
	for ; widest >= narrowest; widest -= g.Step {
		if q := stave(widest); !none(m.give(s, &q)) {
			break
		}
	}
	if widest < narrowest || need <= narrowest {
		return c, false
	}
	c.Fewest = max(2, int64((need+widest-1)/widest))
	c.Most = min(model.MostPieces, int64((need+narrowest-1)/narrowest))
	if c.Fewest > c.Most || c.Most*c.Through.Times*m.part.Qty > model.MostCopies {
		return c, false
	}
	pays := min(widest, up(need, g.Step)-model.Length(c.Fewest-1)*narrowest)
	for net := narrowest; net <= max(narrowest, pays); net += g.Step {
		q := stave(net)
		c.Staves = append(c.Staves, Stave{net, q, m.job.BlankIn(&q, &s.Wood)})
	}
	c.Woods = m.give(s, &c.Staves[0].Piece)
	c.Price = m.area(&c)
	return c, true
}

func none(w model.Woods) bool { return len(w.Rack)+len(w.Yard) == 0 }

// area prices the fewest staves of a cover, each with its kerfs, by the offer that is cheapest for
// its area.
func (m *maker) area(c *Cover) (best *Price) {
	set, first := &m.job.Settings, &c.Staves[0]
	wide := c.Net() + model.Length(c.Fewest)*(first.Blank.Width-first.Net+set.RipKerf)
	for _, o := range c.Woods.Yard {
		cost := m.cost(o, []int64{c.Through.Times, int64(first.Blank.Length + set.CrosscutKerf),
			int64(wide)}, []int64{int64(o.Length), int64(o.Width)})
		if best == nil || cost < best.Cost {
			best = &Price{Offer: o, Cost: cost}
		}
	}
	return best
}
