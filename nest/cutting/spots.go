package cutting

import (
	"iter"
	"slices"
)

// Legal says whether a piece may lie at a place of a stock: inside it, and over no spot that the
// class of its item does not tolerate.
func (p *Problem) Legal(stock int, pl Place) bool {
	s, it := &p.Stocks[stock], &p.Items[pl.Item]
	end := pl.At + it.Size
	if pl.At < s.From || end > s.To || pl.Left < 0 || pl.Right > s.width() {
		return false
	}
	for n := range s.Spots {
		spot := &s.Spots[n]
		if !spot.Tolerated[it.Class] && spot.From < end && spot.To > pl.At &&
			s.reaches(spot, pl.Left, pl.Right) {
			return false
		}
	}
	return true
}

// allLegal says whether all pieces may lie at their places of a stock.
func (p *Problem) allLegal(stock int, places []Place) bool {
	return !slices.ContainsFunc(places, func(pl Place) bool { return !p.Legal(stock, pl) })
}

// width is how wide a stock is, where that matters; else 0.
func (s *Stock) width() int64 {
	if !s.Rippable() {
		return 0
	}
	return s.Across.Width
}

// reaches says whether a spot reaches into [left, right) of the width; without Across each does.
func (s *Stock) reaches(spot *Spot, left, right int64) bool {
	return !s.Rippable() || spot.Left < right && spot.Right > left
}

// Meets says whether a spot of a stock with Across reaches into an area.
func (o *Spot) Meets(along, across Span) bool {
	return o.From < along.To && o.To > along.From && o.Left < across.To && o.Right > across.From
}

// ClearRuns gives the stretches of [from, to) that are clear of those spots that count, in order.
// Spots stand ascending by From.
func ClearRuns(spots []Spot, from, to int64, counts func(*Spot) bool) iter.Seq[Span] {
	return func(yield func(Span) bool) {
		from := from
		for n := range spots {
			spot := &spots[n]
			if spot.From >= to {
				break
			}
			if spot.To <= from || !counts(spot) {
				continue
			}
			if spot.From > from && !yield(Span{from, spot.From}) {
				return
			}
			from = spot.To
		}
		if from < to {
			yield(Span{from, to})
		}
	}
}

// ClearRuns are the stretches of a stock that no spot reaches into, in order.
func (s *Stock) ClearRuns() []Span {
	return slices.Collect(ClearRuns(s.Spots, s.From, s.To, func(*Spot) bool { return true }))
}
