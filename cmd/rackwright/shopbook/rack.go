package shopbook

import (
	"fmt"
	"slices"
	"strings"

	"rackwright/cmd/rackwright/command"
	"rackwright/io/book"
	"rackwright/io/folder"
	"rackwright/io/report"
	"rackwright/model"
)

// Commands that read the rack and its book, and enter nothing.

// Rack are the commands of the rack at hand; entry.go has those that enter events.
type Rack struct {
	List    rackList    `cmd:"" help:"List the boards on the rack."`
	Add     rackAdd     `cmd:"" help:"Put a board on the rack."`
	Move    rackMove    `cmd:"" help:"Put a board into another bin."`
	Scrap   rackScrap   `cmd:"" help:"Take a board off the rack for good."`
	History rackHistory `cmd:"" help:"What became of a board, event by event."`
	Undo    rackUndo    `cmd:"" help:"Enter that an event does not count; nothing is erased."`
	Take    rackTake    `cmd:"" help:"Show and enter what was changed by hand in rack.csv and defects.csv."`
	Old     rackOld     `cmd:"" help:"What has lain longest, what it is worth, and what would make room."`
	Write   rackWrite   `cmd:"" help:"Write rack.csv and defects.csv as the book has the rack."`
}

type rackList struct {
	Shop     string `arg:"" help:"Shop folder."`
	Material string `help:"Only this wood." placeholder:"NAME"`
	Section  string `help:"Only this section, such as 2x6." placeholder:"SECTION"`
	Longer   string `help:"Only boards of this length or longer." placeholder:"LENGTH"`
	Bin      string `help:"Only this bin." placeholder:"BIN"`
	Since    string `help:"Only what came on this date (YYYY-MM-DD) or before, so what lies since then or longer." placeholder:"DATE"`
}

func (c *rackList) Help() string {
	return "Example: rackwright rack list shop --material oak --longer 30"
}

func (c *rackList) Run(e *command.Env) error {
	s, err := openShop(c.Shop)
	if err != nil {
		return err
	}
	defer s.close()
	wanted, err := c.filter(s.settings.Units)
	if err != nil {
		return err
	}
	rack, err := s.rack(e)
	if err != nil || e.Quiet {
		return err
	}
	lives, err := s.lives()
	if err != nil {
		return err
	}
	all := len(rack)
	rack = slices.DeleteFunc(rack, func(b model.Board) bool { return !wanted(&b) })
	return report.RackList(e.Stdout, &s.settings, rack, book.Promised(lives), all, e.Columns())
}

// filter says which boards the flags ask for.
func (c *rackList) filter(u model.Unit) (func(*model.Board) bool, error) {
	var longer model.Length
	section := model.Section(c.Section)
	if c.Longer != "" {
		l, _, err := model.ParseLength(c.Longer, u)
		if err != nil {
			return nil, command.Refuse("--longer: %v", err)
		}
		longer = l
	}
	if c.Section != "" {
		is, err := model.ParseSection(c.Section)
		if err != nil {
			return nil, command.Refuse("--section: %v", err)
		}
		section = is
	}
	if c.Since != "" && !model.ValidDate(c.Since) {
		return nil, command.Refuse("--since %q: not a date; write it as YYYY-MM-DD", c.Since)
	}
	alike := func(want, is string) bool {
		return want == "" || model.FoldName(want) == model.FoldName(is)
	}
	return func(b *model.Board) bool {
		return alike(c.Material, b.Material) && (section == "" || section == b.Section) &&
			b.Length >= longer && alike(c.Bin, b.Bin) &&
			(c.Since == "" || b.Since != "" && b.Since <= c.Since)
	}, nil
}

// rack are the boards on the rack: as the book has them, or as rack.csv has where there is no book.
func (s *shopBook) rack(e *command.Env) ([]model.Board, error) {
	job, notes, mistakes := folder.ReadRack(s.files)
	if s.book == nil {
		for _, n := range notes {
			if !e.Quiet {
				fmt.Fprintln(e.Stderr, n)
			}
		}
		if mistakes != nil {
			return nil, mistakes
		}
		return job.Rack, nil
	}
	rack, err := s.book.Rack()
	if err != nil {
		return nil, s.unsound(err)
	}
	state, err := s.book.State()
	if err != nil {
		return nil, s.unsound(err)
	}
	// what a killed run left behind is put right by the next that writes
	changed := mistakes != nil || len(book.Changes(rack, job.Rack)) > 0
	if changed && state.Written == state.Last {
		fmt.Fprintf(e.Stderr, "rackwright: rack.csv or defects.csv was changed by hand; this is "+
			"the rack as the book has it: `rackwright rack take %s` shows what differs\n",
			s.typed())
	}
	return rack, nil
}

type rackHistory struct {
	Shop  string `arg:"" help:"Shop folder."`
	Board string `arg:"" optional:"" help:"Board, by its id; left out: all boards."`
}

func (c *rackHistory) Help() string { return "Example: rackwright rack history shop B-7" }

func (c *rackHistory) Run(e *command.Env) error {
	s, err := openShop(c.Shop)
	if err != nil {
		return err
	}
	defer s.close()
	if s.book == nil {
		return noBook(c.Shop)
	}
	events, err := s.book.Events()
	if err != nil {
		return s.unsound(err)
	}
	known := ids(events)
	if c.Board != "" && !slices.Contains(known, c.Board) {
		return s.unknown(c.Board, known, "was never on the rack")
	}
	if e.Quiet {
		return nil
	}
	return printEvents(e, &s.settings, events, c.Board)
}

// unknown refuses a board that is not meant.
func (s *shopBook) unknown(id string, known []string, why string) error {
	if len(known) == 0 {
		return command.Refuse("board %q %s; there is no other", id, why)
	}
	return command.Refuse(
		"board %q %s; the nearest is %s; `rackwright rack list %s` lists all", id, why,
		model.Nearest(id, known), s.typed())
}

// ids are the boards that events tell of, as they first came.
func ids(events []book.Event) (all []string) {
	seen := map[string]bool{}
	for _, n := range events {
		for _, c := range n.Changes {
			if id := c.ID(); !seen[id] {
				seen[id] = true
				all = append(all, id)
			}
		}
	}
	return all
}

// onRack finds a board that is on the rack.
func (s *shopBook) onRack(id string) (*model.Board, error) {
	rack, err := s.book.Rack()
	if err != nil {
		return nil, s.unsound(err)
	}
	known := make([]string, len(rack))
	for i := range rack {
		if known[i] = rack[i].ID; known[i] == id {
			return &rack[i], nil
		}
	}
	return nil, s.unknown(id, known, "is not on the rack")
}

// cells are the parts of a defect as it is written behind a flag.
func cells(text string) []string {
	parts := strings.Split(text, ";")
	for i := range parts {
		parts[i] = strings.TrimSpace(parts[i])
	}
	return parts
}
