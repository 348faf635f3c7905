package report

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"rackwright/io/table"
	"rackwright/model"
)

// Summary tells a maker what a plan does with money and wood, what it costs each commission, and
// what is proven of it.
func Summary(w io.Writer, job *model.Job, plan *model.Plan) error {
	p := printer{w: w, job: job}
	m := model.MeasureOf(plan)
	p.line("%s, %s, %s", count(len(job.Commissions), "commission"), count(len(job.Parts), "part"),
		count(pieceCount(job), "piece"))
	p.line("")
	amounts := [][3]string{
		{"To pay at the yards", Money(m.Cash), count(m.Bought, "board") + taxed(plan)},
		{"Rack boards used", Money(m.RackUsed),
			count(m.Boards-m.Bought, "board") + ", at rack value"},
		{"Offcuts returned", Money(-m.RackReturned),
			count(m.Offcuts, "offcut") + ", at rack value"},
		{"Handling", Money(m.Handling), count(m.Boards, "board")},
	}
	if text := p.ripping(plan, m.Ripping); text != "" {
		amounts = append(amounts, [3]string{"Ripping", Money(m.Ripping), text})
	}
	p.amounts(append(amounts,
		[3]string{"Net wood cost", Money(plan.Value), "in " + job.Settings.Currency}))
	p.line("")
	p.line("Yield %s in parts, %s in offcuts; waste %s (kerf %s, trim %s, defects %s).",
		share(m.ByKind[model.KindPart], m.Length),
		share(m.ByKind[model.KindOffcut], m.Length), share(m.Waste(), m.Length),
		share(m.ByKind[model.KindKerf], m.Length),
		share(m.ByKind[model.KindTrim], m.Length), share(m.ByKind[model.KindDefect], m.Length))
	t := job.TallyOf(plan)
	p.line("Tally in %s: %s bought, %s used from the rack, %s in offcuts returned, %s in blanks.",
		p.measure(), p.tally(t.Bought), p.tally(t.Rack), p.tally(t.Returned), p.tally(t.Blanks))
	p.proof(plan)
	p.shortages(plan)
	p.buy(plan)
	p.reserve(plan)
	p.costs(plan)
	p.rippedBoards(plan)
	p.line("")
	p.cautions(planHazards(job, plan))
	return p.err
}

// Comparison sets the plan of the solver, the last one, beside those of the simple rules and that
// of one commission at a time.
func Comparison(w io.Writer, job *model.Job, names []string, ways []model.Measure) error {
	p := printer{w: w, job: job}
	short := slices.ContainsFunc(ways, func(m model.Measure) bool { return m.Short > 0 })
	var rows [][]string
	for i := range ways {
		m := &ways[i]
		row := []string{names[i], Money(m.Cash), Money(m.Worth()), Money(m.Value),
			strconv.Itoa(m.Boards),
			share(m.Waste(), m.Length), share(m.ByKind[model.KindPart], m.Length)}
		if short {
			row = slices.Insert(row, 1, strconv.Itoa(m.Short))
		}
		rows = append(rows, row)
	}
	columns := []table.Column{{Name: "way of planning"}, {Name: "to pay", Align: table.Right},
		{Name: "rack", Align: table.Right},
		{Name: "net", Align: table.Right}, {Name: "boards", Align: table.Right},
		{Name: "waste", Align: table.Right}, {Name: "yield", Align: table.Right}}
	if short {
		columns = slices.Insert(columns, 1, table.Column{Name: "short", Align: table.Right})
	}
	p.table(columns, rows)
	p.line("")
	if short {
		p.line("Short: pieces that are not cut for want of wood.")
	}
	charges := " and handling"
	if job.Settings.Ripping > 0 {
		charges = ", handling and ripping"
	}
	p.line("To pay: at the yards. Rack: rack value of the boards used, less that of the "+
		"offcuts returned. Net: net wood cost, the sum of these two%s.", charges)
	p.line("Waste and yield are shares of the length of the boards used, where they are ripped " +
		"of their area; the rest goes back as offcuts.")
	p.savings(names, ways)
	return p.err
}

// savings quotes the strongest rule first, then one commission at a time, the last but one of the
// ways.
func (p *printer) savings(names []string, ways []model.Measure) {
	best, alone := &ways[len(ways)-1], len(ways)-2
	var order []int
	for i := range alone {
		order = append(order, i)
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(ways[a].Value, ways[b].Value)
	})
	p.line("")
	for n, i := range append(order, alone) {
		m, whom := &ways[i], names[i]
		if n == 0 {
			whom = "the strongest rule (" + whom + ")"
		}
		if m.Short != best.Short {
			p.line("Against %s: not comparable, it cuts other pieces (%d short, the plan %d).",
				whom, m.Short, best.Short)
			continue
		}
		if m.Value == best.Value {
			p.line("Against %s: the same net wood cost; you pay %s at the yards.", whom,
				less(m.Cash-best.Cash))
			continue
		}
		p.line("Against %s: the plan saves %s of net wood cost (%s); you pay %s at the yards.",
			whom, Money(m.Value-best.Value),
			Percent(m.Value-best.Value, m.Value), less(m.Cash-best.Cash))
	}
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

func (p *printer) amounts(rows [][3]string) {
	for _, r := range rows {
		p.line("%s", strings.TrimRight(fmt.Sprintf("  %-20s %12s   %s", r[0], r[1], r[2]), " "))
	}
}

// proof says in plain words what bound and gap mean.
func (p *printer) proof(plan *model.Plan) {
	p.line("")
	gap := plan.Value - plan.Bound
	switch {
	case len(plan.Groups) == 0:
		p.line("Nothing was cut, so there is nothing to prove.")
	case gap == 0:
		p.line("Proven: with these blanks, boards and settings no plan for the same pieces " +
			"is cheaper.")
	case !Useful(plan.Bound, plan.Value):
		p.line("%s: how near this plan is to the cheapest is not known. A longer search may "+
			"tell: `rackwright help proof`.",
			upperFirst(NoUsefulBound))
	default:
		p.line("Proven: with these blanks, boards and settings no plan for the same pieces has a "+
			"net wood cost below %s.",
			Bound(plan.Bound, plan.Value))
		text := "This one is at most " + p.gap(gap) + " above the cheapest possible"
		if plan.Value > 0 {
			text += " (gap " + Percent(gap, plan.Value) + ")"
		}
		p.line("%s.", text)
	}
	var rows [][]string
	ended, proven := map[model.Ended]int{}, 0
	for i := range plan.Groups {
		g, n := &plan.Groups[i], int64(0)
		for _, it := range g.Certificate.Items {
			n += it.Demand
		}
		bound, gap := Bound(g.Bound, g.Value), Percent(g.Value-g.Bound, g.Value)
		switch {
		case !Useful(g.Bound, g.Value):
			bound, gap = "-", "-"
		case g.Value <= 0:
			gap = p.gap(g.Value - g.Bound)
		}
		if ended[g.Ended]++; g.Proof == model.Optimal {
			proven++
		}
		rows = append(rows, []string{shortGroup(g.Name), strconv.FormatInt(n, 10), Money(g.Value),
			bound, gap, Proven(g)})
	}
	if len(rows) > 0 {
		p.line("")
		p.table([]table.Column{{Name: "group"}, {Name: "pieces", Align: table.Right},
			{Name: "net cost", Align: table.Right}, {Name: "bound", Align: table.Right},
			{Name: "gap", Align: table.Right}, {Name: "proof"}}, rows)
	}
	if proven < len(plan.Groups) {
		p.searches(ended)
	}
}

// The words for what is known of a plan.
const (
	ProvenCheapest    = "proven cheapest"
	NotProvenCheapest = "not proven cheapest"
	NoUsefulBound     = "no useful bound yet"
)

// Proven says in words what is proven of a group's plan.
func Proven(g *model.Group) string {
	switch {
	case g.Proof == model.Optimal:
		return ProvenCheapest
	case !Useful(g.Bound, g.Value):
		return NoUsefulBound
	}
	return NotProvenCheapest
}

// Useful says whether the bound of a net wood cost tells anything. That nothing is cheaper than 0
// is plain without a proof.
func Useful(bound, value model.Money) bool { return bound >= value || bound >= 100 }

// SearchWords says in words why a search ended.
func SearchWords(e model.Ended) string {
	switch e {
	case model.Finished:
		return "searched to the end"
	case model.WorkLimit:
		return "ended at the work limit"
	case model.Clock:
		return "ended by the clock"
	}
	return string(e)
}

// searches tells why the searches ended.
func (p *printer) searches(ended map[model.Ended]int) {
	var told []string
	for _, e := range []model.Ended{model.Finished, model.WorkLimit, model.Clock,
		model.Interrupted} {
		if n := ended[e]; n > 0 {
			told = append(told, count(n, "group")+" "+SearchWords(e))
		}
	}
	p.line("")
	p.line("Search: %s.", strings.Join(told, ", "))
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

func (p *printer) shortages(plan *model.Plan) {
	if len(plan.Shortages) == 0 {
		return
	}
	p.line("")
	p.line("Short: these cannot be cut from what is on the rack and for sale.")
	for _, s := range plan.Shortages {
		p.line("  %s, %s, %s: %s", s.Commission, s.Part, count(len(s.Copies), "copy"), s.Reason)
		p.tooSmall(s)
	}
}

// tooSmall says of a shortage for want of width or thickness what is needed and what there is.
func (p *printer) tooSmall(s model.Shortage) {
	if s.Reason != model.TooNarrow && s.Reason != model.TooThin {
		return
	}
	for i := range p.job.Parts {
		if part := &p.job.Parts[i]; part.Commission == s.Commission && part.Name == s.Part {
			for _, r := range p.job.Explain(part, p.job.Valuation()).Refused {
				if r.Reason == s.Reason {
					p.line("    %s", p.needs(&r))
				}
			}
		}
	}
}

// costs lists what the wood of each commission costs; with the rips, where they have a price.
func (p *printer) costs(plan *model.Plan) {
	columns := []table.Column{{Name: "commission"}, {Name: "net", Align: table.Right},
		{Name: "yards", Align: table.Right}, {Name: "rack", Align: table.Right},
		{Name: "handling", Align: table.Right}, {Name: "offcuts", Align: table.Right},
		{Name: p.measure(), Align: table.Right}}
	const offcuts = 5
	priced := p.job.Settings.Ripping > 0
	if priced {
		columns = slices.Insert(columns, offcuts, table.Column{Name: "ripping", Align: table.Right})
	}
	var rows [][]string
	for _, c := range plan.Costs {
		row := []string{c.Commission, Money(c.Cost), Money(c.Yard), Money(c.Rack),
			Money(c.Handling), Money(-c.Credit), p.tally(c.Tally)}
		if priced {
			row = slices.Insert(row, offcuts, Money(c.Ripping))
		}
		rows = append(rows, row)
	}
	p.line("")
	p.line("Net wood cost of each commission")
	p.table(columns, rows)
}

// pieceCount is how many pieces are wanted.
func pieceCount(job *model.Job) (n int) {
	for i := range job.Parts {
		n += int(job.Parts[i].Qty)
	}
	return n
}
