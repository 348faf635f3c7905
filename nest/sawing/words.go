package sawing

import (
	"cmp"
	"context"
	"slices"
)

// The units of one pass and one kind of wood, and how to saw them in few minutes.
//
// Let a unit be the word of its settings, in the order of its cuts; a cut at its mark has none and
// goes with its neighbours, and of equal neighbours only one counts, as the second costs nothing
// right after the first. An order of work is a sequence of visits: a unit is taken in hand and some
// of its letters are cut, one after the other. With T changes of the setting and V visits it takes
//
//	setting x T + lift x V  minutes.
//
// A change is also where a unit goes on with its next letter, as it may stay in hand meanwhile: it
// is carried. Cut every letter by itself and V is their number L; each carry saves a visit:
//
//	V = L - carries,  and with one unit in hand  carries <= T.
//
// The settings, one after the other, are a common supersequence of all words. So without lifts
// this is the shortest common supersequence (NP-hard), here with weights and carries.
//
// Bounds on what is still to come, after some letters are cut: let r(s) be the most that any one
// unit still has of letter s. Then T is at least the sum of r(s), and V at least L - T and at least
// the number of units that are not done, but for the one in hand.

// letter is a setting of one wood, by its index in words; none is no setting.
type letter = int

const none letter = -1

// words are the units of one pass and one kind of wood.
type words struct {
	letters       []stand
	units         []int      // of the shop, those with a setting
	marks         []int      // of the shop, those without
	word          [][]letter // by unit
	setting, lift int64
}

// visit takes a unit in hand and cuts its next letters.
type visit struct{ unit, letters int } // unit: index of words.units

// plan is an order of work: visits, what they take, and the setting they leave.
type plan struct {
	visits []visit
	cost   int64
	end    letter
}

// wordsOf makes the words of some units of the shop, all of one pass and wood.
func (s *shop) wordsOf(units []int) *words {
	w := &words{setting: int64(s.job.Settings.Work.Setting), lift: int64(s.job.Settings.Work.Lift)}
	for _, u := range units {
		for k := range s.units[u].Cuts {
			if at := s.stand(cut{u, k}); at.length > 0 && !slices.Contains(w.letters, at) {
				w.letters = append(w.letters, at)
			}
		}
	}
	// longest first, as most shops do: it is what a tie leaves
	slices.SortFunc(w.letters, func(a, b stand) int { return cmp.Compare(b.length, a.length) })
	for _, u := range units {
		var word []letter
		for k := range s.units[u].Cuts {
			at := s.stand(cut{u, k})
			l := slices.Index(w.letters, at)
			if at.length > 0 && (len(word) == 0 || word[len(word)-1] != l) {
				word = append(word, l)
			}
		}
		if word == nil {
			w.marks = append(w.marks, u)
			continue
		}
		w.units, w.word = append(w.units, u), append(w.word, word)
	}
	return w
}

// stand is where stop or fence stands for a cut.
func (s *shop) stand(c cut) stand {
	u := &s.units[c.unit]
	return stand{s.wood[u.Board], u.Cuts[c.at].Setting}
}

// cuts writes visits down: what is cut at its mark comes before the next cut at a setting, and
// behind the last one. Units without a setting come first.
func (s *shop) cuts(w *words, visits []visit) (out []cut) {
	for _, u := range w.marks {
		for k := range s.units[u].Cuts {
			out = append(out, cut{u, k})
		}
	}
	at, done := make([]int, len(w.units)), make([]int, len(w.units)) // cuts, letters
	for _, v := range visits {
		u, last := w.units[v.unit], none
		if done[v.unit] > 0 {
			last = w.word[v.unit][done[v.unit]-1]
		}
		done[v.unit] += v.letters
		word, rest := w.word[v.unit][done[v.unit]-v.letters:done[v.unit]],
			done[v.unit] == len(w.word[v.unit])
		for ; at[v.unit] < len(s.units[u].Cuts); at[v.unit]++ {
			c := cut{u, at[v.unit]}
			if st := s.stand(c); st.length > 0 && (last == none || w.letters[last] != st) {
				if len(word) == 0 {
					break
				}
				last, word = word[0], word[1:]
			} else if st.length == 0 && len(word) == 0 && !rest {
				break
			}
			out = append(out, c)
		}
	}
	return out
}

// cost is what visits take, begun with a setting, and the setting that they leave.
func (w *words) cost(visits []visit, start letter) (minutes int64, end letter) {
	done := make([]int, len(w.units))
	for n, v := range visits {
		if n == 0 || visits[n-1].unit != v.unit {
			minutes += w.lift
		}
		for range v.letters {
			if l := w.word[v.unit][done[v.unit]]; l != start {
				minutes, start = minutes+w.setting, l
			}
			done[v.unit]++
		}
	}
	return minutes, start
}

// solve finds orders that take few minutes, from a setting on: the best one first, then those that
// end with another setting and take less than one setting more.
func (w *words) solve(ctx context.Context, start letter) []plan {
	if len(w.units) == 0 {
		return []plan{{end: start}}
	}
	var found []plan
	if ctx.Err() == nil {
		if found = w.exact(start); found != nil {
			return found
		}
	}
	found = append(w.beam(ctx, start), w.unitByUnit(start))
	slices.SortStableFunc(found, func(a, b plan) int { return cmp.Compare(a.cost, b.cost) })
	var out []plan
	for _, p := range found {
		if !slices.ContainsFunc(out, func(o plan) bool { return o.end == p.end }) &&
			(len(out) == 0 || p.cost < out[0].cost+w.setting) {
			out = append(out, p)
		}
	}
	return out
}

// many is a letter and how often it comes.
type many struct {
	letter
	n int
}

// restsOf gives the letters that are left of a word, after none is cut, after one and so on.
func restsOf(word []letter) [][]many {
	out := make([][]many, len(word)+1)
	for n := range word {
		for _, l := range word[n:] {
			k := slices.IndexFunc(out[n], func(m many) bool { return m.letter == l })
			if k < 0 {
				out[n] = append(out[n], many{l, 1})
			} else {
				out[n][k].n++
			}
		}
	}
	return out
}

// unitByUnit finishes each unit before the next one: the fewest lifts. Next comes a unit that
// begins with the setting there is, if any does.
func (w *words) unitByUnit(start letter) plan {
	var p plan
	at, done := start, make([]bool, len(w.units))
	for range w.units {
		next := -1
		for u := range w.units {
			if done[u] {
				continue
			}
			if next < 0 {
				next = u
			}
			if w.word[u][0] == at {
				next = u
				break
			}
		}
		done[next] = true
		at = w.word[next][len(w.word[next])-1]
		p.visits = append(p.visits, visit{next, len(w.word[next])})
	}
	p.cost, p.end = w.cost(p.visits, start)
	return p
}
