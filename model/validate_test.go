package model

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// soundJob is a small job that passes.
func soundJob() *Job {
	wood := Wood{Material: "oak", Section: "2x6", Length: 96 * UnitsPerInch,
		Width: 11 * UnitsPerInch / 2, Thickness: 3 * UnitsPerInch / 2}
	return &Job{
		Settings:    DefaultSettings(),
		Commissions: []Commission{{Name: "Bench"}},
		Parts: []Part{{Commission: "Bench", Name: "Leg", Qty: 4, Material: "oak", Length: 10,
			Width: 10, Thickness: 10, Where: Where{"parts.csv", 2}}},
		Rack: []Board{{ID: "A1", Wood: wood,
			Defects: []Defect{{0, 10, 0, wood.Width, "knot"}}, Where: Where{"rack.csv", 2}}},
		Yard: []Offer{{Wood: wood, Price: 1, Where: Where{"yard.csv", 2}}},
	}
}

// rows gives a job so many parts and boards.
func rows(j *Job, parts, boards int) {
	p, b := j.Parts[0], j.Rack[0]
	j.Parts, j.Rack = nil, nil
	for n := range parts {
		p.Name, p.Qty, p.Where.Line = fmt.Sprint("Leg ", n), 1, n+2
		j.Parts = append(j.Parts, p)
	}
	for n := range boards {
		b.ID, b.Where.Line = fmt.Sprint("A", n), n+2
		j.Rack = append(j.Rack, b)
	}
}

// As much as a job may have is no mistake.
func TestMostIsSound(t *testing.T) {
	for name, change := range map[string]func(j *Job){
		"copies": func(j *Job) { j.Parts[0].Qty = MostCopies },
		"pieces": func(j *Job) { j.Parts[0].Staves, j.Parts[0].Qty = Auto, MostCopies/4 },
		"rows":   func(j *Job) { rows(j, MostPairs/MostBoards, MostBoards) },
	} {
		j := soundJob()
		change(j)
		var m Mistakes
		if j.Validate(&m); m.Err() != nil {
			t.Errorf("%s: %v", name, m.Err())
		}
	}
}

// Each change makes exactly one mistake, in its column, with its code. It guards jobs that come out
// of a plan file, where nothing was read cell by cell.
func TestValidate(t *testing.T) {
	negative, zero := int64(-1), Length(0)
	below := Money(-1)
	for _, c := range []struct {
		name, column, code string
		change             func(j *Job)
	}{
		{"commission empty", "commission", CodeEmptyCell, func(j *Job) {
			j.Parts[0].Commission = ""
		}},
		{"control character", "part", CodeControl, func(j *Job) { j.Parts[0].Name = "Leg\n" }},
		{"qty of 0", "qty", CodeCount, func(j *Job) { j.Parts[0].Qty = 0 }},
		{"qty above the limit", "qty", CodeCount, func(j *Job) { j.Parts[0].Qty = MostCopies + 1 }},
		{"width of 0", "width", CodeRange, func(j *Job) { j.Parts[0].Width = 0 }},
		{"length above 100 m", "length", CodeRange, func(j *Job) {
			j.Parts[0].Length = LongestLength + 1
		}},
		{"board above 20 m", "length", CodeRange, func(j *Job) {
			j.Rack[0].Length = LongestBoard + 1
		}},
		{"board above 1.6 m wide", "width", CodeRange, func(j *Job) {
			j.Rack[0].Width = WidestBoard + 1
		}},
		{"board for sale above 20 m", "length", CodeRange, func(j *Job) {
			j.Yard[0].Length = LongestBoard + 1
		}},
		{"staves below auto", "staves", CodeCount, func(j *Job) { j.Parts[0].Staves = -2 }},
		{"too many staves", "staves", CodeCount, func(j *Job) {
			j.Parts[0].Staves = MostPieces + 1
		}},
		{"too many layers", "layers", CodeCount, func(j *Job) {
			j.Parts[0].Layers = MostPieces + 1
		}},
		{"a number of copies in one", "in_one", CodeCount, func(j *Job) { j.Parts[0].InOne = 2 }},
		{"spare below 0", "spare", CodeCount, func(j *Job) { j.Parts[0].Spare = -1 }},
		{"too many spares", "spare", CodeCount, func(j *Job) { j.Parts[0].Spare = MostSpare + 1 }},
		{"too many pieces", "", CodeTooBig, func(j *Job) {
			j.Parts[0].Staves, j.Parts[0].Layers, j.Parts[0].Qty = MostPieces, 4, 4
		}},
		{"too many pieces where the plan chooses", "", CodeTooBig, func(j *Job) {
			j.Parts[0].Staves, j.Parts[0].Layers, j.Parts[0].Qty = Auto, Auto, MostCopies/8+1
		}},
		{"too many boards", "", CodeTooBig, func(j *Job) { rows(j, 1, MostBoards+1) }},
		{"too many parts for the boards", "", CodeTooBig, func(j *Job) {
			rows(j, MostPairs/MostBoards+1, MostBoards)
		}},
		{"spare may cost more than a board", "spare.at_most", CodeSetting, func(j *Job) {
			j.Settings.SpareAtMost = DearestBoard + 1
		}},
		{"from a narrow board, though of layers", "board", CodeContradiction, func(j *Job) {
			j.Parts[0].Board, j.Parts[0].Layers, j.Parts[0].Width = "A1", Auto, 2*WidestBoard
		}},
		{"from a short board, though of staves", "board", CodeContradiction, func(j *Job) {
			j.Parts[0].Board, j.Parts[0].Staves, j.Parts[0].Length = "A1", Auto, LongestBoard
		}},
		{"face out of range", "face", CodeWord, func(j *Job) { j.Parts[0].Face = Faces }},
		{"section unknown", "section", CodeSection, func(j *Job) { j.Parts[0].Section = "2x99" }},
		{"section not in its plain spelling", "section", CodeSection, func(j *Job) {
			j.Yard[0].Section = "2 x 6"
		}},
		{"rack board of no thickness", "thickness", CodeRange, func(j *Job) {
			j.Rack[0].Thickness = 0
		}},
		{"value below 0", "value", CodeRange, func(j *Job) { j.Rack[0].Value = &below }},
		{"since is no day", "since", CodeDate, func(j *Job) { j.Rack[0].Since = "2026-13-01" }},
		{"reserved with a control character", "for", CodeControl, func(j *Job) {
			j.Rack[0].For = "Bench\n"
		}},
		{"reserved for nobody here", "for", CodeUnknownCommission, func(j *Job) {
			j.Rack[0].For = "Table"
		}},
		{"reserved, by another spelling", "for", CodeSpelling, func(j *Job) {
			j.Rack[0].For = "bench"
		}},
		{"longest below 0", "longest", CodeRange, func(j *Job) { j.Rack[0].Longest = -1 }},
		{"longest beyond the board", "longest", CodeOutside, func(j *Job) {
			j.Rack[0].Longest = j.Rack[0].Length + 1
		}},
		{"from a board that is not there", "board", CodeUnknownBoard, func(j *Job) {
			j.Parts[0].Board = "A2"
		}},
		{"from any board, the rack being empty", "board", CodeUnknownBoard, func(j *Job) {
			j.Parts[0].Board, j.Rack = "A2", nil
		}},
		{"from a board of blanks only", "board", CodeControl, func(j *Job) {
			j.Parts[0].Board = " "
		}},
		{"from a board of another section", "board", CodeContradiction, func(j *Job) {
			j.Parts[0].Board, j.Parts[0].Section = "A1", "2x8"
		}},
		{"from a board to stay untouched", "board", CodeContradiction, func(j *Job) {
			j.Parts[0].Board, j.Rack[0].Untouched = "A1", true
		}},
		{"from a board for another", "board", CodeContradiction, func(j *Job) {
			j.Commissions = append(j.Commissions, Commission{Name: "Table"})
			j.Parts[0].Board, j.Rack[0].For = "A1", "Table"
		}},
		{"from a board that gives shorter ones", "board", CodeContradiction, func(j *Job) {
			j.Parts[0].Board, j.Rack[0].Longest = "A1", UnitsPerInch
		}},
		{"from one of two by the name", "board", CodeContradiction, func(j *Job) {
			j.Rack = append(j.Rack, j.Rack[0])
			j.Parts[0].Board, j.Rack[1].ID = "A1", "A1.2"
		}},
		{"from a board whose row is wrong", "width", CodeRange, func(j *Job) {
			j.Parts[0].Board, j.Rack[0].Width, j.Rack[0].Defects = "A1", -1, nil
		}},
		{"from a board, the part's row being wrong", "width", CodeRange, func(j *Job) {
			j.Parts[0].Board, j.Parts[0].Width = "A1", 0
		}},
		{"price of 0", "price", CodeRange, func(j *Job) { j.Yard[0].Price = 0 }},
		{"price too high", "price", CodeRange, func(j *Job) { j.Yard[0].Price = DearestBoard + 1 }},
		{"available below 0", "available", CodeCount, func(j *Job) {
			j.Yard[0].Available = &negative
		}},
		{"defect below 0", "from", CodeRange, func(j *Job) { j.Rack[0].Defects[0].From = -1 }},
		{"defect reversed", "to", CodeReversed, func(j *Job) { j.Rack[0].Defects[0].From = 11 }},
		{"defect outside", "to", CodeOutside, func(j *Job) {
			j.Rack[0].Defects[0].To = j.Rack[0].Length + 1
		}},
		{"defect outside the width", "right", CodeOutside, func(j *Job) {
			j.Rack[0].Defects[0].Right++
		}},
		{"defect without kind", "kind", CodeEmptyCell, func(j *Job) {
			j.Rack[0].Defects[0].Kind = ""
		}},
		{"board twice", "board", CodeDuplicate, func(j *Job) {
			j.Rack = append(j.Rack, j.Rack[0])
			j.Rack[1].Where.Line++
		}},
		{"board twice by an invisible sign", "board", CodeSpelling, func(j *Job) {
			j.Rack = append(j.Rack, j.Rack[0])
			j.Rack[1].ID = "a\u200b 1"
		}},
		{"material by case", "material", CodeSpelling, func(j *Job) { j.Rack[0].Material = "Oak" }},
		{"material of a setting by case", `material."OAK"`, CodeSpelling, func(j *Job) {
			j.Settings.Materials = map[string]Override{"OAK": {}}
		}},
		{"commission by case", "commission", CodeSpelling, func(j *Job) {
			j.Parts[0].Commission = "bench"
		}},
		{"unit unknown", "units", CodeSetting, func(j *Job) { j.Settings.Units = "ft" }},
		{"offcut value above 1", "offcut.value", CodeSetting, func(j *Job) {
			j.Settings.Offcut.Value = Fraction{3, 2}
		}},
		{"offcut value not in lowest terms", "offcut.value", CodeSetting, func(j *Job) {
			j.Settings.Offcut.Value = Fraction{2, 4}
		}},
		{"offcut value without denominator", "offcut.value", CodeSetting, func(j *Job) {
			j.Settings.Offcut.Value = Fraction{}
		}},
		{"kerf below 0", "kerf.crosscut", CodeSetting, func(j *Job) {
			j.Settings.CrosscutKerf = -1
		}},
		{"kerf of two inches", "kerf.rip", CodeSetting, func(j *Job) {
			j.Settings.RipKerf = 2 * UnitsPerInch
		}},
		{"margin above 100 m", "defects.margin", CodeSetting, func(j *Job) {
			j.Settings.Margin = LongestLength + 1
		}},
		{"handling below 0", "handling.board", CodeSetting, func(j *Job) {
			j.Settings.Handling = -1
		}},
		{"allowance of a section", `section."2x6".allowance.edge`, CodeSetting, func(j *Job) {
			j.Settings.Sections = map[Section]Override{"2x6": {Edge: &zero}}
		}},
		{"section of a setting unknown", `section."2x99"`, CodeSetting, func(j *Job) {
			j.Settings.Sections = map[Section]Override{"2x99": {}}
		}},
		{"input outside the folder", "", CodePlan, func(j *Job) {
			j.Inputs = []Input{{Name: "../../shop.toml"}}
		}},
		{"input outside the shop folder", "", CodePlan, func(j *Job) {
			j.Inputs = []Input{{Name: "../designs/../../x.csv"}}
		}},
		{"input by a path of the whole disk", "", CodePlan, func(j *Job) {
			j.Inputs = []Input{{Name: "..//etc/x.csv"}}
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := soundJob()
			c.change(j)
			var m Mistakes
			j.Validate(&m)
			all, _ := m.Err().(InputErrors)
			if len(all) != 1 || all[0].Column != c.column || all[0].Code != c.code ||
				all[0].Remedy == "" {
				t.Errorf("want one mistake in %s, code %s; got %v", c.column, c.code, m.Err())
			}
		})
	}
	for _, change := range []func(j *Job){
		func(j *Job) {},
		func(j *Job) { j.Parts[0].Staves, j.Parts[0].Layers, j.Parts[0].Spare = Auto, 7, 2 },
		// a board of its own gives the pieces of a glue-up that is wider, thicker or thinner
		func(j *Job) {
			j.Parts[0].Board, j.Parts[0].Staves, j.Parts[0].Width = "A1", 4, WidestBoard
		},
		func(j *Job) {
			j.Parts[0].Board, j.Parts[0].Layers, j.Parts[0].Thickness = "A1", Auto, WidestBoard
		},
		func(j *Job) { j.Parts[0].Board, j.Parts[0].Layers, j.Parts[0].Thickness = "A1", 2, 10 },
	} {
		j, m := soundJob(), Mistakes{}
		change(j)
		if j.Validate(&m); m.Err() != nil {
			t.Error(m.Err())
		}
	}
}

// Every length setting has a key of its own, and a setting below 0 is found under that key.
func TestEveryLengthSettingIsJudged(t *testing.T) {
	s := DefaultSettings()
	seen := map[string]bool{}
	for i, l := range s.Lengths() {
		bad := DefaultSettings()
		*bad.Lengths()[i].Value = -1
		var m Mistakes
		bad.Validate(&m)
		all, _ := m.Err().(InputErrors)
		if len(all) != 1 || all[0].Column != l.Key || seen[l.Key] {
			t.Errorf("%s: %v", l.Key, m.Err())
		}
		seen[l.Key] = true
	}
	var o Override
	for i, l := range o.Lengths() {
		below, bad := Length(-1), Override{}
		*bad.Lengths()[i].Value = &below
		s := DefaultSettings()
		s.Materials = map[string]Override{"oak": bad}
		var m Mistakes
		s.Validate(&m)
		all, _ := m.Err().(InputErrors)
		if len(all) != 1 || all[0].Column != `material."oak".`+l.Key {
			t.Errorf("%s: %v", l.Key, m.Err())
		}
	}
}

func TestDefectKind(t *testing.T) {
	if got := DefectKind("  Sound \t KNOT "); got != "sound knot" {
		t.Errorf("%q", got)
	}
	if FoldName("A\u00a01 ") != FoldName("a1") || FoldName("A1") == FoldName("A2") ||
		!strings.EqualFold("É", "é") || FoldName("É") != FoldName("é") {
		t.Error("names fold wrongly")
	}
}

// A day that is valid is written in one way only, so that days are in the order of their texts.
func FuzzValidDate(f *testing.F) {
	for _, s := range []string{"2026-04-01", "2024-02-29", "2026-02-29", "2026-4-1", "0000-01-01",
		"12026-01-01", "2026-04-01T00:00", "٢٠٢٦-04-01", "-026-04-01"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if !ValidDate(s) {
			return
		}
		var year, month, day int
		if n, err := fmt.Sscanf(s, "%04d-%02d-%02d", &year, &month, &day); n != 3 || err != nil ||
			fmt.Sprintf("%04d-%02d-%02d", year, month, day) != s {
			t.Errorf("%q is a day %d-%d-%d", s, year, month, day)
		}
		if d := time.Date(year, time.Month(month), day, 0, 0, 0, 0,
			time.UTC); d.Month() != time.Month(month) || d.Day() != day {
			t.Errorf("%q is no day of the calendar", s)
		}
	})
}
