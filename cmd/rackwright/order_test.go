package main

import (
	"bytes"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// plank is a piece on the floor of a little workshop: rows of cuts.csv that still hang together,
// and the pass and unit of the last cut that it came of.
type plank struct {
	rows       []map[string]string
	pass, unit int
}

// span is from where to where a plank or row reaches: along it, or across.
func span(rows []map[string]string, from, to string) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, r := range rows {
		a, _ := strconv.ParseFloat(r[from], 64)
		b, _ := strconv.ParseFloat(r[to], 64)
		low, high = min(low, a), max(high, b)
	}
	return low, high
}

// rowsOf reads a table by its columns.
func rowsOf(t *testing.T, text string) (out []map[string]string) {
	t.Helper()
	table := readTable(t, text)
	for _, cells := range table[1:] {
		row := map[string]string{}
		for i, c := range cells {
			row[table[0][i]] = c
		}
		out = append(out, row)
	}
	return out
}

// workshop saws a plan by its papers alone, and counts.
type workshop struct {
	t               *testing.T
	floor           map[string][]plank // by board
	units, lastUnit int
	stands          map[string]string // by saw: material, section and setting
	settings, lifts int
}

// saw makes one cut of order.csv: along the rows that its step turns into dust, and the trims that
// it takes off.
func (w *workshop) saw(row map[string]string) {
	w.t.Helper()
	from, to := "from", "to"
	if row["saw"] == "rip" {
		from, to = "left", "right"
	}
	dust := func(r map[string]string) bool {
		return r["step"] == row["step"] && (r["kind"] == "kerf" || r["kind"] == "trim")
	}
	planks := w.floor[row["board"]]
	at := slices.IndexFunc(planks, func(p plank) bool { return slices.ContainsFunc(p.rows, dust) })
	if at < 0 {
		w.t.Fatalf("%v cuts nothing", row)
	}
	in := planks[at]
	came := []plank{in}
	for _, d := range in.rows {
		if !dust(d) {
			continue
		}
		n := slices.IndexFunc(came, func(p plank) bool {
			return slices.ContainsFunc(p.rows, func(r map[string]string) bool {
				return r["from"] == d["from"] && r["left"] == d["left"]
			})
		})
		low, high := span([]map[string]string{d}, from, to)
		var near, far plank
		for _, r := range came[n].rows {
			a, b := span([]map[string]string{r}, from, to)
			switch {
			case a >= low && b <= high:
			case b <= low:
				near.rows = append(near.rows, r)
			case a >= high:
				far.rows = append(far.rows, r)
			default:
				w.t.Fatalf("%v goes through %v", row, r)
			}
		}
		came = slices.DeleteFunc(slices.Replace(came, n, n+1, near, far),
			func(p plank) bool { return len(p.rows) == 0 })
	}
	w.count(row, &in, came, from, to)
	w.floor[row["board"]] = slices.Replace(planks, at, at+1, came...)
}

// count counts a cut, and sees that what came of it is what the row says.
func (w *workshop) count(row map[string]string, in *plank, came []plank, from, to string) {
	w.t.Helper()
	pass, _ := strconv.Atoi(row["pass"])
	unit := in.unit
	if in.pass != pass {
		w.units++
		unit = w.units
	}
	if unit != w.lastUnit {
		w.lifts++
	}
	w.lastUnit = unit
	wood := in.rows[0]["material"] + " " + in.rows[0]["section"] + " " + row["setting"]
	if row["setting"] != "" && w.stands[row["saw"]] != wood {
		w.stands[row["saw"]] = wood
		w.settings++
	}
	fits := row["setting"] == ""
	var parts []string
	for i := range came {
		came[i].pass, came[i].unit = pass, unit
		low, high := span(came[i].rows, from, to)
		size, _ := strconv.ParseFloat(row["setting"], 64)
		fits = fits || math.Abs(high-low-size) < 1e-6
		for _, r := range came[i].rows {
			parts = append(parts, strings.Join(
				[]string{r["commission"], r["part"], r["copy"]}, ", "), r["offcut"])
		}
	}
	if !fits {
		w.t.Errorf("%v: nothing that comes of it is as long or as wide as its setting", row)
	}
	for _, name := range strings.Split(row["piece"], "; ") {
		if !slices.Contains([]string{"trim", "waste", "ripped span"}, name) &&
			!slices.Contains(parts, name) {
			w.t.Errorf("%v: %s does not come of it", row, name)
		}
	}
}

// The papers are sawn by in a little workshop that knows nothing but cuts.csv and order.csv: each
// cut can be made when its turn comes, a piece is as long or as wide as stop or fence stand, and in
// the end each part lies there by itself. Settings and lifts are what plan.json says.
func TestOrderCanBeSawn(t *testing.T) {
	for _, job := range []struct {
		name  string
		files files
	}{{"bench", benchJob}, {"ripped", rippedJob}, {"split", splitJob}} {
		for n, way := range []string{"time", "clutter"} {
			s := set(t, job.name, job.files, "--order", way)
			w := &workshop{t: t, floor: map[string][]plank{}, stands: map[string]string{}}
			for _, r := range rowsOf(t, s.was["out/cuts.csv"]) {
				b := w.floor[r["board"]]
				if b == nil {
					b = []plank{{}}
				}
				b[0].rows = append(b[0].rows, r)
				w.floor[r["board"]] = b
			}
			for _, row := range rowsOf(t, s.was["out/order.csv"]) {
				w.saw(row)
			}
			for board, planks := range w.floor {
				for _, p := range planks {
					parts := slices.ContainsFunc(p.rows, func(r map[string]string) bool {
						return r["kind"] == "part" || r["kind"] == "offcut"
					})
					if len(p.rows) > 1 && parts {
						t.Errorf("%s, %s: board %s: %v is not cut up", job.name, way, board, p.rows)
					}
				}
			}
			_, plan, err := readPlan(filepath.Join(s.dir, "out"))
			if err != nil {
				t.Fatal(err)
			}
			if said := plan.Work.Ways[n]; said.Settings != w.settings || said.Lifts != w.lifts ||
				string(plan.Work.Order) != way {
				t.Errorf("%s, %s: sawn with %d settings and %d lifts, plan.json says %+v", job.name,
					way, w.settings, w.lifts, plan.Work)
			}
			fences(t, s)
		}
	}
}

var shownCut = regexp.MustCompile(`(?m)^ {1,3}(\d+)  (.*(?:\n {6}.*)*)`)

// fences sees that show words each rip with the fence where order.csv has it.
func fences(t *testing.T, s *scene) {
	t.Helper()
	if s.unit != "mm" {
		return
	}
	shown := map[string]map[string]string{} // by board, by step
	for _, row := range rowsOf(t, s.was["out/order.csv"]) {
		if row["saw"] != "rip" {
			continue
		}
		if shown[row["board"]] == nil {
			text := wordsOf(t, s, row["board"])
			shown[row["board"]] = map[string]string{}
			for _, m := range shownCut.FindAllStringSubmatch(text, -1) {
				shown[row["board"]][m[1]] = strings.Join(strings.Fields(m[2]), " ")
			}
		}
		want := "fence " + row["setting"] + " mm"
		if got := shown[row["board"]][row["step"]]; !strings.Contains(got, want) {
			t.Errorf("board %s, step %s: show says %q, order.csv %s", row["board"], row["step"],
				got, want)
		}
	}
}

// wordsOf is what show prints of a board.
func wordsOf(t *testing.T, s *scene, board string) string {
	t.Helper()
	var out, said bytes.Buffer
	if code := run(t.Context(), []string{"show", filepath.Join(s.dir, "out"), board}, &out,
		&said); code != exitDone {
		t.Fatal(said.String())
	}
	return plain.Replace(out.String())
}
