package report

import (
	"fmt"
	"strconv"

	"rackwright/io/table"
	"rackwright/model"
)

// WayWords names a way of working.
func WayWords(w model.Way) string { return "least " + string(w) }

// OrderOfWork says in sentences which way order.csv follows, and what is known of both.
func OrderOfWork(plan *model.Plan) (out []string) {
	w := &plan.Work
	out = append(out, fmt.Sprintf("order.csv goes by %s (`--order %s`).", WayWords(w.Order),
		w.Order))
	for i := range w.Ways {
		if way := &w.Ways[i]; way.Way == model.LeastClutter && way.Exact {
			out = append(out, fmt.Sprintf(
				"Board by board, no order has fewer commissions open at once than %d: proven.",
				way.Open))
		}
	}
	return out
}

// work sets the ways of working side by side.
func (p *printer) work(plan *model.Plan) {
	if len(plan.Order) == 0 {
		return // nothing is cut
	}
	var rows [][]string
	for i := range plan.Work.Ways {
		w := &plan.Work.Ways[i]
		rows = append(rows, []string{WayWords(w.Way), strconv.Itoa(w.Settings),
			strconv.Itoa(w.Lifts), w.Minutes.String(), strconv.Itoa(w.Open)})
	}
	times := &p.job.Settings.Work
	p.line("")
	p.line("Order of work, at %s minutes a setting and %s a lift", times.Setting, times.Lift)
	p.table([]table.Column{{Name: "way of working"}, {Name: "settings", Align: table.Right},
		{Name: "lifts", Align: table.Right}, {Name: "minutes", Align: table.Right},
		{Name: "most commissions open", Align: table.Right}}, rows)
	p.line("")
	for _, text := range OrderOfWork(plan) {
		p.line("%s", text)
	}
}
