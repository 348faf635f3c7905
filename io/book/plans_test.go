package book

import (
	"errors"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"rackwright/model"
)

const day = "2027-02-01"

// hash is a SHA-256 for the tests, another one for each number.
func hash(n int) string { return fmt.Sprintf("%064x", n) }

// sawn cuts a board into a part of a length and offcuts of others; what is over is waste.
func sawn(was model.Board, copyNo int64, part int, spoiled bool, offcuts ...model.Board) (BoardCut,
	[]Change) {
	length := model.Length(part) * model.UnitsPerInch
	d := BoardCut{Board: was.ID, Pieces: []Piece{{Commission: "C", Part: "rail", Copy: copyNo,
		Length: length, Width: was.Width, Spoiled: spoiled}}}
	made := int64(length) * int64(was.Width)
	if d.Parts = made; spoiled {
		d.Parts, d.Spoiled = 0, made
	}
	changes := []Change{{Was: &was}}
	d.Waste = area(&was) - made
	for i := range offcuts {
		d.Offcuts = append(d.Offcuts, offcuts[i].ID)
		d.Waste -= area(&offcuts[i])
		changes = append(changes, Change{Is: &offcuts[i]})
	}
	return d, changes
}

// planHand does to a book what a shop with plans does, at random, and keeps by itself what should
// come of it.
type planHand struct {
	shopHand
	after []plansAre // before the first event, and after each that counts
	plans int
	cuts  int64
}

// plansAre is what a shop knows of its plans.
type plansAre struct {
	rack     map[string]model.Board
	promised map[string]string // board and plan
	awaited  map[string]string // bought boards that did not come
	offcuts  map[string][]string
	live     []string
	lives    []Life // as the book has them
}

func (s plansAre) clone() plansAre {
	return plansAre{maps.Clone(s.rack), maps.Clone(s.promised), maps.Clone(s.awaited),
		maps.Clone(s.offcuts), slices.Clone(s.live), nil}
}

func (h *planHand) now() *plansAre { return &h.after[len(h.after)-1] }

// did notes an event that was entered, and what it should have made of the state.
func (h *planHand) did(e Event, err error, next plansAre) {
	if err != nil {
		h.t.Fatal(err)
	}
	next.lives = h.lives()
	h.open = append(h.open, e.Number)
	h.after = append(h.after, next)
}

func (h *planHand) lives() []Life {
	lives, err := h.book.Lives()
	if err != nil {
		h.t.Fatal(err)
	}
	return lives
}

func (h *planHand) enterAs(e Event, next plansAre) {
	e.Date = day
	e, err := h.book.Enter(e)
	h.did(e, err, next)
}

func (h *planHand) add(*rapid.T) {
	is, next := h.fresh(), h.now().clone()
	next.rack[is.ID] = is
	h.enterAs(Event{Kind: Added, Changes: []Change{{Is: &is}}}, next)
}

func (h *planHand) scrap(*rapid.T) {
	ids := slices.Sorted(maps.Keys(h.now().rack))
	if len(ids) == 0 {
		return
	}
	next := h.now().clone()
	was := next.rack[rapid.SampledFrom(ids).Draw(h.t, "scrapped")]
	delete(next.rack, was.ID)
	h.enterAs(Event{Kind: Scrapped, Changes: []Change{{Was: &was}}}, next)
}

// bookPlan books a plan of free boards; or a later revision of one, which uses what that had.
func (h *planHand) bookPlan(*rapid.T) {
	next, b := h.now().clone(), Booking{}
	if len(next.live) > 0 && rapid.Bool().Draw(h.t, "revision") {
		b.Of = rapid.SampledFrom(next.live).Draw(h.t, "of")
		ofIt := func(_, plan string) bool { return plan == b.Of }
		maps.DeleteFunc(next.promised, ofIt)
		maps.DeleteFunc(next.awaited, ofIt)
		next.live = slices.DeleteFunc(next.live, func(p string) bool { return p == b.Of })
		delete(next.offcuts, b.Of)
	}
	h.plans++
	plan := fmt.Sprintf("month %d/out", h.plans)
	b.Hash = hash(h.plans)
	for _, id := range slices.Sorted(maps.Keys(next.rack)) {
		if next.promised[id] == "" && rapid.Bool().Draw(h.t, "uses") {
			b.Uses = append(b.Uses, id)
			next.promised[id] = plan
		}
	}
	for range rapid.IntRange(0, 2).Draw(h.t, "buys") {
		is := h.fresh()
		b.Buys = append(b.Buys, Purchase{Board: is, Yard: "north", Price: 70_000})
		next.awaited[is.ID] = plan
	}
	for range rapid.IntRange(0, 2).Draw(h.t, "offcuts") {
		b.Offcuts = append(b.Offcuts, h.fresh().ID)
	}
	next.live, next.offcuts[plan] = append(next.live, plan), b.Offcuts
	e, err := h.book.Book(day, plan, b, Files{"plan.json": []byte(plan)})
	h.did(e, err, next)
}

func (h *planHand) receive(*rapid.T) {
	next := h.now().clone()
	if len(next.live) == 0 {
		return
	}
	e := Event{Kind: Received, Plan: rapid.SampledFrom(next.live).Draw(h.t, "plan")}
	for _, id := range slices.Sorted(maps.Keys(next.awaited)) {
		if next.awaited[id] != e.Plan || rapid.Bool().Draw(h.t, "waits") {
			continue
		}
		if l := Find(h.now().lives, e.Plan); slices.Contains(l.Expected, id) &&
			rapid.IntRange(0, 2).Draw(h.t, "short") == 0 { // it may still come
			e.Missing = append(e.Missing, id)
			continue
		}
		is := plank(id, "in", rapid.IntRange(1, 90).Draw(h.t, "length"))
		next.rack[id], next.promised[id] = is, e.Plan
		delete(next.awaited, id)
		e.Changes = append(e.Changes, Change{Is: &is})
	}
	if len(e.Changes)+len(e.Missing) == 0 || rapid.Bool().Draw(h.t, "one too many") {
		is := h.fresh()
		next.rack[is.ID] = is
		e.Changes = append(e.Changes, Change{Is: &is})
	}
	h.enterAs(e, next)
}

func (h *planHand) cut(*rapid.T) {
	next := h.now().clone()
	var ids []string
	for _, id := range slices.Sorted(maps.Keys(next.promised)) {
		if _, there := next.rack[id]; there {
			ids = append(ids, id)
		}
	}
	if len(ids) == 0 {
		return
	}
	was := next.rack[rapid.SampledFrom(ids).Draw(h.t, "cut")]
	e := Event{Kind: Cut, Plan: next.promised[was.ID]}
	h.cuts++
	part := rapid.IntRange(1, int(was.Length/model.UnitsPerInch)).Draw(h.t, "part")
	var kept []model.Board
	if left := next.offcuts[e.Plan]; len(left) > 0 {
		is := was
		is.ID, is.Bin = left[0], "off"
		is.Length -= model.Length(part) * model.UnitsPerInch
		if is.Length > 0 {
			kept, next.offcuts[e.Plan] = append(kept, is), left[1:]
			next.rack[is.ID] = is
		}
	}
	d, changes := sawn(was, h.cuts, part, rapid.Bool().Draw(h.t, "spoiled"), kept...)
	delete(next.rack, was.ID)
	delete(next.promised, was.ID)
	if d.Waste > 0 && rapid.Bool().Draw(h.t, "in part") { // the rest stays, under its id
		is := was
		is.Length, d.Waste = model.Length(d.Waste/int64(was.Width)), 0
		next.rack[is.ID], changes[0].Is = is, &is
	}
	e.Done, e.Changes = []BoardCut{d}, changes
	h.enterAs(e, next)
}

// see finds a defect in a board that is promised, and nothing of it is cut.
func (h *planHand) see(*rapid.T) {
	next := h.now().clone()
	for _, id := range slices.Sorted(maps.Keys(next.promised)) {
		was, there := next.rack[id]
		if !there {
			continue
		}
		is := was
		is.Defects = append(slices.Clip(is.Defects), model.Defect{To: was.Length, Right: was.Width,
			Kind: fmt.Sprint("split ", len(is.Defects))})
		is = Plain(is)
		next.rack[id] = is
		h.enterAs(Event{Kind: Cut, Plan: next.promised[id], Changes: []Change{{&was, &is}}}, next)
		return
	}
}

// move moves a board, promised or not.
func (h *planHand) move(*rapid.T) {
	ids := slices.Sorted(maps.Keys(h.now().rack))
	if len(ids) == 0 {
		return
	}
	next := h.now().clone()
	was := next.rack[rapid.SampledFrom(ids).Draw(h.t, "moved")]
	is := was
	is.Bin += "+"
	next.rack[is.ID] = is
	h.enterAs(Event{Kind: Moved, Changes: []Change{{&was, &is}}}, next)
}

// count finds one board short by an inch, or a new one.
func (h *planHand) count(*rapid.T) {
	next, is := h.now().clone(), h.fresh()
	ids := slices.Sorted(maps.Keys(next.rack))
	c := Change{Is: &is}
	if len(ids) > 0 && rapid.Bool().Draw(h.t, "of the rack") {
		was := next.rack[rapid.SampledFrom(ids).Draw(h.t, "counted")]
		is = was
		is.Length, is.Note = max(model.UnitsPerInch, was.Length-model.UnitsPerInch), was.Note+"."
		c.Was = &was
	}
	next.rack[is.ID] = is
	h.enterAs(Event{Kind: Counted, Changes: []Change{c}}, next)
}

func (h *planHand) undo(*rapid.T) {
	if len(h.open) == 0 { // or what came before was undone out of order
		return
	}
	last := h.open[len(h.open)-1]
	e, err := h.book.Undo(day, 0)
	if err != nil || e.Of != last {
		h.t.Fatalf("event %d is undone, not %d (%v)", e.Of, last, err)
	}
	h.open, h.after = h.open[:len(h.open)-1], h.after[:len(h.after)-1]
	if diff := cmp.Diff(h.now().lives, h.lives()); diff != "" {
		h.t.Fatalf("the plans are not as before the event:\n%s", diff)
	}
}

// undoAny undoes any event, if the book lets it. What the plans have from then on is what the book
// says; that nothing is of two plans, and nothing awaited that is there.
func (h *planHand) undoAny(*rapid.T) {
	state, err := h.book.State()
	if err != nil {
		h.t.Fatal(err)
	}
	n := rapid.Int64Range(1, state.Last).Draw(h.t, "undone")
	if _, err := h.book.Undo(day, n); err != nil {
		if _, is := errors.AsType[*Refused](err); !is {
			h.t.Fatal(err)
		}
		return
	}
	next := plansAre{map[string]model.Board{}, map[string]string{}, map[string]string{},
		map[string][]string{}, nil, h.lives()}
	rack, err := h.book.Rack()
	if err != nil {
		h.t.Fatal(err)
	}
	for _, b := range rack {
		next.rack[b.ID] = b
	}
	of := map[string]string{}
	for i := range next.lives {
		l := &next.lives[i]
		if l.Replaced {
			continue
		}
		next.live = append(next.live, l.Plan)
		for _, id := range l.Offcuts {
			if came, err := h.book.Came(id); err != nil || !came {
				next.offcuts[l.Plan] = append(next.offcuts[l.Plan], id)
			}
		}
		for _, id := range slices.Concat(l.Here, l.Gone, l.Expected, l.Missing,
			next.offcuts[l.Plan]) {
			if of[id] != "" {
				h.t.Fatalf("board %s is of plan %s and of plan %s", id, of[id], l.Plan)
			}
			of[id] = l.Plan
		}
		for _, id := range slices.Concat(l.Here, l.Gone) {
			next.promised[id] = l.Plan
		}
		for _, id := range slices.Concat(l.Expected, l.Missing) {
			if _, there := next.rack[id]; there {
				h.t.Fatalf("board %s is awaited by plan %s, and there", id, l.Plan)
			}
			next.awaited[id] = l.Plan
		}
	}
	h.open, h.after = nil, []plansAre{next}
}

func (h *planHand) check(*rapid.T) {
	want := h.now()
	h.rack = want.rack
	h.shopHand.check(nil)
	events, err := h.book.Events()
	if err != nil {
		h.t.Fatal(err)
	}
	lives, err := Lives(events)
	if err != nil {
		h.t.Fatal(err)
	}
	quick, err := h.book.Lives()
	if diff := cmp.Diff(lives, quick); diff != "" || err != nil {
		h.t.Fatalf("plans by all events and by their own differ (%v):\n%s", err, diff)
	}
	promised, awaited := map[string]string{}, map[string]string{}
	for _, l := range lives {
		for _, id := range slices.Concat(l.Here, l.Gone) {
			if !l.Replaced {
				promised[id] = l.Plan
			}
		}
		for _, id := range slices.Concat(l.Expected, l.Missing) {
			if !l.Replaced {
				awaited[id] = l.Plan
			}
		}
	}
	if diff := cmp.Diff(want.promised, promised); diff != "" {
		h.t.Fatalf("otherwise promised:\n%s", diff)
	}
	if diff := cmp.Diff(want.awaited, awaited); diff != "" {
		h.t.Fatalf("otherwise awaited:\n%s", diff)
	}
	conserved(h.t, events)
}

// conserved says whether no wood is lost or made: what came is what was cut into parts, spoiled,
// dust, trims and waste, what is on the rack, and what left it otherwise.
func conserved(t *rapid.T, events []Event) {
	undone := map[int64]bool{}
	for _, e := range events {
		undone[e.Of] = true
	}
	var in, out int64
	for _, e := range events {
		if e.Kind == Undone || undone[e.Number] {
			continue
		}
		for _, d := range e.Done {
			out += d.Parts + d.Spoiled + d.Kerf + d.Trim + d.Waste
		}
		for _, c := range e.Changes {
			if e.Kind != Cut && c.Is != nil {
				in += area(c.Is)
			}
			if e.Kind != Cut && c.Was != nil { // it left, or is of another size, as it was counted
				out += area(c.Was)
			}
		}
	}
	rack, err := Rack(events)
	if err != nil {
		t.Fatal(err)
	}
	for i := range rack {
		out += area(&rack[i])
	}
	if in != out {
		t.Fatalf("an area of %d came, and %d is told of", in, out)
	}
}

// Whatever a shop does with plans, each board is promised to the plan that it should be, and to no
// other, no wood is lost, and undoing the last event gives what was before it.
func TestPlansAreSumOfEvents(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dir, err := os.MkdirTemp("", "book")
		if err != nil {
			t.Fatal(err)
		}
		defer os.RemoveAll(dir)
		first := plank("B-1", "a", 50)
		h := &planHand{shopHand: shopHand{t: t, book: made(t, dir, first)},
			after: []plansAre{{map[string]model.Board{"B-1": first}, map[string]string{},
				map[string]string{}, map[string][]string{}, nil, nil}}}
		if _, err := h.book.db.Exec("PRAGMA synchronous = OFF"); err != nil { // no power fails here
			t.Fatal(err)
		}
		t.Repeat(map[string]func(*rapid.T){"add": h.add, "scrap": h.scrap, "move": h.move,
			"count": h.count, "book": h.bookPlan, "receive": h.receive, "cut": h.cut,
			"see": h.see, "undo": h.undo, "undo any": h.undoAny, "": h.check})
		if a := h.book.Audit(); len(a.Wrong) > 0 || a.Boards != len(h.now().rack) {
			t.Fatalf("a sound book is found to be %+v", a)
		}
	})
}

// shopWithPlan is a book with boards B-1 and B-2, and a plan that uses B-1, buys N-1 and leaves
// O-1.
func shopWithPlan(t *testing.T) (*Book, Event) {
	t.Helper()
	b := made(t, t.TempDir(), plank("B-1", "a", 50), plank("B-2", "a", 50))
	e, err := b.Book(day, "march/out", Booking{Hash: hash(1), Uses: []string{"B-1"},
		Buys: []Purchase{{Board: plank("N-1", "", 96)}}, Offcuts: []string{"O-1"}},
		Files{"plan.json": []byte("{}"), "cuts.csv": []byte("board\n")})
	if err != nil {
		t.Fatal(err)
	}
	return b, e
}

// refused says that something is not entered, and why.
func refused(t *testing.T, err error, want string) {
	t.Helper()
	if _, is := errors.AsType[*Refused](err); !is || !strings.Contains(err.Error(), want) {
		t.Errorf("wanted is %q, and it is said: %v", want, err)
	}
}

// A second plan gets no board and no id of a booked one.
func TestBookingIsRefused(t *testing.T) {
	b, _ := shopWithPlan(t)
	for _, c := range []struct {
		plan    string
		booking Booking
		want    string
	}{
		{"april/out", Booking{Uses: []string{"B-1"}}, "B-1 is promised to plan march/out"},
		{"april/out", Booking{Uses: []string{"B-9"}}, "B-9 is not on the rack"},
		{"april/out", Booking{Uses: []string{"B-2", "B-2"}}, "B-2\" is booked twice"},
		{"april/out", Booking{Offcuts: []string{"N-1"}}, "N-1 is kept for plan march/out"},
		{"april/out", Booking{Buys: []Purchase{{Board: plank("O-1", "", 9)}}}, "O-1 is kept for"},
		{"april/out", Booking{Offcuts: []string{"B-2"}}, "B-2 was on the rack already"},
		{"april/out", Booking{Hash: hash(1)}, "the same plan is booked already as march/out"},
		{"april/out", Booking{Of: "may/out"}, "plan may/out is not booked"},
		{"april/out", Booking{Hash: "1"}, "is no SHA-256"},
		{"march/out", Booking{}, "plan march/out is booked already, by event 2"},
		{"../out", Booking{}, "is no folder in the shop"},
		{"/out", Booking{}, "is no folder in the shop"},
		{"a//out", Booking{}, "is no folder in the shop"},
		{"", Booking{}, "a plan is named"},
	} {
		if c.booking.Hash == "" {
			c.booking.Hash = hash(2)
		}
		_, err := b.Book(day, c.plan, c.booking, Files{})
		refused(t, err, c.want)
	}
	all, err := b.Objections("march/out", Booking{Hash: hash(1), Uses: []string{"B-1", "B-9"},
		Offcuts: []string{"O-1"}})
	if len(all) != 4 || err != nil {
		t.Errorf("it is said against a plan: %q (%v)", all, err)
	}
	if _, err := b.Book(day, "march/out-2", Booking{Of: "march/out", Hash: hash(2),
		Uses: []string{"B-1"}, Offcuts: []string{"O-1"}}, Files{}); err != nil {
		t.Error(err)
	}
	_, err = b.Book(day, "march/out-3", Booking{Of: "march/out", Hash: hash(3)}, Files{})
	refused(t, err, "taken the place of plan march/out already, by event 3")
	_, err = b.Undo(day, 2)
	refused(t, err, "event 3 stands on it")
	if a := b.Audit(); len(a.Wrong) > 0 {
		t.Error(a.Wrong)
	}
}

// What is received, cut or comes otherwise must be what the plan has it for.
func TestEventsOfPlansAreRefused(t *testing.T) {
	b, _ := shopWithPlan(t)
	one, two, free := plank("B-1", "a", 50), plank("B-2", "a", 50), plank("X", "a", 9)
	come, off := plank("N-1", "a", 96), plank("O-1", "a", 20)
	cut := func(was model.Board, kept ...model.Board) Event {
		d, changes := sawn(was, 1, 10, false, kept...)
		return Event{Kind: Cut, Done: []BoardCut{d}, Changes: changes}
	}
	less, wood, twice := cut(one), cut(one, off), cut(one)
	less.Done[0].Waste--
	other := off
	other.Material = "oak"
	wood.Changes[1].Is = &other
	twice.Done[0].Pieces = append(twice.Done[0].Pieces, twice.Done[0].Pieces[0])
	nothing := cut(one)
	nothing.Done[0].Spoiled, nothing.Done[0].Waste = -1, nothing.Done[0].Waste+1
	knotty, narrow := one, one
	knotty.Defects = []model.Defect{{To: 9, Right: one.Width, Kind: "knot"}}
	narrow.Width--
	for _, c := range []struct {
		e    Event
		want string
	}{
		{Event{Kind: Added, Plan: "-", Changes: []Change{{Is: &off}}}, "a plan is named by"},
		{Event{Kind: Received}, "no board is received"},
		{Event{Kind: Received, Missing: []string{"B-1"}}, "does not await board B-1"},
		{Event{Kind: Received, Changes: []Change{{Is: &off}}}, "does not await board O-1"},
		{Event{Kind: Received, Changes: []Change{{Is: &come}}, Missing: []string{"N-1"}},
			"received twice"},
		{Event{Kind: Received, Plan: "may/out", Changes: []Change{{Is: &free}}}, "is not booked"},
		{cut(two), "B-2 is not one that plan march/out has yet to cut"},
		{cut(come), "N-1 is not one"},
		{less, "board B-1 has an area of"},
		{nothing, "of board B-1 less than nothing was cut"},
		{wood, "offcut O-1 did not come from board B-1"},
		{twice, "is cut twice"},
		{Event{Kind: Cut, Changes: []Change{{Was: &one}}}, "B-1 is neither cut nor"},
		{Event{Kind: Cut, Changes: []Change{{&one, &narrow}}}, "B-1 is neither cut nor"},
		{Event{Kind: Cut, Done: []BoardCut{{Board: "B-1"}}, Changes: []Change{{&one, &knotty}}},
			"what is left of board B-1 is no piece of it"},
		{Event{Kind: Cut}, "it changes nothing"},
		{Event{Kind: Booked, Booking: &Booking{Hash: hash(7)}}, "is booked with its files"},
	} {
		if c.e.Date = day; c.e.Plan == "" {
			c.e.Plan = "march/out"
		}
		_, err := b.Enter(c.e)
		refused(t, err, c.want)
	}
	for _, is := range []model.Board{come, off} {
		_, err := b.Enter(Event{Kind: Taken, Date: day, Changes: []Change{{Is: &is}}})
		refused(t, err, "is kept for plan march/out")
	}
	whole := cut(one)
	whole.Date, whole.Plan = day, "march/out"
	if _, err := b.Enter(whole); err != nil {
		t.Fatal(err)
	}
	again := Event{Kind: Received, Date: day, Plan: "march/out", Changes: []Change{{Is: &one}}}
	_, err := b.Enter(again) // the id would be that of a board that was cut
	refused(t, err, "does not await board B-1")
	again.Changes[0].Is = &come
	if _, err := b.Enter(again); err != nil {
		t.Fatal(err)
	}
	_, err = b.Enter(Event{Kind: Cut, Date: day, Plan: "march/out", Done: cut(come).Done,
		Changes: cut(come).Changes}) // a piece that another board gave
	refused(t, err, "is cut twice")
}

// A board is undelivered, comes later, is found split, and is cut down to a rest; each step can be
// undone where nothing stands on it.
func TestLifeOfAPlan(t *testing.T) {
	b, _ := shopWithPlan(t)
	enter := func(e Event) {
		t.Helper()
		e.Date, e.Plan = day, "march/out"
		if _, err := b.Enter(e); err != nil {
			t.Fatal(err)
		}
	}
	stands := func(want Life) {
		t.Helper()
		lives, err := b.Lives()
		if err != nil || len(lives) != 1 {
			t.Fatal(lives, err)
		}
		is := lives[0]
		is.Event, is.Date, is.Plan, is.Booking = 0, "", "", Booking{}
		if diff := cmp.Diff(want, is); diff != "" {
			t.Errorf("the plan stands otherwise:\n%s", diff)
		}
	}
	stands(Life{Expected: []string{"N-1"}, Here: []string{"B-1"}})
	lives, err := b.Lives()
	if diff := cmp.Diff(map[string]string{"N-1": "march/out", "O-1": "march/out"},
		Awaited(lives)); diff != "" || err != nil {
		t.Errorf("other ids are kept for it (%v):\n%s", err, diff)
	}
	if lives[0].Replaced = true; len(Awaited(lives))+len(Promised(lives)) > 0 {
		t.Error("a plan whose place is taken still has boards")
	}
	enter(Event{Kind: Received, Missing: []string{"N-1"}})
	stands(Life{Missing: []string{"N-1"}, Here: []string{"B-1"}})
	came := plank("N-1", "in", 90)
	enter(Event{Kind: Received, Changes: []Change{{Is: &came}}})
	stands(Life{Here: []string{"B-1", "N-1"}})
	split := came
	split.Defects = []model.Defect{{From: 0, To: 800, Right: came.Width, Kind: "split"}}
	enter(Event{Kind: Cut, Changes: []Change{{&came, &split}}})
	rest := split
	rest.Length, rest.Defects = rest.Length/2, nil
	d, _ := sawn(split, 1, 20, true)
	d.Waste -= area(&rest)
	enter(Event{Kind: Cut, Done: []BoardCut{d}, Changes: []Change{{&split, &rest}}})
	stands(Life{Here: []string{"B-1"}, Done: []string{"N-1"}, Spoiled: d.Pieces})
	one := plank("B-1", "a", 50)
	if _, err := b.Enter(Event{Kind: Scrapped, Date: day, Changes: []Change{{Was: &one}}}); err !=
		nil {
		t.Fatal(err)
	}
	stands(Life{Gone: []string{"B-1"}, Done: []string{"N-1"}, Spoiled: d.Pieces})
	_, err = b.Undo(day, 2)
	refused(t, err, "event 6 stands on it, as it is of that plan, too")
	_, err = b.Undo(day, 4)
	refused(t, err, "stands on it, as it is of board N-1, too")
	for range 6 {
		if _, err := b.Undo(day, 0); err != nil {
			t.Fatal(err)
		}
	}
	if lives, err := b.Lives(); err != nil || len(lives) != 0 {
		t.Errorf("all is undone, and there is %+v (%v)", lives, err)
	}
	if _, err := b.Book(day, "march/out", Booking{Hash: hash(1), Buys: []Purchase{{Board: came}}},
		Files{}); err != nil {
		t.Errorf("booked again: %v", err)
	}
}

// A revision is not undone where what was promised to the plan before, or kept for it, is another's
// by now.
func TestPlaceOfAPlanIsTaken(t *testing.T) {
	one, come := plank("B-1", "a", 50), plank("N-1", "a", 96)
	book := func(b *Book, plan string, n int, uses, buys []string) error {
		is := Booking{Hash: hash(n), Uses: uses}
		if n == 2 {
			is.Of = "march/out"
		}
		for _, id := range buys {
			is.Buys = append(is.Buys, Purchase{Board: plank(id, "", 96)})
		}
		_, err := b.Book(day, plan, is, Files{})
		return err
	}
	for _, c := range []struct {
		do   func(b *Book) error
		want string
	}{
		{func(b *Book) error { return book(b, "april/out", 3, []string{one.ID}, nil) },
			"event 4 stands on it, as it is of a plan that has B-1 since"},
		{func(b *Book) error { // that the other one has cut it makes no difference
			if err := book(b, "april/out", 3, []string{one.ID}, nil); err != nil {
				return err
			}
			d, changes := sawn(one, 1, 20, false)
			_, err := b.Enter(Event{Kind: Cut, Date: day, Plan: "april/out", Done: []BoardCut{d},
				Changes: changes})
			return err
		}, "event 4 stands on it, as it is of a plan that has B-1 since"},
		{func(b *Book) error { return book(b, "april/out", 3, nil, []string{come.ID}) },
			"event 4 stands on it, as it is of a plan that has N-1 since"},
		{func(b *Book) error {
			_, err := b.Enter(Event{Kind: Added, Date: day, Changes: []Change{{Is: &come}}})
			return err
		}, "board N-1 came since, whose id would be kept for plan march/out"},
	} {
		b, _ := shopWithPlan(t)
		if err := book(b, "march/out-2", 2, nil, nil); err != nil {
			t.Fatal(err)
		}
		if err := c.do(b); err != nil {
			t.Fatal(err)
		}
		_, err := b.Undo(day, 3)
		refused(t, err, c.want)
		for err = nil; err == nil; { // the booking of a revision is undone behind what stands on it
			var e Event
			if e, err = b.Undo(day, 0); e.Of == 3 {
				break
			}
		}
		if err != nil {
			t.Error(err)
		}
		lives, err := b.Lives()
		if err != nil || len(lives) != 1 || lives[0].Replaced || len(lives[0].Here) != 1 {
			t.Errorf("undone one after the other, there is %+v (%v)", lives, err)
		}
	}
}

// Nor is it undone where another plan buys the one board of the yard that the plan before awaited,
// and that the revision does not buy.
func TestSingleIsBoughtSince(t *testing.T) {
	for _, c := range []struct {
		revision, other bool // whether they buy it
		want            string
	}{
		{false, true,
			"event 4 stands on it, as it is of a plan that buys since what N-1 was to be"},
		{true, true, ""}, // then the yard had two such rows
		{false, false, ""},
	} {
		b := made(t, t.TempDir())
		for n, buys := range []bool{true, c.revision, c.other} {
			is := Booking{Hash: hash(n + 1), Of: []string{"", "a/out", ""}[n]}
			one := plank(fmt.Sprint("N-", n+1), "", 96)
			is.Buys = []Purchase{{Board: one, Yard: "north", Single: buys}}
			if _, err := b.Book(day, []string{"a/out", "a/out-2", "b/out"}[n], is,
				Files{}); err != nil {
				t.Fatal(err)
			}
		}
		_, err := b.Undo(day, 3)
		if c.want == "" && err != nil {
			t.Error(err)
		} else if c.want != "" {
			refused(t, err, c.want)
		}
	}
}

// A revision is undone though offcuts of the plan before have come: those are kept for it no more.
func TestPlaceOfAPlanIsFree(t *testing.T) {
	b, _ := shopWithPlan(t)
	off := plank("O-1", "a", 20)
	d, changes := sawn(plank("B-1", "a", 50), 1, 10, false, off)
	if _, err := b.Enter(Event{Kind: Cut, Date: day, Plan: "march/out", Done: []BoardCut{d},
		Changes: changes}); err != nil {
		t.Fatal(err)
	}
	before, err := b.Lives()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := b.Book(day, "march/out-2", Booking{Of: "march/out", Hash: hash(2),
		Uses: []string{"O-1"}}, Files{}); err != nil {
		t.Fatal(err)
	}
	if _, err := b.Undo(day, 4); err != nil {
		t.Fatal(err)
	}
	after, err := b.Lives()
	if diff := cmp.Diff(before, after); diff != "" || err != nil {
		t.Errorf("it is not as before (%v):\n%s", err, diff)
	}
}

// What brought a board is not undone under a plan that uses it.
func TestBoardsOfPlansStay(t *testing.T) {
	b := made(t, t.TempDir())
	is := plank("B-1", "a", 50)
	if _, err := b.Enter(Event{Kind: Added, Date: day, Changes: []Change{{Is: &is}}}); err != nil {
		t.Fatal(err)
	}
	if _, err := b.Book(day, "march/out", Booking{Hash: hash(1), Uses: []string{"B-1"}},
		Files{}); err != nil {
		t.Fatal(err)
	}
	_, err := b.Undo(day, 2)
	refused(t, err, "event 3 stands on it, as it is of a plan that uses board B-1")
}

// A board that the yard had one of is told from others by all but its price, and is bought once.
func TestSingles(t *testing.T) {
	one := Purchase{Board: plank("N-1", "", 96), Yard: "North", Price: 1, Single: true}
	dearer := one
	dearer.Price, dearer.Yard = 2, "north"
	wider := one
	wider.Board.Width++
	graded := one
	graded.Grade = "select"
	if !one.Alike(&dearer) || one.Alike(&wider) || one.Alike(&graded) {
		t.Error("boards of the yard are told from each other otherwise")
	}
	common := dearer
	common.Single = false
	singles := func(lives ...Life) int { return len(Singles(lives)) }
	buys := Booking{Buys: []Purchase{one, common}}
	if n := singles(Life{Booking: buys, Expected: []string{"N-1"}}); n != 1 {
		t.Errorf("of a plan that awaits it %d are bought", n)
	}
	if n := singles(Life{Booking: buys, Expected: []string{"N-1"}, Replaced: true},
		Life{Booking: buys, Missing: []string{"N-1"}}); n != 1 {
		t.Errorf("of two revisions %d are bought", n)
	}
}
