package cutlist

import (
	"fmt"
	"slices"
	"testing"

	"rackwright/model"
)

const in = model.UnitsPerInch

func newWriter(job *model.Job) *writer {
	return &writer{job: job, worth: job.Valuation(), ids: newIDs(job)}
}

// write writes down a plan of one board.
func write(job *model.Job, b *Board, date string) *model.Plan {
	plan, _ := Write(job, job.Valuation(), []*Board{b}, date)
	return plan
}

// rowsOf writes rows as "step kind x [y]", in sixteenths of an inch.
func rowsOf(cuts []model.Cut) (out []string) {
	for _, c := range cuts {
		name := string(c.Kind)
		if c.Kind == model.KindPart {
			name = fmt.Sprintf("%s %d", c.Part, c.Copy)
		}
		u := model.Length(in / 16)
		out = append(out, fmt.Sprintf("%d %s %d-%d [%d-%d]", c.Step, name, c.From/u, c.To/u,
			c.Left/u, c.Right/u))
	}
	return out
}

// laid is a board of oak with the blanks given as part, from, to, left, right, in inches.
func laid(job *model.Job, w model.Wood, first model.First, blanks ...[5]float64) *Board {
	u := &Board{Board: model.Board{ID: "R1", Wood: w}, First: first,
		Slope: model.Slope{Whole: 2 * job.Valuation().Ticks(1), Strip: job.Valuation().Ticks(1)}}
	l := func(x float64) model.Length { return model.Length(x * in) }
	for n, b := range blanks {
		u.Pieces = append(u.Pieces,
			Piece{int(b[0]), int64(n + 1),
				model.Rect{From: l(b[1]), To: l(b[2]), Left: l(b[3]), Right: l(b[4])}})
	}
	return u
}

func smallJob() *model.Job {
	job := &model.Job{Settings: model.DefaultSettings(),
		Commissions: []model.Commission{{Name: "C"}}}
	for _, name := range []string{"a", "b", "c"} {
		job.Parts = append(job.Parts,
			model.Part{Commission: "C", Name: name, Qty: 9, Material: "oak", Face: model.Hidden})
	}
	return job
}

func oak(length, width model.Length) model.Wood {
	return model.Wood{Material: "oak", Section: "4/4", Length: length, Width: width, Thickness: in}
}

func compareRows(t *testing.T, got, want []string) {
	t.Helper()
	for n := range max(len(got), len(want)) {
		if n >= len(got) || n >= len(want) || got[n] != want[n] {
			t.Fatalf("from row %d on\n got %q\nwant %q", n, got[min(n, len(got)):],
				want[min(n, len(want)):])
		}
	}
}

// A length ripped in three, two of its blanks trimmed, beside plain lengths: the board first, then
// the rips, the trimming cuts last.
func TestRowsCrosscutFirst(t *testing.T) {
	job := smallJob()
	u := laid(job, oak(60*in, 8*in), model.CrosscutFirst,
		// over [0, 20]
		[5]float64{0, 0, 20, 0, 3}, [5]float64{1, 0, 14, 3.125, 5}, [5]float64{2, 6, 20, 5.125, 7},
		[5]float64{1, 20.125, 34, 0, 8}, [5]float64{1, 46, 60, 0, 8})
	u.Defects = []model.Defect{
		{From: 15 * in, To: 17 * in, Left: 4 * in, Right: 6 * in, Kind: "split"}}
	cuts, _ := newWriter(job).cuts(u)
	compareRows(t, rowsOf(cuts), []string{
		"4 a 1 0-320 [0-48]", "4 kerf 0-320 [48-50]",
		"7 b 2 0-224 [50-80]", "7 kerf 224-226 [50-80]", "7 waste 226-240 [50-80]",
		"7 waste 240-272 [50-64]", "7 defect 240-272 [64-80]", "7 waste 272-320 [50-80]",
		"5 kerf 0-320 [80-82]",
		"8 waste 0-94 [82-112]", "8 kerf 94-96 [82-112]", "8 c 3 96-320 [82-112]",
		"6 kerf 0-320 [112-114]", "6 waste 0-320 [114-128]",
		"1 kerf 320-322 [0-128]", "2 b 4 322-544 [0-128]", "2 kerf 544-546 [0-128]",
		"3 waste 546-734 [0-128]", "3 kerf 734-736 [0-128]", "3 b 5 736-960 [0-128]"})
}

// What a strip leaves goes back narrower, with what lies in it measured from its own end and edge.
func TestOffcutsBothWays(t *testing.T) {
	job := smallJob()
	value := model.Money(500000)
	u := laid(job, oak(60*in, 8*in), model.RipFirst, [5]float64{0, 0, 30, 0, 3},
		[5]float64{1, 30.125, 44, 0, 2})
	u.Value, u.Bin, u.For = &value, "top", "C"
	u.Defects = []model.Defect{
		{From: 20 * in, To: 22 * in, Left: 2 * in, Right: 4 * in, Kind: "split"},
		{From: 55 * in, To: 58 * in, Left: 7 * in, Right: 8 * in, Kind: "wane"}}
	plan := write(job, u, "2027-03-01")
	compareRows(t, rowsOf(plan.Cuts), []string{
		"2 a 1 0-480 [0-48]", "2 kerf 480-482 [0-48]", "4 b 2 482-704 [0-32]",
		"4 kerf 482-704 [32-34]", "4 waste 482-704 [34-48]", "3 kerf 704-706 [0-48]",
		"3 offcut 706-960 [0-48]",
		"1 kerf 0-960 [48-50]", "1 offcut 0-960 [50-128]"})
	if len(plan.Rack) != 2 {
		t.Fatalf("rack %v", plan.Rack)
	}
	short, wide := plan.Rack[0], plan.Rack[1]
	if short.Length != 254*in/16 || short.Width != 3*in || len(short.Defects) != 0 ||
		short.For != "C" {
		t.Errorf("the strip's rest: %+v", short)
	}
	want := []model.Defect{{From: 20 * in, To: 22 * in, Right: 14 * in / 16, Kind: "split"},
		{From: 55 * in, To: 58 * in, Left: 62 * in / 16, Right: 78 * in / 16, Kind: "wane"}}
	if wide.Length != 60*in || wide.Width != 78*in/16 || !slices.Equal(wide.Defects, want) {
		t.Errorf("the rest beside the strip: %+v", wide)
	}
	var credit model.Money
	for _, b := range plan.Rack {
		credit += *b.Value
	}
	if d := plan.Costs[0].Credit - credit; d < -1 || d > 1 || credit == 0 {
		t.Errorf("credit %v for offcuts worth %v", plan.Costs[0].Credit, credit)
	}
}

// What a ripped board costs is shared by the area of its blanks, a kerf with each both ways; what
// is not ripped by length alone.
func TestCostsByArea(t *testing.T) {
	for _, c := range []struct {
		first model.First
		a, b  model.Money
	}{
		{model.CrosscutFirst, 600, 300}, // 20 x 4 and 10 x 4 in, the kerfs with them
		{model.RipFirst, 600, 300},
	} {
		job := smallJob()
		job.Commissions = append(job.Commissions, model.Commission{Name: "D"})
		job.Parts[1].Commission = "D"
		blanks := [][5]float64{{0, 0, 19.875, 0, 3.875}, {1, 0, 9.875, 4, 7.875}}
		u := laid(job, oak(20*in, 8*in), c.first, blanks...)
		u.Cost = job.Valuation().Ticks(900)
		job.Settings.Offcut.KeepLength = 99 * in
		plan := write(job, u, "")
		if plan.Costs[0].Rack != c.a || plan.Costs[1].Rack != c.b || plan.Value != 900 {
			t.Errorf("%s first: %+v", c.first, plan.Costs)
		}
		if a, b := plan.Costs[0].Tally, plan.Costs[1].Tally; a == 0 || 19875*b/9875 < a-2 ||
			19875*b/9875 > a+2 {
			t.Errorf("%s first: tallies %d and %d", c.first, a, b)
		}
	}
	job := smallJob()
	u := laid(job, oak(40*in, 8*in), model.NotRipped, [5]float64{0, 0, 19.875, 0, 8},
		[5]float64{1, 20, 29.875, 0, 8})
	u.Cost, job.Parts[1].Commission = job.Valuation().Ticks(900), "D"
	job.Commissions = append(job.Commissions, model.Commission{Name: "D"})
	if plan := write(job, u, ""); plan.Costs[0].Rack != 600 ||
		plan.Placements[0].First != "" || plan.Placements[0].Pieces[0].Right != 0 {
		t.Errorf("not ripped: %+v, %+v", plan.Costs, plan.Placements)
	}
}

// Offcuts go into the bins of the shop, one after the other, and what is full sends them back to
// the bin of their board.
func TestOffcutsIntoBins(t *testing.T) {
	job := smallJob()
	longest := model.Length(36 * in)
	job.Settings.Bins = map[string]model.BinFacts{"short": {Longest: &longest, Most: new(int64(2))}}
	job.Rack = []model.Board{{ID: "R0", Bin: "Short", Wood: oak(20*in, 8*in)}}
	u := laid(job, oak(60*in, 8*in), model.RipFirst, [5]float64{0, 0, 30, 0, 3},
		[5]float64{1, 30.125, 44, 0, 2})
	u.Bin = "top"
	plan := write(job, u, "")
	if got := plan.Rack[1].Bin + ", " + plan.Rack[2].Bin; len(plan.Rack) != 3 ||
		got != "short, top" {
		t.Errorf("the short one and the long one lie in %s", got)
	}
	u.Bin, job.Settings.Bins["short"] = "top", model.BinFacts{Longest: &longest,
		Most: new(int64(1))}
	if plan = write(job, u, ""); plan.Rack[1].Bin != "top" {
		t.Errorf("a full bin: %s", plan.Rack[1].Bin)
	}
	u.Bin = "SHORT" // it makes room for what comes off it
	if plan = write(job, u, ""); plan.Rack[1].Bin != "short" || plan.Rack[2].Bin != "SHORT" {
		t.Errorf("from the full bin: %s, %s", plan.Rack[1].Bin, plan.Rack[2].Bin)
	}
}
