package along

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// A front has what a table of all lengths says, however little the lengths share: of each length
// the most that pieces up to it give, and a sum for it that its pieces come to.
func TestFrontIsATableOfAllLengths(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 1))
	sums := 0
	for n := range 3000 {
		a := adder{longest: 1 + r.Int64N(400)}
		table := slices.Repeat([]int64{-1}, int(a.longest)+1)
		table[0] = 0
		f := a.start(nil)
		size, value, copies := make([]int64, 1+r.IntN(5)), make([]int64, 5), make([]int64, 5)
		for i := range size {
			size[i], value[i], copies[i] = 7+r.Int64N(90), r.Int64N(50), r.Int64N(8)
			if r.IntN(3) == 0 {
				value[i] = size[i] // all sums count
			}
			f = a.add(f, i, copies[i], size[i], value[i])
			for range copies[i] {
				for x := a.longest; x >= size[i]; x-- {
					if v := table[x-size[i]]; v >= 0 {
						table[x] = max(table[x], v+value[i])
					}
				}
			}
		}
		sums += len(f)
		for _, s := range f {
			length, worth := int64(0), int64(0)
			left := slices.Clone(copies)
			for _, i := range a.pieces(s) {
				length, worth = length+size[i], worth+value[i]
				if left[i]--; left[i] < 0 {
					t.Fatalf("front %d: too many copies in %v", n, a.pieces(s))
				}
			}
			if length != s.length || worth != s.value {
				t.Fatalf("front %d: %+v is of %v", n, s, a.pieces(s))
			}
		}
		slope, kerf, keep := r.Int64N(4), r.Int64N(7), r.Int64N(60)
		first := r.IntN(2)
		s := newScale(f, first, slope)
		for x := range a.longest - kerf {
			want, at := int64(-1), 0
			for used, v := range table[:x+kerf+1] {
				if v < 0 || used == 0 && first == 1 {
					continue
				}
				if v += slope * max(0, x-int64(used)-keep); v > want {
					want, at = v, used
				}
			}
			got, k, ok := s.most(x, kerf, keep)
			if ok != (want >= 0) || ok && (got != want || first == 1 && f[k].length != int64(at)) {
				t.Fatalf("front %d: %d of %d at %d, the table says %d of %d\n%v", n, got,
					f[k].length, x, want, at, f)
			}
		}
	}
	if sums < 20_000 {
		t.Errorf("%d sums are too few to trust", sums)
	}
}

// Of a thinned front no length is worth less, nor more than the next sum was.
func TestThinnedFrontIsNotLower(t *testing.T) {
	r := rand.New(rand.NewPCG(62, 1))
	for range 500 {
		f := front{{last: -1}}
		for x, v := int64(5), int64(0); len(f) < 1+r.IntN(40); {
			f = append(f, sum{length: x, value: v})
			x, v = x+1+r.Int64N(9), v+1+r.Int64N(9)
		}
		out := slices.Clone(f).thinned()
		if len(out) != 1+len(f)/2 || out[0] != f[0] {
			t.Fatalf("%v of %v", out, f)
		}
		for k, s := range f[1:] {
			next := f[min(k+2, len(f)-1)]
			if h := out[1+k/2]; h.length > s.length || h.value < s.value || h.value > next.value {
				t.Fatalf("%v is within %v", s, h)
			}
		}
	}
}

// However many sums there are, a front stays short, and above what a table says.
func TestFrontStaysShort(t *testing.T) {
	r := rand.New(rand.NewPCG(63, 1))
	a := adder{longest: 120_000}
	f := a.start(nil)
	for i := range 40 {
		size := 2000 + r.Int64N(4000)
		f = a.add(f, i, 3, size, size) // every sum counts
		if len(f) > mostSums {
			t.Fatalf("%d sums", len(f))
		}
	}
	for k := range f[1:] {
		if s := f[1+k]; s.value < s.length {
			t.Fatalf("%+v is worth less than its pieces", s)
		}
	}
	if len(f) < mostSums/4 || a.longest-f[len(f)-1].length > 100 {
		t.Errorf("%d sums up to %d", len(f), f[len(f)-1].length)
	}
}
