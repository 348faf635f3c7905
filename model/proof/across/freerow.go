package across

import (
	"cmp"
	"slices"

	"rackwright/model/proof/internal/patterns"
)

// Rows on a board, or in a length or strip, that meet no defect. Things of a row may then lie in
// any order, and all its gaps are best merged into one (freeboard.go). So a row is a set of things,
// in a room of so many steps, each with a kerf behind it:
//
//	kinds     things of one size, each worth value at most, of which there may be so many
//	end(r)    what the rest r of the room is worth
//	f(j, p)   the most that follows from the place p on of kinds j and later, and the end
//
// The kinds are gone through in their order, so each set is met once. A row is left as soon as what
// it is worth and f of what can still follow come to less than the need. So where each thing is one
// blank no step is in vain.

// freeKind is a kind of things.
type freeKind struct {
	size  int // with its kerf
	most  int64
	value int64 // of one, at most
	exact bool  // a row must have one that is
	what  int   // which blank or size it is
}

// freeRow is what is known of one such row.
type freeRow struct {
	room   int
	kinds  []freeKind
	places places
	ends   []int64
	f      [layers][]int64 // by j and place; layer 1: an exact one is yet to come
	next   []int32         // by kind and place the place behind one thing; -1: there is no room
}

// maxTable is how many numbers the tables of one row may have.
const maxTable = 1 << 24

// fill works out f; false where that takes too much.
func (f *freeRow) fill(end func(rest int) int64) bool {
	slices.SortStableFunc(f.kinds, func(a, b freeKind) int { return cmp.Compare(b.size, a.size) })
	var parts []int
	for _, k := range f.kinds {
		parts = append(parts, k.size)
	}
	f.places.reach(f.room, []int{0}, slices.Compact(parts), nil)
	n, kinds := f.places.n, len(f.kinds)
	if n > maxPlaces || n*(kinds+1) > maxTable {
		return false
	}
	f.ends = slices.Grow(f.ends[:0], n)[:n]
	for layer := range layers {
		f.f[layer] = slices.Grow(f.f[layer][:0], n*(kinds+1))[:n*(kinds+1)]
	}
	f.next = slices.Grow(f.next[:0], n*kinds)[:n*kinds]
	for i, x := range f.places.at {
		f.ends[i] = end(f.room - int(x))
		f.f[0][n*kinds+i], f.f[1][n*kinds+i] = f.ends[i], impossible
	}
	for j := kinds - 1; j >= 0; j-- {
		f.fillKind(j)
	}
	return true
}

// fillKind works out f of one kind.
func (f *freeRow) fillKind(j int) {
	k, n := &f.kinds[j], f.places.n
	next := f.next[n*j : n*(j+1)]
	for i, x := range f.places.at {
		next[i] = -1
		if to := int(x) + k.size; to <= f.room {
			next[i] = int32(f.places.from(to))
		}
	}
	own, then := f.of(0, j), f.of(0, j+1)
	own1, then1 := f.of(1, j), f.of(1, j+1)
	with1 := then1 // what the last layer goes on with
	if k.exact {
		with1 = then
	}
	for i := range n {
		best, best1, gain := then[i], then1[i], int64(0)
		p := next[i]
		for t := int64(0); t < k.most && p >= 0; t++ {
			gain += k.value
			best = max(best, gain+then[p])
			if with1[p] > impossible {
				best1 = max(best1, gain+with1[p])
			}
			p = next[p]
		}
		own[i], own1[i] = best, best1
	}
}

// of is f of kinds j and later, by place.
func (f *freeRow) of(layer, j int) []int64 {
	return f.f[layer][f.places.n*j : f.places.n*(j+1)]
}

// within is the most that fits into so much room: what lies before a place of a board with defects
// is worth no more.
func (f *freeRow) within(room int) int64 {
	i := 0
	if room < f.room {
		_, i = f.places.within(0, f.room-room)
		i--
	}
	return f.f[0][i]
}

// content is a row's pieces, and what it is worth with their duals.
type content struct {
	value int64
	vec   int32
}

// sortContents puts contents in the order of their worth, the dearest first.
func sortContents(list []content) {
	slices.SortFunc(list, func(a, b content) int {
		return cmp.Or(cmp.Compare(b.value, a.value), cmp.Compare(a.vec, b.vec))
	})
}

// rows adds all rows of single blanks, at least one of them exact, that reach the need.
func (l *Lister) rows(f *freeRow, need int64, out []content) []content {
	var fill func(j, place, layer int, value int64, vec int32)
	fill = func(j, place, layer int, value int64, vec int32) {
		if layer == 0 && value+f.ends[place] >= need {
			out = append(out, content{value + f.ends[place], vec})
		}
		for ; j < len(f.kinds) && value+f.of(layer, j)[place] >= need; j++ {
			k := &f.kinds[j]
			then := layer
			if k.exact {
				then = 0
			}
			next, follows := f.next[f.places.n*j:], f.of(then, j+1)
			p, gain, with, one := next[place], int64(0), vec, l.blanks[k.what].one
			for t := int64(0); t < k.most && p >= 0 && l.step(1); t++ {
				gain += k.value
				with, _ = l.met.Plus(with, one)
				if value+gain+follows[p] >= need {
					fill(j+1, int(p), then, value+gain, with)
				}
				p = next[p]
			}
		}
	}
	fill(0, 0, 1, 0, 0)
	return out
}

// combine finds all rows of things that reach the need: lists has by kind what a thing can have in
// it, the dearest first. Things of one kind are taken in this order.
func (l *Lister) combine(f *freeRow, lists [][]content) {
	at := &l.outer.ends
	at.Start(f.places.n)
	at.Put(patterns.Label{})
	for place := range f.places.n {
		for one := range at.At(place) {
			if v := one.Value + f.ends[place]; v >= l.need {
				l.found(one.Vec, v)
			}
			if !l.step(1) {
				return
			}
			first, times := one.State>>freeBits, int64(one.State&(1<<freeBits-1))
			for j := int(first); j < len(f.kinds) && one.Value+f.of(0, j)[place] >= l.need; j++ {
				p := f.next[f.places.n*j+place]
				if p >= 0 && times < f.kinds[j].most {
					l.extend(f, one, j, times, p, lists[f.kinds[j].what])
				}
				times, one.Last = 0, 0
			}
		}
	}
}

// freeBits are those of a label's state that say how many things of its last kind it has.
const freeBits = 12

// extend adds one thing more of a kind, of which the label has some.
func (l *Lister) extend(f *freeRow, one patterns.Label, j int, times int64, place int32,
	list []content) {
	then := f.of(0, j)[place]
	if times+1 == f.kinds[j].most {
		then = f.of(0, j+1)[place]
	}
	state := int32(j)<<freeBits | int32(times+1)
	for k := int(one.Last); k < len(list); k++ {
		if !l.step(1) || one.Value+list[k].value+then < l.need {
			return
		}
		if vec, ok := l.met.Plus(one.Vec, list[k].vec); ok {
			l.outer.ends.Put(patterns.Label{Place: place, State: state, Vec: vec,
				Value: one.Value + list[k].value, Last: int32(k)})
		}
	}
}
