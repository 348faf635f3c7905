package cutstock

import "math/bits"

// Of gives rate x length, rounded down; 0 where length is not above 0.
func (r Rate) Of(length int64) int64 {
	if length <= 0 || r.Num == 0 {
		return 0
	}
	q, _ := r.split(length)
	return q
}

// split gives quotient and remainder of Num x length / Den, for length >= 0.
func (r Rate) split(length int64) (quo, rem int64) {
	hi, lo := bits.Mul64(uint64(r.Num), uint64(length))
	q, m := bits.Div64(hi, lo, uint64(r.Den))
	return int64(q), int64(m)
}

// Worth is what the offcuts of a layout are worth: the gaps between its pieces, less a kerf on each
// side that faces a piece, each clear run of a gap by itself. Places stand in order along the
// stock.
func (p *Problem) Worth(stock int, places []Place) int64 {
	s := &p.Stocks[stock]
	from := s.From
	var sum int64
	for _, pl := range places {
		sum += s.worthOfGap(from, pl.At-p.Kerf)
		from = pl.At + p.Items[pl.Item].Size + p.Kerf
	}
	return sum + s.worthOfGap(from, s.To)
}

func (s *Stock) worthOfGap(from, to int64) int64 {
	var sum int64
	for _, spot := range s.Spots {
		if spot.From > from && from < to {
			sum += s.Rate.Of(min(spot.From, to) - from - s.Keep)
		}
		from = max(from, spot.To)
	}
	return sum + s.Rate.Of(to-from-s.Keep)
}

// Legal says whether a piece of an item may lie at a place of a stock: inside it, over no spot that
// its class does not tolerate.
func (p *Problem) Legal(stock int, pl Place) bool {
	s, it := &p.Stocks[stock], &p.Items[pl.Item]
	end := pl.At + it.Size
	if pl.At < s.From || end > s.To {
		return false
	}
	for _, spot := range s.Spots {
		if !spot.Tolerated[it.Class] && spot.From < end && spot.To > pl.At {
			return false
		}
	}
	return true
}
