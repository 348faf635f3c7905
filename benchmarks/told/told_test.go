package told

import (
	"slices"
	"strings"
	"testing"
	"time"

	"rackwright/model"
)

func TestSeedsAreReadAsRanges(t *testing.T) {
	if got, err := ParseSeeds("2,5,7-9"); err != nil || !slices.Equal(got, []int64{2, 5, 7, 8, 9}) {
		t.Errorf("got %v, %v", got, err)
	}
	for _, bad := range []string{"", "x", "3-1", "1-", "1,,2", "1-99999"} {
		if got, err := ParseSeeds(bad); err == nil {
			t.Errorf("%q is read as %v", bad, got)
		}
	}
}

// 100 (value - bound) / value by hand: a third of a thousandth is rounded up, nothing is not.
func TestGapIsRoundedUp(t *testing.T) {
	for want, r := range map[string]Row{
		"10.000": {Value: 10, Bound: 9}, "0.001": {Value: 300000, Bound: 299999},
		"0.000": {Value: 7, Bound: 7}, "-": {Value: 0, Bound: -5}, "100.000": {Value: 8},
		"150.000": {Value: 8, Bound: -4}} {
		if got := r.Gap(); got != want {
			t.Errorf("%+v: %s, want %s", r, got, want)
		}
	}
	r := Row{Time: 12390 * time.Millisecond}
	if got := r.Seconds(); got != "12.3 s" {
		t.Errorf("time %s", got)
	}
}

func TestSavingIsOfTheOther(t *testing.T) {
	r := &Row{Value: 750}
	if got := r.Saving(1000) + r.Saving(600) + r.Saving(-5); got != "25.0-25.0-" {
		t.Errorf("got %s", got)
	}
}

// Each missing copy is counted once, and a plan that gives nothing of what is wanted is not
// accepted.
func TestOfCountsPieces(t *testing.T) {
	p := &model.Plan{Value: 5, Bound: 4,
		Shortages: []model.Shortage{{Copies: []int64{1, 2}}, {Copies: []int64{4}}}}
	job := &model.Job{Settings: model.DefaultSettings(), Parts: []model.Part{{Qty: 3}, {Qty: 4}}}
	r := Of(job, p)
	if r.Missing != 3 || r.Pieces != 7 || r.Value != 5 || r.Bound != 4 ||
		!strings.Contains(r.Verdict, "cuts rejected") ||
		!strings.Contains(r.Verdict, "3 pieces short") {
		t.Errorf("%+v", r)
	}
}

// A hundred MiB that are written to are told of, and the work that it is.
func TestUsageGrows(t *testing.T) {
	before, cpu := PeakMemory(), CPUTime()
	if before == 0 {
		t.Skip("the system does not say")
	}
	block := make([]byte, 100<<20)
	for i := 0; i < len(block); i += 1024 {
		block[i] = 1
	}
	if after := PeakMemory(); after < before || after < 100 || block[1024] != 1 {
		t.Errorf("%d MiB, before %d", after, before)
	}
	if after := CPUTime(); after <= cpu {
		t.Errorf("CPU time %v, before %v", after, cpu)
	}
}
