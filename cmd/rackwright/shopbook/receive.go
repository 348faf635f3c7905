package shopbook

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"rackwright/cmd/rackwright/command"
	"rackwright/io/book"
	"rackwright/io/folder"
	"rackwright/io/report"
	"rackwright/model"
)

// Receive is the command that enters which boards of a booked plan have come.
type Receive struct {
	Outdir string   `arg:"" help:"Folder of the booked plan."`
	Board  []string `arg:"" optional:"" help:"Boards that came, by their ids in buy.csv; left out: all that are to come."`
	As     string   `help:"Folder with a rack.csv, and a defects.csv if needed, of the boards that are not as they were bought." placeholder:"DIR"`
	dated
}

// Help shows how it is typed.
func (c *Receive) Help() string {
	return `Examples:
  rackwright receive shop/2027-03/out
  rackwright receive shop/2027-03/out 2027-03-buy-1 2027-03-buy-4
  rackwright receive shop/2027-03/out --as came

Boards come as they were bought, unless a row of --as says otherwise: another length, width or bin,
defects, length 0 for one that was not delivered. A row of another id is a board too many.`
}

// Run enters them.
func (c *Receive) Run(e *command.Env) error {
	out, err := outOf(c.Outdir)
	if err != nil {
		return err
	}
	var r *receipt
	err = enter(e, out.shop, &c.dated, false, func(s *shopBook, date string) (book.Event, error) {
		plan, err := s.booked(out)
		if err != nil {
			return book.Event{}, err
		}
		r = &receipt{shop: s, plan: plan, date: date, to: map[string]*book.Purchase{}}
		if err := c.read(e, r); err != nil {
			return book.Event{}, err
		}
		if r.extra, err = r.reserve(); err != nil {
			return book.Event{}, err
		}
		return s.book.Enter(book.Event{Date: date, Kind: book.Received, Plan: plan.Plan,
			Missing: r.missing, Changes: book.Changes(nil, r.came)})
	})
	if err != nil {
		return err
	}
	return r.tell(e, c.Outdir)
}

// receipt is what came for a plan.
type receipt struct {
	shop    *shopBook
	plan    *booked
	date    string
	to      map[string]*book.Purchase // boards that are to come, by their ids
	told    map[string]*model.Board   // how some came
	came    []model.Board             // those of the plan as it has them, then those too many
	missing []string
	waits   []string // those that are still to come
	extra   int64    // boards of the reserve
}

// read finds what came, by the arguments and by the files of --as.
func (c *Receive) read(e *command.Env, r *receipt) error {
	for i := range r.plan.Buys {
		if b := &r.plan.Buys[i]; r.waitsFor(b.Board.ID) {
			r.to[b.Board.ID] = b
		}
	}
	for _, id := range c.Board {
		if r.to[id] == nil {
			return r.notAwaited(id)
		}
	}
	named := func(id string) bool { return len(c.Board) == 0 || slices.Contains(c.Board, id) }
	free, err := c.readAs(e, r, named)
	if err != nil {
		return err
	}
	r.putAway(c.Board, named, free)
	if len(r.came) == 0 && len(r.missing) == 0 {
		return command.Refuse("%s: nothing is to come%s; nothing is entered", c.Outdir,
			r.undelivered())
	}
	return fits(&r.shop.settings, r.rack(), r.came...)
}

func (r *receipt) waitsFor(id string) bool {
	return slices.Contains(r.plan.Expected, id) || slices.Contains(r.plan.Missing, id)
}

// undelivered says which boards may still come though they were not delivered.
func (r *receipt) undelivered() string {
	if len(r.plan.Missing) == 0 {
		return ""
	}
	return " but what was not delivered; if it came since, name it: " + few(r.plan.Missing)
}

func (r *receipt) notAwaited(id string) error {
	if came, err := r.shop.book.Came(id); err == nil && came {
		return command.Refuse("board %q came before: `rackwright rack history %s %s` tells when; "+
			"if it is otherwise, change its row in rack.csv of the shop, then `rackwright rack "+
			"take %[2]s`; nothing is entered", id, r.shop.typed(), report.ShellWord(id))
	}
	if known := slices.Concat(r.plan.Expected, r.plan.Missing); len(known) > 0 {
		return command.Refuse("board %q is not to come for plan %s; the nearest is %s; nothing is "+
			"entered", id, r.plan.Plan, model.Nearest(id, known))
	}
	return command.Refuse("board %q is not to come for plan %s, nor is any other; nothing is "+
		"entered", id, r.plan.Plan)
}

func (r *receipt) rack() []model.Board {
	rack, _ := r.shop.book.Rack() // it was read a moment before
	return rack
}

// readAs reads what is told of boards that came otherwise, and gives those too many.
func (c *Receive) readAs(e *command.Env, r *receipt, named func(string) bool) ([]model.Board,
	error) {
	r.told = map[string]*model.Board{}
	if c.As == "" {
		return nil, nil
	}
	root, err := os.OpenRoot(c.As)
	if err != nil {
		return nil, command.Refuse("%s: cannot be read (%v); name a folder that holds a rack.csv",
			c.As, command.Reason(err))
	}
	defer root.Close()
	boards, missing, notes, err := folder.ReadReceived(root.FS(), &r.shop.settings,
		r.knows)
	for _, n := range notes {
		if n.File = filepath.Join(c.As, n.File); !e.Quiet {
			fmt.Fprintln(e.Stderr, n)
		}
	}
	if list, is := errors.AsType[model.InputErrors](err); is {
		for _, m := range list {
			m.File = filepath.Join(c.As, m.File)
		}
	}
	if err != nil {
		return nil, err
	}
	var free []model.Board
	for i := range boards {
		if b := &boards[i]; r.to[b.ID] == nil {
			free = append(free, *b)
		} else {
			r.told[b.ID] = b
		}
		if b := boards[i].ID; r.to[b] != nil && !named(b) {
			return nil, command.Refuse(
				"%s: has a row of board %s, which is not among those named; "+
					"name it, too; nothing is entered", filepath.Join(c.As, "rack.csv"), b)
		}
	}
	for _, id := range missing {
		if r.to[id] == nil {
			return nil, r.notAwaited(id)
		}
		if slices.Contains(r.plan.Expected, id) { // else that is known
			r.missing = append(r.missing, id)
		}
	}
	return free, r.noOldIDs(free)
}

// knows is a board as it was bought, or as it came before: then its row is read, to be told of.
func (r *receipt) knows(id string) *model.Board {
	for i := range r.plan.Buys {
		if b := &r.plan.Buys[i].Board; b.ID == id {
			return b
		}
	}
	return byID(r.rack())[id]
}

// noOldIDs refuses boards too many whose id another board had.
func (r *receipt) noOldIDs(free []model.Board) error {
	for i := range free {
		id := free[i].ID
		switch came, err := r.shop.book.Came(id); {
		case err != nil:
			return r.shop.unsound(err)
		case came && r.knows(id) != nil:
			return r.notAwaited(id)
		case came:
			return command.Refuse("board %q was on the rack before, and is not to come; give a "+
				"board too many a new id; nothing is entered", id)
		}
	}
	return nil
}

// putAway has each board that came lie in a bin, and sorts out which are still to come.
func (r *receipt) putAway(boards []string, named func(string) bool, free []model.Board) {
	bins := r.shop.settings.BinsOf(r.rack())
	put := func(b model.Board) {
		if b.Since = cmp.Or(b.Since, r.date); b.Bin == "" {
			b.Bin = bins.PutAway(b.Length, "", "")
		}
		b.Where = model.Where{}
		r.came = append(r.came, b)
	}
	for i := range r.plan.Buys {
		id := r.plan.Buys[i].Board.ID
		switch told := r.told[id]; {
		case r.to[id] == nil || slices.Contains(r.missing, id):
		case told != nil:
			put(*told)
		case slices.Contains(boards, id),
			len(boards) == 0 && slices.Contains(r.plan.Expected, id):
			put(r.plan.Buys[i].Board)
		case slices.Contains(r.plan.Expected, id):
			r.waits = append(r.waits, id)
		}
	}
	for i := range free {
		put(free[i])
	}
}

// tell says what is not as the plan has it, and what to type next.
func (r *receipt) tell(e *command.Env, out string) error {
	otherwise := len(r.missing)
	for i := range r.came {
		b := &r.came[i]
		to := r.to[b.ID]
		if to == nil || alike(&to.Board, b) {
			continue
		}
		otherwise++
		was := to.Board // where it lies and since when is no difference
		was.Bin, was.Since, was.Note, was.Value = b.Bin, b.Since, b.Note, b.Value
		if !e.Quiet {
			fmt.Fprintf(e.Stderr, "rackwright: board %s is not as the plan has it: %s\n", b.ID,
				report.RackChange(&r.shop.settings, &was, b))
		}
	}
	if e.Quiet {
		return nil
	}
	if r.extra > 0 {
		fmt.Fprintf(e.Stdout, "\nBoards of the reserve (%d) have no ids: put what came of them on "+
			"the rack by\n`rackwright rack add %s`.\n", r.extra, r.shop.typed())
	}
	var next [][2]string
	if otherwise > 0 {
		next = append(next, [2]string{"replan", "as boards are not as the plan has them"})
	}
	if len(r.waits) > 0 {
		next = append(next, [2]string{"receive", "when these are here, too: " + few(r.waits)})
	}
	return report.Next(e.Stdout, out, append(next, [2]string{"done", "when its boards are cut"}))
}
