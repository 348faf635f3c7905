package along

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// Stairs are what a table of all lengths says, with and without the empty sum, however little the
// lengths share, and slides what trying all lengths for the pieces gives.
func TestStairsAreATableOfAllLengths(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 32))
	steps := 0
	for n := range 3000 {
		most, kerf, keep := 1+r.Int64N(400), r.Int64N(9), r.Int64N(60)
		slope := r.Int64N(4)
		empty := r.IntN(2) == 0
		table := slices.Repeat([]int64{-1}, int(most)+1) // of sets that come to a length
		table[0] = 0
		var s []stair
		if empty {
			s = []stair{{}}
		}
		for range 1 + r.IntN(5) {
			advance, dual, copies := 5+r.Int64N(90)+kerf, r.Int64N(50), r.Int64N(8)
			if r.IntN(3) == 0 {
				dual = advance // all sums count
			}
			s = addItem(s, advance, dual, copies, most, empty)
			for range copies {
				for x := most; x >= advance; x-- {
					if v := table[x-advance]; v >= 0 {
						table[x] = max(table[x], v+dual)
					}
				}
			}
		}
		if !empty {
			table[0] = -1
		}
		steps += len(s)
		best := int64(-1)
		for x, v := range table {
			best = max(best, v)
			got := int64(-1)
			for _, a := range s {
				if a.from <= int64(x) {
					got = a.gives
				}
			}
			if got != best {
				t.Fatalf("board %d: %d at %d, the table says %d: %v", n, got, x, best, s)
			}
		}
		if !empty {
			continue
		}
		sl := newSlide(s, slope, kerf, keep)
		for x := range most + 1 {
			want := int64(0)
			for used, v := range table[:x+1] {
				if v >= 0 {
					want = max(want, v+slope*max(0, x-int64(used)-kerf-keep))
				}
			}
			if got := sl.at(x); got != want {
				t.Fatalf("board %d: slide %d at %d, the table says %d: %v", n, got, x, want, sl)
			}
		}
	}
	if steps < 20_000 {
		t.Errorf("%d steps are too few to trust", steps)
	}
}

// Stairs that are halved are nowhere lower, and no higher than the old ones one step on.
func TestHalvedStairsAreNotLower(t *testing.T) {
	r := rand.New(rand.NewPCG(33, 34))
	for range 500 {
		var s []stair
		for x, v := int64(0), int64(0); len(s) < 1+r.IntN(40); {
			s = append(s, stair{x, v})
			x, v = x+1+r.Int64N(9), v+1+r.Int64N(9)
		}
		out := halved(slices.Clone(s))
		if len(out) != (len(s)+1)/2 {
			t.Fatalf("%d steps of %d", len(out), len(s))
		}
		for k, a := range s {
			next := s[min(k+1, len(s)-1)]
			if h := out[k/2]; h.from > a.from || h.gives < a.gives || h.gives > next.gives {
				t.Fatalf("step %v is within %v", a, h)
			}
		}
	}
}
