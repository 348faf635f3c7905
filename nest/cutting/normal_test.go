package cutting

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
)

// By hand: a stock 100 x 20, insets of 1, kerfs of 2, offcuts from 10 x 5 on. Items are 0: 30 x 8,
// 1: 30 x 6, 2: 20 x 12, 3: 20 x 12. The classes of 1 and 3 tolerate the spot.
func TestNormal(t *testing.T) {
	spot := Spot{From: 10, To: 20, Tolerated: [Classes]bool{false, true, true}, Left: 14, Right: 20}
	elsewhere := spot
	elsewhere.Left, elsewhere.Right = 0, 4
	for _, c := range []struct {
		why      string
		spots    []Spot
		in, want Pattern
	}{
		{"a piece that leaves too narrow a rest takes the whole width", nil,
			Pattern{Places: []Place{{2, 0, 2, 14}}}, Pattern{Places: []Place{{2, 0, 0, 20}}}},
		{"a piece with an offcut beside it does not", nil,
			Pattern{Places: []Place{{2, 0, 1, 13}}}, Pattern{Places: []Place{{2, 0, 1, 13}}}},
		{"nor one that would lie over a spot", []Spot{spot},
			Pattern{Places: []Place{{2, 0, 2, 14}}}, Pattern{Places: []Place{{2, 0, 2, 14}}}},
		{"unless its class tolerates it", []Spot{spot},
			Pattern{Places: []Place{{3, 0, 2, 14}}}, Pattern{Places: []Place{{3, 0, 0, 20}}}},
		{"but then, too, what is left on the right, 6 wide, may be an offcut", []Spot{elsewhere},
			Pattern{Places: []Place{{1, 0, 6, 12}}}, Pattern{Places: []Place{{1, 0, 6, 12}}}},
		{"two beside each other stay, in order", nil,
			Pattern{Places: []Place{{1, 40, 11, 17}, {0, 40, 1, 9}, {2, 0, 4, 16}}},
			Pattern{Places: []Place{{2, 0, 0, 20}, {0, 40, 1, 9}, {1, 40, 11, 17}}}},
		{"one strip with nothing beside it is crosscut, and its gaps are then as wide as the stock",
			nil,
			Pattern{First: RipFirst, Places: []Place{{2, 40, 4, 16}, {1, 0, 4, 10}}, Worth: 5},
			// 20 x 20 x (100 - 62 - 10); between the two too little
			Pattern{Places: []Place{{1, 0, 0, 20}, {2, 40, 0, 20}}, Worth: 20 * 20 * 28}},
		{"two strips are two", nil,
			Pattern{First: RipFirst, Places: []Place{{0, 0, 11, 19}, {0, 32, 1, 9}, {0, 0, 1, 9}},
				Worth: 5},
			Pattern{First: RipFirst, Places: []Place{{0, 0, 1, 9}, {0, 32, 1, 9}, {0, 0, 11, 19}},
				Worth: 5}},
		{"what is trimmed off a piece may be an offcut", nil,
			Pattern{First: RipFirst, Places: []Place{{2, 22, 2, 14}, {1, 60, 2, 7}}},
			Pattern{First: RipFirst, Places: []Place{{2, 22, 2, 14}, {1, 60, 2, 7}}}},
	} {
		p := &Problem{Items: []Item{{Size: 30, Width: 8}, {Size: 30, Width: 6, Class: 1},
			{Size: 20, Width: 12}, {Size: 20, Width: 12, Class: 1}}, Kerf: 2, Rip: 2,
			Stocks: []Stock{{To: 100, Keep: 10, Slope: 20, Spots: c.spots,
				Across: &Across{Width: 20, Inset: 1, Keep: 5, Strip: 12, Trim: true,
					Narrowest: 2}}}}
		before := slices.Clone(c.in.Places)
		if got := p.Normal(c.in); !reflect.DeepEqual(got, c.want) ||
			!slices.Equal(c.in.Places, before) {
			t.Errorf("%s:\n got %+v\nwant %+v", c.why, got, c.want)
		}
	}
}

// Of random layouts: the same pieces in the same places along the stock, none sawn anew, worth at
// least as much, in normal form already; and a piece takes the whole width only where it may.
func TestNormalOfRandomPatterns(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	changed := [2]int{}
	for n := range 20000 {
		p, pat := randomRipped(r)
		pat.Worth = p.Worth(&pat)
		got := p.Normal(pat)
		if again := p.Normal(got); !reflect.DeepEqual(got, again) {
			t.Fatalf("%d: %+v, then %+v", n, got, again)
		}
		if got.Worth != p.Worth(&got) || got.Worth < pat.Worth ||
			len(got.Places) != len(pat.Places) {
			t.Fatalf("%d: %+v worth %d of %+v", n, got, p.Worth(&got), pat)
		}
		for _, pl := range got.Places {
			same := slices.Contains(pat.Places, pl)
			sawn := slices.ContainsFunc(pat.Places, func(o Place) bool {
				return o.Item == pl.Item && o.At == pl.At && o.Right-o.Left < 20
			})
			if whole := pl.Left == 0 && pl.Right == 20; !same &&
				(!whole || !sawn || !p.Legal(0, Place{Item: pl.Item, At: pl.At, Right: 20})) {
				t.Fatalf("%d: %+v of %+v", n, pl, pat)
			}
		}
		if !reflect.DeepEqual(got.Places, pat.Places) {
			changed[pat.First]++
		}
	}
	if min(changed[0], changed[1]) < 100 {
		t.Errorf("changed %v", changed)
	}
}

// randomRipped is a stock 60 x 20 with a layout of up to three lengths or strips of up to three
// pieces.
func randomRipped(r *rand.Rand) (*Problem, Pattern) {
	n := func(lo, hi int64) int64 { return lo + r.Int64N(hi-lo+1) }
	a := &Across{Width: 20, Keep: n(1, 8), Trim: true}
	p := &Problem{Kerf: n(0, 2), Rip: n(0, 2),
		Stocks: []Stock{{To: 60, Keep: n(0, 12), Slope: n(0, 5), Across: a}}}
	a.Strip = n(0, p.Stocks[0].Slope)
	for range n(0, 3) {
		sp := Spot{From: n(0, 55), Left: n(0, 19)}
		sp.To, sp.Right = min(60, sp.From+n(1, 9)), min(20, sp.Left+n(1, 9))
		sp.Tolerated[2] = r.IntN(2) == 0
		p.Stocks[0].Spots = append(p.Stocks[0].Spots, sp)
	}
	slices.SortFunc(p.Stocks[0].Spots, func(x, y Spot) int { return int(x.From - y.From) })
	t := Pattern{First: FirstCut(r.IntN(2))}
	outer, inner, ko, ki, longest := int64(60), int64(20), p.Kerf, p.Rip, int64(20)
	if t.First == RipFirst {
		outer, inner, ko, ki, longest = inner, outer, ki, ko, 18
	}
	for at := n(0, 4); len(t.Places) == 0 || r.IntN(2) > 0; {
		deep := n(2, longest)
		if at+deep > outer {
			break
		}
		full, x := true, n(0, 6)
		for full || r.IntN(2) > 0 {
			d, wide := n(1, deep), n(1, inner-1)
			if full {
				d = deep
			}
			if x+wide > inner {
				if full {
					x, wide = 0, inner/2
				} else {
					break
				}
			}
			it, pl := Item{Size: d, Width: wide, Class: int(n(0, 2))},
				Place{Item: len(p.Items), At: at, Left: x, Right: x + wide}
			if t.First == RipFirst {
				it.Size, it.Width = wide, d
				pl.At, pl.Left, pl.Right = x, at, at+d
			}
			p.Items, t.Places = append(p.Items, it), append(t.Places, pl)
			full, x = false, x+wide+ki+n(0, 3)
		}
		at += deep + ko + n(0, 6)
	}
	return p, t
}
