package choosing

import (
	"cmp"
	"slices"

	"rackwright/nest/cutting"
)

// improve changes the best choice: copies of one want come about by another way. What promises most
// by the duals of the relaxation is tried first.
func (s *search) improve() {
	s.change(improveShare, func([]cutting.Chosen) bool { return !s.closed() })
}

// ties looks for choices that cost no more, with more spare copies or fewer pieces to glue.
func (s *search) ties() {
	s.change(tiesShare, func(c []cutting.Chosen) bool {
		return cmp.Or(cmp.Compare(s.spares(s.best.Chosen), s.spares(c)),
			cmp.Compare(s.pieces(c), s.pieces(s.best.Chosen))) < 0
	})
}

// mostVain is how many tries in a row may end by their share of the work.
const mostVain = 2

// change tries such neighbours of the best choice again and again. It ends where nothing gains,
// where tries end by their share of the work and gain nothing, or where its own share is spent.
func (s *search) change(share int64, such func([]cutting.Chosen) bool) {
	most, vain := s.spent+s.part(share), 0
	for gained := true; gained; {
		gained = false
		for _, c := range s.neighbours() {
			if s.over() || s.spent >= most || vain >= mostVain {
				return
			}
			before := s.spent
			if gained = such(c) && s.try(c, tryShare); gained {
				vain = 0
				break
			}
			if s.spent-before >= s.part(tryShare) {
				vain++
			}
		}
	}
}

// neighbours are choices that differ from the best in one want: one copy, or all, by another way.
// They stand in the order of what they cost more at the duals of the relaxation.
func (s *search) neighbours() [][]cutting.Chosen {
	type change struct {
		cost   float64
		chosen []cutting.Chosen
	}
	var all []change
	from := s.best.Chosen
	for j := range s.p.Wants {
		w := &s.p.Wants[j]
		if s.noSpares && w.Forgo != cutting.Any {
			continue
		}
		add := func(c []cutting.Chosen) {
			if made := copies(w, &c[j]); made >= w.Demand || w.Forgo != cutting.Any {
				all = append(all, change{s.price(j, &c[j]) - s.price(j, &from[j]), c})
			}
		}
		for a := range w.Ways {
			n := from[j].Times[a]
			if w.Forgo != cutting.Any {
				more := clone(from, j)
				if more[j].Times[a]++; copies(w, &more[j]) <= w.Demand {
					add(more)
				}
				if n > 0 {
					less := clone(from, j)
					less[j].Times[a]--
					add(less)
				}
			}
			if n == 0 {
				continue
			}
			for _, moved := range []int64{1, n} {
				freed := moved * w.Ways[a].Copies
				spare := copies(w, &from[j]) - w.Demand
				if spare > 0 {
					freed = max(1, freed-spare)
				}
				for b := range w.Ways {
					if b == a {
						continue
					}
					c := clone(from, j)
					c[j].Times[a] -= moved
					c[j].Times[b] += (freed + w.Ways[b].Copies - 1) / w.Ways[b].Copies
					add(c)
				}
				for _, set := range s.sets(j) {
					c := clone(from, j)
					c[j].Times[a] -= moved
					for range freed {
						c[j].Covers = append(c[j].Covers, set)
					}
					add(c)
				}
			}
		}
		for n := range from[j].Covers {
			for b := range w.Ways {
				c := clone(from, j)
				c[j].Covers = slices.Delete(c[j].Covers, n, n+1)
				c[j].Times[b]++
				add(c)
			}
			for _, set := range s.sets(j) {
				c := clone(from, j)
				c[j].Covers[n] = set
				add(c)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b change) int { return cmp.Compare(a.cost, b.cost) })
	out := make([][]cutting.Chosen, len(all))
	for n := range all {
		out[n] = all[n].chosen
	}
	return out
}

// copies is how many copies a choice makes, those included that are not wanted.
func copies(w *cutting.Want, c *cutting.Chosen) int64 {
	n := int64(len(c.Covers))
	for at, times := range c.Times {
		n += times * w.Ways[at].Copies
	}
	return n
}

// sets are the sets of staves of a want that relaxations have found.
func (s *search) sets(j int) []cutting.Covered { return s.relax.Sets(j) }

// price is what a choice for a want costs at the duals of the relaxation.
func (s *search) price(j int, c *cutting.Chosen) (cost float64) {
	w, pi := &s.p.Wants[j], s.root.Duals
	for at, times := range c.Times {
		cost += float64(times) * float64(w.Ways[at].Pieces) * float64(pi[w.Ways[at].Item])
	}
	for _, set := range c.Covers {
		v := &w.Covers[set.Cover]
		for at, n := range set.Counts {
			cost += float64(n*v.Layers) * float64(pi[v.Staves[at].Item])
		}
	}
	if w.Forgo != cutting.Any {
		cost += float64(w.Forgo) * float64(w.Demand-c.Made(w))
	}
	return cost
}
