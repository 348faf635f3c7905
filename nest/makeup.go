package nest

import (
	"reflect"
	"slices"

	"rackwright/model"
	"rackwright/model/makeup"
	"rackwright/nest/cutstock"
	"rackwright/nest/cutting"
)

// made is what a plan may choose for one part, and which stocks hold the pieces.
type made struct {
	*makeup.Choice
	glued  bool          // no copy is just cut
	pieces []*model.Part // of the ways, then of the covers
	held   [][]int       // by piece; none where nothing gives any
}

// choice is what a plan may choose for a part; nil: nothing.
func (s *grouper) choice(part int) *made {
	p := &s.job.Parts[part]
	c := makeup.ChoiceOf(s.job, p)
	if c == nil {
		return nil
	}
	m := &made{Choice: c, glued: p.ByWays()}
	for n := range c.Ways {
		m.pieces = append(m.pieces, &c.Ways[n].Piece)
	}
	for n := range c.Covers {
		for k := range c.Covers[n].Staves {
			m.pieces = append(m.pieces, &c.Covers[n].Staves[k].Piece)
		}
	}
	for _, q := range m.pieces {
		held, _ := s.holders(q)
		m.held = append(m.held, held)
	}
	return m
}

// heldOf are the stocks that a part, or a piece of it, can be cut from.
func (s *grouper) heldOf(part int) []int {
	if m := s.made[part]; m != nil {
		return slices.Concat(append([][]int{s.holds[part]}, m.held...)...)
	}
	return s.holds[part]
}

// want is what the program does not know of one of its wants.
type want struct {
	part  int // as entered
	spare bool
	*makeup.Choice
}

// addWants adds what is wanted of a part that is made up: its copies, and its spare ones.
func (f *formulator) addWants(part int, m *made, place func(*model.Part, []int) int) {
	if len(m.pieces) == 0 {
		return
	}
	w := cutting.Want{Size: f.units(f.job.BlankLength(&f.job.Parts[part]))}
	n := 0
	next := func() int {
		n++
		return place(m.pieces[n-1], m.held[n-1])
	}
	for k := range m.Ways {
		w.Ways = append(w.Ways, cutting.Way{Item: next(), Pieces: m.Ways[k].Pieces,
			Copies: m.Ways[k].Copies})
	}
	for k := range m.Covers {
		c := &m.Covers[k]
		cover := cutting.Cover{Need: int64((c.Need.Total() + c.Step - 1) / c.Step),
			Layers: c.Through.Times}
		for at := range c.Staves {
			cover.Staves = append(cover.Staves, cutting.Stave{Item: next(),
				Steps: int64(c.Staves[at].Net / c.Step)})
		}
		w.Covers = append(w.Covers, cover)
	}
	if m.glued {
		w.Demand, w.Forgo = m.Copies-m.Spare, cutting.Any
		f.program.Wants = append(f.program.Wants, w)
		f.wants = append(f.wants, want{part, false, m.Choice})
	}
	if m.Spare > 0 {
		w.Demand, w.Forgo = m.Spare, f.worth.Ticks(f.job.Settings.SpareAtMost)
		f.program.Wants = append(f.program.Wants, w)
		f.wants = append(f.wants, want{part, true, m.Choice})
	}
}

// byRule says how what is wanted is made by the simple rule: of the fewest staves of the section
// that is cheapest for it by area, in gangs as long as may be, and no spare copies.
func (f *formulator) byRule() {
	for n := range f.wants {
		w := &f.program.Wants[n]
		c := cutting.Chosen{Times: make([]int64, len(w.Ways))}
		switch way := fewest(f.wants[n].Ways); {
		case f.wants[n].spare:
		case way >= 0:
			c.Times[way] = (w.Demand + w.Ways[way].Copies - 1) / w.Ways[way].Copies
			for range c.Times[way] * w.Ways[way].Pieces {
				f.list = append(f.list, w.Ways[way].Item)
			}
		default:
			one := cutting.Covered{Counts: fewestStaves(&w.Covers[0])}
			for range w.Demand {
				c.Covers = append(c.Covers, one)
				for at, k := range one.Counts {
					for range k * w.Covers[0].Layers {
						f.list = append(f.list, w.Covers[0].Staves[at].Item)
					}
				}
			}
		}
		f.rule = append(f.rule, c)
	}
	f.fixed = &f.program
	if f.wants != nil {
		f.fixed = f.program.Fixed(f.rule)
	}
}

// fewest is the way of the fewest pieces, or of the longest gang, from the section that is
// cheapest; -1: there is none. The
// cheapest way comes first, but for one piece, which comes before all.
func fewest(ways []makeup.Way) int {
	best := -1
	for n := range ways {
		switch w := &ways[n]; {
		case w.Pieces == w.Copies && w.Pieces == 1:
			return n
		case best < 0 || w.Wood.Section == ways[best].Wood.Section &&
			(w.Pieces < ways[best].Pieces || w.Copies > ways[best].Copies):
			best = n
		}
	}
	return best
}

// fewestStaves are the fewest that come to the need of a cover, the widest as wide as can be.
func fewestStaves(c *cutting.Cover) []int64 {
	out, left := make([]int64, len(c.Staves)), c.Need
	widest, narrowest := c.Staves[len(c.Staves)-1].Steps, c.Staves[0].Steps
	for n := (left + widest - 1) / widest; n > 0; n-- {
		at := 0
		for at < len(c.Staves)-1 && c.Staves[at].Steps < left-(n-1)*narrowest {
			at++
		}
		out[at]++
		left -= c.Staves[at].Steps
	}
	for ; left > 0; left -= narrowest {
		out[0]++
	}
	return out
}

// asCut is a job as it is made by results, with the groups of what is cut.
type asCut struct {
	job    *model.Job
	made   []model.Made
	groups []*group
	short  []model.Shortage
}

// asMade writes down what was chosen, and makes of it the job whose parts are those that are cut.
func asMade(job *model.Job, groups []*group, results []cutstock.Result,
	short []model.Shortage) asCut {
	c := asCut{job: job, groups: groups, short: short}
	if !slices.ContainsFunc(job.Parts, func(p model.Part) bool { return p.MadeUp() }) {
		return c
	}
	byPart := make([][]model.Made, len(job.Parts))
	items := map[pieceKey]int{} // in its group
	where := map[pieceKey]int{} // which group it is
	asItIs := map[int]int64{}   // by part how many copies are cut in one piece
	for n, g := range groups {
		for j := range g.wants {
			g.write(j, &results[n].Chosen[j], job, byPart, func(k pieceKey, item int) {
				items[k], where[k] = item, n
			})
		}
	}
	for i := range byPart {
		for _, m := range byPart[i] {
			if m.Nets == nil && m.Staves*m.Layers*m.InOne == 1 {
				for _, n := range m.Copies {
					if n <= job.Parts[i].All() {
						asItIs[i]++
					}
				}
			}
		}
		c.made = append(c.made, byPart[i]...)
	}
	c.job = makeup.AsMade(job, c.made)
	c.groups = make([]*group, len(groups))
	for n, g := range groups {
		cut := *g
		cut.program = *g.program.Fixed(results[n].Chosen)
		cut.items = slices.Clone(g.items)
		for i := range cut.items {
			cut.items[i].copies = nil
		}
		c.groups[n] = &cut
	}
	entered := map[[2]string]int{}
	for i := range job.Parts {
		entered[[2]string{job.Parts[i].Commission, job.Parts[i].Name}] = i
	}
	for k := range c.job.Parts {
		q := &c.job.Parts[k]
		take := func(group, item int, copies int64) {
			to := &c.groups[group].items[item].copies
			for n := range copies {
				*to = append(*to, copyOf{k, q.CopyAt(n)})
			}
		}
		if q.Makes != nil {
			key := keyOfPiece(q.Commission, q.Makes.Part, q)
			if at, known := where[key]; known {
				take(at, items[key], q.Qty)
				continue
			}
		}
		i := entered[[2]string{q.Commission, q.Name}]
		p := &job.Parts[i]
		if p.ByWays() {
			key := keyOfPiece(p.Commission, p.Name, p)
			if at, known := where[key]; known {
				take(at, items[key], asItIs[i])
			}
			if asItIs[i] < q.Qty && !slices.ContainsFunc(short, func(s model.Shortage) bool {
				return s.Commission == p.Commission && s.Part == p.Name
			}) {
				var left []int64
				for n := asItIs[i]; n < q.Qty; n++ {
					left = append(left, q.CopyAt(n))
				}
				c.short = append(slices.Clone(c.short), shortage(q, left, model.NotEnough))
			}
			continue
		}
		for n, g := range groups {
			if item, known := g.item[i]; known {
				take(n, item, q.Qty)
			}
		}
	}
	for n := range c.groups {
		serve(c.job, c.groups[n].items)
	}
	return c
}

// pieceKey tells the pieces of made-up parts apart.
type pieceKey struct {
	commission, part         string
	section                  model.Section
	length, width, thickness model.Length
}

func keyOfPiece(commission, part string, q *model.Part) pieceKey {
	return pieceKey{commission, part, q.Section, q.Length, q.Width, q.Thickness}
}

// write writes down how one want comes about, and which item each of the pieces is.
func (g *group) write(j int, chosen *cutting.Chosen, job *model.Job, byPart [][]model.Made,
	is func(pieceKey, int)) {
	w, p := &g.wants[j], &job.Parts[g.wants[j].part]
	wanted := &g.program.Wants[j]
	at := int64(0)
	next := func(n int64) (copies []int64) {
		for ; n > 0 && at < wanted.Demand; n-- {
			if w.spare {
				copies = append(copies, p.All()+at+1)
			} else {
				copies = append(copies, p.CopyAt(at))
			}
			at++
		}
		return copies
	}
	made := func(m model.Made) {
		to := &byPart[w.part]
		for n := range *to {
			alike, o := m, &(*to)[n]
			if alike.Copies = o.Copies; m.InOne == 1 && reflect.DeepEqual(alike, *o) {
				o.Copies = append(o.Copies, m.Copies...)
				return
			}
		}
		*to = append(*to, m)
	}
	for n, times := range chosen.Times {
		if copies := next(times * wanted.Ways[n].Copies); len(copies) > 0 {
			made(w.Ways[n].MadeOf(copies))
			is(keyOfPiece(p.Commission, p.Name, &w.Ways[n].Piece), wanted.Ways[n].Item)
		}
	}
	for _, set := range chosen.Covers {
		copies := next(1)
		if copies == nil {
			break
		}
		c, spec := &w.Covers[set.Cover], &wanted.Covers[set.Cover]
		var steps []int64
		for k, n := range set.Counts {
			for range n {
				steps = append(steps, spec.Staves[k].Steps)
				is(keyOfPiece(p.Commission, p.Name, &c.Staves[k].Piece), spec.Staves[k].Item)
			}
		}
		made(c.MadeOf(copies, steps))
	}
}
