package settings

import (
	"bytes"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/pelletier/go-toml/v2"
	"pgregory.net/rapid"

	"rackwright/model"
)

const in = model.UnitsPerInch

// whole is the file of the design with every key, and values that are not the defaults.
const whole = "\ufeff" + `
units    = "mm"
currency = "EUR"
batch    = "M-4.b"
seasoning = "green"
surface  = "s2s"
display.inch = " 1/32 "

[kerf]
crosscut = "1/8 in"
rip      = 3.2          # a bare number is in the shop's unit

[trim]
yard_end = 12
rack_end = "0.5cm"

[allowance]
length     = 1
edge       = 2
thickness  = 3
thickness_s2s = 0.5
eased_edge = 4
plane_limit = 6

[glue_up]
joint = 2
face_joint = 2.5
panel = 5
narrowest = "2in"
widest = 120
step = 10
extra_length = 15
[gang]
longest = "3'"
[spare]
at_most = 1.5
[machine]
jointer_width = 200
planer_width = "15in"
planer_shortest = 250

[offcut]
keep_length = "300"
keep_width  = 40
value       = 0.35
strip_value = 0.45

[handling]
board = 0.125
rip = "0.03"

[work]
setting = 2.25
lift = 0
change = 1.25

[safety]
shortest_blank = "1' 2 1/2\""
shortest_rip   = 310
narrowest_rip  = "2cm"

[rip]
trimming_cut = false

[defects]
margin = 6.5
weak   = ["Split", " brash  Wood "]
sound  = [" Sound  Knot"]
hidden = []

[tally]
hardwood = "Exact"
half = " alternate "

[material."white oak"]
seasoning = "dry"
surface = "rough"
[material."white oak".allowance]
thickness = "1/4in"
thickness_s2s = 1
[material."white oak".offcut]
value = 1
strip_value = 0
[material.shelving]
species = "Eastern White Pine"
[material.shelving.reserve]
usable = 0.8
[count]
tolerance = "9mm"
[reserve]
usable = 0.95
[yards." North yard"]
tax_percent = 8.25
longest_load = "8'"
[yards.sawmill]
[bins."rack A1"]
longest = "48in"
most = 20
[bins.floor]
[section."8/4"]
seasoning = "Dry"
offcut = { keep_length = "8in", value = 0, strip_value = 1 }
glue_up = { joint = 0, face_joint = 1, panel = 2, narrowest = 30, widest = 90, extra_length = 4 }
gang.longest = 800
safety.shortest_blank = 250
safety.narrowest_rip = "1 in"
[material.ash]
safety = { shortest_rip = "25m" }
glue_up.step = 2
[labels]
sheet = "A4"
columns = 2
rows = 5
top = 10.5
bottom = "1/2 in"
left = 0
right = "1cm"
column_gap = 2.5
row_gap = 3
`

func TestReadWhole(t *testing.T) {
	const mm = model.UnitsPerMillimetre
	dry, rough := model.Dry, model.Rough
	at := func(l model.Length) *model.Length { return &l }
	want := model.Settings{
		Units: "mm", Currency: "EUR", Batch: "M-4.b",
		Display:      model.Display{Inch: model.ThirtySecond},
		Condition:    model.Condition{Seasoning: model.Green, Surface: model.S2S},
		Tally:        model.TallyRule{Hardwood: model.ExactVolume, Half: model.HalfAlternate},
		CrosscutKerf: in / 8, RipKerf: 32 * mm / 10, YardEnd: 12 * mm, RackEnd: 5 * mm,
		Allowance: model.Allowance{Length: mm, Edge: 2 * mm, Thickness: 3 * mm,
			ThicknessS2S: mm / 2, EasedEdge: 4 * mm, PlaneLimit: 6 * mm},
		GlueUp: model.GlueUp{Joint: 2 * mm, FaceJoint: 25 * mm / 10, Panel: 5 * mm,
			Narrowest: 2 * in, Widest: 120 * mm, Step: 10 * mm, ExtraLength: 15 * mm},
		Gang: model.Gang{Longest: 36 * in}, SpareAtMost: 15000,
		Machine: model.Machine{JointerWidth: 200 * mm, PlanerWidth: 15 * in,
			PlanerShortest: 250 * mm},
		Offcut: model.OffcutRule{KeepLength: 300 * mm, KeepWidth: 40 * mm,
			Value: model.Fraction{Num: 7, Den: 20}, StripValue: model.Fraction{Num: 9, Den: 20}},
		Safety: model.Safety{ShortestBlank: 29 * in / 2, ShortestRip: 310 * mm,
			NarrowestRip: 20 * mm}, TrimmingCut: false, Handling: 1250, Ripping: 300,
		Work:   model.WorkTimes{Setting: 2250, Lift: 0},
		Margin: 65 * mm / 10, Weak: []string{"split", "brash wood"},
		Sound: []string{"sound knot"}, Hidden: []string{},
		CountTolerance: 9 * mm, Change: 12500,
		Labels: model.LabelSheet{Sheet: model.A4, Columns: 2, Rows: 5, Top: 105 * mm / 10,
			Bottom: in / 2, Right: 10 * mm, ColumnGap: 25 * mm / 10, RowGap: 3 * mm},
		Usable: model.Fraction{Num: 19, Den: 20},
		Materials: map[string]model.Override{
			"white oak": {Seasoning: &dry, Surface: &rough, Thickness: at(in / 4),
				ThicknessS2S: at(mm),
				Value:        &model.Fraction{Num: 1, Den: 1},
				StripValue:   &model.Fraction{Num: 0, Den: 1}},
			"shelving": {Species: new("Eastern White Pine"),
				Usable: &model.Fraction{Num: 4, Den: 5}}, "ash": {ShortestRip: at(25_000 * mm),
				Step: at(2 * mm)}},
		Yards: map[string]model.YardFacts{
			"North yard": {TaxPercent: &model.Fraction{Num: 33, Den: 4}, LongestLoad: at(96 * in),
				Where: model.Where{File: "shop.toml", Line: 92}},
			"sawmill": {Where: model.Where{File: "shop.toml", Line: 95}},
		},
		Bins: map[string]model.BinFacts{
			"rack A1": {Longest: at(48 * in), Most: new(int64(20))}, "floor": {}},
		Sections: map[model.Section]model.Override{
			"8/4": {Joint: at(0), FaceJoint: at(mm), Panel: at(2 * mm), Narrowest: at(30 * mm),
				Widest: at(90 * mm), ExtraLength: at(4 * mm), LongestGang: at(800 * mm),
				Seasoning: &dry, KeepLength: at(8 * in), Value: &model.Fraction{Num: 0, Den: 1},
				StripValue: &model.Fraction{Num: 1, Den: 1}, ShortestBlank: at(250 * mm),
				NarrowestRip: at(in)}},
	}
	got, err := Read(strings.NewReader(whole), "shop.toml")
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

// A key left out has the default of the shop's unit, whether or not others are set.
func TestDefaults(t *testing.T) {
	for text, unit := range map[string]model.Unit{"": model.Inch, "units = \"in\"": model.Inch,
		"units = \"mm\"": model.Millimetre} {
		want := model.DefaultSettingsIn(unit)
		got, err := Read(strings.NewReader(text), "shop.toml")
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Error(d)
		}
		want.RipKerf = 2 * model.UnitsPerMillimetre
		got, err = Read(strings.NewReader(text+"\n[kerf]\nrip = \"2mm\""), "shop.toml")
		if d := cmp.Diff(want, got); d != "" || err != nil {
			t.Error(err, d)
		}
	}
}

// The defaults of a metric shop, as the issue of the change lists them; the rest is the same in
// both.
func TestMetricDefaults(t *testing.T) {
	const tenth = model.UnitsPerMillimetre / 10
	got, inch := model.DefaultSettingsIn(model.Millimetre), model.DefaultSettings()
	want := inch
	want.Units = model.Millimetre
	want.CrosscutKerf, want.RipKerf, want.YardEnd, want.RackEnd = 30*tenth, 30*tenth, 120*tenth, 0
	want.Allowance = model.Allowance{Length: 250 * tenth, Edge: 15 * tenth, Thickness: 50 * tenth,
		ThicknessS2S: 15 * tenth, EasedEdge: 30 * tenth, PlaneLimit: 120 * tenth}
	want.Offcut.KeepLength, want.Offcut.KeepWidth = 3000*tenth, 400*tenth
	want.Safety = model.Safety{ShortestBlank: 3000 * tenth, ShortestRip: 3000 * tenth,
		NarrowestRip: 200 * tenth}
	want.GlueUp = model.GlueUp{Joint: 10 * tenth, FaceJoint: 10 * tenth, Panel: 120 * tenth,
		Narrowest: 400 * tenth, Widest: 1400 * tenth, Step: 50 * tenth}
	want.Gang.Longest = 12000 * tenth
	want.Margin, want.CountTolerance = 60*tenth, 60*tenth
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	if inch.Offcut.StripValue != (model.Fraction{Num: 3, Den: 5}) || inch.CrosscutKerf != in/8 ||
		inch.Allowance.Thickness != 3*in/16 ||
		inch.Offcut.KeepLength != 12*in || inch.Margin != in/4 {
		t.Errorf("%+v", inch)
	}
}

var goWord = regexp.MustCompile(
	`\b(float64|int64|map\[|interface|struct|Settings\.|strconv|json|Unmarshal)\b`)

// Each mistake is refused with file, line, key, code and remedy, and without a word of Go.
func TestBadSettings(t *testing.T) {
	for _, c := range []struct {
		text   string
		line   int
		key    string
		code   string
		remedy string
	}{
		{"units = \"inch\"", 1, "units", model.CodeSetting, `"in" or "mm"`},
		{"units = 5", 1, "units", model.CodeSetting, `"in" or "mm"`},
		{"\n[kerf]\ncroscut = 1", 3, "kerf.croscut", model.CodeUnknownKey, "kerf.crosscut"},
		{"crosscut = \"1/8\"", 1, "crosscut", model.CodeUnknownKey, "kerf.crosscut"},
		{"[kerff]\nrip = 1", 1, "kerff", model.CodeUnknownKey, "kerf"},
		{"[material.oak.ofcut]\nvalue = 0.5", 1, `material."oak".ofcut`, model.CodeUnknownKey,
			"offcut"},
		{"[section.\"8/4\".allowance]\nlength = 1", 1, `section."8/4".allowance`,
			model.CodeUnknownKey, "nearest"},
		{"[section.\"8/9\".offcut]\n", 1, `section."8/9"`, model.CodeSection, "write "},
		{"[section.\"8/4\".offcut]\nvalue=0.1\n[section.\"8 / 4\".offcut]\nvalue=0.2", 3,
			`section."8 / 4"`, model.CodeDuplicate, "one table"},
		{"[material.oak.offcut]\n[material.Oak.offcut]", 2, `material."Oak"`, model.CodeDuplicate,
			"one table"},
		{"material = 3", 1, "material", model.CodeSetting, "[material."},
		{"[material]\noak = 3", 2, `material."oak"`, model.CodeSetting, "write a table"},
		{"kerf = \"1/8\"", 1, "kerf", model.CodeSetting, "write [kerf]"},
		{"[[kerf]]\nrip = \"1/8\"", 1, "kerf", model.CodeSetting, "write [kerf]"},
		{"[kerf]\nrip = true", 2, "kerf.rip", model.CodeSetting, "in quotes"},
		{"[kerf]\nrip = {a = 1}", 2, "kerf.rip", model.CodeSetting, "in quotes"},
		{"[kerf]\nrip = \"1/8x\"", 2, "kerf.rip", model.CodeSetting, "no unit; write in"},
		{"[kerf]\nrip = \"-1/8\"", 2, "kerf.rip", model.CodeSetting, "0 or more"},
		{"[kerf]\nrip = -0.125", 2, "kerf.rip", model.CodeSetting, "0 or more"},
		{"[kerf]\nrip = inf", 2, "kerf.rip", model.CodeSetting, "write one such as"},
		{"[kerf]\nrip = 3.2", 2, "kerf.rip", model.CodeSetting, "3.2mm"},
		{"[section.\"2 x 4\".offcut]\nkeep_length = \"101m\"", 2,
			`section."2x4".offcut.keep_length`, model.CodeSetting, "check its unit"},
		{"[offcut]\nvalue = 1.5", 2, "offcut.value", model.CodeSetting, "such as 0.5"},
		{"[offcut]\nvalue = -0.1", 2, "offcut.value", model.CodeSetting, "such as 0.5"},
		{"[offcut]\nvalue = 1e300", 2, "offcut.value", model.CodeSetting, "such as 0.5"},
		{"[offcut]\nvalue = 0.1234567", 2, "offcut.value", model.CodeSetting, "such as 0.5"},
		{"[offcut]\nvalue = nan", 2, "offcut.value", model.CodeSetting, "such as 0.5"},
		{"[offcut]\nvalue = \"0.5\"", 2, "offcut.value", model.CodeSetting, "without quotes"},
		{"[offcut]\nstrip_value = 1.01", 2, "offcut.strip_value", model.CodeSetting,
			"above 1 strips would be worth more than the board that they came off; " +
				"write a share such as 0.5"},
		{"[offcut]\nstrip_value = -0.1", 2, "offcut.strip_value", model.CodeSetting,
			"such as 0.5"},
		{"[offcut]\nstrip_value = \"0.6\"", 2, "offcut.strip_value", model.CodeSetting,
			"without quotes"},
		{"[offcut]\nstrip_worth = 0.6", 2, "offcut.strip_worth", model.CodeUnknownKey,
			"offcut.strip_value"},
		{"[material.oak.offcut]\nstrip_value = 2", 2, `material."oak".offcut.strip_value`,
			model.CodeSetting, "such as 0.5"},
		{"[section.\"8/4\".offcut]\nstrip_value = 2", 2, `section."8/4".offcut.strip_value`,
			model.CodeSetting, "such as 0.5"},
		{"[material.oak.offcut]\nvalue = 2", 2, `material."oak".offcut.value`, model.CodeSetting,
			"such as 0.5"},
		{"[material.oak]\nspecies = \"oak\"", 2, `material."oak".species`, model.CodeSetting,
			"write red oak or white oak, or"},
		{"[material.oak]\nspecies = \"rde oak tree\"", 2, `material."oak".species`,
			model.CodeSetting, "write red oak, or"},
		{"[material.oak]\nspecies = \" \"", 2, `material."oak".species`, model.CodeSetting,
			"such as red oak"},
		{"[bins.a]\nlongest = 0", 2, `bins."a".longest`, model.CodeSetting, "leave the key out"},
		{"[bins.a]\nlongest = \"101m\"", 2, `bins."a".longest`, model.CodeSetting,
			"check its unit"},
		{"[bins.a]\nmost = -1", 2, `bins."a".most`, model.CodeSetting, "has room for"},
		{"[bins.a]\nmost = 200001", 2, `bins."a".most`, model.CodeSetting, "has room for"},
		{"[bins.a]\nmost = \"20\"", 2, `bins."a".most`, model.CodeSetting, "such as 3"},
		{"[bins.a]\nlength = 4", 2, `bins."a".length`, model.CodeUnknownKey, "longest"},
		{"[bins.a]\nmost = 4\n[bins.\"A \"]\nmost = 2", 3, `bins."A "`, model.CodeDuplicate,
			"one table"},
		{"[material.oak]\nspecies = 1", 2, `material."oak".species`, model.CodeSetting,
			"in quotes"},
		{"[section.\"8/4\"]\nspecies = \"red oak\"", 2, `section."8/4".species`,
			model.CodeUnknownKey, "nearest"},
		{"[allowance]\npanel = \"1/2\"", 2, "allowance.panel", model.CodeUnknownKey,
			"the nearest known one is glue_up.panel"},
		{"[material.oak.allowance]\npanel = 0", 2, "material.\"oak\".allowance.panel",
			model.CodeUnknownKey, "the nearest known one is glue_up.panel"},
		{"[glue_up]\nstep = 0", 2, "glue_up.step", model.CodeSetting, "write 0.03125 in or more"},
		{"[section.\"8/4\".glue_up]\nnarrowest = 0", 2, `section."8/4".glue_up.narrowest`,
			model.CodeSetting, "or more"},
		{"[rip]\ntrimming_cut = \"yes\"", 2, "rip.trimming_cut", model.CodeSetting,
			"write true or false, without quotes"},
		{"[rip]\ntrimming_cut = 1", 2, "rip.trimming_cut", model.CodeSetting,
			"write true or false, without quotes"},
		{"[rip]\ntrimming_cut = []", 2, "rip.trimming_cut", model.CodeSetting,
			"write true or false, without quotes"},
		{"[rip]\ntrimming = true", 2, "rip.trimming", model.CodeUnknownKey, "rip.trimming_cut"},
		{"trimming_cut = true", 1, "trimming_cut", model.CodeUnknownKey, "rip.trimming_cut"},
		{"rip = true", 1, "rip", model.CodeSetting, "write [rip]"},
		{"[section.\"2x6\".rip]\ntrimming_cut = true", 1, `section."2x6".rip`, model.CodeUnknownKey,
			"nearest"},
		{"[safety]\nshortest_rip = true", 2, "safety.shortest_rip", model.CodeSetting, "in quotes"},
		{"[safety]\nnarrowest_rip = -1", 2, "safety.narrowest_rip", model.CodeSetting, "0 or more"},
		{"[material.oak.safety]\nshortest_rip = \"101m\"", 2, `material."oak".safety.shortest_rip`,
			model.CodeSetting, "check its unit"},
		{"[section.\"2x6\".safety]\nnarrowest_rips = 1", 2, `section."2x6".safety.narrowest_rips`,
			model.CodeUnknownKey, "safety.narrowest_rip"},
		{"[handling]\nboard = -1", 2, "handling.board", model.CodeSetting,
			"take one board in hand"},
		{"[handling]\nboard = \"a\"", 2, "handling.board", model.CodeSetting, "12.50"},
		{"[handling]\nrip = -0.1", 2, "handling.rip", model.CodeSetting, "to rip one foot"},
		{"units = \"mm\"\n[handling]\nrip = 1000.01", 3, "handling.rip", model.CodeSetting,
			"to rip one metre"},
		{"[spare]\nat_most = -0.01", 2, "spare.at_most", model.CodeSetting,
			"one spare copy may cost"},
		{"[spare]\nat_most = 1000000.01", 2, "spare.at_most", model.CodeSetting,
			"one spare copy may cost"},
		{"[spare]\nat_mots = 1", 2, "spare.at_mots", model.CodeUnknownKey, "spare.at_most"},
		{"[material.oak.spare]\nat_most = 1", 1, `material."oak".spare`, model.CodeUnknownKey,
			"nearest"},
		{"[machine]\nplaner_width = -1", 2, "machine.planer_width", model.CodeSetting, "0 or more"},
		{"[machine]\njointer_width = \"101m\"", 2, "machine.jointer_width", model.CodeSetting,
			"check its unit"},
		{"[machine]\nplanner_width = 12", 2, "machine.planner_width", model.CodeUnknownKey,
			"machine.planer_width"},
		{"[section.\"8/4\".machine]\nplaner_width = 12", 1, `section."8/4".machine`,
			model.CodeUnknownKey, "nearest"},
		{"[work]\nsetting = -1", 2, "work.setting", model.CodeSetting, "such as 1.5"},
		{"[work]\nlift = \"0.5\"", 2, "work.lift", model.CodeSetting, "without quotes"},
		{"[work]\nlift = 0.0005", 2, "work.lift", model.CodeSetting, "round it to three"},
		{"[work]\nsetting = 1000.5", 2, "work.setting", model.CodeSetting,
			"how many minutes it takes"},
		{"[work]\nwalk = 1", 2, "work.walk", model.CodeUnknownKey, "work.lift"},
		{"[handling]\nripping = 0.1", 2, "handling.ripping", model.CodeUnknownKey,
			"handling.rip"},
		{"[material.oak.handling]\nrip = 0.1", 1, `material."oak".handling`, model.CodeUnknownKey,
			"nearest"},
		{"[defects]\nweak = \"split\"", 2, "defects.weak", model.CodeSetting,
			`["sound knot", "stain"]`},
		{"[defects]\nweak = [\" \"]", 2, "defects.weak", model.CodeSetting, "take it out"},
		{"[defects]\nsound = \"knot\"", 2, "defects.sound", model.CodeSetting,
			`["sound knot", "stain"]`},
		{"[defects]\nsound = [\"\"]", 2, "defects.sound", model.CodeSetting, "take it out"},
		{"batch = \"a b\"", 1, "batch", model.CodeSetting, "letters"},
		{"batch = 4", 1, "batch", model.CodeSetting, "in quotes"},
		{"seasoning = \"wet\"", 1, "seasoning", model.CodeSetting, `write "dry" or "green"`},
		{"surface = 2", 1, "surface", model.CodeSetting, `in quotes, such as "rough"`},
		{"[defects]\nseasoning = \"green\"", 2, "defects.seasoning", model.CodeUnknownKey,
			"seasoning, which stands before all tables"},
		{"[labels]\ncolumns = 0", 2, "labels.columns", model.CodeSetting,
			"write how many there are on your sheet"},
		{"[labels]\nrows = 8.5", 2, "labels.rows", model.CodeSetting, "such as 3"},
		{"[labels]\nsheet = \"a5\"", 2, "labels.sheet", model.CodeSetting, `or "letter"`},
		{"[labels]\ntop = -1", 2, "labels.top", model.CodeSetting, "0 or more"},
		{"[labels]\nleft = \"1m\"", 2, "labels.left", model.CodeSetting,
			"measure it on your sheet"},
		{"[labels]\ncolumns = 7", 2, "labels.columns", model.CodeSetting,
			"fewer columns or rows"},
		{"[tally]\nhalf = \"down\"", 2, "tally.half", model.CodeSetting,
			`write "up" or "alternate"`},
		{"[display]\ninch = \"1/8\"", 2, "display.inch", model.CodeSetting,
			`write "1/64" or "1/32" or "1/16"`},
		{"[tally]\nhardwood = \"surface\"", 2, "tally.hardwood", model.CodeSetting,
			`write "surface measure" or "exact"`},
		{"[material.oak]\nsurface = \"S4S\"", 2, `material."oak".surface`, model.CodeSetting,
			`write "rough" or "S2S"`},
		{"[section.\"8/4\"]\nsurface = true", 2, `section."8/4".surface`, model.CodeSetting,
			"in quotes"},
		{"currency = \"\"", 1, "currency", model.CodeSetting, "USD"},
		{"\n\nkerf = 1/8", 3, "", model.CodeSyntax, "in quotes"},
		{"[kerf]\nrip = 1\nrip = 2", 3, "kerf.rip", model.CodeDuplicate, "take one out"},
		{"[kerf]\n[trim]\n[kerf]", 3, "kerf", model.CodeDuplicate, "take one out"},
		{"kerf = 1\n\n[kerf]\nrip = 1", 3, "kerf", model.CodeDuplicate, "take one out"},
		{"batch = 'M4'\n\nbatch.x = 1", 3, "batch", model.CodeDuplicate, "take one out"},
		{"kerf.rip = 1\n[kerf]\ncrosscut = 1", 2, "kerf", model.CodeDuplicate, "take one out"},
		{"[material.oak]\n[material]\noak.safety.shortest_blank = 1", 3, `material."oak"`,
			model.CodeDuplicate, "take one out"},
		{"\nkerf = {rip = 1, rip = 1}", 2, "kerf.rip", model.CodeDuplicate, "take one out"},
		{"\nkerf = [[], {rip = 1, rip = 1}]", 2, "kerf.1.rip", model.CodeDuplicate, "take one out"},
		{"kerf = {rip = 1,\nrip = 2}", 1, "", model.CodeSyntax,
			"this cannot be read; write one key a line"},
		{strings.Repeat("x", 1000) + " = 1", 1, strings.Repeat("x", 200), model.CodeUnknownKey,
			"nearest"},
		{"x = 99999999999999999999", 1, "", model.CodeSyntax, "one key a line"},
		{"# caf\xe9", 1, "", model.CodeNotUTF8, "UTF-8"},
		{"\xff\xfea\x00", 0, "", model.CodeNotText, "UTF-8"},
		{"a = 1\rb = 2", 0, "", model.CodeLineEnds, "LF"},
		{strings.Repeat("#", maxBytes+1), 0, "", model.CodeTooBig, "right file"},
	} {
		_, err := Read(strings.NewReader(c.text), "shop.toml")
		all, _ := err.(model.InputErrors)
		if len(all) != 1 {
			t.Errorf("%.60q: %v", c.text, err)
			continue
		}
		e := all[0]
		if e.File != "shop.toml" || e.Line != c.line || e.Column != c.key || e.Code != c.code ||
			!strings.Contains(e.Cause+"; "+e.Remedy, c.remedy) || goWord.MatchString(e.Error()) {
			t.Errorf("%.60q: want line %d, key %s, code %s, remedy %s\ngot %s %v", c.text, c.line,
				c.key, c.code, c.remedy, e.Code, e)
		}
	}
}

// All mistakes come out at once, and the unit was still found.
func TestAllSettingsAtOnce(t *testing.T) {
	s, err := Read(strings.NewReader(
		"units = \"mm\"\nbatch = 1\n[kerf]\nrip = \"x\"\n[offcut]\nvalue = 2\nx = 1\n"),
		"shop.toml")
	var got []string
	all, _ := err.(model.InputErrors)
	for _, e := range all {
		got = append(got, e.Column)
	}
	if d := cmp.Diff([]string{"batch", "kerf.rip", "offcut.value", "offcut.x"}, got); d != "" ||
		s.Units != model.Millimetre {
		t.Error(s.Units, d)
	}
}

// A bare number is the same length as its text in quotes, which must not look like a thousand.
func TestBareNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[1-9]?[0-9]{1,2}(\.[0-9]{1,5})?`).Filter(func(s string) bool {
			return len(s) == 1 || s[0] != '0' || s[1] == '.'
		}).Draw(t, "number")
		unit := rapid.SampledFrom([]string{"in", "mm"}).Draw(t, "unit")
		head := "units = \"" + unit + "\"\n[safety]\nshortest_blank = "
		a, err1 := Read(strings.NewReader(head+text), "shop.toml")
		b, err2 := Read(strings.NewReader(head+`"`+model.Unmistaken(text)+`"`), "shop.toml")
		if err1 != nil || err2 != nil || a.Safety != b.Safety {
			t.Fatalf("%s: %v %v, %v %v", text, a.Safety, b.Safety, err1, err2)
		}
	})
}

// text writes settings as a shop.toml with every key.
func text(t *testing.T, s *model.Settings) string {
	doc := map[string]any{}
	put := func(v any, path ...string) {
		at := doc
		for _, k := range path[:len(path)-1] {
			if at[k] == nil {
				at[k] = map[string]any{}
			}
			at = at[k].(map[string]any)
		}
		at[path[len(path)-1]] = v
	}
	keyed := func(v any, key string, above ...string) {
		table, last, _ := strings.Cut(key, ".")
		put(v, append(above, table, last)...)
	}
	share := func(f model.Fraction) float64 { return float64(f.Num) / float64(f.Den) }
	put(string(s.Units), "units")
	put(s.Currency, "currency")
	put(s.Batch, "batch")
	put(string(s.Display.Inch), "display", "inch")
	put(string(s.Condition.Seasoning), "seasoning")
	put(string(s.Condition.Surface), "surface")
	put(string(s.Tally.Hardwood), "tally", "hardwood")
	put(string(s.Tally.Half), "tally", "half")
	put(share(s.Offcut.Value), "offcut", "value")
	put(share(s.Offcut.StripValue), "offcut", "strip_value")
	put(share(s.Usable), "reserve", "usable")
	put(model.Unmistaken(s.Handling.String()), "handling", "board")
	put(model.Unmistaken(s.Ripping.String()), "handling", "rip")
	put(model.Unmistaken(s.SpareAtMost.String()), "spare", "at_most")
	minutes := func(m model.Minutes) float64 { return float64(m) / model.UnitsOfMinute }
	put(minutes(s.Work.Setting), "work", "setting")
	put(minutes(s.Work.Lift), "work", "lift")
	put(model.Unmistaken(s.Change.String()), "work", "change")
	put(s.Weak, "defects", "weak")
	put(s.Sound, "defects", "sound")
	put(s.Hidden, "defects", "hidden")
	put(s.TrimmingCut, "rip", "trimming_cut")
	put(string(s.Labels.Sheet), "labels", "sheet")
	put(s.Labels.Columns, "labels", "columns")
	put(s.Labels.Rows, "labels", "rows")
	for _, l := range s.Labels.Lengths() {
		put(model.Unmistaken(l.Value.Decimal(model.Millimetre)), "labels", l.Key)
	}
	put(string(s.Condition.Seasoning), "seasoning")
	put(string(s.Condition.Surface), "surface")
	put(string(s.Tally.Hardwood), "tally", "hardwood")
	put(string(s.Tally.Half), "tally", "half")
	for _, l := range s.Lengths() {
		keyed(model.Unmistaken(l.Value.Decimal(s.Units)), l.Key)
	}
	for key := range shopKeys(s) {
		table, last, below := strings.Cut(key, ".")
		if at, ok := doc[table].(map[string]any); doc[table] == nil || below &&
			(!ok || at[last] == nil) {
			t.Fatalf("key %s is not written", key)
		}
	}
	override := func(o model.Override, kind, name string) {
		put(map[string]any{}, kind, name)
		for _, l := range o.Lengths() {
			if *l.Value != nil {
				keyed(model.Unmistaken((*l.Value).Decimal(s.Units)), l.Key, kind, name)
			}
		}
		if o.Value != nil {
			put(share(*o.Value), kind, name, "offcut", "value")
		}
		if o.StripValue != nil {
			put(share(*o.StripValue), kind, name, "offcut", "strip_value")
		}
		if o.Seasoning != nil {
			put(string(*o.Seasoning), kind, name, "seasoning")
		}
		if o.Surface != nil {
			put(string(*o.Surface), kind, name, "surface")
		}
		if o.Species != nil {
			put(*o.Species, kind, name, "species")
		}
		if o.Usable != nil {
			put(share(*o.Usable), kind, name, "reserve", "usable")
		}
		if o.Seasoning != nil {
			put(string(*o.Seasoning), kind, name, "seasoning")
		}
		if o.Surface != nil {
			put(string(*o.Surface), kind, name, "surface")
		}
	}
	for name, o := range s.Materials {
		override(o, "material", name)
	}
	for name, o := range s.Sections {
		override(o, "section", string(name))
	}
	for name, y := range s.Yards {
		put(map[string]any{}, "yards", name)
		if y.TaxPercent != nil {
			put(share(*y.TaxPercent), "yards", name, "tax_percent")
		}
		if y.LongestLoad != nil {
			put(model.Unmistaken(y.LongestLoad.Decimal(s.Units)), "yards", name, "longest_load")
		}
	}
	for name, b := range s.Bins {
		put(map[string]any{}, "bins", name)
		if b.Longest != nil {
			put(model.Unmistaken(b.Longest.Decimal(s.Units)), "bins", name, "longest")
		}
		if b.Most != nil {
			put(*b.Most, "bins", name, "most")
		}
	}
	b, err := toml.Marshal(doc)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// Whatever stands in the file, the settings pass their own checks and are the same when they are
// written and read again, or there are mistakes that each name a line, a key and a remedy; a file
// that is refused as a whole has no line, broken TOML no key.
func FuzzRead(f *testing.F) {
	f.Add([]byte(whole))
	f.Add([]byte("[kerf]\nrip = 1/8"))
	f.Add([]byte("[[material]]\na = [1, {b = 2}]"))
	f.Add([]byte("[section.\"2 x 6\".offcut]\nvalue = 0.25\nstrip_value = 0.7"))
	f.Add([]byte("[material.\" oak\\u00e9 \".offcut]\nvalue = 1e-6\nkeep_length = 0x1F\n" +
		"[material.ash]\nsafety = {shortest_blank = 1_0}"))
	f.Add([]byte("units = 'mm'\nhandling.board = 12.3456\nhandling.rip = 0.25\n" +
		"defects.weak = []\ndefects.hidden = [\"A  b\"]\n" +
		"kerf.rip = 25.4\nkerf.\"crosscut\" = 1"))
	f.Add([]byte("[kerf]\nrip = 1\n[kerf]\nrip = 1"))
	f.Add([]byte("[rip]\ntrimming_cut = false\n[safety]\nshortest_rip = \"18\"\n" +
		"narrowest_rip = 1\n[material.ash.safety]\nnarrowest_rip = \"1 1/2\""))
	f.Add([]byte("[yards.\"a b\"]\ntax_percent = 7.0001\nlongest_load = 20\n[yards.c]\n" +
		"[reserve]\nusable = 0.01"))
	f.Add([]byte("[bins.\" A 1\"]\nlongest = \"4'\"\nmost = 0\n[bins.b]"))
	f.Add([]byte("\xff\xfek\x00"))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := Read(strings.NewReader(string(data)), "shop.toml")
		if err == nil {
			var m model.Mistakes
			if s.Validate(&m); m.Err() != nil {
				t.Fatalf("%v\n%q", m.Err(), data)
			}
			again, err := Read(strings.NewReader(text(t, &s)), "shop.toml")
			if d := cmp.Diff(s, again, cmpopts.EquateEmpty(),
				cmpopts.IgnoreFields(model.YardFacts{}, "Where")); d != "" || err != nil {
				t.Fatalf("%v\n%s\n%q\n%s", err, d, data, text(t, &s))
			}
			return
		}
		for _, e := range err.(model.InputErrors) {
			wholeFile := slices.Contains(
				[]string{model.CodeTooBig, model.CodeNotText, model.CodeLineEnds,
					model.CodeTooMany}, e.Code)
			unkeyed := wholeFile || e.Code == model.CodeNotUTF8 || e.Code == model.CodeSyntax
			if e.File != "shop.toml" || e.Cause == "" || e.Remedy == "" || len(e.Column) > 1000 ||
				!utf8.ValidString(e.Error()) ||
				strings.ContainsFunc(e.Error(), unicode.IsControl) ||
				!wholeFile && (e.Line < 1 || e.Line > 1+bytes.Count(data, []byte("\n"))) ||
				!unkeyed && e.Column == "" {
				t.Fatalf("%+v\n%q", e, data)
			}
		}
	})
}
