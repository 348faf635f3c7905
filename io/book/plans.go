package book

import "slices"

// What events add up to for plans. A plan that is booked is promised the boards that it uses, and
// those that it buys once they came, each until it is cut. No other plan gets them. The ids that
// its boards and offcuts will have are kept for it. All that ends when a later revision takes its
// place.

// plans are the booked plans, in the order of their booking. The zero value is none.
type plans struct {
	all      []*plan
	named    map[string]*plan // by their folders
	of       map[int64]*Event // events of plans, which may be undone
	promised map[string]*plan // to which plan a board is
	reserved map[string]*plan // ids that are kept for what is yet to come, and of which plan
}

// plan is a booked plan.
type plan struct {
	booked *Event
	events []*Event // what was received and cut
	taken  int64    // the event by which a later revision took its place; 0: none
	is     map[string]place
	good   map[Piece]bool // pieces that are cut and not spoiled, by name
}

// place says where a board of a plan is.
type place int

// The places.
const (
	noPlace   place = iota
	expected        // it is to come
	missing         // it was not delivered
	had             // it was promised, or came, and is not cut
	isCut           // it was cut, what is left of it is promised to nobody
	leftOvers       // it is an offcut to come
)

func (p *plans) find(name string) *plan { return p.named[name] }

// add takes in an event that may follow.
func (p *plans) add(e *Event) {
	if p.of == nil {
		*p = plans{named: map[string]*plan{}, of: map[int64]*Event{},
			promised: map[string]*plan{}, reserved: map[string]*plan{}}
	}
	switch e.Kind {
	case Undone:
		if p.of[e.Of] != nil {
			p.remove(p.of[e.Of])
		}
		return
	case Booked:
		if of := p.find(e.Booking.Of); of != nil {
			p.release(of)
			of.taken = e.Number
		}
		l := &plan{booked: e}
		p.all, p.named[e.Plan] = append(p.all, l), l
		p.arrange(l)
	case Received, Cut:
		l := p.find(e.Plan)
		l.events = append(l.events, e)
		l.take(e)
		for _, c := range e.Changes {
			p.settle(l, c.ID())
		}
	default:
		return
	}
	p.of[e.Number] = e
}

// remove takes an event back.
func (p *plans) remove(e *Event) {
	same := func(other *Event) bool { return other.Number == e.Number }
	l := p.find(e.Plan)
	p.release(l)
	delete(p.of, e.Number)
	if e.Kind != Booked {
		l.events = slices.DeleteFunc(l.events, same)
		p.arrange(l)
		return
	}
	p.all = slices.DeleteFunc(p.all, func(l *plan) bool { return same(l.booked) })
	delete(p.named, e.Plan)
	if of := p.find(e.Booking.Of); of != nil {
		of.taken = 0
		p.arrange(of)
	}
}

// release takes from a plan what is promised to it and reserved.
func (p *plans) release(l *plan) {
	for id := range l.is {
		p.free(l, id)
	}
}

func (p *plans) free(l *plan, id string) {
	if p.promised[id] == l {
		delete(p.promised, id)
	}
	if p.reserved[id] == l {
		delete(p.reserved, id)
	}
}

// arrange finds from all events of a plan where each of its boards is.
func (p *plans) arrange(l *plan) {
	l.is, l.good = map[string]place{}, map[Piece]bool{}
	for _, id := range l.booked.Booking.Uses {
		l.is[id] = had
	}
	for _, id := range l.booked.Booking.buys() {
		l.is[id] = expected
	}
	for _, id := range l.booked.Booking.Offcuts {
		l.is[id] = leftOvers
	}
	for _, e := range l.events {
		l.take(e)
	}
	for id := range l.is {
		p.settle(l, id)
	}
}

// take finds where the boards are after an event of the plan.
func (l *plan) take(e *Event) {
	for _, id := range e.Missing {
		l.is[id] = missing
	}
	for _, id := range comes(e.Changes) {
		switch l.is[id] {
		case expected, missing:
			l.is[id] = had
		case leftOvers:
			delete(l.is, id)
		}
	}
	for i := range e.Done {
		l.is[e.Done[i].Board] = isCut
		for _, c := range e.Done[i].Pieces {
			if !c.Spoiled {
				l.good[c.name()] = true
			}
		}
	}
}

// settle notes what is promised and reserved of a board of a plan.
func (p *plans) settle(l *plan, id string) {
	if l.taken != 0 {
		return
	}
	p.free(l, id)
	switch l.is[id] {
	case had:
		p.promised[id] = l
	case expected, missing, leftOvers:
		p.reserved[id] = l
	}
}

// name is what tells a piece from others.
func (c Piece) name() Piece {
	return Piece{Commission: c.Commission, Part: c.Part, Copy: c.Copy}
}
