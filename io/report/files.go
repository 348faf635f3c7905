package report

import (
	"io"
	"strings"

	"rackwright/model"
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
	{[]string{"costs.csv"}, "what the wood of each commission costs"},
	{[]string{"rack.csv", "defects.csv"}, "the rack after: next month's job folder takes both"},
	{[]string{"plan.json"}, "the plan with its proof, for the commands below"},
}

// outCommands are the commands that open an out folder, with what they do.
var outCommands = [][2]string{
	{"show", "lists the boards, or draws one"},
	{"print", "writes papers and labels"},
	{"verify", "checks all of it again"},
}

// Files tells which files an out folder has, and how to open them. No line is longer than width but
// for one with the name of the folder.
func Files(w io.Writer, out string, width int) error {
	p := printer{w: w, width: width}
	for _, f := range OutFiles {
		names := strings.Join(f.Names, ", ")
		p.item("  "+names+strings.Repeat(" ", max(2, 24-len(names))), "%s", f.Holds)
	}
	p.raw("")
	for _, c := range outCommands {
		p.raw(model.Visible("  `rackwright " + c[0] + " " + shellWord(out) + "` " + c[1]))
	}
	return p.err
}

// shellWord puts quotes around a path that a shell would take for more than one word.
func shellWord(path string) string {
	switch {
	case !strings.ContainsAny(path, " \"'&;()[]{}<>|*?!#~$`"):
		return path
	case strings.ContainsAny(path, "\"$`!") && !strings.Contains(path, "'"):
		return "'" + path + "'"
	}
	return `"` + path + `"`
}
