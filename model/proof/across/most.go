package across

import (
	"fmt"
	"math/big"

	"rackwright/model"
	"rackwright/model/proof/internal/integer"
)

// The most that one rippable board (across.go) can give at given duals: the greatest value of a
// layout of either kind, blanks at their duals, at least one of them, copies unlimited, and gaps at
//
//	u(gap) = s0 x sum over bands of its lines of (width of the band / gy) x sum over their clear runs in it of max(0, run - keep)
//
// or 0 where it is narrower than kw and not of the board's whole width; where no blank has a place,
// u of the whole. All of it is in money x scale x 2^10, with
//
//	gy = the common divisor of the board's width, the inset, the rip kerf, kw, the widths of the blanks sawn to width, and the edges of the defects across
//	s0 = rate x gy / W, in that money, rounded up
//
// so u is linear in all sizes, and never below the true worth, which is rounded down.
//
// Why a grid is enough, gy across and gx along, the common divisor of U - S, the crosscut kerf, the
// lengths of the blanks, and the edges of the defects from S: take a layout, and hold its positions
// along the board. Each blank, gap and trimming remainder is worth a sum over the lines that it
// covers, so the value is linear in the positions across as long as none of them passes the edge of
// a defect, a kerf is whole, and no gap passes kw; at such a place it may jump, but then what lies
// on it has the better value. So it is greatest where as many of these hold as there are positions,
// and that is on the grid: all these conditions are differences of two positions that equal a sum
// of what gy divides. Then hold the positions across: the worth of a run is max(0, run - keep),
// convex in the positions along as long as none passes the edge of a defect or makes a kerf less
// than whole. So the value is greatest in a corner of these, which is on the grid likewise
// (keep_length need not be).
//
// The layouts are searched in two steps, one within the other. Crosscut first: what can be had of a
// length at x (boundriplength.go) is a row of blanks across (boundripacross.go); the board is a row
// of such lengths (boundripalong.go). Rip first: what can be had of a strip at y (boundripstrip.go)
// is a row of blanks along, the board a row of strips across. What a length or strip gives depends
// on where it lies only by the defects that it meets. So the outer search begins with what it gives
// anywhere at best, and works out what it gives in truth only where the best layout found that way
// has it, until the best layout has none but true values: see boundripguess.go.

const tooLarge = "the duals are too large to reckon with"

// layers: with what a row must have already, and with that yet to come.
const layers = 2

const (
	maxAlong  = 1 << 23 // positions along a board
	maxAcross = 1 << 19 // and across
	Fine      = 1 << 10 // by how much finer money is here
)

// Most works out the most that rippable boards can give; it keeps what serves for the next one.
type Most struct {
	*Board
	items         []Item
	gx, gy        int64 // steps of the grid
	n, m          int   // U and W on it
	kerf, rip     int
	edge, narrow  int // inset, and kw; narrow is above m where only the whole width is wide enough
	worth         int64
	lines         []lines
	spots         []gridPatch
	lengths       []int // of the blanks, rising
	widths        []int // of those that may be sawn to width, rising
	blanks        []blank
	row, strip    rowAlong
	column        rowAcross
	board         rowAcross
	first, second guesses
	sides         []side
	rest          []band
	bars, blocked []gridSpan
	sums          []int64
}

// gridPatch is a patch on the grid.
type gridPatch struct {
	from, to, left, right int
	tolerated             [model.Faces]bool
}

// blank is an item on the grid: its indices among the lengths and widths (-1: plain only), the best
// of those alike.
type blank struct {
	length, width int
	face          model.Face
	value         int64
}

// lines are those of the width from left to right, which meet the same defects; blocks are what of
// the length is not clear, and runs what is.
type lines struct {
	left, right int
	blocks      []gridSpan
	runs        []gridSpan
}

// One is the most that one board can give, in 1/10000 x 1/scale; it says why where that cannot be
// worked out.
func (r *Most) One(b *Board, items []Item, kerf, rip model.Length, scale int64) (int64, string) {
	if b.to <= b.from {
		return 0, ""
	}
	r.Board, r.items = b, items
	if why := r.measure(kerf, rip, scale); why != "" {
		return 0, why
	}
	r.sort()
	most := greater(r.crosscutFirst(), r.ripFirst())
	if most <= impossible {
		most = r.rect(0, r.n, 0, r.m)
	}
	return -integer.Floor(-most, Fine), ""
}

// measure sets the grid and what offcuts are worth on it.
func (r *Most) measure(kerf, rip model.Length, scale int64) string {
	b := r.Board
	gx, gy := integer.GCD(int64(b.to-b.from), int64(kerf)),
		integer.GCD(integer.GCD(int64(r.width), int64(r.inset)),
			integer.GCD(int64(rip), int64(r.keepWidth)))
	for _, i := range r.items {
		gx = integer.GCD(gx, int64(i.length))
		if !i.whole {
			gy = integer.GCD(gy, int64(i.width))
		}
	}
	for _, p := range r.patches {
		gx, gy = integer.GCD(gx, integer.GCD(int64(p.From-b.from), int64(p.To-b.from))),
			integer.GCD(gy, integer.GCD(int64(p.Left), int64(p.Right)))
	}
	r.gx, r.gy = gx, gy
	if n, m := int64(b.to-b.from)/gx, int64(r.width)/gy; n > maxAlong || m > maxAcross {
		return fmt.Sprintf("the sizes share too small a measure to be judged, with %d positions along and %d across, over %d or %d,", n, m, maxAlong, maxAcross)
	}
	r.n, r.m = int(int64(b.to-b.from)/gx), int(int64(r.width)/gy)
	r.kerf, r.rip = int(min(int64(kerf)/gx, int64(r.n))), int(min(int64(rip)/gy, int64(r.m)))
	r.edge, r.narrow = int(min(int64(r.inset)/gy, int64(r.m))),
		int(min(int64(r.keepWidth)/gy, int64(r.m)+1))
	worth := big.NewInt(0)
	if b.keep < b.to-b.from {
		worth.Mul(big.NewInt(scale*Fine), big.NewInt(b.rate.Num)).Mul(worth, big.NewInt(gy))
		den := new(big.Int).Mul(big.NewInt(b.rate.Den), big.NewInt(int64(r.width)))
		worth = integer.Ceil(worth, den)
	}
	if !r.fits(worth, kerf, rip) {
		return tooLarge
	}
	r.worth = worth.Int64()
	return ""
}

// fits says whether no value on the board can reach 2^61. Each blank takes an area of its own, with
// a kerf on two sides.
func (r *Most) fits(worth *big.Int, kerf, rip model.Length) bool {
	most := new(big.Int)
	area := new(big.Int).Mul(big.NewInt(int64(r.to-r.from+kerf)),
		big.NewInt(int64(r.width+rip)*Fine))
	for _, i := range r.items {
		each := new(big.Int).Mul(big.NewInt(int64(max(1, i.length+kerf))),
			big.NewInt(int64(max(1, i.width+rip))))
		all := new(big.Int).Mul(area, big.NewInt(i.dual))
		if all = integer.Ceil(all, each); all.Cmp(most) > 0 {
			most = all
		}
	}
	all := new(big.Int).Mul(worth, big.NewInt(int64(r.m)))
	return most.Add(most, all.Mul(all, big.NewInt(int64(r.to-r.from)))).BitLen() <= 61
}
