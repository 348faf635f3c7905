package nest

import (
	"context"
	"math/big"
	"slices"

	"rackwright/model"
	"rackwright/nest/baseline"
)

// Months of one shop, one after the other, in five ways. Each way has a rack of its own: that of a
// month is the rack that the month before left in the same way. A month that has a rack.csv of its
// own has that one in every way. What is bought of a row of the shop's yard.csv of which there is
// one board is not for sale in later months, in that way.
//
// All ways are reckoned alike. A rack is worth what its boards are by the prices of the month, as
// its files say:
//
//	net wood cost of a month = paid + handling + ripping + rack before - rack after
//
// So of months with the same prices the net wood costs add up to what was paid and charged, and
// what the rack lost from the first to the last.

// Way is one of the ways to plan months.
type Way int

// The ways. What carrying offcuts and planning together saves is seen by the others.
const (
	Carried   Way = iota // by the solver, all commissions at once
	Discarded            // the same, but nothing that is cut off is kept
	OneByOne             // by the solver, commission by commission, the earliest due first
	Ruled                // by the simple rule that gives the cheapest plan of the month
	FirstFit             // by the simplest rule of all
)

// Ways is the number of ways.
const Ways = 5

func (w Way) String() string {
	return [Ways]string{"rackwright, all at once", "no offcuts kept", "one commission at a time",
		"simple rules", "first fit"}[w]
}

// Month is what came of one month in one way.
type Month struct {
	model.Measure             // of its plans; its value is the net wood cost as reckoned here
	Before        model.Money // what the rack was worth
	After         model.Money
}

// Months plans jobs that follow each other in every way, month by month. Before each plan or row of
// plans it calls begin. When the context ends, the months that are done in all ways are given with
// its error.
func Months(ctx context.Context, jobs []*model.Job, opt Options,
	begin func(month int, way Way)) ([][Ways]Month, error) {
	return months(ctx, jobs, opt, solver(ctx), begin)
}

// months does so, given how to plan a job with a search.
func months(ctx context.Context, jobs []*model.Job, opt Options, plan planner,
	begin func(month int, way Way)) ([][Ways]Month, error) {
	var shops [Ways]shop
	var out [][Ways]Month
	var first []model.Board // the rack that all ways began with
	for n, job := range jobs {
		if n == 0 || job.Source("rack.csv") == "rack.csv" {
			first = job.Rack
			for way := range shops {
				shops[way].rack = first
			}
		}
		priced := *job
		priced.Rack = first
		worth := priced.Valuation()
		var month [Ways]Month
		for way := range Way(Ways) {
			begin(n, way)
			var err error
			if month[way], err = shops[way].month(ctx, job, worth, way, opt, plan); err != nil {
				return out, err
			}
		}
		out = append(out, month)
	}
	return out, nil
}

// shop is how one way has left the shop.
type shop struct {
	rack []model.Board
	sold map[int]bool // lines of the shop's yard.csv whose one board is bought
}

// month plans one month and keeps what it leaves. An error is the context's, where it ended before
// the month was done.
func (s *shop) month(ctx context.Context, job *model.Job, worth *model.Valuation, way Way,
	opt Options, plan planner) (Month, error) {
	job = s.job(job)
	var plans []*model.Plan
	var err error
	switch way {
	case Carried:
		plans, err = alone(plan(job, opt))
	case Discarded:
		plans, err = alone(plan(unkept(job, worth), opt))
	case OneByOne:
		plans, err = oneByOne(job, opt, plan)
	case Ruled:
		plans, err = cheapestRule(ctx, job, opt.Date)
	case FirstFit:
		plans, err = alone(byRule(ctx, job, baseline.FirstFit, opt.Date))
	}
	if err == nil {
		err = ctx.Err() // what it cut short is not set beside what it did not
	}
	if err != nil {
		return Month{}, err
	}
	before := s.rack
	s.after(job, plans, way)
	out := Month{model.MeasureOf(plans...), rackValue(worth, before), rackValue(worth, s.rack)}
	out.Value = out.Cash + out.Handling + out.Ripping + out.Before - out.After
	return out, nil
}

// job is a month in the shop as it is now. Where a part must come from a board that was not left,
// it may come from any.
func (s *shop) job(month *model.Job) *model.Job {
	out := *month
	out.Rack, out.Yard, out.Parts = s.rack, slices.Clone(month.Yard), slices.Clone(month.Parts)
	for i := range out.Yard {
		if o := &out.Yard[i]; s.sold[single(o)] {
			o.Available = new(int64)
		}
	}
	for i := range out.Parts {
		if p := &out.Parts[i]; p.Board != "" && !slices.ContainsFunc(s.rack,
			func(b model.Board) bool { return b.Answers(p.Board) }) {
			p.Board = ""
		}
	}
	return &out
}

// single is the line of an offer of the shop's yard of which there is one board; 0 of any other.
func single(o *model.Offer) int {
	if o.Where.File == model.Above+"yard.csv" && o.Available != nil && *o.Available == 1 {
		return o.Where.Line
	}
	return 0
}

// after takes in what the plans of a month leave.
func (s *shop) after(job *model.Job, plans []*model.Plan, way Way) {
	used, bought := map[string]bool{}, map[int]bool{}
	for _, p := range plans {
		for _, b := range p.Placements {
			used[b.Board], bought[b.Offer] = true, true
		}
	}
	for i := range job.Yard {
		if line := single(&job.Yard[i]); line > 0 && bought[line] {
			if s.sold == nil {
				s.sold = map[int]bool{}
			}
			s.sold[line] = true
		}
	}
	if way == Discarded { // its plan has the boards with other values
		s.rack = slices.DeleteFunc(slices.Clone(s.rack),
			func(b model.Board) bool { return used[b.ID] })
	} else if len(plans) > 0 {
		s.rack = plans[len(plans)-1].Rack
	}
}

// unkept is a job in which nothing that is cut off is kept: no board is as long as what would be.
// Rack boards count what they are worth in the job itself.
func unkept(job *model.Job, worth *model.Valuation) *model.Job {
	out := *job
	out.Rack = slices.Clone(job.Rack)
	var longest model.Length
	for i := range out.Rack {
		b := &out.Rack[i]
		value := worth.ShownTicks(worth.WorthOfBoard(b))
		longest, b.Value = max(longest, b.Length), &value
	}
	for i := range out.Yard {
		longest = max(longest, out.Yard[i].Length)
	}
	unit := job.Valuation().Unit // of which all lengths are multiples: this one, too
	out.Settings.Offcut.KeepLength = (longest/unit + 1) * unit
	out.Settings.Materials = keepingAsAll(out.Settings.Materials)
	out.Settings.Sections = keepingAsAll(out.Settings.Sections)
	return &out
}

// keepingAsAll are overrides that leave keep_length as it is.
func keepingAsAll[K comparable](overrides map[K]model.Override) map[K]model.Override {
	out := make(map[K]model.Override, len(overrides))
	for k, o := range overrides {
		o.KeepLength = nil
		out[k] = o
	}
	return out
}

// cheapestRule plans a job by each simple rule; the plan with the fewest pieces short, and of these
// the cheapest, stands.
func cheapestRule(ctx context.Context, job *model.Job, date string) ([]*model.Plan, error) {
	entries, err := ByRules(ctx, job, date)
	if err != nil {
		return nil, err
	}
	best := entries[0].Plans
	for _, e := range entries[1:] {
		a, b := model.MeasureOf(e.Plans...), model.MeasureOf(best...)
		if a.Short < b.Short || a.Short == b.Short && a.Value < b.Value {
			best = e.Plans
		}
	}
	return best, nil
}

// rackValue is what all boards of a rack are worth, rounded once.
func rackValue(worth *model.Valuation, rack []model.Board) model.Money {
	var sum big.Int
	for i := range rack {
		sum.Add(&sum, big.NewInt(worth.WorthOfBoard(&rack[i])))
	}
	return worth.Shown(&sum)
}
