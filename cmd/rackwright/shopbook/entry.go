package shopbook

import (
	"errors"
	"fmt"
	"slices"

	"rackwright/cmd/rackwright/command"
	"rackwright/io/book"
	"rackwright/io/folder"
	"rackwright/io/report"
	"rackwright/model"
)

type rackAdd struct {
	Shop      string   `arg:"" help:"Shop folder."`
	Board     string   `arg:"" help:"Its id, written on the board."`
	Material  string   `arg:"" help:"The wood."`
	Section   string   `arg:"" help:"Section, such as 2x6, 4/4 or 38x140mm."`
	Length    string   `arg:"" help:"Length, as measured."`
	Width     string   `help:"Width, as measured; left out: that of the section." placeholder:"LENGTH"`
	Thickness string   `help:"Thickness, as measured; left out: that of the section." placeholder:"LENGTH"`
	Surface   string   `help:"rough or S2S, of hardwood; left out: as shop.toml says." placeholder:"WORD"`
	Bin       string   `help:"Where it lies." placeholder:"BIN"`
	Value     string   `help:"What it is worth to you; left out: by the yard's price." placeholder:"AMOUNT"`
	Since     string   `help:"The date it came; left out: that of the event." placeholder:"DATE"`
	For       string   `help:"The one commission that it may be cut for." placeholder:"COMMISSION"`
	Untouched bool     `help:"Nothing is cut from it."`
	Longest   string   `help:"It is crooked or bowed, and gives no longer blank than this." placeholder:"LENGTH"`
	Note      string   `help:"For you." placeholder:"TEXT"`
	Defect    []string `help:"A defect: from; to; kind, or from; to; kind; left; right. Once for each." sep:"none" placeholder:"DEFECT"`
	dated
}

func (c *rackAdd) Help() string {
	return `Example: rackwright rack add shop B-7 pine 1x6 "50 1/2" --bin A2

Example: rackwright rack add shop Q-3 oak 4/4 72 --width 7.5 --defect "3; 5; knot"`
}

func (c *rackAdd) Run(e *command.Env) error {
	return enter(e, c.Shop, &c.dated, true, func(s *shopBook, date string) (book.Event, error) {
		rack, err := s.book.Rack()
		if err != nil {
			return book.Event{}, s.unsound(err)
		}
		board, err := c.board(e, &s.settings, date)
		if err != nil {
			return book.Event{}, err
		}
		if err := fits(&s.settings, rack, board); err != nil {
			return book.Event{}, err
		}
		came, err := s.book.Came(board.ID)
		if err != nil {
			return book.Event{}, s.unsound(err)
		}
		if came {
			return book.Event{}, command.Refuse(
				"board %q was on the rack before; give a new board a new "+
					"id: `rackwright rack history %s %s` tells of the old one", board.ID,
				s.typed(), report.ShellWord(board.ID))
		}
		return s.book.Enter(book.Event{Date: date, Kind: book.Added,
			Changes: []book.Change{{Is: &board}}})
	})
}

// board reads the board as a row of rack.csv would be read.
func (c *rackAdd) board(e *command.Env, s *model.Settings, date string) (model.Board, error) {
	row := map[string]string{"board": c.Board, "material": c.Material, "section": c.Section,
		"length": c.Length, "width": c.Width, "thickness": c.Thickness, "surface": c.Surface,
		"bin": c.Bin, "value": c.Value, "since": c.Since, "for": c.For, "longest": c.Longest,
		"note": c.Note}
	if c.Since == "" {
		row["since"] = date
	}
	if c.Untouched {
		row["untouched"] = "yes"
	}
	var defects [][]string
	for _, d := range c.Defect {
		defects = append(defects, cells(d))
	}
	board, notes, err := folder.ReadBoard(s, row, defects)
	for _, n := range notes {
		if err == nil && !e.Quiet {
			fmt.Fprintln(e.Stderr, n)
		}
	}
	return board, err
}

// fits says what is wrong with boards beside those that are on the rack.
func fits(s *model.Settings, rack []model.Board, boards ...model.Board) error {
	var m model.Mistakes
	job := model.Job{Settings: *s, Rack: append(slices.Clip(rack), boards...)}
	job.Settings.Yards = nil
	job.Validate(&m)
	return m.Err()
}

type rackMove struct {
	Shop  string `arg:"" help:"Shop folder."`
	Board string `arg:"" help:"Board, by its id."`
	Bin   string `arg:"" help:"Where it lies now."`
	dated
}

func (c *rackMove) Help() string { return "Example: rackwright rack move shop B-7 A3" }

func (c *rackMove) Run(e *command.Env) error {
	return enter(e, c.Shop, &c.dated, true, func(s *shopBook, date string) (book.Event, error) {
		was, err := s.onRack(c.Board)
		if err != nil {
			return book.Event{}, err
		}
		if was.Bin == c.Bin {
			return book.Event{}, command.Refuse(
				"board %s lies in %q already; nothing is entered", c.Board,
				c.Bin)
		}
		// as a cell of rack.csv would be read
		is, _, err := folder.ReadBoard(&s.settings, map[string]string{"board": was.ID,
			"material": was.Material, "section": string(was.Section), "length": "1", "width": "1",
			"bin": c.Bin}, nil)
		if err != nil {
			return book.Event{}, err
		}
		moved := *was
		moved.Bin = is.Bin
		return s.book.Enter(book.Event{Date: date, Kind: book.Moved,
			Changes: []book.Change{{Was: was, Is: &moved}}})
	})
}

type rackScrap struct {
	Shop  string `arg:"" help:"Shop folder."`
	Board string `arg:"" help:"Board, by its id."`
	dated
}

func (c *rackScrap) Help() string { return "Example: rackwright rack scrap shop B-7" }

func (c *rackScrap) Run(e *command.Env) error {
	return enter(e, c.Shop, &c.dated, true, func(s *shopBook, date string) (book.Event, error) {
		was, err := s.onRack(c.Board)
		if err != nil {
			return book.Event{}, err
		}
		return s.book.Enter(book.Event{Date: date, Kind: book.Scrapped,
			Changes: []book.Change{{Was: was}}})
	})
}

type rackUndo struct {
	Shop  string `arg:"" help:"Shop folder."`
	Event int64  `help:"Event by its number; left out: the last that counts." placeholder:"N"`
	dated
}

func (c *rackUndo) Help() string {
	return `Example: rackwright rack undo shop

Said again, it undoes the event before. An event that later ones stand on is not undone: undo those
first. An undone event is not brought back: enter it anew.`
}

func (c *rackUndo) Run(e *command.Env) error {
	if c.Event < 0 {
		return command.Refuse("--event %d: write the number of an event, from 1", c.Event)
	}
	var was, is []book.Life
	err := enter(e, c.Shop, &c.dated, false, func(s *shopBook, date string) (event book.Event,
		err error) {
		if was, err = s.lives(); err != nil {
			return book.Event{}, err
		}
		if event, err = s.book.Undo(date, c.Event); err == nil {
			is, err = s.lives()
		}
		return event, err
	})
	if err != nil || e.Quiet {
		return err
	}
	return tellUnbooked(e, was, is)
}

// tellUnbooked says which plan is no longer booked, and which has its place again.
func tellUnbooked(e *command.Env, was, is []book.Life) (err error) {
	for i := range was {
		l := &was[i]
		if book.Find(is, l.Plan) != nil {
			continue
		}
		again := ""
		if l.Of != "" {
			again = "; plan " + l.Of + " is the one to be carried out again"
		}
		_, err = fmt.Fprintf(e.Stdout, "\nPlan %s is no longer booked%s.\n", l.Plan, again)
	}
	return err
}

type rackTake struct {
	Shop string `arg:"" help:"Shop folder."`
	Look bool   `help:"Only show what differs; enter nothing."`
	dated
}

func (c *rackTake) Help() string {
	return `Example: rackwright rack take shop

What rack.csv and defects.csv say of boards counts from then on, and the book has what it was.`
}

func (c *rackTake) Run(e *command.Env) error {
	date, err := c.on()
	if err != nil {
		return err
	}
	return locked(e, c.Shop, date, !c.Look, func(s *shopBook) error {
		changes, err := s.settle(e)
		if err != nil {
			return err
		}
		if len(changes) == 0 {
			if !e.Quiet {
				fmt.Fprintln(e.Stdout, "rack.csv and defects.csv say what the book says; there is "+
					"nothing to enter.")
			}
			if c.Look {
				return nil
			}
			return s.writeLast()
		}
		if c.Look {
			return printChanges(e, s, changes)
		}
		return s.entered(e, date, func() (book.Event, error) {
			return s.book.Enter(book.Event{Date: date, Kind: book.Taken, Changes: changes})
		})
	})
}

// printChanges prints changes that are of no event.
func printChanges(e *command.Env, s *shopBook, changes []book.Change) error {
	if e.Quiet {
		return nil
	}
	lines := make([]report.RackLine, len(changes))
	for i, c := range changes {
		lines[i] = changeLine(&s.settings, c)
	}
	return report.RackLines(e.Stdout, lines, e.Columns())
}

type rackWrite struct {
	Shop string `arg:"" help:"Shop folder."`
}

func (c *rackWrite) Help() string {
	return `Example: rackwright rack write shop

What was changed by hand in the two files is lost; it is shown first.`
}

func (c *rackWrite) Run(e *command.Env) error {
	return locked(e, c.Shop, "", false, func(s *shopBook) error {
		changes, err := s.settle(e)
		_, mistakes := errors.AsType[model.InputErrors](err)
		if err != nil && !mistakes {
			return err
		}
		back := make([]book.Change, len(changes))
		for i, c := range changes {
			back[i] = book.Change{Was: c.Is, Is: c.Was}
		}
		if len(back) > 0 {
			if err := printChanges(e, s, back); err != nil {
				return err
			}
		}
		if err := s.writeLast(); err != nil || e.Quiet {
			return err
		}
		_, err = fmt.Fprintf(e.Stdout, "rack.csv and defects.csv in %s are as the book has them.\n",
			c.Shop)
		return err
	})
}
