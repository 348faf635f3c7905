package planfile

import (
	"bytes"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"rackwright/model"
	"rackwright/model/makeup"
)

// sampleMade is a plan with something in every field of parts that are made up: a top of staves, a
// lid of a cover, a spare leg, and what is left of a job whose plan had made parts up before.
func sampleMade() (*model.Job, *model.Plan) {
	const in = model.UnitsPerInch
	job, plan := sample()
	job.Settings.CountTolerance, job.Settings.Change = 0, 0
	job.Settings.SpareAtMost = 12500
	wide := model.Wood{Material: "cherry", Section: "4/4", Length: 96 * in, Width: 8 * in,
		Thickness: in, Surface: model.S2S}
	job.Yard = append(job.Yard, model.Offer{Wood: wide, Price: 300000,
		Where: model.Where{File: "yard.csv", Line: 3}})
	panel := func(name, material string, wide model.Length, line int) model.Part {
		return model.Part{Commission: "Bed", Name: name, Qty: 2, Material: material,
			Length: 24 * in, Width: wide, Thickness: in, Face: model.Sound, Staves: model.Auto,
			Where: model.Where{File: "parts.csv", Line: line}}
	}
	job.Parts[0].Spare = 2
	top, lid := panel("Top", "oak & ash", 20*in, 3), panel("Lid", "cherry", 14*in, 4)
	top.Staves, top.Spare = 4, 1
	slat := model.Part{Commission: "Bed", Name: "Slat, stave of 2", Qty: 1, Copies: []int64{2},
		Of: 2, Material: "cherry", Length: 24 * in, Width: 4 * in, Thickness: in,
		Where: model.Where{File: "parts.csv", Line: 5},
		Makes: &model.Makes{Part: "Slat", Wanted: 1, Length: 24 * in, Width: 7 * in,
			Thickness: in, InOne: 1, Net: 4 * in, Of: []model.Member{
				{Copies: []int64{1}, Stave: 1, Staves: 2, Layer: 1, Layers: 1},
				{Copies: []int64{1}, Stave: 2, Staves: 2, Layer: 1, Layers: 1}}}}
	job.Parts = append(job.Parts, top, lid, slat)
	made := func(p *model.Part, wide model.Length, staves int64, copies ...int64) model.Made {
		return model.Made{Commission: p.Commission, Part: p.Name, Copies: copies,
			Section: p.Section, Length: p.Length, Width: wide, Thickness: p.Thickness,
			Staves: staves, Layers: 1, InOne: 1}
	}
	plan.Made = []model.Made{made(&job.Parts[0], 2*in, 1, 5), made(&top, 41*in/8, 4, 1, 3),
		made(&lid, 9*in/2, 3, 1, 2)}
	plan.Made[1].Section, plan.Made[1].Net = "2x6", 41*in/8
	plan.Made[2].Section, plan.Made[2].Nets = "4/4", []model.Length{9 * in / 2, 5 * in, 5 * in}
	cert := &plan.Groups[0].Certificate
	cert.Wants = []model.CertWant{
		{Commission: "Bench", Part: "Leg", Demand: 2, Forgo: ptr(int64(12500 << 26)),
			Ways: []model.CertWay{{Item: 0, Pieces: 1, Copies: 1}}},
		{Commission: "Bed", Part: "Lid", Demand: 2, Ways: []model.CertWay{},
			Covers: []model.CertCover{{Need: 58, Layers: 1,
				Staves: []model.CertStave{{Item: 0, Steps: 18}, {Item: 0, Steps: 20}}}}}}
	cert.Root = model.CertNode{Choice: &model.CertChoice{Want: 1, Way: 0, AtMost: 1,
		Low: cert.Root, High: model.CertNode{Duals: []int64{3}}}}
	return makeup.AsMade(makeup.Prepare(job), plan.Made), plan
}

// A plan with parts that are made up is of version 8. It has the job as it was entered, and reads
// back as the job whose parts are those that are cut.
func TestMadeUp(t *testing.T) {
	job, plan := sampleMade()
	if n := len(job.Parts); n != 1+1+1+1+2+1 {
		// legs, spare leg, staves of the top, none of the top, staves of the lid, slat
		t.Errorf("%d parts are cut", n)
	}
	first := written(t, job, plan)
	if !bytes.Contains(first, []byte(`"version": 8`)) {
		t.Error("not of version 8")
	}
	gotJob, gotPlan, err := Read(bytes.NewReader(first))
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(job, gotJob, cmpopts.EquateEmpty()) +
		cmp.Diff(plan, gotPlan, cmpopts.EquateEmpty()); d != "" {
		t.Error(d)
	}
	if second := written(t, gotJob, gotPlan); !bytes.Equal(first, second) {
		t.Error(cmp.Diff(string(first), string(second)))
	}
}

// What no plan can hold of parts that are made up is refused before their pieces are made.
func TestBadMadeUp(t *testing.T) {
	good := string(written(t, ptrTo(sampleMade()), planOf(sampleMade())))
	for _, c := range []struct{ name, old, new, cause string }{
		{"version of none", `"version": 8`, `"version": 6`, "version 8 has parts that are made up"},
		{"version of a revision", `"version": 8`, `"version": 7`, "version 7 has revision"},
		{"copies that fall", `"copies": [1, 3]`, `"copies": [3, 1]`,
			"made 2: copies are not numbers from 1 on that rise"},
		{"copy twice", `"copies": [1, 3]`, `"copies": [1, 1]`, "made 2: copies are not numbers"},
		{"copy 0", `"copies": [1, 3]`, `"copies": [0, 3]`, "made 2: copies are not numbers"},
		{"no copies", `"copies": [1, 3]`, `"copies": []`, "made 2: copies are not numbers"},
		{"copies left away", `"copies": [1, 3], `, ``, "made 2: copies are not numbers"},
		{"copies null", `"copies": [1, 3]`, `"copies": null`, "made 2: copies are not numbers"},
		{"staves 0", `"staves": 4, "layers": 1, "in_one": 1`,
			`"staves": 0, "layers": 1, "in_one": 1`,
			"made 2: staves 0 is not from 1 to 1000"},
		{"staves below 0", `"staves": 4, "layers": 1, "in_one": 1`,
			`"staves": -4, "layers": 1, "in_one": 1`, "made 2: staves -4 is not"},
		{"staves without end", `"staves": 4, "layers": 1, "in_one": 1`,
			`"staves": 4000000000000, "layers": 1, "in_one": 1`,
			"made 2: staves 4000000000000 is not"},
		{"staves left away", `"staves": 4, "layers": 1, "in_one": 1`, `"layers": 1, "in_one": 1`,
			"made 2: staves 0 is not"},
		{"more pieces than any job has", `"staves": 4, "layers": 1, "in_one": 1`,
			`"staves": 1000, "layers": 1000, "in_one": 1`,
			"made: there are more than 12000 pieces"},
		{"layers 0", `"staves": 4, "layers": 1`, `"staves": 4, "layers": 0`,
			"made 2: layers 0 is not from 1 to 1000"},
		{"none in one", `"layers": 1, "in_one": 1`, `"layers": 1, "in_one": 0`,
			"made 1: in_one 0 is not from 1 to 12000"},
		{"in one below 0", `"layers": 1, "in_one": 1`, `"layers": 1, "in_one": -1`,
			"made 1: in_one -1 is not"},
		{"half a stave", `"staves": 4, "layers": 1`, `"staves": 4.5, "layers": 1`,
			"made.staves holds a number 4.5"},
		{"net below 0", `"net": 41656`, `"net": -41656`, "made 2: net -41656 is not from 0 to"},
		{"fewer nets", `"nets": [36576, 40640, 40640]`, `"nets": [36576, 40640]`,
			"made 3: nets are not those of 3 staves"},
		{"no nets", `"nets": [36576, 40640, 40640]`, `"nets": []`, "made 3: nets are not those of"},
		{"nets that fall", `"nets": [36576, 40640, 40640]`, `"nets": [40640, 40640, 36576]`,
			"made 3: net 36576 does not rise from 1 on"},
		{"net 0", `"nets": [36576, `, `"nets": [0, `, "made 3: net 0 does not rise from 1 on"},
		{"unknown field", `"in_one": 1, "net"`, `"in_one": 1, "gross": 1, "net"`,
			`unknown field "gross"`},
		{"field twice", `"in_one": 1, "net"`, `"in_one": 1, "In_one": 1, "net"`,
			`field "In_one" stands twice`},
		{"piece that is made up itself", `"copies": [2],`, `"copies": [2], "spare": 1,`,
			`part "Slat, stave of 2" of "Bed": it is a piece, and is made up itself`},
		{"piece of no part", `"makes": {"part": "Slat"`, `"makes": {"part": ""`,
			"it is a piece, and of no part"},
		{"piece of a part without size", `"wanted": 1, "length": 195072`,
			`"wanted": 1, "length": 0`, "it makes a part with a size of 0"},
		{"less than no copy wanted", `"wanted": 1`, `"wanted": -1`,
			"it is of a part that is wanted -1 times"},
		{"so many in one", `"spare": 2`, `"spare": 2, "in_one": 3`,
			`part "Leg" of "Bench": in_one is 3, and no number is given to a plan`},
		{"pieces of too few copies", `{"copies": [1], "stave": 1, "staves": 2, "layer": 1, ` +
			`"layers": 1}, `, "", "it says of 1 copies what they make; there are 2"},
		{"stave beyond the last", `"stave": 2, "staves": 2`, `"stave": 3, "staves": 2`,
			"it makes something that no piece makes"},
		{"stave 0", `"stave": 2, "staves": 2`, `"stave": 0, "staves": 2`,
			"it makes something that"},
		{"layer beyond the last", `"layer": 1, "layers": 1`, `"layer": 2, "layers": 1`,
			"it makes something that no piece makes"},
		{"piece of no copy", `{"copies": [1], "stave"`, `{"copies": [], "stave"`,
			"it makes something that no piece makes"},
		{"more copies than in one", `{"copies": [1], "stave"`, `{"copies": [1, 2], "stave"`,
			"it makes something that no piece makes"},
		{"way of no item", `{"item": 0, "pieces": 1`, `{"item": 1, "pieces": 1`,
			"want 0: a way is of no item, or its pieces or copies are below 1"},
		{"way of an item below 0", `{"item": 0, "pieces": 1`, `{"item": -1, "pieces": 1`,
			"want 0: a way is of no item"},
		{"way of no pieces", `"pieces": 1, "copies": 1`, `"pieces": 0, "copies": 1`,
			"want 0: a way is of no item, or its pieces"},
		{"way of no copies", `"pieces": 1, "copies": 1`, `"pieces": 1`,
			"want 0: a way is of no item"},
		{"demand below 0", `"demand": 2, "forgo"`, `"demand": -2, "forgo"`,
			"want 0: demand or forgo is below 0"},
		{"forgo below 0", `"forgo": 8`, `"forgo": -8`, "want 0: demand or forgo is below 0"},
		{"cover of no need", `"need": 58`, `"need": 0`,
			"want 1: cover 0 has a need or layers below 1"},
		{"cover without staves", `"staves": [{"item": 0, "steps": 18}, {"item": 0, "steps": 20}]`,
			`"staves": []`, "want 1: cover 0 has a need or layers below 1, or no staves"},
		{"stave of no item", `{"item": 0, "steps": 18}`, `{"item": 9, "steps": 18}`,
			"want 1: a stave of cover 0 is of no item, or its steps are below 1"},
		{"stave of no steps", `{"item": 0, "steps": 18}`, `{"item": 0}`,
			"want 1: a stave of cover 0"},
		{"unknown field in a want", `"demand": 2, "forgo"`, `"demand": 2, "spare": 1, "forgo"`,
			`unknown field "spare"`},
		{"unknown field in a choice", `"choice": {`, `"choice": {"cover": 1, `,
			`unknown field "cover"`},
		{"choice of no kind", `"choice": {`, `"choice": 5, "x": {`, "choice holds a number"},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := strings.Replace(good, c.old, c.new, 1)
			if text == good {
				t.Fatal("nothing was edited")
			}
			j, p, err := Read(strings.NewReader(text))
			if err == nil || j != nil || p != nil || !strings.Contains(err.Error(), c.cause) {
				t.Errorf("got %v", err)
			}
		})
	}
	// ways of parts that are not there, in a job that has none, are refused, too
	job, plan := sample()
	plan.Made = planOf(sampleMade()).Made
	if _, _, err := Read(bytes.NewReader(written(t, job, plan))); err == nil ||
		!strings.Contains(err.Error(), "made stands in version 8 alone") {
		t.Errorf("made without parts that are: %v", err)
	}
}
