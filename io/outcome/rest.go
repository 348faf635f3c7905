package outcome

import (
	"fmt"

	"rackwright/io/book"
	"rackwright/model"
)

// What is left of a board that was not cut to its end. Things are its pieces and offcuts.
//
// With B the rectangle around all pieces that are not cut, what is left lies in a rectangle R that
// holds B and no thing that is cut. It is as long as it then can be, and then as wide. An offcut of
// which nothing is marked is still in the board if it lies in R, and was cut off if it does not.
// If a thing that is cut lies in B, what is left is more than one piece of wood.
//
// By the tape, what is left is no larger than R, less a kerf at each side where it was cut off.

// left says where a board is not cut, and what is left of it: nil where there is nothing, or it is
// scrapped. It also finds what became of each offcut of which nothing is marked.
func (w *work) left(b *board) (model.Rect, *model.Board) {
	in, whole := b.region()
	scrapped := b.rest != nil && b.rest.State == model.Scrapped
	marked := b.rest != nil && (b.rest.State != model.AsPlanned || b.rest.Measured != 0 ||
		b.rest.MeasuredWidth != 0)
	switch {
	case in == model.Rect{} && marked:
		w.wrong(b.rest, b.column(), fmt.Sprintf("all pieces of board %s are cut, so nothing "+
			"is left under its id", b.was.ID), "empty the cell; put what you keep beside "+
			"the offcuts of the plan on the rack with `rackwright rack add`")
	case in == model.Rect{} || scrapped && !whole:
		return model.Rect{}, nil
	case scrapped:
		return w.uncut(b, in), nil
	case !whole:
		w.wrong(b.notCut(), "state", fmt.Sprintf("what is left of board %s is more than one piece "+
			"of wood", b.was.ID), "write scrapped as the state of its rest, and put what you keep "+
			"on the rack with `rackwright rack add`")
	default:
		return w.uncut(b, in), w.measured(b, in)
	}
	return model.Rect{}, nil
}

// uncut is a region less a kerf at each side where it was cut off.
func (w *work) uncut(b *board, in model.Rect) model.Rect {
	for _, a := range []model.Axis{model.Along, model.Across} {
		span, of, kerf := in.On(a), b.size(a), w.kerf(a)
		if span.From > 0 {
			span.From = min(span.To, span.From+kerf)
		}
		if span.To < of {
			span.To = max(span.From, span.To-kerf)
		}
		in = in.With(a, span)
	}
	return in
}

// size is how long, or how wide, a board is.
func (b *board) size(a model.Axis) model.Length {
	if a == model.Along {
		return b.was.Length
	}
	return b.was.Width
}

func (w *work) kerf(a model.Axis) model.Length {
	if a == model.Along {
		return w.Job.Settings.CrosscutKerf
	}
	return w.Job.Settings.RipKerf
}

// column is one of the rest's that is filled in.
func (b *board) column() string {
	switch {
	case b.rest.State != model.AsPlanned:
		return "state"
	case b.rest.Measured != 0:
		return "measured"
	}
	return "measured_width"
}

// notCut is the mark of a piece that is not cut.
func (b *board) notCut() *model.Marked {
	for _, t := range b.things {
		if t.piece() && t.notCut() {
			return t.mark
		}
	}
	return nil
}

// region is where what is left of a board lies, of no size where all of its pieces are cut; it is
// whole if nothing that is cut lies between its pieces. Offcuts have their states then.
func (b *board) region() (in model.Rect, whole bool) {
	var around model.Rect
	var cut []model.Rect
	for _, t := range b.things {
		switch r := t.Rect(); {
		case t.piece() && t.notCut() && around == model.Rect{}:
			around = r
		case t.piece() && t.notCut():
			around = model.Rect{From: min(around.From, r.From), To: max(around.To, r.To),
				Left: min(around.Left, r.Left), Right: max(around.Right, r.Right)}
		case t.state != model.AsPlanned:
			cut = append(cut, r)
		}
	}
	for again := true; again; {
		again, whole = false, true
		for _, r := range cut {
			whole = whole && common(r, around) == model.Rect{}
		}
		if in = (model.Rect{}); around != in && whole {
			in = b.grown(around, cut)
		}
		for _, t := range b.things {
			if r := t.Rect(); t.state == model.AsPlanned && common(r, in) != r {
				t.state, again = model.Kept, true
				cut = append(cut, r)
			}
		}
	}
	for _, t := range b.things {
		if t.state == model.AsPlanned {
			t.state = model.NotCut
		}
	}
	if !whole {
		in = around
	}
	return in, whole
}

// grown is the largest rectangle around one that meets none of those that are cut: along the board
// first.
func (b *board) grown(r model.Rect, cut []model.Rect) model.Rect {
	whole := model.Rect{To: max(b.was.Length, r.To), Right: max(b.was.Width, r.Right)}
	for _, a := range []model.Axis{model.Along, model.Across} {
		span, beside := whole.On(a), r.On(a.Other())
		for _, c := range cut {
			if o := c.On(a.Other()); o.To <= beside.From || o.From >= beside.To {
				continue
			}
			if c.On(a).To <= r.On(a).From {
				span.From = max(span.From, c.On(a).To)
			} else {
				span.To = min(span.To, c.On(a).From)
			}
		}
		r = r.With(a, span)
	}
	return r
}

// measured is what is left of a board in a region, by the tape.
func (w *work) measured(b *board, in model.Rect) *model.Board {
	before := w.mistakes
	along, across := w.tape(b, in, model.Along), w.tape(b, in, model.Across)
	if w.mistakes > before {
		return nil
	}
	in = in.With(model.Along, along).With(model.Across, across)
	is := b.seen
	is.Length, is.Width = in.To-in.From, in.Right-in.Left
	is.Defects = within(b.seen.Defects, in)
	if is.Longest >= is.Length {
		is.Longest = 0
	}
	if b.was.Value != nil || is.Width < b.was.Width {
		is.Value = w.worthOf(b, in, is.Defects)
	}
	if b.rest.Note != "" {
		is.Note = b.rest.Note
	}
	is = book.Plain(is)
	return &is
}

// tape is how long, or how wide, what is left of a board is, and where: it reaches to the far end
// of the region unless only the other end is the board's own.
func (w *work) tape(b *board, in model.Rect, a model.Axis) model.Span {
	column, what, is := "measured", "long", model.Length(0)
	if a == model.Across {
		column, what = "measured_width", "wide"
	}
	if b.rest != nil && a == model.Along {
		is = b.rest.Measured
	} else if b.rest != nil {
		is = b.rest.MeasuredWidth
	}
	span, of, can := in.On(a), b.size(a), w.uncut(b, in).On(a)
	most := max(1, can.To-can.From)
	switch {
	case is == 0 && most == of:
		return span
	case is == 0:
		where := b.rest
		if where == nil {
			where = b.notCut()
		}
		w.wrong(where, column,
			fmt.Sprintf("pieces of board %s are not cut, and it is not said how %s what is left "+
				"of it is", b.was.ID, what),
			fmt.Sprintf("write it as %s of its row rest, or scrapped as the state", column))
	case is > most+w.Shop.CountTolerance:
		w.wrong(b.rest, column, fmt.Sprintf("what is left of board %s is at most %s %s, as all "+
			"else is cut from it", b.was.ID, w.show(most), what), "measure it again, or write not "+
			"cut as the state of each piece that is still in it")
	case is > most:
		w.note(b.rest, column, most)
		is = most
	}
	if span.To < of && span.From == 0 {
		return model.Span{From: 0, To: is}
	}
	return model.Span{From: span.To - is, To: span.To}
}
