package cutstock

import "rackwright/nest/cutting"

// costs are what the linear programs of one problem reckon with.
type costs struct {
	unit  float64 // parts in one unit of a program, so that the dearest use of a stock costs 100
	unmet []int64 // by item, what leaving one piece unmet costs
}

// costsOf gives those of a problem. What leaving a piece unmet costs goes by its length (pieces
// over ten times the shortest count alike), and is far above any real price.
func costsOf(p *cutting.Problem) costs {
	const times = 64
	dearest := dearestOf(p)
	c := costs{unit: max(1, float64(dearest)/100)}
	for i := range p.Items {
		shortest := p.Items[i].Size
		for n := range p.Items {
			shortest = min(shortest, p.Items[n].Size)
		}
		c.unmet = append(c.unmet, int64(times*float64(dearest+1)*
			float64(min(10*shortest, p.Items[i].Size))/float64(shortest)))
	}
	return c
}

// dearestOf is what one more piece costs at most: the dearest stock with the rips that a piece may
// need, one at either side and one that trims it, each as long as the stock.
func dearestOf(p *cutting.Problem) int64 {
	var c int64
	for n := range p.Stocks {
		s := &p.Stocks[n]
		cost := s.Cost
		if s.Rippable() {
			cost += 3 * p.RipCost * (s.To - s.From)
		}
		c = max(c, cost)
	}
	return c
}
