package cutting

import (
	"cmp"
	"slices"
)

// Classes is the number of cleanliness classes an item may have.
const Classes = 3

// Any as a supply means any number.
const Any = -1

// MostRank is the highest rank of a stock.
const MostRank = 1023

// Problem is one cutting-stock program. All lengths are whole units, all costs and worths whole
// ticks of money.
type Problem struct {
	Items  []Item
	Stocks []Stock
	Kerf   int64 // what a crosscut takes; at least 0
	Rip    int64 // what a cut along takes; at least 0
	// ticks of money for each unit of length of a cut along; at least 0
	RipCost int64
	// ticks of money in the least amount that counts: a plan that saves less is not cheaper; 0
	// means 1
	Coin  int64
	Wants []Want // what pieces are made of in several ways; nil: nothing
}

// Item is a type of piece: Demand copies of length Size, of one class.
type Item struct {
	Size   int64 // above 0
	Width  int64 // to which it is sawn on stocks with Across; above 0 there
	Class  int   // 0 to Classes-1
	Demand int64
}

// Stock is a thing to cut, or several alike: pieces and offcuts lie in [From, To) of its length.
type Stock struct {
	From, To int64
	Cost     int64  // of using one
	Supply   int64  // Any: no limit
	Spots    []Spot // ascending by From
	Holds    []int  // indices of the items it may give, ascending
	// worth of one unit of length of an offcut as wide as the stock; with Across, of one unit of
	// that width
	Slope int64
	Keep  int64 // part of every clear run that is worth nothing
	// of plans that cost the same and use as many stocks, the one with the lower sum is better; 0
	// to MostRank
	Rank   int64
	Across *Across // nil: every piece takes the whole width, and so does every spot
}

// Across is what a stock is across its length, where pieces may lie beside each other: ripped.go.
type Across struct {
	Width int64
	Inset int64 // at either edge, that no sawn piece may take
	Keep  int64 // a narrower offcut is worth nothing, unless it is as wide as the stock
	// worth of one unit of length and of width of an offcut that is not as wide; at most Slope
	Strip int64
	Whole []int // held items that are never sawn to a width but take it all, ascending

	Trim        bool  // pieces may be trimmed by a third cut
	ShortestRip int64 // nothing shorter is cut along
	Narrowest   int64 // nothing narrower is cut off along
}

// Rippable says whether pieces may lie beside each other on a stock.
func (s *Stock) Rippable() bool { return s.Across != nil }

// Spot is a part of a stock that some classes may not overlap, margins included. It takes [From,
// To) of the length and, on a stock with Across, [Left, Right) of the width. On another stock it
// goes from edge to edge, and Left and Right are 0. Spots may overlap each other. Every spot breaks
// a clear run, whoever tolerates it.
type Spot struct {
	From, To    int64
	Tolerated   [Classes]bool // by class
	Left, Right int64
	Weak        bool // no cut along may meet it; only with Across
}

// Place is one piece on a stock: a copy of Item at [At, At+Size) of the length and, on a stock with
// Across, at [Left, Right) of the width: [0, Width) for a piece that is not sawn to its own.
type Place struct {
	Item        int
	At          int64
	Left, Right int64
}

// FirstCut is the kind of cut by which a stock with Across is broken down.
type FirstCut int

// The kinds of first cut.
const (
	CrosscutFirst FirstCut = iota // into lengths; those that are not plain are ripped
	RipFirst                      // into strips
)

// Pattern is a layout of one stock: its pieces in order along the stock (crosscut first, of each
// length from left to right; rip first, strip by strip), and what the offcuts that it returns are
// worth, less what its rips cost.
type Pattern struct {
	Stock  int
	First  FirstCut
	Ripped Span // rip first: one of [Stock.RippedSpans]; zero: the whole length
	Places []Place
	Worth  int64
}

// NewPattern is a pattern of these places, its worth yet unknown; nil where there are none.
func NewPattern(stock int, places []Place) *Pattern {
	if len(places) == 0 {
		return nil
	}
	return &Pattern{Stock: stock, Places: places}
}

// Use is a pattern and how many times a plan uses it.
type Use struct {
	Pattern Pattern
	Times   int64
}

// Cost of using a pattern once: of its stock, less the worth of the offcuts that it returns, with
// its rips.
func (p *Problem) Cost(t *Pattern) int64 { return p.Stocks[t.Stock].Cost - t.Worth }

// Value is what a plan costs: the cost of all its patterns.
func (p *Problem) Value(uses []Use) int64 {
	var v int64
	for i := range uses {
		v += uses[i].Times * p.Cost(&uses[i].Pattern)
	}
	return v
}

// SortBySize sorts items by size, then by index.
func SortBySize(p *Problem, items []int) {
	slices.SortFunc(items, func(a, b int) int {
		return cmp.Or(cmp.Compare(p.Items[a].Size, p.Items[b].Size), cmp.Compare(a, b))
	})
}

// Tally gives the items of a layout, ascending, and how many copies of each it has.
func Tally(places []Place) (items []int, counts []int64) {
	for _, pl := range places {
		n := 0
		for n < len(items) && items[n] < pl.Item {
			n++
		}
		if n == len(items) || items[n] != pl.Item {
			items, counts = slices.Insert(items, n, pl.Item), slices.Insert(counts, n, 0)
		}
		counts[n]++
	}
	return items, counts
}
