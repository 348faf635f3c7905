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

// Summary tells a maker what a plan does with money and wood, what it costs each commission, and
// what is proven of it. No line is longer than width.
func Summary(w io.Writer, job *model.Job, plan *model.Plan, width int) error {
	p := printer{w: w, job: job, width: width}
	p.line("%s", Size(job))
	if from := Shop(job); from != "" {
		p.line("%s", from)
	}
	p.line("")
	p.amounts(Amounts(job, plan))
	p.line("")
	for _, text := range append(UseOfWood(job, plan), MadeUp(job)...) {
		p.line("%s", text)
	}
	p.proof(plan)
	p.shortages(plan)
	p.buy(plan)
	p.reserve(plan)
	p.costs(plan)
	p.work(plan)
	p.line("")
	p.cautions(AllCautions(job, plan))
	return p.err
}

// Comparison sets the plan of the solver, the last one, beside those of the simple rules and that
// of one commission at a time. No line is longer than width.
func Comparison(w io.Writer, job *model.Job, names []string, ways []model.Measure,
	width int) error {
	p := printer{w: w, job: job, width: width}
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
	p.line("")
	for _, text := range Savings(names, ways, true) {
		p.line("%s", text)
	}
	return p.err
}

func (p *printer) amounts(rows [][3]string) {
	wide := 12
	for _, r := range rows {
		wide = max(wide, len(r[1]))
	}
	for _, r := range rows {
		p.item(fmt.Sprintf("  %-20s %*s   ", r[0], wide, r[1]), "%s", r[2])
	}
}

// proof says in plain words what bound and gap mean, and what is proven of each group.
func (p *printer) proof(plan *model.Plan) {
	p.line("")
	for _, text := range Proof(p.job, plan) {
		p.line("%s", text)
	}
	if len(plan.Groups) > 0 {
		columns, rows := Groups(p.job, plan)
		p.line("")
		p.table(columns, rows)
	}
	if text := Searches(plan); text != "" {
		p.line("")
		p.line("%s", text)
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

func (p *printer) shortages(plan *model.Plan) {
	if len(plan.Shortages) == 0 {
		return
	}
	p.line("")
	p.line("Short: these cannot be cut from what is on the rack and for sale.")
	for _, s := range plan.Shortages {
		for n, text := range Shortage(p.job, &s) {
			p.line("%*s%s", 2+2*min(n, 1), "", text)
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
	if text := SpareCosts(p.job, plan); text != "" {
		p.line("%s", text)
	}
}

// Size says how many commissions, parts and pieces a job has, however these are made up.
func Size(job *model.Job) string {
	of := job.AsEntered()
	return strings.Join([]string{count(len(of.Commissions), "commission"),
		count(len(of.Parts), "part"), count(pieceCount(of), "piece")}, ", ")
}

// pieceCount is how many pieces are wanted.
func pieceCount(job *model.Job) (n int) {
	for i := range job.Parts {
		n += int(job.Parts[i].Qty)
	}
	return n
}
