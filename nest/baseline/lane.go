package baseline

import (
	"slices"

	"rackwright/nest/cutting"
)

// lane is a stretch in one direction of a stock where things are put beside each other.
type lane struct {
	cutting.Span
	kerf  int64          // parts the things
	ends  []int64        // of the spots; across, where a rip just clears a weak one, too
	taken []cutting.Span // by the things that lie there
}

// lane is what sawn pieces may take of the stock of a load in a direction, nothing taken yet.
func (f *filling) lane(b *load, a cutting.Axis) lane {
	return lane{Span: f.reach(b, a), kerf: f.p.KerfOn(a), ends: f.endsOn(b.stock, a)}
}

// endsOn are the ends of the spots of a stock in a direction, as a lane has them.
func (f *filling) endsOn(stock int, a cutting.Axis) []int64 {
	known := &f.ends[a][stock]
	if *known == nil {
		*known = []int64{}
		for _, o := range f.p.Stocks[stock].Spots {
			*known = append(*known, o.On(a).To)
			if o.Weak && a == cutting.Crosswise {
				*known = append(*known, o.Right+f.p.KerfOn(a))
			}
		}
		slices.Sort(*known)
		*known = slices.Compact(*known)
	}
	return *known
}

// reach is what sawn pieces may take of the stock of a load in a direction.
func (f *filling) reach(b *load, a cutting.Axis) cutting.Span {
	if a == cutting.Along && b.cut == cutting.RipFirst {
		return b.ripped
	}
	return f.p.Stocks[b.stock].Sawable(a)
}

// starts are the points where a thing of a size is tried, ascending, a kerf from what lies there.
// They are the lane's own start, a kerf after each thing, and the end of each spot.
func (l *lane) starts(size int64) []int64 {
	out := make([]int64, 0, 1+len(l.ends)+len(l.taken))
	try := func(at int64) {
		if at >= l.From && at+size <= l.To &&
			!slices.ContainsFunc(l.taken, func(t cutting.Span) bool {
				return at < t.To+l.kerf && t.From < at+size+l.kerf
			}) {
			out = append(out, at)
		}
	}
	try(l.From)
	for _, t := range l.taken {
		try(t.To + l.kerf)
	}
	for _, at := range l.ends {
		try(at)
	}
	slices.Sort(out)
	return slices.Compact(out)
}
