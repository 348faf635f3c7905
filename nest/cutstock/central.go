package cutstock

import (
	"math"
	"math/rand/v2"
)

// Central duals. A node may have many duals with the greatest bound. Those of its linear program
// are a corner of them, and a pattern that costs nothing beyond a corner is on the list: there may
// be millions. Beyond the mean of some corners it costs nothing only where it does beyond each. So
// that list is short, and the bound of the mean is no lower, as bounds are concave in the duals.
//
// Corners are those of programs whose demands are changed by a little, this way and that.
// Measured on bins to be filled to the brim: some hundred patterns in place of over 500,000.

const (
	mostCorners = 5
	nudge       = 0.05 // of a piece: by how much a demand is changed at most
)

// centralList moves a node to the mean of some corners, as soon as its list up to a cost is short
// enough there, and gives the list.
func (k *solver) centralList(n *node, cost int64, most int) ([]*column, bool) {
	k.precise = true
	defer func() { k.precise = false }()
	rng := rand.New(rand.NewPCG(1, 1))
	sum := make([]float64, len(n.duals))
	for corners := 1; corners <= mostCorners && !k.over(); corners++ {
		m := n.m.clone()
		for i, d := range m.demand {
			if corners > 1 { // the first is that of the node itself, more precisely
				m.lp.SetRow(i, float64(d)+nudge*(2*rng.Float64()-1), math.Inf(1))
			}
		}
		at, done := k.generate(m)
		if !done {
			return nil, false
		}
		mean := make([]int64, len(sum))
		for i := range sum {
			sum[i] += float64(at[i])
			mean[i] = int64(sum[i] / float64(corners))
		}
		if corners == 1 { // its list was too long
			continue
		}
		c, ok := *n, false
		if c.proven, ok = k.prove(m, mean); !ok {
			return nil, false
		}
		if list, ok := k.list(&c, cost, most); ok {
			n.proven = c.proven
			return list, true
		}
	}
	return nil, false
}
