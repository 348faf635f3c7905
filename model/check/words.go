package check

import (
	"fmt"
	"slices"
	"strings"

	"rackwright/model"
)

// The words of a plan: why copies are short, what a group is called, how its search ended. Words
// are facts too, so each is made again from the job, as far as the job can tell.

// reasons judges why copies are short.
func (c *checker) reasons() {
	known := map[int]string{}
	for i := range c.plan.Shortages {
		s := &c.plan.Shortages[i]
		part := c.parts[partName{s.Commission, s.Part}]
		if known[part] == "" {
			known[part] = c.whyShort(&c.job.Parts[part])
		}
		if s.Reason != known[part] {
			c.say(fmt.Sprintf("plan.json: shortage %d", i+1),
				"the reason why %s of %s is short is given as %q; it is %q", s.Part, s.Commission,
				s.Reason, known[part])
		}
	}
}

// whyShort is why a part is short: by the rule that came nearest where no wood holds it. Where a
// part that is glued up has a way to make it there is wood for its pieces, but not enough.
func (c *checker) whyShort(p *model.Part) string {
	if c.hasWays(p) {
		return model.NotEnough
	}
	nearest, held, clear := slices.Index(model.Hindrances, model.OtherMaterial), false, false
	if p.Board != "" {
		nearest = slices.Index(model.Hindrances, model.NotTheOne)
	}
	try := func(b *model.Board, o model.Origin) {
		ok, why := c.job.Holds(p, b, o)
		if !ok {
			nearest = max(nearest, slices.Index(model.Hindrances, why))
			return
		}
		held, clear = true, clear || c.job.HasRun(p, b, o)
	}
	for i := range c.job.Rack {
		try(&c.job.Rack[i], model.FromRack)
	}
	for i := range c.job.Yard {
		o, one := &c.job.Yard[i], &model.Board{Wood: c.job.Yard[i].Wood}
		switch holds, _ := c.job.Holds(p, one, model.FromYard); {
		case o.Available != nil && *o.Available == 0:
		case holds && !c.job.Carried(o):
			nearest = max(nearest, slices.Index(model.Hindrances, model.TooLongToCarry))
		default:
			try(one, model.FromYard)
		}
	}
	switch {
	case clear:
		return model.NotEnough
	case held:
		return model.NoClearRun
	}
	return model.Hindrances[nearest]
}

// groups judges what each group is called: it is named after all the wood in it. It also judges
// that a search which proved its plan the cheapest is finished. How any other search ended leaves
// no trace that could be judged.
func (c *checker) groups() {
	times := map[string]int{}
	for i := range c.plan.Groups {
		g := &c.plan.Groups[i]
		want := c.groupName(&g.Certificate)
		if times[want]++; times[want] > 1 {
			want = fmt.Sprintf("%s (%d)", want, times[want])
		}
		where := fmt.Sprintf("plan.json: group %d", i+1)
		if g.Name != want {
			c.say(where, "is called %q; after the wood in it, it is %q", g.Name, want)
		}
		if g.Proof == model.Optimal && g.Ended != model.Finished {
			c.say(where, "a search that proved its plan the cheapest is %q, not ended by %q",
				model.Finished, g.Ended)
		}
	}
}

// groupName is what a group is called: the materials and sections of its stocks.
func (c *checker) groupName(cert *model.Certificate) string {
	var names []string
	add := func(w *model.Wood) { names = append(names, w.Material+" "+string(w.Section)) }
	for _, s := range cert.Stocks {
		for _, id := range s.Boards {
			if r, known := c.rack[id]; known {
				add(&c.job.Rack[r].Wood)
			}
		}
		if y, known := c.offers[s.Yard]; known && s.Yard != 0 {
			add(&c.job.Yard[y].Wood)
		}
	}
	slices.Sort(names)
	return strings.Join(slices.Compact(names), ", ")
}
