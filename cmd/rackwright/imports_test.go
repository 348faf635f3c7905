package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// arrows says what each package may import of this module, and whether packages of others. A name
// that ends in /... is a folder with all below it; every other one is that package alone.
var arrows = []struct {
	folder string
	own    []string
	others bool
	why    string
}{
	{"model", nil, false, "model holds the words of the trade and what they mean, for all others"},
	{"model/beside", nil, false, "how things are done beside each other hangs on no thing"},
	{"model/check", []string{"model", "model/beside", "model/makeup"}, false,
		"the checker judges a plan by the meaning of its words alone: it trusts nobody"},
	{"model/proof", []string{"model", "model/check", "model/makeup", "model/proof/along",
		"model/proof/across", "model/proof/internal/integer", "model/proof/internal/patterns"},
		false,
		"the proof goes by the checker's reading and nothing of the solver"},
	{"model/proof/along", []string{"model", "model/proof/internal/integer",
		"model/proof/internal/patterns"}, false,
		"what a board gives along its length needs no plan and nothing of what lies across"},
	{"model/proof/across", []string{"model", "model/proof/internal/integer",
		"model/proof/internal/patterns"}, false,
		"what a board gives that may be ripped needs no plan and nothing of the other boards"},
	{"model/proof/internal/patterns", nil, false,
		"it keeps counts of items and what is worth most with them, and knows no board"},
	{"model/proof/internal/integer", nil, false, "it divides whole numbers and nothing else"},
	{"model/proof/internal/brute", []string{"model", "model/internal/handmade",
		"model/proof/along"}, false, "the brute forces are for the tests of the proof's rooms"},
	{"model/movement", []string{"model"}, false,
		"how wood moves hangs on a part and its species, and on no plan"},
	{"model/makeup", []string{"model"}, false,
		"how a part can be made up hangs on it and the wood there is, and on no plan"},
	{"model/internal/handmade", []string{"model", "model/makeup"}, false,
		"plans made by hand are for the tests of model's rooms"},
	{"nest/lp/...", []string{"nest/lp"}, false, "nest/lp is a linear program and nothing else"},
	{"nest/cutting", nil, false, "nest/cutting says what a program is, and solves nothing"},
	{"nest/price/along", []string{"nest/cutting", "nest/price", "nest/price/starts",
		"nest/price/counts"}, false,
		"nest/price/along prices a stock and knows neither the search nor the other pricers"},
	{"nest/price/across", []string{"nest/cutting", "nest/price", "nest/price/starts",
		"nest/price/counts", "nest/price/across/..."}, false,
		"nest/price/across prices a stock and knows neither the search nor the other pricers"},
	{"nest/price/counts", nil, false,
		"nest/price/counts packs counts into words, whatever they count"},
	{"nest/price/across/rows", []string{"nest/price", "nest/price/counts"}, false,
		"nest/price/across/rows lists rows of things, and knows no stock"},
	{"nest/price/across/offcuts", []string{"nest/cutting", "nest/price"}, false,
		"nest/price/across/offcuts knows spots and areas, and no piece"},
	{"nest/price/starts", nil, false,
		"nest/price/starts knows an axis and sizes, and no stock"},
	{"nest/price/coarse", []string{"nest/cutting", "nest/price"}, false,
		"nest/price/coarse has two pricers of a stock, whatever they are"},
	{"nest/price/rough", []string{"nest/cutting", "nest/price"}, false,
		"nest/price/rough prices a stock without tables, and knows no other pricer"},
	{"nest/price", []string{"nest/cutting", "nest/price/counts"}, false,
		"nest/price says what a pricer is, and makes none"},
	{"nest/cutstock", []string{"nest/lp", "nest/cutstock/cuts", "nest/cutstock/covers",
		"nest/cutting", "nest/price/...", "nest/internal/queue"},
		false, "nest/cutstock knows no words of the trade"},
	{"nest/cutstock/cuts", []string{"nest/lp", "nest/price"}, false,
		"nest/cutstock/cuts knows counts and costs of patterns, and no layout"},
	{"nest/cutstock/covers", []string{"nest/cutting", "nest/price"}, false,
		"nest/cutstock/covers knows staves and prices, and no boards"},
	{"nest/choosing", []string{"nest/cutting", "nest/cutstock", "nest/cutstock/cuts",
		"nest/internal/queue"}, false,
		"nest/choosing knows items and ways, and no words of the trade"},
	{"nest/openstacks", nil, false,
		"nest/openstacks puts products in a sequence and knows neither boards nor saws"},
	{"nest/baseline", []string{"nest/cutting", "nest/internal/queue"}, false,
		"nest/baseline knows no words of the trade, and nothing of the search"},
	{"nest/cutlist", []string{"model"}, false,
		"nest/cutlist writes rows in the words of the trade and knows nothing of the search"},
	{"nest/sawing", []string{"model", "nest/cutlist", "nest/openstacks",
		"nest/internal/queue"}, false,
		"nest/sawing orders the cuts of a plan that is written down, whatever found it"},
	{"nest/assign", []string{"nest/internal/queue"}, false,
		"nest/assign matches things at the least cost, whatever they are"},
	{"nest/reconcile", []string{"model", "nest/assign"}, false,
		"nest/reconcile sets a count against the rack, and knows no file and no book"},
	{"nest/rest", []string{"model"}, false,
		"nest/rest says what is left of a plan, and knows neither a book nor how it is planned"},
	{"nest/internal/queue", nil, false,
		"nest/internal/queue holds things by order, whatever they are"},
	{"nest/internal/sawtest", []string{"model"}, false,
		"the saw is for the tests of nest's rooms"},
	{"nest", []string{"model", "model/beside", "model/check", "model/proof", "model/makeup",
		"nest/cutlist", "nest/choosing", "nest/cutting", "nest/cutstock", "nest/cutstock/cuts",
		"nest/baseline", "nest/sawing"}, false,
		"nest is between the trade and the engine, and has its plans judged"},
	{"io/manual", nil, false, "io/manual is texts and nothing else"},
	{"io/textfile", []string{"model"}, false, "io/textfile knows bytes and text, and no format"},
	{"io/csvfile", []string{"model", "model/makeup", "io/textfile"}, true,
		"io/csvfile is one table at a time; which files there are is for io/folder"},
	{"io/settings", []string{"model", "io/textfile"}, true, "io/settings is shop.toml alone"},
	{"io/planfile", []string{"model", "model/makeup", "io/textfile"}, false,
		"io/planfile is plan.json alone, and of what its parts are made"},
	{"io/folder",
		[]string{"model", "model/makeup", "io/csvfile", "io/settings", "io/planfile",
			"io/textfile"}, false,
		"io/folder knows which files there are; what stands in them is for the rooms of the files"},
	{"io/table", nil, true, "io/table sets cells in columns, whatever they say"},
	{"io/layout", []string{"model", "model/makeup"}, false,
		"io/layout reads what a plan says of its boards, for whoever words or draws it"},
	{"io/drawing", []string{"model", "io/layout"}, true,
		"io/drawing draws what a plan says of a board; words beside it are for io/report"},
	{"io/internal/madeup", []string{"model", "model/makeup", "nest"}, false,
		"the job whose parts are made up is for the tests of io's rooms"},
	{"io/report", []string{"model", "model/movement", "model/makeup", "io/table", "io/layout"},
		false,
		"io/report words a plan for people; it reads no file and knows no form of one"},
	{"io/page", []string{"model", "model/makeup", "io/layout", "io/drawing", "io/report",
		"io/table"}, false,
		"io/page sets the words of a plan out for a browser; it reads no file"},
	{"io/papers", []string{"model", "model/makeup", "io/layout", "io/drawing", "io/report"}, true,
		"io/papers sets on paper what io/report words, and reads no file"},
	{"io/book/pages", nil, false,
		"io/book/pages reads rows off pages without SQLite, whatever they say"},
	{"io/book", []string{"model", "io/book/pages"}, true,
		"io/book keeps what happened to boards; what files the rack has is for io/folder"},
	{"io/outcome", []string{"model", "io/book"}, false,
		"io/outcome says in the book's words what became of boards, and enters nothing"},
	{"benchmarks/...", []string{"model", "model/check", "model/makeup", "model/proof", "io/...",
		"nest/...", "benchmarks/..."}, true, "benchmarks stand above all but cmd"},
	{"cmd/rackwright/screen", []string{"model"}, true,
		"screen is what the program writes to, whatever it says"},
	{"cmd/rackwright/command", []string{"model/beside", "cmd/rackwright/screen", "io/report"}, true,
		"command is what all commands need of the world, and knows none of them"},
	{"cmd/rackwright/place", []string{"model/beside", "cmd/rackwright/command", "io/folder"}, false,
		"place puts bytes in place, whatever they say"},
	{"cmd/rackwright/shopbook", []string{"model", "model/check", "model/proof", "io/folder",
		"io/book", "io/outcome", "io/report", "io/papers", "nest/reconcile", "nest/rest",
		"cmd/rackwright/command", "cmd/rackwright/place"}, true,
		"shopbook is the commands of a shop folder, and plans nothing"},
	{"cmd/rackwright", []string{"model", "model/beside", "model/check", "model/proof",
		"model/movement", "model/makeup",
		"io/folder", "io/layout", "io/report", "io/drawing", "io/page", "io/papers", "io/manual",
		"io/table", "nest", "cmd/rackwright/..."}, true,
		"cmd wires the others together, and leaves the files to io/folder"},
}

// Imports point down: cmd to nest and io, both to model; model never to nest.
func TestImportArrows(t *testing.T) {
	const module = "rackwright/"
	root := os.DirFS("../..")
	seen := map[string]bool{}
	err := fs.WalkDir(root, ".", func(file string, d fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(file, ".go") || strings.HasSuffix(file, "_test.go") {
			return err
		}
		src, err := fs.ReadFile(root, file)
		if err != nil {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), file, src, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, a := range arrows {
			if !in(path.Dir(file), a.folder) {
				continue
			}
			seen[a.folder] = true
			for _, s := range f.Imports {
				name, _ := strconv.Unquote(s.Path.Value)
				own, ours := strings.CutPrefix(name, module)
				switch {
				case ours && !slices.ContainsFunc(a.own, func(f string) bool { return in(own, f) }):
					t.Errorf("%s imports %s: %s", file, name, a.why)
				case !ours && strings.Contains(strings.Split(name, "/")[0], ".") && !a.others:
					t.Errorf("%s imports %s: only the standard library may be used there, since %s",
						file, name, a.why)
				}
			}
			return nil
		}
		t.Errorf("%s lies in no package that the layout knows: give it a row with its reason", file)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range arrows {
		if !seen[a.folder] {
			t.Errorf("no file of %s was looked at", a.folder)
		}
	}
}

// in says whether a package is the one named, or below a folder named so.
func in(pkg, name string) bool {
	folder, all := strings.CutSuffix(name, "/...")
	return pkg == folder || all && strings.HasPrefix(pkg, folder+"/")
}
