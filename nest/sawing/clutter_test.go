package sawing

import (
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/model"
	"rackwright/nest/cutlist"
)

// permutations calls do with every order of a list.
func permutations(list []int, do func([]int)) {
	var rec func(k int)
	rec = func(k int) {
		if k == len(list) {
			do(list)
			return
		}
		for i := k; i < len(list); i++ {
			list[k], list[i] = list[i], list[k]
			rec(k + 1)
			list[k], list[i] = list[i], list[k]
		}
	}
	rec(0)
}

// The fewest commissions are open: no order of up to six boards has fewer. Boards come one after
// the other, and no order of the boards as their units stand takes fewer minutes by much.
func TestLeastClutterIsLeast(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 12))
	var ours, theirs model.Minutes
	for n := range 300 {
		s := randomShop(r, 1+r.IntN(6), 3)
		order, exact := s.leastClutter(t.Context(), s.leastTime(t.Context()))
		wantWhole(t, s, order)
		seen := map[int]bool{}
		for i, c := range order {
			b := s.units[c.unit].Board
			if seen[b] && s.units[order[i-1].unit].Board != b {
				t.Fatalf("shop %d: board %d comes up again", n, b)
			}
			seen[b] = true
		}
		boards := make([]int, len(s.wood))
		for b := range boards {
			boards[b] = b
		}
		least, minutes := 99, model.Minutes(-1)
		permutations(boards, func(p []int) { least = min(least, s.open(s.boardByBoard(p))) })
		permutations(boards, func(p []int) {
			if m := s.measure(s.boardByBoard(p)); m.Open == least && (minutes < 0 || m.Minutes < minutes) {
				minutes = m.Minutes
			}
		})
		got := s.measure(order)
		if !exact || got.Open != least {
			t.Fatalf("shop %d: %d open, exact %v; %d will do", n, got.Open, exact, least)
		}
		ours, theirs = ours+got.Minutes, theirs+minutes
	}
	t.Logf("%v minutes; the best orders of boards, their units in turn, take %v", ours, theirs)
	if ours > theirs {
		t.Errorf("%v minutes, and %v will do", ours, theirs)
	}
}

// Who is due first comes first where that costs nothing: of two commissions that share no board,
// with boards alike, the one of lower rank.
func TestDueFirst(t *testing.T) {
	for _, due := range [][]string{{"2027-03-09", "2027-03-02"}, {"", "2027-03-02"}} {
		s := &shop{job: &model.Job{}, parties: 2, due: byDue(due)}
		for b := range 4 {
			s.wood = append(s.wood, wood{"oak", "4/4"})
			s.whose = append(s.whose, []int{b % 2})
			s.unitsOf = append(s.unitsOf, []int{b})
			s.units = append(s.units, cutlist.Unit{Board: b, Cuts: []model.Sawing{
				{Pass: 1, Saw: model.Crosscut, Setting: 5}}})
		}
		order, _ := s.leastClutter(t.Context(), s.leastTime(t.Context()))
		var boards []int
		for _, c := range order {
			boards = append(boards, c.unit)
		}
		if want := []int{1, 3, 0, 2}; !slices.Equal(boards, want) {
			t.Errorf("due %q: boards %v, want %v", due, boards, want)
		}
	}
}

// What a move changes is what all boards take after it, less what they took before; and commissions
// are counted as from the cuts.
func TestChangeOfAMove(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 9))
	for range 100 {
		s := randomShop(r, 7, 3)
		q := &sequence{saws: newSaws(s), open: make([]int, s.parties)}
		for b, units := range s.unitsOf {
			if len(units) > 0 {
				q.boards = append(q.boards, b)
			}
		}
		q.settle(t.Context())
		takes := func(boards []int) (all int64) {
			var at stands
			for _, b := range boards {
				m, then := q.saw(t.Context(), b, at)
				all, at = all+m, then
			}
			return all
		}
		if got, want := q.mostOpen(), s.open(s.boardByBoard(q.boards)); got != want {
			t.Fatalf("%d open, want %d", got, want)
		}
		for from := range q.boards {
			for to := range q.boards {
				moved := slices.Delete(slices.Clone(q.boards), from, from+1)
				moved = slices.Insert(moved, to, q.boards[from])
				want := takes(moved) - takes(q.boards)
				if from == to {
					continue
				}
				if got := q.change(t.Context(), from, to); got != want {
					t.Fatalf("from %d to %d: %d, want %d", from, to, got, want)
				}
			}
		}
	}
}

func TestByDue(t *testing.T) {
	got := byDue([]string{"2027-03-09", "", "2027-03-02", "2027-03-09"})
	if want := []int64{1, 2, 0, 1}; !slices.Equal(got, want) {
		t.Errorf("ranks %v, want %v", got, want)
	}
}
