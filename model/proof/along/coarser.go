package along

import (
	"fmt"

	"rackwright/model"
)

// The bound of a board on a coarser grid. Let g be its step, [x] the whole steps in x from S, and
//
//	kerf         [k]
//	blank        [l + k] - [k]
//	board        [L + k] - [k]   of L = U - S
//	defect       from [a + k] - [k] to [b], where it is [a, b) from S
//	keep         keep - (g - 1), in units, so keep is to be no less than that
//
// Of these the exact search works out the most, in steps of g. The bound is that or the rough one
// (rough.go), whichever is less.
//
// Why it is never too low: move each piece of a layout from x to [x]. The next one starts at x + l
// + k or later, so at [x] + [l + k] or later, as [x] + [y] <= [x + y]: the two lie [k] apart. The
// last one ends by [L + k] - [k]. What starts behind a defect at b starts at [b] or later, what
// ends before one at a ends by [a + k] - [k]. So the layout may lie so. In it each stretch of a gap
// in a clear run starts where it did or before. It ends less than a step before, since a piece, a
// defect and the end of the board each come less than a step before where they were. So the stretch
// is shorter by g - 1 at most, and what counts of it, beyond a keep that is less by as much, is no
// less than before. Where a defect has gone, two stretches become one, and that is worth no less.

// onGrid gives the board, its blanks and its kerf on a grid of so many units; the string says why
// where that is too coarse.
func (b *Board) onGrid(items []Item, kerf, step model.Length) (*Board, []Item, model.Length,
	string) {
	whole := func(x model.Length) model.Length { return x / step * step } // none is below 0
	k := whole(kerf)
	size := func(x model.Length) model.Length { return whole(x+kerf) - k }
	if b.Keep < step-1 {
		return nil, nil, 0, tooCoarse(step, "what is worth keeping")
	}
	on := &Board{From: b.From, To: b.From + size(b.To-b.From), Slope: b.Slope,
		Keep: b.Keep - (step - 1)}
	for _, s := range b.Spots {
		s.From, s.To = b.From+size(s.From-b.From), b.From+whole(s.To-b.From)
		if s.From < s.To {
			on.Spots = append(on.Spots, s)
		}
	}
	pieces := make([]Item, len(items))
	for n, i := range items {
		if i.Length = size(i.Length); i.Length <= 0 {
			return nil, nil, 0, tooCoarse(step, "a blank")
		}
		pieces[n] = i
	}
	return on, pieces, k, ""
}

func tooCoarse(step model.Length, than string) string {
	return fmt.Sprintf("a grid of %d units is too coarse for %s", step, than)
}

// OnGrid is no less than what [Most.One] gives for the board, worked out in steps of so many units;
// all else is as there.
func (m *Most) OnGrid(b *Board, items []Item, kerf, longest, step model.Length) (int64, string) {
	rough, why := b.Rough(items, kerf)
	if why != "" || b.To <= b.From {
		return rough, why
	}
	on, pieces, k, why := b.onGrid(items, kerf, step)
	if why != "" {
		return 0, why
	}
	most, why := m.One(on, pieces, k, longest+step)
	return min(rough, most), why
}
