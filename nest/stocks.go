package nest

import (
	"slices"

	"rackwright/model"
)

// stock is wood that can be used: a set of alike rack boards, or one offer.
type stock struct {
	board  *model.Board // one of them; of an offer a clear board of its wood
	boards []int        // indices of Job.Rack, in the order of their use; empty for an offer
	offer  int          // index of Job.Yard
	names  []string     // of the board, by which some part asks for it

	usable    model.Span  // between the trims
	cost      int64       // of using one, in ticks: handling, and price with tax or worth
	available *int64      // of an offer; nil: any number
	slope     model.Slope // of offcuts

	// The defects in two readings: as stretches of the length, from edge to edge; and with their
	// part of the width, each once. Which of them counts depends on whether it can matter that the
	// board is ripped, and so on the parts that it holds.
	along, across []widened
	rippable      bool
}

// widened is a defect with the margin on every side, between the trims, and the faces that tolerate
// it. No rip runs through a weak one.
type widened struct {
	model.Rect
	tolerated [model.Faces]bool
	weak      bool
}

func (s *stock) onHand() bool { return len(s.boards) > 0 }

// single says whether there is one board of it and no more.
func (s *stock) single() bool {
	return len(s.boards) == 1 || s.available != nil && *s.available == 1
}

func (s *stock) origin() model.Origin {
	if s.onHand() {
		return model.FromRack
	}
	return model.FromYard
}

// defects are those that count, in order.
func (s *stock) defects() []widened {
	if s.rippable {
		return s.across
	}
	return s.along
}

// stocksOf lists the wood that could be used: rack boards, then offers, each in the order of the
// input.
func stocksOf(job *model.Job, worth *model.Valuation) []stock {
	return append(onRack(job, worth), forSale(job, worth)...)
}

// onRack puts alike rack boards together. Of these the older is used first, a board without a date
// last.
func onRack(job *model.Job, worth *model.Valuation) (out []stock) {
	var kinds []int // the stocks found, sorted by what they are
	asked := askedFor(job)
	for i := range job.Rack {
		b := &job.Rack[i]
		s := stock{board: b, boards: []int{i}, usable: between(job, b, model.FromRack),
			cost:  worth.WorthOfBoard(b) + worth.Ticks(job.Settings.Handling),
			slope: worth.SlopeOfBoard(b)}
		for _, name := range asked {
			if b.Answers(name) {
				s.names = append(s.names, name)
			}
		}
		s.along, s.across = defectsOf(job, b, s.usable)
		at, alike := slices.BinarySearchFunc(kinds, &s, func(n int, s *stock) int {
			return compareKinds(&out[n], s)
		})
		if alike {
			out[kinds[at]].boards = append(out[kinds[at]].boards, i)
			continue
		}
		kinds = slices.Insert(kinds, at, len(out))
		out = append(out, s)
	}
	for _, s := range out {
		slices.SortStableFunc(s.boards, func(a, b int) int {
			return earlier(job.Rack[a].Since, job.Rack[b].Since)
		})
	}
	return out
}

// forSale gives the offers of which there is any.
func forSale(job *model.Job, worth *model.Valuation) (out []stock) {
	for i := range job.Yard {
		o := &job.Yard[i]
		n := job.ForSale(o)
		if n != nil && *n == 0 {
			continue
		}
		b := &model.Board{Wood: o.Wood}
		out = append(out, stock{board: b, offer: i, usable: between(job, b, model.FromYard),
			cost: worth.Ticks(job.PaidFor(o) + job.Settings.Handling), available: n,
			slope: worth.SlopeOfOffer(o)})
	}
	return out
}

// askedFor gives the names by which parts ask for boards. Where a part asks for one of two boards,
// the two are not alike.
func askedFor(job *model.Job) (names []string) {
	for i := range job.Parts {
		if name := job.Parts[i].Board; name != "" {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// between is what lies between the trims of a board.
func between(job *model.Job, b *model.Board, o model.Origin) model.Span {
	trim := job.Settings.TrimFor(b, o)
	return model.Span{From: trim, To: max(trim, b.Length-trim)}
}

// defectsOf gives the two readings of the defects of a board.
func defectsOf(job *model.Job, b *model.Board, usable model.Span) (along, across []widened) {
	for _, d := range b.Defects {
		one := model.Board{Wood: b.Wood, Defects: []model.Defect{d}}
		for _, r := range job.WidenedRects(&one, nil) {
			r.From, r.To = max(r.From, usable.From), min(r.To, usable.To)
			if r.From >= r.To {
				continue
			}
			w := widened{Rect: r}
			for face := range w.tolerated {
				w.tolerated[face] = job.Settings.Tolerates(model.Face(face), d.Kind)
			}
			w.weak = slices.Contains(job.Settings.Weak, d.Kind)
			across = append(across, w)
			w.Left, w.Right, w.weak = 0, 0, false
			along = append(along, w)
		}
	}
	slices.SortFunc(along, compareDefects)
	slices.SortFunc(across, compareDefects)
	return along, slices.Compact(across)
}
