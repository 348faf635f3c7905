package report

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rackwright/io/layout"
	"rackwright/io/table"
	"rackwright/model"
	"rackwright/model/makeup"
)

// What the summary says, text by text: pages and papers say it in the same words.

// Amounts are what a plan costs: of each its name, the money and what it is for. The net wood cost,
// the sum of all, comes last.
func Amounts(job *model.Job, plan *model.Plan) [][3]string {
	p, m := printer{job: job}, model.MeasureOf(plan)
	out := [][3]string{
		{"To pay at the yards", Money(m.Cash), count(m.Bought, "board") + taxed(plan)},
		{"Rack boards used", Money(m.RackUsed),
			count(m.Boards-m.Bought, "board") + ", at rack value"},
		{"Offcuts returned", Money(-m.RackReturned),
			count(m.Offcuts, "offcut") + ", at rack value"},
		{"Handling", Money(m.Handling), count(m.Boards, "board")},
	}
	if text := p.ripping(plan, m.Ripping); text != "" {
		out = append(out, [3]string{"Ripping", Money(m.Ripping), text})
	}
	return append(out,
		[3]string{"Net wood cost", Money(plan.Value), "in " + job.Settings.Currency})
}

// Shop says what the job takes from the shop folder above it; empty where that is nothing.
func Shop(job *model.Job) string {
	var names []string
	designs := 0
	for _, in := range job.Inputs {
		switch name, shop := strings.CutPrefix(in.Name, model.Above); {
		case shop && strings.HasPrefix(name, "designs/"):
			designs++
		case shop:
			names = append(names, name)
		}
	}
	if designs > 0 {
		names = append(names, count(designs, "design"))
	}
	if len(names) == 0 {
		return ""
	}
	return "From the shop folder above: " + strings.Join(names, ", ") + "."
}

// UseOfWood says what becomes of the wood: yield and waste, and the tally.
func UseOfWood(job *model.Job, plan *model.Plan) []string {
	p, m, t := printer{job: job}, model.MeasureOf(plan), job.TallyOf(plan)
	return []string{
		fmt.Sprintf("Yield %s in parts, %s in offcuts; waste %s (kerf %s, trim %s, defects %s).",
			share(m.ByKind[model.KindPart], m.Length),
			share(m.ByKind[model.KindOffcut], m.Length), share(m.Waste(), m.Length),
			share(m.ByKind[model.KindKerf], m.Length),
			share(m.ByKind[model.KindTrim], m.Length),
			share(m.ByKind[model.KindDefect], m.Length)),
		fmt.Sprintf("Tally in %s: %s bought, %s used from the rack, %s in offcuts returned, %s in "+
			"blanks.",
			p.measure(), p.tally(t.Bought), p.tally(t.Rack), p.tally(t.Returned),
			p.tally(t.Blanks)),
	}
}

// Savings quotes the strongest rule first, then the other rules, then one commission at a time. The
// last of the ways is the plan; only where alone is true the last but one is planned by commission.
func Savings(names []string, ways []model.Measure, alone bool) []string {
	best, rules := &ways[len(ways)-1], len(ways)-1
	if alone {
		rules--
	}
	var order []int
	for i := range rules {
		order = append(order, i)
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(ways[a].Value, ways[b].Value)
	})
	if alone {
		order = append(order, rules)
	}
	var out []string
	for n, i := range order {
		whom := names[i]
		if n == 0 && rules > 0 {
			whom = "the strongest rule (" + whom + ")"
		}
		out = append(out, saving(whom, &ways[i], best))
	}
	return out
}

// saving sets a way of planning against the plan.
func saving(whom string, m, best *model.Measure) string {
	switch {
	case m.Short != best.Short:
		return fmt.Sprintf("Against %s: not comparable, it cuts other pieces (%d short, the plan "+
			"%d).",
			whom, m.Short, best.Short)
	case m.Value == best.Value:
		return fmt.Sprintf("Against %s: the same net wood cost; you pay %s at the yards.", whom,
			less(m.Cash-best.Cash))
	}
	return fmt.Sprintf("Against %s: the plan saves %s of net wood cost (%s); you pay %s at the "+
		"yards.",
		whom, Money(m.Value-best.Value), Percent(m.Value-best.Value, m.Value),
		less(m.Cash-best.Cash))
}

func less(m model.Money) string {
	switch {
	case m < 0:
		return Money(-m) + " more"
	case m == 0:
		return "as much"
	}
	return Money(m) + " less"
}

// Proof says in plain words what bound and gap mean.
func Proof(job *model.Job, plan *model.Plan) []string {
	gap := plan.Value - plan.Bound
	switch {
	case len(plan.Groups) == 0:
		return []string{"Nothing was cut, so there is nothing to prove."}
	case gap == 0:
		return []string{"Proven: with these blanks, boards and settings no plan for the same " +
			"pieces is cheaper."}
	case !Useful(plan.Bound, plan.Value):
		return []string{upperFirst(NoUsefulBound) + ": how near this plan is to the cheapest is " +
			"not known. A longer search may tell: `rackwright help proof`."}
	}
	p := printer{job: job}
	text := "This one is at most " + p.gap(gap) + " above the cheapest possible"
	if plan.Value > 0 {
		text += " (gap " + Percent(gap, plan.Value) + ")"
	}
	return []string{"Proven: with these blanks, boards and settings no plan for the same pieces " +
		"has a net wood cost below " + Bound(plan.Bound, plan.Value) + ".", text + "."}
}

// Groups tells what is proven of each group of parts and boards, one row a group.
func Groups(job *model.Job, plan *model.Plan) (columns []table.Column, rows [][]string) {
	p := printer{job: job}
	for i := range plan.Groups {
		g, n := &plan.Groups[i], int64(0)
		for _, it := range g.Certificate.Items {
			n += it.Demand
		}
		for _, w := range g.Certificate.Wants {
			if w.Forgo == nil { // spare copies are not wanted, only welcome
				n += w.Demand
			}
		}
		bound, gap := Bound(g.Bound, g.Value), Percent(g.Value-g.Bound, g.Value)
		switch {
		case !Useful(g.Bound, g.Value):
			bound, gap = "-", "-"
		case g.Value <= 0:
			gap = p.gap(g.Value - g.Bound)
		}
		rows = append(rows, []string{shortGroup(g.Name), strconv.FormatInt(n, 10), Money(g.Value),
			bound, gap, Proven(g)})
	}
	return []table.Column{{Name: "group"}, {Name: "pieces", Align: table.Right},
		{Name: "net cost", Align: table.Right}, {Name: "bound", Align: table.Right},
		{Name: "gap", Align: table.Right}, {Name: "proof"}}, rows
}

// shortGroup names the material of a group once, where several sections of it stand side by side.
func shortGroup(name string) string {
	woods := strings.Split(name, ", ")
	out, before := woods[:0:0], ""
	for _, w := range woods {
		material, section := w, ""
		if at := strings.LastIndex(w, " "); at >= 0 {
			material, section = w[:at], w[at+1:]
		}
		if material == before && section != "" {
			w = section
		}
		out, before = append(out, w), material
	}
	return strings.Join(out, ", ")
}

// Searches tells why the searches ended; empty where every group is proven cheapest.
func Searches(plan *model.Plan) string {
	ended, proven := map[model.Ended]int{}, 0
	for i := range plan.Groups {
		g := &plan.Groups[i]
		if ended[g.Ended]++; g.Proof == model.Optimal {
			proven++
		}
	}
	if proven == len(plan.Groups) {
		return ""
	}
	var told []string
	for _, e := range []model.Ended{model.Finished, model.WorkLimit, model.Clock,
		model.Interrupted} {
		if n := ended[e]; n > 0 {
			told = append(told, count(n, "group")+" "+SearchWords(e))
		}
	}
	return "Search: " + strings.Join(told, ", ") + "."
}

// Measure is what wood is tallied in, and Tally prints millionths of it: board feet to a tenth,
// cubic metres to a thousandth.
func Measure(job *model.Job) string { return (&printer{job: job}).measure() }

// Tally prints a tally: see [Measure].
func Tally(job *model.Job, n int64) string { return (&printer{job: job}).tally(n) }

// Count says how many of a thing there are.
func Count(n int, thing string) string { return count(n, thing) }

// Shortage names the copies of a part that cannot be cut, and why. Where all wood is too small for
// them the texts behind say what is needed, what there is, and what to write for a glue-up. Of a
// part that is to be glued up they say what stands in the way.
func Shortage(job *model.Job, s *model.Shortage) []string {
	p := printer{job: job}
	out := []string{fmt.Sprintf("%s, %s, %s: %s", s.Commission, s.Part,
		count(len(s.Copies), "copy"), s.Reason)}
	i := slices.IndexFunc(job.Parts, func(p model.Part) bool {
		return p.Commission == s.Commission && p.Name == s.Part
	})
	if i < 0 {
		return out
	}
	part := &job.Parts[i]
	switch why, _ := makeup.Hindrance(job, part); {
	case why != "" && why != s.Reason:
		out = append(out, why)
	case s.Reason != model.TooNarrow && s.Reason != model.TooThin:
		return out
	default:
		for _, r := range job.Explain(part, job.Valuation()).Refused {
			if r.Reason == s.Reason {
				out = append(out, p.needs(&r))
			}
		}
	}
	if auto := makeup.Advise(job, part); auto != "" {
		out = append(out, auto)
	}
	return out
}

// HowCut says in which order a board is broken down.
func HowCut(l *layout.Board) string { return kindOfCutting(l) }
