package sawing

import (
	"cmp"
	"slices"

	"rackwright/nest/internal/queue"
)

// An exact search, for few units or where the bounds are good: A* over how many letters of each
// unit are cut and which unit is in hand. The setting that there is then is that unit's last
// letter.
//
// Units of the same word may change places. So a state says how many units stand at each place: a
// class of words and a count of letters that are cut. What one unit at a place can do, all can.

// mostStates is how many states an exact search may come to, mostTries how many ways to them.
const (
	mostStates = 15_000
	mostTries  = 150_000
)

// place is a class of words, so many letters of which are cut.
type place struct {
	next letter // none: the word is cut
	rest []many // letters that are left, each once
}

// state is how far all units are.
type state struct {
	units  []byte // how many stand at each place
	hand   int    // place of the unit in hand; -1: none
	at     letter // setting
	left   int    // letters
	begun  int    // units that are not done
	cost   int64
	bound  int64 // cost and the least that is still to come
	parent int   // state before the last letter was cut; -1: none
}

// search is an exact search under way.
type search struct {
	*words
	places []place
	states []state
	queue  *queue.Queue[int] // states, by bound
	best   map[string]int64
	most   []int // by letter, for the bound
	tries  int
}

// exact finds the order that takes the fewest minutes, then those that end with other settings and
// take less than one setting more; nil where that takes too much.
func (w *words) exact(start letter) (found []plan) {
	if len(w.units) > 255 {
		return nil
	}
	q := &search{words: w, best: map[string]int64{}, most: make([]int, len(w.letters))}
	q.queue = queue.New(func(a, b int) bool {
		return cmp.Or(cmp.Compare(q.states[a].bound, q.states[b].bound),
			cmp.Compare(q.states[b].cost, q.states[a].cost), cmp.Compare(a, b)) < 0
	})
	first := state{hand: -1, at: start, parent: -1, begun: len(w.units)}
	starts := q.findPlaces(&first)
	q.add(first)
	for q.queue.Len() > 0 && len(q.states) < mostStates && q.tries < mostTries {
		n := q.queue.Pop()
		s := q.states[n]
		if len(found) > 0 && s.bound >= found[0].cost+w.setting {
			break
		}
		if s.cost > q.best[q.key(&s)] {
			continue // there is a cheaper way to it
		}
		if s.left == 0 && !slices.ContainsFunc(found, func(p plan) bool { return p.end == s.at }) {
			found = append(found, plan{q.visits(n, starts), s.cost, s.at})
		}
		for p, units := range s.units {
			if units > 0 && q.places[p].next != none {
				q.cutNext(n, p)
			}
		}
	}
	return found
}

// findPlaces lists the places of all classes, and gives the one where each unit begins.
func (q *search) findPlaces(first *state) (starts []int) {
	class, at := q.classes(), map[int]int{}
	for u, word := range q.word {
		begin, known := at[class[u]]
		if !known {
			begin = len(q.places)
			at[class[u]] = begin
			rests := restsOf(word)
			for n := range len(word) + 1 {
				p := place{next: none, rest: rests[n]}
				if n < len(word) {
					p.next = word[n]
				}
				q.places = append(q.places, p)
				first.units = append(first.units, 0)
			}
		}
		first.units[begin]++
		first.left += len(word)
		starts = append(starts, begin)
	}
	return starts
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

// cutNext cuts the next letter of a unit at a place; of the one in hand if it is there.
func (q *search) cutNext(from, p int) {
	q.tries++
	s := &q.states[from]
	next := q.places[p].next
	t := state{units: slices.Clone(s.units), hand: p + 1, at: next, cost: s.cost, parent: from,
		left: s.left - 1, begun: s.begun}
	t.units[p]--
	t.units[p+1]++
	if q.places[p+1].next == none {
		t.begun--
	}
	if s.hand != p {
		t.cost += q.lift
	}
	if s.at != next {
		t.cost += q.setting
	}
	q.add(t)
}

// add takes a state in, unless there is a way to it that is as cheap.
func (q *search) add(s state) {
	key := q.key(&s)
	if best, known := q.best[key]; known && best <= s.cost {
		return
	}
	q.best[key] = s.cost
	s.bound = s.cost + q.toCome(&s)
	q.states = append(q.states, s)
	q.queue.Push(len(q.states) - 1)
}

// key tells states apart.
func (q *search) key(s *state) string {
	return string(append(slices.Clip(s.units), byte(s.hand), byte(s.hand>>8)))
}

// toCome is the least that is still to come: words.go has the bounds.
func (q *search) toCome(s *state) int64 {
	clear(q.most)
	for p, units := range s.units {
		if units > 0 {
			for _, m := range q.places[p].rest {
				q.most[m.letter] = max(q.most[m.letter], m.n)
			}
		}
	}
	settings, units := 0, s.begun
	for l, n := range q.most {
		if settings += n; n > 0 && l == s.at {
			settings-- // the setting there is may do for the first
		}
	}
	if s.hand >= 0 && q.places[s.hand].next != none {
		units-- // it is lifted already
	}
	takes := func(settings int) int64 {
		return q.setting*int64(settings) + q.lift*int64(max(s.left-settings, units))
	}
	return min(takes(settings), takes(max(settings, s.left-units)))
}

// visits goes back over the states to the first, and gives each unit what one at its place did.
func (q *search) visits(n int, starts []int) (out []visit) {
	var path []int
	for ; q.states[n].parent >= 0; n = q.states[n].parent {
		path = append(path, n)
	}
	at := slices.Clone(starts)
	hand := -1
	for _, n := range slices.Backward(path) {
		from := q.states[n].hand - 1
		if hand < 0 || at[hand] != from {
			hand = slices.Index(at, from)
			out = append(out, visit{unit: hand})
		}
		at[hand]++
		out[len(out)-1].letters++
	}
	return out
}
