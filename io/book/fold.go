package book

import (
	"fmt"
	"slices"

	"rackwright/model"
)

// The rack is what the events add up to. With R the rack before an event, which has for each id a
// board or none, each change (was, is) of the event must find was in R, and puts is in its place.
// An undone event has the changes of the one that it is of turned round, the last first; so R is as
// before that one, if no event between changed the same boards.
//
// Boards keep the order in which their ids first came. So a board that was scrapped by mistake
// comes back to its old place.

// Rack gives the boards that are on the rack after these events, which are all from the first on.
// An event that cannot be after those before it is a [Broken].
func Rack(events []Event) ([]model.Board, error) {
	t, err := fold(events)
	if err != nil {
		return nil, err
	}
	return t.boards(), nil
}

// tally is what events add up to.
type tally struct {
	ids   []string                // as they first came
	on    map[string]*model.Board // nil where it came and is gone
	came  map[string]int          // how many events that count brought it
	of    map[int64]*Event
	gone  map[int64]bool // events that do not count
	plans plans
}

func newTally() *tally {
	return &tally{on: map[string]*model.Board{}, came: map[string]int{}, of: map[int64]*Event{},
		gone: map[int64]bool{}}
}

func fold(events []Event) (*tally, error) {
	t := newTally()
	for i := range events {
		if err := t.add(&events[i]); err != nil {
			return nil, &Broken{events[i].Number, err.Error()}
		}
	}
	return t, nil
}

func (t *tally) isOn(id string) bool { return t.on[id] != nil }

func (t *tally) hasCome(id string) bool { return t.came[id] > 0 }

func (t *tally) boards() []model.Board {
	rack := []model.Board{}
	for _, id := range t.ids {
		if b := t.on[id]; b != nil {
			rack = append(rack, *b)
		}
	}
	return rack
}

// add adds an event up, if it may follow.
func (t *tally) add(e *Event) error {
	if want := int64(len(t.of) + 1); e.Number != want {
		return fmt.Errorf("event %d should be here", want)
	}
	if err := legal(e); err != nil {
		return err
	}
	if e.Kind == Undone {
		if err := t.mayUndo(e.Of); err != nil {
			return cannotUndo(e.Of, err)
		}
		if !sameChanges(e.Changes, undoing(t.of[e.Of])) {
			return fmt.Errorf("it does not turn round what event %d says", e.Of)
		}
		t.gone[e.Of] = true
		for _, id := range comes(t.of[e.Of].Changes) {
			t.came[id]--
		}
	} else if err := t.plans.may(e, t); err != nil {
		return err
	}
	for _, c := range e.Changes {
		id := c.ID()
		is, came := t.on[id]
		if !same(is, c.Was) {
			return fmt.Errorf("board %s was not as it says", id)
		}
		if !came {
			t.ids = append(t.ids, id)
		}
		t.on[id] = c.Is
		if c.Was == nil && e.Kind != Undone {
			t.came[id]++
		}
	}
	t.plans.add(e)
	t.of[e.Number] = e
	return nil
}

// mayUndo says why an event cannot be undone, or nil.
func (t *tally) mayUndo(number int64) error {
	e := t.of[number]
	switch {
	case e == nil:
		return fmt.Errorf("there is none of that number")
	case t.gone[number]:
		return fmt.Errorf("it is undone already")
	case e.Kind == Opened || e.Kind == Undone:
		return fmt.Errorf("it is of kind %s", e.Kind)
	}
	if err := t.plans.mayUndo(e, t); err != nil {
		return err
	}
	ids := map[string]bool{}
	for _, c := range e.Changes {
		ids[c.ID()] = true
	}
	for n := int64(len(t.of)); n > number; n-- {
		if t.gone[n] || t.of[n].Kind == Undone {
			continue
		}
		for _, c := range t.of[n].Changes {
			if ids[c.ID()] {
				return fmt.Errorf("event %d stands on it, as it is of board %s, too", n, c.ID())
			}
		}
	}
	return nil
}

func cannotUndo(number int64, why error) error {
	return fmt.Errorf("event %d cannot be undone: %w", number, why)
}

// undoing are the changes of an event turned round.
func undoing(e *Event) []Change {
	back := make([]Change, 0, len(e.Changes))
	for i := len(e.Changes) - 1; i >= 0; i-- {
		back = append(back, e.Changes[i].back())
	}
	return back
}

// legal judges an event by itself: whether it says what its kind may say.
func legal(e *Event) error {
	if !model.ValidDate(e.Date) {
		return fmt.Errorf("%q is no date", e.Date)
	}
	if (e.Kind == Opened) != (e.Number == 1) {
		return fmt.Errorf("a book is opened by its first event, and by no other")
	}
	if (e.Kind == Undone) != (e.Of != 0) {
		return fmt.Errorf("an event that is undone is named, and no other is")
	}
	one := len(e.Changes) == 1
	for _, c := range e.Changes {
		fits := false
		switch came, left := c.Was == nil, c.Is == nil; e.Kind {
		case Opened, Received:
			fits = came && !left
		case Booked:
		case Added:
			fits = one && came && !left
		case Moved:
			fits = one && !came && !left && onlyMoved(*c.Was, *c.Is)
		case Scrapped:
			fits = one && !came && left
		case Taken, Counted, Cut, Undone:
			fits = !same(c.Was, c.Is)
		default:
			return fmt.Errorf("kind %q is not known", e.Kind)
		}
		if !fits {
			return fmt.Errorf("the change of board %s is none of kind %s", c.ID(), e.Kind)
		}
	}
	if len(e.Changes) == 0 && e.mustChange() {
		return fmt.Errorf("it changes nothing")
	}
	return saysOfPlan(e)
}

// mustChange says whether an event of that kind changes boards. An undone one does where the one
// that it is of does.
func (e *Event) mustChange() bool {
	return !slices.Contains([]Kind{Opened, Booked, Received, Undone}, e.Kind)
}

func onlyMoved(was, is model.Board) bool {
	moved := was.Bin != is.Bin
	was.Bin = is.Bin
	return moved && Same(was, is)
}

func same(a, b *model.Board) bool {
	if a == nil || b == nil {
		return a == b
	}
	return Same(*a, *b)
}

func sameChanges(a, b []Change) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if !same(a[i].Was, b[i].Was) || !same(a[i].Is, b[i].Is) {
			return false
		}
	}
	return true
}
