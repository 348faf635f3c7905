package makeup

import (
	"cmp"
	"fmt"
	"slices"

	"rackwright/model"
)

// Why a part cannot be made up as its row has it, told by the stock that came nearest. The order is
// that in which a way is worked out: wood, layers, staves, and at last the boards.

// What is in the way, from far to near; what boards lack follows, in the order of
// [model.Hindrances].
const (
	ofLayers = 1 + iota
	ofStaves
	ofBoards
)

// Hindrance says why there is no way to make up a part, and what would help; nothing where there is
// one, or where the part is not made up.
func Hindrance(job *model.Job, p *model.Part) (why, help string) {
	if p.Staves == 0 && p.Layers == 0 {
		return "", ""
	}
	if c := ChoiceOf(job, p); len(c.Ways)+len(c.Covers) > 0 {
		return "", ""
	}
	all := *p
	all.Qty += p.Spare
	m := makerOf(job, &all)
	if p.Board != "" {
		m.stocks = slices.DeleteFunc(m.stocks, func(s stock) bool {
			return !slices.ContainsFunc(s.boards, func(b *model.Board) bool {
				return b.Answers(p.Board)
			})
		})
	}
	nearest := 0
	for i := range m.stocks {
		if near, text := m.hindrance(&m.stocks[i]); near > nearest {
			nearest, why = near, text
		}
	}
	switch nearest {
	case 0:
		return m.noWood(), "put boards of it into yard.csv"
	case ofLayers, ofStaves:
		return why, "another number, or another limit, would help"
	}
	switch nearest - ofBoards {
	case nearness(model.TooShort):
		return why, "a longer board would help"
	case nearness(model.Untouched) + 1:
		return why, "a clear board would help"
	}
	return why, "another board would help"
}

// noWood is why there is no stock to make a part of.
func (m *maker) noWood() string {
	q := *m.part
	q.Section = ""
	if len(makerOf(m.job, &q).stocks) > 0 {
		return model.OtherSection
	}
	return model.OtherMaterial
}

// hindrance says what stands in the way of making the part from a stock; 0 where nothing does, as
// far as pieces of one width go.
func (m *maker) hindrance(s *stock) (near int, why string) {
	through, thickness, ok := m.layers(s)
	if !ok || !allows(m.part.Layers, through.Times) {
		return ofLayers, m.ofLayers(s, &through, thickness, ok)
	}
	q, g := m.piece(s), m.job.Settings.GlueUpFor(s.Material, s.Section)
	if q.Thickness = thickness; through.Times > 1 {
		q.Length += g.ExtraLength
	}
	if allows(m.part.Staves, 1) {
		n, reason := m.lacks(s, &q)
		what := "one piece"
		if through.Times > 1 {
			what = fmt.Sprintf("%d layers", through.Times)
		}
		if why = fmt.Sprintf("for %s from %s: %s", what, WoodOf(&s.Wood), reason); n == 0 {
			if through.Times*m.part.Qty > model.MostCopies {
				return ofLayers, m.tooMany(what, s)
			}
			return 0, ""
		} else if near = ofBoards + n; m.part.Staves == 0 || n > nearness(model.TooNarrow) {
			return near, why
		}
	}
	q.Length = m.part.Length + g.ExtraLength
	return m.ofStaves(s, q, through.Times)
}

// nearness is the higher, the nearer a board came that does not hold a part; above 0.
func nearness(reason string) int { return 1 + slices.Index(model.Hindrances, reason) }

// lacks is why no board of a stock gives a piece, by the one that came nearest; 0 where one does.
func (m *maker) lacks(s *stock, q *model.Part) (nearest int, reason string) {
	if !none(m.give(s, q)) {
		return 0, ""
	}
	try := func(b *model.Board, o model.Origin) {
		ok, why := m.job.Holds(q, b, o)
		near := nearness(why)
		if ok {
			near, why = nearness(model.Untouched)+1, model.NoClearRun
		}
		if near > nearest {
			nearest, reason = near, why
		}
	}
	for _, b := range s.boards {
		try(b, model.FromRack)
	}
	for _, o := range s.offers {
		try(&model.Board{Wood: o.Wood}, model.FromYard)
	}
	return nearest, reason
}

// tooMany says that copies made so would be of more pieces than are planned.
func (m *maker) tooMany(what string, s *stock) string {
	return fmt.Sprintf("%s from %s would come to more than %d pieces in all", what,
		WoodOf(&s.Wood), model.MostCopies)
}

// ofLayers says why no layers of a stock will do.
func (m *maker) ofLayers(s *stock, f *Fill, thickness model.Length, ok bool) string {
	u, from := m.job.Settings.Units, WoodOf(&s.Wood)
	switch {
	case ok && f.Times == 1:
		return fmt.Sprintf("it takes one layer from %s, not %d", from, m.part.Layers)
	case ok && m.part.Layers == 0:
		return fmt.Sprintf("it takes %d layers from %s, and layers is empty", f.Times, from)
	case ok:
		return fmt.Sprintf("it takes %d layers from %s, not %d", f.Times, from,
			max(1, m.part.Layers))
	case f.Times == 0:
		return from + " is too thin for layers"
	}
	return fmt.Sprintf("for %d layers of %s from %s, %s thick, more is planed away than "+
		"[allowance] plane_limit, %s", f.Times, thickness.Exact(u), from, s.Thickness.Exact(u),
		m.job.Settings.AllowanceFor(s.Material).PlaneLimit.Exact(u))
}

// ofStaves says why no staves of a stock will do, in so many layers; q is one of them, but for its
// width.
func (m *maker) ofStaves(s *stock, q model.Part, layers int64) (near int, why string) {
	u, g := m.job.Settings.Units, m.job.Settings.GlueUpFor(s.Material, s.Section)
	need, gives, from := m.part.Width+g.Panel, m.widest(s), WoodOf(&s.Wood)
	if gives < 1 {
		return ofStaves, from + " is too narrow for staves"
	}
	widest := min(g.Widest, gives)
	first := max(2, int64((need+widest-1)/widest))
	begin, to := first, last(first)
	if begin > to {
		return ofStaves, fmt.Sprintf("no more than %d staves from %s are looked at", to, from)
	}
	if m.part.Staves > 1 {
		begin, to = int64(m.part.Staves), int64(m.part.Staves)
	}
	limit := func(of model.Length) string {
		if of > g.Widest {
			return fmt.Sprintf("[glue_up] widest allows %s", g.Widest.Exact(u))
		}
		return fmt.Sprintf("%s gives %s", from, gives.Exact(u))
	}
	for n := begin; n <= to; n++ {
		nets := m.share(need, n)
		net := nets[len(nets)-1] // the least that will do
		staves := fmt.Sprintf("%d staves are %s net each", n, nets[0].Exact(u))
		switch {
		case net > widest:
			return ofStaves, staves + ", and " + limit(net)
		case nets[0] < g.Narrowest && n > begin:
			return near, why
		case nets[0] < g.Narrowest:
			why = fmt.Sprintf("%s, and [glue_up] narrowest asks for %s", staves,
				g.Narrowest.Exact(u))
			if m.part.Staves == model.Auto && n > 2 {
				fewer := m.share(need, n-1)
				why += "; fewer are wider, and " + limit(fewer[len(fewer)-1])
			}
			return ofStaves, why
		case n > last(first):
			return ofStaves, fmt.Sprintf("no more than %d staves from %s are looked at",
				last(first), from)
		case n*layers*m.part.Qty > model.MostCopies:
			return max(near, ofStaves), cmp.Or(why, m.tooMany(fmt.Sprintf("%d staves", n), s))
		}
		for _, net := range nets {
			if net < g.Narrowest || net > widest {
				continue
			}
			q.Width = net + 2*(m.edge(s).Length-m.job.Settings.AllowanceFor(s.Material).Edge)
			m.stave(&q, net)
			lack, reason := m.lacks(s, &q)
			if lack == 0 {
				return 0, ""
			}
			if near < ofBoards+lack {
				near, why = ofBoards+lack, fmt.Sprintf("for %d staves of %s net from %s: %s", n,
					net.Exact(u), from, reason)
			}
		}
	}
	if near == 0 { // an exact share is too narrow, a rounded one too wide
		return ofStaves, fmt.Sprintf("%d staves are %s net each, and [glue_up] narrowest and "+
			"widest leave nothing of that", begin, m.share(need, begin)[0].Exact(u))
	}
	return near, why
}
