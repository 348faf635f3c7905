package book

import (
	"errors"
	"fmt"
	"slices"
)

// Which events of plans are legal, after those before them.

// ground is the rack that a plan is booked on: whether a board is there, and whether one of that id
// ever came.
type ground interface {
	isOn(id string) bool
	hasCome(id string) bool
}

// may says why an event that is none of kind undone may not follow, as to plans, or nil. Only what
// is booked needs the ground.
func (p *plans) may(e *Event, g ground) error {
	for _, id := range comes(e.Changes) {
		if l := p.reserved[id]; l != nil && l.booked.Plan != e.Plan {
			return fmt.Errorf("the id %s is kept for plan %s, which will buy it or leave it over: "+
				"see `rackwright receive` and `rackwright done`", id, l.booked.Plan)
		}
	}
	switch e.Kind {
	case Booked:
		if whys := p.mayBook(e.Plan, e.Booking, g); len(whys) > 0 {
			return errors.New(whys[0])
		}
	case Received, Cut:
		l := p.find(e.Plan)
		switch {
		case l == nil:
			return fmt.Errorf("plan %s is not booked", e.Plan)
		case l.taken != 0:
			return fmt.Errorf("a later revision has taken the place of plan %s, by event %d",
				e.Plan, l.taken)
		case e.Kind == Received:
			return l.mayReceive(e)
		}
		return l.mayCut(e)
	}
	return nil
}

// mayBook gives all reasons why a plan cannot be booked.
func (p *plans) mayBook(name string, b *Booking, g ground) (whys []string) {
	why := func(format string, args ...any) { whys = append(whys, fmt.Sprintf(format, args...)) }
	for _, l := range p.all {
		if l.booked.Plan == name {
			why("plan %s is booked already, by event %d", name, l.booked.Number)
		} else if l.booked.Booking.Hash == b.Hash {
			why("the same plan is booked already as %s, by event %d", l.booked.Plan,
				l.booked.Number)
		}
	}
	of := p.find(b.Of)
	switch {
	case of == nil && b.Of != "":
		why("plan %s is not booked, so nothing can take its place", b.Of)
	case of != nil && of.taken != 0:
		why("a later revision has taken the place of plan %s already, by event %d", b.Of, of.taken)
	}
	for _, id := range b.Uses {
		if !g.isOn(id) {
			why("board %s is not on the rack", id)
		} else if l := p.promised[id]; l != nil && l != of {
			why("board %s is promised to plan %s", id, l.booked.Plan)
		}
	}
	for _, id := range append(b.buys(), b.Offcuts...) {
		if l := p.reserved[id]; l != nil && l != of {
			why("the id %s is kept for plan %s", id, l.booked.Plan)
		} else if g.hasCome(id) {
			why("a board %s was on the rack already", id)
		}
	}
	return whys
}

func (l *plan) mayReceive(e *Event) error {
	for _, id := range comes(e.Changes) {
		if is := l.is[id]; is != expected && is != missing && is != noPlace {
			return fmt.Errorf("plan %s does not await board %s", e.Plan, id)
		}
	}
	for _, id := range e.Missing {
		if l.is[id] != expected {
			return fmt.Errorf("plan %s does not await board %s", e.Plan, id)
		}
	}
	return nil
}

func (l *plan) mayCut(e *Event) error {
	good := map[Piece]bool{}
	for i := range e.Done {
		for _, c := range e.Done[i].Pieces {
			if name := c.name(); !c.Spoiled && (l.good[name] || good[name]) {
				return fmt.Errorf("%s %s copy %d is cut twice", c.Commission, c.Part, c.Copy)
			} else if !c.Spoiled {
				good[name] = true
			}
		}
	}
	for _, c := range e.Changes {
		if c.Was != nil && l.is[c.ID()] != had {
			return fmt.Errorf("board %s is not one that plan %s has yet to cut", c.ID(), e.Plan)
		}
	}
	return nil
}

// mayUndo says why an event cannot be undone for the sake of a plan, or nil.
func (p *plans) mayUndo(e *Event, g ground) error {
	if l := p.find(e.Plan); l != nil && e.Plan != "" {
		if l.taken != 0 {
			return fmt.Errorf("event %d stands on it, a later revision of that plan", l.taken)
		}
		if n := len(l.events); e.Kind == Booked && n > 0 {
			return fmt.Errorf("event %d stands on it, as it is of that plan, too",
				l.events[n-1].Number)
		}
	}
	if e.Kind == Booked && e.Booking.Of != "" {
		if err := p.mayReturn(p.find(e.Booking.Of), e, g); err != nil {
			return err
		}
	}
	for _, l := range p.all {
		for _, c := range e.Changes {
			if l.booked.Number > e.Number && slices.Contains(l.booked.Booking.Uses, c.ID()) {
				return fmt.Errorf("event %d stands on it, as it is of a plan that uses board %s",
					l.booked.Number, c.ID())
			}
		}
	}
	return nil
}

// mayReturn says why a plan cannot have its place again, which a later revision took, or nil: what
// was promised to it or kept for it may be another's by now.
func (p *plans) mayReturn(of *plan, taken *Event, g ground) error {
	for _, l := range p.all {
		if l.booked.Number <= taken.Number {
			continue
		}
		b := l.booked.Booking
		for _, id := range slices.Concat(b.Uses, b.buys(), b.Offcuts) {
			if is := of.is[id]; is != noPlace && is != isCut {
				return fmt.Errorf("event %d stands on it, as it is of a plan that has %s since",
					l.booked.Number, id)
			}
		}
		for i := range b.Buys {
			if id := of.awaitsLike(&b.Buys[i]); id != "" && !taken.Booking.buysLike(&b.Buys[i]) {
				return fmt.Errorf("event %d stands on it, as it is of a plan that buys since what "+
					"%s was to be, and the yard had one", l.booked.Number, id)
			}
		}
	}
	for _, id := range slices.Concat(of.booked.Booking.buys(), of.booked.Booking.Offcuts) {
		if is := of.is[id]; is != noPlace && is != had && is != isCut && g.hasCome(id) {
			return fmt.Errorf("board %s came since, whose id would be kept for plan %s", id,
				of.booked.Plan)
		}
	}
	return nil
}

// awaitsLike is a board that a plan awaits and that is the one board of the yard which a purchase
// may be, or empty.
func (l *plan) awaitsLike(buy *Purchase) string {
	for i := range l.booked.Booking.Buys {
		own := &l.booked.Booking.Buys[i]
		if own.Single && buy.Single && l.is[own.Board.ID] == expected && own.Alike(buy) {
			return own.Board.ID
		}
	}
	return ""
}

// buysLike says whether a booking buys the one board of the yard that a purchase may be.
func (b *Booking) buysLike(buy *Purchase) bool {
	return slices.ContainsFunc(b.Buys, func(p Purchase) bool { return p.Single && p.Alike(buy) })
}
