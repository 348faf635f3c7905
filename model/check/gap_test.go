package check

import (
	"math/rand/v2"
	"testing"

	"rackwright/model"
)

// keptByUnits decides by the words whether a gap is kept, on single units of length and width: some
// line of it has keep_length units in a row that one face can use.
func keptByUnits(j *model.Job, b *model.Board, gap model.Rect) bool {
	keep := j.Valuation().Keep(&b.Wood)
	whole := gap.Left == 0 && gap.Right == b.Width
	if gap.To-gap.From < max(1, keep) || gap.Right <= gap.Left ||
		!whole && gap.Right-gap.Left < j.KeepWidth(&b.Wood) {
		return false
	}
	usable := func(x, y model.Length, f model.Face) bool {
		m := j.Settings.Margin
		for _, d := range b.Defects {
			if d.From-m <= x && x < d.To+m && d.Left-m <= y && y < d.Right+m &&
				!j.Settings.Tolerates(f, d.Kind) {
				return false
			}
		}
		return true
	}
	for f := model.Show; f < model.Faces; f++ {
		for y := gap.Left; y < gap.Right; y++ {
			run := model.Length(0)
			for x := gap.From; x < gap.To; x++ {
				if run++; !usable(x, y, f) {
					run = 0
				}
				if run >= max(1, keep) {
					return true
				}
			}
		}
	}
	return false
}

// keptByBands decides it as the solver does, by bands of lines and their clear runs.
func keptByBands(j *model.Job, b *model.Board, gap model.Rect) bool {
	keep := j.Valuation().Keep(&b.Wood)
	if gap.To <= gap.From || gap.Right <= gap.Left || gap.To-gap.From < keep ||
		(gap.Left > 0 || gap.Right < b.Width) && gap.Right-gap.Left < j.KeepWidth(&b.Wood) {
		return false
	}
	for f := model.Show; f < model.Faces; f++ {
		bad := j.WidenedRects(b, func(kind string) bool { return j.Settings.Tolerates(f, kind) })
		for _, band := range model.Bands(gap.Left, gap.Right, bad) {
			for _, run := range model.ClearRuns(gap.From, gap.To,
				model.Meeting(bad, band.From, band.To)) {
				if run.To-run.From >= keep {
					return true
				}
			}
		}
	}
	return false
}

// A gap is kept where the words say so: the checker's rule, the solver's and one by single units
// are the same for every gap of many small boards.
func TestWhichGapsAreKept(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 62))
	kept, lost := 0, 0
	for range 400 {
		n, w := model.Length(4+r.IntN(9)), model.Length(2+r.IntN(6))
		j := &model.Job{Settings: model.Settings{
			Margin: model.Length(r.IntN(2)), Hidden: []string{"knot"},
			Sound: []string{"knot"},
			Offcut: model.OffcutRule{KeepLength: model.Length(r.IntN(7)),
				KeepWidth: model.Length(r.IntN(5)), Value: model.Fraction{Num: 1, Den: 2}},
			Safety: model.Safety{NarrowestRip: model.Length(r.IntN(3))},
		}}
		b := &model.Board{ID: "R", Wood: model.Wood{Material: "oak", Section: "4/4", Length: n,
			Width: w, Thickness: 4}}
		for range r.IntN(5) {
			d := model.Defect{From: model.Length(r.IntN(int(n))),
				Left: model.Length(r.IntN(int(w))),
				Kind: []string{"knot", "split"}[r.IntN(2)]}
			// some of no length or width, which count with a margin only
			d.To, d.Right = min(n, d.From+model.Length(r.IntN(4))),
				min(w, d.Left+model.Length(r.IntN(4)))
			b.Defects = append(b.Defects, d)
		}
		c := newChecker(j, &model.Plan{})
		for from := model.Length(0); from < n; from++ {
			for to := from; to <= n; to++ {
				for left := model.Length(0); left < w; left++ {
					for right := left; right <= w; right++ {
						gap := model.Rect{From: from, To: to, Left: left, Right: right}
						got, want := c.keepable(b, gap), keptByUnits(j, b, gap)
						if got != want || keptByBands(j, b, gap) != want {
							t.Fatalf("%+v of %+v, %+v: kept %t, by bands %t, by units %t", gap, b,
								j.Settings, got, keptByBands(j, b, gap), want)
						}
						if want {
							kept++
						} else {
							lost++
						}
					}
				}
			}
		}
	}
	if kept < 10_000 || lost < 10_000 {
		t.Errorf("%d gaps kept and %d lost are too few to trust", kept, lost)
	}
}
