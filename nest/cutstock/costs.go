package cutstock

import "rackwright/nest/cutting"

// costs are what the linear programs of one problem reckon with.
type costs struct {
	unit  float64 // money units in one unit of a program, so that the dearest stock costs 100
	unmet []int64 // by item, what leaving one piece unmet costs
}

// costsOf gives those of a problem whose pricing is so fine. What leaving a piece unmet costs goes
// by its length (pieces over ten times the shortest count alike), and is far above any real price;
// where the pricing is fine it is less, as its duals have more digits and must not be cut down.
func costsOf(p *cutting.Problem, fine int64) costs {
	dearest := dearestOf(p)
	c := costs{unit: max(1, float64(dearest)/100)}
	times := 200.0
	if fine > 1 {
		times = 16
	}
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

func dearestOf(p *cutting.Problem) int64 {
	var c int64
	for s := range p.Stocks {
		c = max(c, p.Stocks[s].Cost)
	}
	return c
}
