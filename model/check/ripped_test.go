package check

import (
	"reflect"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

func TestCheckAcceptsARippedPlanMadeByHand(t *testing.T) {
	job, plan := handmade.Ripped()
	for _, f := range checked(job, plan) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
	// 25 in of two boards, and the offcuts 120 x 30, 100 x 17, 188 x 40, 142 x 30, whose widths are
	// 16625, 9421, 22167, 16625 units of 6 in: 2 x (7.5 x 16625 + 6.25 x 9421 + 11.75 x 22167 +
	// 8.875 x 16625) / 8128 / 144.
	want := model.PlanTally{Bought: 2_083_333, Rack: 2_083_333, Returned: 1_010_871,
		Blanks: 1_264_187 + 828_604}
	if got := job.TallyOf(plan); got != want {
		t.Errorf("the tally is %+v, want %+v", got, want)
	}
}

// Whatever single value of the ripped plan is changed, and whatever row is dropped or doubled, it
// is refused.
func TestNoValueOfARippedPlanIsLeftUnjudged(t *testing.T) {
	_, plan := handmade.Ripped()
	seen := 0
	try := func(what, path string, change func(v reflect.Value)) {
		job, plan := handmade.Ripped()
		handmade.EachValue(reflect.ValueOf(plan).Elem(), "", func(p string, v reflect.Value) {
			if p == path && (v.Kind() == reflect.Slice) == (what == "drop" || what == "double") &&
				(v.Kind() == reflect.Pointer) == (what == "nil") {
				change(v)
			}
		})
		seen++
		if len(checked(job, plan)) == 0 {
			t.Errorf("%s %s: the plan is accepted", what, path)
		}
	}
	handmade.EachValue(reflect.ValueOf(plan).Elem(), "", func(path string, v reflect.Value) {
		switch {
		case handmade.Free.MatchString(path), path == ".Bound":
		case v.Kind() == reflect.Slice:
			if v.Len() > 0 {
				try("drop", path, func(v reflect.Value) { v.Set(v.Slice(0, v.Len()-1)) })
				try("double", path, func(v reflect.Value) {
					v.Set(reflect.Append(v.Slice(0, v.Len()), v.Index(0)))
				})
			}
		case v.Kind() == reflect.Pointer:
			if !v.IsNil() {
				try("nil", path, func(v reflect.Value) { v.SetZero() })
			}
		case v.Kind() == reflect.Bool:
			try("turn", path, func(v reflect.Value) { v.SetBool(!v.Bool()) })
		case v.Kind() == reflect.String:
			try("add a letter", path, func(v reflect.Value) { v.SetString(v.String() + "x") })
		default:
			try("add one", path, func(v reflect.Value) { v.SetInt(v.Int() + 1) })
			try("take one", path, func(v reflect.Value) { v.SetInt(v.Int() - 1) })
		}
	})
	if seen < 1000 {
		t.Errorf("only %d values were tried", seen)
	}
}
