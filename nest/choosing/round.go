package choosing

import (
	"cmp"
	"math"
	"slices"

	"rackwright/nest/cutstock"
	"rackwright/nest/cutting"
)

// mostRelaxed is how many wants are made whole one after the other, each by a relaxation anew.
const mostRelaxed = 16

// whole is how near to a whole number a number is taken for it.
const whole = 1e-6

// round makes choices of the relaxation. Plans are walked down to with their choices, of which the
// first is tried; so is the choice with all wants made whole at once. The best plan is bettered
// (reopen.go). Then a choice is tried whose wants were made whole one after the other. Work is left
// for planning the best for long.
func (s *search) round() {
	s.relax.Until(s.opt.Work - s.spent - s.part(lastShare))
	if p, ok := s.descend(true); ok {
		s.try(p.Chosen, roundShare)
	}
	s.descend(false)
	s.try(s.nearest(&s.root), roundShare)
	s.reopen()
	limits, r := cutstock.NoLimits(s.p), s.root
	for n := 0; n < mostRelaxed && !s.hasty(); n++ {
		j := s.mostWhole(&r, limits)
		if j < 0 {
			break
		}
		for at, times := range s.nearest(&r)[j].Times {
			limits[j][at] = cutstock.Range{Least: times, Most: times}
		}
		next, ok := s.relax.Relax(limits, s.relax.AllBoards(false), s.goal())
		if !ok {
			break
		}
		r = next
	}
	if s.hasty() {
		return
	}
	s.try(s.nearest(&r), roundShare)
}

// try tries a choice that has not been tried yet, with a part of the work. It begins with the best
// plan, as far as that has pieces that are wanted.
func (s *search) try(chosen []cutting.Chosen, share int64) bool {
	chosen = s.withoutVain(chosen)
	if s.tried[key(chosen)] || s.over() {
		return false
	}
	return s.take(s.plan(chosen, s.part(share), [][]cutting.Use{s.best.Uses}), chosen)
}

// mostWhole is the want, of those not whole and without covers, that is nearest to whole; -1: none.
func (s *search) mostWhole(r *cutstock.Relaxed, limits cutstock.Limits) int {
	best, least := -1, math.Inf(1)
	for j := range s.p.Wants {
		if len(s.p.Wants[j].Covers) > 0 || isFixed(limits[j]) {
			continue
		}
		off := 0.0
		for _, x := range r.Times[j] {
			off = max(off, math.Abs(x-math.Round(x)))
		}
		if off > whole && off < least {
			best, least = j, off
		}
	}
	return best
}

// isFixed says whether ranges leave one number for each way.
func isFixed(ranges []cutstock.Range) bool {
	return !slices.ContainsFunc(ranges, func(r cutstock.Range) bool { return r.Least != r.Most })
}

// nearest makes a relaxation whole: each way and each set of staves is used as many whole times as
// it is, and the copies that are still wanted come by those with the greatest rest.
func (s *search) nearest(r *cutstock.Relaxed) []cutting.Chosen {
	out := make([]cutting.Chosen, len(s.p.Wants))
	for j := range out {
		w := &s.p.Wants[j]
		if out[j] = none(w); s.noSpares && w.Forgo != cutting.Any {
			continue
		}
		type rest struct {
			part   float64
			way    int // len(w.Ways) and more: a set of staves; -1: forgone
			copies int64
		}
		var rests []rest
		take := func(x float64, way int, copies int64, n func(times int64)) {
			times := math.Floor(x + whole)
			n(int64(times))
			rests = append(rests, rest{x - times, way, copies})
		}
		left := w.Demand
		for at, x := range r.Times[j] {
			take(x, at, w.Ways[at].Copies, func(n int64) {
				out[j].Times[at] += n
				left -= n * w.Ways[at].Copies
			})
		}
		for at, x := range r.Covers[j] {
			take(x, len(w.Ways)+at, 1, func(n int64) {
				for range n {
					out[j].Covers = append(out[j].Covers, r.Sets[j][at])
				}
				left -= n
			})
		}
		if w.Forgo != cutting.Any {
			take(r.Forgone[j], -1, 1, func(n int64) { left -= n })
		}
		slices.SortStableFunc(rests, func(a, b rest) int { return cmp.Compare(b.part, a.part) })
		for n := 0; left > 0 && len(rests) > 0; n = (n + 1) % len(rests) {
			switch at := rests[n].way; {
			case at < 0:
			case at < len(w.Ways):
				out[j].Times[at]++
			default:
				out[j].Covers = append(out[j].Covers, r.Sets[j][at-len(w.Ways)])
			}
			left -= rests[n].copies
		}
		slices.SortStableFunc(out[j].Covers, func(a, b cutting.Covered) int {
			return cmp.Or(cmp.Compare(a.Cover, b.Cover), slices.Compare(a.Counts, b.Counts))
		})
	}
	return out
}
