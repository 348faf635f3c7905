package book

import (
	"database/sql"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"rackwright/model"
)

// large makes a book of about so many events: boards come and go, and each plan of 50 boards is
// booked, received and cut. A tenth as many boards are on the rack at the end.
func large(b *testing.B, path string, events int) {
	b.Helper()
	var first []Change
	for n := range events / 10 {
		is := plank(fmt.Sprint("B-", n), "a", 60)
		first = append(first, Change{Is: &is})
	}
	if err := Create(path, day, first); err != nil {
		b.Fatal(err)
	}
	book, err := Open(path)
	if err != nil {
		b.Fatal(err)
	}
	defer book.Close()
	last, hash := int64(1), ""
	if err := book.db.QueryRow("SELECT hash FROM events").Scan(&hash); err != nil {
		b.Fatal(err)
	}
	put := func(tx *sql.Tx, e Event) {
		last++
		e.Number, e.Date = last, day
		text, err := e.encode()
		if err != nil {
			b.Fatal(err)
		}
		n := entry{number: last, date: e.Date, kind: string(e.Kind), says: text}
		n.hash, hash = n.sum(hash), n.sum(hash)
		if _, err := tx.Exec("INSERT INTO events VALUES (?, ?, ?, ?, ?)", n.number, n.date, n.kind,
			n.says, n.hash); err != nil {
			b.Fatal(err)
		}
		for i := range e.Changes {
			if err := turn(tx, &e.Changes[i]); err != nil {
				b.Fatal(err)
			}
		}
	}
	files := Files{"plan.json": []byte("{}")}
	if _, err := book.Book(day, "first/out", Booking{Hash: planHash(0)}, files); err != nil {
		b.Fatal(err)
	}
	if err := book.db.QueryRow("SELECT number, hash FROM events ORDER BY number DESC").Scan(&last,
		&hash); err != nil {
		b.Fatal(err)
	}
	if err := book.within(func(tx *sql.Tx) error {
		for plan := 1; int(last) < events; plan++ {
			name := fmt.Sprintf("%d/out", plan)
			booking := &Booking{Hash: planHash(plan), Files: files.Hash()}
			var came []Change
			for n := range 50 {
				is := plank(fmt.Sprintf("%d-buy-%d", plan, n), "in", 90)
				booking.Buys = append(booking.Buys, Purchase{Board: is, Price: 70_000})
				booking.Offcuts = append(booking.Offcuts, fmt.Sprintf("%d-off-%d", plan, n))
				came = append(came, Change{Is: &is})
			}
			put(tx, Event{Kind: Booked, Plan: name, Booking: booking})
			put(tx, Event{Kind: Received, Plan: name, Changes: came})
			for n := range 50 {
				off := plank(booking.Offcuts[n], "off", 20)
				d, changes := sawn(*came[n].Is, int64(n), 60, false, off)
				put(tx, Event{Kind: Cut, Plan: name, Done: []BoardCut{d}, Changes: changes})
				put(tx, Event{Kind: Scrapped, Changes: []Change{{Was: &off}}})
			}
		}
		return nil
	}); err != nil {
		b.Fatal(err)
	}
}

func planHash(n int) string { return hash(1_000_000 + n) }

// BenchmarkLargeBook does what commands do with a book of many events: a tenth of them, and all.
func BenchmarkLargeBook(b *testing.B) {
	for _, events := range []int{10_000, 100_000} {
		path := filepath.Join(b.TempDir(), "book.db")
		large(b, path, events)
		book, err := Open(path)
		if err != nil {
			b.Fatal(err)
		}
		defer book.Close()
		if info, err := os.Stat(path); err == nil {
			b.Logf("%d events take %d bytes", events, info.Size())
		}
		run := func(what string, do func(n int) error) {
			b.Run(fmt.Sprintf("%s/%d", what, events), func(b *testing.B) {
				for n := 0; b.Loop(); n++ {
					if err := do(n); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
		run("rack", func(int) error { _, err := book.Rack(); return err })
		run("plans", func(int) error { _, err := book.Lives(); return err })
		run("audit", func(int) error {
			if a := book.Audit(); len(a.Wrong) > 0 {
				return fmt.Errorf("%q", a.Wrong)
			}
			return nil
		})
		added := 0
		run("add", func(int) error {
			added++
			is := plank(fmt.Sprintf("add-%d", added), "a", 60)
			_, err := book.Enter(Event{Date: day, Kind: Added, Changes: []Change{{Is: &is}}})
			return err
		})
		booked := 0
		run("book", func(int) error {
			booked++
			_, err := book.Book(day, fmt.Sprintf("new %d/out", booked), Booking{
				Hash: hash(2_000_000 + booked), Buys: []Purchase{{Board: model.Board{
					ID: fmt.Sprint("new-", booked)}}}}, Files{})
			return err
		})
	}
}
