package model

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// LengthSetting is one length among the settings: its key in shop.toml, where it is kept, and what
// it is where the key is left out.
type LengthSetting struct {
	Key          string
	Value        *Length
	Inch, Metric Length // in a shop of that unit
}

// Default is what the length is where its key is left out, in a shop whose bare numbers are in u.
func (l *LengthSetting) Default(u Unit) Length {
	if u == Millimetre {
		return l.Metric
	}
	return l.Inch
}

// Lengths lists every length of the settings but those of single materials and sections. The
// defaults of a metric shop are what such a shop would set: whole or half millimetres, so that
// blanks are whole, too.
func (s *Settings) Lengths() []LengthSetting {
	const in, mm = UnitsPerInch, UnitsPerMillimetre
	return []LengthSetting{
		{"kerf.crosscut", &s.CrosscutKerf, in / 8, 3 * mm},
		{"kerf.rip", &s.RipKerf, in / 8, 3 * mm},
		{"trim.yard_end", &s.YardEnd, in / 2, 12 * mm},
		{"trim.rack_end", &s.RackEnd, 0, 0},
		{"allowance.length", &s.Allowance.Length, in, 25 * mm},
		{"allowance.edge", &s.Allowance.Edge, in / 16, 3 * mm / 2},
		{"allowance.thickness", &s.Allowance.Thickness, 3 * in / 16, 5 * mm},
		{"allowance.thickness_s2s", &s.Allowance.ThicknessS2S, in / 16, 3 * mm / 2},
		{"allowance.eased_edge", &s.Allowance.EasedEdge, in / 8, 3 * mm},
		{"allowance.plane_limit", &s.Allowance.PlaneLimit, in / 2, 12 * mm},
		{"offcut.keep_length", &s.Offcut.KeepLength, 12 * in, 300 * mm},
		{"offcut.keep_width", &s.Offcut.KeepWidth, 3 * in / 2, 40 * mm},
		{"safety.shortest_blank", &s.Safety.ShortestBlank, 12 * in, 300 * mm},
		{"safety.shortest_rip", &s.Safety.ShortestRip, 12 * in, 300 * mm},
		{"safety.narrowest_rip", &s.Safety.NarrowestRip, 3 * in / 4, 20 * mm},
		{"glue_up.joint", &s.GlueUp.Joint, in / 16, mm},
		{"glue_up.face_joint", &s.GlueUp.FaceJoint, in / 16, mm},
		{"glue_up.panel", &s.GlueUp.Panel, in / 2, 12 * mm},
		{"glue_up.narrowest", &s.GlueUp.Narrowest, 3 * in / 2, 40 * mm},
		{"glue_up.widest", &s.GlueUp.Widest, 11 * in / 2, 140 * mm},
		{"glue_up.step", &s.GlueUp.Step, in / 4, 5 * mm},
		{"glue_up.extra_length", &s.GlueUp.ExtraLength, 0, 0},
		{"gang.longest", &s.Gang.Longest, 48 * in, 1200 * mm},
		{"machine.jointer_width", &s.Machine.JointerWidth, 0, 0},
		{"machine.planer_width", &s.Machine.PlanerWidth, 0, 0},
		{"machine.planer_shortest", &s.Machine.PlanerShortest, 0, 0},
		{"defects.margin", &s.Margin, in / 4, 6 * mm},
		{"count.tolerance", &s.CountTolerance, in / 4, 6 * mm},
	}
}

// OverrideLength is one length of a material or section: its key below the name, and where it is
// kept.
type OverrideLength struct {
	Key   string
	Value **Length
}

// Lengths lists every length that a material may have of its own; a section has those that do not
// begin with allowance.
func (o *Override) Lengths() []OverrideLength {
	return []OverrideLength{
		{"allowance.length", &o.Length}, {"allowance.edge", &o.Edge},
		{"allowance.thickness", &o.Thickness}, {"allowance.thickness_s2s", &o.ThicknessS2S},
		{"allowance.eased_edge", &o.EasedEdge},
		{"allowance.plane_limit", &o.PlaneLimit},
		{"offcut.keep_length", &o.KeepLength}, {"offcut.keep_width", &o.KeepWidth},
		{"safety.shortest_blank", &o.ShortestBlank}, {"safety.shortest_rip", &o.ShortestRip},
		{"safety.narrowest_rip", &o.NarrowestRip},
		{"glue_up.joint", &o.Joint}, {"glue_up.face_joint", &o.FaceJoint},
		{"glue_up.panel", &o.Panel}, {"glue_up.narrowest", &o.Narrowest},
		{"glue_up.widest", &o.Widest}, {"glue_up.step", &o.Step},
		{"glue_up.extra_length", &o.ExtraLength}, {"gang.longest", &o.LongestGang},
	}
}

// The words of the settings that are one of a few.
var (
	Seasonings    = []Seasoning{Dry, Green}
	Surfaces      = []Surface{Rough, S2S}
	HardwoodRules = []HardwoodRule{SurfaceMeasure, ExactVolume}
	HalfRules     = []HalfRule{HalfUp, HalfAlternate}
)

// ParseChoice reads one of a few words, in any case. The error says what is wrong; what to write.
func ParseChoice[T ~string](s string, words []T) (T, error) {
	var names []string
	for _, w := range words {
		if strings.EqualFold(s, string(w)) {
			return w, nil
		}
		names = append(names, strconv.Quote(string(w)))
	}
	return "", fmt.Errorf("%.40q is not known here; write %s", s, strings.Join(names, " or "))
}

// choice judges one of a few words in its plain spelling.
func choice[T ~string](r row, key string, v T, words []T) {
	plain, err := ParseChoice(string(v), words)
	if err != nil {
		cause, remedy := SplitRemedy(err)
		r.wrong(CodeSetting, key, cause, remedy)
	} else if plain != v {
		r.wrong(CodeSetting, key, fmt.Sprintf("%q is not the plain spelling", string(v)),
			"write "+strconv.Quote(string(plain)))
	}
}

// Validate adds every setting that is out of its limits. The errors name the key as column, and no
// file.
func (s *Settings) Validate(m *Mistakes) {
	r := row{m: m, unit: s.Units}
	wrong := func(key, cause, remedy string) { r.wrong(CodeSetting, key, cause, remedy) }
	if s.Units != Inch && s.Units != Millimetre {
		wrong("units", fmt.Sprintf("%q is no unit", string(s.Units)), `write "in" or "mm"`)
		r.unit = Inch
	}
	if s.Currency == "" || len(s.Currency) > 12 ||
		strings.ContainsFunc(s.Currency, unicode.IsControl) {
		wrong("currency", "it is empty or longer than 12 bytes", `write a short name such as "USD"`)
	}
	if len(s.Batch) > LongestBatch || strings.Trim(s.Batch, lettersAndDigits+"-_.") != "" ||
		strings.HasPrefix(s.Batch, "-") {
		wrong("batch", fmt.Sprintf("%q cannot be part of a board's id", s.Batch),
			fmt.Sprintf("write at most %d letters a to z, digits, points or dashes, no dash first",
				LongestBatch))
	}
	choice(r, "display.inch", s.Display.Inch, InchFractions)
	choice(r, "seasoning", s.Condition.Seasoning, Seasonings)
	choice(r, "surface", s.Condition.Surface, Surfaces)
	choice(r, "tally.hardwood", s.Tally.Hardwood, HardwoodRules)
	choice(r, "tally.half", s.Tally.Half, HalfRules)
	for _, l := range s.Lengths() {
		r.setting(l.Key, *l.Value)
	}
	r.share("offcut.value", s.Offcut.Value, newWood)
	r.share("offcut.strip_value", s.Offcut.StripValue, wholeWidth)
	if s.Handling < 0 || s.Handling > DearestBoard {
		wrong("handling.board", fmt.Sprintf("%s is not between 0 and %s", s.Handling, DearestBoard),
			"write what it costs to take one board in hand")
	}
	if s.Ripping < 0 || s.Ripping > DearestRip {
		_, per := s.Units.YardUnit()
		wrong("handling.rip", fmt.Sprintf("%s is not between 0 and %s", s.Ripping, DearestRip),
			"write what it costs to rip one "+per)
	}
	if s.SpareAtMost < 0 || s.SpareAtMost > DearestBoard {
		wrong("spare.at_most", fmt.Sprintf("%s is not between 0 and %s", s.SpareAtMost,
			DearestBoard), "write what one spare copy may cost")
	}
	if s.Change < 0 || s.Change > DearestBoard {
		wrong("work.change", fmt.Sprintf("%s is not between 0 and %s", s.Change, DearestBoard),
			"write what it is worth to you that a board keeps its layout")
	}
	for _, w := range []struct {
		key string
		is  Minutes
	}{{"work.setting", s.Work.Setting}, {"work.lift", s.Work.Lift}} {
		if w.is < 0 || w.is > LongestMinutes {
			wrong(w.key, fmt.Sprintf("%s is not between 0 and %s", w.is, LongestMinutes),
				"write how many minutes it takes")
		}
	}
	for _, kinds := range []struct {
		key  string
		list []string
	}{{"defects.weak", s.Weak}, {"defects.sound", s.Sound}, {"defects.hidden", s.Hidden}} {
		if slices.Contains(kinds.list, "") {
			wrong(kinds.key, "one of the kinds is empty", "take it out")
		}
	}
	r.usable("reserve.usable", s.Usable)
	s.labels(r)
	for _, name := range slices.Sorted(maps.Keys(s.Yards)) {
		r.yard(fmt.Sprintf("yards.%q.", name), s.Yards[name])
	}
	for _, name := range slices.Sorted(maps.Keys(s.Bins)) {
		r.bin(fmt.Sprintf("bins.%q.", name), s.Bins[name])
	}
	for _, name := range slices.Sorted(maps.Keys(s.Materials)) {
		r.override(fmt.Sprintf("material.%q.", name), s.Materials[name], true)
	}
	for _, name := range slices.Sorted(maps.Keys(s.Sections)) {
		if c, err := ParseSection(string(name)); err != nil || c != name {
			wrong(fmt.Sprintf("section.%q", string(name)), "the section is not known",
				"write one such as 2x6, 4/4 or 38x140mm")
		}
		r.override(fmt.Sprintf("section.%q.", string(name)), s.Sections[name], false)
	}
}

func (r row) override(prefix string, o Override, allowances bool) {
	for _, l := range o.Lengths() {
		if *l.Value == nil {
			continue
		}
		r.setting(prefix+l.Key, **l.Value)
		if !allowances && strings.HasPrefix(l.Key, "allowance.") {
			r.wrong(CodeSetting, prefix+l.Key, "a section has no allowances",
				"set them for a material")
		}
	}
	if o.Seasoning != nil {
		choice(r, prefix+"seasoning", *o.Seasoning, Seasonings)
	}
	if o.Surface != nil {
		choice(r, prefix+"surface", *o.Surface, Surfaces)
	}
	if o.Value != nil {
		r.share(prefix+"offcut.value", *o.Value, newWood)
	}
	if o.StripValue != nil {
		r.share(prefix+"offcut.strip_value", *o.StripValue, wholeWidth)
	}
	if o.Species != nil {
		r.species(prefix+"species", *o.Species, allowances)
	}
	if o.Usable != nil {
		r.usable(prefix+"reserve.usable", *o.Usable)
		if !allowances {
			r.wrong(CodeSetting, prefix+"reserve.usable", "a section has no reserve of its own",
				"set it for a material")
		}
	}
}

// decimal says whether a fraction is 0 or more, in lowest terms, and not finer than one in den.
func (f *Fraction) decimal(den int64) bool {
	return f.Den > 0 && f.Den <= den && f.Num >= 0 && gcd(f.Num, f.Den) == 1
}

// species judges the name of a wood, which only a material has.
func (r row) species(key, name string, material bool) {
	if _, err := FindSpecies(name); err != nil {
		cause, remedy := SplitRemedy(err)
		r.wrong(CodeSetting, key, cause, remedy)
	}
	if !material {
		r.wrong(CodeSetting, key, "a section is of no species", "name it for a material")
	}
}

// finestStave is the least that the narrowest stave, and the step between two, may be.
func finestStave(u Unit) Length {
	if u == Millimetre {
		return UnitsPerMillimetre
	}
	return UnitsPerInch / 32
}

// setting judges a length: 0 to 100 m, a kerf to 1 in, what staves are ripped to from the finest
// on.
func (r row) setting(key string, l Length) {
	switch {
	case l < 0:
		r.wrong(CodeSetting, key, showLength(l, r.unit)+" is below 0",
			"write a length of 0 or more")
	case l < finestStave(r.unit) && (strings.HasSuffix(key, "glue_up.narrowest") ||
		strings.HasSuffix(key, "glue_up.step")):
		r.wrong(CodeSetting, key, showLength(l, r.unit)+" is finer than staves are ripped",
			"write "+showLength(finestStave(r.unit), r.unit)+" or more")
	case strings.HasPrefix(key, "kerf.") && l > WidestKerf:
		r.wrong(CodeSetting, key,
			fmt.Sprintf("a kerf of %s is wider than any saw's", showLength(l, r.unit)),
			`write what the blade turns into dust, with its unit, such as "1/8 in" or "3.2mm"`)
	case l > LongestLength:
		r.wrong(CodeSetting, key, showLength(l, r.unit)+" is more than 100 m",
			"write a shorter length, or check its unit")
	}
}

// What would be worth more than what, if a share were above 1.
const (
	newWood    = "wood on hand would be worth more than new wood"
	wholeWidth = "strips would be worth more than the board that they came off"
)

// share judges a share of worth: 0 to 1 in at most six decimals. above1 says why not more.
func (r row) share(key string, f Fraction, above1 string) {
	if !f.decimal(1_000_000) || f.Num > f.Den {
		r.wrong(CodeSetting, key,
			"it is not between 0 and 1 in at most six decimals, and above 1 "+above1,
			"write a share such as 0.5")
	}
}
