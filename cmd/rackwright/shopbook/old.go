package shopbook

import (
	"cmp"
	"slices"
	"time"

	"rackwright/cmd/rackwright/command"
	"rackwright/io/book"
	"rackwright/io/folder"
	"rackwright/io/report"
	"rackwright/model"
)

// rackOld is the command that lists what has lain longest.
type rackOld struct {
	Shop   string `arg:"" help:"Shop folder."`
	Months int    `help:"Only boards that have lain so many months or longer." default:"6" placeholder:"N"`
	Date   string `help:"Date (YYYY-MM-DD) to count back from; today if left out." placeholder:"DATE"`
}

func (c *rackOld) Help() string {
	return `Example: rackwright rack old shop --months 6

Lists the boards that no plan has used for so long, the oldest first, with what they are worth, and
bin by bin what would make room. Boards that are promised to a plan are left out.`
}

func (c *rackOld) Run(e *command.Env) error {
	since, err := c.since()
	if err != nil {
		return err
	}
	s, err := openShop(c.Shop)
	if err != nil {
		return err
	}
	defer s.close()
	rack, err := s.rack(e)
	if err != nil {
		return err
	}
	lying, err := s.lying()
	if err != nil {
		return err
	}
	old, unknown := lying.old(rack, since)
	worth, err := s.worth(rack)
	if err != nil || e.Quiet {
		return err
	}
	for i := range old {
		old[i].Worth = worth(&old[i].Board)
	}
	return report.RackOld(e.Stdout, &s.settings, old, s.oldBins(rack, old), since,
		len(rack), unknown,
		e.Columns())
}

// since is the date so many months before, the last of its month where that has no such day.
func (c *rackOld) since() (string, error) {
	const most = 1200
	if c.Months < 0 || c.Months > most {
		return "", command.Refuse("--months %d: write a number from 0 to %d", c.Months, most)
	}
	date := time.Now()
	if c.Date != "" {
		is, err := time.Parse(time.DateOnly, c.Date)
		if err != nil || !model.ValidDate(c.Date) {
			return "", command.Refuse("--date %q: not a date; write it as YYYY-MM-DD", c.Date)
		}
		date = is
	}
	return monthsBefore(date, c.Months).Format(time.DateOnly), nil
}

func monthsBefore(date time.Time, months int) time.Time {
	first := time.Date(date.Year(), date.Month()-time.Month(months), 1, 0, 0, 0, 0, time.UTC)
	last := first.AddDate(0, 1, -1)
	return first.AddDate(0, 0, min(date.Day(), last.Day())-1)
}

// lying is what the book knows of how long boards have lain.
type lying struct {
	came     map[string]string // the date on which a board came, by the event that brought it
	opened   map[string]bool   // boards that were there when the book was made
	promised map[string]string
	used     map[model.WoodKind]string // when a plan was last booked that uses such wood
}

func (s *shopBook) lying() (*lying, error) {
	l := &lying{came: map[string]string{}, opened: map[string]bool{},
		used: map[model.WoodKind]string{}}
	if s.book == nil {
		return l, nil
	}
	events, err := s.book.Events()
	if err != nil {
		return nil, s.unsound(err)
	}
	lives, err := s.lives()
	if err != nil {
		return nil, err
	}
	l.promised = book.Promised(lives)
	kinds := map[string]model.WoodKind{}
	for i := range events {
		for _, c := range events[i].Changes {
			if c.Is == nil {
				continue
			}
			kinds[c.ID()] = kindOf(c.Is)
			if c.Was == nil && l.came[c.ID()] == "" {
				l.came[c.ID()], l.opened[c.ID()] = events[i].Date, events[i].Kind == book.Opened
			}
		}
	}
	for i := range lives {
		if lives[i].Replaced {
			continue
		}
		for _, id := range slices.Concat(lives[i].Uses, lives[i].Here, lives[i].Done) {
			if k, known := kinds[id]; known {
				l.used[k] = max(l.used[k], lives[i].Date)
			}
		}
	}
	return l, nil
}

func kindOf(b *model.Board) model.WoodKind {
	return model.WoodKind{Material: model.FoldName(b.Material), Section: b.Section}
}

// old are the boards that lie since a date or longer and are promised to no plan, the oldest first,
// and of how many more nobody knows it.
func (l *lying) old(rack []model.Board, since string) (old []report.OldBoard, unknown int) {
	for _, b := range rack {
		o := report.OldBoard{Board: b, Used: l.used[kindOf(&b)]}
		if o.Since == "" {
			o.Since, o.Before = l.came[b.ID], l.opened[b.ID]
		}
		switch {
		case l.promised[b.ID] != "":
		case o.Since == "" || o.Before && o.Since > since:
			unknown++
		case o.Since <= since:
			old = append(old, o)
		}
	}
	slices.SortStableFunc(old, func(a, b report.OldBoard) int {
		return cmp.Compare(a.Since, b.Since)
	})
	return old, unknown
}

// oldBins are the bins in which old boards lie, or that are named.
func (s *shopBook) oldBins(rack []model.Board, old []report.OldBoard) (bins []report.OldBin) {
	for _, name := range s.settings.BinNames(rack) {
		bin := report.OldBin{Name: name}
		for i := range rack {
			if model.FoldName(rack[i].Bin) == model.FoldName(name) {
				bin.Boards++
			}
		}
		for i := range old {
			if model.FoldName(old[i].Bin) == model.FoldName(name) {
				bin.Old++
			}
		}
		for n, facts := range s.settings.Bins {
			if model.FoldName(n) == model.FoldName(name) {
				bin.Most = facts.Most
			}
		}
		if bin.Old > 0 {
			bins = append(bins, bin)
		}
	}
	return bins
}

// worth says what boards are worth in the shop, by the prices of its yard; wood without a price
// counts nothing.
func (s *shopBook) worth(boards []model.Board) (func(*model.Board) model.Money, error) {
	job, err := folder.ReadPrices(s.files)
	if err != nil {
		return nil, err
	}
	job.Rack = append(job.Rack, boards...)
	value := job.Valuation()
	return func(b *model.Board) model.Money {
		if value.BasisOfBoard(b).From == model.ByGuess {
			return 0
		}
		return value.ShownTicks(value.WorthOfBoard(b))
	}, nil
}
