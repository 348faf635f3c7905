package shopbook

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"rackwright/io/book"
	"rackwright/model"
)

// Of rows that are alike as many are taken off the market as boards like them are bought, less
// those of which yard.csv says itself that none is left. A plan of what is left agrees with the
// book, and one board more of a kind that is sold out does not.
func TestSinglesAreSoldOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.IntRange(1, 3)
		offer := func(wide int, available *int64) model.Offer {
			return model.Offer{Wood: model.Wood{Material: "oak", Section: "4/4", Length: 96,
				Width: model.Length(wide), Thickness: 1}, Available: available}
		}
		job := &model.Job{}
		ones, nones, bought := map[int]int{}, map[int]int{}, map[int]int{}
		for range rapid.IntRange(0, 8).Draw(t, "rows") {
			wide := kind.Draw(t, "width")
			switch rapid.IntRange(0, 2).Draw(t, "available") {
			case 0:
				nones[wide]++
				job.Yard = append(job.Yard, offer(wide, new(int64)))
			case 1:
				ones[wide]++
				job.Yard = append(job.Yard, offer(wide, new(int64(1))))
			case 2:
				job.Yard = append(job.Yard, offer(wide, nil))
			}
			job.Yard[len(job.Yard)-1].Where.Line = len(job.Yard) + 1
		}
		life := book.Life{Plan: "march/out"}
		for n := range rapid.IntRange(0, 5).Draw(t, "bought") {
			wide := kind.Draw(t, "width")
			bought[wide]++
			o := offer(wide, new(int64(1)))
			life.Buys = append(life.Buys, purchase(job, fmt.Sprint("B-", n), &o))
		}
		lives := []book.Life{life}
		notes := sell(job, book.Singles(lives))
		left, plan := map[int]int{}, &book.Booking{}
		for i := range job.Yard {
			if o := &job.Yard[i]; has(o, 1) {
				left[int(o.Width)]++
				plan.Buys = append(plan.Buys, purchase(job, fmt.Sprint("N-", i), o))
			}
		}
		sold := 0
		for wide := 1; wide <= 3; wide++ {
			gone := min(ones[wide], max(0, bought[wide]-nones[wide]))
			sold += gone
			if left[wide] != ones[wide]-gone {
				t.Fatalf("of %d rows, %d without boards and %d boards bought %d are left",
					ones[wide], nones[wide], bought[wide], left[wide])
			}
		}
		if len(notes) != sold {
			t.Fatalf("%d are sold, and told is %v", sold, notes)
		}
		s := &shopBook{}
		if whys := s.soldOut(lives, job, plan); len(whys) > 0 {
			t.Fatalf("against what is left it is said: %q", whys)
		}
		o := offer(1, new(int64(1)))
		plan.Buys = append(plan.Buys, purchase(job, "X", &o))
		// a row of which none was left when the plan was made is for the check of the plan
		if whys := s.soldOut(lives, job, plan); len(whys) != 1 && nones[1] == 0 {
			t.Fatalf("against a board too many it is said: %q", whys)
		}
	})
}
