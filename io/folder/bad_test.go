package folder

import (
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"rackwright/model"
)

// bad is one mistake: the files that differ from plain, and the whole text of the error by its
// parts.
type bad struct {
	name, file, text string
	line             int
	column, code     string
	remedy           string // some words of it
}

const (
	partHead   = "commission,part,qty,material,length,width,thickness,section,face\n"
	madeHead   = "commission,part,qty,material,length,width,thickness,staves,layers,spare\n"
	rackHead   = "board,material,section,length,qty,width,value,since\n"
	yardHead   = "material,section,length,price,available\n"
	defectHead = "board,from,to,kind,left,right\n"
)

func part(length string) string { return partHead + "Bench,Leg,4,oak," + length + ",2,1,,\n" }

var badFiles = []bad{
	// Files.
	{"parts missing", "parts.csv", "", 0, "", model.CodeMissingFile, "put it into the folder"},
	{"rack missing", "rack.csv", "", 0, "", model.CodeMissingFile, "header line"},
	{"zero bytes", "yard.csv", "\x00", 0, "", model.CodeEmptyFile,
		"write at least its header line: material,section,length,price"},
	{"a mark and no more", "yard.csv", "\ufeff", 0, "", model.CodeEmptyFile, "header line"},
	{"blank lines only", "yard.csv", "\n \n", 0, "", model.CodeEmptyFile, "header line"},
	{"no part", "parts.csv", partHead, 0, "", model.CodeEmptyFile, "a row for each part"},
	{"UTF-16 little end", "yard.csv", "\xff\xfem\x00a\x00t\x00", 0, "", model.CodeNotText,
		`save it again as "CSV UTF-8"`},
	{"UTF-16 big end", "yard.csv", "\xfe\xff\x00m\x00a", 0, "", model.CodeNotText, "CSV UTF-8"},
	{"UTF-16 without mark", "yard.csv", "m\x00a\x00t\x00", 0, "", model.CodeNotText, "CSV UTF-8"},
	{"a spreadsheet's own file", "yard.csv", "PK\x03\x04rest", 0, "", model.CodeNotText,
		"CSV UTF-8"},
	{"CR only", "yard.csv", "material,section,length,price\roak,2x6,96,5\r", 0, "",
		model.CodeLineEnds, "LF or CRLF"},
	{"Latin-1", "yard.csv", yardHead + "oak,2x6,96,5,\nch\xeane,2x6,96,5,\nch\xeane,2x6,90,5,\n", 3,
		"material", model.CodeNotUTF8, "CSV UTF-8"},
	{"Latin-1 in the header", "yard.csv", "mat\xe9riel,section,length,price\n", 1, "column 1",
		model.CodeNotUTF8, "CSV UTF-8"},
	{"too many rows", "yard.csv",
		"material,section,length,price\n" +
			strings.Repeat("oak,2x6,96,5\n", 1_000_000), 0, "", model.CodeTooBig, "right file"},
	{"a cell of 10 MB", "yard.csv", yardHead + strings.Repeat("o", 10<<20) + ",2x6,96,5,\n", 2,
		"material", model.CodeTooBig, "shorten it"},

	// Header and rows.
	{"unknown column", "yard.csv", "material,section,lenght,length,price\noak,2x6,96,96,5\n", 1,
		"lenght", model.CodeUnknownColumn, "nearest known one is length"},
	{"unknown column with a capital", "yard.csv",
		"material,section,length,price,Wide\noak,2x6,96,5,5\n", 1,
		"Wide", model.CodeUnknownColumn, "nearest known one is width"},
	{"column twice but for case", "yard.csv",
		"material,section,length,price,width,Width \noak,2x6,96,5,5,5\n", 1,
		"width", model.CodeColumnTwice, "take one out"},
	{"missing column", "yard.csv", "material,section,length\noak,2x6,96\n", 1, "price",
		model.CodeMissingColumn, "add it to the header line"},
	{"column twice", "yard.csv", "material,section,length,price,length\noak,2x6,96,5,95\n", 1,
		"length", model.CodeColumnTwice, "take one out"},
	{"too few cells", "yard.csv", yardHead + "oak,2x6,96\n", 2, "", model.CodeCellCount,
		"write 5 cells, parted by commas"},
	{"a comma in a text", "yard.csv", yardHead + "oak, red,2x6,96,5,\n", 2, "", model.CodeCellCount,
		"in quotes"},
	{"cell under no name", "yard.csv", "material,section,length,price,\noak,2x6,96,5,9\n", 2,
		"column 5", model.CodeCellCount, "name the column"},
	{"line break in a cell", "yard.csv", yardHead + "\"white\noak\",2x6,96,5,\noak,2x6,96,5,\n", 2,
		"material", model.CodeLineBreak, "one line"},
	{"quote left open", "yard.csv", yardHead + "oak,2x6,\"96,5,\noak,2x6,96,5,\n", 2, "length",
		model.CodeQuote, "double the ones inside"},
	{"quote doubled at the end", "yard.csv", yardHead + "oak,2x6,\"35 1/4\"\",5,\noak,2x6,96,5,\n",
		2, "length", model.CodeQuote, `"35 1/4"""`},
	{"quote within quotes", "yard.csv", yardHead + "oak,2x6,\"35\" 1/4\",5,\n", 2, "length",
		model.CodeQuote, "35 1/4in"},
	{"quote left open in the header", "yard.csv", "\"material,section\noak,2x6\n", 1, "column 1",
		model.CodeQuote, "double the ones inside"},
	{"control character", "yard.csv", yardHead + "o\x07ak,2x6,96,5,\n", 2, "material",
		model.CodeControl, "write the cell anew"},
	{"control character in the header", "yard.csv",
		"material,section,le\x1b[31mngth,length,price\n", 1, "column 3", model.CodeControl,
		"write the name anew"},
	{"empty required cell", "yard.csv", yardHead + "oak,2x6,96, ,\n", 2, "price",
		model.CodeEmptyCell, "write the price"},

	// Lengths.
	{"unreadable length", "parts.csv", part("35 1/5x"), 2, "length", model.CodeLength,
		"write in, ', \", mm, cm or m"},
	{"two numbers", "parts.csv", part("5 3"), 2, "length", model.CodeLength, "5.3"},
	{"decimal comma beside commas", "parts.csv", part("\"35,25\""), 2, "length", model.CodeLength,
		"35.25"},
	{"length of 0", "parts.csv", part("0"), 2, "length", model.CodeRange, "above 0"},
	{"length below 0", "parts.csv", part("-3"), 2, "length", model.CodeLength, "0 or more"},
	{"above 100 m", "parts.csv", part("101m"), 2, "length", model.CodeRange, "check its unit"},
	{"date of a fraction", "parts.csv", part("4-Jan"), 2, "length", model.CodeDateCell,
		"decimal such as 0.25"},
	{"date of a fraction, whole", "parts.csv", part("2026-04-01"), 2, "length", model.CodeDateCell,
		"format the column as text"},
	{"date of a fraction, slashes", "parts.csv", part("1/4/2026"), 2, "length", model.CodeDateCell,
		"decimal such as 0.25"},
	{"date of a fraction, month first", "parts.csv", part("Apr-04"), 2, "length",
		model.CodeDateCell, "decimal such as 0.25"},
	{"date of a fraction, points", "parts.csv", part("01. Apr"), 2, "length", model.CodeDateCell,
		"decimal such as 0.25"},
	{"date of a section", "yard.csv", yardHead + "oak,4-Apr,96,5,\n", 2, "section",
		model.CodeDateCell, "such as 4/4"},

	// Other values.
	{"qty of 0", "parts.csv", partHead + "Bench,Leg,0,oak,9,2,1,,\n", 2, "qty", model.CodeCount,
		"whole number"},
	{"qty not whole", "parts.csv", partHead + "Bench,Leg,4.7,oak,9,2,1,,\n", 2, "qty",
		model.CodeCount, "whole number"},
	{"qty 1e9", "parts.csv", partHead + "Bench,Leg,1e9,oak,9,2,1,,\n", 2, "qty", model.CodeCount,
		"whole number"},
	{"qty above the limit", "parts.csv", partHead + "Bench,Leg,1000000000,oak,9,2,1,,\n", 2, "qty",
		model.CodeCount, "up to 12000"},
	{"qty above 64 bits", "parts.csv", partHead + "Bench,Leg,99999999999999999999,oak,9,2,1,,\n", 2,
		"qty", model.CodeCount, "up to 12000"},
	{"staves mistyped", "parts.csv", madeHead + "Bench,Top,1,oak,9,20,1,atuo,,\n", 2, "staves",
		model.CodeWord, "write auto or how many staves there are"},
	{"layers of 0", "parts.csv", madeHead + "Bench,Top,1,oak,9,20,1,,0,\n", 2, "layers",
		model.CodeCount, "whole number such as 1"},
	{"layers below 0", "parts.csv", madeHead + "Bench,Top,1,oak,9,20,1,,-1,\n", 2, "layers",
		model.CodeCount, "whole number such as 1"},
	{"staves not whole", "parts.csv", madeHead + "Bench,Top,1,oak,9,20,1,2.5,,\n", 2, "staves",
		model.CodeCount, "whole number such as 1"},
	{"staves above a thousand", "parts.csv", madeHead + "Bench,Top,1,oak,9,20,1,1001,,\n", 2,
		"staves", model.CodeCount, "number up to 1000"},
	{"staves above a million", "parts.csv", madeHead + "Bench,Top,1,oak,9,20,1,1000001,,\n", 2,
		"staves", model.CodeCount, "write a whole number up to 1000"},
	{"staves in thousands", "parts.csv", madeHead + "Bench,Top,1,oak,9,20,1,\"1,000\",,\n", 2,
		"staves", model.CodeCount, "write 1000"},
	{"staves a date", "parts.csv", madeHead + "Bench,Top,1,oak,9,20,1,4-Jan,,\n", 2, "staves",
		model.CodeWord, "or empty the cell"},
	{"spare below 0", "parts.csv", madeHead + "Bench,Top,1,oak,9,20,1,,,-1\n", 2, "spare",
		model.CodeCount, "such as 1"},
	{"spare of auto", "parts.csv", madeHead + "Bench,Top,1,oak,9,20,1,,,auto\n", 2, "spare",
		model.CodeCount, "such as 1"},
	{"spare above a thousand", "parts.csv", madeHead + "Bench,Top,1,oak,9,20,1,,,1001\n", 2,
		"spare", model.CodeCount, "number up to 1000"},
	{"staves above the limit in all", "parts.csv",
		madeHead + "Bench,Top,12,oak,9,20,1,1000,,\nBench,Arm,1,oak,9,2,1,,,\n", 3, "",
		model.CodeTooBig, "fewer parts"},
	{"spares above the limit in all", "parts.csv",
		madeHead + "Bench,Top,11999,oak,9,20,1,,,2\n", 2, "", model.CodeTooBig, "fewer parts"},
	{"column mistyped", "parts.csv", "commission,part,qty,material,length,width,thickness,stave\n" +
		"Bench,Top,1,oak,9,20,1,auto\n", 1, "stave", model.CodeUnknownColumn, "one is staves"},
	{"copies above the limit in all", "parts.csv",
		partHead + "Bench,Leg,12000,oak,9,2,1,,\nBench,Arm,1,oak,9,2,1,,\n", 3, "",
		model.CodeTooBig, "fewer parts"},
	{"face unknown", "parts.csv", partHead + "Bench,Leg,4,oak,9,2,1,,shown\n", 2, "face",
		model.CodeWord, "nearest known one is show"},
	{"section unknown", "parts.csv", partHead + "Bench,Leg,4,oak,9,2,1,2x99,\n", 2, "section",
		model.CodeSection, "write "},
	{"price missing", "yard.csv", yardHead + "oak,2x6,96,,\n", 2, "price", model.CodeEmptyCell,
		"write the price"},
	{"price below 0", "yard.csv", yardHead + "oak,2x6,96,-5,\n", 2, "price", model.CodeRange,
		"above 0"},
	{"price of 0", "yard.csv", yardHead + "oak,2x6,96,0.00,\n", 2, "price", model.CodeRange,
		"above 0"},
	{"price with a sign", "yard.csv", yardHead + "oak,2x6,96,$5,\n", 2, "price", model.CodeMoney,
		"12.50"},
	{"price of too many decimals", "yard.csv", yardHead + "oak,2x6,96,5.00001,\n", 2, "price",
		model.CodeMoney, "four"},
	{"price too high", "yard.csv", yardHead + "oak,2x6,96,1000000.01,\n", 2, "price",
		model.CodeRange, "one board"},
	{"available below 0", "yard.csv", yardHead + "oak,2x6,96,5,-1\n", 2, "available",
		model.CodeCount, "whole number"},
	{"random width", "yard.csv", yardHead + "oak,4/4,96,5,\n", 2, "width", model.CodeNoWidth,
		"measure the width"},
	{"since is no date", "rack.csv", rackHead + "A1,oak,2x6,96,,,,1.2.2026\n", 2, "since",
		model.CodeDate, "2026-04-01"},
	{"value below 0", "rack.csv", rackHead + "A1,oak,2x6,96,,,-1,\n", 2, "value", model.CodeRange,
		"0 or more"},
	{"due is no day", "commissions.csv", "commission,due\nBench,2026-02-30\n", 2, "due",
		model.CodeDate, "2026-04-01"},

	// Rows against each other.
	{"board twice", "rack.csv", rackHead + "A1,oak,2x6,96,,,,\nA1,oak,2x6,90,,,,\n", 3, "board",
		model.CodeDuplicate, "id of its own"},
	{"board twice by case", "rack.csv", rackHead + "A1,oak,2x6,96,,,,\na1,oak,2x6,90,,,,\n", 3,
		"board", model.CodeSpelling, "id of its own"},
	{"board twice by a blank", "rack.csv", rackHead + "A 1,oak,2x6,96,,,,\nA1,oak,2x6,90,,,,\n", 3,
		"board", model.CodeSpelling, "id of its own"},
	{"board twice by qty", "rack.csv", rackHead + "A.2,oak,2x6,96,,,,\nA,oak,2x6,90,3,,,\n", 3,
		"board", model.CodeDuplicate, "id of its own"},
	{"boards above the limit", "rack.csv", rackHead + "A,oak,2x6,96,5001,,,\n", 2, "",
		model.CodeTooBig, "take boards out"},
	{"part twice", "parts.csv", partHead + "Bench,Leg,4,oak,9,2,1,,\nBench,Leg,1,oak,8,2,1,,\n", 3,
		"part", model.CodeDuplicate, "name of its own"},
	{"part twice by case", "parts.csv",
		partHead + "Bench,Leg,4,oak,9,2,1,,\nBench,leg,1,oak,8,2,1,,\n", 3, "part",
		model.CodeSpelling, "name of its own"},
	{"commission by case", "parts.csv",
		partHead + "Bench,Leg,4,oak,9,2,1,,\nbench,Arm,1,oak,8,2,1,,\n", 3, "commission",
		model.CodeSpelling, "the same everywhere"},
	{"material by case", "parts.csv", partHead + "Bench,Leg,4,Oak,9,2,1,,\n", 2, "material",
		model.CodeSpelling, "the same everywhere"},
	{"commission twice", "commissions.csv", "commission\nBench\nBench\n", 3, "commission",
		model.CodeDuplicate, "one row"},
	{"commission twice by case", "commissions.csv", "commission\nBench\nBENCH\n", 3, "commission",
		model.CodeSpelling, "one row"},

	// Defects.
	{"defect of no board", "defects.csv", defectHead + "A3,1,2,knot,,\n", 2, "board",
		model.CodeUnknownBoard, "nearest is A1"},
	{"defect reversed", "defects.csv", defectHead + "A1,5,2,knot,,\n", 2, "to", model.CodeReversed,
		"the smaller measure as from"},
	{"defect of no length", "defects.csv", defectHead + "A1,5,5,knot,,\n", 2, "to",
		model.CodeReversed, "the smaller measure as from"},
	{"defect past its board", "defects.csv", defectHead + "A1,95,96 1/64,knot,,\n", 2, "to",
		model.CodeOutside, "marked end"},
	{"defect below 0", "defects.csv", defectHead + "A1,-1,2,knot,,\n", 2, "from", model.CodeLength,
		"0 or more"},
	{"defect wider than its board", "defects.csv", defectHead + "A1,1,2,knot,0,6\n", 2, "right",
		model.CodeOutside, "left edge"},
	{"defect of no width", "defects.csv", defectHead + "A1,1,2,knot,3,3\n", 2, "right",
		model.CodeReversed, "the smaller measure as left"},
	{"defect without kind", "defects.csv", defectHead + "A1,1,2,,,\n", 2, "kind",
		model.CodeEmptyCell, "write the kind"},

	{"setting unknown", "shop.toml", "[kerf]\n\ncroscut = \"1/8\"\n", 3, "kerf.croscut",
		model.CodeUnknownKey, "nearest known one is kerf.crosscut"},
	{"offcut value above 1", "shop.toml", "[offcut]\nvalue = 1.01\n", 2, "offcut.value",
		model.CodeSetting, "share such as 0.5"},
}

// Each mistake alone is refused with exactly one error that names file, line and column, keeps its
// code, and says what to do.
func TestBadFiles(t *testing.T) {
	for _, b := range badFiles {
		t.Run(b.name, func(t *testing.T) {
			if b.code == model.CodeEmptyFile && b.text == "\x00" {
				fsys := jobFolder(nil)
				fsys[b.file].Data = nil
				checkBad(t, fsys, b)
				return
			}
			checkBad(t, jobFolder(map[string]string{b.file: b.text}), b)
		})
	}
}

func checkBad(t *testing.T, fsys fs.FS, b bad) {
	t.Helper()
	job, _, err := ReadJob(fsys)
	all, ok := err.(model.InputErrors)
	if !ok || job != nil {
		t.Fatalf("job %v, error %v", job, err)
	}
	e := all[0]
	if len(all) != 1 || e.File != b.file || e.Line != b.line || e.Column != b.column ||
		e.Code != b.code || !strings.Contains(e.Remedy, b.remedy) {
		t.Errorf("want %s:%d: %s (%s) ... %s\ngot %s\n%v", b.file, b.line, b.column, b.code,
			b.remedy, e.Code, err)
	}
	if strings.HasSuffix(e.Cause, ".") || strings.HasSuffix(e.Remedy, ".") || e.Cause == "" ||
		e.Remedy == "" {
		t.Errorf("cause %q, remedy %q", e.Cause, e.Remedy)
	}
}

// Rows with the right count of cells are judged even when others are not, up to a thousand mistakes
// a file.
func TestMistakesAreBounded(t *testing.T) {
	_, _, err := ReadJob(jobFolder(
		map[string]string{"yard.csv": yardHead + strings.Repeat("oak,2x6,x,5,\n", 5000),
			"defects.csv": defectHead + strings.Repeat("B,1,2,knot,,\n", 5000)}))
	all := err.(model.InputErrors)
	if len(all) != 2*(model.MostMistakes+1) {
		t.Fatalf("%d mistakes", len(all))
	}
	count := 0
	for _, e := range all {
		if e.Code == model.CodeTooMany {
			count++
		}
	}
	if count != 2 {
		t.Errorf("%d files are cut short", count)
	}
	// A rack that is broken all over is not half a rack: its defects are not blamed for it.
	_, _, err = ReadJob(jobFolder(
		map[string]string{"rack.csv": rackHead + strings.Repeat("\"A1,oak\n", 50_000),
			"defects.csv": defectHead + "B,1,2,knot,,\n"}))
	for _, e := range err.(model.InputErrors) {
		if e.File != "rack.csv" {
			t.Error(e)
		}
	}
}

// Parts in both forms are refused; so is a folder of parts without a list.
func TestPartSources(t *testing.T) {
	for want, files := range map[string]map[string]string{
		model.CodeTwoSources:  {"parts/a.csv": partHead},
		model.CodeMissingFile: {"parts.csv": "", "parts/a.txt": "x"},
	} {
		_, _, err := ReadJob(jobFolder(files))
		if all, ok := err.(model.InputErrors); !ok || len(all) != 1 || all[0].Code != want {
			t.Errorf("want %s, got %v", want, err)
		}
	}
}

// A folder in place of a file is refused, not read.
func TestFolderInPlaceOfFile(t *testing.T) {
	_, _, err := ReadJob(jobFolder(map[string]string{"yard.csv": "", "yard.csv/x": "a"}))
	if all, ok := err.(model.InputErrors); !ok || len(all) != 1 ||
		all[0].Code != model.CodeUnreadable || all[0].File != "yard.csv" {
		t.Error(err)
	}
}

// A row that is broken is blamed alone: not the defects of its board, nor the list for having no
// part.
func TestBrokenRowIsBlamedAlone(t *testing.T) {
	for file, text := range map[string]string{"rack.csv": rackHead + "\"A1,oak,2x6,96,,,,\n",
		"parts.csv": partHead + "Bench,\"Leg,4,oak,9,2,1,,\n"} {
		_, _, err := ReadJob(jobFolder(
			map[string]string{file: text, "defects.csv": defectHead + "A1,1,2,knot,,\n"}))
		if all, _ := err.(model.InputErrors); len(all) != 1 || all[0].Code != model.CodeQuote {
			t.Errorf("%s: %v", file, err)
		}
	}
}

// A link is refused, in place of a file, of a list of parts, and of the folder of them.
func TestLinks(t *testing.T) {
	for _, name := range []string{"shop.toml", "yard.csv", "parts/a.csv", "parts"} {
		files := map[string]string{"parts/a.csv": plain["parts.csv"], "parts.csv": "", name: ""}
		if name == "parts" {
			files["parts/a.csv"], files["lists/a.csv"] = "", plain["parts.csv"]
		}
		fsys := jobFolder(files)
		fsys[name] = &fstest.MapFile{Data: []byte("lists"), Mode: fs.ModeSymlink | 0o777}
		_, _, err := ReadJob(fsys)
		if all, _ := err.(model.InputErrors); len(all) != 1 || all[0].File != name ||
			all[0].Code != model.CodeUnreadable || !strings.Contains(all[0].Cause, "link") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A file of a like name is named in the remedy.
func TestMissingFileNearName(t *testing.T) {
	_, _, err := ReadJob(jobFolder(map[string]string{"yard.csv": "", "Yard.csv": "x"}))
	if err == nil || err.Error() != "yard.csv: the file is missing; rename Yard.csv to yard.csv" {
		t.Error(err)
	}
}

// A file of more than 64 MB is refused by its stated size, without reading it; so is one that lies
// about it.
func TestHugeFile(t *testing.T) {
	fsys := jobFolder(nil)
	for name, f := range map[string]fs.FS{"stated": sizedFS{fsys, 1 << 30},
		"lying": sizedFS{fsys, 10}} {
		_, _, err := ReadJob(f)
		if all, ok := err.(model.InputErrors); !ok || all[0].Code != model.CodeTooBig ||
			all[0].File != "yard.csv" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A mistake in shop.toml does not hide that the shop counts in millimetres.
func TestUnitsSurviveOtherMistakes(t *testing.T) {
	_, _, err := ReadJob(jobFolder(
		map[string]string{"shop.toml": "units = \"mm\"\nkerff = 1", "parts.csv": part("4000")}))
	if all := err.(model.InputErrors); len(all) != 1 || all[0].Column != "kerff" {
		t.Error(err)
	}
}
