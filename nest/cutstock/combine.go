package cutstock

import (
	"math"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/lp"
)

// combine looks for the best plan that the columns found so far can make, by branch and bound on
// that integer program: first on how many of a stock are used, then on single columns, under the
// limits of a master. What it finds says nothing of the bound: other columns may do better. work is
// how much it may take.
func (k *solver) combine(root *master, work int64) { k.combineIn(root, nil, work) }

// combineIn does so beside uses that are kept as they are; the master is that of what is left.
func (k *solver) combineIn(root *master, kept []cutting.Use, work int64) {
	beside := float64(k.p.Value(kept))
	m := k.promising(root, beside)
	if m == nil {
		return
	}
	open := []*master{m}
	limit := k.meter.Steps + work
	for n := 1; len(open) > 0 && k.meter.Steps < limit && !k.over() && !k.closed(); n++ {
		if n%64 == 0 {
			k.observe("columns")
		}
		m := open[len(open)-1]
		open = open[:len(open)-1]
		before := m.lp.Work()
		status := m.lp.Solve()
		k.meter.Add(m.lp.Work() - before + int64(m.added))
		// Values are whole money: a node within one unit of the incumbent is of no use.
		if status != lp.Optimal || beside+m.lp.Value()*m.unit > k.cutoff()-1+1e-4 {
			continue
		}
		open = append(open, k.split(m, kept)...)
	}
}

// cutoff is what a plan must cost less than, penalties for unmet pieces included.
func (k *solver) cutoff() float64 {
	v := float64(k.best.value)
	for i, n := range k.best.unmet {
		v += float64(n) * float64(k.costs.unmet[i])
	}
	return v
}

// promising makes the program of the columns whose reduced costs still allow a better plan under
// the limits of a master.
func (k *solver) promising(root *master, beside float64) *master {
	root.sync()
	if root.lp.Solve() != lp.Optimal {
		return nil
	}
	slack := (k.cutoff()-beside)/root.unit - root.lp.Value()
	some := &pool{seen: map[string]bool{}}
	for j, c := range root.pool.cols {
		if root.lp.ReducedCost(root.index(j)) <= slack {
			some.add(c)
		}
	}
	m := newMaster(root.p, root.costs, some, nil)
	for s := range m.most {
		if m.least[s] != root.least[s] || m.most[s] != root.most[s] {
			m.restrict(s, root.least[s], root.most[s])
		}
	}
	m.purge()
	return m
}

// split gives the two children of a solved node, the more likely one last; none where its solution
// is whole, which is then offered.
func (k *solver) split(m *master, kept []cutting.Use) []*master {
	if s, z := m.fractionalStock(); s >= 0 {
		down, up := m.clone(), m
		down.restrict(s, m.least[s], int64(math.Floor(z)))
		up.restrict(s, int64(math.Ceil(z)), m.most[s])
		if z-math.Floor(z) < 0.5 {
			return []*master{up, down}
		}
		return []*master{down, up}
	}
	at, away := -1, 1e-6
	for j := range m.pool.cols[:m.added] {
		if x := m.x(j); math.Abs(x-math.Round(x)) > away {
			at, away = j, math.Abs(x-math.Round(x))
		}
	}
	if at < 0 {
		uses := slices.Clone(kept)
		for j, c := range m.pool.cols[:m.added] {
			if n := int64(math.Round(m.x(j))); n > 0 {
				uses = append(uses, cutting.Use{Pattern: c.Pattern, Times: n})
			}
		}
		k.offer(uses)
		return nil
	}
	x := m.x(at)
	down, up := m.clone(), m
	least, most := m.times[at][0], math.Inf(1)
	if b, ok := m.times[at]; ok {
		most = b[1]
	}
	down.bound(at, least, math.Floor(x))
	up.bound(at, math.Ceil(x), most)
	return []*master{down, up}
}

// fractionalStock is the stock whose use is least whole in the relaxation, and that use; -1 if all
// are whole.
func (m *master) fractionalStock() (int, float64) {
	used := make([]float64, len(m.p.Stocks))
	for j, c := range m.pool.cols[:m.added] {
		used[c.Stock] += m.x(j)
	}
	at, away := -1, 1e-6
	for s, z := range used {
		if d := math.Abs(z - math.Round(z)); d > away {
			at, away = s, d
		}
	}
	if at < 0 {
		return -1, 0
	}
	return at, used[at]
}
