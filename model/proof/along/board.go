package along

import (
	"cmp"
	"fmt"
	"math/big"
	"reflect"
	"slices"

	"rackwright/model"
	"rackwright/model/proof/internal/integer"
)

// Board is one board of a stock as its bound sees it. Lengths, here and of items, are in units of
// the job's valuation. Boards with equal fields have equal bounds.
type Board struct {
	From, To model.Length // the usable span
	Spots    []Spot       // clipped to it, none empty, sorted
	Slope    int64        // of worth: ticks for a unit of length, over the whole width
	Keep     model.Length // keep_length
}

// Spot is a defect with its margin, and which faces tolerate it.
type Spot struct {
	model.Span
	Tolerated [model.Faces]bool
}

// Item is a blank that the board holds. Dual is what one copy of it is worth, in ticks.
type Item struct {
	Length model.Length
	Face   model.Face
	Dual   int64
	Demand int64 // copies, at least 0
	Number int   // of the item where it is listed
}

// maxPositions is how many positions a grid may have: 20 m in the smallest unit are 6.4 million.
const maxPositions = 1 << 24

const tooLarge = "the duals are too large to reckon with"

// NewBoard gives a board of the job that cannot be ripped; worth is that of the job.
func NewBoard(job *model.Job, worth *model.Valuation, board *model.Board, o model.Origin,
	slope model.Slope) *Board {
	trim, margin, unit := job.Settings.TrimFor(board, o), job.Settings.Margin, worth.Unit
	b := &Board{From: trim / unit, To: (board.Length - trim) / unit,
		Slope: slope.Whole * int64(board.Width/unit), Keep: worth.Keep(&board.Wood) / unit}
	for _, d := range board.Defects {
		s := Spot{Span: model.Span{From: max((d.From-margin)/unit, b.From),
			To: min((d.To+margin)/unit, b.To)}}
		for f := model.Show; f < model.Faces; f++ {
			s.Tolerated[f] = job.Settings.Tolerates(f, d.Kind)
		}
		if s.From < s.To {
			b.Spots = append(b.Spots, s)
		}
	}
	slices.SortFunc(b.Spots, compareSpots)
	b.Spots = slices.Compact(b.Spots)
	return b
}

// compareSpots puts spots in an order that tells all of them apart.
func compareSpots(x, y Spot) int {
	return cmp.Or(cmp.Compare(x.From, y.From), cmp.Compare(x.To, y.To),
		cmp.Compare(integer.OfFlags(x.Tolerated[:]), integer.OfFlags(y.Tolerated[:])))
}

// Equal says whether two boards have the same bound, whatever is cut from them. They may be nil.
func (b *Board) Equal(o *Board) bool { return reflect.DeepEqual(b, o) }

// gridStep is what all positions of the grid share: each is From + a multiple of it.
func (b *Board) gridStep(items []Item, kerf model.Length) int64 {
	g := integer.GCD(int64(b.To-b.From), int64(kerf))
	for _, i := range items {
		g = integer.GCD(g, int64(i.Length))
	}
	for _, s := range b.Spots {
		g = integer.GCD(integer.GCD(g, int64(s.From-b.From)), int64(s.To-b.From))
	}
	return g
}

// isLinked says whether the board is linked for these items.
func (b *Board) isLinked(items []Item, kerf model.Length) bool {
	for _, s := range b.Spots {
		if s.To-s.From < kerf {
			return true
		}
		for _, i := range items {
			if s.Tolerated[i.Face] {
				return true
			}
		}
	}
	return false
}

// Fits says whether no value on the board can reach 2^61, so that it can be reckoned with.
func (b *Board) Fits(items []Item, kerf model.Length) bool {
	usable := int64(max(0, b.To-b.From))
	most := new(big.Int)
	for _, i := range items {
		n := new(big.Int).Mul(big.NewInt(usable/max(1, int64(i.Length+kerf))+1), big.NewInt(i.Dual))
		if n.Cmp(most) > 0 {
			most = n
		}
	}
	worth := new(big.Int).Mul(big.NewInt(b.Slope), big.NewInt(usable))
	return most.Add(most, worth).BitLen() <= 61
}

// worth is w.
func (b *Board) worth(run model.Length) int64 { return b.Slope * int64(max(0, run-b.Keep)) }

// clearRuns are the clear runs between the trims.
func (b *Board) clearRuns() []model.Span {
	spots := make([]model.Span, len(b.Spots))
	for i, s := range b.Spots {
		spots[i] = s.Span
	}
	return model.ClearRuns(b.From, b.To, spots)
}

// Most works out the most that boards can give. Its zero value is ready; it keeps what serves for
// the next board.
type Most struct {
	table    table
	knapsack knapsack
}

// One is the most that one board can give, in ticks; the string says why where that cannot be
// worked out. items are those that the board holds. No board that the same items are asked for is
// longer than longest between its trims.
func (m *Most) One(b *Board, items []Item, kerf, longest model.Length) (int64, string) {
	switch usable := b.To - b.From; {
	case usable <= 0: // it gives nothing
	case int64(longest+kerf)/b.gridStep(items, kerf) > maxPositions:
		return 0, fmt.Sprintf(
			"the sizes share too small a measure to be judged, with over %d positions,",
			maxPositions)
	case !b.Fits(items, kerf):
		return 0, tooLarge
	}
	return m.mostOf(b, items, kerf, longest), ""
}

// mostOf is One for a board that fits, with a grid of at most maxPositions steps.
func (m *Most) mostOf(b *Board, items []Item, kerf, longest model.Length) int64 {
	if b.isLinked(items, kerf) {
		return m.table.best(b, items, kerf)
	}
	return m.knapsack.best(b, items, kerf, longest)
}
