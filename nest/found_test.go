package nest

import (
	"context"
	"fmt"
	"testing"

	"rackwright/model"
)

// Jobs that fuzzing has found, cut down to what matters.
func TestFoundByFuzzing(t *testing.T) {
	for _, c := range []struct {
		name string
		job  found
	}{
		{"short pieces, each gap's end looked for anew at every unit", found{
			keep: 294, value: model.Fraction{Num: 1, Den: 7}, margin: 35, trim: 35,
			parts: []foundPart{{2, 46, "2x4", model.Sound}, {3, 44, "2x4", model.Hidden}},
			rack: []foundBoard{{5229, "2x4", []model.Defect{{From: 3, To: 5, Kind: "check"}}},
				{6719, "2x4",
					[]model.Defect{{From: 5599, To: 5604, Kind: "check"},
						{From: 497, To: 596, Kind: "sound knot"},
						{From: 1162, To: 1394, Kind: "split"}}}},
		}},
		{"a long board with no step in its lengths, gaps of a unit each worth something", found{
			kerf: 1, keep: 1, value: model.Fraction{Num: 1, Den: 1_000_000},
			yard: []foundOffer{{49_784, "2x4", 54_332}},
			parts: []foundPart{{2, 371_857, "2x4", model.Show}, {1, 1001, "2x4", model.Show},
				{1, 5003, "2x4", model.Hidden}},
			rack: []foundBoard{
				{579_120, "2x4", []model.Defect{{From: 300_001, To: 301_000, Kind: "sound knot"}}}},
		}},
		{"blanks of one length for two sections, where the simple rules profit from the order " +
			"of the list",
			found{
				kerf: 6372, value: model.Fraction{Num: 0, Den: 1}, handling: 15_318,
				parts: []foundPart{{7, 123_157, "2x6", model.Hidden},
					{1, 131_800, "2x6", model.Show},
					{5, 131_800, "2x4", model.Show}},
				rack: []foundBoard{{145_534, "2x4", nil}},
				yard: []foundOffer{{1_046_260, "2x6", 92_740}, {316_654, "2x4", 257_660},
					{43_948, "2x6", 75_121}},
			}},
	} {
		t.Run(c.name, func(t *testing.T) {
			job := c.job.whole()
			for _, work := range []int64{1, 1e7} {
				ctx, cancel := context.WithCancel(context.Background())
				defer cancel()
				for _, observe := range []func(Event){nil, func(Event) { cancel() }} {
					plan, err := Plan(ctx, job,
						Options{Work: work, Observe: onlyOwnBounds(t, observe)})
					if err != nil {
						t.Fatal(err)
					}
					noWorse(t, job, plan)
				}
			}
		})
	}
}

// found is a job in a few words: fir on the rack and for sale, parts as wide as a section.
type (
	found struct {
		kerf, keep, margin, trim model.Length
		value                    model.Fraction
		handling                 model.Money
		parts                    []foundPart
		rack                     []foundBoard
		yard                     []foundOffer
	}
	foundPart struct {
		qty     int64
		length  model.Length
		section model.Section
		face    model.Face
	}
	foundBoard struct {
		length  model.Length
		section model.Section
		defects []model.Defect
	}
	foundOffer struct {
		length  model.Length
		section model.Section
		price   model.Money
	}
)

func (f *found) whole() *model.Job {
	job := &model.Job{Settings: model.DefaultSettings(),
		Commissions: []model.Commission{{Name: "C"}}}
	set := &job.Settings
	set.CrosscutKerf, set.Margin, set.YardEnd, set.RackEnd, set.Allowance.Length = f.kerf, f.margin,
		f.trim, f.trim, 0
	set.Offcut.KeepLength, set.Offcut.Value, set.Handling = f.keep, f.value, f.handling
	wood := func(section model.Section, length model.Length) model.Wood {
		width := map[model.Section]model.Length{"2x4": 7 * in / 2, "2x6": 11 * in / 2}[section]
		return model.Wood{Material: "fir", Section: section, Length: length, Width: width,
			Thickness: 3 * in / 2}
	}
	for n, p := range f.parts {
		w := wood(p.section, p.length)
		job.Parts = append(job.Parts,
			model.Part{Commission: "C", Name: fmt.Sprint("part ", n), Qty: p.qty,
				Material: w.Material, Length: w.Length,
				Width: w.Width, Thickness: w.Thickness, Face: p.face,
				Where: model.Where{File: "parts.csv", Line: n + 2}})
	}
	for n, b := range f.rack {
		one := model.Board{ID: fmt.Sprint("R", n), Wood: wood(b.section, b.length),
			Where: model.Where{File: "rack.csv", Line: n + 2}}
		for _, d := range b.defects {
			d.Right = one.Width
			one.Defects = append(one.Defects, d)
		}
		job.Rack = append(job.Rack, one)
	}
	for n, o := range f.yard {
		job.Yard = append(job.Yard,
			model.Offer{Wood: wood(o.section, o.length), Price: o.price,
				Where: model.Where{File: "yard.csv", Line: n + 2}})
	}
	return job
}
