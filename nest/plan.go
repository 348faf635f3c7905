package nest

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"sync/atomic"
	"time"

	"golang.org/x/sync/errgroup"

	"rackwright/model"
	"rackwright/model/check"
	"rackwright/model/proof"
	"rackwright/nest/baseline"
	"rackwright/nest/cutstock"
	"rackwright/nest/cutting"
)

// Options say how to plan. The zero value works.
type Options struct {
	// basic steps over all groups; the same number gives the same plan. Zero means DefaultWork
	Work int64
	// after which the search of a plan ends, and the same input may give another plan. Zero means
	// none
	Clock   time.Duration
	Threads int         // groups solved at a time. Zero means one for each core
	Date    string      // YYYY-MM-DD, written as `since` of every offcut. Zero means none
	Observe func(Event) // called as groups go on, from several goroutines; nil means silent
}

// DefaultWork plans a month of 400 to 600 pieces in well under 20 seconds on two cores.
const DefaultWork = 16e9

// Event is what is known of one group at a moment of its search.
type Event struct {
	Group  int // from 0
	Groups int
	Name   string
	Phase  string // what the search is doing
	Value  model.Money
	Bound  model.Money
	Proven bool // a bound is known
	Done   bool
}

// Plan makes a plan for a job and has it judged by the independent checker. Shortages are a result;
// an error is a fault of ours, or the context's when it ended before there was a plan.
func Plan(ctx context.Context, job *model.Job, opt Options) (*model.Plan, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	groups, short := formulate(job)
	results := make([]cutstock.Result, len(groups))
	pieces := 0
	for _, g := range groups {
		pieces += len(g.list)
	}
	if opt.Work == 0 {
		opt.Work = DefaultWork
	}
	if opt.Clock > 0 {
		var stop context.CancelFunc
		ctx, stop = context.WithTimeout(ctx, opt.Clock)
		defer stop()
	}
	if opt.Threads == 0 {
		opt.Threads = runtime.GOMAXPROCS(0)
	}
	var all errgroup.Group
	all.SetLimit(opt.Threads)
	for n, g := range groups {
		all.Go(func() error {
			share := max(1, opt.Work/int64(pieces)*int64(len(g.list)))
			results[n] = solve(ctx, g,
				cutstock.Options{Work: share, Observe: watch(opt.Observe, n, len(groups), g.name)})
			return nil
		})
	}
	all.Wait()
	return settle(job, groups, results, short, opt.Date)
}

// settle writes the plan and has it judged.
func settle(job *model.Job, groups []*group, results []cutstock.Result, short []model.Shortage,
	date string) (*model.Plan, error) {
	plan := assemble(job, groups, results, short, date)
	err := judge(job, plan, true)
	if err == nil || judge(job, plan, false) != nil {
		return plan, err
	}
	// The cuts are right and a bound is not: a fault of ours that shall not cost the maker a plan.
	// The plain bounds are proven by less.
	doubted.Add(1)
	for n := range results {
		results[n].Bound, results[n].Certificate = results[n].PlainBound, results[n].Plain
	}
	if plain := assemble(job, groups, results, short, date); judge(job, plain, true) == nil {
		return plain, nil
	}
	return plan, err
}

// doubted counts the plans whose own bound the checker did not accept, for the tests: it is to stay
// 0.
var doubted atomic.Int64

// assemble writes a plan from what was found for each group.
func assemble(job *model.Job, groups []*group, results []cutstock.Result, short []model.Shortage,
	date string) *model.Plan {
	d := newDecoder(job)
	var boards []*used
	var proofs []model.Group
	short = slices.Clone(short)
	for n, g := range groups {
		b, s := d.boards(g, results[n].Uses)
		boards, short = append(boards, b...), append(short, s...)
		proofs = append(proofs, certified(job, g, &results[n]))
	}
	plan := d.rows(boards, date)
	plan.Shortages, plan.Groups = inOrder(job, short), proofs
	for _, g := range proofs {
		plan.Bound += g.Bound
	}
	return plan
}

// judge turns what the checker finds into an error: a plan of ours that it does not accept is a
// fault of ours.
func judge(job *model.Job, plan *model.Plan, bounds bool) error {
	reading, found := check.Check(job, plan)
	if bounds {
		found = append(found, proof.Bounds(reading)...)
	}
	var errs []error
	for _, f := range found {
		errs = append(errs, fmt.Errorf("the plan fails its own check: %s: %s", f.Where, f.What))
	}
	return errors.Join(errs...)
}

// solve starts from what the simple rules give, in an order that does not depend on the input's;
// the plan is in no case worse than what they give in the order of the list.
func solve(ctx context.Context, g *group, opt cutstock.Options) cutstock.Result {
	var sorted []int
	for i := range g.program.Items {
		for range g.program.Items[i].Demand {
			sorted = append(sorted, i)
		}
	}
	onHand := g.onHand()
	for _, rule := range baseline.Rules() {
		uses, _ := baseline.Plan(&g.program, onHand, sorted, rule)
		opt.Starts = append(opt.Starts, uses)
		uses, _ = baseline.Plan(&g.program, onHand, g.list, rule)
		opt.Fallbacks = append(opt.Fallbacks, uses)
	}
	return cutstock.Solve(ctx, &g.program, opt)
}

func (g *group) onHand() []bool {
	on := make([]bool, len(g.stocks))
	for n := range g.stocks {
		on[n] = g.stocks[n].onHand()
	}
	return on
}

func watch(observe func(Event), n, groups int, name string) func(cutstock.Event) {
	if observe == nil {
		return nil
	}
	return func(e cutstock.Event) {
		observe(Event{Group: n, Groups: groups, Name: name, Phase: e.Phase,
			Value: model.Money(e.Value), Bound: model.Money(e.Bound), Proven: e.Proven,
			Done: e.Done})
	}
}

// certified writes down what is proven of a group, so that the bound can be derived again from the job
// alone.
func certified(job *model.Job, g *group, r *cutstock.Result) model.Group {
	c := model.Certificate{Scale: r.Certificate.Scale}
	at := make([]int, len(g.items)) // items that are short as a whole are not in it
	for i := range g.items {
		at[i] = -1
		if met := g.program.Items[i].Demand - r.Unmet[i]; met > 0 {
			at[i] = len(c.Items)
			c.Items = append(c.Items,
				model.CertItem{Length: g.items[i].length, Width: g.items[i].width,
					Face: g.items[i].face, Demand: met})
		}
	}
	for s := range g.program.Stocks {
		st := model.CertStock{Cost: model.Money(g.program.Stocks[s].Cost)}
		for _, b := range g.stocks[s].boards {
			st.Boards = append(st.Boards, job.Rack[b].ID)
		}
		if !g.stocks[s].onHand() {
			st.Yard = job.Yard[g.stocks[s].offer].Where.Line
		}
		if n := g.program.Stocks[s].Supply; n != cutting.Any {
			st.Supply = &n
		}
		for _, i := range g.program.Stocks[s].Holds {
			if at[i] >= 0 {
				c.Items[at[i]].Stocks = append(c.Items[at[i]].Stocks, s)
			}
		}
		c.Stocks = append(c.Stocks, st)
	}
	for _, leaf := range r.Certificate.Leaves {
		c.Leaves = append(c.Leaves, certLeaf(g, leaf, at))
	}
	out := model.Group{Name: g.name, Value: model.Money(r.Value), Bound: model.Money(r.Bound),
		Proof: model.Feasible, Certificate: c,
		Ended: map[cutstock.Ended]model.Ended{cutstock.Finished: model.Finished,
			cutstock.WorkLimit:   model.WorkLimit,
			cutstock.Interrupted: model.Interrupted, cutstock.Clock: model.Clock}[r.Ended]}
	if out.Value == out.Bound {
		out.Proof = model.Optimal
	}
	return out
}

func certLeaf(g *group, leaf cutstock.Leaf, at []int) model.CertLeaf {
	out := model.CertLeaf{Duals: []int64{}}
	for i, d := range leaf.Duals {
		if at[i] >= 0 {
			out.Duals = append(out.Duals, d)
		}
	}
	for _, q := range leaf.Quotas {
		if at[q.Item] >= 0 {
			out.Copies = append(out.Copies,
				model.CertCopies{Stock: q.Stock, Item: at[q.Item], Dual: q.Dual})
		}
	}
	out.List = certList(g, leaf.List, at)
	for s := range g.program.Stocks {
		b := model.UseBound{Least: leaf.Least[s]}
		most, limited := leaf.Most[s]
		if _, raised := leaf.Least[s]; !raised && !limited {
			continue
		}
		if !limited {
			most = g.program.Stocks[s].Supply
		}
		if most != cutting.Any {
			b.Most = &most
		}
		if out.Bounds == nil {
			out.Bounds = map[int]model.UseBound{}
		}
		out.Bounds[s] = b
	}
	return out
}

// certList counts the rows of cuts by the items of the certificate.
func certList(g *group, proof *cutstock.ListProof, at []int) *model.CertList {
	if proof == nil {
		return nil
	}
	out := &model.CertList{Target: model.Money(proof.Target), Duals: []int64{},
		CutDuals: proof.CutDuals}
	for i, d := range proof.Duals {
		if at[i] >= 0 {
			out.Duals = append(out.Duals, d)
		}
	}
	for _, cut := range proof.Cuts {
		c := model.CertCut{Den: cut.Den}
		for _, r := range cut.Rows {
			row := r.Row - len(at) + len(out.Duals)
			if r.Row < len(at) {
				row = at[r.Row]
			}
			if row >= 0 { // an item that is not wanted has nothing in its row
				c.Rows = append(c.Rows, [2]int64{int64(row), r.Multiplier})
			}
		}
		out.Cuts = append(out.Cuts, c)
	}
	return out
}

// inOrder gives the shortages in the order of the parts list, one for each part and reason.
func inOrder(job *model.Job, short []model.Shortage) (out []model.Shortage) {
	for i := range job.Parts {
		for _, s := range short {
			if s.Commission == job.Parts[i].Commission && s.Part == job.Parts[i].Name {
				out = append(out, s)
			}
		}
	}
	return out
}
