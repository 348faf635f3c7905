package across

import (
	"math/rand/v2"
	"strings"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

// offGrid makes a board whose measures share next to nothing, and steps for it.
func offGrid(r *rand.Rand, longest, widest int, times int64) (b *Board, items []Item, kc, kr,
	along, across model.Length) {
	b, items, kc, kr = randomRipped(r, longest, widest, 1)
	if r.IntN(2) == 0 {
		setRips(r, b)
	}
	other := func(x *model.Length, least model.Length) {
		*x = max(least, *x*model.Length(times)+model.Length(r.Int64N(times)-times/2))
	}
	b.to -= b.from
	other(&b.to, 1)
	other(&b.width, 1)
	b.to += b.from
	for _, x := range []*model.Length{&kc, &kr, &b.inset, &b.shortest, &b.narrowest} {
		other(x, 0)
	}
	for n := range items {
		i := &items[n]
		other(&i.length, 1)
		other(&i.width, 1)
		if i.whole {
			i.width = b.width
		} else if r.IntN(4) == 0 { // it goes from edge to edge of what may be sawn
			i.width = max(1, b.width-2*b.inset)
		}
	}
	kept := b.patches[:0]
	for _, p := range b.patches {
		for _, x := range []*model.Length{&p.From, &p.To, &p.Left, &p.Right} {
			other(x, 0)
		}
		p.From, p.To = max(p.From, b.from), min(p.To, b.to)
		if p.Right = min(p.Right, b.width); p.From < p.To && p.Left < p.Right {
			kept = append(kept, p)
		}
	}
	b.patches = kept
	along, across = handmade.Pick[model.Length](r, 0, 2, 3, 4), handmade.Pick[model.Length](r, 0, 2,
		3, 4)
	b.keep = 2*along + model.Length(r.IntN(2)*r.IntN(4))
	b.keepWidth = across + model.Length(r.IntN(2)*r.IntN(4))
	if r.IntN(2) == 0 { // offcuts are worth about as much as blanks, so that all depends on gaps
		b.slope.Whole = 8 + r.Int64N(8)
		b.slope.Strip = b.slope.Whole - r.Int64N(2)*r.Int64N(3)
		items = items[:1+r.IntN(min(2, len(items)))]
		for n := range items {
			i := &items[n]
			i.dual = int64(i.length*i.width)*b.slope.Strip*r.Int64N(4)/2 + r.Int64N(3)
		}
		b.ripping = handmade.Pick(r, 0, b.ripping)
	}
	return sortPatches(b), items, kc, kr, along, across
}

// No board gives more than its bound on a coarser grid, whatever its defects, its blanks and its
// rips, where it has a layout at all. What the exact search gives is tried against all layouts
// elsewhere; here they are tried as well.
func TestOnGridIsNeverBelowTheExactBest(t *testing.T) {
	r := rand.New(rand.NewPCG(87, 88))
	var most Most
	rounds, tried, worse, finer, refused, all := 60_000, 0, 0, 0, 0, 0
	if testing.Short() {
		rounds = 6000
	}
	for n := range rounds {
		b, items, kc, kr, along, across := offGrid(r, 10, 6, 3)
		got, why := most.OnGrid(b, items, kc, kr, along, across)
		if why != "" {
			refused++
			continue
		}
		exact, _ := most.One(b, items, kc, kr)
		rough, _ := b.Rough(items, kc, kr)
		if !hasLayout(b, items, kc, kr) {
			continue
		}
		tried++
		if got < exact || got > rough {
			t.Fatalf("%d: %+v, items %+v, kerfs %d and %d, grid %d and %d: %d on the grid, %d exact, "+
				"%d by area", n, *b, items, kc, kr, along, across, got, exact, rough)
		}
		if got > exact {
			worse++
		}
		if got < rough {
			finer++
		}
		if n%10 == 0 && b.to-b.from <= 20 && b.width <= 8 {
			all++
			if best := newEveryLayout(b, items, kc, kr).best(); got < best {
				t.Fatalf("%d: %+v, items %+v, kerfs %d and %d, grid %d and %d: %d on the grid, a "+
					"layout %d", n, *b, items, kc, kr, along, across, got, best)
			}
		}
	}
	if tried < rounds/2 || worse < tried/3 || worse > tried*9/10 || finer < tried/2 ||
		all < rounds/1000 {
		t.Errorf("of %d boards %d are tried, %d of them against all layouts; %d give more than "+
			"exactly, %d less than by area: too few to trust", rounds, tried, all, worse, finer)
	}
}

// A grid is too coarse for a board where it would lose a blank, a strip, what is worth keeping or a
// weak defect beside which the board may be ripped first. A board is so refused just past that.
func TestGridsTooCoarse(t *testing.T) {
	var most Most
	for _, c := range []struct {
		what          string
		along, across model.Length
		change        func(b *Board, i *Item)
		want          string
	}{
		{"all fits", 4, 4, func(*Board, *Item) {}, ""},
		{"keep", 4, 0, func(b *Board, _ *Item) { b.keep = 7 }, "what is worth keeping"},
		{"as it is", 0, 0, func(b *Board, _ *Item) { b.keep, b.keepWidth = 0, 0 }, ""},
		{"strip", 0, 4, func(b *Board, _ *Item) { b.keepWidth = 3 }, "a strip worth keeping"},
		{"width", 0, 4, func(b *Board, i *Item) { b.width, i.width, i.whole = 3, 3, true },
			"a strip worth keeping"},
		{"blank", 4, 0, func(_ *Board, i *Item) { i.length = 3 }, "a blank"},
		{"narrow blank", 0, 4, func(_ *Board, i *Item) { i.width = 3 }, "a blank"},
		{"whole blank", 0, 4, func(_ *Board, i *Item) { i.width, i.whole = 3, true }, ""},
		{"defect", 4, 0, func(b *Board, _ *Item) { b.patches[0].To = 14 }, ""},
		{"weak defect", 4, 0, func(b *Board, _ *Item) { b.patches[0].weak = true }, ""},
		{"short weak defect", 4, 0, func(b *Board, _ *Item) {
			b.patches[0].weak, b.patches[0].To = true, 15
		}, "a weak defect"},
		{"weak over all the length", 4, 4, func(b *Board, _ *Item) {
			b.patches[0] = patch{Rect: model.Rect{To: 40, Left: 4, Right: 6}, weak: true}
		}, ""},
	} {
		b := &Board{unit: 1, to: 40, width: 12, keep: 8, keepWidth: 4, trimming: true,
			patches: []patch{{Rect: model.Rect{From: 8, To: 24, Right: 12}}}}
		items := []Item{{length: 9, width: 5, dual: 7}}
		c.change(b, &items[0])
		_, why := most.OnGrid(b, items, 0, 0, c.along, c.across)
		if c.want == "" && why != "" || !strings.Contains(why, c.want) {
			t.Errorf("%s: %q, want %q", c.what, why, c.want)
		}
	}
}

// hasLayout says whether any blank may lie on a board: then a dear one makes it worth more.
func hasLayout(b *Board, items []Item, kc, kr model.Length) bool {
	var most Most
	dear := append([]Item(nil), items...)
	for n := range dear {
		dear[n].dual = 1 << 40
	}
	v, why := most.One(b, dear, kc, kr)
	return why == "" && v > 1<<39
}
