package shopbook

import (
	"cmp"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"rackwright/cmd/rackwright/command"
	"rackwright/cmd/rackwright/place"
	"rackwright/io/book"
	"rackwright/io/folder"
	"rackwright/io/report"
	"rackwright/model"
	"rackwright/nest/rest"
)

// Left is what is left of a booked plan.
type Left struct {
	*rest.Rest
	Was Written             // the plan, as the book keeps it
	Out string              // folder of the next revision
	Why report.WhyReplanned // what happened since
}

// LeftOf says what is left of the plan that was written to a folder and is booked, on the rack as
// the book now has it. The folder itself is not read, so it may be gone.
func LeftOf(e *command.Env, dir string) (*Left, error) {
	out, err := outOf(dir)
	if err != nil {
		return nil, err
	}
	s, err := openShop(out.shop)
	if err != nil {
		return nil, err
	}
	defer s.close()
	if s.book == nil {
		return nil, out.unknown(nil)
	}
	changes, unsettled := s.settle(e)
	if err := cmp.Or(unsettled, s.byHand(changes)); err != nil {
		return nil, err
	}
	plan, err := s.booked(out)
	if err != nil {
		return nil, err
	}
	return s.left(out, plan)
}

// left is what is left of a plan.
func (s *shopBook) left(out *outFolder, plan *booked) (*Left, error) {
	files, err := s.book.PlanFiles(plan.Files)
	if err != nil {
		return nil, s.unsound(err)
	}
	l := &Left{Was: Written{Files: files}}
	if l.Was.Job, l.Was.Plan, err = folder.ReadPlan(files); err != nil {
		return nil, s.unsound(err)
	}
	rack, err := s.book.Rack()
	if err != nil {
		return nil, s.unsound(err)
	}
	shop := &rest.Shop{Begun: plan.Done, Expected: plan.Expected, Cut: pieces(plan.Cut)}
	if shop.Known, err = s.known(plan.lives, l.Was.Job.Settings.Batch); err != nil {
		return nil, err
	}
	promised := book.Promised(plan.lives)
	for _, b := range rack {
		if to := promised[b.ID]; to == "" || to == plan.Plan {
			shop.Rack = append(shop.Rack, b)
		}
	}
	l.Rest = rest.Of(l.Was.Job, l.Was.Plan, shop, s.settings.Change)
	sell(l.Job, others(plan.lives, plan.Plan))
	l.Revision.Of = plan.Hash
	l.Out, l.Revision.Number = s.nextRevision(out, l.Was.Plan, plan.lives)
	l.Why = report.WhyReplanned{Plan: plan.Plan, Cut: len(plan.Cut), Missing: plan.Missing,
		Gone: plan.Gone, Spoiled: l.wantedAgain(plan), Otherwise: l.otherwise(&s.settings, plan),
		Freed: l.Freed}
	return l, nil
}

func pieces(cut []book.Piece) (out []model.Piece) {
	for _, c := range cut {
		out = append(out, model.Piece{Commission: c.Commission, Part: c.Part, Copy: c.Copy})
	}
	return out
}

// wantedAgain are the pieces that were spoiled, and are not cut since.
func (l *Left) wantedAgain(plan *booked) (out []model.Piece) {
	good, seen := map[model.Piece]bool{}, map[model.Piece]bool{}
	for _, p := range pieces(plan.Cut) {
		good[p] = true
	}
	for _, p := range pieces(plan.Spoiled) {
		if !good[p] && !seen[p] {
			out = append(out, p)
		}
		seen[p] = true
	}
	return out
}

// otherwise says of the boards that are here and not begun in what they are not as the plan has
// them.
func (l *Left) otherwise(s *model.Settings, plan *booked) (out [][2]string) {
	then, now := asBooked(l.Was.Job, plan.Life), byID(l.Job.Rack)
	for _, id := range plan.Here {
		is, was := now[id], then[id]
		if is == nil || was == nil || alike(was, is) {
			continue
		}
		board := *was // where it lies and since when is no difference
		board.Bin, board.Since, board.Note, board.Value = is.Bin, is.Since, is.Note, is.Value
		if text := report.RackChange(s, &board, is); text != "" {
			out = append(out, [2]string{id, text})
		}
	}
	return out
}

// asBooked are the boards of a plan as it has them, and all others of its job's rack.
func asBooked(job *model.Job, plan *book.Life) map[string]*model.Board {
	then := byID(job.Rack)
	for i := range plan.Buys {
		then[plan.Buys[i].Board.ID] = &plan.Buys[i].Board
	}
	return then
}

// nextRevision is where the revision after a plan goes and which it is: OUT-2 beside OUT, OUT-3
// beside OUT-2. Numbers whose folder holds a booked plan are left out.
func (s *shopBook) nextRevision(out *outFolder, was *model.Plan,
	lives []book.Life) (string, int64) {
	dir, number := place.WholeOf(out.dir), int64(2)
	stem := filepath.Base(dir)
	if r := was.Revision; r != nil {
		number = r.Number + 1
		stem = strings.TrimSuffix(stem, "-"+strconv.FormatInt(r.Number, 10))
	}
	for ; ; number++ {
		name := fmt.Sprintf("%s-%d", stem, number)
		if book.Find(lives, out.month()+"/"+name) == nil {
			return filepath.Join(filepath.Dir(dir), name), number
		}
	}
}

// cutSince says which pieces that a revision wants were cut since it was made, by the plan whose
// place it takes, and which of its boards were begun.
func cutSince(w *Written, of *book.Life) (whys []string) {
	parts := map[[2]string]*model.Part{}
	for i := range w.Job.Parts {
		p := &w.Job.Parts[i]
		parts[[2]string{p.Commission, p.Name}] = p
	}
	for _, c := range of.Cut {
		if p := parts[[2]string{c.Commission, c.Part}]; p != nil && p.Wants(c.Copy) {
			whys = append(whys, fmt.Sprintf("%s, %s, copy %d is cut since", c.Commission, c.Part,
				c.Copy))
		}
	}
	done := map[string]bool{}
	for _, id := range of.Done {
		done[id] = true
	}
	for _, b := range w.Plan.Revision.Before {
		if done[b.Board] {
			whys = append(whys, fmt.Sprintf("board %s is begun since", b.Board))
		}
	}
	return whys
}

// asPromised is a board of a revision's rack as the book has it.
func asPromised(then, now *model.Board) model.Board {
	out := *then
	if out.Bought { // then it may carry a worth that only the plan knows
		out.Bought, out.Value = false, now.Value
	}
	return out
}
