package nest

import (
	"math/rand/v2"
	"reflect"
	"testing"

	"rackwright/model"
)

// Whichever way the cuts are put in order, a plan tells the same of both ways, and all else of it
// is the same.
func TestBothOrdersOfWork(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 2))
	differ := 0
	for n := range 40 {
		job := randomJob(r)
		withRips(r, job)
		job.Settings.Work = model.WorkTimes{Setting: 1500, Lift: 500}
		opt := Options{Work: 1e6, Threads: 1}
		time, err := Plan(t.Context(), job, opt)
		if err != nil {
			t.Fatalf("job %d: %v", n, err)
		}
		opt.Order = model.LeastClutter
		clutter, err := Plan(t.Context(), job, opt)
		if err != nil {
			t.Fatalf("job %d: %v", n, err)
		}
		if time.Work.Order != model.LeastTime || clutter.Work.Order != model.LeastClutter ||
			!reflect.DeepEqual(time.Work.Ways, clutter.Work.Ways) ||
			len(time.Order) != len(clutter.Order) {
			t.Fatalf("job %d: %+v and %+v", n, time.Work, clutter.Work)
		}
		if !reflect.DeepEqual(time.Order, clutter.Order) {
			differ++
		}
		clutter.Order, clutter.Work = time.Order, time.Work
		if !reflect.DeepEqual(time, clutter) {
			t.Fatalf("job %d: the plans differ in more than their order", n)
		}
	}
	if differ < 10 {
		t.Errorf("%d plans have two orders", differ)
	}
}
