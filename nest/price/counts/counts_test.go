package counts

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// Sums and differences of packed counts are those of the counts one by one, and so are the limits.
func TestCountsAreAddedOneByOne(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	over, under := 0, 0
	for range 3000 {
		most := make([]int64, 1+r.IntN(40))
		for i := range most {
			most[i] = r.Int64N(1 << r.IntN(12))
		}
		f := NewForm(most)
		some := func() (Counts, []int64) {
			c, out := f.None(), make([]int64, len(most))
			for i, m := range most {
				if m == 0 {
					continue
				}
				out[i] = r.Int64N(1+m) / (1 + r.Int64N(3))
				for range out[i] {
					f.Sum(c, c, f.One(i))
				}
			}
			return c, out
		}
		a, as := some()
		b, bs := some()
		if !slices.Equal(f.All(a), as) || !slices.Equal(f.All(b), bs) {
			t.Fatalf("%v packed as %v, %v as %v", as, f.All(a), bs, f.All(b))
		}
		sum, less := f.None(), f.None()
		within, has := true, true
		sums, diffs := slices.Clone(as), slices.Clone(as)
		for i := range as {
			sums[i] += bs[i]
			diffs[i] -= bs[i]
			within = within && sums[i] <= most[i]
			has = has && diffs[i] >= 0
		}
		if f.Sum(sum, a, b) != within || within && !slices.Equal(f.All(sum), sums) {
			t.Fatalf("%v + %v = %v, within %v: %t", as, bs, f.All(sum), most, !within)
		}
		if f.Less(less, a, b) != has || has && !slices.Equal(f.All(less), diffs) {
			t.Fatalf("%v - %v = %v: %t", as, bs, f.All(less), !has)
		}
		if !within {
			over++
		}
		if !has {
			under++
		}
	}
	if over < 100 || under < 100 {
		t.Errorf("%d sums over the limits, %d differences below nothing", over, under)
	}
}

// A set numbers counts in the order in which they come, and finds them again.
func TestSetNumbersCounts(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	f := NewForm([]int64{9, 9, 9, 9, 1 << 40, 1 << 40})
	s, numbers := NewSet(f), map[[2]uint64]int{}
	for range 20000 {
		c := f.None()
		for w := range c {
			c[w] = r.Uint64N(200)
		}
		key := [2]uint64(c)
		want, known := numbers[key]
		if !known {
			want = len(numbers)
			numbers[key] = want
			if s.Find(c) >= 0 {
				t.Fatalf("%v is found before it is put", c)
			}
		}
		n, fresh := s.Put(c)
		if n != want || fresh == known || s.Find(c) != want || !slices.Equal(s.At(n), c) {
			t.Fatalf("%v is %d, %d wanted; fresh %t", c, n, want, fresh)
		}
	}
	if s.Len() != len(numbers) {
		t.Fatalf("%d counts, %d wanted", s.Len(), len(numbers))
	}
}

// Copies that are added and taken away are those of a plain count, with their worth and tally.
func TestAddAndTally(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 3))
	for range 500 {
		most, plain, prices := make([]int64, 30), make([]int64, 30), make([]int64, 30)
		for i := range most {
			most[i], prices[i] = r.Int64N(1<<r.IntN(14)), r.Int64N(1000)
		}
		f := NewForm(most)
		c := f.None()
		for range 100 {
			i := r.IntN(len(most))
			n := r.Int64N(most[i]+1) - plain[i] // to any number up to the limit
			f.Add(c, i, n)
			plain[i] += n
		}
		var worth int64
		var items, copies []int32
		for i, n := range plain {
			worth += n * prices[i]
			if n > 0 {
				items, copies = append(items, int32(i)), append(copies, int32(n))
			}
		}
		gotItems, gotCopies := f.AppendTally(nil, nil, c)
		if !slices.Equal(f.All(c), plain) || f.Value(c, prices) != worth ||
			c.Empty() != (len(items) == 0) || !f.None().Empty() ||
			!slices.Equal(gotItems, items) || !slices.Equal(gotCopies, copies) {
			t.Fatalf("%v of %v: %v, worth %d, %v %v", plain, most, f.All(c), f.Value(c, prices),
				gotItems, gotCopies)
		}
	}
}
