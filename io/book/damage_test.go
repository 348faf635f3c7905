package book

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
)

// filled is the bytes of a book of some events, and what they are.
func filled(t *testing.T) ([]byte, []Event) {
	t.Helper()
	dir := t.TempDir()
	b := made(t, dir, plank("B-1", "a", 50))
	for n := range 40 {
		is := plank(fmt.Sprintf("N-%d", n), "a", 40+n)
		is.Note = strings.Repeat("straight and dry. ", 12)
		if _, err := b.Enter(Event{Date: "2027-01-05", Kind: Added,
			Changes: []Change{{Is: &is}}}); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := b.Book("2027-01-05", "march/out", Booking{Hash: hash(1), Uses: []string{"B-1"}},
		planFiles("")); err != nil {
		t.Fatal(err)
	}
	events, err := b.Events()
	if err != nil {
		t.Fatal(err)
	}
	if err := b.Close(); err != nil { // which empties the log into the file
		t.Fatal(err)
	}
	data, err := os.ReadFile(filepath.Join(dir, "book.db"))
	if err != nil {
		t.Fatal(err)
	}
	return data, events
}

// damaged lays a file down as a book.
func damaged(t *testing.T, data []byte) (path string) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "book.db")
	if err := os.WriteFile(path, data, 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

// planFiles are the files of a plan, some pages of them.
func planFiles(string) Files {
	r := rand.New(rand.NewPCG(1, 2))
	var text bytes.Buffer
	for range 2 * pageSize {
		text.WriteByte(byte(r.Uint32()))
	}
	return Files{"plan.json": text.Bytes(), "cuts.csv": []byte("board\n")}
}

func noFolders(string) Files { return nil }

// judged audits a damaged book and rebuilds it. Either it is sound and all is as it was, or the
// first event that is lost is named, and the new book holds exactly those before it.
func judged(t *testing.T, what string, data []byte, was []Event) (a *Audit, rebuilt int) {
	t.Helper()
	path := damaged(t, data)
	a, err := AuditFile(path)
	fresh := path + ".rebuilt"
	r, err2 := Rebuild(path, fresh, planFiles)
	if err != nil || err2 != nil {
		if (err == nil) != (err2 == nil) && (a == nil || a.Sound > 0) {
			t.Errorf("%s: audit says %v, rebuild says %v", what, err, err2)
		}
		if _, err := os.Stat(fresh); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%s: there is a new book of a file that has none", what)
		}
		return &Audit{Wrong: []string{"unreadable"}}, 0
	}
	b, err := Open(fresh)
	if err != nil {
		t.Fatal(what, err)
	}
	defer b.Close()
	is, err := b.Events()
	if err != nil {
		t.Fatal(what, err)
	}
	if again := b.Audit(); len(again.Wrong) > 0 {
		t.Errorf("%s: the new book: %v", what, again.Wrong)
	}
	if len(is) > len(was) || !reflect.DeepEqual(is, was[:len(is)]) {
		t.Fatalf("%s: the new book holds %d events that are not the first", what, len(is))
	}
	named := fmt.Sprintf("event %d: ", len(is)+1)
	switch said := strings.Join(a.Wrong, "\n"); {
	case a.Sound != len(is) || len(r.Events) != len(is):
		t.Errorf("%s: %d events are sound, and %d are in the new book", what, a.Sound, len(is))
	case len(is) < len(was) && !strings.Contains(said, named):
		t.Errorf("%s: the new book ends before event %d, and it is said:\n%s", what, len(is)+1, said)
	}
	return a, len(is)
}

// A bit that flipped is found, unless it lies where nothing is kept: then all events are as they
// were. The events before it are rebuilt.
func TestFlippedBits(t *testing.T) {
	data, events := filled(t)
	r := rand.New(rand.NewPCG(7, 14))
	times, found, rebuilt := 120, 0, 0
	if testing.Short() {
		times = 40
	}
	for range times {
		bad := bytes.Clone(data)
		at, bit := r.IntN(len(bad)), r.IntN(8)
		bad[at] ^= 1 << bit
		a, n := judged(t, fmt.Sprintf("bit %d of byte %d is flipped", bit, at), bad, events)
		if len(a.Wrong) > 0 {
			found++
		}
		rebuilt += n
	}
	if found < times/3 || rebuilt < times*len(events)/3 {
		t.Errorf("of %d flips %d are found, and %d events rebuilt", times, found, rebuilt)
	}
	t.Logf("%d of %d flips are found, %d of %d events rebuilt", found, times, rebuilt,
		times*len(events))
}

// Of the head of a file each bit counts for something, and none for the events.
func TestFlippedHead(t *testing.T) {
	data, events := filled(t)
	for at := range 100 {
		bad := bytes.Clone(data)
		bad[at] ^= 1 << (at % 8)
		what := fmt.Sprintf("byte %d is flipped", at)
		if path := damaged(t, bad); newer(path) { // then it is of another program's form
			_, err := AuditFile(path)
			_, err2 := Rebuild(path, path+".rebuilt", noFolders)
			if at < 60 || at > 63 || !errors.Is(err, ErrNewer) || !errors.Is(err2, ErrNewer) {
				t.Errorf("%s: %v, %v", what, err, err2)
			}
			continue
		}
		if _, n := judged(t, what, bad, events); n < len(events) {
			t.Errorf("%s: %d events are rebuilt", what, n)
		}
	}
}

// A page that is lost takes its own events with it, and of those after it the book knows.
func TestLostPages(t *testing.T) {
	data, events := filled(t)
	most, checked := 0, 0
	for at := 0; at < len(data); at += pageSize {
		bad := bytes.Clone(data)
		clear(bad[at : at+pageSize])
		what := fmt.Sprintf("page %d is lost", at/pageSize+1)
		a, n := judged(t, what, bad, events)
		most = max(most, n)
		if len(a.Wrong) == 0 {
			t.Errorf("%s, and the book is said to be sound", what)
		} else if n == len(events) && strings.HasPrefix(a.Wrong[0], "the file is damaged: ") {
			checked++ // by SQLite's integrity_check, though no event is hit
		}
		if r, err := Salvage(damaged(t, bad)); err != nil || n < len(events)-8 && len(r.Lost) == 0 {
			t.Errorf("%s: of the lost events none can be read (%v)", what, err)
		}
	}
	if most < len(events) || checked == 0 {
		t.Errorf("at most %d events of %d are rebuilt; SQLite alone finds %d pages", most,
			len(events), checked)
	}
}

// A bit that flipped in an event is found, and the event is named.
func TestFlippedEventIsNamed(t *testing.T) {
	data, events := filled(t)
	for _, n := range []int{0, 17, 39} {
		// also where a page was moved from, and nothing is kept any more
		mark := fmt.Sprintf(`{"changes":[{"is":{"board":"N-%d",`, n)
		bad := bytes.ReplaceAll(data, []byte(mark), []byte(strings.Replace(mark, "N-", "O-", 1)))
		if bytes.Equal(bad, data) {
			t.Fatalf("event %d is not in the file as it is written", n+2)
		}
		a, rebuilt := judged(t, mark, bad, events)
		if want := fmt.Sprintf("event %d: ", n+2); len(a.Wrong) == 0 || a.Sound != n+1 ||
			rebuilt != n+1 || !strings.HasPrefix(a.Wrong[len(a.Wrong)-1], want) {
			t.Errorf("of event %d it is said: %+v", n+2, a)
		}
		r, err := Salvage(damaged(t, bad))
		if err != nil || len(r.Lost) != 41-n || r.Lost[0].Number != int64(n+2) {
			t.Errorf("lost are %+v (%v)", r, err)
		}
	}
}

// A book that ends too soon is found, wherever it ends: at each page, and at any byte.
func TestTruncated(t *testing.T) {
	data, events := filled(t)
	r := rand.New(rand.NewPCG(4, 9))
	var sizes []int
	for size := 0; size < len(data); size += pageSize {
		sizes = append(sizes, size, size+r.IntN(pageSize), size+r.IntN(pageSize))
	}
	before := 0
	for _, size := range sizes {
		what := fmt.Sprintf("%d of %d bytes", size, len(data))
		a, n := judged(t, what, data[:size], events)
		if len(a.Wrong) == 0 {
			t.Errorf("%s are a sound book", what)
		}
		before = max(before, n)
	}
	if before < len(events)/2 {
		t.Errorf("at most %d events are rebuilt", before)
	}
}

// A new book takes no other's place, and no log of another one is taken for its own.
func TestRebuildIsNew(t *testing.T) {
	data, _ := filled(t)
	path := damaged(t, data)
	for _, there := range []string{"", "-wal", "-journal"} {
		fresh := filepath.Join(t.TempDir(), "fresh.db")
		if err := os.WriteFile(fresh+there, []byte("mine"), 0o666); err != nil {
			t.Fatal(err)
		}
		if _, err := Rebuild(path, fresh, noFolders); !errors.Is(err, fs.ErrExist) {
			t.Errorf("beside %q: %v", there, err)
		}
		if is, err := os.ReadFile(fresh + there); err != nil || string(is) != "mine" {
			t.Errorf("%q holds %q (%v)", there, is, err)
		}
	}
}

// Files of a plan that are lost are taken from its folder, if they are as they were booked.
func TestLostFilesOfPlan(t *testing.T) {
	data, events := filled(t)
	at := bytes.Index(data, planFiles("")["plan.json"][:50])
	if at < 0 {
		t.Fatal("the files stand nowhere")
	}
	data[at] ^= 4
	for _, c := range []struct {
		what    string
		folders func(string) Files
		lost    int
	}{
		{"no folder", noFolders, 1},
		{"another plan", func(string) Files { return Files{"plan.json": []byte("{}")} }, 1},
		{"the plan", planFiles, 0},
	} {
		path := damaged(t, data)
		r, err := Rebuild(path, path+".rebuilt", c.folders)
		if err != nil || len(r.Events) != len(events) || len(r.NoFiles) != c.lost {
			t.Errorf("%s: %+v (%v)", c.what, r, err)
			continue
		}
		if a, err := AuditFile(path + ".rebuilt"); err != nil || len(a.Wrong) != c.lost {
			t.Errorf("%s: %+v (%v)", c.what, a, err)
		}
	}
}

// Files that are sound and of another plan are not taken for those that were booked.
func TestFilesOfAnotherPlan(t *testing.T) {
	b, _ := shopWithPlan(t)
	other, err := Files{"plan.json": []byte("[]")}.pack()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := b.db.Exec("DROP TRIGGER plans_stay; UPDATE plans SET files = ?", other); err != nil {
		t.Fatal(err)
	}
	b.Close()
	r, err := Rebuild(b.path, b.path+".rebuilt", noFolders)
	if err != nil || !slices.Equal(r.NoFiles, []string{"march/out"}) {
		t.Errorf("%+v (%v)", r, err)
	}
}

// What stands in the log only is rebuilt, too, as after a power failure.
func TestRebuildWithLog(t *testing.T) {
	dir := t.TempDir()
	b := made(t, dir, plank("B-1", "a", 50))
	was := plank("B-1", "a", 50)
	is := was
	is.Bin = "b"
	if _, err := b.Enter(Event{Date: "2027-01-05", Kind: Moved,
		Changes: []Change{{&was, &is}}}); err != nil {
		t.Fatal(err)
	}
	r, err := Rebuild(filepath.Join(dir, "book.db"), filepath.Join(dir, "fresh.db"),
		noFolders)
	if err != nil || len(r.Events) != 2 || r.Bad != nil || len(r.Lost) > 0 {
		t.Errorf("%+v (%v)", r, err)
	}
}

// A log that is damaged in its midst, as it lies there after a power failure, loses no event that
// stands behind the damage: it is found before SQLite drops it. What the damage hit is named.
func TestDamagedLog(t *testing.T) {
	dir := t.TempDir()
	b := made(t, dir, plank("B-1", "a", 50))
	was := plank("B-1", "a", 50)
	for n := range 8 {
		is := was
		is.Bin = fmt.Sprint("bin ", n)
		if _, err := b.Enter(Event{Date: "2027-01-05", Kind: Moved,
			Changes: []Change{{&was, &is}}}); err != nil {
			t.Fatal(err)
		}
		was = is
	}
	events, err := b.Events()
	if err != nil {
		t.Fatal(err)
	}
	file, err := os.ReadFile(filepath.Join(dir, "book.db"))
	if err != nil {
		t.Fatal(err)
	}
	log, err := os.ReadFile(filepath.Join(dir, "book.db-wal"))
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(6, 9))
	whole := 0
	for range 60 {
		bad := bytes.Clone(log)
		at := r.IntN(len(bad))
		bad[at] ^= 1 << r.IntN(8)
		what := fmt.Sprintf("byte %d of %d is flipped", at, len(bad))
		path := damaged(t, file)
		if err := os.WriteFile(path+"-wal", bad, 0o666); err != nil {
			t.Fatal(err)
		}
		left, err := Salvage(path)
		if err != nil || !reflect.DeepEqual(left.Events, events[:len(left.Events)]) {
			t.Fatalf("%s: %v, %v", what, left, err)
		}
		if len(left.Events) == len(events) {
			whole++
		}
		a, err := AuditFile(path)
		if err != nil || a.Sound != len(left.Events) || left.inLog > 0 && len(a.Wrong) == 0 {
			t.Errorf("%s: %+v, %v", what, a, err)
		}
		if is, err := os.ReadFile(path + "-wal"); left.inLog > 0 && !bytes.Equal(is, bad) {
			t.Errorf("%s: the log is another now (%v)", what, err)
		}
	}
	if whole < 50 { // each event is on the page of all later ones, too
		t.Errorf("only in %d of 60 cases all events are there", whole)
	}
}

// No statement changes or removes an event, or writes one out of turn.
func TestEventsStay(t *testing.T) {
	b := made(t, t.TempDir(), plank("B-1", "a", 50))
	for _, statement := range []string{
		"UPDATE events SET date = '2026-01-01'",
		"DELETE FROM events",
		"INSERT OR REPLACE INTO events SELECT number, '2026-01-01', kind, says, hash FROM events",
		"INSERT INTO events SELECT 7, date, kind, says, hash FROM events",
		"INSERT INTO events SELECT 0, date, kind, says, hash FROM events",
	} {
		if _, err := b.db.Exec(statement); err == nil || !strings.Contains(err.Error(), "event") {
			t.Errorf("%s: %v", statement, err)
		}
	}
	if a := b.Audit(); len(a.Wrong) > 0 {
		t.Error(a.Wrong)
	}
}

// Whoever goes round the triggers is found out.
func TestTampering(t *testing.T) {
	for _, c := range []struct{ statements, finds string }{
		{"DROP TRIGGER events_stay", "events_stay is missing"},
		{"CREATE TABLE more (a)", "more is not what a book has"},
		{"UPDATE rack SET says = replace(says, 'pine', 'oak')", "board B-1 is not on the rack as"},
		{"UPDATE rack SET says = NULL", "board B-1 is not on the rack as"},
		{"DELETE FROM rack", "board B-1 is not on the rack as"},
		{"INSERT INTO rack (board) VALUES ('B-2')", "board B-2 is not on the rack as"},
		{"UPDATE rack SET says = '{}'", "board B-1"},
		{"DELETE FROM files", "up to which event"},
		{"UPDATE files SET event = 4", "written up to event 4"},
		{round("events_stay", "UPDATE events SET date = '2027-01-03' WHERE number = 2"),
			"event 2: "},
		{round("events_stay", "UPDATE events SET kind = 'scrapped' WHERE number = 2"), "event 2: "},
		{round("events_last", "DELETE FROM events WHERE number = 2"), "event 2: it is missing"},
		{round("events_last", "DELETE FROM events"), "event 1: it is missing"},
		{round("events_last", "DELETE FROM events WHERE number = 3"),
			"board B-1 is not on the rack"},
	} {
		b := made(t, t.TempDir(), plank("B-1", "a", 50))
		was := plank("B-1", "a", 50)
		for range 2 { // event 2 and event 3
			is := was
			is.Bin += "+"
			if _, err := b.Enter(Event{Date: "2027-01-05", Kind: Moved,
				Changes: []Change{{&was, &is}}}); err != nil {
				t.Fatal(err)
			}
			was = is
		}
		if _, err := b.db.Exec(c.statements); err != nil {
			t.Fatal(err)
		}
		if a := b.Audit(); len(a.Wrong) == 0 || !strings.Contains(strings.Join(a.Wrong, "\n"),
			c.finds) {
			t.Errorf("%s: found is %q", c.statements, a.Wrong)
		}
	}
}

// round is a statement with a trigger taken away before and put back after.
func round(trigger, statement string) string {
	for _, part := range schema {
		if part.name == trigger {
			return "DROP TRIGGER " + trigger + "; " + statement + "; " + part.sql
		}
	}
	panic("no such trigger")
}
