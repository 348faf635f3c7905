package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rackwright/io/book"
	"rackwright/model"
)

// Whatever commands a shop of two months types, in whatever order, some of them refused: no wood is
// lost or made, an event that is undone leaves boards and plans as they were, what is written of
// the rack and not touched is nothing to take, a true count finds nothing, and the book is sound.
func TestWhateverAShopDoes(t *testing.T) {
	met := map[string]int{}
	for seed := range uint64(4) {
		h := &anyShop{shopYear: shopYear{t: t, shop: filepath.Join(t.TempDir(), "shop"),
			date: "2027-03-04"}, dice: rand.New(rand.NewPCG(70, seed)), met: met}
		lay(t, h.shop, map[string]string{
			"shop.toml": "[bins.short]\nlongest = \"20 in\"\nmost = 3\n",
			"yard.csv": "material,section,length,price,available\npine,1x4,96,6.00,\n" +
				"pine,1x4,72,3,1\n",
			"rack.csv": "board,material,section,length,bin\nB-1,pine,1x4,40,A\nB-2,pine,1x4,30,A\n" +
				"B-3,pine,1x4,30,B\nB-4,pine,1x4,77,B\n",
		})
		const header = "commission,part,qty,material,length,width,thickness\n"
		for m, parts := range map[string]string{
			"2027-03": "Table,leg,6,pine,20,3,1/2\nTable,rail,5,pine,30,3,1/2\n",
			"2027-04": "Shelf,side,4,pine,35,3,1/2\nShelf,board,4,pine,24,3,1/2\n"} {
			lay(t, filepath.Join(h.shop, m), map[string]string{"parts.csv": header + parts})
		}
		h.run("rack", "add", h.shop, "B-5", "pine", "1x4", "50", "--date", h.date)
		for _, m := range []string{"2027-03", "2027-04"} {
			h.outs = append(h.outs, filepath.Join(h.shop, m, "out"))
			h.run("plan", filepath.Join(h.shop, m), "--work", "20", "--date", h.date, "--quiet")
		}
		h.try("book", h.outs[0], "--date", h.date)
		for range 18 {
			h.step()
		}
		h.trueCount()
		h.conserved()
	}
	for _, what := range []string{"book", "receive", "done", "replan", "rack", "undone"} {
		if met[what] < 2 {
			t.Errorf("%s is met %d times only", what, met[what])
		}
	}
	t.Log(met)
}

// anyShop is a shop in which anything may be typed.
type anyShop struct {
	shopYear
	dice *rand.Rand
	outs []string // of each month the plan that is thought of
	new  int
	met  map[string]int // commands that were not refused
}

// step types something. If it is entered it may be undone at once.
func (h *anyShop) step() {
	before, rack, events := h.lives(), h.rack(), len(h.events())
	n := h.dice.IntN(len(h.outs))
	dated := []string{"--date", h.date}
	switch what := h.dice.IntN(14); {
	case what < 2:
		h.try(append([]string{"book", h.outs[n]}, dated...)...)
	case what < 5:
		h.try(append(append([]string{"receive", h.outs[n]}, h.some(h.outs[n])...), dated...)...)
	case what < 9:
		h.cut(h.outs[n])
	case what < 10:
		if h.try("replan", h.outs[n], "--work", "20", "--date", h.date, "--quiet") {
			if all, _ := filepath.Glob(h.outs[n] + "-*"); len(all) > 0 && h.dice.IntN(3) > 0 {
				h.outs[n] = all[len(all)-1]
				h.try("book", h.outs[n], "--date", h.date)
			}
		}
	case what < 11:
		h.new++
		h.try(append([]string{"rack", "add", h.shop, fmt.Sprint("X-", h.new), "pine", "1x4",
			fmt.Sprint(10 + h.dice.IntN(80))}, dated...)...)
	case what < 12 && len(rack) > 0:
		id := rack[h.dice.IntN(len(rack))].ID
		if h.dice.IntN(2) == 0 {
			h.try(append([]string{"rack", "scrap", h.shop, id}, dated...)...)
		} else {
			h.try(append([]string{"rack", "move", h.shop, id, fmt.Sprint("C", events)},
				dated...)...)
		}
	case what < 13:
		h.try(append([]string{"rack", "undo", h.shop, "--event",
			fmt.Sprint(1 + h.dice.IntN(events))}, dated...)...)
	default:
		h.trueCount()
	}
	now := h.events()
	if len(now) == events+1 && now[events].Kind != book.Undone && h.dice.IntN(3) == 0 {
		h.run("rack", "undo", h.shop, "--date", h.date)
		h.met["undone"]++
		if diff := cmp.Diff(before, h.lives()) + cmp.Diff(rack, h.rack()); diff != "" {
			h.t.Fatalf("%s is undone, and it is not as before:\n%s", now[events].Kind, diff)
		}
	}
	if said := h.run("rack", "take", h.shop); !strings.Contains(said, "nothing to enter") {
		h.t.Fatalf("of files that nobody touched it is said: %s", said)
	}
}

// try types a command that may be refused; then nothing is entered.
func (h *anyShop) try(args ...string) bool {
	before := len(h.events())
	var out, errs bytes.Buffer
	code := run(h.t.Context(), args, &out, &errs)
	if audit, said := rackwright(h.t, "audit", h.shop, "--quiet"); audit != exitDone {
		h.t.Fatalf("after rackwright %s: %s", strings.Join(args, " "), said)
	}
	switch {
	case code == exitDone:
		h.met[args[0]]++
	case code != exitBad || errs.Len() == 0 || len(h.events()) != before:
		h.t.Fatalf("rackwright %s: exit code %d\n%s%s", strings.Join(args, " "), code, &out, &errs)
	}
	return code == exitDone
}

func (h *anyShop) lives() []book.Life {
	lives, err := book.Lives(h.events())
	if err != nil {
		h.t.Fatal(err)
	}
	return lives
}

func (h *anyShop) rack() []model.Board {
	rack, err := book.Rack(h.events())
	if err != nil {
		h.t.Fatal(err)
	}
	return rack
}

// some are boards that a plan awaits, or none for all of them.
func (h *anyShop) some(out string) []string {
	l := h.of(out)
	if l == nil || len(l.Expected) == 0 || h.dice.IntN(2) == 0 {
		return nil
	}
	return l.Expected[:1]
}

func (h *anyShop) of(out string) *book.Life {
	name, err := filepath.Rel(h.shop, out)
	if err != nil {
		h.t.Fatal(err)
	}
	return book.Find(h.lives(), filepath.ToSlash(name))
}

// cut cuts a board, or all that are here, with any marks.
func (h *anyShop) cut(out string) {
	l := h.of(out)
	if l == nil || len(l.Here) == 0 || h.dice.IntN(4) == 0 {
		h.try("done", out, "--date", h.date)
		return
	}
	board := l.Here[h.dice.IntN(len(l.Here))]
	header, rows := h.table(filepath.Join(out, "marks.csv"))
	rows = slices.DeleteFunc(rows, func(r map[string]string) bool { return r["board"] != board })
	left := false
	for _, r := range rows {
		switch r["row"] {
		case "piece":
			r["state"] = []string{"", "cut", "spoiled", "not cut"}[h.dice.IntN(4)]
			left = left || r["state"] == "not cut"
		case "offcut":
			r["state"] = []string{"", "kept", "scrapped"}[h.dice.IntN(3)]
		case "rest":
			if r["defect"] = []string{"", "1; 2; knot"}[h.dice.IntN(2)]; left {
				r["state"], r["measured"] = "", fmt.Sprint(1+h.dice.IntN(40))
				if h.dice.IntN(2) == 0 {
					r["state"], r["measured"] = "scrapped", ""
				}
			}
		}
	}
	marks := filepath.Join(h.t.TempDir(), "marks.csv")
	h.write(marks, header, rows)
	h.try("done", out, board, "--marks", marks, "--date", h.date)
}

// trueCount counts what is there.
func (h *anyShop) trueCount() {
	sheet, events := filepath.Join(h.t.TempDir(), "count.csv"), len(h.events())
	h.run("count", h.shop, "--to", sheet)
	header, rows := h.table(sheet)
	for _, r := range rows {
		if r["found"] = "yes"; h.dice.IntN(2) == 0 {
			r["board"] = "" // it was not legible
		}
	}
	h.write(sheet, header, rows)
	said := h.run("reconcile", h.shop, sheet, "--accept", "--date", h.date)
	if !strings.Contains(said, "nothing to enter") || len(h.events()) != events {
		h.t.Fatalf("a true count finds something to do:\n%s", said)
	}
}

// conserved sees that the wood that came is what was cut, what is on the rack, and what was taken
// off it, by area.
func (h *anyShop) conserved() {
	events, undone := h.events(), map[int64]bool{}
	for i := range events {
		undone[events[i].Of] = true
	}
	var in, out int64
	area := func(b *model.Board) int64 {
		if b == nil {
			return 0
		}
		return int64(b.Length) * int64(b.Width)
	}
	for i := range events {
		e := &events[i]
		if e.Kind == book.Undone || undone[e.Number] {
			continue
		}
		for _, d := range e.Done {
			out += d.Parts + d.Spoiled + d.Kerf + d.Trim + d.Waste
		}
		for _, c := range e.Changes {
			if e.Kind != book.Cut {
				in, out = in+area(c.Is), out+area(c.Was)
			}
		}
	}
	for _, b := range h.rack() {
		out += area(&b)
	}
	if in != out || in == 0 {
		h.t.Fatalf("an area of %d came, and %d is told of", in, out)
	}
}
