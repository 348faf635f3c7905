package across

import (
	"math/big"

	"rackwright/model"
	"rackwright/model/proof/internal/integer"
)

// The rough bound of a board: what it gives at most by area alone. Lengths are in units, worth in
// ticks.
//
//	L      U - S
//	k, r   the crosscut kerf, the rip kerf
//	l, pi  length and dual of a blank
//	w      its width where it may be sawn to it on this board: it is not whole, not narrower than
//	       what may be ripped off, and no wider than W less both insets; else W
//	sigma  the greater slope: of an offcut as wide as the board, or of a strip
//	room   (L + k) (W + r)
//
//	rough = floor of the most of  pi x room / ((l + k) (w + r))   over the blanks with l <= L
//	                              sigma x room
//	        sigma x L W where no blank is so short; 0 where L is not above 0
//
// Why: let each blank take what it covers, with a kerf k behind it and a kerf r right of it. No two
// take the same, and all lie in a board that is k longer and r wider:
//
//   - Lengths lie k apart, and blanks in a length r apart; a blank at the far end of its length
//     has the kerf behind the length.
//   - Strips lie r apart, and blanks in a strip k apart; a blank at the right edge of its strip has
//     the kerf right of the strip. Before and behind a ripped span lies a kerf k, too.
//   - What lies beside a blank in its length or strip is what the blank leaves beyond its kerf.
//
// What is left over, each gap as it is, lies beside all of these: a kerf follows on what lies
// before a gap, and the kerf behind a gap is no part of it. No square unit of a gap is worth more
// than sigma, and rips only cost. So what the board gives is a sum of shares of the room, each at
// one of these rates, and no more than all of it at the best. Defects, keep, faces and what is too
// short to be ripped only make it less. No place is looked at, so any measures and any number of
// blanks will do.

// roughBits is how many bits a rough bound may have.
const roughBits = 62

// Rough is no less than what [Most.One] gives for the board, in ticks; the string says why where
// that cannot be reckoned with. items are those that the board holds, the kerfs those of the job.
// Its time is that of one look at each item.
func (a *Board) Rough(items []Item, kerf, rip model.Length) (int64, string) {
	k, r, usable := int64(kerf/a.unit), int64(rip/a.unit), int64(a.to-a.from)
	if usable <= 0 {
		return 0, ""
	}
	var best integer.Share
	long, wide := usable, int64(a.width) // of the bare board there is no kerf to pay for
	for n := range items {
		i := &items[n]
		if i.length <= 0 || int64(i.length) > usable {
			continue
		}
		width := a.width
		if a.saws(i) {
			width = i.width
		}
		best.Offer(i.dual, (int64(i.length)+k)*(int64(width)+r))
		long, wide = usable+k, int64(a.width)+r
	}
	best.Offer(max(a.slope.Whole, a.slope.Strip), 1)
	room := big.NewInt(long)
	most := best.Of(room.Mul(room, big.NewInt(wide)))
	if most.BitLen() > roughBits {
		return 0, tooLarge
	}
	return most.Int64(), ""
}

// saws says whether a blank may be sawn to its width on a board.
func (a *Board) saws(i *Item) bool {
	return !i.whole && i.width > 0 && i.width >= a.narrowest && i.width <= a.width-2*a.inset
}
