package cuts

import (
	"cmp"
	"math"
	"slices"
)

// Which cuts are tried. A row of the basis whose variable is not whole gives multipliers u. Those
// of Gomory's cut are u modulo 1; of t u for t = 2, 3, 4 come others. Over their own denominator
// they may have large numbers. So each is tried rounded to denominators of 2 to 24 as well: that is
// another cut, as true as any. Of each row of the basis the one that is violated most is taken.
//
// Below the root fewer are tried. To try them all takes longer there than the linear programs, and
// a split gains more. This was measured.

const (
	mostTimes  = 4
	mostSmall  = 24
	timesBelow = 1 // below the root
	smallBelow = 8
	violation  = 1e-4 // the least depth of a cut
	fractional = 1e-5 // from whole, that a variable must be
)

// found is a cut and how deep it cuts: how far it is violated, by the length of its row over the
// patterns in use.
type found struct {
	cut   *Cut
	depth float64
}

// separator tries cuts against one relaxation.
type separator struct {
	*relaxation
	used  []int     // entries in use
	x     []float64 // and how much
	coefs [][]int64 // of each row of the linear program, by entry in use
	least []int64
	alpha []int64
	extra []int64
}

// violated finds the cuts that the relaxation violates most; none where it is whole.
func (m *relaxation) violated() (cuts []*Cut) {
	s := &separator{relaxation: m}
	var sources [][]float64
	part := func(v float64) bool { return math.Abs(v-math.Round(v)) > fractional }
	for _, j := range m.entry {
		x := m.x(j)
		if x > 1e-9 {
			s.used, s.x = append(s.used, j), append(s.x, x)
		}
		if part(x) {
			sources = append(sources, m.lp.ColumnMultipliers(m.offset+m.column[j]))
		}
	}
	for at := range m.rowOf {
		if part(m.lp.Activity(at)) {
			sources = append(sources, m.lp.RowMultipliers(at))
		}
	}
	for _, r := range m.rowOf {
		least, _ := m.leastOf(r)
		row := make([]int64, len(s.used))
		for n, j := range s.used {
			row[n] = m.coef(r, j)
		}
		s.coefs, s.least = append(s.coefs, row), append(s.least, least)
	}
	s.alpha, s.extra = make([]int64, len(s.used)), make([]int64, len(s.used))
	var all []found
	for _, u := range sources {
		if best := s.bestOf(u); best.cut != nil && !slices.ContainsFunc(all, func(f found) bool {
			return f.cut.Den == best.cut.Den && slices.Equal(f.cut.Rows, best.cut.Rows)
		}) {
			all = append(all, best)
		}
	}
	slices.SortStableFunc(all, func(a, b found) int { return cmp.Compare(b.depth, a.depth) })
	for _, f := range all[:min(len(all), cutsOfRound)] {
		cuts = append(cuts, f.cut)
	}
	return cuts
}

// bestOf is the deepest cut of the multipliers of a row of the basis; none where none is violated.
func (s *separator) bestOf(u []float64) (best found) {
	best.depth = violation
	try := func(v []float64, den int64) {
		c := s.cutOf(v, den)
		if c == nil {
			return
		}
		if depth := s.depth(c); depth > best.depth {
			best = found{c, depth}
		}
	}
	v := make([]float64, len(u))
	times, small := mostTimes, int64(mostSmall)
	if s.level > 0 {
		times, small = timesBelow, smallBelow
	}
	for t := 1; t <= times; t++ {
		for at := range u {
			w := u[at] * float64(t)
			if w -= math.Floor(w); w < 1e-7 || w > 1-1e-7 {
				w = 0
			}
			v[at] = w
		}
		try(v, denominator(v))
		for den := int64(2); den <= small; den++ {
			try(v, den)
		}
	}
	return best
}

// cutOf makes whole multipliers over a denominator; nil where all are 0. Rows are those of the
// linear program until the cut is chosen: their numbers rise with them.
func (s *separator) cutOf(u []float64, den int64) *Cut {
	c := &Cut{Den: den}
	for at, v := range u {
		if v == 0 {
			continue
		}
		if w := int64(math.Round(v*float64(den))) % den; w != 0 {
			c.Rows = append(c.Rows, RowOf{s.rowOf[at], w})
		}
	}
	if len(c.Rows) == 0 {
		return nil
	}
	return c
}

// depth is how far the relaxation violates a cut.
func (s *separator) depth(c *Cut) float64 {
	g, least, ok := s.ends(c)
	if !ok {
		return 0
	}
	clear(s.alpha)
	clear(s.extra)
	at := 0
	for _, r := range c.Rows {
		for s.rowOf[at] != r.Row {
			at++
		}
		back := g.of(-r.Multiplier)
		for n, a := range s.coefs[at] {
			s.alpha[n] += r.Multiplier * a
			s.extra[n] += back * a
		}
	}
	s.Meter.Add(int64(2 * len(c.Rows) * len(s.used)))
	left, norm := float64(least), 0.0
	for n, a := range s.alpha {
		v := float64(g.of(a) + s.extra[n])
		left -= v * s.x[n]
		norm += v * v
	}
	return left / math.Sqrt(norm+1e-9)
}
