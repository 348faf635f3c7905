package outcome

import (
	"fmt"
	"strings"

	"rackwright/io/book"
	"rackwright/model"
)

// board is a board of the plan.
type board struct {
	was   model.Board // as it is on the rack
	plan  model.Board // as the plan has it
	offer int         // index of Job.Yard by which it is bought; -1: it was on the rack
	why   string      // in what it is not as planned
	seen  model.Board // as it was, with the defects that are marked
	rows  []model.Cut
	// what is cut from it: its pieces, then what the plan keeps, in the order of the cuts
	things []*thing
	rest   *model.Marked // nil: no mark
}

// thing is a piece or an offcut.
type thing struct {
	*model.Cut
	mark *model.Marked // nil: none
	// of a piece as marked, or cut; of an offcut as marked, else as [board.region] finds it
	state model.State
	size  model.Rect // of an offcut as it is measured, where it lay on the board
}

func (t *thing) piece() bool { return t.Kind == model.KindPart }

// notCut says whether a thing is still in its board.
func (t *thing) notCut() bool { return t.state == model.NotCut }

// named is what of a mark says which row it is.
func named(m model.Mark) model.Mark {
	m.Length, m.Width = 0, 0
	return m
}

// take finds the things of a board with their marks.
func (b *board) take(marks map[model.Mark]*model.Marked) {
	for _, kind := range []model.Kind{model.KindPart, model.KindOffcut} {
		for i := range b.rows {
			r := &b.rows[i]
			if r.Kind != kind {
				continue
			}
			key := model.Mark{Board: r.Board, Row: model.MarkPiece, Commission: r.Commission,
				Part: r.Part, Copy: r.Copy, Offcut: r.Offcut}
			if kind == model.KindOffcut {
				key.Row = model.MarkOffcut
			}
			t := &thing{Cut: r, mark: marks[key], size: r.Rect()}
			if t.mark != nil {
				t.state = t.mark.State
			}
			if t.state == model.AsPlanned && t.piece() {
				t.state = model.IsCut
			}
			b.things = append(b.things, t)
		}
	}
	b.rest = marks[model.Mark{Board: b.plan.ID, Row: model.MarkRest}]
}

// unlike says in what a board is not as the plan has it; nothing where it is.
func (w *work) unlike(b *board) string {
	was, plan := book.Plain(b.was), book.Plain(b.plan)
	var facts []string
	add := func(unlike bool, format string, args ...any) {
		if unlike {
			facts = append(facts, fmt.Sprintf(format, args...))
		}
	}
	add(was.Material != plan.Material, "it is %s, not %s", was.Material, plan.Material)
	add(was.Section != plan.Section, "it is %s, not %s", was.Section, plan.Section)
	for _, m := range []struct {
		what     string
		was, had model.Length
	}{{"long", was.Length, plan.Length}, {"wide", was.Width, plan.Width},
		{"thick", was.Thickness, plan.Thickness}} {
		add(m.was != m.had, "it is %s %s, not %s", w.show(m.was), m.what, w.show(m.had))
	}
	same := len(was.Defects) == len(plan.Defects)
	for i := 0; same && i < len(was.Defects); i++ {
		same = was.Defects[i] == plan.Defects[i]
	}
	add(!same, "it has other defects")
	return strings.Join(facts, ", ")
}

// like refuses a board that is not as the plan has it and of which it is not marked what became of
// each of its pieces.
func (w *work) like(b *board) bool {
	if b.why = w.unlike(b); b.why == "" || !b.begun() {
		return true
	}
	for _, t := range b.things {
		if t.piece() && (t.mark == nil || t.mark.State == model.AsPlanned) {
			w.refuse(b, t.mark)
			return false
		}
	}
	return true
}

// refuse refuses a board that is not as the plan has it.
func (w *work) refuse(b *board, m *model.Marked) {
	w.wrong(m, "state", fmt.Sprintf("board %s is not as the plan has it: %s", b.was.ID, b.why),
		"if it is not cut yet, enter those that are by their ids, then `rackwright replan` plans "+
			"the rest; if it is, write into marks.csv the state of each of its pieces and "+
			"offcuts, and what each offcut measures")
}

// begun says whether anything was cut from a board.
func (b *board) begun() bool {
	for _, t := range b.things {
		if t.piece() && !t.notCut() || t.state != model.AsPlanned && !t.notCut() {
			return true
		}
	}
	r := b.rest
	return r != nil && (r.State == model.Scrapped ||
		r.Measured != 0 && r.Measured < b.was.Length ||
		r.MeasuredWidth != 0 && r.MeasuredWidth < b.was.Width)
}
