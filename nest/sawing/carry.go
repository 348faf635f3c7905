package sawing

import "slices"

// planOf goes back over the states of a whole order, and settles who is carried: from the last
// setting on, at each somebody who is free to be and is not the one that is carried on from it.
func (b *beam) planOf(s *beamState, start letter) plan {
	var path []*beamState
	for ; s.parent != nil; s = s.parent {
		path = append(path, s)
	}
	slices.Reverse(path)
	into := make([]int, len(path)+1) // unit carried to each setting; -1: none
	into[len(path)] = -1
	for n := len(path) - 1; n >= 0; n-- {
		into[n] = -1
		if n > 0 {
			into[n] = b.carried(path[n-1], path[n], into[n+1])
		}
	}
	var visits []visit
	cutOnce := func(u int) {
		if n := len(visits) - 1; n >= 0 && visits[n].unit == u {
			visits[n].letters++
			return
		}
		visits = append(visits, visit{u, 1})
	}
	for n, s := range path {
		if into[n] >= 0 {
			cutOnce(into[n])
		}
		for _, c := range s.cut {
			for _, u := range b.of[c] {
				if u != into[n] && u != into[n+1] {
					cutOnce(u)
				}
			}
		}
		if into[n+1] >= 0 && into[n+1] != into[n] {
			cutOnce(into[n+1])
		}
	}
	p := plan{visits: visits}
	p.cost, p.end = b.cost(visits, start)
	return p
}

// carried finds a unit to be carried from one setting to the next, where another one, or none, is
// carried on from there.
func (b *beam) carried(from, to *beamState, on int) int {
	single := len(to.cut) == 1 && len(b.of[to.cut[0]]) == 1
	for _, c := range from.cut {
		if int(from.done[c]) == len(b.word[c]) || b.word[c][from.done[c]] != to.at {
			continue
		}
		for _, u := range b.of[c] {
			if c != from.out && (u != on || single) {
				return u
			}
		}
	}
	return -1
}
