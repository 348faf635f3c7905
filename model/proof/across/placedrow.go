package across

import (
	"cmp"
	"slices"

	"rackwright/model/proof/internal/patterns"
)

// Rows where defects lie, so that it matters where things start. A row is made from the near end
// on, place by place:
//
//	start    a thing starts at a place
//	end      one has ended a kerf before a place, or none has come yet; then follows a gap, or
//	         nothing, up to a start, or the end of the row
//
// A row that came to an end sooner, with the same pieces, can go on in all ways in which one can
// that came to it later: a gap that begins sooner is worth no less. Across it has a rip more at
// times, and its own rip must be allowed. So where it is worth no less, with that rip, only it goes
// on.
//
// after is the most that follows an end, and from the most that follows a start. Both are for any
// number of copies. A row is left as soon as what it is worth and what follows come to less than
// the need.

// rowRules are what a row goes by.
type rowRules struct {
	places *places
	layers int                          // a row begins in the last one
	after  func(layer, place int) int64 // the most that follows an end
	begin  func(place int) int64        // what lies before the first thing
	gap    func(from, to int) int64     // between an end and a start
	end    func(place int) int64        // what lies behind the last
	// whether a row that ends sooner, here, can go on as one that ends later, for what it costs
	sooner func(place int) bool
	extra  int64
	things func(place int, out []thing) []thing // adds what may start at a place
	// what a thing at a place may have in it, the dearest first; nil: each is one piece
	contents func(place, kind int, need int64) []content
}

// thing may start at a place.
type thing struct {
	next  int // the place a kerf behind it
	exact bool
	value int64 // at most
	kind  int   // of what it is, or the vector of a single piece
}

// placedRow is the search for such rows, one after another.
type placedRow struct {
	rules        rowRules
	things       []thing
	first        []int32         // by place the first of its things, and one more
	from         [layers][]int64 // by place the most that follows a start
	starts, ends patterns.Labels // by place; their states are layers
	sooner       patterns.Labels // the most that rows were worth that ended sooner, by their pieces
	done         patterns.Labels // rows that are whole
	hops         []hop
}

// hop is a start that may follow an end.
type hop struct {
	to          int
	worth, most int64
}

// forget forgets all rows.
func (p *placedRow) forget() {
	for _, l := range []*patterns.Labels{&p.starts, &p.ends, &p.sooner, &p.done} {
		l.Start(1)
	}
}

// prepare finds what follows starts.
func (p *placedRow) prepare(l *Lister, rules rowRules) {
	p.rules = rules
	n := rules.places.n
	p.things, p.first = p.things[:0], p.first[:0]
	for layer := range layers {
		p.from[layer] = slices.Grow(p.from[layer][:0], n)[:n]
	}
	for i := range n {
		best, from := nothing, len(p.things)
		p.first = append(p.first, int32(from))
		p.things = rules.things(i, p.things)
		for k := from; k < len(p.things); k++ {
			t := &p.things[k]
			for layer := range rules.layers {
				if v := p.follows(t, layer); v > impossible {
					best[layer] = max(best[layer], t.value+v)
				}
			}
		}
		for layer := range layers {
			p.from[layer][i] = best[layer]
		}
	}
	p.first = append(p.first, int32(len(p.things)))
	l.step(int64(n + len(p.things)))
}

// follows is the most that follows a thing.
func (p *placedRow) follows(t *thing, layer int) int64 {
	if t.exact {
		layer = 0
	}
	return p.rules.after(layer, t.next)
}

// list finds all rows that reach the need: then done has them.
func (p *placedRow) list(l *Lister, need int64) {
	rules, n := &p.rules, p.rules.places.n
	p.starts.Start(n)
	p.ends.Start(n)
	p.sooner.Start(1)
	p.done.Start(1)
	top := int32(rules.layers - 1)
	for i := range n {
		if f := p.from[top][i]; f > impossible {
			if v := rules.begin(i); v > impossible && v+f >= need {
				p.starts.Put(patterns.Label{Place: int32(i), State: top, Value: v})
			}
		}
	}
	for i := range n {
		if most := mostAt(&p.ends, i); most != nothing {
			p.goOn(l, i, most, need)
		}
		if most := mostAt(&p.starts, i); most != nothing {
			p.place(l, i, most, need)
		}
		if !l.step(1) {
			return
		}
	}
}

// goOn lets rows that have come to an end go on, or end; most is what they are worth, by layer.
func (p *placedRow) goOn(l *Lister, place int, most [layers]int64, need int64) {
	last, sooner := p.rules.end(place), p.rules.sooner(place)
	for layer := range p.rules.layers {
		if most[layer] == impossible {
			continue
		}
		p.findHops(l, place, layer, need-most[layer])
		for one := range p.ends.At(place) {
			if int(one.State) != layer || p.isLater(one, sooner) {
				continue
			}
			if layer == 0 && last > impossible && one.Value+last >= need {
				p.done.Put(patterns.Label{Vec: one.Vec, Value: one.Value + last})
			}
			for k := range p.hops {
				h := &p.hops[k]
				if !l.step(1) || one.Value+h.most < need {
					break
				}
				p.starts.Put(patterns.Label{Place: int32(h.to), State: one.State, Vec: one.Vec,
					Value: one.Value + h.worth})
			}
		}
	}
}

// mostAt is the most that a label at a place is worth, by its layer.
func mostAt(l *patterns.Labels, place int) [layers]int64 {
	most := nothing
	for one := range l.At(place) {
		most[one.State] = max(most[one.State], one.Value)
	}
	return most
}

// isLater says whether a row ended sooner that can go on as this one. If not, and if this one can
// go on as those that end later, it is noted.
func (p *placedRow) isLater(one patterns.Label, sooner bool) bool {
	one.Place = 0
	if old, some := p.sooner.Value(one); some && old-p.rules.extra >= one.Value {
		return true
	}
	if sooner {
		p.sooner.Put(one)
	}
	return false
}

// findHops finds the starts that may follow an end, the best first.
func (p *placedRow) findHops(l *Lister, place, layer int, need int64) {
	p.hops = p.hops[:0]
	from := p.from[layer]
	for i := place; i < len(from); i++ {
		if from[i] == impossible {
			continue
		}
		if v := p.rules.gap(place, i); v > impossible && v+from[i] >= need {
			p.hops = append(p.hops, hop{i, v, v + from[i]})
		}
	}
	l.step(int64(len(from) - place))
	slices.SortFunc(p.hops, func(a, b hop) int {
		return cmp.Or(cmp.Compare(b.most, a.most), cmp.Compare(a.to, b.to))
	})
}

// place puts things where rows have come to a start, likewise.
func (p *placedRow) place(l *Lister, place int, most [layers]int64, need int64) {
	for k := p.first[place]; k < p.first[place+1]; k++ {
		t := &p.things[k]
		lacks, some := need, false // of what is in the thing
		for layer, v := range most {
			if v == impossible {
				continue
			}
			if f := p.follows(t, layer); f > impossible && v+t.value+f >= need {
				if !some || need-v-f < lacks {
					lacks = need - v - f
				}
				some = true
			}
		}
		if !some {
			continue
		}
		list := []content{{t.value, int32(t.kind)}}
		if p.rules.contents != nil {
			list = p.rules.contents(place, t.kind, lacks)
		}
		p.putAll(l, place, t, list, need)
	}
}

// putAll puts a thing with each of its contents behind each row at a place.
func (p *placedRow) putAll(l *Lister, place int, t *thing, list []content, need int64) {
	for one := range p.starts.At(place) {
		for k := range list {
			if !p.join(l, one, t, list[k], need) {
				break
			}
		}
	}
}

// join puts a thing behind one row; false where neither this nor a cheaper content reaches the
// need.
func (p *placedRow) join(l *Lister, one patterns.Label, t *thing, c content, need int64) bool {
	layer := one.State
	if t.exact {
		layer = 0
	}
	f := p.rules.after(int(layer), t.next)
	if !l.step(1) || f == impossible || one.Value+c.value+f < need {
		return false
	}
	if vec, ok := l.met.Plus(one.Vec, c.vec); ok {
		p.ends.Put(patterns.Label{Place: int32(t.next), State: layer, Vec: vec,
			Value: one.Value + c.value})
	}
	return true
}

// whole adds the rows that are whole.
func (p *placedRow) whole(out []content) []content {
	for one := range p.done.At(0) {
		out = append(out, content{one.Value, one.Vec})
	}
	return out
}
