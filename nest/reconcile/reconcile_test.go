package reconcile

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"rackwright/model"
)

const in = model.UnitsPerInch

func board(id, bin string, length model.Length) model.Board {
	return model.Board{ID: id, Bin: bin, Wood: model.Wood{Material: "pine", Section: "1x6",
		Length: length, Width: 11 * in / 2}}
}

func thing(line int, id, bin string, length model.Length) model.Found {
	return model.Found{ID: id, Bin: bin, Material: "pine", Section: "1x6", Length: length,
		Where: model.Where{File: "count.csv", Line: line}}
}

// said is a result in short.
func said(r *Result) (out []string) {
	for _, m := range r.Matches {
		s := fmt.Sprintf("%s=%d", m.Board.ID, m.Found.Where.Line)
		if m.Bin {
			s += " bin " + m.Is.Bin
		}
		if m.Size {
			s += " length " + m.Is.Length.Decimal(model.Inch)
		}
		if m.Measure {
			s += " measure"
		}
		out = append(out, s)
	}
	for _, b := range r.Missing {
		out = append(out, b.ID+" missing")
	}
	for _, f := range r.New {
		out = append(out, fmt.Sprintf("%d new", f.Where.Line))
	}
	for _, d := range r.Doubts {
		s := "doubt"
		for _, f := range d.Found {
			s += fmt.Sprintf(" %d", f.Where.Line)
		}
		s += ":"
		for _, b := range d.Boards {
			s += " " + b.ID
		}
		if d.New {
			s += " new"
		}
		out = append(out, s)
	}
	return out
}

// What a maker would say of small counts. Each is worked by hand.
func TestCounts(t *testing.T) {
	knotty := board("K", "A", 40*in)
	knotty.Defects = []model.Defect{{From: 1, To: 2, Right: 3, Kind: "knot"}}
	kept := board("C", "A", 30*in)
	kept.For = "C-1"
	for _, c := range []struct {
		name  string
		rack  []model.Board
		found []model.Found
		want  []string
	}{
		{"nothing", nil, nil, nil},
		{"an id comes before all else", []model.Board{board("A", "A", 30*in), board("B", "A", 50*in)},
			[]model.Found{thing(2, "B", "A", 30*in), thing(3, "", "A", 50*in)},
			[]string{"B=2 length 30", "A missing", "3 new"}},
		{"within the tolerance", []model.Board{board("A", "A", 30*in)},
			[]model.Found{thing(2, "", "a ", 30*in+in/4)}, []string{"A=2"}},
		{"past it", []model.Board{board("A", "A", 30*in)},
			[]model.Found{thing(2, "", "A", 30*in+in/4+1)}, []string{"A=2 length 30.250123"}},
		{"a wrong bin is likelier than another length",
			[]model.Board{board("A", "A", 30*in), board("B", "B", 29*in)},
			[]model.Found{thing(2, "", "B", 30*in), thing(3, "", "A", 29*in)},
			[]string{"A=2 bin B", "B=3 bin A"}},
		{"its own bin tells more than a tape", []model.Board{board("A", "A", 30*in),
			board("B", "B", 30*in+in/8)}, []model.Found{thing(2, "", "A", 30*in+in/8)},
			[]string{"A=2", "B missing"}},
		{"5 in off is believed, nearly", []model.Board{board("A", "A", 30*in)},
			[]model.Found{thing(2, "", "A", 25*in+1)}, []string{"A=2 length 25.000123"}},
		{"5 in off is not", []model.Board{board("A", "A", 30*in)},
			[]model.Found{thing(2, "", "A", 25*in)}, []string{"A missing", "2 new"}},
		{"too far off is one missing and one new", []model.Board{board("A", "A", 30*in)},
			[]model.Found{thing(2, "", "A", 24*in)}, []string{"A missing", "2 new"}},
		{"copies are no doubt", []model.Board{board("A", "A", 30*in), board("B", "A", 30*in)},
			[]model.Found{thing(2, "", "A", 30*in)}, []string{"A=2", "B missing"}},
		{"copies in two bins are none", []model.Board{board("A", "A", 30*in), board("B", "B", 30*in)},
			[]model.Found{thing(2, "", "C", 30*in)}, []string{"A=2 bin C", "B missing"}},
		{"two that differ are one", []model.Board{board("A", "A", 30*in), kept},
			[]model.Found{thing(2, "", "A", 30*in)}, []string{"doubt 2: A C"}},
		{"two that differ and are both there are none", []model.Board{board("A", "A", 30*in), kept},
			[]model.Found{thing(2, "", "A", 30*in), thing(3, "", "A", 30*in+1)},
			[]string{"A=2", "C=3"}},
		{"the one or the other is new", []model.Board{board("A", "A", 30*in)},
			[]model.Found{thing(2, "", "B", 30*in), thing(3, "", "C", 30*in)},
			[]string{"doubt 2: A new", "doubt 3: A new"}},
		{"defects of another size", []model.Board{knotty},
			[]model.Found{thing(2, "K", "A", 38*in)}, []string{"K=2 length 38 measure"}},
	} {
		r, err := Count(c.rack, &model.Count{Found: c.found}, in/4)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if got := said(r); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, not %q", c.name, got, c.want)
		}
	}
}

// A crooked board gives no blank longer than it is, once it is found to be shorter.
func TestCrookedBoardIsShorter(t *testing.T) {
	crooked := board("A", "A", 40*in)
	crooked.Longest = 35 * in
	for found, want := range map[model.Length]model.Length{30 * in: 30 * in, 38 * in: 35 * in} {
		r, err := Count([]model.Board{crooked},
			&model.Count{Found: []model.Found{thing(2, "A", "A", found)}}, in/4)
		if err != nil || len(r.Matches) != 1 || r.Matches[0].Is.Longest != want {
			t.Errorf("found %v long, it is %+v (%v)", found, r, err)
		}
	}
}

// Without a tolerance each length counts, and a true count finds nothing.
func TestNoTolerance(t *testing.T) {
	rack := []model.Board{board("A", "A", 30*in), board("B", "A", 31*in)}
	for found, want := range map[model.Length]string{30 * in: "A=2", 30*in + 1: "A=2 length 30.000123"} {
		r, err := Count(rack, &model.Count{Found: []model.Found{thing(2, "", "A", found),
			thing(3, "B", "A", 31*in)}}, 0)
		if err != nil || !slices.Equal(said(r), []string{want, "B=3"}) {
			t.Errorf("found %v long: %q (%v)", found, said(r), err)
		}
	}
}

// Where only some bins were counted, nothing is missing in the others, and no board of theirs is
// taken for one that was found without an id.
func TestCountsOfSomeBins(t *testing.T) {
	rack := []model.Board{board("A", "A", 30*in), board("B", "B", 50*in), board("C", "", 60*in)}
	for _, c := range []struct {
		name  string
		bins  []string
		found []model.Found
		want  []string
	}{
		{"as it is", []string{"a"}, []model.Found{thing(2, "", "A", 30*in)}, []string{"A=2"}},
		{"it is empty", []string{"A"}, nil, []string{"A missing"}},
		{"no bin", []string{""}, []model.Found{thing(2, "", "", 60*in)}, []string{"C=2"}},
		{"a board of another bin, by its id", []string{"A"},
			[]model.Found{thing(2, "", "A", 30*in), thing(3, "B", "A", 50*in)},
			[]string{"A=2", "B=3 bin A"}},
		{"perhaps one of another bin", []string{"A"},
			[]model.Found{thing(2, "", "A", 30*in), thing(3, "", "A", 50*in+in/4)},
			[]string{"A=2", "doubt 3: B new"}},
		{"surely new", []string{"A"},
			[]model.Found{thing(2, "", "A", 30*in), thing(3, "", "A", 50*in+in/4+1)},
			[]string{"A=2", "3 new"}},
		{"all bins, each named", []string{"A", "B", ""},
			[]model.Found{thing(2, "", "A", 30*in), thing(3, "", "A", 50*in)},
			[]string{"A=2", "B=3 bin A", "C missing"}},
	} {
		r, err := Count(rack, &model.Count{Found: c.found, Bins: c.bins}, in/4)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if got := said(r); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, not %q", c.name, got, c.want)
		}
	}
	_, err := Count(rack, &model.Count{Found: []model.Found{thing(2, "", "B", 50*in)},
		Bins: []string{"A"}}, in/4)
	if list, _ := err.(model.InputErrors); len(list) != 1 || list[0].Column != "bin" {
		t.Errorf("a board of a bin that was not counted: %v", err)
	}
}

// A true count of some bins finds nothing to do, and so does one of all bins, each named.
func TestTrueCountOfSomeBins(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rack := drawRack(t)
		bins := rapid.SliceOfDistinct(rapid.SampledFrom([]string{"", "A", "B"}),
			func(s string) string { return s }).Draw(t, "bins")
		found := drawCount(t, model.BinByBin(rack, bins), 0)
		r, err := Count(rack, &model.Count{Found: found, Bins: bins}, in/4)
		if err != nil || !r.Nothing() {
			t.Fatalf("%v %q of\n%+v\n%+v", err, said(r), rack, found)
		}
	})
}

// What contradicts the rack is a mistake, all of it at once.
func TestMistakes(t *testing.T) {
	oak := thing(3, "A", "A", 30*in)
	oak.Material, oak.Section = "oak", "4/4"
	gone := thing(4, "Z", "A", 0)
	_, err := Count([]model.Board{board("A", "A", 30*in)}, &model.Count{Found: []model.Found{oak, gone,
		thing(5, "A", "A", 30*in)}}, in/4)
	list, _ := err.(model.InputErrors)
	var at []string
	for _, m := range list {
		at = append(at, fmt.Sprintf("%s:%d: %s", m.File, m.Line, m.Column))
	}
	slices.Sort(at)
	want := []string{"count.csv:3: material", "count.csv:3: section", "count.csv:4: board",
		"count.csv:5: board"}
	if !slices.Equal(at, want) {
		t.Errorf("%q, not %q", at, want)
	}
}

// drawRack is a rack of few lengths, bins and facts, so that much is alike.
func drawRack(t *rapid.T) (rack []model.Board) {
	for n := range rapid.IntRange(0, 6).Draw(t, "boards") {
		b := board(fmt.Sprint("B-", n), rapid.SampledFrom([]string{"", "A", "B"}).Draw(t, "bin"),
			30*in+model.Length(rapid.IntRange(0, 30).Draw(t, "length"))*in/10)
		b.For = rapid.SampledFrom([]string{"", "", "C-1"}).Draw(t, "for")
		rack = append(rack, b)
	}
	return rack
}

// drawCount is the rack as a maker may have counted it: some ids unread, off by no more than the
// tolerance, in any order.
func drawCount(t *rapid.T, rack []model.Board, off int) (found []model.Found) {
	for n, b := range rapid.Permutation(rack).Draw(t, "order") {
		f := thing(n+2, "", b.Bin, b.Length)
		if rapid.Bool().Draw(t, "id") {
			f.ID = b.ID
		}
		f.Length += model.Length(rapid.IntRange(-off, off).Draw(t, "off"))
		if rapid.Bool().Draw(t, "width") {
			f.Width = b.Width
		}
		found = append(found, f)
	}
	return found
}

// A true count finds nothing to do, measured exactly or within the tolerance.
func TestTrueCount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rack := drawRack(t)
		off := rapid.SampledFrom([]int{0, in / 4}).Draw(t, "most")
		found := drawCount(t, rack, off)
		r, err := Count(rack, &model.Count{Found: found}, in/4)
		if err != nil || !r.Nothing() {
			t.Fatalf("%v %q of\n%+v\n%+v", err, said(r), rack, found)
		}
	})
}

// Once a count is put right, the same count finds nothing to do.
func TestAcceptedCount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rack := drawRack(t)
		found := drawCount(t, drawRack(t), in)
		for i := range found { // ids of the other rack stay legible where they are on this one, too
			known := slices.ContainsFunc(rack, func(b model.Board) bool { return b.ID == found[i].ID })
			if !known {
				found[i].ID = ""
			}
		}
		r, err := Count(rack, &model.Count{Found: found}, in/4)
		if err != nil || len(r.Doubts) > 0 {
			return
		}
		var after []model.Board
		for _, m := range r.Matches {
			after = append(after, m.Is)
		}
		for n, f := range r.New {
			after = append(after, board(fmt.Sprint("F-", n), f.Bin, f.Length))
		}
		if r, err = Count(after, &model.Count{Found: found}, in/4); err != nil || !r.Nothing() {
			t.Fatalf("%v %q of\n%+v\n%+v", err, said(r), after, found)
		}
	})
}

// 1,000 pieces without ids against as many boards of the rack and as many again.
func BenchmarkCount(b *testing.B) {
	var rack []model.Board
	var found []model.Found
	for n := range 10_000 {
		w := board(fmt.Sprint("B-", n), fmt.Sprint(n%40), model.Length(10*in+n*97%(90*in)))
		w.Section = []model.Section{"1x6", "1x8", "2x4", "2x6"}[n%4]
		rack = append(rack, w)
		if n%10 == 0 {
			f := thing(n, "", w.Bin, w.Length+model.Length(n%60))
			f.Section = w.Section
			found = append(found, f)
		}
	}
	for b.Loop() {
		if _, err := Count(rack, &model.Count{Found: found}, in/4); err != nil {
			b.Fatal(err)
		}
	}
}
