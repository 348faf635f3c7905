package model

import (
	"reflect"
	"slices"
	"testing"
)

// sixteenth is the unit of the job by hand: 1/16 in.
const sixteenth = UnitsPerInch / 16

// rippedByHand is a job of two 2x6 boards, 88 sixteenths wide, and its plan. In sixteenths:
// crosscut kerf 2, rip kerf 3, blanks 2 longer and 2 wider than parts, of the rounded edges 3 - 1 =
// 2 are lost beyond the allowance, keep length 80, keep width 12, margin 2, trim 4 on bought
// boards, none on those of the rack.
//
// R1, crosscut first, with two defects that do not go from edge to edge, in their margins 148-158 x
// 68-88 and 108-127 x 55-64:
//
//	0-120    ripped: dust 0-2 | rail 2-32 | kerf | slat 35-55, 100 long, so trimmed | kerf 55-58 | offcut N1 58-88
//	122-222  ripped: dust 0-2 | slat 2-22 | kerf | leg 25-65, whose face tolerates the stain | kerf 65-68 | 68-88 around a knot: on each line runs 26 and 64, so waste
//	226-346  plank, the board's whole width; the gap before it is two kerfs, the one after it a kerf and 52
//
// Its cuts: 1 behind the first length, 2 behind the second, 3 dust, 4 behind the plank; 5 the dust
// of the first length and the cut behind its rail, which have one number as a first kerf always
// has, 6 behind its slat; 7 and 8 likewise in the second; 9 trims the slat of the first.
//
// B1, rip first, 392 between the trims: dust 0-2 | strip 2-42 | kerf | strip 45-75 | kerf 75-78 |
// 10, less than keep width.
//
//	2-42     leg 4-104 | kerf | slat 106-206, 20 wide at 2-22, so trimmed: kerf 22-25 and offcut N2 25-42 | kerf 206-208 | offcut N3
//	45-75    waste 4-8 | kerf | rail 10-130 | kerf | rail 132-252 | kerf | offcut N4 254-396
//
// Its cuts: 1 and 2 the trims, 3 dust and behind the first strip, 4 behind the second; 5 behind the
// leg, 6 behind the slat; 7 before the first rail, 8 and 9 behind the two; 10 trims the slat.
func rippedByHand() (*Job, *Plan) {
	job := ripJob()
	b := rowsOf{board: "R1", origin: FromRack}
	b.part(9, 0, 100, 35, 55, "Y", "slat", 1, Show) // stands fourth, see below
	slat := b.rows[0]
	b.rows = nil
	b.row(5, KindKerf, 0, 120, 0, 2)
	b.part(5, 0, 120, 2, 32, "X", "rail", 1, Show)
	b.row(5, KindKerf, 0, 120, 32, 35)
	b.rows = append(b.rows, slat)
	b.row(9, KindKerf, 100, 102, 35, 55)
	b.row(9, KindWaste, 102, 120, 35, 55)
	b.row(6, KindKerf, 0, 120, 55, 58)
	b.offcut(6, 0, 120, 58, 88, "N1")
	b.row(1, KindKerf, 120, 122, 0, 88)
	b.row(7, KindKerf, 122, 222, 0, 2)
	b.part(7, 122, 222, 2, 22, "Y", "slat", 2, Show)
	b.row(7, KindKerf, 122, 222, 22, 25)
	b.part(8, 122, 222, 25, 65, "Y", "leg", 1, Sound)
	b.row(8, KindKerf, 122, 222, 65, 68)
	b.row(8, KindWaste, 122, 150, 68, 88)
	b.row(8, KindWaste, 150, 156, 68, 70)
	b.row(8, KindDefect, 150, 156, 70, 86)
	b.row(8, KindWaste, 150, 156, 86, 88)
	b.row(8, KindWaste, 156, 222, 68, 88)
	b.row(2, KindKerf, 222, 224, 0, 88)
	b.row(3, KindKerf, 224, 226, 0, 88)
	b.part(4, 226, 346, 0, 88, "X", "plank", 1, Show)
	b.row(4, KindKerf, 346, 348, 0, 88)
	b.row(4, KindWaste, 348, 400, 0, 88)
	b.board, b.origin = "B1", FromYard
	b.row(1, KindTrim, 0, 4, 0, 88)
	b.row(3, KindKerf, 4, 396, 0, 2)
	b.part(5, 4, 104, 2, 42, "Y", "leg", 2, Sound)
	b.row(5, KindKerf, 104, 106, 2, 42)
	b.part(10, 106, 206, 2, 22, "Y", "slat", 3, Show)
	b.row(10, KindKerf, 106, 206, 22, 25)
	b.offcut(10, 106, 206, 25, 42, "N2")
	b.row(6, KindKerf, 206, 208, 2, 42)
	b.offcut(6, 208, 396, 2, 42, "N3")
	b.row(3, KindKerf, 4, 396, 42, 45)
	b.row(7, KindWaste, 4, 8, 45, 75)
	b.row(7, KindKerf, 8, 10, 45, 75)
	b.part(8, 10, 130, 45, 75, "X", "rail", 2, Show)
	b.row(8, KindKerf, 130, 132, 45, 75)
	b.part(9, 132, 252, 45, 75, "X", "rail", 3, Show)
	b.row(9, KindKerf, 252, 254, 45, 75)
	b.offcut(9, 254, 396, 45, 75, "N4")
	b.row(4, KindKerf, 4, 396, 75, 78)
	b.row(4, KindWaste, 4, 396, 78, 88)
	b.row(2, KindTrim, 396, 400, 0, 88)

	// Worth. R1 has a value of its own, 900. Of its lines 55 + 4 have the run 400, 9 have 108 and
	// 273, 20 have 148 and 242; less 80 each that is 59 x 320 + 9 x (28 + 193) + 20 x (68 + 162) =
	// 25469, and the rate 900 x 88 / 25469 a sixteenth. N1: 6 lines with the run 108 give 87 each,
	// 24 with the run 120 give 124: (6 x 87 + 24 x 124) / 88 = 39.75. The yard asks 2000 for 400,
	// half of it is 2.5 a sixteenth: N2 50 x 17 / 88 = 9.66, N3 270 x 40 / 88 = 122.7, N4 155 x 30
	// / 88 = 52.8. So the boards cost 900 + 5 - 39 = 866 and 2000 + 5 - (9 + 122 + 52) = 1822.
	left := func(id string, length, width Length) Board {
		w := twoBySix(length)
		w.Width = width * sixteenth
		return Board{ID: id, Wood: w, Since: "2026-02-01"}
	}
	n1 := left("N1", 120, 30)
	n1.Bin, n1.Value, n1.For = "A", money(39), ""
	n1.Defects = []Defect{{110 * sixteenth, 120 * sixteenth, 0, 4 * sixteenth, "stain"}}
	plan := &Plan{
		Value: 2688, Date: "2026-02-01", Cuts: b.rows,
		// 2 x 6 in nominal, 25 in long, over 144.
		Buy: []Purchase{{Material: "fir", Section: "2x6", Length: 400 * sixteenth, Qty: 1,
			Price: 2000, Total: 2000, Tally: 2_083_333, Width: 88 * sixteenth}},
		Rack: []Board{job.Rack[1], n1, left("N2", 100, 17), left("N3", 188, 40),
			left("N4", 142, 30)},
		// Lengths of 120, 100 and 120 come off R1, and the slat that is trimmed; off the strips of
		// B1 two of each. Widths: the four blanks ripped from the lengths of R1; the two strips of
		// B1, and the slat that is trimmed.
		Setups: []Setup{
			{"crosscut", 1, 120 * sixteenth, "R1", 2}, {"crosscut", 1, 120 * sixteenth, "B1", 2},
			{"crosscut", 2, 100 * sixteenth, "R1", 2}, {"crosscut", 2, 100 * sixteenth, "B1", 2},
			{"rip", 1, 40 * sixteenth, "R1", 1}, {"rip", 1, 40 * sixteenth, "B1", 1},
			{"rip", 2, 30 * sixteenth, "R1", 1}, {"rip", 2, 30 * sixteenth, "B1", 1},
			{"rip", 3, 20 * sixteenth, "R1", 2}, {"rip", 3, 20 * sixteenth, "B1", 1},
		},
		// Shares by (length + 2) x (width + 3): rail 4026, slat 2346, leg 4386, plank 11102. R1 has
		// 24206 in all. Value 900: rail 149.69, slats 87.23 each, leg 163.08, plank 412.78, so 150,
		// 87, 87, 163, 413. Handling 5: 0.83, 0.48, 0.48, 0.91, 2.29, so 1, 1, 0, 1, 2. Credit 39:
		// 6.49, 3.78, 3.78, 7.07, 17.89, so 6, 4, 4, 7, 18. B1 has 14784. Price 2000: rails 544.64
		// each, slat 317.37, leg 593.34, so 545, 545, 317, 593. Handling 5: 1.36, 1.36, 0.79, 1.48,
		// so 1, 1, 1, 2. Credit 183: 49.84, 49.84, 29.04, 54.29, so 50, 50, 29, 54. Tally: 30 of 88
		// is 16625 units of 48768 (6 in), 20 is 11084, 40 is 22167. X: 3 x 2 x 16625/8128 x 7.5 + 2
		// x 6 x 7.5 cubic inches over 144, Y: 3 x 2 x 11084/8128 x 6.25 + 2 x 2 x 22167/8128 x
		// 6.25.
		Costs: []Cost{
			{"X", 1090 + 563 + 5 - 124, 1090, 150 + 413, 1 + 2 + 1 + 1, 6 + 18 + 50 + 50,
				1_264_187},
			{"Y", 910 + 337 + 5 - 98, 317 + 593, 87 + 87 + 163, 1 + 0 + 1 + 1 + 2,
				4 + 4 + 7 + 29 + 54, 828_604},
		},
	}
	plan.Rack[0].Defects = slices.Clone(plan.Rack[0].Defects)
	plan.Placements = []Placement{
		{Board: "R1", First: CrosscutFirst, Pieces: piecesOf(plan.Cuts, "R1")},
		{Board: "B1", First: RipFirst, Offer: 2, Pieces: piecesOf(plan.Cuts, "B1")}}
	return job, plan
}

// rowsOf writes rows in sixteenths.
type rowsOf struct {
	board  string
	origin Origin
	rows   []Cut
}

func (b *rowsOf) row(step int, kind Kind, from, to, left, right Length) *Cut {
	b.rows = append(b.rows, Cut{Board: b.board, Origin: b.origin, Material: "fir", Section: "2x6",
		Step: step, Kind: kind,
		From: from * sixteenth, To: to * sixteenth, Left: left * sixteenth,
		Right: right * sixteenth})
	return &b.rows[len(b.rows)-1]
}

func (b *rowsOf) part(step int, from, to, left, right Length, commission, part string, n int64,
	f Face) {
	r := b.row(step, KindPart, from, to, left, right)
	r.Commission, r.Part, r.Copy, r.Face = commission, part, n, f
}

func (b *rowsOf) offcut(step int, from, to, left, right Length, id string) {
	b.row(step, KindOffcut, from, to, left, right).Offcut = id
}

func piecesOf(rows []Cut, board string) (out []Piece) {
	for _, r := range rows {
		if r.Board == board && r.Kind == KindPart {
			out = append(out, Piece{r.Commission, r.Part, r.Copy, r.From, r.To, r.Left, r.Right})
		}
	}
	return out
}

func twoBySix(length Length) Wood {
	return Wood{"fir", "2x6", length * sixteenth, 88 * sixteenth, 24 * sixteenth}
}

func ripJob() *Job {
	const s = sixteenth
	part := func(commission, name string, qty int64, length, width Length, f Face) Part {
		return Part{Commission: commission, Name: name, Qty: qty, Material: "fir",
			Length: length * s, Width: width * s, Thickness: 24 * s, Face: f}
	}
	return &Job{
		Settings: Settings{
			Units: Inch, Currency: "USD", CrosscutKerf: 2 * s, RipKerf: 3 * s, YardEnd: 4 * s,
			Handling: 5, Margin: 2 * s, TrimmingCut: true,
			Allowance: Allowance{Length: 2 * s, Edge: s, EasedEdge: 3 * s},
			Offcut:    OffcutRule{KeepLength: 80 * s, KeepWidth: 12 * s, Value: Fraction{1, 2}},
			Safety:    Safety{ShortestBlank: 20 * s, ShortestRip: 40 * s, NarrowestRip: 10 * s},
			Sound:     []string{"stain"}, Hidden: []string{"stain"},
		},
		Commissions: []Commission{{Name: "X"}, {Name: "Y"}},
		Parts: []Part{
			part("X", "rail", 3, 118, 28, Show), part("Y", "slat", 3, 98, 18, Show),
			part("Y", "leg", 2, 98, 38, Sound), part("X", "plank", 1, 118, 88, Show),
		},
		Rack: []Board{
			{ID: "R1", Wood: twoBySix(400), Bin: "A", Value: money(900), Since: "2026-01-05",
				Defects: []Defect{{150 * s, 156 * s, 70 * s, 86 * s, "loose knot"},
					{110 * s, 125 * s, 57 * s, 62 * s, "stain"}}},
			{ID: "R2", Wood: twoBySix(90), Bin: "B",
				Defects: []Defect{{5 * s, 6 * s, 0, 9 * s, "split"}}},
		},
		Yard: []Offer{{Wood: twoBySix(400), Price: 2000, Where: Where{"yard.csv", 2}}},
	}
}

func TestCheckAcceptsARippedPlanMadeByHand(t *testing.T) {
	job, plan := rippedByHand()
	for _, f := range Check(job, plan) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
	// 25 in of two boards, and the offcuts 120 x 30, 100 x 17, 188 x 40, 142 x 30, whose widths are
	// 16625, 9421, 22167, 16625 units of 6 in: 2 x (7.5 x 16625 + 6.25 x 9421 + 11.75 x 22167 +
	// 8.875 x 16625) / 8128 / 144.
	want := PlanTally{Bought: 2_083_333, Rack: 2_083_333, Returned: 1_010_871,
		Blanks: 1_264_187 + 828_604}
	if got := job.TallyOf(plan); got != want {
		t.Errorf("the tally is %+v, want %+v", got, want)
	}
}

// Whatever single value of the ripped plan is changed, and whatever row is dropped or doubled, it
// is refused.
func TestNoValueOfARippedPlanIsLeftUnjudged(t *testing.T) {
	_, plan := rippedByHand()
	seen := 0
	try := func(what, path string, change func(v reflect.Value)) {
		job, plan := rippedByHand()
		places(reflect.ValueOf(plan).Elem(), "", func(p string, v reflect.Value) {
			if p == path && (v.Kind() == reflect.Slice) == (what == "drop" || what == "double") &&
				(v.Kind() == reflect.Pointer) == (what == "nil") {
				change(v)
			}
		})
		seen++
		if len(Check(job, plan)) == 0 {
			t.Errorf("%s %s: the plan is accepted", what, path)
		}
	}
	places(reflect.ValueOf(plan).Elem(), "", func(path string, v reflect.Value) {
		switch {
		case free.MatchString(path), path == ".Bound":
		case v.Kind() == reflect.Slice:
			if v.Len() > 0 {
				try("drop", path, func(v reflect.Value) { v.Set(v.Slice(0, v.Len()-1)) })
				try("double", path, func(v reflect.Value) {
					v.Set(reflect.Append(v.Slice(0, v.Len()), v.Index(0)))
				})
			}
		case v.Kind() == reflect.Pointer:
			if !v.IsNil() {
				try("nil", path, func(v reflect.Value) { v.SetZero() })
			}
		case v.Kind() == reflect.Bool:
			try("turn", path, func(v reflect.Value) { v.SetBool(!v.Bool()) })
		case v.Kind() == reflect.String:
			try("add a letter", path, func(v reflect.Value) { v.SetString(v.String() + "x") })
		default:
			try("add one", path, func(v reflect.Value) { v.SetInt(v.Int() + 1) })
			try("take one", path, func(v reflect.Value) { v.SetInt(v.Int() - 1) })
		}
	})
	if seen < 1000 {
		t.Errorf("only %d values were tried", seen)
	}
}
