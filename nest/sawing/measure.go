package sawing

import "rackwright/model"

// stand is where a stop or fence stands: for which wood, and how far from the blade. The blade is
// as high as the wood is thick.
type stand struct {
	wood
	length model.Length
}

// measure says what an order of work takes.
func (s *shop) measure(order []cut) (m model.WayOfWork) {
	stands := map[string]stand{} // by saw
	for n, c := range order {
		row := &s.units[c.unit].Cuts[c.at]
		if to := s.stand(c); to.length > 0 && stands[row.Saw] != to {
			stands[row.Saw] = to
			m.Settings++
		}
		if n == 0 || order[n-1].unit != c.unit {
			m.Lifts++
		}
	}
	w := s.job.Settings.Work
	m.Minutes = model.Minutes(m.Settings)*w.Setting + model.Minutes(m.Lifts)*w.Lift
	m.Open = s.open(order)
	return m
}

// open is the most commissions that are begun and not finished at once. One is begun with the first
// cut of a board that has a blank of it, and finished with the last one of such boards.
func (s *shop) open(order []cut) (most int) {
	left := make([]int, s.parties) // cuts, by commission
	each := func(c cut, do func(who int)) {
		for _, who := range s.whose[s.units[c.unit].Board] {
			do(who)
		}
	}
	for _, c := range order {
		each(c, func(who int) { left[who]++ })
	}
	begun, open := make([]bool, s.parties), 0
	for _, c := range order {
		each(c, func(who int) {
			if !begun[who] {
				begun[who] = true
				open++
			}
		})
		most = max(most, open)
		each(c, func(who int) {
			if left[who]--; left[who] == 0 {
				open--
			}
		})
	}
	return most
}
