package shopbook

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"rackwright/cmd/rackwright/command"
	"rackwright/io/book"
	"rackwright/io/report"
	"rackwright/model"
)

// Book is the command that books a plan.
type Book struct {
	Outdir string `arg:"" help:"Folder that a plan was written to, in a month folder of a shop folder."`
	dated
}

// Help shows how it is typed.
func (c *Book) Help() string {
	return `Example: rackwright book shop/2027-03/out

The boards of the rack that the plan uses are promised to it, so that no other plan gets them, and
its purchases are expected. The plan is judged first, as "rackwright verify" does.`
}

// Run books the plan.
func (c *Book) Run(e *command.Env) error {
	out, err := outOf(c.Outdir)
	if err != nil {
		return err
	}
	if _, err := c.on(); err != nil {
		return err
	}
	w, err := judged(e, c.Outdir)
	if err != nil {
		return err
	}
	err = enter(e, out.shop, &c.dated, true, func(s *shopBook, date string) (book.Event, error) {
		return s.bookPlan(e, out, w, date)
	})
	if err != nil || e.Quiet {
		return err
	}
	next := [][2]string{{"receive", "when the boards that it buys are here"},
		{"done", "when its boards are cut"}}
	if !slices.ContainsFunc(w.Plan.Placements,
		func(p model.Placement) bool { return p.Offer != 0 }) {
		next = next[1:] // it buys none
	}
	return report.Next(e.Stdout, c.Outdir, next)
}

// bookPlan enters a plan in the book, if nothing speaks against it.
func (s *shopBook) bookPlan(e *command.Env, out *outFolder, w *Written, date string) (book.Event,
	error) {
	lives, err := s.lives()
	if err != nil {
		return book.Event{}, err
	}
	if l := book.Find(lives, out.plan); l != nil {
		return book.Event{}, command.Refuse("%s: it is booked already, by event %d of %s", out.dir,
			l.Event, l.Date)
	}
	// until here another plan may have been written there
	if now, err := os.ReadFile(filepath.Join(out.dir, "plan.json")); err != nil ||
		!bytes.Equal(now, w.Files["plan.json"]) {
		return book.Event{}, command.Refuse("%s: it was written anew meanwhile, and nothing is "+
			"entered; book it again", out.dir)
	}
	if out.bookedAs(lives) != nil {
		return book.Event{}, out.unknown(lives)
	}
	booking, whys, err := s.booking(lives, w)
	if err != nil {
		return book.Event{}, err
	}
	if booking != nil && booking.Of != "" && !ofMonth(booking.Of, out.month()) {
		whys = append(whys, fmt.Sprintf("the plan whose place it takes, %s, is of another month "+
			"folder", booking.Of))
	}
	if booking != nil {
		event, more, err := s.enterBooking(lives, out.plan, w, booking, date, len(whys) == 0)
		if err != nil || event.Number > 0 {
			return event, err
		}
		whys = append(more, whys...)
	}
	for _, why := range whys {
		fmt.Fprintln(e.Stderr, why)
	}
	anew := "plan the month anew"
	if w.Plan.Revision != nil {
		anew = "`rackwright replan` of the plan before makes it anew"
	}
	return book.Event{}, command.Refuse("%s: it does not agree with the book, and nothing is "+
		"entered; %s", out.dir, anew)
}

// enterBooking enters a booking if nothing else speaks against it, or gives all that the book has
// against it.
func (s *shopBook) enterBooking(lives []book.Life, plan string, w *Written, b *book.Booking,
	date string, may bool) (event book.Event, whys []string, err error) {
	sold := s.soldOut(lives, w.Job, b)
	var first []string
	if may && len(sold) == 0 {
		event, err := s.book.Book(date, plan, *b, w.Files)
		if _, objected := errors.AsType[*book.Refused](err); !objected {
			return event, nil, err
		}
		first = []string{err.Error()}
	}
	if whys, err = s.book.Objections(plan, *b); err != nil {
		return event, nil, s.unsound(err)
	}
	if len(whys) == 0 {
		whys = first
	}
	return event, append(whys, sold...), nil
}

// booking is what a plan asks of the shop, and what of it is not as the book has it: nil where the
// two have nothing to do with each other. That a board lies in another bin does not matter.
func (s *shopBook) booking(lives []book.Life, w *Written) (*book.Booking, []string, error) {
	sum := sha256.Sum256(w.Files["plan.json"])
	b := &book.Booking{Hash: hex.EncodeToString(sum[:])}
	var whys []string
	if r := w.Plan.Revision; r != nil {
		at := slices.IndexFunc(lives, func(l book.Life) bool { return l.Hash == r.Of })
		if at < 0 {
			return nil, []string{"the plan whose place it takes is not booked"}, nil
		}
		b.Of = lives[at].Plan
		whys = cutSince(w, &lives[at])
	}
	rack, err := s.book.Rack()
	if err != nil {
		return nil, nil, s.unsound(err)
	}
	is, had := byID(rack), byID(w.Job.Rack)
	offers := map[int]*model.Offer{}
	for i := range w.Job.Yard {
		offers[w.Job.Yard[i].Where.Line] = &w.Job.Yard[i]
	}
	for _, p := range w.Plan.Placements {
		if p.Offer != 0 {
			b.Buys = append(b.Buys, purchase(w.Job, p.Board, offers[p.Offer]))
			continue
		}
		b.Uses = append(b.Uses, p.Board)
		now := is[p.Board]
		if now == nil {
			continue // told by the book
		}
		if then := asPromised(had[p.Board], now); !alike(now, &then) {
			whys = append(whys, fmt.Sprintf("board %s is not as the plan has it: %s", p.Board,
				report.RackChange(&s.settings, &then, now)))
		}
	}
	for i := range w.Plan.Cuts {
		if id := w.Plan.Cuts[i].Offcut; id != "" {
			b.Offcuts = append(b.Offcuts, id)
		}
	}
	if own := w.Job.Source("rack.csv") == "rack.csv"; own && len(b.Uses) > 0 {
		return nil, []string{"its boards are of a rack.csv in the month folder itself, and the " +
			"book has the rack of the shop folder"}, nil
	}
	return b, whys, nil
}

func byID(rack []model.Board) map[string]*model.Board {
	by := map[string]*model.Board{}
	for i := range rack {
		by[rack[i].ID] = &rack[i]
	}
	return by
}

// purchase is a board of that id, bought by an offer.
func purchase(job *model.Job, id string, o *model.Offer) book.Purchase {
	return book.Purchase{Board: model.Board{ID: id, Wood: o.Wood}, Yard: o.Yard, Grade: o.Grade,
		Price: job.PriceOf(o), Single: has(o, 1)}
}

// soldOut says which boards that the yard had one of are bought already by other plans.
func (s *shopBook) soldOut(lives []book.Life, job *model.Job, b *book.Booking) (whys []string) {
	gone := others(lives, b.Of)
	for n := range b.Buys {
		buy := &b.Buys[n]
		if !buy.Single {
			continue
		}
		left := 0 // rows like it, less the boards like it that are bought
		for i := range job.Yard {
			o := &job.Yard[i]
			if row := purchase(job, "", o); (has(o, 0) || has(o, 1)) && row.Alike(buy) {
				left++
			}
		}
		by := ""
		for i := range gone {
			if gone[i].Alike(buy) {
				left--
				by = gone[i].Plan
			}
		}
		for i := range b.Buys[:n] {
			if b.Buys[i].Single && b.Buys[i].Alike(buy) {
				left--
			}
		}
		if left < 1 {
			whys = append(whys, fmt.Sprintf("board %s, of which the yard had one, is bought by "+
				"plan %s already: %s", buy.Board.ID, by,
				report.BoardOnRack(&s.settings, &buy.Board)))
		}
	}
	return whys
}

// others are the boards that the yard had one of and that are bought, but for those that a plan
// whose place is now taken still awaits.
func others(lives []book.Life, of string) []book.Single {
	lives = slices.Clone(lives)
	if l := book.Find(lives, of); l != nil {
		l.Replaced = true
	}
	return book.Singles(lives)
}
