package makeup

import (
	"testing"

	"rackwright/model"
)

const (
	in = model.UnitsPerInch
	mm = model.UnitsPerMillimetre
)

// shop is a job of one part, with wood for sale at one board for 10 each.
func shop(u model.Unit, p model.Part, woods ...model.Wood) *model.Job {
	j := &model.Job{Settings: model.DefaultSettingsIn(u)}
	p.Commission, p.Name, p.Material, p.Qty = "C-1", "top", "fir", max(1, p.Qty)
	j.Parts = []model.Part{p}
	for _, w := range woods {
		w.Material = "fir"
		if w.Surface == "" {
			w.Surface = j.Settings.SurfaceFor("fir", w.Section)
		}
		thick, wide := w.Section.Actual(j.Settings.ConditionFor("fir", w.Section))
		if w.Thickness == 0 {
			w.Thickness = thick
		}
		if w.Width == 0 {
			w.Width = wide
		}
		j.Yard = append(j.Yard, model.Offer{Wood: w, Price: 10 * model.UnitsOfMoney})
	}
	return j
}

func TestTry(t *testing.T) {
	show := func(j *model.Job) {
		u := j.Settings.Units
		for _, w := range GlueUps(j, &j.Parts[0]) {
			t.Log(w.Advice(j.Parts[0].Qty, u), w.Price.Cost, w.Price.Beside)
		}
		for _, w := range Gangs(j, &j.Parts[0]) {
			t.Log(w.Advice(j.Parts[0].Qty, u), w.Price.Cost, w.Price.Beside)
		}
		for _, c := range Covers(j, &j.Parts[0]) {
			t.Log(WoodOf(&c.Wood), c.Fewest, c.Most, c.Staves[0].Net.Exact(u), c.Staves[len(c.Staves)-1].Net.Exact(u), c.Price.Cost)
		}
		t.Log()
	}
	show(shop(model.Inch, model.Part{Length: 60 * in, Width: 35 * in, Thickness: 3 * in / 2}, model.Wood{Section: "2x6", Length: 96 * in}, model.Wood{Section: "2x8", Length: 96 * in}))
	show(shop(model.Inch, model.Part{Length: 30 * in, Width: 11 * in / 4, Thickness: 11 * in / 4},
		model.Wood{Section: "8/4", Length: 96 * in, Width: 6 * in}, model.Wood{Section: "8/4", Length: 96 * in, Width: 6 * in, Surface: "S2S", Thickness: 7 * in / 4},
		model.Wood{Section: "2x4", Length: 96 * in}, model.Wood{Section: "4/4", Length: 96 * in, Width: 6 * in}))
	show(shop(model.Inch, model.Part{Length: 30 * in, Width: 10 * in, Thickness: 4 * in},
		model.Wood{Section: "8/4", Length: 96 * in, Width: 6 * in}))
	show(shop(model.Inch, model.Part{Length: 4 * in, Width: 3 * in, Thickness: 3 * in / 4, Qty: 10},
		model.Wood{Section: "1x4", Length: 96 * in}))
	show(shop(model.Millimetre, model.Part{Length: 1500 * mm, Width: 890 * mm, Thickness: 38 * mm}, model.Wood{Section: "38x140mm", Length: 2400 * mm}))
}
