package handmade

import (
	"math/rand/v2"

	"rackwright/model"
)

// SlatsBits are those of the job of slats: 3000 takes 12 bits and 2^14 copies 14, and 34 make up
// 60.
const SlatsBits = 34

// SlatsTicks is money in ticks of the job of slats.
func SlatsTicks(money int64) int64 { return money << SlatsBits }

// Slats is a job of two slats 20 x 3 and a plan that rips both from a board 20 x 7 with a kerf of
// 1. It is proven by hand: at a dual of 700 each the board gives 1400, what it costs. Half of 1400
// for 20 x 7 is 5 a cell, and 3 of a strip. So one slat with the rest of the width gives 700 + 3 x
// 3 x 16 = 844; a plain length 700. The board of the rack, 20 x 7 with a knot of 3 x 2 in one
// corner, holds one slat and [0,20] x [4,7], or two where their face tolerates the knot. It costs
// 3000 and is worth no more.
func Slats() (*model.Job, *model.Plan) {
	some := int64(3)
	wood := model.Wood{Material: "oak", Section: "4/4", Length: 20, Width: 7, Thickness: 4}
	job := &model.Job{
		Settings: model.Settings{
			Units: model.Inch, Currency: "USD", CrosscutKerf: 1, RipKerf: 1, TrimmingCut: true,
			Offcut: model.OffcutRule{KeepLength: 4, KeepWidth: 2,
				Value: model.Fraction{Num: 1, Den: 2}, StripValue: model.Fraction{Num: 3, Den: 5}},
			Safety: model.Safety{ShortestRip: 5, NarrowestRip: 1}, Hidden: []string{"knot"},
		},
		Commissions: []model.Commission{{Name: "Bench"}},
		Parts: []model.Part{{Commission: "Bench", Name: "slat", Qty: 2, Material: "oak", Length: 20,
			Width: 3, Thickness: 4, Face: model.Show}},
		Rack: []model.Board{
			{ID: "R1", Wood: wood, Value: new(model.Money(3000)),
				Defects: []model.Defect{{From: 5, To: 8, Left: 0, Right: 2, Kind: "knot"}}},
			{ID: "R2", Wood: wood, Value: new(model.Money(3000)),
				Defects: []model.Defect{{From: 5, To: 8, Left: 0, Right: 2, Kind: "knot"}}},
		},
		Yard: []model.Offer{{Wood: wood, Price: 1400, Available: &some,
			Where: model.Where{File: "yard.csv", Line: 2}}},
	}
	row := func(kind model.Kind, left, right model.Length, n int64) model.Cut {
		c := model.Cut{Board: "B1", Origin: model.FromYard, Material: "oak", Section: "4/4",
			Step: 1,
			Kind: kind, To: 20, Left: left, Right: right}
		if n > 0 {
			c.Commission, c.Part, c.Copy = "Bench", "slat", n
		}
		return c
	}
	two, three := int64(2), int64(3)
	plan := &model.Plan{
		Value: 1400, Bound: 1400,
		Cuts: []model.Cut{row(model.KindPart, 0, 3, 1), row(model.KindKerf, 3, 4, 0),
			row(model.KindPart, 4, 7, 2)},
		Placements: []model.Placement{
			{Board: "B1", Offer: 2, First: model.RipFirst, Pieces: []model.Piece{
				{Commission: "Bench", Part: "slat", Copy: 1, To: 20, Right: 3},
				{Commission: "Bench", Part: "slat", Copy: 2, To: 20, Left: 4, Right: 7}}}},
		Groups: []model.Group{
			{Name: "oak 4/4", Value: 1400, Bound: 1400, Proof: model.Optimal, Ended: model.Finished,
				Certificate: model.Certificate{
					Bits: SlatsBits,
					Items: []model.CertItem{
						{Length: 20, Width: 3, Face: model.Show, Demand: 2, Stocks: []int{0, 1}}},
					Stocks: []model.CertStock{
						{Boards: []string{"R1", "R2"}, Cost: SlatsTicks(3000), Supply: &two},
						{Yard: 2, Cost: SlatsTicks(1400), Supply: &three}},
					Root: model.CertNode{Duals: []int64{SlatsTicks(700)}},
				}}},
	}
	return job, plan
}

// Pick gives one of some values at random.
func Pick[T any](r *rand.Rand, from ...T) T { return from[r.IntN(len(from))] }
