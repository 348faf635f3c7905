package book

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
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

// audited lays a file down as a book and audits it; what cannot be opened is wrong, too.
func audited(t *testing.T, data []byte) (*Audit, []Event) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "book.db")
	if err := os.WriteFile(path, data, 0o666); err != nil {
		t.Fatal(err)
	}
	b, err := Open(path)
	if err != nil {
		return &Audit{Wrong: []string{err.Error()}}, nil
	}
	defer b.Close()
	a := b.Audit()
	events, _ := b.Events()
	return a, events
}

// A bit that flipped is found, unless it lies where nothing is kept: then all events are as they
// were.
func TestFlippedBits(t *testing.T) {
	data, events := filled(t)
	r := rand.New(rand.NewPCG(7, 14))
	times, found := 300, 0
	if testing.Short() {
		times = 40
	}
	for range times {
		bad := bytes.Clone(data)
		at, bit := r.IntN(len(bad)), r.IntN(8)
		bad[at] ^= 1 << bit
		a, is := audited(t, bad)
		if len(a.Wrong) > 0 {
			found++
		} else if diff := cmp.Diff(events, is); diff != "" {
			t.Errorf("bit %d of byte %d is flipped, and not found:\n%s", bit, at, diff)
		}
	}
	if found < times/3 {
		t.Errorf("of %d flips only %d are found", times, found)
	}
}

// A bit that flipped in an event is found, and the event is named.
func TestFlippedEventIsNamed(t *testing.T) {
	data, _ := filled(t)
	for _, n := range []int{0, 17, 39} {
		// also where a page was moved from, and nothing is kept any more
		mark := fmt.Sprintf(`{"changes":[{"is":{"board":"N-%d",`, n)
		bad := bytes.ReplaceAll(data, []byte(mark), []byte(strings.Replace(mark, "N-", "O-", 1)))
		if bytes.Equal(bad, data) {
			t.Fatalf("event %d is not in the file as it is written", n+2)
		}
		a, _ := audited(t, bad)
		if want := fmt.Sprintf("event %d: ", n+2); len(a.Wrong) == 0 || a.Sound != n+1 ||
			!strings.HasPrefix(a.Wrong[len(a.Wrong)-1], want) {
			t.Errorf("of event %d it is said: %+v", n+2, a)
		}
	}
}

// A book that ends too soon is found, wherever it ends.
func TestTruncated(t *testing.T) {
	data, _ := filled(t)
	for size := 0; size < len(data); size += 1000 {
		if a, _ := audited(t, data[:size]); len(a.Wrong) == 0 {
			t.Errorf("the first %d of %d bytes are a sound book", size, len(data))
		}
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
