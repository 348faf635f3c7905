package across

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

// Boards are alike only where all that they are across is alike.
func TestBoardsAlikeAcross(t *testing.T) {
	job, _ := handmade.Slats()
	board := func() *Board {
		return NewBoard(job, job.Valuation(), &job.Rack[0], model.FromRack, model.NewRate(2, 3))
	}
	first := board()
	if same := board(); !first.Equal(same) {
		t.Error("a board is not like itself")
	}
	for name, change := range map[string]func(a *Board){
		"start": func(a *Board) { a.from++ }, "end": func(a *Board) { a.to++ },
		"rate": func(a *Board) { a.rate.Num++ }, "keep length": func(a *Board) { a.keep++ },
		"width": func(a *Board) { a.width++ }, "inset": func(a *Board) {
			a.inset++
		}, "keep": func(a *Board) { a.keepWidth++ }, "over": func(a *Board) { a.over++ },
		"shortest": func(a *Board) { a.shortest++ }, "narrowest": func(a *Board) {
			a.narrowest++
		}, "trimming": func(a *Board) { a.trimming = !a.trimming },
		"left": func(a *Board) { a.patches[0].Left++ }, "right": func(a *Board) {
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

// The worth that a bound is reckoned with is never below the worth that a plan is credited with.
func TestUnroundedWorthIsNotBelowTheTrueOne(t *testing.T) {
	r := rand.New(rand.NewPCG(55, 56))
	var one boardSearch
	above := 0
	for range 2000 {
		job, _ := handmade.Slats()
		b := &job.Rack[0]
		b.Length, b.Width, b.Value = model.Length(10+r.IntN(30)), model.Length(3+r.IntN(9)),
			new(model.Money(r.IntN(9000)))
		b.Defects = nil
		for range r.IntN(4) {
			d := model.Defect{From: model.Length(r.IntN(int(b.Length))),
				Left: model.Length(r.IntN(int(b.Width))),
				Kind: "knot"}
			d.To, d.Right = min(b.Length, d.From+1+model.Length(r.IntN(4))),
				min(b.Width, d.Left+1+model.Length(r.IntN(4)))
			b.Defects = append(b.Defects, d)
		}
		job.Settings.RackEnd, job.Settings.Margin = model.Length(r.IntN(3)), model.Length(r.IntN(2))
		job.Settings.Offcut.KeepLength, job.Settings.Offcut.KeepWidth = model.Length(r.IntN(8)),
			model.Length(r.IntN(5))
		v := job.Valuation()
		bar := NewBoard(job, v, b, model.FromRack, v.RateOfBoard(b))
		scale := int64(1) << r.IntN(12)
		one.Board, one.items = bar, nil
		if why := one.measure(1, 1, scale); why != "" {
			t.Fatal(why)
		}
		one.toGrid()
		for range 20 {
			at := func(n int) (lo, hi int) {
				lo = r.IntN(n)
				return lo, lo + 1 + r.IntN(n-lo)
			}
			from, to := at(one.n)
			left, right := at(one.m)
			of := model.Rect{From: bar.from + model.Length(int64(from)*one.gx),
				To:    bar.from + model.Length(int64(to)*one.gx),
				Left:  model.Length(int64(left) * one.gy),
				Right: model.Length(int64(right) * one.gy)}
			worth := int64(v.WorthOfRect(bar.rate, &b.Wood, of, job.WidenedRects(b, nil)))
			got := one.rectWorth(from, to, left, right)
			if got < worth*scale*Fine {
				t.Fatalf("%+v, %+v: worth %d, reckoned with as %d over %d", b, of, worth, got,
					scale*Fine)
			}
			if worth > 0 {
				above++
			}
			// a unit for each run of a line, rounded to one of the board
			if most := (worth+1+int64(b.Length))*scale*Fine +
				int64(b.Width*b.Length); got > most {
				t.Fatalf("%+v, %+v: worth %d, reckoned with as %d over %d", b, of, worth, got,
					scale*Fine)
			}
		}
	}
	if above < 5000 {
		t.Errorf("only %d are worth anything", above)
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
	a := NewBoard(job, job.Valuation(), &job.Rack[0], model.FromRack, model.NewRate(2, 3))
	if a.width != 7 || a.inset != 2 || a.keepWidth != 2 || a.keep != 4 || a.over != 2 ||
		a.shortest != 5 ||
		a.narrowest != 1 || !a.trimming {
		t.Errorf("%+v", a)
	}
	// from 4 with the margin, but for the trim
	if want := (patch{model.Rect{From: 6, To: 9, Left: 0, Right: 3},
		[model.Faces]bool{model.Hidden: true}}); len(a.patches) != 1 ||
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
