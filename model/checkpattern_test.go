package model

import (
	"testing"
)

// move sets the place of the one row that is so and so, and of its piece in the placements, in
// sixteenths.
func move(p *Plan, part string, n int64, from, to, left, right Length) {
	const s = sixteenth
	for i := range p.Cuts {
		if r := &p.Cuts[i]; r.Part == part && r.Copy == n {
			r.From, r.To, r.Left, r.Right = from*s, to*s, left*s, right*s
		}
	}
}

// only keeps of a plan the rows of a board that is cut into these.
func only(p *Plan, first First, b rowsOf) {
	p.Cuts = b.rows
	p.Placements = []Placement{{Board: b.board, First: first, Pieces: piecesOf(b.rows, b.board)}}
}

func TestCheckRefusesPatterns(t *testing.T) {
	const s = sixteenth
	for _, c := range []spoilt{
		{"no way to break a board down", func(j *Job, p *Plan) {
			p.Placements[0].First = "saw"
		}, `is broken down by "saw" first`},
		{"ripped, and called not ripped", func(j *Job, p *Plan) {
			p.Placements[0].First = NotRipped
		}, "overlaps the row before"},
		{"strips, and called lengths", func(j *Job, p *Plan) {
			p.Placements[1].First = CrosscutFirst
		}, "the length from 1/4\" to"},
		{"wider than its blank", func(j *Job, p *Plan) {
			j.Parts[0].Width -= s
		}, "the blank of rail goes across from"},
		{"as wide as the board", func(j *Job, p *Plan) {
			j.Parts[0].Width = 88 * s
		}, "rail is as wide as the board, so it is not ripped"},
		{"on a rounded edge", func(j *Job, p *Plan) {
			j.Settings.Allowance.EasedEdge += s
		}, "the rounded edges of the board leave"},
		{"narrower than what is ripped", func(j *Job, p *Plan) {
			j.Settings.Safety.NarrowestRip = 21 * s
		}, "slat is ripped to 1\u00a01/4"},
		{"shorter lengths than are ripped", func(j *Job, p *Plan) {
			j.Settings.Safety.ShortestRip = 101 * s
		}, "the length from 7\u00a05/8\" to 13\u00a07/8\" is ripped, and is 6\u00a01/4\" long"},
		{"a strip's blank shorter than what is ripped", func(j *Job, p *Plan) {
			j.Settings.Safety.ShortestRip = 101 * s
		}, "slat is ripped, and is 6\u00a01/4\" long"},
		{"boards shorter than what is ripped", func(j *Job, p *Plan) {
			j.Settings.Safety.ShortestRip = 393 * s
		}, "the board between its trims is ripped, and is 24\u00a01/2\" long"},
		{"a third cut where there is none", func(j *Job, p *Plan) {
			j.Settings.TrimmingCut = false
		}, "slat is shorter than the length from 0\" to 7\u00a01/2\""},
		{"a third rip where there is none", func(j *Job, p *Plan) {
			j.Settings.TrimmingCut = false
		}, "slat is narrower than the strip from 1/8\" to 2\u00a05/8\""},
		{"wider crosscuts between lengths", func(j *Job, p *Plan) {
			j.Settings.CrosscutKerf += s
		}, "the length from 7\u00a05/8\" to 13\u00a07/8\" is nearer than a kerf of the crosscut"},
		{"wider crosscuts in a strip", func(j *Job, p *Plan) {
			j.Settings.CrosscutKerf += s
		}, "in the strip from 1/8\" to 2\u00a05/8\", slat is nearer than a kerf"},
		{"wider rips between strips", func(j *Job, p *Plan) {
			j.Settings.RipKerf += s
		}, "the strip from 2\u00a013/16\" to 4\u00a011/16\" is nearer than a kerf of the rip"},
		{"wider rips in a length", func(j *Job, p *Plan) {
			j.Settings.RipKerf += s
		}, "slat is nearer than a kerf"},
		{"on a defect", func(j *Job, p *Plan) {
			j.Settings.Sound = nil
		}, "leg may not lie on the defect that, with its margin, goes from 6\u00a03/4\" to 7\u00a015/16\" and across from"},
		{"on its margin", func(j *Job, p *Plan) {
			j.Settings.Margin = 6 * s
		}, "leg may not lie on the defect"},
		{"whole board on a defect", func(j *Job, p *Plan) {
			j.Rack[0].Defects[0].To = 230 * s
		}, "plank may not lie on the defect"},
		{"in the trim", func(j *Job, p *Plan) {
			j.Settings.YardEnd = 5 * s
		}, "leg lies in the trim"},
		{"crooked", func(j *Job, p *Plan) {
			j.Rack[0].Longest = 99 * s
		}, "this board does not hold slat of Y"},
		{"hung between the sides", func(j *Job, p *Plan) {
			b := rowsOf{board: "R1", origin: FromRack}
			b.row(3, KindWaste, 0, 8, 2, 22)
			b.row(3, KindKerf, 8, 10, 2, 22)
			b.part(3, 10, 110, 2, 22, "Y", "slat", 1, Show)
			b.row(3, KindKerf, 110, 112, 2, 22)
			b.row(3, KindWaste, 112, 120, 2, 22)
			b.row(2, KindKerf, 0, 120, 22, 25)
			b.part(2, 0, 120, 25, 55, "X", "rail", 1, Show)
			b.row(3, KindKerf, 0, 120, 55, 58)
			b.row(3, KindOffcut, 0, 120, 58, 88)
			b.row(2, KindKerf, 0, 120, 0, 2)
			b.row(1, KindOffcut, 122, 400, 0, 88)
			b.row(1, KindKerf, 120, 122, 0, 88)
			only(p, CrosscutFirst, b)
		}, "slat lies at neither side of the length"},
		{"no blank as long as its length", func(j *Job, p *Plan) {
			b := rowsOf{board: "R1", origin: FromRack}
			b.row(2, KindKerf, 0, 170, 0, 2)
			b.part(4, 0, 100, 2, 22, "Y", "slat", 1, Show)
			b.row(4, KindKerf, 100, 102, 2, 22)
			b.row(4, KindWaste, 102, 170, 2, 22)
			b.row(2, KindKerf, 0, 170, 22, 25)
			b.row(5, KindWaste, 0, 68, 25, 45)
			b.row(5, KindKerf, 68, 70, 25, 45)
			b.part(5, 70, 170, 25, 45, "Y", "slat", 2, Show)
			b.row(3, KindKerf, 0, 170, 45, 48)
			b.row(3, KindOffcut, 0, 170, 48, 88)
			b.row(1, KindKerf, 170, 172, 0, 88)
			b.row(1, KindOffcut, 172, 400, 0, 88)
			only(p, CrosscutFirst, b)
		}, "no blank is as long as the length from 0\" to 10\u00a05/8\""},
		{"over each other in a strip", func(j *Job, p *Plan) {
			move(p, "rail", 2, 10, 130, 45, 75)
			move(p, "rail", 3, 20, 140, 45, 75)
		}, "overlaps line"},
		{"rows over each other", func(j *Job, p *Plan) {
			p.Cuts[1].Right += s
		}, "line 4: overlaps line 3"},
		{"a row off the board", func(j *Job, p *Plan) {
			p.Cuts[7].Right += s
		}, "off the board, which is"},
		{"a row of no width", func(j *Job, p *Plan) {
			p.Cuts[7].Right = p.Cuts[7].Left
		}, "is of no size"},
		{"a gap beside a row", func(j *Job, p *Plan) {
			p.Cuts[7].Left += s
		}, "the rows leave a gap"},
		{"waste in one piece", func(j *Job, p *Plan) {
			p.Cuts[14].To = p.Cuts[18].To
			p.Cuts = append(p.Cuts[:15], p.Cuts[19:]...)
		}, "stands where the rules make waste"},
	} {
		t.Run(c.what, func(t *testing.T) {
			job, plan := rippedByHand()
			c.spoil(job, plan)
			wantFinding(t, checked(job, plan), c.want)
		})
	}
}

// What could stand plain is not ripped: but it is, where a defect beside the blank forbids it, or
// an offcut stays beside it.
func TestNothingIsRippedForNothing(t *testing.T) {
	const nothing, length, strip = "", "it could take the whole width", "nothing be ripped"
	for _, c := range []struct {
		what  string
		first First
		wide  Length // of the board, in sixteenths
		bad   []Defect
		want  string
	}{
		{"one blank in a length, dust and waste beside it", CrosscutFirst, 50, nil, length},
		{"one strip, dust and waste beside it", RipFirst, 50, nil, strip},
		{"one blank in a length, an offcut beside it", CrosscutFirst, 60, nil, nothing},
		{"one strip, an offcut beside it", RipFirst, 60, nil, nothing},
		{"one blank in a length, a knot beside it", CrosscutFirst, 50,
			[]Defect{{50, 51, 46, 47, "knot"}}, nothing},
		{"one strip, a knot beside one blank", RipFirst, 50, []Defect{{50, 51, 46, 47, "knot"}},
			nothing},
		{"one blank in a length, a tolerated stain beside it", CrosscutFirst, 50,
			[]Defect{{50, 51, 46, 47, "stain"}}, length},
		{"one strip, a knot beside a gap in it", RipFirst, 50, []Defect{{130, 131, 46, 47, "knot"}},
			strip},
	} {
		job, _ := rippedByHand()
		board := &job.Rack[0]
		board.Width, board.Defects = c.wide*sixteenth, nil
		for _, d := range c.bad {
			board.Defects = append(board.Defects,
				Defect{d.From * sixteenth, d.To * sixteenth, d.Left * sixteenth,
					d.Right * sixteenth, d.Kind})
		}
		k := newChecker(job, &Plan{})
		b := rowsOf{board: "R1", origin: FromRack}
		b.part(0, 0, 100, 2, 42, "Y", "leg", 1, Sound)
		u := &used{id: "R1", origin: FromRack, board: board, offer: -1, down: c.first, rows: b.rows}
		k.pieces(u)
		want := k.lay(k.pattern(u))
		u.rows = want
		k.tiled(u)
		k.replay(u)
		if len(k.found) > 0 {
			t.Errorf("%s: %v", c.what, k.found)
		}
		k.plainest(k.runsOf(u), want)
		if c.want != nothing {
			wantFinding(t, k.found, c.want)
		} else if len(k.found) > 0 {
			t.Errorf("%s: %v", c.what, k.found)
		}
	}
}

// A strip's trimming may leave an offcut, and then it is not ripped for nothing.
func TestAnOffcutOfATrimIsWorthARip(t *testing.T) {
	job, _ := rippedByHand()
	job.Rack[0].Width, job.Rack[0].Defects = 50*sixteenth, nil
	b := rowsOf{board: "R1", origin: FromRack}
	b.part(0, 0, 100, 2, 42, "Y", "leg", 1, Sound)
	b.part(0, 102, 202, 22, 42, "Y", "slat", 1, Show) // 2-19 is 17 wide
	k := newChecker(job, &Plan{})
	u := &used{id: "R1", origin: FromRack, board: &job.Rack[0], offer: -1, down: RipFirst,
		rows: b.rows}
	k.pieces(u)
	k.plainest(k.runsOf(u), k.lay(k.pattern(u)))
	job.Settings.Offcut.KeepWidth = 18 * sixteenth
	if len(k.found) > 0 {
		t.Error(k.found)
	}
	k.plainest(k.runsOf(u), k.lay(k.pattern(u)))
	wantFinding(t, k.found, "nothing be ripped")
}
