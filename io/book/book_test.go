package book

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"rackwright/model"
)

// plank is a board of the tests.
func plank(id, bin string, length int) model.Board {
	return model.Board{ID: id, Bin: bin, Wood: model.Wood{Material: "pine", Section: "2x4",
		Length: model.Length(length) * model.UnitsPerInch, Width: 3 * model.UnitsPerInch,
		Thickness: model.UnitsPerInch}}
}

// made is a new book with these boards on the rack.
func made(t interface {
	Helper()
	Fatal(...any)
	Cleanup(func())
}, dir string, rack ...model.Board) *Book {
	t.Helper()
	path := filepath.Join(dir, "book.db")
	if err := Create(path, "2027-01-04", Changes(nil, rack)); err != nil {
		t.Fatal(err)
	}
	b, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { b.Close() })
	return b
}

// The hash of an event is the SHA-256 of the text that is said to go into it, as sha256sum of the
// GNU core utilities gives it.
func TestHashIsThatOfSha256sum(t *testing.T) {
	first := entry{number: 1, date: "2027-01-04", kind: "opened", says: `{"changes":[]}`}
	// printf '\n1\n2027-01-04\nopened\n{"changes":[]}' | sha256sum
	one := "2f10e363ae7eef19351cba50dab95460d4943f44a350303a0832644e471079d2"
	if got := first.sum(""); got != one {
		t.Errorf("the hash is %s, not %s", got, one)
	}
	// printf '%s\n2\n2027-01-05\nscrapped\n{}' $one | sha256sum
	second := entry{number: 2, date: "2027-01-05", kind: "scrapped", says: "{}"}
	two := "746f79ae654456c9ec4e39b9d7f45186ea881430fd175532940b2a2a192dadf9"
	if got := second.sum(one); got != two {
		t.Errorf("the hash is %s, not %s", got, two)
	}
}

// What an event says is written in one way only, and read back as it was.
func TestEventsAreWrittenPlainly(t *testing.T) {
	value := model.Money(35_000)
	was := plank("B-1", "A2", 60)
	was.Value, was.Where = &value, model.Where{File: "rack.csv", Line: 7}
	was.Defects = []model.Defect{{From: 9, To: 12, Right: was.Width, Kind: "knot"},
		{From: 3, To: 5, Right: was.Width, Kind: "split"}}
	e := Event{Of: 3, Changes: []Change{{Was: &was}}}
	text, err := e.encode()
	want := `{"of":3,"changes":[{"was":{"board":"B-1","material":"pine","section":"2x4",` +
		`"length":487680,"width":24384,"thickness":8128,"bin":"A2","value":3.5000,"defects":[` +
		`{"from":3,"to":5,"left":0,"right":24384,"kind":"split"},` +
		`{"from":9,"to":12,"left":0,"right":24384,"kind":"knot"}]}}]}`
	if err != nil || text != want {
		t.Errorf("written is\n%s\nnot\n%s (%v)", text, want, err)
	}
	var again Event
	if err := again.decode(text); err != nil || !sameChanges(again.Changes, e.Changes) {
		t.Errorf("read back is %+v (%v)", again, err)
	}
	for _, bad := range []string{"", "{}", `{"changes":[{}]}`, `{"changes":null}`, text + " ",
		text + "{}", strings.Replace(text, `"bin"`, `"bim"`, 1),
		strings.Replace(text, `,"width"`, `, "width"`, 1),
		`{"changes":[{"was":{"board":"a"},"is":{"board":"b"}}]}`} {
		if err := new(Event).decode(bad); err == nil {
			t.Errorf("%s is read as an event", bad)
		}
	}
}

// Two racks differ in what was changed, in nothing by their order alone.
func TestChangesBetweenRacks(t *testing.T) {
	a, b, c := plank("A", "1", 10), plank("B", "1", 20), plank("C", "1", 30)
	moved := b
	moved.Bin = "2"
	lined := a
	lined.Where = model.Where{File: "rack.csv", Line: 3}
	got := Changes([]model.Board{a, b}, []model.Board{c, moved, lined})
	want := []Change{{&b, &moved}, {nil, &c}}
	if !sameChanges(got, want) {
		t.Errorf("they differ in %+v", got)
	}
	if got := Changes([]model.Board{a, b}, []model.Board{c}); len(got) != 3 ||
		got[0].Is != nil || got[1].Is != nil || got[2].Was != nil {
		t.Errorf("they differ in %+v", got)
	}
}

// shopHand does to a book what a shop does, at random, and to a plain rack what that should come
// to.
type shopHand struct {
	t    *rapid.T
	book *Book
	rack map[string]model.Board   // what should be there
	was  []map[string]model.Board // before each event
	open []int64                  // events that count, in their order
	new  int
}

func (h *shopHand) enter(kind Kind, changes ...Change) {
	h.was = append(h.was, maps.Clone(h.rack))
	e, err := h.book.Enter(Event{Date: "2027-01-05", Kind: kind, Changes: changes})
	if err != nil {
		h.t.Fatal(err)
	}
	for _, c := range changes {
		if delete(h.rack, c.ID()); c.Is != nil {
			h.rack[c.ID()] = *c.Is
		}
	}
	h.open = append(h.open, e.Number)
}

func (h *shopHand) fresh() model.Board {
	h.new++
	bin := rapid.SampledFrom([]string{"", "a", "b"}).Draw(h.t, "bin")
	return plank(fmt.Sprint("N-", h.new), bin, rapid.IntRange(1, 90).Draw(h.t, "length"))
}

func (h *shopHand) any() (model.Board, bool) {
	ids := slices.Sorted(maps.Keys(h.rack))
	if len(ids) == 0 {
		return model.Board{}, false
	}
	return h.rack[rapid.SampledFrom(ids).Draw(h.t, "board")], true
}

func (h *shopHand) add(*rapid.T) { is := h.fresh(); h.enter(Added, Change{Is: &is}) }

func (h *shopHand) move(*rapid.T) {
	if was, ok := h.any(); ok {
		is := was
		is.Bin += "+"
		h.enter(Moved, Change{&was, &is})
	}
}

func (h *shopHand) scrap(*rapid.T) {
	if was, ok := h.any(); ok {
		h.enter(Scrapped, Change{Was: &was})
	}
}

func (h *shopHand) take(*rapid.T) {
	is := h.fresh()
	changes := []Change{{Is: &is}}
	if was, ok := h.any(); ok {
		cut := was
		cut.Length = max(1, cut.Length-model.UnitsPerInch)
		cut.Note += "cut"
		changes = append(changes, Change{&was, &cut})
	}
	h.enter(Taken, changes...)
}

// undo undoes the last event that counts: the rack is as before it.
func (h *shopHand) undo(*rapid.T) {
	if len(h.open) == 0 {
		if _, err := h.book.Undo("2027-01-06", 0); !errors.Is(err, ErrNothing) {
			h.t.Fatalf("there is nothing to undo, and it is said: %v", err)
		}
		return
	}
	last := h.open[len(h.open)-1]
	e, err := h.book.Undo("2027-01-06", 0)
	if err != nil || e.Of != last {
		h.t.Fatalf("event %d is undone, not %d (%v)", e.Of, last, err)
	}
	h.open = h.open[:len(h.open)-1]
	h.was = append(h.was, h.rack)
	h.rack = maps.Clone(h.was[last-1])
}

// check compares the table, and what the events add up to, with the plain rack.
func (h *shopHand) check(*rapid.T) {
	events, err := h.book.Events()
	if err != nil {
		h.t.Fatal(err)
	}
	sum, err := Rack(events)
	if err != nil {
		h.t.Fatal(err)
	}
	table, err := h.book.Rack()
	if err != nil {
		h.t.Fatal(err)
	}
	for what, rack := range map[string][]model.Board{"sum of the events": sum, "table": table} {
		is := map[string]model.Board{}
		for _, b := range rack {
			is[b.ID] = b
		}
		if diff := cmp.Diff(h.rack, is); diff != "" || len(is) != len(rack) {
			h.t.Fatalf("the %s is not what was done:\n%s", what, diff)
		}
	}
	if diff := cmp.Diff(sum, table); diff != "" {
		h.t.Fatalf("the sum of the events and the table differ:\n%s", diff)
	}
}

// Whatever a shop does, the rack is the sum of the events, and undoing the last of them gives the
// rack before it, in its order.
func TestRackIsSumOfEvents(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dir, err := os.MkdirTemp("", "book")
		if err != nil {
			t.Fatal(err)
		}
		defer os.RemoveAll(dir)
		first := plank("B-1", "a", 50)
		h := &shopHand{t: t, rack: map[string]model.Board{"B-1": first},
			was: []map[string]model.Board{nil}}
		h.book = made(t, dir, first)
		if _, err := h.book.db.Exec("PRAGMA synchronous = OFF"); err != nil { // no power fails here
			t.Fatal(err)
		}
		t.Repeat(map[string]func(*rapid.T){"add": h.add, "move": h.move, "scrap": h.scrap,
			"take": h.take, "undo": h.undo, "": h.check})
		if a := h.book.Audit(); len(a.Wrong) > 0 || a.Boards != len(h.rack) {
			t.Fatalf("a sound book is found to be %+v", a)
		}
	})
}

// An event on which later ones stand is not undone, nor one that is undone, the first, or none.
func TestUndoIsRefused(t *testing.T) {
	b := made(t, t.TempDir())
	is := plank("B-1", "a", 50)
	moved := is
	moved.Bin = "b"
	for _, e := range []Event{{Kind: Added, Changes: []Change{{Is: &is}}},
		{Kind: Moved, Changes: []Change{{&is, &moved}}}} {
		e.Date = "2027-01-05"
		if _, err := b.Enter(e); err != nil {
			t.Fatal(err)
		}
	}
	refused := func(number int64, want string) {
		t.Helper()
		_, err := b.Undo("2027-01-05", number)
		if _, is := errors.AsType[*Refused](err); !is || !strings.Contains(err.Error(), want) {
			t.Errorf("event %d: %v", number, err)
		}
	}
	refused(1, "event 1 cannot be undone: it is of kind opened")
	refused(2, "event 2 cannot be undone: event 3 stands on it, as it is of board B-1, too")
	refused(9, "there is none of that number")
	if _, err := b.Undo("2027-01-05", 3); err != nil {
		t.Fatal(err)
	}
	refused(3, "it is undone already")
	refused(4, "it is of kind undone")
	if came, err := b.Came("B-1"); err != nil || !came {
		t.Error(came, err)
	}
	if _, err := b.Undo("2027-01-05", 2); err != nil {
		t.Error(err)
	}
	if came, err := b.Came("B-1"); err != nil || came {
		t.Errorf("a board came whose coming is undone: %v, %v", came, err)
	}
}

// What cannot follow is not entered.
func TestIllegalEventsAreRefused(t *testing.T) {
	a, other := plank("A", "1", 10), plank("B", "1", 10)
	longer, moved := plank("A", "1", 11), plank("A", "2", 10)
	b := made(t, t.TempDir(), a)
	for _, e := range []Event{
		{Kind: Added, Changes: []Change{{Is: &a}}},
		{Kind: Added, Changes: []Change{{Was: &a}}},
		{Kind: Added},
		{Kind: Moved, Changes: []Change{{&a, &longer}}},
		{Kind: Moved, Changes: []Change{{&a, &a}}},
		{Kind: Moved, Changes: []Change{{&longer, &moved}}},
		{Kind: Scrapped, Changes: []Change{{Was: &longer}}},
		{Kind: Scrapped, Changes: []Change{{Was: &other}}},
		{Kind: Taken, Changes: []Change{{&a, &a}}},
		{Kind: Taken},
		{Kind: Opened},
		{Kind: Undone, Changes: []Change{{&a, &longer}}},
		{Kind: "sold", Changes: []Change{{Was: &a}}},
		{Kind: Scrapped, Date: "5.1.2027", Changes: []Change{{Was: &a}}},
	} {
		if e.Date == "" {
			e.Date = "2027-01-05"
		}
		_, err := b.Enter(e)
		if _, is := errors.AsType[*Refused](err); !is {
			t.Errorf("%s %+v: %v", e.Kind, e.Changes, err)
		}
	}
	if a := b.Audit(); len(a.Wrong) > 0 || a.Sound != 1 {
		t.Errorf("after that the book is %+v", a)
	}
}

// A book may lie in a folder of any name, and nothing else is made anywhere.
func TestPlaceMayHaveAnyName(t *testing.T) {
	all := t.TempDir()
	for _, name := range []string{"my shop", "a#b", "50%", "%41", "who?mode=memory", "a&b=c;d",
		"Säge", "file:x"} {
		dir := filepath.Join(all, name)
		if err := os.Mkdir(dir, 0o777); err != nil {
			t.Fatal(err)
		}
		b := made(t, dir, plank("B-1", "a", 50))
		if rack, err := b.Rack(); err != nil || len(rack) != 1 {
			t.Errorf("%s: %v %v", name, rack, err)
		}
		b.Close()
		if there, err := os.ReadDir(dir); err != nil || len(there) != 1 ||
			there[0].Name() != "book.db" {
			t.Errorf("%s holds %v (%v)", name, there, err)
		}
	}
	if there, err := os.ReadDir(all); err != nil || len(there) != 8 {
		t.Errorf("beside the folders there is %v (%v)", there, err)
	}
}

// What is there and is no book, or one of a newer version, is told from a book.
func TestWhatIsNoBook(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "book.db")
	if _, err := Open(path); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("no file: %v", err)
	}
	b := made(t, dir)
	if _, err := b.db.Exec("PRAGMA user_version = 4"); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(path); !errors.Is(err, ErrNewer) {
		t.Errorf("newer: %v", err)
	}
	if _, err := b.db.Exec("PRAGMA application_id = 7"); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(path); !errors.Is(err, ErrNotBook) {
		t.Errorf("of another program: %v", err)
	}
	if err := os.Symlink(path, filepath.Join(dir, "link")); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(filepath.Join(dir, "link")); !errors.Is(err, ErrNotBook) {
		t.Errorf("a link: %v", err)
	}
	text := filepath.Join(dir, "text")
	if err := os.WriteFile(text, []byte(strings.Repeat("no book\n", 500)), 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(text); err == nil {
		t.Error("a text is opened as a book")
	}
}

// A count asks for a newer form of the file than a book without one has, so that a program that
// does not know counts refuses it.
func TestCountLiftsTheForm(t *testing.T) {
	dir := t.TempDir()
	b := made(t, dir)
	form := func() (is int) {
		if err := b.db.QueryRow("PRAGMA user_version").Scan(&is); err != nil {
			t.Fatal(err)
		}
		return is
	}
	before := form()
	rack, err := b.Rack()
	if err != nil {
		t.Fatal(err)
	}
	come := model.Board{ID: "found", Wood: model.Wood{Material: "oak", Length: 1}}
	after := append(slices.Clone(rack), come)
	if _, err := b.Enter(Event{Date: "2027-04-01", Kind: Counted,
		Changes: Changes(rack, after)}); err != nil {
		t.Fatal(err)
	}
	if before != oldest || form() != 2 {
		t.Errorf("the form is %d, and was %d", form(), before)
	}
	if _, err := b.Undo("2027-04-01", 0); err != nil || form() != 2 {
		t.Errorf("undone, the form is %d (%v)", form(), err)
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

// What is entered is to last: the book keeps a write-ahead log, and each commit is synced.
func TestBookIsKeptSafe(t *testing.T) {
	b := made(t, t.TempDir())
	for pragma, want := range map[string]string{"journal_mode": "wal", "synchronous": "2",
		"foreign_keys": "1", "recursive_triggers": "1", "trusted_schema": "0"} {
		var is string
		if err := b.db.QueryRow("PRAGMA " + pragma).Scan(&is); err != nil || is != want {
			t.Errorf("%s is %s, not %s (%v)", pragma, is, want, err)
		}
	}
}
