package makeup

import (
	"slices"
	"strings"
	"testing"

	"rackwright/model"
)

const (
	in = model.UnitsPerInch
	mm = model.UnitsPerMillimetre
)

// shop is a job of one part, with wood for sale at 10 a board, each of as it comes where it has no
// sizes of its own.
func shop(u model.Unit, p model.Part, woods ...model.Wood) *model.Job {
	j := &model.Job{Settings: model.DefaultSettingsIn(u)}
	p.Commission, p.Name, p.Material, p.Qty = "C-1", "top", "fir", max(1, p.Qty)
	j.Parts = []model.Part{p}
	for _, w := range woods {
		w.Material = "fir"
		if w.Surface == "" {
			w.Surface = j.Settings.SurfaceFor("fir", w.Section)
		}
		thick, wide := w.Section.Actual(model.Condition{Seasoning: model.Dry, Surface: w.Surface})
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

// visible puts plain blanks in a text of lengths.
func visible(s string) string { return strings.ReplaceAll(s, model.NoBreakSpace, " ") }

func part(length, width, thickness model.Length) model.Part {
	return model.Part{Length: length, Width: width, Thickness: thickness}
}

// fewest is the way of the fewest pieces.
func fewest(ways []Way) *Way {
	if len(ways) == 0 {
		return nil
	}
	w := slices.MinFunc(ways, func(a, b Way) int { return int(a.Pieces - b.Pieces) })
	return &w
}

// Panels of staves out of sections of one width. By hand, the first: 2x6 is 5 1/2, less 1/8 at each
// eased edge 5 1/4 at most; 35 / 5 = 7. With 1/2 in of panel 35 1/2 / 5 1/4 = 6.8, so 7 of 35 1/2 /
// 7 = 5.07, rounded up 5 1/8; 35 1/2 / 5 = 7.1, so 8 of 4 7/16.
func TestStaves(t *testing.T) {
	for _, c := range []struct {
		name         string
		unit         model.Unit
		wide, thick  model.Length
		wood         model.Wood
		panel, joint model.Length
		widest       model.Length
		staves       int64
		net, enter   model.Length
		blank        model.Length
	}{
		{"5 in net, no panel", model.Inch, 35 * in, 3 * in / 2, model.Wood{Section: "2x6"}, 0,
			in / 16, 5 * in, 7, 5 * in, 5 * in, 41 * in / 8},
		{"5 1/4 in net", model.Inch, 35 * in, 3 * in / 2, model.Wood{Section: "2x6"}, in / 2,
			in / 16, 21 * in / 4, 7, 41 * in / 8, 41 * in / 8, 21 * in / 4},
		{"5 in net", model.Inch, 35 * in, 3 * in / 2, model.Wood{Section: "2x6"}, in / 2,
			in / 16, 5 * in, 8, 71 * in / 16, 71 * in / 16, 73 * in / 16},
		// 38x140mm keeps its edges square: 140 - 2 x 1.5 = 137 at most, by widest 127; 889 / 127 =
		// 7
		{"127 mm net, no panel", model.Millimetre, 889 * mm, 38 * mm,
			model.Wood{Section: "38x140mm"}, 0, mm, 127 * mm, 7, 127 * mm, 127 * mm, 130 * mm},
		// 901 / 133 = 6.8; 901 / 7 = 128.7
		{"133 mm net", model.Millimetre, 889 * mm, 38 * mm, model.Wood{Section: "38x140mm"},
			12 * mm, mm, 133 * mm, 7, 129 * mm, 129 * mm, 132 * mm},
		// 901 / 127 = 7.1; 901 / 8 = 112.6
		{"127 mm net", model.Millimetre, 889 * mm, 38 * mm, model.Wood{Section: "38x140mm"},
			12 * mm, mm, 127 * mm, 8, 113 * mm, 113 * mm, 116 * mm},
		// a joint of 3 mm for the edge of 1.5: the blank is 128.7 up 129 + 6 wide, so it is entered
		// 3 wider than its net width
		{"joints of 3 mm", model.Millimetre, 889 * mm, 38 * mm, model.Wood{Section: "38x140mm"},
			12 * mm, 3 * mm, 140 * mm, 7, 129 * mm, 132 * mm, 135 * mm},
		// a stave of 140 would be as wide as its board, with nothing left for its joints
		{"not as it comes", model.Millimetre, 280 * mm, 38 * mm, model.Wood{Section: "38x140mm"},
			0, 0, 140 * mm, 3, 94 * mm, 94 * mm, 97 * mm},
		// rough 4/4 of 6 in: 6 - 1/8 = 5 7/8; 18 1/2 / 5 1/2 = 3.4, so 4 of 4 5/8
		{"oak", model.Inch, 18 * in, 3 * in / 4, model.Wood{Section: "4/4", Width: 6 * in},
			in / 2, in / 16, 11 * in / 2, 4, 37 * in / 8, 37 * in / 8, 19 * in / 4},
	} {
		c.wood.Length = 3000 * mm
		j := shop(c.unit, part(800*mm, c.wide, c.thick), c.wood)
		g := &j.Settings.GlueUp
		g.Panel, g.Joint, g.Widest = c.panel, c.joint, c.widest
		w := fewest(GlueUps(j, &j.Parts[0]))
		if w == nil {
			t.Errorf("%s: nothing makes it", c.name)
		} else if w.Across.Times != c.staves || w.Pieces != c.staves || w.Across.Net != c.net ||
			w.Piece.Width != c.enter || w.Blank.Width != c.blank ||
			w.Across.Blank.Total() != c.blank || w.Across.Need.Total() != c.wide+c.panel {
			t.Errorf("%s: %s, %s", c.name, w.Made(c.unit), w.Blank.Width.Exact(c.unit))
		}
	}
}

// Layers. By hand, the post of 2 3/4 in: rough 8/4 is 2 in, less 3/16 and one face joint of 1/16
// 1 3/4, and two are 3 1/2; half of 2 3/4 and the joint are 1 7/16 to enter. S2S 4/4 is 13/16 and
// stays so: less two joints 11/16, and four are 2 3/4.
func TestLayers(t *testing.T) {
	quarters := func(s model.Section, f model.Surface) model.Wood {
		return model.Wood{Section: s, Surface: f, Width: 6 * in}
	}
	for _, c := range []struct {
		name             string
		unit             model.Unit
		wide, thick      model.Length
		wood             model.Wood
		layers, staves   int64 // 0: no way
		thickness, blank model.Length
	}{
		{"rough 8/4", model.Inch, 11 * in / 4, 11 * in / 4, quarters("8/4", model.Rough), 2, 1,
			23 * in / 16, 13 * in / 8},
		// 1 1/2 - 3/16 - 1/16 = 1 1/4, twice is 2 1/2; three: 15/16 rounded up with two joints
		{"rough 6/4", model.Inch, 11 * in / 4, 11 * in / 4, quarters("6/4", model.Rough), 3, 1,
			17 * in / 16, 5 * in / 4},
		// 1 - 3/16 - 2/16 = 11/16, four times is 2 3/4
		{"rough 4/4", model.Inch, 11 * in / 4, 11 * in / 4, quarters("4/4", model.Rough), 4, 1,
			13 * in / 16, in},
		{"S2S 4/4, as it comes", model.Inch, 11 * in / 4, 11 * in / 4, quarters("4/4", model.S2S),
			4, 1, 13 * in / 16, 13 * in / 16},
		// two of 1 1/2 less a joint are 2 7/8
		{"2x4, as it comes", model.Inch, 3 * in, 23 * in / 8, model.Wood{Section: "2x4"}, 2, 1,
			3 * in / 2, 3 * in / 2},
		// 2 7/8 less 2 11/16: just the 3/16 for planing
		{"2x4, planed after", model.Inch, 3 * in, 43 * in / 16, model.Wood{Section: "2x4"}, 2, 1,
			3 * in / 2, 3 * in / 2},
		// half of 3 1/4 is 1 5/8, with joint and planing 1 7/8: 1 1/8 too much to plane away
		{"too thick", model.Inch, 3 * in, 13 * in / 4, quarters("12/4", model.Rough), 0, 0, 0, 0},
		// a block of 2 layers, each of 3 staves: 10 1/2 / 3 = 3 1/2 net, as the boards are 4 in
		// wide; 2 x (2 - 3/16 - 1/16) = 3 1/2
		{"block of 2 x 3", model.Inch, 10 * in, 13 * in / 4,
			model.Wood{Section: "8/4", Width: 4 * in}, 2, 3, 27 * in / 16, 15 * in / 8},
		// 27 rough - 5 - 2 x 1 = 20, three are 60; 2 of 21 are too thin
		{"rough 27 mm", model.Millimetre, 60 * mm, 60 * mm,
			model.Wood{Section: "27x180mm", Surface: model.Rough}, 3, 1, 22 * mm, 27 * mm},
		// two of 38 less 1 each are 74, as thick as the post
		{"38 mm as it comes", model.Millimetre, 80 * mm, 74 * mm, model.Wood{Section: "38x140mm"},
			2, 1, 38 * mm, 38 * mm},
	} {
		c.wood.Length = 3000 * mm
		j := shop(c.unit, part(700*mm, c.wide, c.thick), c.wood)
		w := fewest(GlueUps(j, &j.Parts[0]))
		if (w == nil) != (c.layers == 0) {
			t.Errorf("%s: %v", c.name, w)
		} else if w != nil && (w.Through.Times != c.layers || w.Across.Times != c.staves ||
			w.Pieces != c.layers*c.staves || w.Piece.Thickness != c.thickness ||
			w.Blank.Thickness != c.blank || w.Through.Blank.Total() != c.blank ||
			w.Through.Gives() < w.Through.Need.Total()) {
			t.Errorf("%s: %s, %s", c.name, w.Made(c.unit), w.Blank.Thickness.Exact(c.unit))
		}
	}
}

// Gangs of a block of 4 in with 10 wanted. By hand: 3 x 4 + 2 x 1/8 + 1 = 13 1/4 in is the first
// blank of 12 in and more; 11 would be more than are wanted.
func TestGangs(t *testing.T) {
	p := part(4*in, 3*in, 3*in/4)
	p.Qty = 10
	j := shop(model.Inch, p, model.Wood{Section: "1x4", Length: 96 * in})
	for _, c := range []struct {
		qty         int64
		longest     model.Length
		first, last int64
	}{
		{10, 48 * in, 3, 10},
		{10, 25 * in, 3, 5}, // 5 x 4 + 4 x 1/8 + 1 = 21 1/2, 6: 25 5/8
		{10, 13 * in, 0, 0},
		{1, 48 * in, 3, 3}, // two more than are wanted, else it would be too short
	} {
		j.Parts[0].Qty, j.Settings.Gang.Longest = c.qty, c.longest
		ways := Gangs(j, &j.Parts[0])
		if c.first == 0 {
			if len(ways) > 0 {
				t.Errorf("up to %v: %v", c.longest, ways)
			}
			continue
		}
		first := slices.MinFunc(ways, func(a, b Way) int { return int(a.Copies - b.Copies) })
		last := slices.MaxFunc(ways, func(a, b Way) int { return int(a.Copies - b.Copies) })
		if first.Copies != c.first || last.Copies != c.last ||
			len(ways) != int(c.last-c.first)+1 {
			t.Errorf("%d up to %v: %d ways, from %d to %d", c.qty, c.longest, len(ways),
				first.Copies, last.Copies)
		}
		if first.Piece.Length != 49*in/4 || first.Blank.Length != 53*in/4 ||
			first.Length.Total() != first.Piece.Length || first.Piece.Qty != (c.qty+2)/3 {
			t.Errorf("%+v", first.Piece)
		}
	}
	// as wide as its board it is not ripped: its 5 in are enough then, by shortest_blank
	j.Settings.Safety.ShortestBlank, j.Parts[0].Width = 5*in, 7*in/2
	if ways := Gangs(j, &j.Parts[0]); len(ways) > 0 {
		t.Errorf("%v", ways)
	}
	j.Parts[0].Width = 3 * in
	if ways := Gangs(j, &j.Parts[0]); len(ways) == 0 {
		t.Error("a blank of 5 in is ripped, where 12 are the shortest that may be")
	}
}

// What wood costs, by hand: 7 staves of 61 1/8 in with their kerfs out of boards of 96 in for 10,
// which hold one beside another: 70 x 61.125 / 96 = 44.5703. Out of 2x8 of the same price 11 staves
// lie in pairs: 2 x 3 3/8 + 1/8 = 6 7/8 of 7 1/4 - 1/8; 110 x 61.125 / 96 / 2 = 35.0195. With a tax
// of a tenth on both the order stays.
func TestPrices(t *testing.T) {
	j := shop(model.Inch, part(60*in, 35*in, 3*in/2), model.Wood{Section: "2x6", Length: 96 * in},
		model.Wood{Section: "2x8", Length: 96 * in})
	for _, c := range []struct {
		tax         int64
		pairs, ones model.Money
	}{{0, 350195, 445703}, {10, 385214, 490273}} {
		j.Settings.Yards = map[string]model.YardFacts{"": {
			TaxPercent: &model.Fraction{Num: c.tax, Den: 1}}}
		ways := GlueUps(j, &j.Parts[0])
		best := ways[0]
		if best.Pieces != 11 || best.Wood.Section != "2x8" || best.Price.Cost != c.pairs ||
			best.Price.Beside != 2 {
			t.Errorf("%s for %v", best.Made(model.Inch), best.Price.Cost)
		}
		seven := slices.IndexFunc(ways, func(w Way) bool { return w.Pieces == 7 })
		if w := &ways[seven]; w.Wood.Section != "2x6" || w.Price.Cost != c.ones {
			t.Errorf("%s for %v", w.Made(model.Inch), w.Price.Cost)
		}
		j.Parts[0].Staves = model.Auto
		if cost, made := Cheapest(j, ChoiceOf(j, &j.Parts[0])); cost == nil || *cost != c.pairs ||
			made != best.Made(model.Inch) {
			t.Errorf("%s is not the cheapest", made)
		}
	}
	// of the rack it has no price, and comes last
	j.Rack = []model.Board{{ID: "B", Wood: j.Yard[1].Wood}}
	j.Yard = j.Yard[:1]
	ways := GlueUps(j, &j.Parts[0])
	if ways[0].Wood.Section != "2x6" || ways[len(ways)-1].Wood.Section != "2x8" ||
		ways[len(ways)-1].Price != nil {
		t.Errorf("%s is first", ways[0].Made(model.Inch))
	}
}
