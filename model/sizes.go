package model

import (
	"slices"
	"strconv"
	"strings"
)

// Sizes of sections, from the tables below. Softwood: PS 20-20, nominal and minimum dressed sizes,
// dry and green, as given by engineeringtoolbox.com d_1270; thicknesses 3-1/2 and 4-1/2 and widths
// 9 and 11 from memory. Timbers are dressed by one rule for both sides: green 1/2 in off; dry 1/2
// off up to 6, 3/4 off up to 15, 1 off from 16 on. Hardwood: quarters of an inch, rough and
// surfaced on two sides, as given by engineeringtoolbox.com d_1462; 10/4 surfaced from memory.

// Seasoning is how wet softwood is surfaced, which decides its size.
type Seasoning string

// The seasonings. Dry: at most 19 % when surfaced. Green: above.
const (
	Dry   Seasoning = "dry"
	Green Seasoning = "green"
)

// Surface is how hardwood quarters come.
type Surface string

// The surfaces. S2S: planed on two sides.
const (
	Rough Surface = "rough"
	S2S   Surface = "S2S"
)

// Condition is how wood comes from the yard. The zero value is dry softwood and rough hardwood.
type Condition struct {
	Seasoning Seasoning `json:"seasoning"`
	Surface   Surface   `json:"surface"`
}

// dressed is a size by which the trade names wood, and what is left of it, in one of two
// conditions.
type dressed struct {
	name                string
	nominal, one, other Length // in 1/32 in
}

const thirtySecond = UnitsPerInch / 32

// actual is the size in the first or in the other condition.
func (d dressed) actual(other bool) Length {
	if other {
		return d.other * thirtySecond
	}
	return d.one * thirtySecond
}

// Boards (under 2 in) and dimension (2 in to under 5): dry and green; quarters: rough and S2S.
var (
	boardThickness = []dressed{
		{"1", 32, 24, 25}, {"5/4", 40, 32, 33}, {"6/4", 48, 40, 41},
		{"2", 64, 48, 50}, {"2-1/2", 80, 64, 66}, {"3", 96, 80, 82}, {"3-1/2", 112, 96, 98},
		{"4", 128, 112, 114}, {"4-1/2", 144, 128, 130},
	}
	boardWidth = []dressed{
		{"2", 64, 48, 50}, {"3", 96, 80, 82}, {"4", 128, 112, 114}, {"5", 160, 144, 148},
		{"6", 192, 176, 180}, {"7", 224, 208, 212},
		{"8", 256, 232, 240}, {"9", 288, 264, 272}, {"10", 320, 296, 304}, {"11", 352, 328, 336},
		{"12", 384, 360, 368},
		{"14", 448, 424, 432}, {"16", 512, 488, 496},
	}
	quarterThickness = []dressed{
		{"3/4", 24, 24, 18}, {"4/4", 32, 32, 26}, {"5/4", 40, 40, 34}, {"6/4", 48, 48, 42},
		{"7/4", 56, 56, 48},
		{"8/4", 64, 64, 56}, {"10/4", 80, 80, 72}, {"12/4", 96, 96, 88}, {"16/4", 128, 128, 120},
	}
)

// findSize looks a size up by its name.
func findSize(table []dressed, name string) (dressed, bool) {
	n := slices.IndexFunc(table, func(d dressed) bool { return d.name == name })
	if n < 0 {
		return dressed{}, false
	}
	return table[n], true
}

// sizeNames lists the sizes of a table.
func sizeNames(table []dressed, between string) string {
	var names []string
	for _, d := range table {
		names = append(names, d.name)
	}
	return strings.Join(names, between)
}

type sectionKind int

const (
	unknownSection sectionKind = iota
	softwood
	quarters
	metric
)

// sectionSize is what a section's spelling stands for; widths are 0 in hardwood quarters, which
// come in random widths.
type sectionSize struct {
	kind                           sectionKind
	nominalThickness, nominalWidth Length
	actualThickness, actualWidth   Length
}

// size reads a canonical spelling.
func (s Section) size(c Condition) sectionSize {
	if strings.HasSuffix(string(s), "mm") {
		return s.metricSize()
	}
	if q, ok := findSize(quarterThickness, string(s)); ok {
		return sectionSize{quarters, q.nominal * thirtySecond, 0, q.actual(c.Surface == S2S), 0}
	}
	a, b, crossed := strings.Cut(string(s), "x")
	n := wholeInches(b)
	if !crossed || n == 0 {
		return sectionSize{}
	}
	green := c.Seasoning == Green
	t, thick := findSize(boardThickness, a)
	w, wide := findSize(boardWidth, b)
	oddWidth := n == 9 || n == 11 // of boards only
	if thick && wide && t.nominal <= w.nominal && (!oddWidth || t.nominal < 64) {
		return sectionSize{softwood, t.nominal * thirtySecond, n * UnitsPerInch, t.actual(green),
			w.actual(green)}
	}
	if t := wholeInches(a); t >= 5 && t <= n {
		return sectionSize{softwood, t * UnitsPerInch, n * UnitsPerInch, timber(t, green),
			timber(n, green)}
	}
	return sectionSize{}
}

func (s Section) metricSize() sectionSize {
	m := metricForm.FindStringSubmatch(string(s))
	if m == nil {
		return sectionSize{}
	}
	t, _, _ := ParseLength(m[1], Millimetre)
	w, _, _ := ParseLength(m[2], Millimetre)
	plain := t.Decimal(Millimetre) + "x" + w.Decimal(Millimetre) + "mm"
	if t <= 0 || t > w || w > WidestBoard || string(s) != plain {
		return sectionSize{}
	}
	return sectionSize{metric, t, w, t, w}
}

// wholeInches reads 1 to 24, else it is 0.
func wholeInches(s string) Length {
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 || n > 24 || s[0] == '0' || s[0] == '+' {
		return 0
	}
	return Length(n)
}

// timber is the dressed size of a nominal size of 5 in and up in a timber.
func timber(n Length, green bool) Length {
	const quarter = UnitsPerInch / 4
	switch {
	case green || n <= 6:
		return (4*n - 2) * quarter
	case n <= 15:
		return (4*n - 3) * quarter
	}
	return (4*n - 4) * quarter
}

// Actual is the actual size of wood that comes in a condition. In hardwood quarters the width is 0,
// for they come in random widths.
func (s Section) Actual(c Condition) (thickness, width Length) {
	z := s.size(c)
	return z.actualThickness, z.actualWidth
}

// Nominal is the size that the trade names it by, width 0 in hardwood quarters; in metric sections
// the actual size.
func (s Section) Nominal() (thickness, width Length) {
	z := s.size(Condition{})
	return z.nominalThickness, z.nominalWidth
}

// Eased says whether boards of this section come with rounded edges: softwood of up to 4 in nominal
// thickness does.
func (s Section) Eased() bool {
	z := s.size(Condition{})
	return z.kind == softwood && z.nominalThickness <= 4*UnitsPerInch
}
