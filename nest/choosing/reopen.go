package choosing

import (
	"math/rand/v2"

	"rackwright/nest/cutstock"
	"rackwright/nest/cutting"
)

// Reopening: some boards of the best plan are planned anew, while it is open again how all is made
// up; the other boards stay. It is a large neighbourhood search (P. Shaw, 1998). Which boards are
// opened is drawn from a fixed sequence.

const (
	reopenShare = 8   // of the work, one part of so many
	searchShare = 128 // of it, one search among patterns
	mostFailed  = 64  // in a row
	fewestOpen  = 3   // boards
	mostOpen    = 9
)

// reopen betters the best plan and its choice, with a share of the work.
func (s *search) reopen() {
	until := s.relax.Steps() + s.part(reopenShare)
	s.reopenUntil(1, func() bool { return s.hasty() || s.relax.Steps() >= until })
}

// reopenLast does so with all that is left.
func (s *search) reopenLast() { s.reopenUntil(2, s.over) }

// reopenUntil does so until it is to end, or until too many rounds in a row have failed.
func (s *search) reopenUntil(seed uint64, end func() bool) {
	rng := rand.New(rand.NewPCG(7, seed))
	s.relax.Know(s.best.Uses)
	for round, failed := 0, 0; failed < mostFailed; round++ {
		if s.closed() || end() {
			return
		}
		failed++
		opt := cutstock.Reopening{Rand: rng, Limits: s.anyhow(),
			Size: fewestOpen + rng.IntN(mostOpen-fewestOpen+1), Price: round%2 == 1,
			Cost: s.cost(&s.best, s.best.Chosen), Steps: s.part(searchShare)}
		s.relax.Rechoose(s.best.Uses, opt, func(p cutstock.Plan) int64 {
			if s.takeAsItIs(p.Uses, p.Chosen) {
				failed = 0
			}
			return s.cost(&s.best, s.best.Chosen)
		})
	}
}

// descend walks down from the relaxation, and takes the plan if it is better; false where there is
// none.
func (s *search) descend(price bool) (p cutstock.Plan, ok bool) {
	if p, ok = s.relax.Descend(s.anyhow(), price); ok {
		s.takeAsItIs(p.Uses, p.Chosen)
	}
	return p, ok
}

// anyhow limits nothing, but that there are no spare copies where supply is short.
func (s *search) anyhow() cutstock.Limits {
	limits := cutstock.NoLimits(s.p)
	for j := range limits {
		if s.noSpares && s.p.Wants[j].Forgo != cutting.Any {
			for at := range limits[j] {
				limits[j][at] = cutstock.Range{}
			}
		}
	}
	return limits
}

// takeAsItIs takes a plan without searching for a better one of the choice.
func (s *search) takeAsItIs(uses []cutting.Use, chosen []cutting.Chosen) bool {
	chosen = s.withoutVain(chosen)
	return s.take(cutstock.Known(s.ctx, s.p.Fixed(chosen), [][]cutting.Use{uses}), chosen)
}
