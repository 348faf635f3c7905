package patterns

import "iter"

// Label is a layout as far as it has come.
type Label struct {
	Value int64 // of its pieces at their duals and of all before the place
	Vec   int32 // its pieces
	Place int32
	State int32 // whatever what can follow hangs on besides
	Last  int32 // what came last, as its search sees it: the least over all ways to come here
	next  int32 // the label before it at the place, plus one
}

// Labels are layouts that are under way. Of those that have come to the same place in the same
// state, with the same pieces, only the one that is worth most matters.
type Labels struct {
	all   []Label
	heads []int32 // by place the last label there, plus one
	slots slots
}

// Start forgets all labels.
func (l *Labels) Start(places int) {
	l.all = l.all[:0]
	if cap(l.heads) < places {
		l.heads = make([]int32, places)
	}
	l.heads = l.heads[:places]
	clear(l.heads)
	l.slots = l.slots.cleared()
}

// Len is how many there are.
func (l *Labels) Len() int { return len(l.all) }

func (l *Label) hash() uint64 {
	return mix(mix(1, uint64(uint32(l.Place))<<32|uint64(uint32(l.Vec))), uint64(l.State))
}

// find finds the label that is at one's place, in its state and with its pieces; nil where there is
// none, and then its slot.
func (l *Labels) find(one *Label) (*Label, int) {
	at := l.slots.at(one.hash())
	for ; l.slots[at] != 0; at = l.slots.after(at) {
		old := &l.all[l.slots[at]-1]
		if old.Vec == one.Vec && old.Place == one.Place && old.State == one.State {
			return old, at
		}
	}
	return nil, at
}

// Value is what the label is worth that is at one's place, in its state and with its pieces; false
// where there is none.
func (l *Labels) Value(one Label) (int64, bool) {
	if old, _ := l.find(&one); old != nil {
		return old.Value, true
	}
	return 0, false
}

// Put notes a label.
func (l *Labels) Put(one Label) {
	old, at := l.find(&one)
	if old != nil {
		old.Value, old.Last = max(old.Value, one.Value), min(old.Last, one.Last)
		return
	}
	one.next = l.heads[one.Place]
	l.all = append(l.all, one)
	l.heads[one.Place] = int32(len(l.all))
	l.slots.put(at, len(l.all), func(k int) uint64 { return l.all[k].hash() })
}

// At goes through the labels at a place; meanwhile labels may be put at others.
func (l *Labels) At(place int) iter.Seq[Label] {
	return func(yield func(Label) bool) {
		for head := l.heads[place]; head != 0; head = l.all[head-1].next {
			if !yield(l.all[head-1]) {
				return
			}
		}
	}
}
