package nest

import (
	"cmp"
	"context"
	"slices"

	"rackwright/model"
	"rackwright/model/beside"
)

// grouper finds out which parts and which wood belong together.
type grouper struct {
	ctx    context.Context // once it has ended nothing is of use any more
	job    *model.Job
	stocks []stock
	holds  [][]int // for each part that can be cut, the stocks that hold it
	noRun  [][]int // for each part, the stocks that hold it where none has a clear run
	made   []*made // for each part what a plan may choose; nil: nothing
	root   []int   // union-find over stocks
}

// members is a connected set of parts and stocks: any two stocks that hold one part are in one set.
type members struct {
	parts  []int // indices of Job.Parts
	stocks []int
}

// split parts a job into sets, in the order of the parts list, and names the parts that nothing can
// hold.
func (s *grouper) split() (sets []members, short []model.Shortage) {
	type holding struct {
		held   []int
		reason string
	}
	holds := make([]holding, len(s.job.Parts))
	beside.Each(len(holds), 0, func(i int) {
		if s.ctx.Err() == nil {
			holds[i].held, holds[i].reason = s.holders(&s.job.Parts[i])
		}
	})
	for i := range s.job.Parts {
		if s.ctx.Err() != nil {
			return nil, nil
		}
		held, reason := holds[i].held, holds[i].reason
		made := s.choice(i)
		if s.made = append(s.made, made); made != nil && made.glued {
			s.holds, s.noRun = append(s.holds, nil), append(s.noRun, nil)
			if !slices.ContainsFunc(made.held, func(h []int) bool { return len(h) > 0 }) {
				short = append(short, shortOfAll(&s.job.Parts[i], cmp.Or(reason, model.NotEnough)))
			}
			continue
		}
		if reason != "" {
			short = append(short, shortOfAll(&s.job.Parts[i], reason))
			s.holds, s.noRun = append(s.holds, nil), append(s.noRun, held)
			continue
		}
		s.holds, s.noRun = append(s.holds, held), append(s.noRun, nil)
	}
	s.connect()
	at := map[int]int{} // of a root, in sets
	for i := range s.holds {
		held := s.heldOf(i)
		if len(held) == 0 {
			continue
		}
		root := s.find(held[0])
		if _, known := at[root]; !known {
			at[root] = len(sets)
			sets = append(sets, members{})
		}
		sets[at[root]].parts = append(sets[at[root]].parts, i)
	}
	for n := range s.stocks {
		if set, known := at[s.find(n)]; known {
			sets[set].stocks = append(sets[set].stocks, n)
		}
	}
	s.rippable()
	return sets, short
}

// shortOfAll says that all copies of a part are short.
func shortOfAll(p *model.Part, reason string) model.Shortage {
	var copies []int64
	for n := range p.Qty {
		copies = append(copies, p.CopyAt(n))
	}
	return shortage(p, copies, reason)
}

func shortage(p *model.Part, copies []int64, reason string) model.Shortage {
	return model.Shortage{Commission: p.Commission, Part: p.Name, Copies: copies, Reason: reason}
}

// holders are the stocks that hold a part; where none can give it, why not, by the rule that came
// nearest. A stock may hold a part and not give it, as it has no clear run for it.
func (s *grouper) holders(p *model.Part) (held []int, reason string) {
	nearest, hasRun := 0, false
	if p.Board == "" { // also where there is no board at all
		nearest = slices.Index(model.Hindrances, model.OtherMaterial)
	}
	for n := range s.stocks {
		b, o := s.stocks[n].board, s.stocks[n].origin()
		ok, why := s.job.Holds(p, b, o)
		if !ok {
			nearest = max(nearest, slices.Index(model.Hindrances, why))
			continue
		}
		held = append(held, n)
		hasRun = hasRun || s.job.HasRun(p, b, o)
	}
	switch {
	case len(held) == 0:
		return nil, model.Hindrances[max(nearest, s.beyondLoad(p))]
	case !hasRun:
		return held, model.NoClearRun
	}
	return held, ""
}

// beyondLoad is how near a part came to the boards for sale that are no stock because they cannot
// be brought.
func (s *grouper) beyondLoad(p *model.Part) (nearest int) {
	for i := range s.job.Yard {
		o := &s.job.Yard[i]
		if s.job.Carried(o) || o.Available != nil && *o.Available == 0 {
			continue
		}
		ok, why := s.job.Holds(p, &model.Board{Wood: o.Wood}, model.FromYard)
		if ok {
			why = model.TooLongToCarry
		}
		nearest = max(nearest, slices.Index(model.Hindrances, why))
	}
	return nearest
}

// connect joins the stocks that share a part.
func (s *grouper) connect() {
	s.root = make([]int, len(s.stocks))
	for n := range s.root {
		s.root[n] = n
	}
	for i := range s.holds {
		held := s.heldOf(i)
		for _, n := range held {
			s.root[s.find(n)] = s.find(held[0])
		}
	}
}

func (s *grouper) find(n int) int {
	for s.root[n] != n {
		n = s.root[n]
	}
	return n
}

// rippable finds out of which stocks it can matter that they are ripped: by all parts that they
// hold, as [model.Job.Rippable] has it, with a clear run or without.
func (s *grouper) rippable() {
	parts := make([][]*model.Part, len(s.stocks))
	for i := range s.job.Parts {
		for _, n := range slices.Concat(s.holds[i], s.noRun[i]) {
			parts[n] = append(parts[n], &s.job.Parts[i])
		}
		if m := s.made[i]; m != nil {
			for k := range m.pieces {
				for _, n := range m.held[k] {
					parts[n] = append(parts[n], m.pieces[k])
				}
			}
		}
	}
	for n := range s.stocks {
		one := &s.stocks[n]
		one.rippable = s.job.Rippable(one.board, one.origin(), parts[n])
	}
}
