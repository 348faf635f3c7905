package handmade

import "rackwright/model"

// Spanned is a job of two 2x6 boards of the rack where a foot of rip costs 30, and its plan. The
// sizes are those of [Ripped], in sixteenths; racked boards have a trim of 4, splits are weak, and
// a sound face tolerates them.
//
// S1, rip first, 400 long. A split at either end, in their margins 0-62 x 28-46 and 288-302 over
// the whole width. So 62-288 is ripped, 226 long:
//
//	4-60     around the split: waste 0-30 | defect 30-44 | waste 44-88
//	62-288   dust 0-2 | strip 2-42 | kerf | strip 45-75 | kerf 75-78 | 10, less than keep width
//	290-396  offcut N3, of which 302-396 is clear
//	2-42     leg 62-162 | kerf | slat 164-264, 20 wide at 22-42, so trimmed: kerf 19-22 and offcut
//	         N1 2-19 | kerf 264-266 | waste
//	45-75    rail 62-182 | kerf | offcut N2 184-288
//
// Its cuts: 1 the trim, 2 before the span, 3 behind it, 4 the far trim; 5 dust and behind the first
// strip, 6 behind the second; 7 behind the leg, 8 behind the slat; 9 behind the rail; 10 trims the
// slat. Its rips: left of the first strip, between the two, right of the second, each 226; at the
// slat 100. In all 778.
//
// C1, crosscut first, 400 long. Its split, 48-72 x 18-28 in its margin, lies under the leg:
//
//	4-104    ripped: dust 0-2 | leg 2-42 | kerf | slat 45-65 | kerf | offcut N4 68-88
//	106-226  plank, the board's whole width
//	228-396  offcut N5
//
// Its cuts: 1 the trim, 2 behind the length, 3 behind the plank, 4 the far trim; 5 dust and behind
// the leg, 6 behind the slat. Its rips: left of the leg, between leg and slat, right of the slat,
// each 100. In all 300.
func Spanned() (*model.Job, *model.Plan) {
	job := spanJob()
	b := RowWriter{Board: "S1", Origin: model.FromRack}
	b.Row(1, model.KindTrim, 0, 4, 0, 88)
	b.Row(2, model.KindWaste, 4, 60, 0, 30)
	b.Row(2, model.KindDefect, 4, 60, 30, 44)
	b.Row(2, model.KindWaste, 4, 60, 44, 88)
	b.Row(2, model.KindKerf, 60, 62, 0, 88)
	b.Row(5, model.KindKerf, 62, 288, 0, 2)
	b.Part(7, 62, 162, 2, 42, "Y", "leg", 1, model.Sound)
	b.Row(7, model.KindKerf, 162, 164, 2, 42)
	b.offcut(10, 164, 264, 2, 19, "N1")
	b.Row(10, model.KindKerf, 164, 264, 19, 22)
	b.Part(10, 164, 264, 22, 42, "Y", "slat", 1, model.Show)
	b.Row(8, model.KindKerf, 264, 266, 2, 42)
	b.Row(8, model.KindWaste, 266, 288, 2, 42)
	b.Row(5, model.KindKerf, 62, 288, 42, 45)
	b.Part(9, 62, 182, 45, 75, "X", "rail", 1, model.Show)
	b.Row(9, model.KindKerf, 182, 184, 45, 75)
	b.offcut(9, 184, 288, 45, 75, "N2")
	b.Row(6, model.KindKerf, 62, 288, 75, 78)
	b.Row(6, model.KindWaste, 62, 288, 78, 88)
	b.Row(3, model.KindKerf, 288, 290, 0, 88)
	b.offcut(4, 290, 396, 0, 88, "N3")
	b.Row(4, model.KindTrim, 396, 400, 0, 88)
	b.Board = "C1"
	b.Row(1, model.KindTrim, 0, 4, 0, 88)
	b.Row(5, model.KindKerf, 4, 104, 0, 2)
	b.Part(5, 4, 104, 2, 42, "Y", "leg", 2, model.Sound)
	b.Row(5, model.KindKerf, 4, 104, 42, 45)
	b.Part(6, 4, 104, 45, 65, "Y", "slat", 2, model.Show)
	b.Row(6, model.KindKerf, 4, 104, 65, 68)
	b.offcut(6, 4, 104, 68, 88, "N4")
	b.Row(2, model.KindKerf, 104, 106, 0, 88)
	b.Part(3, 106, 226, 0, 88, "X", "plank", 1, model.Show)
	b.Row(3, model.KindKerf, 226, 228, 0, 88)
	b.offcut(4, 228, 396, 0, 88, "N5")
	b.Row(4, model.KindTrim, 396, 400, 0, 88)

	// Rips: 192 cost 30, so those of S1 cost 778 x 30 / 192 = 121.5625, those of C1 46.875.
	//
	// Worth, in cells of a sixteenth both ways; a line keeps its runs less 80 each. S1 has a value
	// of its own, 900: 18 lines have the runs 226 and 98, 70 have 288 and 98, that is 18 x (146 +
	// 18) + 70 x (208 + 18) = 18772 cells. C1 goes by the yard, 2000 for 400 x 88, half of which is
	// 1/35.2 a cell: 10 lines have the runs 48 and 328, 78 have 400, that is 10 x 248 + 78 x 320 =
	// 27440 cells, 779.545. A strip keeps 3/5.
	//
	//	N1 20 x 17 =  340, a strip  9.780      N4  20 x 20 =  400, a strip  6.818
	//	N2 24 x 30 =  720, a strip 20.712      N5  88 x 88 = 7744           220
	//	N3 14 x 88 = 1232          59.067
	//
	// S1 costs 900 + 5 + 121.5625 - 89.559 = 937.004, C1 779.545 + 5 + 46.875 - 226.818 = 604.602.
	// The value is 1541.606.
	left := func(id, bin string, length, width model.Length, value *model.Money) model.Board {
		w := twoBySix(length)
		w.Width = width * Sixteenth
		return model.Board{ID: id, Wood: w, Bin: bin, Since: "2026-02-01", Value: value}
	}
	n3 := left("N3", "A", 106, 88, new(model.Money(59)))
	n3.Defects = []model.Defect{{To: 10 * Sixteenth, Right: 88 * Sixteenth, Kind: "split"}}
	plan := &model.Plan{
		Value: 1542, Date: "2026-02-01", Cuts: b.Rows,
		Rack: []model.Board{left("N1", "A", 100, 17, new(model.Money(10))),
			left("N2", "A", 104, 30, new(model.Money(21))), n3,
			left("N4", "C", 100, 20, new(model.Money(7))), left("N5", "C", 168, 88, nil)},
		// Pass by pass. Crosscuts 100, 120 of C1; rips 40, 30 of the span and 40, 20 of the length;
		// crosscuts 100, 120 of the strips; the slat of S1 is ripped at 20, where the fence is: 8
		// settings. Lifted are two boards, span and length, two strips, the slat: 7. Board by board
		// S1 takes 40, 30, 100, 120, 20, and C1 100, 120, 40, 20. The span is cut at its mark.
		Order: orderOf(Sixteenth,
			sawn(1, 0, "S1", 1, "trim"),
			sawn(1, 0, "S1", 2, "waste"),
			sawn(1, 0, "S1", 3, "ripped span"),
			sawn(1, 0, "S1", 4, "N3"),
			sawn(1, 0, "C1", 1, "trim"),
			sawn(1, 100, "C1", 2, "Y, leg, 2; Y, slat, 2; N4"),
			sawn(1, 120, "C1", 3, "X, plank, 1"),
			sawn(1, 0, "C1", 4, "N5"),
			sawn(2, 40, "S1", 5, "Y, leg, 1; N1; Y, slat, 1"),
			sawn(2, 30, "S1", 6, "X, rail, 1; N2"),
			sawn(2, 40, "C1", 5, "Y, leg, 2"),
			sawn(2, 20, "C1", 6, "Y, slat, 2; N4"),
			sawn(3, 100, "S1", 7, "Y, leg, 1"),
			sawn(3, 100, "S1", 8, "N1; Y, slat, 1"),
			sawn(3, 120, "S1", 9, "X, rail, 1; N2"),
			sawn(4, 20, "S1", 10, "N1; Y, slat, 1")),
		Work: twoWays(7, 8, 9),
		// Shares by (length + 2) x (width + 3): rail 4026, slat 2346, leg 4386, plank 11102. Of S1
		// X has the rail, 4026 of 10758, of C1 the plank, 11102 of 17834. Y has 6732 of each.
		//
		//	              X         Y      sum             so
		//	rack      822.092   857.453   1679.545, 1680   822  858
		//	handling    4.984     5.016     10               5    5
		//	ripping    74.673    93.765    168.4375, 168    74   94
		//	credit    174.715   141.662    316.377         175  141
		//
		// The credit is to come to 1680 + 10 + 168 - 1542 = 316. Tally, as in [Ripped]: X 2 x
		// 16625/8128 x 7.5 + 2 x 6 x 7.5 cubic inches over 144, Y: 2 x 2 x (11084 + 22167)/8128 x
		// 6.25.
		Costs: []model.Cost{
			{Commission: "X", Cost: 822 + 5 + 74 - 175, Rack: 822, Handling: 5, Ripping: 74,
				Credit: 175, Tally: 838_062},
			{Commission: "Y", Cost: 858 + 5 + 94 - 141, Rack: 858, Handling: 5, Ripping: 94,
				Credit: 141, Tally: 710_229},
		},
	}
	plan.Placements = []model.Placement{
		{Board: "S1", First: model.RipFirst, RipFrom: 62 * Sixteenth, RipTo: 288 * Sixteenth,
			Pieces: PiecesOf(plan.Cuts, "S1")},
		{Board: "C1", First: model.CrosscutFirst, Pieces: PiecesOf(plan.Cuts, "C1")}}
	return job, plan
}

func spanJob() *model.Job {
	const s = Sixteenth
	job := ripJob()
	job.Settings.RackEnd, job.Settings.Ripping = 4*s, 30
	job.Settings.Weak, job.Settings.Sound = []string{"split"}, []string{"stain", "split"}
	for i, wanted := range []int64{1, 2, 2, 1} { // rail, slat, leg, plank
		job.Parts[i].Qty = wanted
	}
	split := func(from, to, left, right model.Length) model.Defect {
		return model.Defect{From: from * s, To: to * s, Left: left * s, Right: right * s,
			Kind: "split"}
	}
	job.Rack = []model.Board{
		{ID: "S1", Wood: twoBySix(400), Bin: "A", Value: new(model.Money(900)),
			Since:   "2026-01-05",
			Defects: []model.Defect{split(0, 60, 30, 44), split(290, 300, 0, 88)}},
		{ID: "C1", Wood: twoBySix(400), Bin: "C", Defects: []model.Defect{split(50, 70, 20, 26)}},
	}
	return job
}
