package rows

import (
	"testing"

	"rackwright/nest/price/counts"
)

// More states than one block holds: of n unlike things that all fit, each set but the empty one is
// listed once, worth what its things are, and can be traced.
func TestStatesOfSeveralBlocks(t *testing.T) {
	const things = 14
	most, prices := make([]int64, things), make([]int64, things)
	for i := range most {
		most[i], prices[i] = 1, 1<<i
	}
	form := counts.NewForm(most)
	end := func(int64) int64 { return 0 }
	s := &Stages{Form: form, End: end, Most: 1 << things,
		Limit: &Limit{Steps: 1 << 40, Kept: 1 << 40}}
	var kinds []Kind
	for i := range things {
		s.All = append(s.All, Stage{Size: 1, Rows: []Row{{form.One(i), 1, prices[i]}}})
		kinds = append(kinds, Kind{Size: 1, Value: prices[i], Most: 1})
	}
	s.Tails = NewTails(kinds, things, 1, end)
	if !s.List(things) || s.states.n != 1<<things || len(s.states.blocks) != 1<<things/inBlock {
		t.Fatalf("%d states in %d blocks", s.states.n, len(s.states.blocks))
	}
	seen := map[int64]bool{}
	s.Each(func(c counts.Counts, value int64, state int) {
		puts, room := s.Puts(state)
		var sum int64
		for _, p := range puts {
			sum += prices[p.Stage]
		}
		if seen[value] || value != form.Value(c, prices) || sum != value ||
			room != int64(things-len(puts)) {
			t.Fatalf("%v is worth %d, made of %v, which leave %d", form.All(c), value, puts, room)
		}
		seen[value] = true
	})
	if len(seen) != 1<<things-1 {
		t.Errorf("%d sets are listed, want %d", len(seen), 1<<things-1)
	}
}
