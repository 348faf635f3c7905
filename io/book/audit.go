package book

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"rackwright/model"
)

// Audit is what was looked at in a book, and what is wrong with it.
type Audit struct {
	Sound  int // how many events come before the first bad one
	Boards int // on the rack
	Wrong  []string
}

// AuditFile looks at all of the book at a path: the file, its tables and triggers, each hash, each
// event, and whether the rack is what the events add up to. Where the events cannot be had in full,
// the last that is wrong begins "event N: ", with the first that is bad or missing. A file in which
// no event is found is an error, as is one of a newer version.
func AuditFile(path string) (*Audit, error) {
	if a := auditLog(path); a != nil {
		return a, nil
	}
	b, err := Open(path)
	if err == nil {
		defer b.Close()
		return b.Audit(), nil
	}
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, ErrReadOnly) || errors.Is(err, ErrNewer) {
		return nil, err
	}
	r, salvaged := Salvage(path)
	if salvaged != nil || len(r.Events)+len(r.Lost) == 0 {
		return nil, err
	}
	a := &Audit{}
	a.bad("the file cannot be read as it should: %v", err)
	a.rest(r)
	return a, nil
}

// auditLog says whether events stand in a damaged log, which SQLite would drop with them as soon as
// it opens the file; else it gives nil.
func auditLog(path string) *Audit {
	log, err := os.Lstat(path + "-wal")
	if err != nil || log.Size() == 0 {
		return nil
	}
	r, err := Salvage(path)
	if err != nil || r.inLog == 0 {
		return nil
	}
	a := &Audit{Sound: len(r.Events)}
	a.bad("its log %s is damaged: with it, any command but audit loses the last events, from "+
		"event %d on", filepath.Base(path)+"-wal", a.Sound-r.inLog+1)
	if r.Bad != nil {
		a.bad("%v", r.Bad)
	}
	return a
}

// rest says up to where the events of a damaged file can be read.
func (a *Audit) rest(r *Rest) {
	a.Sound = len(r.Events)
	if r.Bad == nil {
		r.Bad = &Broken{int64(a.Sound) + 1, "if there was one, nothing of it can be read"}
	}
	a.bad("%v", r.Bad)
}

// Audit is [AuditFile] of an open book.
func (b *Book) Audit() *Audit {
	a := &Audit{}
	b.auditFile(a)
	b.auditSchema(a)
	events, err := b.Events()
	if err == nil && len(events) == 0 {
		err = &Broken{1, "it is missing: there is no event at all"}
	}
	if err == nil {
		_, err = fold(events)
	}
	if err != nil {
		b.auditRest(a, err)
		return a
	}
	a.Sound = len(events)
	b.auditRack(a, events)
	b.auditPlans(a, events)
	b.auditWritten(a)
	return a
}

// auditRest says up to where events can be read that SQLite cannot read to their end.
func (b *Book) auditRest(a *Audit, err error) {
	r, salvaged := Salvage(b.path)
	if salvaged != nil {
		a.bad("its events cannot be read: %v", salvaged)
		return
	}
	if broken, is := errors.AsType[*Broken](err); is && broken.Number == int64(len(r.Events))+1 {
		r.Bad = broken
	} else {
		a.bad("its events cannot be read where they should stand: %v", err)
	}
	a.rest(r)
}

// auditWritten looks at what the book has of the files.
func (b *Book) auditWritten(a *Audit) {
	if s, err := b.State(); err != nil {
		a.bad("it does not say up to which event the files are written: %v", err)
	} else if s.Written > s.Last {
		a.bad("event %d: it is missing: the files are said to be written up to event %d", s.Last+1,
			s.Written)
	} else if s.Written < 0 {
		a.bad("the files are said to be written up to event %d, which is none", s.Written)
	}
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
