package sawing

import (
	"cmp"
	"context"
	"slices"
)

// A beam search, for many units: setting by setting, the best few states of each count are kept.
//
// At each setting all units are cut whose next letter it is. That is not always best: a unit may
// wait for the setting to come again and be carried on then. But it never needs a setting more.
// Units of one word then always are equally far, so a state is how far each class of words is.
//
// Which unit is carried from one setting to the next is left open as long as it can be. Let B be
// the units cut at a setting, and I those of them that may be carried in: cut at the setting
// before, free to be carried on from there.
//
//   - I is empty: all of B may be carried on.
//   - I has several: all may be as well, as another one of I can be the one that came in.
//   - I is one unit: it came in, so all others may be carried on; itself if there is no other.
//
// The rank of a state is its minutes and those of the settings that are still to come at least.

// width is how many states are kept, work how many letters may be looked at in all.
const (
	width = 120
	work  = 20_000_000
)

// beamState is how far all classes are, after some settings.
type beamState struct {
	done     []uint16 // letters, by class
	at       letter
	cut      []int // classes cut at it
	out      int   // class of cut, of one unit, that is not free to be carried on; -1: none
	carries  int
	settings int
	toCome   int // settings, at least
	rank     int64
	parent   *beamState
}

// beam is a search under way.
type beam struct {
	*words
	class []int   // by unit
	of    [][]int // units, by class
	word  [][]letter
	total int // letters of all units
}

// beam finds good orders, one for each setting that they may end with.
func (w *words) beam(ctx context.Context, start letter) (found []plan) {
	b := &beam{words: w, class: w.classes()}
	letters := 0
	for u, c := range b.class {
		if c == len(b.of) {
			b.of, b.word = append(b.of, nil), append(b.word, w.word[u])
			letters += len(w.word[u])
		}
		b.of[c] = append(b.of[c], u)
		b.total += len(w.word[u])
	}
	first := &beamState{done: make([]uint16, len(b.of)), at: start, out: -1}
	first.toCome = b.settingsToCome(first.done)
	level := []*beamState{first}
	keep := min(width, max(1, work/(letters*max(1, first.toCome)+1)))
	for len(level) > 0 {
		if ctx.Err() != nil {
			keep = 1
		}
		var next []*beamState
		for _, s := range level {
			if s.toCome == 0 {
				found = append(found, b.planOf(s, start))
				continue
			}
			next = append(next, b.children(s)...)
		}
		level = b.best(next, keep)
	}
	return found
}

// settingsToCome are at least so many: of each letter the most that one unit still has of it.
func (b *beam) settingsToCome(done []uint16) (n int) {
	for l := range b.letters {
		n += b.mostOf(l, done)
	}
	return n
}

func (b *beam) mostOf(l letter, done []uint16) (most int) {
	for c, word := range b.word {
		n := 0
		for _, m := range word[done[c]:] {
			if m == l {
				n++
			}
		}
		most = max(most, n)
	}
	return most
}

// children are the states after one more setting, without how far their classes are.
func (b *beam) children(s *beamState) (out []*beamState) {
	cut := make([][]int, len(b.letters)) // classes whose next letter it is
	for c, word := range b.word {
		if int(s.done[c]) < len(word) {
			l := word[s.done[c]]
			cut[l] = append(cut[l], c)
		}
	}
	// of each letter the most that is left, and what of it is left beside the classes cut now
	most, then := make([]int, len(b.letters)), make([]int, len(b.letters))
	for c, word := range b.word {
		rest := word[s.done[c]:]
		for n, l := range rest {
			if slices.Contains(rest[:n], l) {
				continue
			}
			count := 0
			for _, m := range rest {
				if m == l {
					count++
				}
			}
			most[l] = max(most[l], count)
			if n == 0 {
				count--
			}
			then[l] = max(then[l], count)
		}
	}
	for l, classes := range cut {
		if len(classes) == 0 {
			continue
		}
		t := &beamState{at: l, cut: classes, out: -1, carries: s.carries,
			settings: s.settings + 1, parent: s, toCome: s.toCome - most[l] + then[l]}
		if l == s.at {
			t.settings-- // only at the start: later on all of them are cut at once
		}
		free, one := b.carriedIn(s, l)
		if free > 0 {
			t.carries++
		}
		if free == 1 && len(classes) > 1 { // its class is a single unit
			t.out = one
		}
		t.rank = b.setting*int64(t.settings+t.toCome) + b.lift*int64(b.total-t.carries)
		out = append(out, t)
	}
	return out
}

// carriedIn counts the units that may be carried to a setting; one is the class of the last.
func (b *beam) carriedIn(s *beamState, l letter) (free, one int) {
	for _, c := range s.cut {
		if int(s.done[c]) == len(b.word[c]) || b.word[c][s.done[c]] != l {
			continue
		}
		n := len(b.of[c])
		if c == s.out {
			n--
		}
		if n > 0 {
			free, one = free+n, c
		}
	}
	return free, one
}

// best keeps the states of the lowest rank, each once, and works out how far their classes are.
func (b *beam) best(all []*beamState, keep int) (out []*beamState) {
	slices.SortStableFunc(all, func(x, y *beamState) int {
		return cmp.Or(cmp.Compare(x.rank, y.rank), cmp.Compare(y.settings, x.settings))
	})
	met := map[string]bool{}
	for _, s := range all {
		if len(out) == keep {
			break
		}
		s.done = slices.Clone(s.parent.done)
		for _, c := range s.cut {
			s.done[c]++
		}
		key := make([]byte, 0, 2*len(s.done)+4)
		for _, d := range append(s.done, uint16(s.at), uint16(s.out+1)) {
			key = append(key, byte(d), byte(d>>8))
		}
		if !met[string(key)] {
			met[string(key)] = true
			out = append(out, s)
		}
	}
	return out
}

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
