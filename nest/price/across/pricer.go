package across

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across/offcuts"
)

// quickRounds is how often the quick way runs each outer recursion.
const quickRounds = 3

// pricer prices one stock with Across. Price is the quick way, for columns: some pattern has the
// value that it gives, but a better one may be missed. Vouch gives the best value exactly.
//
// Indices: j length, k width, t start along, n start across, m sawn item, side or option.
type pricer struct {
	maker  *Maker
	p      *cutting.Problem
	meter  *price.Meter
	index  int // of the stock
	stock  *cutting.Stock
	across *cutting.Across
	clear  *clearTable
	extent int64 // how long the stock is
	spots  offcuts.Spots
	weak   offcuts.Spots // those of them that no rip may meet

	stockBands []offcuts.Band // of the whole width
	ys         []int64        // starts across, ascending from 0
	nextAcross []int32        // by n and k: the first start a kerf or more after the right edge
	spotted    [][]bool       // by k and n: whether a spot reaches into the strip there
	strippable [][]bool       // by k and n: whether a strip may be ripped off there

	// Only stocks with spots have these.
	thin      bool    // some of the starts along are left out (setup.go)
	xs        []int64 // starts along, ascending from 0
	gapEnds   []int64 // by t: where a gap before it ends, a kerf before; last, the stock's end
	nextAlong []int32 // by t and j: the first start a kerf or more after the far end
	fitLens   []int32 // by t: how many of the lengths end before the stock does
	clearLens []int32 // by t: how many of the lengths no spot reaches into
	groupOf   []int32 // by t and j: the group of the length there; -1: no spot reaches into it
	groups    []lengthGroup
	stockGaps *offcuts.Table // of the whole width
	leadGap   []int64        // by t: u of the gap from the near end to it
	shapes    map[stripAt]*stripShape

	rippers []ripper // where the stock may be ripped first

	// The last pricing.
	ask     *price.Ask
	pass    int // counts pricings
	vouched struct {
		duals []int64
		floor int64
		pass  int // the pricing in which best was found
		best  int64
	}
	floor   int64 // an exact search need find nothing worth less
	kind    cutting.FirstCut
	ripper  *ripper // where the kind is to rip first
	lengths lengthSearch
	strips  stripSearch
	ripped  *rippedFill  // of the length valued last
	fills   []*stripFill // of the strips valued last, oldest first
	work    int64        // not yet on the meter
	most    int64        // work of one exact search; past it the search is too long
	tooLong bool         // the last pricing was
	below   bool         // the last pricing found that some patterns are worth no more than floor
}

// Traits: Price may miss the best. Patterns may have more copies than are wanted, but for those of
// a list.
func (r *pricer) Traits() price.Traits {
	return price.Traits{Quick: true, Copies: true, Lists: true, Thin: r.thin}
}

// Bare is what the stock is worth without any piece.
func (r *pricer) Bare() int64 {
	return r.worthOfBands(r.stockBands, r.allAlong(), r.clear.whole)
}

// Price gives a value that some pattern has; where no piece has a place, that of the bare stock.
func (r *pricer) Price(ask *price.Ask) int64 { return r.findAndCount(ask, quickRounds) }

// Vouch gives the greatest value of any pattern, or floor if that is more; where no piece has a
// place, that of the bare stock; false where that takes too long. A search proves its bound at the
// duals at which it last looked for columns: then the answer is known.
func (r *pricer) Vouch(ask *price.Ask, floor int64) (int64, bool) {
	if r.thin {
		return 0, false
	}
	v := &r.vouched
	if v.pass != r.pass || v.floor > floor || !slices.Equal(v.duals, ask.Duals) {
		r.floor = floor
		v.best = max(floor, r.findAndCount(ask, 0))
		v.duals, v.floor, v.pass = ask.Duals, floor, r.pass
		r.floor = price.Never
	} else { // another stock may have had the tables that it shares made for other duals
		r.refresh(ask)
	}
	return max(floor, v.best), !r.tooLong
}

// refresh makes the shared tables those of an ask again, at whose duals the last pricing was.
func (r *pricer) refresh(ask *price.Ask) {
	r.ask = ask
	r.work += r.clear.update(ask)
	for n := range r.rippers {
		if rip := r.rippers[n].pricer; rip != r {
			rip.ask = ask
			r.work += rip.clear.update(ask)
		}
	}
}

// Fill gives a pattern of what is left, priced as if pieces were worth their area, and takes its
// pieces from left; nil where nothing fits.
func (r *pricer) Fill(left []int64, ask price.Asker) *cutting.Pattern {
	duals := make([]int64, len(left))
	for i, copies := range left {
		if it := &r.p.Items[i]; copies > 0 {
			duals[i] = it.Size * max(1, it.Width)
		}
	}
	r.countWork() // of the walks before
	r.find(ask(duals, left), quickRounds)
	t := r.Walk(left, -1)
	if t == nil {
		return nil
	}
	for _, pl := range t.Places {
		left[pl.Item]--
	}
	t.Worth = r.p.Worth(t)
	return t
}

// findAndCount does what find does, and puts the work on the meter.
func (r *pricer) findAndCount(ask *price.Ask, rounds int) int64 {
	best := r.find(ask, rounds)
	r.countWork()
	return best
}

// A step here takes longer than one of the linear program: it counts as slow of these. Of the steps
// along a stock, which are quick, so many count as one.
const slow, quick = 4, 4

// countWork puts the steps since the last time on the meter, and one for the call.
func (r *pricer) countWork() {
	for n := range r.rippers {
		if rip := r.rippers[n].pricer; rip != r {
			r.work += rip.work
			rip.work = 0
		}
	}
	r.meter.Add(slow*r.work + 1)
	r.work = 0
}

// find gives the best value of both kinds of pattern, each searched in at most so many rounds; 0:
// until it is exact. What it finds is left for Walk.
func (r *pricer) find(ask *price.Ask, rounds int) int64 {
	r.begin(ask)
	r.searchLengths(rounds)
	best := r.lengths.best
	if v, better := r.searchRipped(rounds, max(best, r.floor)); better {
		best, r.kind = v, cutting.RipFirst
	}
	if price.None(best) && rounds > 0 { // the quick way found nothing; there may yet be something
		return r.find(ask, 0)
	}
	r.tooLong = r.tooLong || slices.ContainsFunc(r.rippers, func(rip ripper) bool {
		return rip.tooLong
	})
	if price.None(best) {
		if best = r.Bare(); r.below || slices.ContainsFunc(r.rippers, func(rip ripper) bool {
			return rip.below
		}) {
			best = r.floor
		}
	}
	return best
}

// longer says whether an exact search has become too long, and remembers it. At most so much work
// had been done when it began.
func (r *pricer) longer(begun int64) bool {
	r.tooLong = r.tooLong || r.work-begun > r.most
	return r.tooLong
}

// begin begins a pricing, of which nothing is known yet.
func (r *pricer) begin(ask *price.Ask) {
	r.ask = ask
	r.pass++
	r.tooLong, r.below = false, false
	r.work += r.clear.update(ask)
	for _, f := range r.fills {
		f.stale = true
	}
	r.lengths.forget()
	r.strips.forget()
	r.kind = cutting.CrosscutFirst
}

// allAlong is the whole length, allAcross the whole width.
func (r *pricer) allAlong() cutting.Span  { return cutting.Span{From: 0, To: r.extent} }
func (r *pricer) allAcross() cutting.Span { return cutting.Span{From: 0, To: r.across.Width} }

// bandsOf parts a span of the width into bands over the whole length, bandsOver the whole width
// into those over a span of the length.
func (r *pricer) bandsOf(across cutting.Span) []offcuts.Band {
	return r.spots.BandsOf(across, r.extent, r.clear.step)
}

func (r *pricer) bandsOver(along cutting.Span, out []offcuts.ClearBand) []offcuts.ClearBand {
	return r.spots.BandsOver(along, r.across.Width, r.stock.Keep, out)
}

// worthOfBands is u of bands over a span of the length, at s0.
func (r *pricer) worthOfBands(bands []offcuts.Band, along cutting.Span, s0 int64) int64 {
	return offcuts.Worth(bands, along, s0, r.stock.Keep)
}

// maySaw says whether a piece or strip may be sawn off at [y, y+width), over so much of the length:
// it is inside the inset, and the rips on both its sides meet no weak spot.
func (r *pricer) maySaw(along cutting.Span, y, width int64) bool {
	right := y + width
	if y < r.across.Inset || right > r.across.Width-r.across.Inset {
		return false
	}
	return len(r.weak) == 0 ||
		(y <= 0 || !r.weak.Meet(along, cutting.Span{From: y - r.p.Rip, To: y})) &&
			(right >= r.across.Width ||
				!r.weak.Meet(along, cutting.Span{From: right, To: right + r.p.Rip}))
}

// incumbent is the best way known to fill a stock with lengths, or with strips.
type incumbent[T lengthAt | stripAt] struct {
	best  int64 // its value
	route []T
}

// forget starts anew.
func (i *incumbent[T]) forget() { i.best, i.route = price.Never, nil }

// improve takes a route if its value is greater.
func (i *incumbent[T]) improve(value int64, route []T) {
	if value > i.best {
		i.best, i.route = value, route
	}
}
