package proof

import (
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"rackwright/model"
	"rackwright/model/check"
	"rackwright/model/internal/handmade"
)

// bounds gives what is found in the proof alone.
func bounds(job *model.Job, plan *model.Plan) []model.Finding {
	reading, _ := check.Check(job, plan)
	return Bounds(reading)
}

func judgeAll(job *model.Job, plan *model.Plan) []model.Finding {
	reading, found := check.Check(job, plan)
	return append(found, Bounds(reading)...)
}

// Whatever single value of a plan is changed, and whatever row is dropped or doubled, the plan is
// refused.
func TestNoValueOfAPlanIsLeftUnjudged(t *testing.T) {
	tried := handmade.ChangeEachValue(t, handmade.Tiny, judgeAll,
		func(what, path string) bool {
			// a leaf given twice covers no less and proves no less
			return what == "double" && strings.HasSuffix(path, "Leaves")
		})
	if tried < 900 {
		t.Errorf("only %d values were tried", tried)
	}
}

// A plan read from a file may hold anything: the judges neither panic nor hang.
func TestAnyPlanIsJudged(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	numbers := []int64{0, 1, -1, 2, 3, 5, 99, 1 << 31, 1 << 40, 1<<62 + 1, math.MaxInt64,
		math.MinInt64, math.MinInt64 + 1}
	words := []string{"", "crosscut", "rip", "R1", "R2", "B1", "N1", "part", "offcut", "yard",
		"Bench", "Table", "leg", "rail", "oak", "\x00", "optimal"}
	for range 3000 {
		_, plan := handmade.Tiny()
		job, _ := handmade.Tiny()
		switch r.IntN(5) {
		case 0:
			job, plan = handmade.Threes()
		case 1:
			_, plan = handmade.Branched()
		case 2:
			job, plan = handmade.Ripped()
		}
		share := handmade.Pick(r, 3, 20, 200) // one value in so many changes
		handmade.EachValue(reflect.ValueOf(plan).Elem(), "", func(path string, v reflect.Value) {
			if r.IntN(share) > 0 {
				return
			}
			switch v.Kind() {
			case reflect.Slice:
				for n := r.IntN(3); n > 0 && v.Len() > 0; n-- {
					i := r.IntN(v.Len())
					v.Set(reflect.AppendSlice(v.Slice3(0, i, i), v.Slice(i+r.IntN(2), v.Len())))
				}
				for n := r.IntN(3); n > 0 && v.Len() > 0; n-- {
					v.Set(reflect.Append(v, v.Index(r.IntN(v.Len()))))
				}
			case reflect.Pointer:
				v.SetZero()
			case reflect.String:
				v.SetString(handmade.Pick(r, words...))
			case reflect.Bool:
				v.SetBool(!v.Bool())
			default:
				if n := handmade.Pick(r, numbers...); !v.OverflowInt(n) {
					v.SetInt(n)
				}
			}
		})
		if len(plan.Groups) > 0 && r.IntN(4) == 0 {
			for i := range plan.Groups[0].Certificate.Leaves {
				most := handmade.Pick(r, numbers...)
				plan.Groups[0].Certificate.Leaves[i].Bounds = map[int]model.UseBound{
					int(handmade.Pick(r, numbers...)): {Least: handmade.Pick(r, numbers...),
						Most: &most},
					r.IntN(6): {Least: handmade.Pick(r, numbers...),
						Most: nil}}
			}
		}
		judgeAll(job, plan)
	}
	if len(judgeAll(&model.Job{}, &model.Plan{})) != 0 {
		t.Error("nothing to do and nothing done is refused")
	}
}
