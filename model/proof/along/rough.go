package along

import (
	"math/big"

	"rackwright/model"
	"rackwright/model/proof/internal/integer"
)

// The rough bound of a board: what it gives at most by length alone.
//
//	L      U - S
//	room   L + k
//	takes  l + k of a piece, 1 of a unit of an offcut
//
//	rough = floor of the most of  pi x room / (l + k)   over the blanks with l <= L
//	                              slope x room
//	        slope x L where no blank is so short; 0 where L is not above 0
//
// Why: pieces lie in [S, U), a kerf or more apart. So each takes l + k of [S, U + k), and no two
// take the same. What is left over is no more than what they leave of the room, and no unit of it
// is worth more than the slope. So what the board gives is a sum of shares of the room, each at one
// of these rates, and no more than all of it at the best. Defects, keep and faces only make it
// less. No place is looked at, so any measures and any number of blanks will do.

// roughBits is how many bits a rough bound may have.
const roughBits = 62

// Rough is no less than what [Most.One] gives for the board, in ticks; the string says why where
// that cannot be reckoned with. items are those that the board holds. Its time is that of one look
// at each.
func (b *Board) Rough(items []Item, kerf model.Length) (int64, string) {
	usable := int64(b.To - b.From)
	if usable <= 0 {
		return 0, ""
	}
	var best integer.Share
	room := int64(0) // of the bare board there is no kerf to pay for
	for _, i := range items {
		if i.Length > 0 && int64(i.Length) <= usable {
			best.Offer(i.Dual, int64(i.Length+kerf))
			room = int64(kerf)
		}
	}
	best.Offer(b.Slope, 1)
	most := best.Of(big.NewInt(usable + room))
	if most.BitLen() > roughBits {
		return 0, tooLarge
	}
	return most.Int64(), ""
}
