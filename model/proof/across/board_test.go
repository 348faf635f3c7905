package across

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

// Boards are alike only where all that they are across is alike.
func TestBoardsAlikeAcross(t *testing.T) {
	job, _ := handmade.Slats()
	board := func() *Board {
		return NewBoard(job, job.Valuation(), &job.Rack[0], model.FromRack,
			model.Slope{Whole: 3, Strip: 2})
	}
	first := board()
	if same := board(); !first.Equal(same) {
		t.Error("a board is not like itself")
	}
	for name, change := range map[string]func(a *Board){
		"start": func(a *Board) { a.from++ }, "end": func(a *Board) { a.to++ },
		"unit": func(a *Board) { a.unit++ }, "keep length": func(a *Board) { a.keep++ },
		"slope": func(a *Board) { a.slope.Whole++ }, "strips": func(a *Board) { a.slope.Strip-- },
		"width": func(a *Board) { a.width++ }, "inset": func(a *Board) {
			a.inset++
		}, "keep": func(a *Board) { a.keepWidth++ }, "over": func(a *Board) { a.over++ },
		"shortest": func(a *Board) { a.shortest++ }, "narrowest": func(a *Board) {
			a.narrowest++
		}, "trimming": func(a *Board) { a.trimming = !a.trimming },
		"ripping": func(a *Board) { a.ripping++ },
		"weak":    func(a *Board) { a.patches[0].weak = !a.patches[0].weak },
		"left":    func(a *Board) { a.patches[0].Left++ }, "right": func(a *Board) {
			a.patches[0].Right++
		}, "from": func(a *Board) { a.patches[0].From++ },
		"face": func(a *Board) {
			a.patches[0].tolerated[model.Show] = true
		}, "defects": func(a *Board) { a.patches = nil },
	} {
		other := board()
		change(other)
		if first.Equal(other) || other.Equal(first) {
			t.Errorf("boards that differ in %s are alike", name)
		}
	}
}

// randomJob is a job of one rack board with defects, and with places that are all multiples of a
// unit, of which that of the job is one.
func randomJob(r *rand.Rand, longest, widest int) (*model.Job, model.Length) {
	unit := model.Length(1 + r.IntN(3))
	in := func(lo, hi int) model.Length { return model.Length(lo+r.IntN(hi-lo+1)) * unit }
	job, _ := handmade.Slats()
	job.Yard, job.Parts, job.Rack = nil, nil, job.Rack[:1]
	b, s := &job.Rack[0], &job.Settings
	b.Length, b.Width = in(4, longest), in(3, widest)
	b.Value = new(model.Money(r.IntN(9000)))
	b.Defects = nil
	n, w := int(b.Length/unit), int(b.Width/unit)
	for range r.IntN(4) {
		d := model.Defect{From: in(0, n-1), Left: in(0, w-1),
			Kind: handmade.Pick(r, "knot", "split")}
		d.To, d.Right = min(b.Length, d.From+in(1, 4)), min(b.Width, d.Left+in(1, 4))
		b.Defects = append(b.Defects, d)
	}
	s.CrosscutKerf, s.RipKerf, s.RackEnd, s.Margin = in(0, 3), in(0, 3), in(0, 1), in(0, 1)
	s.Offcut.KeepLength, s.Offcut.KeepWidth = in(0, 8), in(0, 4)
	s.Offcut.StripValue = model.Fraction{Num: r.Int64N(6), Den: 5} // 0, some or all
	// what may not be ripped need be no multiple
	s.Safety = model.Safety{ShortestRip: in(0, 5) + model.Length(r.IntN(int(unit))),
		NarrowestRip: in(0, 2)}
	s.TrimmingCut = r.IntN(3) > 0
	s.Weak = handmade.Pick(r, nil, []string{"split"}, []string{"shake", "split", "knot"})
	// a board of 9000 is some 10 x 6; dear rips cost some 100 for each of its length
	s.Ripping = model.Money(r.Int64N(handmade.Pick[int64](r, 1, 1e5, 1e6, 1e7)))
	return job, unit
}

// The worth that a bound is reckoned with is that which a plan is credited with, to the last tick.
func TestWorthOnTheGridIsTheTrueOne(t *testing.T) {
	r := rand.New(rand.NewPCG(55, 56))
	var one boardSearch
	var wholes, strips, coarse int
	for range 2000 {
		job, _ := randomJob(r, 30, 12)
		b, v := &job.Rack[0], job.Valuation()
		slope := v.SlopeOfBoard(b)
		one.Board, one.items = NewBoard(job, v, b, model.FromRack, slope), nil
		if one.to <= one.from {
			continue
		}
		if why := one.measure(job.Settings.CrosscutKerf/v.Unit,
			job.Settings.RipKerf/v.Unit); why != "" {
			t.Fatal(why)
		}
		if v.Unit > 1 {
			coarse++
		}
		one.toGrid()
		for range 20 {
			at := func(n int) (lo, hi int) {
				lo = r.IntN(n)
				return lo, lo + 1 + r.IntN(n-lo)
			}
			from, to := at(one.n)
			left, right := at(one.m)
			if r.IntN(3) == 0 {
				left, right = 0, one.m
			}
			along := func(x int) model.Length {
				return (one.from + model.Length(int64(x)*one.gx)) * v.Unit
			}
			across := func(y int) model.Length { return model.Length(int64(y)*one.gy) * v.Unit }
			of := model.Rect{From: along(from), To: along(to), Left: across(left),
				Right: across(right)}
			worth := v.WorthOfRect(slope, &b.Wood, of, job.WidenedRects(b, nil))
			if got := one.rectWorth(from, to, left, right); got != worth {
				t.Fatalf("%+v, %+v: worth %d, reckoned with as %d", b, of, worth, got)
			}
			if worth > 0 && right-left == one.m {
				wholes++
			} else if worth > 0 {
				strips++
			}
		}
	}
	if wholes < 2000 || strips < 2000 || coarse < 500 {
		t.Errorf("%d as wide as the board and %d strips are worth anything, %d boards have a "+
			"unit above 1", wholes, strips, coarse)
	}
}

// A board of a job gives what its best layout gives, with sizes and worth as the job has them.
func TestBoardOfAJobGivesItsBestLayout(t *testing.T) {
	r := rand.New(rand.NewPCG(57, 58))
	var most Most
	var coarse, over, strips, between, rips, weak int
	for n := range 4000 {
		job, unit := randomJob(r, 10, 6)
		b, s := &job.Rack[0], &job.Settings
		s.Allowance.Edge = handmade.Pick(r, 0, unit)
		v := job.Valuation()
		slope, bad := v.SlopeOfBoard(b), job.WidenedRects(b, nil)
		a := NewBoard(job, v, b, model.FromRack, slope)
		if a.to <= a.from {
			continue
		}
		var items []Item
		for range 1 + r.IntN(3) {
			p := model.Part{Material: b.Material, Length: unit * model.Length(1+r.IntN(6)),
				Width: unit * model.Length(1+r.IntN(6)), Face: model.Face(r.IntN(model.Faces))}
			job.Parts = append(job.Parts, p)
			if blank := job.BlankIn(&p, &b.Wood); blank.Width > b.Width {
				continue
			}
			items = append(items, a.Item(p.Length, p.Width, p.Face, r.Int64N(1+2*slope.Whole*20)))
		}
		if job.Valuation().Unit != v.Unit { // the parts have a share in it
			continue
		}
		e := newEveryLayout(a, items, s.CrosscutKerf/v.Unit, s.RipKerf/v.Unit)
		e.worth = func(from, to, left, right model.Length) int64 {
			u := v.Unit
			return v.WorthOfRect(slope, &b.Wood,
				model.Rect{From: from * u, To: to * u, Left: left * u, Right: right * u}, bad)
		}
		e.short = func(l model.Length) bool { return l*v.Unit < s.Safety.ShortestRip }
		e.rips = func(l model.Length) int64 { return v.RipCost(l * v.Unit) }
		e.weak = nil
		for _, w := range job.WeakRects(b) {
			e.weak = append(e.weak, model.Rect{From: w.From / v.Unit, To: w.To / v.Unit,
				Left: w.Left / v.Unit, Right: w.Right / v.Unit})
		}
		if s.Safety.ShortestRip%v.Unit != 0 {
			between++
		}
		want := e.best()
		if got, why := most.One(a, items, s.CrosscutKerf, s.RipKerf); got != want || why != "" {
			t.Fatalf("%d: %+v, items %+v, kerfs %d and %d: gives %d %s, the best layout %d", n, *a,
				items, s.CrosscutKerf, s.RipKerf, got, why, want)
		}
		if v.Unit > 1 {
			coarse++
		}
		if a.over > 0 {
			over++
		}
		free := *a
		free.ripping, free.patches = 0, slices.Clone(a.patches)
		for k := range free.patches {
			free.patches[k].weak = false
		}
		if more, _ := most.One(&free, items, s.CrosscutKerf, s.RipKerf); more > want {
			if rips++; a.ripping == 0 {
				weak++
			}
		}
		if slope.Strip > 0 && slope.Strip < slope.Whole {
			strips++
		}
	}
	if coarse < 500 || over < 500 || strips < 500 || between < 300 || rips < 100 || weak < 20 {
		t.Errorf("%d boards with a unit above 1, %d with an allowance, %d with strips of less "+
			"worth, %d with a shortest rip between units, %d give less for their rips, %d for "+
			"weak defects alone: too few", coarse, over, strips, between, rips, weak)
	}
}

// What a board is across comes from the settings and the board; a blank's width there has the
// allowance of two edges, unless it is the board's own.
func TestAcrossOfABoard(t *testing.T) {
	job, _ := handmade.Slats()
	job.Settings.Allowance.Edge, job.Settings.Allowance.EasedEdge, job.Settings.Margin,
		job.Settings.YardEnd = 1, 3, 1, 2
	job.Settings.RackEnd = 6
	job.Rack[0].Section = "2x4"
	a := NewBoard(job, job.Valuation(), &job.Rack[0], model.FromRack,
		model.Slope{Whole: 3, Strip: 2})
	if a.width != 7 || a.inset != 2 || a.keepWidth != 2 || a.keep != 4 || a.over != 2 ||
		a.shortest != 5 ||
		a.narrowest != 1 || !a.trimming {
		t.Errorf("%+v", a)
	}
	// from 4 with the margin, but for the trim
	if want := (patch{model.Rect{From: 6, To: 9, Left: 0, Right: 3},
		[model.Faces]bool{model.Hidden: true}, false}); len(a.patches) != 1 ||
		a.patches[0] != want {
		t.Errorf("%+v, want %+v", a.patches, want)
	}
	got := []Item{a.Item(9, 7, model.Show, 5), a.Item(8, 3, model.Sound, 6)}
	if want := []Item{{9, 7, true, model.Show, 5},
		{8, 5, false, model.Sound, 6}}; fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// The longest and the widest board have no more positions in the smallest unit than the bound is
// derived over.
func TestLargestBoardHasABound(t *testing.T) {
	if model.WidestBoard > maxAcross || model.LongestBoard > maxAlong {
		t.Errorf("a board of %d by %d is more than %d by %d", model.LongestBoard, model.WidestBoard,
			maxAlong, maxAcross)
	}
}
