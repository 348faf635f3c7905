package across

import (
	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// Maker makes the pricers of stocks with Across. Stocks that are alike but for their length
// share a table.
type Maker struct {
	p      *cutting.Problem
	m      *price.Meter
	tables clearTables
}

// NewMaker makes none yet.
func NewMaker(p *cutting.Problem, m *price.Meter) *Maker { return &Maker{p: p, m: m} }

// Pricer prices a stock.
func (k *Maker) Pricer(stock int) price.Pricer { return newPricer(k.p, stock, &k.tables, k.m) }
