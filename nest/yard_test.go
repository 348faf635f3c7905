package nest

import (
	"context"
	"fmt"
	"math/big"
	"math/rand/v2"
	"testing"

	"rackwright/model"
)

// twoYards is a job of one kind of wood and at most five pieces, with an empty rack and two yards:
// taxes, loads, prices for a piece, a length and a board foot, scarce boards.
func twoYards(r *rand.Rand) *model.Job {
	inches := func(lo, hi int) model.Length {
		return model.Length(lo*4+r.IntN((hi-lo)*4+1)) * in / 4
	}
	job := &model.Job{Settings: model.DefaultSettings(),
		Commissions: []model.Commission{{Name: "C"}}}
	s := &job.Settings
	s.CrosscutKerf, s.YardEnd = model.Length(r.IntN(3))*in/8, model.Length(r.IntN(3))*in/4
	s.Offcut.KeepLength, s.Offcut.Value = inches(0, 16), model.Fraction{Num: r.Int64N(5), Den: 7}
	s.Offcut.Value = reduced(s.Offcut.Value)
	s.Handling = model.Money(r.Int64N(2) * 3333)
	s.Yards = map[string]model.YardFacts{}
	for _, name := range []string{"north", "south"} {
		y, tax := model.YardFacts{}, reduced(model.Fraction{Num: r.Int64N(250_000), Den: 10_000})
		if r.IntN(4) > 0 {
			y.TaxPercent = &tax
		}
		if load := inches(30, 140); r.IntN(2) == 0 {
			y.LongestLoad = &load
		}
		s.Yards[name] = y
	}
	w := model.Wood{Material: "oak", Section: "4/4", Width: 6 * in, Thickness: in,
		Surface: model.S2S}
	for n := range 4 {
		o := model.Offer{Wood: w, Yard: []string{"north", "south"}[n%2],
			Where: model.Where{File: "yard.csv", Line: n + 2}}
		o.Length = inches(50, 130)
		o.Per = []model.Per{model.PerPiece, model.PerLength, model.PerBoardFoot}[r.IntN(3)]
		if o.Price = model.Money(10_000 + r.Int64N(20_000)); o.Per == model.PerPiece {
			o.Price *= 8
		}
		if r.IntN(3) == 0 {
			few := r.Int64N(3)
			o.Available = &few
		}
		job.Yard = append(job.Yard, o)
	}
	for n := range 1 + r.IntN(3) {
		p := model.Part{Commission: "C", Name: fmt.Sprint("part ", n), Qty: 1 + r.Int64N(2),
			Material: "oak", Length: inches(12, 60), Width: 6*in - 2*s.Allowance.Edge,
			Thickness: in}
		job.Parts = append(job.Parts, p)
	}
	return job
}

func reduced(f model.Fraction) model.Fraction {
	return model.Fraction(model.NewRate(f.Num, f.Den))
}

// buyer tries every way to share pieces out among bought boards; what an offer costs is worked out
// here in fractions, from the words of io/manual/yard.md alone.
type buyer struct {
	job    *model.Job
	pieces []model.Length
	cost   []int64 // of one board of each offer, with tax and handling; in ticks
	left   []int64
	worth  *model.Valuation
	rate   *big.Rat // of an offcut's length
	slope  *big.Int // of a unit of it, in ticks: 6 in wide
	best   int64    // in ticks; -1: no way at all
}

func roundUp(r *big.Rat) int64 { // halves up
	n := new(big.Int).Add(new(big.Int).Mul(r.Num(), big.NewInt(2)), r.Denom())
	return n.Quo(n, new(big.Int).Mul(r.Denom(), big.NewInt(2))).Int64()
}

func newBuyer(job *model.Job) *buyer {
	b := &buyer{job: job, worth: job.Valuation(), best: -1, rate: new(big.Rat)}
	for i := range job.Yard {
		o := &job.Yard[i]
		quantity := big.NewRat(1, 1)
		feet := int64(o.Length) / (12 * in) // whole ones
		switch o.Per {
		case model.PerLength:
			quantity = big.NewRat(int64(o.Length), 12*in)
		case model.PerBoardFoot: // 6 in wide, an inch thick
			quantity = big.NewRat(roundUp(big.NewRat(6*feet, 12)), 1)
		}
		price := roundUp(quantity.Mul(quantity, big.NewRat(int64(o.Price), 1)))
		facts, tax, left := job.Settings.Yards[o.Yard], int64(0), int64(1000)
		if f := facts.TaxPercent; f != nil {
			tax = roundUp(new(big.Rat).Mul(big.NewRat(price, 100), big.NewRat(f.Num, f.Den)))
		}
		if o.Available != nil {
			left = *o.Available
		}
		if facts.LongestLoad != nil && o.Length > *facts.LongestLoad {
			left = 0
		}
		if rate := big.NewRat(price, int64(o.Length)); left > 0 &&
			(b.rate.Sign() == 0 || rate.Cmp(b.rate) < 0) {
			b.rate = rate
		}
		b.cost, b.left = append(b.cost, (price+tax+int64(job.Settings.Handling))<<b.worth.Bits),
			append(b.left, left)
	}
	v := job.Settings.Offcut.Value
	b.rate.Mul(b.rate, big.NewRat(v.Num, v.Den))
	u := int64(b.worth.Unit) // of a square of one unit the slope is whole, rounded down
	square := new(big.Rat).Mul(b.rate, big.NewRat(u*u<<b.worth.Bits, 6*in))
	b.slope = new(big.Int).Quo(square.Num(), square.Denom())
	b.slope.Mul(b.slope, big.NewInt(6*in/u))
	for i := range job.Parts {
		for range job.Parts[i].Qty {
			b.pieces = append(b.pieces, job.BlankLength(&job.Parts[i]))
		}
	}
	return b
}

// credit is the worth of what a board is left with: one offcut behind its pieces, as no other
// layout gives more.
func (b *buyer) credit(offer int, on []model.Length) (worth int64, fits bool) {
	kerf, trim := b.job.Settings.CrosscutKerf, b.job.Settings.YardEnd
	if trim > 0 {
		trim = max(trim, kerf)
	}
	rest := b.job.Yard[offer].Length - 2*trim
	for n, l := range on {
		if rest -= l; n > 0 {
			rest -= kerf
		}
	}
	run := rest - kerf - b.job.Settings.Offcut.KeepLength
	if run <= 0 {
		return 0, rest >= 0
	}
	return b.slope.Int64() * int64(run/b.worth.Unit), true
}

// share puts the next piece on each board that is open, and on a new one of each offer.
func (b *buyer) share(next int, offers []int, on [][]model.Length) {
	if next == len(b.pieces) {
		sum := int64(0)
		for n, o := range offers {
			worth, fits := b.credit(o, on[n])
			if !fits {
				return
			}
			sum += b.cost[o] - worth
		}
		if b.best < 0 || sum < b.best {
			b.best = sum
		}
		return
	}
	for n := range on {
		on[n] = append(on[n], b.pieces[next])
		b.share(next+1, offers, on)
		on[n] = on[n][:len(on[n])-1]
	}
	for o := range b.cost {
		if b.left[o] > 0 {
			b.left[o]--
			b.share(next+1, append(offers[:len(offers):len(offers)], o),
				append(on[:len(on):len(on)], []model.Length{b.pieces[next]}))
			b.left[o]++
		}
	}
}

// Where to buy, tax and loads reckoned in: the plan is the cheapest of all, and no bound is above
// it.
func TestTwoYardsAgainstEveryPlan(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	judged, both, taxed, tooLong := 0, 0, 0, 0
	for n := range 400 {
		job := twoYards(r)
		var m model.Mistakes
		if job.Validate(&m); m.Err() != nil {
			t.Fatal(m.Err())
		}
		plan, err := Plan(context.Background(), job, Options{Work: 1e8})
		if err != nil {
			t.Fatalf("job %d: %v", n, err)
		}
		b := newBuyer(job)
		if b.share(0, nil, nil); (b.best < 0) != (len(plan.Shortages) > 0) {
			t.Fatalf("job %d: best %d, yet short %v", n, b.best, plan.Shortages)
		}
		for _, s := range plan.Shortages {
			if s.Reason == model.TooLongToCarry {
				tooLong++
			}
		}
		if b.best < 0 {
			continue
		}
		judged++
		best := b.worth.ShownTicks(b.best) // optimal: none is cheaper by a unit or more
		if d := plan.Value - best; d < 0 || d > 1 || plan.Bound > plan.Value ||
			plan.Groups[0].Proof != model.Optimal {
			t.Errorf("job %d: value %v, bound %v; the cheapest is %v", n, plan.Value, plan.Bound,
				best)
		}
		yards, cash := map[string]bool{}, model.Money(0)
		for _, p := range plan.Buy {
			if yards[p.Yard] = true; p.Tax > 0 {
				taxed++
			}
			cash += p.Total + p.Tax
		}
		if len(yards) == 2 {
			both++
		}
		var yard model.Money
		for _, c := range plan.Costs {
			yard += c.Yard
		}
		if yard != cash {
			t.Errorf("job %d: %v is paid, the commissions bear %v", n, cash, yard)
		}
	}
	t.Logf("%d jobs judged, %d of them buy in both yards, %d rows with tax, "+
		"%d parts too long to carry", judged, both, taxed, tooLong)
	if judged < 200 || both < 20 || taxed < 200 || tooLong < 10 {
		t.Error("too few of a kind")
	}
}

// Random jobs with a reserve: both checkers accept the plan (Plan asks them), value, bound and
// costs are those without one, and as far as there is anything for sale, what is usable of all that
// is bought is as long as what is used.
func TestReserveIsOutsideTheValue(t *testing.T) {
	r := rand.New(rand.NewPCG(25, 26))
	rows, short := 0, 0
	for n := range 100 {
		job := twoYards(r)
		without, err := Plan(context.Background(), job, Options{Work: 1e8})
		if err != nil {
			t.Fatal(err)
		}
		u := reduced(model.Fraction{Num: 1 + r.Int64N(9), Den: 10})
		job.Settings.Usable = u
		with, err := Plan(context.Background(), job, Options{Work: 1e8})
		if err != nil {
			t.Fatalf("job %d: %v", n, err)
		}
		if with.Value != without.Value || with.Bound != without.Bound ||
			fmt.Sprint(with.Costs) != fmt.Sprint(without.Costs) {
			t.Errorf("job %d: the reserve changes the plan", n)
		}
		var used, reserve model.Length
		for _, b := range with.Buy {
			if all := b.Length * model.Length(b.Qty); b.Reserve {
				reserve += all
				rows++
			} else {
				used += all
			}
		}
		if int64(used+reserve)*u.Num < int64(used)*u.Den {
			short++
		}
	}
	t.Logf("%d rows of reserve, %d jobs with too little for sale", rows, short)
	if rows < 60 || short > 50 || short < 3 {
		t.Error("too few of a kind")
	}
}

// Random jobs with a rack, defects, several yards and a reserve: every way of planning makes plans
// that the checker accepts (Compare asks it), and the solver's is no dearer than any rule's that
// meets the same pieces.
func TestYardsOfRandomJobs(t *testing.T) {
	r := rand.New(rand.NewPCG(27, 28))
	reserves := 0
	for n := range 60 {
		job, work := randomJob(r), int64(2e8)
		if n%4 == 3 {
			withRips(r, job)
			work = 1e7
		}
		load, tax := 80*model.Length(in),
			reduced(model.Fraction{Num: 1 + r.Int64N(999_999), Den: 10_000})
		job.Settings.Yards = map[string]model.YardFacts{
			"north": {TaxPercent: &tax, LongestLoad: &load}, "south": {}}
		job.Settings.Usable = reduced(model.Fraction{Num: 1 + r.Int64N(20), Den: 20})
		for i := range job.Yard {
			o := &job.Yard[i]
			o.Yard = []string{"", "north", "south"}[r.IntN(3)]
			if o.Per = []model.Per{model.PerPiece, model.PerLength,
				model.PerBoardFoot}[r.IntN(3)]; o.Per != model.PerPiece {
				o.Price /= 7
			}
		}
		entries, err := Compare(context.Background(), []*model.Job{job}, Options{Work: work})
		if err != nil {
			t.Fatalf("job %d: %v", n, err)
		}
		plan := entries[len(entries)-1].Plans[0]
		for _, e := range entries[:len(entries)-2] {
			if rule := e.Plans[0]; fmt.Sprint(rule.Shortages) == fmt.Sprint(plan.Shortages) &&
				rule.Value < plan.Value {
				t.Errorf("job %d: %s costs %v, the plan %v", n, e.Name, rule.Value, plan.Value)
			}
		}
		for _, b := range plan.Buy {
			if b.Reserve {
				reserves++
			}
			if b.Yard == "north" && b.Length > load {
				t.Errorf("job %d: a board of %v is brought from north", n, b.Length)
			}
		}
	}
	if t.Logf("%d rows of reserve", reserves); reserves < 40 {
		t.Error("too few")
	}
}
