package report

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rackwright/io/table"
	"rackwright/model"
)

func (p *printer) buy(plan *model.Plan) {
	p.line("")
	if len(plan.Buy) == 0 {
		p.line("Nothing to buy.")
		return
	}
	p.purchases(plan, false, "To buy")
}

// taxed says how much of what is to be paid is tax, where there is any.
func taxed(plan *model.Plan) string {
	var tax model.Money
	for _, b := range plan.Buy {
		if !b.Reserve {
			tax += b.Tax
		}
	}
	if tax == 0 {
		return ""
	}
	return ", tax of " + Money(tax) + " included"
}

// reserve tells what else to buy as not all of it is clear, with its money, and where there is not
// enough for sale.
func (p *printer) reserve(plan *model.Plan) {
	why, missing := Reserve(p.job, plan)
	if why != "" {
		p.line("")
		p.line("%s", why)
		p.purchases(plan, true, "To buy as well")
	}
	for _, text := range missing {
		p.line("")
		p.line("%s", text)
	}
}

// Reserve says why more is to be bought than is cut, empty where it is not, and what of it is not
// for sale.
func Reserve(job *model.Job, plan *model.Plan) (why string, missing []string) {
	bought, spare := map[model.WoodKind]model.Length{}, map[model.WoodKind]model.Length{}
	var order []model.WoodKind
	var paid model.Money
	for _, b := range plan.Buy {
		k := model.WoodKind{Material: b.Material, Section: b.Section}
		if b.Reserve {
			spare[k] += b.Length * model.Length(b.Qty)
			paid += b.Total + b.Tax
			continue
		}
		if bought[k] += b.Length * model.Length(b.Qty); !slices.Contains(order, k) {
			order = append(order, k)
		}
	}
	if paid > 0 {
		why = fmt.Sprintf("Reserve, as not all bought wood is clear ([reserve] usable): %s more, "+
			"tax included. It is not in the net wood cost, nor in that of any commission.",
			Money(paid))
	}
	for _, k := range order {
		if short := job.Settings.ReserveFor(k.Material, bought[k]) - spare[k]; short > 0 {
			missing = append(missing, fmt.Sprintf("The reserve of %s %s is %s too short: no more "+
				"is for sale of what holds its parts.",
				k.Material, k.Section, job.Settings.ShowAtYard(short)))
		}
	}
	return why, missing
}

// purchases prints the rows of buy.csv that are used, or those of the reserve, yard by yard with
// what is paid there.
func (p *printer) purchases(plan *model.Plan, reserve bool, title string) {
	yards, paid := []string(nil), map[string]model.Money{}
	for _, b := range plan.Buy {
		if b.Reserve == reserve {
			if !slices.Contains(yards, b.Yard) {
				yards = append(yards, b.Yard)
			}
			paid[b.Yard] += b.Total + b.Tax
		}
	}
	for n, yard := range yards {
		if n > 0 {
			p.line("")
		}
		if yard == "" {
			p.line("%s", title)
		} else {
			p.line("%s from %s, %s in all", title, yard, Money(paid[yard]))
		}
		p.purchasesOf(plan, slices.DeleteFunc(slices.Clone(plan.Buy), func(b model.Purchase) bool {
			return b.Reserve != reserve || b.Yard != yard
		}))
	}
}

// purchasesOf prints rows of buy.csv; columns that say nothing in all of them are left out.
func (p *printer) purchasesOf(plan *model.Plan, list []model.Purchase) {
	some := func(said func(b model.Purchase) bool) bool { return slices.ContainsFunc(list, said) }
	random := func(b model.Purchase) bool { // the length does not say which board
		return slices.ContainsFunc(plan.Buy, func(o model.Purchase) bool {
			return o.Material == b.Material && o.Section == b.Section && o.Width != b.Width
		})
	}
	size := "length"
	if some(random) {
		size = "size"
	}
	grades := some(func(b model.Purchase) bool { return b.Grade != "" })
	tax := some(func(b model.Purchase) bool { return b.Tax != 0 })
	var columns []table.Column
	rows := make([][]string, len(list))
	column := func(shown bool, name string, align table.Align,
		cell func(b *model.Purchase) string) {
		if !shown {
			return
		}
		columns = append(columns, table.Column{Name: name, Align: align})
		for i := range list {
			rows[i] = append(rows[i], cell(&list[i]))
		}
	}
	column(true, "qty", table.Right, func(b *model.Purchase) string {
		return strconv.FormatInt(b.Qty, 10)
	})
	column(true, "material", table.Left, func(b *model.Purchase) string { return b.Material })
	column(true, "section", table.Left, func(b *model.Purchase) string {
		return strings.TrimSpace(string(b.Section) + " " + string(b.Surface))
	})
	column(grades, "grade", table.Left, func(b *model.Purchase) string { return b.Grade })
	column(true, size, table.Right, func(b *model.Purchase) string {
		length := p.job.Settings.ShowAtYard(b.Length)
		if random(*b) {
			return p.show(b.Width) + " x " + length
		}
		return length
	})
	column(true, "each", table.Right, func(b *model.Purchase) string { return Money(b.Price) })
	column(true, "total", table.Right, func(b *model.Purchase) string { return Money(b.Total) })
	column(tax, "tax", table.Right, func(b *model.Purchase) string { return Money(b.Tax) })
	column(true, p.measure(), table.Right, func(b *model.Purchase) string {
		return p.tally(b.Tally)
	})
	p.table(columns, rows)
}
