package model

import (
	"math"
	"testing"
)

func TestCheckAcceptsAPlanMadeByHand(t *testing.T) {
	for _, f := range checked(tiny()) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
}

func TestCheckRefusesCuts(t *testing.T) {
	tryAll(t, checked, []spoilt{
		{"board of no rows' neighbours", func(j *Job, p *Plan) {
			p.Cuts[1].Board = "R3"
		}, "used twice"},
		{"board unknown", func(j *Job, p *Plan) {
			p.Cuts[7].Board, p.Cuts[8].Board, p.Cuts[9].Board = "X", "X", "X"
		}, "board X: is not on the rack"},
		{"board without id", func(j *Job, p *Plan) { p.Cuts[7].Board = "" }, "has no id"},
		{"origin", func(j *Job, p *Plan) { p.Cuts[0].Origin = FromYard }, "line 2: origin"},
		{"material", func(j *Job, p *Plan) { p.Cuts[3].Material = "ash" }, "line 5: material"},
		{"section", func(j *Job, p *Plan) { p.Cuts[3].Section = "5/4" }, "line 5: section"},
		{"step", func(j *Job, p *Plan) { p.Cuts[3].Step = 3 }, `line 5: step is 3, it should be 2`},
		{"step of the last piece", func(j *Job, p *Plan) {
			p.Cuts[6].Step = 4
		}, "line 8: step is 4, it should be 3"},
		{"step of a second kerf", func(j *Job, p *Plan) { p.Cuts[13].Step = 2 }, "line 15: step"},
		{"kind", func(j *Job, p *Plan) {
			p.Cuts[6].Kind = KindOffcut
			p.Cuts[6].Offcut = "N3"
		}, "offcut from"},
		{"kind unknown", func(j *Job, p *Plan) { p.Cuts[6].Kind = "firewood" }, "firewood from"},
		{"offcut called waste", func(j *Job, p *Plan) {
			p.Cuts[7].Kind = KindWaste
			p.Cuts[7].Offcut = ""
		}, "the rules make offcut"},
		{"defect called waste", func(j *Job, p *Plan) {
			p.Cuts[2].Kind = KindWaste
		}, "the rules make defect"},
		{"trim called waste", func(j *Job, p *Plan) {
			p.Cuts[10].Kind = KindWaste
		}, "the rules make trim"},
		{"from", func(j *Job, p *Plan) { p.Cuts[6].From = 57 }, "leaves a gap"},
		{"to", func(j *Job, p *Plan) { p.Cuts[5].To = 57 }, "overlaps the row before"},
		{"not to the end", func(j *Job, p *Plan) { p.Cuts[6].To = 59 }, "the rows end at"},
		{"beyond the end", func(j *Job, p *Plan) { p.Cuts[6].To = 61 }, "the rows end at"},
		{"empty row", func(j *Job, p *Plan) {
			p.Cuts[1].To = 18
			p.Cuts[2].From = 18
		}, "of no length"},
		{"kerf too wide", func(j *Job, p *Plan) {
			p.Cuts[5].To, p.Cuts[6].From = 57, 57
		}, "the rules make kerf"},
		{"kerf too narrow", func(j *Job, p *Plan) {
			p.Cuts[5].To, p.Cuts[6].From = 55, 55
		}, "the rules make kerf"},
		{"trim too wide", func(j *Job, p *Plan) {
			p.Cuts[17].From, p.Cuts[16].To = 102, 102
		}, "the rules make waste"},
		{"row missing", func(j *Job, p *Plan) {
			p.Cuts = p.Cuts[:len(p.Cuts)-1]
		}, "the rows end at"},
		{"left", func(j *Job, p *Plan) { p.Cuts[4].Left = 1 }, "line 6: left"},
		{"right", func(j *Job, p *Plan) { p.Cuts[4].Right-- }, "line 6: right"},
		{"commission", func(j *Job, p *Plan) {
			p.Cuts[0].Commission = "Bunk"
		}, `no part "leg" of "Bunk"`},
		{"part", func(j *Job, p *Plan) { p.Cuts[0].Part = "arm" }, `no part "arm" of "Bench"`},
		{"another part", func(j *Job, p *Plan) { p.Cuts[0].Part = "shelf" }, "it is to be"},
		{"copy twice", func(j *Job, p *Plan) { p.Cuts[0].Copy = 2 }, "once more"},
		{"copy 0", func(j *Job, p *Plan) { p.Cuts[0].Copy = 0 }, "names copy 0"},
		{"copy above qty", func(j *Job, p *Plan) { p.Cuts[0].Copy = 3 }, "names copy 3"},
		{"copy nowhere", func(j *Job, p *Plan) {
			j.Parts[0].Qty = 3
		}, "neither cut nor short; the first is copy 3"},
		{"face", func(j *Job, p *Plan) { p.Cuts[0].Face = Sound }, "face is"},
		{"no face", func(j *Job, p *Plan) { p.Cuts[0].Face = 99 }, "no face"},
		{"face of a kerf", func(j *Job, p *Plan) { p.Cuts[1].Face = Sound }, "line 3: face"},
		{"commission of a kerf", func(j *Job, p *Plan) {
			p.Cuts[1].Commission = "Bench"
		}, "line 3: commission"},
		{"part of a kerf", func(j *Job, p *Plan) { p.Cuts[1].Part = "leg" }, "line 3: part"},
		{"copy of a kerf", func(j *Job, p *Plan) { p.Cuts[1].Copy = 1 }, "line 3: copy"},
		{"offcut id of a kerf", func(j *Job, p *Plan) {
			p.Cuts[1].Offcut = "N3"
		}, "line 3: offcut"},
		{"offcut without id", func(j *Job, p *Plan) { p.Cuts[7].Offcut = "" }, "has no id"},
		{"offcut id twice", func(j *Job, p *Plan) { p.Cuts[7].Offcut = "N2" }, "not new"},
		{"offcut id of the rack", func(j *Job, p *Plan) { p.Cuts[7].Offcut = "R3" }, "not new"},
		{"offcut id of its own board", func(j *Job, p *Plan) {
			p.Cuts[7].Offcut = "R2"
		}, "not new"},
		{"offcut id of a bought board", func(j *Job, p *Plan) {
			p.Cuts[7].Offcut = "B1"
		}, "not new"},
		{"bought board with an id of the rack", func(j *Job, p *Plan) {
			j.Rack[3].ID = "B1"
		}, "needs a new id"},
		{"board used for nothing", func(j *Job, p *Plan) {
			p.Cuts = append(p.Cuts,
				Cut{Board: "R4.1", Origin: FromRack, Material: "oak", Section: "4/4", Step: 1,
					Kind: KindOffcut, To: 20, Right: 6 * UnitsPerInch, Offcut: "N3"})
		}, "gives no part"},
		{"face on a defect", func(j *Job, p *Plan) {
			j.Parts[1].Face = Sound
		}, "may not lie on the defect"},
		{"margin under a part", func(j *Job, p *Plan) {
			j.Settings.Margin = 2
		}, "may not lie on the defect"},
		{"part in the trim", func(j *Job, p *Plan) { j.Settings.YardEnd = 4 }, "lies in the trim"},
		{"kerf between parts", func(j *Job, p *Plan) {
			j.Settings.CrosscutKerf = 4
		}, "nearer than a kerf"},
		{"wrong material for the part", func(j *Job, p *Plan) {
			j.Parts[3].Material = "ash"
		}, "no board of this material"},
		{"wrong section for the part", func(j *Job, p *Plan) {
			j.Parts[3].Section = "8/4"
		}, "no board of this section"},
		{"too wide for the board", func(j *Job, p *Plan) {
			j.Parts[3].Width++
		}, "no board is wide enough"},
		{"huge numbers", func(j *Job, p *Plan) {
			p.Cuts[0].From, p.Cuts[0].To = math.MaxInt64, math.MinInt64
		}, "of no length"},
		{"negative start", func(j *Job, p *Plan) { p.Cuts[0].From = -5 }, "overlaps"},
	})
}

func TestCheckRefusesBooks(t *testing.T) {
	more := func(p *Plan) { p.Buy[0].Qty++ }
	tryAll(t, checked, []spoilt{
		{"placement missing", func(j *Job, p *Plan) {
			p.Placements = append(p.Placements[:1], p.Placements[2:]...)
		}, "placements: tell of 3 boards"},
		{"placement twice", func(j *Job, p *Plan) {
			p.Placements = append(p.Placements, p.Placements[0])
		}, "placements: tell of 5"},
		{"placements out of order", func(j *Job, p *Plan) {
			p.Placements[0], p.Placements[1] = p.Placements[1], p.Placements[0]
		}, "placement 1: is of board R2"},
		{"line of a rack board", func(j *Job, p *Plan) {
			p.Placements[0].Offer = 2
		}, "needs a new id"},
		{"bought by no line", func(j *Job, p *Plan) {
			p.Placements[2].Offer = 0
		}, "plan.json names no line of yard.csv"},
		{"bought by an unknown line", func(j *Job, p *Plan) {
			p.Placements[2].Offer = 9
		}, "by line 9 of yard.csv"},
		{"bought by another line", func(j *Job, p *Plan) {
			p.Placements[2].Offer = 3
		}, "board B1: the rows end at"},
		{"piece commission", func(j *Job, p *Plan) {
			p.Placements[0].Pieces[0].Commission = "Table"
		}, "placement 1: the pieces"},
		{"piece part", func(j *Job, p *Plan) {
			p.Placements[0].Pieces[0].Part = "rail"
		}, "placement 1: the pieces"},
		{"piece copy", func(j *Job, p *Plan) {
			p.Placements[0].Pieces[0].Copy = 2
		}, "placement 1: the pieces"},
		{"piece from", func(j *Job, p *Plan) {
			p.Placements[0].Pieces[0].From = 1
		}, "placement 1: the pieces"},
		{"piece to", func(j *Job, p *Plan) {
			p.Placements[0].Pieces[0].To = 1
		}, "placement 1: the pieces"},
		{"no pieces", func(j *Job, p *Plan) {
			p.Placements[0].Pieces = nil
		}, "placement 1: the pieces"},

		{"more than is for sale", func(j *Job, p *Plan) {
			*j.Yard[0].Available = 0
		}, "0 are for sale"},
		{"buy material", func(j *Job, p *Plan) {
			p.Buy[0].Material = "ash"
		}, "buy.csv: line 2: material"},
		{"buy section", func(j *Job, p *Plan) {
			p.Buy[0].Section = "8/4"
		}, "buy.csv: line 2: section"},
		{"buy length", func(j *Job, p *Plan) { p.Buy[0].Length = 1 }, "buy.csv: line 2: length"},
		{"buy qty", func(j *Job, p *Plan) { more(p) }, "buy.csv: line 2: qty"},
		{"buy price", func(j *Job, p *Plan) { p.Buy[0].Price++ }, "buy.csv: line 2: price"},
		{"buy total", func(j *Job, p *Plan) { p.Buy[0].Total++ }, "buy.csv: line 2: total"},
		{"buy tally", func(j *Job, p *Plan) {
			p.Buy[0].Tally++
		}, "buy.csv: line 2: tally is 0.000001, it should be 0.000000"},
		{"buy tally by another rule", func(j *Job, p *Plan) {
			j.Settings.Tally.Hardwood = ExactVolume
		}, "buy.csv: line 2: tally is 0.000000, it should be 0.000543"},
		{"buy too little", func(j *Job, p *Plan) {
			p.Buy = p.Buy[:1]
		}, "buy.csv: line 3: is missing"},
		{"buy too much", func(j *Job, p *Plan) {
			p.Buy = append(p.Buy, p.Buy[0])
		}, "buy.csv: line 4: is one row too many"},
		{"buy out of order", func(j *Job, p *Plan) {
			p.Buy[0], p.Buy[1] = p.Buy[1], p.Buy[0]
		}, "buy.csv: line 2: length"},

		{"rack board lost", func(j *Job, p *Plan) {
			p.Rack = p.Rack[1:]
		}, "rack.csv: has 4 boards"},
		{"rack board used yet there", func(j *Job, p *Plan) {
			p.Rack = append(p.Rack, j.Rack[0])
		}, "rack.csv: has 6 boards"},
		{"rack out of order", func(j *Job, p *Plan) {
			p.Rack[0], p.Rack[1] = p.Rack[1], p.Rack[0]
		}, "line 2: board"},
		{"rack id", func(j *Job, p *Plan) { p.Rack[0].ID = "R9" }, "line 2: board"},
		{"rack material", func(j *Job, p *Plan) { p.Rack[0].Material = "ash" }, "line 2: material"},
		{"rack section", func(j *Job, p *Plan) { p.Rack[0].Section = "8/4" }, "line 2: section"},
		{"rack length", func(j *Job, p *Plan) { p.Rack[0].Length++ }, "line 2: length"},
		{"rack width", func(j *Job, p *Plan) { p.Rack[0].Width++ }, "line 2: width"},
		{"rack thickness", func(j *Job, p *Plan) { p.Rack[0].Thickness++ }, "line 2: thickness"},
		{"rack bin", func(j *Job, p *Plan) { p.Rack[0].Bin = "A" }, "line 2: bin"},
		{"rack value", func(j *Job, p *Plan) { p.Rack[0].Value = new(Money(71)) }, "line 2: value"},
		{"rack value gone", func(j *Job, p *Plan) { p.Rack[0].Value = nil }, "line 2: value"},
		{"rack since", func(j *Job, p *Plan) { p.Rack[0].Since = "" }, "line 2: since"},
		{"rack note", func(j *Job, p *Plan) { p.Rack[0].Note = "" }, "line 2: note"},
		{"rack defect gone", func(j *Job, p *Plan) {
			p.Rack[0].Defects = nil
		}, "line 2: the defects of board R3"},
		{"offcut id", func(j *Job, p *Plan) { p.Rack[3].ID = "N9" }, "line 5: board"},
		{"offcut length", func(j *Job, p *Plan) { p.Rack[3].Length-- }, "line 5: length"},
		{"offcut width", func(j *Job, p *Plan) { p.Rack[3].Width-- }, "line 5: width"},
		{"offcut bin", func(j *Job, p *Plan) { p.Rack[3].Bin = "" }, "line 5: bin"},
		{"offcut bin of a bought board", func(j *Job, p *Plan) {
			p.Rack[4].Bin = "A"
		}, "line 6: bin"},
		{"offcut value", func(j *Job, p *Plan) { p.Rack[3].Value = new(Money(280)) }, "line 5: value"},
		{"offcut value by the yard", func(j *Job, p *Plan) {
			p.Rack[4].Value = new(Money(216))
		}, "line 6: value"},
		{"offcuts since another day", func(j *Job, p *Plan) {
			p.Rack[3].Since, p.Rack[4].Since = "2026-02-02", "2026-02-02"
		}, "line 5: since"},
		{"offcuts since two days", func(j *Job, p *Plan) {
			p.Rack[4].Since = "2026-02-02"
		}, "line 6: since"},
		{"offcut note", func(j *Job, p *Plan) { p.Rack[3].Note = "good" }, "line 5: note"},
		{"offcut defect not moved", func(j *Job, p *Plan) {
			p.Rack[3].Defects[1].To = 29
		}, "line 5: the defects of board N1"},
		{"offcut defect kind", func(j *Job, p *Plan) {
			p.Rack[3].Defects[0].Kind = "stain"
		}, "line 5: the defects of board N1"},
		{"offcut defect left", func(j *Job, p *Plan) {
			p.Rack[3].Defects[0].Left = 1
		}, "line 5: the defects of board N1"},
		{"offcut defect right", func(j *Job, p *Plan) {
			p.Rack[3].Defects[0].Right = 1
		}, "line 5: the defects of board N1"},
		{"offcut defect lost", func(j *Job, p *Plan) {
			p.Rack[3].Defects = p.Rack[3].Defects[:1]
		}, "line 5: the defects of board N1"},

		{"setup saw", func(j *Job, p *Plan) { p.Setups[0].Saw = "rip" }, "setups.csv: line 2: saw"},
		{"setup number", func(j *Job, p *Plan) {
			p.Setups[0].Setup = 2
		}, "setups.csv: line 2: setup"},
		{"setup stop", func(j *Job, p *Plan) { p.Setups[0].Stop++ }, "setups.csv: line 2: stop"},
		{"setup board", func(j *Job, p *Plan) {
			p.Setups[0].Board = "B2"
		}, "setups.csv: line 2: board"},
		{"setup pieces", func(j *Job, p *Plan) {
			p.Setups[0].Pieces++
		}, "setups.csv: line 2: pieces"},
		{"setup missing", func(j *Job, p *Plan) {
			p.Setups = p.Setups[1:]
		}, "setups.csv: has 5 rows"},

		{"cost commission", func(j *Job, p *Plan) {
			p.Costs[0].Commission = "Bench"
		}, "costs.csv: line 2: commission"},
		{"cost", func(j *Job, p *Plan) { p.Costs[0].Cost++ }, "costs.csv: line 2: cost"},
		{"cost of the yard", func(j *Job, p *Plan) {
			p.Costs[0].Yard++
		}, "costs.csv: line 2: yard_cost"},
		{"cost of the rack", func(j *Job, p *Plan) {
			p.Costs[0].Rack++
		}, "costs.csv: line 2: rack_cost"},
		{"cost of handling", func(j *Job, p *Plan) {
			p.Costs[0].Handling++
		}, "costs.csv: line 2: handling"},
		{"credit", func(j *Job, p *Plan) {
			p.Costs[0].Credit++
		}, "costs.csv: line 2: offcut_credit"},
		{"tally", func(j *Job, p *Plan) { p.Costs[0].Tally++ }, "costs.csv: line 2: tally"},
		{"tally rounded piece by piece", func(j *Job, p *Plan) {
			p.Costs[0].Tally = 154 + 154 + 359
		}, "costs.csv: line 2: tally is 0.000667, it should be 0.000666"},
		{"cost row lost", func(j *Job, p *Plan) {
			p.Costs = p.Costs[:2]
		}, "costs.csv: has 2 rows for 3"},
		{"costs out of order", func(j *Job, p *Plan) {
			p.Costs[0], p.Costs[1] = p.Costs[1], p.Costs[0]
		}, "costs.csv: line 2: commission"},

		{"value", func(j *Job, p *Plan) { p.Value++; p.Groups[0].Value++ }, "plan.json: value"},

		{"shortage of an unknown part", func(j *Job, p *Plan) {
			p.Shortages[0].Part = "lid"
		}, `no part "lid"`},
		{"shortage of an unknown commission", func(j *Job, p *Plan) {
			p.Shortages[0].Commission = "Bunk"
		}, `of "Bunk"`},
		{"shortage of no copies", func(j *Job, p *Plan) {
			p.Shortages[0].Copies = nil
		}, "names no copy"},
		{"shortage of a copy too many", func(j *Job, p *Plan) {
			p.Shortages[0].Copies = []int64{1, 2}
		}, "names copy 2"},
		{"shortage of a copy twice", func(j *Job, p *Plan) {
			p.Shortages[0].Copies = []int64{1, 1}
		}, "once more"},
		{"shortage of a copy that is cut", func(j *Job, p *Plan) {
			p.Shortages = append(p.Shortages, Shortage{"Bench", "leg", []int64{1}, "?"})
		}, "once more"},
		{"shortage without reason", func(j *Job, p *Plan) {
			p.Shortages[0].Reason = ""
		}, "gives no reason"},
		{"shortage for another reason", func(j *Job, p *Plan) {
			p.Shortages[0].Reason = "no board is wide enough"
		},
			`the reason why seat of Bench is short is given as "no board is wide enough"; it is "no board is long enough"`},
		{"shortage of a part that a board holds", func(j *Job, p *Plan) {
			j.Rack[2].Length = 300
		}, `it is "no board has a long enough run without defects`},
		{"shortage of a part that a board could give", func(j *Job, p *Plan) {
			j.Rack[2].Length, j.Rack[2].Defects = 300, nil
		}, `it is "the boards that hold it`},

		{"group's name", func(j *Job, p *Plan) {
			p.Groups[0].Name = "oak"
		}, `group 1: is called "oak"; after the wood in it, it is "oak 4/4"`},
		{"group's name once more", func(j *Job, p *Plan) {
			p.Groups = append(p.Groups, p.Groups[0])
		}, `group 2: is called "oak 4/4"; after the wood in it, it is "oak 4/4 (2)"`},
		{"group of no wood", func(j *Job, p *Plan) {
			p.Groups[0].Certificate.Stocks = nil
		}, `after the wood in it, it is ""`},
		{"proven, yet not finished", func(j *Job, p *Plan) {
			p.Groups[0].Proof = Optimal
		}, `group 1: a search that proved its plan the cheapest is "finished", not ended by "work limit"`},
	})
}

// Which copy lies where is free, and so is the order of the boards as long as all papers agree.
func TestCheckAcceptsWhatIsFree(t *testing.T) {
	job, plan := tiny()
	plan.Cuts[0].Copy, plan.Cuts[11].Copy = 2, 1
	plan.Placements[0].Pieces[0].Copy, plan.Placements[2].Pieces[0].Copy = 2, 1
	plan.Date, plan.Rack[3].Since, plan.Rack[4].Since = "", "", ""
	plan.Rack[0].Where = Where{"rack.csv", 7}
	for _, f := range checked(job, plan) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
}

// share splits by largest fractions: 10 over 1 : 1 : 1 is 4, 3, 3, and over 2 : 3 : 3 it is 2.5,
// 3.75, 3.75, so 2, 4, 4.
func TestShare(t *testing.T) {
	for _, c := range []struct {
		amount  Money
		weights []Length
		want    []Money
	}{
		{10, []Length{1, 1, 1}, []Money{4, 3, 3}},
		{10, []Length{2, 3, 3}, []Money{2, 4, 4}},
		{0, []Length{5, 7}, []Money{0, 0}},
		{math.MaxInt64, []Length{1, 1}, []Money{math.MaxInt64/2 + 1, math.MaxInt64 / 2}},
	} {
		for i, got := range share(c.amount, c.weights) {
			if got != c.want[i] {
				t.Errorf("%d over %v: share %d is %d, want %d", c.amount, c.weights, i, got,
					c.want[i])
			}
		}
	}
}
