package page

import (
	"fmt"
	"slices"
	"strings"

	"rackwright/io/report"
	"rackwright/model"
)

// yard is what to buy at one of them.
type yard struct {
	Name string // empty where yards have no names
	Paid string // in all, tax included
	Rows []purchase
}

// purchase is one row of buy.csv.
type purchase struct {
	Tick   string // names its check box
	Qty    int64
	Wood   string
	Length string
	Facts  string // surface, grade, width, tally
	Money  string
	Boards []string // their ids
}

// buy lists what to buy, then the reserve.
func (v *view) buy() {
	v.Yards = v.yards(false)
	v.ReserveWhy, v.Missing = report.Reserve(v.job, v.plan)
	v.ReserveWhy, v.Missing = model.Visible(v.ReserveWhy), visible(v.Missing)
	if v.ReserveWhy != "" {
		v.Reserve = v.yards(true)
	}
}

func (v *view) yards(reserve bool) (out []yard) {
	var names []string
	paid := []model.Money(nil)
	for i := range v.plan.Buy {
		b := &v.plan.Buy[i]
		if b.Reserve != reserve {
			continue
		}
		n := slices.Index(names, b.Yard)
		if n < 0 {
			n = len(names)
			names, paid = append(names, b.Yard), append(paid, 0)
			out = append(out, yard{Name: model.Visible(b.Yard)})
		}
		paid[n] += b.Total + b.Tax
		out[n].Rows = append(out[n].Rows, v.purchase(i))
	}
	for n := range out {
		out[n].Paid = report.Money(paid[n])
	}
	return out
}

func (v *view) purchase(i int) purchase {
	b := &v.plan.Buy[i]
	var facts []string
	for _, f := range []string{string(b.Surface), b.Grade} {
		if f != "" {
			facts = append(facts, f)
		}
	}
	if b.Width != 0 {
		facts = append(facts, v.length(b.Width)+" wide")
	}
	facts = append(facts, report.Tally(v.job, b.Tally)+" "+report.Measure(v.job))
	money := fmt.Sprintf("%s each, %s in all", report.Money(b.Price), report.Money(b.Total))
	if b.Tax != 0 {
		money += ", tax " + report.Money(b.Tax)
	}
	return purchase{Boards: visible(b.Boards), Tick: fmt.Sprintf("y%d", i+1), Qty: b.Qty,
		Wood: model.Visible(b.Material + " " + string(b.Section)), Length: v.atYard(b.Length),
		Facts: model.Visible(strings.Join(facts, ", ")), Money: money}
}
