package sawing

import (
	"cmp"
	"container/heap"
	"slices"
)

// An exact search, for few units: A* over how many letters of each unit are cut and which unit is
// in hand. The setting that there is then is that unit's last letter. Units of the same word may
// change places, so states are told apart by how many units of a word are how far.

// mostStates is how many states an exact search may come to.
const mostStates = 20_000

// state is how far all units are.
type state struct {
	done   []uint8 // letters, by unit
	hand   int     // unit; -1: none
	at     letter  // setting
	cost   int64
	bound  int64 // cost and the least that is still to come
	parent int   // state before the last letter was cut; -1: none
}

// search is an exact search under way.
type search struct {
	*words
	class  []int // by unit; units of one word are of one class
	states []state
	queue  []int // states, a heap by bound
	best   map[string]int64
}

func (q *search) Len() int { return len(q.queue) }
func (q *search) Less(i, k int) bool {
	a, b := q.queue[i], q.queue[k]
	return cmp.Or(cmp.Compare(q.states[a].bound, q.states[b].bound),
		cmp.Compare(q.states[b].cost, q.states[a].cost), cmp.Compare(a, b)) < 0
}
func (q *search) Swap(i, k int) { q.queue[i], q.queue[k] = q.queue[k], q.queue[i] }
func (q *search) Push(x any)    { q.queue = append(q.queue, x.(int)) }
func (q *search) Pop() any {
	last := q.queue[len(q.queue)-1]
	q.queue = q.queue[:len(q.queue)-1]
	return last
}

// exact finds the order that takes the fewest minutes, then those that end with other settings and
// take less than one setting more; nil where that takes too many states.
func (w *words) exact(start letter) (found []plan) {
	for _, word := range w.word {
		if len(word) > 255 {
			return nil
		}
	}
	q := &search{words: w, class: w.classes(), best: map[string]int64{}}
	q.add(state{done: make([]uint8, len(w.units)), hand: -1, at: start, parent: -1})
	for q.Len() > 0 && len(q.states) < mostStates {
		n := heap.Pop(q).(int)
		s := q.states[n]
		if len(found) > 0 && s.bound >= found[0].cost+w.setting {
			break
		}
		if s.cost > q.best[q.key(&s)] {
			continue // there is a cheaper way to it
		}
		whole := true
		for u := range w.units {
			if int(s.done[u]) < len(w.word[u]) {
				whole = false
				q.cutNext(n, u)
			}
		}
		if whole && !slices.ContainsFunc(found, func(p plan) bool { return p.end == s.at }) {
			found = append(found, plan{q.visits(n), s.cost, s.at})
		}
	}
	return found
}

// classes numbers the words, equal ones alike.
func (w *words) classes() []int {
	var met [][]letter
	class := make([]int, len(w.units))
	for u, word := range w.word {
		n := slices.IndexFunc(met, func(m []letter) bool { return slices.Equal(m, word) })
		if n < 0 {
			n = len(met)
			met = append(met, word)
		}
		class[u] = n
	}
	return class
}

// cutNext cuts the next letter of a unit.
func (q *search) cutNext(from, u int) {
	s := q.states[from]
	next := q.word[u][s.done[u]]
	t := state{done: slices.Clone(s.done), hand: u, at: next, cost: s.cost, parent: from}
	t.done[u]++
	if s.hand != u {
		t.cost += q.lift
	}
	if s.at != next {
		t.cost += q.setting
	}
	q.add(t)
}

// add takes a state in, unless there is a cheaper way to it.
func (q *search) add(s state) {
	key := q.key(&s)
	if best, known := q.best[key]; known && best <= s.cost {
		return
	}
	q.best[key] = s.cost
	s.bound = s.cost + q.toCome(&s)
	q.states = append(q.states, s)
	heap.Push(q, len(q.states)-1)
}

// key tells states apart.
func (q *search) key(s *state) string {
	type far struct {
		class int
		done  uint8
		hand  bool
	}
	all := make([]far, len(s.done))
	for u, done := range s.done {
		all[u] = far{q.class[u], done, u == s.hand}
	}
	slices.SortFunc(all, func(a, b far) int {
		return cmp.Or(cmp.Compare(a.class, b.class), cmp.Compare(a.done, b.done),
			compareBool(a.hand, b.hand))
	})
	key := make([]byte, 0, len(all)+3)
	for n, f := range all {
		key = append(key, f.done)
		if f.hand {
			key = append(key, 255, byte(n), byte(n>>8))
		}
	}
	return string(key)
}

// toCome is the least that is still to come: words.go has the bounds.
func (q *search) toCome(s *state) int64 {
	most := make([]int, len(q.letters))
	left, units := 0, 0
	for u, done := range s.done {
		rest := q.word[u][done:]
		for n, l := range rest {
			again := 1
			for _, m := range rest[:n] {
				if m == l {
					again++
				}
			}
			most[l] = max(most[l], again)
		}
		left += len(rest)
		if len(rest) > 0 && u != s.hand {
			units++
		}
	}
	settings := 0
	for l, n := range most {
		if settings += n; n > 0 && l == s.at {
			settings-- // the setting there is may do for the first
		}
	}
	takes := func(settings int) int64 {
		return q.setting*int64(settings) + q.lift*int64(max(left-settings, units))
	}
	return min(takes(settings), takes(max(settings, left-units)))
}

// visits goes back over the states to the first.
func (q *search) visits(n int) (out []visit) {
	for ; q.states[n].parent >= 0; n = q.states[n].parent {
		if u := q.states[n].hand; len(out) > 0 && out[len(out)-1].unit == u {
			out[len(out)-1].letters++
		} else {
			out = append(out, visit{u, 1})
		}
	}
	slices.Reverse(out)
	return out
}
