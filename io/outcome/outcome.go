package outcome

import (
	"fmt"
	"slices"

	"rackwright/io/book"
	"rackwright/model"
)

// Cutting is what is known of boards of a plan that were cut.
type Cutting struct {
	Job    *model.Job // of the plan
	Plan   *model.Plan
	Shop   *model.Settings // the shop's as they are now: its bins, and how exactly it measures
	Rack   []model.Board   // as it is now
	Boards []string        // of the plan and on the rack
	Marks  []model.Marked  // of boards of the plan; those of other boards are passed over
	Date   string          // YYYY-MM-DD
}

// Outcome is what became of them, in the order of the cuts.
type Outcome struct {
	Done    []book.BoardCut
	Changes []book.Change
	Left    []string     // boards of which nothing was cut; they stay
	Notes   []model.Note // measures that are not taken as they stand
}

// Outcome works out what became of the boards. The error is [model.InputErrors], all at once.
func (c *Cutting) Outcome() (*Outcome, error) {
	w := &work{Cutting: c, bins: c.Shop.BinsOf(c.Rack), made: byID(c.Plan.Rack)}
	for _, b := range w.boards() {
		if w.like(b) {
			w.enter(b)
		}
	}
	if err := w.m.Err(); err != nil {
		return nil, err
	}
	return &w.out, nil
}

// work is one outcome as it is worked out.
type work struct {
	*Cutting
	bins  *model.Bins
	made  map[string]*model.Board // offcuts as the plan has them
	worth *model.Valuation        // nil until it is asked for
	out   Outcome
	m     model.Mistakes

	mistakes int // so far
}

// boards are those that are asked for, in the order of the cuts.
func (w *work) boards() (list []*board) {
	asked, of := map[string]bool{}, map[string]*board{}
	for _, id := range w.Boards {
		asked[id] = true
	}
	was, now := byID(w.Job.Rack), byID(w.Rack)
	for i := range w.Plan.Placements {
		p := &w.Plan.Placements[i]
		if !asked[p.Board] || of[p.Board] != nil {
			continue
		}
		if now[p.Board] == nil {
			w.wrong(nil, "", fmt.Sprintf("board %s is not on the rack", p.Board), "leave it out")
			continue
		}
		b := w.planned(p, was)
		b.was = book.Plain(*now[p.Board])
		of[p.Board] = b
		list = append(list, b)
	}
	marks := map[model.Mark]*model.Marked{}
	for i := range w.Marks {
		marks[named(w.Marks[i].Mark)] = &w.Marks[i]
	}
	for _, c := range w.Plan.Cuts {
		if b := of[c.Board]; b != nil {
			b.rows = append(b.rows, c)
		}
	}
	for _, b := range list {
		b.take(marks)
	}
	return list
}

func byID(rack []model.Board) map[string]*model.Board {
	at := make(map[string]*model.Board, len(rack))
	for i := range rack {
		at[rack[i].ID] = &rack[i]
	}
	return at
}

// planned is a board as the plan has it.
func (w *work) planned(p *model.Placement, rack map[string]*model.Board) *board {
	if p.Offer == 0 {
		return &board{plan: *rack[p.Board], offer: -1}
	}
	i := slices.IndexFunc(w.Job.Yard, func(o model.Offer) bool { return o.Where.Line == p.Offer })
	return &board{plan: model.Board{ID: p.Board, Wood: w.Job.Yard[i].Wood}, offer: i}
}

// wrong adds a mistake of a mark; of none it names no place.
func (w *work) wrong(m *model.Marked, column, cause, remedy string) {
	e := &model.InputError{Code: model.CodeContradiction, Column: column, Cause: cause,
		Remedy: remedy}
	if m != nil {
		e.File, e.Line = m.Where.File, m.Where.Line
	}
	if e.Line == 0 {
		e.Column = ""
	}
	w.m.Add(e)
	w.mistakes++
}

// note tells of a measure that is not taken as it stands.
func (w *work) note(m *model.Marked, column string, is model.Length) {
	w.out.Notes = append(w.out.Notes, model.Note{File: m.Where.File, Line: m.Where.Line,
		Column: column, Text: fmt.Sprintf("it is a little more than there can be, and entered as "+
			"%s", w.show(is))})
}

func (w *work) show(l model.Length) string { return l.Shop(w.Shop.Units) }
