package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"rackwright/model"
	"rackwright/model/makeup"
)

// File is what stands in one file of an out folder, or in two that go together.
type File struct {
	Names []string
	Holds string
}

// OutFiles are the files of an out folder, those that a maker opens first ahead.
var OutFiles = []File{
	{[]string{"report.html"}, "all of the plan as a page: open it in a browser"},
	{[]string{"order.csv"}, "every cut, in the order of work"},
	{[]string{"buy.csv"}, "what to buy, with the ids of the boards"},
	{[]string{"cuts.csv"}, "what becomes of each board"},
	{[]string{glueUps}, "the staves of each glue-up, in the order to lay them"},
	{[]string{"costs.csv"}, "what the wood of each commission costs"},
	{[]string{"rack.csv", "defects.csv"}, "the rack after: next month begins with both"},
	{[]string{"marks.csv"}, "a form: what was cut, spoiled or left"},
	{[]string{"plan.json"}, "the plan with its proof, for the commands below"},
}

// glueUps is the file that is there only where parts are glued up.
const glueUps = "glue_ups.csv"

// ShopFiles are the files of an empty shop folder; those of a month's folder stand in MonthFiles.
var ShopFiles = []File{
	{[]string{"shop.toml"}, "kerfs, allowances and all else that is the shop's own"},
	{[]string{"yard.csv"}, "what is for sale"},
	{[]string{"rack.csv"}, "the boards on hand"},
	{[]string{"defects.csv"}, "their knots, checks and splits"},
	{[]string{"designs"}, "a list of parts for each thing made again and again"},
}

// MonthFiles are those of the month in it.
var MonthFiles = []File{
	{[]string{"parts.csv"}, "the parts of the month"},
	{[]string{"orders.csv"}, "how many of which design it has"},
	{[]string{"commissions.csv"}, "when each commission is due"},
}

// outCommands are the commands that open an out folder, with what they do.
var outCommands = [][2]string{
	{"show", "lists the boards, or draws one"},
	{"print", "writes papers and labels"},
	{"verify", "checks all of it again"},
}

// forBook is the command that books the plan of an out folder, where a book can be.
var forBook = [2]string{"book", "enters it in the book, to be cut"}

// Files tells which files an out folder has with the plan of a job, and how to open them; of one in
// a shop folder, also how to book its plan. No line is longer than width but for one with the name
// of the folder.
func Files(w io.Writer, job *model.Job, out string, inShop bool, width int) error {
	p := printer{w: w, width: width}
	for _, f := range OutFiles {
		if f.Names[0] == glueUps && !makeup.GluesUp(job) {
			continue
		}
		names := strings.Join(f.Names, ", ")
		p.item("  "+names+strings.Repeat(" ", max(2, 24-len(names))), "%s", f.Holds)
	}
	p.raw("")
	commands := outCommands
	if inShop {
		commands = append(slices.Clone(commands), forBook)
	}
	for _, c := range commands {
		p.raw(model.Visible("  `rackwright " + c[0] + " " + ShellWord(out) + "` " + c[1]))
	}
	return p.err
}

// NewShop tells which files an empty shop folder has, with its month in the folder job, and what to
// do with them.
func NewShop(w io.Writer, month, job string, width int) error {
	p := printer{w: w, width: width}
	p.list(ShopFiles)
	p.raw("")
	p.line("In it %s, the job folder of its first month", month)
	p.raw("")
	p.list(MonthFiles)
	p.raw("")
	p.line("Each table has its header line. Fill in the rack, the yard, and the parts of the " +
		"month; `rackwright help files` tells the columns. What you do not need may stay empty.")
	p.raw("")
	p.jobCommands(job)
	p.raw("")
	p.line("The next month is a folder beside this one. Name it to `rackwright new`, and it has " +
		"its tables.")
	return p.err
}

// NewMonth tells which files an empty job folder in a shop folder has, and what to do with them.
func NewMonth(w io.Writer, job string, width int) error {
	p := printer{w: w, width: width}
	p.list(MonthFiles)
	p.raw("")
	p.jobCommands(job)
	return p.err
}

func (p *printer) list(files []File) {
	for _, f := range files {
		p.item(fmt.Sprintf("  %-18s", f.Names[0]), "%s", f.Holds)
	}
}

func (p *printer) jobCommands(job string) {
	for _, c := range [][2]string{{"check", "reads and judges it"}, {"plan", "plans it"}} {
		p.raw(model.Visible("  `rackwright " + c[0] + " " + ShellWord(job) + "` " + c[1]))
	}
}

// FromMonthToMonth tells what to type from a plan in a shop folder to the plan of the next month.
func FromMonthToMonth(w io.Writer, shop, out, next string, width int) error {
	p := printer{w: w, width: width}
	p.line("What comes next, from month to month:")
	p.raw("")
	for _, c := range [][3]string{
		{"book", out, "enters the plan in the book of the shop"},
		{"print", out, "writes papers and labels"},
		{"receive", out, "when the boards that it buys are here"},
		{"done", out, "when its boards are cut"},
		{"replan", out, "plans what was spoiled or left, if anything was"},
		{"plan", next, "plans the next month on what is left"},
		{"months", shop, "shows what it saves to carry offcuts"},
	} {
		p.raw(model.Visible("  `rackwright " + c[0] + " " + ShellWord(c[1]) + "` " + c[2]))
	}
	return p.err
}

// ShellWord puts quotes around a path that a shell would take for more than one word.
func ShellWord(path string) string {
	switch {
	case !strings.ContainsAny(path, " \"'&;()[]{}<>|*?!#~$`"):
		return path
	case strings.ContainsAny(path, "\"$`!") && !strings.Contains(path, "'"):
		return "'" + path + "'"
	}
	return `"` + path + `"`
}
