package main

import (
	"fmt"
	"go/ast"
	"go/doc"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/alecthomas/kong"
	"github.com/rogpeppe/go-internal/testscript"

	"rackwright/io/manual"
)

// prose are the texts that name files, packages and commands of this module, by their paths.
func prose(t *testing.T) map[string]string {
	t.Helper()
	texts := map[string]string{}
	for _, name := range []string{"README.md", "DEVELOPERS.md", "benchmarks/README.md"} {
		text, err := os.ReadFile("../../" + name)
		if err != nil {
			t.Fatal(err)
		}
		texts[name] = string(text)
	}
	for _, topic := range manual.Topics() {
		texts["io/manual/"+topic.Name+".md"], _ = manual.Text(topic.Name)
	}
	return texts
}

// sources is what there is to be named: files and folders by their paths; what each folder's Go
// files declare, a method as Type.Method; and the first sentence that each package says of itself.
type sources struct {
	paths    map[string]bool
	declared map[string]map[string]bool
	first    map[string]string
}

// readSources looks the whole module up.
func readSources(t *testing.T) *sources {
	t.Helper()
	out := &sources{map[string]bool{}, map[string]map[string]bool{}, map[string]string{}}
	root := os.DirFS("../..")
	err := fs.WalkDir(root, ".", func(file string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if file == ".git" && d.IsDir() {
			return fs.SkipDir
		}
		out.paths[file] = true
		if !strings.HasSuffix(file, ".go") {
			return nil
		}
		src, err := fs.ReadFile(root, file)
		if err != nil {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), file, src,
			parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		dir := path.Dir(file)
		if out.declared[dir] == nil {
			out.declared[dir] = map[string]bool{}
		}
		if f.Doc != nil {
			out.first[dir] = new(doc.Package).Synopsis(f.Doc.Text())
		} else if _, said := out.first[dir]; !said && !strings.HasSuffix(file, "_test.go") {
			out.first[dir] = ""
		}
		for _, d := range f.Decls {
			for _, name := range namesOf(d) {
				out.declared[dir][name] = true
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// namesOf are what a declaration declares.
func namesOf(d ast.Decl) (names []string) {
	switch d := d.(type) {
	case *ast.FuncDecl:
		name := d.Name.Name
		if d.Recv != nil {
			of := d.Recv.List[0].Type
			if star, ok := of.(*ast.StarExpr); ok {
				of = star.X
			}
			if generic, ok := of.(*ast.IndexExpr); ok {
				of = generic.X
			}
			name = fmt.Sprint(of) + "." + name
		}
		return []string{name}
	case *ast.GenDecl:
		for _, s := range d.Specs {
			switch s := s.(type) {
			case *ast.TypeSpec:
				names = append(names, s.Name.Name)
			case *ast.ValueSpec:
				for _, n := range s.Names {
					names = append(names, n.Name)
				}
			}
		}
	}
	return names
}

var (
	quoted   = regexp.MustCompile("`([^`\n]+)`")
	link     = regexp.MustCompile(`\]\(([^)#]+)\)`)
	goFile   = regexp.MustCompile(`^[A-Za-z0-9_*./]+\.go$`)
	symbol   = regexp.MustCompile(`^([a-z][a-z0-9/]*)\.([A-Z]\w*(?:\.[A-Z]\w*)?)(?:\(.*\))?$`)
	ourPath  = regexp.MustCompile(`^(?:cmd|io|model|nest|benchmarks|testdata|\.ci)/[\w./*-]*$`)
	testName = regexp.MustCompile(`^(?:Test|Benchmark|Fuzz)[A-Z]\w*$`)
	makeCall = regexp.MustCompile(`\bmake ([a-z]+)\b`)
	rackCall = regexp.MustCompile(`rackwright ([a-z]+)`)
)

// missing is what is wrong with a name between quotes of code, or "" where it names nothing of ours
// or names it rightly.
func (x *sources) missing(name string) string {
	anywhere := func(pattern string) bool {
		for p := range x.paths {
			for _, s := range []string{p, path.Base(p)} {
				if ok, _ := path.Match(pattern, s); ok {
					return true
				}
			}
		}
		return false
	}
	m := symbol.FindStringSubmatch(name)
	switch {
	case m != nil:
		for dir, names := range x.declared {
			if (dir == m[1] || path.Base(dir) == m[1]) && names[m[2]] {
				return ""
			}
		}
		return "no package " + m[1] + " declares it"
	case testName.MatchString(name) && !x.hasTest(name):
		return "there is no such test"
	case (goFile.MatchString(name) || ourPath.MatchString(name)) &&
		!anywhere(strings.TrimSuffix(name, "/")):
		return "there is no such file or folder"
	}
	return ""
}

// hasTest says whether some folder declares a test, a benchmark or a fuzz target of this name.
func (x *sources) hasTest(name string) bool {
	for _, names := range x.declared {
		if names[name] {
			return true
		}
	}
	return false
}

// Every file, folder, package, exported name, make target and command that a text names is there.
func TestProseNamesWhatIsThere(t *testing.T) {
	there := readSources(t)
	makefile, err := os.ReadFile("../../Makefile")
	if err != nil {
		t.Fatal(err)
	}
	commands := commandNames(t)
	names := 0
	for text, all := range prose(t) {
		for n, line := range strings.Split(all, "\n") {
			wrong := func(format string, args ...any) {
				t.Errorf("%s:%d: %s", text, n+1, fmt.Sprintf(format, args...))
			}
			for _, m := range quoted.FindAllStringSubmatch(line, -1) {
				names++
				if why := there.missing(m[1]); why != "" {
					wrong("%s: %s", m[1], why)
				}
			}
			for _, m := range link.FindAllStringSubmatch(line, -1) {
				if !strings.Contains(m[1], "://") && !there.paths[path.Join(path.Dir(text), m[1])] {
					wrong("the link to %s leads nowhere", m[1])
				}
			}
			for _, m := range makeCall.FindAllStringSubmatch(line, -1) {
				code := strings.HasPrefix(line, "    ") || strings.Contains(line, "`"+m[0])
				if code && !strings.Contains(string(makefile), "\n"+m[1]+":") {
					wrong("%s: the Makefile has no such target", m[0])
				}
			}
			for _, m := range rackCall.FindAllStringSubmatch(line, -1) {
				code := strings.HasPrefix(line, "    ") || strings.Contains(line, "`"+m[0])
				if code && !slices.Contains(commands, m[1]) {
					wrong("%s: there is no such command", m[0])
				}
			}
		}
	}
	if names < 100 {
		t.Errorf("only %d names were looked at", names)
	}
}

// A file that a comment names lies beside the file with the comment, or in the folder that it
// names; a test that it names is there.
func TestCommentsNameWhatIsThere(t *testing.T) {
	there := readSources(t)
	named := regexp.MustCompile(`[A-Za-z0-9_./-]+\.(?:go|md|sh)\b`)
	test := regexp.MustCompile(`\b(?:Test|Benchmark|Fuzz)[A-Z]\w*`)
	seen := 0
	for file := range there.paths {
		if !strings.HasSuffix(file, ".go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), "../../"+file, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range f.Comments {
			for _, name := range named.FindAllString(c.Text(), -1) {
				seen++
				if !there.paths[name] && !there.paths[path.Join(path.Dir(file), name)] {
					t.Errorf("%s: a comment names %s, which is not there", file, name)
				}
			}
			for _, name := range test.FindAllString(c.Text(), -1) {
				if !there.hasTest(name) {
					t.Errorf("%s: a comment names %s, and there is no such test", file, name)
				}
			}
		}
	}
	if seen < 20 {
		t.Errorf("only %d names were looked at", seen)
	}
}

// DEVELOPERS.md has a map of all packages but internal ones. Each package says in the first
// sentence of its comment what it is for, and the map says the same.
func TestMapIsWhatPackagesSay(t *testing.T) {
	there := readSources(t)
	shown := map[string]string{}
	for _, m := range regexp.MustCompile("(?m)^- `([a-z/]+)` ((?:.+\n)(?:  .+\n)*)").
		FindAllStringSubmatch(prose(t)["DEVELOPERS.md"], -1) {
		shown[m[1]] = strings.TrimSuffix(strings.Join(strings.Fields(m[2]), " "), ".")
	}
	for dir, said := range there.first {
		_, said, _ = strings.Cut(strings.TrimPrefix(said, "Package "), " ") // after its name
		said = strings.TrimRight(said, ".:")
		if said == "" || shown[dir] != said && !strings.Contains(dir, "/internal/") {
			t.Errorf("%s says of itself:\n%s\nDEVELOPERS.md says of it:\n%s", dir, said, shown[dir])
		}
	}
	for dir := range shown {
		if _, is := there.first[dir]; !is {
			t.Errorf("DEVELOPERS.md has a room %s; there is no such package", dir)
		}
	}
}

// commandNames are the commands of the program, as its help lists them.
func commandNames(t *testing.T) (names []string) {
	t.Helper()
	parser, err := kong.New(&commands{}, kong.Vars{"version": "", "default_work": "",
		"default_demo": ""})
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range parser.Model.Children {
		names = append(names, n.Name)
	}
	return names
}

// README.md lists every command, every exit code and every topic of the manual.
func TestReadmeIsComplete(t *testing.T) {
	readme := prose(t)["README.md"]
	section := func(from, to string) string {
		_, s, found := strings.Cut(readme, "\n"+from+"\n")
		s, _, closed := strings.Cut(s, "\n"+to+"\n")
		if !found || !closed {
			t.Fatalf("README.md has no %s before %s", from, to)
		}
		return s
	}
	firsts := func(s, pattern string) (out []string) {
		for _, m := range regexp.MustCompile(pattern).FindAllStringSubmatch(s, -1) {
			out = append(out, m[1])
		}
		return out
	}
	same := func(what string, got, want []string) {
		if !slices.Equal(got, want) {
			t.Errorf("%s: README.md has\n%q\nthe program\n%q", what, got, want)
		}
	}
	of := section("## Commands", "## The manual")
	same("commands", firsts(of, "(?m)^\\| `rackwright ([a-z]+)"), commandNames(t))
	var codes, topics []string
	for _, c := range []int{exitDone, exitShort, exitBad, exitFault, exitInterrupted} {
		codes = append(codes, fmt.Sprint(c))
	}
	same("exit codes", firsts(of, `(?m)^\| (\d+) \|`), codes)
	for _, topic := range manual.Topics() {
		topics = append(topics, fmt.Sprintf("- [%s](io/manual/%[1]s.md): %s", topic.Name,
			topic.About))
	}
	same("topics", firsts(section("## The manual", "## Cautions"), `(?m)^(- \[.*)$`), topics)
	if words := len(strings.Fields(readme)); words > 1800 {
		t.Errorf("README.md has %d words; what is more belongs into the manual", words)
	}
}

// Lines of prose have at most 100 columns; rows of tables may be longer.
func TestProseFitsAPage(t *testing.T) {
	for text, all := range prose(t) {
		for n, line := range strings.Split(all, "\n") {
			if len([]rune(line)) > 100 && !strings.HasPrefix(line, "|") {
				t.Errorf("%s:%d: longer than 100 columns: %s", text, n+1, line)
			}
		}
	}
}

// retired are words that the screen and the manual have others for, which stand behind them.
var retired = []struct{ word, now string }{
	{`(?i)\bleft away\b|\bleave \w+ away\b`, "left out"},
	{`(?i)\bvalue of the plan\b|\bin value\b|\ba (?:lower )?value below\b`,
		"net wood cost"},
	{`(?i)\bcash\b`, "to pay at the yards"},
	{`(?i)\brack used\b|\brack returned\b`, "rack boards used, offcuts returned"},
	{`(?i)\b(?:at|its|their|the) worth\b|\bworth (?:of a|of the|by)\b`, "rack value"},
	{`\bfeasible\b`, "not proven cheapest"},
	{`(?i)goes to dust|nothing but dust|take dust off`, "shave"},
	{`(?i)\bstands beyond\b`, "cut on the far side of the mark"},
	{`(?i)\bblade stands\b`, "the blade has stopped"},
}

// What makers read has one word for one thing: no text that is printed, and none of the manual, has
// one of the retired words. plan.json keeps its words, and the manual names them in quotes of code.
func TestOneWordForOneThing(t *testing.T) {
	texts := prose(t)
	delete(texts, "DEVELOPERS.md")
	delete(texts, "benchmarks/README.md")
	for name, text := range texts {
		texts[name] = regexp.MustCompile("`(?:feasible|optimal)`").ReplaceAllString(text, "")
	}
	root, literals := os.DirFS("../.."), 0
	for file := range readSources(t).paths {
		if strings.HasPrefix(file, "io/page/") && strings.HasSuffix(file, ".html") {
			text, err := fs.ReadFile(root, file)
			if err != nil {
				t.Fatal(err)
			}
			texts[file] = string(text)
		}
		if !strings.HasSuffix(file, ".go") || strings.HasSuffix(file, "_test.go") ||
			!regexp.MustCompile(`^(?:cmd|io|model|nest/[a-z]+\.go)`).MatchString(file) ||
			strings.HasPrefix(file, "model/internal/") {
			continue
		}
		src, err := fs.ReadFile(root, file)
		if err != nil {
			t.Fatal(err)
		}
		f, err := parser.ParseFile(token.NewFileSet(), file, src, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			if l, ok := n.(*ast.BasicLit); ok && l.Kind == token.STRING && l.Value != `"feasible"` {
				texts[file], literals = texts[file]+l.Value+"\n", literals+1
			}
			return true
		})
	}
	if literals < 1000 {
		t.Errorf("only %d texts were looked at", literals)
	}
	for _, r := range retired {
		form := regexp.MustCompile(r.word)
		for name, text := range texts {
			if found := form.FindString(strings.Join(strings.Fields(text), " ")); found != "" {
				t.Errorf("%s: %q is said now in other words: %s", name, found, r.now)
			}
		}
	}
}

// session: the last command printed what README.md shows of it. Lines of three points stand there
// for any number of lines.
func session(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) > 0 {
		ts.Fatalf("usage: session")
	}
	readme, err := os.ReadFile("../../README.md")
	ts.Check(err)
	_, shown, found := strings.Cut(string(readme), "\n```\n$ ")
	shown, _, closed := strings.Cut(shown, "\n```\n")
	shown = shown[strings.IndexByte(shown, '\n')+1:]
	if lines := strings.Count(shown, "\n") + 1; !found || !closed || lines < 20 || lines > 40 {
		ts.Fatalf("README.md shows %d lines of a session, not 20 to 40", lines)
	}
	printed, at := "\n"+ts.ReadFile("stdout"), 0
	for n, lines := range strings.Split("\n"+shown+"\n", "\n...\n") {
		lines = "\n" + strings.TrimPrefix(lines, "\n")
		if !strings.HasSuffix(lines, "\n") {
			lines += "\n"
		}
		i := strings.Index(printed[at:], lines)
		if i < 0 || n == 0 && i > 0 {
			ts.Fatalf("README.md shows these lines, and they were not printed:\n%s", lines)
		}
		at += i + len(lines) - 1
	}
}

// pictured: a file is the picture of README.md that testdata/pictures has by that name; -update
// puts it there.
func pictured(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: pictured FILE")
	}
	kept, now := "testdata/pictures/"+args[0], ts.ReadFile(args[0])
	if *update {
		ts.Check(os.WriteFile("../../"+kept, []byte(now), 0o666))
	}
	readme, err := os.ReadFile("../../README.md")
	ts.Check(err)
	if !strings.Contains(string(readme), "]("+kept+")") {
		ts.Fatalf("README.md does not show %s", kept)
	}
	if was, err := os.ReadFile("../../" + kept); err != nil || string(was) != now {
		ts.Fatalf("%s is not what is drawn now; look at it, then run make pictures", kept)
	}
}

// charted: takes the chart out of a page and puts it into a file of its own.
func charted(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: charted PAGE FILE")
	}
	chart := regexp.MustCompile(`(?s)<svg [^>]*class="chart".*?</svg>\n`).
		FindString(ts.ReadFile(args[0]))
	if chart == "" {
		ts.Fatalf("%s has no chart", args[0])
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(chart), 0o666))
}
