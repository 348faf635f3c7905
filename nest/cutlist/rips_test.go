package cutlist

import (
	"testing"

	"rackwright/model"
	"rackwright/nest/internal/sawtest"
)

// A board with a split end is crosscut behind the split, as to a length, and ripped after that. The
// end is waste with the split in it; what is kept at the far end is as wide as the board.
func TestRowsOfRippedSpan(t *testing.T) {
	job := smallJob()
	job.Settings.RackEnd = in
	u := laid(job, oak(90*in, 8*in), model.RipFirst, [5]float64{0, 12, 32, 0, 3},
		[5]float64{1, 32.125, 52, 0, 3}, [5]float64{2, 12, 52, 3.125, 5})
	u.Ripped = model.Span{From: 12 * in, To: 52 * in}
	u.Defects = []model.Defect{{To: 11 * in, Right: 8 * in, Kind: "split"}}
	plan := write(job, u, "")
	compareRows(t, rowsOf(plan.Cuts), []string{
		"1 trim 0-16 [0-128]", "2 defect 16-176 [0-128]", "2 waste 176-190 [0-128]",
		"2 kerf 190-192 [0-128]",
		"7 a 1 192-512 [0-48]", "7 kerf 512-514 [0-48]", "7 b 2 514-832 [0-48]",
		"5 kerf 192-832 [48-50]", "6 c 3 192-832 [50-80]",
		"6 kerf 192-832 [80-82]", "6 offcut 192-832 [82-128]",
		"3 kerf 832-834 [0-128]", "4 offcut 834-1424 [0-128]", "4 trim 1424-1440 [0-128]"})
	if why := sawtest.Replay(plan.Cuts); why != "" {
		t.Error(why)
	}
	if p := plan.Placements[0]; p.RipFrom != 12*in || p.RipTo != 52*in {
		t.Errorf("ripped from %d to %d", p.RipFrom, p.RipTo)
	}
	end := plan.Rack[len(plan.Rack)-1]
	if end.Width != 8*in || end.Length != 590*in/16 || end.Value != nil {
		t.Errorf("the end goes back as %+v", end)
	}
}

// A plan says nothing of a ripped span that is all between the trims.
func TestRippedSpanIsLeftOutWhereItIsAll(t *testing.T) {
	for _, span := range []model.Span{{}, {From: in, To: 59 * in}} {
		job := smallJob()
		job.Settings.RackEnd = in
		u := laid(job, oak(60*in, 8*in), model.RipFirst, [5]float64{0, 1, 59, 0, 3})
		u.Ripped = span
		plan := write(job, u, "")
		if p := plan.Placements[0]; p.RipFrom != 0 || p.RipTo != 0 {
			t.Errorf("%v: ripped from %d to %d", span, p.RipFrom, p.RipTo)
		}
		compareRows(t, rowsOf(plan.Cuts), []string{"1 trim 0-16 [0-128]",
			"3 a 1 16-944 [0-48]", "3 kerf 16-944 [48-50]", "3 offcut 16-944 [50-128]",
			"2 trim 944-960 [0-128]"})
	}
}

// How long the rips of a board of 60 x 8 in are, by hand.
func TestRips(t *testing.T) {
	for _, c := range []struct {
		what   string
		first  model.First
		kerf   float64
		span   model.Span
		want   float64 // in
		blanks [][5]float64
	}{
		{"not ripped", model.NotRipped, 0.125, model.Span{}, 0,
			[][5]float64{{0, 0, 20, 0, 8}, {1, 20.125, 30, 0, 8}}},
		{"one off the board's left edge", model.CrosscutFirst, 0.125, model.Span{}, 20,
			[][5]float64{{0, 0, 20, 0, 3}, {1, 20.125, 30, 0, 8}}},
		{"one in the middle", model.CrosscutFirst, 0.125, model.Span{}, 40,
			[][5]float64{{0, 0, 20, 1, 3}}},
		{"two a kerf apart, the shorter ripped off with the length", model.CrosscutFirst, 0.125,
			model.Span{}, 40, [][5]float64{{0, 0, 20, 0, 3}, {1, 0, 10, 3.125, 6}}},
		{"two a kerf apart, edge to edge", model.CrosscutFirst, 0.125, model.Span{}, 20,
			[][5]float64{{0, 0, 20, 0, 3}, {1, 0, 20, 3.125, 8}}},
		{"two farther apart than a kerf", model.CrosscutFirst, 0.125, model.Span{}, 40,
			[][5]float64{{0, 0, 20, 0, 3}, {1, 0, 20, 3.25, 8}}},
		{"two with no kerf at all", model.CrosscutFirst, 0, model.Span{}, 40,
			[][5]float64{{0, 0, 20, 0, 3}, {1, 0, 20, 3, 6}}},
		{"two lengths", model.CrosscutFirst, 0.125, model.Span{}, 30,
			[][5]float64{{0, 0, 20, 0, 3}, {1, 20.125, 30.125, 0, 5}}},
		{"two strips between the trims", model.RipFirst, 0.125, model.Span{}, 116,
			[][5]float64{{0, 1, 20, 0, 3}, {1, 1, 40, 3.125, 6}, {0, 20.125, 30, 0, 3}}},
		{"a blank trimmed in its strip", model.RipFirst, 0.125, model.Span{}, 58 + 10,
			[][5]float64{{0, 1, 20, 0, 3}, {1, 20.125, 30.125, 1, 3}}},
		{"a ripped span", model.RipFirst, 0.125, model.Span{From: 10 * in, To: 50 * in}, 80,
			[][5]float64{{0, 10, 20, 0, 3}, {1, 10, 40, 3.125, 6}}},
		{"a board crosscut as if it were ripped first", model.RipFirst, 0.125, model.Span{}, 0,
			[][5]float64{{0, 1, 20, 0, 8}}},
	} {
		job := smallJob()
		job.Settings.RipKerf, job.Settings.RackEnd = model.Length(c.kerf*in), in
		u := laid(job, oak(60*in, 8*in), c.first, c.blanks...)
		u.Ripped = c.span
		if got := rips(job, u); got != model.Length(c.want*in) {
			t.Errorf("%s: %v in, want %v", c.what, float64(got)/in, c.want)
		}
	}
}

// Rips cost money by the foot. The commissions share it as they share the board, and the value of
// the plan has it.
func TestCostsOfRips(t *testing.T) {
	job := smallJob()
	job.Settings.Ripping, job.Settings.Offcut.KeepLength = model.UnitsOfMoney/10, 99*in
	job.Commissions = append(job.Commissions, model.Commission{Name: "D"})
	job.Parts[1].Commission = "D"
	u := laid(job, oak(20*in, 8*in), model.CrosscutFirst, [5]float64{0, 0, 19.875, 0, 3.875},
		[5]float64{1, 0, 9.875, 4, 7.875})
	u.Cost = job.Valuation().Ticks(900)
	plan := write(job, u, "")
	want := []model.Money{2208, 1104} // 2 rips of 19 7/8 in at 0.10 a foot: 0.33125, rounded once
	if a, b := plan.Costs[0], plan.Costs[1]; a.Ripping != want[0] || b.Ripping != want[1] ||
		a.Cost != a.Rack+want[0] || plan.Value != 900+want[0]+want[1] ||
		plan.Value != a.Cost+b.Cost {
		t.Errorf("value %d, costs %+v, want ripping %d", plan.Value, plan.Costs, want)
	}
}
