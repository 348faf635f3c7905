package outcome

import (
	"fmt"

	"rackwright/io/book"
	"rackwright/model"
)

// What became of a board that was cut. Nothing of it is lost:
//
//	area = parts + spoiled + kerf + trim + waste + offcuts + what is left
//
// Pieces have the size of their blanks, offcuts and what is left that of the tape. Kerfs are those
// of the plan, outside of what is left. Of what is over by then, the trims are as wide as planned,
// as far as there is so much, and the rest is waste. An offcut may be so much longer than planned,
// as trims and waste are less; what is more than that was measured wrong.

// enter enters what became of a board.
func (w *work) enter(b *board) {
	before := w.mistakes
	b.seen = w.seen(b)
	if w.mistakes > before {
		return
	}
	if !b.begun() {
		w.stays(b)
		return
	}
	left, is := w.left(b)
	w.measure(b)
	if w.mistakes > before {
		return
	}
	d := book.BoardCut{Board: b.was.ID}
	if !w.add(b, &d, left, is) {
		return
	}
	if is == nil {
		w.bins.TakeFrom(b.was.Bin)
	}
	was := b.was
	changes := []book.Change{{Was: &was, Is: is}}
	for _, t := range b.things {
		if !t.piece() && t.state == model.Kept {
			if o := w.offcut(b, t); o != nil {
				d.Offcuts = append(d.Offcuts, o.ID)
				changes = append(changes, book.Change{Is: o})
			}
		}
	}
	w.out.Done = append(w.out.Done, d)
	w.out.Changes = append(w.out.Changes, changes...)
}

// stays enters a board of which nothing was cut, with what was seen of it.
func (w *work) stays(b *board) {
	if r := b.rest; r != nil {
		w.within(r, "measured", r.Measured, b.was.Length, b.was.ID)
		w.within(r, "measured_width", r.MeasuredWidth, b.was.Width, b.was.ID)
	}
	w.out.Left = append(w.out.Left, b.was.ID)
	if len(b.seen.Defects) > len(b.was.Defects) {
		was, is := b.was, book.Plain(b.seen)
		w.out.Changes = append(w.out.Changes, book.Change{Was: &was, Is: &is})
	}
}

// seen is a board with the defects that are marked on it.
func (w *work) seen(b *board) model.Board {
	is := b.was
	is.Defects = append([]model.Defect{}, is.Defects...)
	for _, t := range b.things {
		if t.piece() {
			is.Defects = append(is.Defects, w.defects(t.mark, &is)...)
		}
	}
	is.Defects = append(is.Defects, w.defects(b.rest, &is)...)
	return is
}

// defects are those that a mark has of a board.
func (w *work) defects(m *model.Marked, of *model.Board) (list []model.Defect) {
	if m == nil {
		return nil
	}
	for _, d := range m.Defects {
		if d.Right == 0 {
			d.Right = of.Width
		}
		if e := of.Fault(d, w.Shop.Units); e != nil {
			w.wrong(m, "defect", e.Cause, e.Remedy)
			continue
		}
		list = append(list, d)
	}
	return list
}

// add adds up what a board became; left is where on it what is left of it lay.
func (w *work) add(b *board, d *book.BoardCut, left model.Rect, is *model.Board) bool {
	for _, t := range b.things {
		switch a := area(t.Rect()); {
		case !t.piece() || t.notCut():
			continue
		case t.state == model.Spoiled:
			d.Spoiled += a
		default:
			d.Parts += a
		}
		d.Pieces = append(d.Pieces, book.Piece{Commission: t.Commission, Part: t.Part,
			Copy: t.Copy, Length: t.To - t.From, Width: t.Right - t.Left,
			Spoiled: t.state == model.Spoiled})
	}
	for i := range b.rows {
		r := b.rows[i].Rect()
		switch a := area(r) - area(common(r, left)); b.rows[i].Kind {
		case model.KindKerf:
			d.Kerf += a
		case model.KindTrim:
			d.Trim += a
		}
	}
	over := func() int64 {
		over := int64(b.was.Length)*int64(b.was.Width) - d.Parts - d.Spoiled - d.Kerf
		for _, t := range b.things {
			if !t.piece() && t.state == model.Kept {
				over -= area(t.size)
			}
		}
		if is != nil {
			over -= int64(is.Length) * int64(is.Width)
		}
		return over
	}
	if over() < 0 {
		w.tooMuch(b, over)
	}
	spare := over()
	d.Trim = min(d.Trim, spare)
	d.Waste = spare - d.Trim
	return spare >= 0
}

// tooMuch takes back what offcuts were measured longer or wider than planned, if it is within what
// a tape may be off; where there is still more than the board had, it says so.
func (w *work) tooMuch(b *board, over func() int64) {
	var longest *thing
	for _, t := range b.things {
		if t.piece() || t.state != model.Kept || t.mark == nil {
			continue
		}
		plan, far := t.Rect(), w.Shop.CountTolerance
		if longest == nil || area(t.size)-area(plan) > area(longest.size)-area(longest.Rect()) {
			longest = t
		}
		if over := t.size.To - plan.To; over > 0 && over <= far {
			t.size.To = plan.To
			w.note(t.mark, "measured", plan.To-plan.From)
		}
		if over := t.size.Right - plan.Right; over > 0 && over <= far {
			t.size.Right = plan.Right
			w.note(t.mark, "measured_width", plan.Right-plan.Left)
		}
	}
	if over() >= 0 {
		return
	}
	if longest != nil && area(longest.size) > area(longest.Rect()) {
		column := "measured"
		if longest.mark.Measured == 0 {
			column = "measured_width"
		}
		w.wrong(longest.mark, column, fmt.Sprintf("offcut %s is larger than board %s had wood "+
			"for, beside all else that was cut from it", longest.Offcut, b.was.ID),
			"measure it again; if a piece was not cut, write not cut as its state")
		return
	}
	w.wrong(b.things[0].mark, "state", fmt.Sprintf("board %s is too small for all that is cut "+
		"from it", b.was.ID), "write what each offcut measures, and not cut where a piece is not")
}

// common is what two rectangles have in common; without any size where they do not meet.
func common(a, b model.Rect) model.Rect {
	r := model.Rect{From: max(a.From, b.From), To: min(a.To, b.To), Left: max(a.Left, b.Left),
		Right: min(a.Right, b.Right)}
	if r.From >= r.To || r.Left >= r.Right {
		return model.Rect{}
	}
	return r
}

func area(r model.Rect) int64 { return int64(r.To-r.From) * int64(r.Right-r.Left) }
