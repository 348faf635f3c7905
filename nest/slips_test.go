package nest

import (
	"strings"
	"testing"

	"rackwright/model"
)

// remarkOf gives the remarks of a job that have these words in them.
func remarkOf(job *model.Job, words string) (out []string) {
	for _, line := range Remarks(job) {
		if strings.Contains(line, words) {
			out = append(out, line)
		}
	}
	return out
}

// A price is odd from seven times the middle one of its neighbours on, and down to a seventh of it;
// of two offers the later one is named, and what has no neighbour is not odd.
func TestOddPrices(t *testing.T) {
	for _, c := range []struct {
		prices []model.Money // of boards of 10 in each
		want   string        // lines
	}{
		{[]model.Money{100_000}, ""},
		{[]model.Money{100_000, 690_000}, ""},
		{[]model.Money{100_000, 700_000}, "3"},
		{[]model.Money{700_000, 100_000}, "3"},
		{[]model.Money{1_000_000, 100_000, 110_000}, "2"},
		{[]model.Money{100_000, 10_000, 110_000, 90_000}, "3"},
		{[]model.Money{100_000, 15_000, 110_000, 90_000}, ""},
		{[]model.Money{100_000, 1_000_000, 110_000, 12_000, 90_000}, "3 5"},
	} {
		job := &model.Job{Settings: model.DefaultSettings()}
		for n, price := range c.prices {
			w := orderWood(10)
			w.Width += model.Length(n) * in / 8 // random widths are one kind of wood
			job.Yard = append(job.Yard, model.Offer{Wood: w, Price: price,
				Where: model.Where{File: "yard.csv", Line: n + 2}})
		}
		var got []string
		for _, line := range remarkOf(job, ": price: ") {
			got = append(got, line[len("yard.csv:"):][:1])
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%v: lines %v are odd, want %s", c.prices, got, c.want)
		}
	}
}

// Two lines may be one board where they are the same in all that was measured; boards of a usual
// size without a defect are not told apart by it.
func TestBoardsOnTwoLines(t *testing.T) {
	fir := model.Wood{Material: "fir", Section: "2x4", Length: 96 * in, Width: 7 * in / 2,
		Thickness: 3 * in / 2}
	split := []model.Defect{{From: in, To: 2 * in, Right: fir.Width, Kind: "split"}}
	for _, c := range []struct {
		what string
		two  [2]model.Board
		want int
	}{
		{"usual boards", [2]model.Board{{ID: "A", Wood: fir}, {ID: "B", Wood: fir}}, 0},
		{"with the same split", [2]model.Board{{ID: "A", Wood: fir, Defects: split},
			{ID: "B", Wood: fir, Defects: split, Note: "split"}}, 1},
		{"in another bin", [2]model.Board{{ID: "A", Wood: fir, Defects: split},
			{ID: "B", Wood: fir, Defects: split, Bin: "2"}}, 0},
		{"random widths", [2]model.Board{{ID: "A", Wood: orderWood(50)},
			{ID: "B", Wood: orderWood(50)}}, 1},
		{"another length", [2]model.Board{{ID: "A", Wood: orderWood(50)},
			{ID: "B", Wood: orderWood(51)}}, 0},
		{"ids of a plan", [2]model.Board{{ID: "m-off-1", Wood: orderWood(50)},
			{ID: "m-off-2", Wood: orderWood(50)}}, 0},
		{"a board and its piece", [2]model.Board{{ID: "A", Wood: fir}, {ID: "A.1", Wood: fir}}, 1},
		{"pieces of it", [2]model.Board{{ID: "A.2", Wood: fir}, {ID: "A.1", Wood: fir}}, 0},
	} {
		job := &model.Job{Settings: model.DefaultSettings(), Rack: c.two[:]}
		for i := range job.Rack {
			job.Rack[i].Where = model.Where{File: "rack.csv", Line: i + 2}
		}
		if got := remarkOf(job, "rack.csv:3: board: "); len(got) != c.want {
			t.Errorf("%s: %q, want %d remarks", c.what, got, c.want)
		}
	}
}

// A kind of defect is named by any of the lists of [defects]: by those of the faces, and by that of
// the kinds that no rip runs through. The nearest name may be of any of them.
func TestUnnamedKinds(t *testing.T) {
	job := &model.Job{Settings: model.DefaultSettings()}
	job.Rack = []model.Board{{ID: "B-1", Wood: orderWood(96)}}
	for _, kind := range []string{"split", "sound knot", "check", "splitt", "wormy"} {
		job.Rack[0].Defects = append(job.Rack[0].Defects, model.Defect{To: in, Kind: kind})
	}
	want := []string{`names "splitt" (rows: 1, the first of board B-1), so no face allows it; ` +
		`the nearest that is named is "split"`, `names "wormy" (rows: 1, the first of board B-1)`}
	got := UnnamedKinds(job)
	if len(got) != len(want) || !strings.Contains(got[0], want[0]) ||
		!strings.Contains(got[1], want[1]) {
		t.Errorf("%q", got)
	}
	job.Settings.Weak = nil
	if got := UnnamedKinds(job); len(got) != 3 || !strings.Contains(got[0], `names "split" (`) {
		t.Errorf("without weak kinds: %q", got)
	}
}
