package nest

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"rackwright/model"
)

// source hands out numbers from the bytes that the fuzzer gives; when they are used up, zeros.
type source struct {
	bytes []byte
	grain model.Length // what lengths are a multiple of; in a job of few units some are not
}

// upTo gives a number from 0 to most, out of one byte, or two or four where it needs them.
func (s *source) upTo(most int64) int64 {
	n, bytes := int64(0), 1
	if most > 0xff {
		bytes = 2
	}
	if most > 0xffff {
		bytes = 4
	}
	for range bytes {
		n <<= 8
		if len(s.bytes) > 0 {
			n, s.bytes = n|int64(s.bytes[0]), s.bytes[1:]
		}
	}
	return n % (most + 1)
}

func (s *source) yes() bool { return s.upTo(3) == 1 }

// length gives up to most inches, or as many times eight grains.
func (s *source) length(most int64) model.Length {
	if s.grain < in/8 { // a board has as many positions as units then, so it is short
		switch s.upTo(7) {
		case 1:
			return 1 + model.Length(s.upTo(3))
		case 2:
			return model.Length(8*most)*s.grain - 1
		}
	}
	return model.Length(s.upTo(8*most)) * s.grain
}

// job makes a small job. What is out of its limits is left to [model.Job.Validate].
func (s *source) job() *model.Job {
	s.grain = []model.Length{in / 8, in / 8, 1, 2}[s.upTo(3)]
	job := &model.Job{Settings: model.DefaultSettings()}
	set := &job.Settings
	if s.yes() {
		set.Units = model.Millimetre
	}
	set.CrosscutKerf = min(s.length(1), model.WidestKerf)
	set.YardEnd, set.RackEnd, set.Margin = s.length(2), s.length(2), s.length(1)
	set.Allowance.Length = s.length(2)
	set.Offcut.KeepLength = s.length(30)
	set.Offcut.Value = model.Fraction{Num: s.upTo(7), Den: 7}
	if set.Offcut.Value.Num%7 == 0 {
		set.Offcut.Value = model.Fraction{Num: set.Offcut.Value.Num / 7, Den: 1}
	}
	set.Handling = model.Money(s.upTo(20_000))
	woods := []model.Wood{
		{Material: "fir", Section: "2x4", Width: 7 * in / 2, Thickness: 3 * in / 2},
		{Material: "fir", Section: "2x6", Width: 11 * in / 2, Thickness: 3 * in / 2},
		{Material: "oak", Section: "4/4", Width: 6 * in, Thickness: in},
	}
	wood := func(most int64) model.Wood {
		w := woods[s.upTo(2)]
		w.Length = max(1, s.length(most))
		return w
	}
	for n := range s.upTo(7) {
		s.board(job, int(n), wood(120))
	}
	for n := range s.upTo(4) {
		o := model.Offer{Wood: wood(200), Price: model.Money(1 + s.upTo(400_000)), Where: model.Where{File: "yard.csv", Line: int(n) + 2}}
		if s.yes() {
			o.Price = model.DearestBoard - model.Money(s.upTo(3))
		}
		if s.yes() {
			few := s.upTo(3)
			o.Available = &few
		}
		job.Yard = append(job.Yard, o)
	}
	for n := range 1 + s.upTo(6) {
		w := wood(60)
		p := model.Part{Commission: fmt.Sprint("C", s.upTo(2)), Name: fmt.Sprint("part ", n), Qty: 1 + s.upTo(5), Material: w.Material, Length: w.Length,
			Width: w.Width, Thickness: w.Thickness, Face: model.Face(s.upTo(model.Faces - 1)), Where: model.Where{File: "parts.csv", Line: int(n) + 2}}
		if s.yes() {
			p.Section = w.Section
		}
		if s.yes() {
			p.Width -= in
		}
		job.Parts = append(job.Parts, p)
	}
	for c, due := range []string{"2027-03-05", "", "2027-03-01"} {
		job.Commissions = append(job.Commissions, model.Commission{Name: fmt.Sprint("C", c), Due: due})
	}
	return job
}

func (s *source) board(job *model.Job, n int, w model.Wood) {
	b := model.Board{ID: fmt.Sprint("off-", n), Wood: w, Bin: fmt.Sprint(s.upTo(1)), Where: model.Where{File: "rack.csv", Line: n + 2}}
	for range s.upTo(3) {
		d := model.Defect{From: min(s.length(100), max(0, w.Length-1)), Right: w.Width, Kind: []string{"sound knot", "check", "split"}[s.upTo(2)]}
		d.To = min(w.Length, d.From+1+s.length(8))
		if s.yes() {
			d.Left, d.Right = w.Width/4, w.Width/2
		}
		b.Defects = append(b.Defects, d)
	}
	if s.yes() {
		v := model.Money(s.upTo(400_000))
		b.Value = &v
	}
	job.Rack = append(job.Rack, b)
	if s.yes() { // one like it
		b.ID, b.Where.Line = fmt.Sprint("R", n), n+20
		job.Rack = append(job.Rack, b)
	}
}

// Any job that passes validation is planned to the end of its work without a panic, by a plan that both checkers accept (Plan asks
// them), also where the search is interrupted at its first plan; and its remarks are few. A search that hangs is found by the fuzzer,
// which gives each job ten seconds.
func FuzzPlan(f *testing.F) {
	r := rand.New(rand.NewPCG(7, 7))
	for range 60 {
		seed := make([]byte, 40+r.IntN(160))
		for i := range seed {
			seed[i] = byte(r.Uint32())
		}
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		s := source{bytes: data}
		interrupt := s.yes()
		job := s.job()
		var m model.Mistakes
		if job.Validate(&m); m.Err() != nil {
			return
		}
		ctx, cancel := context.WithCancel(context.Background())
		defer cancel()
		opt := Options{Work: 2e7, Threads: 1, Date: "2027-03-01"}
		if interrupt {
			opt.Observe = func(Event) { cancel() }
		}
		plan, err := Plan(ctx, job, opt)
		if err != nil && ctx.Err() == nil || err != nil && plan != nil {
			t.Fatal(err)
		}
		if n := len(Remarks(job)); n > 7*(mostLines+1) {
			t.Errorf("%d remarks", n)
		}
	})
}
