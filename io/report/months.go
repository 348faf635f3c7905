package report

import (
	"fmt"
	"io"
	"slices"
	"strconv"

	"rackwright/io/table"
	"rackwright/model"
)

// MonthPlans is what came of one month in several ways of planning. The first is the plan; the
// others are those of [Months].
type MonthPlans struct {
	Name string
	Ways []MonthPlan
}

// MonthPlan is what one way of planning made of a month.
type MonthPlan struct {
	model.Measure
	Rack model.Money // what the rack is worth afterwards
}

// Months sets months that follow each other side by side, in five ways: the plan, without offcuts
// kept, commission by commission, by the cheapest simple rule, by first fit. No line is longer
// than width.
func Months(w io.Writer, job *model.Job, ways []string, months []MonthPlans, width int) error {
	p := printer{w: w, job: job, width: width}
	short := slices.ContainsFunc(months, MonthPlans.short)
	p.waysOfMonths(ways, months, short)
	p.line("")
	if short {
		p.line("Short: pieces that are not cut for want of wood.")
	}
	charges := "handling"
	if job.Settings.Ripping > 0 {
		charges = "handling and ripping"
	}
	p.line("To pay: at the yards. Rack after: what the rack is worth when the month is cut, by "+
		"the prices of the month. Net: net wood cost: what is paid, %s, and what the rack lost.",
		charges)
	p.line("Waste is a share of the length of the boards used, where they are ripped of their " +
		"area.")
	p.line("")
	p.line("What the plans save of net wood cost, in %s:", job.Settings.Currency)
	p.line("")
	p.savedByMonth(months)
	p.line("")
	p.line("Carrying offcuts: against plans that keep nothing of what is cut off.")
	p.line("Planning together: against each commission planned and bought for by itself, the " +
		"earliest due first, its offcuts kept.")
	p.line("Searching: against the simple rule that is the cheapest in that month, offcuts kept.")
	p.line("First fit: against that rule alone, offcuts kept.")
	if short {
		p.line("Other pieces: the other way cuts more or fewer, so nothing can be compared.")
	}
	return p.err
}

// inAll adds the months up.
func inAll(months []MonthPlans) MonthPlans {
	all := MonthPlans{Name: "in all"}
	for way := range months[0].Ways {
		sum := MonthPlan{Measure: model.Measure{ByKind: map[model.Kind]model.Length{}}}
		for _, m := range months {
			w := &m.Ways[way]
			sum.Cash, sum.Value = sum.Cash+w.Cash, sum.Value+w.Value
			sum.Short, sum.Length = sum.Short+w.Short, sum.Length+w.Length
			for _, kind := range []model.Kind{model.KindPart, model.KindOffcut} {
				sum.ByKind[kind] += w.ByKind[kind]
			}
			sum.Rack = w.Rack
		}
		all.Ways = append(all.Ways, sum)
	}
	return all
}

// short says whether any way cuts fewer pieces than are wanted.
func (m MonthPlans) short() bool {
	return slices.ContainsFunc(m.Ways, func(w MonthPlan) bool { return w.Short > 0 })
}

// waysOfMonths prints a row for each way of each month, and of all together.
func (p *printer) waysOfMonths(ways []string, months []MonthPlans, short bool) {
	columns := []table.Column{{Name: "month"}, {Name: "way of planning"}}
	for _, name := range []string{"short", "to pay", "rack after", "net", "waste"} {
		columns = append(columns, table.Column{Name: name, Align: table.Right})
	}
	var rows [][]string
	for _, m := range append(slices.Clip(months), inAll(months)) {
		name := m.Name
		for i := range m.Ways {
			w := &m.Ways[i]
			rows = append(rows, []string{name, ways[i], strconv.Itoa(w.Short), Money(w.Cash),
				Money(w.Rack), Money(w.Value), share(w.Waste(), w.Length)})
			name = ""
		}
	}
	if !short {
		columns = slices.Delete(columns, 2, 3)
		for i := range rows {
			rows[i] = slices.Delete(rows[i], 2, 3)
		}
	}
	p.table(columns, rows)
}

// savedByMonth prints what the plans save against the other ways, month by month and in all.
func (p *printer) savedByMonth(months []MonthPlans) {
	columns := []table.Column{{Name: "month"}}
	for _, name := range []string{"carrying offcuts", "planning together", "searching",
		"first fit"} {
		columns = append(columns, table.Column{Name: name, Align: table.Right})
	}
	var rows [][]string
	add := func(name string, months []MonthPlans) {
		row := []string{name}
		for way := 1; way < len(columns); way++ {
			row = append(row, saved(months, way))
		}
		rows = append(rows, row)
	}
	for n, m := range months {
		add(m.Name, months[n:n+1])
	}
	add("in all", months)
	p.table(columns, rows)
}

// saved is what the plans of months save against another way, with its share.
func saved(months []MonthPlans, way int) string {
	var plan, other model.Money
	for _, m := range months {
		if m.Ways[0].Short != m.Ways[way].Short {
			return "other pieces"
		}
		plan, other = plan+m.Ways[0].Value, other+m.Ways[way].Value
	}
	return fmt.Sprintf("%s (%s)", Money(other-plan), Percent(other-plan, other))
}
