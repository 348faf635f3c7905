package patterns

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"
)

// Sums of vectors have one number each, and count what was added up, as far as it is wanted; of
// what is found with them the greatest value counts.
func TestVectorsCountAsMapsDo(t *testing.T) {
	r := rand.New(rand.NewPCG(51, 52))
	var f Found
	refused, twoWords := 0, 0
	for n := range 200 {
		items := make([]Item, 1+r.IntN(30))
		for k := range items {
			items[k] = Item{Number: 100 + k, Dual: r.Int64N(50),
				Demand: 1 + r.Int64N(1<<r.IntN(10))}
		}
		f.Start(items, 1<<20)
		if f.words > 1 {
			twoWords++
		}
		met := map[string]int32{fmt.Sprint(make([]int64, len(items))): 0}
		counts := [][]int64{make([]int64, len(items))} // by number
		best := map[int32]int64{}
		for range 300 {
			a, b, one := r.IntN(len(counts)), r.IntN(len(counts)), r.IntN(len(items))
			sum, fits := slices.Clone(counts[a]), true
			var id int32
			if r.IntN(2) == 0 {
				if sum[one]++; sum[one] > items[one].Demand {
					continue
				}
				id = f.OneMore(int32(a), one)
			} else {
				for k := range sum {
					sum[k] += counts[b][k]
					fits = fits && sum[k] <= items[k].Demand
				}
				var ok bool
				if id, ok = f.Plus(int32(a), int32(b)); ok != fits {
					t.Fatalf("%d: %v and %v fit: %v", n, counts[a], counts[b], ok)
				}
				if !fits {
					refused++
					continue
				}
			}
			if f.Of(sum) != id {
				t.Fatalf("%d: %v has the numbers %d and %d", n, sum, id, f.Of(sum))
			}
			old, known := met[fmt.Sprint(sum)]
			if !known {
				old = int32(len(counts))
				met[fmt.Sprint(sum)], counts = old, append(counts, sum)
			}
			if old != id {
				t.Fatalf("%d: %v is number %d, want %d", n, sum, id, old)
			}
			for k := range items {
				if f.Count(id, k) != sum[k] {
					t.Fatalf("%d: %v has %d of item %d", n, sum, f.Count(id, k), k)
				}
			}
			v := r.Int64N(2000) - 1000
			if old, some := best[id]; id > 0 && (!some || v > old) {
				best[id] = v
			}
			f.Add(id, v)
		}
		got := map[int32]int64{}
		for _, p := range f.Patterns() {
			all, value := make([]int64, len(items)), p.Worth
			for _, take := range p.Takes {
				all[take.Item-100] = take.Copies
				value += take.Copies * items[take.Item-100].Dual
			}
			got[met[fmt.Sprint(all)]] = value
		}
		if !maps.Equal(got, best) || f.n != len(best) {
			t.Fatalf("%d: found %v, want %v", n, got, best)
		}
	}
	if refused < 1000 || twoWords < 50 {
		t.Errorf("%d sums were refused, %d times a vector had two words", refused, twoWords)
	}
}

// No more patterns are found than there may be, however often each is.
func TestFoundIsLimited(t *testing.T) {
	var f Found
	f.Start([]Item{{Demand: 9}}, 2)
	for k, want := range []bool{true, true, true, true, false} {
		if got := f.Add([]int32{0, 1, 2, 1, 3}[k], -5); got != want {
			t.Errorf("pattern %d: %v", k, got)
		}
	}
}

// Of labels alike in place, state and pieces one is kept, with the greatest value and the least
// last thing.
func TestLabelsKeepTheBest(t *testing.T) {
	r := rand.New(rand.NewPCG(53, 54))
	var l Labels
	type key struct{ place, state, vec int32 }
	type kept struct {
		value int64
		last  int32
	}
	for n := range 20 {
		const places = 7
		l.Start(places)
		want := map[key]kept{}
		for range 5000 {
			k := key{r.Int32N(places), r.Int32N(5), r.Int32N(40)}
			one := Label{r.Int64N(1000) - 500, k.vec, k.place, k.state, r.Int32N(9), 0}
			l.Put(one)
			old, some := want[k]
			if !some {
				old = kept{one.Value, one.Last}
			}
			want[k] = kept{max(old.value, one.Value), min(old.last, one.Last)}
			if v, some := l.Value(one); !some || v != want[k].value {
				t.Fatalf("%d: %v is worth %d %v, want %d", n, k, v, some, want[k].value)
			}
		}
		got := map[key]kept{}
		for place := range places {
			for one := range l.At(place) {
				got[key{one.Place, one.State, one.Vec}] = kept{one.Value, one.Last}
			}
		}
		if !maps.Equal(got, want) || l.Len() != len(want) {
			t.Fatalf("%d: kept %v, want %v", n, got, want)
		}
	}
}
