package nest

import (
	"cmp"
	"slices"
	"strconv"

	"rackwright/model"
)

// The order of stocks and items. It does not depend on the order of the input, and it decides which
// of the plans that cost the same is found.

// compareStocks orders the stocks of one group: rack boards before offers, the shorter first, then
// the cheaper, then by their defects, and last by what they are.
func compareStocks(a, b *stock) int {
	counting := func(s *stock, rippable bool) []widened {
		if s.rippable != rippable {
			return nil
		}
		return s.defects()
	}
	return cmp.Or(cmp.Compare(btoi(!a.onHand()), btoi(!b.onHand())),
		cmp.Compare(a.usable.To-a.usable.From, b.usable.To-b.usable.From),
		cmp.Compare(a.cost, b.cost),
		slices.CompareFunc(counting(a, false), counting(b, false), compareDefects),
		slices.CompareFunc(counting(a, true), counting(b, true), compareDefects),
		compareKinds(a, b))
}

// compareKinds goes by all that tells a board from others, whatever its place in the input; 0 means
// that they are alike. Offers are never alike.
func compareKinds(a, b *stock) int {
	v, w := a.board, b.board
	return cmp.Or(cmp.Compare(v.Material, w.Material), cmp.Compare(v.Section, w.Section),
		cmp.Compare(v.Length, w.Length), cmp.Compare(v.Width, w.Width),
		cmp.Compare(v.Thickness, w.Thickness), cmp.Compare(a.cost, b.cost),
		cmp.Compare(a.supply(), b.supply()),
		slices.CompareFunc(a.along, b.along, compareDefects),
		cmp.Compare(a.slope.Whole, b.slope.Whole), cmp.Compare(a.slope.Strip, b.slope.Strip),
		slices.CompareFunc(a.across, b.across, compareDefects),
		cmp.Compare(v.For, w.For), cmp.Compare(btoi(v.Untouched), btoi(w.Untouched)),
		cmp.Compare(v.Longest, w.Longest), cmp.Compare(btoi(v.Bought), btoi(w.Bought)),
		slices.Compare(a.names, b.names), cmp.Compare(v.Surface, w.Surface))
}

// supply is how many boards of an offer there are, -1 for any number; 0 for rack boards, as being
// many does not tell them from others.
func (s *stock) supply() int64 {
	switch {
	case s.onHand():
		return 0
	case s.available == nil:
		return -1
	}
	return *s.available
}

// compareDefects goes by place along the board, by the faces that tolerate them, by place across
// it, and by whether they are weak.
func compareDefects(a, b widened) int {
	c := cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To))
	for face := range a.tolerated {
		c = cmp.Or(c, cmp.Compare(btoi(a.tolerated[face]), btoi(b.tolerated[face])))
	}
	return cmp.Or(c, cmp.Compare(a.Left, b.Left), cmp.Compare(a.Right, b.Right),
		cmp.Compare(btoi(a.weak), btoi(b.weak)))
}

// itemKey is what makes one item of the copies of parts.
type itemKey struct {
	length model.Length // of the blank
	width  model.Length // of the part; 0 where none of its stocks can be ripped
	face   model.Face
	held   string // its stocks, as written by stockList
}

// compareItems puts the longest first, then the widest, then by face and stocks.
func compareItems(a, b itemKey) int {
	return cmp.Or(cmp.Compare(b.length, a.length), cmp.Compare(b.width, a.width),
		cmp.Compare(a.face, b.face), cmp.Compare(a.held, b.held))
}

// stockList writes down a set of stocks, so that it can be compared: "[0 3 12]", ascending.
func stockList(held []int) string {
	text := append(make([]byte, 0, 2+4*len(held)), '[')
	for i, n := range slices.Sorted(slices.Values(held)) {
		if i > 0 {
			text = append(text, ' ')
		}
		text = strconv.AppendInt(text, int64(n), 10)
	}
	return string(append(text, ']'))
}

// earlier orders dates, no date last.
func earlier(a, b string) int {
	return cmp.Or(cmp.Compare(btoi(a == ""), btoi(b == "")), cmp.Compare(a, b))
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}
