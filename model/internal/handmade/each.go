package handmade

import (
	"fmt"
	"reflect"
	"regexp"
	"testing"

	"rackwright/model"
)

// ChangeEachValue changes every single value of a plan made by hand, and drops or doubles every
// row, one at a time: the judge must find something each time. The plan is made anew for each
// change. Numbers change by one, duals by one of money: a tick more or less may prove the same
// money. What may pass says spare, by what is done and the path of the value, such as
// ".Cuts[3].From". It gives the number of changes tried.
func ChangeEachValue(t *testing.T, made func() (*model.Job, *model.Plan),
	judge func(*model.Job, *model.Plan) []model.Finding,
	spare func(what, path string) bool) (tried int) {
	t.Helper()
	try := func(what, path string, kind reflect.Kind, change func(v reflect.Value)) {
		if free.MatchString(path) || spare(what, path) {
			return
		}
		job, plan := made()
		EachValue(reflect.ValueOf(plan).Elem(), "", func(p string, v reflect.Value) {
			if p == path && v.Kind() == kind {
				change(v)
			}
		})
		tried++
		if len(judge(job, plan)) == 0 {
			t.Errorf("%s %s: the plan is accepted", what, path)
		}
	}
	_, plan := made()
	EachValue(reflect.ValueOf(plan).Elem(), "", func(path string, v reflect.Value) {
		kind := v.Kind()
		switch {
		case kind == reflect.Slice && v.Len() > 0:
			try("drop", path, kind, func(v reflect.Value) { v.Set(v.Slice(0, v.Len()-1)) })
			try("double", path, kind, func(v reflect.Value) {
				v.Set(reflect.Append(v.Slice(0, v.Len()), v.Index(0)))
			})
		case kind == reflect.Slice:
		case kind == reflect.Pointer && !v.IsNil():
			try("nil", path, kind, func(v reflect.Value) { v.SetZero() })
		case kind == reflect.Pointer:
		case kind == reflect.Bool:
			try("turn", path, kind, func(v reflect.Value) { v.SetBool(!v.Bool()) })
		case kind == reflect.String:
			try("add a letter", path, kind, func(v reflect.Value) {
				v.SetString(v.String() + "x")
			})
		case kind == reflect.Uint:
			try("add one", path, kind, func(v reflect.Value) { v.SetUint(v.Uint() + 1) })
			try("take one", path, kind, func(v reflect.Value) { v.SetUint(v.Uint() - 1) })
		default:
			one := int64(1)
			if dual.MatchString(path) {
				one <<= plan.Groups[0].Certificate.Bits
			}
			try("add one", path, kind, func(v reflect.Value) { v.SetInt(v.Int() + one) })
			try("take one", path, kind, func(v reflect.Value) { v.SetInt(v.Int() - one) })
		}
	})
	return tried
}

// EachValue visits every single value inside a plan, and every list, with its path.
func EachValue(v reflect.Value, path string, visit func(path string, v reflect.Value)) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			EachValue(v.Field(i), path+"."+v.Type().Field(i).Name, visit)
		}
	case reflect.Slice:
		visit(path, v)
		for i := range v.Len() {
			EachValue(v.Index(i), fmt.Sprintf("%s[%d]", path, i), visit)
		}
	case reflect.Array:
		for i := range v.Len() {
			EachValue(v.Index(i), fmt.Sprintf("%s[%d]", path, i), visit)
		}
	case reflect.Pointer:
		visit(path, v)
		if !v.IsNil() {
			EachValue(v.Elem(), path, visit)
		}
	default:
		visit(path, v)
	}
}

// free are the values of a plan that may be anything: the rest must follow from the job and the
// cuts. dual are the duals of leaves.
var free, dual = regexp.MustCompile(`^\.Rack\[\d\]\.Where`), regexp.MustCompile(`\.Duals\[\d+\]$`)
