package planfile

import (
	"bytes"
	"encoding/json"
	"os"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"rackwright/model"
	"rackwright/model/check"
	"rackwright/model/proof"
)

func ptr[T any](v T) *T { return &v }

// sampleList is a list that is split twice.
func sampleList() model.CertListNode {
	item := 0
	return model.CertListNode{
		Cuts: []model.CertCut{{Den: 2, Rows: [][2]int64{{0, 1}}},
			{Den: 7, Rows: [][2]int64{{3, 6}, {5, 2}}}},
		Struck: []model.CertStruck{{Duals: []int64{0}, CutDuals: []int64{3}}},
		Split: &model.CertListSplit{Stocks: []int{0, 1}, AtMost: 3,
			Low: model.CertListNode{Duals: []int64{6}, CutDuals: []int64{4, 0, 1}},
			High: model.CertListNode{Split: &model.CertListSplit{Stocks: []int{1}, Item: &item,
				Having: []model.CertHaving{{Item: 0, Copies: 2}},
				AtMost: 0,
				Low:    model.CertListNode{Duals: []int64{0}, CutDuals: []int64{0, 0, 0, 1}},
				High: model.CertListNode{
					Cuts:  []model.CertCut{{Den: 2, Rows: [][2]int64{{7, 1}}}},
					Duals: []int64{0}, CutDuals: []int64{0, 0, 0, 1, 2}}}}}}
}

// sample is a plan with something in every field.
func sample() (*model.Job, *model.Plan) {
	const in = model.UnitsPerInch
	wood := model.Wood{Material: "oak & ash", Section: "2x6", Length: 96 * in, Width: 11 * in / 2,
		Thickness: 3 * in / 2}
	settings := model.DefaultSettings()
	settings.Ripping, settings.Weak = 1000, []string{"split"}
	settings.Materials = map[string]model.Override{
		"oak & ash": {Thickness: ptr(model.Length(2032)), Value: &model.Fraction{Num: 1, Den: 4},
			StripValue: &model.Fraction{Num: 3, Den: 4}}}
	settings.Sections = map[model.Section]model.Override{
		"2x6": {KeepLength: ptr(model.Length(8 * in)), ShortestRip: ptr(model.Length(18 * in)),
			NarrowestRip: ptr(model.Length(in))}, "4/4": {}}
	settings.Yards = map[string]model.YardFacts{
		"sawmill": {TaxPercent: &model.Fraction{Num: 33, Den: 4},
			LongestLoad: ptr(model.Length(144 * in)),
			Where:       model.Where{File: "shop.toml", Line: 7}}}
	job := &model.Job{
		Settings:    settings,
		Commissions: []model.Commission{{Name: "Bench", Due: "2026-04-01"}, {Name: "Bed"}},
		Parts: []model.Part{{Commission: "Bench", Name: "Leg", Qty: 4, Material: "oak & ash",
			Length: 16 * in, Width: 2 * in, Thickness: in, Face: model.Sound, Board: "A1",
			Where: model.Where{File: "parts.csv", Line: 2}}},
		Rack: []model.Board{{ID: "A1", Wood: wood, Value: ptr(model.Money(72500)),
			Since: "2026-01-31", For: "Bench", Longest: 20 * in,
			Where:   model.Where{File: "rack.csv", Line: 2},
			Defects: []model.Defect{{From: in, To: 2 * in, Right: wood.Width, Kind: "knot"}}},
			{ID: "A2", Wood: wood, Untouched: true, Where: model.Where{File: "rack.csv", Line: 3}}},
		Yard: []model.Offer{
			{Wood: wood, Price: 125000, Per: model.PerBoardFoot, Available: ptr(int64(0)),
				Yard: "sawmill", Grade: "FAS", Where: model.Where{File: "yard.csv", Line: 2}}},
		Inputs: []model.Input{{Name: "parts.csv", SHA256: strings.Repeat("0a", 32)}},
	}
	plan := &model.Plan{
		Value: 1234500, Bound: 1230001, Date: "2026-03-01",
		Shortages: []model.Shortage{
			{Commission: "Bed", Part: "Slat <1>", Copies: []int64{1, 2},
				Reason: "no board is wide enough"}},
		Groups: []model.Group{
			{Name: "oak & ash 2x6", Value: 1234500, Bound: 1230001, Proof: model.Feasible,
				Ended: model.WorkLimit,
				Certificate: model.Certificate{Bits: 26,
					Items: []model.CertItem{
						{Length: 17 * in, Width: 2 * in, Face: model.Hidden, Demand: 4,
							Stocks: []int{0, 1}}},
					Stocks: []model.CertStock{ // 7.25 and 12.50 in ticks of 2^-26
						{Boards: []string{"A1"}, Cost: 72500 << 26, Supply: ptr(int64(1)),
							Grid: in / 16, GridAcross: in / 32},
						{Yard: 2, Cost: 125000 << 26, Rough: true}},
					Root: model.CertNode{Split: &model.CertSplit{Stock: 1, AtMost: 1,
						Low: model.CertNode{Duals: []int64{-5}},
						High: model.CertNode{Split: &model.CertSplit{Stock: 0, AtMost: 0,
							Low: model.CertNode{Duals: []int64{0},
								Within: []model.CertWithin{{Stock: 1, Gives: 9}}},
							High: model.CertNode{Duals: []int64{7}, List: &model.CertList{
								Target:       1234500 << 26,
								CertListNode: sampleList()}}}}}},
				}}},
		Placements: []model.Placement{
			{Board: "A1", Pieces: []model.Piece{
				{Commission: "Bench", Part: "Leg", Copy: 1, From: 0, To: 17 * in}}},
			{Board: "Y1", Offer: 2},
			{Board: "Y2", Offer: 2, First: model.CrosscutFirst,
				Pieces: []model.Piece{
					{Commission: "Bench", Part: "Leg", Copy: 2, From: in / 2, To: 35 * in / 2,
						Left: in / 8, Right: 9 * in / 4}}},
			{Board: "Y3", Offer: 2, First: model.RipFirst,
				Pieces: []model.Piece{
					{Commission: "Bench", Part: "Leg", Copy: 3, From: in / 2, To: 35 * in / 2,
						Right: 17 * in / 8}}},
			{Board: "Y4", Offer: 2, First: model.RipFirst, RipFrom: 24 * in, RipTo: 191 * in / 2,
				Pieces: []model.Piece{
					{Commission: "Bench", Part: "Leg", Copy: 4, From: 24 * in, To: 41 * in,
						Right: 17 * in / 8}}}},
		Work: work(),
	}
	return job, plan
}

func work() model.Work {
	return model.Work{Order: model.LeastClutter, Ways: []model.WayOfWork{
		{Way: model.LeastTime, Settings: 2, Lifts: 5, Minutes: 5500, Open: 1},
		{Way: model.LeastClutter, Settings: 4, Lifts: 5, Minutes: 8500, Open: 1, Exact: true}}}
}

func written(t interface{ Fatal(...any) }, job *model.Job, plan *model.Plan) []byte {
	var b bytes.Buffer
	if err := Write(&b, job, plan); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// The whole file is as it stands in testdata: names of the design, money with four decimals, one
// item a line.
func TestGolden(t *testing.T) {
	got := written(t, ptrTo(sample()), planOf(sample()))
	want, err := os.ReadFile("testdata/plan.json")
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), string(got)); d != "" {
		t.Error(d)
	}
}

func ptrTo(j *model.Job, _ *model.Plan) *model.Job   { return j }
func planOf(_ *model.Job, p *model.Plan) *model.Plan { return p }

// What is written reads back the same, and writes the same bytes.
func TestWriteReadWrite(t *testing.T) {
	job, plan := sample()
	first := written(t, job, plan)
	gotJob, gotPlan, err := Read(bytes.NewReader(first))
	if err != nil {
		t.Fatal(err)
	}
	// no plan hangs on it, and plan.json has it not
	job.Settings.CountTolerance, job.Settings.Change = 0, 0
	if d := cmp.Diff(job, gotJob, cmpopts.EquateEmpty()) +
		cmp.Diff(plan, gotPlan, cmpopts.EquateEmpty()); d != "" {
		t.Error(d)
	}
	if second := written(t, gotJob, gotPlan); !bytes.Equal(first, second) {
		t.Error(cmp.Diff(string(first), string(second)))
	}
}

// A plan that takes the place of another is of version 7, and reads back the same.
func TestRevision(t *testing.T) {
	job, plan := sample()
	job.Settings.CountTolerance, job.Settings.Change = 0, 5000
	job.Rack[0].Bought, job.Known = true, []string{"off-9"}
	job.Parts[0].Qty, job.Parts[0].Copies, job.Parts[0].Of = 2, []int64{2, 4}, 4
	plan.Revision = &model.Revision{Number: 2, Of: strings.Repeat("ab", 32),
		Before: []model.Laid{{Placement: plan.Placements[0], Offcuts: []string{"off-1"}},
			{Placement: plan.Placements[4]}},
		Change: 5000, Changed: 1, Counts: 5000}
	first := written(t, job, plan)
	gotJob, gotPlan, err := Read(bytes.NewReader(first))
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(job, gotJob, cmpopts.EquateEmpty()) +
		cmp.Diff(plan, gotPlan, cmpopts.EquateEmpty()); d != "" {
		t.Error(d)
	}
	for _, c := range [][3]string{
		{`"version": 7`, `"version": 6`, "version 7 has revision, and no other has"},
		{`"number": 2`, `"number": 1`, "the number is below 2"},
		{`"of": "ab`, `"of": "AB`, "is no SHA-256"},
		{`"rip_to": 776224`, `"rip_to": 5`, "board Y4: rip_from 195072 is not before rip_to 5"},
		{`"copies": [2, 4]`, `"copies": [4, 2]`, "are not those of 2 copies"},
		{`"of": 4`, `"of": 3`, "2 numbers, up to 4 of 3"},
	} {
		text := strings.Replace(string(first), c[0], c[1], 1)
		if _, _, err := Read(strings.NewReader(text)); err == nil ||
			!strings.Contains(err.Error(), c[2]) {
			t.Errorf("%s: %v", c[1], err)
		}
	}
}

// A plan written before rips had a price reads as one of no price and no weak defects, and a span
// without a beginning begins at 0.
func TestPlansWithoutRipSettings(t *testing.T) {
	job, plan := sample()
	text := string(written(t, job, plan))
	for _, key := range []string{`   "ripping": 0.1000,` + "\n", `   "weak": ["split"],` + "\n",
		`"rip_from": 195072, `} {
		if strings.Count(text, key) != 1 {
			t.Fatalf("%s stands %d times", key, strings.Count(text, key))
		}
		text = strings.Replace(text, key, "", 1)
	}
	gotJob, gotPlan, err := Read(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	if s := gotJob.Settings; s.Ripping != 0 || len(s.Weak) != 0 {
		t.Errorf("ripping costs %v, weak are %q", s.Ripping, s.Weak)
	}
	if p := gotPlan.Placements[4]; p.RipFrom != 0 || p.RipTo != plan.Placements[4].RipTo {
		t.Errorf("the span goes from %d to %d", p.RipFrom, p.RipTo)
	}
}

// A stock of a plan written before stocks could be rough, or on a grid, is neither.
func TestStocksWithoutRough(t *testing.T) {
	job, plan := sample()
	text := string(written(t, job, plan))
	for _, gone := range []string{`, "rough": true`, `, "grid": 508, "grid_across": 254`} {
		if strings.Count(text, gone) != 1 {
			t.Fatalf("%s stands %d times", gone, strings.Count(text, gone))
		}
		text = strings.Replace(text, gone, "", 1)
	}
	_, got, err := Read(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	for n, s := range got.Groups[0].Certificate.Stocks {
		if s.Rough || s.Grid != 0 || s.GridAcross != 0 {
			t.Errorf("stock %d is %+v", n, s)
		}
	}
}

// An empty plan has empty lists, not null, and reads back.
func TestEmptyPlan(t *testing.T) {
	b := written(t, &model.Job{Settings: model.DefaultSettings()},
		&model.Plan{Groups: []model.Group{{Proof: model.Feasible, Ended: model.Clock}},
			Work: work()})
	for _, list := range []string{"shortages", "placements", "commissions", "parts", "rack", "yard",
		"inputs", "items", "stocks"} {
		if !bytes.Contains(b, []byte(`"`+list+`": []`)) {
			t.Errorf("%s is not an empty list in\n%s", list, b)
		}
	}
	if _, _, err := Read(bytes.NewReader(b)); err != nil {
		t.Error(err)
	}
}

// Every edit that makes the file something that this program would not write is refused, with the
// line where one is known.
func TestBadPlans(t *testing.T) {
	job, plan := sample()
	good := string(written(t, job, plan))
	for _, c := range []struct{ name, old, new, cause string }{
		{"empty", good, "", "it cannot be read (EOF)"},
		{"cut off", good[len(good)/2:], "", "it cannot be read (unexpected EOF)"},
		{"trailing data", "", "{}", "something follows"},
		{"other format", `"rackwright plan"`, `"plan"`, `the format is "plan"`},
		{"later version", `"version": 6`, `"version": 9`,
			"version 9 is not known, this program reads versions 6 to 8; plan the job anew"},
		{"revision of none", `"version": 6`, `"version": 7`, "version 7 has revision"},
		{"version 1", `"version": 6`, `"version": 1`,
			"it is of version 1, by a program that knew no rips; this program reads " +
				"versions 6 to 8; plan the job anew"},
		{"version 2", `"version": 6`, `"version": 2`,
			"it is of version 2, by a program that rounded rack values otherwise; this " +
				"program reads versions 6 to 8; plan the job anew"},
		{"version 4", `"version": 6`, `"version": 4`,
			"it is of version 4, by a program that proved bounds otherwise; this program " +
				"reads versions 6 to 8; plan the job anew"},
		{"version 5", `"version": 6`, `"version": 5`,
			"it is of version 5, by a program that proved bounds otherwise; this program " +
				"reads versions 6 to 8; plan the job anew"},
		{"version 3", `"version": 6`, `"version": 3`,
			"it is of version 3, by a program that knew no order of work; this program " +
				"reads versions 6 to 8; plan the job anew"},
		{"order that is none", `"order": "clutter"`, `"order": "mess"`,
			`work: order "mess" is not known`},
		{"way left away", `, {"way": "clutter", "settings": 4, "lifts": 5, "minutes": 8.500, ` +
			`"open": 1, "exact": true}`, "", "work: there are 1 ways, not 2"},
		{"ways the other way round", `{"way": "time"`, `{"way": "clutter"`,
			`work: way 1 is "clutter", not "time"`},
		{"settings below 0", `"settings": 2`, `"settings": -2`,
			`work: a number of way "time" is below 0`},
		{"minutes of four decimals", `"minutes": 8.500`, `"minutes": 8.5001`,
			"more than three decimals"},
		{"minutes below 0", `"minutes": 8.500`, `"minutes": -8.500`, "no number of minutes"},
		{"setting that takes too long", `"setting": 1.500`, `"setting": 1000.001`,
			"work.setting: 1000.001 is not between 0 and 1000"},
		{"unknown field", `"version": 6`, `"version": 6, "extra": 0`, `unknown field "extra"`},
		{"unknown field below", `"bits": `, `"scale": 1, "bits": `, `unknown field "scale"`},
		{"missing field", `"bound": 123.0001,` + "\n \"shortages\"", `"shortages"`,
			`field "bound" is missing`},
		{"field twice", `"version": 6`, `"version": 6, "version": 1`,
			`field "version" stands twice`},
		{"field twice by case", `"version": 6`, `"version": 6, "Version": 1`,
			`field "Version" stands twice`},
		{"field twice below", `"bits": 26`, `"bits": 26, "bits": 1`,
			`field "bits" stands twice`},
		{"bits below 0", `"bits": 26`, `"bits": -1`, "bits holds a number -1"},
		{"wrong kind", `"version": 6`, `"version": "1"`, "version holds a string"},
		{"money of five decimals", "123.4500", "123.45001", "more than four decimals"},
		{"money by exponent", "123.4500", "1e2", "exponent"},
		{"length with a fraction", `"length": 138176`, `"length": 138176.5`,
			"length holds a number 138176.5"},
		{"unknown face", `"face": "hidden"`, `"face": "hiden"`, "no face"},
		{"parts as money", `"cost": 4865392640000`, `"cost": 7.2500`,
			"cost holds a number 7.2500"},
		{"unknown field in a split", `"at_most": 1`, `"at_most": 1, "at_least": 2`,
			`unknown field "at_least"`},
		{"field twice in a split", `"at_most": 1`, `"at_most": 1, "at_most": 2`,
			`field "at_most" stands twice`},
		{"split of no kind", `"split": {"stocks": [0`, `"split": 5, "x": {"stocks": [0`,
			"split holds a number"},
		{"half of a board", `"at_most": 1`, `"at_most": 1.5`, "at_most holds a number 1.5"},
		{"unknown field in what boards give", `"gives": 9`, `"gives": 9, "most": 4`,
			`unknown field "most"`},
		{"limits of copies", `"within": [`, `"copies": [{"stock": 1, "item": 0, "dual": 3}], ` +
			`"within": [`, `unknown field "copies"`},
		{"twenty thousand splits", `"low": {"duals": [-5]}`, `"low": ` +
			strings.Repeat(`{"split": {"low": `, 20_000) + "{}" + strings.Repeat("}}", 20_000),
			"exceeded max depth"},
		{"unknown field in a list", `"cut_duals": [4, 0, 1]`, `"cut_duals": [4, 0, 1], "sum": 1`,
			`unknown field "sum"`},
		{"field twice in a list", `"cut_duals": [4, 0, 1]`, `"cut_duals": [4, 0, 1], "Cut_duals": [4, 0, 1]`,
			`field "Cut_duals" stands twice`},
		{"wrong kind in a list", `"cut_duals": [4, 0, 1]`, `"cut_duals": [4.5, 0, 1]`,
			"list.split.low.cut_duals holds a number 4.5"},
		{"list of no kind", `"list": {`, `"list": 5, "x": {`,
			"list holds a number"},
		{"unknown field in a cut", `{"den": 2, `, `{"den": 2, "sum": 1, `,
			"is no cut; write {den, rows"},
		{"field twice in a cut", `{"den": 2, `, `{"den": 2, "den": 3, `,
			`field "den" stands twice`},
		{"wrong kind in a cut", `{"den": 2, `, `{"den": 2.5, `, "is no cut"},
		{"cut without rows", `{"den": 2, "rows": [[0, 1]]}`, `{"den": 2}`, `{"den": 2} is no cut`},
		{"null in a cut", `[[0, 1]]`, `[[0, null]]`, "is no cut"},
		{"null for a row", `[[0, 1]]`, `[null]`, "is no cut"},
		{"null for a denominator", `{"den": 2, `, `{"den": null, `, "is no cut"},
		{"row of three", `[[3, 6], [5, 2]]`, `[[3, 6], [5, 2, 1]]`,
			"row 1 of a cut has 3 numbers; write [row, multiplier]"},
		{"row of one", `[[0, 1]]`, `[[0]]`, "row 0 of a cut has 1 numbers"},
		{"unknown proof", `"feasible"`, `"surely"`, `proof "surely" is not known`},
		{"unknown end", `"work limit"`, `"lunch"`, `ended "lunch" is not known`},
		{"unknown first cut", `"first": "rip"`, `"first": "ripped"`,
			`board Y3: first "ripped" is not known`},
		{"first cut by case", `"first": "crosscut"`, `"first": "Crosscut"`,
			`board Y2: first "Crosscut" is not known`},
		{"first cut of no kind", `"first": "rip"`, `"first": 1`, "first holds a number"},
		{"span that begins below 0", `"rip_from": 195072`, `"rip_from": -1`,
			"board Y4: rip_from -1 is below 0"},
		{"span that ends below 0", `"rip_to": 776224`, `"rip_to": -1`,
			"board Y4: rip_from 195072 is not before rip_to -1"},
		{"empty span", `"rip_to": 776224`, `"rip_to": 195072`,
			"board Y4: rip_from 195072 is not before rip_to 195072"},
		{"span without an end", `, "rip_to": 776224`, "",
			"board Y4: rip_from 195072 is not before rip_to 0"},
		{"span of a board that is crosscut first", `"first": "rip", "rip_from"`,
			`"first": "crosscut", "rip_from"`,
			`board Y4: it has a span to be ripped first, and first is "crosscut"`},
		{"span of a board that is not ripped", `"first": "rip", "rip_from"`, `"rip_from"`,
			`board Y4: it has a span to be ripped first, and first is ""`},
		{"span twice", `"rip_from": 195072`, `"rip_from": 195072, "Rip_from": 195072`,
			`field "Rip_from" stands twice`},
		{"span with a fraction", `"rip_to": 776224`, `"rip_to": 776224.5`,
			"rip_to holds a number 776224.5"},
		{"price of ripping out of limits", `"ripping": 0.1000`, `"ripping": 1000.0001`,
			"handling.rip: 1000.0001 is not between 0 and 1000"},
		{"width twice", `"left": 1016`, `"left": 1016, "Left": 1016`, `field "Left" stands twice`},
		{"unknown side", `"left": 1016`, `"side": 1016`, `unknown field "side"`},
		{"width with a fraction", `"width": 16256, "face"`, `"width": 16256.5, "face"`,
			"width holds a number 16256.5"},
		{"trimming cut of no kind", `"trimming_cut": true`, `"trimming_cut": "yes"`,
			"trimming_cut holds a string"},
		{"no share of a strip", `, "strip_value": {"num": 3, "den": 5}`, "",
			"offcut.strip_value: it is not between 0 and 1"},
		{"strips above their board", `"strip_value": {"num": 3, "den": 4}`,
			`"strip_value": {"num": 5, "den": 4}`,
			`material."oak & ash".offcut.strip_value: it is not between 0 and 1`},
		{"tax that is no share", `"tax_percent": {"num": 33, "den": 4}`,
			`"tax_percent": {"num": 33, "den": 0}`,
			`yards."sawmill".tax_percent: it is not between 0 and 100`},
		{"safe size out of limits", `"narrowest_rip": 6096`, `"narrowest_rip": -1`, "is below 0"},
		{"other currency", `"currency": "USD",` + "\n", `"currency": "EUR",` + "\n",
			`the currency is "EUR" at the top`},
		{"job that was never read", `"qty": 4`, `"qty": 0`, "0 is not between 1"},
		{"setting out of limits", `"crosscut_kerf": 1016`, `"crosscut_kerf": 9999999`,
			"wider than any saw's"},
		{"input outside the folders", `"name": "parts.csv"`, `"name": "../../parts.csv"`,
			"no name of a file in the job folder"},
		{"other encoding", "oak & ash", "oak \xe9 ash", "byte E9"},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := strings.Replace(good, c.old, c.new, 1)
			if c.old == "" {
				text = good + c.new
			}
			if text == good {
				t.Fatal("nothing was edited")
			}
			j, p, err := Read(strings.NewReader(text))
			if err == nil || j != nil || p != nil || !strings.Contains(err.Error(), c.cause) {
				t.Errorf("got %v", err)
			}
		})
	}
	// What else a plan of another version lacks or holds is not told.
	old := strings.NewReplacer(`"version": 6`, `"version": 1`, `"trimming_cut": true`,
		`"trim_cut": "yes"`, `"qty": 4`, `"qty": 0`).Replace(good)
	_, _, err := Read(strings.NewReader(old))
	if all, ok := err.(model.InputErrors); !ok || len(all) != 1 ||
		!strings.Contains(err.Error(), "it is of version 1") {
		t.Errorf("want the version only, got %v", err)
	}
	_, _, err = Read(strings.NewReader(
		strings.Replace(good, `"version": 6,`, `"version": true,`, 1)))
	if all, ok := err.(model.InputErrors); !ok || all[0].Line != 3 {
		t.Errorf("want line 3, got %v", err)
	}
}

// Line breaks and blanks are all that layout changes, whatever stands in the names.
func TestLayoutKeepsJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		names := rapid.SliceOfN(rapid.StringMatching(`[\[\]{},:"\\ a-z]{0,40}`), 0, 40).Draw(t,
			"names")
		value := map[string]any{"a": names,
			"b": []any{names, map[string]any{"c": names, "d": []any{}}}, "e": map[string]any{}}
		compact, err := json.Marshal(value)
		if err != nil {
			t.Fatal(err)
		}
		var back bytes.Buffer
		if err := json.Compact(&back, layout(compact)); err != nil ||
			!bytes.Equal(back.Bytes(), compact) {
			t.Fatalf("%v\n%s\n%s", err, compact, back.Bytes())
		}
	})
}

// Whatever stands in the file, what is taken in is written and read again as the same bytes, and
// judging it ends; or there are mistakes that each name the file and a remedy.
func FuzzRead(f *testing.F) {
	job, plan := sample()
	f.Add(written(f, job, plan))
	f.Add(written(f, ptrTo(sampleMade()), planOf(sampleMade())))
	f.Add(written(f, &model.Job{Settings: model.DefaultSettings()},
		&model.Plan{Work: work()}))
	f.Add([]byte(`{"format": "rackwright plan", "groups": [{"certificate": {"root": {"split": ` +
		`{"stock": 1, "at_most": 2, "low": {}, "high": {"split": {}}}}}}]}`))
	f.Add([]byte(`{"format": "rackwright plan", "groups": [{"certificate": {"root": {"list": ` +
		`{"cuts": [{"den": 3, "rows": [[0]]}]}}}}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		job, plan, err := Read(bytes.NewReader(data))
		if err != nil {
			for _, e := range err.(model.InputErrors) {
				if e.Cause == "" || e.Remedy == "" || !utf8.ValidString(e.Error()) ||
					strings.ContainsFunc(e.Error(), unicode.IsControl) || e.Line < 0 ||
					e.Line > 1+bytes.Count(data, []byte("\n")) {
					t.Fatalf("%+v", e)
				}
			}
			return
		}
		first := written(t, job, plan)
		reading, _ := check.Check(job, plan)
		proof.Bounds(reading)
		if job, plan, err = Read(bytes.NewReader(first)); err != nil {
			t.Fatalf("%v\n%s", err, first)
		}
		if second := written(t, job, plan); !bytes.Equal(first, second) {
			t.Fatalf("%s\n%s", first, second)
		}
	})
}
