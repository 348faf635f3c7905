package report

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"rackwright/model"
)

const inch = model.UnitsPerInch

// cautious is a job of one softwood part as wide as its board, its blank as long as is safe, and a
// plan that cuts it once.
func cautious() (*model.Job, *model.Plan) {
	job := &model.Job{Settings: model.DefaultSettings(),
		Commissions: []model.Commission{{Name: "C"}}}
	job.Parts = []model.Part{{Commission: "C", Name: "rail", Qty: 1, Material: "pine",
		Length: 11 * inch, Width: 6 * inch, Thickness: inch, Section: "38x140mm"}}
	cut := model.Cut{Kind: model.KindPart, Material: "pine", Section: "38x140mm", To: 12 * inch,
		Right: 6 * inch, Commission: "C", Part: "rail", Copy: 1}
	waste := model.Cut{Kind: model.KindWaste, Material: "pine", Section: "38x140mm",
		From: 12 * inch, To: 14 * inch, Right: 5 * inch}
	return job, &model.Plan{Cuts: []model.Cut{cut, waste},
		Order: []model.Sawing{{Saw: model.Crosscut, Setting: 12 * inch, Board: "R1"},
			{Saw: model.Crosscut, Setting: 12 * inch, Board: "R3"}}}
}

// again adds a part like the first one, and its cut.
func again(j *model.Job, p *model.Plan, name string, qty int64, change func(*model.Part)) {
	part := j.Parts[0]
	part.Name, part.Qty = name, qty
	change(&part)
	j.Parts = append(j.Parts, part)
	for n := range qty {
		c := p.Cuts[0]
		c.Part, c.Copy, c.Material, c.Section = name, n+1, part.Material, part.Section
		p.Cuts = append(p.Cuts, c)
	}
}

// below gives what stands below the caution of every list, one text for each caution, and sees that
// nothing of it stands elsewhere.
func below(t *testing.T, text string) (cautions []string) {
	t.Helper()
	before, after, found := strings.Cut(text, Wrap(Caution)+"\n")
	if !found || strings.Contains(after, Wrap(Caution)) {
		t.Fatalf("the caution does not stand once in\n%s", text)
	}
	for _, words := range []string{"Short stock (", "Stop block (", "Ripping (", "Long rips (",
		"Narrow strips (", "Dust ("} {
		if strings.Contains(before, words) || strings.Count(after, words) > 1 {
			t.Errorf("%s stands elsewhere or twice in\n%s", words, text)
		}
		after = strings.Replace(after, words, "\x00"+words, 1)
	}
	texts := strings.Split(after, "\x00")
	if strings.TrimSpace(texts[0]) != "" {
		t.Errorf("%q stands below the caution", texts[0])
	}
	for _, c := range texts[1:] {
		cautions = append(cautions,
			strings.Join(strings.FieldsFunc(c, func(r rune) bool { return r == ' ' || r == '\n' }),
				" "))
	}
	return cautions
}

// Each caution stands once where it applies, names what it applies to, and stands nowhere else.
func TestCautionsWhereTheyApply(t *testing.T) {
	stop := "Stop block (1 setting)"
	for _, c := range []struct {
		name        string
		change      func(*model.Job, *model.Plan)
		plan, final []string // how the cautions begin
	}{
		{"a safe blank", func(*model.Job, *model.Plan) {}, []string{stop}, []string{stop}},
		{"nothing is cut", func(j *model.Job, p *model.Plan) {
			p.Cuts, p.Order = nil, nil
		}, nil, []string{stop}},
		{"two settings", func(j *model.Job, p *model.Plan) {
			p.Order[1].Setting *= 2
			again(j, p, "long rail", 1, func(p *model.Part) { p.Length *= 2 })
		}, []string{"Stop block (2 settings)"}, []string{"Stop block (2 settings)"}},
		{"a blank a hair too short", func(j *model.Job, p *model.Plan) {
			j.Parts[0].Length -= inch / 64
		},
			[]string{`Short stock (1 blank below shortest_blank, the shortest 11 63/64")`, stop},
			[]string{`Short stock (1 blank below shortest_blank, the shortest 11 63/64")`, stop}},
		{"several, the shortest last", func(j *model.Job, p *model.Plan) {
			j.Parts[0].Length = 10 * inch
			again(j, p, "cleat", 3, func(p *model.Part) { p.Length = 5 * inch })
		}, []string{`Short stock (4 blanks below shortest_blank, the shortest 6")`, stop},
			[]string{`Short stock (4 blanks below shortest_blank, the shortest 6")`,
				"Stop block (2 settings)"}},
		{"too short for its section only", func(j *model.Job, p *model.Plan) {
			least := 13 * model.Length(inch)
			j.Settings.Sections = map[model.Section]model.Override{
				"38x140mm": {ShortestBlank: &least}}
			again(j, p, "other", 1, func(p *model.Part) { p.Section = "38x89mm" })
		}, []string{`Short stock (1 blank below shortest_blank, the shortest 12")`, stop},
			[]string{`Short stock (1 blank below shortest_blank, the shortest 12")`, stop}},
		{"short parts that are not cut", func(j *model.Job, p *model.Plan) {
			j.Parts = append(j.Parts,
				model.Part{Commission: "C", Name: "short", Qty: 1, Material: "walnut",
					Length: 5 * inch, Width: inch})
		}, []string{stop}, []string{
			`Short stock (1 blank below shortest_blank, the shortest 6")`,
			"Stop block (2 settings)", "Dust (walnut)"}},
		{"a part narrower than its metric board", func(j *model.Job, p *model.Plan) {
			j.Parts[0].Width -= 1
		},
			[]string{stop, "Ripping (1 blank out of wider boards)"}, []string{stop}},
		{"eased edges, as wide as the board", func(j *model.Job, p *model.Plan) {
			again(j, p, "stud", 2, func(p *model.Part) { p.Section = "2x6" })
		}, []string{stop}, []string{stop}},
		{"eased edges, two of three narrower", func(j *model.Job, p *model.Plan) {
			j.Parts[0].Width = inch
			again(j, p, "stud", 2, func(p *model.Part) { p.Section = "2x6" })
		}, []string{stop, "Ripping (3 blanks out of wider boards, 2 with eased edges)"},
			[]string{stop}},
		{"ripped out of construction lumber", func(j *model.Job, p *model.Plan) {
			again(j, p, "stud", 2, func(p *model.Part) { p.Section, p.Width = "2x10", 4*inch })
			// a board of its own, 7" wide; the first length is 13" long and has two blanks in it,
			// one of them trimmed
			for i := range p.Cuts {
				if p.Cuts[i].Part == "stud" {
					p.Cuts[i].Board, p.Cuts[i].Right = "R2",
						2*inch+inch*model.Length(p.Cuts[i].Copy)
				}
			}
			p.Cuts = append(p.Cuts,
				model.Cut{Board: "R2", Kind: model.KindKerf, Material: "pine", Section: "2x10",
					To: 13 * inch, Left: 3 * inch, Right: 4 * inch},
				model.Cut{Board: "R2", Kind: model.KindOffcut, Material: "pine", Section: "2x10",
					To: 13 * inch, Left: 5 * inch, Right: 7 * inch, Offcut: "O"})
			p.Order = append(p.Order, model.Sawing{Saw: model.Rip, Setting: 3 * inch, Board: "R2"},
				model.Sawing{Saw: model.Rip, Setting: 2 * inch, Board: "R2"})
			j.Rack = []model.Board{
				{ID: "R2", Wood: model.Wood{Material: "pine", Section: "2x10", Length: 13 * inch,
					Width: 7 * inch, Thickness: inch}}}
			p.Placements = []model.Placement{{Board: "R2"}} // for its tally
		}, []string{stop, "Ripping (2 blanks out of wider boards, 2 with eased edges; 2 " +
			"fence settings)",
			`Long rips (2 blanks from construction lumber, the longest cut 13")`,
			`Narrow strips (3 pieces under 6", the narrowest 2")`}, []string{stop}},
		{"a hardwood ripped wide", func(j *model.Job, p *model.Plan) {
			again(j, p, "top", 1, func(p *model.Part) {
				p.Material, p.Section, p.Width = "walnut", "8/4", 7*inch
			})
			p.Cuts[2].Board, p.Cuts[2].Right = "R2", 8*inch
			p.Cuts = append(p.Cuts,
				model.Cut{Board: "R2", Kind: model.KindKerf, Material: "walnut", Section: "8/4",
					To: 90 * inch, Left: 8 * inch, Right: 9 * inch})
			p.Order = append(p.Order, model.Sawing{Saw: model.Rip, Setting: 8 * inch, Board: "R2"})
		}, []string{stop, "Ripping (1 blank out of wider boards; 1 fence setting)",
			"Dust (walnut)"}, []string{stop, "Dust (walnut)"}},
		{"metric, known for a hardwood and not", func(j *model.Job, p *model.Plan) {
			for _, m := range []string{"beech", "western red cedar", "spf"} {
				again(j, p, m, 1, func(p *model.Part) { p.Material = m })
				c := &p.Cuts[len(p.Cuts)-1]
				c.Board, c.Left, c.To = m, inch, 40*inch
			}
			for _, m := range []string{"beech", "western red cedar", "spf"} {
				p.Cuts = append(p.Cuts,
					model.Cut{Board: m, Kind: model.KindKerf, Material: m, Section: "38x140mm",
						To: 40 * inch, Right: inch})
			}
		}, []string{stop, `Long rips (2 blanks from construction lumber, the longest cut 40")`,
			`Narrow strips (3 pieces under 6", the narrowest 5")`,
			"Dust (beech, western red cedar)"},
			[]string{stop, "Dust (beech, western red cedar)"}},
		{"a hardwood by species", func(j *model.Job, p *model.Plan) {
			again(j, p, "a", 1, func(p *model.Part) { p.Material = "walnut" })
			again(j, p, "b", 2, func(p *model.Part) { p.Material = "walnut" })
		}, []string{stop, "Dust (walnut)"}, []string{stop, "Dust (walnut)"}},
		{"a hardwood by its quarters", func(j *model.Job, p *model.Plan) {
			j.Rack = []model.Board{
				{ID: "R1", Wood: model.Wood{Material: "meranti", Section: "8/4", Length: 90 * inch,
					Width: 6 * inch, Thickness: 2 * inch}}}
			again(j, p, "a", 1, func(p *model.Part) { p.Material = "meranti" })
		}, []string{stop, "Dust (meranti)"}, []string{stop, "Dust (meranti)"}},
		{"softwood in quarters, cedar, and a name that the settings explain",
			func(j *model.Job, p *model.Plan) {
				of := "sugar maple"
				j.Settings.Materials = map[string]model.Override{"shop best": {Species: &of}}
				for _, m := range []string{"eastern white pine", "douglas-fir", "redwood",
					"western red cedar", "shop best"} {
					again(j, p, m, 1, func(p *model.Part) { p.Material, p.Section = m, "4/4" })
				}
			}, []string{stop, "Dust (western red cedar, shop best)"},
			[]string{stop, "Dust (western red cedar, shop best)"}},
		{"many hardwoods", func(j *model.Job, p *model.Plan) {
			for _, m := range []string{"ash", "beech", "cherry", "walnut", "red oak", "white oak",
				"alder", "sycamore"} {
				again(j, p, m, 1, func(p *model.Part) { p.Material = m })
			}
		}, []string{stop, "Dust (ash, beech, cherry, walnut, red oak, white oak, and 2 more)"},
			[]string{stop, "Dust (ash, beech, cherry, walnut, red oak, white oak, and 2 more)"}},
	} {
		job, plan := cautious()
		c.change(job, plan)
		var parts []*model.Part
		for i := range job.Parts {
			parts = append(parts, &job.Parts[i])
		}
		var summary, list, story bytes.Buffer
		for _, err := range []error{Summary(&summary, job, plan, 80),
			ExplainParts(&list, job, parts, 80), Explain(&story, job, parts[0], parts, nil,
				80)} {
			if err != nil {
				t.Fatal(err)
			}
		}
		begin := func(name string, got, want []string) {
			if !slices.EqualFunc(got, want, strings.HasPrefix) {
				t.Errorf("%s, %s: cautions are %q, want %q", c.name, name, got, want)
			}
		}
		begin("plan", below(t, summary.String()), c.plan)
		begin("final cuts of all", below(t, list.String()), c.final)
		begin("final cuts of one", below(t, story.String()), c.final)
	}
}
