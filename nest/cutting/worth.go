package cutting

// Worth is what the offcuts of a pattern are worth, less what its rips cost, whatever its field
// Worth says. On a stock with Across its places may stand in any order, on another they stand in
// order along the stock.
//
// Offcuts come from gaps: between two pieces, and between a piece and an end, less a kerf on each
// side that faces a piece. Where every piece takes the whole width,
//
//	worth = Slope x sum over the clear runs of all gaps of  max(0, length of the run - Keep)
//
// On a stock with Across the head of ripped.go has the gaps and their worth, that of rips.go the
// rips. Their worth may then be below 0.
func (p *Problem) Worth(t *Pattern) int64 {
	s := &p.Stocks[t.Stock]
	if !s.Rippable() {
		return p.worthAlong(t.Stock, t.Places)
	}
	var sum int64
	for _, g := range p.gaps(t) {
		sum += s.worthOfArea(g)
	}
	if p.RipCost > 0 {
		sum -= p.RipCost * p.RipLength(t)
	}
	return sum
}

// worthAlong is the worth of a layout of a stock without Across, its places in order along it.
func (p *Problem) worthAlong(stock int, places []Place) int64 {
	s := &p.Stocks[stock]
	from := s.From
	var sum int64
	for _, pl := range places {
		sum += s.worthOfGap(from, pl.At-p.Kerf)
		from = pl.At + p.Items[pl.Item].Size + p.Kerf
	}
	return sum + s.worthOfGap(from, s.To)
}

// worthOfGap is the worth of [from, to) of a stock without Across.
func (s *Stock) worthOfGap(from, to int64) int64 { return s.Slope * s.keptOfLine(from, to, 0, 0) }

// keptOfLine is what counts of [from, to) of a line along a stock: any line of a band [left, right)
// of the width, or of a stock without Across.
func (s *Stock) keptOfLine(from, to, left, right int64) (sum int64) {
	for run := range ClearRuns(s.Spots, from, to, func(spot *Spot) bool {
		return s.reaches(spot, left, right)
	}) {
		sum += max(0, run.To-run.From-s.Keep)
	}
	return sum
}
