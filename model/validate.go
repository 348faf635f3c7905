package model

import (
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"time"
	"unicode"
)

// Limits of what is planned. They keep every sum of lengths and money far inside 64 bits. There may
// be many times as much as a small shop has; up to there a plan stands within seconds.
const (
	LongestLength Length = 100_000 * UnitsPerMillimetre // of anything: 100 m
	// 20 m; the bound can be derived for it whatever the lengths have in common
	LongestBoard Length = 20_000 * UnitsPerMillimetre
	// likewise, whatever the widths have in common
	WidestBoard  Length = 1600 * UnitsPerMillimetre
	WidestKerf   Length = UnitsPerInch
	MostCopies          = 12_000                   // in one row, and of all parts together
	MostBoards          = 5_000                    // on the rack
	MostPairs           = 2_500_000                // of a part and a board on the rack
	MostForSale         = 1_000_000                // boards of one row
	DearestBoard Money  = 1_000_000 * UnitsOfMoney // price, value or handling of one board
	DearestRip   Money  = 1_000 * UnitsOfMoney     // of one foot or metre
	MostPieces          = 1000                     // staves or layers of one part
	MostSpare           = 1000                     // copies of one part
)

// Validate adds everything that is wrong with the meaning of a job, row by row and between rows. A
// job that passes can be planned without a panic, wherever it was read from. Places are those of
// the rows.
func (j *Job) Validate(m *Mistakes) {
	j.Settings.Validate(m)
	at := func(w Where) row { return row{m, w, j.Settings.Units} }
	var copies int64
	for i := range j.Parts {
		p := &j.Parts[i]
		r := at(p.Where)
		r.name("commission", p.Commission)
		r.name("part", p.Name)
		r.name("material", p.Material)
		r.count("qty", p.Qty, 1, MostCopies)
		r.copies(p)
		r.length("length", p.Length)
		r.length("width", p.Width)
		r.length("thickness", p.Thickness)
		if p.Section != "" {
			r.section(p.Section)
		}
		if p.Board != "" {
			r.name("board", p.Board)
		}
		if p.Face < 0 || p.Face >= Faces {
			r.wrong(CodeWord, "face", "the face is not known", "write show, sound or hidden")
		}
		r.pieces("staves", p.Staves)
		r.pieces("layers", p.Layers)
		if p.InOne != 0 && p.InOne != Auto {
			r.wrong(CodeCount, "in_one",
				fmt.Sprintf("%d copies in one blank are not for a row to say", p.InOne),
				"plan the job anew")
		}
		r.count("spare", p.Spare, 0, MostSpare)
		if before := copies; before <= MostCopies {
			if copies += p.PieceCount(); copies > MostCopies {
				r.wrong(CodeTooBig, "",
					fmt.Sprintf("from this row on there are more than %d pieces in all",
						MostCopies), "plan fewer parts at once")
			}
		}
	}
	for i := range j.Rack {
		b := &j.Rack[i]
		r := at(b.Where)
		r.name("board", b.ID)
		r.wood(&b.Wood)
		r.date("since", b.Since)
		if b.Value != nil {
			r.money("value", *b.Value, 0)
		}
		if b.For != "" {
			r.name("for", b.For)
		}
		if b.Longest != 0 {
			r.length("longest", b.Longest)
		}
		if b.Longest > b.Length && b.Length > 0 {
			r.wrong(CodeOutside, "longest",
				fmt.Sprintf("a longest blank of %s, from a board of %s",
					showLength(b.Longest, r.unit),
					showLength(b.Length, r.unit)), "write a shorter one, or empty the cell")
		}
		for _, d := range b.Defects {
			if e := b.Fault(d, j.Settings.Units); e != nil {
				m.Add(e)
			}
		}
		if i == MostBoards {
			r.wrong(CodeTooBig, "",
				fmt.Sprintf("from this row on there are more than %d boards on the rack",
					MostBoards), "take boards out that this job will not use")
		}
	}
	if len(j.Parts)*len(j.Rack) > MostPairs && len(j.Rack) <= MostBoards {
		at(j.Parts[MostPairs/len(j.Rack)].Where).wrong(CodeTooBig, "",
			fmt.Sprintf("from this row on there are more than %d parts, too many beside %d boards "+
				"on the rack", MostPairs/len(j.Rack), len(j.Rack)),
			"plan fewer parts at once, or take boards out that this job will not use")
	}
	for i := range j.Yard {
		o := &j.Yard[i]
		r := at(o.Where)
		r.wood(&o.Wood)
		r.price(j, o)
		for _, c := range [][2]string{{"yard", o.Yard}, {"grade", o.Grade}} {
			if c[1] != "" {
				r.name(c[0], c[1])
			}
		}
		if o.Available != nil {
			r.count("available", *o.Available, 0, MostForSale)
		}
	}
	for _, in := range j.Inputs {
		if !fs.ValidPath(strings.TrimPrefix(in.Name, Above)) {
			m.Add(&InputError{Code: CodePlan,
				Cause: fmt.Sprintf("%q is no name of a file in the job folder or the shop folder",
					in.Name),
				Remedy: "plan the job anew"})
		}
	}
	j.validateNames(at)
	j.validateFacts(at)
}

// named are names by what they have in common when they differ in case or blanks only, as and where
// they stood first.
type named map[string]struct {
	name string
	at   Where
}

// validateNames finds names given twice, and names that differ in case or blanks only.
func (j *Job) validateNames(at func(Where) row) {
	// met says where a name stood first, and whether it was spelled otherwise there.
	met := func(seen named, key, name string, w Where) (first Where, other string, again bool) {
		f, again := seen[key]
		if !again {
			f.name, f.at = name, w
			seen[key] = f
		}
		return f.at, f.name, again
	}
	same := func(seen named, column, name string, w Where) {
		if first, other, again := met(seen, FoldName(name), name, w); again && other != name {
			at(w).wrong(CodeSpelling, column,
				fmt.Sprintf("%q is written %q %s", name, other, first.in()),
				"write it the same everywhere")
		}
	}
	once := func(seen named, column, key, name, rule string, w Where) {
		if first, other, again := met(seen, key, name, w); again && other == name {
			at(w).wrong(CodeDuplicate, column,
				fmt.Sprintf("%q stands %s already", name, first.in()), rule)
		} else if again {
			at(w).wrong(CodeSpelling, column,
				fmt.Sprintf("%q differs from %q %s in case or blanks only", name, other,
					first.in()), rule)
		}
	}
	materials, commissions, parts, boards, yards := named{}, named{}, named{}, named{}, named{}
	for i := range j.Yard {
		same(materials, "material", j.Yard[i].Material, j.Yard[i].Where)
		same(yards, "yard", j.Yard[i].Yard, j.Yard[i].Where)
	}
	for i := range j.Rack {
		b := &j.Rack[i]
		same(materials, "material", b.Material, b.Where)
		once(boards, "board", FoldName(b.ID), b.ID, "give each board an id of its own", b.Where)
	}
	for i := range j.Commissions {
		met(commissions, FoldName(j.Commissions[i].Name), j.Commissions[i].Name,
			Where{File: "commissions.csv"})
	}
	for i := range j.Parts {
		p := &j.Parts[i]
		same(materials, "material", p.Material, p.Where)
		same(commissions, "commission", p.Commission, p.Where)
		once(parts, "part", FoldName(p.Commission)+"\x00"+FoldName(p.Name), p.Name,
			"give each part of a commission a name of its own, or put both in one row", p.Where)
	}
	for _, name := range slices.Sorted(maps.Keys(j.Settings.Materials)) {
		same(materials, fmt.Sprintf("material.%q", name), name,
			Where{File: j.Source("shop.toml")})
	}
	j.validateYards(at, yards, same)
}

// FoldName is what two names have in common that differ in case, blanks or invisible signs only.
func FoldName(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || unicode.Is(unicode.Cf, r) {
			return -1
		}
		return unicode.ToLower(r)
	}, s)
}

func (w Where) in() string {
	if w.File == "" {
		return "elsewhere"
	}
	return "in " + strings.TrimSuffix(place(w.File, w.Line, ""), ": ")
}

// Fault says what is wrong with a defect of this board, or nil. The error names the column, and no
// file.
func (b *Board) Fault(d Defect, u Unit) *InputError {
	wrong := func(code, column, cause, remedy string) *InputError {
		return &InputError{Code: code, Column: column, Cause: cause, Remedy: remedy}
	}
	span := func(first, second string, from, to, whole Length, name string) *InputError {
		switch {
		case from < 0:
			return wrong(CodeRange, first, showLength(from, u)+" is below 0",
				"measure from the board's "+name)
		case to <= from:
			return wrong(CodeReversed, second,
				fmt.Sprintf("the defect ends at %s, not after %s where it begins",
					showLength(to, u),
					showLength(from, u)),
				fmt.Sprintf("write the smaller measure as %s and the larger as %s", first, second))
		case to > whole:
			return wrong(CodeOutside, second,
				fmt.Sprintf("the defect ends at %s, past board %s of %s", showLength(to, u), b.ID,
					showLength(whole, u)),
				"measure again from the board's "+name)
		}
		return nil
	}
	if d.Kind == "" {
		return wrong(CodeEmptyCell, "kind", "the kind of defect is missing",
			"write one such as knot, split or check")
	}
	if e := span("from", "to", d.From, d.To, b.Length, "marked end"); e != nil {
		return e
	}
	return span("left", "right", d.Left, d.Right, b.Width, "left edge")
}

// row judges the values of one row.
type row struct {
	m    *Mistakes
	at   Where
	unit Unit
}

func (r row) wrong(code, column, cause, remedy string) {
	r.m.Add(&InputError{Code: code, File: r.at.File, Line: r.at.Line, Column: column, Cause: cause,
		Remedy: remedy})
}

func (r row) name(column, s string) {
	if s == "" {
		r.wrong(CodeEmptyCell, column, "the cell is empty", "write the "+column)
	}
	if s != strings.TrimSpace(s) || strings.ContainsFunc(s, unicode.IsControl) {
		r.wrong(CodeControl, column, "blanks at its ends or control characters", "take them out")
	}
}

func (r row) count(column string, n, least, most int64) {
	if n < least || n > most {
		r.wrong(CodeCount, column, fmt.Sprintf("%d is not between %d and %d", n, least, most),
			"write a whole number in these limits")
	}
}

// pieces judges of how many pieces a part is.
func (r row) pieces(column string, n Pieces) {
	if n != 0 && n != Auto {
		r.count(column, int64(n), 1, MostPieces)
	}
}

// PieceCount is about how many pieces a part is cut of, spare ones with them; where the plan
// chooses how many, four staves or two layers.
func (p *Part) PieceCount() int64 {
	copies := max(0, min(p.Qty, MostCopies)) + max(0, min(p.Spare, MostSpare))
	return copies * p.Staves.about(4) * p.Layers.about(2)
}

// about is how many pieces there are, or so many where the plan chooses.
func (n Pieces) about(many int64) int64 {
	if n == Auto {
		return many
	}
	return max(1, min(int64(n), MostPieces))
}

// copies judges the numbers of the copies that are wanted of the rest of a job.
func (r row) copies(p *Part) {
	if p.Copies == nil && p.Of == 0 {
		return
	}
	before, ok := int64(0), int64(len(p.Copies)) == p.Qty
	for _, n := range p.Copies {
		ok, before = ok && n > before, n
	}
	if !ok || before > p.Of || p.Of > MostCopies {
		r.wrong(CodeCount, "copies", fmt.Sprintf("%d numbers, up to %d of %d, are not those of %d "+
			"copies", len(p.Copies), before, p.Of, p.Qty), "plan the job anew")
	}
}

func (r row) length(column string, l Length) { r.lengthTo(column, l, LongestLength) }

func (r row) lengthTo(column string, l, most Length) {
	if l <= 0 {
		r.wrong(CodeRange, column, fmt.Sprintf("a %s of %s", column, showLength(l, r.unit)),
			"write a length above 0")
	} else if l > most {
		r.wrong(CodeRange, column,
			fmt.Sprintf("%s is more than %g m", showLength(l, r.unit),
				float64(most)/(1000*UnitsPerMillimetre)),
			"write a shorter length, or check its unit")
	}
}

func (r row) money(column string, v, least Money) {
	if v < least && least > 0 {
		r.wrong(CodeRange, column, fmt.Sprintf("a %s of %s", column, v), "write an amount above 0")
	} else if v < least {
		r.wrong(CodeRange, column, fmt.Sprintf("%s is below 0", v), "write 0 or more")
	} else if v > DearestBoard {
		r.wrong(CodeRange, column, fmt.Sprintf("%s is more than %s", v, DearestBoard),
			"write the amount for one board")
	}
}

func (r row) date(column, s string) {
	if s != "" && !ValidDate(s) {
		r.wrong(CodeDate, column, fmt.Sprintf("%q is no date", s),
			"write it as year-month-day, such as 2026-04-01")
	}
}

func (r row) section(s Section) {
	if c, err := ParseSection(string(s)); err != nil {
		cause, remedy := SplitRemedy(err)
		r.wrong(CodeSection, "section", cause, remedy)
	} else if c != s {
		r.wrong(CodeSection, "section", fmt.Sprintf("%q is not the plain spelling", s),
			"write "+string(c))
	}
}

func (r row) wood(w *Wood) {
	r.name("material", w.Material)
	r.section(w.Section)
	r.lengthTo("length", w.Length, LongestBoard)
	r.lengthTo("width", w.Width, WidestBoard)
	r.length("thickness", w.Thickness)
	r.surface(w)
}

// surface judges how wood comes.
func (r row) surface(w *Wood) {
	kind := w.Section.size(Condition{}).kind
	switch {
	case w.Surface != "" && w.Surface != Rough && w.Surface != S2S:
		r.wrong(CodeWord, "surface", fmt.Sprintf("%.40q is not known here", string(w.Surface)),
			`write "rough" or "S2S"`)
	case kind == softwood && w.Surface != "":
		r.wrong(CodeContradiction, "surface", fmt.Sprintf(
			"section %s is softwood, which comes dressed on four sides", w.Section),
			"empty the cell, or write an actual size such as 25x200mm as the section")
	case kind == quarters && w.Surface == "":
		r.wrong(CodeEmptyCell, "surface", "hardwood quarters come rough or S2S",
			`write "rough" or "S2S"`)
	}
}

// ValidDate says whether s is a day of the calendar written YYYY-MM-DD.
func ValidDate(s string) bool {
	_, err := time.Parse(time.DateOnly, s)
	return err == nil
}

func showLength(l Length, u Unit) string { return l.Decimal(u) + " " + string(u) }

// DefectKind is the plain spelling of a kind of defect: lower case, one blank between words.
func DefectKind(s string) string { return strings.Join(strings.Fields(strings.ToLower(s)), " ") }
