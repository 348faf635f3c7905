package page

import (
	"slices"
	"strings"
	"testing"

	"rackwright/model"
)

// rowsOf are the cuts of the order of work as the page has them: board and step.
func rowsOf(w *work) (out []model.Sawing) {
	for _, p := range w.Passes {
		for _, r := range p.Runs {
			for _, x := range r.Visits {
				for _, c := range x.Cuts {
					out = append(out, model.Sawing{Board: x.Board.layout.ID, Step: c.Step})
				}
			}
		}
	}
	return out
}

// inOrder says that the page has the cuts of a plan in their order.
func inOrder(t *testing.T, v *view) {
	t.Helper()
	var want []model.Sawing
	for _, s := range v.plan.Order {
		want = append(want, model.Sawing{Board: s.Board, Step: s.Step})
	}
	if got := rowsOf(v.Work); !slices.Equal(got, want) {
		t.Errorf("the page has the cuts in another order:\n%v\n%v", got, want)
	}
}

// setsOf are the stops and fences that order.csv asks for, one after the other, without repeats,
// apart for each saw where both stand ready.
func setsOf(v *view, apart bool) (out []string) {
	stands := map[string]string{}
	boards := map[string]*board{}
	for _, b := range v.Boards {
		boards[b.layout.ID] = b
	}
	pass := 0
	for i := range v.plan.Order {
		s := &v.plan.Order[i]
		saw := ""
		if apart {
			saw = s.Saw
		} else if s.Pass != pass {
			stands, pass = map[string]string{}, s.Pass
		}
		if s.Setting == 0 {
			continue
		}
		word := "Stop "
		if s.Saw == model.Rip {
			word = "Fence "
		}
		set := word + v.length(s.Setting) + " " + boards[s.Board].Wood
		if stands[saw] != set {
			stands[saw] = set
			out = append(out, set)
		}
	}
	return out
}

// In the order of least time there is one heading for each setting as it comes up; the drawing of a
// board stands where it is first taken in hand.
func TestOrderOfWork(t *testing.T) {
	for name, s := range samples(t) {
		v, err := newView(s.job, s.plan, nil)
		if err != nil {
			t.Fatal(err)
		}
		if v.Work == nil {
			continue
		}
		inOrder(t, v)
		var got []string
		first := map[*board]bool{}
		for _, p := range v.Work.Passes {
			for _, r := range p.Runs {
				if r.at.length != 0 {
					got = append(got, r.Setting+" "+r.Wood)
				}
				for _, x := range r.Visits {
					if x.First == first[x.Board] {
						t.Errorf("%s: %s: drawn %v", name, x.Board.ID, x.First)
					}
					first[x.Board] = true
				}
			}
		}
		if want := setsOf(v, false); !slices.Equal(got, want) {
			t.Errorf("%s: settings\n%s\nin place of\n%s", name, strings.Join(got, "\n"),
				strings.Join(want, "\n"))
		}
	}
}

// Board by board, each board is taken in hand once, and stop and fence are set where they change.
func TestOrderOfWorkByBoards(t *testing.T) {
	for name, s := range samples(t) {
		slices.SortStableFunc(s.plan.Order, func(a, b model.Sawing) int {
			return strings.Compare(a.Board, b.Board)
		})
		s.plan.Work.Order = model.LeastClutter
		v, err := newView(s.job, s.plan, nil)
		if err != nil {
			t.Fatal(err)
		}
		if v.Work == nil {
			continue
		}
		inOrder(t, v)
		if len(v.Work.Passes) != 1 {
			t.Errorf("%s: %d passes", name, len(v.Work.Passes))
		}
		var got []string
		taken := map[*board]bool{}
		for _, r := range v.Work.Passes[0].Runs {
			for _, x := range r.Visits {
				if taken[x.Board] {
					t.Errorf("%s: %s is taken twice", name, x.Board.ID)
				}
				taken[x.Board] = true
				for _, c := range x.Cuts {
					if c.Set != "" {
						got = append(got, c.Set+" "+x.Board.Wood)
					}
				}
			}
		}
		if want := setsOf(v, true); !slices.Equal(got, want) {
			t.Errorf("%s: settings\n%s\nin place of\n%s", name, strings.Join(got, "\n"),
				strings.Join(want, "\n"))
		}
	}
}
