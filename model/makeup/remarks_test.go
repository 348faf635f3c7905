package makeup

import (
	"strings"
	"testing"

	"rackwright/model"
)

// What a maker is told of parts that are made up, by hand:
//
//	2x6     35 + 1/2 by 7 staves is 5 1/8 net; 24 are 1 1/2, narrower ones are not looked at. So
//	        there are 18 ways of 7 to 24. One of 7 costs 7 x 10 x (61 + 1/8) / 96 = 44.5703
//	8/4     rough, 6 wide, 1 1/2 to plane to: a stave of 5 1/2 net has 5 5/8 to saw
//	panel   is 35 1/2 wide before its last trim
func TestRemarks(t *testing.T) {
	const auto = model.Auto
	top := part(60*in, 35*in, 3*in/2)
	fir := model.Wood{Section: "2x6", Length: 96 * in}
	rough := model.Wood{Section: "8/4", Surface: model.Rough, Width: 6 * in, Length: 96 * in}
	flat := model.Wood{Section: "8/4", Surface: model.S2S, Width: 6 * in, Length: 96 * in}
	knots := func(j *model.Job, w model.Wood, kind string) {
		w.Material, w.Thickness, w.Width = "fir", j.Yard[0].Thickness, j.Yard[0].Width
		b := model.Board{ID: "B-1", Wood: w}
		for at := model.Length(5 * in); at < w.Length; at += 10 * in {
			b.Defects = append(b.Defects, model.Defect{From: at, To: at + in, Right: w.Width,
				Kind: kind})
		}
		j.Rack = append(j.Rack, b)
	}
	ways2x6 := `parts.csv:2: staves: top of C-1 can be made up in 18 ways; by area the cheapest ` +
		`is 7 staves of 5 1/8" net from 2x6, for 44.57 USD of wood`
	for _, c := range []struct {
		name   string
		part   model.Part
		staves model.Pieces
		woods  []model.Wood
		change func(j *model.Job)
		want   []string // beginnings
	}{
		{"no machine", top, auto, []model.Wood{fir}, nil, []string{ways2x6}},
		{"one number", top, 7, []model.Wood{fir}, nil, []string{`parts.csv:2: staves: top of C-1 ` +
			`can be made up in one way: 7 staves of 5 1/8" net from 2x6, for 44.57 USD of wood`}},
		{"no way", top, 2, []model.Wood{fir}, nil, nil},
		{"of one piece", part(60*in, 5*in, 3*in/2), 0, []model.Wood{fir}, nil, nil},
		// 10 x (61 + 1/8) / 96 = 6.3671; else 2 staves of 2 3/4 or 3 of 1 7/8
		{"as wide as it comes, too", part(60*in, 5*in, 3*in/2), auto, []model.Wood{fir}, nil,
			[]string{`parts.csv:2: staves: top of C-1 can be made up in 3 ways; by area the ` +
				`cheapest is one piece from 2x6, for 6.37 USD of wood`}},
		{"of the rack alone", top, 7, []model.Wood{fir}, func(j *model.Job) {
			j.Rack, j.Yard = []model.Board{{ID: "B-1", Wood: j.Yard[0].Wood}}, nil
		}, []string{`parts.csv:2: staves: top of C-1 can be made up in one way: 7 staves of ` +
			`5 1/8" net from 2x6; no yard sells the wood`}},
		{"a narrow planer", top, auto, []model.Wood{fir}, func(j *model.Job) {
			j.Settings.Machine.PlanerWidth = 15 * in
		}, []string{ways2x6, `parts.csv:2: width: top of C-1 is 35 1/2" wide when it is glued, ` +
			`the planer takes 15" by [machine] planer_width; glue and plane it in parts no wider`}},
		{"a planer just as wide", top, auto, []model.Wood{fir}, func(j *model.Job) {
			j.Settings.Machine.PlanerWidth = 71 * in / 2
		}, []string{ways2x6}},
		{"a part that may be of one piece", part(60*in, 5*in, 3*in/2), auto, []model.Wood{fir},
			func(j *model.Job) { j.Settings.Machine.PlanerWidth = 2 * in },
			[]string{"parts.csv:2: staves: "}},
		{"a narrow jointer", top, auto, []model.Wood{rough}, func(j *model.Job) {
			j.Settings.Machine.JointerWidth = 5 * in
		}, []string{"parts.csv:2: staves: ", `parts.csv:2: staves: pieces of top of C-1 may be ` +
			`5 5/8" wide from 8/4 rough, the jointer flattens 5" by [machine] jointer_width; ` +
			`set [glue_up] widest to 4 7/8" at most, or flatten them otherwise`}},
		{"a jointer narrower than staves are", top, auto, []model.Wood{rough},
			func(j *model.Job) { j.Settings.Machine.JointerWidth = 3 * in / 2 },
			[]string{"parts.csv:2: staves: ", `parts.csv:2: staves: pieces of top of C-1 may be ` +
				`5 5/8" wide from 8/4 rough, the jointer flattens 1 1/2" by [machine] ` +
				`jointer_width; choose narrower wood, or flatten them otherwise`}},
		{"flat stock", top, auto, []model.Wood{flat}, func(j *model.Job) {
			j.Settings.Machine.JointerWidth = 5 * in
		}, []string{"parts.csv:2: staves: ", `parts.csv:2: staves: pieces of top of C-1 may be ` +
			`5 5/8" wide, more than the jointer flattens: from 8/4 S2S, which comes flat, they ` +
			`need no jointing of their faces, only of their edges`}},
		{"both", top, auto, []model.Wood{rough, flat}, func(j *model.Job) {
			j.Settings.Machine.JointerWidth = 5 * in
		}, []string{"parts.csv:2: staves: ", `parts.csv:2: staves: pieces of top of C-1 may be ` +
			`5 5/8" wide from 8/4 rough, the jointer flattens 5" by [machine] jointer_width; ` +
			`set [glue_up] widest to 4 7/8" at most, or flatten them otherwise; from 8/4 S2S`}},
		{"finished stock", top, auto, []model.Wood{fir}, func(j *model.Job) {
			j.Settings.Machine.JointerWidth = 3 * in
		}, []string{ways2x6}},
		// 14 + 1 in the blank
		{"short pieces", part(14*in, 35*in, 3*in/2), auto, []model.Wood{rough}, func(j *model.Job) {
			j.Settings.Machine.PlanerShortest = 16 * in
		}, []string{"parts.csv:2: staves: ", `parts.csv:2: length: pieces of 15" of top of C-1 ` +
			`are shorter than the 16" of [machine] planer_shortest, and what does not reach`}},
		{"pieces just as long", part(14*in, 35*in, 3*in/2), auto, []model.Wood{rough},
			func(j *model.Job) { j.Settings.Machine.PlanerShortest = 15 * in },
			[]string{"parts.csv:2: staves: "}},
		{"short pieces that are not planed", part(14*in, 35*in, 3*in/2), auto, []model.Wood{fir},
			func(j *model.Job) { j.Settings.Machine.PlanerShortest = 16 * in },
			[]string{"parts.csv:2: staves: "}},
		{"a short part of one piece", part(14*in, 5*in, 3*in/2), 0, []model.Wood{rough},
			func(j *model.Job) { j.Settings.Machine.PlanerShortest = 16 * in },
			[]string{`parts.csv:2: length: pieces of 15" of top of C-1 are shorter than the 16"`}},
		{"a part that is too short anyway", part(10*in, 5*in, 3*in/2), 0, []model.Wood{rough},
			func(j *model.Job) { j.Settings.Machine.PlanerShortest = 16 * in }, nil},
		// of 4 in: 3 x 4 + 2 / 8 and 1 are 13 1/4, the first of 12 and more; 5 x 4 + 4 / 8 and 1
		// are 21 1/2, so all 5 cost 10 x (21 1/2 + 1/8) / 96
		{"several in one", part(4*in, 3*in, 3*in/4), 0, []model.Wood{{Section: "1x4",
			Length: 96 * in}}, func(j *model.Job) { j.Parts[0].Qty = 5; MarkShort(j) },
			[]string{`parts.csv:2: length: top of C-1 is too short to be cut alone, so several ` +
				`come out of one blank, in 3 ways; by area the cheapest is 5 in one blank from ` +
				`1x4, for 2.25 USD of wood`}},
		{"several in one, and a long planer", part(4*in, 3*in, 3*in/4), 0, []model.Wood{{
			Section: "4/4", Surface: model.Rough, Width: 4 * in, Length: 96 * in}},
			func(j *model.Job) {
				j.Parts[0].Qty, j.Settings.Machine.PlanerShortest = 5, 22*in
				MarkShort(j)
			}, []string{`parts.csv:2: length: top of C-1 is too short`,
				`parts.csv:2: length: pieces of 21 1/2" of top of C-1 are shorter than the 22"`}},
		{"several in one, and a planer", part(4*in, 3*in, 3*in/4), 0, []model.Wood{{
			Section: "4/4", Surface: model.Rough, Width: 4 * in, Length: 96 * in}},
			func(j *model.Job) {
				j.Parts[0].Qty, j.Settings.Machine.PlanerShortest = 5, 20*in
				MarkShort(j)
			}, []string{`parts.csv:2: length: top of C-1 is too short`}},
		{"only knots on hand", top, auto, []model.Wood{fir}, func(j *model.Job) {
			knots(j, fir, "knot")
		}, []string{ways2x6, `parts.csv:2: face: the pieces of top of C-1 are bought: no board ` +
			`on the rack has a clear run that is long enough for its show face, though B-1 is ` +
			`large enough`}},
		{"only sound knots on hand", top, auto, []model.Wood{fir}, func(j *model.Job) {
			knots(j, fir, "sound knot")
		}, []string{ways2x6, `parts.csv:2: face: the pieces of top of C-1 are bought: no board ` +
			`on the rack has a clear run that is long enough for its show face, though B-1 is ` +
			`large enough; for a sound face B-1 would do`}},
		{"a clear one, too", top, auto, []model.Wood{fir}, func(j *model.Job) {
			knots(j, fir, "knot")
			j.Rack = append(j.Rack, model.Board{ID: "B-2", Wood: j.Yard[0].Wood})
		}, []string{ways2x6}},
		{"knots, and too short as well", top, auto, []model.Wood{fir}, func(j *model.Job) {
			short := fir
			short.Length = 50 * in
			knots(j, short, "knot")
		}, []string{ways2x6}},
	} {
		j := shop(model.Inch, c.part, c.woods...)
		p := &j.Parts[0]
		p.Staves, p.Where = c.staves, model.Where{File: "parts.csv", Line: 2}
		if c.change != nil {
			c.change(j)
		}
		r := RemarksOn(j)
		var got []string
		for _, lines := range [][]string{r.Ways, r.Machines, r.Knotty} {
			got = append(got, lines...)
		}
		if len(got) != len(c.want) {
			t.Errorf("%s: %q", c.name, got)
			continue
		}
		for n, want := range c.want {
			if !strings.HasPrefix(visible(got[n]), want) {
				t.Errorf("%s: %q\nwant %q", c.name, got[n], want)
			}
		}
	}
}
