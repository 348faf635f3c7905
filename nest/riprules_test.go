package nest

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/model"
	"rackwright/nest/baseline"
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
			groups, _ := formulate(job)
			d := newDecoder(job)
			var boards []*used
			var value model.Money
			for _, g := range groups {
				uses, _ := baseline.Plan(&g.program, g.onHand(), g.list, rule)
				b, _ := d.boards(g, uses)
				boards, value = append(boards, b...), value+model.Money(g.program.Value(uses))
			}
			plan := d.rows(boards, "2027-03-01")
			if plan.Value != value {
				t.Fatalf("job %d, %s: the books say %v, the engine %v", n, rule, plan.Value, value)
			}
			for _, u := range boards {
				firsts[u.first]++
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
				if why := replay(u, cuts); why != "" {
					t.Fatalf("job %d, %s: %s\n%+v", n, rule, why, rowsOf(cuts))
				}
				if why := notNormal(job, u, cuts); why != "" {
					t.Fatalf("job %d, %s: %s\n%+v", n, rule, why, rowsOf(cuts))
				}
				for _, c := range cuts {
					if c.Kind == model.KindOffcut && c.Right-c.Left < u.Width {
						narrowed++
					}
				}
			}
			pieces := 0
			for _, u := range boards {
				pieces += len(u.pieces)
			}
			var stops int64
			for _, s := range plan.Setups {
				if s.Saw == "crosscut" {
					stops += s.Pieces
				}
			}
			if stops == 0 && pieces > 0 {
				t.Fatalf("job %d: no setups", n)
			}
		}
	}
	t.Logf("%v; %d narrow offcuts", firsts, narrowed)
	if firsts[model.CrosscutFirst] < 50 || firsts[model.RipFirst] < 50 || narrowed < 50 {
		t.Errorf("too few of a kind: %v, %d narrow offcuts", firsts, narrowed)
	}
}

// tiled adds up areas, and looks at each pair of rows.
func tiled(u *used, cuts []model.Cut) string {
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
func notNormal(job *model.Job, u *used, cuts []model.Cut) string {
	clear := func(p *piece) bool {
		bad := job.WidenedRects(&u.Board, func(kind string) bool {
			return job.Settings.Tolerates(p.part.Face, kind)
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
	if u.first == model.RipFirst {
		strips := bundles(across, u.pieces)
		if len(strips) > 1 || offcutIn(0, u.Length, strips[0].From, strips[0].To) {
			return ""
		}
		for n := range u.pieces {
			if p := &u.pieces[n]; !clear(p) || offcutIn(p.From, p.To, p.Left, p.Right) {
				return ""
			}
		}
		return "one strip in vain"
	}
	if u.first == model.CrosscutFirst {
		ripped := false
		for _, l := range bundles(along, u.pieces) {
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
