package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"rackwright/cmd/rackwright/shopbook"
	"rackwright/io/book"
	"rackwright/io/folder"
	"rackwright/model"
)

// What is wanted in each of six months, as rows of parts.csv.
var sixMonths = []string{
	"C-1 bench,leg,4,pine,17 1/4,3,1 1/4\nC-1 bench,slat,5,pine,46,3,1 1/4\n" +
		"C-1 bench,rail,2,pine,40,3,1 1/4\nC-1 bench,drawer,1,oak,16,5,3/4\n",
	"C-2 table,leg,4,pine,28,3,1 1/4\nC-2 table,apron,2,pine,44,3 1/4,1 1/4\n" +
		"C-2 table,end,2,pine,22,3 1/4,1 1/4\nC-2 table,drawer,2,oak,16,5,3/4\n",
	"C-3 stools,leg,12,pine,16,2 3/4,1 1/4\nC-3 stools,stretcher,9,pine,13,2 1/2,1 1/4\n" +
		"C-4 shelf,shelf,4,oak,30,6,3/4\n",
	"C-5 desk,leg,4,pine,27 1/2,3,1 1/4\nC-5 desk,rail,6,pine,33,3 1/4,1 1/4\n" +
		"C-5 desk,stave,5,oak,36,5 1/2,3/4\n",
	"C-6 rack,post,6,pine,61,3,1 1/4\nC-6 rack,bar,12,pine,19 1/2,2 1/2,1 1/4\n",
	"C-7 bench,leg,8,pine,17 1/4,3,1 1/4\nC-7 bench,slat,8,pine,47,3,1 1/4\n" +
		"C-8 box,side,4,oak,14,6,3/4\n",
}

// A shop of six months goes through plan, book, receive, done, replan, count and reconcile, with a
// board short, one not delivered, parts spoiled, and a split found at the saw. The book is sound
// after each step, each piece is cut well once, and no wood is lost or made.
func TestSixMonths(t *testing.T) {
	h := &shopYear{t: t, shop: filepath.Join(t.TempDir(), "shop")}
	lay(t, h.shop, map[string]string{
		"shop.toml": "",
		"yard.csv": "material,section,length,price,available,width\n" +
			"pine,2x4,96,6.20,,\npine,2x4,120,8.10,,\n" +
			"oak,4/4,98,41.00,1,7 1/4\noak,4/4,100,39.50,1,6 3/4\noak,4/4,96,44,,7\n",
		"rack.csv": "board,material,section,length,width,bin\n" +
			"B-1,pine,2x4,60 1/2,,A\nB-2,oak,4/4,48,6 1/2,B\n",
		"defects.csv": "board,from,to,kind\nB-1,12,13,knot\n",
	})
	for m, parts := range sixMonths {
		h.month(m+1, parts)
	}
	if h.short == 0 || h.missing == 0 || h.spoiled == 0 || h.split == 0 {
		t.Errorf("the year had %d short boards, %d not delivered, %d spoiled parts, %d splits",
			h.short, h.missing, h.spoiled, h.split)
	}
	h.conserved()
}

// shopYear is what a maker does with an invented shop over a year.
type shopYear struct {
	t    *testing.T
	shop string
	date string // of what is entered now

	short, missing, spoiled, split int // surprises so far
}

// run runs a command that must succeed, and audits the book.
func (h *shopYear) run(args ...string) string {
	h.t.Helper()
	var out, errs bytes.Buffer
	if code := run(h.t.Context(), args, &out, &errs); code != exitDone {
		h.t.Fatalf("%s: rackwright %s: exit code %d\n%s%s", h.date, strings.Join(args, " "), code,
			&out, &errs)
	}
	if _, err := os.Stat(filepath.Join(h.shop, shopbook.BookFile)); err == nil {
		if code, said := rackwright(h.t, "audit", h.shop, "--quiet"); code != exitDone {
			h.t.Fatalf("%s: after rackwright %s: %s", h.date, strings.Join(args, " "), said)
		}
	}
	return out.String()
}

// month plans, buys, cuts and counts a month.
func (h *shopYear) month(m int, parts string) {
	name := fmt.Sprintf("2027-%02d", m)
	dir, out := filepath.Join(h.shop, name), filepath.Join(h.shop, name, "out")
	lay(h.t, dir, map[string]string{
		"parts.csv": "commission,part,qty,material,length,width,thickness\n" + parts})
	h.date = name + "-04"
	h.run("check", dir)
	h.run("plan", dir, "--work", "300", "--date", h.date, "--quiet")
	h.run("verify", out, "--job", dir, "--quiet")
	h.run("book", out, "--date", h.date)
	if code, said := rackwright(h.t, "plan", dir, "--quiet"); code != exitBad ||
		!strings.Contains(said, "replan") {
		h.t.Errorf("a booked plan is written over: %d %s", code, said)
	}

	h.date = name + "-06"
	h.receive(out)
	h.date = name + "-10"
	for h.saw(out) {
		h.date = h.date[:8] + "12"
		h.run("replan", out, "--work", "300", "--date", h.date, "--quiet")
		out = h.revision(out)
		h.run("verify", out, "--quiet")
		h.run("book", out, "--date", h.date)
		if len(h.life(out).Expected) > 0 {
			h.run("receive", out, "--date", h.date)
		}
	}
	if l := h.life(out); !l.Over() {
		h.t.Errorf("%s: something is left to do: %+v", out, l)
	}
	h.wellCut(name, parts)

	h.date = name + "-27"
	h.count(m)
}

// life is what became of a plan.
func (h *shopYear) life(out string) *book.Life {
	h.t.Helper()
	b, err := book.Open(filepath.Join(h.shop, shopbook.BookFile))
	if err != nil {
		h.t.Fatal(err)
	}
	defer b.Close()
	lives, err := b.Lives()
	if err != nil {
		h.t.Fatal(err)
	}
	name, err := filepath.Rel(h.shop, out)
	life := book.Find(lives, filepath.ToSlash(name))
	if err != nil || life == nil {
		h.t.Fatalf("%s is not booked (%v)", out, err)
	}
	return life
}

// revision is the folder of the plan that took the place of another.
func (h *shopYear) revision(out string) string {
	all, err := filepath.Glob(filepath.Join(filepath.Dir(out), "out-*"))
	if err != nil || len(all) == 0 {
		h.t.Fatalf("there is no revision of %s (%v)", out, err)
	}
	return all[len(all)-1]
}

// table is a file of rows by column.
func (h *shopYear) table(path string) (header []string, rows []map[string]string) {
	h.t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		h.t.Fatal(err)
	}
	all, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		h.t.Fatal(path, err)
	}
	for _, r := range all[1:] {
		row := map[string]string{}
		for i, cell := range r {
			row[all[0][i]] = cell
		}
		rows = append(rows, row)
	}
	return all[0], rows
}

// write writes a table to a file.
func (h *shopYear) write(path string, header []string, rows []map[string]string) {
	h.t.Helper()
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	all := [][]string{header}
	for _, r := range rows {
		var row []string
		for _, column := range header {
			row = append(row, r[column])
		}
		all = append(all, row)
	}
	if err := w.WriteAll(all); err != nil {
		h.t.Fatal(err)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o666); err != nil {
		h.t.Fatal(err)
	}
}

// receive has the bought boards come: the first an inch and a half short, in every other month the
// last not at all.
func (h *shopYear) receive(out string) {
	life := h.life(out)
	if len(life.Buys) == 0 {
		return
	}
	came := h.t.TempDir()
	header := []string{"board", "material", "section", "length", "width"}
	row := func(p book.Purchase, length string) map[string]string {
		b := p.Board
		return map[string]string{"board": b.ID, "material": b.Material,
			"section": string(b.Section), "length": length, "width": b.Width.Decimal(model.Inch)}
	}
	first, last := life.Buys[0], life.Buys[len(life.Buys)-1]
	short := first.Board.Length - 3*model.UnitsPerInch/2
	rows := []map[string]string{row(first, short.Decimal(model.Inch))}
	h.short++
	if len(life.Buys) > 1 && h.short%2 == 0 {
		rows = append(rows, row(last, "0"))
		h.missing++
	}
	h.write(filepath.Join(came, "rack.csv"), header, rows)
	h.run("receive", out, "--as", came, "--date", h.date)
}

// saw cuts what a plan has; the first time with surprises. It says whether something is left to
// plan anew.
func (h *shopYear) saw(out string) (rest bool) {
	life := h.life(out)
	if strings.HasSuffix(out, "out") {
		h.firstCuts(out, life)
	} else {
		h.run("done", out, "--date", h.date)
	}
	return !h.life(out).Over() || len(h.life(out).Spoiled) > 0
}

// firstCuts cuts half of the boards, the first of them with a part spoiled, and finds a split in
// the next, which is left uncut.
func (h *shopYear) firstCuts(out string, life *book.Life) {
	header, rows := h.table(filepath.Join(out, "marks.csv"))
	asPlanned := slices.DeleteFunc(slices.Clone(life.Here), func(id string) bool {
		return len(life.Buys) > 0 && id == life.Buys[0].Board.ID // which came short
	})
	if len(asPlanned) == 0 {
		return
	}
	cut := asPlanned[:(len(asPlanned)+1)/2]
	spoil := false
	found := ""
	if len(asPlanned) > len(cut) {
		found = asPlanned[len(cut)]
	}
	for _, r := range rows {
		switch {
		case r["board"] == cut[0] && r["row"] == "piece" && !spoil:
			r["state"], spoil = "spoiled", true
			h.spoiled++
		case r["board"] == found && r["row"] == "piece":
			r["state"] = "not cut"
		case r["board"] == found && r["row"] == "rest":
			r["defect"] = "0; 6 1/2; split"
			h.split++
		}
	}
	marks := filepath.Join(h.t.TempDir(), "marks.csv")
	h.write(marks, header, rows)
	args := append([]string{"done", out}, cut...)
	if found != "" {
		args = append(args, found)
	}
	h.run(append(args, "--marks", marks, "--date", h.date)...)
}

// wellCut sees that each piece that a month wants was cut well, once.
func (h *shopYear) wellCut(month, parts string) {
	want := map[string]int{}
	for _, line := range strings.Split(strings.TrimSpace(parts), "\n") {
		var n int
		cells := strings.Split(line, ",")
		if _, err := fmt.Sscan(cells[2], &n); err != nil {
			h.t.Fatal(err)
		}
		want[cells[0]+", "+cells[1]] = n
	}
	got := map[string]int{}
	once := map[string]bool{}
	for _, e := range h.events() {
		if !strings.HasPrefix(e.Plan, month+"/") {
			continue
		}
		for _, d := range e.Done {
			for _, p := range d.Pieces {
				if p.Spoiled {
					continue
				}
				name := p.Commission + ", " + p.Part
				if copy := fmt.Sprint(name, p.Copy); once[copy] {
					h.t.Errorf("%s: copy %d of %s is cut well twice", month, p.Copy, name)
				} else {
					once[copy] = true
				}
				got[name]++
			}
		}
	}
	if !maps.Equal(got, want) {
		h.t.Errorf("%s: cut well are %v, wanted %v", month, got, want)
	}
}

// count counts the bins: first truly, which finds nothing to do; then with a board that lies in
// another bin and, in every other month, one that is not there.
func (h *shopYear) count(m int) {
	h.run("count", h.shop, "--to", filepath.Join(h.shop, "count.csv"))
	sheet := filepath.Join(h.shop, "count.csv")
	header, rows := h.table(sheet)
	for _, r := range rows {
		r["found"] = "yes"
	}
	h.write(sheet, header, rows)
	before := len(h.events())
	said := h.run("reconcile", h.shop, sheet, "--accept", "--date", h.date)
	if !strings.Contains(said, "nothing to enter") || len(h.events()) != before {
		h.t.Errorf("a true count finds something to do:\n%s", said)
	}
	if len(rows) == 0 {
		return
	}
	rows[0]["bin"] += "x"
	if last := rows[len(rows)-1]; m%2 == 0 && len(rows) > 1 {
		last["found"] = "no"
	}
	h.write(sheet, header, rows)
	h.run("reconcile", h.shop, sheet, "--accept", "--date", h.date)
	if events := h.events(); len(events) != before+1 ||
		events[before].Kind != book.Counted {
		h.t.Errorf("what was counted is not entered once")
	}
	if err := os.Remove(sheet); err != nil {
		h.t.Fatal(err)
	}
	if err := os.Remove(filepath.Join(h.shop, "count.pdf")); err != nil {
		h.t.Fatal(err)
	}
}

func (h *shopYear) events() []book.Event {
	h.t.Helper()
	b, err := book.Open(filepath.Join(h.shop, shopbook.BookFile))
	if err != nil {
		h.t.Fatal(err)
	}
	defer b.Close()
	events, err := b.Events()
	if err != nil {
		h.t.Fatal(err)
	}
	return events
}

// conserved sees that the wood that came is what was cut, what is on the rack, and what a count
// found otherwise, by area.
func (h *shopYear) conserved() {
	var came, cut, gone, there int64
	area := func(c *book.Change) (was, is int64) {
		if c.Was != nil {
			was = int64(c.Was.Length) * int64(c.Was.Width)
		}
		if c.Is != nil {
			is = int64(c.Is.Length) * int64(c.Is.Width)
		}
		return was, is
	}
	for _, e := range h.events() {
		for i := range e.Changes {
			was, is := area(&e.Changes[i])
			switch e.Kind {
			case book.Opened, book.Received:
				came += is - was
			case book.Cut:
			default:
				gone += was - is
			}
		}
		for _, d := range e.Done {
			cut += d.Parts + d.Spoiled + d.Kerf + d.Trim + d.Waste
		}
	}
	job, _, err := folder.ReadRack(os.DirFS(h.shop))
	if err != nil {
		h.t.Fatal(err)
	}
	for _, b := range job.Rack {
		there += int64(b.Length) * int64(b.Width)
	}
	if came != cut+gone+there || came == 0 || cut == 0 {
		h.t.Errorf("came %d; cut to parts and waste %d, gone %d, on the rack %d: %d is lost", came,
			cut, gone, there, came-cut-gone-there)
	}
}
