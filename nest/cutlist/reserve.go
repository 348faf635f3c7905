package cutlist

import "rackwright/model"

// The reserve. Not all that a yard sells is clear. Of a material of which only a share u is usable
// the plan buys more than it uses. For each material and section of which it buys boards,
//
//	L	their length in all
//	e	the length of the reserve in all: (L + e) u >= L
//
// Boards of the reserve are of that material and section, from what is then left for sale. Each of
// them holds every part that the plan cuts from bought boards of that wood, so that it can stand in
// for any of these. "Long enough for the longest blank" alone would let a narrow board of a lot of
// random widths stand in for a wide one.
//
// While no single board is as long as what is still missing, one more is taken of those that cost
// least per length, tax counted. Then the cheapest single board that is as long is taken. Of equals
// the first in yard.csv. Where all does not suffice the reserve stays short of e, and the summary
// says so.
//
// It is chosen after planning and without a search, so that it can be redone by hand. Value, bound
// and costs know nothing of it. Of a row without a number model.MostReserve boards are for sale,
// and u is at least 0.01, so no count leaves what buy.csv may hold.

// lot is what is bought of one material and section.
type lot struct {
	bought model.Length
	parts  map[*model.Part]bool
}

// spare is an offer that may be bought as a reserve.
type spare struct {
	offer  int // index of Job.Yard
	length int64
	cost   int64 // of one board, with tax
	left   int64
}

// reserve is how many boards of each offer to buy on top of those used.
func reserve(job *model.Job, boards []*Board) []int64 {
	lots, taken := map[model.WoodKind]*lot{}, make([]int64, len(job.Yard))
	var order []model.WoodKind
	for _, b := range boards {
		if b.Offer == nil {
			continue
		}
		taken[b.Row]++
		k := b.Kind()
		if lots[k] == nil {
			lots[k], order = &lot{parts: map[*model.Part]bool{}}, append(order, k)
		}
		lots[k].bought += b.Length
		for _, p := range b.Pieces {
			lots[k].parts[&job.Parts[p.Part]] = true
		}
	}
	extra := make([]int64, len(job.Yard))
	for _, k := range order {
		need := job.Settings.ReserveFor(k.Material, lots[k].bought)
		if need == 0 {
			continue
		}
		var spares []*spare
		for i := range job.Yard {
			if o := &job.Yard[i]; o.Kind() == k && lots[k].heldBy(job, o) {
				s := &spare{i, int64(o.Length), int64(job.PaidFor(o)), model.MostReserve}
				if n := job.ForSale(o); n != nil {
					s.left = *n - taken[i]
				}
				spares = append(spares, s)
			}
		}
		choose(spares, int64(need), extra)
	}
	return extra
}

func (l *lot) heldBy(job *model.Job, o *model.Offer) bool {
	for p := range l.parts {
		if ok, _ := job.Holds(p, &model.Board{Wood: o.Wood}, model.FromYard); !ok {
			return false
		}
	}
	return true
}

// choose adds to extra, by offer, the boards of spares that come to the length need, by the rule at
// the head of this file. Where all of them do not suffice, it adds all.
func choose(spares []*spare, need int64, extra []int64) {
	for need > 0 {
		var cheapest, last *spare
		longest := int64(0)
		for _, s := range spares {
			if s.left == 0 {
				continue
			}
			longest = max(longest, s.length)
			if cheapest == nil || s.cost*cheapest.length < cheapest.cost*s.length {
				cheapest = s
			}
			if s.length >= need && (last == nil || s.cost < last.cost) {
				last = s
			}
		}
		switch {
		case last != nil:
			extra[last.offer]++
			return
		case cheapest == nil:
			return
		}
		// so many before one board will do
		n := min(cheapest.left, (need-longest+cheapest.length-1)/cheapest.length)
		extra[cheapest.offer] += n
		cheapest.left -= n
		need -= n * cheapest.length
	}
}
