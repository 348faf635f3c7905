package makeup

import (
	"fmt"
	"slices"
	"strings"

	"rackwright/model"
)

// MadeOf is how copies of a part, by their numbers, come about by a way.
func (w *Way) MadeOf(copies []int64) model.Made {
	p, q := w.Part, &w.Piece
	return model.Made{Commission: p.Commission, Part: p.Name, Copies: copies, Section: q.Section,
		Length: q.Length, Width: q.Width, Thickness: q.Thickness, Staves: w.Across.Times,
		Layers: w.Through.Times, InOne: w.Copies, Net: w.Across.Net}
}

// MadeOf is how copies of a part come about by staves of so many steps each, ascending.
func (c *Cover) MadeOf(copies []int64, steps []int64) model.Made {
	p, q := c.Part, &c.Staves[0].Piece
	out := model.Made{Commission: p.Commission, Part: p.Name, Copies: copies, Section: q.Section,
		Length: q.Length, Width: q.Width, Thickness: q.Thickness, Staves: int64(len(steps)),
		Layers: c.Through.Times, InOne: 1}
	for _, n := range steps {
		out.Nets = append(out.Nets, model.Length(n)*c.Step)
	}
	out.Width += out.Nets[0] - c.Staves[0].Net // of the narrowest that is taken
	return out
}

// AsMade is a job whose parts are those that a plan cuts: in place of a part that is made up its
// pieces, and the part itself as far as it is cut as it is, or not at all. Whether the part can be
// made so is for the checker to say.
//
// The pieces are named after the part, and numbered copy by copy, layer by layer, stave by stave.
func AsMade(job *model.Job, made []model.Made) *model.Job {
	if len(made) == 0 && !slices.ContainsFunc(job.Parts, func(p model.Part) bool {
		return p.MadeUp()
	}) {
		return job
	}
	job = Prepare(job)
	a := &asMade{unit: job.Settings.Units, taken: map[[2]string]bool{}}
	for i := range job.Parts {
		a.taken[[2]string{job.Parts[i].Commission, job.Parts[i].Name}] = true
	}
	for i := range job.Parts {
		p := &job.Parts[i]
		var mine []model.Made
		for _, m := range made {
			if m.Commission == p.Commission && m.Part == p.Name {
				mine = append(mine, m)
			}
		}
		a.part(p, mine)
	}
	out := *job
	out.Parts, out.Entered, out.Pieces = a.out, job, nil
	return &out
}

// asMade makes the parts of a job as it is made.
type asMade struct {
	out   []model.Part
	unit  model.Unit
	taken map[[2]string]bool // names, by commission
}

// part takes the pieces of one part, and what of it is cut as it is.
func (a *asMade) part(p *model.Part, made []model.Made) {
	if !p.MadeUp() {
		a.out = append(a.out, *p)
		return
	}
	glued := p.ByWays()
	elsewhere := map[int64]bool{} // copies of which there are pieces
	if glued {
		for _, m := range made {
			if pieces(&m) > 1 || m.InOne > 1 {
				for _, n := range m.Copies {
					elsewhere[n] = true
				}
			}
		}
	}
	asItIs := *p // what is spare is wanted no more, but where it is made
	asItIs.Spare, asItIs.Qty, asItIs.Copies = 0, 0, nil
	for n := range p.Qty {
		if c := p.CopyAt(n); !elsewhere[c] {
			asItIs.Copies = append(asItIs.Copies, c)
			asItIs.Qty++
		}
	}
	if asItIs.Of = p.All(); asItIs.Qty == p.Qty && p.Copies == nil {
		asItIs.Copies, asItIs.Of = nil, 0
	}
	if asItIs.Qty > 0 {
		a.out = append(a.out, asItIs)
	}
	a.covers(p, made)
	for n := range made {
		m := &made[n]
		switch {
		case m.Nets != nil:
		case pieces(m) > 1 || m.InOne > 1:
			a.alike(p, m)
		default:
			a.spare(p, m)
		}
	}
}

func pieces(m *model.Made) int64 { return m.Staves * m.Layers }

// piece begins a part that is a piece of another.
func (a *asMade) piece(p *model.Part, m *model.Made, name string) model.Part {
	q := plain(p)
	q.Section, q.Length, q.Width, q.Thickness = m.Section, m.Length, m.Width, m.Thickness
	q.Copies, q.Of, q.Qty = nil, 0, 0
	key := [2]string{p.Commission, name}
	for n := 2; a.taken[key]; n++ {
		key[1] = fmt.Sprintf("%s (%d)", name, n)
	}
	a.taken[key] = true
	q.Name = key[1]
	q.Makes = &model.Makes{Part: p.Name, Wanted: p.All(), Length: p.Length, Width: p.Width,
		Thickness: p.Thickness, InOne: m.InOne, Net: m.Net}
	return q
}

// take adds a copy of a piece.
func take(q *model.Part, of model.Member) {
	q.Qty++
	q.Makes.Of = append(q.Makes.Of, of)
}

// spare takes the spare copies of a part that are cut as they are.
func (a *asMade) spare(p *model.Part, m *model.Made) {
	q := a.piece(p, m, p.Name+", spare")
	for _, c := range m.Copies {
		if c > p.All() {
			take(&q, model.Member{Copies: []int64{c}, Stave: 1, Staves: 1, Layer: 1,
				Layers: 1})
		}
	}
	if q.Qty > 0 {
		a.out = append(a.out, q)
	}
}

// alike takes staves and layers that are all alike, or gangs.
func (a *asMade) alike(p *model.Part, m *model.Made) {
	name := fmt.Sprintf("%s, %s", p.Name, pieceName(m))
	q := a.piece(p, m, name)
	for first := 0; first < len(m.Copies); first += int(m.InOne) {
		copies := m.Copies[first:min(len(m.Copies), first+int(m.InOne))]
		for layer := range m.Layers {
			for stave := range m.Staves {
				take(&q, model.Member{Stave: stave + 1, Staves: m.Staves, Layer: layer + 1,
					Layers: m.Layers, Copies: copies})
			}
		}
	}
	a.out = append(a.out, q)
}

// covers takes the staves of panels of random widths: those of one width and section together.
func (a *asMade) covers(p *model.Part, made []model.Made) {
	type kind struct {
		section                 model.Section
		length, thickness, wide model.Length
	}
	var order []kind
	at := map[kind]*model.Part{}
	for n := range made {
		m := &made[n]
		for c := range m.Copies {
			for layer := range m.Layers {
				for stave, net := range m.Nets {
					k := kind{m.Section, m.Length, m.Thickness, m.Width + net - m.Nets[0]}
					q := at[k]
					if q == nil {
						one := *m
						one.Width, one.Net = k.wide, net
						new := a.piece(p, &one, p.Name+", stave "+
							strings.ReplaceAll(net.Exact(a.unit), model.NoBreakSpace, " "))
						q = &new
						at[k], order = q, append(order, k)
					}
					take(q, model.Member{Copies: m.Copies[c : c+1], Stave: int64(stave) + 1,
						Staves: int64(len(m.Nets)), Layer: layer + 1, Layers: m.Layers})
				}
			}
		}
	}
	for _, k := range order {
		a.out = append(a.out, *at[k])
	}
}

// pieceName says what a piece is.
func pieceName(m *model.Made) string {
	switch {
	case m.InOne > 1:
		return fmt.Sprintf("%d in one", m.InOne)
	case m.Staves == 1:
		return fmt.Sprintf("layer of %d", m.Layers)
	case m.Layers == 1:
		return fmt.Sprintf("stave of %d", m.Staves)
	}
	return fmt.Sprintf("stave of %d in %d layers", m.Staves, m.Layers)
}
