package folder

import (
	"strings"
	"testing"
	"testing/fstest"

	"rackwright/model"
)

const (
	factHead  = "board,material,section,length,qty,for,untouched,longest\n"
	boardHead = "commission,part,qty,material,length,width,thickness,section,board\n"
)

// What the maker says of a board is judged where it stands.
func TestBadRackFacts(t *testing.T) {
	rack := func(row string) map[string]string {
		return map[string]string{"rack.csv": factHead + row + "\n"}
	}
	parts := func(row string) map[string]string {
		return map[string]string{"parts.csv": boardHead + row + "\n"}
	}
	for _, c := range []struct {
		name   string
		files  map[string]string
		column string
		code   string
		words  string // of the whole mistake
	}{
		{"reserved for nobody here", rack("A1,oak,2x6,96,,Bend,,"), "for",
			model.CodeUnknownCommission, `the nearest known one is "Bench"`},
		{"three reserved for nobody here", rack("A1,oak,2x6,96,3,Bend,,"), "for",
			model.CodeUnknownCommission, "board A1.1 is reserved"},
		{"reserved by another spelling", rack("A1,oak,2x6,96,,bench,,"), "for", model.CodeSpelling,
			`is written "Bench" elsewhere`},
		{"untouched neither yes nor blank", rack("A1,oak,2x6,96,,,no,"), "untouched",
			model.CodeWord, "write yes, or empty the cell"},
		{"untouched in capitals", rack("A1,oak,2x6,96,,,YES,"), "untouched", model.CodeWord,
			"write yes, or empty the cell"},
		{"longest of 0", rack("A1,oak,2x6,96,,,,0"), "longest", model.CodeRange, "above 0"},
		{"longest unreadable", rack("A1,oak,2x6,96,,,,x"), "longest", model.CodeLength, ""},
		{"longest a date", rack("A1,oak,2x6,96,,,,1/4/2026"), "longest", model.CodeDateCell, ""},
		{"longest beyond the board", rack("A1,oak,2x6,96,,,,96 1/64"), "longest", model.CodeOutside,
			"from a board of 96 in"},
		{"from no board", parts("Bench,Leg,4,oak,9,2,1 1/2,,A9"), "board", model.CodeUnknownBoard,
			"the nearest is A1"},
		{"from a board of another material",
			map[string]string{"parts.csv": boardHead + "Bench,Leg,4,ash,9,2,1 1/2,,A1\n"}, "board",
			model.CodeContradiction,
			`board A1, in rack.csv:2, is of "oak", the part of "ash"; name another board, or ` +
				`empty the cell`},
		{"from a board of another section", parts("Bench,Leg,4,oak,9,2,1 1/2,2x8,A1"), "board",
			model.CodeContradiction, "is of section 2x6, the part is to be of 2x8"},
		{"from a board too narrow", parts("Bench,Leg,4,oak,9,6,1 1/2,,A1"), "board",
			model.CodeContradiction, "is not wide enough for it"},
		{"from a board too thin", parts("Bench,Leg,4,oak,9,2,1.6,,A1"), "board",
			model.CodeContradiction, "is not thick enough for it"},
		{"from a board too thick", parts("Bench,Leg,4,oak,9,2,1/2,,A1"), "board",
			model.CodeContradiction, "thicker than plane_limit allows"},
		{"from a board too short", parts("Bench,Leg,4,oak,47.5,2,1 1/2,,A2"), "board",
			model.CodeContradiction, "gives 48 in between its trims, the blank is of 48.5 in"},
	} {
		t.Run(c.name, func(t *testing.T) {
			file := "rack.csv"
			if c.files[file] == "" {
				file = "parts.csv"
			}
			one(t, c.files, file, 2, c.column, c.code, c.words)
		})
	}
	// Of two rows, the one that names the other is blamed.
	for words, facts := range map[string]string{
		`board A1, in rack.csv:2, is reserved for "Table", the part is of "Bench"`:             "Table,,",
		"board A1, in rack.csv:2, is to stay untouched":                                        ",yes,",
		"board A1, in rack.csv:2, gives no blank longer than 9.5 in, this one is of 10 in":     ",,9.5",
		"board A1, in rack.csv:2, gives no blank longer than 1.03125 in, this one is of 10 in": ",,1 1/32",
	} {
		files := map[string]string{
			"rack.csv": factHead + "A1,oak,2x6,96,," + facts +
				"\nA2,oak,2x6,96,,,,\n", "parts.csv": boardHead +
				"Table,Top,1,oak,9,2,1 1/2,,A2\nBench,Leg,4,oak,9,2,1 1/2,,A1\n"}
		one(t, files, "parts.csv", 3, "board", model.CodeContradiction, words)
		files["rack.csv"] = strings.Replace(files["rack.csv"], "96,,"+facts, "96,2,"+facts, 1)
		one(t, files, "parts.csv", 3, "board", model.CodeContradiction,
			strings.ReplaceAll(words, "board A1,", "board A1.1,"))
	}
	one(t, map[string]string{"rack.csv": factHead + "A,oak,2x6,96,,,,\nA.7,oak,2x6,96,,,,\n",
		"parts.csv": boardHead + "Bench,Leg,4,oak,9,2,1 1/2,,A\n"},
		"parts.csv", 2, "board", model.CodeContradiction,
		`"A" is a board, and A.7, in rack.csv:3, goes by that name too`)
}

// one sees that a folder has one mistake, in its place.
func one(t *testing.T, files map[string]string, file string, line int, column, code, words string) {
	t.Helper()
	_, _, err := ReadJob(jobFolder(files))
	all, _ := err.(model.InputErrors)
	if len(all) != 1 || all[0].File != file || all[0].Line != line || all[0].Column != column ||
		all[0].Code != code || !strings.Contains(err.Error(), words) {
		t.Errorf("want %s:%d: %s (%s) ... %s\ngot %v", file, line, column, code, words, err)
	}
}

// What may have stood in a row that is broken itself is not missed; sizes are not judged by
// settings that are not the shop's.
func TestRackFactsFollowNoOtherMistake(t *testing.T) {
	for name, files := range map[string]map[string]string{
		"parts.csv": {"parts.csv": partHead +
			"\"Table,Top,1,oak,9,2,1,,\nBench,Leg,1,oak,9,2,1,,\n", "rack.csv": factHead +
			"A1,oak,2x6,96,,Table,,\n"},
		"commissions.csv": {"commissions.csv": "commission,due\n\"Table,\n",
			"rack.csv": factHead + "A1,oak,2x6,96,,Table,,\n"},
		"rack.csv": {"rack.csv": factHead + "\"A1,oak,2x6,96,,,,\nA2,oak,2x6,96,,,,\n",
			"parts.csv": boardHead + "Bench,Leg,4,oak,9,2,1 1/2,,A1\n"},
		"shop.toml": {"shop.toml": "[allowance]\nlength = \"x\"\n",
			"rack.csv": factHead + "A1,oak,2x6,96,,,,9 1/2\n", "parts.csv": boardHead +
				"Bench,Leg,4,oak,9,2,1 1/2,,A1\n"},
	} {
		_, _, err := ReadJob(jobFolder(files))
		if all, _ := err.(model.InputErrors); len(all) != 1 || all[0].File != name {
			t.Errorf("%s: %v", name, err)
		}
	}
	if job, _, err := ReadJob(
		jobFolder(map[string]string{"rack.csv": factHead + "A1,oak,2x6,96,,Later,yes,96\n",
			"commissions.csv": "commission\nLater\n"})); err != nil ||
		job.Rack[0].For != "Later" || !job.Rack[0].Untouched || job.Rack[0].Longest != 96*in {
		t.Errorf("a commission without parts: %v", err)
	}
}

// The rack after is read by itself: whom its boards are for is not asked.
func TestRackFactsOfARackAlone(t *testing.T) {
	wood := model.Wood{Material: "oak", Section: "2x6", Length: 96 * in, Width: 11 * in / 2,
		Thickness: 3 * in / 2}
	plan := &model.Plan{Rack: []model.Board{
		{ID: "A1", Wood: wood, For: "Table", Untouched: true, Longest: 30 * in}}}
	got, err := readOut(outFolder(t, plan, model.Inch), model.Inch)
	if err != nil || len(got.Rack) != 1 || got.Rack[0].For != "Table" || !got.Rack[0].Untouched ||
		got.Rack[0].Longest != 30*in {
		t.Errorf("%v %+v", err, got)
	}
}

// The rack of the shop folder is that of all months: a board of it may be for a commission of
// another one. How a name of this month is spelt is judged all the same.
func TestRackFactsOfAnotherMonth(t *testing.T) {
	shop := fstest.MapFS{"shop.toml": {}}
	for name, mistakes := range map[string]int{"Later": 0, "bench": 1} {
		shop["rack.csv"] = &fstest.MapFile{Data: []byte(factHead + "A1,oak,2x6,96,," + name +
			",,\n")}
		month := jobFolder(nil)
		delete(month, "rack.csv")
		job, _, err := ReadMonth(month, shop)
		if all, _ := err.(model.InputErrors); len(all) != mistakes ||
			mistakes == 0 && job.Rack[0].For != name {
			t.Errorf("for %s: %v", name, err)
		}
	}
}
