package price

import (
	"rackwright/nest/cutting"
	"rackwright/nest/price/counts"
)

// List is a list of layouts of one stock, each of another set of counts. Most are never laid out:
// so they are kept as counts until one is asked for.
type List struct {
	Counts *counts.Set
	Form   *counts.Form // of the counts
	Worth  []int64      // of the offcuts, less the rips
	// LayOut gives a layout by the number of its counts. It may ask the pricer anew, whose last
	// pricing is then another.
	LayOut func(n int) *cutting.Pattern
}

// Len is how many layouts are on the list; nil has none.
func (l *List) Len() int {
	if l == nil {
		return 0
	}
	return len(l.Worth)
}

// Value is what a layout gives at some duals, by the number of its counts: theirs and its worth.
func (l *List) Value(n int, duals []int64) int64 {
	return l.Worth[n] + l.Form.Value(l.Counts.At(n), duals)
}

// Patterns are all layouts of the list.
func (l *List) Patterns() []cutting.Pattern {
	out := make([]cutting.Pattern, l.Len())
	for n := range out {
		out[n] = *l.LayOut(n)
	}
	return out
}
