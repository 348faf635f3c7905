package makeup

import "rackwright/model"

// Staves beside each other:
//
//	net     = (width + panel) / staves, rounded up; from narrowest to widest
//	blank   = net + 2 x the greater of joint and edge
//
// Layers on each other, each with one glued face where there are two, else with two:
//
//	net     = stock thickness - faces planed - glued faces x face_joint  at most
//	layers x net  at least  the thickness of the part
//
// Rough layers are planed, as any rough stock is. Flat ones (S2S, finished) may be as thick as they
// come: what is glued up of them is either just as thick as the part, or is planed to it. Then it
// must be thicker by the allowance for that, and by no more than plane_limit. Of each thickness of
// stock as few layers are taken as will do.

// mostNumbers of staves, or of parts in a gang, are looked at, from the fewest on.
const mostNumbers = 100

// last is the greatest number that is looked at where first is the least.
func last(first int64) int64 { return min(first+mostNumbers-1, model.MostPieces) }

// GlueUps are all ways to make up a part of staves and layers, in each section and thickness that
// holds them. The cheapest stands first.
func GlueUps(job *model.Job, p *model.Part) (out []Way) {
	m := makerOf(job, p)
	for i := range m.stocks {
		out = append(out, m.glueUps(&m.stocks[i])...)
	}
	return sorted(out)
}

func (m *maker) glueUps(s *stock) (out []Way) {
	q, g := m.piece(s), m.job.Settings.GlueUpFor(s.Material, s.Section)
	through, thickness, ok := m.layers(s)
	if !ok {
		return nil
	}
	q.Thickness, q.Length = thickness, m.part.Length+g.ExtraLength
	add := func(staves int64, across Fill) bool {
		w, ok := m.way(s, q, staves*through.Times, 1)
		if ok {
			w.Across, w.Through = across, through
			w.Length = model.Sum{{Times: 1, Length: m.part.Length}}
			if g.ExtraLength > 0 {
				w.Length = append(w.Length, model.Term{Times: 1, Length: g.ExtraLength,
					Key: "extra_length"})
			}
			out = append(out, w)
		}
		return ok
	}
	if through.Times > 1 {
		add(1, Fill{Times: 1})
	}
	need := m.part.Width + g.Panel
	widest := min(g.Widest, m.widest(s))
	if widest < 1 {
		return out
	}
	first := max(2, int64((need+widest-1)/widest))
	for n := first; n <= last(first) && m.share(need, n)[0] >= g.Narrowest; n++ {
		for _, net := range m.share(need, n) {
			lost := m.edge(s)
			q.Width = net + 2*(lost.Length-m.job.Settings.AllowanceFor(s.Material).Edge)
			m.stave(&q, net)
			if net >= g.Narrowest && net <= widest && add(n, Fill{n, net, m.panel(&g),
				model.Sum{{Times: 1, Length: net}, lost}}) {
				break
			}
		}
	}
	return out
}

// panel is how wide staves must be together.
func (m *maker) panel(g *model.GlueUp) model.Sum {
	return model.Sum{{Times: 1, Length: m.part.Width}, {Times: 1, Length: g.Panel, Key: "panel"}}
}

// edge is what a stave loses at its two edges.
func (m *maker) edge(s *stock) model.Term {
	joint, edge := m.job.Settings.GlueUpFor(s.Material, s.Section).Joint,
		m.job.Settings.AllowanceFor(s.Material).Edge
	if edge > joint {
		return model.Term{Times: 2, Length: edge, Key: "edge"}
	}
	return model.Term{Times: 2, Length: joint, Key: "joint"}
}

// widest is the widest stave that the width of any board of a stock allows.
func (m *maker) widest(s *stock) (most model.Length) {
	lost := 2 * m.edge(s).Length
	of := func(w *model.Wood) { most = max(most, w.Width-2*m.job.Inset(w)-lost) }
	for _, b := range s.boards {
		of(&b.Wood)
	}
	for _, o := range s.offers {
		of(&o.Wood)
	}
	return most
}

// layers says how many layers of a stock come to the thickness of the part, and how thick each is
// to be entered: one where the stock is thick enough. It is false where no number will do.
func (m *maker) layers(s *stock) (f Fill, thickness model.Length, ok bool) {
	p, a := m.part, m.job.Settings.AllowanceFor(s.Material)
	if m.job.BlankIn(p, &s.Wood).Thickness <= s.Thickness {
		return Fill{Times: 1}, p.Thickness, true
	}
	joint := m.job.Settings.GlueUpFor(s.Material, s.Section).FaceJoint
	planed := model.Term{Times: 1, Length: a.Thickness, Key: "thickness"}
	if s.Surface == model.S2S {
		planed = model.Term{Times: 1, Length: a.ThicknessS2S, Key: "thickness_s2s"}
	}
	for n := int64(2); n <= model.MostPieces && p.Thickness/model.Length(n) >= m.step(); n++ {
		glued := model.Term{Times: min(2, n-1), Length: joint, Key: "face_joint"}
		loses := model.Sum{glued}.Total()
		if f, ok := m.asItComes(s, n, glued, planed, a.PlaneLimit); ok {
			return f, s.Thickness, true
		}
		for _, thickness := range m.share(p.Thickness+model.Length(n)*loses, n) {
			blank := thickness + planed.Length
			if blank > s.Thickness || thickness == s.Thickness {
				continue
			}
			net := thickness - loses
			return Fill{n, net, model.Sum{{Times: 1, Length: p.Thickness}},
					model.Sum{{Times: 1, Length: net}, glued, planed}}, thickness,
				s.Thickness-blank <= a.PlaneLimit
		}
	}
	return Fill{}, 0, false
}

// asItComes says whether so many layers of a flat stock do that keep their thickness.
func (m *maker) asItComes(s *stock, n int64, glued, planed model.Term,
	limit model.Length) (Fill, bool) {
	net := s.Thickness - model.Sum{glued}.Total()
	f := Fill{n, net, model.Sum{{Times: 1, Length: m.part.Thickness}},
		model.Sum{{Times: 1, Length: net}, glued}}
	switch over := f.Gives() - m.part.Thickness; {
	case s.Surface == model.Rough || net <= 0:
		return f, false
	case over == 0:
		return f, true
	default:
		f.Need = append(f.Need, planed)
		return f, over >= planed.Length && over <= limit
	}
}
