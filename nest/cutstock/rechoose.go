package cutstock

import (
	"math"
	"math/rand/v2"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/lp"
)

// Choosing anew. Some stocks of a plan are opened, as in reopen.go, and with them all that was
// chosen: the integer program over the columns that are known, sets of staves free, is searched by
// branch and bound. It branches on how many of a stock are used, then on columns, then on ways.

// mostLooks is how often columns are looked for.
const mostLooks = 4

// Reopening is what some stocks of a plan are planned anew under.
type Reopening struct {
	Rand   *rand.Rand
	Limits Limits
	Size   int   // stocks to open
	Cost   int64 // what is minimised, forgone copies included, has to be less
	Price  bool  // columns are looked for anew before
	Steps  int64 // of the search among columns
}

// Rechoose plans some stocks of a plan anew. Each better plan found is given to take, which says
// what the next has to be less than.
func (c *Choosing) Rechoose(plan []cutting.Use, opt Reopening, take func(Plan) int64) {
	k := c.k
	k.rootDuals, k.incumbent = c.duals, solution{uses: plan, unmet: make([]int64, len(c.p.Items))}
	open, stay := k.choose(opt.Rand, opt.Size, c.duals)
	m := c.opened(opt.Limits, open, stay)
	near := c.near(opt.Rand, m, open)
	for n := 0; opt.Price && n < mostLooks; n++ {
		if !c.solve(m) {
			return
		}
		if c.look(m, near) == 0 {
			break
		}
	}
	if !c.solve(m) {
		return
	}
	beside := float64(k.p.Value(stay))
	search := branchAndBound[*master]{
		program: func(m *master) (*lp.Problem, int) {
			m.sync()
			return m.lp, m.added
		},
		beaten: func(m *lp.Problem) bool {
			return beside+m.Value()*k.costs.unit > float64(opt.Cost)-float64(k.coin)*(1-1e-4)
		},
		split: func(m *master) []*master {
			if m.wants.covers(m) > 0 {
				return []*master{m}
			}
			return c.split(m, func() {
				uses := wholeUses(slices.Clone(stay), m.added, m.x,
					func(j int) *cutting.Pattern { return &m.pool.cols[j].Pattern })
				opt.Cost = min(opt.Cost, take(Plan{uses, m.wants.whole(m, uses)}))
			})
		},
		done: func() bool { return false },
	}
	search.run(k, m, opt.Steps)
}

// near says of which stocks columns are looked for: those that are open, those of any number, and
// few others.
func (c *Choosing) near(rng *rand.Rand, m *master, open []cutting.Use) []bool {
	out := make([]bool, len(m.most))
	var spare []int
	for s, n := range m.most {
		out[s] = n == cutting.Any || slices.ContainsFunc(open, func(u cutting.Use) bool {
			return u.Pattern.Stock == s
		})
		if n > 0 && !out[s] {
			spare = append(spare, s)
		}
	}
	rng.Shuffle(len(spare), func(i, j int) { spare[i], spare[j] = spare[j], spare[i] })
	for _, s := range spare[:min(spareOpen, len(spare))] {
		out[s] = true
	}
	return out
}

// opened is the program of what is open, beside uses that stay, over the likeliest columns.
func (c *Choosing) opened(limits Limits, open, stay []cutting.Use) *master {
	k := c.k
	m := newMaster(k.p, k.costs, &pool{seen: map[string]*column{}})
	m.wants = c.addTo(m, limits)
	for _, u := range stay {
		m.fix(newColumn(k.p, u.Pattern), u.Times)
	}
	m.strict = true
	for _, u := range open {
		m.pool.add(newColumn(k.p, u.Pattern))
	}
	k.addLikely(m)
	return m
}

// split gives the two children of a solved node, the more likely one last; none where its solution
// is whole, which is then told.
func (c *Choosing) split(m *master, whole func()) []*master {
	if children := m.children(); children != nil {
		return children
	}
	w := m.wants
	for j := range w.ways {
		at := leastWhole(len(w.ways[j]), func(n int) float64 { return m.lp.X(w.ways[j][n]) })
		if at < 0 {
			continue
		}
		x := m.lp.X(w.ways[j][at])
		down, up := m.clone(), m
		down.wants.limit(down, j, at, Range{w.limits[j][at].Least, int64(math.Floor(x))})
		up.wants.limit(up, j, at, Range{int64(math.Ceil(x)), w.limits[j][at].Most})
		return []*master{down, up}
	}
	whole()
	return nil
}

// limit limits how often a way may be used.
func (w *wanting) limit(m *master, want, way int, r Range) {
	w.limits[want][way] = r
	m.lp.SetColumn(w.ways[want][way], float64(r.Least), upper(r.Most))
}
