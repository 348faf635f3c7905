package book

import (
	"errors"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rackwright/model"
)

// The files of a booked plan are kept as they were, and no statement changes or removes them.
func TestFilesAreKept(t *testing.T) {
	b, e := shopWithPlan(t)
	files, err := b.PlanFiles(e.Booking.Files)
	want := Files{"plan.json": []byte("{}"), "cuts.csv": []byte("board\n")}
	if diff := cmp.Diff(want, files); diff != "" || err != nil {
		t.Errorf("kept are other files (%v):\n%s", err, diff)
	}
	if text, err := fs.ReadFile(files, "cuts.csv"); err != nil || string(text) != "board\n" {
		t.Errorf("read as a file system: %q (%v)", text, err)
	}
	if _, err := files.Open("rack.csv"); !errors.Is(err, fs.ErrNotExist) {
		t.Error(err)
	}
	for _, statement := range []string{"UPDATE plans SET files = x'00'", "DELETE FROM plans",
		"INSERT OR REPLACE INTO plans SELECT hash, x'00' FROM plans"} {
		if _, err := b.db.Exec(statement); err == nil || !strings.Contains(err.Error(), "plan") {
			t.Errorf("%s: %v", statement, err)
		}
	}
	if a := b.Audit(); len(a.Wrong) > 0 {
		t.Error(a.Wrong)
	}
	// round the trigger it is found out
	for _, c := range []struct{ statement, finds string }{
		{"UPDATE plans SET files = x'00'", "plan march/out, booked by event 2: the files of the " +
			"plan cannot be read"},
		{"DELETE FROM plans", "the files of the plan are not in the book"},
		{"PRAGMA user_version = 2", "the form of the file is older"},
	} {
		b, _ := shopWithPlan(t)
		statement := c.statement
		if strings.HasPrefix(statement, "UPDATE") {
			statement = round("plans_stay", statement)
		} else if strings.HasPrefix(statement, "DELETE") {
			statement = round("plans_last", statement)
		}
		if _, err := b.db.Exec(statement); err != nil {
			t.Fatal(err)
		}
		if a := b.Audit(); !strings.Contains(strings.Join(a.Wrong, "\n"), c.finds) {
			t.Errorf("%s: found is %q", c.statement, a.Wrong)
		}
	}
}

// The hash of files is the SHA-256 of the text that is said to go into it, as sha256sum of the GNU
// core utilities gives it.
func TestHashOfFilesIsThatOfSha256sum(t *testing.T) {
	// printf 'a.csv\n2\nx\nplan.json\n2\n{}' | sha256sum
	want := "518ace3e0b7c00615521a889df685fae8963920c30b4c444ca35ce78b4016737"
	got := Files{"plan.json": []byte("{}"), "a.csv": []byte("x\n")}.Hash()
	if got != want {
		t.Errorf("the hash is %s, not %s", got, want)
	}
}

// What events say of plans is written in one way only, and read back as it was.
func TestEventsOfPlansAreWrittenPlainly(t *testing.T) {
	is := plank("N-1", "", 60)
	for _, c := range []struct {
		e    Event
		want string
	}{
		{Event{Plan: "march/out", Booking: &Booking{Hash: "a", Files: "b", Of: "march/o",
			Uses: []string{"B-1"}, Offcuts: []string{"O-1"},
			Buys: []Purchase{{Board: is, Yard: "north", Price: 35_000, Single: true}}}},
			`{"plan":"march/out","booking":{"hash":"a","files":"b","of":"march/o","uses":["B-1"],` +
				`"buys":[{"board":{"board":"N-1","material":"pine","section":"2x4",` +
				`"length":487680,"width":24384,"thickness":8128},"yard":"north","price":3.5000,` +
				`"single":true}],"offcuts":["O-1"]},"changes":[]}`},
		{Event{Plan: "march/out", Missing: []string{"N-1"}},
			`{"plan":"march/out","missing":["N-1"],"changes":[]}`},
		{Event{Plan: "march/out", Done: []BoardCut{{Board: "B-1", Offcuts: []string{"O-1"},
			Parts: 1, Spoiled: 2, Kerf: 3, Trim: 4, Waste: -5, Pieces: []Piece{{"C-1", "rail", 2,
				10, 20, true}}}}},
			`{"plan":"march/out","done":[{"board":"B-1","pieces":[{"commission":"C-1",` +
				`"part":"rail","copy":2,"length":10,"width":20,"spoiled":true}],` +
				`"offcuts":["O-1"],"parts":1,"spoiled":2,"kerf":3,"trim":4,"waste":-5}],` +
				`"changes":[]}`},
	} {
		text, err := c.e.encode()
		if text != c.want || err != nil {
			t.Errorf("written is\n%s\nnot\n%s (%v)", text, c.want, err)
		}
		var again Event
		if err := again.decode(text); err != nil {
			t.Error(err)
		}
		if diff := cmp.Diff(c.e, again); diff != "" {
			t.Errorf("read back is another:\n%s", diff)
		}
		for _, bad := range []string{strings.Replace(text, `"price"`, `"prize"`, 1),
			strings.Replace(text, `"copy"`, `"copies"`, 1),
			strings.Replace(text, `"plan"`, `"plans"`, 1)} {
			if bad != text && new(Event).decode(bad) == nil {
				t.Errorf("%s is read as an event", bad)
			}
		}
	}
}

// A plan asks for a newer form of the file, which has a table for its files; a book that had counts
// only gets it, too.
func TestPlanLiftsTheForm(t *testing.T) {
	for _, counted := range []bool{false, true} {
		dir := t.TempDir()
		b := made(t, dir)
		if counted {
			is := model.Board{ID: "found", Wood: model.Wood{Material: "oak", Length: 1}}
			if _, err := b.Enter(Event{Date: day, Kind: Counted,
				Changes: []Change{{Is: &is}}}); err != nil {
				t.Fatal(err)
			}
		}
		if _, err := b.Book(day, "march/out", Booking{Hash: hash(1)}, Files{}); err != nil {
			t.Fatal(err)
		}
		form := 0
		if err := b.db.QueryRow("PRAGMA user_version").Scan(&form); err != nil || form != version {
			t.Errorf("the form is %d (%v)", form, err)
		}
		if a := b.Audit(); len(a.Wrong) > 0 {
			t.Error(a.Wrong)
		}
		again, err := Open(filepath.Join(dir, "book.db"))
		if err != nil {
			t.Fatal(err)
		}
		again.Close()
	}
}
