package cutting

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
)

// tiny is a stock of at most 24 units without Across, with up to three spots. It holds up to three
// items.
func tiny(r *rand.Rand) *Problem {
	n := func(lo, hi int64) int64 { return lo + r.Int64N(hi-lo+1) }
	s := Stock{From: n(0, 2), Keep: n(0, 4), Slope: n(0, 5)}
	s.To = s.From + n(8, 22)
	for range r.IntN(4) {
		from := n(s.From, s.To-1)
		spot := Spot{From: from, To: min(s.To, from+n(1, 4))}
		spot.Tolerated[1], spot.Tolerated[2] = r.IntN(3) == 0, r.IntN(2) == 0
		s.Spots = append(s.Spots, spot)
	}
	slices.SortFunc(s.Spots, func(a, b Spot) int { return cmp.Compare(a.From, b.From) })
	p := &Problem{Kerf: n(0, 2)}
	for i := range 1 + r.IntN(3) {
		p.Items = append(p.Items, Item{Size: n(2, 8), Class: r.IntN(Classes), Demand: n(1, 3)})
		s.Holds = append(s.Holds, i)
	}
	p.Stocks = []Stock{s}
	return p
}

// lies says, unit by unit, whether a piece of an item may start at a point.
func lies(p *Problem, item int, at int64) bool {
	s, it := &p.Stocks[0], &p.Items[item]
	for x := at; x < at+it.Size; x++ {
		if x < s.From || x >= s.To || slices.ContainsFunc(s.Spots, func(o Spot) bool {
			return o.From <= x && x < o.To && !o.Tolerated[it.Class]
		}) {
			return false
		}
	}
	return true
}

// judge gives the worth of a layout unit by unit, and what is wrong with it.
func judge(p *Problem, places []Place) (worth int64, wrong string) {
	s, free := &p.Stocks[0], p.Stocks[0].From
	gap := func(to int64) {
		run := int64(0)
		for x := free; x <= to; x++ {
			if x < to && !slices.ContainsFunc(s.Spots, func(o Spot) bool {
				return o.From <= x && x < o.To
			}) {
				run++
				continue
			}
			worth += max(0, run-s.Keep) * s.Slope
			run = 0
		}
	}
	for _, pl := range places {
		if pl.At < free || !lies(p, pl.Item, pl.At) {
			return 0, fmt.Sprintf("%+v of %v may not lie there", pl, places)
		}
		gap(pl.At - p.Kerf)
		free = pl.At + p.Items[pl.Item].Size + p.Kerf
	}
	gap(s.To)
	return worth, ""
}

// Greedy puts the longest item left at the first unit where it may start, as often as it goes, then
// the next item. It takes from what is left just that.
func TestGreedy(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 1))
	pieces, behindSpots := 0, 0
	for n := range 5000 {
		p := tiny(r)
		left := make([]int64, len(p.Items))
		for i := range left {
			left[i] = r.Int64N(4)
		}
		var want []Place
		after, free := slices.Clone(left), p.Stocks[0].From
		order := slices.Clone(p.Stocks[0].Holds)
		slices.SortFunc(order, func(a, b int) int {
			return cmp.Or(cmp.Compare(p.Items[b].Size, p.Items[a].Size), cmp.Compare(b, a))
		})
		for _, i := range order {
			for at := free; at < p.Stocks[0].To && after[i] > 0; at++ {
				if lies(p, i, at) {
					if at > free {
						behindSpots++
					}
					want = append(want, Place{Item: i, At: at})
					free = at + p.Items[i].Size + p.Kerf
					at = free - 1
					after[i]--
				}
			}
		}
		got := p.Greedy(0, left)
		if got == nil && want == nil {
			continue
		}
		if got == nil || !slices.Equal(got.Places, want) || !slices.Equal(left, after) {
			t.Fatalf("case %d: got %+v and left %v, want %v and %v\n%+v", n, got, left, want, after,
				p)
		}
		if w, wrong := judge(p, want); wrong != "" || w != got.Worth {
			t.Fatalf("case %d: %s; worth %d, not %d", n, wrong, w, got.Worth)
		}
		pieces += len(want)
	}
	if pieces < 5000 || behindSpots < 500 {
		t.Errorf("%d pieces, %d behind spots: too few to tell", pieces, behindSpots)
	}
}

// randomLayout lays pieces out at random, each some units behind the one before.
func randomLayout(r *rand.Rand, p *Problem) *Pattern {
	var places []Place
	for at := p.Stocks[0].From; at < p.Stocks[0].To && len(places) < 4; at++ {
		if i := r.IntN(len(p.Items)); r.IntN(2) == 0 && lies(p, i, at) {
			places = append(places, Place{Item: i, At: at})
			at += p.Items[i].Size + p.Kerf - 1
		}
	}
	out := &Pattern{Places: places}
	out.Worth, _ = judge(p, places)
	return out
}

// Drop takes just the piece out, and moves others only towards the start and in their order. The
// pattern is worth at least what it would be with none moved.
func TestDrop(t *testing.T) {
	r := rand.New(rand.NewPCG(22, 1))
	moved := 0
	for n := range 5000 {
		p := tiny(r)
		pat := randomLayout(r, p)
		for at := range pat.Places {
			stay := slices.Delete(slices.Clone(pat.Places), at, at+1)
			before, _ := judge(p, stay)
			got := p.Drop(pat, at)
			w, wrong := judge(p, got.Places)
			if wrong != "" || w != got.Worth || w < before || len(got.Places) != len(stay) {
				t.Fatalf("case %d: %s; %+v is worth %d; %v were worth %d\n%+v", n, wrong, got, w,
					stay, before, p)
			}
			for m, pl := range got.Places {
				if pl.Item != stay[m].Item || pl.At > stay[m].At {
					t.Fatalf("case %d: %v of %v", n, got.Places, stay)
				}
				if pl.At < stay[m].At {
					moved++
				}
			}
		}
	}
	if moved < 1000 {
		t.Errorf("%d moved: too few to tell", moved)
	}
}

// Of a ripped stock Drop takes out the piece, and others only where all of its slab goes. What
// stays is legal, a kerf apart, at a side of its slab. Where the slab need not shrink, the pattern
// is worth at least what it would be with none moved.
func TestDropFromRipped(t *testing.T) {
	r := rand.New(rand.NewPCG(24, 1))
	shrunk := 0
	for n := range 20000 {
		p, pat := randomRipped(r)
		outer := pat.First.Outer()
		slabs := p.slabs(&pat)
		for _, b := range slabs {
			for m, pl := range b.Places { // some to the other side of their slab
				if on := p.On(outer, pl); r.IntN(2) == 0 {
					b.Places[m] = pl.Put(outer, on.From+b.To-on.To)
				}
			}
		}
		pat.Places = placesOf(slabs)
		for range r.IntN(30) { // spots between the pieces
			x, y := r.Int64N(58), r.Int64N(18)
			spots := append(slices.Clone(p.Stocks[0].Spots),
				Spot{From: x, To: x + 2, Left: y, Right: y + 2})
			slices.SortFunc(spots, func(a, b Spot) int { return cmp.Compare(a.From, b.From) })
			before := p.Stocks[0].Spots
			if p.Stocks[0].Spots = spots; !p.allLegal(0, pat.Places) {
				p.Stocks[0].Spots = before
			}
		}
		if !p.allLegal(0, pat.Places) {
			continue
		}
		for at, out := range pat.Places {
			got := p.Drop(&pat, at)
			if wrong := faultOf(p, &got); wrong != "" || got.Worth != p.Worth(&got) {
				t.Fatalf("case %d: %s; %+v of %+v", n, wrong, got, pat)
			}
			items, _ := Tally(got.Places)
			alone, full := true, false // in its slab; beside another that is as large
			for _, b := range p.slabs(&pat) {
				in := slices.Contains(b.Places, out)
				for _, pl := range b.Places {
					if pl == out {
						continue
					}
					alone = alone && !in
					full = full || in && p.On(outer, pl) == b.Span
					if _, has := slices.BinarySearch(items, pl.Item); !has && !in {
						t.Fatalf("case %d: %+v lost from %+v", n, pl, pat)
					}
				}
			}
			if _, has := slices.BinarySearch(items, out.Item); has {
				t.Fatalf("case %d: %+v still has %d", n, got, out.Item)
			}
			stay := Pattern{First: pat.First,
				Places: slices.Delete(slices.Clone(pat.Places), at, at+1)}
			switch {
			case len(got.Places) < len(stay.Places):
				if alone || full {
					t.Fatalf("case %d: %+v of %+v", n, got, pat)
				}
			case !alone && !full:
				shrunk++
			case got.Worth < p.Worth(&stay):
				t.Fatalf("case %d: %+v is worth less than %+v", n, got, stay)
			}
		}
	}
	if shrunk < 500 {
		t.Errorf("%d slabs shrunk: too few to tell", shrunk)
	}
}

// A length goes with its largest piece where the two others lie at either side and spots keep them
// there. What lay behind it moves up.
func TestDropASlab(t *testing.T) {
	p := &Problem{Kerf: 2, Rip: 1,
		Items: []Item{{Size: 20, Width: 5}, {Size: 10, Width: 5}, {Size: 6, Width: 5}},
		Stocks: []Stock{{To: 60, Across: &Across{Width: 20, Trim: true},
			Spots: []Spot{{From: 0, To: 2, Left: 8, Right: 9},
				{From: 14, To: 16, Left: 15, Right: 16}}}}}
	pat := Pattern{Places: []Place{{0, 0, 0, 5}, {1, 10, 6, 11}, {2, 0, 12, 17}, {0, 22, 0, 5}}}
	got := p.Drop(&pat, 0)
	if want := []Place{{0, 0, 0, 5}}; !slices.Equal(got.Places, want) {
		t.Errorf("got %v, want %v", got.Places, want)
	}
	p.Stocks[0].Spots = p.Stocks[0].Spots[:1] // now it shrinks, and all moves up
	got = p.Drop(&pat, 0)
	if want := []Place{{1, 2, 0, 5}, {2, 2, 6, 11}, {0, 14, 0, 5}}; !slices.Equal(got.Places,
		want) {
		t.Errorf("with one spot less: got %v, want %v", got.Places, want)
	}
}

// faultOf says what is wrong with a pattern of a ripped stock, place by place.
func faultOf(p *Problem, t *Pattern) string {
	outer, inner := t.First.Outer(), t.First.Inner()
	slabs := p.slabs(t)
	for n, b := range slabs {
		if n > 0 && b.From < slabs[n-1].To+p.KerfOn(outer) {
			return fmt.Sprintf("slab %+v is too near to the one before", b)
		}
		for m, pl := range b.Places {
			on := p.On(outer, pl)
			if !p.Legal(0, pl) || on.From != b.From && on.To != b.To ||
				m > 0 && p.On(inner, pl).From < p.On(inner, b.Places[m-1]).To+p.KerfOn(inner) {
				return fmt.Sprintf("%+v may not lie there", pl)
			}
		}
	}
	return ""
}

// Layout keeps the pieces, and nearly always finds the most that any order of them at any units is
// worth; it is never worth less than the pattern, nor more than that.
func TestLayoutAgainstEveryLayout(t *testing.T) {
	r := rand.New(rand.NewPCG(23, 1))
	better, best, all := 0, 0, 3000
	for n := range all {
		p := tiny(r)
		pat := randomLayout(r, p)
		got := p.Layout(*pat)
		w, wrong := judge(p, got.Places)
		items, counts := Tally(got.Places)
		asked, wanted := Tally(pat.Places)
		if wrong != "" || w != got.Worth || w < pat.Worth || !slices.Equal(items, asked) ||
			!slices.Equal(counts, wanted) {
			t.Fatalf("case %d: %s; %+v of %+v, worth %d\n%+v", n, wrong, got, pat, w, p)
		}
		most := mostOf(p, slices.Clone(wanted), asked, nil)
		if w > most {
			t.Fatalf("case %d: %+v; no layout is worth more than %d\n%+v", n, got, most, p)
		}
		if w > pat.Worth {
			better++
		}
		if w == most {
			best++
		}
	}
	t.Logf("of %d layouts %d are better than before, %d the best there is", all, better, best)
	if better < all/4 || best < all*99/100 {
		t.Errorf("of %d layouts %d are better than before, %d the best there is", all, better, best)
	}
}

// mostOf is the most that a layout of so many copies of items behind some places can be worth.
func mostOf(p *Problem, left []int64, items []int, places []Place) int64 {
	best, free := int64(-1), p.Stocks[0].From
	if n := len(places) - 1; n >= 0 {
		free = places[n].At + p.Items[places[n].Item].Size + p.Kerf
	}
	done := true
	for n, i := range items {
		if left[n] == 0 {
			continue
		}
		done = false
		left[n]--
		for at := free; at+p.Items[i].Size <= p.Stocks[0].To; at++ {
			if lies(p, i, at) {
				best = max(best, mostOf(p, left, items, append(places, Place{Item: i, At: at})))
			}
		}
		left[n]++
	}
	if done {
		best, _ = judge(p, places)
	}
	return best
}
