package proof

import (
	"slices"
	"strings"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

func TestBoundsAcceptsGlueUpsMadeByHand(t *testing.T) {
	for _, f := range bounds(handmade.Glued()) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
}

// judgeWritten judges a plan as it is read back: its parts are made of what it says itself. What
// would be endless is refused as it is read.
func judgeWritten(_ *model.Job, plan *model.Plan) []model.Finding {
	for _, m := range plan.Made {
		if m.Staves < 1 || m.Layers < 1 || m.InOne < 1 {
			return []model.Finding{{Where: "plan.json", What: "cannot be read"}}
		}
	}
	return judgeAll(handmade.GluedAs(plan))
}

// Whatever single value of a plan with glue-ups is changed, it is refused, whether its parts are
// still those of before or what it says now. Duals may change a little where a leaf proves the same
// or more than others; there is no offcut, so the date may be any and a stock as rough as one
// likes.
func TestNoValueOfAGlueUpIsLeftUnjudged(t *testing.T) {
	const root = ".Groups[0].Certificate.Root"
	for _, judge := range []func(*model.Job, *model.Plan) []model.Finding{judgeAll, judgeWritten} {
		made := 0
		handmade.ChangeEachValue(t, handmade.Glued, judge, func(what, path string) bool {
			if strings.HasPrefix(path, ".Made") || strings.Contains(path, ".Wants") {
				made++
			}
			return path == ".Date" || strings.HasSuffix(path, ".Rough") ||
				strings.HasPrefix(path, root) && strings.Contains(path, ".Duals[") &&
					path != root+".Choice.Low.Split.Low.Duals[1]"
		})
		if made < 150 {
			t.Errorf("only %d values of glue-ups were tried", made)
		}
	}
}

// Each lie about wants and choices is refused.
func TestBoundsRefusesWants(t *testing.T) {
	cert := func(p *model.Plan) *model.Certificate { return &p.Groups[0].Certificate }
	wants := func(p *model.Plan) []model.CertWant { return cert(p).Wants }
	lid := func(p *model.Plan) *model.CertWant { return &p.Groups[1].Certificate.Wants[0] }
	for _, c := range []struct {
		what  string
		spoil func(p *model.Plan)
		want  string
	}{
		{"way missing", func(p *model.Plan) { wants(p)[0].Ways = wants(p)[0].Ways[:2] },
			`want 0: its way 2 is to be 1 for 3 pieces of the blank of 10", show`},
		{"first way missing", func(p *model.Plan) { wants(p)[0].Ways = wants(p)[0].Ways[1:] },
			"want 0: its way 0 is to be 1 for 3 pieces"},
		{"all ways missing", func(p *model.Plan) { wants(p)[0].Ways = nil },
			"want 0: its way 0 is to be 1 for 3 pieces"},
		{"way too many", func(p *model.Plan) {
			wants(p)[0].Ways = append(wants(p)[0].Ways,
				model.CertWay{Item: 2, Pieces: 3, Copies: 1})
		}, "want 0: its way 3 is none that top of Table has"},
		{"ways the other way round", func(p *model.Plan) { slices.Reverse(wants(p)[0].Ways) },
			"want 0: its way 0 is to be 1 for 3 pieces"},
		{"wrong pieces", func(p *model.Plan) { wants(p)[0].Ways[1].Pieces-- },
			"want 0: its way 1 is to be 1 for 2 pieces"},
		{"wrong copies", func(p *model.Plan) { wants(p)[0].Ways[1].Copies++ },
			"want 0: its way 1 is to be 1 for 2 pieces"},
		{"wrong item", func(p *model.Plan) { wants(p)[0].Ways[1].Item = 2 },
			"want 0: its way 1 is to be 1 for 2 pieces"},
		{"no such item", func(p *model.Plan) { wants(p)[0].Ways[1].Item = 3 },
			"want 0: its way 1 is to be 1 for 2 pieces"},
		{"item below 0", func(p *model.Plan) { wants(p)[0].Ways[1].Item = -1 },
			"want 0: its way 1 is to be 1 for 2 pieces"},
		{"cover missing", func(p *model.Plan) { lid(p).Covers = nil },
			"want 0: its cover 0 is to need 10 steps in 1 layers, of staves of 3 to 5 steps"},
		{"cover too many", func(p *model.Plan) {
			v := lid(p).Covers[0]
			v.Need = 9
			lid(p).Covers = append(lid(p).Covers, v)
		}, "want 0: its cover 1 is none that lid of Table has"},
		{"wrong need", func(p *model.Plan) { lid(p).Covers[0].Need++ },
			"its cover 0 is to need 10"},
		{"wrong layers", func(p *model.Plan) { lid(p).Covers[0].Layers++ },
			"its cover 0 is to need"},
		{"stave missing", func(p *model.Plan) {
			lid(p).Covers[0].Staves = lid(p).Covers[0].Staves[:2]
		}, "its cover 0 is to need 10"},
		{"stave twice", func(p *model.Plan) {
			v := &lid(p).Covers[0]
			v.Staves[1] = v.Staves[0]
		}, "its cover 0 is to need 10"},
		{"wrong steps", func(p *model.Plan) { lid(p).Covers[0].Staves[0].Steps-- },
			"its cover 0 is to need 10"},
		{"demand lower", func(p *model.Plan) { wants(p)[2].Demand-- },
			"want 2: 1 spare copies of peg of Table are counted; it is to be 2"},
		{"demand of made copies", func(p *model.Plan) { wants(p)[0].Demand++ },
			"want 0: 2 copies made up of top of Table are counted; it is to be 1"},
		{"forgo", func(p *model.Plan) { *wants(p)[1].Forgo++ },
			"want 1: a spare copy of top of Table may cost 8246337208320 ticks, not 8246337208321"},
		{"spare copies that have to be made", func(p *model.Plan) { wants(p)[1].Forgo = nil },
			"want 1: the copies made up of top of Table are counted already"},
		{"want missing", func(p *model.Plan) { cert(p).Wants = wants(p)[:2] },
			"2 spare copies of peg of Table are counted in no group"},
		{"want of made copies missing", func(p *model.Plan) { cert(p).Wants = wants(p)[1:] },
			"1 copies made up of top of Table are counted in no group"},
		{"wants the other way round", func(p *model.Plan) { slices.Reverse(wants(p)) },
			"want 2: top of Table does not stand in the order of the parts"},
		{"want of a plain part", func(p *model.Plan) { wants(p)[0].Part = "rail" },
			"the job has no copies made up of rail of Table"},
		{"copy made up of a part with spare ones", func(p *model.Plan) { wants(p)[2].Forgo = nil },
			"the job has no copies made up of peg of Table"},
		{"piece counted for itself", func(p *model.Plan) { cert(p).Items[0].Demand += 2 },
			"item 0: 3 blanks of 10\", show, are counted; 1 are cut"},
		{"spare copy counted for itself", func(p *model.Plan) { cert(p).Items[2].Demand++ },
			"item 2: 2 blanks of 5\", show, are counted; 1 are cut"},
		{"choice about no want", func(p *model.Plan) { cert(p).Root.Choice.Want = 3 },
			"a choice is about want 3, which is not there"},
		{"choice about a want below 0", func(p *model.Plan) { cert(p).Root.Choice.Want = -1 },
			"a choice is about want -1"},
		{"choice about no way", func(p *model.Plan) { cert(p).Root.Choice.Way = 3 },
			"a choice is about way 3 of want 0, which is not there"},
		{"choice about a way below 0", func(p *model.Plan) { cert(p).Root.Choice.Way = -1 },
			"a choice is about way -1"},
		{"choice below 0", func(p *model.Plan) { cert(p).Root.Choice.AtMost = -1 },
			"a choice of -1 times way 0 of want 0 leaves one side nothing"},
		{"choice above all", func(p *model.Plan) { cert(p).Root.Choice.AtMost = 2 },
			"a choice of 2 times way 0 of want 0 leaves one side nothing"},
		{"choice outside of one above", func(p *model.Plan) {
			cert(p).Root.Choice.Low.Choice = &model.CertChoice{}
			cert(p).Root.Choice.Low.Split = nil
		}, "a choice of 0 times way 0 of want 0 leaves one side nothing"},
		{"choice with duals", func(p *model.Plan) { cert(p).Root.Duals = []int64{0, 0, 0} },
			"a split has what only a leaf may have"},
		{"choice and split", func(p *model.Plan) {
			cert(p).Root.Split = cert(p).Root.Choice.Low.Split
		}, "is split and is a choice as well"},
		{"empty leaf that has plans", func(p *model.Plan) {
			cert(p).Root.Choice.Low = model.CertNode{}
		}, "has 0 duals for 3 items"},
		{"list where ranges are open", func(p *model.Plan) {
			leaf := &cert(p).Root.Choice.Low.Split.Low
			leaf.List = &model.CertList{CertListNode: model.CertListNode{
				Duals: slices.Clone(leaf.Duals)}}
		}, "has a list, and it is not settled how parts are made"},
		{"claim below what a board gives", func(p *model.Plan) {
			cert(p).Root.Choice.Low.Split.Low.Within = []model.CertWithin{{Stock: 0, Gives: 1}}
		}, "within the demands, not 1 or less"},
		{"choice of all that are wanted", func(p *model.Plan) { cert(p).Root.Choice.AtMost = 1 },
			"a choice of 1 times way 0 of want 0 leaves one side nothing"},
	} {
		plan := handmade.GluedPlan()
		c.spoil(plan)
		if found := bounds(handmade.GluedAs(plan)); !slices.ContainsFunc(found,
			func(f model.Finding) bool { return strings.Contains(f.Where+": "+f.What, c.want) }) {
			t.Errorf("%s: %q, want %q", c.what, found, c.want)
		}
	}
}

// How the lid of the glue-ups is made may be settled by choices, and a leaf then carry a list: by a
// cover it costs 90 at 45 for each of two staves, and by three staves 135. Two staves are one
// board, in a plain program where two blanks are wanted. Ranges that ask for two uses, or for none,
// leave no plans.
func TestBoundsAcceptsALeafThatIsSettled(t *testing.T) {
	ticks := handmade.GluedTicks
	choice := func(way int, atMost int64, low, high model.CertNode) model.CertNode {
		return model.CertNode{Choice: &model.CertChoice{Way: way, AtMost: atMost, Low: low,
			High: high}}
	}
	none, open := model.CertNode{}, model.CertNode{Duals: []int64{ticks(45)}}
	for _, c := range []struct {
		what string
		leaf model.CertNode
		want string
	}{
		{"list", model.CertNode{Duals: []int64{0}, List: &model.CertList{Target: ticks(90),
			CertListNode: model.CertListNode{Duals: []int64{ticks(45)}}}}, ""},
		{"list that proves too little", model.CertNode{Duals: []int64{0}, List: &model.CertList{
			Target: ticks(90), CertListNode: model.CertListNode{Duals: []int64{ticks(44)}}}},
			"the certificate proves 0.0088"},
		{"claim", model.CertNode{Duals: []int64{ticks(45)},
			Within: []model.CertWithin{{Gives: ticks(90)}}}, ""},
		{"claim too low", model.CertNode{Duals: []int64{ticks(45)},
			Within: []model.CertWithin{{Gives: ticks(89)}}},
			"gives 24739011624960 within the demands"},
		{"nothing", none, "has 0 duals for 1 items"},
	} {
		plan := handmade.GluedPlan()
		plan.Groups[1].Certificate.Root = choice(2, 0,
			choice(0, 0, choice(1, 0, none, open), c.leaf), open)
		found := bounds(handmade.GluedAs(plan))
		if c.want == "" && len(found) > 0 || c.want != "" && !slices.ContainsFunc(found,
			func(f model.Finding) bool { return strings.Contains(f.What, c.want) }) {
			t.Errorf("%s: %q, want %q", c.what, found, c.want)
		}
	}
}

// A part that comes about by its ways alone says nothing of what can be ripped: of layers it would
// be, and 2x6 is as thick as it is, so there is no way. Cut as it is, two lie beside each other.
func TestOnlyPiecesThatMayBeCutCountAsRipped(t *testing.T) {
	job := handmade.GluedJob()
	strip := job.Parts[0]
	strip.Name, strip.Width, strip.Layers = "strip", 2*model.UnitsPerInch, 2
	job.Parts = append(job.Parts, strip)
	for _, c := range []struct {
		layers model.Pieces
		ripped bool
	}{{2, false}, {0, true}} {
		job.Parts[4].Layers = c.layers
		if p := NewProver(job); p.rippable[0] != c.ripped || p.rippable[1] || p.rippable[2] {
			t.Errorf("of %d layers: ripped are %v", c.layers, p.rippable)
		}
	}
}
