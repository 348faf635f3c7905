package main

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"testing"

	"rackwright/model"
)

// rippedJob is a shop whose boards can be cut one way only: K-1 rip first, as no two blanks of its
// four pairs leave room for the lengths of the others beside each other; K-2 crosscut first, as its
// blanks have more widths than it has room for. Each has trimming cuts on both of its strips or
// lengths; K-2 also a length that is not ripped; the bought board leaves an offcut of a part of the
// width. Boards have defects of a part of the width.
var rippedJob = files{
	"parts.csv": `commission,part,qty,material,section,length,width,thickness,face,note,board
C-1 desk,leg,1,oak,,1200,60,24,sound,,K-1
C-1 desk,brace,1,oak,,700,50,24,hidden,,K-1
C-1 desk,rail,1,oak,,900,60,24,show,,K-1
C-2 rack,post,1,oak,,1000,55,24,show,,K-1
C-2 rack,side,1,oak,,600,100,24,show,,K-2
C-2 rack,slat,1,oak,,560,40,24,sound,,K-2
C-1 desk,apron,1,oak,,800,70,24,show,,K-2
C-1 desk,stretcher,1,oak,,750,70,24,show,,K-2
C-1 desk,top,1,oak,,500,150,24,hidden,,K-2
C-3 bench,bearer,1,spruce,2x6,1700,60,35,sound,,
`,
	"commissions.csv": `commission,due,note
C-1 desk,2027-03-12,
C-2 rack,2027-03-20,
C-3 bench,2027-04-02,
`,
	"rack.csv": `board,material,section,length,qty,width,thickness,bin,value,since,note,for,untouched,longest
K-1,oak,4/4,2000,1,150,27,A1,,2026-11-02,,,,
K-2,oak,27x150mm,2300,1,150,27,A2,6.50,2026-12-01,,,,
K-3,oak,4/4,900,1,150,27,A2,,,for later,C-2 rack,yes,850
`,
	"defects.csv": `board,from,to,kind,left,right
K-1,1500,1540,sound knot,10,40
K-1,400,460,check,138,150
K-2,2100,2160,stain,120,150
K-3,100,130,split,40,90
`,
	"yard.csv": `material,section,length,price,available,width,thickness,yard,per,grade
spruce,2x6,2400,9.60,,,,mill,piece,C24
oak,4/4,2500,24.00,3,160,27,mill,piece,
`,
	"shop.toml": `units = "mm"
currency = "EUR"
batch = "rip"

[kerf]
crosscut = "4"
rip = "3"

[trim]
yard_end = "10"
rack_end = "5"

[allowance]
length = "0"
edge = "0"
thickness = "2"
eased_edge = "3"

[offcut]
keep_length = "300"
keep_width = "40"
value = 0.5

[safety]
shortest_rip = "400"
narrowest_rip = "20"

[gang]
longest = "1"

[rip]
trimming_cut = true

[handling]
board = 0.5

[defects]
margin = "4"
`,
}

// splitJob is a board that can be ripped behind its split end only: its cleats are too short to be
// ripped one by one, and too many for all of the width. Its rips have a price.
var splitJob = files{
	"parts.csv": `commission,part,qty,material,length,width,thickness,face
C-1 gate,cleat,5,ash,250,50,25,hidden
C-2 stile,step,4,ash,280,50,25,hidden
`,
	"rack.csv": `board,material,section,length,width,thickness,value
S-1,ash,4/4,2400,150,30,6.00
`,
	"defects.csv": `board,from,to,kind,left,right
S-1,0,1000,split,,
S-1,2350,2390,loose knot,0,150
`,
	"yard.csv": `material,section,length,price,width,thickness
`,
	"shop.toml": `units = "mm"
batch = "split"

[allowance]
length = "0"
edge = "0"

[offcut]
strip_value = 1.0

[gang]
longest = "1"

[handling]
board = 0.5
rip = 0.25
`,
}

// across moves all that lies on a board between two measures across, in cuts.csv and in plan.json;
// both are whole millimetres.
func across(board string, from, to, by int64) edit {
	const mm = model.UnitsPerMillimetre
	move := func(v int64) int64 {
		if v >= from && v <= to {
			v += by
		}
		return v
	}
	return func(t *testing.T, f files) {
		rows := readTable(t, f["out/cuts.csv"])
		for _, column := range []string{"left", "right"} {
			at := slices.Index(rows[0], column)
			for _, row := range rows[1:] {
				if n, err := strconv.ParseInt(row[at], 10, 64); row[0] == board && err == nil {
					row[at] = strconv.FormatInt(move(n), 10)
				}
			}
		}
		f["out/cuts.csv"] = writeTable(t, rows)
		tree(func(t *testing.T, top any) {
			for _, p := range top.(map[string]any)["placements"].([]any) {
				for _, piece := range p.(map[string]any)["pieces"].([]any) {
					for _, key := range []string{"left", "right"} {
						if n, ok := piece.(map[string]any)[key].(json.Number); ok &&
							p.(map[string]any)["board"] == board {
							v, _ := n.Int64()
							piece.(map[string]any)[key] = json.Number(fmt.Sprint(move(v/mm) * mm))
						}
					}
				}
			}
		})(t, f)
	}
}

// inSteps gives the steps of a board other numbers.
func inSteps(board string, to map[string]string) edit {
	return func(t *testing.T, f files) {
		rows := readTable(t, f["out/cuts.csv"])
		at := slices.Index(rows[0], "step")
		for _, row := range rows {
			if n, ok := to[row[at]]; ok && row[0] == board {
				row[at] = n
			}
		}
		f["out/cuts.csv"] = writeTable(t, rows)
	}
}

// swapped has two neighbouring rows of cuts.csv change places: that of a part, and so many after
// it.
func swapped(part string, after int) edit {
	return func(t *testing.T, f files) {
		rows := readTable(t, f["out/cuts.csv"])
		at := slices.Index(rows[0], "part")
		i := after + slices.IndexFunc(rows, func(row []string) bool { return row[at] == part })
		rows[i], rows[i+1] = rows[i+1], rows[i]
		f["out/cuts.csv"] = writeTable(t, rows)
	}
}

// ripped says in plan.json alone that a board was crosscut to a span before it was ripped; in
// millimetres.
func ripped(placement int, from, to int) edit {
	return tree(func(_ *testing.T, top any) {
		p := top.(map[string]any)["placements"].([]any)[placement].(map[string]any)
		p["rip_from"] = json.Number(fmt.Sprint(from * model.UnitsPerMillimetre))
		p["rip_to"] = json.Number(fmt.Sprint(to * model.UnitsPerMillimetre))
	})
}

// TestTamperingWithRips tells lies about ripped boards that a maker would not see.
func TestTamperingWithRips(t *testing.T) {
	s, split := set(t, "ripped", rippedJob), set(t, "split", splitJob)
	tell(t, []lie{
		{"width of a trimmed piece", s,
			"board K-1, line 5: the blank of brace goes across from 0 mm to 51 mm; it is to be " +
				"50 mm wide, on a board of 150 mm",
			all(cell("cuts", "part=brace", "right", "+1"))},
		{"width of a trimmed piece, made up for by kerf and waste", s,
			"board K-1, line 5: the blank of brace goes across from 0 mm to 50.5 mm; it is to be " +
				"50 mm wide, on a board of 150 mm",
			all(cell("cuts", "part=brace", "right", "50.5"),
				leaf("placements[0].pieces[1].right", "+160"))},
		{"left of a piece in plan.json", s,
			"plan.json: placement 1: the pieces on board K-1 are not those of cuts.csv",
			all(leaf("placements[0].pieces[2].left", "+320"))},
		{"right of a piece in plan.json", s,
			"plan.json: placement 1: the pieces on board K-1 are not those of cuts.csv",
			all(leaf("placements[0].pieces[1].right", "+320"))},
		{"second strip a millimetre on, in both files", s,
			"board K-1, line 11: part from 5 mm to 905 mm stands where the rules make kerf from " +
				"5 mm to 1995 mm",
			all(across("K-1", 63, 123, 1))},
		{"all strips two millimetres on, in both files", s,
			"board K-1: the rows leave a gap: they do not cover all of the board",
			all(across("K-1", 0, 123, 2))},
		{"trimmed piece in the middle of its strip", s,
			"board K-1, line 13: the blank of post goes across from 63 mm to 117 mm; it is to be " +
				"55 mm wide, on a board of 150 mm",
			all(
				across("K-1", 118, 118, -1))},
		{"waste beside a trimmed piece called offcut", s,
			"board K-1, line 7: offcut from 1209 mm to 1909 mm stands where the rules make waste " +
				"from 1209 mm to 1909 mm",
			all(cell("cuts", "left=53", "kind", "offcut"),
				cell("cuts", "left=53", "offcut", "rip-off-9"))},
		{"kerf of the rip saw called waste", s,
			"board K-1, line 6: waste from 1209 mm to 1909 mm stands where the rules make kerf " +
				"from 1209 mm to 1909 mm",
			all(cell("cuts", "left=50", "kind", "waste"))},
		{"order of a trimmed piece and its kerf", s,
			"board K-1, line 5: kerf from 1209 mm to 1909 mm stands where the rules make part " +
				"from 1209 mm to 1909 mm",
			all(swapped("brace", 0))},
		{"order of kerf and waste", s,
			"board K-1, line 6: waste from 1209 mm to 1909 mm stands where the rules make kerf " +
				"from 1209 mm to 1909 mm",
			all(swapped("brace", 1))},
		{"trimming cut before its crosscut", s,
			"board K-1: it cannot be cut in the order of its steps: at step 5 the kerf at 1209 " +
				"mm to 1909 mm and across 50 mm to 53 mm does not go from edge to edge of the " +
				"piece in hand, 5 mm to 1995 mm and across 0 mm to 60 mm",
			all(inSteps("K-1", map[string]string{"5": "9", "9": "5"}))},
		{"second trimming cut before the first", s, "board K-1, line 5: step is 10, it should be 9",
			all(inSteps("K-1", map[string]string{"9": "10", "10": "9"}))},
		{"second strip ripped before the first", s, "board K-1, line 10: step is 4, it should be 3",
			all(inSteps("K-1", map[string]string{"3": "4", "4": "3"}))},
		{"strips crosscut before the trim", s,
			"board K-1: it cannot be cut in the order of its steps: at step 1 the kerf at 1205 " +
				"mm to 1209 mm and across 0 mm to 60 mm does not go from edge to edge of the " +
				"piece in hand, 0 mm to 2000 mm",
			all(inSteps("K-1", map[string]string{"1": "5", "5": "1"}))},
		{"short length ripped before the long one", s,
			"board K-2, line 27: step is 8, it should be 6",
			all(inSteps("K-2", map[string]string{"6": "8", "8": "6"}))},
		{"piece cut short before the rip", s,
			"board K-2: it cannot be cut in the order of its steps: at step 6 the kerf at 1259 mm " +
				"to 1263 mm and across 73 mm to 143 mm does not go from edge to edge of the piece " +
				"in hand, 509 mm to 1309 mm",
			all(inSteps("K-2", map[string]string{"6": "10", "10": "6"}))},
		{"step of a ripped piece", s,
			"board K-2: it cannot be cut in the order of its steps: at step 10 part at 1695 mm to " +
				"2255 mm and across 103 mm to 143 mm is not what the cut frees",
			all(cell("cuts", "part=slat", "step", "-1"))},
		{"first of a ripped board", s,
			"board K-1: in the length from 5 mm to 1909 mm, brace is nearer than a kerf to the " +
				"piece before it, or lies over it",
			all(leaf("placements[0].first", `"crosscut"`))},
		{"first of a board that is crosscut first", s,
			"board K-2, line 25: top is as wide as the board, so it is not ripped; it goes " +
				"across from 0 mm to 150 mm",
			all(leaf("placements[1].first", `"rip"`))},
		{"first left away", s,
			"board K-2, line 29: stretcher is nearer than a kerf to the piece before it, or " +
				"lies over it",
			all(leaf("placements[1].first", `""`))},
		{"a plain length that stops short of the edge", s,
			"plan.json: placement 2: the pieces on board K-2 are not those of cuts.csv",
			all(leaf("placements[1].pieces[4].right", "-320"))},
		{"fence", s, "setting is 101 mm, it should be 100 mm",
			all(cell("order", "setting=100", "setting", "+1"))},
		{"fence called a stop", s, `saw is "crosscut", it should be "rip"`,
			all(cell("order", "saw=rip", "saw", "crosscut"))},
		{"stop for a trimmed length", s, "setting is 800 mm, it should be 750 mm",
			all(cell("order", "setting=750", "setting", "800"))},
		{"rip left away", s, "cuts of cuts.csv are missing", all(drop("order", "setting=50"))},
		{"width of an offcut", s, "rack.csv: line 4: width is 74.7 mm, it should be 73.7 mm",
			all(cell("rack", "board=rip-off-2", "width", "+1"))},
		{"width of an offcut, as if it were the board's", s,
			"rack.csv: line 4: width is 139.7 mm, it should be 73.7 mm",
			all(cell("rack", "board=rip-off-2", "width", "139.7"))},
		{"left of a defect", s,
			"rack.csv: line 2: the defects of board K-3 in defects.csv are not those it " +
				"has: there are 1, it has 1, or a span or kind differs",
			all(cell("defects", "board=K-3", "left", "-1"))},
		{"right of a defect", s,
			"rack.csv: line 2: the defects of board K-3 in defects.csv are not those it " +
				"has: there are 1, it has 1, or a span or kind differs",
			all(cell("defects", "board=K-3", "right", "-1"))},
		{"defect over the whole width", s,
			"rack.csv: line 2: the defects of board K-3 in defects.csv are not those it has: " +
				"there are 1, it has 1, or a span or kind differs",
			all(cell("defects", "board=K-3", "left", ""),
				cell("defects", "board=K-3", "right", ""))},
		{"width of an item in the proof", s,
			"plan.json: group oak 27x150mm, item 0: the job has no blank of 800 mm, show, for a " +
				"part 71 mm wide left to count",
			all(leaf("groups[1].certificate.items[0].width", "+320"))},
		{"width of an item left away", s,
			"plan.json: group oak 27x150mm, item 0: it has no width, but one of its stocks can " +
				"be ripped: that of apron is 70 mm",
			all(leaf("groups[1].certificate.items[0].width", "0"))},
		{"share of the costs", s, "costs.csv: line 2: cost is 10.1833, it should be 10.2833",
			all(cell("costs", "commission=C-1 desk", "rack_cost", "-0.1"),
				cell("costs", "commission=C-2 rack", "rack_cost", "+0.1"),
				cell("costs", "commission=C-1 desk", "cost", "-0.1"),
				cell("costs", "commission=C-2 rack", "cost", "+0.1"))},
		{"price of ripping, in the job alone", s,
			"costs.csv: line 4: ripping is 0.00, it should be",
			all(leaf("job.settings.ripping", "+1"), alone)},
		{"price of ripping, with the file", s,
			"costs.csv: line 4: ripping is 0.00, it should be 0.34", // two rips of 1700 mm
			all(text("shop.toml", "board = 0.5", "board = 0.5\nrip = 0.1"), takeIn)},
		{"handling called ripping", s, "costs.csv: line 2: ripping is 0.10, it should be 0.00",
			all(cell("costs", "commission=C-1 desk", "ripping", "+0.1"),
				cell("costs", "commission=C-1 desk", "handling", "-0.1"))},
		{"ripped span of a board that is ripped all over", s,
			"plan.json: board K-1: the span to be ripped, from 5 mm to 1995 mm, is all between " +
				"the trims; then it is not to be written",
			all(ripped(0, 5, 1995))},
		{"ripped span where no weak defect begins or ends", s,
			"plan.json: board K-1: the span to be ripped ends at 1950 mm, which is neither the trim " +
				"nor where a weak defect, with its margin, begins",
			all(ripped(0, 5, 1950))},
		{"ripped span of a board that is crosscut first", s,
			`plan.json: board K-2: it has a span to be ripped first, and first is "crosscut"`,
			all(ripped(1, 5, 1500))},
		{"a rip through a weak defect, with the file", s,
			"cuts.csv: board K-1: the rip beside brace, from 1209 mm to 1909 mm, at 50 mm across, " +
				"runs through the sound knot that, with its margin, goes from 1496 mm to 1544 mm " +
				"and across from 6 mm to 51 mm",
			all(text("shop.toml", `margin = "4"`, `margin = "4"
weak = ["sound knot"]`), text("defects.csv", "sound knot,10,40", "sound knot,10,47"), takeIn)},
		{"ripped span begun later", split,
			"plan.json: board S-1: the span to be ripped begins at 1007 mm, which is neither the trim " +
				"nor where a weak defect, with its margin, ends",
			all(ripped(0, 1007, 2400))},
		{"ripped span begun at the mark of the split", split,
			"plan.json: board S-1: the span to be ripped begins at 1000 mm, which is neither the trim " +
				"nor where a weak defect, with its margin, ends",
			all(ripped(0, 1000, 2400))},
		{"ripped span that goes to all of the board", split,
			"plan.json: board S-1: the span to be ripped, from 0 mm to 2400 mm, is all between " +
				"the trims; then it is not to be written",
			all(ripped(0, 0, 2400))},
		{"ripped span that ends before it begins", split,
			"plan.json: board S-1: rip_from 321920 is not before rip_to 321920",
			all(ripped(0, 1006, 1006))},
		{"no ripped span", split,
			"cuts.csv: board S-1: the rip beside a strip, from 0 mm to 2400 mm, at 50 mm across, runs " +
				"through the split that, with its margin, goes from 0 mm to 1006 mm and across " +
				"from 0 mm to 150 mm",
			all(ripped(0, 0, 0))},
		{"split end called an offcut", split,
			"cuts.csv: board S-1, line 2: offcut from 0 mm to 1000 mm stands where the rules make " +
				"defect from 0 mm to 1000 mm",
			all(cell("cuts", "kind=defect", "kind", "offcut"),
				cell("cuts", "kind=offcut", "offcut", "split-off-9"))},
		{"length of the split, with the file", split,
			"plan.json: board S-1: the span to be ripped begins at 1006 mm, which is neither the trim " +
				"nor where a weak defect, with its margin, ends",
			all(text("defects.csv", "0,1000,split", "0,1001,split"), takeIn)},
		{"price of the rips, with the file", split,
			"costs.csv: line 2: ripping is 0.3678, it should be 0.3826",
			all(text("shop.toml", "rip = 0.25", "rip = 0.26"), takeIn)},
		{"ripping called handling", split,
			"costs.csv: line 2: ripping is 0.2678, it should be 0.3678",
			all(cell("costs", "commission=C-1 gate", "ripping", "-0.1"),
				cell("costs", "commission=C-1 gate", "handling", "+0.1"))},
		{"no trimming cuts, in the job alone", s,
			"board K-1: brace is narrower than the strip from 0 mm to 60 mm, and trimming_cut of " +
				"[rip] allows no third cut",
			all(leaf("job.settings.trimming_cut", "false"), alone)},
		{"no trimming cuts, with the file", s,
			"board K-1: brace is narrower than the strip from 0 mm to 60 mm, and trimming_cut of " +
				"[rip] allows no third cut",
			all(text("shop.toml", "trimming_cut = true", "trimming_cut = false"), takeIn)},
		{"shortest rip, in the job alone", s,
			"board K-2: the length from 1695 mm to 2295 mm is ripped, and is 600 mm long, less " +
				"than the 601 mm of shortest_rip",
			all(leaf("job.settings.safety.shortest_rip", "+64320"), alone)},
		{"shortest rip, with the file", s,
			"board K-2: the length from 1695 mm to 2295 mm is ripped, and is 600 mm long, less " +
				"than the 601 mm of shortest_rip",
			all(text("shop.toml", `shortest_rip = "400"`, `shortest_rip = "601"`), takeIn)},
		{"shortest rip above the length of a trimming cut along", s,
			"board K-1: brace is ripped, and is 700 mm long, less than the 701 mm of shortest_rip",
			all(text("shop.toml", `shortest_rip = "400"`, `shortest_rip = "701"`), takeIn)},
		{"narrowest rip, with the file", s,
			"board K-2, line 39: slat is ripped to 40 mm, less than the 41 mm of narrowest_rip",
			all(text("shop.toml", `narrowest_rip = "20"`, `narrowest_rip = "41"`), takeIn)},
		{"narrowest rip, in the job alone", s,
			"board K-2, line 39: slat is ripped to 40 mm, less than the 41 mm of narrowest_rip",
			all(leaf("job.settings.safety.narrowest_rip", "+6720"), alone)},
		{"rip kerf, in the job alone", s,
			"board K-1: the strip from 63 mm to 123 mm is nearer than a kerf of the rip to the " +
				"one before it",
			all(leaf("job.settings.rip_kerf", "+320"), alone)},
		{"rip kerf, with the file", s,
			"board K-1, line 11: part from 5 mm to 905 mm stands where the rules make kerf from " +
				"5 mm to 1995 mm",
			all(text("shop.toml", `rip = "3"`, `rip = "2"`), takeIn)},
		{"keep width, with the file", s,
			"board rip-buy-1: the length from 10 mm to 1710 mm is ripped for one blank with " +
				"nothing kept beside it; it could take the whole width",
			all(text("shop.toml", `keep_width = "40"`, `keep_width = "75"`), takeIn)},
		{"eased edge, with the file", s,
			"board rip-buy-1, line 49: bearer goes across from 3 mm to 63 mm; the rounded edges " +
				"of the board leave 4 mm to 135.7 mm",
			all(text("shop.toml", `eased_edge = "3"`, `eased_edge = "4"`), takeIn)},
		{"width of a part, with the file", s,
			"board K-1, line 5: the blank of brace goes across from 0 mm to 50 mm; it is to be " +
				"51 mm wide, on a board of 150 mm",
			all(text("parts.csv", "700,50,24", "700,51,24"), takeIn)},
		{"measured width of a board, with the file", s,
			"board K-1: the rows leave a gap: they do not cover all of the board",
			all(text("rack.csv", "K-1,oak,4/4,2000,1,150", "K-1,oak,4/4,2000,1,151"), takeIn)},
		{"a defect under a piece, with the file", s,
			"board K-1, line 11: rail may not lie on the defect that, with its margin, goes from " +
				"396 mm to 464 mm and across from 118 mm to 150 mm",
			all(text("defects.csv", "check,138,150", "check,122,150"), takeIn)},
		{"a defect beside a piece whose margin reaches it, with the file", s,
			"board K-1, line 11: rail may not lie on the defect that, with its margin, goes from " +
				"396 mm to 464 mm and across from 122 mm to 150 mm",
			all(text("defects.csv", "check,138,150", "check,126,150"), takeIn)},
		{"a defect of another kind, with the file", s,
			"board K-1, line 5: brace may not lie on the defect that, with its margin, goes from " +
				"1496 mm to 1544 mm and across from 6 mm to 44 mm",
			all(text("defects.csv", "sound knot,10,40", "split,10,40"), takeIn)},
		{"a defect in the job alone", s,
			"plan.json: value: is 22.7788; the boards used, with handling and rips, " +
				"less their offcuts, cost 22.7684",
			all(leaf("job.rack[0].defects[0].left", "-320"), alone)},
	})
}
