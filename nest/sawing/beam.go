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
	width = 250
	work  = 12_000_000
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
	rest  [][][]many // letters that are left, by class and how many are cut
	total int        // letters of all units

	most, then []int // by letter, for use within a step
}

// beam finds good orders, one for each setting that they may end with.
func (w *words) beam(ctx context.Context, start letter) (found []plan) {
	b := &beam{words: w, class: w.classes(), most: make([]int, len(w.letters)),
		then: make([]int, len(w.letters))}
	letters := 0
	for u, c := range b.class {
		if c == len(b.of) {
			b.of, b.word = append(b.of, nil), append(b.word, w.word[u])
			b.rest = append(b.rest, restsOf(w.word[u]))
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
	most := make([]int, len(b.letters))
	for c, at := range done {
		for _, m := range b.rest[c][at] {
			most[m.letter] = max(most[m.letter], m.n)
		}
	}
	for _, m := range most {
		n += m
	}
	return n
}

// available gives, by letter, the classes whose next letter it is.
func (b *beam) available(s *beamState) (cut [][]int) {
	counts, total := make([]int, len(b.letters)), 0
	for c, word := range b.word {
		if int(s.done[c]) < len(word) {
			counts[word[s.done[c]]]++
			total++
		}
	}
	all := make([]int, total)
	cut = make([][]int, len(b.letters))
	for l, n := range counts {
		cut[l], all = all[:0:n], all[n:]
	}
	for c, word := range b.word {
		if int(s.done[c]) < len(word) {
			l := word[s.done[c]]
			cut[l] = append(cut[l], c)
		}
	}
	return cut
}

// children are the states after one more setting, without how far their classes are.
func (b *beam) children(s *beamState) (out []*beamState) {
	cut := b.available(s)
	// of each letter the most that is left, and what of it is left beside the classes cut now
	clear(b.most)
	clear(b.then)
	for c, word := range b.word {
		for _, m := range b.rest[c][s.done[c]] {
			b.most[m.letter] = max(b.most[m.letter], m.n)
			if word[s.done[c]] == m.letter {
				m.n--
			}
			b.then[m.letter] = max(b.then[m.letter], m.n)
		}
	}
	for l, classes := range cut {
		if len(classes) == 0 {
			continue
		}
		t := &beamState{at: l, cut: classes, out: -1, carries: s.carries,
			settings: s.settings + 1, parent: s, toCome: s.toCome - b.most[l] + b.then[l]}
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
