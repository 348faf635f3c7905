package main

import (
	"bytes"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rackwright/cmd/rackwright/command"
	"rackwright/io/folder"
	"rackwright/model"
	"rackwright/model/check"
	"rackwright/model/proof"
)

// A written plan in which a stated fact was changed is rejected, with the reason. TestTampering
// names the lies that matter and what is said to each; TestEveryFieldIsJudged changes every field
// of every file of two plans in turn.

// files are the files of a job folder and of its plan, by their names inside the job folder.
type files map[string]string

// benchJob has something in every column of every file: boards with a value of their own, alike
// boards, measured sizes, defects that overlap and such of a part of the width, on used boards and
// on others; offcuts that inherit them; a shortage of each kind; a commission without parts.
var benchJob = files{
	"parts.csv": `commission,part,qty,material,section,length,width,thickness,face,note,board
C-2 stool,rail,2,pine,1x8,29,7.25,0.75,sound,grain up,
C-1 shelf,plank,3,pine,,39,7.25,0.75,show,,
C-1 shelf,back,1,pine,1x8,18,5,0.75,hidden,,
C-1 shelf,edging,3,oak,4/4,30,4,0.75,show,,
C-2 stool,seat,1,oak,4/4,30,9,0.75,sound,,
C-2 stool,rung,1,ash,4/4,40,3,0.75,show,,
C-2 stool,foot,2,elm,4/4,40,3,0.75,show,none to spare,B-6
`,
	"commissions.csv": `commission,due,note
C-1 shelf,2027-03-12,
C-3 tray,2027-03-30,wood is to come
C-2 stool,2027-03-20,
`,
	"rack.csv": `board,material,section,length,qty,width,thickness,bin,value,since,note,for,untouched,longest
B-1,pine,1x8,96,1,,,A2,4.50,2026-11-02,from an old bed,,,
B-2,pine,1x8,32,2,,,A3,,2026-12-01,,,,
B-3,pine,1x8,14,1,7.25,0.8125,A3,0.90,2026-10-05,short,C-3 tray,yes,13
B-4,ash,4/4,80,1,6,1,A4,6.00,2026-08-30,,,,
B-5,oak,4/4,50,1,5,1.0625,A5,,2027-01-07,,,,
B-6,elm,4/4,60,1,6,1,A5,,,split in two,,,
`,
	"defects.csv": `board,from,to,kind,left,right
B-1,45,46,loose knot,,
B-1,45.5,47,check,0,2
B-1,60,61,sound knot,3,4.5
B-3,3,4,stain,,
B-4,29,31,split,2,3
B-4,30.5,32,check,0,2
B-5,33,34,stain,1,2
B-6,29,31,split,2,3
B-6,30,34,check,,
`,
	"yard.csv": `material,section,length,price,available,width,thickness,yard,per,grade
pine,1x8,48,1.32,,,,north,length,
pine,1x8,96,9.60,3,,,north,piece,D select
oak,4/4,36,11.20,1,5.5,,south,,FAS
`,
	"shop.toml": `batch = "mar"

[kerf]
crosscut = "1/8"

[trim]
yard_end = "1/2"

[allowance]
length = "1"

[offcut]
keep_length = "12"
value = 0.5

[handling]
board = 0.5

[defects]
margin = "1/4"
sound = ["sound knot", "stain"]

[material.oak.allowance]
thickness = "1/8"

[material.pine.reserve]
usable = 0.9

[yards.north]
longest_load = "96"

[section."4/4".offcut]
keep_length = "10"
`,
}

// railJob is a shop in millimetres; split gives its proof two leaves.
var railJob = files{
	"parts.csv": `commission;part;qty;material;length;width;thickness;face
C-1 bed;side;4;spruce;1300;137;38;show
C-2 bench;seat;1;spruce;1950;137;38;sound
C-1 bed;end;3;spruce;1750;137;38;show
`,
	"rack.csv": `board;material;section;length;bin;surface
R-1;spruce;38x140mm;950;A1;S2S
R-2;spruce;38x140mm;1350;A2;S2S
`,
	"defects.csv": `board;from;to;kind
R-1;600;630;check
R-2;0;30;split
`,
	"yard.csv": `material;section;length;price;yard;grade;surface
spruce;38x140mm;5400;20,52;mill;C24;s2s
spruce;38x140mm;5100;17,34;mill;C24;S2S
`,
	"shop.toml": `units    = "mm"
currency = "EUR"

[kerf]
crosscut = "5"

[trim]
yard_end = "20"

[allowance]
length = "25"

[offcut]
keep_length = "300"

[handling]
board = 0.5

[defects]
margin = "10"

[reserve]
usable = 0.99

[yards.mill]
tax_percent = 0
`,
}

// scene is a job and its plan on disk. A change is written, judged by verify in this process, and
// taken back.
type scene struct {
	name string
	dir  string
	was  files
	unit model.Unit
}

func set(t *testing.T, name string, job files, args ...string) *scene {
	t.Helper()
	s := &scene{name: name, dir: t.TempDir(), was: maps.Clone(job)}
	lay(t, s.dir, job)
	if code, said := rackwright(t,
		append([]string{"plan", s.dir, "--date", "2027-03-01", "--quiet"},
			args...)...); code != exitDone && code != exitShort {
		t.Fatal(said)
	}
	for name, text := range contents(t, filepath.Join(s.dir, "out")) {
		s.was["out/"+name] = text
	}
	read, err := s.was.job()
	if err != nil {
		t.Fatal(err)
	}
	s.unit = read.Settings.Units
	if code, said, _ := s.verify(t, nil, true); code != exitDone || said != "" {
		t.Fatalf("the plan as it was made: exit code %d: %s", code, said)
	}
	return s
}

// split makes two leaves of the first leaf of a plan, up to so many boards of a stock and more, in
// a way that still proves the bound.
func (s *scene) split(t *testing.T) *scene {
	t.Helper()
	job, plan, err := readPlan(filepath.Join(s.dir, "out"))
	if err != nil {
		t.Fatal(err)
	}
	c := &plan.Groups[0].Certificate
	whole := c.Root
	for n := range c.Stocks {
		for most := int64(1); c.Stocks[n].Supply == nil && most < 9; most++ {
			c.Root = model.CertNode{
				Split: &model.CertSplit{Stock: n, AtMost: most, Low: whole, High: whole}}
			if reading, _ := check.Check(job, plan); len(proof.Bounds(reading)) > 0 {
				continue
			}
			made, err := folder.Encode(job, plan)
			if err != nil {
				t.Fatal(err)
			}
			s.was["out/plan.json"] = string(made["plan.json"])
			if err := os.WriteFile(filepath.Join(s.dir, "out", "plan.json"), made["plan.json"],
				0o666); err != nil {
				t.Fatal(err)
			}
			return s
		}
	}
	t.Fatal("no stock to split on")
	return nil
}

// verify judges the plan with some files changed, with or without the job's files; it also says
// whether an accepted plan reads as it was.
func (s *scene) verify(t *testing.T, changed files, withJob bool) (code int, said string,
	same bool) {
	t.Helper()
	put := func(from files) {
		for name := range changed {
			if err := os.WriteFile(filepath.Join(s.dir, name), []byte(from[name]),
				0o666); err != nil {
				t.Fatal(err)
			}
		}
	}
	put(changed)
	defer put(s.was)
	var out, err bytes.Buffer
	defer func() {
		if r := recover(); r != nil {
			code, said = exitFault, fmt.Sprint("panic: ", r)
		}
	}()
	v := verifyCommand{Outdir: filepath.Join(s.dir, "out")}
	if withJob {
		v.Job = s.dir
	}
	code = finish(v.Run(&env{command.Env{Ctx: t.Context(), Stdout: &out, Stderr: &err, Quiet: true,
		Started: time.Now()}}), &err)
	if code == exitDone {
		same = s.readsTheSame(t)
	}
	return code, err.String(), same
}

// readsTheSame says whether job and plan, read and written anew, are what they were: such as 40.0
// for 40, or a 0 that is left away.
func (s *scene) readsTheSame(t *testing.T) bool {
	job, plan, err := readPlan(filepath.Join(s.dir, "out"))
	if err != nil {
		t.Fatal(err)
	}
	again, err := folder.Encode(job, plan)
	for name, text := range again {
		if s.was["out/"+name] != string(text) {
			return false
		}
	}
	return err == nil
}

// TestTampering tells lies about a plan, each that matters by itself and some that are told in
// several places at once, and asks what is said to them.
func TestTampering(t *testing.T) {
	bench, rail, hurried := set(t, "bench", benchJob), set(t, "rail", railJob).split(t),
		set(t, "hurried", railJob, "--time", "1ns")
	const group, cert = "groups[0].", "groups[0].certificate."
	tell(t, []lie{
		{"position of a piece", bench,
			"cuts.csv: board B-1, line 2: the blank of plank goes from 1/2\" to 40\"",
			all(cell("cuts", "kind=part", "from", "+0.5"))},
		{"position of a piece, made up for by kerf and offcut", bench,
			"kerf from 40 1/2\" to 41 5/8\" stands where the rules make kerf from 40 1/2\" " +
				"to 40 5/8\"",
			all(
				cell("cuts", "from=40.5", "to", "41.625"),
				cell("cuts", "from=40.625", "to", "81.625"),
				cell("cuts", "from=40.625", "from", "41.625"),
				cell("cuts", "from=80.625", "from", "81.625"),
				cell("cuts", "from=81.625", "to", "81.75"),
				cell("cuts", "from=80.75", "from", "81.75"))},
		{"position of a piece in plan.json", bench,
			"placement 1: the pieces on board B-1 are not those of cuts.csv",
			all(leaf("placements[0].pieces[0].from", "+1"))},
		{"position of a piece on a defect", bench,
			"back may not lie on the defect that, with its margin, goes from 44 3/4\" to 46 1/4\"",
			all(
				cell("cuts", "part=back", "to", "-0.125"),
				cell("cuts", "part=back", "from", "-0.125"))},
		{"length of a blank", bench, "it is to be 40\" long",
			all(cell("cuts", "kind=part", "to", "+0.5"))},
		{"length of a blank in the proof", bench, "item 0: the job has no blank of",
			all(leaf(cert+"items[0].length", "+1"))},
		{"kerf", bench, "stands where the rules make kerf from 40\" to 40 1/8\"",
			all(cell("cuts", "kind=kerf", "to", "40.0625"),
				cell("cuts", "from=40.125", "from", "40.0625"))},
		{"kerf called waste", bench, "waste from 40\" to 40 1/8\" stands where the rules make kerf",
			all(cell("cuts", "kind=kerf", "kind", "waste"))},
		{"kerf of the shop", bench, "nearer than a kerf",
			all(text("shop.toml", `crosscut = "1/8"`, `crosscut = "1/4"`), takeIn)},
		{"trim", bench, "plank lies in the trim of 1/2\" at the board's end", all(
			cell("cuts", "kind=trim", "to", "0.375"), cell("cuts", "from=0.5", "from", "0.375"),
			cell("cuts", "to=40.5", "to", "40.375"), cell("cuts", "from=40.5", "from", "40.375"))},
		{"trim called waste", bench, "waste from 0\" to 1/2\" stands where the rules make trim",
			all(cell("cuts", "kind=trim", "kind", "waste"))},
		{"trim of the shop", bench, "plank lies in the trim of 3/4\" at the board's end",
			all(text("shop.toml", `yard_end = "1/2"`, `yard_end = "3/4"`), takeIn)},
		{"step", bench, "cuts.csv: board B-1, line 3: step is 2, it should be 1",
			all(cell("cuts", "kind=kerf", "step", "+1"))},
		{"copy", bench, "names copy 2 of plank of C-1 shelf once more",
			all(cell("cuts", "kind=part", "copy", "2"))},
		{"copies of one part changed about", bench,
			"placement 1: the pieces on board B-1 are not those of cuts.csv", all(
				cell("cuts", "kind=part", "copy", "9"), cell("cuts", "from=0.5", "copy", "1"),
				cell("cuts", "copy=9", "copy", "2"))},
		{"copy beyond the quantity", bench,
			"names copy 4 of plank of C-1 shelf, of which 3 are wanted",
			all(cell("cuts", "kind=part", "copy", "4"))},
		{"board", bench, "cuts.csv: board B-2.2: the rows end at 30\", the board at 32\"",
			all(cell("cuts", "board=B-2.1", "board", "B-2.2"))},
		{"one of two alike boards for the other", bench,
			"placement 2: is of board B-2.1, where cuts.csv has B-2.2", all(
				cell("cuts", "board=B-2.1", "board", "B-2.2"),
				cell("cuts", "board=B-2.1", "board", "B-2.2"),
				cell("cuts", "board=B-2.1", "board", "B-2.2"))},
		{"board that is not there", bench, "board B-9: is not on the rack",
			all(cell("cuts", "board=B-2.1", "board", "B-9"))},
		{"board in plan.json", bench, "placement 2: is of board B-2.2, where cuts.csv has B-2.1",
			all(leaf("placements[1].board", `"B-2.2"`))},
		{"line that a board was bought by", bench,
			"mar-buy-1: the rows end at 96\", the board at 48\"",
			all(leaf("placements[2].yard", "2"))},
		{"line that a board was bought by, where nothing is for sale", bench,
			"mar-buy-1: was bought, as plan.json has it, by line 9 of yard.csv, where no board " +
				"is for sale",
			all(leaf("placements[2].yard", "9"))},
		{"bought board said to be of the rack", bench,
			"mar-buy-1: is not on the rack, and plan.json names no line of yard.csv that it " +
				"was bought by",
			all(leaf("placements[2].yard", "0"))},
		{"origin", bench, `origin is "yard", it should be "rack"`,
			all(cell("cuts", "kind=part", "origin", "yard"))},
		{"material", bench, `cuts.csv: board B-1, line 2: material is "ash", it should be "pine"`,
			all(cell("cuts", "kind=part", "material", "ash"))},
		{"face", bench, "face is hidden, it should be show",
			all(cell("cuts", "kind=part", "face", "hidden"))},
		{"face in the proof", bench, "item 0: the job has no blank of",
			all(leaf(cert+"items[0].face", `"hidden"`))},
		{"face in the job, with the file", bench, "face is show, it should be sound",
			all(text("parts.csv", "plank,3,pine,,39,7.25,0.75,show",
				"plank,3,pine,,39,7.25,0.75,sound"), takeIn)},
		{"price", bench, "buy.csv: line 2: price is 9.61, it should be 9.60",
			all(cell("buy", "qty=1", "price", "+0.01"))},
		{"price and total", bench, "buy.csv: line 2: total is 9.50, it should be 9.60",
			all(cell("buy", "qty=1", "price", "9.50"), cell("buy", "qty=1", "total", "9.50"))},
		{"price in the job, with the file", bench,
			"buy.csv: line 2: price is 9.60, it should be 9.50",
			all(text("yard.csv", "96,9.60,3", "96,9.50,3"), takeIn)},
		{"total", bench, "buy.csv: line 2: total is 9.61, it should be 9.60",
			all(cell("buy", "qty=1", "total", "+0.01"))},
		{"count of boards bought", bench, "buy.csv: line 2: qty is 2, it should be 1",
			all(cell("buy", "qty=1", "qty", "2"), cell("buy", "qty=2", "total", "19.20"))},
		{"a purchase left away", bench,
			"buy.csv: line 3: material is \"pine\", it should be \"oak\"",
			all(drop("buy", "material=oak"))},
		{"where to buy", bench, "buy.csv: line 2: yard is \"south\", it should be \"north\"",
			all(cell("buy", "qty=1", "yard", "south"))},
		{"a tax that nobody asks", bench, "buy.csv: line 2: tax is 0.01, it should be 0.00",
			all(cell("buy", "qty=1", "tax", "+0.01"))},
		{"the id of a board", bench,
			"buy.csv: line 2: id 1 of boards is \"mar-buy-7\", it should be \"mar-buy-1\"",
			all(cell("buy", "qty=1", "boards", "mar-buy-7"))},
		{"an id too many", bench,
			"buy.csv: line 2: id 2 of boards is \"mar-buy-3\", it should be \"\"",
			all(cell("buy", "qty=1", "boards", "mar-buy-1 mar-buy-3"))},
		{"no ids", bench,
			"buy.csv: line 2: id 1 of boards is \"\", it should be \"mar-buy-1\"",
			all(cell("buy", "qty=1", "boards", ""))},
		{"an id of the reserve", bench,
			"buy.csv: line 4: id 1 of boards is \"mar-buy-3\", it should be \"\"",
			all(cell("buy", "reserve=yes", "boards", "mar-buy-3"))},
		{"no reserve", bench, "buy.csv: line 4: is missing: 1 of pine 1x8 of 48\"",
			all(drop("buy", "reserve=yes"))},
		{"twice the reserve", bench, "buy.csv: line 4: qty is 2, it should be 1",
			all(cell("buy", "reserve=yes", "qty", "2"))},
		{"a dearer reserve", bench, "buy.csv: line 4: length is 96\", it should be 48\"",
			all(cell("buy", "reserve=yes", "length", "96"))},
		{"a reserve that counts as bought", bench,
			"buy.csv: line 4: reserve is \"\", it should be \"yes\"",
			all(cell("buy", "reserve=yes", "reserve", ""))},
		{"another share of usable wood", bench,
			"buy.csv: line 4: length is 48\", it should be 96\"",
			all(leaf("job.settings.materials.pine.usable.num", "1"),
				leaf("job.settings.materials.pine.usable.den", "2"), alone)},
		{"stop", bench, "setting is 41 1/2\", it should be 41\"",
			all(cell("order", "setting=41", "setting", "+0.5"))},
		{"stop for a cut at its mark", bench, "setting is 1/2\", it should be 0\"",
			all(cell("order", "setting=", "setting", "0.5"))},
		{"place in the order", bench, "order.csv: line 3: sequence is 3, it should be 2",
			all(cell("order", "sequence=2", "sequence", "3"))},
		{"a cut of another pass", bench, "order.csv: line 3: pass is 2, it should be 1",
			all(cell("order", "sequence=2", "pass", "2"))},
		{"a piece that does not come off", bench, `order.csv: line 3: piece is "trim and all"`,
			all(cell("order", "sequence=2", "piece", "trim and all"))},
		{"a cut left away", bench, "order.csv: 1 of the 16 cuts of cuts.csv are missing",
			all(drop("order", "sequence=2"))},
		{"a cut made twice", bench, "stands there once more",
			all(double("order", "sequence=2", "sequence", "3"))},
		{"fewer settings", bench, "plan.json: work: ",
			all(leaf("work.ways[0].settings", "-1"), leaf("work.ways[0].minutes", "-1.5"))},
		{"fewer minutes", bench, "lifts take ", all(leaf("work.ways[0].minutes", "-1"))},
		{"more commissions open", bench, "plan.json: work: open is ",
			all(leaf("work.ways[0].open", "+1"))},
		{"offcut id that is taken", bench,
			"the offcut's id B-3 is not new: it is that of a board of the rack",
			all(cell("cuts", "kind=offcut", "offcut", "B-3"),
				cell("rack", "board=mar-off-1", "board", "off"))},
		{"offcut id that does not go on", bench,
			"the id b-0 does not go on after B-6 of the rack",
			all(cell("cuts", "kind=offcut", "offcut", "b-0"),
				cell("rack", "board=mar-off-1", "board", "b-0"))},
		{"offcut id", bench, `board is "mar-off-1", it should be "mar-off-9"`,
			all(cell("cuts", "kind=offcut", "offcut", "mar-off-9"))},
		{"offcut's length", bench, "length is 20\", it should be 19\"",
			all(cell("rack", "board=mar-off-1", "length", "+1"))},
		{"offcut's bin", bench, `bin is "A9", it should be "A5"`,
			all(cell("rack", "board=mar-off-3", "bin", "A9"))},
		{"offcut's value", bench, `value is "2.00", it should be "2.2589"`,
			all(cell("rack", "board=mar-off-4", "value", "2.00"))},
		{"offcut's day", bench, `since is "2027-03-02", it should be "2027-03-01"`,
			all(cell("rack", "board=mar-off-2", "since", "2027-03-02"))},
		{"day of every offcut", bench, `since is "2027-03-02", it should be "2027-03-01"`,
			all(cell("rack", "since=2027-03-01", "since", "2027-03-02"),
				cell("rack", "since=2027-03-01", "since", "2027-03-02"),
				cell("rack", "since=2027-03-01", "since", "2027-03-02"))},
		{"offcut that is not there", bench,
			"has 7 boards; 3 were not used and 5 offcuts came, that is 8",
			all(drop("rack", "board=mar-off-1"))},
		{"rack row of a board that was not used", bench, `value is "9.00", it should be "0.90"`,
			all(cell("rack", "board=B-3", "value", "9.00"))},
		{"rack row of a board that was not used, left away", bench, "has 7 boards",
			all(drop("rack", "board=B-2.2"))},
		{"used board put back", bench, "has 9 boards",
			all(double("rack", "board=B-2.2", "board", "B-2.1"))},
		{"defect made shorter", bench,
			"the defects of board B-3 in defects.csv are not those it has",
			all(cell("defects", "board=B-3", "to", "-0.5"))},
		{"defect of another kind", bench,
			"the defects of board B-6 in defects.csv are not those it has",
			all(cell("defects", "board=B-6", "kind", "stain"))},
		{"defect of an offcut forgotten", bench,
			"the defects of board mar-off-3 in defects.csv are not those it has: there are " +
				"0, it has 1",
			all(drop("defects", "board=mar-off-3"))},
		{"defect in the job, with the file", bench,
			"rack.csv: line 3: the defects of board B-3 in defects.csv are not those it has",
			all(text("defects.csv", "B-3,3,4", "B-3,3,5"), takeIn)},
		{"dual", hurried, "the bound is stated as",
			all(leaf(cert+"root.duals[0]", "-10000000000"))},
		{"duals raised, and the bound with them", hurried,
			"of which there is any number, would give more than it costs",
			all(leaf(cert+"root.duals[0]", "+100000000000000000"), leaf(group+"bound", "+0.01"),
				leaf("bound", "+0.01"))},
		{"bits", hurried, "its certificate reckons in", all(leaf(cert+"bits", "+1"))},
		{"dual below 0", hurried, "leaf 0: has a dual below 0: -1",
			all(leaf(cert+"root.duals[0]", "-1 "))},
		{"supply", bench, "stock 0: the supply of board B-2.1 is not what is there",
			all(leaf(cert+"stocks[0].supply", "+1"))},
		{"supply of an offer", bench,
			"stock 3: the supply of line 3 of yard.csv is not what is there",
			all(leaf(cert+"stocks[3].supply", "null"))},
		{"supply in the job, with the file", bench,
			"stock 3: the supply of line 3 of yard.csv is not what is there",
			all(text("yard.csv", "96,9.60,3", "96,9.60,4"), takeIn)},
		{"cost of a stock", bench, "stock 0: board B-2.1 costs 1.50 (8053063664640 ticks) with " +
			"handling, not 1.50 (8053063664641)",
			all(leaf(cert+"stocks[0].cost", "+1"))},
		{"demand", bench, "item 0: 4 blanks of 40\", show, are counted; 3 are cut",
			all(leaf(cert+"items[0].demand", "+1"))},
		{"split below all limits", rail, "leaves one side nothing",
			all(leaf(cert+"root.split.at_most", "-99"))},
		{"split by a stock that is not there", rail, "a split is about stock 99",
			all(leaf(cert+"root.split.stock", "99"))},
		{"split by boards bought below all limits", rail, "boards bought leaves one side nothing",
			all(leaf(cert+"root.split.stock", "-1 "), leaf(cert+"root.split.at_most", "-99"))},
		{"half a split", rail, "leaf 1: has 0 duals for",
			all(leaf(cert+"root.split.high", "{}"))},
		{"bound", hurried, "plan.json: bound: is", all(leaf("bound", "+0.0001"))},
		{"bound, in its group as well", hurried, "group spruce 38x140mm: the bound is stated as",
			all(leaf("bound", "+0.0001"), leaf(group+"bound", "+0.0001"))},
		{"bound, lower than is proven", hurried, "group spruce 38x140mm: the bound is stated as",
			all(leaf("bound", "-1"), leaf(group+"bound", "-1"))},
		{"bound made the value, with all that follows", hurried,
			"group spruce 38x140mm: the bound is stated as", all(tree(closeGap))},
		{"value", bench, "plan.json: value: is 36.0656; the boards used, with " +
			"handling and rips, less their offcuts, cost 36.0657",
			all(leaf("value", "-0.0001"))},
		{"value, in its group as well", bench,
			"group pine 1x8: the value is 16.3864, its boards, with handling and rips, " +
				"less their offcuts, cost 16.3865",
			all(leaf("value", "-0.0001"), leaf(group+"value", "-0.0001"))},
		{"proof", hurried, `makes it "feasible"`, all(leaf(group+"proof", `"optimal"`))},
		{"proof made less of", bench,
			`the proof is "feasible"; the certificate makes it "optimal"`,
			all(leaf("groups[1].proof", `"feasible"`))},
		{"ended", bench, `group 2: a search that proved its plan the cheapest is "finished", not ` +
			`ended by "clock"`,
			all(leaf("groups[1].ended", `"clock"`))},
		{"name of a group", bench,
			`group 1: is called "oak 4/4"; after the wood in it, it is "pine 1x8"`,
			all(leaf(group+"name", `"oak 4/4"`))},
		{"tally", bench, "costs.csv: line 2: tally is",
			all(cell("costs", "commission=C-1 shelf", "tally", "+0.000001"))},
		{"shortage of another copy", bench,
			"the shortage names copy 2 of edging of C-1 shelf once more",
			all(leaf("shortages[0].copies[0]", "2"))},
		{"shortage of another part", bench,
			"the shortage names copy 3 of plank of C-1 shelf once more",
			all(leaf("shortages[0].part", `"plank"`))},
		{"shortage left away", bench,
			"1 of 1 copies of seat of C-2 stool are neither cut nor short",
			all(leaf("shortages[1]", ""))},
		{"reason of a shortage", bench,
			`the reason why seat of C-2 stool is short is given as "no board is long enough"; it ` +
				`is "no board is wide enough"`,
			all(leaf("shortages[1].reason", `"no board is long enough"`))},
		{"cost share", bench, "costs.csv: line 2: cost is 28.3639, it should be 29.3639", all(
			cell("costs", "commission=C-1 shelf", "cost", "-1"),
			cell("costs", "commission=C-1 shelf", "rack_cost", "-1"),
			cell("costs", "commission=C-2 stool", "cost", "+1"),
			cell("costs", "commission=C-2 stool", "rack_cost", "+1"))},
		{"cost share, one column for another", bench, "costs.csv: line 2: handling is", all(
			cell("costs", "commission=C-1 shelf", "handling", "+0.5"),
			cell("costs", "commission=C-1 shelf", "rack_cost", "-0.5"))},
		{"kerf in the job alone", bench, "nearer than a kerf",
			all(leaf("job.settings.crosscut_kerf", "+1016"), alone)},
		{"trim in the job alone", bench, "plank lies in the trim",
			all(leaf("job.settings.yard_end", "+8"), alone)},
		{"handling in the job alone", bench, "handling is",
			all(leaf("job.settings.handling", "+0.01"), alone)},
		{"price in the job alone", bench, "buy.csv: line 2: price is 9.60, it should be 9.61",
			all(leaf("job.yard[1].price", "+0.01"), alone)},
		{"length of a part in the job alone", bench, "it is to be 31\" long",
			all(leaf("job.parts[0].length", "+8128"), alone)},
		{"length of a board in the job alone", bench,
			"cuts.csv: board B-1: the rows leave a gap: they do not cover all of the board",
			all(leaf("job.rack[0].length", "+8128"), alone)},
		{"value of a board in the job alone", bench, "costs.csv: line 2: rack_cost is",
			all(leaf("job.rack[0].value", "+0.01"), alone)},
		{"a part that cannot be, in the job alone", bench,
			"plan.json: in the job that lies in it, parts.csv:2: qty: 0 is not between 1 " +
				"and 12000",
			all(leaf("job.parts[0].qty", "0"), alone)},
		{"a day that is none, in the job alone", bench,
			`plan.json: in the job that lies in it, the due date of "C-1 shelf" is "soon", ` +
				`which is no date`,
			all(leaf("job.commissions[0].due", `"soon"`), alone)},
		{"job snapshot", bench, "plan.json: job: is not what these files say",
			all(leaf("job.commissions[0].due", `"2027-03-13"`))},
		{"hash of an input", bench, "parts.csv: has changed since the plan was made",
			all(leaf("job.inputs[2].sha256", `"00"`))},
		{"input", bench, "commissions.csv: has changed since the plan was made",
			all(text("commissions.csv", "2027-03-12", "2027-03-13"))},
		{"input, with its hash", bench, "plan.json: job: is not what these files say",
			all(text("commissions.csv", "2027-03-12", "2027-03-13"), rehash)},
		{"input that is not listed", bench, "parts.csv: was not there when the plan was made",
			all(leaf("job.inputs[2]", ""))},
		{"quantity in the job, with the file", bench,
			"1 of 4 copies of plank of C-1 shelf are neither cut nor short",
			all(text("parts.csv", "plank,3", "plank,4"), takeIn)},
		{"a cheaper offer in the job, with the file", bench,
			"item 0: line 5 of yard.csv is not among its stocks but holds the blank of plank",
			all(text("yard.csv", "11.20,1,5.5,,south,,FAS\n",
				"11.20,1,5.5,,south,,FAS\npine,1x8,96,9.59,,,,,,\n"), takeIn)},
	})
}

// lie is what is wrong about a plan, and what verify is to say to it.
type lie struct {
	what  string
	scene *scene
	want  string
	edits []edit
}

// tell tells each lie by itself.
func tell(t *testing.T, lies []lie) {
	for _, lie := range lies {
		t.Run(lie.what, func(t *testing.T) {
			told := maps.Clone(lie.scene.was)
			for _, e := range lie.edits {
				e(t, told)
			}
			_, withoutJob := told["alone"]
			delete(told, "alone")
			maps.DeleteFunc(told, func(name, text string) bool {
				return text == lie.scene.was[name]
			})
			if len(told) == 0 {
				t.Fatal("nothing was changed")
			}
			if code, said, _ := lie.scene.verify(t, told, !withoutJob); code != exitBad ||
				!strings.Contains(plain.Replace(said), plain.Replace(lie.want)) {
				t.Errorf("exit code %d:\n%s\nit should say %q", code, said, lie.want)
			}
		})
	}
}
