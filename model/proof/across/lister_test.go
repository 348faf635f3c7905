package across_test

import (
	"maps"
	"math/big"
	"math/rand/v2"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
	"rackwright/model/proof/across"
	"rackwright/model/proof/internal/brute"
	"rackwright/model/proof/internal/patterns"
)

// listJob is a job of up to four parts and one board on the rack or for sale, so small that all its
// layouts can be tried. Some of its measures share nothing.
func listJob(r *rand.Rand) (*model.Job, model.Origin) {
	unit := handmade.Pick(r, model.Length(1), 1, 1, 2)
	n := func(least, ways int) model.Length { return model.Length(least+r.IntN(ways)) * unit }
	wide := n(2, 6)
	w := model.Wood{Material: "oak", Section: "4/4", Length: n(4, 7), Width: wide, Thickness: 9}
	job := &model.Job{Settings: model.Settings{
		CrosscutKerf: n(0, 3), RipKerf: n(0, 3), RackEnd: n(0, 2), TrimmingCut: r.IntN(3) > 0,
		Margin: n(0, 2),
		Offcut: model.OffcutRule{KeepLength: n(0, 4), KeepWidth: n(0, 4),
			Value: handmade.Pick(r, model.Fraction{Num: 1, Den: 2},
				model.Fraction{Num: 2, Den: 7}),
			StripValue: model.Fraction{Num: r.Int64N(3), Den: 2}},
		Safety:  model.Safety{ShortestRip: n(0, 5), NarrowestRip: n(0, 2)},
		Ripping: model.Money(r.Int64N(handmade.Pick[int64](r, 1, 4e4, 4e5))),
		Weak:    handmade.Pick(r, nil, []string{"split"}, []string{"split", "knot"}),
		Sound:   []string{"knot"}, Hidden: []string{"knot", "split"},
	}}
	if r.IntN(3) == 0 {
		job.Settings.Allowance.Edge = 1
	}
	for k := range 1 + r.IntN(4) {
		job.Parts = append(job.Parts,
			model.Part{Name: string(rune('a' + k)), Qty: 1 + r.Int64N(3), Material: "oak",
				Length: n(1, 6), Width: n(1, int(wide/unit)), Thickness: 9,
				Face: model.Face(r.IntN(model.Faces))})
	}
	b := model.Board{ID: "A", Wood: w, Value: new(model.Money(r.IntN(40)))}
	for range r.IntN(4) {
		d := model.Defect{From: model.Length(r.IntN(int(b.Length/unit))) * unit,
			Left: model.Length(r.IntN(int(wide/unit))) * unit,
			Kind: handmade.Pick(r, "knot", "split", "hole")}
		d.To, d.Right = min(b.Length, d.From+n(1, 3)), min(wide, d.Left+n(1, 4))
		b.Defects = append(b.Defects, d)
	}
	if r.IntN(3) == 0 {
		job.Yard = []model.Offer{{Wood: w, Price: 10 + model.Money(r.IntN(40)),
			Where: model.Where{File: "yard.csv", Line: 2}}}
		return job, model.FromYard
	}
	job.Rack = []model.Board{b}
	return job, model.FromRack
}

// listed is a board of such a job, its items, and all its layouts by the copies of the parts.
type listed struct {
	job   *model.Job
	board *across.Board
	held  []across.Wanted
	duals brute.Counts
	ways  map[brute.Counts]int64
}

// newListed gives one, false where no part may be ripped from the board.
func newListed(r *rand.Rand) (*listed, bool) {
	job, origin := listJob(r)
	worth := job.Valuation()
	b := brute.Ripped{Job: job, Worth: worth, Origin: origin, Parts: make([]*model.Part,
		len(job.Parts))}
	if origin == model.FromRack {
		b.Board, b.Slope = &job.Rack[0], worth.SlopeOfBoard(&job.Rack[0])
	} else {
		b.Board, b.Slope = &model.Board{Wood: job.Yard[0].Wood}, worth.SlopeOfOffer(&job.Yard[0])
	}
	out := &listed{job: job, board: across.NewBoard(job, worth, b.Board, origin, b.Slope)}
	var held []*model.Part
	for i := range job.Parts {
		p := &job.Parts[i]
		if ok, _ := job.Holds(p, b.Board, origin); !ok {
			continue
		}
		b.Parts[i] = p
		held = append(held, p)
		out.duals[i] = r.Int64N(handmade.Pick(r, 1, worth.Ticks(2), worth.Ticks(40)))
		out.held = append(out.held, across.Wanted{Demand: p.Qty, Number: i,
			Item: out.board.Item(job.BlankLength(p), p.Width, p.Face, out.duals[i])})
	}
	if len(held) == 0 || !job.Rippable(b.Board, origin, held) {
		return nil, false
	}
	out.ways = b.Ways()
	return out, true
}

// valueOf is what a layout gives.
func (b *listed) valueOf(c brute.Counts, worth int64) int64 {
	for k, n := range c {
		worth += n * b.duals[k]
	}
	return worth
}

// list is the list down to a need, by the copies of the parts.
func (b *listed) list(t *testing.T, l *across.Lister, need *big.Int) map[brute.Counts]int64 {
	t.Helper()
	found, why := l.List(b.board, b.held, b.job.Settings.CrosscutKerf, b.job.Settings.RipKerf, need,
		1<<30)
	if why != "" {
		t.Fatal(why)
	}
	return asWays(t, found)
}

func asWays(t *testing.T, found []patterns.Pattern) map[brute.Counts]int64 {
	t.Helper()
	out := map[brute.Counts]int64{}
	for _, p := range found {
		var c brute.Counts
		for _, take := range p.Takes {
			c[take.Item] = take.Copies
		}
		if _, twice := out[c]; twice {
			t.Fatalf("%v is listed twice", c)
		}
		out[c] = p.Worth
	}
	return out
}

// A list has all that some layout gives and that reaches the need, no more often than it is wanted,
// with the greatest worth of all layouts: nothing else, and nothing twice.
func TestListIsAllThatReachesTheNeed(t *testing.T) {
	r := rand.New(rand.NewPCG(81, 82))
	var l across.Lister
	rounds, boards, clear, long, cut := 12_000, 0, 0, 0, 0
	if testing.Short() {
		rounds = 2000
	}
	for n := range rounds {
		b, ok := newListed(r)
		if !ok {
			continue
		}
		if boards++; len(b.ways) == 0 {
			continue
		}
		most, least := int64(brute.Never), int64(-brute.Never)
		for c, worth := range b.ways {
			most, least = max(most, b.valueOf(c, worth)), min(least, b.valueOf(c, worth))
		}
		needs := []*big.Int{new(big.Int).Neg(new(big.Int).Lsh(big.NewInt(1), 70)),
			big.NewInt(most), big.NewInt(most + 1), big.NewInt(most - (most-least)/2),
			big.NewInt(most - r.Int64N(most-least+1))}
		for _, need := range needs {
			want := maps.Clone(b.ways)
			maps.DeleteFunc(want, func(c brute.Counts, worth int64) bool {
				return big.NewInt(b.valueOf(c, worth)).Cmp(need) < 0
			})
			got := b.list(t, &l, need)
			if !maps.Equal(got, want) {
				t.Fatalf("%d: need %v: listed %v, want %v; %+v, held %+v, job %+v", n, need, got,
					want, b.board, b.held, b.job)
			}
			if len(want) > 0 && len(want) < len(b.ways) {
				cut++
			}
		}
		if len(b.ways) > 10 {
			long++
		}
		if len(b.job.Rack) == 0 || len(b.job.Rack[0].Defects) == 0 {
			clear++
		}
	}
	if boards < rounds/3 || clear < boards/5 || clear > boards*4/5 || long < boards/8 ||
		cut < boards {
		t.Errorf("%d boards, %d clear, %d with long lists, %d lists cut off: too few to trust",
			boards, clear, long, cut)
	}
}
