package nest

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"rackwright/model"
)

// orderJob is a job of oak boards 40 inches long, 6 wide and 1 thick, none of them worth anything
// in itself: what using one costs is handling. Each board is the plain one but for what edit does.
// Each commission has one part, which most boards hold, and that makes the boards one group.
func orderJob(boards ...func(b *model.Board)) *model.Job {
	job := &model.Job{Settings: model.DefaultSettings(), Commissions: []model.Commission{
		{Name: "A"}, {Name: "A b"}, {Name: `A"c`}, {Name: "B"}}}
	s := &job.Settings
	s.Offcut.Value, s.Allowance = model.Fraction{Num: 0, Den: 1},
		model.Allowance{PlaneLimit: 20 * in}
	for n, edit := range boards {
		b := model.Board{ID: fmt.Sprint("R", n), Wood: orderWood(40),
			Where: model.Where{File: "rack.csv", Line: n + 2}}
		edit(&b)
		job.Rack = append(job.Rack, b)
	}
	for _, c := range job.Commissions {
		orderPart(job, model.Part{Commission: c.Name, Length: 17 * in})
	}
	return job
}

// orderWood is the wood of all of them, so many inches long.
func orderWood(inches model.Length) model.Wood {
	return model.Wood{Material: "oak", Section: "4/4", Length: inches * in, Width: 6 * in,
		Thickness: in, Surface: model.Rough}
}

// orderPart adds a part of 4 by 1/2 inches of its commission, length and face.
func orderPart(job *model.Job, p model.Part) {
	p.Name, p.Qty, p.Material = fmt.Sprint("p", len(job.Parts)), 1, "oak"
	p.Width, p.Thickness = 4*in, in/2
	p.Where = model.Where{File: "parts.csv", Line: len(job.Parts) + 2}
	job.Parts = append(job.Parts, p)
}

// orderOffers puts boards up for sale that all cost the same.
func orderOffers(job *model.Job, offers ...func(o *model.Offer)) {
	for n, edit := range offers {
		o := model.Offer{Wood: orderWood(60), Price: 10_000,
			Where: model.Where{File: "yard.csv", Line: n + 2}}
		edit(&o)
		job.Yard = append(job.Yard, o)
	}
}

// few is a number of boards for sale.
func few(n int64) *int64 { return &n }

// knot is a defect of three inches at the middle of a board.
func knot(b *model.Board, kind string, left, right model.Length) {
	b.Defects = append(b.Defects, model.Defect{From: 18 * in, To: 21 * in, Left: left * in,
		Right: right * in, Kind: kind})
}

// orderOf writes down the stocks of each group and, after a bar, its items, each by its parts.
func orderOf(job *model.Job) string {
	groups, short, _ := formulate(context.Background(), job, job.Valuation())
	var out []string
	for _, g := range groups {
		var words []string
		for _, s := range g.stocks {
			var ids []string
			for _, b := range s.boards {
				ids = append(ids, job.Rack[b].ID)
			}
			if !s.onHand() {
				ids = append(ids, fmt.Sprint("line", job.Yard[s.offer].Where.Line))
			}
			words = append(words, strings.Join(ids, "+"))
		}
		words = append(words, "|")
		for _, it := range g.items {
			var names []string
			for _, c := range it.copies {
				names = append(names, job.Parts[c.part].Name)
			}
			words = append(words, strings.Join(names, "+"))
		}
		out = append(out, strings.Join(words, " "))
	}
	for _, s := range short {
		out = append(out, "short "+s.Part)
	}
	return strings.Join(out, "\n")
}

// The order of stocks and items decides which of several plans that cost the same is found, so it
// is part of what a job means to the program: the same input gives the same plan also with the next
// version. Boards and offers here are alike in all that comes first, their place, length, cost and
// defects as far as the engine sees them; the order of today is written down.
func TestOrderOfStocksAndItems(t *testing.T) {
	for _, c := range []struct {
		what string
		job  func() *model.Job
		want string
	}{
		{"alike boards are one stock, the older first", func() *model.Job {
			return orderJob(func(b *model.Board) { b.Since = "2027-02-01" },
				func(b *model.Board) { b.ID, b.Bin, b.Note = "R1.1", "4", "dusty" },
				func(b *model.Board) { b.Since = "2027-01-01" })
		}, "R2+R0+R1.1 | p0+p1+p2+p3"},
		{"sections", func() *model.Job {
			return orderJob(func(b *model.Board) { b.Section = "5/4" },
				func(b *model.Board) { b.Section = "10/4" },
				func(b *model.Board) { b.Section = "2x8" },
				func(b *model.Board) { b.Section = "2x10" },
				func(b *model.Board) { b.Section = "25x150mm" })
		}, "R1 R4 R3 R2 R0 | p0+p1+p2+p3"},
		{"widths", func() *model.Job {
			return orderJob(func(b *model.Board) { b.Width = 6 * in },
				func(b *model.Board) { b.Width = 12 * in },
				func(b *model.Board) { b.Width = 14 * in },
				func(b *model.Board) { b.Width = 25 * in / 2 },
				func(b *model.Board) { b.Width = 8 * in })
		}, "R0 R4 R1 R3 R2 | p0+p1+p2+p3"},
		{"thicknesses", func() *model.Job {
			return orderJob(func(b *model.Board) { b.Thickness = 2 * in },
				func(b *model.Board) { b.Thickness = 13 * in },
				func(b *model.Board) { b.Thickness = in })
		}, "R2 R0 R1 | p0+p1+p2+p3"},
		{"surfaces", func() *model.Job {
			return orderJob(func(b *model.Board) { b.Surface = model.Rough },
				func(b *model.Board) { b.Surface = model.S2S },
				func(b *model.Board) { b.Surface = model.Rough })
		}, "R1 R0+R2 | p0+p1+p2+p3"},
		{"rates", func() *model.Job {
			job := orderJob(func(*model.Board) {}, func(b *model.Board) {
				b.Value = new(model.Money)
			},
				func(*model.Board) {})
			job.Settings.Offcut.Value = model.Fraction{Num: 1, Den: 7}
			orderOffers(job, func(o *model.Offer) { o.Available = few(3) })
			worth := job.Valuation()
			*job.Rack[1].Value = worth.ShownTicks(worth.WorthOfBoard(&job.Rack[0]))
			return job
		}, "R0+R2 R1 line2 | p0+p1+p2+p3"},
		{"whom a board is for", func() *model.Job {
			return orderJob(func(b *model.Board) { b.For = `A"c` },
				func(b *model.Board) { b.For = "B" }, func(b *model.Board) { b.For = "A b" },
				func(*model.Board) {}, func(b *model.Board) { b.For = "A" },
				func(b *model.Board) { b.For = "B" })
		}, "R3 R4 R2 R0 R1+R5 | p0 p1 p2 p3"},
		{"untouched boards", func() *model.Job {
			return orderJob(func(b *model.Board) { b.Untouched = true }, func(*model.Board) {},
				func(*model.Board) {})
		}, "R1+R2 | p0+p1+p2+p3"},
		{"the longest blank a board may give", func() *model.Job {
			return orderJob(func(b *model.Board) { b.Longest = 60 * in },
				func(b *model.Board) { b.Longest = 39 * in }, func(*model.Board) {},
				func(b *model.Board) { b.Longest = 20 * in },
				func(b *model.Board) { b.Longest = 100 * in })
		}, "R2 R3 R1 R0 R4 | p0+p1+p2+p3"},
		{"boards that are asked for by name", func() *model.Job {
			job := orderJob(func(b *model.Board) { b.ID = "S.1" }, func(b *model.Board) {
				b.ID = "S.2"
			},
				func(*model.Board) {}, func(*model.Board) {}, func(*model.Board) {})
			for _, board := range []string{"R3", "S.2", "S"} {
				orderPart(job, model.Part{Commission: "A", Length: 10 * in, Board: board})
			}
			return job
		}, "R2+R4 R3 S.1 S.2 | p0+p1+p2+p3 p4 p6 p5"},
		{"who tolerates a defect", func() *model.Job {
			return orderJob(func(b *model.Board) { knot(b, "sound knot", 0, 6) },
				func(b *model.Board) { knot(b, "split", 0, 6) },
				func(b *model.Board) { knot(b, "check", 0, 6) },
				func(b *model.Board) { knot(b, "stain", 0, 6) })
		}, "R1 R2 R0+R3 | p0+p1+p2+p3"},
		{"defects across the width", func() *model.Job {
			return orderJob(func(b *model.Board) { knot(b, "check", 3, 4) },
				func(b *model.Board) { knot(b, "check", 0, 4) },
				func(b *model.Board) { knot(b, "check", 0, 6) },
				func(b *model.Board) { knot(b, "check", 0, 3); knot(b, "check", 3, 6) },
				func(b *model.Board) { knot(b, "check", 0, 4) })
		}, "R3 R2 R1+R4 R0 | p0+p1+p2+p3"},
		{"defects recorded twice", func() *model.Job {
			return orderJob(func(b *model.Board) { knot(b, "split", 0, 6) },
				func(b *model.Board) { knot(b, "split", 0, 6); knot(b, "split", 0, 6) },
				func(b *model.Board) { knot(b, "split", 0, 3) },
				func(b *model.Board) { knot(b, "split", 0, 3); knot(b, "split", 0, 3) })
		}, "R0 R1 R2 R3 | p0+p1+p2+p3"},
		{"what a defect across does to boards that are told apart by a name", func() *model.Job {
			job := orderJob(func(b *model.Board) { knot(b, "stain", 1, 2) },
				func(b *model.Board) { b.ID = "S"; knot(b, "stain", 1, 2) },
				func(b *model.Board) { b.For = "A"; knot(b, "stain", 1, 2) })
			orderPart(job, model.Part{Commission: "A", Length: 10 * in, Board: "S"})
			return job
		}, "R0 S R2 | p0 p1+p2+p3 p4"},
		{"offers of one length and cost", func() *model.Job {
			job := orderJob(func(*model.Board) {})
			orderOffers(job, func(o *model.Offer) { o.Available = few(7) },
				func(o *model.Offer) { o.Grade = "select" },
				func(o *model.Offer) { o.Available = few(10) },
				func(o *model.Offer) { o.Yard = "north" },
				func(o *model.Offer) { o.Section = "5/4" },
				func(o *model.Offer) { o.Width = 14 * in },
				func(o *model.Offer) { o.Thickness = 2 * in },
				func(o *model.Offer) { o.Available = few(0) })
			return job
		}, "R0 line3 line5 line2 line4 line8 line7 line6 | p0+p1+p2+p3"},
		{"items of one length and face, by the stocks that hold them", func() *model.Job {
			var boards []func(*model.Board)
			for n := range 13 {
				boards = append(boards, func(b *model.Board) {
					b.Width += model.Length(n) * in / 8
				})
			}
			job := orderJob(append(boards, func(b *model.Board) { b.ID, b.For = "S.1", "B" },
				func(b *model.Board) { b.ID = "S.2" })...)
			for _, board := range []string{"R12", "R3", "S", "R2", "S.1", "R0", "R10", "R1"} {
				orderPart(job, model.Part{Commission: "A", Length: 17 * in, Board: board})
			}
			for _, board := range []string{"S.1", "S"} {
				orderPart(job, model.Part{Commission: "B", Length: 17 * in, Board: board})
			}
			return job
		}, "R0 S.2 S.1 R1 R2 R3 R4 R5 R6 R7 R8 R9 R10 R11 R12 | p3 p0+p1+p2 p9 p13 p10 p4 p6 p12 " +
			"p11 p7 p5\nshort p8"},
		{"items of one length, by width and face", func() *model.Job {
			job := orderJob(func(*model.Board) {}, func(b *model.Board) { b.Width = 10 * in })
			for n, face := range []model.Face{model.Hidden, model.Show, model.Sound, model.Hidden} {
				orderPart(job, model.Part{Commission: "B", Length: 17 * in, Face: face})
				job.Parts[len(job.Parts)-1].Width += model.Length(n/2) * in
			}
			return job
		}, "R0 R1 | p6 p7 p0+p1+p2+p3+p5 p4"},
	} {
		if got := orderOf(c.job()); got != c.want {
			t.Errorf("%s:\n%s\nwant\n%s", c.what, got, c.want)
		}
	}
}
