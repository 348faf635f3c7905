// Package report writes what people read.
package report

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"rackwright/io/table"
	"rackwright/model"
)

// Summary tells a maker what a plan does with money and wood, what it costs each commission, and
// what is proven of it.
func Summary(w io.Writer, job *model.Job, plan *model.Plan) error {
	p := printer{w: w, job: job}
	m := model.MeasureOf(plan)
	p.line("%s, %s, %s", count(len(job.Commissions), "commission"), count(len(job.Parts), "part"),
		count(pieces(job), "piece"))
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
	p.line("Worth: of the rack boards used, less that of the offcuts returned. Value: cash, worth and handling.")
	p.line("Waste and yield are shares of the length of the boards used, where they are ripped of their area; the rest goes back as offcuts.")
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

type printer struct {
	w     io.Writer
	job   *model.Job
	width int // of a line; 0: 80, and longer where a word is
	err   error
}

func (p *printer) line(format string, args ...any) {
	if p.err != nil {
		return
	}
	text := fmt.Sprintf(format, args...)
	if p.width > 0 {
		text = strings.ReplaceAll(wrap(broken(text, p.width-8), p.width), noBreakSpace, " ")
	} else {
		text = Wrap(text)
	}
	p.raw(text)
}

// raw prints one line as it is.
func (p *printer) raw(text string) {
	if p.err == nil {
		_, p.err = io.WriteString(p.w, text+"\n")
	}
}

const noBreakSpace = "\u00a0"

// Wrap breaks a text at blanks so that no line is longer than 80 columns, if its words allow; lines
// after the first keep its indent.
func Wrap(text string) string { return wrap(text, 80) }

func wrap(text string, most int) string {
	indent := len(text) - len(strings.TrimLeft(text, " "))
	var out strings.Builder
	column := 0
	for n, word := range strings.Split(text, " ") {
		width := utf8.RuneCountInString(word)
		switch {
		case n == 0:
		case column+1+width > most && column > indent:
			out.WriteString("\n" + strings.Repeat(" ", indent))
			column = indent
		default:
			out.WriteString(" ")
			column++
		}
		out.WriteString(word)
		column += width
	}
	return out.String()
}

func (p *printer) table(columns []table.Column, rows [][]string) {
	if p.err == nil {
		p.err = table.Write(p.w, columns, rows)
	}
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
		p.line("Proven: with these blanks, boards and settings no plan for the same pieces is cheaper.")
	default:
		p.line("Proven: with these blanks, boards and settings no plan for the same pieces has a value below %s.", Bound(plan.Bound, plan.Value))
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
		rows = append(rows, []string{short(g.Name), strconv.FormatInt(n, 10), Money(g.Value),
			Bound(g.Bound, g.Value), gap, string(g.Proof), string(g.Ended)})
	}
	if len(rows) > 0 {
		p.line("")
		p.table([]table.Column{{Name: "group"}, {Name: "pieces", Align: table.Right},
			{Name: "value", Align: table.Right}, {Name: "bound", Align: table.Right},
			{Name: "gap", Align: table.Right}, {Name: "proof"}, {Name: "search"}}, rows)
	}
}

// short names the material of a group once, where several sections of it stand side by side.
func short(name string) string {
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

// measure is what wood is tallied in.
func (p *printer) measure() string {
	if p.job.Settings.Units == model.Millimetre {
		return "cubic m"
	}
	return "board feet"
}

// tally prints millionths: board feet to a tenth, cubic metres to a thousandth.
func (p *printer) tally(n int64) string {
	if p.job.Settings.Units == model.Millimetre {
		return fmt.Sprintf("%d.%03d", (n+500)/1_000_000, (n+500)%1_000_000/1000)
	}
	return fmt.Sprintf("%d.%d", (n+50_000)/1_000_000, (n+50_000)%1_000_000/100_000)
}

// Money prints an amount to the nearest hundredth, halves away from zero.
func Money(m model.Money) string {
	if m < 0 {
		return hundredths(-((50 - m) / 100))
	}
	return hundredths((m + 50) / 100)
}

// Bound prints the bound of a value to a hundredth, rounded down, as what is proven of it would not
// be true of a greater amount; one that the value reaches is printed as the value is.
func Bound(m, value model.Money) string {
	if m == value {
		return Money(m)
	}
	h := m / 100
	if m%100 < 0 {
		h--
	}
	return hundredths(h)
}

func hundredths(h model.Money) string {
	sign := ""
	if h < 0 {
		sign, h = "-", -h
	}
	return fmt.Sprintf("%s%d.%02d", sign, h/100, h%100)
}

// gap prints what a plan may be above the cheapest, with its currency: to the last digit where it
// is small, else to a hundredth, rounded up.
func (p *printer) gap(m model.Money) string {
	if m%100 != 0 && m < 10_000 {
		return m.String() + " " + p.job.Settings.Currency
	}
	return hundredths((m+99)/100) + " " + p.job.Settings.Currency
}

// share is a share of a length in percent, to a tenth.
func share(part, whole model.Length) string {
	if whole == 0 {
		return "0 %"
	}
	tenths := (int64(part)*2000 + int64(whole)) / (2 * int64(whole))
	return fmt.Sprintf("%d.%d %%", tenths/10, tenths%10)
}

// Percent is 100 a / b to a hundredth, rounded up, so that only a true zero shows as 0.00.
func Percent(a, b model.Money) string {
	if b <= 0 {
		return "-"
	}
	if a < 0 {
		return "-" + Percent(-a, b)
	}
	h := (int64(a)*10_000 + int64(b) - 1) / int64(b)
	return fmt.Sprintf("%d.%02d %%", h/100, h%100)
}

func pieces(job *model.Job) (n int) {
	for i := range job.Parts {
		n += int(job.Parts[i].Qty)
	}
	return n
}

// count says how many of a thing there are.
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	if stem, ok := strings.CutSuffix(thing, "y"); ok {
		return fmt.Sprintf("%d %sies", n, stem)
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
