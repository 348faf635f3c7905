package book

import "slices"

// Life is a booked plan as it now is. Its lists are in the order of its uses, then of its
// purchases.
type Life struct {
	Event int64 // by which it was booked
	Date  string
	Plan  string // its folder, from the shop folder on, by slashes
	Booking
	Replaced bool // a later revision has taken its place

	Expected []string // boards that are to come
	Missing  []string // that were not delivered
	Here     []string // on the rack, and not cut
	Gone     []string // off the rack otherwise, as when they are scrapped
	Done     []string // that were cut
	Cut      []Piece  // in the order of the events
	Spoiled  []Piece
}

// Over says whether nothing of the plan is left to do.
func (l *Life) Over() bool {
	return l.Replaced || len(l.Expected)+len(l.Missing)+len(l.Here)+len(l.Gone) == 0
}

// Lives gives the plans that are booked by these events, which are all from the first on, in the
// order of their booking. An event that cannot be after those before it is a [Broken].
func Lives(events []Event) ([]Life, error) {
	t, err := fold(events)
	if err != nil {
		return nil, err
	}
	return t.plans.lives(t.isOn), nil
}

func (p *plans) lives(onRack func(id string) bool) (lives []Life) {
	for _, l := range p.all {
		e := l.booked
		life := Life{Event: e.Number, Date: e.Date, Plan: e.Plan, Booking: *e.Booking,
			Replaced: l.taken != 0}
		for _, id := range slices.Concat(e.Booking.Uses, e.Booking.buys()) {
			to := map[place]*[]string{expected: &life.Expected, missing: &life.Missing,
				had: &life.Here, isCut: &life.Done}[l.is[id]]
			if l.is[id] == had && !onRack(id) {
				to = &life.Gone
			}
			*to = append(*to, id)
		}
		for _, e := range l.events {
			for i := range e.Done {
				for _, c := range e.Done[i].Pieces {
					if c.Spoiled {
						life.Spoiled = append(life.Spoiled, c)
					} else {
						life.Cut = append(life.Cut, c)
					}
				}
			}
		}
		lives = append(lives, life)
	}
	return lives
}

// Find gives the life of a plan by its folder, or nil.
func Find(lives []Life, plan string) *Life {
	for i := range lives {
		if lives[i].Plan == plan {
			return &lives[i]
		}
	}
	return nil
}

// Promised says for each board that is promised to which plan it is: on the rack, and not cut.
func Promised(lives []Life) map[string]string {
	to := map[string]string{}
	for i := range lives {
		if l := &lives[i]; !l.Replaced {
			for _, id := range l.Here {
				to[id] = l.Plan
			}
		}
	}
	return to
}

// Awaited says for each id that is kept for what is yet to come for which plan it is: boards that
// it buys, and its offcuts, also those that came since.
func Awaited(lives []Life) map[string]string {
	by := map[string]string{}
	for i := range lives {
		if l := &lives[i]; !l.Replaced {
			for _, id := range slices.Concat(l.Expected, l.Missing, l.Offcuts) {
				by[id] = l.Plan
			}
		}
	}
	return by
}

// Single is a board that the yard had one of, and that a plan has bought.
type Single struct {
	Purchase
	Plan    string
	Missing bool // it was not delivered
}

// Singles are the boards that the yard had one of and that are bought, or were not delivered. What
// a plan whose place was taken still awaits is bought by the later revision or not at all.
func Singles(lives []Life) (all []Single) {
	for i := range lives {
		l := &lives[i]
		for _, b := range l.Buys {
			if b.Single && (!l.Replaced || !slices.Contains(l.Expected, b.Board.ID)) {
				all = append(all, Single{b, l.Plan, slices.Contains(l.Missing, b.Board.ID)})
			}
		}
	}
	return all
}
