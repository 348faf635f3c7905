package report

import (
	"bytes"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rackwright/io/internal/madeup"
	"rackwright/model"
)

// flat is a text with plain blanks.
func flat(texts ...string) string {
	return strings.ReplaceAll(strings.Join(texts, " "), model.NoBreakSpace, " ")
}

// What is done at the bench, by hand: 35 + 1/2 in by 7 is 5 1/14, up to 5 1/8 net, 7 x 5 1/8 =
// 35 7/8; four layers of 13/16 lose 1/16 at two faces each, 4 x 11/16 = 2 3/4; shelves of staves of
// 1 1/2, 1 1/2, 3 and 4 1/2 come to 10 1/2; ten plugs from two blanks of six leave two.
func TestHowMade(t *testing.T) {
	job, _ := madeup.Plan(t)
	want := map[string]string{
		"top Copy 1 7 staves": `Joint both edges of each stave straight and square, down to ` +
			`5 1/8" wide. Glue the staves edge to edge: 35 7/8" together. When the glue is ` +
			`cured, bring it to 60" x 35" x 1 1/2": flat faces first, then the width, then the ` +
			`length.`,
		"leg Copies 1-4, spare 1 4 layers": `Bring the layers to 13/16" thick, straighten each ` +
			`face that is glued, and glue them on each other: 2 3/4" together. When the glue is ` +
			`cured, bring it to 28" x 2 3/4" x 2 3/4": flat faces first, then the width, then ` +
			`the length.`,
		"shelf Copies 1-2 4 staves": `Joint both edges of each stave straight and square, down ` +
			`to 1 1/2" (2), 3" (1) and 4 1/2" (1) wide. Glue the staves edge to edge: 10 1/2" ` +
			`together. When the glue is cured, bring it to 20" x 10" x 3/4": flat faces first, ` +
			`then the width, then the length.`,
		"block Copy 1 2 staves in each of 6 layers": `Joint both edges of each stave straight ` +
			`and square, down to 5 1/4" wide. Glue the staves of each layer edge to edge: ` +
			`10 1/2" together. Bring the layers to 13/16" thick, straighten each face that is ` +
			`glued, and glue them on each other: 4 1/8" together. When the glue is cured, bring ` +
			`it to 20" x 10" x 4": flat faces first, then the width, then the length.`,
		"plug Copies 1-10 6 in one blank": `2 blanks, 6 in one each: plane and joint each blank ` +
			`whole. Square one end, set the stop block to 4", and part them one after the other, ` +
			`each held until the blade has stopped. The last piece, and any that is too short to ` +
			`hold, lies in a jig or clamp, never in the hand. That gives 2 more than wanted.`,
	}
	got := map[string]string{}
	list := Assemblies(pointers(job.Parts))
	for n := range list {
		a := &list[n]
		got[a.Piece.Makes.Part+" "+a.Copies()+" "+a.Of()] = flat(HowMade(job, a)...)
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

// A glue-up is cut to length once, when it is glued. Each end of a blank loses 1/2 in; 6 x 4 + 5 x
// 1/8 is 24 5/8, and its blank 1 in longer.
func TestFinalCutsOfMadeUp(t *testing.T) {
	job, _ := madeup.Plan(t)
	type row struct {
		stop, blank, off string
		qty              int64
		part             string
	}
	var got []row
	for _, c := range FinalCuts(job, pointers(job.Parts)) {
		s := job.Settings.Show
		got = append(got, row{flat(s(c.Stop)), flat(s(c.Blank)), flat(s(c.Off)), c.Qty, c.Part})
	}
	want := []row{{`60"`, `61"`, `1"`, 1, "top, glued"}, {`30"`, `31"`, `1"`, 3, "rail"},
		{`30"`, `31"`, `1"`, 2, "rail, spare"}, {`28"`, `29"`, `1"`, 5, "leg, glued"},
		{`20"`, `21"`, `1"`, 2, "shelf, glued"}, {`20"`, `21"`, `1"`, 1, "block, glued"},
		{`4"`, `25 5/8"`, `1"`, 10, "plug, 6 in one"}}
	if d := cmp.Diff(want, got, cmp.AllowUnexported(row{})); d != "" {
		t.Error(d)
	}
}

// The summary counts glue-ups by their pieces, gangs and spare copies; the lists caution.
func TestSummaryOfMadeUp(t *testing.T) {
	job, plan := madeup.Plan(t)
	for _, width := range []int{80, 140} {
		var b bytes.Buffer
		if err := Summary(&b, job, plan, width); err != nil {
			t.Fatal(err)
		}
		text := strings.Join(strings.Fields(b.String()), " ")
		for _, want := range []string{"2 commissions, 6 parts, 21 pieces To pay",
			"Glue-ups: 2 of 4 staves, 1 of 7; 5 of 4 layers; 1 of 2 staves in each of 6 layers.",
			"Several in one blank: 10 parts from 2 blanks.",
			"Spare copies: leg of C-02 table, 1 of 1; rail of C-01 bench, 2 of 2.",
			"Of these costs spare copies are, by their wood: ", " of C-01 bench; ",
			`Gluing (9 glue-ups, the widest 35"): clamp by the label of the glue, and leave it ` +
				"for the cure time that the label names.",
			`Parting (2 blanks into pieces down to 4"): the last piece`} {
			if !strings.Contains(text, want) {
				t.Errorf("%q is not in\n%s", want, &b)
			}
		}
		for line := range strings.SplitSeq(b.String(), "\n") {
			if len([]rune(line)) > width {
				t.Errorf("longer than %d: %s", width, line)
			}
		}
	}
}

// Of a commission with two alike blanks, one a spare copy, and one of three copies, of which one is
// a spare, in a blank twice as long: (1 + 2/3) / 4 of 12.00 is 5.00.
func TestSpareCosts(t *testing.T) {
	member := func(copies ...int64) model.Member {
		return model.Member{Copies: copies, Stave: 1, Staves: 1, Layer: 1, Layers: 1}
	}
	job := &model.Job{Settings: model.DefaultSettings(), Parts: []model.Part{
		{Commission: "C", Name: "leg", Qty: 1},
		{Commission: "C", Name: "leg, spare", Qty: 1, Makes: &model.Makes{Part: "leg", Wanted: 1,
			InOne: 1, Of: []model.Member{member(2)}}},
		{Commission: "C", Name: "plug, 3 in one", Qty: 1, Makes: &model.Makes{Part: "plug",
			Wanted: 2, InOne: 3, Of: []model.Member{member(1, 2, 3)}}}},
		Rack: []model.Board{{ID: "B", Wood: model.Wood{Thickness: inch}}}}
	cut := func(part string, from, to model.Length) model.Cut {
		return model.Cut{Board: "B", Kind: model.KindPart, Commission: "C", Part: part, Copy: 1,
			From: from * inch, To: to * inch, Right: 4 * inch}
	}
	plan := &model.Plan{Cuts: []model.Cut{cut("leg", 0, 10), cut("leg, spare", 10, 20),
		cut("plug, 3 in one", 20, 40)}, Costs: []model.Cost{{Commission: "C", Cost: 120000}}}
	if got := SpareCosts(job, plan); got !=
		"Of these costs spare copies are, by their wood: 5.00 of C." {
		t.Error(got)
	}
	plan.Cuts = plan.Cuts[:1]
	if got := SpareCosts(job, plan); got != "" {
		t.Error(got)
	}
}

// Of a revision only copies count of which a piece is still to be cut, with all of their staves.
func TestAssembliesOfRest(t *testing.T) {
	job, plan := madeup.Plan(t)
	var left []model.Part
	for _, p := range job.Parts {
		if p.Makes == nil || p.Makes.Part != "shelf" {
			continue
		}
		p.Of, p.Copies, p.Qty = p.Qty, []int64{}, 0
		if p.Makes.Net == 3*inch/2 { // of these the fourth is the second of shelf 2
			p.Copies, p.Qty = []int64{4}, 1
		}
		left = append(left, p)
	}
	job.Parts = left
	list := Assemblies(pointers(left))
	if len(list) != 1 {
		t.Fatalf("%+v", list)
	}
	shelf := list[0]
	if shelf.Copies() != "Copy 2" || !strings.Contains(flat(HowMade(job, &shelf)...),
		`10 1/2" together`) {
		t.Errorf("%+v", shelf)
	}
	if text := flat(AllCautions(job, plan)...); !strings.Contains(text,
		`Gluing (1 glue-up, the widest 10")`) {
		t.Error(text)
	}
}

// Without parts that are made up, nothing is said of it.
func TestNothingMadeUp(t *testing.T) {
	job, plan := lengthsPlan()
	if got := MadeUp(job); got != nil {
		t.Error(got)
	}
	if got, want := AllCautions(job, plan), Cautions(job, plan); cmp.Diff(want, got) != "" {
		t.Error(cmp.Diff(want, got))
	}
}

// Short and thin pieces of a glue-up have cautions of their own.
func TestPlaningOfPieces(t *testing.T) {
	job, _ := madeup.Plan(t)
	var leg *model.Part
	for i := range job.Parts {
		if job.Parts[i].Makes != nil && job.Parts[i].Makes.Part == "leg" {
			leg = &job.Parts[i]
		}
	}
	leg.Length, leg.Thickness = 10*inch, inch/4
	text := flat(FinalCautions(job, []*model.Part{leg})...)
	for _, want := range []string{`Planing short pieces (down to 11"): `,
		`Planing thin pieces (down to 1/4"): `, "on a carrier board"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in %s", want, text)
		}
	}
}
