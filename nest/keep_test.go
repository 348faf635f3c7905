package nest

import (
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/model"
	"rackwright/nest/cutstock"
	"rackwright/nest/cutting"
	"rackwright/nest/rest"
)

// keepers are the groups of the rest of random jobs of which some layouts stand and something is
// wanted besides.
func keepers(t *testing.T, seed uint64, jobs int, each func(n int, p *planning, group int)) {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 1))
	for n := range jobs {
		job, plan := planBefore(t, r, n%2 == 1, 5)
		shop := happen(r, job, plan)
		of := rest.Of(job, plan, shop, pick[model.Money](r, 500, 2000, 5000))
		p := &planning{job: of.Job, ctx: t.Context(), search: t.Context(), opt: Options{Threads: 1}}
		if err := p.formulate(); err != nil {
			t.Fatal(err)
		}
		p.prior = standing(of.Job, p.worth, p.groups, of.Revision)
		p.byRules(func() {})
		for g := range p.groups {
			k := p.keeping(g, cutstock.Options{})
			all := k.choice(k.all())
			if len(k.laid) > 0 && slices.ContainsFunc(all.unmet, aboveZero) {
				each(n, p, g)
			}
		}
	}
}

// exact is the least that a plan of a group can count that meets all: over all sets of layouts that
// are kept, with what they leave planned to a proven end. False where some end is not proven.
func exact(t *testing.T, k *keeping) (least, allKept int64, ok bool) {
	for set := range 1 << len(k.laid) {
		var kept []cutting.Use
		for n := range k.laid {
			if set>>n&1 == 1 {
				kept = append(kept, cutting.Use{Pattern: k.laid[n].pattern, Times: 1})
			}
		}
		left := residual(k.p, kept)
		r := cutstock.Solve(t.Context(), left, cutstock.Options{Work: 2e8})
		if slices.ContainsFunc(r.Unmet, aboveZero) {
			if set == 0 {
				return 0, 0, false // not all can be met
			}
			allKept = 1 << 62
			continue
		}
		if r.Value-r.Bound >= k.coin {
			return 0, 0, false
		}
		cost := k.p.Value(kept) + r.Value - k.change*int64(len(kept))
		if set == 0 || cost < least {
			least = cost
		}
		allKept = cost // the last set has all
	}
	return least, allKept, true
}

// Of small groups the search for what to keep finds the least that any plan can count nearly
// always, and never counts more than where all layouts are kept, or where the solver plans freely.
func TestKeepingAgainstAllSets(t *testing.T) {
	tried, best, between := 0, 0, 0
	keepers(t, 61, 70, func(n int, p *planning, g int) {
		half := len(p.starts[g]) / 2
		opt := cutstock.Options{Work: 4e8, Starts: p.starts[g][:half],
			Fallbacks: p.starts[g][half:], Found: func(cutstock.Result) {},
			Observe: func(cutstock.Event) {}}
		k := p.keeping(g, opt)
		if len(k.laid) > 6 {
			return
		}
		least, allKept, ok := exact(t, k)
		if !ok {
			return
		}
		tried++
		found := k.choice(k.search(p.groups[g]).Uses)
		free := k.choice(cutstock.Solve(t.Context(), k.p, cutstock.Options{Work: 4e8}).Uses)
		if found.cost > allKept || found.cost > free.cost {
			t.Errorf("job %d: it counts %d, with all kept %d, freely planned %d", n, found.cost,
				allKept, free.cost)
		}
		if found.cost-k.coin < least {
			best++
		} else {
			t.Logf("job %d: it counts %d, least is %d, change %d", n, found.cost, least, k.change)
		}
		if least < min(allKept, free.cost) {
			between++
		}
	})
	t.Logf("of %d groups %d count as little as can be; of %d that is neither with all kept nor "+
		"freely planned", tried, best, between)
	if tried < 30 || best*20 < tried*19 {
		t.Errorf("of %d groups only %d count as little as can be", tried, best)
	}
}
