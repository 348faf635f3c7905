package makeup

import (
	"math/rand/v2"
	"testing"

	"rackwright/model"
)

// What stands in the way of making up a part, and what to write in its row. All by hand.
func TestHindrance(t *testing.T) {
	const auto = model.Auto
	fir2x6 := model.Wood{Section: "2x6", Length: 96 * in}
	top := part(60*in, 35*in, 3*in/2)
	leg := part(28*in, 3*in, 11*in/4)
	for _, c := range []struct {
		name           string
		part           model.Part
		staves, layers model.Pieces
		woods          []model.Wood
		change         func(j *model.Job)
		why, auto      string
	}{
		// 35 + 1/2 by 7 is 5.07, 5 1/8 in sixteenths; 2x6 gives 5 1/2 - 2/8 = 5 1/4
		{"empty cells", top, 0, 0, []model.Wood{fir2x6}, nil, "",
			`staves: 7 staves of 5 1/8" net from 2x6`},
		{"seven do", top, 7, 0, []model.Wood{fir2x6}, nil, "", ""},
		{"2 staves", top, 2, 0, []model.Wood{fir2x6}, nil, // 35 1/2 / 2
			`2 staves are 17 3/4" net each, and [glue_up] widest allows 5 1/2"`,
			`staves: 7 staves of 5 1/8" net from 2x6`},
		{"7 staves of 5 in at most", top, 7, 0, []model.Wood{fir2x6},
			func(j *model.Job) { j.Settings.GlueUp.Widest = 5 * in },
			`7 staves are 5 1/8" net each, and [glue_up] widest allows 5"`,
			`staves: 15 staves of 2 3/8" net from 2x6`},
		{"7 staves for 37 in", top, 7, 0, []model.Wood{fir2x6}, // 37 / 7 = 5.29
			func(j *model.Job) { j.Settings.GlueUp.Panel = 2 * in },
			`7 staves are 5 5/16" net each, and 2x6 gives 5 1/4"`,
			`staves: 15 staves of 2 1/2" net from 2x6`},
		{"25 staves", top, 25, 0, []model.Wood{fir2x6}, nil, // 1.42; 24 are just 1 1/2
			`25 staves are 1 7/16" net each, and [glue_up] narrowest asks for 1 1/2"`,
			`staves: 7 staves of 5 1/8" net from 2x6`},
		{"120 staves, of which 107 are looked at", top, 120, 0, []model.Wood{fir2x6},
			func(j *model.Job) { j.Settings.GlueUp.Narrowest = in / 8 }, // first 7, and 100 of them
			`no more than 106 staves from 2x6 are looked at`,
			`staves: 7 staves of 5 1/8" net from 2x6`},
		// 7 x 1,715 is just above 12,000
		{"too many pieces", top, auto, 0, []model.Wood{fir2x6},
			func(j *model.Job) { j.Parts[0].Qty = 1715 },
			`7 staves from 2x6 would come to more than 12000 pieces in all`, ""},
		{"too many layers", leg, 0, auto, []model.Wood{fir2x6},
			func(j *model.Job) { j.Parts[0].Qty, j.Parts[0].Spare = 3901, 100 },
			`3 layers from 2x6 would come to more than 12000 pieces in all`, ""},
		{"not quite too many", leg, 0, auto, []model.Wood{fir2x6},
			func(j *model.Job) { j.Parts[0].Qty, j.Parts[0].Spare = 3900, 100 }, "", ""},
		{"more than a thousand staves", part(60*in, 1600*in, 3*in/2), auto, 0,
			[]model.Wood{{Section: "2x4", Width: 15 * in / 8, Length: 96 * in}},
			func(j *model.Job) {
				j.Settings.GlueUp.Narrowest = in / 2
				j.Settings.GlueUp.Widest = 3 * in / 2
			}, `no more than 1000 staves from 2x4 are looked at`, ""},
		{"between 5 1/5 and 5 1/4", top, auto, 0, []model.Wood{fir2x6}, // 6 are 5.92 each
			func(j *model.Job) { j.Settings.GlueUp.Narrowest = 333 * in / 64 },
			`7 staves are 5 1/8" net each, and [glue_up] narrowest asks for 5 13/64"; fewer ` +
				`are wider, and [glue_up] widest allows 5 1/2"`, ""},
		{"no sixteenth between", top, 7, 0, []model.Wood{fir2x6}, // 5.0714 is less than 325/64
			func(j *model.Job) {
				j.Settings.GlueUp.Narrowest, j.Settings.GlueUp.Widest = 325*in/64, 326*in/64
			}, `7 staves are 5 1/8" net each, and [glue_up] narrowest and widest leave nothing ` +
				`of that`, ""},
		{"too narrow at all", top, auto, 0, []model.Wood{{Section: "1x2", Width: in / 4,
			Thickness: 3 * in / 2, Length: 96 * in}}, nil, `1x2 is too narrow for staves`, ""},
		{"too long", part(100*in, 35*in, 3*in/2), auto, 0, []model.Wood{fir2x6}, nil,
			`for 7 staves of 5 1/8" net from 2x6: no board is long enough`, ""},
		{"too long, of one", part(100*in, 5*in, 3*in/2), auto, 0, []model.Wood{fir2x6}, nil,
			`for one piece from 2x6: no board is long enough`, ""},

		// 1 1/2 - 3/16 - 2/16 is 1 3/16, three times more than 2 3/4; two are 2 x (1 1/2 - 1/16) =
		// 2 7/8, with less than 3/16 to plane off
		{"empty layers", leg, 0, 0, []model.Wood{fir2x6}, nil, "", `layers: 3 layers from 2x6`},
		{"staves, and too thick", leg, auto, 0, []model.Wood{fir2x6}, nil,
			`it takes 3 layers from 2x6, and layers is empty`, `layers: 3 layers from 2x6`},
		{"2 layers", leg, 0, 2, []model.Wood{fir2x6}, nil,
			`it takes 3 layers from 2x6, not 2`, `layers: 3 layers from 2x6`},
		{"3 layers", leg, 0, 3, []model.Wood{fir2x6}, nil, "", ""},
		{"one is enough", part(28*in, 3*in, 3*in/2), 0, 2, []model.Wood{fir2x6}, nil,
			`it takes one layer from 2x6, not 2`, `layers: one piece from 2x6`},
		{"wide and thick", part(28*in, 10*in, 11*in/4), 0, 0, []model.Wood{fir2x6}, nil, "",
			`staves and layers: 3 layers of 2 staves of 5 1/4" net from 2x6`},
		{"3 layers of a wide one", part(28*in, 10*in, 11*in/4), 0, 3, []model.Wood{fir2x6}, nil,
			`for 3 layers from 2x6: no board is wide enough`,
			`staves: 3 layers of 2 staves of 5 1/4" net from 2x6`},
		// half of 3 1/4 and 1/16 is 1 11/16, with 3/16 to plane 1 7/8: 1 1/8 more than that
		{"too thick stock", part(28*in, 3*in, 13*in/4), 0, auto, []model.Wood{{Section: "12/4",
			Surface: model.Rough, Width: 6 * in, Length: 96 * in}}, nil,
			`for 2 layers of 1 11/16" from 12/4 rough, 3" thick, more is planed away than ` +
				`[allowance] plane_limit, 1/2"`, ""},
		{"thin stock", leg, 0, auto, []model.Wood{{Section: "1x4", Thickness: in / 8,
			Length: 96 * in}}, nil, "1x4 is too thin for layers", ""},

		{"no wood", top, auto, 0, nil, nil, model.OtherMaterial, ""},
		{"no 2x8", model.Part{Length: 60 * in, Width: 35 * in, Thickness: 3 * in / 2,
			Section: "2x8"}, auto, 0, []model.Wood{fir2x6}, nil, model.OtherSection, ""},
		{"nearest is what is long enough", top, 2, 0, []model.Wood{
			{Section: "1x6", Length: 96 * in}, fir2x6, {Section: "1x4", Length: 96 * in}}, nil,
			`2 staves are 17 3/4" net each, and [glue_up] widest allows 5 1/2"`,
			`staves: 7 staves of 5 1/8" net from 2x6`},
		{"from a board of its own", part(60*in, 35*in, 3*in/2), auto, 0, []model.Wood{fir2x6},
			func(j *model.Job) {
				j.Rack = []model.Board{{ID: "B-1", Wood: j.Yard[0].Wood}, {ID: "B-2",
					Wood: j.Yard[0].Wood}}
				j.Rack[1].Length, j.Parts[0].Board = 50*in, "B-2"
			}, `for 7 staves of 5 1/8" net from 2x6: no board is long enough`, ""},
	} {
		j := shop(model.Inch, c.part, c.woods...)
		p := &j.Parts[0]
		if p.Staves, p.Layers = c.staves, c.layers; c.change != nil {
			c.change(j)
		}
		why, help := Hindrance(j, p)
		if why = visible(why); why != c.why || (why == "") != (help == "") {
			t.Errorf("%s: %q\nwant %q", c.name, why, c.why)
		}
		want := c.auto
		if want != "" {
			want = "write auto in " + want + " would make it"
		}
		if c.why != "" || c.staves == 0 && c.layers == 0 {
			if got := visible(Advise(j, p)); got != want {
				t.Errorf("%s: %q\nwant %q", c.name, got, want)
			}
		}
	}
}

// Something stands in the way where no way is left, and only there.
func TestHindranceOfRandomParts(t *testing.T) {
	r, met := rand.New(rand.NewPCG(8, 1)), map[bool]int{}
	for n := range 3000 {
		j := trial(r)
		p, w := &j.Parts[0], &j.Yard[0].Wood
		some := func(fewest int64) model.Pieces {
			return []model.Pieces{0, 0, model.Auto, 2, model.Pieces(fewest),
				model.Pieces(1 + r.IntN(12))}[r.IntN(6)]
		}
		p.Staves, p.Layers = some(int64(p.Width/5/in)+1), some(fewestLayers(j, w))
		if p.Staves == 0 && p.Layers == 0 {
			continue
		}
		may := func(cell model.Pieces, n int64) bool { // by the words of the manual
			return cell == model.Auto || int64(cell) == n || cell == 0 && n == 1
		}
		layers, staves := waysOf(j, w)
		any := false
		for _, n := range staves {
			any = any || may(p.Staves, n) && may(p.Layers, layers)
		}
		if may(p.Staves, 1) && may(p.Layers, 1) {
			q := *p
			ok, _ := j.Holds(&q, &model.Board{Wood: *w}, model.FromYard)
			any = any || ok
		}
		if p.Staves == model.Auto && may(p.Layers, layers) {
			any = any || len(Covers(j, p)) > 0
		}
		why, _ := Hindrance(j, p)
		if met[any]++; (why == "") != any {
			t.Fatalf("job %d: %d staves, %d layers of %+v from %+v: there is a way: %v; %q", n,
				p.Staves, p.Layers, p, w, any, why)
		}
	}
	if met[true] < 300 || met[false] < 300 {
		t.Error(met)
	}
}
