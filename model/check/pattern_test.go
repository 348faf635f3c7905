package check

import (
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

// move sets the place of the one row that is so and so, and of its piece in the placements, in
// sixteenths.
func move(p *model.Plan, part string, n int64, from, to, left, right model.Length) {
	const s = handmade.Sixteenth
	for i := range p.Cuts {
		if r := &p.Cuts[i]; r.Part == part && r.Copy == n {
			r.From, r.To, r.Left, r.Right = from*s, to*s, left*s, right*s
		}
	}
}

// only keeps of a plan the rows of a board that is cut into these.
func only(p *model.Plan, first model.First, b handmade.RowWriter) {
	p.Cuts = b.Rows
	p.Placements = []model.Placement{
		{Board: b.Board, First: first, Pieces: handmade.PiecesOf(b.Rows, b.Board)}}
}

func TestCheckRefusesPatterns(t *testing.T) {
	const s = handmade.Sixteenth
	for _, c := range []handmade.Spoilt{
		{What: "no way to break a board down", Spoil: func(j *model.Job, p *model.Plan) {
			p.Placements[0].First = "saw"
		}, Want: `is broken down by "saw" first`},
		{What: "ripped, and called not ripped", Spoil: func(j *model.Job, p *model.Plan) {
			p.Placements[0].First = model.NotRipped
		}, Want: "overlaps the row before"},
		{What: "strips, and called lengths", Spoil: func(j *model.Job, p *model.Plan) {
			p.Placements[1].First = model.CrosscutFirst
		}, Want: "the length from 1/4\" to"},
		{What: "wider than its blank", Spoil: func(j *model.Job, p *model.Plan) {
			j.Parts[0].Width -= s
		}, Want: "the blank of rail goes across from"},
		{What: "as wide as the board", Spoil: func(j *model.Job, p *model.Plan) {
			j.Parts[0].Width = 88 * s
		}, Want: "rail is as wide as the board, so it is not ripped"},
		{What: "on a rounded edge", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.Allowance.EasedEdge += s
		}, Want: "the rounded edges of the board leave"},
		{What: "narrower than what is ripped", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.Safety.NarrowestRip = 21 * s
		}, Want: "slat is ripped to 1\u00a01/4"},
		{What: "shorter lengths than are ripped", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.Safety.ShortestRip = 101 * s
		}, Want: "the length from 7\u00a05/8\" to 13\u00a07/8\" is ripped, and is 6\u00a01/4\" long"},
		{What: "a strip's blank shorter than what is ripped",
			Spoil: func(j *model.Job, p *model.Plan) {
				j.Settings.Safety.ShortestRip = 101 * s
			}, Want: "slat is ripped, and is 6\u00a01/4\" long"},
		{What: "boards shorter than what is ripped", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.Safety.ShortestRip = 393 * s
		}, Want: "the board between its trims is ripped, and is 24\u00a01/2\" long"},
		{What: "a third cut where there is none", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.TrimmingCut = false
		}, Want: "slat is shorter than the length from 0\" to 7\u00a01/2\""},
		{What: "a third rip where there is none", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.TrimmingCut = false
		}, Want: "slat is narrower than the strip from 1/8\" to 2\u00a05/8\""},
		{What: "wider crosscuts between lengths", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.CrosscutKerf += s
		}, Want: "the length from 7\u00a05/8\" to 13\u00a07/8\" is nearer than a kerf of " +
			"the crosscut"},
		{What: "wider crosscuts in a strip", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.CrosscutKerf += s
		}, Want: "in the strip from 1/8\" to 2\u00a05/8\", slat is nearer than a kerf"},
		{What: "wider rips between strips", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.RipKerf += s
		}, Want: "the strip from 2\u00a013/16\" to 4\u00a011/16\" is nearer than a kerf of the rip"},
		{What: "wider rips in a length", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.RipKerf += s
		}, Want: "slat is nearer than a kerf"},
		{What: "on a defect", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.Sound = nil
		}, Want: "leg may not lie on the defect that, with its margin, goes from 6\u00a03/4\" to " +
			"7\u00a015/16\" and across from"},
		{What: "on its margin", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.Margin = 6 * s
		}, Want: "leg may not lie on the defect"},
		{What: "whole board on a defect", Spoil: func(j *model.Job, p *model.Plan) {
			j.Rack[0].Defects[0].To = 230 * s
		}, Want: "plank may not lie on the defect"},
		{What: "in the trim", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.YardEnd = 5 * s
		}, Want: "leg lies in the trim"},
		{What: "crooked", Spoil: func(j *model.Job, p *model.Plan) {
			j.Rack[0].Longest = 99 * s
		}, Want: "this board does not hold slat of Y"},
		{What: "hung between the sides", Spoil: func(j *model.Job, p *model.Plan) {
			b := handmade.RowWriter{Board: "R1", Origin: model.FromRack}
			b.Row(3, model.KindWaste, 0, 8, 2, 22)
			b.Row(3, model.KindKerf, 8, 10, 2, 22)
			b.Part(3, 10, 110, 2, 22, "Y", "slat", 1, model.Show)
			b.Row(3, model.KindKerf, 110, 112, 2, 22)
			b.Row(3, model.KindWaste, 112, 120, 2, 22)
			b.Row(2, model.KindKerf, 0, 120, 22, 25)
			b.Part(2, 0, 120, 25, 55, "X", "rail", 1, model.Show)
			b.Row(3, model.KindKerf, 0, 120, 55, 58)
			b.Row(3, model.KindOffcut, 0, 120, 58, 88)
			b.Row(2, model.KindKerf, 0, 120, 0, 2)
			b.Row(1, model.KindOffcut, 122, 400, 0, 88)
			b.Row(1, model.KindKerf, 120, 122, 0, 88)
			only(p, model.CrosscutFirst, b)
		}, Want: "slat lies at neither side of the length"},
		{What: "no blank as long as its length", Spoil: func(j *model.Job, p *model.Plan) {
			b := handmade.RowWriter{Board: "R1", Origin: model.FromRack}
			b.Row(2, model.KindKerf, 0, 170, 0, 2)
			b.Part(4, 0, 100, 2, 22, "Y", "slat", 1, model.Show)
			b.Row(4, model.KindKerf, 100, 102, 2, 22)
			b.Row(4, model.KindWaste, 102, 170, 2, 22)
			b.Row(2, model.KindKerf, 0, 170, 22, 25)
			b.Row(5, model.KindWaste, 0, 68, 25, 45)
			b.Row(5, model.KindKerf, 68, 70, 25, 45)
			b.Part(5, 70, 170, 25, 45, "Y", "slat", 2, model.Show)
			b.Row(3, model.KindKerf, 0, 170, 45, 48)
			b.Row(3, model.KindOffcut, 0, 170, 48, 88)
			b.Row(1, model.KindKerf, 170, 172, 0, 88)
			b.Row(1, model.KindOffcut, 172, 400, 0, 88)
			only(p, model.CrosscutFirst, b)
		}, Want: "no blank is as long as the length from 0\" to 10\u00a05/8\""},
		{What: "over each other in a strip", Spoil: func(j *model.Job, p *model.Plan) {
			move(p, "rail", 2, 10, 130, 45, 75)
			move(p, "rail", 3, 20, 140, 45, 75)
		}, Want: "overlaps line"},
		{What: "rows over each other", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[1].Right += s
		}, Want: "line 4: overlaps line 3"},
		{What: "a row off the board", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[7].Right += s
		}, Want: "off the board, which is"},
		{What: "a row of no width", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[7].Right = p.Cuts[7].Left
		}, Want: "is of no size"},
		{What: "a gap beside a row", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[7].Left += s
		}, Want: "the rows leave a gap"},
		{What: "waste in one piece", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[14].To = p.Cuts[18].To
			p.Cuts = append(p.Cuts[:15], p.Cuts[19:]...)
		}, Want: "stands where the rules make waste"},
	} {
		t.Run(c.What, func(t *testing.T) {
			job, plan := handmade.Ripped()
			c.Spoil(job, plan)
			handmade.Want(t, checked(job, plan), c.Want)
		})
	}
}

// What could stand plain is not ripped: but it is, where a defect beside the blank forbids it, or
// an offcut stays beside it.
func TestNothingIsRippedForNothing(t *testing.T) {
	const nothing, length, strip = "", "it could take the whole width", "nothing be ripped"
	for _, c := range []struct {
		what  string
		first model.First
		wide  model.Length // of the board, in sixteenths
		bad   []model.Defect
		want  string
	}{
		{"one blank in a length, dust and waste beside it", model.CrosscutFirst, 50, nil, length},
		{"one strip, dust and waste beside it", model.RipFirst, 50, nil, strip},
		{"one blank in a length, an offcut beside it", model.CrosscutFirst, 60, nil, nothing},
		{"one strip, an offcut beside it", model.RipFirst, 60, nil, nothing},
		{"one blank in a length, a knot beside it", model.CrosscutFirst, 50,
			[]model.Defect{{From: 50, To: 51, Left: 46, Right: 47, Kind: "knot"}}, nothing},
		{"one strip, a knot beside one blank", model.RipFirst, 50,
			[]model.Defect{{From: 50, To: 51, Left: 46, Right: 47, Kind: "knot"}},
			nothing},
		{"one blank in a length, a tolerated stain beside it", model.CrosscutFirst, 50,
			[]model.Defect{{From: 50, To: 51, Left: 46, Right: 47, Kind: "stain"}}, length},
		{"one strip, a knot beside a gap in it", model.RipFirst, 50,
			[]model.Defect{{From: 130, To: 131, Left: 46, Right: 47, Kind: "knot"}},
			strip},
	} {
		job, _ := handmade.Ripped()
		board := &job.Rack[0]
		board.Width, board.Defects = c.wide*handmade.Sixteenth, nil
		for _, d := range c.bad {
			board.Defects = append(board.Defects,
				model.Defect{From: d.From * handmade.Sixteenth, To: d.To * handmade.Sixteenth,
					Left:  d.Left * handmade.Sixteenth,
					Right: d.Right * handmade.Sixteenth, Kind: d.Kind})
		}
		k := newChecker(job, &model.Plan{})
		b := handmade.RowWriter{Board: "R1", Origin: model.FromRack}
		b.Part(0, 0, 100, 2, 42, "Y", "leg", 1, model.Sound)
		u := &usedBoard{id: "R1", origin: model.FromRack, board: board, offer: -1, down: c.first,
			rows: b.Rows}
		k.judgePieces(u)
		want := k.layOutRipped(k.judgePattern(u))
		u.rows = want
		k.judgeTiling(u)
		k.replay(u)
		if len(k.found) > 0 {
			t.Errorf("%s: %v", c.what, k.found)
		}
		k.judgePlainest(k.findSlabs(u), want)
		if c.want != nothing {
			handmade.Want(t, k.found, c.want)
		} else if len(k.found) > 0 {
			t.Errorf("%s: %v", c.what, k.found)
		}
	}
}

// A strip's trimming may leave an offcut, and then it is not ripped for nothing.
func TestAnOffcutOfATrimIsWorthARip(t *testing.T) {
	job, _ := handmade.Ripped()
	job.Rack[0].Width, job.Rack[0].Defects = 50*handmade.Sixteenth, nil
	b := handmade.RowWriter{Board: "R1", Origin: model.FromRack}
	b.Part(0, 0, 100, 2, 42, "Y", "leg", 1, model.Sound)
	b.Part(0, 102, 202, 22, 42, "Y", "slat", 1, model.Show) // 2-19 is 17 wide
	k := newChecker(job, &model.Plan{})
	u := &usedBoard{id: "R1", origin: model.FromRack, board: &job.Rack[0], offer: -1,
		down: model.RipFirst,
		rows: b.Rows}
	k.judgePieces(u)
	k.judgePlainest(k.findSlabs(u), k.layOutRipped(k.judgePattern(u)))
	job.Settings.Offcut.KeepWidth = 18 * handmade.Sixteenth
	if len(k.found) > 0 {
		t.Error(k.found)
	}
	k.judgePlainest(k.findSlabs(u), k.layOutRipped(k.judgePattern(u)))
	handmade.Want(t, k.found, "nothing be ripped")
}
