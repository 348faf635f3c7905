package handmade

import (
	"slices"

	"rackwright/model"
)

// Sixteenth is the unit of the job by hand: 1/16 in.
const Sixteenth = model.UnitsPerInch / 16

// Ripped is a job of two 2x6 boards, 88 sixteenths wide, and its plan. In sixteenths:
// crosscut kerf 2, rip kerf 3, blanks 2 longer and 2 wider than parts, of the rounded edges 3 - 1 =
// 2 are lost beyond the allowance, keep length 80, keep width 12, margin 2, trim 4 on bought
// boards, none on those of the rack.
//
// R1, crosscut first, with two defects that do not go from edge to edge, in their margins 148-158 x
// 68-88 and 108-127 x 55-64:
//
//	0-120    ripped: dust 0-2 | rail 2-32 | kerf | slat 35-55, 100 long, so trimmed | kerf 55-58
//	         | offcut N1 58-88
//	122-222  ripped: dust 0-2 | slat 2-22 | kerf | leg 25-65, whose face tolerates the stain
//	         | kerf 65-68 | 68-88 around a knot: on each line runs 26 and 64, so waste
//	226-346  plank, the board's whole width; the gap before it is two kerfs, the one after it a
//	         kerf and 52
//
// Its cuts: 1 behind the first length, 2 behind the second, 3 dust, 4 behind the plank; 5 the dust
// of the first length and the cut behind its rail, which have one number as a first kerf always
// has, 6 behind its slat; 7 and 8 likewise in the second; 9 trims the slat of the first.
//
// B1, rip first, 392 between the trims: dust 0-2 | strip 2-42 | kerf | strip 45-75 | kerf 75-78 |
// 10, less than keep width.
//
//	2-42     leg 4-104 | kerf | slat 106-206, 20 wide at 2-22, so trimmed: kerf 22-25 and
//	         offcut N2 25-42 | kerf 206-208 | offcut N3
//	45-75    waste 4-8 | kerf | rail 10-130 | kerf | rail 132-252 | kerf | offcut N4 254-396
//
// Its cuts: 1 and 2 the trims, 3 dust and behind the first strip, 4 behind the second; 5 behind the
// leg, 6 behind the slat; 7 before the first rail, 8 and 9 behind the two; 10 trims the slat.
func Ripped() (*model.Job, *model.Plan) {
	job := ripJob()
	b := RowWriter{Board: "R1", Origin: model.FromRack}
	b.Part(9, 0, 100, 35, 55, "Y", "slat", 1, model.Show) // stands fourth, see below
	slat := b.Rows[0]
	b.Rows = nil
	b.Row(5, model.KindKerf, 0, 120, 0, 2)
	b.Part(5, 0, 120, 2, 32, "X", "rail", 1, model.Show)
	b.Row(5, model.KindKerf, 0, 120, 32, 35)
	b.Rows = append(b.Rows, slat)
	b.Row(9, model.KindKerf, 100, 102, 35, 55)
	b.Row(9, model.KindWaste, 102, 120, 35, 55)
	b.Row(6, model.KindKerf, 0, 120, 55, 58)
	b.offcut(6, 0, 120, 58, 88, "N1")
	b.Row(1, model.KindKerf, 120, 122, 0, 88)
	b.Row(7, model.KindKerf, 122, 222, 0, 2)
	b.Part(7, 122, 222, 2, 22, "Y", "slat", 2, model.Show)
	b.Row(7, model.KindKerf, 122, 222, 22, 25)
	b.Part(8, 122, 222, 25, 65, "Y", "leg", 1, model.Sound)
	b.Row(8, model.KindKerf, 122, 222, 65, 68)
	b.Row(8, model.KindWaste, 122, 150, 68, 88)
	b.Row(8, model.KindWaste, 150, 156, 68, 70)
	b.Row(8, model.KindDefect, 150, 156, 70, 86)
	b.Row(8, model.KindWaste, 150, 156, 86, 88)
	b.Row(8, model.KindWaste, 156, 222, 68, 88)
	b.Row(2, model.KindKerf, 222, 224, 0, 88)
	b.Row(3, model.KindKerf, 224, 226, 0, 88)
	b.Part(4, 226, 346, 0, 88, "X", "plank", 1, model.Show)
	b.Row(4, model.KindKerf, 346, 348, 0, 88)
	b.Row(4, model.KindWaste, 348, 400, 0, 88)
	b.Board, b.Origin = "B1", model.FromYard
	b.Row(1, model.KindTrim, 0, 4, 0, 88)
	b.Row(3, model.KindKerf, 4, 396, 0, 2)
	b.Part(5, 4, 104, 2, 42, "Y", "leg", 2, model.Sound)
	b.Row(5, model.KindKerf, 104, 106, 2, 42)
	b.Part(10, 106, 206, 2, 22, "Y", "slat", 3, model.Show)
	b.Row(10, model.KindKerf, 106, 206, 22, 25)
	b.offcut(10, 106, 206, 25, 42, "N2")
	b.Row(6, model.KindKerf, 206, 208, 2, 42)
	b.offcut(6, 208, 396, 2, 42, "N3")
	b.Row(3, model.KindKerf, 4, 396, 42, 45)
	b.Row(7, model.KindWaste, 4, 8, 45, 75)
	b.Row(7, model.KindKerf, 8, 10, 45, 75)
	b.Part(8, 10, 130, 45, 75, "X", "rail", 2, model.Show)
	b.Row(8, model.KindKerf, 130, 132, 45, 75)
	b.Part(9, 132, 252, 45, 75, "X", "rail", 3, model.Show)
	b.Row(9, model.KindKerf, 252, 254, 45, 75)
	b.offcut(9, 254, 396, 45, 75, "N4")
	b.Row(4, model.KindKerf, 4, 396, 75, 78)
	b.Row(4, model.KindWaste, 4, 396, 78, 88)
	b.Row(2, model.KindTrim, 396, 400, 0, 88)

	// Worth, in cells of a sixteenth both ways. R1 has a value of its own, 900. Of its lines 55 + 4
	// have the run 400, 9 have 108 and 273, 20 have 148 and 242; less 80 each that is 59 x 320 + 9
	// x (28 + 193) + 20 x (68 + 162) = 25469 cells. All offcuts are strips, which keep 3/5 of their
	// worth. N1: 6 lines with the run 108 and 24 with the run 120 have 6 x 28 + 24 x 40 = 1128
	// cells, worth 3/5 x 900 x 1128 / 25469 = 23.916. The yard asks 2000 for 400 x 88, half of it
	// is 1/35.2 a cell: N2 has 20 x 17 = 340, worth 5.795; N3 108 x 40 = 4320, 73.636; N4 62 x 30 =
	// 1860, 31.705. So the boards cost 905 - 23.916 = 881.084 and 2005 - 111.136 = 1893.864, and
	// the value is 2774.947.
	left := func(id string, length, width model.Length, value model.Money) model.Board {
		w := twoBySix(length)
		w.Width = width * Sixteenth
		return model.Board{ID: id, Wood: w, Since: "2026-02-01", Value: &value}
	}
	n1 := left("N1", 120, 30, 24)
	n1.Bin = "A"
	n1.Defects = []model.Defect{
		{From: 110 * Sixteenth, To: 120 * Sixteenth, Left: 0, Right: 4 * Sixteenth, Kind: "stain"}}
	plan := &model.Plan{
		Value: 2775, Date: "2026-02-01", Cuts: b.Rows,
		// 2 x 6 in nominal, 25 in long, over 144.
		Buy: []model.Purchase{{Material: "fir", Section: "2x6", Length: 400 * Sixteenth, Qty: 1,
			Price: 2000, Total: 2000, Tally: 2_083_333, Width: 88 * Sixteenth,
			Boards: []string{"B1"}}},
		Rack: []model.Board{job.Rack[1], n1, left("N2", 100, 17, 6), left("N3", 188, 40, 74),
			left("N4", 142, 30, 32)},
		// Pass by pass. Crosscuts 120, 100, 120, then 100, 120 of the strips; rips 30, 20, 40, 30,
		// then 20: 10 settings. Lifted are two boards, two lengths and the span, the slat of R1
		// and two strips, the slat of B1: 9. Board by board R1 takes 120, 100, 120, 30, 20, 40,
		// 100, and B1 30, as the fence is at 40, then 120, as the stop is at 100, and 20.
		Order: orderOf(Sixteenth,
			sawn(1, 120, "R1", 1, "X, rail, 1; Y, slat, 1; N1"),
			sawn(1, 100, "R1", 2, "Y, slat, 2; Y, leg, 1"),
			sawn(1, 0, "R1", 3, "waste"),
			sawn(1, 120, "R1", 4, "X, plank, 1"),
			sawn(1, 0, "B1", 1, "trim"),
			sawn(1, 0, "B1", 2, "ripped span"),
			sawn(2, 30, "R1", 5, "X, rail, 1"),
			sawn(2, 20, "R1", 6, "Y, slat, 1; N1"),
			sawn(2, 20, "R1", 7, "Y, slat, 2"),
			sawn(2, 40, "R1", 8, "Y, leg, 1"),
			sawn(2, 40, "B1", 3, "Y, leg, 2; Y, slat, 3; N2; N3"),
			sawn(2, 30, "B1", 4, "X, rail, 2; X, rail, 3; N4"),
			sawn(3, 100, "R1", 9, "Y, slat, 1"),
			sawn(3, 100, "B1", 5, "Y, leg, 2"),
			sawn(3, 100, "B1", 6, "Y, slat, 3; N2; N3"),
			sawn(3, 0, "B1", 7, "waste"),
			sawn(3, 120, "B1", 8, "X, rail, 2"),
			sawn(3, 120, "B1", 9, "X, rail, 3; N4"),
			sawn(4, 20, "B1", 10, "Y, slat, 3; N2")),
		Work: twoWays(9, 10, 10),
		// Shares by (length + 2) x (width + 3): rail 4026, slat 2346, leg 4386, plank 11102. Of R1
		// X has a rail and the plank, 15128 of 24206, and Y 9078. Of B1 X has two rails, 8052 of
		// 14784, and Y 6732.
		//
		//	              X         Y      sum           so
		//	yard     1089.286   910.714   2000         1089  911
		//	rack      562.472   337.528    900          562  338
		//	handling    5.848     4.152     10            6    4
		//	credit     75.476    59.576    135.053       75   60
		//
		// Tally: 30 of 88 is 16625 units of 48768 (6 in), 20 is 11084, 40 is 22167. X: 3 x 2 x
		// 16625/8128 x 7.5 + 2 x 6 x 7.5 cubic inches over 144, Y: 3 x 2 x 11084/8128 x 6.25 + 2 x
		// 2 x 22167/8128 x 6.25.
		Costs: []model.Cost{
			{Commission: "X", Cost: 1089 + 562 + 6 - 75, Yard: 1089, Rack: 562, Handling: 6,
				Credit: 75, Tally: 1_264_187},
			{Commission: "Y", Cost: 911 + 338 + 4 - 60, Yard: 911, Rack: 338, Handling: 4,
				Credit: 60, Tally: 828_604},
		},
	}
	plan.Rack[0].Defects = slices.Clone(plan.Rack[0].Defects)
	plan.Placements = []model.Placement{
		{Board: "R1", First: model.CrosscutFirst, Pieces: PiecesOf(plan.Cuts, "R1")},
		{Board: "B1", First: model.RipFirst, Offer: 2, Pieces: PiecesOf(plan.Cuts, "B1")}}
	return job, plan
}

// RowWriter writes rows in sixteenths.
type RowWriter struct {
	Board  string
	Origin model.Origin
	Rows   []model.Cut
}

// Row adds a row of any kind, in sixteenths.
func (b *RowWriter) Row(step int, kind model.Kind, from, to, left, right model.Length) *model.Cut {
	b.Rows = append(b.Rows, model.Cut{Board: b.Board, Origin: b.Origin, Material: "fir",
		Section: "2x6",
		Step:    step, Kind: kind,
		From: from * Sixteenth, To: to * Sixteenth, Left: left * Sixteenth,
		Right: right * Sixteenth})
	return &b.Rows[len(b.Rows)-1]
}

// Part adds the row of a piece, in sixteenths.
func (b *RowWriter) Part(step int, from, to, left, right model.Length, commission, part string,
	n int64,
	f model.Face) {
	r := b.Row(step, model.KindPart, from, to, left, right)
	r.Commission, r.Part, r.Copy, r.Face = commission, part, n, f
}

func (b *RowWriter) offcut(step int, from, to, left, right model.Length, id string) {
	b.Row(step, model.KindOffcut, from, to, left, right).Offcut = id
}

// PiecesOf gives the pieces of a board as placements have them.
func PiecesOf(rows []model.Cut, board string) (out []model.Piece) {
	for _, r := range rows {
		if r.Board == board && r.Kind == model.KindPart {
			out = append(out, model.Piece{Commission: r.Commission, Part: r.Part, Copy: r.Copy,
				From: r.From, To: r.To, Left: r.Left, Right: r.Right})
		}
	}
	return out
}

func twoBySix(length model.Length) model.Wood {
	return model.Wood{Material: "fir", Section: "2x6", Length: length * Sixteenth,
		Width: 88 * Sixteenth, Thickness: 24 * Sixteenth}
}

func ripJob() *model.Job {
	const s = Sixteenth
	part := func(commission, name string, qty int64, length, width model.Length,
		f model.Face) model.Part {
		return model.Part{Commission: commission, Name: name, Qty: qty, Material: "fir",
			Length: length * s, Width: width * s, Thickness: 24 * s, Face: f}
	}
	return &model.Job{
		Settings: model.Settings{
			Units: model.Inch, Currency: "USD", CrosscutKerf: 2 * s, RipKerf: 3 * s, YardEnd: 4 * s,
			Handling: 5, Margin: 2 * s, TrimmingCut: true, Work: workTimes,
			Allowance: model.Allowance{Length: 2 * s, Edge: s, EasedEdge: 3 * s},
			Offcut: model.OffcutRule{KeepLength: 80 * s, KeepWidth: 12 * s,
				Value: model.Fraction{Num: 1, Den: 2}, StripValue: model.Fraction{Num: 3, Den: 5}},
			Safety: model.Safety{ShortestBlank: 20 * s, ShortestRip: 40 * s,
				NarrowestRip: 10 * s},
			Sound: []string{"stain"}, Hidden: []string{"stain"},
		},
		Commissions: []model.Commission{{Name: "X"}, {Name: "Y"}},
		Parts: []model.Part{
			part("X", "rail", 3, 118, 28, model.Show), part("Y", "slat", 3, 98, 18, model.Show),
			part("Y", "leg", 2, 98, 38, model.Sound), part("X", "plank", 1, 118, 88, model.Show),
		},
		Rack: []model.Board{
			{ID: "R1", Wood: twoBySix(400), Bin: "A", Value: new(model.Money(900)),
				Since: "2026-01-05",
				Defects: []model.Defect{
					{From: 150 * s, To: 156 * s, Left: 70 * s, Right: 86 * s, Kind: "loose knot"},
					{From: 110 * s, To: 125 * s, Left: 57 * s, Right: 62 * s, Kind: "stain"}}},
			{ID: "R2", Wood: twoBySix(90), Bin: "B",
				Defects: []model.Defect{
					{From: 5 * s, To: 6 * s, Left: 0, Right: 9 * s, Kind: "split"}}},
		},
		Yard: []model.Offer{{Wood: twoBySix(400), Price: 2000,
			Where: model.Where{File: "yard.csv", Line: 2}}},
	}
}
