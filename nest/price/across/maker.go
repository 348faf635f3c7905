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
	budget *price.Budget
	tables []*clearTable

	lent lent

	pricers    []*pricer
	shapeItems int // of all strip shapes that these keep
}

// NewMaker makes a maker for the stocks of p. Its pricers count their work on the meter, and keep
// to a budget.
func NewMaker(p *cutting.Problem, meter *price.Meter, budget *price.Budget) *Maker {
	return &Maker{p: p, meter: meter, budget: budget}
}

// Pricer makes the pricer of a stock that has Across; nil where its tables would be too large, or a
// pricing too long.
func (k *Maker) Pricer(stock int) price.Pricer {
	if r := k.newPricer(stock); r != nil {
		return r
	}
	return nil
}

// tableKey is what stocks that share a table have in common, besides the items that they hold.
type tableKey struct {
	step, keep, slope, strip                              int64
	width, inset, narrowestOffcut, shortestRip, narrowest int64
	trim                                                  bool
}

// tableOf gives the table of a stock and a step across: one made before, or a new one; nil where it
// would be too large.
func (k *Maker) tableOf(s *cutting.Stock, step int64) *clearTable {
	a := s.Across
	key := tableKey{step: step, keep: s.Keep, slope: s.Slope, strip: a.Strip, width: a.Width,
		inset:           a.Inset,
		narrowestOffcut: a.Keep, shortestRip: a.ShortestRip, narrowest: a.Narrowest, trim: a.Trim}
	for _, t := range k.tables {
		if t.key == key && slices.Equal(t.stock.Holds, s.Holds) &&
			slices.Equal(t.across.Whole, a.Whole) {
			return t
		}
	}
	t := newClearTable(k.p, s, step)
	k.meter.Add(int64(len(t.holds)))
	lens, widths := int64(len(t.lens)), int64(len(t.widths))
	if !k.budget.Take(32*lens*widths, 0) {
		return nil
	}
	t.makeTables()
	t.key = key
	k.tables = append(k.tables, t)
	return t
}

// takeRows takes from the budget what the rows of a table need for stocks so long; false where that
// is not left.
func (k *Maker) takeRows(t *clearTable, extent int64) bool {
	switch {
	case extent <= t.longest:
		return true
	case t.tooLong > 0 && extent >= t.tooLong:
		return false
	}
	along, across := newPlaces(t.lens, k.p.Kerf, extent+k.p.Kerf), t.placesAcross
	if along != nil && across == nil && t.freeAcross() >= 0 {
		across = newPlaces(t.widths, k.p.Rip, t.freeAcross())
	}
	if along == nil || across == nil && t.freeAcross() >= 0 {
		k.meter.Add(mostPlaces)
		t.tooLong = extent
		return false
	}
	lens, widths, places := int64(len(t.lens)), int64(len(t.widths)), int64(along.count)
	k.meter.Add(places * lens)
	steps := (widths+1)*places*(1+lens/4) + int64(len(t.sawn))*(lens+widths)
	if across != nil {
		steps += lens * int64(across.count) * (1 + widths/4)
	}
	// A front is rarely longer than this.
	front := min(places, 4096)
	if !k.budget.Take(16*places+16*front*(widths+1)+along.memory(), slow*steps) {
		t.tooLong = extent
		return false
	}
	t.longest, t.places, t.placesAcross = extent, along, across
	t.round = -1 // what is known by then is of shorter rows
	return true
}
