package check

import (
	"fmt"
	"reflect"
	"slices"

	"rackwright/model"
	"rackwright/model/makeup"
)

// How parts are made up. The job that is judged has the pieces as its parts, so that their cuts are
// judged as any others are. What is left is that these are the right pieces:
//
//   - Each way that a plan has parts made in is one of those that package makeup gives for the part
//     as it was entered. A cover is of staves that the cover has, and wide enough together.
//   - Each copy is made once. A part of which only spare copies are chosen has no others here. The
//     numbers of spare copies go on after those of the others, without a gap. Ways of a part stand
//     in the order of their first copies.
//   - The parts of the job are the pieces of just these ways.
//   - All pieces are cut: a copy that cannot be made is short as a whole.
//   - A copy of a glued-up part is cut in one piece where the plan has it so, and nowhere else.
//
// Several copies in one blank are all wanted or all spare, and each such way stands once, so that
// none of its blanks but the last has fewer copies than it gives. The proof counts on that.

// made judges how parts are made up. Where the job has no such part a plan says nothing of it.
func (c *checker) made() {
	entered := c.job.Entered
	if entered == nil {
		c.madeOfNone()
		return
	}
	before := len(c.found)
	m := &maker{checker: c, entered: entered, at: map[partName]int{},
		one: map[partName]map[int64]bool{}}
	for i := range entered.Parts {
		m.at[partName{entered.Parts[i].Commission, entered.Parts[i].Name}] = i
	}
	m.all()
	m.spares()
	if len(c.found) > before {
		return
	}
	m.sameParts()
	m.pieces()
}

// madeOfNone judges a plan of a job that is cut as it was entered.
func (c *checker) madeOfNone() {
	if len(c.plan.Made) > 0 {
		c.say("plan.json: made", "says how parts are made up, and the job has none that are")
	}
	for i := range c.job.Parts {
		if p := &c.job.Parts[i]; p.MadeUp() {
			c.say("plan.json: made", "%s of %s may be made up, and nothing says how it is", p.Name,
				p.Commission)
		}
	}
}

// maker judges how the parts of a job as it was entered are made up.
type maker struct {
	*checker
	entered *model.Job
	at      map[partName]int            // index in entered.Parts
	one     map[partName]map[int64]bool // wanted copies that are of one piece
	had     map[partName]map[int64]bool // copies that are made
	gangs   map[string]bool             // ways of several copies in one blank that are used
	choices map[partName]*makeup.Choice // so far
}

// all judges each way that copies of a part are made in.
func (m *maker) all() {
	m.had, m.gangs = map[partName]map[int64]bool{}, map[string]bool{}
	m.choices = map[partName]*makeup.Choice{}
	last, first := 0, map[partName]int64{}
	for i := range m.plan.Made {
		made, where := &m.plan.Made[i], fmt.Sprintf("plan.json: made %d", i+1)
		name := partName{made.Commission, made.Part}
		at, known := m.at[name]
		if !known {
			m.say(where, "the job has no part %q of %q", made.Part, made.Commission)
			continue
		}
		p := &m.entered.Parts[at]
		if !p.MadeUp() {
			m.say(where, "%s of %s is of one piece, as parts.csv has it, and has no spare copies",
				p.Name, p.Commission)
			continue
		}
		if at < last {
			m.say(where, "%s of %s does not stand in the order of the parts", p.Name, p.Commission)
		}
		last = max(last, at)
		if m.choices[name] == nil {
			m.choices[name] = makeup.ChoiceOf(m.entered, p)
			m.had[name], m.one[name] = map[int64]bool{}, map[int64]bool{}
		}
		m.numbers(where, p, made)
		if len(made.Copies) > 0 {
			if n := made.Copies[0]; n < first[name] {
				m.say(where, "begins with copy %d of %s of %s and stands after copy %d; ways stand "+
					"in the order of their first copies", n, p.Name, p.Commission, first[name])
			}
			first[name] = made.Copies[0]
		}
		m.way(where, m.choices[name], made)
	}
}

// numbers judges which copies of a part are made in one way.
func (m *maker) numbers(where string, p *model.Part, made *model.Made) {
	had, one := m.had[partName{p.Commission, p.Name}], m.one[partName{p.Commission, p.Name}]
	spares, before := 0, int64(0)
	if len(made.Copies) == 0 {
		m.say(where, "names no copy of %s of %s", p.Name, p.Commission)
	}
	for _, n := range made.Copies {
		spare := n > p.All() && n <= p.All()+p.Spare
		switch {
		case n <= before:
			m.say(where, "copy %d of %s of %s stands after copy %d; numbers are to rise", n, p.Name,
				p.Commission, before)
		case !spare && !p.Wants(n):
			m.say(where, "names copy %d of %s of %s, which is neither wanted nor one of the %d "+
				"that may be spare", n, p.Name, p.Commission, p.Spare)
		case !spare && !p.ByWays():
			m.say(where, "names copy %d of %s of %s, which is cut as it is; only spare copies "+
				"stand here", n, p.Name, p.Commission)
		case had[n]:
			m.say(where, "names copy %d of %s of %s once more", n, p.Name, p.Commission)
		}
		if before, had[n] = n, true; spare {
			spares++
		} else if inOnePiece(made) {
			one[n] = true
		}
	}
	if made.InOne < 2 {
		return
	}
	if spares > 0 && spares < len(made.Copies) {
		m.say(where, "has wanted and spare copies of %s of %s in one blank", p.Name, p.Commission)
	}
	way := *made
	way.Copies = nil
	key := fmt.Sprint(way, spares > 0)
	if m.gangs[key] {
		m.say(where, "has %s of %s made in a way that stood before", p.Name, p.Commission)
	}
	m.gangs[key] = true
}

// spares judges that spare copies have the numbers after those of the others, without a gap.
func (m *maker) spares() {
	for i := range m.entered.Parts {
		p := &m.entered.Parts[i]
		had := m.had[partName{p.Commission, p.Name}]
		for n := p.All() + 2; n <= p.All()+p.Spare; n++ {
			if had[n] && !had[n-1] {
				m.say("plan.json: made", "has spare copy %d of %s of %s and none of number %d", n,
					p.Name, p.Commission, n-1)
			}
		}
	}
}

// inOnePiece says whether each copy is a piece by itself.
func inOnePiece(m *model.Made) bool {
	return m.Staves == 1 && m.Layers == 1 && m.InOne == 1 && m.Nets == nil
}

// way judges that a way is one of those that there are.
func (m *maker) way(where string, choice *makeup.Choice, made *model.Made) {
	why := fmt.Sprintf("no way to make it is of %d staves in %d layers, %d copies in one, of "+
		"pieces %s by %s by %s of section %q", made.Staves, made.Layers, made.InOne,
		m.shop(made.Length), m.shop(made.Width), m.shop(made.Thickness), made.Section)
	for n := range choice.Ways {
		if reflect.DeepEqual(choice.Ways[n].MadeOf(made.Copies), *made) {
			return
		}
	}
	for n := range choice.Covers {
		v := &choice.Covers[n]
		if q := &v.Staves[0].Piece; made.Nets == nil || q.Section != made.Section ||
			q.Length != made.Length || q.Thickness != made.Thickness {
			continue
		}
		if why = m.notCovered(v, made); why == "" {
			return
		}
	}
	m.say(where, "%s of %s cannot be made like this: %s", made.Part, made.Commission, why)
}

// notCovered says why staves are no cover; else it is empty.
func (m *maker) notCovered(v *makeup.Cover, made *model.Made) string {
	var steps []int64
	var sum model.Length
	narrowest, widest := v.Staves[0].Net, v.Staves[len(v.Staves)-1].Net
	if n := int64(len(made.Nets)); n < v.Fewest || n > v.Most {
		return fmt.Sprintf("it is of %d staves, where %d to %d make it", n, v.Fewest, v.Most)
	}
	for k, net := range made.Nets {
		switch {
		case net < narrowest || net > widest || net%v.Step != 0:
			return fmt.Sprintf("no stave is %s wide; they are %s to %s, in steps of %s",
				m.shop(net), m.shop(narrowest), m.shop(widest), m.shop(v.Step))
		case k > 0 && net < made.Nets[k-1]:
			return fmt.Sprintf("a stave of %s stands after one of %s; widths are to rise",
				m.shop(net), m.shop(made.Nets[k-1]))
		}
		sum, steps = sum+net, append(steps, int64(net/v.Step))
	}
	if need := v.Need.Total(); sum < need {
		return fmt.Sprintf("its staves come to %s, and %s are needed", m.shop(sum), m.shop(need))
	}
	if want := v.MadeOf(made.Copies, steps); !reflect.DeepEqual(want, *made) {
		return fmt.Sprintf("its %d staves in %d layers are to be %d in %d, the narrowest entered "+
			"as %s wide, not %s", made.Staves, made.Layers, want.Staves, want.Layers,
			m.shop(want.Width), m.shop(made.Width))
	}
	return ""
}

// sameParts judges that what is cut is just what the ways are of, and of the same boards.
func (m *maker) sameParts() {
	entered := *m.entered
	entered.Pieces = nil
	prepared := makeup.Prepare(&entered)
	want := makeup.AsMade(prepared, m.plan.Made)
	if m.entered.Entered != nil || !reflect.DeepEqual(prepared.Pieces, m.entered.Pieces) {
		m.say("plan.json: made", "the job is not valued by all pieces that its parts may be of")
		return
	}
	if !reflect.DeepEqual(want.Parts, m.job.Parts) {
		m.say("plan.json: made", "the parts that are cut are not the pieces of these ways")
	}
	if !reflect.DeepEqual(want.Rack, m.job.Rack) || !reflect.DeepEqual(want.Yard, m.job.Yard) ||
		!reflect.DeepEqual(want.Settings, m.job.Settings) || m.job.Pieces != nil {
		m.say("plan.json: made", "the boards or the settings are not those of the job as entered")
	}
}

// pieces judges that all pieces are cut, and that copies in one piece are those that are to be.
func (m *maker) pieces() {
	for i := range m.plan.Shortages {
		s, where := &m.plan.Shortages[i], fmt.Sprintf("plan.json: shortage %d", i+1)
		name := partName{s.Commission, s.Part}
		if _, is := m.at[name]; !is {
			if _, cut := m.parts[name]; cut {
				m.say(where, "%s of %s is a piece of a part; a copy that cannot be made is short "+
					"as a whole", s.Part, s.Commission)
			}
			continue
		}
		for _, n := range s.Copies {
			if m.one[name][n] {
				m.say(where, "names copy %d of %s of %s, which is made in one piece", n, s.Part,
					s.Commission)
			}
		}
	}
	for _, u := range m.boards {
		for _, l := range u.pieces {
			name := partName{l.Commission, l.Part}
			at, is := m.at[name]
			if is && m.entered.Parts[at].ByWays() && !m.one[name][l.Copy] {
				m.say("cuts.csv: board "+u.id, "gives copy %d of %s of %s in one piece; plan.json "+
					"does not have it made so", l.Copy, l.Part, l.Commission)
			}
		}
	}
}

// hasWays says whether there is any way to make a part that is glued up.
func (c *checker) hasWays(p *model.Part) bool {
	if c.job.Entered == nil {
		return false
	}
	at := slices.IndexFunc(c.job.Entered.Parts, func(q model.Part) bool {
		return q.Commission == p.Commission && q.Name == p.Name
	})
	if at < 0 || !c.job.Entered.Parts[at].ByWays() {
		return false
	}
	choice := makeup.ChoiceOf(c.job.Entered, &c.job.Entered.Parts[at])
	return len(choice.Ways)+len(choice.Covers) > 0
}
