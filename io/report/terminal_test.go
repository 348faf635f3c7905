package report

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"rackwright/io/table"
	"rackwright/model"
	"rackwright/model/movement"
)

// badNames are names that would spoil a table, or a terminal, if they were printed as they are.
var badNames = map[string]string{
	"plain":         "C-1 shelf",
	"long words":    strings.Repeat("sideboard", 22) + "ab",
	"many words":    strings.TrimSpace(strings.Repeat("a side board ", 15)) + " here",
	"right to left": "\u202eעץ אלון\u202c \u2067ארון\u2069",
	"controls":      "a\x1b[31mred\x07\x1b]0;title\x07\u0085\u2028b\tc\rd",
	"wide letters":  strings.Repeat("楢の厚板", 50),
	"emoji":         strings.Repeat("👩‍🔧🪵", 20),
	"no UTF-8":      "a\xff\xfe b",
	"a page":        "<script>alert('1')</script>",
	"accents":       strings.Repeat("e\u0301", 200),
}

// named is a job with its plan, in which every name is this one.
func named(name string) (*model.Job, *model.Plan) {
	job, plan := manyBoards()
	job.Settings.Currency = "USD"
	job.Commissions = []model.Commission{{Name: name}}
	for i := range job.Parts {
		p := &job.Parts[i]
		p.Commission, p.Name, p.Material = name, name+fmt.Sprint(i), name
	}
	for i := range job.Yard {
		job.Yard[i].Material, job.Yard[i].Yard, job.Yard[i].Grade = name, name, name
		job.Yard[i].Price = 12_0000
	}
	for i := range job.Rack {
		job.Rack[i].Bin = name
	}
	for i := range plan.Cuts {
		c := &plan.Cuts[i]
		if c.Material = name; c.Kind == model.KindPart {
			c.Commission, c.Part = name, name+"0"
		}
		if c.Kind == model.KindOffcut {
			c.Offcut = name
		}
	}
	plan.Buy = []model.Purchase{
		{Material: name, Section: "4/4", Surface: model.Rough, Length: 126 * inch, Qty: 100,
			Price: 1234_5600, Total: 123456_0000, Tally: 12345_600_000, Width: 45 * inch / 8,
			Yard: name, Grade: name, Tax: 1234_5600},
		{Material: name, Section: "4/4", Length: 96 * inch, Qty: 1, Price: 1_0000, Total: 1_0000,
			Width: 4 * inch, Yard: name, Reserve: true}}
	plan.Groups = []model.Group{{Name: name + " 4/4, " + name + " 2x6", Value: 20_0000,
		Bound: 10_0000, Proof: model.Feasible, Ended: model.Clock}}
	plan.Value, plan.Bound = 20_0000, 10_0000
	plan.Costs = []model.Cost{{Commission: name, Cost: 123456_7800, Yard: 123456_7800,
		Tally: 1234_567_800}}
	plan.Shortages = []model.Shortage{{Commission: name, Part: name, Copies: []int64{1},
		Reason: model.TooNarrow}}
	return job, plan
}

// reports are all that is printed of a job and its plan.
func reports(job *model.Job, plan *model.Plan, name string) map[string]func(io.Writer, int) error {
	var parts []*model.Part
	for i := range job.Parts {
		parts = append(parts, &job.Parts[i])
	}
	season, err := movement.ParseSeason("6-10")
	if err != nil {
		panic(err)
	}
	oak, err := model.FindSpecies("white oak")
	if err != nil {
		panic(err)
	}
	measures := []model.Measure{model.MeasureOf(plan), model.MeasureOf(plan), model.MeasureOf(plan)}
	measures[0].Short = 2
	return map[string]func(io.Writer, int) error{
		"summary": func(w io.Writer, width int) error { return Summary(w, job, plan, width) },
		"comparison": func(w io.Writer, width int) error {
			return Comparison(w, job, []string{"first fit", name, "all"}, measures, width)
		},
		"explain, all": func(w io.Writer, width int) error {
			return ExplainParts(w, job, parts, width)
		},
		"explain, one": func(w io.Writer, width int) error {
			return Explain(w, job, parts[0], parts, nil, width)
		},
		"boards": func(w io.Writer, width int) error { return BoardList(w, job, plan, width) },
		"board":  func(w io.Writer, width int) error { return Show(w, job, plan, "R-1", width) },
		"movement": func(w io.Writer, width int) error {
			return Movement(w, job, []movement.Wide{{Material: name, Species: oak, Parts: parts}},
				season, movement.FlatSawn, width)
		},
	}
}

// Whatever names are: no line is wider than the terminal, nothing steers it, there is no blank at
// the end of a line, and names are there, as they are or by their escapes. That nothing of a cell
// is lost is tested in io/table.
func TestBadNamesInATerminal(t *testing.T) {
	for kind, name := range badNames {
		job, plan := named(name)
		for title, print := range reports(job, plan, name) {
			for _, width := range []int{80, 140} {
				var b bytes.Buffer
				if err := print(&b, width); err != nil {
					t.Fatal(err)
				}
				for line := range strings.Lines(b.String()) {
					line = strings.TrimSuffix(line, "\n")
					if table.Width(line) > width || strings.TrimRight(line, " ") != line {
						t.Errorf("%s, %s, %d: %d columns: %q", title, kind, width,
							table.Width(line), line)
					}
					if strings.ContainsFunc(line, func(r rune) bool {
						return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r)
					}) || strings.Contains(line, model.NoBreakSpace) {
						t.Errorf("%s, %s, %d: not plain: %q", title, kind, width, line)
					}
				}
				first, _, _ := strings.Cut(model.Visible(name), " ")
				first = string([]rune(first)[:min(8, utf8.RuneCountInString(first))])
				if !strings.Contains(b.String(), first) {
					t.Errorf("%s, %s, %d: %q is not in\n%s", title, kind, width, first, &b)
				}
			}
		}
	}
}

// Amounts of a currency of small units have room: where no table has, each row is a paragraph.
func TestLargeAmounts(t *testing.T) {
	job, plan := named("C-1 shelf")
	const large = 123_456_789_0000
	job.Settings.Ripping = 1
	plan.Costs = []model.Cost{{Commission: "C-1 shelf", Cost: large, Yard: large, Rack: large,
		Handling: large, Ripping: large, Credit: large, Tally: 1_000_000}}
	var b bytes.Buffer
	if err := Summary(&b, job, plan, 80); err != nil {
		t.Fatal(err)
	}
	const want = `
Net wood cost of each commission
  C-1 shelf
    net 123456789.00, yards 123456789.00, rack 123456789.00, handling
    123456789.00, ripping 123456789.00, offcuts -123456789.00, board feet 1.0
`
	if !strings.Contains(b.String(), want) {
		t.Errorf("%s is not in\n%s", want, &b)
	}
	b.Reset()
	if err := Summary(&b, job, plan, 140); err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(strings.Split(b.String(), "\n"), func(line string) bool {
		return strings.HasPrefix(line, "  C-1 shelf   123456789.00  123456789.00  ")
	}) {
		t.Errorf("in 140 columns there is no table\n%s", &b)
	}
}
