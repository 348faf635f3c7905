package choosing

import (
	"cmp"
	"encoding/binary"
	"slices"

	"rackwright/nest/cutstock"
	"rackwright/nest/cutting"
)

// key tells choices apart: those of the same key ask for the same pieces.
func key(chosen []cutting.Chosen) string {
	var b []byte
	for j := range chosen {
		for _, n := range chosen[j].Times {
			b = binary.AppendVarint(b, n)
		}
		for _, c := range chosen[j].Covers {
			b = binary.AppendVarint(b, int64(c.Cover)+1)
			for _, n := range c.Counts {
				b = binary.AppendVarint(b, n)
			}
		}
		b = binary.AppendVarint(b, -1)
	}
	return string(b)
}

// clone is a copy of a choice, of which one want may be changed.
func clone(chosen []cutting.Chosen, j int) []cutting.Chosen {
	out := slices.Clone(chosen)
	out[j].Times = slices.Clone(out[j].Times)
	out[j].Covers = slices.Clone(out[j].Covers)
	return out
}

// withoutVain is a choice without uses but for which there would still be enough copies.
func (s *search) withoutVain(chosen []cutting.Chosen) []cutting.Chosen {
	chosen = slices.Clone(chosen)
	for j := range chosen {
		w := &s.p.Wants[j]
		for at := len(w.Ways) - 1; at >= 0; at-- {
			more := copies(w, &chosen[j]) - w.Demand
			vain := min(chosen[j].Times[at], more/w.Ways[at].Copies)
			if vain > 0 {
				chosen[j] = clone(chosen, j)[j]
				chosen[j].Times[at] -= vain
			}
		}
	}
	return chosen
}

// none is the choice of nothing.
func none(w *cutting.Want) cutting.Chosen {
	return cutting.Chosen{Times: make([]int64, len(w.Ways))}
}

// spares is how many spare copies a choice makes, and pieces of how many pieces it has to be made.
func (s *search) spares(chosen []cutting.Chosen) (n int64) {
	for j := range chosen {
		if w := &s.p.Wants[j]; w.Forgo != cutting.Any {
			n += chosen[j].Made(w)
		}
	}
	return n
}

func (s *search) pieces(chosen []cutting.Chosen) (n int64) {
	for j := range chosen {
		w := &s.p.Wants[j]
		for at, times := range chosen[j].Times {
			n += times * w.Ways[at].Pieces
		}
		for _, c := range chosen[j].Covers {
			for _, k := range c.Counts {
				n += k * w.Covers[c.Cover].Layers
			}
		}
	}
	return n
}

// cutDown leaves of a choice what a plan can make, and wants no more than that from here on. Of
// several plans that one stands which leaves least short.
func (s *search) cutDown(plans ...[]cutting.Use) {
	var chosen []cutting.Chosen
	var r cutstock.Result
	for n, uses := range plans {
		c, now := s.lowered(uses)
		if n == 0 || cmp.Or(cmp.Compare(s.lacks(c, &now), s.lacks(chosen, &r)),
			cmp.Compare(now.Value, r.Value)) < 0 {
			chosen, r = c, now
		}
	}
	p := *s.p
	p.Items, p.Wants = slices.Clone(p.Items), slices.Clone(p.Wants)
	for i, n := range r.Unmet {
		p.Items[i].Demand -= n
		s.unmet[i] += n
	}
	for j := range p.Wants {
		if w := &p.Wants[j]; w.Forgo == cutting.Any {
			w.Demand = chosen[j].Made(w)
		} else {
			chosen[j] = none(w)
		}
	}
	s.p, s.noSpares, s.rule, s.relax = &p, true, chosen, nil
	s.best = cutstock.Known(s.ctx, s.p.Fixed(chosen), [][]cutting.Use{r.Uses})
	s.best.Chosen = chosen
	s.bound, s.proof = cutstock.Free(s.p)
	s.plainBound, s.plain = s.bound, s.proof
}

// lowered is the rule's choice, as far as a plan meets it. A way whose pieces are short is used
// less; what is short even so is so for the items themselves.
func (s *search) lowered(uses []cutting.Use) ([]cutting.Chosen, cutstock.Result) {
	chosen := slices.Clone(s.rule)
	r := cutstock.Known(s.ctx, s.p.Fixed(chosen), [][]cutting.Use{uses})
	for short(r.Unmet) && s.lower(chosen, r.Unmet) {
		r = cutstock.Known(s.ctx, s.p.Fixed(chosen), [][]cutting.Use{r.Uses})
	}
	return chosen, r
}

// lacks is how long all is together that a plan for a choice leaves short.
func (s *search) lacks(chosen []cutting.Chosen, r *cutstock.Result) (sum int64) {
	for i, n := range r.Unmet {
		sum += n * s.p.Items[i].Size
	}
	for j := range chosen {
		if w := &s.p.Wants[j]; w.Forgo == cutting.Any {
			sum += (w.Demand - chosen[j].Made(w)) * w.Size
		}
	}
	return sum
}

// lower uses a way less whose pieces are short; false where there is none.
func (s *search) lower(chosen []cutting.Chosen, unmet []int64) bool {
	for j := range chosen {
		w := &s.p.Wants[j]
		for at, n := range chosen[j].Times {
			way := &w.Ways[at]
			if n > 0 && unmet[way.Item] > 0 {
				less := min(n, (unmet[way.Item]+way.Pieces-1)/way.Pieces)
				chosen[j] = clone(chosen, j)[j]
				chosen[j].Times[at] -= less
				return true
			}
		}
		for at, c := range chosen[j].Covers {
			for k, n := range c.Counts {
				if n > 0 && unmet[w.Covers[c.Cover].Staves[k].Item] > 0 {
					chosen[j] = clone(chosen, j)[j]
					chosen[j].Covers = slices.Delete(chosen[j].Covers, at, at+1)
					return true
				}
			}
		}
	}
	return false
}
