package check

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

// replayed judges only whether a board can be cut by its rows.
func replayed(job *model.Job, u *usedBoard) []model.Finding {
	k := newChecker(job, &model.Plan{})
	k.replay(u)
	return k.found
}

// handBoard is one board of the plan by hand.
func handBoard(job *model.Job, plan *model.Plan, n int) *usedBoard {
	k := newChecker(job, plan)
	k.readBoards()
	return k.boards[n]
}

func TestReplayRefuses(t *testing.T) {
	const s = handmade.Sixteenth
	swap := func(a, b int) func(j *model.Job, u *usedBoard) {
		return func(j *model.Job, u *usedBoard) { swapSteps(u.rows, a, b) }
	}
	for _, c := range []struct {
		what  string
		board int
		spoil func(j *model.Job, u *usedBoard)
		want  string
	}{
		{"a length is ripped before it is cut off", 0, swap(1, 5),
			"step 1 the kerf at 0\" to 7\u00a01/2\" and across 0\" to 1/8\" does not go from " +
				"edge to edge"},
		{"a length's second rip before it is cut off", 0, swap(2, 8),
			"step 2 the kerf at 7\u00a05/8\""},
		{"a length is trimmed before it is ripped", 0, swap(5, 9),
			"does not go from edge to edge of the piece in hand"},
		{"trimmed before other pieces are cut", 0, swap(8, 9),
			"step 9 a piece is cut after others have been trimmed"},
		{"a strip is crosscut before it is ripped off", 1, swap(3, 5),
			"step 3 the kerf at 6\u00a01/2\" to 6\u00a05/8\" and across"},
		{"a board is ripped before it is squared", 1, swap(2, 4), "step 2 the kerf at 1/4\""},
		{"a number that cuts nothing", 0, func(j *model.Job, u *usedBoard) {
			u.rows[len(u.rows)-1].Step = 10
		}, "step 10 no straight cut"},
		{"a number left out", 0, func(j *model.Job, u *usedBoard) {
			for i := range u.rows {
				if u.rows[i].Step > 3 {
					u.rows[i].Step++
				}
			}
		}, "step 4 no straight cut"},
		{"number 0", 0, func(j *model.Job, u *usedBoard) {
			u.rows[0].Step = 0
		}, "step 0 is none that cuts this board"},
		{"a number beyond all", 0, func(j *model.Job, u *usedBoard) {
			u.rows[0].Step = 1 << 40
		}, "is none that cuts this board"},
		{"a part with the number of an earlier cut", 0, func(j *model.Job, u *usedBoard) {
			u.rows[1].Step = 1
		}, "step 1 part at 0\" to 7\u00a01/2\""},
		{"a part with the number of a later cut", 0, func(j *model.Job, u *usedBoard) {
			u.rows[1].Step = 6
		}, "step 6 part at 0\" to 7\u00a01/2\""},
		{"waste with the number of a later cut", 0, func(j *model.Job, u *usedBoard) {
			u.rows[len(u.rows)-1].Step = 5
		}, "step 5 waste at"},
		{"waste in several pieces", 0, func(j *model.Job, u *usedBoard) {
			u.rows[15].Step = 7
		}, ""},
		{"three kerfs", 0, func(j *model.Job, u *usedBoard) {
			u.rows[19].Step = 1
			u.rows[20].Step = 1
		}, "step 1 there are 3 cuts"},
		{"shorter than what is ripped", 0, func(j *model.Job, u *usedBoard) {
			j.Settings.Safety.ShortestRip = 101 * s
		}, "step 7 a piece 6\u00a01/4\" long is ripped"},
		{"trimmed shorter than what is ripped", 1, func(j *model.Job, u *usedBoard) {
			j.Settings.Safety.ShortestRip = 101 * s
		}, "step 10 a piece 6\u00a01/4\" long is ripped"},
		{"narrower than what is ripped off", 1, func(j *model.Job, u *usedBoard) {
			j.Settings.Safety.NarrowestRip = 18 * s
		}, "step 10 a piece 1\u00a01/16\" wide comes off the rip"},
		{"no third cut", 0, func(j *model.Job, u *usedBoard) {
			j.Settings.TrimmingCut = false
		}, "step 9 a piece is trimmed"},
		{"called not ripped", 0, func(j *model.Job, u *usedBoard) {
			u.down = model.NotRipped
		}, "step 5 a board is ripped that is not to be"},
		{"lengths called strips", 0, func(j *model.Job, u *usedBoard) {
			u.down = model.RipFirst
		}, "a piece is turned once more after it was trimmed"},
	} {
		t.Run(c.what, func(t *testing.T) {
			job, plan := handmade.Ripped()
			u := handBoard(job, plan, c.board)
			if f := replayed(job, u); len(f) > 0 {
				t.Fatal(f)
			}
			c.spoil(job, u)
			handmade.Want(t, replayed(job, u), c.want)
		})
	}
}

// A piece without a blank is crosscut only from the trim, where it is shorter than any that is.
func TestReplayOfShortRests(t *testing.T) {
	job, _ := handmade.Ripped()
	b := handmade.RowWriter{Board: "R1", Origin: model.FromRack}
	b.Part(1, 0, 370, 0, 88, "X", "plank", 1, model.Show)
	b.Row(1, model.KindKerf, 370, 372, 0, 88)
	b.Row(2, model.KindWaste, 372, 384, 0, 88)
	b.Row(2, model.KindKerf, 384, 386, 0, 88)
	b.Row(2, model.KindOffcut, 386, 400, 0, 88)
	u := &usedBoard{id: "R1", origin: model.FromRack, board: &job.Rack[0], rows: b.Rows}
	job.Settings.Safety.ShortestBlank = 28 * handmade.Sixteenth
	if f := replayed(job, u); len(f) > 0 {
		t.Error(f)
	}
	job.Settings.Safety.ShortestBlank++
	handmade.Want(t, replayed(job, u),
		"step 2 a piece 1\u00a03/4\" long is crosscut that holds no blank")
	u.rows[4].Kind, u.rows[3].Kind, u.rows[3].To, u.rows[4].From = model.KindTrim, model.KindOffcut,
		386*handmade.Sixteenth, 386*handmade.Sixteenth
	u.rows[2].To, u.rows[3].From = 374*handmade.Sixteenth, 374*handmade.Sixteenth
	u.rows = append(u.rows[:2], u.rows[3:]...)
	u.rows[2].From = 372 * handmade.Sixteenth
	if f := replayed(job, u); len(f) > 0 {
		t.Error(f)
	}
}

func swapSteps(rows []model.Cut, a, b int) {
	for i := range rows {
		switch rows[i].Step {
		case a:
			rows[i].Step = b
		case b:
			rows[i].Step = a
		}
	}
}

// drawn is a random legal pattern: a job whose parts are the sizes drawn, and the board with its
// pieces.
func drawn(r *rand.Rand) (*model.Job, *usedBoard) {
	length := func(n int) model.Length { return model.Length(r.IntN(n + 1)) }
	trimmed, kerfless := r.IntN(4) > 0, r.IntN(6)
	job := &model.Job{Settings: model.Settings{
		CrosscutKerf: 1 + length(3), RipKerf: 1 +
			length(3), RackEnd: length(1) * 5, Margin: length(2), TrimmingCut: trimmed,
		Allowance: model.Allowance{EasedEdge: length(4)},
		Offcut: model.OffcutRule{KeepLength: length(30), KeepWidth: length(12),
			Value: model.Fraction{Num: 1, Den: 2}},
		Safety: model.Safety{ShortestRip: 5, NarrowestRip: 3, ShortestBlank: length(30)},
		Weak:   []string{"split"},
	}}
	if kerfless < 2 {
		job.Settings.CrosscutKerf = 0
	}
	if kerfless == 1 || kerfless == 2 {
		job.Settings.RipKerf = 0
	}
	board := model.Board{ID: "R1",
		Wood: model.Wood{Material: "fir", Section: "2x6", Length: 60 + length(120),
			Width: 30 + length(40), Thickness: 8}}
	u := &usedBoard{id: "R1", origin: model.FromRack, down: model.CrosscutFirst, offer: -1}
	if r.IntN(2) == 0 {
		u.down = model.RipFirst
	}
	way, trim, inset := model.Along, job.Settings.TrimFor(&board, model.FromRack),
		job.Inset(&board.Wood)
	room := map[model.Axis]model.Span{model.Along: {From: trim, To: board.Length - trim},
		model.Across: {From: inset, To: board.Width - inset}}
	if u.down == model.RipFirst {
		way = model.Across
		if r.IntN(2) == 0 {
			u.span = drawnSpan(r, job.Settings.Margin, room[model.Along], &board)
		}
	}
	if u.hasSpan() {
		room[model.Along] = u.span
	}
	kerf := map[model.Axis]model.Length{model.Along: job.Settings.CrosscutKerf,
		model.Across: job.Settings.RipKerf}
	apart := func(d model.Axis) model.Length {
		return kerf[d] + []model.Length{0, 0, 1, kerf[d], 7, 25}[r.IntN(6)]
	}
	least := map[model.Axis]model.Length{model.Along: 5, model.Across: 3}
	put := func(at model.Rect) {
		p := model.Part{Commission: "C", Name: fmt.Sprint("p", len(job.Parts)), Qty: 1,
			Material: "fir",
			Length:   at.To - at.From, Width: at.Right - at.Left, Thickness: 8}
		job.Parts = append(job.Parts, p)
		u.rows = append(u.rows,
			model.Cut{Kind: model.KindPart, Commission: "C", Part: p.Name, Copy: 1, From: at.From,
				To:   at.To,
				Left: at.Left, Right: at.Right})
	}
	at := room[way].From + []model.Length{0, 0, 1, 9}[r.IntN(4)]
	for {
		size := least[way] + length([]int{40, 20}[way])
		if at+size > room[way].To {
			break
		}
		if way == model.Along && r.IntN(5) == 0 {
			put(model.Rect{From: at, To: at + size, Left: 0, Right: board.Width}) // plain
		} else {
			other := way.Other()
			in, n := room[other].From+[]model.Length{0, 0, 1, 5}[r.IntN(4)], len(u.rows)
			for {
				s := least[other] + length([]int{40, 20}[other])
				if in+s > room[other].To {
					break
				}
				of := model.Span{From: at, To: at + size}
				if short := length(9); trimmed && len(u.rows) > n && size-short >= least[way] &&
					s >= 5 {
					if r.IntN(2) == 0 {
						of.To -= short
					} else {
						of.From += short
					}
				}
				put(model.Rect{}.With(way, of).With(other, model.Span{From: in, To: in + s}))
				in += s + apart(other)
			}
		}
		at += size + apart(way)
	}
	for range r.IntN(4) {
		d := model.Defect{From: length(180), Left: length(60), Kind: "knot"}
		d.To, d.Right = d.From+1+length(20), d.Left+1+length(20)
		d.To, d.Right = min(d.To, board.Length), min(d.Right, board.Width)
		hit := func(c model.Cut) bool {
			m := job.Settings.Margin
			return d.From-m < c.To && c.From < d.To+m && d.Left-m < c.Right && c.Left < d.Right+m
		}
		if d.From < d.To && d.Left < d.Right && !slices.ContainsFunc(u.rows, hit) {
			board.Defects = append(board.Defects, d)
		}
	}
	job.Rack = []model.Board{board}
	u.board = &job.Rack[0]
	return job, u
}

// drawnSpan draws a span to be ripped and the weak defects that it begins behind and ends before;
// it is none where it would be all between the trims.
func drawnSpan(r *rand.Rand, margin model.Length, between model.Span,
	b *model.Board) model.Span {
	s := between
	split := func(from, to model.Length) {
		d := model.Defect{From: max(0, from), To: min(b.Length, to), Kind: "split"}
		d.Left = model.Length(r.IntN(int(b.Width)))
		d.Right = d.Left + 1 + model.Length(r.IntN(int(b.Width-d.Left)))
		b.Defects = append(b.Defects, d)
	}
	if end := between.From + 1 + model.Length(r.IntN(20)); r.IntN(3) > 0 && end > margin {
		s.From = end
		split(end-margin-1-model.Length(r.IntN(20)), end-margin)
	}
	start := between.To - 1 - model.Length(r.IntN(20))
	if r.IntN(3) > 0 && start+margin < b.Length {
		s.To = start
		split(start+margin, start+margin+1+model.Length(r.IntN(20)))
	}
	if s == between {
		return model.Span{}
	}
	return s
}

// Whatever legal pattern is drawn, the rules find nothing wrong with it, the rows they make cover
// the board and are those that the saw's replay frees, and where a cut ends at another one, and so
// can only come after it, the two cannot change places.
func TestLaidOutBoardsCanBeCut(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	boards, swaps, trims, offcuts, kerfless, spans := 0, 0, 0, 0, 0, 0
	for range 6000 {
		job, u := drawn(r)
		if len(u.rows) == 0 {
			continue
		}
		k := newChecker(job, &model.Plan{})
		k.judgeSpan(u)
		k.judgePieces(u)
		b := k.judgePattern(u)
		if len(k.found) > 0 {
			t.Fatalf("%+v\n%+v\n%v", job.Settings, u.rows, k.found)
		}
		pieces := u.rows
		u.rows = k.layOutRipped(b)
		k.judgeTiling(u)
		k.replay(u)
		if len(k.found) > 0 {
			t.Fatalf("%v %+v\n%+v\n%v\n%v", u.down, job.Settings, *u.board, u.rows, k.found)
		}
		boards++
		if u.hasSpan() {
			spans++
		}
		if job.Settings.CrosscutKerf == 0 || job.Settings.RipKerf == 0 {
			kerfless++
		}
		got := 0
		for _, row := range u.rows {
			switch row.Kind {
			case model.KindPart:
				if got++; !slices.ContainsFunc(pieces, func(p model.Cut) bool {
					return p.Rect() == row.Rect() && p.Part == row.Part
				}) {
					t.Fatalf("%+v is none of the pieces", row)
				}
			case model.KindOffcut:
				offcuts++
			}
		}
		if got != len(pieces) {
			t.Fatalf("%d pieces of %d", got, len(pieces))
		}
		for _, run := range b.slabs {
			for i := range run.blanks {
				if b.trimmed(&run, &run.blanks[i]) {
					trims++
				}
			}
		}
		// else kerfs side by side may be of neighbours
		if a, z, ok := dependent(r, u.rows); ok && job.Settings.CrosscutKerf > 0 &&
			job.Settings.RipKerf > 0 {
			swaps++
			swapSteps(u.rows, a, z)
			if len(replayed(job, u)) == 0 {
				t.Fatalf("steps %d and %d change places\n%v", a, z, u.rows)
			}
		}
	}
	t.Logf("%d boards, %d with a kerf of 0, %d with a span, %d swaps, %d trims, %d offcuts", boards,
		kerfless, spans, swaps, trims, offcuts)
	if boards < 5000 || swaps < 2000 || trims < 5000 || offcuts < 5000 || kerfless < 2000 ||
		spans < 1000 {
		t.Errorf("only %d boards, %d with a kerf of 0, %d with a span, %d swaps, %d trims, %d "+
			"offcuts", boards, kerfless, spans, swaps, trims, offcuts)
	}
}

// dependent finds two cuts, one of which ends at the kerf of the other.
func dependent(r *rand.Rand, rows []model.Cut) (first, second int, ok bool) {
	from := r.IntN(len(rows))
	for i := range rows {
		a := &rows[(from+i)%len(rows)]
		for k := range rows {
			b := &rows[k]
			if a.Kind != model.KindKerf || b.Kind != model.KindKerf || a.Step >= b.Step {
				continue
			}
			x, y := a.Rect(), b.Rect()
			acrossIt := (x.To == y.From || y.To == x.From) && x.Left <= y.Left &&
				y.Right <= x.Right && x.On(model.Across) != y.On(model.Across)
			alongIt := (x.Right == y.Left || y.Right == x.Left) && x.From <= y.From &&
				y.To <= x.To && x.On(model.Along) != y.On(model.Along)
			if acrossIt || alongIt {
				return a.Step, b.Step, true
			}
		}
	}
	return 0, 0, false
}

// A generator that knows only how a saw works: any board cut by straight cuts, numbered as they are
// made, is replayed.
func TestReplayOfAnySawing(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range 3000 {
		job := &model.Job{Settings: model.Settings{TrimmingCut: true}}
		job.Rack = []model.Board{
			{ID: "R1", Wood: model.Wood{Material: "fir", Section: "2x6", Length: 200, Width: 100,
				Thickness: 8}}}
		u := &usedBoard{id: "R1", origin: model.FromRack, board: &job.Rack[0],
			down: model.CrosscutFirst}
		if r.IntN(2) == 0 {
			u.down = model.RipFirst
		}
		way := model.Along
		if u.down == model.RipFirst {
			way = model.Across
		}
		step, ripped := 0, 0
		pieces, lastOf := []model.Rect{{From: 0, To: 200, Left: 0, Right: 100}},
			map[model.Rect]int{}
		for level := range 3 {
			next := []model.Rect{}
			first := step
			for _, p := range pieces {
				if level == 2 && lastOf[p] <= ripped {
					next = append(next, p)
					// it was not turned, so another cut of the first kind would not trim it
					continue
				}
				for range r.IntN(3) {
					kerf, s := 1+model.Length(r.IntN(3)), p.On(way)
					if s.To-s.From < 20 {
						break
					}
					at := s.From + 5 + model.Length(r.IntN(int(s.To-s.From-15)))
					step++
					u.rows = append(u.rows,
						u.newRow(model.KindKerf, p.With(way, model.Span{From: at, To: at + kerf})))
					u.rows[len(u.rows)-1].Step = step
					off := p.With(way, model.Span{From: s.From, To: at})
					p = p.With(way, model.Span{From: at + kerf, To: s.To})
					lastOf[off], lastOf[p] = step, step
					next = append(next, off)
				}
				next = append(next, p)
			}
			pieces, ripped = next, first
			if way = way.Other(); level == 2 {
				break
			}
		}
		for i, p := range pieces {
			u.rows = append(u.rows,
				u.newRow([]model.Kind{model.KindPart, model.KindOffcut, model.KindWaste}[i%3], p))
			u.rows[len(u.rows)-1].Step = max(1, lastOf[p])
		}
		if f := replayed(job, u); len(f) > 0 {
			t.Fatalf("%v\n%v", u.rows, f)
		}
		if a, z, ok := dependent(r, u.rows); ok {
			if swapSteps(u.rows, a, z); len(replayed(job, u)) == 0 {
				t.Fatalf("steps %d and %d change places\n%v", a, z, u.rows)
			}
		}
	}
}

// What is worth no keeping is divided by its defects, cell by cell, slab by slab.
func TestLeavings(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 5000 {
		b := &model.Board{Wood: model.Wood{Length: 12, Width: 8}}
		for range r.IntN(4) {
			d := model.Defect{From: model.Length(r.IntN(12)), Left: model.Length(r.IntN(8))}
			d.To, d.Right = d.From+model.Length(r.IntN(6)), d.Left+model.Length(r.IntN(5))
			b.Defects = append(b.Defects, d)
		}
		of := model.Rect{From: model.Length(r.IntN(6)), Left: model.Length(r.IntN(4))}
		of.To, of.Right = of.From+1+model.Length(r.IntN(6)), of.Left+1+model.Length(r.IntN(4))
		var rows []model.Cut
		leavings(b, of, func(kind model.Kind, at model.Rect) {
			rows = append(rows,
				model.Cut{Kind: kind, From: at.From, To: at.To, Left: at.Left, Right: at.Right})
		})
		column := func(x model.Length) (s string) {
			for y := of.Left; y < of.Right; y++ {
				bad := slices.ContainsFunc(b.Defects, func(d model.Defect) bool {
					return d.From <= x && x < d.To && d.Left <= y && y < d.Right
				})
				s += map[bool]string{true: "x", false: "."}[bad]
			}
			return s
		}
		var want []model.Cut // each run of alike columns, from edge to edge of it
		for x := of.From; x < of.To; {
			end, c := x+1, column(x)
			for end < of.To && column(end) == c {
				end++
			}
			for i := 0; i < len(c); {
				k := i + 1
				for k < len(c) && c[k] == c[i] {
					k++
				}
				want = append(want,
					model.Cut{
						Kind: map[byte]model.Kind{'x': model.KindDefect,
							'.': model.KindWaste}[c[i]], From: x,
						To: end, Left: of.Left + model.Length(i), Right: of.Left + model.Length(k)})
				i = k
			}
			x = end
		}
		if !slices.Equal(rows, want) {
			t.Fatalf("%+v of %+v\n got %v\nwant %v", of, b.Defects, rows, want)
		}
	}
}

// Rows that cover a board, and each way in which they do not.
func TestRowsCoverABoard(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	found := [3]int{}
	for range 20_000 {
		b, cells := &model.Board{Wood: model.Wood{Length: 4, Width: 3}}, [4][3]int{}
		var rows []model.Cut
		for range 1 + r.IntN(4) {
			c := model.Cut{From: model.Length(r.IntN(4)), Left: model.Length(r.IntN(3))}
			c.To, c.Right = c.From+1+model.Length(r.IntN(int(4-c.From))),
				c.Left+1+model.Length(r.IntN(int(3-c.Left)))
			rows = append(rows, c)
			for x := c.From; x < c.To; x++ {
				for y := c.Left; y < c.Right; y++ {
					cells[x][y]++
				}
			}
		}
		least, most := 9, 0
		for _, column := range cells {
			least, most = min(least, slices.Min(column[:])), max(most, slices.Max(column[:]))
		}
		i, _ := rowsOverlap(rows)
		if i >= 0 != (most > 1) {
			t.Fatalf("%v: overlap %d, most %d", rows, i, most)
		}
		if i < 0 && rowsCover(rows, b) != (least == 1) {
			t.Fatalf("%v: least %d", rows, least)
		}
		switch {
		case i >= 0:
			found[0]++
		case least == 0:
			found[1]++
		default:
			found[2]++
		}
	}
	if slices.Min(found[:]) < 30 {
		t.Errorf("overlaps, gaps, neither: %v", found)
	}
}
