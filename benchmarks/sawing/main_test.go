package main

import (
	"strings"
	"testing"

	"rackwright/model"
)

// planned is a plan of three boards, by its cuts: lengths, and of the last one a rip.
func planned() *shop {
	s := &shop{times: model.WorkTimes{Setting: 1500, Lift: 500}}
	add := func(unit, pass int, saw string, settings ...model.Length) {
		for _, l := range settings {
			s.cuts = append(s.cuts, sawing{&model.Sawing{Pass: pass, Saw: saw, Setting: l}, unit,
				"oak"})
		}
	}
	add(0, 1, model.Crosscut, 0, 20, 30)
	add(1, 1, model.Crosscut, 30, 20)
	add(2, 1, model.Crosscut, 0, 0)
	add(3, 2, model.Rip, 5)
	return s
}

// The rules as anybody would count them: longest first takes 30 of the second board, 20 of both, 30
// of the first, and the rip; board by board 20, 30, which stays, 20, and the rip.
func TestRules(t *testing.T) {
	s := planned()
	settings := func(order []sawing) (out []model.Length) {
		for _, c := range order {
			out = append(out, c.Setting)
		}
		return out
	}
	for _, c := range []struct {
		order           []sawing
		want            []model.Length
		settings, lifts int
	}{
		{s.longestFirst(), []model.Length{30, 0, 20, 20, 0, 0, 30, 5}, 4, 6},
		{s.boardByBoard(), []model.Length{0, 20, 30, 30, 20, 0, 0, 5}, 4, 4},
	} {
		w := s.takes(c.order)
		if w.Settings != c.settings || w.Lifts != c.lifts ||
			w.Minutes != model.Minutes(1500*c.settings+500*c.lifts) {
			t.Errorf("%v takes %+v", settings(c.order), w)
		}
		if got := settings(c.order); len(got) != len(c.want) {
			t.Errorf("%v, want %v", got, c.want)
		}
	}
}

// A month is planned, and its minutes are below those of both rules.
func TestMonth(t *testing.T) {
	r, err := month(t.Context(), 1, 100, 5)
	if err != nil {
		t.Fatal(err)
	}
	if r.time.Minutes >= r.longest.Minutes || r.time.Minutes >= r.board.Minutes ||
		r.clutter.Minutes > r.board.Minutes || r.clutter.Open > r.time.Open || r.cuts < 100 {
		t.Errorf("%+v", r)
	}
	var out strings.Builder
	if err := print(&out, []row{r}); err != nil || strings.Count(out.String(), "\n") != 3 {
		t.Errorf("%v\n%s", err, out.String())
	}
	if err := run(t.Context(), nil, &out, &out); err == nil {
		t.Error("nothing to measure is no mistake")
	}
}
