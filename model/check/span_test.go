package check

import (
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

func TestCheckAcceptsASpanMadeByHand(t *testing.T) {
	job, plan := handmade.Spanned()
	for _, f := range checked(job, plan) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
}

// Whatever single value of the plan with a span is changed, and whatever row is dropped or doubled,
// it is refused.
func TestNoValueOfASpannedPlanIsLeftUnjudged(t *testing.T) {
	tried := handmade.ChangeEachValue(t, handmade.Spanned, checked,
		func(_, path string) bool { return path == ".Bound" })
	if tried < 1000 {
		t.Errorf("only %d values were tried", tried)
	}
}

// spoilSpanned spoils the plan with a span in each way, and sees that the checker says what is
// wanted.
func spoilSpanned(t *testing.T, all []handmade.Spoilt) {
	t.Helper()
	for _, c := range all {
		t.Run(c.What, func(t *testing.T) {
			job, plan := handmade.Spanned()
			c.Spoil(job, plan)
			handmade.Want(t, checked(job, plan), c.Want)
		})
	}
}

func TestCheckRefusesSpans(t *testing.T) {
	const s = handmade.Sixteenth
	span := func(from, to model.Length) func(j *model.Job, p *model.Plan) {
		return func(j *model.Job, p *model.Plan) {
			p.Placements[0].RipFrom, p.Placements[0].RipTo = from, to
		}
	}
	spoilSpanned(t, []handmade.Spoilt{
		{What: "begins within the defect", Spoil: span(61*s, 288*s),
			Want: "plan.json: board S1: the span to be ripped begins at 3\u00a013/16\", which is " +
				"neither the trim nor where a weak defect, with its margin, ends"},
		{What: "begins behind the defect", Spoil: span(63*s, 288*s),
			Want: "begins at 3\u00a015/16\""},
		{What: "begins where the defect was measured", Spoil: span(60*s, 288*s),
			Want: "begins at 3\u00a03/4\""},
		{What: "begins where a defect begins", Spoil: span(288*s, 396*s),
			Want: "begins at 18\""},
		{What: "begins at the end of the board", Spoil: span(0, 288*s), Want: "begins at 0\""},
		{What: "ends within the defect", Spoil: span(62*s, 289*s),
			Want: "the span to be ripped ends at 18\u00a01/16\", which is neither the trim nor " +
				"where a weak defect, with its margin, begins"},
		{What: "ends where a defect ends", Spoil: span(62*s, 302*s), Want: "ends at 18\u00a07/8\""},
		{What: "ends at the end of the board", Spoil: span(62*s, 400*s), Want: "ends at 25\""},
		{What: "all between the trims", Spoil: span(4*s, 396*s),
			Want: "is all between the trims; then it is not to be written"},
		{What: "without an end", Spoil: span(62*s, 0),
			Want: "the span to be ripped, from 3\u00a07/8\" to 0\", is none"},
		{What: "from end to start", Spoil: span(288*s, 62*s), Want: "is none"},
		{What: "below 0", Spoil: span(-62*s, 288*s), Want: "is none"},
		{What: "no span", Spoil: span(0, 0),
			Want: "runs through the split that, with its margin, " +
				"goes from 18\" to 18\u00a07/8\" and across from 0\" to 5\u00a01/2\""},
		{What: "of lengths", Spoil: func(j *model.Job, p *model.Plan) {
			p.Placements[1].RipFrom, p.Placements[1].RipTo = 4*s, 48*s
		}, Want: "plan.json: board C1: has a span to be ripped, from 1/4\" to 3\", yet is not " +
			"ripped first"},
		{What: "another one, of none of the blanks", Spoil: span(302*s, 396*s),
			Want: "cuts.csv: board S1: leg goes from 3\u00a07/8\" to 10\u00a01/8\", but only the " +
				"span from 18\u00a07/8\" to 24\u00a03/4\" is ripped"},
		{What: "to another end", Spoil: span(62*s, 396*s), Want: "runs through the split"},
		{What: "with another margin", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.Margin = s
		}, Want: "begins at"},
		{What: "beside a defect that is not weak", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.Weak = []string{"shake"}
		}, Want: "begins at"},
		{What: "beside a defect in the trim", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.RackEnd = 63 * s
		}, Want: "begins at"},
		{What: "shorter than what is ripped", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.Safety.ShortestRip = 227 * s
		}, Want: "the span from 3\u00a07/8\" to 18\" is ripped, and is 14\u00a01/8\" long"},
		{What: "ends crosscut after the first rip", Spoil: func(j *model.Job, p *model.Plan) {
			swapSteps(p.Cuts[:22], 3, 5)
		}, Want: "cuts.csv: board S1, line 7: step is 3, it should be 5"},
		{What: "end piece called waste", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[20].Kind, p.Cuts[20].Offcut = model.KindWaste, ""
		}, Want: "the rules make offcut from 18\u00a01/8\" to 24\u00a03/4\""},
		{What: "end piece of an own worth by the yard", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[2].Value = nil
		}, Want: "rack.csv: line 4: value"},
		{What: "defect of the end piece lost", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[2].Defects = nil
		}, Want: "rack.csv: line 4: the defects of board N3"},
		{What: "a setting for the span", Spoil: func(j *model.Job, p *model.Plan) {
			p.Order[2].Setting = 226 * s
		}, Want: "order.csv: line 4: setting is 14\u00a01/8\", it should be 0\""},
		{What: "a span that just is long enough", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.Safety.ShortestRip = 226 * s // longer than the blank that is trimmed
		}, Want: "slat is ripped, and is 6\u00a01/4\" long"},
	})
}

// Each rip that runs through a weak defect is named, with the defect. One that touches its margin
// is none.
func TestNoRipRunsThroughAWeakDefect(t *testing.T) {
	const s, s1, c1 = handmade.Sixteenth, 0, 1
	for _, c := range []struct {
		what                  string
		board                 int
		from, to, left, right model.Length // the defect with its margin of 2
		want                  string       // empty: it lies between the rips
	}{
		{"left of a length's blanks", c1, 20, 30, 0, 6,
			"board C1: the rip beside leg, from 1/4\" to 6\u00a01/2\", at 0\" across, runs " +
				"through the split that, with its margin, goes from 1\u00a01/4\" to " +
				"1\u00a07/8\" and across from 0\" to 3/8\""},
		{"inside the first blank", c1, 20, 30, 2, 42, ""},
		{"between a length's blanks", c1, 20, 30, 38, 45,
			"board C1: the rip beside leg, from 1/4\" to 6\u00a01/2\", at 2\u00a05/8\" across, " +
				"runs through the split that"},
		{"at the start of a length", c1, 0, 5, 38, 45, "the rip beside leg"},
		{"in its trim", c1, 0, 4, 38, 45, ""},
		{"behind a length", c1, 104, 110, 38, 88, ""},
		{"across its last unit", c1, 103, 110, 60, 66, "board C1: the rip beside slat, from 1/4\""},
		{"right of a length's blanks", c1, 20, 30, 67, 88,
			"board C1: the rip beside slat, from 1/4\" to 6\u00a01/2\", at 4\u00a01/16\" across"},
		{"beside the last rip", c1, 20, 30, 68, 88, ""},
		{"under a plain length", c1, 120, 200, 0, 88, ""},
		{"left of the strips", s1, 100, 110, 0, 4,
			"board S1: the rip beside a strip, from 3\u00a07/8\" to 18\", at 0\" across"},
		{"between the strips", s1, 266, 288, 42, 46,
			"board S1: the rip beside a strip, from 3\u00a07/8\" to 18\", at 2\u00a05/8\" across"},
		{"beside the rip between them", s1, 266, 288, 30, 42, ""},
		{"before the span", s1, 4, 62, 0, 88, ""},
		{"behind the span", s1, 288, 396, 0, 88, ""},
		{"right of the strips", s1, 62, 70, 77, 85,
			"board S1: the rip beside a strip, from 3\u00a07/8\" to 18\", at 4\u00a011/16\""},
		{"beside the last of them", s1, 62, 70, 78, 85, ""},
		{"at the blank that is trimmed", s1, 200, 210, 12, 20,
			"board S1: the rip beside slat, from 10\u00a01/4\" to 16\u00a01/2\", at " +
				"1\u00a03/16\" across"},
		{"beside it", s1, 200, 210, 10, 19, ""},
		{"behind it", s1, 264, 270, 12, 40, ""},
	} {
		job, plan := handmade.Spanned()
		board := &job.Rack[c.board]
		at := model.Defect{From: (c.from + 2) * s, To: (c.to - 2) * s, Left: (c.left + 2) * s,
			Right: (c.right - 2) * s, Kind: "split"}
		if c.left == 0 {
			at.Left = 0
		}
		if c.from == 0 {
			at.From = 0
		}
		if c.right == 88 {
			at.Right = 88 * s
		}
		board.Defects = append(board.Defects, at)
		j := newChecker(job, plan)
		j.readBoards()
		b := j.boards[c.board]
		j.found = nil
		j.judgeWeak(j.findSlabs(b), "board "+b.id)
		if c.want == "" && len(j.found) > 0 || len(j.found) > 1 {
			t.Errorf("%s: %v", c.what, j.found)
		}
		if c.want != "" {
			handmade.Want(t, j.found, c.want)
		}
	}
}

// Without a kerf a rip is a line: it runs through what lies on both sides of it.
func TestARipWithoutAKerfIsALine(t *testing.T) {
	for _, c := range []struct {
		what        string
		left, right model.Length
		want        int
	}{
		{"on both sides", 39, 41, 1}, {"to the line", 30, 40, 0}, {"from the line on", 40, 50, 0},
		{"over two of them", 39, 61, 2}, {"from one to the other", 40, 60, 0},
	} {
		job := &model.Job{Settings: model.Settings{Weak: []string{"split"}},
			Parts: []model.Part{{Name: "slat"}},
			Rack: []model.Board{{Wood: model.Wood{Length: 100, Width: 100}, Defects: []model.Defect{
				{From: 10, To: 20, Left: c.left, Right: c.right, Kind: "split"}}}}}
		k := newChecker(job, &model.Plan{})
		u := &usedBoard{id: "R1", origin: model.FromRack, board: &job.Rack[0],
			down: model.CrosscutFirst}
		for _, across := range []model.Span{{From: 0, To: 40}, {From: 40, To: 60}} {
			u.pieces = append(u.pieces, laidPiece{0, &model.Cut{To: 100, Left: across.From,
				Right: across.To}})
		}
		if k.judgeWeak(k.findSlabs(u), ""); len(k.found) != c.want {
			t.Errorf("%s: %v", c.what, k.found)
		}
		if got := k.ripLength(k.findSlabs(u)); got != 200 {
			t.Errorf("the rips are %d long, want 100 at 40 and at 60", got)
		}
	}
}

// What the rips of a board cost is part of what it costs, and of the column ripping.
func TestCheckRefusesRipCosts(t *testing.T) {
	spoilSpanned(t, []handmade.Spoilt{
		{What: "a unit more", Spoil: func(j *model.Job, p *model.Plan) {
			p.Costs[0].Ripping++
		}, Want: "costs.csv: line 2: ripping is 0.0075, it should be 0.0074"},
		{What: "shared otherwise", Spoil: func(j *model.Job, p *model.Plan) {
			p.Costs[0].Ripping, p.Costs[1].Ripping = 84, 84
		}, Want: "costs.csv: line 3: ripping is 0.0084, it should be 0.0094"},
		{What: "another price", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.Ripping = 60
		}, Want: "costs.csv: line 2: ripping is 0.0074, it should be 0.0149"},
		{What: "another price and the value", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.Ripping = 60
		}, Want: "plan.json: value: is 0.1542; the boards used, with handling and rips, " +
			"less their offcuts, cost 0.171"},
		{What: "no price", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.Ripping = 0
		}, Want: "costs.csv: line 3: ripping is 0.0094, it should be 0.00"},
		{What: "a price for each metre", Spoil: func(j *model.Job, p *model.Plan) {
			// 1078 sixteenths of an inch are 1.711325 m: 1711.3 in all, as 74.673 to 93.765
			j.Settings.Units, j.Settings.Ripping = model.Millimetre, 1000
		}, Want: "costs.csv: line 2: ripping is 0.0074, it should be 0.0759"},
		{What: "left out of the cost", Spoil: func(j *model.Job, p *model.Plan) {
			p.Costs[0].Cost -= 74
		}, Want: "costs.csv: line 2: cost is 0.0652, it should be 0.0726"},
	})
}

// The rips of a board are what the proof is told that it costs, to the last tick.
func TestNetCostsHaveTheRips(t *testing.T) {
	const s = handmade.Sixteenth
	dear, found := Check(handmade.Spanned())
	if len(found) > 0 {
		t.Fatal(found)
	}
	job, plan := handmade.Spanned()
	job.Settings.Ripping = 15
	cheap, _ := Check(job, plan)
	if a, b := dear.Worth.Bits, cheap.Worth.Bits; a != b || dear.Worth.Unit != s {
		t.Fatalf("ticks of 2^-%d and 2^-%d, for %d", a, b, dear.Worth.Unit)
	}
	// a rip of a sixteenth costs 30/192 of 2^Bits, rounded down
	more := (30<<dear.Worth.Bits)/192 - (15<<dear.Worth.Bits)/192
	for i, length := range []int64{778, 300} {
		if got := dear.Boards[i].Net - cheap.Boards[i].Net; got != length*int64(more) {
			t.Errorf("board %d costs %d ticks more, want %d x %d", i, got, length, more)
		}
	}
}

// An end piece outside the span is no reason to rip: it is kept of a board that stands plain, too.
func TestAnEndPieceIsNoReasonToRip(t *testing.T) {
	const s = handmade.Sixteenth
	for _, c := range []struct {
		what string
		wide model.Length // of the board
		bad  []model.Defect
		want bool // that it is refused
	}{
		{"an end piece alone", 50, nil, true},
		{"an offcut beside the strip", 60, nil, false},
		{"a knot beside the blank", 50, []model.Defect{
			{From: 100 * s, To: 101 * s, Left: 46 * s, Right: 47 * s, Kind: "knot"}}, false},
		{"a knot in the end piece", 50, []model.Defect{
			{From: 390 * s, To: 391 * s, Left: 46 * s, Right: 47 * s, Kind: "knot"}}, true},
	} {
		job, _ := handmade.Spanned()
		board := &job.Rack[0]
		board.Width, board.Defects = c.wide*s, append(c.bad,
			model.Defect{From: 290 * s, To: 300 * s, Left: 0, Right: c.wide * s, Kind: "split"})
		b := handmade.RowWriter{Board: "S1", Origin: model.FromRack}
		b.Part(0, 62, 162, 2, 42, "Y", "leg", 1, model.Sound)
		k := newChecker(job, &model.Plan{})
		u := &usedBoard{id: "S1", origin: model.FromRack, board: board, offer: -1,
			down: model.RipFirst, span: model.Span{From: 4 * s, To: 288 * s}, rows: b.Rows}
		k.judgeSpan(u)
		k.judgePieces(u)
		want := k.layOutRipped(k.judgePattern(u))
		u.rows = want
		k.judgeTiling(u)
		k.replay(u)
		if len(k.found) > 0 || want[len(want)-2].Kind != model.KindOffcut {
			t.Errorf("%s: %v\n%v", c.what, k.found, want)
		}
		k.judgePlainest(k.findSlabs(u), want)
		if c.want {
			handmade.Want(t, k.found, "nothing be ripped")
		} else if len(k.found) > 0 {
			t.Errorf("%s: %v", c.what, k.found)
		}
	}
}

// The ends outside a span come off before the board is ripped, even where no kerf tells of it.
func TestReplayOfSpans(t *testing.T) {
	row := func(step int, kind model.Kind, from, to, left, right model.Length) model.Cut {
		return model.Cut{Step: step, Kind: kind, From: from, To: to, Left: left, Right: right}
	}
	const ripped, crosscut = "a board is ripped before the ends outside the span",
		"the span to be ripped is crosscut before it is ripped"
	for _, c := range []struct {
		what string
		rows []model.Cut
		want string
	}{
		{"the end, then the rip", []model.Cut{row(1, model.KindDefect, 0, 20, 0, 10),
			row(1, model.KindWaste, 0, 20, 10, 20), row(2, model.KindPart, 20, 100, 0, 10),
			row(2, model.KindPart, 20, 100, 10, 20)}, ""},
		{"the rip, then the end", []model.Cut{row(2, model.KindDefect, 0, 20, 0, 10),
			row(3, model.KindWaste, 0, 20, 10, 20), row(2, model.KindPart, 20, 100, 0, 10),
			row(3, model.KindPart, 20, 100, 10, 20)}, ripped},
		{"the end, a crosscut, then the rip", []model.Cut{row(1, model.KindWaste, 0, 20, 0, 20),
			row(3, model.KindPart, 20, 60, 0, 10), row(3, model.KindPart, 20, 60, 10, 20),
			row(2, model.KindPart, 60, 100, 0, 20)}, crosscut},
		{"the end, the rip, then crosscuts", []model.Cut{row(1, model.KindWaste, 0, 20, 0, 20),
			row(3, model.KindPart, 20, 60, 0, 10), row(4, model.KindPart, 20, 60, 10, 20),
			row(3, model.KindPart, 60, 100, 0, 10), row(4, model.KindPart, 60, 100, 10, 20)}, ""},
	} {
		t.Run(c.what, func(t *testing.T) {
			job := &model.Job{Settings: model.Settings{TrimmingCut: true},
				Rack: []model.Board{{Wood: model.Wood{Length: 100, Width: 20}}}}
			u := &usedBoard{id: "R1", origin: model.FromRack, board: &job.Rack[0],
				down: model.RipFirst, span: model.Span{From: 20, To: 100}, rows: c.rows}
			found := replayed(job, u)
			if c.want != "" {
				handmade.Want(t, found, c.want)
			} else if len(found) > 0 {
				t.Error(found)
			}
		})
	}
}
