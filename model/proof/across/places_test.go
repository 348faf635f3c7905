package across

import (
	"fmt"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

// The places are those that sums of parts reach, one part at a time, forward or backward; each has
// its number.
func TestPlacesAreThoseThatSumsReach(t *testing.T) {
	r := rand.New(rand.NewPCG(91, 92))
	var p places
	short, long := 0, 0
	for n := range 3000 {
		last := r.IntN(handmade.Pick(r, 20, 300, 2000))
		var anchors, parts, also []int
		for range r.IntN(4) {
			anchors = append(anchors, r.IntN(last+30)-10)
		}
		for range r.IntN(4) {
			part := 1 + r.IntN(handmade.Pick(r, 8, 63, 300, 300))
			if parts = append(parts, part); part < 64 {
				short++
			} else if part < last {
				long++
			}
		}
		for range r.IntN(3) {
			also = append(also, r.IntN(last+1))
		}
		forward, backward := make([]bool, last+1), make([]bool, last+1)
		for _, a := range anchors {
			if a >= 0 && a <= last {
				forward[a], backward[a] = true, true
			}
		}
		for x := range forward {
			for _, part := range parts {
				forward[x] = forward[x] || x >= part && forward[x-part]
				if y := last - x; y+part <= last {
					backward[y] = backward[y] || backward[y+part]
				}
			}
		}
		var want []int32
		for x := range forward {
			if forward[x] || backward[x] || slices.Contains(also, x) {
				want = append(want, int32(x))
			}
		}
		p.reach(last, anchors, parts, also)
		if !slices.Equal(p.at, want) || p.n != len(want) {
			t.Fatalf("%d: up to %d from %v by %v and %v: %d places %v, want %v", n, last, anchors,
				parts, also, p.n, p.at, want)
		}
		for x := range last + 1 {
			at, is := p.is(x)
			first, found := slices.BinarySearch(want, int32(x))
			if at != first || is != found {
				t.Fatalf("%d: of %v the first from %d on is %d %v", n, want, x, at, is)
			}
			to := x + r.IntN(last+100)
			from, end := p.within(x, to)
			stop, _ := slices.BinarySearch(want, int32(to+1))
			if from != first || end != stop {
				t.Fatalf("%d: of %v from %d to %d are %d to %d", n, want, x, to, from, end)
			}
		}
	}
	if short < 1000 || long < 500 {
		t.Errorf("%d parts of less than a word and %d others: too few", short, long)
	}
}

// oddKerfs gives a board kerfs, a least width and a keep that share nothing with its sizes, which
// are multiples of a unit.
func oddKerfs(r *rand.Rand, b *Board, unit model.Length) (kerf, rip model.Length) {
	b.keepWidth += model.Length(r.IntN(int(unit)))
	return model.Length(1 + r.IntN(2*int(unit))), model.Length(1 + r.IntN(2*int(unit)))
}

// crowd gives a board more defects, and lets blanks be trimmed.
func crowd(r *rand.Rand, b *Board, unit model.Length) {
	n, w := int((b.to-b.from)/unit), int(b.width/unit)
	for range 1 + r.IntN(5) {
		p := patch{Rect: model.Rect{From: b.from + model.Length(r.IntN(n))*unit,
			Left: model.Length(r.IntN(w)) * unit}}
		p.To, p.Right = min(b.to, p.From+model.Length(1+r.IntN(2))*unit),
			min(b.width, p.Left+model.Length(1+r.IntN(2))*unit)
		for f := range p.tolerated {
			p.tolerated[f] = r.IntN(2) == 0
		}
		b.patches = append(b.patches, p)
	}
	b.trimming, b.shortest, b.narrowest = true, min(b.shortest, 2*unit), min(b.narrowest, unit)
	*b = *sortPatches(b)
}

// Where the kerfs share nothing with the sizes, no layout at any point is better than those whose
// pieces start at places.
func TestOddKerfsGiveTheBestLayout(t *testing.T) {
	r := rand.New(rand.NewPCG(93, 94))
	var one boardSearch
	rounds, fewer, spanned, ripping := 40_000, 0, 0, 0
	if testing.Short() {
		rounds = 2000
	}
	for n := range rounds {
		unit := model.Length(2 + r.IntN(3))
		b, items, _, _ := randomRipped(r, handmade.Pick(r, 6, 8), handmade.Pick(r, 4, 5), unit)
		if n%2 == 0 {
			crowd(r, b, unit)
		}
		if n%3 > 0 {
			setRips(r, b)
		}
		kc, kr := oddKerfs(r, b, unit)
		got := one.judge(t, n, b, items, kc, kr)
		if one.ofColumn.n < (one.m+one.rip)/2 || one.ofLengths.n < (one.n+one.kerf)/2 {
			fewer++
		}
		if got.rip > got.crosscut {
			ripping++
		}
		if got.spans > max(got.rip, got.crosscut) {
			spanned++
		}
	}
	if fewer < rounds/4 || ripping < rounds/100 || spanned < rounds/2000 {
		t.Errorf("of %d boards %d have few places, %d are better ripped first, %d over a span of "+
			"their own: too few to trust", rounds, fewer, ripping, spanned)
	}
}

// everyPoint works a board out with a place at every point.
func (r *boardSearch) everyPoint(b *Board, items []Item, kerf, rip model.Length) int64 {
	r.Board, r.items = b, items
	if why := r.measure(kerf, rip); why != "" {
		panic(why)
	}
	r.toGrid()
	if why := r.findPlaces(); why != "" {
		panic(why)
	}
	r.everywhere()
	most := bestOfBoth(r.crosscutFirst(), r.ripFirst())
	for s := range r.eachSpan() {
		allPlaces(&r.ofBlanks, r.n+r.kerf)
		search := r.ripRows(func(width int) int64 { return 1 << 60 })
		if v := bestOfBoth(search, kindSearch{find: func() int64 { return impossible }}); v >
			impossible {
			most = max(most, v+s.ends)
		}
	}
	if most <= impossible {
		most = r.rectWorth(0, r.n, 0, r.m)
	}
	return most
}

// Larger boards of such kerfs give at their places what they give with a place at every point.
func TestPlacesOfLargerBoardsAreEnough(t *testing.T) {
	r := rand.New(rand.NewPCG(95, 96))
	var one, other boardSearch
	rounds, few, spots := 6000, 0, 0
	if testing.Short() {
		rounds = 200
	}
	for n := range rounds {
		b, items, kc, kr := largerBoard(r)
		if n%2 == 0 {
			b, items = valuedGaps(r, b, items)
		}
		if n%3 > 0 {
			unit := model.Length(2 + r.IntN(4))
			b, items = scaledUp(b, items, unit)
			kc, kr = oddKerfs(r, b, unit)
		}
		got, why := one.one(b, items, kc, kr)
		if want := other.everyPoint(b, items, kc, kr); got != want || why != "" {
			t.Fatalf("%d: %+v, items %+v, kerfs %d and %d: gives %d %s, at every point %d", n, *b,
				items, kc, kr, got, why, want)
		}
		if one.ofLengths.n < one.n/2 {
			few++
		}
		if len(one.spots) > 0 && one.ofBoard.n < one.m/2 {
			spots++
		}
	}
	if few < rounds/10 || spots < rounds/25 {
		t.Errorf("of %d boards %d have few places along, %d few across between defects", rounds,
			few, spots)
	}
}

// valuedGaps is a board with few blanks, on which most of the worth lies in what is left.
func valuedGaps(r *rand.Rand, b *Board, items []Item) (*Board, []Item) {
	whole := 100 + r.Int64N(200)
	b.slope = model.Slope{Whole: whole, Strip: whole - r.Int64N(3)*r.Int64N(20)}
	b.keep, b.shortest, b.narrowest = min(b.keep, model.Length(r.IntN(6))), 1, 1
	b.keepWidth, b.trimming = model.Length(r.IntN(int(b.width)/2)), true
	b.ripping = r.Int64N(handmade.Pick[int64](r, 1, 20))
	items = items[:min(len(items), 1+r.IntN(3))]
	for k := range items {
		i := &items[k]
		i.length = min(i.length, model.Length(5+r.IntN(20)))
		if !i.whole {
			i.width = min(i.width, model.Length(2+r.IntN(6)))
		}
		i.dual = int64(i.length*i.width) * whole * (60 + r.Int64N(100)) / 100
	}
	for k := range b.patches {
		p := &b.patches[k]
		p.To = min(b.to, p.To+model.Length(r.IntN(20)))
		p.tolerated[model.Sound] = p.tolerated[model.Hidden] && r.IntN(2) == 0
	}
	return sortPatches(b), items
}

// scaledUp is a board with its blanks, all sizes times a unit.
func scaledUp(b *Board, items []Item, unit model.Length) (*Board, []Item) {
	out := *b
	out.patches = slices.Clone(b.patches)
	for _, l := range []*model.Length{&out.from, &out.to, &out.keep, &out.width, &out.inset,
		&out.keepWidth, &out.shortest, &out.narrowest} {
		*l *= unit
	}
	for k := range out.patches {
		p := &out.patches[k].Rect
		p.From, p.To, p.Left, p.Right = p.From*unit, p.To*unit, p.Left*unit, p.Right*unit
	}
	items = slices.Clone(items)
	for k := range items {
		items[k].length, items[k].width = items[k].length*unit, items[k].width*unit
	}
	return &out, items
}

// What would take too much memory or too long is refused; one less is not.
func TestBoardsPastTheLimitsAreRefused(t *testing.T) {
	board := func(long, wide model.Length, items int) (*Board, []Item) {
		b := &Board{unit: 1, to: long, width: wide, trimming: true, keepWidth: wide,
			slope: model.Slope{Whole: 1}}
		var out []Item
		for k := range items {
			out = append(out, Item{length: long - model.Length(k), width: 1, dual: 1})
		}
		return b, out
	}
	var one boardSearch
	for _, c := range []struct {
		what string
		made func(more model.Length) (*Board, []Item)
		want string
	}{
		{"defects", func(more model.Length) (*Board, []Item) {
			b, items := board(1000, 2, 1)
			for k := range maxPatches + more {
				b.patches = append(b.patches,
					patch{Rect: model.Rect{From: 2 * k, To: 2*k + 1, Right: 2}})
			}
			return b, items
		}, "129 defects, over 128"},
		{"places", func(more model.Length) (*Board, []Item) {
			b, items := board(maxPlaces-2+more, 3, 2) // parts of 2 and 3 reach all
			items[0].length, items[1].length = 1, 2
			return b, items
		}, "524289 places along, over 524288"},
		{"cells", func(more model.Length) (*Board, []Item) {
			b, items := board(4, maxCells/4-2+more, 4)
			for k := range items {
				items[k].length, items[k].width = 4, model.Length(1+k)
			}
			return b, items
		}, "1048580 widths at places across, over 1048576"},
	} {
		b, items := c.made(1)
		if _, why := one.one(b, items, 1, 1); !strings.Contains(why, c.want) {
			t.Errorf("%s: %q, want %q", c.what, why, c.want)
		}
		b, items = c.made(0)
		one.Board, one.items = b, items
		if why := one.measure(1, 1); why != "" {
			t.Errorf("%s, one less: %s", c.what, why)
		}
		one.toGrid()
		if why := one.findPlaces(); why != "" {
			t.Errorf("%s, one less: %s", c.what, why)
		}
	}
	b, items := board(1<<14, 1<<12, 1<<12)
	for k := range items {
		items[k].width = model.Length(1 + k%2)
	}
	if _, why := one.one(b, items, 1, 1); !strings.Contains(why, "steps, over 2147483648") {
		t.Errorf("%d blanks: %q", len(items), why)
	}
}

// A board at the limits of places takes no more than 200 MiB, and gives what it gives by hand: of
// pieces of 1 x 1 with kerfs of 1, as many as fit.
func TestMemoryAtTheLimits(t *testing.T) {
	b := &Board{unit: 1, to: maxPlaces - 2, width: maxCells/2 - 2, trimming: true,
		patches: []patch{{Rect: model.Rect{From: maxPlaces - 3, To: maxPlaces - 2,
			Left: maxCells/2 - 3, Right: maxCells/2 - 2}}}}
	items := []Item{{length: 1, width: 1, dual: 5}, {length: 2, width: 2, dual: 5}}
	var one boardSearch
	got, why := one.one(b, items, 1, 1)
	const along, across = (maxPlaces - 1) / 2, (maxCells/2 - 1) / 2
	if want := int64(5 * along * across); got != want || why != "" {
		t.Errorf("gives %d %s, want %d", got, why, want)
	}
	if one.ofBlanks.n != maxPlaces || one.ofBoard.n*len(one.widths) != maxCells {
		t.Errorf("%d places along and %d across, %d widths", one.ofBlanks.n, one.ofBoard.n,
			len(one.widths))
	}
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	if m.HeapAlloc > 200<<20 {
		t.Errorf("%d MiB", m.HeapAlloc>>20)
	}
	t.Logf("%d MiB in use", m.HeapAlloc>>20)
	runtime.KeepAlive(&one)
}

// A search that is stopped ends, and says so; the next one is as if there had been none.
func TestSearchesCanBeStopped(t *testing.T) {
	r := rand.New(rand.NewPCG(97, 98))
	var most Most
	stopped, later := 0, 0
	for n := range 300 {
		b, items, kc, kr := largerBoard(r)
		most.Stop = nil
		want, _ := most.One(b, items, kc, kr)
		looks := r.IntN(20)
		most.Stop = func() bool {
			looks--
			return looks < 0
		}
		switch got, why := most.One(b, items, kc, kr); {
		case why == "" && got != want:
			t.Fatalf("%d: gives %d, want %d", n, got, want)
		case why == "":
			later++
		case !strings.Contains(why, "stopped"):
			t.Fatalf("%d: %s", n, why)
		default:
			stopped++
		}
		most.Stop = nil
		if got, why := most.One(b, items, kc, kr); got != want || why != "" {
			t.Fatalf("%d: then gives %d %s, want %d", n, got, why, want)
		}
	}
	if stopped < 100 || later < 20 {
		t.Errorf("%d were stopped, %d not", stopped, later)
	}
}

// BenchmarkOddKerfs works out the boards of a shop in sixteenths of an inch with kerfs of 2.8 and
// 2.4 mm, so that the grid is 127 times as fine. It says how many times the steps and the places
// of 1/8 in that is, and how many times the time.
func BenchmarkOddKerfs(b *testing.B) {
	for _, defects := range []int{0, 3, 6} {
		b.Run(fmt.Sprintf("%d defects", defects), func(b *testing.B) {
			r := rand.New(rand.NewPCG(41, 42))
			var one boardSearch
			var took [2]time.Duration
			var steps, found [2]int
			for range b.N {
				round, items := shopBoard(r, defects, 200)
				fine, same := scaledUp(round, items, 127) // of 1/80 mm
				fine.slope.Whole, fine.slope.Strip = round.slope.Whole/127/127,
					round.slope.Strip/127/127
				for k, c := range []struct {
					board     *Board
					items     []Item
					kerf, rip model.Length
				}{{round, items, 2, 2}, {fine, same, 224, 192}} {
					start := time.Now()
					if _, why := one.one(c.board, c.items, c.kerf, c.rip); why != "" {
						b.Fatal(why)
					}
					took[k] += time.Since(start)
					steps[k] += one.n
					found[k] += one.ofLengths.n + one.ofBlanks.n
				}
			}
			b.ReportMetric(float64(steps[1])/float64(steps[0]), "times-steps")
			b.ReportMetric(float64(found[1])/float64(found[0]), "times-places")
			b.ReportMetric(float64(took[1])/float64(took[0]), "times-time")
		})
	}
}
