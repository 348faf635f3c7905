package model

import (
	"strings"
)

// Unit is what a bare number means.
type Unit string

// The units of a shop.
const (
	Inch       Unit = "in"
	Millimetre Unit = "mm"
)

// Settings are the shop's: kerfs, trims, allowances, what is worth keeping. See
// [DefaultSettingsIn] for the values of keys left out.
type Settings struct {
	Units    Unit   `json:"units"`
	Currency string `json:"currency"`
	// begins the ids of bought boards and offcuts; where shop.toml has none it is made of the name
	// of the job folder, see [BatchOf]
	Batch string `json:"batch,omitempty"`

	Display Display `json:"display"` // how lengths are shown

	Condition Condition `json:"condition"` // how wood comes whose sizes no row gives
	Tally     TallyRule `json:"tally"`     // how boards bought are tallied

	CrosscutKerf Length `json:"crosscut_kerf"`
	RipKerf      Length `json:"rip_kerf"`
	YardEnd      Length `json:"yard_end"` // trim of each end of a bought board
	RackEnd      Length `json:"rack_end"` // trim of each end of a rack board

	Allowance Allowance  `json:"allowance"`
	Offcut    OffcutRule `json:"offcut"`
	Safety    Safety     `json:"safety"`
	GlueUp    GlueUp     `json:"glue_up"`
	Gang      Gang       `json:"gang"`
	Machine   Machine    `json:"machine,omitzero"`

	// a blank may be shorter than its length, or narrower than its strip, and be trimmed by a third
	// cut
	TrimmingCut bool `json:"trimming_cut"`

	Handling Money `json:"handling"` // for each board used
	Ripping  Money `json:"ripping"`  // for each foot of rip, in a mm shop each metre
	// by no more than this may a spare copy raise the net wood cost of a plan
	SpareAtMost Money     `json:"spare_at_most,omitempty"`
	Work        WorkTimes `json:"work"` // what moving a stop and lifting a piece take
	// for each board that the rest of a plan has to lay out anew; it stands in such plans
	// themselves
	Change Money    `json:"-"`
	Margin Length   `json:"margin"` // kept clear on each side of a defect
	Weak   []string `json:"weak"`   // kinds of defect that no rip runs through
	Sound  []string `json:"sound"`  // kinds of defect that a sound face tolerates
	Hidden []string `json:"hidden"` // kinds of defect that a hidden face tolerates

	// how far what is measured in a count may be off what the book has; no plan hangs on it
	CountTolerance Length `json:"-"`

	Usable Fraction `json:"usable"` // share of bought boards that is expected to be clear

	Labels LabelSheet `json:"labels"`

	Materials map[string]Override  `json:"materials,omitempty"`
	Sections  map[Section]Override `json:"sections,omitempty"`
	Yards     map[string]YardFacts `json:"yards,omitempty"`
	Bins      map[string]BinFacts  `json:"bins,omitempty"`
}

// Allowance is what a blank has over the finished part, where a face is machined.
type Allowance struct {
	Length    Length `json:"length"`
	Edge      Length `json:"edge"`      // each sawn edge
	Thickness Length `json:"thickness"` // both faces together
	// both faces together of stock that comes S2S, where the part is thinner than it
	ThicknessS2S Length `json:"thickness_s2s"`
	// lost at a board's own rounded edge; serves as that edge's allowance
	EasedEdge  Length `json:"eased_edge"`
	PlaneLimit Length `json:"plane_limit"` // thicker stock than this is not planed down
}

// OffcutRule says what is kept, and what it is worth as a share of the yard's price per area. A
// strip, not as wide as its board, keeps StripValue of that.
type OffcutRule struct {
	KeepLength Length   `json:"keep_length"`
	KeepWidth  Length   `json:"keep_width"`
	Value      Fraction `json:"value"`
	StripValue Fraction `json:"strip_value"`
}

// Safety holds the sizes below which a piece is not machined.
type Safety struct {
	ShortestBlank Length `json:"shortest_blank"`
	ShortestRip   Length `json:"shortest_rip"`  // no shorter piece is ripped
	NarrowestRip  Length `json:"narrowest_rip"` // no narrower piece is ripped off
}

// GlueUp says how parts are made up of staves beside each other and of layers on each other.
type GlueUp struct {
	Joint       Length `json:"joint"`        // each glued edge, straightened
	FaceJoint   Length `json:"face_joint"`   // each glued face of layers
	Panel       Length `json:"panel"`        // extra width before the last trim
	Narrowest   Length `json:"narrowest"`    // stave, when it is glued
	Widest      Length `json:"widest"`       // stave, when it is glued
	Step        Length `json:"step"`         // staves of random widths come in such steps
	ExtraLength Length `json:"extra_length"` // before the last trim
}

// Gang says how parts too short to be cut alone are cut several in one blank.
type Gang struct {
	Longest Length `json:"longest"` // blank
}

// Machine is what the machines of the shop take, by their manuals; 0 where that is not known.
type Machine struct {
	JointerWidth   Length `json:"jointer_width,omitempty"`   // widest face that it flattens
	PlanerWidth    Length `json:"planer_width,omitempty"`    // widest piece that it takes
	PlanerShortest Length `json:"planer_shortest,omitempty"` // piece that it takes
}

// WorkTimes are how long it takes to move a stop or fence and to test it, and to take up a board or
// piece and put it away.
type WorkTimes struct {
	Setting Minutes `json:"setting"`
	Lift    Minutes `json:"lift"`
}

// Fraction is Num/Den with Den above 0, in lowest terms.
type Fraction struct {
	Num int64 `json:"num"`
	Den int64 `json:"den"`
}

// Override changes some settings for one material or one section; nil leaves the shop's own.
// Allowances, species and the usable share are a matter of the material only.
type Override struct {
	Seasoning     *Seasoning `json:"seasoning,omitempty"`
	Surface       *Surface   `json:"surface,omitempty"`
	Length        *Length    `json:"length,omitempty"`
	Edge          *Length    `json:"edge,omitempty"`
	Thickness     *Length    `json:"thickness,omitempty"`
	ThicknessS2S  *Length    `json:"thickness_s2s,omitempty"`
	EasedEdge     *Length    `json:"eased_edge,omitempty"`
	PlaneLimit    *Length    `json:"plane_limit,omitempty"`
	KeepLength    *Length    `json:"keep_length,omitempty"`
	KeepWidth     *Length    `json:"keep_width,omitempty"`
	Value         *Fraction  `json:"value,omitempty"`
	StripValue    *Fraction  `json:"strip_value,omitempty"`
	ShortestBlank *Length    `json:"shortest_blank,omitempty"`
	ShortestRip   *Length    `json:"shortest_rip,omitempty"`
	NarrowestRip  *Length    `json:"narrowest_rip,omitempty"`
	Joint         *Length    `json:"joint,omitempty"`
	FaceJoint     *Length    `json:"face_joint,omitempty"`
	Panel         *Length    `json:"panel,omitempty"`
	Narrowest     *Length    `json:"narrowest,omitempty"`
	Widest        *Length    `json:"widest,omitempty"`
	Step          *Length    `json:"step,omitempty"`
	ExtraLength   *Length    `json:"extra_length,omitempty"`
	LongestGang   *Length    `json:"longest_gang,omitempty"`
	// of a material only: a name of the movement table
	Species *string   `json:"species,omitempty"`
	Usable  *Fraction `json:"usable,omitempty"` // of a material only
}

// DefaultSettings are the settings of a shop whose shop.toml is empty.
func DefaultSettings() Settings { return DefaultSettingsIn(Inch) }

// DefaultSettingsIn are the settings of a shop whose shop.toml names its unit only. The lengths are
// those of [Settings.Lengths] for the unit.
func DefaultSettingsIn(u Unit) Settings {
	s := Settings{
		Units:     u,
		Currency:  "USD",
		Display:   Display{SixtyFourth},
		Condition: Condition{Dry, Rough},
		Tally:     TallyRule{SurfaceMeasure, HalfUp},
		Offcut:    OffcutRule{Value: Fraction{1, 2}, StripValue: Fraction{3, 5}},

		TrimmingCut: true,
		Work:        WorkTimes{Setting: 3 * UnitsOfMinute / 2, Lift: UnitsOfMinute / 2},
		Change:      UnitsOfMoney / 2,

		Labels: DefaultLabels(),
		Usable: Fraction{1, 1},
		Weak:   []string{"split", "shake", "decay"},
		Sound:  []string{"sound knot", "stain"},
		Hidden: []string{"sound knot", "stain", "check", "wane", "pitch pocket", "pin hole"},
	}
	for _, l := range s.Lengths() {
		*l.Value = l.Default(u)
	}
	return s
}

// setWhereGiven overrides a setting where something is given.
func setWhereGiven[T any](dst *T, src *T) {
	if src != nil {
		*dst = *src
	}
}

// ConditionFor says how wood of one material and section comes; the section's wins.
func (s *Settings) ConditionFor(material string, section Section) Condition {
	c := s.Condition
	for _, o := range []Override{s.Materials[material], s.Sections[section]} {
		setWhereGiven(&c.Seasoning, o.Seasoning)
		setWhereGiven(&c.Surface, o.Surface)
	}
	return c
}

// AllowanceFor gives the allowances of one material.
func (s *Settings) AllowanceFor(material string) Allowance {
	a := s.Allowance
	o, own := s.Materials[material]
	if !own {
		return a
	}
	setWhereGiven(&a.Length, o.Length)
	setWhereGiven(&a.Edge, o.Edge)
	setWhereGiven(&a.Thickness, o.Thickness)
	setWhereGiven(&a.ThicknessS2S, o.ThicknessS2S)
	setWhereGiven(&a.EasedEdge, o.EasedEdge)
	setWhereGiven(&a.PlaneLimit, o.PlaneLimit)
	return a
}

// OffcutFor gives the offcut rule of one material and section; the section's wins.
func (s *Settings) OffcutFor(material string, section Section) OffcutRule {
	r := s.Offcut
	for _, o := range []Override{s.Materials[material], s.Sections[section]} {
		setWhereGiven(&r.KeepLength, o.KeepLength)
		setWhereGiven(&r.KeepWidth, o.KeepWidth)
		setWhereGiven(&r.Value, o.Value)
		setWhereGiven(&r.StripValue, o.StripValue)
	}
	return r
}

// SafetyFor gives the safe sizes of one material and section; the section's wins.
func (s *Settings) SafetyFor(material string, section Section) Safety {
	r := s.Safety
	for _, o := range []Override{s.Materials[material], s.Sections[section]} {
		setWhereGiven(&r.ShortestBlank, o.ShortestBlank)
		setWhereGiven(&r.ShortestRip, o.ShortestRip)
		setWhereGiven(&r.NarrowestRip, o.NarrowestRip)
	}
	return r
}

// GlueUpFor says how parts of one material and section are glued up; the section's wins.
func (s *Settings) GlueUpFor(material string, section Section) GlueUp {
	g := s.GlueUp
	for _, o := range []Override{s.Materials[material], s.Sections[section]} {
		setWhereGiven(&g.Joint, o.Joint)
		setWhereGiven(&g.FaceJoint, o.FaceJoint)
		setWhereGiven(&g.Panel, o.Panel)
		setWhereGiven(&g.Narrowest, o.Narrowest)
		setWhereGiven(&g.Widest, o.Widest)
		setWhereGiven(&g.Step, o.Step)
		setWhereGiven(&g.ExtraLength, o.ExtraLength)
	}
	return g
}

// GangFor says how parts of one material and section are cut several in one blank; the section's
// wins.
func (s *Settings) GangFor(material string, section Section) Gang {
	g := s.Gang
	for _, o := range []Override{s.Materials[material], s.Sections[section]} {
		setWhereGiven(&g.Longest, o.LongestGang)
	}
	return g
}

// Tolerates says whether a face accepts a kind of defect under it.
func (s *Settings) Tolerates(f Face, kind string) bool {
	var list []string
	switch f {
	case Sound:
		list = s.Sound
	case Hidden:
		list = s.Hidden
	}
	for _, k := range list {
		if k == kind {
			return true
		}
	}
	return false
}

// TrimFor is what is squared off each end of a board that is used: 0, or at least one kerf. A board
// that was bought for this plan has the ends that it came with.
func (s *Settings) TrimFor(b *Board, o Origin) Length {
	t := s.YardEnd
	if o == FromRack && !b.Bought {
		t = s.RackEnd
	}
	if t > 0 && t < s.CrosscutKerf {
		return s.CrosscutKerf
	}
	return t
}

// LongestBatch is how many signs the batch of a shop may have at most.
const LongestBatch = 24

// BatchOf makes a batch of the name of a job folder, for a shop that names none: its letters a to z
// and digits, with one dash for whatever else stands between them. A longer name than a batch may
// be keeps its beginning and its end, as months differ in either. It is empty where nothing is
// left.
func BatchOf(folder string) string {
	words := strings.FieldsFunc(folder, func(r rune) bool {
		return !strings.ContainsRune(lettersAndDigits, r)
	})
	s := strings.Join(words, "-")
	if len(s) > LongestBatch {
		const end = LongestBatch / 2
		s = strings.TrimRight(s[:LongestBatch-end-1], "-") + "-" +
			strings.TrimLeft(s[len(s)-end:], "-")
	}
	return s
}

const lettersAndDigits = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"
