package proof

import (
	"cmp"
	"maps"
	"slices"
)

// The leaves of a certificate must cover every number of boards that could be used of each stock.
//
// A cell is a range of numbers for each stock; the first cell holds all of them. A leaf that holds
// all of the cell covers it. Else the cell is cut in two at a number of one stock. The cut goes
// between leaves, so that none lies on both sides, as at a node of a branching tree. Where leaves
// overlap and there is no such number, the cell is cut at a face of one of them. Cells only shrink,
// so this ends.

// useRange is how many boards of one stock a leaf allows, where that is not all of [0, supply].
type useRange struct {
	stock       int
	least, most int64
}

// coverWork limits the work of the test, which a hostile set of leaves could draw out. A tree of
// 10,000 leaves takes some 10^7.
const coverWork = 1 << 30

// covered says whether the leaves cover every point of a cell with the work that is left.
func covered(cell []useRange, leaves [][]useRange, work *int) bool {
	*work -= len(cell)
	var here [][]useRange
	cutting := map[int]int{} // how many leaves hold only a part of the cell's range of a stock
	for _, l := range leaves {
		*work -= 1 + len(l)
		apart, holdsAll := false, true
		for _, b := range l {
			c := cell[b.stock]
			apart = apart || b.most < c.least || b.least > c.most
			holdsAll = holdsAll && b.least <= c.least && b.most >= c.most
		}
		if apart {
			continue
		}
		if holdsAll {
			return true
		}
		for _, b := range l {
			if c := cell[b.stock]; b.least > c.least || b.most < c.most {
				cutting[b.stock]++
			}
		}
		here = append(here, l)
	}
	if len(here) == 0 || *work < 0 {
		return false
	}
	index, after := 0, int64(0)
	found := false
	for _, s := range slices.Sorted(maps.Keys(cutting)) {
		if cutting[s] == len(here) && !found {
			after, found = splitBetween(here, s)
			index = s
		}
	}
	if !found {
		for _, b := range here[0] {
			c := cell[b.stock]
			if b.most < c.most {
				index, after = b.stock, b.most
				break
			}
			if b.least > c.least {
				index, after = b.stock, b.least-1
				break
			}
		}
	}
	low, high := slices.Clone(cell), slices.Clone(cell)
	low[index].most, high[index].least = after, after+1
	return covered(low, here, work) && covered(high, here, work)
}

// splitBetween finds a number n of boards of a stock so that the range of each leaf lies in [.., n]
// or in [n+1, ..]; false where there is none. Every leaf bounds the stock.
func splitBetween(leaves [][]useRange, index int) (int64, bool) {
	ranges := make([]useRange, len(leaves))
	for i, l := range leaves {
		ranges[i] = l[slices.IndexFunc(l, func(b useRange) bool { return b.stock == index })]
	}
	slices.SortFunc(ranges, func(a, b useRange) int { return cmp.Compare(a.least, b.least) })
	most := ranges[0].most
	for _, r := range ranges[1:] {
		if r.least > most {
			return most, true
		}
		most = max(most, r.most)
	}
	return 0, false
}
