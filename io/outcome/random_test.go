package outcome_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"rackwright/benchmarks"
	"rackwright/io/book"
	"rackwright/io/folder"
	"rackwright/io/outcome"
	"rackwright/model"
	"rackwright/model/makeup"
	"rackwright/nest"
)

const day = "2027-03-09"

// planned is a small invented month with its plan, ripped ones too; offcuts have bins.
type planned struct {
	job  *model.Job
	plan *model.Plan
}

// months are planned once, as far as they are asked for.
var months = [4]func() planned{}

func init() {
	for n := range months {
		months[n] = sync.OnceValue(func() planned {
			files := benchmarks.RipMonth(int64(n), 30, benchmarks.Kerfs{})
			job, _, err := folder.ReadJob(benchmarks.FS(files))
			if err != nil {
				panic(err)
			}
			job.Settings.Batch = "m"
			if n%2 == 0 {
				longest := model.Length(40 * model.UnitsPerInch)
				job.Settings.Bins = map[string]model.BinFacts{
					"short": {Longest: &longest, Most: new(int64(3))}}
			}
			plan, err := nest.Plan(context.Background(), job, nest.Options{Work: 300_000,
				Date: "2027-03-01"})
			if err != nil {
				panic(err)
			}
			return planned{makeup.AsMade(job, plan.Made), plan}
		})
	}
}

// here is the rack with the boards on it that the plan buys.
func (p *planned) here() []model.Board {
	rack := slices.Clone(p.job.Rack)
	for _, x := range p.plan.Placements {
		if x.Offer != 0 {
			i := slices.IndexFunc(p.job.Yard, func(o model.Offer) bool {
				return o.Where.Line == x.Offer
			})
			rack = append(rack, model.Board{ID: x.Board, Wood: p.job.Yard[i].Wood})
		}
	}
	return rack
}

func (p *planned) cutting(marks []model.Marked) *outcome.Cutting {
	c := &outcome.Cutting{Job: p.job, Plan: p.plan, Shop: &p.job.Settings, Rack: p.here(),
		Marks: marks, Date: day}
	for _, x := range p.plan.Placements {
		c.Boards = append(c.Boards, x.Board)
	}
	return c
}

// after enters an outcome in a book and gives its rack.
func (p *planned) after(o *outcome.Outcome) ([]model.Board, error) {
	const folder = "month/out"
	hash := strings.Repeat("0a", 32)
	booking := &book.Booking{Hash: hash, Files: hash}
	var came []book.Change
	for _, x := range p.plan.Placements {
		if x.Offer == 0 {
			booking.Uses = append(booking.Uses, x.Board)
		}
	}
	for _, c := range p.plan.Cuts {
		if c.Kind == model.KindOffcut {
			booking.Offcuts = append(booking.Offcuts, c.Offcut)
		}
	}
	for _, b := range p.here()[len(p.job.Rack):] {
		booking.Buys = append(booking.Buys, book.Purchase{Board: b, Price: 1})
		came = append(came, book.Change{Is: &b})
	}
	events := []book.Event{
		{Kind: book.Opened, Changes: book.Changes(nil, p.job.Rack)},
		{Kind: book.Booked, Plan: folder, Booking: booking},
		{Kind: book.Received, Plan: folder, Changes: came},
		{Kind: book.Cut, Plan: folder, Done: o.Done, Changes: o.Changes}}
	if len(came) == 0 {
		events = slices.Delete(events, 2, 3)
	}
	if len(o.Changes) == 0 {
		events = events[:len(events)-1]
	}
	for i := range events {
		events[i].Number, events[i].Date = int64(i+1), day
	}
	return book.Rack(events)
}

// Cut as planned, all pieces are cut, and the rack is that of the plan, offcuts with the day of the
// event.
func TestAsPlanned(t *testing.T) {
	ripped := 0
	for n := range months {
		p := months[n]()
		o, err := p.cutting(nil).Outcome()
		if err != nil || len(o.Notes) > 0 || len(o.Left) > 0 {
			t.Fatal(err, o)
		}
		rack, err := p.after(o)
		if err != nil {
			t.Fatal(err)
		}
		want := slices.Clone(p.plan.Rack)
		for i := range want {
			if slices.ContainsFunc(p.plan.Cuts, func(c model.Cut) bool {
				return c.Offcut == want[i].ID
			}) {
				want[i].Since = day
			}
		}
		if diff := book.Changes(want, rack); len(diff) > 0 {
			t.Errorf("month %d: %d boards differ, %s first", n, len(diff), diff[0].ID())
		}
		pieces, sums := 0, map[model.Kind]int64{}
		for _, d := range o.Done {
			pieces += len(d.Pieces)
			sums[model.KindPart] += d.Parts
			sums[model.KindKerf] += d.Kerf
			sums[model.KindTrim] += d.Trim
			sums[model.KindWaste] += d.Waste
		}
		for _, c := range p.plan.Cuts {
			a := int64(c.To-c.From) * int64(c.Right-c.Left)
			switch c.Kind {
			case model.KindPart:
				pieces--
				sums[c.Kind] -= a
			case model.KindDefect:
				sums[model.KindWaste] -= a
			case model.KindOffcut:
			default:
				sums[c.Kind] -= a
			}
		}
		for kind, left := range sums {
			if left != 0 {
				t.Errorf("month %d: %s is off by %d", n, kind, left)
			}
		}
		if pieces != 0 {
			t.Errorf("month %d: %d pieces too many", n, pieces)
		}
		for _, x := range p.plan.Placements {
			if x.First != model.NotRipped {
				ripped++
			}
		}
	}
	if ripped < 10 {
		t.Errorf("only %d boards are ripped", ripped)
	}
}

// Cut board by board in the order of the cuts, it comes to the same.
func TestBoardByBoard(t *testing.T) {
	for n := range months {
		p := months[n]()
		all, err := p.cutting(nil).Outcome()
		if err != nil {
			t.Fatal(err)
		}
		c, one := p.cutting(nil), &outcome.Outcome{}
		for _, id := range p.cutting(nil).Boards {
			c.Boards = []string{id}
			o, err := c.Outcome()
			if err != nil {
				t.Fatal(err)
			}
			one.Done = append(one.Done, o.Done...)
			one.Changes = append(one.Changes, o.Changes...)
			c.Rack = slices.DeleteFunc(c.Rack, func(b model.Board) bool { return b.ID == id })
			for _, x := range o.Changes {
				if x.Is != nil {
					c.Rack = append(c.Rack, *x.Is)
				}
			}
		}
		if fmt.Sprint(one.Done) != fmt.Sprint(all.Done) {
			t.Errorf("month %d: other things became of boards", n)
		}
		was, err1 := p.after(all)
		is, err2 := p.after(one)
		if diff := book.Changes(was, is); len(diff) > 0 || err1 != nil || err2 != nil {
			t.Error(diff, err1, err2)
		}
	}
}

// marksOf draws what a maker may have marked: mostly what can be, now and then what cannot.
func marksOf(t *rapid.T, p *planned) (marks []model.Marked) {
	form := model.MarksOf(p.plan.Cuts)
	for start := 0; start < len(form); {
		end := start
		for form[end].Row != model.MarkRest {
			end++
		}
		if rapid.IntRange(0, 2).Draw(t, "marked") == 0 {
			marks = append(marks, marksOfBoard(t, form[start:end+1])...)
		}
		start = end + 1
	}
	for i := range marks {
		marks[i].Where = model.Where{File: "marks.csv", Line: i + 2}
	}
	return marks
}

func marksOfBoard(t *rapid.T, form []model.Mark) (marks []model.Marked) {
	length := func(most model.Length) model.Length {
		l := most * model.Length(rapid.IntRange(1, 64).Draw(t, "measured")) / 64
		return max(1, l+model.Length(rapid.SampledFrom([]int{0, 0, 0, 300, -300}).Draw(t, "off")))
	}
	from := rapid.IntRange(0, len(form)).Draw(t, "not cut from")
	before := rapid.Bool().Draw(t, "or before")
	for i, m := range form {
		one := model.Marked{Mark: m}
		switch m.Row {
		case model.MarkPiece:
			one.State = rapid.SampledFrom([]model.State{"", model.IsCut, model.Spoiled}).
				Draw(t, "state")
			if (i >= from) != before {
				one.State = model.NotCut
			}
		case model.MarkOffcut:
			one.State = rapid.SampledFrom([]model.State{"", "", model.Kept, model.Scrapped}).
				Draw(t, "state")
			if rapid.IntRange(0, 2).Draw(t, "measured at all") == 0 {
				one.Measured = length(m.Length)
			}
		case model.MarkRest:
			if from < len(form)-1 || before {
				switch rapid.IntRange(0, 3).Draw(t, "left") {
				case 0:
					one.State = model.Scrapped
				case 1:
					one.Measured = length(m.Length)
				case 2:
					one.Measured, one.MeasuredWidth = length(m.Length), length(m.Width)
				}
			}
		}
		if rapid.IntRange(0, 5).Draw(t, "defect") == 0 {
			at := m.Length * model.Length(rapid.IntRange(0, 60).Draw(t, "at")) / 64
			one.Defects = []model.Defect{{From: at, To: at + m.Length/32, Kind: "check"}}
		}
		marks = append(marks, one)
	}
	return marks
}

// Whatever is marked, nothing of a board is lost, nothing is entered that a book would refuse, and
// each mark is heeded; or it is refused, with a place and what to do.
func TestNothingIsLost(t *testing.T) {
	entered, left, strips, refused := 0, 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := months[rapid.IntRange(0, len(months)-1).Draw(t, "month")]()
		marks := marksOf(t, &p)
		c := p.cutting(marks)
		o, err := c.Outcome()
		if err != nil {
			all, _ := err.(model.InputErrors)
			for _, e := range all {
				if e.Line == 0 || e.Column == "" || e.Cause == "" || e.Remedy == "" {
					t.Fatalf("%v has no place", e)
				}
			}
			refused++
			// the boards that are not to blame
			c.Boards = slices.DeleteFunc(c.Boards, func(id string) bool {
				return slices.ContainsFunc(all, func(e *model.InputError) bool {
					return marks[e.Line-2].Board == id
				})
			})
			if o, err = c.Outcome(); err != nil {
				t.Fatal(err)
			}
		}
		if _, err := p.after(o); err != nil {
			t.Fatal(err)
		}
		judge(t, &p, c, o)
		entered += len(o.Done)
		for _, x := range o.Changes {
			if x.Was != nil && x.Is != nil && x.Was.Length*x.Was.Width != x.Is.Length*x.Is.Width {
				left++
				if x.Is.Width != x.Was.Width {
					strips++
				}
			}
		}
	})
	t.Logf("entered %d, of which in part %d, to strips %d; refused %d", entered, left, strips,
		refused)
	if left < 20 || strips < 3 {
		t.Errorf("hardly a board is cut in part: %d, to a strip %d", left, strips)
	}
}

// judge sets an outcome against the marks and the plan, by what can be counted.
func judge(t *rapid.T, p *planned, c *outcome.Cutting, o *outcome.Outcome) {
	was := map[string]model.Board{}
	for _, b := range p.here() {
		was[b.ID] = b
	}
	is, came := map[string]*model.Board{}, map[string]*model.Board{}
	for _, x := range o.Changes {
		if x.Was == nil {
			came[x.Is.ID] = x.Is
		} else {
			is[x.Was.ID] = x.Is
		}
		if x.Is != nil {
			for _, d := range x.Is.Defects {
				if e := x.Is.Fault(d, model.Inch); e != nil {
					t.Fatal(e)
				}
			}
		}
	}
	states := map[string]model.State{}
	key := func(parts ...any) string { return fmt.Sprint(parts...) }
	for _, m := range c.Marks {
		states[key(m.Board, m.Commission, "/", m.Part, "/", m.Copy, "/", m.Offcut)] = m.State
	}
	for _, d := range o.Done {
		b := was[d.Board]
		sum := d.Parts + d.Spoiled + d.Kerf + d.Trim + d.Waste
		if min(d.Parts, d.Spoiled, d.Kerf, d.Trim, d.Waste) < 0 {
			t.Fatalf("less than nothing: %+v", d)
		}
		for _, id := range d.Offcuts {
			sum += int64(came[id].Length) * int64(came[id].Width)
			if states[key(d.Board, "", "/", "", "/", 0, "/", id)] == model.Scrapped {
				t.Fatalf("offcut %s is kept", id)
			}
		}
		if left := is[d.Board]; left != nil {
			sum += int64(left.Length) * int64(left.Width)
		}
		if sum != int64(b.Length)*int64(b.Width) {
			t.Fatalf("board %s: %d of %d", d.Board, sum, b.Length*b.Width)
		}
		made := map[string]bool{}
		for _, x := range d.Pieces {
			name := key(d.Board, x.Commission, "/", x.Part, "/", x.Copy, "/", "")
			if s := states[name]; s == model.NotCut || (s == model.Spoiled) != x.Spoiled {
				t.Fatalf("%s is marked %q", name, s)
			}
			made[name] = true
		}
		for _, x := range p.plan.Cuts {
			name := key(x.Board, x.Commission, "/", x.Part, "/", x.Copy, "/", "")
			if x.Kind == model.KindPart && x.Board == d.Board && !made[name] &&
				states[name] != model.NotCut {
				t.Fatalf("%s is not cut", name)
			}
		}
	}
	if len(o.Done)+len(o.Left) != len(c.Boards) {
		t.Fatalf("%d boards are cut and %d left, of %d", len(o.Done), len(o.Left), len(c.Boards))
	}
}

// Worked out anew, as a defect was found in a piece, offcuts are what the plan has. Only a defect
// beside one, whose margin reaches into it, is not seen any more, so it may be worth more.
func TestWorkedOutAnew(t *testing.T) {
	offcuts, more := 0, 0
	for n := range months {
		p := months[n]()
		var marks []model.Marked
		seen := map[string]bool{}
		for _, x := range p.plan.Cuts {
			if x.Kind != model.KindPart || seen[x.Board] {
				continue
			}
			seen[x.Board] = true
			marks = append(marks, model.Marked{State: model.Spoiled,
				Mark: model.Mark{Board: x.Board, Row: model.MarkPiece, Commission: x.Commission,
					Part: x.Part, Copy: x.Copy},
				Defects: []model.Defect{{From: x.From + 1, To: x.From + 2, Left: x.Left + 1,
					Right: x.Left + 2, Kind: "metal"}}})
		}
		o, err := p.cutting(marks).Outcome()
		if err != nil {
			t.Fatal(err)
		}
		want := map[string]model.Board{}
		for _, b := range p.plan.Rack {
			want[b.ID] = b
		}
		for _, x := range o.Changes {
			if x.Is == nil {
				continue
			}
			was := want[x.Is.ID]
			was.Since = day
			if offcuts++; book.Same(was, *x.Is) {
				continue
			}
			if was.Value == nil || x.Is.Value == nil || *x.Is.Value <= *was.Value {
				t.Errorf("month %d: %+v, not %+v", n, *x.Is, was)
			}
			was.Value, x.Is.Value = nil, nil
			if more++; !book.Same(was, *x.Is) {
				t.Errorf("month %d: %+v, not %+v", n, *x.Is, was)
			}
		}
	}
	if offcuts < 10 || 4*more > offcuts {
		t.Errorf("of %d offcuts %d are worth more", offcuts, more)
	}
	t.Logf("of %d offcuts %d are worth more", offcuts, more)
}
