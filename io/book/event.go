package book

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"slices"

	"rackwright/model"
)

// Kind says why an event came.
type Kind string

// The kinds.
const (
	Opened   Kind = "opened"   // the rack as it was when the book was made
	Added    Kind = "added"    // a board was put on the rack
	Moved    Kind = "moved"    // a board lies in another bin
	Scrapped Kind = "scrapped" // a board is gone
	Taken    Kind = "taken"    // the rack as it was changed by hand
	Counted  Kind = "counted"  // the rack as it was found in a count
	Booked   Kind = "booked"   // a plan is to be carried out: its boards are promised to it
	Received Kind = "received" // boards came that a plan buys
	Cut      Kind = "cut"      // boards were cut as a plan has it, or otherwise
	Undone   Kind = "undone"   // an earlier event does not count
)

// Event is one entry of the book.
type Event struct {
	Number int64 // from 1
	Date   string
	Kind   Kind
	Of     int64 // of an undone one, the event that does not count
	// of what is booked, received or cut: the plan's folder, from the shop folder on, by slashes,
	// such as 2027-03/out
	Plan    string
	Booking *Booking   // of a booked one
	Missing []string   // of a received one: boards that were awaited and are not delivered
	Done    []BoardCut // of a cut one
	Changes []Change
}

// Change is what became of a board; one of the two may be nil, and both have the same id.
type Change struct {
	Was, Is *model.Board
}

// ID is the board that changed.
func (c Change) ID() string {
	if c.Is != nil {
		return c.Is.ID
	}
	return c.Was.ID
}

// back is the change turned round.
func (c Change) back() Change { return Change{Was: c.Is, Is: c.Was} }

// says is the JSON of an event: what its row has no column for.
type says struct {
	Of      int64      `json:"of,omitempty"`
	Plan    string     `json:"plan,omitempty"`
	Booking *Booking   `json:"booking,omitempty"`
	Missing []string   `json:"missing,omitempty"`
	Done    []BoardCut `json:"done,omitempty"`
	Changes []change   `json:"changes"`
}

type change struct {
	Was *board `json:"was,omitempty"`
	Is  *board `json:"is,omitempty"`
}

// board is a model.Board without the place of its row.
type board struct {
	model.Board
	Where *model.Where `json:"where,omitempty"` // in place of the board's own; always nil
}

func sheet(b *model.Board) *board {
	if b == nil {
		return nil
	}
	plain := Plain(*b)
	return &board{Board: plain}
}

func (b *board) board() *model.Board {
	if b == nil {
		return nil
	}
	return &b.Board
}

// Plain is a board as the book has it: without the place of its row, its defects in order.
func Plain(b model.Board) model.Board {
	b.Where, b.Bought = model.Where{}, false // which is of a plan, not of the board
	b.Defects = slices.SortedFunc(slices.Values(b.Defects), func(a, b model.Defect) int {
		return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To),
			cmp.Compare(a.Left, b.Left), cmp.Compare(a.Right, b.Right), cmp.Compare(a.Kind, b.Kind))
	})
	return b
}

// encode writes what an event says.
func (e *Event) encode() (string, error) {
	s := says{Of: e.Of, Plan: e.Plan, Booking: e.Booking, Missing: e.Missing, Done: e.Done,
		Changes: []change{}}
	for _, c := range e.Changes {
		s.Changes = append(s.Changes, change{sheet(c.Was), sheet(c.Is)})
	}
	text, err := json.Marshal(s)
	return string(text), err
}

// decode reads what an event says, into its fields; it must be as [Event.encode] writes it.
func (e *Event) decode(text string) error {
	var s says
	if err := strict(text, &s); err != nil {
		return err
	}
	e.Of, e.Plan, e.Booking, e.Missing, e.Done = s.Of, s.Plan, s.Booking, s.Missing, s.Done
	for n, c := range s.Changes {
		if c.Was == nil && c.Is == nil || c.Was != nil && c.Is != nil && c.Was.ID != c.Is.ID {
			return fmt.Errorf("change %d is of no board, or of two", n+1)
		}
		e.Changes = append(e.Changes, Change{c.Was.board(), c.Is.board()})
	}
	if again, err := e.encode(); err != nil || again != text {
		return fmt.Errorf("what it says is not in its plain form")
	}
	return nil
}

func encodeBoard(b *model.Board) (string, error) {
	text, err := json.Marshal(sheet(b))
	return string(text), err
}

func decodeBoard(text string) (*model.Board, error) {
	var b board
	if err := strict(text, &b); err != nil {
		return nil, err
	}
	return b.board(), nil
}

// strict reads JSON without keys that are not known.
func strict(text string, into any) error {
	d := json.NewDecoder(bytes.NewReader([]byte(text)))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return err
	}
	if d.More() {
		return fmt.Errorf("there is more behind it")
	}
	return nil
}
