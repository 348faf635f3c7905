package check

import (
	"math"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

func TestCheckAcceptsAPlanMadeByHand(t *testing.T) {
	for _, f := range checked(handmade.Tiny()) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
}

func TestCheckRefusesCuts(t *testing.T) {
	handmade.TryAll(t, checked, []handmade.Spoilt{
		{What: "board of no rows' neighbours", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[1].Board = "R3"
		}, Want: "used twice"},
		{What: "board unknown", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[7].Board, p.Cuts[8].Board, p.Cuts[9].Board = "X", "X", "X"
		}, Want: "board X: is not on the rack"},
		{What: "board without id", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[7].Board = ""
		}, Want: "has no id"},
		{What: "origin", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[0].Origin = model.FromYard
		}, Want: "line 2: origin"},
		{What: "offcut's id known elsewhere", Spoil: func(j *model.Job, p *model.Plan) {
			j.Known = []string{p.Cuts[7].Offcut}
		}, Want: "is not new: it is that of a board that the book knows"},
		{What: "material", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[3].Material = "ash"
		}, Want: "line 5: material"},
		{What: "section", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[3].Section = "5/4"
		}, Want: "line 5: section"},
		{What: "step", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[3].Step = 3
		}, Want: `line 5: step is 3, it should be 2`},
		{What: "step of the last piece", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[6].Step = 4
		}, Want: "line 8: step is 4, it should be 3"},
		{What: "step of a second kerf", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[13].Step = 2
		}, Want: "line 15: step"},
		{What: "kind", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[6].Kind = model.KindOffcut
			p.Cuts[6].Offcut = "N3"
		}, Want: "offcut from"},
		{What: "kind unknown", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[6].Kind = "firewood"
		}, Want: "firewood from"},
		{What: "offcut called waste", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[7].Kind = model.KindWaste
			p.Cuts[7].Offcut = ""
		}, Want: "the rules make offcut"},
		{What: "defect called waste", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[2].Kind = model.KindWaste
		}, Want: "the rules make defect"},
		{What: "trim called waste", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[10].Kind = model.KindWaste
		}, Want: "the rules make trim"},
		{What: "from", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[6].From = 57
		}, Want: "leaves a gap"},
		{What: "to", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[5].To = 57
		}, Want: "overlaps the row before"},
		{What: "not to the end", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[6].To = 59
		}, Want: "the rows end at"},
		{What: "beyond the end", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[6].To = 61
		}, Want: "the rows end at"},
		{What: "empty row", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[1].To = 18
			p.Cuts[2].From = 18
		}, Want: "of no length"},
		{What: "kerf too wide", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[5].To, p.Cuts[6].From = 57, 57
		}, Want: "the rules make kerf"},
		{What: "kerf too narrow", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[5].To, p.Cuts[6].From = 55, 55
		}, Want: "the rules make kerf"},
		{What: "trim too wide", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[17].From, p.Cuts[16].To = 102, 102
		}, Want: "the rules make waste"},
		{What: "row missing", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts = p.Cuts[:len(p.Cuts)-1]
		}, Want: "the rows end at"},
		{What: "left", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[4].Left = 1
		}, Want: "line 6: left"},
		{What: "right", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[4].Right--
		}, Want: "line 6: right"},
		{What: "commission", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[0].Commission = "Bunk"
		}, Want: `no part "leg" of "Bunk"`},
		{What: "part", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[0].Part = "arm"
		}, Want: `no part "arm" of "Bench"`},
		{What: "another part", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[0].Part = "shelf"
		}, Want: "it is to be"},
		{What: "copy twice", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[0].Copy = 2
		}, Want: "once more"},
		{What: "copy 0", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[0].Copy = 0
		}, Want: "names copy 0"},
		{What: "copy above qty", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[0].Copy = 3
		}, Want: "names copy 3"},
		{What: "copy nowhere", Spoil: func(j *model.Job, p *model.Plan) {
			j.Parts[0].Qty = 3
		}, Want: "neither cut nor short; the first is copy 3"},
		{What: "face", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[0].Face = model.Sound
		}, Want: "face is"},
		{What: "no face", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[0].Face = 99
		}, Want: "no face"},
		{What: "face of a kerf", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[1].Face = model.Sound
		}, Want: "line 3: face"},
		{What: "commission of a kerf", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[1].Commission = "Bench"
		}, Want: "line 3: commission"},
		{What: "part of a kerf", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[1].Part = "leg"
		}, Want: "line 3: part"},
		{What: "copy of a kerf", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[1].Copy = 1
		}, Want: "line 3: copy"},
		{What: "offcut id of a kerf", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[1].Offcut = "N3"
		}, Want: "line 3: offcut"},
		{What: "offcut without id", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[7].Offcut = ""
		}, Want: "has no id"},
		{What: "offcut id twice", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[7].Offcut = "N2"
		}, Want: "not new"},
		{What: "offcut id of the rack", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[7].Offcut = "R3"
		}, Want: "not new"},
		{What: "offcut id of its own board", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[7].Offcut = "R2"
		}, Want: "not new"},
		{What: "offcut id of a bought board", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[7].Offcut = "B1"
		}, Want: "not new"},
		{What: "bought board with an id of the rack", Spoil: func(j *model.Job, p *model.Plan) {
			j.Rack[3].ID = "B1"
		}, Want: "needs a new id"},
		{What: "board used for nothing", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts = append(p.Cuts,
				model.Cut{Board: "R4.1", Origin: model.FromRack, Material: "oak", Section: "4/4",
					Step: 1,
					Kind: model.KindOffcut, To: 20, Right: 6 * model.UnitsPerInch, Offcut: "N3"})
		}, Want: "gives no part"},
		{What: "face on a defect", Spoil: func(j *model.Job, p *model.Plan) {
			j.Parts[1].Face = model.Sound
		}, Want: "may not lie on the defect"},
		{What: "margin under a part", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.Margin = 2
		}, Want: "may not lie on the defect"},
		{What: "part in the trim", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.YardEnd = 4
		}, Want: "lies in the trim"},
		{What: "kerf between parts", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.CrosscutKerf = 4
		}, Want: "nearer than a kerf"},
		{What: "wrong material for the part", Spoil: func(j *model.Job, p *model.Plan) {
			j.Parts[3].Material = "ash"
		}, Want: "no board of this material"},
		{What: "wrong section for the part", Spoil: func(j *model.Job, p *model.Plan) {
			j.Parts[3].Section = "8/4"
		}, Want: "no board of this section"},
		{What: "too wide for the board", Spoil: func(j *model.Job, p *model.Plan) {
			j.Parts[3].Width++
		}, Want: "no board is wide enough"},
		{What: "huge numbers", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[0].From, p.Cuts[0].To = math.MaxInt64, math.MinInt64
		}, Want: "of no length"},
		{What: "negative start", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[0].From = -5
		}, Want: "overlaps"},
	})
}

func TestCheckRefusesBooks(t *testing.T) {
	more := func(p *model.Plan) { p.Buy[0].Qty++ }
	handmade.TryAll(t, checked, []handmade.Spoilt{
		{What: "placement missing", Spoil: func(j *model.Job, p *model.Plan) {
			p.Placements = append(p.Placements[:1], p.Placements[2:]...)
		}, Want: "placements: tell of 3 boards"},
		{What: "placement twice", Spoil: func(j *model.Job, p *model.Plan) {
			p.Placements = append(p.Placements, p.Placements[0])
		}, Want: "placements: tell of 5"},
		{What: "placements out of order", Spoil: func(j *model.Job, p *model.Plan) {
			p.Placements[0], p.Placements[1] = p.Placements[1], p.Placements[0]
		}, Want: "placement 1: is of board R2"},
		{What: "line of a rack board", Spoil: func(j *model.Job, p *model.Plan) {
			p.Placements[0].Offer = 2
		}, Want: "needs a new id"},
		{What: "bought by no line", Spoil: func(j *model.Job, p *model.Plan) {
			p.Placements[2].Offer = 0
		}, Want: "plan.json names no line of yard.csv"},
		{What: "bought by an unknown line", Spoil: func(j *model.Job, p *model.Plan) {
			p.Placements[2].Offer = 9
		}, Want: "by line 9 of yard.csv"},
		{What: "bought by another line", Spoil: func(j *model.Job, p *model.Plan) {
			p.Placements[2].Offer = 3
		}, Want: "board B1: the rows end at"},
		{What: "piece commission", Spoil: func(j *model.Job, p *model.Plan) {
			p.Placements[0].Pieces[0].Commission = "Table"
		}, Want: "placement 1: the pieces"},
		{What: "piece part", Spoil: func(j *model.Job, p *model.Plan) {
			p.Placements[0].Pieces[0].Part = "rail"
		}, Want: "placement 1: the pieces"},
		{What: "piece copy", Spoil: func(j *model.Job, p *model.Plan) {
			p.Placements[0].Pieces[0].Copy = 2
		}, Want: "placement 1: the pieces"},
		{What: "piece from", Spoil: func(j *model.Job, p *model.Plan) {
			p.Placements[0].Pieces[0].From = 1
		}, Want: "placement 1: the pieces"},
		{What: "piece to", Spoil: func(j *model.Job, p *model.Plan) {
			p.Placements[0].Pieces[0].To = 1
		}, Want: "placement 1: the pieces"},
		{What: "no pieces", Spoil: func(j *model.Job, p *model.Plan) {
			p.Placements[0].Pieces = nil
		}, Want: "placement 1: the pieces"},

		{What: "more than is for sale", Spoil: func(j *model.Job, p *model.Plan) {
			*j.Yard[0].Available = 0
		}, Want: "0 are for sale"},
		{What: "buy material", Spoil: func(j *model.Job, p *model.Plan) {
			p.Buy[0].Material = "ash"
		}, Want: "buy.csv: line 2: material"},
		{What: "buy section", Spoil: func(j *model.Job, p *model.Plan) {
			p.Buy[0].Section = "8/4"
		}, Want: "buy.csv: line 2: section"},
		{What: "buy length", Spoil: func(j *model.Job, p *model.Plan) {
			p.Buy[0].Length = 1
		}, Want: "buy.csv: line 2: length"},
		{What: "buy qty", Spoil: func(j *model.Job, p *model.Plan) {
			more(p)
		}, Want: "buy.csv: line 2: qty"},
		{What: "buy price", Spoil: func(j *model.Job, p *model.Plan) {
			p.Buy[0].Price++
		}, Want: "buy.csv: line 2: price"},
		{What: "buy total", Spoil: func(j *model.Job, p *model.Plan) {
			p.Buy[0].Total++
		}, Want: "buy.csv: line 2: total"},
		{What: "buy tally", Spoil: func(j *model.Job, p *model.Plan) {
			p.Buy[0].Tally++
		}, Want: "buy.csv: line 2: tally is 0.000001, it should be 0.000000"},
		{What: "buy tally by another rule", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.Tally.Hardwood = model.ExactVolume
		}, Want: "buy.csv: line 2: tally is 0.000000, it should be 0.000543"},
		{What: "buy too little", Spoil: func(j *model.Job, p *model.Plan) {
			p.Buy = p.Buy[:1]
		}, Want: "buy.csv: line 3: is missing"},
		{What: "buy too much", Spoil: func(j *model.Job, p *model.Plan) {
			p.Buy = append(p.Buy, p.Buy[0])
		}, Want: "buy.csv: line 4: is one row too many"},
		{What: "buy out of order", Spoil: func(j *model.Job, p *model.Plan) {
			p.Buy[0], p.Buy[1] = p.Buy[1], p.Buy[0]
		}, Want: "buy.csv: line 2: length"},

		{What: "rack board lost", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack = p.Rack[1:]
		}, Want: "rack.csv: has 4 boards"},
		{What: "rack board used yet there", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack = append(p.Rack, j.Rack[0])
		}, Want: "rack.csv: has 6 boards"},
		{What: "rack out of order", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[0], p.Rack[1] = p.Rack[1], p.Rack[0]
		}, Want: "line 2: board"},
		{What: "rack id", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[0].ID = "R9"
		}, Want: "line 2: board"},
		{What: "rack material", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[0].Material = "ash"
		}, Want: "line 2: material"},
		{What: "rack section", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[0].Section = "8/4"
		}, Want: "line 2: section"},
		{What: "rack length", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[0].Length++
		}, Want: "line 2: length"},
		{What: "rack width", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[0].Width++
		}, Want: "line 2: width"},
		{What: "rack thickness", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[0].Thickness++
		}, Want: "line 2: thickness"},
		{What: "rack bin", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[0].Bin = "A"
		}, Want: "line 2: bin"},
		{What: "rack value", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[0].Value = new(model.Money(71))
		}, Want: "line 2: value"},
		{What: "rack value gone", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[0].Value = nil
		}, Want: "line 2: value"},
		{What: "rack since", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[0].Since = ""
		}, Want: "line 2: since"},
		{What: "rack note", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[0].Note = ""
		}, Want: "line 2: note"},
		{What: "rack defect gone", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[0].Defects = nil
		}, Want: "line 2: the defects of board R3"},
		{What: "offcut id", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[3].ID = "N9"
		}, Want: "line 5: board"},
		{What: "offcut length", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[3].Length--
		}, Want: "line 5: length"},
		{What: "offcut width", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[3].Width--
		}, Want: "line 5: width"},
		{What: "offcut bin", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[3].Bin = ""
		}, Want: "line 5: bin"},
		{What: "offcut bin of a bought board", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[4].Bin = "A"
		}, Want: "line 6: bin"},
		{What: "a bin that has room", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.Bins = map[string]model.BinFacts{"new": {Most: new(int64(1))}}
		}, Want: "line 5: bin is " + `"`},
		{What: "offcut value", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[3].Value = new(model.Money(280))
		}, Want: "line 5: value"},
		{What: "offcut value by the yard", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[4].Value = new(model.Money(216))
		}, Want: "line 6: value"},
		{What: "offcuts since another day", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[3].Since, p.Rack[4].Since = "2026-02-02", "2026-02-02"
		}, Want: "line 5: since"},
		{What: "offcuts since two days", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[4].Since = "2026-02-02"
		}, Want: "line 6: since"},
		{What: "offcut note", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[3].Note = "good"
		}, Want: "line 5: note"},
		{What: "offcut defect not moved", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[3].Defects[1].To = 29
		}, Want: "line 5: the defects of board N1"},
		{What: "offcut defect kind", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[3].Defects[0].Kind = "stain"
		}, Want: "line 5: the defects of board N1"},
		{What: "offcut defect left", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[3].Defects[0].Left = 1
		}, Want: "line 5: the defects of board N1"},
		{What: "offcut defect right", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[3].Defects[0].Right = 1
		}, Want: "line 5: the defects of board N1"},
		{What: "offcut defect lost", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[3].Defects = p.Rack[3].Defects[:1]
		}, Want: "line 5: the defects of board N1"},

		{What: "cost commission", Spoil: func(j *model.Job, p *model.Plan) {
			p.Costs[0].Commission = "Bench"
		}, Want: "costs.csv: line 2: commission"},
		{What: "cost", Spoil: func(j *model.Job, p *model.Plan) {
			p.Costs[0].Cost++
		}, Want: "costs.csv: line 2: cost"},
		{What: "cost of the yard", Spoil: func(j *model.Job, p *model.Plan) {
			p.Costs[0].Yard++
		}, Want: "costs.csv: line 2: yard_cost"},
		{What: "cost of the rack", Spoil: func(j *model.Job, p *model.Plan) {
			p.Costs[0].Rack++
		}, Want: "costs.csv: line 2: rack_cost"},
		{What: "cost of handling", Spoil: func(j *model.Job, p *model.Plan) {
			p.Costs[0].Handling++
		}, Want: "costs.csv: line 2: handling"},
		{What: "credit", Spoil: func(j *model.Job, p *model.Plan) {
			p.Costs[0].Credit++
		}, Want: "costs.csv: line 2: offcut_credit"},
		{What: "tally", Spoil: func(j *model.Job, p *model.Plan) {
			p.Costs[0].Tally++
		}, Want: "costs.csv: line 2: tally"},
		{What: "tally rounded piece by piece", Spoil: func(j *model.Job, p *model.Plan) {
			p.Costs[0].Tally = 154 + 154 + 359
		}, Want: "costs.csv: line 2: tally is 0.000667, it should be 0.000666"},
		{What: "cost row lost", Spoil: func(j *model.Job, p *model.Plan) {
			p.Costs = p.Costs[:2]
		}, Want: "costs.csv: has 2 rows for 3"},
		{What: "costs out of order", Spoil: func(j *model.Job, p *model.Plan) {
			p.Costs[0], p.Costs[1] = p.Costs[1], p.Costs[0]
		}, Want: "costs.csv: line 2: commission"},

		{What: "value", Spoil: func(j *model.Job, p *model.Plan) {
			p.Value++
			p.Groups[0].Value++
		}, Want: "plan.json: value"},

		{What: "shortage of an unknown part", Spoil: func(j *model.Job, p *model.Plan) {
			p.Shortages[0].Part = "lid"
		}, Want: `no part "lid"`},
		{What: "shortage of an unknown commission", Spoil: func(j *model.Job, p *model.Plan) {
			p.Shortages[0].Commission = "Bunk"
		}, Want: `of "Bunk"`},
		{What: "shortage of no copies", Spoil: func(j *model.Job, p *model.Plan) {
			p.Shortages[0].Copies = nil
		}, Want: "names no copy"},
		{What: "shortage of a copy too many", Spoil: func(j *model.Job, p *model.Plan) {
			p.Shortages[0].Copies = []int64{1, 2}
		}, Want: "names copy 2"},
		{What: "shortage of a copy twice", Spoil: func(j *model.Job, p *model.Plan) {
			p.Shortages[0].Copies = []int64{1, 1}
		}, Want: "once more"},
		{What: "shortage of a copy that is cut", Spoil: func(j *model.Job, p *model.Plan) {
			p.Shortages = append(p.Shortages,
				model.Shortage{Commission: "Bench", Part: "leg", Copies: []int64{1}, Reason: "?"})
		}, Want: "once more"},
		{What: "shortage without reason", Spoil: func(j *model.Job, p *model.Plan) {
			p.Shortages[0].Reason = ""
		}, Want: "gives no reason"},
		{What: "shortage for another reason", Spoil: func(j *model.Job, p *model.Plan) {
			p.Shortages[0].Reason = "no board is wide enough"
		},
			Want: `the reason why seat of Bench is short is given as "no board is wide enough"; ` +
				`it is "no board is long enough"`},
		{What: "shortage of a part that a board holds", Spoil: func(j *model.Job, p *model.Plan) {
			j.Rack[2].Length = 300
		}, Want: `it is "no board has a long enough run without defects`},
		{What: "shortage of a part that a board could give",
			Spoil: func(j *model.Job, p *model.Plan) {
				j.Rack[2].Length, j.Rack[2].Defects = 300, nil
			}, Want: `it is "the boards that hold it`},

		{What: "group's name", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Name = "oak"
		}, Want: `group 1: is called "oak"; after the wood in it, it is "oak 4/4"`},
		{What: "group's name once more", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups = append(p.Groups, p.Groups[0])
		}, Want: `group 2: is called "oak 4/4"; after the wood in it, it is "oak 4/4 (2)"`},
		{What: "group of no wood", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Certificate.Stocks = nil
		}, Want: `after the wood in it, it is ""`},
		{What: "proven, yet not finished", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Proof = model.Optimal
		}, Want: `group 1: a search that proved its plan the cheapest is "finished", not ended ` +
			`by "work limit"`},
	})
}

// Which copy lies where is free, and so is the order of the boards as long as all papers agree.
func TestCheckAcceptsWhatIsFree(t *testing.T) {
	job, plan := handmade.Tiny()
	plan.Cuts[0].Copy, plan.Cuts[11].Copy = 2, 1
	plan.Placements[0].Pieces[0].Copy, plan.Placements[2].Pieces[0].Copy = 2, 1
	plan.Order[0].Piece, plan.Order[5].Piece = "Bench, leg, 2", "Bench, leg, 1"
	plan.Date, plan.Rack[3].Since, plan.Rack[4].Since = "", "", ""
	plan.Rack[0].Where = model.Where{File: "rack.csv", Line: 7}
	for _, f := range checked(job, plan) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
}
