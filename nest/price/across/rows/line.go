package rows

import (
	"cmp"
	"slices"

	"rackwright/nest/price"
	"rackwright/nest/price/counts"
)

// Line lists rows of things whose value hangs on where they start, and of gaps between them. For
// each set of counts u, by start n,
//
//	p_u[n]  the most with a thing at n: max over things of
//	        value[n] + t_{u less the thing}[next n]
//	f_u[n]  the most from n on: max of f_u[n+1], p_u[n] - left[n], and a gap with what follows it
//	t_u[n]  max of f_u[n] and p_u[n]: just a kerf behind a thing, with which the next one shares a
//	        rip; where it is not just a kerf behind, f_u takes its place
//
// f of no counts is what the last gap is worth. Sets with fewer pieces come first. What is worth
// too little with all that may precede it is left out.
type Line struct {
	Form   *counts.Form
	Starts int
	Things []Thing
	Before []int64 // by start: a bound of what precedes it
	Left   []int64 // by start: what a thing pays that touches none before it; nil: nothing
	Empty  []int64 // f of no counts; last, the end
	Gaps   Gaps
	Need   int64
	Limit  *Limit

	set   *counts.Set
	spare [][]int64 // tables of an earlier list
	sets  []lineSet // by number
	queue [][]int32 // by pieces: numbers
}

// Gaps are what gaps of a line are worth.
type Gaps interface {
	// Begin begins with what follows: f, up to just behind the last start of it. It may be known
	// only from the starts on that are asked for, from the last to the first.
	Begin(f []int64)
	// Best is the most that a gap from start n on gives, with what follows it; where that is no
	// more than floor, it may be less.
	Best(n int, floor int64) int64
	// Worth is what a gap is worth from start n to a kerf before a later start; false where there
	// can be none.
	Worth(n, to int) (int64, bool)
}

// Thing may start at some starts of a line.
type Thing struct {
	Row             // its value apart
	Values  []int64 // by start; price.Never: it may not start there
	Next    []int32 // by start: the first start a kerf or more behind its end
	Touches []bool  // by start: that is just a kerf behind its end; nil: nothing is shared
	Tag     int     // whatever it is
	starts  []int32 // those at which it has a value
}

// lineSet are the tables of a set of counts.
type lineSet struct {
	f, t []int64 // up to just behind the last start
	last int     // the last start of a row of it
}

// List finds the rows that are worth at least Need; false where the limit is spent.
func (l *Line) List() bool {
	l.reset()
	for n := range l.Things {
		t := &l.Things[n]
		t.starts = t.starts[:0]
		for n, v := range t.Values {
			if !price.None(v) {
				t.starts = append(t.starts, int32(n))
			}
		}
	}
	if !l.extend(0, 0) {
		return false
	}
	for pieces := 1; pieces < len(l.queue); pieces++ {
		for _, n := range l.queue[pieces] {
			if !l.finish(int(n)) || !l.extend(int(n), pieces) {
				return false
			}
		}
	}
	return true
}

// reset begins anew, with the memory of an earlier list.
func (l *Line) reset() {
	if l.set == nil {
		l.set = counts.NewSet(l.Form)
	}
	l.set.Clear()
	l.set.Put(l.Form.None())
	for n := range l.sets {
		if n > 0 {
			l.spare = append(l.spare, l.sets[n].f)
		}
	}
	l.sets = append(l.sets[:0], lineSet{f: l.Empty, t: l.Empty, last: l.Starts})
	for n := range l.queue {
		l.queue[n] = l.queue[n][:0]
	}
	if len(l.queue) == 0 {
		l.queue = append(l.queue, nil)
	}
}

// table is memory for a table of so many starts.
func (l *Line) table(starts int) []int64 {
	n := len(l.spare) - 1
	if n >= 0 && cap(l.spare[n]) >= starts {
		out := l.spare[n][:0]
		l.spare = l.spare[:n]
		return out
	}
	if l.Starts < shortLine { // a next list has as many
		starts = l.Starts + 1
	}
	return make([]int64, 0, starts)
}

// shortLine is how many starts a line has where tables are made for all of them.
const shortLine = 256

// extend puts each thing before the rows of a set.
func (l *Line) extend(number, pieces int) bool {
	from := l.sets[number]
	sum, has := l.Form.None(), l.set.At(number)
	l.Limit.Take(4*int64(len(l.Things)), 0)
	for m := range l.Things {
		t := &l.Things[m]
		if l.Form.Sum(sum, has, t.Counts) && !l.put(sum, pieces, &from, t) {
			return false
		}
	}
	return true
}

// put puts a thing before the rows of a set, to make rows of another.
func (l *Line) put(sum counts.Counts, pieces int, from *lineSet, t *Thing) bool {
	fits, _ := slices.BinarySearchFunc(t.starts, int32(from.last+1), func(n, next int32) int {
		return cmp.Compare(t.Next[n], next)
	})
	if !l.Limit.Take(stepsOfPut+2*int64(fits), 0) {
		return false
	}
	p, before, need := []int64(nil), l.Before, l.Need
	for _, n := range t.starts[:fits] {
		v := from.f[t.Next[n]]
		if t.Touches != nil && t.Touches[n] {
			v = from.t[t.Next[n]]
		}
		if v += t.Values[n]; v+before[n] < need || price.None(v) {
			continue
		}
		if p == nil {
			if p = l.open(sum, pieces+t.Pieces, int(t.starts[fits-1])+1); p == nil {
				return false
			}
		}
		p[n] = max(p[n], v)
	}
	return true
}

// open gives p of some counts, for so many starts and one behind them; nil where the limit is
// spent.
func (l *Line) open(c counts.Counts, pieces, starts int) []int64 {
	number, fresh := l.set.Put(c)
	if fresh {
		l.sets = append(l.sets, lineSet{f: l.table(starts + 1)})
		for len(l.queue) <= pieces {
			l.queue = append(l.queue, nil)
		}
		l.queue[pieces] = append(l.queue[pieces], int32(number))
	}
	p := l.sets[number].f
	if more := starts + 1 - len(p); more > 0 {
		if !l.Limit.Take(stepsOfPut+int64(more), int64(more)+wordsOfSet) {
			return nil
		}
		for range more {
			p = append(p, price.Never)
		}
		l.sets[number].f = p
	}
	return p
}

// Basic steps of a thing put before a set, and words of a set besides its tables.
const stepsOfPut, wordsOfSet = 16, 16

// finish makes f and t of a set from its p.
func (l *Line) finish(number int) bool {
	s := &l.sets[number]
	s.last = len(s.f) - 2
	for price.None(s.f[s.last]) {
		s.last--
	}
	s.f = s.f[:s.last+2] // nothing starts at the last of them
	f := s.f
	if !l.Limit.Take(8*int64(s.last+1), 0) {
		return false
	}
	if s.t = f; l.Left != nil {
		if !l.Limit.Take(0, int64(len(f))) {
			return false
		}
		s.t = slices.Clone(f)
	}
	l.Gaps.Begin(f)
	for n := s.last; n >= 0; n-- {
		best, p := f[n+1], f[n]
		if l.Left == nil {
			best = max(best, p)
		} else if !price.None(p) {
			best = max(best, p-l.Left[n])
		}
		f[n] = max(best, l.Gaps.Best(n, best))
		if l.Left != nil {
			s.t[n] = max(f[n], p)
		}
	}
	return true
}

// Each gives each set of counts that is worth enough, the most that it is worth, and its number.
func (l *Line) Each(yield func(c counts.Counts, value int64, number int)) {
	for n := 1; n < len(l.sets); n++ {
		if s := &l.sets[n]; s.f[0] >= l.Need {
			yield(l.set.At(n), s.f[0], n)
		}
	}
}

// Number is the number of a set of counts, and the most that it is worth; -1: it has no row.
func (l *Line) Number(c counts.Counts) (number int, value int64) {
	n := l.set.Find(c)
	if n < 1 || l.sets[n].f[0] < l.Need {
		return -1, 0
	}
	return n, l.sets[n].f[0]
}
