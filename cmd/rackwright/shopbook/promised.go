package shopbook

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"rackwright/cmd/rackwright/command"
	"rackwright/cmd/rackwright/place"
	"rackwright/io/book"
	"rackwright/io/report"
	"rackwright/model"
)

// What booked plans leave to the next: boards promised to one are not on the rack of another month,
// a board that the yard had one of is not for sale once it is bought, and no id is given twice.

// leaveOut takes out of a month what belongs to booked plans, and says so.
func (s *shopBook) leaveOut(job *model.Job, dir string) (notes []model.Note, err error) {
	lives, err := s.lives()
	if err != nil {
		return nil, err
	}
	notes = s.ofThisMonth(lives, place.NameOf(dir))
	promised := book.Promised(lives)
	if m := unpromised(job, promised); m != nil {
		return nil, m
	}
	left := map[string][]string{} // by plan
	job.Rack = slices.DeleteFunc(job.Rack, func(b model.Board) bool {
		plan := promised[b.ID]
		if plan != "" {
			left[plan] = append(left[plan], b.ID)
		}
		return plan != ""
	})
	for i := range lives {
		if ids := left[lives[i].Plan]; len(ids) > 0 {
			notes = append(notes, model.Note{File: job.Source("rack.csv"), Text: fmt.Sprintf(
				"promised to plan %s, and left out: %s", lives[i].Plan, few(ids))})
		}
	}
	notes = append(notes, sell(job, book.Singles(lives))...)
	job.Known, err = s.known(lives, batchOf(job, dir))
	return notes, err
}

// batchOf is what new ids of a month begin with.
func batchOf(job *model.Job, dir string) string {
	if job.Settings.Batch != "" {
		return job.Settings.Batch
	}
	return model.BatchOf(place.NameOf(dir))
}

// few names boards; of many the first.
func few(ids []string) string {
	const most = 6
	runs := inRuns(ids)
	if len(runs) <= most {
		return strings.Join(runs, ", ")
	}
	return fmt.Sprintf("%s and others, in all %d boards", strings.Join(runs[:most-1], ", "),
		len(ids))
}

// ofThisMonth says which plans of a month are booked and not done.
func (s *shopBook) ofThisMonth(lives []book.Life, month string) (notes []model.Note) {
	for i := range lives {
		if l := &lives[i]; ofMonth(l.Plan, month) && !l.Over() {
			notes = append(notes, model.Note{File: model.Above + BookFile, Text: fmt.Sprintf(
				"plan %s of this month is booked, and yet all parts are planned here, without its "+
					"boards; `rackwright replan %s` plans what is left of it", l.Plan,
				report.ShellWord(command.FromHere(planPath(s.dir, l.Plan))))})
		}
	}
	return notes
}

// unpromised refuses parts that must come from a board which is promised elsewhere.
func unpromised(job *model.Job, promised map[string]string) error {
	var m model.Mistakes
	for i := range job.Parts {
		p := &job.Parts[i]
		if p.Board == "" {
			continue
		}
		plan := ""
		for j := range job.Rack {
			if b := &job.Rack[j]; b.Answers(p.Board) {
				if plan = promised[b.ID]; plan == "" {
					break
				}
			}
		}
		if plan != "" {
			m.Add(&model.InputError{Code: model.CodeUnknownBoard, File: p.Where.File,
				Line: p.Where.Line, Column: "board",
				Cause: fmt.Sprintf("board %q is promised to plan %s", p.Board, plan),
				Remedy: "write another board, or empty the cell; `rackwright replan` plans what " +
					"is left of a plan that is booked"})
		}
	}
	return m.Err()
}

// sell takes boards that the yard had one of off the market once they are bought, and says so. A
// row of which there is none any more stands for one of those bought.
func sell(job *model.Job, bought []book.Single) (notes []model.Note) {
	taken := map[int]bool{}
	for n := range bought {
		b := &bought[n]
		row := func(available int64) int {
			for i := range job.Yard {
				is := purchase(job, "", &job.Yard[i])
				if !taken[i] && has(&job.Yard[i], available) && is.Alike(&b.Purchase) {
					return i
				}
			}
			return -1
		}
		i := row(0)
		if i < 0 {
			if i = row(1); i < 0 {
				continue
			}
			o := &job.Yard[i]
			o.Available = new(int64)
			text := fmt.Sprintf("this board is bought by plan %s, as %s, and is not for sale; if "+
				"it is another one, say so in its grade", b.Plan, b.Board.ID)
			if b.Missing {
				text = fmt.Sprintf("this board was not delivered for plan %s, as %s, and is not "+
					"for sale; if there is one, say so in its grade", b.Plan, b.Board.ID)
			}
			notes = append(notes, model.Note{File: o.Where.File, Line: o.Where.Line, Text: text})
		}
		taken[i] = true
	}
	return notes
}

// has says whether a row of the yard has so many boards.
func has(o *model.Offer, boards int64) bool { return o.Available != nil && *o.Available == boards }

// known are the ids of a batch that no new board may get.
func (s *shopBook) known(lives []book.Life, batch string) ([]string, error) {
	ids, err := s.book.EverCame()
	if err != nil {
		return nil, s.unsound(err)
	}
	for i := range lives {
		for _, b := range lives[i].Buys {
			ids = append(ids, b.Board.ID)
		}
		ids = append(ids, lives[i].Offcuts...)
	}
	begins := []string{"buy-", "off-"}
	if batch != "" {
		begins = []string{model.FoldName(batch + "-")}
	}
	ids = slices.DeleteFunc(ids, func(id string) bool {
		return !slices.ContainsFunc(begins, func(b string) bool {
			return strings.HasPrefix(model.FoldName(id), b)
		})
	})
	slices.Sort(ids)
	return slices.Compact(ids), nil
}

// ReadLike reads a month as [ReadFiles] does, but leaves out what was left out of a job that was
// read from it before, as it belonged to booked plans.
func ReadLike(dir string, in *model.Job) (*model.Job, []model.Note, error) {
	job, notes, err := ReadFiles(dir)
	if err != nil || job.Source("rack.csv") == "rack.csv" {
		return job, notes, err
	}
	job.Known = in.Known
	s, broken := openShop(filepath.Dir(place.WholePath(dir)))
	if broken != nil {
		return job, notes, nil // then all that differs is told
	}
	defer s.close()
	lives, broken := s.lives()
	if broken != nil {
		return job, notes, nil
	}
	of, had := map[string]bool{}, byID(in.Rack)
	for i := range lives {
		for _, id := range lives[i].Uses {
			of[id] = true
		}
		for _, b := range lives[i].Buys {
			of[b.Board.ID] = true
		}
	}
	job.Rack = slices.DeleteFunc(job.Rack, func(b model.Board) bool {
		return of[b.ID] && had[b.ID] == nil
	})
	bought := book.Singles(lives)
	for i := range min(len(job.Yard), len(in.Yard)) {
		o := &job.Yard[i]
		is := purchase(job, "", o)
		if has(o, 1) && has(&in.Yard[i], 0) && slices.ContainsFunc(bought,
			func(b book.Single) bool { return is.Alike(&b.Purchase) }) {
			o.Available = new(int64)
		}
	}
	return job, notes, nil
}
