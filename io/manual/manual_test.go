package manual

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf8"

	"rackwright/io/csvfile"
	"rackwright/io/folder"
	"rackwright/io/planfile"
	"rackwright/io/report"
	"rackwright/model"
	"rackwright/model/makeup"
)

// text is the topic's text.
func text(t *testing.T, topic string) string {
	t.Helper()
	s, ok := Text(topic)
	if !ok {
		t.Fatalf("there is no topic %s", topic)
	}
	return s
}

// after is what follows the line of a text.
func after(t *testing.T, text, line string) string {
	t.Helper()
	_, rest, ok := strings.Cut(text, "\n"+line+"\n")
	if !ok {
		t.Fatalf("no line is %q", line)
	}
	return rest
}

// rows gives the cells of the first table of a text, its head first, without quotes of code.
func rows(t *testing.T, text string) (out [][]string) {
	t.Helper()
	for _, line := range strings.Split(text, "\n") {
		line, isRow := strings.CutPrefix(line, "| ")
		switch {
		case !isRow && len(out) > 0:
			return out
		case !isRow || strings.HasPrefix(line, "---"):
			continue
		}
		cells := strings.Split(strings.TrimSuffix(line, "|"), "|")
		for i := range cells {
			cells[i] = strings.Trim(strings.TrimSpace(cells[i]), "`")
		}
		out = append(out, cells)
	}
	if len(out) < 2 {
		t.Fatal("there is no table")
	}
	return out
}

// first is the first column of a table but for its head.
func first(table [][]string) (out []string) {
	for _, row := range table[1:] {
		out = append(out, row[0])
	}
	return out
}

// firstTwo are the first two columns of a table but for its head, row by row.
func firstTwo(table [][]string) (out []string) {
	for _, row := range table[1:] {
		out = append(out, row[0], row[1])
	}
	return out
}

func same(t *testing.T, what string, got, want []string) {
	t.Helper()
	if !slices.Equal(got, want) {
		t.Errorf("%s: the manual has\n%q\nthe program\n%q", what, got, want)
	}
}

// Every file of the folder is a topic, says in its first line what it is about, fits a terminal of
// 80 columns and sends its reader to topics only that there are.
func TestTopics(t *testing.T) {
	entries, err := fs.ReadDir(files, ".")
	if err != nil {
		t.Fatal(err)
	}
	var there, listed []string
	for _, e := range entries {
		there = append(there, strings.TrimSuffix(e.Name(), ".md"))
	}
	for _, topic := range Topics() {
		listed = append(listed, topic.Name)
		whole := text(t, topic.Name)
		if !strings.HasPrefix(whole, "# "+topic.Name+": "+topic.About+"\n\n") {
			t.Errorf("%s.md does not begin with its name and what it is about", topic.Name)
		}
		for n, line := range strings.Split(whole, "\n") {
			if utf8.RuneCountInString(line) > 80 || strings.ContainsAny(line, "\t\r") {
				t.Errorf("%s.md:%d: longer than 80 columns, or a tab: %s", topic.Name, n+1, line)
			}
		}
		for _, m := range regexp.MustCompile("`rackwright help ([a-z]+)`").
			FindAllStringSubmatch(whole, -1) {
			if _, ok := Text(m[1]); !ok {
				t.Errorf("%s.md sends its reader to %s, which is no topic", topic.Name, m[1])
			}
		}
	}
	slices.Sort(listed)
	same(t, "topics", listed, there)
}

// samples are the CSV files in full that the text has, by their names.
func samples(t *testing.T) fstest.MapFS {
	t.Helper()
	job := fstest.MapFS{}
	for _, m := range regexp.MustCompile("(?s)\n`([a-z]+\\.csv)`\n\n```csv\n(.*?)```\n").
		FindAllStringSubmatch(text(t, "files"), -1) {
		job[m[1]] = &fstest.MapFile{Data: []byte(m[2])}
	}
	if len(job) != 3 {
		t.Fatalf("there are %d sample files, not 3", len(job))
	}
	return job
}

// The three samples are a job without a mistake or a note; the first board is worth what the
// example of another topic says.
func TestSamples(t *testing.T) {
	job, notes, err := folder.ReadJob(samples(t))
	if err != nil || len(notes) > 0 {
		t.Fatal(err, notes)
	}
	if len(job.Parts) != 2 || len(job.Rack) != 3 || len(job.Yard) != 2 {
		t.Errorf("%d parts, %d boards, %d offers", len(job.Parts), len(job.Rack), len(job.Yard))
	}
	v, b := job.Valuation(), &job.Rack[0]
	worth := v.ShownTicks(v.WorthOfBoard(b))
	half := v.ShownTicks(v.WorthOfRect(v.SlopeOfBoard(b), &b.Wood,
		model.Rect{To: b.Length, Right: b.Width / 2}, nil))
	for _, example := range []string{
		fmt.Sprintf("0.5 x %v x (96 - 12) / 96 = %v.", job.Yard[0].Price, worth),
		fmt.Sprintf("0.6 x %v / 2 = %v.", worth, half)} {
		if !strings.Contains(strings.ReplaceAll(text(t, "worth"), "\n", " "), example) {
			t.Errorf("the example is not %s", example)
		}
	}
}

// What goes in has these columns and no others, and those in bold are the required ones. The reader
// itself is asked, by files that have one unknown column only.
func TestColumnsIn(t *testing.T) {
	all := text(t, "files")
	for _, name := range []string{"parts.csv", "orders.csv", "commissions.csv", "rack.csv",
		"defects.csv", "yard.csv"} {
		var columns, required []string
		for _, c := range first(rows(t, after(t, all, "### `"+name+"`"))) {
			plain := strings.Trim(c, "*")
			columns = append(columns, plain)
			if plain != c {
				required = append(required, plain)
			}
		}
		known, needed := asked(t, name)
		same(t, name, columns, known)
		slices.Sort(required)
		same(t, name+", required", required, needed)
		if name == "parts.csv" {
			ofDesign := func(c string) bool { return c == "commission" || c == "board" }
			known, needed := asked(t, "designs/x.csv")
			same(t, "designs", slices.DeleteFunc(columns, ofDesign), known)
			same(t, "designs, required", slices.DeleteFunc(required, ofDesign), needed)
		}
	}
}

// asked gives the columns of one file that the reader knows, and those that it misses.
func asked(t *testing.T, name string) (known, needed []string) {
	t.Helper()
	job := samples(t)
	job["orders.csv"] = &fstest.MapFile{Data: []byte("commission,design,qty\nC-02 stool,x,1\n")}
	job["designs/x.csv"] = &fstest.MapFile{Data: []byte("part\n")}
	job[name] = &fstest.MapFile{Data: []byte("nonsense\n")}
	_, _, err := folder.ReadJob(job)
	mistakes, ok := err.(model.InputErrors)
	if !ok {
		t.Fatalf("%s: a column without sense is not refused: %v", name, err)
	}
	for _, m := range mistakes {
		if m.File != name {
			continue
		}
		if _, all, ok := strings.Cut(m.Remedy, "; all are "); ok &&
			m.Code == model.CodeUnknownColumn {
			known = strings.Split(all, ", ")
		}
		if m.Code == model.CodeMissingColumn {
			needed = append(needed, m.Column)
		}
	}
	slices.Sort(needed)
	return known, needed
}

// What comes out has these columns, in this order.
func TestColumnsOut(t *testing.T) {
	_, plan, _ := strings.Cut(text(t, "files"), "\n## The plan\n")
	made := makeup.Names{{"C-1", "top, stave of 2"}: nil}
	for name, write := range map[string]func(io.Writer) error{
		"cuts.csv":  func(w io.Writer) error { return csvfile.WriteCuts(w, nil, made, model.Inch) },
		"buy.csv":   func(w io.Writer) error { return csvfile.WriteBuy(w, nil, model.Inch) },
		"order.csv": func(w io.Writer) error { return csvfile.WriteOrder(w, nil, model.Inch) },
		"costs.csv": func(w io.Writer) error { return csvfile.WriteCosts(w, nil) },
		"glue_ups.csv": func(w io.Writer) error {
			return csvfile.WriteLaid(w, nil, model.Inch)
		},
	} {
		var out bytes.Buffer
		if err := write(&out); err != nil {
			t.Fatal(err)
		}
		header, err := csv.NewReader(&out).Read()
		if err != nil {
			t.Fatal(err)
		}
		same(t, name, first(rows(t, after(t, plan, "### `"+name+"`"))), header)
	}
}

// plan.json has these keys, in this order, and this version.
func TestKeysOfPlan(t *testing.T) {
	var out bytes.Buffer
	if err := planfile.Write(&out, &model.Job{},
		&model.Plan{Revision: &model.Revision{}, Made: []model.Made{{}}}); err != nil {
		t.Fatal(err)
	}
	var keys []string
	d := json.NewDecoder(&out)
	for depth := 0; ; {
		token, err := d.Token()
		if err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		switch s, isText := token.(string); {
		case token == json.Delim('{') || token == json.Delim('['):
			depth++
		case token == json.Delim('}') || token == json.Delim(']'):
			depth--
		case isText && depth == 1 && d.More():
			keys = append(keys, s)
			var skipped any
			if err := d.Decode(&skipped); err != nil {
				t.Fatal(err)
			}
		}
	}
	own := after(t, text(t, "files"), "### `plan.json`")
	same(t, "plan.json", first(rows(t, own)), keys)
	if says := fmt.Sprintf("version is %d, of a revision %d.", planfile.Version,
		planfile.RevisionVersion); !strings.Contains(
		strings.ReplaceAll(own, "\n", " "), says) {
		t.Errorf("it is not said that the %s", says)
	}
}

// Lengths and sections are read as the tables say, and no board is longer or wider than the text
// says.
func TestLengths(t *testing.T) {
	all := text(t, "lengths")
	_, sections, _ := strings.Cut(all, "\n## Sections\n")
	_, sizes, _ := strings.Cut(sections, "S2S`, planed")
	for _, row := range rows(t, all)[1:] {
		l, rounded, err := model.ParseLength(row[0], model.Inch)
		if err != nil || rounded || l.Decimal(model.Millimetre) != row[1] {
			t.Errorf("%s is %s mm, not %s (%v)", row[0], l.Decimal(model.Millimetre), row[1], err)
		}
	}
	for _, row := range rows(t, sections)[1:] {
		if s, err := model.ParseSection(row[0]); err != nil || string(s) != row[1] {
			t.Errorf("%s is read as %s, not %s (%v)", row[0], s, row[1], err)
		}
	}
	for _, row := range rows(t, sizes)[1:] {
		comes := model.Condition{Seasoning: model.Seasoning(row[1]), Surface: model.Surface(row[1])}
		thick, wide := model.Section(row[0]).Actual(comes)
		width := "as measured"
		if wide > 0 {
			width = wide.Decimal(model.Inch)
		}
		if thick == 0 || thick.Decimal(model.Inch) != row[2] || width != row[3] {
			t.Errorf("%s %s is %s by %s, not %s by %s", row[0], row[1], thick.Decimal(model.Inch),
				width, row[2], row[3])
		}
	}
	shop := model.DefaultSettings()
	for _, inches := range []model.Length{144, 126} {
		l := inches * model.UnitsPerInch
		shown := fmt.Sprintf("`%s`, not `%s`", shop.ShowAtYard(l), shop.Show(l))
		if !strings.Contains(all, strings.ReplaceAll(shown, model.NoBreakSpace, " ")) {
			t.Errorf("of lengths at the yard it is not said: %s", shown)
		}
	}
	shop.Display.Inch = model.ThirtySecond
	odd := shop.Show(35*model.UnitsPerInch + 9*model.UnitsPerInch/64)
	if shown := "35 9/64 in is shown as `" + strings.ReplaceAll(odd, model.NoBreakSpace,
		" ") + "`"; !strings.Contains(all, shown) {
		t.Errorf("of rounded lengths it is not said: %s", shown)
	}
	metre := model.Length(1000 * model.UnitsPerMillimetre)
	limits := fmt.Sprintf("A board may be up to %d m long and %g m wide.",
		model.LongestBoard/metre, float64(model.WidestBoard)/float64(metre))
	if !strings.Contains(all, limits) {
		t.Errorf("it is not said: %s", limits)
	}
}

// What 1.200 is beside another length of its file; in inches there are no thousands.
func TestThousands(t *testing.T) {
	read := func(unit, number, other string) string {
		job := samples(t)
		job["shop.toml"] = &fstest.MapFile{Data: []byte("units = '" + unit + "'")}
		job["rack.csv"] = &fstest.MapFile{Data: []byte("board;material;section;length\n" +
			"B-1;white pine;1x6;" + number + "\nB-2;white pine;1x6;" + other + "\n")}
		got, _, err := folder.ReadJob(job)
		if mistakes, ok := err.(model.InputErrors); ok && len(mistakes) == 1 &&
			mistakes[0].Code == model.CodeLength && mistakes[0].Line == 2 {
			return "refused"
		} else if err != nil {
			t.Fatal(err)
		}
		return got.Rack[0].Length.Decimal(got.Settings.Units)
	}
	for _, row := range rows(t, after(t, text(t, "lengths"), "## Thousands and fractions"))[1:] {
		if got := read("mm", "1.200", row[0]); got != row[1] {
			t.Errorf("1.200 beside %s is %s, not %s", row[0], got, row[1])
		}
	}
	if got := read("in", "1.125", "90"); got != "1.125" {
		t.Errorf("in inches 1.125 is %s", got)
	}
}

// The words of cells and of the summary are the program's own.
func TestWords(t *testing.T) {
	per := after(t, text(t, "yard"), "## What a board costs")
	same(t, "per", first(rows(t, per)), []string{"piece", string(model.PerLength),
		string(model.PerBoardFoot), string(model.PerCubicMetre)})
	faces := after(t, text(t, "blanks"), "## What holds a blank")
	same(t, "faces", first(rows(t, faces)), []string{model.Show.String(), model.Sound.String(),
		model.Hidden.String()})
	groups := after(t, text(t, "proof"), "## Groups")
	var proofs, ends []string
	for _, g := range []model.Group{{Value: 2000, Bound: 2000, Proof: model.Optimal},
		{Value: 2000, Bound: 1900, Proof: model.Feasible},
		{Value: 2000, Bound: -1, Proof: model.Feasible}} {
		proofs = append(proofs, report.Proven(&g), string(g.Proof))
	}
	same(t, "proof", firstTwo(rows(t, groups)), proofs)
	for _, e := range []model.Ended{model.Finished, model.WorkLimit, model.Clock,
		model.Interrupted} {
		ends = append(ends, report.SearchWords(e), string(e))
	}
	_, endings, _ := strings.Cut(groups, "| search ")
	same(t, "search", firstTwo(rows(t, "| search "+endings)), ends)
	for _, row := range rows(t, after(t, text(t, "files"), "### `cuts.csv`")) {
		if row[0] == "kind" {
			same(t, "kind", regexp.MustCompile(`\w+`).FindAllString(
				strings.Replace(row[1], " or ", ", ", 1), -1),
				[]string{string(model.KindTrim), string(model.KindPart), string(model.KindKerf),
					string(model.KindDefect), string(model.KindWaste), string(model.KindOffcut)})
		}
	}
}

// Text knows topics only.
func TestText(t *testing.T) {
	for _, name := range []string{"", "manual", "manual.go", "files.md", "../manual/files"} {
		if s, ok := Text(name); ok || s != "" {
			t.Errorf("%q is taken for a topic", name)
		}
	}
}
