package along

import (
	"encoding/binary"
	"slices"

	"rackwright/nest/cutting"
)

// stepsOfList is how far the search for the layouts of one stock goes.
const stepsOfList = 1 << 23

// stepsOfLayout is what it takes to keep a layout, and to make a column of it.
const stepsOfLayout = 1 << 9

// layouts are those of one stock found so far, each set of counts once, in the order in which they
// were found. One without a piece may be among them.
type layouts struct {
	at   map[string]int // by counts
	list []cutting.Pattern
	key  []byte
}

func newLayouts() *layouts { return &layouts{at: map[string]int{}} }

// put keeps a layout where no other with its counts is worth as much.
func (f *layouts) put(counts []int64, stock int, places []cutting.Place, worth int64) {
	f.key = appendCounts(f.key[:0], counts)
	if at, has := f.at[string(f.key)]; !has {
		f.at[string(f.key)] = len(f.list)
		f.list = append(f.list, cutting.Pattern{Stock: stock, Places: slices.Clone(places),
			Worth: worth})
	} else if old := &f.list[at]; worth > old.Worth {
		old.Places, old.Worth = append(old.Places[:0], places...), worth
	}
}

// all are the layouts with a piece.
func (f *layouts) all() []cutting.Pattern {
	return slices.DeleteFunc(f.list, func(t cutting.Pattern) bool { return len(t.Places) == 0 })
}

// countsKey is a key for a set of counts.
func countsKey(counts []int64) string {
	return string(appendCounts(make([]byte, 0, 2*len(counts)), counts))
}

func appendCounts(b []byte, counts []int64) []byte {
	for _, n := range counts {
		b = binary.AppendUvarint(b, uint64(n))
	}
	return b
}
