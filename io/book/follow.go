package book

import (
	"cmp"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"

	"rackwright/model"
)

// What events in the file add up to for plans, and which may follow them. Most events are of no
// plan: for these not all are read again.

// Objections are all reasons why a plan cannot be booked now.
func (b *Book) Objections(plan string, booking Booking) ([]string, error) {
	events, err := b.Events()
	if err != nil {
		return nil, err
	}
	t, err := fold(events)
	if err != nil {
		return nil, err
	}
	return t.plans.mayBook(plan, &booking, t), nil
}

// Lives gives the plans that are booked, in the order of their booking, as they now are.
func (b *Book) Lives() ([]Life, error) {
	p, err := readPlans(b.db)
	if err != nil || len(p.all) == 0 {
		return nil, err
	}
	on := map[string]bool{}
	err = each(b.db, "SELECT board FROM rack WHERE says IS NOT NULL", func(rows *sql.Rows) error {
		var id string
		err := rows.Scan(&id)
		on[id] = true
		return err
	})
	return p.lives(func(id string) bool { return on[id] }), err
}

// readPlans adds up the events of plans alone.
func readPlans(from asker) (*plans, error) {
	p := &plans{}
	err := each(from, `SELECT number, date, kind, says FROM events
		WHERE kind IN ('booked', 'received', 'cut', 'undone') ORDER BY number`,
		func(rows *sql.Rows) error {
			e, text := &Event{}, ""
			if err := rows.Scan(&e.Number, &e.Date, (*string)(&e.Kind), &text); err != nil {
				return err
			}
			if err := e.glance(text); err != nil {
				return &Broken{e.Number, "it cannot be read: " + err.Error()}
			}
			if l := p.find(e.Plan); l == nil && (e.Kind == Received || e.Kind == Cut) {
				return &Broken{e.Number, fmt.Sprintf("plan %s is not booked", e.Plan)}
			}
			p.add(e)
			return nil
		})
	return p, err
}

// each goes through rows that are asked for.
func each(from asker, query string, take func(*sql.Rows) error) error {
	rows, err := from.Query(query)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		if err := take(rows); err != nil {
			return err
		}
	}
	return rows.Err()
}

// glance reads of what an event says only what plans need of it: of boards that change the ids.
func (e *Event) glance(text string) error {
	type id struct {
		ID string `json:"board"`
	}
	s := struct {
		says
		Changes []struct{ Was, Is *id } `json:"changes"` // in place of those of says
	}{}
	if err := json.Unmarshal([]byte(text), &s); err != nil {
		return err
	}
	e.Of, e.Plan, e.Booking, e.Missing, e.Done = s.Of, s.Plan, s.Booking, s.Missing, s.Done
	board := func(b *id) *model.Board {
		if b == nil {
			return nil
		}
		return &model.Board{ID: b.ID}
	}
	for _, c := range s.Changes {
		e.Changes = append(e.Changes, Change{board(c.Was), board(c.Is)})
	}
	return nil
}

// mayFollow says why an event cannot follow those in the file for the sake of plans, or nil.
func mayFollow(tx *sql.Tx, e *Event) error {
	if e.Kind == Undone {
		return nil // it is judged already
	}
	if ofPlan := e.Kind == Booked || e.Kind == Received || e.Kind == Cut; !ofPlan {
		// most events bring no board that a plan knows, so that plans need not be looked at
		known, err := anyPlanKnows(tx, comes(e.Changes))
		if err != nil || !known {
			return err
		}
	}
	p, err := readPlans(tx)
	if err != nil {
		return err
	}
	g := &table{from: tx}
	why := p.may(e, g)
	// a board that came may have come by mistake
	if why != nil && g.err == nil && e.Kind == Booked {
		events, err := read(tx)
		if err != nil {
			return err
		}
		t, err := fold(events)
		if err != nil {
			return err
		}
		why = t.plans.may(e, t)
	}
	if why != nil && g.err == nil {
		why = &Refused{why.Error()}
	}
	return cmp.Or(g.err, why)
}

// anyPlanKnows says whether the text of any booking has one of these ids.
func anyPlanKnows(tx *sql.Tx, ids []string) (bool, error) {
	for _, id := range ids {
		text, err := json.Marshal(id)
		if err != nil {
			return false, err
		}
		known := false
		if err := tx.QueryRow(`SELECT EXISTS (SELECT 1 FROM events WHERE kind = 'booked' AND
			instr(says, ?))`, string(text)).Scan(&known); known || err != nil {
			return known, err
		}
	}
	return false, nil
}

// table is the rack in the file as the [ground] of a booking. A board that came and whose coming
// was undone has come, too.
type table struct {
	from *sql.Tx
	err  error
}

func (t *table) isOn(id string) bool { return t.ask("SELECT says IS NOT NULL", id) }

func (t *table) hasCome(id string) bool { return t.ask("SELECT 1", id) }

func (t *table) ask(what, id string) (is bool) {
	err := t.from.QueryRow(what+" FROM rack WHERE board = ?", id).Scan(&is)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		t.err = err
	}
	return is
}
