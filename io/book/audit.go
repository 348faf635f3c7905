package book

import (
	"errors"
	"fmt"

	"rackwright/model"
)

// Audit is what was looked at in a book, and what is wrong with it.
type Audit struct {
	Sound  int // how many events come before the first bad one
	Boards int // on the rack
	Wrong  []string
}

// Audit looks at all of the book: the file, its tables and triggers, each hash, each event, and
// whether the rack is what the events add up to.
func (b *Book) Audit() *Audit {
	a := &Audit{}
	b.auditFile(a)
	b.auditSchema(a)
	events, err := b.Events()
	a.Sound = len(events)
	if err == nil {
		_, err = fold(events)
	}
	if err != nil {
		if b, is := errors.AsType[*Broken](err); is {
			a.Sound = int(b.Number) - 1
		}
		a.bad("%v", err)
		return a
	}
	if len(events) == 0 {
		a.bad("event 1: it is missing: there is no event at all")
		return a
	}
	b.auditRack(a, events)
	b.auditPlans(a, events)
	if s, err := b.State(); err != nil {
		a.bad("it does not say up to which event the files are written: %v", err)
	} else if s.Written < 0 || s.Written > s.Last {
		a.bad("the files are said to be written up to event %d, and the last is event %d",
			s.Written, s.Last)
	}
	return a
}

func (a *Audit) bad(format string, args ...any) {
	a.Wrong = append(a.Wrong, fmt.Sprintf(format, args...))
}

// mostFaults of the file are told one by one.
const mostFaults = 5

// auditFile has SQLite look at its file.
func (b *Book) auditFile(a *Audit) {
	rows, err := b.db.Query(fmt.Sprintf("PRAGMA integrity_check(%d)", mostFaults))
	if err != nil {
		a.bad("the file is damaged: %v", err)
		return
	}
	defer rows.Close()
	for rows.Next() {
		var said string
		if err := rows.Scan(&said); err != nil {
			a.bad("the file is damaged: %v", err)
			return
		}
		if said != "ok" {
			a.bad("the file is damaged: %s", said)
		}
	}
	if err := rows.Err(); err != nil {
		a.bad("the file is damaged: %v", err)
	}
}

// auditSchema compares tables and triggers with those that a book is made of.
func (b *Book) auditSchema(a *Audit) {
	form := 0
	if err := b.db.QueryRow("PRAGMA user_version").Scan(&form); err != nil {
		a.bad("its form cannot be read: %v", err)
		return
	}
	want := map[string]string{}
	for _, part := range schema {
		if part.form <= form {
			want[part.name] = part.sql
		}
	}
	rows, err := b.db.Query(`SELECT name, sql FROM sqlite_schema WHERE sql IS NOT NULL
		ORDER BY name`)
	if err != nil {
		a.bad("its tables cannot be read: %v", err)
		return
	}
	defer rows.Close()
	for rows.Next() {
		var name, text string
		if err := rows.Scan(&name, &text); err != nil {
			a.bad("its tables cannot be read: %v", err)
			return
		}
		if want[name] != text {
			a.bad("%s is not what a book has by that name", name)
		}
		delete(want, name)
	}
	if err := rows.Err(); err != nil {
		a.bad("its tables cannot be read: %v", err)
		return
	}
	for _, part := range schema {
		if want[part.name] != "" {
			a.bad("%s is missing, which guards the book or is part of it", part.name)
		}
	}
}

// auditRack compares the table of the rack with what the events add up to.
func (b *Book) auditRack(a *Audit, events []Event) {
	t, err := fold(events)
	if err != nil {
		return // told already
	}
	a.Boards = len(t.boards())
	n, wrong := 0, ""
	err = b.places(func(id string, is *model.Board) {
		if wrong == "" && (n >= len(t.ids) || t.ids[n] != id || !same(t.on[id], is)) {
			wrong = id
		}
		n++
	})
	switch {
	case err != nil:
		a.bad("the rack cannot be read: %v", err)
	case wrong != "":
		a.bad("board %s is not on the rack as the events have it", wrong)
	case n < len(t.ids):
		a.bad("board %s is not on the rack as the events have it", t.ids[n])
	}
}

// auditPlans looks whether the files of each plan that was booked are there, and are those.
func (b *Book) auditPlans(a *Audit, events []Event) {
	for i := range events {
		e := &events[i]
		if form := 0; e.Kind == Booked {
			err := b.db.QueryRow("PRAGMA user_version").Scan(&form)
			if err == nil && form < withPlans {
				err = fmt.Errorf("the form of the file is older than such an event")
			}
			if err == nil {
				_, err = b.PlanFiles(e.Booking.Files)
			}
			if err != nil {
				a.bad("plan %s, booked by event %d: %v", e.Plan, e.Number, err)
			}
		}
	}
}
