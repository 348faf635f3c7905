package report

import (
	"fmt"
	"slices"
	"strings"

	"rackwright/model"
	"rackwright/model/makeup"
)

// Planned is a plan at hand: its job and where it lies.
type Planned struct {
	Job   *model.Job
	Plan  *model.Plan
	Where string
}

// short names it in a few words.
func (p *printer) short(a *alternative) string {
	if a.cover != nil {
		return a.cover.Made()
	}
	w := a.way
	from := " from " + makeup.WoodOf(&w.Wood)
	switch {
	case w.Pieces == 1:
		return p.name(a)
	case w.Across.Times == 1:
		return count(int(w.Through.Times), "layer") + from
	case w.Through.Times == 1:
		return count(int(w.Across.Times), "stave") + from
	}
	return fmt.Sprintf("%d x %d staves", w.Through.Times, w.Across.Times) + from
}

// briefMade is the row of the short list of a part that is made up: by area, for one copy.
func (p *printer) briefMade(part *model.Part, row []string) []string {
	all := alternatives(makeup.ChoiceOf(p.job, part))
	for n := range min(2, len(all)) {
		one, known := all[n].cost(1)
		row[3+2*n] = p.short(&all[n])
		if !known {
			continue
		}
		// of a gang a share
		if w := all[n].way; w != nil {
			one /= model.Money(w.Copies)
		}
		row[4+2*n] = four(one)
		if first, known := all[0].cost(1); n == 1 && known {
			if w := all[0].way; w != nil {
				first /= model.Money(w.Copies)
			}
			row[7] = four(one - first)
		}
	}
	return row
}

// name says what it makes a part of.
func (p *printer) name(a *alternative) string {
	if a.cover != nil {
		return a.cover.Made()
	}
	return a.way.Made(p.job.Settings.Units)
}

// gives says whether copies that a plan has so come about by this alternative.
func (a *alternative) gives(m *model.Made) bool {
	if a.cover != nil {
		return m.Nets != nil && m.Section == a.cover.Wood.Section &&
			m.Layers == a.cover.Through.Times && m.Thickness == a.cover.Staves[0].Piece.Thickness
	}
	own := a.way.MadeOf(m.Copies)
	return m.Nets == nil && m.Section == own.Section && m.Length == own.Length &&
		m.Width == own.Width && m.Thickness == own.Thickness && m.Staves == own.Staves &&
		m.Layers == own.Layers && m.InOne == own.InOne && m.Net == own.Net
}

// chosen tells of each way that a part may come about by, and which the plan at hand takes. It
// gives the cautions for them.
func (p *printer) chosen(part *model.Part, at *Planned) []string {
	c := makeup.ChoiceOf(p.job, part)
	if !part.ByWays() {
		p.spare(part, at)
		return nil
	}
	all := alternatives(c)
	if len(all) == 0 {
		why, _ := makeup.Hindrance(p.job, part)
		p.line("")
		p.line("Nothing makes it up, so it will be short: %s", why)
		return nil
	}
	var ways []makeup.Way
	for _, a := range all {
		if a.way != nil {
			ways = append(ways, *a.way)
		}
	}
	p.ways("How it may be made up, the cheapest first. The plan takes what costs the least in the "+
		"whole job", ways)
	p.covers(c.Covers)
	if part.Spare > 0 {
		p.line("")
		p.spare(part, at)
	}
	p.inPlan(part, all, at)
	return p.planing(ways)
}

// spare tells of the spare copies of a part.
func (p *printer) spare(part *model.Part, at *Planned) {
	set := &p.job.Settings
	p.line("Spare: up to %s more, each only where it raises the net wood cost by no more than %s "+
		"([spare] at_most).", count(int(part.Spare), "copy"), set.SpareAtMost)
	if at == nil || !p.asPlanned(part, at) {
		return
	}
	n := 0
	for i := range at.Plan.Made {
		m := &at.Plan.Made[i]
		if m.Commission == part.Commission && m.Part == part.Name {
			for _, c := range m.Copies {
				if c > part.All() {
					n++
				}
			}
		}
	}
	p.line("  The plan in %s makes %d.", at.Where, n)
}

// asPlanned says whether the plan at hand is of a part as it is now.
func (p *printer) asPlanned(part *model.Part, at *Planned) bool {
	return slices.ContainsFunc(at.Job.AsEntered().Parts, func(q model.Part) bool {
		return q.Commission == part.Commission && q.Name == part.Name && q.Qty == part.Qty &&
			q.Length == part.Length && q.Width == part.Width && q.Thickness == part.Thickness &&
			q.Material == part.Material && q.Section == part.Section && q.Face == part.Face &&
			q.Staves == part.Staves && q.Layers == part.Layers && q.Spare == part.Spare
	})
}

// inPlan says by which alternatives the plan at hand has the copies of a part, and what the next
// one would cost for them.
func (p *printer) inPlan(part *model.Part, all []alternative, at *Planned) {
	p.line("")
	switch {
	case at == nil:
		p.line("Which of them is taken, a plan tells.")
		return
	case !p.asPlanned(part, at):
		p.line("The plan in %s is of another %s, as its row has changed since.", at.Where,
			part.Name)
		return
	}
	p.line("In the plan in %s, with wood by area:", at.Where)
	left := map[int64]bool{}
	for n := range part.Qty {
		left[part.CopyAt(n)] = true
	}
	for i := range at.Plan.Made {
		m := &at.Plan.Made[i]
		if m.Commission != part.Commission || m.Part != part.Name {
			continue
		}
		for _, c := range m.Copies {
			delete(left, c)
		}
		p.taken(part, all, m)
	}
	var short, plain []int64
	for n := range part.Qty {
		if c := part.CopyAt(n); left[c] && isShort(at.Plan, part, c) {
			short = append(short, c)
		} else if left[c] {
			plain = append(plain, c)
		}
	}
	if plain != nil {
		p.taken(part, all, &model.Made{Copies: plain, Staves: 1, Layers: 1, InOne: 1,
			Section: part.Section, Length: part.Length, Width: part.Width,
			Thickness: part.Thickness})
	}
	if short != nil {
		p.line("  %s: short", copiesOf(short))
	}
}

func isShort(plan *model.Plan, part *model.Part, copy int64) bool {
	return slices.ContainsFunc(plan.Shortages, func(s model.Shortage) bool {
		return s.Commission == part.Commission && s.Part == part.Name &&
			slices.Contains(s.Copies, copy)
	})
}

func copiesOf(list []int64) string {
	if len(list) == 1 {
		return "copy " + makeup.Numbers(list)
	}
	return "copies " + makeup.Numbers(list)
}

// taken tells of copies that a plan has alike, and what the next alternative would cost for them.
func (p *printer) taken(part *model.Part, all []alternative, m *model.Made) {
	n := slices.IndexFunc(all, func(a alternative) bool { return a.gives(m) })
	if n < 0 {
		p.line("  %s: in a way that there is no more", copiesOf(m.Copies))
		return
	}
	k := int64(len(m.Copies))
	of := p.name(&all[n])
	if m.Nets != nil {
		var words []string
		for _, net := range m.Nets {
			words = append(words, p.exact(net))
		}
		of += ", of " + strings.Join(words, " + ") + " net"
	}
	cost, known := all[n].cost(k)
	if !known {
		p.line("  %s: %s, that no yard sells", copiesOf(m.Copies), of)
		return
	}
	p.line("  %s: %s, for %s", copiesOf(m.Copies), of, four(cost))
	var cheapest, next *alternative
	var least, least2 model.Money
	for i := range all {
		other, known := all[i].cost(k)
		switch {
		case i == n || !known:
		case other < cost && (cheapest == nil || other < least):
			cheapest, least = &all[i], other
		case other >= cost && (next == nil || other < least2):
			next, least2 = &all[i], other
		}
	}
	if cheapest != nil {
		p.line("    by area the cheapest is %s, for %s - %s = %s less", p.name(cheapest),
			four(cost), four(least), four(cost-least))
	}
	switch {
	case next == nil:
	case least2 == cost:
		p.line("    the next is %s, for as much", p.name(next))
	default:
		p.line("    the next is %s, for %s - %s = %s more", p.name(next), four(least2),
			four(cost), four(least2-cost))
	}
}
