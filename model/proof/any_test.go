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
	none := func(what, path string) bool { return false }
	if tried := handmade.ChangeEachValue(t, handmade.Tiny, judgeAll, none); tried < 900 {
		t.Errorf("only %d values were tried", tried)
	}
}

// So is a plan whose proof is a tree, but for the duals of the leaf that proves more than the
// other.
func TestNoValueOfATreeIsLeftUnjudged(t *testing.T) {
	trees := 0
	handmade.ChangeEachValue(t, handmade.Branched, judgeAll, func(what, path string) bool {
		if !strings.HasPrefix(path, ".Groups[0].Certificate.Root") ||
			strings.HasPrefix(path, ".Groups[0].Certificate.Root.Split.Low.Duals[") {
			return true
		}
		trees++
		return false
	})
	if trees < 15 {
		t.Errorf("only %d values of the tree were tried", trees)
	}
}

// A plan read from a file may hold anything: the judges neither panic nor hang.
func TestAnyPlanIsJudged(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	numbers := []int64{0, 1, -1, 2, 3, 5, 99, 1 << 31, 1 << 40, 1<<62 + 1, math.MaxInt64,
		math.MinInt64, math.MinInt64 + 1}
	words := []string{"", "crosscut", "rip", "R1", "R2", "B1", "N1", "part", "offcut", "yard",
		"Bench", "Table", "leg", "rail", "top", "peg", "oak", "\x00", "optimal"}
	for range 3000 {
		_, plan := handmade.Tiny()
		job, _ := handmade.Tiny()
		switch r.IntN(6) {
		case 0:
			job, plan = handmade.Threes()
		case 1:
			_, plan = handmade.Branched()
		case 2:
			job, plan = handmade.Ripped()
		case 3:
			job, plan = handmade.Glued()
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
			case reflect.Uint:
				v.SetUint(handmade.Pick(r, uint64(0), 1, 33, 35, 63, 64, math.MaxUint))
			default:
				if n := handmade.Pick(r, numbers...); !v.OverflowInt(n) {
					v.SetInt(n)
				}
			}
		})
		if len(plan.Groups) > 0 && r.IntN(4) == 0 {
			root := &plan.Groups[0].Certificate.Root
			for range r.IntN(4) {
				stock := handmade.Pick(r, numbers...)
				if r.IntN(2) == 0 {
					stock = r.Int64N(6)
				}
				split := &model.CertSplit{Stock: int(stock), AtMost: handmade.Pick(r, numbers...),
					Low: *root, High: *root}
				if r.IntN(8) == 0 {
					split.Low = model.CertNode{}
				}
				if *root = (model.CertNode{Split: split}); r.IntN(8) == 0 {
					root.Duals = split.High.Duals
				}
			}
		}
		judgeAll(job, plan)
	}
	work := model.Work{Order: model.LeastTime, Ways: []model.WayOfWork{{Way: model.LeastTime},
		{Way: model.LeastClutter, Exact: true}}}
	if len(judgeAll(&model.Job{}, &model.Plan{Work: work})) != 0 {
		t.Error("nothing to do and nothing done is refused")
	}
}
