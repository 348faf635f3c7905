package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"regexp"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"testing"

	"rackwright/io/planfile"
	"rackwright/model"
	"rackwright/nest"
)

// noPlans is a node of a proof in which no choice of ways gives what is wanted: it may say nothing.
var noPlans = regexp.MustCompile(
	`\.choice\.(low|high)(\.duals)?( -> null| -> \[\]|: deleted)$`)

// harmless are the changes that state nothing false; each must be met with. More may have to hold
// of the texts found.
var harmless = []struct {
	why  string
	what *regexp.Regexp
	more func(w *walk, found []string) bool
}{
	{"the certificate still proves the very bound that is stated: the leaf is not the least, or " +
		"the change is less than what is rounded",
		regexp.MustCompile(`\.certificate\.(items\[\d+\]|root(\.(split|choice)\.(low|high))*\.(` +
			`list\.(cuts|struck).*|list\.target|within\[\d+\]\.gives|(list\.)?(duals|cut_duals)\[\d+\]))` +
			`( and \[\d+\]: change places| \d+ -> \d+| -> null)?$`),
		nil},
	{"a split elsewhere parts all plans as well, and both sides still prove the bound; stock -1 " +
		"stands for all boards bought",
		regexp.MustCompile(`\.(split|choice)\.((stock|want|way|at_most)( \d+ -> \d+| -> null|` +
			`: deleted)|stock \d+ -> -1)$`), nil},
	{"a stock is worked out that was bounded by area, which proves no less",
		regexp.MustCompile(`\.stocks\[\d+\]\.rough( true -> false|: deleted| -> null)$`), nil},
	{"the order of these lists says nothing",
		regexp.MustCompile(`\.(shortages|copies|groups|stocks|boards|within)\[\d+\] and \[\d+\]: ` +
			`change places$`),
		nil},
	{"of the way that order.csv does not follow no more is told than what it takes",
		regexp.MustCompile(`\.work\.ways\[1\]\.(open \d+ -> \d+|exact.*)$`), nil},
	{"an order may go both ways: pass by pass, and board by board",
		regexp.MustCompile(`\.work\.order time -> clutter$`), nil},
	{"how a search without a proof ended leaves no trace that could be judged",
		regexp.MustCompile(`\.groups\[(\d+)\]\.ended [a-z ]+ -> (finished|work ` +
			`limit|clock|interrupted)$`),
		func(w *walk, f []string) bool {
			n, err := strconv.Atoi(f[1])
			return err == nil && w.proofs()[n] != model.Optimal
		}},
}

// saysWhere is how a line begins that says what is wrong: with the file that it is wrong in.
var saysWhere = regexp.MustCompile(
	`(?m)^(plan\.json|shop\.toml|(buy|commissions|costs|cuts|defects|glue_ups|marks|parts|order|rack|` +
		`yard)\.csv):`)

// walk counts what came of the changes of a plan.
type walk struct {
	*scene
	t                     *testing.T
	tried, rejected, same int
	true                  int   // of another job as well
	let                   []int // times that each of the harmless was met
	seen                  map[string]bool
}

// mate is where some facts of a table stand as well: ids of offcuts, and the boards that have
// defects. It may be named in place of the table.
var mate = map[string]string{"cuts.csv": "rack.csv", "rack.csv": "defects.csv"}

// Of glue-ups glue_ups.csv says what the cuts say, too.
var glueUps = map[string]string{"cuts.csv": "glue_ups.csv"}

// try judges one change. What is in a table of the plan is judged without the job's files, and the
// table is to be named.
func (w *walk) try(what string, changed files) {
	w.t.Helper()
	name := slices.Collect(maps.Keys(changed))[0]
	table, isTable := strings.CutPrefix(name, "out/")
	isTable = isTable && table != "plan.json" && len(changed) == 1
	code, said, same := w.verify(w.t, changed, !isTable)
	named := !isTable || strings.Contains(said, table) || mate[table] != "" &&
		strings.Contains(said, mate[table]) || glueUps[table] != "" &&
		strings.Contains(said, glueUps[table])
	w.tried++
	switch {
	case code == exitBad && saysWhere.MatchString(said) && named:
		w.rejected++
	case code == exitDone && same:
		w.same++
	case code == exitDone && w.isHarmless(what):
	default:
		w.t.Errorf("%s: %s: exit code %d %s", w.name, what, code, said)
	}
}

func (w *walk) isHarmless(what string) bool {
	if noPlans.MatchString(what) {
		return true
	}
	for i, h := range harmless {
		if found := h.what.FindStringSubmatch(what); found != nil &&
			(h.more == nil || h.more(w, found)) {
			w.let[i]++
			return true
		}
	}
	return false
}

// proofs are what is said of the groups of the plan as it was made.
func (w *walk) proofs() (out []model.Proof) {
	_, plan, err := planfile.Read(strings.NewReader(w.was["out/plan.json"]))
	if err != nil {
		w.t.Fatal(err)
	}
	for _, g := range plan.Groups {
		out = append(out, g.Proof)
	}
	return out
}

// first says whether this is the first of the places that are alike but for their numbers.
func (w *walk) first(path string) bool {
	path = numbers.ReplaceAllString(path, "")
	again := w.seen[path]
	w.seen[path] = true
	return !again
}

var numbers = regexp.MustCompile(`\d+`)

// steps are the smallest changes of a number, by column; a length's is a unit of 1/320 mm.
func (w *walk) step(column string) string {
	switch column {
	case "from", "to", "left", "right", "length", "longest", "setting", "width", "thickness",
		"net_width", "glued_width", "cut_to":
		if w.unit == model.Inch {
			return "0.000123"
		}
		return "0.003125"
	case "price", "total", "tax", "cost", "yard_cost", "rack_cost", "handling", "ripping",
		"offcut_credit", "value":
		return "0.0001"
	case "tally":
		return "0.000001"
	case "step", "copy", "qty", "pass", "sequence", "available", "spare":
		return "1"
	}
	return ""
}

// words are all that a cell or a value of this name may say.
var words = map[string][]string{
	"saw": {"crosscut", "rip"}, "order": {"time", "clutter"}, "way": {"time", "clutter"},
	"origin": {"rack", "yard"}, "face": {"show", "sound", "hidden"},
	"kind":  {"trim", "part", "kerf", "defect", "waste", "offcut"},
	"proof": {"optimal", "feasible", "infeasible", "unknown"},
	"ended": {"finished", "work limit", "clock", "interrupted"}, "units": {"in", "mm"},
	"since": {"2027-03-02", "2026-11-02"}, "due": {"2027-03-13", "2027-03-30"},
	"reason": append(slices.Clone(model.Hindrances), "x"),
}

// others are the cells that take the place of one, the plainest change first: a number a step more
// or less, a letter more, another word that is known there; then nothing, or something where there
// is nothing; then others of its column.
func (w *walk) others(column string, table [][]string, i, at int) (out []string) {
	cell, step := table[i][at], w.step(column)
	switch {
	case cell != "" && step != "":
		out = append(out, moved(cell, "+"+step), moved(cell, "-"+step), moved(cell, "+1"))
	case len(words[column]) > 0:
		out = append(out, words[column]...)
	case cell == "" && step == "":
		out = append(out, "x")
	case cell == "":
		out = append(out, "1")
	default:
		out = append(out, cell+"x")
	}
	out = append(out, "")
	for k := 1; k < len(table) && k <= 2; k++ { // from the middle on, as neighbours are often alike
		out = append(out, table[1+(i+len(table)/2+k)%(len(table)-1)][at])
	}
	met := map[string]bool{cell: true}
	return slices.DeleteFunc(out, func(o string) bool {
		again := met[o]
		met[o] = true
		return again
	})
}

// table changes every cell of a table, every row and every name of its header; of the cuts the
// cells of the last row and of the first of each kind, of ripped boards the first of each kind on
// each.
func (w *walk) table(name string) {
	rows := readTable(w.t, w.was[name])
	for at, column := range rows[0] {
		if !slices.ContainsFunc(rows[1:], func(row []string) bool { return row[at] != "" }) {
			w.t.Errorf("%s: %s has nothing in column %s: the job is no good for this test", w.name,
				name, column)
		}
	}
	try := func(what string, rows [][]string) {
		w.try(name+" "+what, files{name: writeTable(w.t, rows)})
	}
	for i := range rows {
		for at, column := range rows[0] {
			if i > 0 && name == "out/cuts.csv" && !firstOfKind(rows, i, w.name == "ripped") &&
				i < len(rows)-1 {
				break
			}
			old := rows[i][at]
			others := []string{old + "x"}
			if i > 0 {
				others = w.others(column, rows, i, at)
			}
			for _, to := range others {
				rows[i][at] = to
				try(fmt.Sprintf("line %d %s: %s -> %s", i+1, column, old, to), rows)
			}
			rows[i][at] = old
		}
		try(fmt.Sprintf("line %d taken out", i+1), slices.Delete(slices.Clone(rows), i, i+1))
		try(fmt.Sprintf("line %d twice", i+1), slices.Insert(slices.Clone(rows), i, rows[i]))
		if i+1 < len(rows) {
			rows[i], rows[i+1] = rows[i+1], rows[i]
			try(fmt.Sprintf("lines %d and %d change places", i+1, i+2), rows)
			rows[i], rows[i+1] = rows[i+1], rows[i]
		}
	}
	for at := 1; at < len(rows[0]); at++ {
		rows[0][at-1], rows[0][at] = rows[0][at], rows[0][at-1]
		try(fmt.Sprintf("columns %s and %s change names", rows[0][at], rows[0][at-1]), rows)
		rows[0][at-1], rows[0][at] = rows[0][at], rows[0][at-1]
	}
}

// document changes every value, list and object of plan.json, but for what is left out.
func (w *walk) document(leftOut []string) {
	top := decodeTree(w.t, w.was["out/plan.json"])
	try := func(what string) {
		w.try("plan.json "+what, files{"out/plan.json": encodeTree(w.t, top)})
	}
	var visit func(path, key string, v any, set func(any))
	visit = func(path, key string, v any, set func(any)) {
		if slices.Contains(leftOut, path) {
			return
		}
		first := w.first(path)
		change := func(what string, to any) {
			set(to)
			try(path + what)
			set(v)
		}
		if v != nil && first {
			change(" -> null", nil)
		}
		switch v := v.(type) {
		case map[string]any:
			for _, k := range slices.Sorted(maps.Keys(v)) {
				child := v[k]
				visit(path+"."+k, k, child, func(to any) { v[k] = to })
				if w.first(path + "." + k + "?") {
					delete(v, k)
					try(path + "." + k + ": deleted")
					v[k+"x"] = child
					try(path + "." + k + ": renamed")
					delete(v, k+"x")
					v[k] = child
				}
			}
			if first {
				v["more"] = json.Number("0")
				try(path + ": more added")
				delete(v, "more")
			}
		case []any:
			for i, child := range v {
				visit(fmt.Sprintf("%s[%d]", path, i), key, child, func(to any) { v[i] = to })
				change(fmt.Sprintf("[%d]: taken out", i), slices.Delete(slices.Clone(v), i, i+1))
				change(fmt.Sprintf("[%d]: twice", i), slices.Insert(slices.Clone(v), i, child))
				if i > 0 {
					other := slices.Clone(v)
					other[i-1], other[i] = other[i], other[i-1]
					change(fmt.Sprintf("[%d] and [%d]: change places", i-1, i), other)
				}
			}
			if len(v) > 1 {
				change(" -> []", []any{})
			}
		default:
			values := w.values(key, v)
			if strings.HasPrefix(path, ".job.") { // all of it is compared as a whole
				values = values[:1]
				if !first {
					values = nil
				}
			}
			for _, to := range values {
				change(fmt.Sprintf(" %v -> %v", v, to), to)
			}
		}
	}
	visit("", "", top, func(to any) { top = to })
}

// values are what takes the place of a single value.
func (w *walk) values(key string, v any) (out []any) {
	switch v := v.(type) {
	case nil:
		out = append(out, json.Number("0"), json.Number("1"))
	case bool:
		out = append(out, !v)
	case string:
		for _, s := range append([]string{v + "x", ""}, words[key]...) {
			if s != v {
				out = append(out, s)
			}
		}
	case json.Number:
		by := []string{"+1", "-1"}
		if strings.Contains(v.String(), ".") {
			by = []string{"+0.0001", "-0.0001", "+1"}
		}
		for _, by := range by {
			out = append(out, json.Number(moved(v.String(), by)))
		}
	}
	return out
}

// inputs changes every cell of the job's tables, and every number of its settings.
func (w *walk) inputs() {
	for _, name := range []string{"commissions.csv", "defects.csv", "parts.csv", "rack.csv",
		"yard.csv"} {
		rows := readTable(w.t, w.was[name])
		for i := 1; i < len(rows); i++ {
			for at, column := range rows[0] {
				old := rows[i][at]
				rows[i][at] = w.others(column, rows, i, at)[0]
				w.input(fmt.Sprintf("%s line %d %s: %s -> %s", name, i+1, column, old, rows[i][at]),
					name, writeTable(w.t, rows), w.first(name+column))
				rows[i][at] = old
			}
		}
	}
	lines := strings.Split(w.was["shop.toml"], "\n")
	for i, old := range lines {
		if at := setting.FindStringSubmatchIndex(old); at != nil {
			lines[i] = old[:at[2]] + moved(old[at[2]:at[3]], "+0.125") + old[at[3]:]
			w.input(fmt.Sprintf("shop.toml line %d: %s -> %s", i+1, old, lines[i]), "shop.toml",
				strings.Join(lines, "\n"), true)
			lines[i] = old
		}
	}
}

var setting = regexp.MustCompile(`^\w+ = "?([\d./]+)`)

// input changes a file of the job, and says that the plan is one of the job as it now is; at times
// with no more than the hash made right as well.
func (w *walk) input(what, name, text string, hash bool) {
	f := maps.Clone(w.was)
	f[name] = text
	job, err := f.job()
	if err != nil { // no job at all
		w.try(what, files{name: text})
		return
	}
	if hash {
		rehash(w.t, f)
		w.try(what+", and its hash", files{name: text, "out/plan.json": f["out/plan.json"]})
	}
	takeIn(w.t, f)
	w.other(what, files{name: text, "out/plan.json": f["out/plan.json"]}, job)
}

// other judges a plan that is said to be of another job. What is accepted may be one: the solver
// does not find that its bound is too high, or its value too low.
func (w *walk) other(what string, changed files, job *model.Job) {
	code, said, _ := w.verify(w.t, changed, true)
	w.tried++
	if code == exitBad && saysWhere.MatchString(said) {
		w.rejected++
		return
	}
	plan, err := nest.Plan(w.t.Context(), job, nest.Options{Work: 2e7, Threads: 1})
	if code != exitDone || err != nil {
		w.t.Fatalf("%s: %s: exit code %d %s %v", w.name, what, code, said, err)
	}
	_, ours, err := planfile.Read(strings.NewReader(w.was["out/plan.json"]))
	if err != nil {
		w.t.Fatal(err)
	}
	if w.true++; ours.Bound > plan.Value || ours.Value < plan.Bound {
		w.t.Errorf("%s: %s: accepted with value %v and bound %v, yet %v can be had and %v is "+
			"proven",
			w.name, what, ours.Value, ours.Bound, plan.Value, plan.Bound)
	}
}

// TestEveryFieldIsJudged changes every field of every file of five plans, in every way that suits
// it: each change is rejected, or else the plan reads as it was, or the change is one of those that
// state nothing false.
func TestEveryFieldIsJudged(t *testing.T) {
	// the program runs thousands of times in this process
	defer debug.SetGCPercent(debug.SetGCPercent(400))
	let := make([]int, len(harmless))
	bench, rail, hurried := set(t, "bench", benchJob), set(t, "rail", railJob).split(t),
		set(t, "hurried", railJob, "--time", "1ns")
	ripped, split := set(t, "ripped", rippedJob), set(t, "split", splitJob)
	for _, part := range []struct {
		*scene
		tables  []string
		leftOut []string // of plan.json
	}{
		{bench, []string{"cuts", "buy", "rack", "defects", "order", "costs"}, nil},
		{ripped, []string{"cuts", "rack", "defects", "order", "costs"}, nil},
		{split, []string{"cuts", "order", "costs"}, nil},
		{rail, []string{"buy", "order", "costs"}, []string{".job"}},
		{hurried, nil, []string{".job", ".placements"}},
	} {
		w := &walk{scene: part.scene, t: t, let: let, seen: map[string]bool{}}
		for _, name := range part.tables {
			w.table("out/" + name + ".csv")
		}
		tables := w.tried
		w.document(part.leftOut)
		document := w.tried
		if w.scene == bench || w.scene == ripped || w.scene == split {
			w.inputs()
		}
		t.Logf("%s: %d changes of tables, %d of plan.json, %d of the job; %d rejected, %d read "+
			"as before, %d true of the other job",
			w.name, tables, document-tables, w.tried-document, w.rejected, w.same, w.true)
	}
	for i, h := range harmless {
		t.Logf("%d let pass: %s", let[i], h.why)
		if let[i] == 0 {
			t.Errorf("no change was let pass because %s; take that out", h.why)
		}
	}
}

// firstOfKind says whether a row of the cuts is the first of its kind, of its origin or of its
// board.
func firstOfKind(cuts [][]string, i int, ofBoard bool) bool {
	origin, kind := slices.Index(cuts[0], "origin"), slices.Index(cuts[0], "kind")
	if ofBoard {
		origin = slices.Index(cuts[0], "board")
	}
	return i == slices.IndexFunc(cuts, func(row []string) bool {
		return row[origin] == cuts[i][origin] && row[kind] == cuts[i][kind]
	})
}
