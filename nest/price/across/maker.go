package across

import (
	"fmt"
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
	tables map[string]*clearTable // by all that stocks have in common which share one

	lent lent

	pricers    []*pricer
	shapeItems int // of all strip shapes that these keep
}

// NewMaker makes a maker for the stocks of p. Its pricers count their work on the meter, and keep
// to a budget.
func NewMaker(p *cutting.Problem, meter *price.Meter, budget *price.Budget) *Maker {
	return &Maker{p: p, meter: meter, budget: budget, tables: map[string]*clearTable{}}
}

// Pricer makes the pricer of a stock that has Across; nil where its tables would be too large, or a
// pricing too long.
func (k *Maker) Pricer(stock int) price.Pricer {
	if r := k.newPricer(stock); r != nil {
		return r
	}
	return nil
}

// tableOf gives the table of a stock and a step across: one made before, or a new one; nil where it
// would be too large.
func (k *Maker) tableOf(s *cutting.Stock, step int64) *clearTable {
	key := fmt.Sprint(step, s.Keep, s.Slope, s.Holds, *s.Across)
	if t := k.tables[key]; t != nil {
		return t
	}
	t := newClearTable(k.p, s, step)
	t.many = k.budget.Many
	k.meter.Add(int64(len(t.holds)))
	lens, widths := int64(len(t.lens)), int64(len(t.widths))
	if !k.budget.Take(32*lens*widths, 0) {
		return nil
	}
	t.makeTables()
	k.tables[key] = t
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

// lent is memory that the thin pricers of one maker share: for what one of them has found last.
type lent struct {
	to     *lengthSearch
	value  []int64
	priced []bool
	fills  []*rippedFill
}

// lend lends so many slots to a search; what was lent before is taken back.
func (k *Maker) lend(s *lengthSearch, slots int) {
	l := &k.lent
	if l.to != nil && l.to != s {
		l.to.value, l.to.priced = nil, nil
	}
	l.to = s
	l.value, l.priced = slices.Grow(l.value[:0], slots), slices.Grow(l.priced[:0], slots)
	s.value, s.priced = l.value[:slots], l.priced[:slots]
}

// fillOf is the fill of ripped lengths of a pricer. Thin ones with as many starts across share it.
func (k *Maker) fillOf(r *pricer) *rippedFill {
	if !r.thin {
		return &rippedFill{}
	}
	for _, f := range k.lent.fills {
		if f.of == r.clear && f.starts == len(r.ys) {
			return f
		}
	}
	f := &rippedFill{of: r.clear, starts: len(r.ys)}
	k.lent.fills = append(k.lent.fills, f)
	return f
}
