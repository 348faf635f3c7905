package proof

import (
	"cmp"
	"maps"
	"slices"
)

// coverWork limits the cover test, which a hostile set of leaves could draw out; a tree of 10,000
// leaves takes some 10^7.
const coverWork = 1 << 30

// covered says whether the leaves cover every point of the cell. A leaf that holds all of it will
// do. Else the cell is cut in two, where a branching tree has its node: between leaves, so that
// none lies on both sides. Where there is no such place, as leaves overlap, it is cut at a face of
// the first. Cutting ends, as a cell only shrinks; work limits it.
func covered(cell []within, leaves [][]within, work *int) bool {
	*work -= len(cell)
	var here [][]within
	cutting := map[int]int{} // how many leaves hold only a part of the cell's range of a stock
	for _, l := range leaves {
		*work -= 1 + len(l)
		apart, whole := false, true
		for _, b := range l {
			c := cell[b.stock]
			apart = apart || b.most < c.least || b.least > c.most
			whole = whole && b.least <= c.least && b.most >= c.most
		}
		if apart {
			continue
		}
		if whole {
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
	stock, after := 0, int64(0)
	found := false
	for _, s := range slices.Sorted(maps.Keys(cutting)) {
		if cutting[s] == len(here) && !found {
			after, found = between(here, s)
			stock = s
		}
	}
	if !found {
		for _, b := range here[0] {
			c := cell[b.stock]
			if b.most < c.most {
				stock, after = b.stock, b.most
				break
			}
			if b.least > c.least {
				stock, after = b.stock, b.least-1
				break
			}
		}
	}
	low, high := slices.Clone(cell), slices.Clone(cell)
	low[stock].most, high[stock].least = after, after+1
	return covered(low, here, work) && covered(high, here, work)
}

// between finds a number of boards of a stock after which no leaf goes on that began before; every
// leaf bounds the stock.
func between(leaves [][]within, stock int) (int64, bool) {
	ranges := make([]within, len(leaves))
	for i, l := range leaves {
		ranges[i] = l[slices.IndexFunc(l, func(b within) bool { return b.stock == stock })]
	}
	slices.SortFunc(ranges, func(a, b within) int { return cmp.Compare(a.least, b.least) })
	most := ranges[0].most
	for _, r := range ranges[1:] {
		if r.least > most {
			return most, true
		}
		most = max(most, r.most)
	}
	return 0, false
}

// within is how many boards of one stock a leaf allows, where that is not all of [0, supply].
type within struct {
	stock       int
	least, most int64
}
