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
	p.amounts([][3]string{
		{"Cash out", Money(m.Cash), count(m.Bought, "board") + " to buy" + taxed(plan)},
		{"Rack used", Money(m.RackUsed),
			count(m.Boards-m.Bought, "board") + " from the rack, at worth"},
		{"Rack returned", Money(-m.RackReturned), count(m.Offcuts, "offcut") + ", at worth"},
		{"Handling", Money(m.Handling), count(m.Boards, "board") + " used"},
		{"Value of the plan", Money(plan.Value), ""},
	})
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
	columns := []table.Column{{Name: "way of planning"}, {Name: "cash", Align: table.Right},
		{Name: "worth", Align: table.Right},
		{Name: "value", Align: table.Right}, {Name: "boards", Align: table.Right},
		{Name: "waste", Align: table.Right}, {Name: "yield", Align: table.Right}}
	if short {
		columns = slices.Insert(columns, 1, table.Column{Name: "short", Align: table.Right})
	}
	p.table(columns, rows)
	p.line("")
	if short {
		p.line("Short: pieces that are not cut for want of wood.")
	}
	p.line("Worth: of the rack boards used, less that of the offcuts returned. Value: cash, " +
		"worth and handling.")
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
			p.line("Against %s: the same value; it spends %s in cash.", whom,
				less(m.Cash-best.Cash))
			continue
		}
		p.line("Against %s: the plan saves %s in value (%s); it spends %s in cash.", whom,
			Money(m.Value-best.Value),
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
		p.line("%s", strings.TrimRight(fmt.Sprintf("  %-18s %14s   %s", r[0], r[1], r[2]), " "))
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
	default:
		p.line("Proven: with these blanks, boards and settings no plan for the same pieces has a "+
			"value below %s.",
			Bound(plan.Bound, plan.Value))
		text := "This one is at most " + p.gap(gap) + " above the cheapest possible"
		if plan.Value > 0 {
			text += " (gap " + Percent(gap, plan.Value) + ")"
		}
		p.line("%s.", text)
	}
	var rows [][]string
	for _, g := range plan.Groups {
		n := int64(0)
		for _, it := range g.Certificate.Items {
			n += it.Demand
		}
		gap := Percent(g.Value-g.Bound, g.Value)
		if g.Value <= 0 {
			gap = p.gap(g.Value - g.Bound)
		}
		rows = append(rows, []string{shortGroup(g.Name), strconv.FormatInt(n, 10), Money(g.Value),
			Bound(g.Bound, g.Value), gap, string(g.Proof), string(g.Ended)})
	}
	if len(rows) > 0 {
		p.line("")
		p.table([]table.Column{{Name: "group"}, {Name: "pieces", Align: table.Right},
			{Name: "value", Align: table.Right}, {Name: "bound", Align: table.Right},
			{Name: "gap", Align: table.Right}, {Name: "proof"}, {Name: "search"}}, rows)
	}
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
	}
}

func (p *printer) costs(plan *model.Plan) {
	var rows [][]string
	for _, c := range plan.Costs {
		rows = append(rows, []string{c.Commission, Money(c.Cost), Money(c.Yard), Money(c.Rack),
			Money(c.Handling), Money(-c.Credit), p.tally(c.Tally)})
	}
	p.line("")
	p.line("Wood in each commission")
	p.table([]table.Column{{Name: "commission"}, {Name: "cost", Align: table.Right},
		{Name: "yard", Align: table.Right}, {Name: "rack", Align: table.Right},
		{Name: "handling", Align: table.Right}, {Name: "offcuts", Align: table.Right},
		{Name: p.measure(), Align: table.Right}}, rows)
}

// pieceCount is how many pieces are wanted.
func pieceCount(job *model.Job) (n int) {
	for i := range job.Parts {
		n += int(job.Parts[i].Qty)
	}
	return n
}
