package outcome

import (
	"fmt"
	"slices"

	"rackwright/io/book"
	"rackwright/model"
)

// measure takes over what the offcuts of a board measure.
func (w *work) measure(b *board) {
	for _, t := range b.things {
		if t.piece() || t.state != model.Kept {
			continue
		}
		m := t.mark
		if b.why != "" && (m == nil || m.State == model.AsPlanned || m.Measured == 0) {
			w.refuse(b, m)
			return
		}
		if m == nil {
			continue
		}
		for _, s := range []struct {
			column   string
			is, most model.Length
			to       *model.Length
			from     model.Length
		}{{"measured", m.Measured, b.was.Length, &t.size.To, t.From},
			{"measured_width", m.MeasuredWidth, b.was.Width, &t.size.Right, t.Left}} {
			if s.is != 0 && w.within(m, s.column, s.is, s.most, b.was.ID) {
				*s.to = s.from + s.is
			}
		}
	}
}

// within says whether a measure is one of a board, as far as a tape may be off.
func (w *work) within(m *model.Marked, column string, is, most model.Length, id string) bool {
	if is > most+w.Shop.CountTolerance {
		w.wrong(m, column, fmt.Sprintf("board %s itself has only %s", id, w.show(most)),
			"measure it again")
		return false
	}
	return true
}

// offcut is one that came off a board, put away; nil where a mark of it is wrong.
func (w *work) offcut(b *board, t *thing) *model.Board {
	o, before := *w.made[t.Offcut], w.mistakes
	o.Since = w.Date
	asPlanned := b.why == "" && t.size == t.Rect() && len(b.seen.Defects) == len(b.was.Defects)
	if !asPlanned {
		o.Wood, o.For = b.was.Wood, b.was.For
		o.Length, o.Width = t.size.To-t.size.From, t.size.Right-t.size.Left
		o.Defects = within(b.seen.Defects, t.size)
		if o.Longest = 0; b.was.Longest < o.Length {
			o.Longest = b.was.Longest
		}
	}
	if t.mark != nil {
		own := w.defects(t.mark, &o)
		o.Defects = append(slices.Clip(o.Defects), own...)
		asPlanned = asPlanned && len(own) == 0
		if t.mark.Note != "" {
			o.Note = t.mark.Note
		}
	}
	if w.mistakes > before {
		return nil
	}
	if !asPlanned {
		if o.Value = nil; b.was.Value != nil || o.Width < b.was.Width {
			o.Value = w.worthOf(b, t.size, o.Defects)
		}
	}
	o.Bin = w.bins.PutAway(o.Length, o.Bin, b.was.Bin)
	o = book.Plain(o)
	return &o
}

// within are the defects in a rectangle of a board, measured from its own end and edge.
func within(defects []model.Defect, in model.Rect) (list []model.Defect) {
	for _, d := range defects {
		r := common(model.Rect{From: d.From, To: d.To, Left: d.Left, Right: d.Right}, in)
		if (r != model.Rect{}) {
			list = append(list, model.Defect{From: r.From - in.From, To: r.To - in.From,
				Left: r.Left - in.Left, Right: r.Right - in.Left, Kind: d.Kind})
		}
	}
	return list
}

// worthOf is what a rectangle of a board is worth, with the defects in it.
func (w *work) worthOf(b *board, of model.Rect, defects []model.Defect) *model.Money {
	if w.worth == nil {
		w.worth = w.Job.Valuation()
	}
	slope := w.worth.SlopeOfBoard(&b.plan)
	if b.offer >= 0 {
		slope = w.worth.SlopeOfOffer(&w.Job.Yard[b.offer])
	}
	// by itself, as its defects are measured, and yet as a strip where it is one
	alone := model.Board{Wood: b.was.Wood, Defects: defects}
	at := model.Rect{To: of.To - of.From, Right: of.Right - of.Left}
	worth := w.worth.ShownTicks(w.worth.WorthOfRect(slope, &b.was.Wood, at,
		w.Job.WidenedRects(&alone, nil)))
	return &worth
}
