package handmade

import (
	"slices"
	"strings"
	"testing"

	"rackwright/model"
)

// Tiny is a job small enough to plan by hand, in single units of length and of money, and its plan.
//
// Kerf 2, trim 3 on bought boards, margin 1, keep length 10, handling 5, blanks 1 longer than
// parts. All lengths are kept 10 short. The yard's best price is 1000 for 106, half of which is
// 250/53 a unit. Worth of R1: runs 19, 13, 17 keep 9 + 3 + 7 = 19, so 89.62. R2 has a value of its
// own, 900 over runs 4, 19, 30, which keep 29; its offcut N1 keeps 9 of them: 279.31. That of B2 is
// 56 clear: 46 x 250/53 = 216.98. The boards cost 1000 + 2100 + 89.62 + 900, handling 20, so the
// value is 4109.62 - 496.29 = 3613.33.
func Tiny() (*model.Job, *model.Plan) {
	job := tinyJob()
	row := func(board string, step int, kind model.Kind, from, to model.Length) model.Cut {
		origin := model.FromRack
		if board[0] == 'B' {
			origin = model.FromYard
		}
		return model.Cut{Board: board, Origin: origin, Material: "oak", Section: "4/4", Step: step,
			Kind: kind, From: from, To: to, Right: 6 * model.UnitsPerInch}
	}
	piece := func(board string, step int, from, to model.Length, commission, part string, n int64,
		f model.Face) model.Cut {
		c := row(board, step, model.KindPart, from, to)
		c.Commission, c.Part, c.Copy, c.Face = commission, part, n, f
		return c
	}
	offcut := func(board string, step int, from, to model.Length, id string) model.Cut {
		c := row(board, step, model.KindOffcut, from, to)
		c.Offcut = id
		return c
	}
	plan := &model.Plan{
		Value: 3613, Bound: 2760, Date: "2026-02-01",
		Cuts: []model.Cut{
			piece("R1", 1, 0, 18, "Bench", "leg", 1, model.Show),
			row("R1", 1, model.KindKerf, 18, 20),
			row("R1", 2, model.KindDefect, 20, 22),
			row("R1", 2, model.KindKerf, 22, 24),
			piece("R1", 3, 24, 54, "Table", "rail", 2, model.Hidden),
			row("R1", 3, model.KindKerf, 54, 56),
			row("R1", 3, model.KindWaste, 56, 60),
			offcut("R2", 1, 0, 28, "N1"), row("R2", 1, model.KindKerf, 28, 30),
			piece("R2", 1, 30, 60, "Table", "rail", 1, model.Hidden),
			row("B1", 1, model.KindTrim, 0, 3),
			piece("B1", 2, 3, 21, "Bench", "leg", 2, model.Show),
			row("B1", 2, model.KindKerf, 21, 23),
			row("B1", 3, model.KindKerf, 23, 24),
			piece("B1", 4, 24, 94, "Table", "top", 1, model.Show),
			row("B1", 4, model.KindKerf, 94, 96),
			row("B1", 5, model.KindWaste, 96, 103), row("B1", 5, model.KindTrim, 103, 106),
			row("B2", 1, model.KindTrim, 0, 3),
			piece("B2", 2, 3, 73, "Bench", "shelf", 2, model.Show),
			row("B2", 2, model.KindKerf, 73, 75),
			piece("B2", 3, 75, 145, "Bench", "shelf", 1, model.Show),
			row("B2", 3, model.KindKerf, 145, 147),
			offcut("B2", 4, 147, 203, "N2"),
			row("B2", 4, model.KindTrim, 203, 206),
		},
		Buy: []model.Purchase{
			{Material: "oak", Section: "4/4", Length: 106, Qty: 1, Price: 1000, Total: 1000,
				Width: 6 * model.UnitsPerInch, Boards: []string{"B1"}},
			{Material: "oak", Section: "4/4", Length: 206, Qty: 1, Price: 2100, Total: 2100,
				Width: 6 * model.UnitsPerInch, Boards: []string{"B2"}},
		}, // no whole foot, so no surface measure
		Rack: []model.Board{
			job.Rack[2], job.Rack[3], job.Rack[4],
			{ID: "N1", Wood: oak(28), Bin: "B", Value: new(model.Money(279)), Since: "2026-02-01",
				Defects: []model.Defect{at(5, 6, "sound knot"), at(27, 28, "pin hole")}},
			{ID: "N2", Wood: oak(56), Since: "2026-02-01"},
		},
		// The stop is set to 18 and 30 for R1, stays for R2, is set to 18 and 70 for B1 and stays
		// for B2: 4 settings, in either way. Each board is lifted once.
		Order: orderOf(1,
			sawn(1, 18, "R1", 1, "Bench, leg, 1"),
			sawn(1, 0, "R1", 2, "waste"),
			sawn(1, 30, "R1", 3, "Table, rail, 2"),
			sawn(1, 30, "R2", 1, "N1; Table, rail, 1"),
			sawn(1, 0, "B1", 1, "trim"),
			sawn(1, 18, "B1", 2, "Bench, leg, 2"),
			sawn(1, 0, "B1", 3, "waste"),
			sawn(1, 70, "B1", 4, "Table, top, 1"),
			sawn(1, 0, "B1", 5, "waste"),
			sawn(1, 0, "B2", 1, "trim"),
			sawn(1, 70, "B2", 2, "Bench, shelf, 2"),
			sawn(1, 70, "B2", 3, "Bench, shelf, 1"),
			sawn(1, 0, "B2", 4, "N2")),
		Work: twoWays(4, 4, 4),
		// Shares by blank + kerf, of Bench and of Table. R1, 20 : 32 of 52: worth 89.62 is 34.47
		// and 55.15, handling 5 is 1.92 and 3.08. B1, 20 : 72 of 92: price 1000 is 217.39 and
		// 782.61, handling 1.09 and 3.91. B2 is all Bench's, R2 all Table's.
		//
		//	         Table    Bench     sum          so
		//	yard    782.61  2317.39    3100          783  2317
		//	rack    955.15    34.47     989.62, 990  955    35, which lacks most
		//	handling 11.99     8.01      20           12     8
		//	credit  279.31   216.98     496.29       280   217
		//
		// The credit is to come to 3100 + 990 + 20 - 3613 = 497: of two units over 279 + 216 Bench
		// gets the first and Table the second. Tally, 6/144 board feet an inch: Table 30 + 30 + 70
		// units 666.42, Bench 18 + 18 + 70 + 70 902.23.
		Costs: []model.Cost{
			{Commission: "Table", Cost: 783 + 955 + 12 - 280, Yard: 783, Rack: 955, Handling: 12,
				Credit: 280, Tally: 666},
			{Commission: "Chest", Cost: 0, Yard: 0, Rack: 0, Handling: 0, Credit: 0, Tally: 0},
			{Commission: "Bench", Cost: 2317 + 35 + 8 - 217, Yard: 2317, Rack: 35, Handling: 8,
				Credit: 217, Tally: 902},
		},
		Shortages: []model.Shortage{
			{Commission: "Bench", Part: "seat", Copies: []int64{1},
				Reason: "no board is long enough"}},
		Placements: []model.Placement{
			{Board: "R1", Offer: 0,
				Pieces: []model.Piece{{Commission: "Bench", Part: "leg", Copy: 1, From: 0, To: 18},
					{Commission: "Table", Part: "rail", Copy: 2, From: 24, To: 54}}},
			{Board: "R2", Offer: 0,
				Pieces: []model.Piece{
					{Commission: "Table", Part: "rail", Copy: 1, From: 30, To: 60}}},
			{Board: "B1", Offer: 2,
				Pieces: []model.Piece{{Commission: "Bench", Part: "leg", Copy: 2, From: 3, To: 21},
					{Commission: "Table", Part: "top", Copy: 1, From: 24, To: 94}}},
			{Board: "B2", Offer: 3,
				Pieces: []model.Piece{
					{Commission: "Bench", Part: "shelf", Copy: 2, From: 3, To: 73},
					{Commission: "Bench", Part: "shelf", Copy: 1, From: 75, To: 145}}},
		},
		Groups: []model.Group{{Name: "oak 4/4", Value: 3613, Bound: 2760, Proof: model.Feasible,
			Ended: model.WorkLimit, Certificate: tinyCertificate()}},
	}
	// so that a test can spoil one of the two
	plan.Rack[0].Defects = slices.Clone(plan.Rack[0].Defects)
	return job, plan
}

func oak(l model.Length) model.Wood {
	return model.Wood{Material: "oak", Section: "4/4", Length: l, Width: 6 * model.UnitsPerInch,
		Thickness: model.UnitsPerInch}
}

func at(from, to model.Length, kind string) model.Defect {
	return model.Defect{From: from, To: to, Left: 0, Right: 6 * model.UnitsPerInch, Kind: kind}
}

func tinyJob() *model.Job {
	some, none := int64(2), int64(0)
	part := func(commission, name string, qty int64, l model.Length, f model.Face) model.Part {
		return model.Part{Commission: commission, Name: name, Qty: qty, Material: "oak", Length: l,
			Width: 6 * model.UnitsPerInch, Thickness: model.UnitsPerInch, Face: f}
	}
	return &model.Job{
		Settings: model.Settings{
			Units: model.Inch, Currency: "USD", CrosscutKerf: 2, YardEnd: 3, Handling: 5, Margin: 1,
			Work:      workTimes,
			Allowance: model.Allowance{Length: 1},
			Offcut:    model.OffcutRule{KeepLength: 10, Value: model.Fraction{Num: 1, Den: 2}},
			Sound:     []string{"sound knot"}, Hidden: []string{"sound knot", "check"},
		},
		Commissions: []model.Commission{{Name: "Table"}, {Name: "Chest"}, {Name: "Bench"}},
		Parts: []model.Part{
			part("Bench", "leg", 2, 17, model.Show), part("Table", "rail", 2, 29, model.Hidden),
			part("Bench", "seat", 1, 299, model.Show),
			part("Table", "top", 1, 69, model.Show), part("Bench", "shelf", 2, 69, model.Show),
		},
		Rack: []model.Board{
			{ID: "R1", Wood: oak(60), Bin: "A", Since: "2026-01-05",
				Defects: []model.Defect{at(20, 23, "loose knot"), at(22, 25, "check"),
					at(40, 42, "sound knot")}},
			{ID: "R2", Wood: oak(60), Bin: "B", Value: new(model.Money(900)),
				Defects: []model.Defect{at(5, 6, "sound knot"), at(27, 29, "pin hole")}},
			{ID: "R3", Wood: oak(40), Bin: "C", Since: "2025-11-30", Note: "from the barn",
				Value: new(model.Money(70)), Defects: []model.Defect{at(3, 4, "stain")}},
			{ID: "R4.1", Wood: oak(20), Bin: "D"},
			{ID: "R4.2", Wood: oak(20), Bin: "D"},
		},
		Yard: []model.Offer{
			{Wood: oak(106), Price: 1000, Available: &some,
				Where: model.Where{File: "yard.csv", Line: 2}},
			{Wood: oak(206), Price: 2100, Where: model.Where{File: "yard.csv", Line: 3}},
			{Wood: oak(56), Price: 1, Available: &none,
				Where: model.Where{File: "yard.csv", Line: 4}},
		},
	}
}

// Spoilt is one thing changed in a plan, and what the checker is to say of it.
type Spoilt struct {
	What  string
	Spoil func(j *model.Job, p *model.Plan)
	Want  string
}

// TryAll spoils the tiny plan in each way, and sees that the judge says what is wanted.
func TryAll(t *testing.T, judge func(*model.Job, *model.Plan) []model.Finding, all []Spoilt) {
	for _, s := range all {
		t.Run(s.What, func(t *testing.T) {
			job, plan := Tiny()
			s.Spoil(job, plan)
			Want(t, judge(job, plan), s.Want)
		})
	}
}

// Want sees that some finding says what is wanted.
func Want(t *testing.T, found []model.Finding, want string) {
	t.Helper()
	for _, f := range found {
		if strings.Contains(f.Where+": "+f.What, want) {
			return
		}
	}
	t.Errorf("%d findings, none says %q: %v", len(found), want, found)
}

// TinyBits are those of the tiny job: a dearest board of 2100 + 5 takes 12 bits and 2^14 copies 14
// more, and 34 make up 60.
const TinyBits = 34

// TinySlope is what a cell of the tiny job is worth at the yard's best price, in ticks: half of
// 1000 for 106 x 48768 units. 2^34 x 500 = 8589934592000 is 1661686.09 times 106 x 48768 = 5169408.
const TinySlope = 1661686

// TinyTicks is money in ticks of the tiny job.
func TinyTicks(money int64) int64 { return money << TinyBits }

// tinyCertificate proves 2760 for the plan of tiny, by hand: a dual of 920 for each of the three
// blanks of 70, and 0 for the others. Of 100 between the trims a blank and its kerf leave 28, worth
// 18 x 250/53 = 84.91, and 920 + 84.91 is below the cost of 1005. Of 200, two leave 56: 2 x 920 +
// 216.98 is below 2105. No other wood can hold the blank, and none is worth more than it costs.
// Worth at the yard's price are R1, which keeps 19 of its length, and boards of 20, which keep 10.
func tinyCertificate() model.Certificate {
	two, one, pair := int64(2), int64(1), int64(2)
	const length = 6 * int64(model.UnitsPerInch) * TinySlope // that keeps its whole width
	return model.Certificate{
		Bits: TinyBits,
		Items: []model.CertItem{
			{Length: 18, Face: model.Show, Demand: 2, Stocks: []int{0, 1, 2, 3, 4, 5}},
			{Length: 30, Face: model.Hidden, Demand: 2, Stocks: []int{0, 1, 2, 4, 5}},
			{Length: 70, Face: model.Show, Demand: 3, Stocks: []int{4, 5}},
		},
		Stocks: []model.CertStock{
			{Boards: []string{"R1"}, Cost: 19*length + TinyTicks(5), Supply: &one},
			{Boards: []string{"R2"}, Cost: TinyTicks(905), Supply: &one},
			{Boards: []string{"R3"}, Cost: TinyTicks(75), Supply: &one},
			{Boards: []string{"R4.1", "R4.2"}, Cost: 10*length + TinyTicks(5), Supply: &pair},
			{Yard: 2, Cost: TinyTicks(1005), Supply: &two},
			{Yard: 3, Cost: TinyTicks(2105)},
		},
		Root: model.CertNode{Duals: []int64{0, 0, TinyTicks(920)}},
	}
}

// Branched is tiny with a proof of two leaves. Without line 3 only two of the three blanks of 70
// can be cut, so a dual as high as one likes proves much: 3 x 5000 + 2 (1005 - 5084.91) = 6840.19.
// With a board of line 3 the duals of before give its reduced cost, 2105 - 2 x 920 - 216.98 =
// 48.02, on top: 2760 + 48.02 = 2808.02.
func Branched() (*model.Job, *model.Plan) {
	job, plan := Tiny()
	g := &plan.Groups[0]
	g.Bound, plan.Bound = 2808, 2808
	g.Certificate.Root = model.CertNode{Split: &model.CertSplit{Stock: 5, AtMost: 0,
		Low:  model.CertNode{Duals: []int64{0, 0, TinyTicks(5000)}},
		High: model.CertNode{Duals: []int64{0, 0, TinyTicks(920)}}}}
	return job, plan
}

// ThreesBits are those of the job of threes: 100 takes 7 bits and 2^14 copies 14, and 39 make up
// 60.
const ThreesBits = 39

// ThreesTicks is money in ticks of the job of threes.
func ThreesTicks(money int64) int64 { return money << ThreesBits }

// Threes is a job where boards alone cannot close the gap, and its plan. Parts of 4, 5 and 6, one
// each; boards of 11, at 100, hold any two, boards of 6, at 60, any one; no offcut is worth
// anything, as keep is 100. Half of each pair would do by the duals: 50 for each part prove 150.
// The cheapest is a pair and a board of 6: 160. The plan takes two boards of 11.
//
// Its list has all pairs, at no excess, and boards of 6 for each part, 10 above it. The rows of the
// three parts, halved, say that a plan uses 3/2 boards, so it uses 2: the cut has 1 for every
// pattern, and asks for 2. That is so of a third of the cut as well. Duals of 40 for each part and
// 15 and 5 for the cuts: pairs and boards of 6 come to their cost, and 3 x 40 + 2 x 20 to 160.
func Threes() (*model.Job, *model.Plan) {
	part := func(name string, l model.Length) model.Part {
		return model.Part{Commission: "Box", Name: name, Qty: 1, Material: "oak", Section: "4/4",
			Length: l, Width: 9, Thickness: 9}
	}
	wood := func(l model.Length) model.Wood {
		return model.Wood{Material: "oak", Section: "4/4", Length: l, Width: 9, Thickness: 9}
	}
	supply, claim := [2]int64{3, 4}, [2]int64{3, 4}
	job := &model.Job{
		Settings: model.Settings{Currency: "USD",
			Offcut: model.OffcutRule{KeepLength: 100, Value: model.Fraction{Num: 1, Den: 2}}},
		Commissions: []model.Commission{{Name: "Box"}},
		Parts:       []model.Part{part("a", 4), part("b", 5), part("c", 6)},
		Yard: []model.Offer{
			{Wood: wood(11), Price: 100, Available: &supply[0],
				Where: model.Where{File: "yard.csv", Line: 2}},
			{Wood: wood(6), Price: 60, Available: &supply[1],
				Where: model.Where{File: "yard.csv", Line: 3}},
		},
	}
	row := func(board string, kind model.Kind, from, to model.Length, part string) model.Cut {
		c := model.Cut{Board: board, Origin: model.FromYard, Material: "oak", Section: "4/4",
			Step: 1,
			Kind: kind, From: from, To: to, Right: 9, Part: part}
		if c.Part != "" {
			c.Commission, c.Copy = "Box", 1
		}
		return c
	}
	held, ticks := []int{0, 1}, ThreesTicks
	plan := &model.Plan{
		Value: 200, Bound: 160,
		Cuts: []model.Cut{
			row("B1", model.KindPart, 0, 4, "a"), row("B1", model.KindPart, 4, 9, "b"),
			row("B1", model.KindWaste, 9, 11, ""),
			row("B2", model.KindPart, 0, 6, "c"), row("B2", model.KindWaste, 6, 11, ""),
		},
		Placements: []model.Placement{
			{Board: "B1", Offer: 2,
				Pieces: []model.Piece{{Commission: "Box", Part: "a", Copy: 1, To: 4},
					{Commission: "Box", Part: "b", Copy: 1, From: 4, To: 9}}},
			{Board: "B2", Offer: 2,
				Pieces: []model.Piece{{Commission: "Box", Part: "c", Copy: 1, To: 6}}}},
		Groups: []model.Group{
			{Name: "oak", Value: 200, Bound: 160, Proof: model.Feasible, Ended: model.Finished,
				Certificate: model.Certificate{
					Bits: ThreesBits,
					Items: []model.CertItem{{Length: 4, Face: model.Show, Demand: 1, Stocks: held},
						{Length: 5, Face: model.Show, Demand: 1, Stocks: held},
						{Length: 6, Face: model.Show, Demand: 1, Stocks: held}},
					Stocks: []model.CertStock{{Yard: 2, Cost: ticks(100), Supply: &claim[0]},
						{Yard: 3, Cost: ticks(60), Supply: &claim[1]}},
					Root: model.CertNode{Duals: []int64{ticks(50), ticks(50), ticks(50)},
						List: &model.CertList{
							Target: ticks(200),
							CertListNode: model.CertListNode{
								Cuts: []model.CertCut{
									{Den: 2, Rows: [][2]int64{{0, 1}, {1, 1}, {2, 1}}},
									{Den: 3, Rows: [][2]int64{{7, 1}}}},
								Duals:    []int64{ticks(40), ticks(40), ticks(40)},
								CutDuals: []int64{ticks(15), ticks(5)},
							}}},
				}}},
	}
	return job, plan
}
