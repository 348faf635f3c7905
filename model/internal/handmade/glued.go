package handmade

import (
	"slices"

	"rackwright/model"
	"rackwright/model/makeup"
)

// GluedBits are those of the job of glue-ups: 160 takes 8 bits, 2^14 copies 14, and 38 make up 60.
const GluedBits = 38

// GluedTicks is money in ticks of the job of glue-ups.
func GluedTicks(money int64) int64 { return money << GluedBits }

// Glued is a job with parts that are made up, and its plan. No kerf, no trims, and no offcut is
// worth anything. Boards are 20 in long: 2x6 for 100, 2x8 for 160, oak of 6 in for 90. A spare copy
// may cost 30.
//
//	rail   10 x 5 1/2 of 2x6, one
//	top    10 x 12, one and maybe a spare, of staves of 4 in and more: 3 of 4 in, out of 2x6 (way
//	       0) or 2x8 (way 2), or 2 of 6 in out of 2x8 (way 1)
//	peg    5 x 5 1/2 of 2x6, one and maybe two spare
//	lid    10 x 10 of oak, staves 3 to 5 in wide: 2 of 5, 3 of 3 3/8 or 4 of 3 (2 1/2 rounded up is
//	       too narrow, so not 4), or a cover in steps of 1 in that comes to 10
//
// Of a board of 2x6 come two pieces of 10, or one and two pegs. The top out of 2x8 takes one board,
// rail and peg another, with one spare peg: 260, and 30 each for the other peg and the spare top.
// Out of 2x6 it would be 4 pieces of 10 and a peg: three boards, 300, spare pegs for nothing, and
// 30 for the spare top. So 320 is the least. The lid takes two staves and a board: 90.
//
// The proof, by the duals of pieces of 10 of 2x6 (a), of 10 of 2x8 (b) and pegs (c):
//
//	top without way 0, at most one 2x6: a = 60, b = 80, c = 30, the most of a 2x6 is 120
//	    rail 60, top 2 x 80, spare 30, peg 30, spares 2 x 30, board 100 - 120          320
//	top without way 0, two or more: b = 80. Top 160, boards 2 x 100                    360
//	top by way 0, at most two 2x6: a = 100, b = 80, c = 50, the most is 200
//	    rail 100, top 300, spare 30, peg 50, spares 2 x 30, boards 2 x (100 - 200)     340
//	top by way 0, three or more, spare without: b = 80. Spare 30, boards 300           330
//	both by way 0, three or more: a = 50, the most is 100. Rail 50, 150 and 150        350
func Glued() (*model.Job, *model.Plan) {
	return GluedAs(GluedPlan())
}

// GluedAs is the job of glue-ups with its parts made as a plan has them.
func GluedAs(plan *model.Plan) (*model.Job, *model.Plan) {
	return makeup.AsMade(makeup.Prepare(GluedJob()), plan.Made), plan
}

const inch = model.UnitsPerInch

// GluedJob is the job as it is entered.
func GluedJob() *model.Job {
	wood := func(material string, section model.Section, wide, thick model.Length) model.Wood {
		return model.Wood{Material: material, Section: section, Length: 20 * inch, Width: wide,
			Thickness: thick}
	}
	part := func(name string, wood model.Wood, long, wide model.Length) model.Part {
		return model.Part{Commission: "Table", Name: name, Qty: 1, Material: wood.Material,
			Section: wood.Section, Length: long, Width: wide, Thickness: wood.Thickness,
			Face: model.Show}
	}
	offer := func(wood model.Wood, price model.Money, line int) model.Offer {
		return model.Offer{Wood: wood, Price: price,
			Where: model.Where{File: "yard.csv", Line: line}}
	}
	six, eight := wood("pine", "2x6", 11*inch/2, 3*inch/2), wood("pine", "2x8", 29*inch/4, 3*inch/2)
	oak, some := wood("oak", "4/4", 6*inch, inch), int64(9)
	top := part("top", six, 10*inch, 12*inch)
	top.Section, top.Staves, top.Spare = "", model.Auto, 1
	peg := part("peg", six, 5*inch, six.Width)
	peg.Spare = 2
	lid := part("lid", oak, 10*inch, 10*inch)
	lid.Staves = model.Auto
	job := &model.Job{
		Settings: model.Settings{Units: model.Inch, Currency: "USD", RipKerf: inch / 8,
			Offcut: model.OffcutRule{KeepLength: 100 * inch, KeepWidth: 6 * inch,
				Value: model.Fraction{Num: 1, Den: 2}},
			GlueUp: model.GlueUp{Narrowest: 4 * inch, Widest: 9 * inch, Step: inch},
			Materials: map[string]model.Override{"oak": {Narrowest: new(3 * model.Length(inch)),
				Widest: new(5 * model.Length(inch))}},
			SpareAtMost: 30, Work: workTimes},
		Commissions: []model.Commission{{Name: "Table"}},
		Parts:       []model.Part{part("rail", six, 10*inch, six.Width), top, peg, lid},
		Yard:        []model.Offer{offer(six, 100, 2), offer(eight, 160, 3), offer(oak, 90, 4)},
	}
	job.Yard[0].Available = &some
	return job
}

// GluedPlan is the plan alone.
func GluedPlan() *model.Plan {
	piece := func(board, material string, section model.Section, wide model.Length, step int,
		from, to model.Length, part string, n int64) model.Cut {
		return model.Cut{Board: board, Origin: model.FromYard, Material: material,
			Section: section, Step: step, Kind: model.KindPart, From: from * inch, To: to * inch,
			Right: wide, Commission: "Table", Part: part, Copy: n, Face: model.Show}
	}
	six := func(step int, from, to model.Length, part string) model.Cut {
		return piece("B1", "pine", "2x6", 11*inch/2, step, from, to, part, 1)
	}
	placed := func(board string, offer int, cuts ...model.Cut) model.Placement {
		p := model.Placement{Board: board, Offer: offer}
		for _, c := range cuts {
			p.Pieces = append(p.Pieces, model.Piece{Commission: c.Commission, Part: c.Part,
				Copy: c.Copy, From: c.From, To: c.To})
		}
		return p
	}
	bought := func(material string, section model.Section, wide model.Length, price model.Money,
		tally int64, board string) model.Purchase {
		return model.Purchase{Material: material, Section: section, Length: 20 * inch, Qty: 1,
			Price: price, Total: price, Tally: tally, Width: wide, Boards: []string{board}}
	}
	b1 := []model.Cut{six(1, 0, 10, "rail"), six(2, 10, 15, "peg"), six(2, 15, 20, "peg, spare")}
	b2 := []model.Cut{
		piece("B2", "pine", "2x8", 29*inch/4, 1, 0, 10, "top, stave of 2", 1),
		piece("B2", "pine", "2x8", 29*inch/4, 1, 10, 20, "top, stave of 2", 2)}
	b3 := []model.Cut{piece("B3", "oak", "4/4", 6*inch, 1, 0, 10, `lid, stave 5"`, 1),
		piece("B3", "oak", "4/4", 6*inch, 1, 10, 20, `lid, stave 5"`, 2)}
	some, spare := int64(9), GluedTicks(30)
	work := twoWays(3, 4, 4)
	work.Ways[0].Open, work.Ways[1].Open = 1, 1
	return &model.Plan{
		Value: 350, Bound: 350,
		Made: []model.Made{
			{Commission: "Table", Part: "top", Copies: []int64{1}, Section: "2x8",
				Length: 10 * inch, Width: 6 * inch, Thickness: 3 * inch / 2, Staves: 2, Layers: 1,
				InOne: 1, Net: 6 * inch},
			{Commission: "Table", Part: "peg", Copies: []int64{2}, Section: "2x6",
				Length: 5 * inch, Width: 11 * inch / 2, Thickness: 3 * inch / 2, Staves: 1,
				Layers: 1, InOne: 1},
			{Commission: "Table", Part: "lid", Copies: []int64{1}, Section: "4/4",
				Length: 10 * inch, Width: 5 * inch, Thickness: inch, Staves: 2, Layers: 1, InOne: 1,
				Nets: []model.Length{5 * inch, 5 * inch}},
		},
		Cuts: slices.Concat(b1, b2, b3),
		Placements: []model.Placement{placed("B1", 2, b1...), placed("B2", 3, b2...),
			placed("B3", 4, b3...)},
		Buy: []model.Purchase{bought("pine", "2x6", 11*inch/2, 100, 1666667, "B1"),
			bought("pine", "2x8", 29*inch/4, 160, 2222222, "B2"),
			bought("oak", "4/4", 6*inch, 90, 1000000, "B3")},
		// The stop is set to 10 in for each section, and once to 5 in. Each board is lifted once.
		Order: orderOf(inch,
			sawn(1, 10, "B1", 1, "Table, rail, 1"),
			sawn(1, 5, "B1", 2, "Table, peg, 1; Table, peg, spare, 1"),
			sawn(1, 10, "B2", 1, "Table, top, stave of 2, 1; Table, top, stave of 2, 2"),
			sawn(1, 10, "B3", 1, `Table, lid, stave 5", 1; Table, lid, stave 5", 2`)),
		Work: work,
		// Tally, of nominal sizes: 20 in of 12/144 and of 16/144 board feet an inch, and of 6/144.
		Costs: []model.Cost{{Commission: "Table", Cost: 350, Yard: 350, Tally: 4722222}},
		Groups: []model.Group{
			{Name: "pine 2x6, pine 2x8", Value: 260, Bound: 260, Proof: model.Optimal,
				Ended: model.Finished, Certificate: model.Certificate{
					Bits: GluedBits,
					Items: []model.CertItem{
						{Length: 10 * inch, Face: model.Show, Demand: 1, Stocks: []int{0}},
						{Length: 10 * inch, Face: model.Show, Stocks: []int{1}},
						{Length: 5 * inch, Face: model.Show, Demand: 1, Stocks: []int{0}}},
					Stocks: []model.CertStock{
						{Yard: 2, Cost: GluedTicks(100), Supply: &some},
						{Yard: 3, Cost: GluedTicks(160)}},
					Wants: []model.CertWant{
						{Commission: "Table", Part: "top", Demand: 1, Ways: topWays()},
						{Commission: "Table", Part: "top", Demand: 1, Forgo: &spare,
							Ways: topWays()},
						{Commission: "Table", Part: "peg", Demand: 2, Forgo: new(GluedTicks(30)),
							Ways: []model.CertWay{{Item: 2, Pieces: 1, Copies: 1}}}},
					Root: gluedProof(),
				}},
			{Name: "oak 4/4", Value: 90, Bound: 90, Proof: model.Optimal,
				Ended: model.Finished, Certificate: model.Certificate{
					Bits: GluedBits,
					Items: []model.CertItem{
						{Length: 10 * inch, Face: model.Show, Stocks: []int{0}}},
					Stocks: []model.CertStock{{Yard: 4, Cost: GluedTicks(90)}},
					Wants: []model.CertWant{{Commission: "Table", Part: "lid", Demand: 1,
						Ways: []model.CertWay{{Item: 0, Pieces: 2, Copies: 1},
							{Item: 0, Pieces: 3, Copies: 1}},
						Covers: []model.CertCover{{Need: 10, Layers: 1,
							Staves: []model.CertStave{{Item: 0, Steps: 3}, {Item: 0, Steps: 4},
								{Item: 0, Steps: 5}}}}}},
					Root: model.CertNode{Duals: []int64{GluedTicks(45)}},
				}},
		},
	}
}

func topWays() []model.CertWay {
	return []model.CertWay{{Item: 0, Pieces: 3, Copies: 1}, {Item: 1, Pieces: 2, Copies: 1},
		{Item: 1, Pieces: 3, Copies: 1}}
}

// gluedProof is the tree of the proof.
func gluedProof() model.CertNode {
	leaf := func(a, b, c int64) model.CertNode {
		return model.CertNode{Duals: []int64{GluedTicks(a), GluedTicks(b), GluedTicks(c)}}
	}
	return model.CertNode{Choice: &model.CertChoice{Want: 0, Way: 0, AtMost: 0,
		Low: model.CertNode{Split: &model.CertSplit{Stock: 0, AtMost: 1,
			Low: leaf(60, 80, 30), High: leaf(0, 80, 0)}},
		High: model.CertNode{Split: &model.CertSplit{Stock: 0, AtMost: 2,
			Low: leaf(100, 80, 50),
			High: model.CertNode{Choice: &model.CertChoice{Want: 1, Way: 0, AtMost: 0,
				Low: leaf(0, 80, 0), High: leaf(50, 0, 0)}}}}}}
}
