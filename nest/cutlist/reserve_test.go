package cutlist

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// oneByOne is the rule of the reserve as it is written, a board at a time.
func oneByOne(spares []*spare, need int64) []int64 {
	extra := make([]int64, len(spares))
	for need > 0 {
		var next *spare
		for _, s := range spares { // the cheapest board that covers the rest
			if s.left > extra[s.offer] && s.length >= need && (next == nil || s.cost < next.cost) {
				next = s
			}
		}
		if next == nil {
			for _, s := range spares { // the cheapest for its length
				if s.left > extra[s.offer] &&
					(next == nil || s.cost*next.length < next.cost*s.length) {
					next = s
				}
			}
		}
		if next == nil {
			break
		}
		extra[next.offer]++
		need -= next.length
	}
	return extra
}

// Boards taken many at a time are those taken one by one.
func TestReserveIsTakenByTheRule(t *testing.T) {
	r := rand.New(rand.NewPCG(23, 24))
	short := 0
	for n := range 3000 {
		var all, again []*spare
		sum := int64(0)
		for i := range r.IntN(5) {
			s := spare{i, 1 + r.Int64N(12), 1 + r.Int64N(12), r.Int64N(12)}
			sum += s.left * s.length
			two := s
			all, again = append(all, &s), append(again, &two)
		}
		need := r.Int64N(120)
		want, got := oneByOne(all, need), make([]int64, len(all))
		if choose(again, need, got); fmt.Sprint(want) != fmt.Sprint(got) {
			t.Fatalf("case %d: %v, by the rule %v", n, got, want)
		}
		met := int64(0)
		for i := range got {
			met += got[i] * all[i].length
		}
		if met < need && met < sum {
			t.Fatalf("case %d: %d of %d, and more is for sale", n, met, need)
		}
		if met < need {
			short++
		}
	}
	if short < 200 {
		t.Errorf("only %d cases were short", short)
	}
}
