package sawing

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/model"
	"rackwright/nest/cutlist"
)

// randomShop has a few boards with a few cuts: settings from a few lengths, some cuts at marks, two
// kinds of wood, one to four passes.
func randomShop(r *rand.Rand, boards, lengths int) *shop {
	s := &shop{job: &model.Job{}, parties: 1 + r.IntN(4)}
	s.job.Settings.Work = model.WorkTimes{Setting: model.Minutes(r.IntN(4) * 500),
		Lift: model.Minutes(r.IntN(4) * 500)}
	kinds := []wood{{"oak", "4/4"}, {"oak", "8/4"}}
	for b := range boards {
		s.wood = append(s.wood, kinds[r.IntN(2)*r.IntN(2)])
		s.unitsOf = append(s.unitsOf, nil)
		var whose []int
		for who := range s.parties {
			if r.IntN(2) == 0 || who == s.parties-1 && whose == nil {
				whose = append(whose, who)
			}
		}
		s.whose = append(s.whose, whose)
		step := 0
		for p, last := 1+r.IntN(2), 1+r.IntN(4); p <= last; p++ {
			for range 1 + r.IntN(2) {
				u := cutlist.Unit{Board: b}
				for range 1 + r.IntN(3) {
					step++
					u.Cuts = append(u.Cuts, model.Sawing{Pass: p,
						Saw:     []string{model.Rip, model.Crosscut}[p%2],
						Setting: model.Length(r.IntN(lengths + 1)), Board: fmt.Sprint("B", b),
						Step: step})
				}
				s.unitsOf[b] = append(s.unitsOf[b], len(s.units))
				s.units = append(s.units, u)
			}
		}
	}
	s.due = make([]int64, s.parties)
	return s
}

// brute looks for the least minutes in all orders, pass by pass, without any word of how they are
// found elsewhere: the next cut is the next one of any unit of the pass.
type brute struct {
	*shop
	known map[string]model.Minutes
}

func (b *brute) least(done []int, hand int, stop, fence stand) model.Minutes {
	key := fmt.Sprint(done, hand, stop, fence)
	if m, known := b.known[key]; known {
		return m
	}
	pass := 0
	for u := range b.units {
		if p := b.units[u].Cuts[0].Pass; done[u] < len(b.units[u].Cuts) && (pass == 0 || p < pass) {
			pass = p
		}
	}
	best := model.Minutes(-1)
	for u := range b.units {
		if done[u] == len(b.units[u].Cuts) || b.units[u].Cuts[0].Pass != pass {
			continue
		}
		var m model.Minutes
		if u != hand {
			m += b.job.Settings.Work.Lift
		}
		row, s, f := &b.units[u].Cuts[done[u]], stop, fence
		to := stand{b.wood[b.units[u].Board], row.Setting}
		if row.Setting > 0 && row.Saw == model.Rip && f != to {
			f, m = to, m+b.job.Settings.Work.Setting
		} else if row.Setting > 0 && row.Saw == model.Crosscut && s != to {
			s, m = to, m+b.job.Settings.Work.Setting
		}
		done[u]++
		m += b.least(done, u, s, f)
		done[u]--
		if best < 0 || m < best {
			best = m
		}
	}
	b.known[key] = max(0, best)
	return max(0, best)
}

// The minutes of least time are those of a brute force, on hundreds of random small shops.
func TestLeastTimeIsLeast(t *testing.T) {
	r, cuts, met := rand.New(rand.NewPCG(11, 29)), 0, 0
	for n := range 600 {
		s := randomShop(r, 1+r.IntN(3), 1+r.IntN(4))
		order := s.leastTime(t.Context())
		wantWhole(t, s, order)
		b := brute{s, map[string]model.Minutes{}}
		want := b.least(make([]int, len(s.units)), -1, stand{}, stand{})
		if got := s.measure(order).Minutes; got != want {
			t.Fatalf("shop %d: %v minutes, %v will do: %+v", n, got, want, s.units)
		}
		cuts += len(order)
		if len(order) > 8 {
			met++
		}
	}
	if cuts < 4000 || met < 200 {
		t.Errorf("%d cuts in all, %d shops of more than 8", cuts, met)
	}
}

// wantWhole sees that an order has every cut once, those of a unit in turn, and none of a board
// before those of an earlier pass.
func wantWhole(t *testing.T, s *shop, order []cut) {
	t.Helper()
	at, left := make([]int, len(s.units)), map[[2]int]int{} // by board and pass
	for u := range s.units {
		left[[2]int{s.units[u].Board, s.pass(u)}] += len(s.units[u].Cuts)
	}
	for _, c := range order {
		if at[c.unit] != c.at {
			t.Fatalf("cut %d of unit %d comes when %d are made", c.at, c.unit, at[c.unit])
		}
		at[c.unit]++
		b, p := s.units[c.unit].Board, s.pass(c.unit)
		for before := range p {
			if left[[2]int{b, before}] > 0 {
				t.Fatalf("board %d: pass %d comes before pass %d", b, p, before)
			}
		}
		left[[2]int{b, p}]--
	}
	for u := range s.units {
		if at[u] != len(s.units[u].Cuts) {
			t.Fatalf("unit %d has %d of %d cuts", u, at[u], len(s.units[u].Cuts))
		}
	}
}

// Where the exact search is left out, the beam search is never better than the brute force, seldom
// worse, and comes to the cost that its visits have.
func TestBeamIsNearlyLeast(t *testing.T) {
	r, least, all := rand.New(rand.NewPCG(3, 8)), int64(0), int64(0)
	var best int
	const shops = 400
	for range shops {
		s := randomShop(r, 4, 4)
		s.job.Settings.Work = model.WorkTimes{Setting: 1500, Lift: 500}
		var units []int
		for u := range s.units {
			if s.pass(u) == 1 && s.wood[s.units[u].Board] == s.wood[0] {
				units = append(units, u)
			}
		}
		w := s.wordsOf(units)
		if len(w.units) == 0 {
			continue
		}
		exact := w.exact(none)
		found := append(w.beam(t.Context(), none), w.unitByUnit(none))
		for _, p := range append(slices.Clone(found), exact...) {
			if got, end := w.cost(p.visits, none); got != p.cost || end != p.end {
				t.Fatalf("visits take %d and end with %d, not %d and %d", got, end, p.cost, p.end)
			}
		}
		low := slices.MinFunc(found, func(a, b plan) int { return int(a.cost - b.cost) })
		if low.cost < exact[0].cost {
			t.Fatalf("the beam found %d, the exact search %d: %v", low.cost, exact[0].cost, w.word)
		}
		if low.cost == exact[0].cost {
			best++
		}
		least, all = least+exact[0].cost, all+low.cost
	}
	t.Logf("%d as good as the exact search; in all %d of %d", best, all, least)
	if all > least+least/100 {
		t.Errorf("the beam takes %d, %d will do", all, least)
	}
}
