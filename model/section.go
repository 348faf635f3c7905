package model

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// Sizes of sections. Softwood: PS 20-20, nominal and minimum dressed sizes, dry. Hardwood: quarters of an inch, rough.
//
//	nominal thickness   1    5/4  6/4    2      2-1/2  3      4         timbers 5, 6   7 to 15   16 and up
//	dressed             3/4  1    1-1/4  1-1/2  2      2-1/2  3-1/2     1/2 off        3/4 off   1 off
//	nominal width       2 to 7   8 to 16
//	dressed             1/2 off  3/4 off

// Section is a nominal cross-section in its canonical spelling: `2x6`, `5/4x6`, `4/4`, `38x140mm`.
type Section string

type sectionKind int

const (
	unknownSection sectionKind = iota
	softwood
	quarters
	metric
)

// sectionSize is what a section's spelling stands for; widths are 0 in hardwood quarters, which come in random widths.
type sectionSize struct {
	kind                           sectionKind
	nominalThickness, nominalWidth Length
	actualThickness, actualWidth   Length
}

const quarterInch = UnitsPerInch / 4

// boardThickness are the nominal thicknesses of PS 20 boards and dimension: their spelling, and nominal and dressed in quarter inches.
var boardThickness = []struct {
	name             string
	nominal, dressed Length
}{{"1", 4, 3}, {"5/4", 5, 4}, {"6/4", 6, 5}, {"2", 8, 6}, {"2-1/2", 10, 8}, {"3", 12, 10}, {"4", 16, 14}}

var (
	boardWidths   = []string{"2", "3", "4", "5", "6", "7", "8", "10", "12", "14", "16"}
	hardwoodSizes = []string{"3/4", "4/4", "5/4", "6/4", "7/4", "8/4", "10/4", "12/4", "16/4"}

	sectionSigns = strings.NewReplacer("×", "x", "✕", "x", "*", "x", " by ", "x", `"`, "", "inches", "", "inch", "", "in.", "", "in", "", "1-1/4x", "5/4x", "1 1/4", "5/4")
	metricForm   = regexp.MustCompile(`^(\d{1,3}(?:\.\d)?)(?:mm)?x(\d{1,3}(?:\.\d)?)mm$`)
)

// ParseSection reads any usual spelling of a section and gives the canonical one. The error says what is wrong; what to write.
func ParseSection(s string) (Section, error) {
	if len(s) > 64 {
		return "", fmt.Errorf("the section has more than 64 characters; write one such as 2x6, 4/4 or 38x140mm")
	}
	t := sectionSigns.Replace(strings.ToLower(strings.TrimSpace(plainSigns.Replace(s))))
	t = strings.NewReplacer("2 1/2", "2-1/2", " ", "").Replace(t)
	if m := metricForm.FindStringSubmatch(t); m != nil {
		a, _, _ := ParseLength(m[1], Millimetre)
		b, _, _ := ParseLength(m[2], Millimetre)
		t = min(a, b).Decimal(Millimetre) + "x" + max(a, b).Decimal(Millimetre) + "mm"
	}
	a, b, crossed := strings.Cut(t, "x")
	for _, c := range []Section{Section(t), Section(b + "x" + a)} {
		if c.size().kind != unknownSection {
			return c, nil
		}
	}
	return "", unknownSectionError(s, a, b, crossed)
}

func unknownSectionError(s, a, b string, crossed bool) error {
	if strings.TrimSpace(s) == "" {
		return fmt.Errorf("the section is missing; write one such as 2x6, 4/4 or 38x140mm")
	}
	known := "softwood 1, 5/4, 6/4, 2, 2-1/2, 3 or 4 by " + strings.Join(boardWidths, ", ") + " such as 2x6, timbers 5x5 to 24x24, hardwood " +
		strings.Join(hardwoodSizes, " ") + ", or an actual size such as 38x140mm"
	thick, _, err1 := ParseLength(a, Inch)
	wide, _, err2 := ParseLength(b, Inch)
	if !crossed || err1 != nil || err2 != nil {
		return fmt.Errorf("section %q is not known; write %s", s, known)
	}
	if c, err := ParseSection(a + "x" + b + "mm"); err == nil && max(thick, wide) > 24*UnitsPerInch {
		return fmt.Errorf("section %q is no nominal size in inches; write %s if it is in millimetres", s, c)
	}
	return fmt.Errorf("section %q is not known, the nearest is %s; write %s", s, nearestSection(thick, wide), known)
}

// nearestSection is the softwood board or dimension section nearest in nominal size.
func nearestSection(thickness, width Length) Section {
	var best Section
	least := Length(-1)
	for _, t := range boardThickness {
		for _, w := range boardWidths {
			c := Section(t.name + "x" + w)
			z := c.size()
			if z.kind == unknownSection {
				continue
			}
			far := max(z.nominalThickness-thickness, thickness-z.nominalThickness) + max(z.nominalWidth-width, width-z.nominalWidth)
			if least < 0 || far < least {
				best, least = c, far
			}
		}
	}
	return best
}

// size reads a canonical spelling.
func (s Section) size() sectionSize {
	if strings.HasSuffix(string(s), "mm") {
		m := metricForm.FindStringSubmatch(string(s))
		if m == nil {
			return sectionSize{}
		}
		t, _, _ := ParseLength(m[1], Millimetre)
		w, _, _ := ParseLength(m[2], Millimetre)
		if z := (sectionSize{metric, t, w, t, w}); t > 0 && t <= w && string(s) == t.Decimal(Millimetre)+"x"+w.Decimal(Millimetre)+"mm" {
			return z
		}
		return sectionSize{}
	}
	if slices.Contains(hardwoodSizes, string(s)) {
		t, _, _ := ParseLength(string(s), Inch)
		return sectionSize{quarters, t, 0, t, 0}
	}
	a, b, crossed := strings.Cut(string(s), "x")
	n := wholeInches(b)
	if !crossed || n == 0 {
		return sectionSize{}
	}
	for _, t := range boardThickness {
		if t.name == a && slices.Contains(boardWidths, b) && t.nominal <= 4*n {
			off := Length(2)
			if n >= 8 {
				off = 3
			}
			return sectionSize{softwood, t.nominal * quarterInch, n * UnitsPerInch, t.dressed * quarterInch, (4*n - off) * quarterInch}
		}
	}
	if t := wholeInches(a); t >= 5 && t <= n {
		return sectionSize{softwood, t * UnitsPerInch, n * UnitsPerInch, timber(t), timber(n)}
	}
	return sectionSize{}
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
func timber(n Length) Length {
	switch {
	case n <= 6:
		return (4*n - 2) * quarterInch
	case n <= 15:
		return (4*n - 3) * quarterInch
	}
	return (4*n - 4) * quarterInch
}

// Actual is the actual size: dressed and dry in softwood, rough in hardwood quarters, whose width is 0 for they come in random widths.
func (s Section) Actual() (thickness, width Length) {
	z := s.size()
	return z.actualThickness, z.actualWidth
}

// Nominal is the size that the trade names it by, width 0 in hardwood quarters; in metric sections the actual size.
func (s Section) Nominal() (thickness, width Length) {
	z := s.size()
	return z.nominalThickness, z.nominalWidth
}

// Eased says whether boards of this section come with rounded edges: softwood of up to 4 in nominal thickness does.
func (s Section) Eased() bool {
	z := s.size()
	return z.kind == softwood && z.nominalThickness <= 4*UnitsPerInch
}
