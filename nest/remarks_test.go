package nest

import (
	"fmt"
	"strings"
	"testing"

	"rackwright/model"
)

// plainJob has nothing odd in it: a part of 20 in that a board of 60 on the rack, and any number
// for sale, can give.
func plainJob() *model.Job {
	w := model.Wood{Material: "fir", Section: "1x8", Length: 60 * in, Width: 29 * in / 4,
		Thickness: 3 * in / 4}
	job := &model.Job{Settings: model.DefaultSettings(),
		Commissions: []model.Commission{{Name: "C1"}},
		Parts: []model.Part{{Commission: "C1", Name: "shelf", Qty: 2, Material: "fir",
			Length: 20 * in, Width: w.Width, Thickness: w.Thickness,
			Where: model.Where{File: "parts.csv", Line: 2}}},
		Rack: []model.Board{{ID: "R1", Wood: w, Where: model.Where{File: "rack.csv", Line: 2}}},
		Yard: []model.Offer{{Wood: w, Price: 9 * model.UnitsOfMoney,
			Where: model.Where{File: "yard.csv", Line: 2}}}}
	return job
}

// Each thing that is odd but allowed is told in one line, with its place and its numbers; what is
// near it is not.
func TestRemarks(t *testing.T) {
	one, two, five := int64(1), int64(2), 5*model.Money(model.UnitsOfMoney)
	board := func(id string, length model.Length) model.Board {
		b := plainJob().Rack[0]
		b.ID, b.Length, b.Where.Line = id, length, 3
		return b
	}
	load := func(j *model.Job, l model.Length) {
		j.Yard[0].Yard, j.Settings.Yards = "north",
			map[string]model.YardFacts{"north": {LongestLoad: &l}}
	}
	dues := func(j *model.Job, days ...string) {
		j.Commissions = nil
		for n, d := range days {
			j.Commissions = append(j.Commissions,
				model.Commission{Name: fmt.Sprint("C", n), Due: d})
		}
	}
	for _, c := range []struct {
		name, want string // want: "" is no remark
		change     func(j *model.Job)
	}{
		{"nothing odd", "", func(*model.Job) {}},
		{"blank of 11 in", `parts.csv:2: length: the blank of shelf of C1 is 11", shorter than ` +
			`the 12" of [safety] shortest_blank`,
			func(j *model.Job) { j.Parts[0].Length = 10 * in }},
		{"blank of 12 in", "", func(j *model.Job) { j.Parts[0].Length = 11 * in }},

		{"one board on the rack",
			"parts.csv:2: shelf of C1 can come from one board only, R1; if that one fails there " +
				"is no other",
			func(j *model.Job) { j.Yard = nil; j.Rack[0].Value = &five }},
		{"two boards on the rack", "", func(j *model.Job) {
			j.Rack = append(j.Rack, board("R2", 60*in))
			j.Yard[0].Material = "oak"
			j.Rack[0].Value = &five
		}},
		{"one board for sale",
			"parts.csv:2: shelf of C1 can come from one board only, the one for sale at " +
				"yard.csv:2;",
			func(j *model.Job) { j.Rack, j.Yard[0].Available = nil, &one }},
		{"two boards for sale", "", func(j *model.Job) { j.Rack, j.Yard[0].Available = nil, &two }},
		{"one on the rack, one for sale", "", func(j *model.Job) { j.Yard[0].Available = &one }},

		{"a kind that nothing uses",
			"rack.csv: fir 2x4: no part can use it (boards: 1); carried over", func(j *model.Job) {
				b := board("R2", 60*in)
				b.Section, b.Width, b.Thickness, b.Value = "2x4", 7*in/2, 3*in/2, &five
				j.Rack = append(j.Rack, b)
				j.Parts[0].Section = "1x8"
			}},
		{"a board too short", "rack.csv: fir 1x8: no part can use 1 of 2 boards, the first is " +
			"R2; carried over",
			func(j *model.Job) { j.Rack = append(j.Rack, board("R2", 21*in-1)) }},
		{"a board just long enough", "", func(j *model.Job) {
			j.Rack = append(j.Rack, board("R2", 21*in))
		}},
		{"a board to stay untouched", "", func(j *model.Job) {
			j.Rack[0].Untouched, j.Rack[0].Length = true, 5*in
		}},
		{"a board reserved for who can use it", "", func(j *model.Job) { j.Rack[0].For = "C1" }},
		{"a board reserved for who cannot",
			"rack.csv:2: for: no part of C2 can use board R1, which is reserved for it; " +
				"carried over",
			func(j *model.Job) { j.Rack[0].For = "C2" }},
		{"a board that gives no blank so long",
			"rack.csv: fir 1x8: no part can use it (boards: 1); carried over", func(j *model.Job) {
				j.Rack[0].Longest = 21*in - 1
			}},
		{"one board because the part names it", "", func(j *model.Job) { j.Parts[0].Board = "R1" }},
		{"no clear wood", "rack.csv: fir 1x8: no part can use it (boards: 1); carried over",
			func(j *model.Job) {
				j.Rack[0].Defects = []model.Defect{{To: 60 * in, Right: 7 * in, Kind: "check"}}
			}},
		{"defects that its face tolerates", "", func(j *model.Job) {
			j.Rack[0].Defects = []model.Defect{{To: 60 * in, Right: 7 * in, Kind: "stain"}}
			j.Parts[0].Face = model.Sound
		}},
		{"trims of the rack as long as the board", `rack.csv:2: length: nothing can be cut from it, the trims of its two ends take 60" (boards on the rack: 1); see trim.rack_end in shop.toml
rack.csv: fir 1x8: no part can use it (boards: 1); carried over`, func(j *model.Job) { j.Settings.RackEnd = 30 * in }},
		{"trims of the yard as long as the board",
			`yard.csv:2: length: nothing can be cut from it, the trims of its two ends take 60" ` +
				`(rows of the yard: 1); see trim.yard_end in shop.toml`,
			func(j *model.Job) {
				j.Settings.YardEnd = 30 * in
				j.Rack = append(j.Rack, board("R2", 60*in))
			}},
		{"trims that leave enough", "", func(j *model.Job) {
			j.Settings.RackEnd, j.Settings.YardEnd = 19*in, 19*in
		}},
		{"a board for sale as long as the load", "", func(j *model.Job) { load(j, 60*in) }},
		{"a board for sale longer than the load",
			`yard.csv:2: length: never bought, as 5' is longer than what the vehicle carries ` +
				"from north, 4'\u00a011\"" + `; see yards."north".longest_load in shop.toml`,
			func(j *model.Job) {
				load(j, 59*in)
				j.Rack = append(j.Rack, board("R2", 60*in))
				j.Rack[0].Value = &five
			}},
		{"rack value by guess", "rack.csv: no yard sells fir 1x8, and no board of it has a " +
			"value: its rack value is a guess, 1 USD a foot;",
			func(j *model.Job) { j.Rack = append(j.Rack, board("R2", 60*in)); j.Yard = nil }},
		{"rack value by guess, in mm", "rack.csv: no yard sells fir 1x8, and no board of it has " +
			"a value: its rack value is a guess, 1 USD a metre;",
			func(j *model.Job) {
				j.Rack = append(j.Rack, board("R2", 60*in))
				j.Yard, j.Settings.Units = nil, model.Millimetre
			}},

		{"offcut value of 0.81", "shop.toml: offcut.value: above 0.8", func(j *model.Job) {
			j.Settings.Offcut.Value = model.Fraction{Num: 81, Den: 100}
		}},
		{"offcut value of 0.8", "", func(j *model.Job) {
			j.Settings.Offcut.Value = model.Fraction{Num: 4, Den: 5}
		}},
		{"offcut value of one material", `shop.toml: material."fir".offcut.value: above 0.8`,
			func(j *model.Job) {
				j.Settings.Materials = map[string]model.Override{
					"fir": {Value: &model.Fraction{Num: 1, Den: 1}}}
			}},
		{"offcut value of one section", `shop.toml: section."1x8".offcut.value: above 0.8`,
			func(j *model.Job) {
				j.Settings.Sections = map[model.Section]model.Override{
					"1x8": {Value: &model.Fraction{Num: 9, Den: 10}}}
			}},

		{"due a year early", "commissions.csv: due: 2026-03-12 of C1 is more than 60 days before " +
			"the middle one of the due dates, 2027-03-20; see that year and month are right",
			func(j *model.Job) { dues(j, "2027-03-20", "2026-03-12", "2027-03-21") }},
		{"due 60 days early", "", func(j *model.Job) {
			dues(j, "2027-03-20", "2027-01-19", "2027-03-21", "")
		}},
		{"due 61 days early", "commissions.csv: due: 2027-01-18 of C1", func(j *model.Job) {
			dues(j, "2027-03-20", "2027-01-18", "2027-03-21", "")
		}},
		{"two dates far apart", "", func(j *model.Job) { dues(j, "2026-03-12", "2027-03-20") }},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := plainJob()
			c.change(j)
			got := strings.Join(Remarks(j), "\n")
			if !strings.HasPrefix(got, c.want) ||
				strings.Count(got, "\n") != strings.Count(c.want, "\n") || c.want == "" &&
				got != "" {
				t.Errorf("want %s\ngot  %s", c.want, got)
			}
		})
	}
}

// However many of one sort there are, few lines tell it.
func TestRemarksAreBounded(t *testing.T) {
	j := plainJob()
	for n := range 1000 {
		p := j.Parts[0]
		p.Name, p.Length, p.Where.Line = fmt.Sprint("rail ", n), 5*in, n+3
		j.Parts = append(j.Parts, p)
		b := j.Rack[0]
		b.ID, b.Length = fmt.Sprint("S", n), in+model.Length(n)
		j.Rack = append(j.Rack, b)
	}
	got := Remarks(j)
	if len(got) != 7 || got[5] != "... and 995 more of this sort" ||
		got[6] != "rack.csv: fir 1x8: no part can use 1000 of 1001 boards, the first is S0; "+
			"carried over" {
		t.Errorf("%d lines\n%s", len(got), strings.Join(got, "\n"))
	}
}
