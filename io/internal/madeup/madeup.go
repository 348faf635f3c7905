// Package madeup has a planned job in which parts are made up in every way, for the tests of io's
// rooms.
package madeup

import (
	"context"
	"slices"
	"testing"

	"rackwright/model"
	"rackwright/model/makeup"
	"rackwright/nest"
)

const in = model.UnitsPerInch

// Job is the job as it is entered: invented commissions of an inch shop.
//
//	top     35 in wide: staves of fir 2x6
//	leg     2 3/4 in square: layers of oak 8/4; one spare
//	shelf   10 in wide: staves of oak 4/4 of random widths
//	block   10 in wide, 4 in thick: staves and layers
//	plug    4 in long: several in one
//	rail    cut as it is; two spares
func Job() *model.Job {
	j := &model.Job{Settings: model.DefaultSettingsIn(model.Inch)}
	j.Settings.Batch = "made"
	j.Commissions = []model.Commission{{Name: "C-01 bench"}, {Name: "C-02 table"}}
	add := func(commission, name string, qty int64, material string, section model.Section,
		long, wide, thick model.Length, face model.Face, p model.Part) {
		p.Commission, p.Name, p.Qty, p.Material = commission, name, qty, material
		p.Section, p.Length, p.Width, p.Thickness, p.Face = section, long, wide, thick, face
		p.Where = model.Where{File: "parts.csv", Line: len(j.Parts) + 2}
		j.Parts = append(j.Parts, p)
	}
	add("C-02 table", "top", 1, "fir", "", 60*in, 35*in, 3*in/2, model.Sound,
		model.Part{Staves: model.Auto})
	add("C-02 table", "leg", 4, "oak", "", 28*in, 11*in/4, 11*in/4, model.Show,
		model.Part{Layers: model.Auto, Spare: 1})
	add("C-01 bench", "shelf", 2, "oak", "", 20*in, 10*in, 3*in/4, model.Show,
		model.Part{Staves: model.Auto})
	add("C-01 bench", "block", 1, "oak", "", 20*in, 10*in, 4*in, model.Show,
		model.Part{Staves: model.Auto, Layers: model.Auto})
	add("C-01 bench", "plug", 10, "fir", "1x4", 4*in, 3*in, 3*in/4, model.Sound,
		model.Part{InOne: model.Auto})
	add("C-01 bench", "rail", 3, "fir", "1x4", 30*in, 5*in/2, 3*in/4, model.Sound,
		model.Part{Spare: 2})
	sell := func(material string, section model.Section, wide model.Length, surface model.Surface,
		price model.Money) {
		o := model.Offer{Wood: model.Wood{Material: material, Section: section, Length: 96 * in,
			Surface: surface}, Price: price,
			Where: model.Where{File: "yard.csv", Line: len(j.Yard) + 2}}
		o.Thickness, o.Width = section.Actual(model.Condition{Surface: surface})
		if wide > 0 {
			o.Width = wide
		}
		j.Yard = append(j.Yard, o)
	}
	sell("fir", "2x6", 0, "", 85000)
	sell("fir", "1x4", 0, "", 51000)
	sell("oak", "4/4", 6*in, model.Rough, 310000)
	sell("oak", "8/4", 6*in, model.Rough, 700000)
	return j
}

// Made is how the parts of the job come about: by the cheapest way, by area, and plugs six in one.
// Shelves are covered by a stave of 4 1/2 in, one of 3 in and two of 1 1/2 in.
func Made(j *model.Job) (out []model.Made) {
	for i := range j.Parts {
		p := &j.Parts[i]
		numbers := func(from, to int64) (list []int64) {
			for n := from; n <= to; n++ {
				list = append(list, n)
			}
			return list
		}
		all := numbers(1, p.Qty+p.Spare)
		switch p.Name {
		case "shelf":
			c := makeup.Covers(j, p)[0]
			out = append(out, c.MadeOf(all, []int64{6, 6, 12, 18}))
		case "plug":
			for _, w := range makeup.Gangs(j, p) {
				if w.Copies == 6 {
					out = append(out, w.MadeOf(all))
				}
			}
		case "rail":
			c := makeup.ChoiceOf(j, p)
			out = append(out, c.Ways[0].MadeOf(numbers(p.Qty+1, p.Qty+p.Spare)))
		default:
			c := makeup.ChoiceOf(j, p)
			out = append(out, c.Ways[0].MadeOf(all))
		}
	}
	return out
}

var planned struct {
	job  *model.Job
	plan *model.Plan
}

// Plan is the job whose parts are those that are cut, and its plan.
func Plan(t testing.TB) (*model.Job, *model.Plan) {
	t.Helper()
	if planned.job == nil {
		j := Job()
		made := Made(j)
		if len(made) != len(j.Parts) {
			t.Fatalf("made are %+v", made)
		}
		cut := makeup.AsMade(makeup.Prepare(j), made)
		plain := *cut
		plain.Entered = nil
		plan, err := nest.Plan(context.Background(), &plain, nest.Options{Work: 1e6,
			Date: "2027-03-01"})
		if err != nil {
			t.Fatal(err)
		}
		plan.Made = made
		planned.job, planned.plan = cut, plan
	}
	job, plan := *planned.job, *planned.plan
	job.Parts = slices.Clone(job.Parts)
	return &job, &plan
}
