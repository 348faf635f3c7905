package across

// Labels of rows that are under way. Of those that have come to the same place in the same state,
// with the same pieces, only the one that is worth most matters.

// label is a row as far as it has come.
type label struct {
	value int64 // of its pieces at their duals and of all before the place
	vec   int32 // its pieces
	place int32
	state int32
	last  int32 // what came last, as the row sees it: the least over all ways to come here
	next  int32 // the label before it at the place, plus one
}

// labels are those of one row.
type labels struct {
	all   []label
	heads []int32 // by place the last label there, plus one
	slots []int32 // by hash, as in vectors
}

// start forgets all labels.
func (l *labels) start(places int) {
	l.all = l.all[:0]
	if cap(l.heads) < places {
		l.heads = make([]int32, places)
	}
	l.heads = l.heads[:places]
	clear(l.heads)
	l.slots = clearSlots(l.slots)
}

func hashOf(place, state, vec int32) int {
	return int(mix(mix(1, uint64(uint32(place))<<32|uint64(uint32(vec))), uint64(state)))
}

// find finds a label; nil where there is none, and then its slot.
func (l *labels) find(place, state, vec int32) (*label, int) {
	at := hashOf(place, state, vec) & (len(l.slots) - 1)
	for ; l.slots[at] != 0; at = (at + 1) & (len(l.slots) - 1) {
		old := &l.all[l.slots[at]-1]
		if old.vec == vec && old.place == place && old.state == state {
			return old, at
		}
	}
	return nil, at
}

// put notes a label.
func (l *labels) put(place, state, vec int32, value int64, last int32) {
	old, at := l.find(place, state, vec)
	if old != nil {
		old.value, old.last = max(old.value, value), min(old.last, last)
		return
	}
	l.all = append(l.all, label{value, vec, place, state, last, l.heads[place]})
	l.heads[place] = int32(len(l.all))
	l.slots[at] = int32(len(l.all))
	if 2*len(l.all) > len(l.slots) {
		l.spread()
	}
}

// spread doubles the slots.
func (l *labels) spread() {
	l.slots = make([]int32, 2*len(l.slots))
	for k := range l.all {
		a := &l.all[k]
		at := hashOf(a.place, a.state, a.vec) & (len(l.slots) - 1)
		for l.slots[at] != 0 {
			at = (at + 1) & (len(l.slots) - 1)
		}
		l.slots[at] = int32(k + 1)
	}
}

// mostAt is the most that a label at a place is worth, by its layer.
func (l *labels) mostAt(place int) [layers]int64 {
	most := [layers]int64{impossible, impossible}
	for head := l.heads[place]; head != 0; head = l.all[head-1].next {
		one := &l.all[head-1]
		most[one.state] = max(most[one.state], one.value)
	}
	return most
}
