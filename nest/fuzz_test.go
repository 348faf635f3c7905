package nest

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"testing"
	"testing/fstest"

	"rackwright/io/folder"
	"rackwright/model"
	"rackwright/model/check"
	"rackwright/model/makeup"
	"rackwright/model/proof"
	"rackwright/nest/baseline"
)

// source hands out numbers from the bytes that the fuzzer gives; when they are used up, zeros.
type source struct {
	bytes []byte
	grain model.Length   // what lengths are a multiple of; in a job of few units some are not
	odd   bool           // lengths are any number of units, so that they have none but 1 in common
	given []model.Length // lengths handed out
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

// IntN and Int64N make it dice; when its bytes are used up it throws the most, so that no further
// fact comes up.
func (s *source) IntN(n int) int       { return int(s.Int64N(int64(n))) }
func (s *source) Int64N(n int64) int64 { return n - 1 - s.upTo(n-1) }

// step is the least difference of two lengths, but for the few odd ones in a job of few units.
func (s *source) step() model.Length {
	if s.odd {
		return 1
	}
	return s.grain
}

// length gives up to most inches, or as many times eight grains.
func (s *source) length(most int64) (l model.Length) {
	// what was met before, or a step off it, so that tight fits and near misses are no rarity
	again := model.Length(-1)
	if s.yes() && len(s.given) > 0 {
		again = s.given[s.upTo(int64(len(s.given)-1))] + model.Length(s.upTo(2)-1)*s.step()
	}
	switch {
	case again >= 0 && again <= model.Length(most)*in:
		l = again
	case s.odd:
		l = model.Length(s.upTo(most * in))
	case s.grain < in/8 && s.yes(): // a board has as many positions as units then, so it is short
		l = 1 + model.Length(s.upTo(8*most-1))
	default:
		l = model.Length(s.upTo(8*most)) * s.grain
	}
	s.given = append(s.given, l)
	return l
}

func (s *source) share() model.Fraction {
	return []model.Fraction{{Num: 0, Den: 1}, {Num: 1, Den: 2}, {Num: 3, Den: 7}, {Num: 6, Den: 7},
		{Num: 999_983, Den: 1_000_000}, {Num: 1, Den: 1}}[s.upTo(5)]
}

// job makes a small job. What is out of its limits is left to [model.Job.Validate].
func (s *source) job() *model.Job {
	if s.grain, s.odd = []model.Length{in / 8, in / 8, 1, 2}[s.upTo(3)], s.upTo(7) == 1; s.odd {
		s.grain = in / 8
	}
	job := &model.Job{Settings: model.DefaultSettings()}
	s.settings(&job.Settings)
	// The yard sells the first three; hardwood comes in random widths.
	woods := []model.Wood{
		{Material: "fir", Section: "2x4", Width: 7 * in / 2, Thickness: 3 * in / 2},
		{Material: "fir", Section: "2x6", Width: 11 * in / 2, Thickness: 3 * in / 2},
		{Material: "oak", Section: "4/4", Width: 6 * in, Thickness: in, Surface: model.S2S},
		{Material: "ash", Section: "4/4", Width: 5 * in, Thickness: in, Surface: model.Rough},
	}
	kinds := s.upTo(3) // so that also jobs of one kind of wood come up, where all boards are rivals
	wood := func(most int64) model.Wood {
		w := woods[s.upTo(kinds)]
		if w.Section == "4/4" {
			w.Width += model.Length(s.upTo(5)) * in / 2
		}
		if w.Length = s.length(most); w.Length == 0 {
			w.Length = model.Length(2*most) * s.grain
		}
		return w
	}
	boards, longest, rips := s.upTo(9), int64(120), s.upTo(3) > 0
	if s.odd && rips { // and along every strip
		boards, longest = min(boards, 2), 15
	} else if s.odd { // each unit is a position then, where a piece may lie over a defect
		boards, longest = min(boards, 3), 80
	}
	for n := range boards {
		s.board(job, int(n), wood(longest))
	}
	for n := range s.upTo(5) {
		o := model.Offer{Wood: wood(200), Price: model.Money(1 + s.upTo(400_000)),
			Where: model.Where{File: "yard.csv", Line: int(n) + 2}}
		if s.yes() {
			o.Price = model.DearestBoard - model.Money(s.upTo(3))
		}
		if s.yes() {
			few := s.upTo(3)
			o.Available = &few
		}
		if o.Material != "ash" {
			job.Yard = append(job.Yard, o)
		}
	}
	for n := range 1 + s.upTo(7) {
		w := wood(60)
		p := model.Part{Commission: fmt.Sprint("C", s.upTo(2)), Name: fmt.Sprint("part ", n),
			Qty: 1 + s.upTo(7), Material: w.Material, Length: w.Length,
			Width: w.Width, Thickness: w.Thickness, Face: model.Face(s.upTo(model.Faces - 1)),
			Where: model.Where{File: "parts.csv", Line: int(n) + 2}}
		if s.yes() {
			p.Section = w.Section
		}
		if s.yes() {
			p.Width -= in
		} else if w.Surface != "" { // the board's width is the blank's
			p.Width -= in / 8
		}
		if w.Surface == model.Rough {
			p.Thickness -= in / 4
		}
		job.Parts = append(job.Parts, p)
	}
	for c, due := range []string{"2027-03-05", "", "2027-03-01"} {
		job.Commissions = append(job.Commissions,
			model.Commission{Name: fmt.Sprint("C", c), Due: due})
	}
	if s.upTo(1) == 1 {
		s.yards(job)
	}
	if rips {
		withRips(s, job)
	}
	if s.upTo(1) == 1 {
		withFacts(s, job)
	}
	return job
}

func (s *source) settings(set *model.Settings) {
	if s.yes() {
		set.Units = model.Millimetre
	}
	set.CrosscutKerf = min(s.length(1), model.WidestKerf)
	set.YardEnd, set.RackEnd, set.Margin = s.length(2), s.length(2), s.length(1)
	set.Allowance.Length = s.length(2)
	set.Offcut.KeepLength = s.length(30)
	for _, l := range []*model.Length{&set.CrosscutKerf, &set.YardEnd, &set.RackEnd, &set.Margin,
		&set.Offcut.KeepLength} {
		if s.yes() {
			*l = 0
		}
	}
	set.Offcut.Value = s.share()
	set.Handling = model.Money(s.upTo(20_000))
	if s.yes() {
		longer, keep, value := s.length(2), s.length(30), s.share()
		set.Materials = map[string]model.Override{"oak": {Length: &longer, KeepLength: &keep}}
		set.Sections = map[model.Section]model.Override{"2x4": {Value: &value}}
	}
}

// yards puts some of the offers into two yards, with taxes, loads and prices by the length or board
// foot, and asks for a reserve.
func (s *source) yards(job *model.Job) {
	set := &job.Settings
	set.Yards = map[string]model.YardFacts{}
	for i := range job.Yard {
		o := &job.Yard[i]
		if o.Per = []model.Per{model.PerPiece, model.PerPiece, model.PerLength,
			model.PerBoardFoot}[s.upTo(3)]; o.Per == model.PerBoardFoot &&
			set.Units == model.Millimetre {
			o.Per = model.PerCubicMetre
		}
		o.Yard = []string{"", "north", "south", "south"}[s.upTo(3)]
		if _, met := set.Yards[o.Yard]; met || o.Yard == "" {
			continue
		}
		y, tax := model.YardFacts{}, reduced(model.Fraction{Num: s.upTo(250_000), Den: 10_000})
		if s.yes() {
			y.TaxPercent = &tax
		}
		if load := s.length(200); s.yes() && load > 0 {
			y.LongestLoad = &load
		}
		set.Yards[o.Yard] = y
	}
	set.Usable = []model.Fraction{{Num: 1, Den: 1}, {Num: 9, Den: 10},
		{Num: 999_999, Den: 1_000_000}, {Num: 1, Den: 100}}[s.upTo(3)]
	if set.Usable.Num == 9 { // drawn already, so that seeds mean what they meant
		set.Bins = map[string]model.BinFacts{"0": {Most: new(int64(2))},
			"2": {Longest: new(40 * s.step()), Most: new(int64(1))}}
	}
}

// board adds a board to the rack, and sometimes some like it.
func (s *source) board(job *model.Job, n int, w model.Wood) {
	b := model.Board{ID: fmt.Sprint("off-", n), Wood: w, Bin: fmt.Sprint(s.upTo(1)),
		Where: model.Where{File: "rack.csv", Line: n + 2}}
	for range s.upTo(4) {
		d := model.Defect{From: min(s.length(100), max(0, w.Length-s.step())), Right: w.Width,
			Kind: []string{"sound knot", "check", "split"}[s.upTo(2)]}
		if last := len(b.Defects) - 1; last >= 0 && s.yes() { // over the one before, or beside it
			d.From = max(0, min(b.Defects[last].To-model.Length(s.upTo(2)/2)*s.step(),
				w.Length-s.step()))
		}
		d.To = min(w.Length, d.From+s.step()+s.length(8))
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
	for like := range s.upTo(7) - 4 {
		b.ID, b.Where.Line, b.Since = fmt.Sprint("R", n, ".", like), n+20,
			[]string{"", "2026-01-31"}[like%2]
		job.Rack = append(job.Rack, b)
	}
}

// files is a plan as it is written to the out folder.
func files(t *testing.T, job *model.Job, plan *model.Plan) fstest.MapFS {
	encoded, err := folder.Encode(makeup.AsMade(job, plan.Made), plan)
	if err != nil {
		t.Fatal(err)
	}
	out := fstest.MapFS{}
	for name, data := range encoded {
		out[name] = &fstest.MapFile{Data: data, Mode: 0o644}
	}
	return out
}

// accepted reads a written plan back and has both checkers judge it, as verify does.
func accepted(t *testing.T, written fstest.MapFS) {
	job, plan, err := folder.ReadPlan(written)
	if err != nil {
		t.Fatal(err)
	}
	reading, found := check.Check(job, plan)
	for _, f := range append(found, proof.Bounds(reading)...) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
}

// noWorse compares a plan with those of the simple rules.
func noWorse(t *testing.T, job *model.Job, plan *model.Plan) {
	for _, rule := range baseline.Rules() {
		simple, err := byRule(t.Context(), job, rule, "2027-03-01")
		if err != nil {
			t.Fatal(rule, err)
		}
		noBetter(t, job, rule.String(), simple, plan)
	}
}

// Any job that passes validation is planned to the end of its work without a panic, also where the
// search is interrupted at its first plan. What is written is read back and accepted by both
// checkers, is the same bytes again with more threads, and no simple rule does better. The remarks
// are few. A search that hangs is found by the fuzzer, which gives each job ten seconds.
func FuzzPlan(f *testing.F) { fuzz(f, 7, func(*source, *model.Job) {}) }

// So is any in which parts are made up.
func FuzzMadeUp(f *testing.F) {
	fuzz(f, 8, func(s *source, job *model.Job) { madeUp(s, job) })
}

// fuzz plans jobs made of bytes, and changed.
func fuzz(f *testing.F, seed uint64, change func(*source, *model.Job)) {
	r := rand.New(rand.NewPCG(seed, 7))
	for range 60 {
		seed := make([]byte, 40+r.IntN(240))
		for i := range seed {
			seed[i] = byte(r.Uint32())
		}
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		s := source{bytes: data}
		interrupt, work := s.yes(), []int64{1, 1e5, 1e6, 1e7}[s.upTo(3)]
		job := s.job()
		change(&s, job)
		var m model.Mistakes
		if job.Validate(&m); m.Err() != nil {
			return
		}
		ctx, cancel := context.WithCancel(context.Background())
		defer cancel()
		opt := Options{Work: work, Threads: 1, Date: "2027-03-01"}
		if interrupt {
			opt.Observe = func(e Event) {
				if e.Phase == "tables" { // all rules have been followed
					cancel()
				}
			}
		}
		opt.Observe = onlyOwnBounds(t, opt.Observe)
		plan, err := Plan(ctx, job, opt)
		if err != nil {
			t.Fatal(err)
		}
		written := files(t, job, plan)
		accepted(t, written)
		if job.Settings.SpareAtMost == 0 { // else spare copies may cost more
			noWorse(t, job, plan)
		}
		if n := len(Remarks(job)); n > 7*(mostLines+1) {
			t.Errorf("%d remarks", n)
		}
		if interrupt {
			return
		}
		opt.Threads = 2
		plan, err = Plan(ctx, job, opt)
		if err != nil {
			t.Fatal(err)
		}
		for name, f := range files(t, job, plan) {
			if !bytes.Equal(f.Data, written[name].Data) {
				t.Errorf("%s is not the same again", name)
			}
		}
	})
}
