package sawing

import (
	"context"
	"math/rand/v2"
	"testing"
)

// A month of ten thousand cuts gets a whole order by both ways, and at once where the context has
// ended; both are below the plain order's minutes.
func TestLargeShop(t *testing.T) {
	s := largeShop()
	ended, end := context.WithCancel(t.Context())
	end()
	for _, ctx := range []context.Context{t.Context(), ended} {
		time := s.leastTime(ctx)
		wantWhole(t, s, time)
		clutter, _ := s.leastClutter(ctx, time)
		wantWhole(t, s, clutter)
		boards := make([]int, len(s.wood))
		for b := range boards {
			boards[b] = b
		}
		plain := s.measure(s.boardByBoard(boards))
		if m := s.measure(time); 3*m.Minutes > 2*plain.Minutes {
			t.Errorf("least time takes %v minutes, board by board %v", m.Minutes, plain.Minutes)
		}
		if m := s.measure(clutter); m.Minutes > plain.Minutes || m.Open > plain.Open {
			t.Errorf("least clutter takes %v minutes with %d open, board by board %v with %d",
				m.Minutes, m.Open, plain.Minutes, plain.Open)
		}
	}
}

// largeShop has about ten thousand cuts of two kinds of wood, for forty commissions.
func largeShop() *shop {
	s := randomShop(rand.New(rand.NewPCG(1, 2)), 1600, 40)
	s.job.Settings.Work.Setting, s.job.Settings.Work.Lift = 1500, 500
	s.parties, s.due = 40, make([]int64, 40)
	for b := range s.whose {
		s.whose[b] = []int{b * 40 / len(s.whose), min(39, b*40/len(s.whose)+b%3)}
		if s.whose[b][0] == s.whose[b][1] {
			s.whose[b] = s.whose[b][:1]
		}
	}
	return s
}

func BenchmarkLeastTime(b *testing.B) {
	s := largeShop()
	for b.Loop() {
		s.leastTime(b.Context())
	}
}

func BenchmarkLeastClutter(b *testing.B) {
	s := largeShop()
	order := s.leastTime(b.Context())
	for b.Loop() {
		s.leastClutter(b.Context(), order)
	}
}
