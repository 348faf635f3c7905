package report

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"rackwright/io/table"
	"rackwright/model"
)

// ExplainParts says of several parts, briefly, how long their blanks are and which wood is the
// cheapest for each. It ends with the final cuts. No length is rounded, as in [Explain], and no
// line is longer than width.
func ExplainParts(w io.Writer, job *model.Job, parts []*model.Part, width int) error {
	p := printer{w: w, job: job, width: width}
	worth := job.Valuation()
	for n := 0; n < len(parts); {
		name, rows := parts[n].Commission, [][]string(nil)
		for ; n < len(parts) && parts[n].Commission == name; n++ {
			rows = append(rows, p.brief(job.Explain(parts[n], worth)))
		}
		p.line("%s", name)
		p.table([]table.Column{{Name: "part"}, {Name: "qty", Align: table.Right},
			{Name: "blank", Align: table.Right}, {Name: "cheapest"},
			{Name: "each", Align: table.Right},
			{Name: "runner-up"}, {Name: "each", Align: table.Right},
			{Name: "more", Align: table.Right}}, rows)
		p.line("")
	}
	p.line("Blank: its length. Each: what the wood of one blank and its kerf costs in %s, by the "+
		"price per length: %s.",
		job.Settings.Currency, chargedFor)
	if slices.ContainsFunc(parts, glued) {
		p.line("Of a part that may be glued up, each is what the wood of one copy costs, by the " +
			"yard's price per area.")
	}
	p.line("")
	p.finalCuts(parts)
	return p.err
}

const chargedFor = "from the yard what the yard asks, from the rack its rack value; without " +
	"trims, handling and rips, in the board's whole width, of which a blank ripped beside others " +
	"takes its share"

// glued says whether a part may be glued up.
func glued(p *model.Part) bool { return p.Staves != 0 || p.Layers != 0 }

// brief is a row of the short list.
func (p *printer) brief(e *model.Explanation) []string {
	row := []string{e.Part.Name, strconv.FormatInt(e.Part.Qty, 10), p.exact(e.Length.Total()),
		"none holds it", "", "", "", ""}
	if glued(e.Part) {
		return p.briefMade(e.Part, row)
	}
	if len(e.Choices) > 0 {
		row[3], row[4] = wood(&e.Choices[0]), four(e.Choices[0].Cost)
	} else if len(e.Fits) > 0 {
		row[3] = "rack, without a rate"
	}
	if next := e.RunnerUp(); next != nil {
		row[5], row[6], row[7] = wood(next), four(next.Cost), four(next.Cost-e.Choices[0].Cost)
	}
	return row
}

func wood(c *model.Choice) string { return fmt.Sprintf("%s %s", c.Section, c.Origin) }

// Explain tells the whole story of one part. Every number in it can be found again with a pencil
// from the others, so no length is rounded; alike are all parts of the same stop. Of a part that
// is made up it says what the plan at hand has chosen; nil: there is none. No line is longer than
// width.
func Explain(w io.Writer, job *model.Job, part *model.Part, alike []*model.Part, at *Planned,
	width int) error {
	p := printer{w: w, job: job, width: width}
	e := job.Explain(part, job.Valuation())
	p.line("%s of %s (%s:%d): %d of %s, %v face", part.Name, part.Commission, part.Where.File,
		part.Where.Line, part.Qty, part.Material, part.Face)
	p.line("Finished: %s long, %s wide, %s thick.", p.exact(part.Length), p.exact(part.Width),
		p.exact(part.Thickness))
	if part.Section == "" {
		p.line("Section: none is named, so any board that holds it may serve.")
	} else {
		p.line("Section: %s, as the part names it.", part.Section)
	}
	if text := madeOf(part); text != "" {
		p.line("%s", text)
	}
	p.line("")
	p.allowances(e)
	p.line("")
	p.line("Blank, in any wood")
	p.line("  length: %s", p.sum(e.Length))
	if least := job.Settings.SafetyFor(part.Material,
		part.Section).ShortestBlank; e.Length.Total() < least {
		text := "mill it as part of a longer piece, by the machine's manual."
		if part.InOne != 0 {
			text = "several come out of one blank, see below."
		}
		p.line("  It is shorter than the %s of [safety] shortest_blank: %s", p.exact(least), text)
	}
	for i := range e.Fits {
		p.fit(e, &e.Fits[i])
	}
	p.refused(e)
	p.choices(e)
	cautions := p.madeUp(e, at)
	p.line("")
	p.finalCuts(alike)
	for _, text := range cautions {
		p.line("  %s", text)
	}
	return p.err
}

// madeOf says of what a part may be made up, as its row has it; empty: of one piece.
func madeOf(p *model.Part) string {
	var words []string
	for _, c := range []struct {
		what string
		n    model.Pieces
	}{{"staves", p.Staves}, {"layers", p.Layers}} {
		switch {
		case c.n == model.Auto:
			words = append(words, c.what+" as the plan chooses")
		case c.n > 0:
			words = append(words, fmt.Sprintf("%d %s", c.n, c.what))
		}
	}
	if len(words) == 0 {
		return ""
	}
	return "Made up: " + strings.Join(words, ", ") + "."
}

// sum writes how a length comes about: its terms, and their sum where there are several.
func (p *printer) sum(s model.Sum) string {
	var out strings.Builder
	for n, t := range s {
		times := t.Times
		switch {
		case times < 0:
			out.WriteString(" - ")
			times = -times
		case n > 0:
			out.WriteString(" + ")
		}
		if times != 1 {
			fmt.Fprintf(&out, "%d x ", times)
		}
		out.WriteString(p.exact(t.Length))
		if t.Key != "" {
			fmt.Fprintf(&out, " (%s)", t.Key)
		}
	}
	if len(s) > 1 {
		out.WriteString(" = " + p.exact(s.Total()))
	}
	return out.String()
}

// allowances lists each allowance of the part's material, its key in shop.toml, and whether it is
// added.
func (p *printer) allowances(e *model.Explanation) {
	sawn, asWide, planed, notPlaned := false, false, false, false
	flat, notFlat, eased := false, false, false
	for i := range e.Fits {
		f := &e.Fits[i]
		sawn, asWide = sawn || f.Sawn, asWide || !f.Sawn
		s2s := f.Planed && f.Surface == model.S2S
		flat, notFlat = flat || s2s, notFlat || !s2s
		planed, notPlaned = planed || f.Planed && !s2s, notPlaned || !f.Planed || s2s
		eased = eased || len(f.Usable) > 1
	}
	use := func(yes, no bool, added, left string) string {
		switch {
		case len(e.Fits) == 0:
			return "-"
		case yes && no:
			return added + " in some sections, see below"
		case yes:
			return added
		}
		return left
	}
	a, o := &e.Allowance, p.job.Settings.Materials[e.Part.Material]
	starred := ""
	row := func(key string, l model.Length, own *model.Length, why string) []string {
		if own != nil {
			key += " *"
			starred = fmt.Sprintf("; those with * below [material.%q.allowance]", e.Part.Material)
		}
		return []string{key, p.exact(l), why}
	}
	rows := [][]string{
		row("length", a.Length, o.Length, "added: both ends are squared"),
		row("edge", a.Edge, o.Edge,
			use(sawn, asWide, "added at each sawn edge", "not added: no edge is sawn")),
		row("eased_edge", a.EasedEdge, o.EasedEdge,
			use(eased, false, "lost at a board's own edge, serves as edge",
				map[bool]string{true: "not lost: no edge of the board is eased",
					false: "not lost: no edge is sawn"}[sawn])),
		row("thickness", a.Thickness, o.Thickness,
			use(planed, notPlaned, "added: faces are planed",
				map[bool]string{true: "not added: the faces are flat",
					false: "not added: no face is planed"}[flat])),
		row("thickness_s2s", a.ThicknessS2S, o.ThicknessS2S,
			use(flat, notFlat, "added: flat faces are planed",
				"not added: no flat face is planed")),
		row("plane_limit", a.PlaneLimit, o.PlaneLimit, "most that is planed away"),
	}
	p.line("Allowances: keys of shop.toml below [allowance]%s", starred)
	p.table([]table.Column{{Name: "key"}, {Name: "amount", Align: table.Right}, {Name: "use"}},
		rows)
}

// fit tells of one section and one way to be held by it.
func (p *printer) fit(e *model.Explanation, f *model.Fit) {
	p.line("")
	p.line("Blank in %s: %s", strings.TrimSpace(string(f.Section)+" "+string(f.Surface)),
		strings.Join([]string{p.exact(e.Length.Total()), p.exact(f.Width.Total()),
			p.exact(f.Thickness.Total())}, " by "))
	p.line("  %s", rule(f))
	if f.Sawn {
		p.line("  width: %s", p.sum(f.Width))
		p.line("  usable of the narrowest: %s%s", p.sum(f.Usable),
			map[bool]string{true: "; the board's own edges serve as sawn ones"}[len(f.Usable) > 1])
	} else {
		p.line("  width: %s, as it comes", p.sum(f.Width))
	}
	if f.Planed {
		p.line("  thickness: %s", p.sum(f.Thickness))
		spare := model.Sum{{Times: 1, Length: f.Thickest}, {Times: -1, Length: f.Thickness.Total()}}
		p.line("  of the thickest, to plane away beyond that: %s; plane_limit allows %s",
			p.sum(spare), p.exact(e.Allowance.PlaneLimit))
	} else {
		p.line("  thickness: %s, as it comes", p.sum(f.Thickness))
	}
	p.line("  held by %s", p.names(&f.Woods))
}

// rule says by which rule a blank has its allowances.
func rule(f *model.Fit) string {
	switch {
	case f.Surface == model.Rough:
		return "rough stock: both edges are sawn and both faces planed, always"
	case f.Surface == model.S2S && f.Planed:
		return "S2S stock: both edges are sawn, always; flat faces take thickness_s2s"
	case f.Surface == model.S2S:
		return "S2S stock: both edges are sawn, always; the part is as thick"
	}
	return "finished stock: sawn and planed only where the part is of another size"
}

// names counts woods and names the first of them.
func (p *printer) names(w *model.Woods) string {
	var parts []string
	list := func(n int, thing, rest, each string, name func(i int) string) {
		if n == 0 {
			return
		}
		var names []string
		for i := range n {
			names = append(names, name(i))
		}
		parts = append(parts, fmt.Sprintf("%s%s (%s%s)", count(n, thing), rest, each,
			strings.Join(few(names), ", ")))
	}
	list(len(w.Rack), "rack board", "", "", func(i int) string { return w.Rack[i].ID })
	list(len(w.Yard), "row", " of "+p.job.Source("yard.csv"), "line ", func(i int) string {
		return strconv.Itoa(w.Yard[i].Where.Line)
	})
	return strings.Join(parts, ", ")
}

// refused tells what stands in the way of the other boards.
func (p *printer) refused(e *model.Explanation) {
	if len(e.Refused) == 0 {
		return
	}
	p.line("")
	if len(e.Fits) == 0 && e.Part.ByWays() {
		p.line("Nothing holds it in one piece. By what stands in the way first:")
	} else if len(e.Fits) == 0 {
		p.line("Nothing holds it, so it will be short. By what stands in the way first:")
	} else {
		p.line("What does not hold it, by what stands in the way first:")
	}
	for i := range e.Refused {
		r := &e.Refused[i]
		reason := r.Reason
		// it is said of some here
		for _, all := range []string{"every board that would do is ", "every board long enough is ",
			"every board is "} {
			reason = strings.TrimPrefix(reason, all)
		}
		for _, all := range []string{"no board is ", "no board "} {
			if rest, ok := strings.CutPrefix(reason, all); ok {
				reason = "not " + rest
				break
			}
		}
		p.line("  %s: %s", reason, p.names(&r.Woods))
		if r.Needs != nil {
			p.line("    %s", p.needs(r))
		}
	}
}

// needs says what boards that are too narrow or too thin would have to have, and what there is.
func (p *printer) needs(r *model.Refusal) string {
	largest := "widest"
	if r.Reason == model.TooThin {
		largest = "thickest"
	}
	return fmt.Sprintf("the blank needs %s; the %s has %s", p.sum(r.Needs), largest,
		p.sum(r.Has))
}

// finalCuts lists what is cut from the blanks at the end.
func (p *printer) finalCuts(parts []*model.Part) {
	p.line("Final cuts, by stop length: off is what both ends lose together, saw cuts included")
	var rows [][]string
	for _, c := range FinalCuts(p.job, parts) {
		rows = append(rows, []string{p.exact(c.Stop), p.exact(c.Blank), p.exact(c.Off),
			strconv.FormatInt(c.Qty, 10), c.Part, c.Commission})
	}
	p.table([]table.Column{{Name: "stop", Align: table.Right}, {Name: "blank", Align: table.Right},
		{Name: "off", Align: table.Right}, {Name: "qty", Align: table.Right},
		{Name: "part"}, {Name: "commission"}}, rows)
	p.line("")
	p.cautions(FinalCautions(p.job, parts))
}
