package settings

import (
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"rackwright/model"
)

const in = model.UnitsPerInch

// whole is the file of the design with every key, and values that are not the defaults.
const whole = "\ufeff" + `
units    = "mm"
currency = "EUR"
batch    = "M-4.b"

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
eased_edge = 4
panel      = 5
plane_limit = 6

[offcut]
keep_length = "300"
keep_width  = 40
value       = 0.35

[handling]
board = 0.125

[safety]
shortest_blank = "1' 2 1/2\""

[defects]
margin = 6.5
sound  = [" Sound  Knot"]
hidden = []

[material."white oak".allowance]
thickness = "1/4in"
[material."white oak".offcut]
value = 1
[section."8/4"]
offcut = { keep_length = "8in", value = 0 }
safety.shortest_blank = 250
`

func TestReadWhole(t *testing.T) {
	const mm = model.UnitsPerMillimetre
	at := func(l model.Length) *model.Length { return &l }
	want := model.Settings{
		Units: "mm", Currency: "EUR", Batch: "M-4.b", CrosscutKerf: in / 8, RipKerf: 32 * mm / 10, YardEnd: 12 * mm, RackEnd: 5 * mm,
		Allowance: model.Allowance{Length: mm, Edge: 2 * mm, Thickness: 3 * mm, EasedEdge: 4 * mm, Panel: 5 * mm, PlaneLimit: 6 * mm},
		Offcut:    model.OffcutRule{KeepLength: 300 * mm, KeepWidth: 40 * mm, Value: model.Fraction{Num: 7, Den: 20}},
		Safety:    model.Safety{ShortestBlank: 29 * in / 2}, Handling: 1250, Margin: 65 * mm / 10, Sound: []string{"sound knot"}, Hidden: []string{},
		Materials: map[string]model.Override{"white oak": {Thickness: at(in / 4), Value: &model.Fraction{Num: 1, Den: 1}}},
		Sections:  map[model.Section]model.Override{"8/4": {KeepLength: at(8 * in), Value: &model.Fraction{Num: 0, Den: 1}, ShortestBlank: at(250 * mm)}},
	}
	got, err := Read(strings.NewReader(whole), "shop.toml")
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

// A key left out has its default, in inches, whatever the unit.
func TestDefaults(t *testing.T) {
	for text, unit := range map[string]model.Unit{"": model.Inch, "units = \"mm\"": model.Millimetre} {
		want := model.DefaultSettings()
		want.Units = unit
		got, err := Read(strings.NewReader(text), "shop.toml")
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Error(d)
		}
	}
}

var goWord = regexp.MustCompile(`\b(float64|int64|map\[|interface|struct|Settings\.|strconv|json|Unmarshal)\b`)

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
		{"[material.oak.ofcut]\nvalue = 0.5", 1, `material."oak".ofcut`, model.CodeUnknownKey, "offcut"},
		{"[section.\"8/4\".allowance]\nlength = 1", 1, `section."8/4".allowance`, model.CodeUnknownKey, "offcut"},
		{"[section.\"8/9\".offcut]\n", 1, `section."8/9"`, model.CodeSection, "write "},
		{"[section.\"8/4\".offcut]\nvalue=0.1\n[section.\"8 / 4\".offcut]\nvalue=0.2", 3, `section."8 / 4"`, model.CodeDuplicate, "one table"},
		{"[material.oak.offcut]\n[material.Oak.offcut]", 2, `material."Oak"`, model.CodeDuplicate, "one table"},
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
		{"[section.\"2 x 4\".offcut]\nkeep_length = \"101m\"", 2, `section."2x4".offcut.keep_length`, model.CodeSetting, "check its unit"},
		{"[offcut]\nvalue = 1.5", 2, "offcut.value", model.CodeSetting, "such as 0.5"},
		{"[offcut]\nvalue = -0.1", 2, "offcut.value", model.CodeSetting, "such as 0.5"},
		{"[offcut]\nvalue = 1e300", 2, "offcut.value", model.CodeSetting, "such as 0.5"},
		{"[offcut]\nvalue = 0.1234567", 2, "offcut.value", model.CodeSetting, "such as 0.5"},
		{"[offcut]\nvalue = nan", 2, "offcut.value", model.CodeSetting, "such as 0.5"},
		{"[offcut]\nvalue = \"0.5\"", 2, "offcut.value", model.CodeSetting, "without quotes"},
		{"[material.oak.offcut]\nvalue = 2", 2, `material."oak".offcut.value`, model.CodeSetting, "such as 0.5"},
		{"[handling]\nboard = -1", 2, "handling.board", model.CodeSetting, "take one board in hand"},
		{"[handling]\nboard = \"a\"", 2, "handling.board", model.CodeSetting, "12.50"},
		{"[defects]\nsound = \"knot\"", 2, "defects.sound", model.CodeSetting, `["sound knot", "stain"]`},
		{"[defects]\nsound = [\"\"]", 2, "defects.sound", model.CodeSetting, "take it out"},
		{"batch = \"a b\"", 1, "batch", model.CodeSetting, "letters"},
		{"batch = 4", 1, "batch", model.CodeSetting, "in quotes"},
		{"currency = \"\"", 1, "currency", model.CodeSetting, "USD"},
		{"\n\nkerf = 1/8", 3, "", model.CodeSyntax, "in quotes"},
		{"[kerf]\nrip = 1\nrip = 2", 3, "kerf.rip", model.CodeDuplicate, "take one out"},
		{"[kerf]\n[trim]\n[kerf]", 3, "kerf", model.CodeDuplicate, "take one out"},
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
		if e.File != "shop.toml" || e.Line != c.line || e.Column != c.key || e.Code != c.code || !strings.Contains(e.Cause+"; "+e.Remedy, c.remedy) || goWord.MatchString(e.Error()) {
			t.Errorf("%.60q: want line %d, key %s, code %s, remedy %s\ngot %s %v", c.text, c.line, c.key, c.code, c.remedy, e.Code, e)
		}
	}
}

// All mistakes come out at once, and the unit was still found.
func TestAllSettingsAtOnce(t *testing.T) {
	s, err := Read(strings.NewReader("units = \"mm\"\nbatch = 1\n[kerf]\nrip = \"x\"\n[offcut]\nvalue = 2\nx = 1\n"), "shop.toml")
	var got []string
	all, _ := err.(model.InputErrors)
	for _, e := range all {
		got = append(got, e.Column)
	}
	if d := cmp.Diff([]string{"batch", "kerf.rip", "offcut.value", "offcut.x"}, got); d != "" || s.Units != model.Millimetre {
		t.Error(s.Units, d)
	}
}

// A bare number is the same length as its text in quotes.
func TestBareNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[1-9]?[0-9]{1,2}(\.[0-9]{1,5})?`).Filter(func(s string) bool { return len(s) == 1 || s[0] != '0' || s[1] == '.' }).Draw(t, "number")
		unit := rapid.SampledFrom([]string{"in", "mm"}).Draw(t, "unit")
		head := "units = \"" + unit + "\"\n[safety]\nshortest_blank = "
		a, err1 := Read(strings.NewReader(head+text), "shop.toml")
		b, err2 := Read(strings.NewReader(head+`"`+text+`"`), "shop.toml")
		if err1 != nil || err2 != nil || a.Safety != b.Safety {
			t.Fatalf("%s: %v %v, %v %v", text, a.Safety, b.Safety, err1, err2)
		}
	})
}

// Whatever stands in the file, the settings pass their own checks, or there are mistakes with a remedy.
func FuzzRead(f *testing.F) {
	f.Add([]byte(whole))
	f.Add([]byte("[kerf]\nrip = 1/8"))
	f.Add([]byte("[[material]]\na = [1, {b = 2}]"))
	f.Add([]byte("[section.\"2 x 6\".offcut]\nvalue = 0.25"))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := Read(strings.NewReader(string(data)), "shop.toml")
		if err == nil {
			var m model.Mistakes
			s.Validate(&m)
			err = m.Err()
			if err != nil {
				t.Fatalf("%v\n%q", err, data)
			}
			return
		}
		for _, e := range err.(model.InputErrors) {
			if e.File != "shop.toml" || e.Cause == "" || e.Remedy == "" {
				t.Fatalf("%+v", e)
			}
		}
	})
}
