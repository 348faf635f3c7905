package report

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"rackwright/io/layout"
	"rackwright/model"
)

var update = flag.Bool("update", false, "write the drawings found into testdata; read the diff")

func shown(t interface{ Fatal(...any) }, job *model.Job, plan *model.Plan, board string,
	width int) string {
	var b bytes.Buffer
	if err := Show(&b, job, plan, board, width); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The drawings of both ways to rip a board are as they stand in testdata.
func TestShowGolden(t *testing.T) {
	for _, c := range []struct {
		name  string
		plan  func() (*model.Job, *model.Plan)
		width int
	}{{"crosscut-first", lengthsPlan, 80}, {"rip-first", stripsPlan, 80},
		{"rip-first-wide", stripsPlan, 140}, {"ripped-span", spanPlan, 80},
		{"ripped-span-wide", spanPlan, 140}} {
		job, plan := c.plan()
		got := []byte(shown(t, job, plan, "B-1", c.width))
		file := "testdata/show-" + c.name + ".txt"
		if *update {
			if err := os.WriteFile(file, got, 0o666); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(string(want), string(got)); d != "" {
			t.Errorf("%s: %s", c.name, d)
		}
	}
}

// Waste at a length's left edge comes off first; what is too thin for a kerf is shaved off.
func TestShowEdges(t *testing.T) {
	var s rowsOf
	s.row(model.KindWaste, 2, 0, 30, 0, 0.25)
	s.row(model.KindKerf, 2, 0, 30, 0.25, 0.375)
	s.part(3, 0, 30, 0.375, 3.375, "rail", 1)
	s.row(model.KindKerf, 3, 0, 30, 3.375, 3.5)
	s.row(model.KindKerf, 4, 0, 30, 3.5, 3.5625)
	s.part(4, 0, 30, 3.5625, 6.9375, "stile", 1)
	s.row(model.KindKerf, 1, 30, 30.125, 0, 6.9375)
	s.part(1, 30.125, 60, 0, 6.9375, "plank", 1)
	job, plan := s.plan(model.CrosscutFirst)
	text := shown(t, job, plan, "B-1", 140)
	for _, want := range []string{
		"1  crosscut at 30\": the length with A, B comes off, 30\" long, leaving C, 29 7/8\" long",
		"2  rip the length with A, B, fence 6 9/16\": 1/4\" of waste off the left edge",
		"3  rip the piece with A, B, fence 3\": A comes off",
		"4  rip the piece with B, fence 3 3/8\": shave 1/16\" off the left edge, leaving B"} {
		if !strings.Contains(text, "   "+want+"\n") {
			t.Errorf("%s is missing in\n%s", want, text)
		}
	}
}

// What is too thin for a piece of its own is shaved off: off the right edge with the fence at what
// stays, off either end of a board, and where the saw leaves nothing at all.
func TestShowShaved(t *testing.T) {
	var s rowsOf
	s.row(model.KindKerf, 1, 0, 0.0625, 0, 6)
	s.part(3, 0.0625, 30, 0, 2.625, "rail", 1)
	s.row(model.KindKerf, 3, 0.0625, 30, 2.625, 2.75)
	s.part(4, 0.0625, 30, 2.75, 5.9375, "stile", 1)
	s.row(model.KindKerf, 4, 0.0625, 30, 5.9375, 6)
	s.row(model.KindKerf, 2, 30, 30.125, 0, 6)
	s.part(5, 30.125, 60, 0, 6, "plank", 1)
	s.row(model.KindKerf, 5, 60, 60.0625, 0, 6)
	job, plan := s.plan(model.CrosscutFirst)
	text := shown(t, job, plan, "B-1", 140)
	for _, want := range []string{
		"Cuts in order, marked out on the whole board from its marked end. Cut on the far side " +
			"of the mark.",
		"   1  crosscut at 0\": shave 1/16\" off the marked end\n",
		"   3  rip the length with A, B, fence 2 5/8\": A comes off\n",
		"   4  rip the piece with B, fence 3 3/16\": shave 1/16\" off the right edge, leaving B\n",
		"   5  crosscut at 60\": shave 1/16\" off the far end, leaving C, 29 7/8\" long\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("%s is missing in\n%s", want, text)
		}
	}
	s = rowsOf{}
	s.row(model.KindKerf, 2, 0, 0.0625, 0, 6)
	s.row(model.KindKerf, 1, 0.0625, 0.1875, 0, 6)
	s.part(1, 0.1875, 30, 0, 6, "rail", 1)
	job, plan = s.plan(model.NotRipped)
	if text := shown(t, job, plan, "B-1", 140); !strings.Contains(text,
		"   2  crosscut at 0\": the saw takes all of it\n") {
		t.Errorf("what is all dust has no words in\n%s", text)
	}
}

// A blank at the far side of its length or strip is what the stop or the fence is set to when it is
// trimmed, not what comes off it.
func TestShowTrimmedAtTheFarSide(t *testing.T) {
	var s rowsOf
	s.part(2, 0, 40, 0, 3, "rail", 1)
	s.row(model.KindKerf, 2, 40, 40.125, 0, 3)
	s.offcut(3, 40.125, 80, 0, 0.5, "off-1")
	s.row(model.KindKerf, 3, 40.125, 80, 0.5, 0.625)
	s.part(3, 40.125, 80, 0.625, 3, "stile", 1)
	s.row(model.KindKerf, 1, 0, 80, 3, 3.125)
	s.offcut(1, 0, 80, 3.125, 7.25, "off-2")
	job, plan := s.plan(model.RipFirst)
	text := shown(t, job, plan, "B-1", 140)
	for _, want := range []string{
		"1  rip, fence 3\": the strip with A, a, B comes off, leaving offcut b, 4 1/8\" wide",
		"2  crosscut the strip with A, a, B: A comes off, 40\" long",
		"3  rip the piece with a, B, fence 2 3/8\": offcut a comes off, leaving B"} {
		if !strings.Contains(text, "   "+want+"\n") {
			t.Errorf("%s is missing in\n%s", want, text)
		}
	}
	s = rowsOf{}
	s.offcut(2, 0, 13, 0, 3, "off-1")
	s.row(model.KindKerf, 2, 13, 13.125, 0, 3)
	s.part(2, 13.125, 40, 0, 3, "cleat", 1)
	s.row(model.KindKerf, 1, 0, 40, 3, 3.125)
	s.part(1, 0, 40, 3.125, 7.25, "rail", 1)
	job, plan = s.plan(model.CrosscutFirst)
	text = shown(t, job, plan, "B-1", 140)
	for _, want := range []string{
		"1  rip the length with a, A, B, fence 3\": the piece with a, A comes off, leaving B, " +
			"4 1/8\" wide",
		"2  crosscut the piece with a, A: offcut a comes off, 13\" long, leaving A, 26 7/8\" long"} {
		if !strings.Contains(text, "   "+want+"\n") {
			t.Errorf("%s is missing in\n%s", want, text)
		}
	}
}

func TestShowUnknownBoard(t *testing.T) {
	job, plan := stripsPlan()
	if err := Show(&bytes.Buffer{}, job, plan, "B-2", 80); err == nil ||
		!strings.Contains(err.Error(), "B-2") {
		t.Errorf("got %v", err)
	}
}

// sawyer cuts a board up at random, the way a plan may, and writes down the rows and their steps.
type sawyer struct {
	t      *rapid.T
	s      rowsOf
	step   int
	kerf   model.Length
	pieces int
}

// cut cuts a piece into several, crosswise or lengthwise, and then some of these the other way;
// step is that of the cut that freed it.
func (a *sawyer) cut(r model.Rect, step, depth int, rip bool) {
	from, to := r.From, r.To
	if rip {
		from, to = r.Left, r.Right
	}
	n := rapid.IntRange(1, 4).Draw(a.t, "pieces")
	if depth == 0 || to-from < 40*a.kerf {
		n = 1
	}
	if n == 1 && depth < 3 {
		a.leaf(r, step)
		return
	}
	type freed struct {
		r    model.Rect
		step int
	}
	var list []freed
	part := func(x, y model.Length, step int) {
		p := r
		if p.From, p.To = x, y; rip {
			p.From, p.To, p.Left, p.Right = r.From, r.To, x, y
		}
		list = append(list, freed{p, step})
	}
	for k := 1; k < n; k++ {
		size := model.Length(rapid.Int64Range(int64(a.kerf), int64((to-from)/2)).Draw(a.t, "size"))
		a.step++
		part(from, from+size, a.step)
		c := model.Cut{Kind: model.KindKerf, Step: a.step, From: from + size,
			To: from + size + a.kerf, Left: r.Left, Right: r.Right}
		if rip {
			c.From, c.To, c.Left, c.Right = r.From, r.To, from+size, from+size+a.kerf
		}
		a.s.rows = append(a.s.rows, c)
		from += size + a.kerf
		step = a.step
	}
	part(from, to, step)
	for _, p := range list {
		a.cut(p.r, p.step, depth-1, !rip)
	}
}

func (a *sawyer) leaf(r model.Rect, step int) {
	c := model.Cut{Kind: rapid.SampledFrom(
		[]model.Kind{model.KindPart, model.KindPart, model.KindOffcut, model.KindWaste}).Draw(
		a.t, "kind"), Step: step,
		From: r.From, To: r.To, Left: r.Left, Right: r.Right}
	switch a.pieces++; c.Kind {
	case model.KindPart:
		c.Commission, c.Part, c.Copy = rapid.SampledFrom(
			[]string{"C-1 shelf", strings.Repeat("commission", 30), "étagère"}).Draw(a.t, "name"),
			"rail", int64(a.pieces)
	case model.KindOffcut:
		c.Offcut = "off"
	}
	a.s.rows = append(a.s.rows, c)
}

func drawBoard(t *rapid.T) (*model.Job, *model.Plan) {
	a := &sawyer{t: t, kerf: model.Length(rapid.Int64Range(1, inch/4).Draw(t, "kerf"))}
	long, wide := model.Length(rapid.Int64Range(12*inch, 240*inch).Draw(t, "long")),
		model.Length(rapid.Int64Range(inch, 24*inch).Draw(t, "wide"))
	first := rapid.SampledFrom([]model.First{model.CrosscutFirst, model.RipFirst}).Draw(t, "first")
	a.cut(model.Rect{To: long, Right: wide}, 1, 3, first == model.RipFirst)
	for i := range a.s.rows {
		a.s.rows[i].Board, a.s.rows[i].Origin, a.s.rows[i].Material, a.s.rows[i].Section = "B-1",
			model.FromYard, "pine", "1x8"
	}
	job, plan := a.s.plan(first)
	job.Settings.CrosscutKerf, job.Settings.RipKerf = a.kerf, a.kerf
	job.Settings.Units = rapid.SampledFrom([]model.Unit{model.Inch, model.Millimetre}).Draw(t,
		"unit")
	return job, plan
}

var (
	cutLine  = regexp.MustCompile(`(?m)^ +(\d+)  (?:crosscut|rip)`)
	released = regexp.MustCompile(`(?:: |leaving )(?:offcut )?([A-Z]+|[a-z])(?: comes off|,|$|\n)`)
)

// Whatever a board is cut into: no line is too long, the drawing is plain ASCII as wide as it may
// be, boxes lie side by side with their letters in them, and the list has each cut once, in order,
// and frees each piece once.
func TestShowAnyBoard(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job, plan := drawBoard(t)
		width := rapid.IntRange(80, 140).Draw(t, "width")
		text := shown(t, job, plan, "B-1", width)
		_, after, _ := strings.Cut(text, "marked end")
		drawing, _, _ := strings.Cut(after, "The left edge")
		for n, line := range strings.Split(text, "\n") {
			if utf8.RuneCountInString(line) > width || strings.Contains(line, model.NoBreakSpace) {
				t.Fatalf("line %d of %d columns: %q", n+1, width, line)
			}
		}
		if strings.ContainsFunc(drawing, func(r rune) bool { return r > '~' }) {
			t.Fatalf("not ASCII:\n%s", drawing)
		}
		l := boardOf(job, plan, "B-1")
		boxesLie(t, l, boxes(l), drawing, width)
		cutsFree(t, l, text)
	})
}

// boxesLie sees that no box covers another, and that each letter stands where there is room.
func boxesLie(t *rapid.T, l *layout.Board, boxes []box, drawing string, width int) {
	x, y := scales(boxes, l.Size, width-1, inch)
	met := map[[2]int]int{}
	for i, b := range boxes {
		for row := y.at(b.Left) + 1; row < y.at(b.Right); row++ {
			for column := x.at(b.From) + 1; column < x.at(b.To); column++ {
				if j, taken := met[[2]int{row, column}]; taken {
					t.Fatalf("boxes %d and %d share a place:\n%s", i, j, drawing)
				}
				met[[2]int{row, column}] = i
			}
		}
		if y.at(b.Right)-y.at(b.Left) < 2 {
			t.Fatalf("box %d has no line:\n%s", i, drawing)
		}
		if room := x.at(b.To) - x.at(b.From) - 1; b.label != "" &&
			room >= len(b.label) != regexp.MustCompile(`\b`+b.label+`\b`).MatchString(drawing) {
			t.Fatalf("letter %s and its room of %d:\n%s", b.label, room, drawing)
		}
	}
}

func cutsFree(t *rapid.T, l *layout.Board, text string) {
	_, list, found := strings.Cut(text, "Cuts in order")
	list, _, _ = strings.Cut(list, "Cutting can maim")
	last, steps := 0, cutLine.FindAllStringSubmatch(list, -1)
	for i := range l.Rows {
		last = max(last, l.Rows[i].Step)
	}
	if len(l.Rows) == 1 {
		if found || !strings.Contains(text, "No cut: ") {
			t.Fatalf("a board that is one piece:\n%s", text)
		}
		return
	}
	if strings.Contains(text, "do not tell") || len(steps) != last {
		t.Fatalf("%d cuts are %d:\n%s", last, len(steps), text)
	}
	for i, s := range steps {
		if s[1] != fmt.Sprint(i+1) {
			t.Fatalf("cut %d is %s:\n%s", i+1, s[1], list)
		}
	}
	list = regexp.MustCompile(`\n {6}`).ReplaceAllString(list, " ")
	var got, want []string
	for _, m := range released.FindAllStringSubmatch(list, -1) {
		got = append(got, m[1])
	}
	for _, label := range l.Labels {
		if label != "" {
			want = append(want, label)
		}
	}
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Fatalf("pieces freed are %q, want %q:\n%s", got, want, list)
	}
}

// Rows that are no cutting of a board at all are drawn somehow and said not to be told.
func TestShowNonsense(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string) model.Length {
			return model.Length(rapid.Int64Range(0, 100).Draw(t, name)) * inch
		}
		var s rowsOf
		for range rapid.IntRange(1, 8).Draw(t, "rows") {
			c := model.Cut{Board: "B-1", Origin: model.FromRack, Material: "pine", Section: "1x8",
				From: at("from"), To: at("to"), Left: at("left"), Right: at("right"),
				Step: rapid.IntRange(0, 9).Draw(t, "step"),
				Kind: rapid.SampledFrom(
					[]model.Kind{model.KindTrim, model.KindPart, model.KindKerf, model.KindDefect,
						model.KindWaste, model.KindOffcut}).Draw(t, "kind")}
			s.rows = append(s.rows, c)
		}
		job, plan := s.plan(rapid.SampledFrom(
			[]model.First{"", model.CrosscutFirst, model.RipFirst}).Draw(t, "first"))
		job.Rack = []model.Board{
			{ID: "B-1", Defects: []model.Defect{
				{From: at("from"), To: at("to"), Left: at("left"), Right: at("right"),
					Kind: "knot"}}}}
		var b bytes.Buffer
		if err := Show(&b, job, plan, "B-1", 80); err != nil {
			if boardOf(job, plan, "B-1") != nil {
				t.Fatal(err)
			}
			return
		}
		for _, line := range strings.Split(b.String(), "\n") {
			if utf8.RuneCountInString(line) > 80 {
				t.Fatalf("%q", line)
			}
		}
	})
}

// A scale has room just where the longest chain of needs fits; it then meets all of them, in order,
// from end to end.
func TestScaleMeetsNeeds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		edges := sorted(append(
			rapid.SliceOfN(rapid.Custom(func(t *rapid.T) model.Length {
				return model.Length(rapid.Int64Range(1, 999).Draw(t, ""))
			}), 0, 9).Draw(t, "edges"), 0, 1000))
		var needs []need
		for range rapid.IntRange(0, 9).Draw(t, "") {
			i := rapid.IntRange(0, len(edges)-2).Draw(t, "i")
			needs = append(needs,
				need{edges[i], edges[rapid.IntRange(i+1, len(edges)-1).Draw(t, "j")],
					rapid.IntRange(0, 9).Draw(t, "cells")})
		}
		most := rapid.IntRange(0, 60).Draw(t, "most")
		a, room := newScale(edges, most, needs)
		var chain func(from model.Length) int
		chain = func(from model.Length) (longest int) {
			for _, n := range needs {
				if n.from >= from {
					longest = max(longest, n.cells+chain(n.to))
				}
			}
			return longest
		}
		if want := chain(0) <= most; room != want {
			t.Fatalf("room is %v, the longest chain %d of %d", room, chain(0), most)
		}
		if !slices.IsSorted(a.cells) || a.cells[0] != 0 || a.cells[len(edges)-1] != most {
			t.Fatalf("cells %v of %d", a.cells, most)
		}
		for _, n := range needs {
			if room && a.at(n.to)-a.at(n.from) < n.cells {
				t.Fatalf("%v: %v at %v", n, a.edges, a.cells)
			}
		}
	})
}

// Where the scale asks for nothing else, edges stand where it says; letters count on past Z.
func TestScale(t *testing.T) {
	a, _ := newScale([]model.Length{0, 250, 500, 1000}, 80, []need{{0, 250, 3}})
	if !slices.Equal(a.cells, []int{0, 20, 40, 80}) || a.at(750) != 60 {
		t.Errorf("cells %v, 750 at %d", a.cells, a.at(750))
	}
	for n, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 51: "AZ", 52: "BA", 701: "ZZ",
		702: "AAA"} {
		if got := layout.Letters(n, 'A'); got != want {
			t.Errorf("%d is %s, want %s", n, got, want)
		}
	}
}

// A saw without kerf leaves no row; the crosscuts of a board that is not ripped are found all the
// same.
func TestShowNoKerf(t *testing.T) {
	var s rowsOf
	s.row(model.KindTrim, 1, 0, 0.5, 0, 7)
	s.part(2, 0.5, 20.5, 0, 7, "rail", 1)
	s.row(model.KindWaste, 3, 20.5, 22, 0, 7)
	s.row(model.KindDefect, 3, 22, 23, 0, 7)
	s.part(4, 23, 40, 0, 7, "rail", 2)
	s.row(model.KindTrim, 4, 40, 40.5, 0, 7)
	job, plan := s.plan(model.NotRipped)
	job.Settings.CrosscutKerf = 0
	text := shown(t, job, plan, "B-1", 80)
	for _, want := range []string{
		"1  crosscut at 1/2\", on the near side of the mark: the trim comes off",
		"2  crosscut at 20 1/2\": A comes off, 20\" long", "3  crosscut at 23\": waste comes off",
		"4  crosscut at 40\": B comes off, 17\" long, leaving the trim"} {
		if !strings.Contains(text, "   "+want+"\n") {
			t.Errorf("%s is missing in\n%s", want, text)
		}
	}
}

// The cuts in words are those that a board's list has, by their steps; where a strip's edge is
// shaved its step has two of them.
func TestCutsInWords(t *testing.T) {
	for _, sample := range []func() (*model.Job, *model.Plan){lengthsPlan, stripsPlan, spanPlan} {
		job, plan := sample()
		var shown bytes.Buffer
		if err := Show(&shown, job, plan, "B-1", 140); err != nil {
			t.Fatal(err)
		}
		for n, text := range CutsInWords(job, layout.Boards(job, plan)[0]) {
			for _, cut := range strings.Split(text, "; ") {
				line := fmt.Sprintf("\n %3d  %s\n", n+1,
					strings.ReplaceAll(cut, model.NoBreakSpace, " "))
				if cut == "" || !strings.Contains(shown.String(), line) {
					t.Errorf("step %d is %q, not as in\n%s", n+1, cut, &shown)
				}
			}
		}
	}
	job := &model.Job{Settings: model.DefaultSettings()}
	whole := &layout.Board{Size: model.Rect{To: 96 * inch, Right: 6 * inch},
		Rows:   []model.Cut{{Kind: model.KindPart, To: 96 * inch, Right: 6 * inch}},
		Labels: []string{"A"}}
	if cuts, above := CutsInWords(job, whole), AboveCuts(job, whole); len(cuts) != 0 ||
		len(above) != 1 || above[0] != "No cut: the board is taken as it is." {
		t.Errorf("of a board that is not cut it says %q, %q", above, cuts)
	}
}

// The cautions of some boards are those of a plan that has no others.
func TestCautionsOfBoards(t *testing.T) {
	job, plan := lengthsPlan()
	boards := layout.Boards(job, plan)
	all, none := Cautions(job, Only(plan, boards...)), Cautions(job, Only(plan))
	if !slices.Equal(all, Cautions(job, plan)) || len(all) < 3 || all[0] != Caution {
		t.Errorf("of all boards they are %q", all)
	}
	if !slices.Equal(none, []string{Caution}) {
		t.Errorf("of no board they are %q", none)
	}
}
