package across

import (
	"fmt"
	"slices"

	"rackwright/nest/cutting"
)

// frame is a stock as the first cuts of a pattern part it: outer is the direction in which lengths
// or strips follow each other, inner the other one.
type frame struct {
	first          cutting.FirstCut
	outer, inner   func(cutting.Place) (from, to int64)
	all, deep      [2]int64 // the stock in both directions
	outerIn, innIn [2]int64 // where sawn pieces may lie in both directions
	kerf, apart    int64    // outer, inner
	u              func(outerFrom, outerTo, innerFrom, innerTo int64) int64
}

func (b *bruteForce) frame(first cutting.FirstCut) *frame {
	along := func(pl cutting.Place) (int64, int64) { return pl.At, pl.At + b.p.Items[pl.Item].Size }
	across := func(pl cutting.Place) (int64, int64) { return pl.Left, pl.Right }
	length := [2]int64{b.from, b.to}
	width, inset := [2]int64{0, b.a.Width}, [2]int64{b.a.Inset, b.a.Width - b.a.Inset}
	if first == cutting.CrosscutFirst {
		return &frame{first, along, across, length, width, length, inset, b.p.Kerf, b.p.Rip, b.u}
	}
	return &frame{first, across, along, width, length, inset, length, b.p.Rip, b.p.Kerf,
		func(y, w, x, z int64) int64 { return b.u(x, z, y, w) }}
}

// value checks a pattern, and gives what it is worth.
func (b *bruteForce) value(t *cutting.Pattern) (sum int64, err error) {
	if len(t.Places) == 0 {
		return 0, fmt.Errorf("empty pattern")
	}
	defer func(from, to int64) { b.from, b.to = from, to }(b.from, b.to)
	if t.Ripped.To > 0 {
		b.from, b.to = t.Ripped.From, t.Ripped.To
	}
	if t.First == cutting.RipFirst &&
		!slices.Contains(b.spans(), cutting.Span{From: b.from, To: b.to}) {
		return 0, fmt.Errorf("not to be ripped over %d to %d", b.from, b.to)
	}
	sum, err = b.ripCost(t)
	if err != nil {
		return 0, err
	}
	sum = b.ends() - sum
	f := b.frame(t.First)
	free := f.all[0]
	for places := t.Places; len(places) > 0; {
		slab, from, to := f.firstSlab(places)
		places = places[len(slab):]
		if from < f.outerIn[0] || to > f.outerIn[1] || from < free {
			return 0, fmt.Errorf("at %d to %d, after %d", from, to, free)
		}
		v, err := b.slabValue(f, slab, from, to)
		if err != nil {
			return 0, err
		}
		sum += f.u(free, from-f.kerf, f.deep[0], f.deep[1]) + v
		free = to + f.kerf
	}
	return sum + f.u(free, f.all[1], f.deep[0], f.deep[1]), nil
}

// ripCost is what the rips of a pattern cost, by their kerfs, each counted once.
func (b *bruteForce) ripCost(t *cutting.Pattern) (cost int64, err error) {
	f := b.frame(t.First)
	for places := t.Places; len(places) > 0 && err == nil; {
		slab, from, to := f.firstSlab(places)
		places = places[len(slab):]
		kerfs := map[int64]bool{}
		for _, pl := range slab {
			if t.First == cutting.CrosscutFirst {
				kerfs[pl.Left-b.p.Rip], kerfs[pl.Right] = pl.Left > 0, pl.Right < b.a.Width
			}
		}
		for y, made := range kerfs {
			if made {
				cost += (to - from) * b.p.RipCost
				if !b.free(from, to, y) {
					err = fmt.Errorf("a rip at %d meets a weak spot", y)
				}
			}
		}
	}
	if t.First != cutting.RipFirst {
		return cost, err
	}
	strips := map[int64]bool{}
	rip := func(y, from, to int64) {
		cost += (to - from) * b.p.RipCost
		if !b.free(from, to, y) {
			err = fmt.Errorf("a rip at %d meets a weak spot", y)
		}
	}
	for places := t.Places; len(places) > 0; {
		slab, from, to := f.firstSlab(places)
		places = places[len(slab):]
		if from > 0 {
			strips[from-b.p.Rip] = true
		}
		if to < b.a.Width {
			strips[to] = true
		}
		for _, pl := range slab {
			end := pl.At + b.p.Items[pl.Item].Size
			if pl.Left > from {
				rip(pl.Left-b.p.Rip, pl.At, end)
			} else if pl.Right < to {
				rip(pl.Right, pl.At, end)
			}
		}
	}
	for y := range strips {
		rip(y, b.from, b.to)
	}
	return cost, err
}

// firstSlab gives the places that make up the first length or strip: those that overlap.
func (f *frame) firstSlab(places []cutting.Place) (slab []cutting.Place, from, to int64) {
	from, to = f.outer(places[0])
	n := 1
	for again := true; again; {
		again = false
		for k := n; k < len(places); k++ {
			if near, far := f.outer(places[k]); near < to && far > from {
				from, to, n, again = min(from, near), max(to, far), k+1, true
			}
		}
	}
	return places[:n], from, to
}

// slabValue checks the pieces of a length or strip from from to to, and gives what it is worth.
func (b *bruteForce) slabValue(f *frame, slab []cutting.Place, from, to int64) (sum int64,
	err error) {
	if pl := slab[0]; len(slab) == 1 && f.first == cutting.CrosscutFirst && pl.Left == 0 &&
		pl.Right == b.a.Width {
		if !slices.Contains(b.s.Holds, pl.Item) || !b.allows(pl.Item, pl.At, 0, b.a.Width) {
			return 0, fmt.Errorf("%v may not lie there", pl)
		}
		return b.duals[pl.Item], nil
	}
	full, free := false, f.deep[0]
	for _, pl := range slab {
		near, far := f.outer(pl)
		left, right := f.inner(pl)
		if err := b.checkPiece(f, pl, from, to); err != nil {
			return 0, err
		}
		if left < free {
			return 0, fmt.Errorf("%v lies wrong after %d", pl, free)
		}
		full = full || near == from && far == to
		sum += b.duals[pl.Item] + f.u(from, to, free, left-f.apart)
		if near == from {
			sum += f.u(far+f.kerf, to, left, right)
		} else {
			sum += f.u(from, near-f.kerf, left, right)
		}
		free = right + f.apart
	}
	if !full {
		return 0, fmt.Errorf("nothing takes all of %d to %d", from, to)
	}
	return sum + f.u(from, to, free, f.deep[1]), nil
}

// checkPiece says what is wrong with a sawn piece of a length or strip.
func (b *bruteForce) checkPiece(f *frame, pl cutting.Place, from, to int64) error {
	near, far := f.outer(pl)
	left, right := f.inner(pl)
	it := b.p.Items[pl.Item]
	switch {
	case !slices.Contains(b.s.Holds, pl.Item) || !b.allows(pl.Item, pl.At, pl.Left, pl.Right):
		return fmt.Errorf("%v may not lie there", pl)
	case !b.sawn(pl.Item) || pl.Right-pl.Left != it.Width:
		return fmt.Errorf("%v may not be sawn", pl)
	case left < f.innIn[0] || right > f.innIn[1] || near != from && far != to:
		return fmt.Errorf("%v lies wrong", pl)
	case far-near < to-from &&
		(!b.a.Trim || f.first == cutting.RipFirst && it.Size < b.a.ShortestRip):
		return fmt.Errorf("%v may not be trimmed", pl)
	case f.first == cutting.CrosscutFirst && to-from < b.a.ShortestRip:
		return fmt.Errorf("%v may not be ripped", pl)
	}
	return nil
}
