package along

import (
	"rackwright/nest/price/counts"
)

// stepsOfList is how far the search for the layouts of one stock goes.
const stepsOfList = 1 << 23

// stepsOfLayout is what it takes to keep a layout, and to make an entry of it.
const stepsOfLayout = 1 << 7

// layouts are those of one stock found so far, each set of counts once, in the order in which they
// were found.
type layouts struct {
	set   *counts.Set
	worth []int64
}

func newLayouts(f *counts.Form) *layouts { return &layouts{set: counts.NewSet(f)} }

// put keeps a layout where no other with its counts is worth as much, says whether it does, and
// gives its number.
func (f *layouts) put(c counts.Counts, worth int64) (n int, kept bool) {
	n, fresh := f.set.Put(c)
	switch {
	case fresh:
		f.worth = append(f.worth, worth)
	case worth > f.worth[n]:
		f.worth[n] = worth
	default:
		return n, false
	}
	return n, true
}
