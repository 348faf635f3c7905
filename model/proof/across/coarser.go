package across

import (
	"fmt"
	"slices"

	"rackwright/model"
)

// The bound of a board on a coarser grid. Let g be the step along and h that across, each in units
// and none where it is 0: then that axis stays as it is. [x] are the whole steps in x, from S along
// and from the left edge across. Along, with L = U - S and r the kerf of the axis,
//
//	kerf r                    [r]
//	blank l, L, shortest      [x + r] - [r]    each
//	defect [a, b)             from [a + r] - [r] to [b] - g; to the end if it goes there
//	keep                      keep - 2 g, in units, so it is to be no less
//
// and across
//
//	rip kerf r                [r]
//	width w, W, kw            [x + r] - [r]    each; kw is to be h or more
//	inset                     [inset]
//	defect [a, b)             the steps that lie wholly in [a + h - 1, b - 2 (h - 1)), or from and
//	                          to the board's edge where it goes there
//	worth of a strip          x kw / (kw - h + 1), rounded up; W for kw where that is less
//	worth as wide as W        x W / ([W + r] - [r]) where that is more, rounded up; no less than
//	                          that of a strip
//	price of ripping          by half
//
// The price of ripping is x s / (s + 3 g) as well, rounded down, of s = shortest, from 1 to L. A
// blank that could not be sawn still cannot, and one that could still can. Of the board so changed
// the exact search works out the most. The bound is that or the rough one (rough.go), whichever is
// less.
//
// Why it is never too low. Any layout may be laid out on the changed board, and is worth no less:
//
// Along, move each length, and each blank of a strip, from x to [x]. As [x] + [y] <= [x + y], the
// next one lies at [x] + [l + k] or beyond, so that a kerf stays between, and the last one ends by
// [L + k] - [k]. A blank at the far end of its length starts at [x] + [l + k] - [s + k], which is
// less than two steps before x + l - s, and no earlier than [x + l - s] - g. So it keeps off a
// defect that ends a step earlier. A ripped span [p, q) becomes [p] - g to [q + k] - [k], and it is
// there, as its weak defects are: a board on which one would vanish is too coarse.
//
// Across, move each strip or blank from y to [y], but one that ends at W to the end of the changed
// board. That is less than h further right. A blank on the right side of its strip, and the end of
// either, comes less than 2 h further left. A defect is made less on both sides by as much, so that
// blanks keep off it, and rips off a weak one.
//
// Gaps. Take a line of a gap. Its stretches between defects start where they did or before, and end
// less than 2 g before: at things, which move so, at defects and ends. A lead before a ripped span
// is shorter by less than 2 g too. What is taken off keep makes up for it, and two stretches that
// become one are worth no less. Across, a gap of t lines becomes one of [t + r] - [r] or more, so
// one of kw has kw. Lines go to lines in order, less than 2 h to the left and less than h to the
// right: there no defect lies that did not lie on them before. Less than h of at least kw lines are
// lost, for which the worth of a strip makes up. A gap as wide as W is one still.
//
// Rips. A side that has a rip had one before, of a length that is at most 3 g less. Two sides that
// shared a rip may each have their own now, where h is not 0.

// rounding is one axis of a coarser grid.
type rounding struct{ step, kerf model.Length }

// whole is [x]: whole steps, of lengths not below 0.
func (o rounding) whole(x model.Length) model.Length {
	if o.step == 0 {
		return x
	}
	return x / o.step * o.step
}

// size is [x + r] - [r].
func (o rounding) size(x model.Length) model.Length {
	if o.step == 0 {
		return x
	}
	return o.whole(x+o.kerf) - o.whole(o.kerf)
}

// ratio is x n / d rounded up.
func ratio(x int64, n, d model.Length) int64 { return (x*int64(n) + int64(d) - 1) / int64(d) }

// OnGrid is no less than what [Most.One] gives for the board, worked out in steps of so many units
// along and across; 0: as it is. All else is as there.
func (m *Most) OnGrid(b *Board, items []Item, kerf, rip, along, across model.Length) (int64,
	string) {
	rough, why := b.Rough(items, kerf, rip)
	if why != "" || b.to <= b.from {
		return rough, why
	}
	x, y := rounding{along, kerf / b.unit}, rounding{across, rip / b.unit}
	on, pieces, why := b.onGrid(items, x, y)
	if why != "" {
		return 0, why
	}
	most, why := m.One(on, pieces, x.whole(x.kerf)*b.unit, y.whole(y.kerf)*b.unit)
	return min(rough, most), why
}

// onGrid gives the board and its blanks on a coarser grid; the string says why where that is too
// coarse.
func (a *Board) onGrid(items []Item, x, y rounding) (on *Board, pieces []Item, why string) {
	coarse := func(step model.Length, than string) (*Board, []Item, string) {
		return nil, nil, fmt.Sprintf("a grid of %d units is too coarse for %s", step, than)
	}
	board := *a
	on = &board
	on.to, on.width = a.from+x.size(a.to-a.from), y.size(a.width)
	narrowest := min(a.keepWidth, a.width) // of the gaps that are worth anything
	switch {
	case a.keep < 2*x.step:
		return coarse(x.step, "what is worth keeping")
	case narrowest < y.step || on.width <= 0:
		return coarse(y.step, "a strip worth keeping")
	}
	on.keep, on.keepWidth = a.keep-2*x.step, y.size(a.keepWidth)
	on.inset, on.narrowest, on.shortest = y.whole(a.inset), 0, x.size(a.shortest)
	if s := max(1, min(a.shortest, a.to-a.from)); a.ripping > 0 {
		if on.ripping = a.ripping * int64(s) / int64(s+3*x.step); y.step > 0 {
			on.ripping /= 2
		}
	}
	if y.step > 0 {
		on.slope.Strip = ratio(a.slope.Strip, narrowest, narrowest-y.step+1)
		on.slope.Whole = max(on.slope.Strip, a.slope.Whole,
			ratio(a.slope.Whole, a.width, on.width))
	}
	if on.patches, why = a.patchesOnGrid(on, x, y); why != "" {
		return coarse(x.step, why)
	}
	for _, i := range items {
		if i.whole = !a.saws(&i); !i.whole {
			i.width = y.size(i.width)
		}
		if i.length = x.size(i.length); i.length <= 0 || !i.whole && i.width <= 0 {
			return coarse(x.step, "a blank")
		}
		pieces = append(pieces, i)
	}
	return on, pieces, ""
}

// patchesOnGrid gives the defects of a board on its grid; the string says what of a weak one would
// be lost.
func (a *Board) patchesOnGrid(on *Board, x, y rounding) (out []patch, why string) {
	for _, p := range a.patches {
		anchor := p.weak && (p.To < a.to || p.From > a.from)
		from, to := a.from+x.size(p.From-a.from), a.from+x.whole(p.To-a.from)-x.step
		if p.To == a.to {
			to = on.to
		}
		left, right := p.Left, p.Right
		if y.step > 0 {
			if left > 0 {
				left = y.whole(left + 2*(y.step-1))
			}
			if right == a.width {
				right = on.width
			} else {
				right = y.whole(max(0, right-2*(y.step-1)))
			}
		}
		p.Rect = model.Rect{From: from, To: to, Left: left, Right: right}
		if from < to && left < right && to > a.from {
			out = append(out, p)
		} else if anchor {
			return nil, "a weak defect"
		}
	}
	slices.SortFunc(out, comparePatches)
	return slices.Compact(out), ""
}
