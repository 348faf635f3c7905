package check

import (
	"slices"
	"strings"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
	"rackwright/model/makeup"
)

func TestCheckAcceptsGlueUpsMadeByHand(t *testing.T) {
	for _, f := range checked(handmade.Glued()) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
}

// Each lie about how parts are made up is refused, with the parts that it asks for.
func TestCheckRefusesGlueUps(t *testing.T) {
	const in = model.UnitsPerInch
	const top, peg, lid = 0, 1, 2
	for _, c := range []struct {
		what  string
		spoil func(p *model.Plan)
		want  string
	}{
		{"no such part", func(p *model.Plan) { p.Made[top].Part = "roof" },
			`made 1: the job has no part "roof" of "Table"`},
		{"plain part", func(p *model.Plan) { p.Made[top].Part = "rail" },
			"made 1: rail of Table is of one piece, as parts.csv has it, and has no spare copies"},
		{"order", func(p *model.Plan) { slices.Reverse(p.Made) },
			"made 2: peg of Table does not stand in the order of the parts"},
		{"order of copies", func(p *model.Plan) {
			other := p.Made[top]
			other.Copies, p.Made[top].Copies = []int64{1}, []int64{2}
			p.Made = slices.Insert(p.Made, 1, other)
		}, "made 2: begins with copy 1 of top of Table and stands after copy 2; ways stand in the " +
			"order of their first copies"},
		{"no copies", func(p *model.Plan) { p.Made[top].Copies = nil },
			"made 1: names no copy of top of Table"},
		{"copy 0", func(p *model.Plan) { p.Made[top].Copies = []int64{0} },
			"copy 0 of top of Table stands after copy 0"},
		{"copies that fall", func(p *model.Plan) { p.Made[top].Copies = []int64{2, 1} },
			"copy 1 of top of Table stands after copy 2; numbers are to rise"},
		{"copy twice in one way", func(p *model.Plan) { p.Made[top].Copies = []int64{1, 1} },
			"copy 1 of top of Table stands after copy 1"},
		{"copy twice", func(p *model.Plan) { p.Made = slices.Insert(p.Made, 1, p.Made[top]) },
			"made 2: names copy 1 of top of Table once more"},
		{"spare beyond", func(p *model.Plan) { p.Made[top].Copies = []int64{1, 3} },
			"copy 3 of top of Table, which is neither wanted nor one of the 1 that may be spare"},
		{"spare peg beyond", func(p *model.Plan) { p.Made[peg].Copies = []int64{2, 3, 4} },
			"copy 4 of peg of Table, which is neither wanted nor one of the 2 that may be spare"},
		{"gap between spares", func(p *model.Plan) { p.Made[peg].Copies = []int64{3} },
			"has spare copy 3 of peg of Table and none of number 2"},
		{"wanted peg", func(p *model.Plan) { p.Made[peg].Copies = []int64{1} },
			"copy 1 of peg of Table, which is cut as it is; only spare copies stand here"},
		{"section", func(p *model.Plan) { p.Made[top].Section = "2x6" },
			"top of Table cannot be made like this: no way to make it is of 2 staves in 1 layers, " +
				"1 copies in one, of pieces 10\" by 6\" by 1\u00a01/2\" of section \"2x6\""},
		{"length", func(p *model.Plan) { p.Made[top].Length++ }, "cannot be made like this"},
		{"width", func(p *model.Plan) { p.Made[top].Width-- }, "cannot be made like this"},
		{"thickness", func(p *model.Plan) { p.Made[top].Thickness++ }, "cannot be made like this"},
		{"staves", func(p *model.Plan) { p.Made[top].Staves = 3 }, "is of 3 staves in 1 layers"},
		{"layers", func(p *model.Plan) { p.Made[top].Layers = 2 }, "is of 2 staves in 2 layers"},
		{"net", func(p *model.Plan) { p.Made[top].Net-- }, "cannot be made like this"},
		{"several in one", func(p *model.Plan) { p.Made[top].InOne = 2 }, "2 copies in one"},
		{"in one piece", func(p *model.Plan) {
			p.Made[top].Staves, p.Made[top].Width, p.Made[top].Net = 1, 12*in, 0
		}, "is of 1 staves in 1 layers"},
		{"nets of a way", func(p *model.Plan) { p.Made[top].Nets = []model.Length{6 * in, 6 * in} },
			"cannot be made like this"},
		{"cover too narrow", func(p *model.Plan) {
			m := &p.Made[lid]
			m.Nets, m.Width = []model.Length{4 * in, 5 * in}, 4*in
		}, `its staves come to 9", and 10" are needed`},
		{"cover of one stave", func(p *model.Plan) { p.Made[lid].Nets = p.Made[lid].Nets[:1] },
			"it is of 1 staves, where 2 to 4 make it"},
		{"cover of five", func(p *model.Plan) {
			m := &p.Made[lid]
			m.Nets, m.Width, m.Staves = slices.Repeat([]model.Length{3 * in}, 5), 3*in, 5
		}, "it is of 5 staves, where 2 to 4 make it"},
		{"cover without nets", func(p *model.Plan) { p.Made[lid].Nets = []model.Length{} },
			"it is of 0 staves"},
		{"stave off the steps", func(p *model.Plan) { p.Made[lid].Nets[0] = 9 * in / 2 },
			"no stave is 4\u00a01/2\" wide; they are 3\" to 5\", in steps of 1\""},
		{"stave too wide", func(p *model.Plan) { p.Made[lid].Nets[1] = 6 * in },
			`no stave is 6" wide`},
		{"stave too narrow", func(p *model.Plan) { p.Made[lid].Nets[0] = 2 * in },
			`no stave is 2" wide`},
		{"staves that fall", func(p *model.Plan) {
			m := &p.Made[lid]
			m.Nets, m.Width, m.Staves = []model.Length{4 * in, 3 * in, 3 * in}, 4*in, 3
		}, `a stave of 3" stands after one of 4"`},
		{"number of a cover", func(p *model.Plan) { p.Made[lid].Staves = 3 },
			"its 3 staves in 1 layers are to be 2 in 1"},
		{"layers of a cover", func(p *model.Plan) { p.Made[lid].Layers = 2 },
			"its 2 staves in 2 layers are to be 2 in 1"},
		{"width of a cover", func(p *model.Plan) { p.Made[lid].Width = 4 * in },
			`the narrowest entered as 5" wide, not 4"`},
		{"copies of a cover in one", func(p *model.Plan) { p.Made[lid].InOne = 2 },
			"cannot be made like this"},
		{"section of a cover", func(p *model.Plan) { p.Made[lid].Section = "5/4" },
			"cannot be made like this"},
		{"another cover", func(p *model.Plan) {
			m := &p.Made[lid]
			m.Nets, m.Width, m.Staves = []model.Length{3 * in, 3 * in, 4 * in}, 3*in, 3
		}, `the job has no part "lid, stave 5\"" of "Table"`},
		{"nothing made of a part", func(p *model.Plan) { p.Made = p.Made[1:] },
			"1 of 1 copies of top of Table are neither cut nor short"},
		{"spare copy that is not cut", func(p *model.Plan) { p.Made[peg].Copies = []int64{2, 3} },
			"1 of 2 copies of peg, spare of Table are neither cut nor short"},
		{"piece short", func(p *model.Plan) {
			p.Cuts = slices.Delete(slices.Clone(p.Cuts), 4, 5)
			p.Shortages = []model.Shortage{{Commission: "Table", Part: "top, stave of 2",
				Copies: []int64{2}, Reason: model.NotEnough}}
		}, "top, stave of 2 of Table is a piece of a part; a copy that cannot be made is short " +
			"as a whole"},
		{"made, and short", func(p *model.Plan) {
			p.Shortages = []model.Shortage{{Commission: "Table", Part: "top", Copies: []int64{1},
				Reason: model.NotEnough}}
		}, `the job has no part "top" of "Table"`},
	} {
		plan := handmade.GluedPlan()
		c.spoil(plan)
		if found := checked(handmade.GluedAs(plan)); !slices.ContainsFunc(found,
			func(f model.Finding) bool { return strings.Contains(f.Where+": "+f.What, c.want) }) {
			t.Errorf("%s: %q, want %q", c.what, found, c.want)
		}
	}
}

// The parts that are judged are those that the plan asks for, valued with all that they may be of.
func TestCheckJudgesThePartsThatAreMade(t *testing.T) {
	for _, c := range []struct {
		what  string
		spoil func(j *model.Job, p *model.Plan)
		want  string
	}{
		{"job as entered", func(j *model.Job, p *model.Plan) { *j = *handmade.GluedJob() },
			"made: top of Table may be made up, and nothing says how it is"},
		{"ways of a job that has none", func(j *model.Job, p *model.Plan) { j.Entered = nil },
			"made: says how parts are made up, and the job has none that are"},
		{"other way", func(j *model.Job, p *model.Plan) {
			choice := makeup.ChoiceOf(j.Entered, &j.Entered.Parts[1])
			p.Made[0] = choice.Ways[0].MadeOf([]int64{1})
		}, "the parts that are cut are not the pieces of these ways"},
		{"piece of another width", func(j *model.Job, p *model.Plan) { j.Parts[1].Width-- },
			"the parts that are cut are not the pieces"},
		{"piece of another copy", func(j *model.Job, p *model.Plan) {
			j.Parts[1].Makes.Of[0].Stave = 2
		}, "the parts that are cut are not the pieces"},
		{"not valued by all pieces", func(j *model.Job, p *model.Plan) {
			j.Entered.Pieces = j.Entered.Pieces[1:]
		}, "the job is not valued by all pieces that its parts may be of"},
		{"other boards", func(j *model.Job, p *model.Plan) {
			j.Yard = slices.Clone(j.Yard)
			j.Yard[1].Price--
		}, "the boards or the settings are not those of the job as entered"},
		{"other settings", func(j *model.Job, p *model.Plan) { j.Settings.Handling++ },
			"the boards or the settings are not those of the job as entered"},
	} {
		job, plan := handmade.Glued()
		c.spoil(job, plan)
		if found := checked(job, plan); !slices.ContainsFunc(found, func(f model.Finding) bool {
			return strings.Contains(f.Where+": "+f.What, c.want)
		}) {
			t.Errorf("%s: %q, want %q", c.what, found, c.want)
		}
	}
}

// A copy of a part that may be glued up is cut in one piece where the plan has it so, and nowhere
// else: here a lid of 6 in, as wide as its board.
func TestGluedUpPartsInOnePiece(t *testing.T) {
	const in = model.UnitsPerInch
	job, plan := handmade.GluedJob(), handmade.GluedPlan()
	job.Parts[3].Width = 6 * in
	one := model.Made{Commission: "Table", Part: "lid", Copies: []int64{1}, Section: "4/4",
		Length: 10 * in, Width: 6 * in, Thickness: in, Staves: 1, Layers: 1, InOne: 1}
	cut := plan.Cuts[5]
	cut.Part = "lid"
	short := []model.Shortage{{Commission: "Table", Part: "lid", Copies: []int64{1},
		Reason: model.NotEnough}}
	for _, c := range []struct {
		what      string
		made, cut bool
		short     []model.Shortage
		want      string
	}{
		{"made and cut", true, true, nil, ""},
		{"short", false, false, short, ""},
		{"cut and not made", false, true, nil, "cuts.csv: board B3: gives copy 1 of lid of Table " +
			"in one piece; plan.json does not have it made so"},
		{"made and short", true, false, short,
			"plan.json: shortage 1: names copy 1 of lid of Table, which is made in one piece"},
	} {
		p := *plan
		if p.Made, p.Cuts = plan.Made[:2:2], plan.Cuts[:5:5]; c.made {
			p.Made = append(p.Made, one)
		}
		if p.Shortages = c.short; c.cut {
			waste := cut
			waste.Kind, waste.From, waste.To = model.KindWaste, 10*in, 20*in
			waste.Commission, waste.Part, waste.Copy = "", "", 0
			p.Cuts = append(p.Cuts, cut, waste)
		}
		ck := newChecker(makeup.AsMade(makeup.Prepare(job), p.Made), &p)
		ck.readBoards()
		ck.copies()
		ck.made()
		if got := ck.found; c.want == "" && len(got) > 0 || c.want != "" && (len(got) != 1 ||
			got[0].Where+": "+got[0].What != c.want) {
			t.Errorf("%s: %q, want %q", c.what, got, c.want)
		}
	}
}

// Blanks of several copies are of wanted ones or of spare ones, and of one way only the last has
// fewer: a way that stands twice would leave two such.
func TestGangsOfCopies(t *testing.T) {
	p := &model.Part{Commission: "Box", Name: "plug", Qty: 7, Spare: 4, Staves: 1}
	name := partName{"Box", "plug"}
	gang := func(length model.Length, copies ...int64) *model.Made {
		return &model.Made{Commission: "Box", Part: "plug", Copies: copies, Length: length,
			Staves: 1, Layers: 1, InOne: 3}
	}
	for _, c := range []struct {
		what string
		made []*model.Made
		want string
	}{
		{"two ways", []*model.Made{gang(9, 1, 2, 3, 4), gang(12, 5, 6, 7), gang(9, 8, 9)}, ""},
		{"way twice", []*model.Made{gang(9, 1, 2), gang(9, 3, 4, 5, 6, 7)},
			"has plug of Box made in a way that stood before"},
		{"wanted and spare", []*model.Made{gang(9, 6, 7, 8)},
			"has wanted and spare copies of plug of Box in one blank"},
	} {
		m := &maker{checker: newChecker(&model.Job{}, &model.Plan{}),
			had: map[partName]map[int64]bool{name: {}}, one: map[partName]map[int64]bool{name: {}},
			gangs: map[string]bool{}}
		for _, made := range c.made {
			m.numbers("made", p, made)
		}
		if got := m.found; c.want == "" && len(got) > 0 || c.want != "" && (len(got) != 1 ||
			got[0].What != c.want) {
			t.Errorf("%s: %q, want %q", c.what, got, c.want)
		}
	}
}
