package book

import (
	"database/sql"
	"errors"
	"fmt"

	"rackwright/model"
)

// Book is an open book. Its methods wait for each other, and for other programs, a minute at most.
type Book struct {
	db   *sql.DB
	path string
}

// Close closes the book.
func (b *Book) Close() error { return b.db.Close() }

// sound says whether the file is a book of a version that can be read.
func (b *Book) sound() error {
	var is, form, tables int64
	err := b.db.QueryRow(`SELECT (SELECT application_id FROM pragma_application_id),
		(SELECT user_version FROM pragma_user_version),
		(SELECT count(*) FROM sqlite_schema WHERE type = 'table')`).Scan(&is, &form, &tables)
	switch {
	case err != nil:
		return err
	case is != mark:
		return ErrNotBook
	case form > version:
		return ErrNewer
	case form < oldest:
		return ErrNotBook
	}
	return nil
}

// begin makes the tables of a new book and its first event.
func (b *Book) begin(date string, boards []Change) error {
	return b.within(func(tx *sql.Tx) error {
		if err := makeTables(tx); err != nil {
			return err
		}
		return enter(tx, &Event{Date: date, Kind: Opened, Changes: boards})
	})
}

// makeTables makes the tables of a new book, without any event.
func makeTables(tx *sql.Tx) error {
	if err := makeParts(tx, 0, oldest); err != nil {
		return err
	}
	set := fmt.Sprintf("PRAGMA application_id = %d; PRAGMA user_version = %d", mark, oldest)
	if _, err := tx.Exec(set); err != nil {
		return err
	}
	_, err := tx.Exec("INSERT INTO files VALUES (0)")
	return err
}

// within does something all or not at all. Once it gives no error, it lasts.
func (b *Book) within(do func(*sql.Tx) error) error {
	tx, err := b.db.Begin()
	if err != nil {
		return plainly(err)
	}
	if err := do(tx); err != nil {
		_ = tx.Rollback() // what was not committed does not count in any case
		return plainly(err)
	}
	return plainly(tx.Commit())
}

// Enter enters an event behind the last, and gives it its number. One that may not follow is
// refused with a [Refused].
func (b *Book) Enter(e Event) (Event, error) {
	if e.Number = 0; e.Kind == Booked {
		return e, &Refused{"a plan is booked with its files"}
	}
	err := b.within(func(tx *sql.Tx) error { return enter(tx, &e) })
	return e, err
}

// Undo enters that an event does not count. It is refused with a [Refused] where later events
// stand on it. An event of 0 is the last that counts and may be undone.
func (b *Book) Undo(date string, number int64) (e Event, err error) {
	err = b.within(func(tx *sql.Tx) error {
		events, err := read(tx)
		if err != nil {
			return err
		}
		t, err := fold(events)
		if err != nil {
			return err
		}
		for n := int64(len(events)); number == 0 && n > 0; n-- {
			if t.mayUndo(n) == nil {
				number = n
			}
		}
		if number == 0 {
			return ErrNothing
		}
		if err := t.mayUndo(number); err != nil {
			return &Refused{cannotUndo(number, err).Error()}
		}
		e = Event{Date: date, Kind: Undone, Of: number, Changes: undoing(t.of[number])}
		return enter(tx, &e)
	})
	return e, err
}

// ErrNothing says that no event can be undone.
var ErrNothing = errors.New("no event can be undone")

// Refused says why an event cannot be entered, though the book is sound.
type Refused struct{ why string }

func (r *Refused) Error() string { return r.why }

// enter writes an event, and the rack after it.
func enter(tx *sql.Tx, e *Event) error {
	last, hash := int64(0), ""
	err := tx.QueryRow("SELECT number, hash FROM events ORDER BY number DESC LIMIT 1").
		Scan(&last, &hash)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return err
	}
	e.Number = last + 1
	if err := legal(e); err != nil {
		return &Refused{err.Error()}
	}
	if err := mayFollow(tx, e); err != nil {
		return err
	}
	for i := range e.Changes {
		if err := turn(tx, &e.Changes[i]); err != nil {
			return err
		}
	}
	_, err = put(tx, e, hash)
	return err
}

// put writes the row of an event behind one with that hash, and gives its own.
func put(tx *sql.Tx, e *Event, hash string) (string, error) {
	text, err := e.encode()
	if err != nil {
		return "", err
	}
	n := entry{number: e.Number, date: e.Date, kind: string(e.Kind), says: text}
	n.hash = n.sum(hash)
	_, err = tx.Exec("INSERT INTO events VALUES (?, ?, ?, ?, ?)", n.number, n.date, n.kind, n.says,
		n.hash)
	if err != nil {
		return "", err
	}
	return n.hash, lift(tx, formOf(e.Kind))
}

// lift brings the file to a version of the form, where it is of an older one.
func lift(tx *sql.Tx, to int) error {
	is := 0
	err := tx.QueryRow("SELECT user_version FROM pragma_user_version").Scan(&is)
	if err != nil || is >= to {
		return err
	}
	if err := makeParts(tx, is, to); err != nil {
		return err
	}
	_, err = tx.Exec(fmt.Sprintf("PRAGMA user_version = %d", to))
	return err
}

// makeParts makes the parts of a book that came with the forms after one, up to another.
func makeParts(tx *sql.Tx, after, to int) error {
	for _, part := range schema {
		if after < part.form && part.form <= to {
			if _, err := tx.Exec(part.sql); err != nil {
				return err
			}
		}
	}
	return nil
}

// turn changes a board of the table.
func turn(tx *sql.Tx, c *Change) error {
	var is sql.NullString
	err := tx.QueryRow("SELECT says FROM rack WHERE board = ?", c.ID()).Scan(&is)
	came := err == nil
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return err
	}
	was, err := column(c.Was)
	if err != nil {
		return err
	}
	if was != is {
		return &Refused{fmt.Sprintf("board %s is not as it was thought to be", c.ID())}
	}
	if is, err = column(c.Is); err != nil {
		return err
	}
	if came {
		_, err = tx.Exec("UPDATE rack SET says = ? WHERE board = ?", is, c.ID())
	} else {
		_, err = tx.Exec("INSERT INTO rack (board, says) VALUES (?, ?)", c.ID(), is)
	}
	return err
}

// column is a board as the table has it.
func column(b *model.Board) (sql.NullString, error) {
	if b == nil {
		return sql.NullString{}, nil
	}
	text, err := encodeBoard(b)
	return sql.NullString{String: text, Valid: true}, err
}

// Events gives all events. One that is not as it was entered is a [Broken]; those before it are
// given.
func (b *Book) Events() ([]Event, error) { return read(b.db) }

// asker is the database, or a transaction of it.
type asker interface {
	Query(query string, args ...any) (*sql.Rows, error)
}

func read(from asker) (events []Event, err error) {
	rows, err := from.Query("SELECT number, date, kind, says, hash FROM events ORDER BY number")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	last, hash := int64(0), ""
	for rows.Next() {
		var n entry
		if err := rows.Scan(&n.number, &n.date, &n.kind, &n.says, &n.hash); err != nil {
			return events, err
		}
		e, err := n.event(last, hash)
		if err != nil {
			return events, err
		}
		events = append(events, e)
		last, hash = n.number, n.hash
	}
	return events, rows.Err()
}

// Rack gives the boards on the rack as the table has them.
func (b *Book) Rack() ([]model.Board, error) {
	rack := []model.Board{}
	err := b.places(func(_ string, is *model.Board) {
		if is != nil {
			rack = append(rack, *is)
		}
	})
	return rack, err
}

// Came says whether a board of that id ever came to the rack, other than by events that were
// undone.
func (b *Book) Came(id string) (bool, error) {
	there := false
	err := b.db.QueryRow("SELECT says IS NOT NULL FROM rack WHERE board = ?", id).Scan(&there)
	if errors.Is(err, sql.ErrNoRows) {
		return false, nil
	}
	if there || err != nil {
		return there, err
	}
	events, err := b.Events() // it may have come by mistake
	if err != nil {
		return false, err
	}
	t, err := fold(events)
	return err == nil && t.hasCome(id), err
}

// EverCame are the ids of all boards that ever came to the rack, as they first came.
func (b *Book) EverCame() (ids []string, err error) {
	err = each(b.db, "SELECT board FROM rack ORDER BY place", func(rows *sql.Rows) error {
		ids = append(ids, "")
		return rows.Scan(&ids[len(ids)-1])
	})
	return ids, err
}

// places hands over each id that ever came, with its board where it is still there.
func (b *Book) places(take func(id string, is *model.Board)) error {
	return each(b.db, "SELECT board, says FROM rack ORDER BY place", func(rows *sql.Rows) error {
		var id string
		var text sql.NullString
		err := rows.Scan(&id, &text)
		if err != nil {
			return err
		}
		var is *model.Board
		if text.Valid {
			if is, err = decodeBoard(text.String); err != nil {
				return fmt.Errorf("board %s of the rack cannot be read: %w", id, err)
			}
		}
		take(id, is)
		return nil
	})
}

// State is how far a book is.
type State struct {
	Last    int64  // number of the last event
	Date    string // of that event
	Written int64  // the event up to which the files are known to be written; 0: none
}

// State says how far the book is.
func (b *Book) State() (s State, err error) {
	err = b.db.QueryRow(`SELECT number, date, (SELECT max(event) FROM files) FROM events
		ORDER BY number DESC LIMIT 1`).Scan(&s.Last, &s.Date, &s.Written)
	return s, err
}

// SetWritten notes up to which event the files are written.
func (b *Book) SetWritten(number int64) error {
	return b.within(func(tx *sql.Tx) error {
		_, err := tx.Exec("UPDATE files SET event = ?", number)
		return err
	})
}
