package nest

import (
	"context"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"rackwright/model"
)

// withRips makes a job one for the rip saw: parts narrower than their boards, boards of measured
// widths, defects of a part of the width, and every setting of the rips, each at times at an end of
// what it may be. The last of each choice is the plain one, as the fuzzer's dice throw it when its
// bytes are used up.
func withRips(r dice, job *model.Job) {
	s := &job.Settings
	s.RipKerf = pick[model.Length](r, 0, in/16, in/4, s.CrosscutKerf, in/8)
	s.TrimmingCut = r.IntN(4) > 0
	s.Safety.ShortestRip = pick[model.Length](r, 0, in, 24*in, s.Safety.ShortestBlank+1, 12*in)
	s.Safety.NarrowestRip = pick[model.Length](r, 0, in/2, 2*in, 3*in/4)
	s.Offcut.KeepWidth = pick[model.Length](r, 0, 1, 3*in, in, 3*in/2)
	s.Allowance.Edge = pick[model.Length](r, 0, in/8, in/16, in/16)
	s.Allowance.EasedEdge = pick[model.Length](r, 0, in/4, in/8, in/8)
	odd := r.IntN(8) == 0 // sizes across have nothing in common
	for i := range job.Rack {
		if b := &job.Rack[i]; r.IntN(3) == 0 { // as measured
			was := b.Width
			b.Width += model.Length(r.IntN(9)-4) * in / 8
			for k := range b.Defects {
				if d := &b.Defects[k]; d.Right == was {
					d.Right = b.Width
				} else {
					d.Left, d.Right = min(d.Left, b.Width-2), min(d.Right, b.Width)
				}
			}
		}
	}
	for i := range job.Parts {
		p := &job.Parts[i]
		switch r.IntN(6) {
		case 0, 1: // several beside each other
			p.Width = max(in/4, p.Width/model.Length(2+r.IntN(3))-model.Length(r.IntN(4))*in/8)
		case 2:
			p.Width = max(in/4, p.Width-model.Length(r.IntN(32))*in/8)
		case 3: // a board has it whole, or nearly
			if len(job.Rack) > 0 {
				p.Width = job.Rack[r.IntN(len(job.Rack))].Width - model.Length(r.IntN(2))*in/16
			}
		}
		if odd {
			p.Width -= model.Length(r.IntN(7))
		}
		if r.IntN(2) == 0 {
			p.Qty += r.Int64N(6)
		}
	}
	for i := range job.Rack {
		b := &job.Rack[i]
		for k := range b.Defects {
			if d := &b.Defects[k]; r.IntN(3) > 0 && b.Width > 2 {
				left := model.Length(r.Int64N(int64(b.Width/(in/8)))) * in / 8
				d.Left, d.Right = left, min(b.Width, left+model.Length(1+r.IntN(20))*in/8)
				if odd {
					d.Left = min(d.Left+model.Length(r.IntN(5)), d.Right-1)
				}
				if r.IntN(4) == 0 { // along an edge
					d.Left = 0
				}
			}
		}
	}
	for i := range job.Rack { // split at an end
		if b := &job.Rack[i]; b.Length > 40*in && r.IntN(3) == 0 {
			to := model.Length(2+r.IntN(18)) * in
			b.Defects = append(b.Defects, model.Defect{To: to, Right: b.Width, Kind: "split"})
		}
	}
	s.Ripping = pick[model.Money](r, 1, 50_000, 1000, 0)
	if r.IntN(2) == 0 { // some of them tolerated
		s.Weak = []string{"split", "check", "sound knot", "loose knot"}
	}
}

// Jobs for the rip saw: every way of planning makes plans that the checker accepts (Compare asks
// it), no rule that meets the same pieces is cheaper, no bound of ours is refused, and eight
// threads give the plan of one.
func TestPlansOfRippedJobs(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 1))
	met := map[string]int{}
	for n := range 160 {
		job := randomJob(r)
		withRips(r, job)
		var m model.Mistakes
		if job.Validate(&m); m.Err() != nil {
			t.Fatalf("job %d: %v", n, m.Err())
		}
		opt := Options{Work: 1e7, Threads: 1, Date: "2027-03-01"}
		entries := compareOwnBounds(t, job, opt)
		plan := entries[len(entries)-1].Plans[0]
		opt.Threads = 8
		if again := ownBound(t, job, opt); !reflect.DeepEqual(plan, again) {
			t.Fatalf("job %d: eight threads give another plan than one", n)
		}
		for _, e := range entries[:len(entries)-2] {
			noBetter(t, job, fmt.Sprintf("job %d: %s", n, e.Name), e.Plans[0], plan)
		}
		tellRips(job, plan, met)
	}
	t.Log(met)
	for _, what := range []string{"rip", "crosscut", "trimmed along", "trimmed across",
		"beside a defect", "offcut of part of the width", "optimal", "feasible",
		"over a part of the length", "paid for its rips"} {
		if met[what] < 5 {
			t.Errorf("%s: met %d times only", what, met[what])
		}
	}
}

// tellRips counts what a plan has of each kind of rip.
func tellRips(job *model.Job, plan *model.Plan, met map[string]int) {
	for _, g := range plan.Groups {
		met[string(g.Proof)]++
	}
	for _, c := range plan.Costs {
		if c.Ripping > 0 {
			met["paid for its rips"]++
		}
	}
	for _, p := range plan.Placements {
		if p.First == model.NotRipped {
			continue
		}
		met[string(p.First)]++
		if p.RipTo > 0 {
			met["over a part of the length"]++
		}
		for _, a := range p.Pieces {
			if slices.ContainsFunc(p.Pieces, func(b model.Piece) bool {
				return p.First == model.CrosscutFirst && a.From >= b.From && a.To <= b.To &&
					a.To-a.From < b.To-b.From
			}) {
				met["trimmed along"]++
			}
			if slices.ContainsFunc(p.Pieces, func(b model.Piece) bool {
				return p.First == model.RipFirst && a.Left >= b.Left && a.Right <= b.Right &&
					a.Right-a.Left < b.Right-b.Left
			}) {
				met["trimmed across"]++
			}
			for i := range job.Rack {
				if b := &job.Rack[i]; b.ID == p.Board &&
					slices.ContainsFunc(b.Defects, func(d model.Defect) bool {
						return d.From < a.To && d.To > a.From &&
							(d.Right <= a.Left || d.Left >= a.Right)
					}) {
					met["beside a defect"]++
				}
			}
		}
	}
	for _, c := range plan.Cuts {
		if b := c.Right - c.Left; c.Kind == model.KindOffcut {
			for i := range job.Rack {
				if job.Rack[i].ID == c.Board && b < job.Rack[i].Width {
					met["offcut of part of the width"]++
				}
			}
		}
	}
}

// Where every blank takes the whole width and no defect names a part of it, nothing of the rips can
// be seen: value, bound, cuts and proof are those of a shop that rips nothing, to the last 1/10000.
func TestWholeWidthsStayAsTheyWere(t *testing.T) {
	r := rand.New(rand.NewPCG(12, 12))
	for n := range 40 {
		job := randomJob(r)
		for i := range job.Parts {
			p := &job.Parts[i]
			for _, o := range job.Yard {
				if p.Material == o.Material && p.Thickness == o.Thickness &&
					p.Width > o.Width-2*in && p.Width <= o.Width {
					p.Section, p.Width = o.Section, o.Width
				}
			}
		}
		job.Parts = slices.DeleteFunc(job.Parts, func(p model.Part) bool {
			return !slices.ContainsFunc(job.Yard, func(o model.Offer) bool {
				return p.Section == o.Section && p.Width == o.Width
			})
		})
		none := *job
		none.Settings.Safety.ShortestRip = model.MaxLength
		with, err := Plan(context.Background(), job, Options{Work: 1e8})
		if err != nil {
			t.Fatal(err)
		}
		without, err := Plan(context.Background(), &none, Options{Work: 1e8})
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(with, without) {
			t.Errorf("job %d: value %v bound %v; without rips %v and %v", n, with.Value, with.Bound,
				without.Value, without.Bound)
		}
		for _, g := range with.Groups {
			if slices.ContainsFunc(g.Certificate.Items, func(i model.CertItem) bool {
				return i.Width != 0
			}) {
				t.Errorf("job %d: %s is planned across the width", n, g.Name)
			}
		}
	}
}
