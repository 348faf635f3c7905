package cutting

import (
	"iter"
	"math/bits"
	"slices"
)

// For gives rate x length, rounded down; 0 where length is not above 0.
func (r Rate) For(length int64) int64 {
	if length <= 0 || r.Num == 0 {
		return 0
	}
	q, _ := r.Split(length)
	return q
}

// Split gives quotient and remainder of Num x length / Den, for length >= 0.
func (r Rate) Split(length int64) (quo, rem int64) {
	hi, lo := bits.Mul64(uint64(r.Num), uint64(length))
	q, m := bits.Div64(hi, lo, uint64(r.Den))
	return int64(q), int64(m)
}

// worthAlong is what the offcuts of a layout of a stock without Across are worth: the gaps between
// its pieces, less a kerf on each side that faces a piece, each clear run of a gap by itself.
// Places stand in order along the stock.
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

func (s *Stock) worthOfGap(from, to int64) int64 { return s.worthOfLine(from, to, 0, 0) }

// worthOfLine is the worth of the lines of a band, or of a stock without Across, over [from, to).
func (s *Stock) worthOfLine(from, to, left, right int64) (sum int64) {
	for run := range ClearRuns(s.Spots, from, to, func(spot *Spot) bool {
		return s.reaches(spot, left, right)
	}) {
		sum += s.Rate.For(run.To - run.From - s.Keep)
	}
	return sum
}

// Span is [From, To).
type Span struct{ From, To int64 }

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

// ClearRuns are the stretches of a stock that no spot reaches into.
func (s *Stock) ClearRuns() []Span {
	return slices.Collect(ClearRuns(s.Spots, s.From, s.To, func(*Spot) bool { return true }))
}

// reaches says whether a spot reaches into [left, right) of the width.
func (s *Stock) reaches(spot *Spot, left, right int64) bool {
	return s.Across == nil || spot.Left < right && spot.Right > left
}

// Meets says whether a spot of a stock with Across reaches into an area.
func (o *Spot) Meets(along, across Span) bool {
	return o.From < along.To && o.To > along.From && o.Left < across.To && o.Right > across.From
}

// width is how wide a stock is, where that matters; else 0.
func (s *Stock) width() int64 {
	if s.Across == nil {
		return 0
	}
	return s.Across.Width
}

// Legal says whether a piece of an item may lie at a place of a stock: inside it, over no spot that
// its class does not tolerate.
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
