package along

import (
	"encoding/binary"
	"slices"

	"rackwright/nest/cutting"
)

// stepsOfList is how far the search for the layouts of one stock goes.
const stepsOfList = 1 << 21

// layouts are those of one stock found so far, by their counts. One without a piece may be among
// them.
type layouts map[string]cutting.Pattern

// put keeps a layout where no other with its counts is worth as much.
func (f layouts) put(counts []int64, stock int, places []cutting.Place, worth int64) {
	key := countsKey(counts)
	if old, ok := f[key]; !ok || worth > old.Worth {
		f[key] = cutting.Pattern{Stock: stock, Places: slices.Clone(places), Worth: worth}
	}
}

// all are the layouts with a piece, in no order.
func (f layouts) all() (out []cutting.Pattern) {
	for _, l := range f {
		if len(l.Places) > 0 {
			out = append(out, l)
		}
	}
	return out
}

// countsKey is a key for a set of counts.
func countsKey(counts []int64) string {
	b := make([]byte, 0, 2*len(counts))
	for _, n := range counts {
		b = binary.AppendUvarint(b, uint64(n))
	}
	return string(b)
}
