package across

import (
	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// ripper prices the patterns of a stock that are ripped first over one span of its length. They are
// those of a stock that is just the span, with the worth of the ends that are crosscut off before.
type ripper struct {
	*pricer
	over cutting.Span // zero: all of the stock, whose own pricer this is
	ends int64
}

// setUpRippers makes the rippers of a stock; false where the budget is too small.
func (r *pricer) setUpRippers(k *Maker) bool {
	if len(r.clear.widths) == 0 {
		return true
	}
	for _, on := range r.stock.RippedSpans() {
		if on.From == r.stock.From && on.To == r.stock.To {
			r.rippers = append(r.rippers, ripper{pricer: r})
			continue
		}
		span := *r.stock
		span.From, span.To = on.From, on.To
		near := cutting.Span{To: on.From - r.stock.From - r.p.Kerf}
		far := cutting.Span{From: on.To - r.stock.From + r.p.Kerf, To: r.extent}
		over := k.newStripPricer(&span, r.index)
		if over == nil {
			return false
		}
		r.rippers = append(r.rippers, ripper{over: on, pricer: over,
			ends: r.worthOfBands(r.stockBands, near, r.clear.whole) +
				r.worthOfBands(r.stockBands, far, r.clear.whole)})
	}
	return true
}

// searchRipped finds the best pattern that is ripped first, in at most so many rounds; 0: until it
// is exact. It says whether that is worth more than beat, and its value.
func (r *pricer) searchRipped(rounds int, beat int64) (best int64, better bool) {
	for n := range r.rippers {
		rip := &r.rippers[n]
		if rip.pricer != r {
			rip.begin(r.ask)
		}
		rip.searchStrips(rounds, beat-rip.ends)
		if v := rip.strips.best; !price.None(v) && v+rip.ends > beat {
			beat, better, r.ripper = v+rip.ends, true, rip
		}
	}
	return beat, better
}

// likeliest is the ripper that may give most by the last pricing; nil: none gives anything.
func (r *pricer) likeliest() (best *ripper) {
	for n := range r.rippers {
		rip := &r.rippers[n]
		if v := rip.strips.f1[0]; !price.None(v) &&
			(best == nil || v+rip.ends > best.strips.f1[0]+best.ends) {
			best = rip
		}
	}
	return best
}
