package across

import (
	"cmp"
	"slices"

	"rackwright/nest/price"
	"rackwright/nest/price/across/rows"
	"rackwright/nest/price/counts"
)

// listTables are what the lists of all stocks that share a clear table have in common, at the duals
// and demands of one ask. Rooms include a kerf behind the last thing.
type listTables struct {
	round   int
	longest int64 // of the clear table
	form    *counts.Form
	lengths *rows.Tails // of lengths along a stock, longest first
	inStrip []pieceKinds
	inLen   []pieceKinds
}

// pieceKinds are the pieces of a strip, or of a length, and their tails.
type pieceKinds struct {
	kinds []rows.Piece
	tails *rows.Tails // nil: not made yet
}

// lists gives the tables for an ask, made at first use.
func (t *clearTable) lists(ask *price.Ask) *listTables {
	if l := t.listing; l != nil && l.round == ask.Round && l.longest == t.longest {
		return l
	}
	most := make([]int64, len(t.p.Items))
	for _, i := range t.holds {
		most[i] = ask.Demand[i]
	}
	l := &listTables{round: ask.Round, longest: t.longest, form: counts.NewForm(most),
		inStrip: make([]pieceKinds, len(t.widths)), inLen: make([]pieceKinds, len(t.lens))}
	var kinds []rows.Kind
	for j := len(t.lens) - 1; j >= 0; j-- {
		k := rows.Kind{Size: t.lens[j] + t.p.Kerf, Value: t.q[j]}
		for n, i := range t.holds {
			if t.lenOf[n] == j {
				k.Most += ask.Demand[i]
			}
		}
		kinds = append(kinds, k)
	}
	slope := t.slope(t.across.Width)
	l.lengths = rows.NewTails(kinds, t.longest+t.p.Kerf, t.places.grid, func(room int64) int64 {
		return slope * t.beyondKeep(room-t.p.Kerf)
	})
	t.listing = l
	return l
}

// piecesInStrip are the pieces of a strip of width k.
func (t *clearTable) piecesInStrip(ask *price.Ask, k int) *pieceKinds {
	e, width := &t.lists(ask).inStrip[k], t.widths[k]
	if e.tails == nil {
		for m := range t.sawn {
			if i := &t.sawn[m]; t.fitsStrip(i, width) && ask.Demand[i.item] > 0 {
				e.kinds = append(e.kinds, rows.Piece{Item: i.item, Size: i.size + t.p.Kerf,
					Value: ask.Duals[i.item] + t.worthTrimmed(i, width), Full: i.width == width})
			}
		}
		slope := t.slope(width)
		e.makeTails(ask, t.longest+t.p.Kerf, t.places.grid, func(room int64) int64 {
			return slope * t.beyondKeep(room-t.p.Kerf)
		})
	}
	return e
}

// piecesInLength are the pieces of a ripped length j. Each bears the rip on its right.
func (t *clearTable) piecesInLength(ask *price.Ask, j int) *pieceKinds {
	e, length := &t.lists(ask).inLen[j], t.lens[j]
	if e.tails == nil {
		line := t.p.RipCost * length
		for m := range t.sawn {
			if i := &t.sawn[m]; t.fitsLength(i, length) && ask.Demand[i.item] > 0 {
				e.kinds = append(e.kinds, rows.Piece{Item: i.item, Size: i.width + t.p.Rip,
					Value: ask.Duals[i.item] + t.worthBehind(i, length) - line,
					Full:  i.size == length})
			}
		}
		e.makeTails(ask, max(0, t.freeAcross()), t.step, t.besideMost(line, length))
	}
	return e
}

// makeTails puts kinds in order, those of full size first, larger ones first, and makes the tails.
func (e *pieceKinds) makeTails(ask *price.Ask, room, grid int64, end func(room int64) int64) {
	slices.SortStableFunc(e.kinds, func(a, b rows.Piece) int {
		if a.Full != b.Full {
			if a.Full {
				return -1
			}
			return 1
		}
		return cmp.Compare(b.Size, a.Size)
	})
	var kinds []rows.Kind
	for _, k := range e.kinds {
		kinds = append(kinds, rows.Kind{Size: k.Size, Value: k.Value, Most: ask.Demand[k.Item]})
	}
	e.tails = rows.NewTails(kinds, room, grid, end)
}

// besideRow is the most that the gaps beside a row of touching things are worth, less its rips but
// those on the right of each thing, and where the row starts. The row has a total of widths + kerfs
// and is so long. price.Never: it does not fit.
func (t *clearTable) besideRow(total, line, length int64) (best, start int64) {
	best = price.Never
	for _, y := range []int64{t.across.Inset, max(t.across.Inset, t.across.Keep+t.p.Rip)} {
		end := y + total // a kerf behind the last thing
		if end-t.p.Rip > t.across.Width-t.across.Inset {
			continue
		}
		v := (t.slope(y-t.p.Rip) + t.slope(t.across.Width-end)) * t.beyondKeep(length)
		if y > 0 {
			v -= line
		}
		if end-t.p.Rip == t.across.Width {
			v += line
		}
		if v > best {
			best, start = v, y
		}
	}
	return best, start
}

// besideMost is at least what besideRow gives, by the room that a row leaves.
func (t *clearTable) besideMost(line, length int64) func(room int64) int64 {
	per := t.strip * t.beyondKeep(length)
	return func(room int64) int64 {
		return line + per*((room+2*t.across.Inset+t.step-1)/t.step)
	}
}
