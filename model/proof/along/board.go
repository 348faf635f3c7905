package along

import (
	"cmp"
	"fmt"
	"math/big"
	"slices"

	"rackwright/model"
	"rackwright/model/proof/internal/integer"
)

// The most that one board of a stock can give at given duals: pieces at their duals, at least one
// of them, and offcuts at scale x worth; where no piece fits, the worth of the whole. A bound is
// right only if this is never too low, so it is worked out over all layouts. (Without the one
// piece, a leaf that asks for a board would be met by one used for nothing.)
//
// Usable span [S, U), S = trim, U = length - trim; spots are the defects with their margins,
// clipped to it. k is the kerf, w(t) = floor(rate (t - keep)) for t > keep, else 0.
//
// A board is linked when a piece can trade the length of two clear runs against each other: one
// that lies over a spot that it tolerates, or beside a spot narrower than a kerf. On a board that
// is not linked each clear run stands for itself: pushing its pieces to one side merges its gaps
// into one and loses nothing, as w is superadditive; see boundruns.go.
//
// On a linked board positions lie on a grid: S and multiples of the common divisor of k, U - S, the
// blank lengths and the edges of the spots. From the far end towards S, copies unlimited,
//
//	F(x)  a kerf before x is paid, anything may start:
//	      max( F(x+step);  pi_i + F(x+l_i+k) for each blank that fits at x;  G(x) )
//	G(x)  inside a gap, in a clear run that ends at e:
//	      max( F(x+k);  scale w(r-x) + F(r+k) for x < r < e;  scale w(e-x) + D(e), or + 0 where e = U )
//	D(x)  inside a gap, in a block of spots that ends at a:
//	      max( F(x+k);  G(a), or 0 where a = U )
//
// and F = G = 0 from U on. Where k = 0, F(x+k) stands for the first two terms of F(x). (Within D,
// the kerf may start anywhere in the block; F falls along the board, so here is best.) Until the
// first piece the same holds in a layer of its own, with minus infinity for 0, whose pieces lead to
// F. The best is F(S) of that layer.
//
// Why the grid is enough: worth before rounding is convex between grid points, so it is greatest on
// the grid. But a chain of m runs longer than keep, whose lengths are traded, loses up to m - 1
// units of money to rounding there that it may not lose off it. So F, G and D carry a flag b, 0 at
// the start, that a run longer than keep sets, and such a run is paid one more unit when b is set
// already, whatever it is worth itself. A block crossed inside a gap stands still and ends the
// chain: G(a) there is with b = 0.
//
// For one run, w(r-x) = floor((A_r - C_x) / den) with A_r = num (r-S), C_x = num (x-S+keep). With
// A_r = den a + alpha and C_x = den c + gamma this is a - c - [alpha < gamma], so the best r for
// any x is found among the pairs (scale a + F(r+k), alpha) that no other pair beats in both: see
// stairs. A worth of 0 is never better than F(x+k).

// Board is one board of a stock as the bound sees it.
type Board struct {
	From, To model.Length // usable span
	Spots    []Spot       // clipped, none empty, sorted
	Rate     model.Rate
	Keep     model.Length
}

// Spot is a defect with its margin, and which faces tolerate it.
type Spot struct {
	model.Span
	Tolerated [model.Faces]bool
}

// Item is a blank that the board holds, and what one copy is worth: 1/10000 x 1/scale.
type Item struct {
	Length model.Length
	Face   model.Face
	Dual   int64
	Demand int64 // copies, at least 0
}

// maxPositions is how fine a grid may be: 20 m in the smallest unit is 6.4 million.
const maxPositions = 1 << 24

const tooLarge = "the duals are too large to reckon with"

// NewBoard is a board of the job that cannot be ripped.
func NewBoard(job *model.Job, worth *model.Valuation, board *model.Board, o model.Origin,
	rate model.Rate) *Board {
	trim, margin := job.Settings.TrimFor(o), job.Settings.Margin
	b := &Board{From: trim, To: board.Length - trim, Rate: rate, Keep: worth.Keep(&board.Wood)}
	for _, d := range board.Defects {
		s := Spot{Span: model.Span{From: max(d.From-margin, b.From), To: min(d.To+margin, b.To)}}
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
	bits := func(s Spot) (n int) {
		for f, t := range s.Tolerated {
			if t {
				n |= 1 << f
			}
		}
		return n
	}
	return cmp.Or(cmp.Compare(x.From, y.From), cmp.Compare(x.To, y.To),
		cmp.Compare(bits(x), bits(y)))
}

func (b *Board) Equal(o *Board) bool {
	return b.From == o.From && b.To == o.To && b.Rate == o.Rate && b.Keep == o.Keep &&
		slices.Equal(b.Spots, o.Spots)
}

// step is the grid's: every position is from + a multiple of it.
func (b *Board) step(items []Item, kerf model.Length) int64 {
	g := integer.GCD(int64(b.To-b.From), int64(kerf))
	for _, i := range items {
		g = integer.GCD(g, int64(i.Length))
	}
	for _, s := range b.Spots {
		g = integer.GCD(integer.GCD(g, int64(s.From-b.From)), int64(s.To-b.From))
	}
	return g
}

// linked says whether a movable piece can trade the length of one run against another's.
func (b *Board) linked(items []Item, kerf model.Length) bool {
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

// Fits says whether no value on the board can reach 2^61.
func (b *Board) Fits(items []Item, kerf model.Length, scale int64) bool {
	usable := int64(max(0, b.To-b.From))
	most, runs := new(big.Int), usable
	for _, i := range items {
		n := new(big.Int).Mul(big.NewInt(usable/max(1, int64(i.Length+kerf))+1), big.NewInt(i.Dual))
		if n.Cmp(most) > 0 {
			most = n
		}
	}
	if usable > 0 {
		runs = usable / b.step(items, kerf)
	}
	// The worth of all runs is at most that of the whole length, and the flag pays at most a unit
	// for each step of it.
	worth := new(big.Int).Mul(big.NewInt(b.Rate.Num), big.NewInt(usable))
	worth.Quo(worth, big.NewInt(b.Rate.Den))
	worth.Add(worth, big.NewInt(runs+1)).Mul(worth, big.NewInt(scale))
	return most.Add(most, worth).BitLen() <= 61
}

// runs are the clear runs between the trims.
func (b *Board) runs() []model.Span {
	spots := make([]model.Span, len(b.Spots))
	for i, s := range b.Spots {
		spots[i] = s.Span
	}
	return model.ClearRuns(b.From, b.To, spots)
}

// Most works out the most that boards can give; it keeps what serves for the next one.
type Most struct {
	table table
	sack  sack
}

// One is the most that one board that is not ripped can give; it says why where that cannot be
// worked out.
func (m *Most) One(b *Board, items []Item, kerf, longest model.Length, scale int64) (int64,
	string) {
	switch usable := b.To - b.From; {
	case usable <= 0: // it gives nothing
	case int64(longest+kerf)/b.step(items, kerf) > maxPositions:
		return 0, fmt.Sprintf(
			"the sizes share too small a measure to be judged, with over %d positions,",
			maxPositions)
	case !b.Fits(items, kerf, scale):
		return 0, tooLarge
	}
	return m.of(b, items, kerf, longest, scale), ""
}

// of is the most that one board can give. The items are those that it holds, the grid has at most
// maxPositions steps, the board fits, and no board that comes is longer than longest between its
// trims.
func (m *Most) of(b *Board, items []Item, kerf, longest model.Length, scale int64) int64 {
	switch {
	case b.To <= b.From:
		return 0
	case b.linked(items, kerf):
		return m.table.best(b, items, kerf, scale)
	}
	return m.sack.best(b, items, kerf, longest, scale)
}
