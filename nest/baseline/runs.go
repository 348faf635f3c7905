package baseline

import (
	"cmp"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/internal/queue"
)

// Runs. Copies of one item that follow each other are placed together, where each of them would go
// one by one. This rests on two things. A load is never changed, so what refuses a copy refuses the
// next one, too. And alike loads take alike copies in the same way.
//
//	first fit   each load takes copies until it refuses one; so do those after it
//	best fit    the loads wait in order of what they would leave free; only the one that took a
//	            copy changes its place
//	a new one   takes copies until it refuses one, and so does each further one like it
//
// Once the context has ended the rest is placed in a hurry. A copy is then offered to the few loads
// opened last, then to a new one. Only where there is none are all loads asked. Nothing that can be
// met so is left unmet, and the time it takes goes by the runs, not by the copies.

// run is some copies of one item that follow each other.
type run struct {
	item   int
	copies int64
}

// runsOf parts a list into runs.
func runsOf(list []int) (out []run) {
	for _, i := range list {
		if last := len(out) - 1; last >= 0 && out[last].item == i {
			out[last].copies++
		} else {
			out = append(out, run{i, 1})
		}
	}
	return out
}

// batch is some alike loads that were opened one after the other.
type batch struct {
	*load
	n int64
}

// batches stand in the order of opening.
type batches []batch

// add puts n more loads behind the others.
func (b *batches) add(l *load, n int64) {
	if last := len(*b) - 1; last >= 0 && (*b)[last].load == l {
		(*b)[last].n += n
	} else if n > 0 {
		*b = append(*b, batch{l, n})
	}
}

// hurry says whether the rest must be placed in a hurry. It is to be asked for each look at a load
// or a stock; the context is asked now and then only.
func (f *filling) hurry() bool {
	const looks = 1 << 10
	if f.looked++; f.looked%looks == 1 && f.ctx.Err() != nil {
		f.hurried = true
	}
	return f.hurried
}

// place puts the copies of a run into stocks and gives how many of them none takes.
func (f *filling) place(r run, rule Rule) int64 {
	s := &series{filling: f, item: r.item, left: r.copies, after: map[*load]*load{}}
	const lastOpened = 64
	switch {
	case f.hurry():
		s.firstFit(max(0, len(f.open)-lastOpened))
		s.intoNew()
	case rule == BestFitDecreasing:
		s.bestFit()
		s.intoNew()
	default:
		s.firstFit(0)
		s.intoNew()
	}
	if s.left > 0 && f.hurried {
		s.firstFit(0)
	}
	return s.left
}

// series is a run under way.
type series struct {
	*filling
	item  int
	left  int64           // copies still to be placed
	after map[*load]*load // what a load is with one copy more; nil: it refuses one
}

// with gives the load with one copy more, nil where it refuses it.
func (s *series) with(b *load) *load {
	if len(b.items) > 0 && !s.mayTake(b, s.item) {
		return nil
	}
	after, known := s.after[b]
	if !known {
		after, _ = s.put(b, s.item)
		s.after[b] = after
	}
	return after
}

// full gives the load with as many copies more as it takes, at most so many, and their number.
func (s *series) full(b *load, most int64) (*load, int64) {
	for n := int64(0); ; n++ {
		with := (*load)(nil)
		if n < most {
			with = s.with(b)
		}
		if with == nil {
			return b, n
		}
		b = with
	}
}

// fill fills so many alike loads one after the other while copies are left, and says how: each full
// one holds the copies that one takes; then comes one that holds what was left.
func (s *series) fill(b *load, n int64) (out batches) {
	full, each := s.full(b, s.left)
	if each == 0 {
		return nil
	}
	times := min(n, s.left/each)
	out.add(full, times)
	if s.left -= times * each; s.left > 0 && times < n {
		rest, some := s.full(b, s.left)
		s.left -= some
		out.add(rest, 1)
	}
	return out
}

// count is how many loads there are.
func (b batches) count() (n int64) {
	for _, x := range b {
		n += x.n
	}
	return n
}

// firstFit offers the copies to the open loads from a batch on, in their order.
func (s *series) firstFit(from int) {
	for n := from; n < len(s.open) && s.left > 0; n++ {
		b := s.open[n]
		if s.hurry(); s.with(b.load) == nil {
			continue
		}
		filled := s.fill(b.load, b.n)
		if rest := b.n - filled.count(); rest > 0 {
			filled = append(filled, batch{b.load, rest})
		}
		s.open = slices.Replace(s.open, n, n+1, filled...)
		n += len(filled) - 1
	}
}

// intoNew opens stocks while copies are left and a stock takes one.
func (s *series) intoNew() {
	for _, stock := range s.order {
		if s.left == 0 {
			return
		}
		if s.hurry(); s.unopened(stock) == 0 {
			continue
		}
		filled := s.fill(s.empty[stock], s.unopened(stock))
		s.used[stock] += filled.count()
		for _, b := range filled {
			s.open.add(b.load, b.n)
		}
	}
}

// bestFit puts each copy into the open load where it leaves least unused, of equals into the first.
func (s *series) bestFit() {
	var some []*candidate
	for n, b := range s.open {
		if s.hurry() {
			break
		}
		if s.mayTake(b.load, s.item) {
			if c, ok := s.candidate(place{n, 0}, b.load, b.n); ok {
				some = append(some, &c)
			}
		}
	}
	wait := queue.New(leavesLess, some...)
	changed := map[int]batches{} // by batch, its loads that took copies
	for s.left > 0 && wait.Len() > 0 && !s.hurry() {
		c := wait.First()
		if !c.sure {
			with := s.with(c.load)
			if with == nil {
				wait.Pop()
				continue
			}
			c.unused, c.sure = s.unused(with), true
			wait.Moved()
			continue
		}
		with, at := s.with(c.load), c.at
		if with == nil {
			wait.Pop()
			continue
		}
		s.left--
		if at.n == len(changed[at.batch]) {
			changed[at.batch] = append(changed[at.batch], batch{with, 1})
		} else {
			changed[at.batch][at.n].load = with
		}
		if c.n--; c.n == 0 {
			wait.Pop()
		} else {
			c.at.n++
			wait.Moved()
		}
		if next, ok := s.candidate(at, with, 1); ok && s.mayTake(with, s.item) {
			wait.Push(&next)
		}
	}
	if len(changed) == 0 {
		return
	}
	out := make(batches, 0, len(s.open)+len(changed))
	for n, b := range s.open {
		for _, c := range changed[n] {
			out.add(c.load, c.n)
		}
		out.add(b.load, b.n-int64(len(changed[n])))
	}
	s.open = out
}

// candidate is what some alike loads would leave with a copy more: exactly, or at least so much.
func (s *series) candidate(at place, b *load, n int64) (candidate, bool) {
	c := candidate{load: b, n: n, at: at}
	if s.p.Stocks[b.stock].Rippable() {
		c.unused = s.unusedAtLeast(b, s.item)
		return c, true
	}
	with := s.with(b)
	if with == nil {
		return c, false
	}
	c.unused, c.sure = s.unused(with), true
	return c, true
}

// place is where a load stands: in which batch, and where in it.
type place struct{ batch, n int }

// candidate is some alike loads that may take a copy, each where it stands from a place on.
type candidate struct {
	*load
	n      int64
	at     place
	unused int64 // by the load with a copy more
	sure   bool  // it takes one, and leaves just so much; else it may, and leaves no less
}

// leavesLess says which of two candidates is the next: the one that leaves less, of equals the
// first.
func leavesLess(a, b *candidate) bool {
	return cmp.Or(cmp.Compare(a.unused, b.unused), cmp.Compare(a.at.batch, b.at.batch),
		cmp.Compare(a.at.n, b.at.n)) < 0
}

// uses are the open loads as uses of their patterns.
func (f *filling) uses() (out []cutting.Use) {
	for _, b := range f.open {
		out = append(out, cutting.Use{Pattern: f.pattern(b.load), Times: b.n})
	}
	return out
}
