package queue

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// What is pushed, popped and changed comes out in the order of a list that is sorted each time.
func TestTheLeastIsNext(t *testing.T) {
	type thing struct{ n int }
	rng := rand.New(rand.NewPCG(5, 8))
	random := func() *thing { return &thing{rng.IntN(50)} }
	for range 300 {
		var list []*thing
		for range rng.IntN(9) {
			list = append(list, random())
		}
		q := New(func(a, b *thing) bool { return a.n < b.n }, slices.Clone(list)...)
		for range 60 {
			slices.SortStableFunc(list, func(a, b *thing) int { return a.n - b.n })
			if q.Len() != len(list) || len(list) > 0 && q.First().n != list[0].n {
				t.Fatalf("%d in the queue, %d in the list, or another is first", q.Len(), len(list))
			}
			switch kind := rng.IntN(3); {
			case len(list) == 0 || kind == 0:
				one := random()
				q.Push(one)
				list = append(list, one)
			case kind == 1:
				q.First().n = rng.IntN(50)
				q.Moved()
			default:
				one := q.Pop()
				list = slices.DeleteFunc(list, func(o *thing) bool { return o == one })
			}
		}
	}
}
