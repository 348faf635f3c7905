package across

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// Maker makes the pricers of the stocks with Across of one problem. Stocks that differ in length
// and spots only share a table.
type Maker struct {
	p      *cutting.Problem
	meter  *price.Meter
	tables clearTables
}

// NewMaker makes a maker for the stocks of p. Its pricers count their work on the meter.
func NewMaker(p *cutting.Problem, meter *price.Meter) *Maker {
	return &Maker{p: p, meter: meter}
}

// Pricer makes the pricer of a stock that has Across.
func (k *Maker) Pricer(stock int) price.Pricer {
	return newPricer(k.p, stock, &k.tables, k.meter)
}

// clearTables are the tables made so far.
type clearTables []*clearTable

// tableKey is what stocks that share a table have in common, besides the items that they hold.
type tableKey struct {
	step, keep, slope, strip                              int64
	width, inset, narrowestOffcut, shortestRip, narrowest int64
	trim                                                  bool
}

// forStock gives the table of a stock and a step across: one made before, or a new one.
func (all *clearTables) forStock(p *cutting.Problem, s *cutting.Stock, step int64) *clearTable {
	a := s.Across
	key := tableKey{step: step, keep: s.Keep, slope: s.Slope, strip: a.Strip, width: a.Width,
		inset:           a.Inset,
		narrowestOffcut: a.Keep, shortestRip: a.ShortestRip, narrowest: a.Narrowest, trim: a.Trim}
	for _, t := range *all {
		if t.key == key && slices.Equal(t.stock.Holds, s.Holds) &&
			slices.Equal(t.across.Whole, a.Whole) {
			return t
		}
	}
	t := newClearTable(p, s, step)
	t.key = key
	*all = append(*all, t)
	return t
}
