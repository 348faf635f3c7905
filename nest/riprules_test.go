package nest

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/model"
	"rackwright/nest/baseline"
	"rackwright/nest/cutlist"
	"rackwright/nest/cutting"
	"rackwright/nest/internal/sawtest"
)

// Plans of the simple rules for jobs with narrow parts and defects of part of the width: what the
// engine says they cost is what the books say, to the last unit; the rows tile the boards and can
// be cut; each board is laid out in its normal form; wood is neither made nor lost.
func TestRippedPlansOfRules(t *testing.T) {
	r := rand.New(rand.NewPCG(22, 1))
	firsts, narrowed := map[model.First]int{}, 0
	for n := range 150 {
		job := randomJob(r)
		job.Settings.Offcut.KeepWidth = model.Length(r.IntN(24)) * in / 8
		job.Settings.RipKerf = model.Length(1+r.IntN(2)) * in / 8
		job.Settings.CrosscutKerf = max(job.Settings.CrosscutKerf, in/16)
		job.Settings.Ripping = model.Money(r.Int64N(3) * 500)
		if r.IntN(2) == 0 {
			job.Settings.Weak = []string{"loose knot", "sound knot", "check", "split"}
		}
		for i := range job.Parts {
			job.Parts[i].Width = min(job.Parts[i].Width, model.Length(8+r.IntN(16))*in/8)
			job.Parts[i].Qty += r.Int64N(6)
		}
		for i := range job.Rack {
			b := &job.Rack[i]
			for k := range b.Defects {
				if d := &b.Defects[k]; r.IntN(3) > 0 {
					d.Left = model.Length(r.Int64N(int64(b.Width)))
					d.Right = min(b.Width, d.Left+model.Length(1+r.IntN(20))*in/8)
				}
			}
		}
		for _, rule := range baseline.Rules() {
			worth := job.Valuation()
			groups, _, _ := formulate(t.Context(), job, worth)
			d := newDecoder(job, worth)
			var boards []*cutlist.Board
			var parts int64
			for _, g := range groups {
				uses := g.byRule(t.Context(), rule, g.list)
				b, _ := d.boards(g, nil, uses)
				boards, parts = append(boards, b...), parts+g.program.Value(uses)
			}
			plan, _ := cutlist.Write(job, worth, boards, "2027-03-01")
			if value := worth.ShownTicks(parts); plan.Value != value {
				t.Fatalf("job %d, %s: the books say %v, the engine %v", n, rule, plan.Value, value)
			}
			for _, u := range boards {
				firsts[u.First]++
				cuts := slices.Collect(func(yield func(model.Cut) bool) {
					for _, c := range plan.Cuts {
						if c.Board == u.ID && !yield(c) {
							return
						}
					}
				})
				if why := tiled(u, cuts); why != "" {
					t.Fatalf("job %d, %s: %s\n%+v", n, rule, why, cuts)
				}
				if why := sawtest.Replay(cuts); why != "" {
					t.Fatalf("job %d, %s: %s\n%+v", n, rule, why, cuts)
				}
				if why := notNormal(job, u, cuts); why != "" {
					t.Fatalf("job %d, %s: %s\n%+v", n, rule, why, cuts)
				}
				for _, c := range cuts {
					if c.Kind == model.KindOffcut && c.Right-c.Left < u.Width {
						narrowed++
					}
				}
			}
		}
	}
	t.Logf("%v; %d narrow offcuts", firsts, narrowed)
	if firsts[model.CrosscutFirst] < 50 || firsts[model.RipFirst] < 50 || narrowed < 50 {
		t.Errorf("too few of a kind: %v, %d narrow offcuts", firsts, narrowed)
	}
}

// tiled adds up areas, and looks at each pair of rows.
func tiled(u *cutlist.Board, cuts []model.Cut) string {
	var area model.Length
	for n, c := range cuts {
		if c.From < 0 || c.From >= c.To || c.To > u.Length || c.Left < 0 || c.Left >= c.Right ||
			c.Right > u.Width {
			return fmt.Sprintf("no place of the board: %+v", c)
		}
		area += (c.To - c.From) * (c.Right - c.Left)
		for _, o := range cuts[:n] {
			if c.From < o.To && o.From < c.To && c.Left < o.Right && o.Left < c.Right {
				return fmt.Sprintf("%+v over %+v", c, o)
			}
		}
	}
	if area != u.Length*u.Width {
		return "the rows do not cover the board"
	}
	return ""
}

// notNormal says why a board could be cut with fewer rips, by the rows alone: a length that holds
// one blank and no offcut, or one strip and no offcut but of its whole width, where no blank lies
// beside a defect that its face does not tolerate.
func notNormal(job *model.Job, u *cutlist.Board, cuts []model.Cut) string {
	clear := func(p *cutlist.Piece) bool {
		bad := job.WidenedRects(&u.Board, func(kind string) bool {
			return job.Settings.Tolerates(job.Parts[p.Part].Face, kind)
		})
		return !slices.ContainsFunc(bad, func(r model.Rect) bool {
			return r.From < p.To && r.To > p.From
		})
	}
	offcutIn := func(from, to, left, right model.Length) bool {
		return slices.ContainsFunc(cuts, func(c model.Cut) bool {
			return c.Kind == model.KindOffcut && from <= c.From && c.To <= to &&
				(c.Right <= left || c.Left >= right)
		})
	}
	if u.First == model.RipFirst {
		strips := touching(u.Pieces, func(p *cutlist.Piece) (from, to model.Length) {
			return p.Left, p.Right
		})
		if len(strips) > 1 || offcutIn(0, u.Length, strips[0].From, strips[0].To) {
			return ""
		}
		for n := range u.Pieces {
			if p := &u.Pieces[n]; !clear(p) || offcutIn(p.From, p.To, p.Left, p.Right) {
				return ""
			}
		}
		return "one strip in vain"
	}
	if u.First == model.CrosscutFirst {
		ripped := false
		for _, l := range touching(u.Pieces, func(p *cutlist.Piece) (from, to model.Length) {
			return p.From, p.To
		}) {
			p := &l.pieces[0]
			if len(l.pieces) > 1 || p.Right-p.Left < u.Width {
				ripped = true
			}
			if len(l.pieces) == 1 && p.Right-p.Left < u.Width && clear(p) &&
				!offcutIn(l.From, l.To, p.Left, p.Right) {
				return "a length ripped in vain"
			}
		}
		if !ripped {
			return "a board that is not ripped"
		}
	}
	return ""
}

// stretch is a length or a strip.
type stretch struct {
	model.Span
	pieces []cutlist.Piece
}

// touching parts the pieces of a board into its lengths or strips: those of one lie at the same
// places in one direction.
func touching(pieces []cutlist.Piece,
	span func(*cutlist.Piece) (from, to model.Length)) (out []stretch) {
	for n := range pieces {
		from, to := span(&pieces[n])
		one := stretch{model.Span{From: from, To: to}, pieces[n : n+1 : n+1]}
		var apart []stretch
		for _, s := range out {
			if s.To <= one.From || s.From >= one.To {
				apart = append(apart, s)
				continue
			}
			one.From, one.To = min(one.From, s.From), max(one.To, s.To)
			one.pieces = append(one.pieces, s.pieces...)
		}
		out = append(apart, one)
	}
	return out
}

// Two rails of 2 1/2 in finished width beside each other in one 2x6: 1/16 in of each rounded edge
// goes as dust, and the rails are 2 5/8 in wide.
func TestTwoRailsOfOneTwoBySix(t *testing.T) {
	job := &model.Job{Settings: model.DefaultSettings(),
		Commissions: []model.Commission{{Name: "C"}}}
	w := model.Wood{Material: "fir", Section: "2x6", Length: 31 * in}
	w.Thickness, w.Width = w.Section.Actual(model.Condition{})
	job.Rack = []model.Board{{ID: "R1", Wood: w, Where: model.Where{File: "rack.csv", Line: 2}}}
	job.Parts = []model.Part{{Commission: "C", Name: "rail", Qty: 2, Material: "fir",
		Length: 30 * in, Width: 5 * in / 2, Thickness: w.Thickness}}
	worth := job.Valuation()
	groups, short, _ := formulate(t.Context(), job, worth)
	if len(groups) != 1 || len(short) > 0 || groups[0].program.Stocks[0].Across == nil {
		t.Fatalf("%d groups, short %v", len(groups), short)
	}
	unit := int64(in / 16 / worth.Unit)
	plan, _ := newDecoder(job, worth).write(groups, [][]cutting.Use{{{Times: 1,
		Pattern: cutting.Pattern{Places: []cutting.Place{
			{Left: 45 * unit, Right: 87 * unit}, {Left: unit, Right: 43 * unit}}}}}}, nil,
		"2027-03-01")
	if len(plan.Shortages) > 0 {
		t.Fatal(plan.Shortages)
	}
	var rows []string
	for _, c := range plan.Cuts {
		rows = append(rows, fmt.Sprintf("%d %s %d %d-%d [%d-%d]", c.Step, c.Kind, c.Copy,
			c.From/(in/16), c.To/(in/16), c.Left/(in/16), c.Right/(in/16)))
	}
	if want := []string{"1 kerf 0 0-496 [0-1]", "1 part 1 0-496 [1-43]",
		"1 kerf 0 0-496 [43-45]", "2 part 2 0-496 [45-87]",
		"2 kerf 0 0-496 [87-88]"}; !slices.Equal(rows, want) {
		t.Errorf("rows %q\nwant %q", rows, want)
	}
	wantOrder := []model.Sawing{
		{Pass: 2, Sequence: 1, Saw: model.Rip, Setting: 21 * in / 8, Board: "R1", Step: 1,
			Piece: plan.Order[0].Piece},
		{Pass: 2, Sequence: 2, Saw: model.Rip, Setting: 21 * in / 8, Board: "R1", Step: 2,
			Piece: plan.Order[1].Piece}}
	if !slices.Equal(plan.Order, wantOrder) {
		t.Errorf("order %v", plan.Order)
	}
	p := plan.Placements[0]
	if p.First != model.CrosscutFirst || len(p.Pieces) != 2 || p.Pieces[0].Left != in/16 ||
		p.Pieces[1].Right != 87*in/16 {
		t.Errorf("placement %+v", p)
	}
}
