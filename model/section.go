package model

import (
	"fmt"
	"regexp"
	"strings"
)

// Section is a nominal cross-section in its canonical spelling: `2x6`, `5/4x6`, `4/4`, `38x140mm`.
type Section string

var (
	sectionSigns = strings.NewReplacer("×", "x", "✕", "x", "*", "x", " by ", "x", "-by-", "x", `"`,
		"", "inches", "", "inch", "", "in.", "", "in", "")
	wholeAndPart = regexp.MustCompile(`(\d) +(\d+/\d)`)
	metricForm   = regexp.MustCompile(`^(\d{1,4}(?:\.\d)?)(?:mm)?x(\d{1,4}(?:\.\d)?)mm$`)
	firstInMM    = regexp.MustCompile(`^([\d.]+)mmx([\d.]+)$`)
)

// ParseSection reads any usual spelling of a section and gives the canonical one. The error says
// what is wrong; what to write.
func ParseSection(s string) (Section, error) {
	if len(s) > 64 {
		return "", fmt.Errorf(
			"the section has more than 64 characters; write one such as 2x6, 4/4 or 38x140mm")
	}
	t := sectionSigns.Replace(strings.ToLower(strings.TrimSpace(PlainSigns(s))))
	t = strings.ReplaceAll(wholeAndPart.ReplaceAllString(t, "$1-$2"), " ", "")
	t = firstInMM.ReplaceAllString(t, "${1}x${2}mm")
	if m := metricForm.FindStringSubmatch(t); m != nil {
		a, _, _ := ParseLength(m[1], Millimetre)
		b, _, _ := ParseLength(m[2], Millimetre)
		t = min(a, b).Decimal(Millimetre) + "x" + max(a, b).Decimal(Millimetre) + "mm"
	}
	a, b, crossed := strings.Cut(t, "x")
	a, b = inQuarters(a), inQuarters(b)
	spellings := []Section{Section(a + "x" + b), Section(b + "x" + a)}
	if !crossed {
		spellings = []Section{Section(a)}
	}
	for _, c := range spellings {
		if c.size(Condition{}).kind != unknownSection {
			return c, nil
		}
	}
	return "", unknownSectionError(s, a, b, crossed)
}

// inQuarters is the one thickness that is as often written in quarters as in inches. 1-1/2 is not
// another: it may be the actual thickness of a 2x.
func inQuarters(thickness string) string {
	if thickness == "1-1/4" {
		return "5/4"
	}
	return thickness
}

func unknownSectionError(s, a, b string, crossed bool) error {
	if strings.TrimSpace(s) == "" {
		return fmt.Errorf("the section is missing; write one such as 2x6, 4/4 or 38x140mm")
	}
	known := "softwood " + sizeNames(boardThickness, ", ") + " by " + sizeNames(boardWidth, ", ") +
		" (9 and 11 under 2 only) such as 2x6, timbers 5x5 to 24x24, hardwood " +
		sizeNames(quarterThickness, " ") + ", or an actual size such as 38x140mm"
	if strings.HasSuffix(b, "mm") {
		return fmt.Errorf("section %q is not known as an actual size; write thickness x width in "+
			"mm, each above 0 with at most one decimal, the width up to %s, such as 38x140mm", s,
			WidestBoard.Decimal(Millimetre))
	}
	thick, _, err1 := ParseLength(a, Inch)
	wide, _, err2 := ParseLength(b, Inch)
	if !crossed || err1 != nil || err2 != nil {
		return fmt.Errorf("section %q is not known; write %s", s, known)
	}
	if c, err := ParseSection(a + "x" + b + "mm"); err == nil &&
		max(thick, wide) > 24*UnitsPerInch {
		return fmt.Errorf("section %q is no nominal size in inches; write %s if it is in "+
			"millimetres",
			s, c)
	}
	return fmt.Errorf("section %q is not known, the nearest is %s; write %s", s,
		nearestSection(thick, wide), known)
}

// nearestSection is the softwood board or dimension section nearest in nominal size; in thickness
// sooner than in width.
func nearestSection(thickness, width Length) Section {
	var best Section
	least := Length(-1)
	for _, t := range boardThickness {
		for _, w := range boardWidth {
			c := Section(t.name + "x" + w.name)
			z := c.size(Condition{})
			if z.kind == unknownSection {
				continue
			}
			far := 4*max(z.nominalThickness-thickness, thickness-z.nominalThickness) +
				max(z.nominalWidth-width, width-z.nominalWidth)
			if least < 0 || far < least {
				best, least = c, far
			}
		}
	}
	return best
}

// Faces and edges as wood comes. What a surface means for a blank is common practice: rough stock
// is sawn and uneven on all sides, stock planed on two sides (S2S) has flat faces and edges as
// sawn.
//
//	surface   width of the blank     thickness of the blank
//	rough     width + 2 edge         thickness + [allowance] thickness
//	S2S       width + 2 edge         the stock's own, or thickness + [allowance] thickness_s2s
//	none      the board's own, or    the stock's own, or
//	          width + 2 edge         thickness + [allowance] thickness
//
// None are the softwood sections, which come dressed on four sides, and metric sections of which
// nothing else is said. Why rough stock as thick as the part does not hold it: nothing would be
// left to plane the saw marks off.

// SurfaceFor says how wood of one material and section comes of which no row says it. Quarters have
// a surface always, softwood sections never; a metric section has one where its own table or that
// of its material in shop.toml sets it.
func (s *Settings) SurfaceFor(material string, section Section) Surface {
	switch section.size(Condition{}).kind {
	case quarters:
		return s.ConditionFor(material, section).Surface
	case metric:
		var own Surface
		for _, o := range []Override{s.Materials[material], s.Sections[section]} {
			setWhereGiven(&own, o.Surface)
		}
		return own
	}
	return ""
}

// Finish is what is done to the faces and edges of a blank to make the part of it.
type Finish struct {
	Sawn   bool // both edges; else they are the board's own
	Planed bool // the faces; else they are the board's own
	// what is planed off both faces together
	Thickness Length
}

// finish is what is done to a blank of a part in one wood, by the table above.
func (a *Allowance) finish(p *Part, w *Wood) Finish {
	f := Finish{Sawn: p.Width != w.Width, Planed: p.Thickness != w.Thickness,
		Thickness: a.Thickness}
	switch w.Surface {
	case Rough:
		f.Sawn, f.Planed = true, true
	case S2S:
		f.Sawn, f.Thickness = true, a.ThicknessS2S
	}
	if !f.Planed {
		f.Thickness = 0
	}
	return f
}
