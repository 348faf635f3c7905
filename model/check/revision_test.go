package check

import (
	"slices"
	"strings"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

// revised is the plan made by hand, in the place of another: three boards are cut as before, and of
// the fourth the two pieces have changed places.
func revised() (*model.Job, *model.Plan) {
	job, plan := handmade.Tiny()
	job.Settings.Change = 500
	r := &model.Revision{Number: 2, Change: 500, Changed: 1, Counts: 500}
	offcuts := map[string][]string{"R2": {"N1"}, "B2": {"N2"}}
	for _, p := range plan.Placements {
		p.Pieces = slices.Clone(p.Pieces)
		r.Before = append(r.Before, model.Laid{Placement: p, Offcuts: offcuts[p.Board]})
	}
	swapped := r.Before[3].Pieces
	swapped[0].Copy, swapped[1].Copy = swapped[1].Copy, swapped[0].Copy
	plan.Revision = r
	return job, plan
}

// What a plan says of the one before is judged by what it makes of it. How a board that has changed
// was laid out before no plan can tell, nor which one it was, nor that it takes no place.
func TestNoValueOfARevisionIsLeftUnjudged(t *testing.T) {
	tried := handmade.ChangeEachValue(t, revised, checked, func(what, path string) bool {
		return !strings.HasPrefix(path, ".Revision") || path == ".Revision.Of" ||
			path == ".Revision.Number" ||
			what == "nil" && path == ".Revision" ||
			strings.HasPrefix(path, ".Revision.Before[3].P") ||
			strings.HasPrefix(path, ".Revision.Before[3].First") ||
			strings.HasPrefix(path, ".Revision.Before[3].Rip") ||
			strings.HasPrefix(path, ".Revision.Before[3].Offcuts") ||
			// one more is an id that the board has no offcut for
			what == "double" && path == ".Revision.Before[1].Offcuts"
	})
	if tried < 80 {
		t.Errorf("only %d values were tried", tried)
	}
}

func TestCheckRefusesRevisions(t *testing.T) {
	for _, c := range []handmade.Spoilt{
		{What: "as it is", Spoil: func(*model.Job, *model.Plan) {}},
		{What: "changed", Spoil: func(_ *model.Job, p *model.Plan) {
			p.Revision.Changed, p.Revision.Counts = 0, 0
		}, Want: "plan.json: revision: changed is 0, it should be 1"},
		{What: "counts", Spoil: func(_ *model.Job, p *model.Plan) { p.Revision.Counts = 501 },
			Want: "counts is 0.0501, it should be 0.05"},
		{What: "change", Spoil: func(j *model.Job, p *model.Plan) { j.Settings.Change = 400 },
			Want: "change is 0.05, it should be 0.04"},
		{What: "another board by the same id", Spoil: func(_ *model.Job, p *model.Plan) {
			p.Revision.Before[2].Offer = 3
		}, Want: "the id B1 does not go on after B2 of the rack or of the plan before"},
		{What: "twice", Spoil: func(_ *model.Job, p *model.Plan) {
			p.Revision.Before = append(p.Revision.Before, p.Revision.Before[0])
		}, Want: "a board stands twice"},
		{What: "board gone", Spoil: func(_ *model.Job, p *model.Plan) {
			p.Revision.Before[0].Board = "R9"
		}, Want: "board R9 of the plan before is neither on the rack nor for sale"},
		{What: "other id of an offcut", Spoil: func(_ *model.Job, p *model.Plan) {
			p.Revision.Before[1].Offcuts = []string{"N0", "N1"}
		}, Want: "board R2: is cut as before, yet its offcuts have other ids"},
		{What: "id given before", Spoil: func(j *model.Job, p *model.Plan) {
			j.Known = []string{"N7"}
			p.Revision.Before[1].Offcuts = nil
		}, Want: "the id N1 does not go on after N7 of the rack or of the plan before"},
		{What: "id of a purchase that stays", Spoil: func(j *model.Job, _ *model.Plan) {
			j.Known = []string{"B7"}
		}},
		{What: "id of another purchase", Spoil: func(j *model.Job, p *model.Plan) {
			j.Known = []string{"B7"}
			p.Revision.Before = p.Revision.Before[:3]
			p.Revision.Changed, p.Revision.Counts = 0, 0
		}, Want: "the id B2 does not go on after B7 of the rack or of the plan before"},
		{What: "numbers of copies", Spoil: func(j *model.Job, _ *model.Plan) {
			j.Parts[1].Copies, j.Parts[1].Of = []int64{1, 2}, 5
		}},
		{What: "copy not wanted", Spoil: func(j *model.Job, _ *model.Plan) {
			j.Parts[1].Copies, j.Parts[1].Of = []int64{1, 3}, 5
		}, Want: "names copy 2 of rail of Table, which is not wanted any more"},
	} {
		t.Run(c.What, func(t *testing.T) {
			job, plan := revised()
			c.Spoil(job, plan)
			found := checked(job, plan)
			if c.Want == "" {
				for _, f := range found {
					t.Errorf("%s: %s", f.Where, f.What)
				}
				return
			}
			handmade.Want(t, found, c.Want)
		})
	}
}

// A board that came for the plan keeps the trims of the yard, until it is on the rack of another.
func TestBoughtBoardsKeepTheirTrims(t *testing.T) {
	s := model.DefaultSettings()
	s.YardEnd, s.RackEnd = 3*model.UnitsPerInch, model.UnitsPerInch
	for _, c := range []struct {
		bought bool
		origin model.Origin
		want   model.Length
	}{{false, model.FromRack, s.RackEnd}, {true, model.FromRack, s.YardEnd},
		{false, model.FromYard, s.YardEnd}} {
		if got := s.TrimFor(&model.Board{Bought: c.bought}, c.origin); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
	job, plan := handmade.Tiny()
	plan.Rack[0].Bought = true
	handmade.Want(t, checked(job, plan), `bought is "yes", it should be ""`)
}
