package nest

import (
	"fmt"
	"maps"
	"math/big"
	"math/rand/v2"
	"testing"

	"rackwright/model"
	proofacross "rackwright/model/proof/across"
	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across"
)

// bothLists lists one stock that can be ripped twice, as the solver does and as the checker does,
// down to a share of what its best layout gives: by the copies of the items the worth. The solver's
// is nil where it gives up.
type bothLists struct {
	job    *model.Job
	worth  *model.Valuation
	group  *group
	pricer price.Pricer
	round  int
	lister proofacross.Lister
}

// list gives both lists of a stock at some duals, down to so much less than its best gives.
func (b *bothLists) list(t *testing.T, s int, duals []int64, less func(best int64) int64) (solver,
	checker map[string]int64) {
	t.Helper()
	p := &b.group.program
	b.round++
	ask := &price.Ask{Duals: duals, Round: b.round}
	for i := range p.Items {
		ask.Demand = append(ask.Demand, p.Items[i].Demand)
	}
	best, ok := b.pricer.Vouch(ask, price.Never)
	if !ok {
		return nil, nil
	}
	least := best - less(best)
	found, ok := b.pricer.List(&price.Listing{Ask: ask, Most: 100_000}, best, least)
	if !ok {
		return nil, nil
	}
	solver, checker = map[string]int64{}, map[string]int64{}
	for _, l := range found.Patterns() {
		counts := map[int]int64{}
		for _, pl := range l.Places {
			counts[pl.Item]++
		}
		solver[fmt.Sprint(counts)] = l.Worth
	}
	of := &b.group.stocks[s]
	board := proofacross.NewBoard(b.job, b.worth, of.board, of.origin(), of.slope)
	var held []proofacross.Wanted
	for _, i := range p.Stocks[s].Holds {
		it := &p.Items[i]
		held = append(held, proofacross.Wanted{Demand: it.Demand, Number: i,
			Item: board.Item(model.Length(it.Size)*b.worth.Unit, b.group.items[i].width,
				model.Face(it.Class), duals[i])})
	}
	list, why := b.lister.List(board, held, b.job.Settings.CrosscutKerf, b.job.Settings.RipKerf,
		big.NewInt(least), 400_000)
	if why != "" {
		t.Fatalf("the solver lists %d patterns, the checker none: %s", len(solver), why)
	}
	for _, l := range list {
		counts := map[int]int64{}
		for _, take := range l.Takes {
			counts[take.Item] = take.Copies
		}
		checker[fmt.Sprint(counts)] = l.Worth
	}
	return solver, checker
}

// Solver and checker list the same, with the same worth: what cuts are made over hangs on it.
func TestBothSidesListTheSame(t *testing.T) {
	r := rand.New(rand.NewPCG(91, 92))
	stocks, long, all := 0, 0, 0
	for n := range 25 {
		job := randomJob(r)
		withRips(r, job)
		worth := job.Valuation()
		groups, _, err := formulate(t.Context(), job, worth)
		if err != nil {
			t.Fatal(err)
		}
		for _, g := range groups {
			maker := across.NewMaker(&g.program, &price.Meter{}, price.Unlimited())
			b := bothLists{job: job, worth: worth, group: g}
			for s := range g.stocks {
				if !g.stocks[s].rippable {
					continue
				}
				if b.pricer = maker.Pricer(s); b.pricer == nil {
					continue
				}
				duals := areaDuals(r, &g.program, s)
				solver, checker := b.list(t, s, duals, func(best int64) int64 {
					return best / 100 * r.Int64N(60)
				})
				if solver == nil {
					continue
				}
				if stocks++; len(solver) > 50 {
					long++
				}
				if all += len(solver); !maps.Equal(solver, checker) {
					t.Errorf("job %d: stock %d: the solver lists %d patterns, the checker %d, %+v", n, s,
						len(solver), len(checker), g.program.Stocks[s])
					if len(checker) < 20 {
						t.Log(solver, checker, duals, g.program.Items, g.program.Stocks[s].Across,
							g.program.RipCost)
					}
				}
			}
		}
	}
	if stocks < 100 || long < 5 || all < 2000 {
		t.Errorf("%d stocks, %d with long lists, %d patterns: too few to trust", stocks, long, all)
	}
}

// areaDuals are duals by the area of the blanks, as a stock costs, more or less.
func areaDuals(r *rand.Rand, p *cutting.Problem, s int) []int64 {
	of := &p.Stocks[s]
	out := make([]int64, len(p.Items))
	for i := range p.Items {
		it := &p.Items[i]
		area := float64(it.Size) / float64(of.To-of.From)
		if it.Width > 0 && it.Width < of.Across.Width {
			area *= float64(it.Width) / float64(of.Across.Width)
		}
		out[i] = int64(area * float64(of.Cost) * (0.9 + 0.3*r.Float64()))
	}
	return out
}
