package report

import (
	"fmt"
	"io"
	"math/big"
	"slices"
	"strings"

	"rackwright/io/table"
	"rackwright/model"
)

// printer is the one way to print. Nothing more is written after an error, which stays in err.
type printer struct {
	w     io.Writer
	job   *model.Job // whose units, currency and settings count
	width int        // of a line; 0: UsualWidth
	err   error
}

// UsualWidth is how many columns a line has where nobody says how many it may have; longest is how
// many a line of sentences has at most, as longer ones are hard to read.
const UsualWidth, longest = 80, 100

// line prints a text, broken over as many lines as it needs. Names in it are visible.
func (p *printer) line(format string, args ...any) {
	if p.err != nil {
		return
	}
	text := model.Visible(fmt.Sprintf(format, args...))
	wide := min(longest, p.columns())
	p.raw(wrap(broken(text, wide-8), wide))
}

// raw prints one line as it is.
func (p *printer) raw(text string) {
	if p.err == nil {
		_, p.err = io.WriteString(p.w, text+"\n")
	}
}

// item prints a text with its head before it; the lines of a long one stand below each other.
func (p *printer) item(head, format string, args ...any) {
	wide := table.Width(head)
	room := p.columns() - wide
	text := wrap(broken(model.Visible(fmt.Sprintf(format, args...)), room), room)
	text = head + strings.ReplaceAll(text, "\n", "\n"+strings.Repeat(" ", wide))
	p.raw(strings.TrimRight(text, " "))
}

// columns is how wide a line may be.
func (p *printer) columns() int {
	if p.width == 0 {
		return UsualWidth
	}
	return p.width
}

// table prints rows under their columns. Names in the cells are visible.
func (p *printer) table(columns []table.Column, rows [][]string) {
	if p.err == nil {
		p.err = table.Write(p.w, p.columns(), columns, visible(rows))
	}
}

// visible are rows whose names do not steer a terminal.
func visible(rows [][]string) [][]string {
	shown := make([][]string, len(rows))
	for i, row := range rows {
		for _, cell := range row {
			shown[i] = append(shown[i], model.Visible(cell))
		}
	}
	return shown
}

// Wrap breaks a text at blanks so that no line is longer than 80 columns, if its words allow; lines
// after the first keep its indent. No line is broken within a length or before a percent sign.
// What is printed has plain blanks there, so that it can be searched for.
func Wrap(text string) string { return wrap(text, UsualWidth) }

// wrap is [Wrap] for lines of at most so many columns.
func wrap(text string, most int) string {
	indent := len(text) - len(strings.TrimLeft(text, " "))
	text = strings.ReplaceAll(text, " %", model.NoBreakSpace+"%")
	var out strings.Builder
	column := 0
	for n, word := range strings.Split(text, " ") {
		width := table.Width(word)
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
	return strings.ReplaceAll(out.String(), model.NoBreakSpace, " ")
}

// broken parts words that are longer than a line.
func broken(text string, width int) string {
	words := strings.Split(text, " ")
	for i, w := range words {
		words[i] = strings.Join(table.Break(w, width), " ")
	}
	return strings.Join(words, " ")
}

func upperFirst(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// show is a length as the shop has it, rounded with a mark where need be.
func (p *printer) show(l model.Length) string { return p.job.Settings.Show(l) }

// exact is a length without any rounding.
func (p *printer) exact(l model.Length) string { return l.Exact(p.job.Settings.Units) }

// Money prints an amount to the nearest hundredth, halves away from zero.
func Money(m model.Money) string {
	if m < 0 {
		return hundredths(-((50 - m) / 100))
	}
	return hundredths((m + 50) / 100)
}

// Bound prints the bound of a value to a hundredth, rounded down: what is proven would not be true
// of a greater amount. A bound that the value reaches is printed as the value is.
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

// hundredths writes an amount that is counted in them.
func hundredths(h model.Money) string {
	sign := ""
	if h < 0 {
		sign, h = "-", -h
	}
	return fmt.Sprintf("%s%d.%02d", sign, h/100, h%100)
}

// four writes an amount with four decimals, so that they stand below each other.
func four(m model.Money) string {
	return fmt.Sprintf("%d.%04d", m/model.UnitsOfMoney, m%model.UnitsOfMoney)
}

// gap prints what a plan may be above the cheapest, with its currency: to the last digit where it
// is small, else to a hundredth, rounded up.
func (p *printer) gap(m model.Money) string {
	if m%100 != 0 && m < 10_000 {
		return m.String() + " " + p.job.Settings.Currency
	}
	return hundredths((m+99)/100) + " " + p.job.Settings.Currency
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

// share is a share of a length in percent, to a tenth.
func share(part, whole model.Length) string {
	if whole == 0 {
		return "0 %"
	}
	tenths := (int64(part)*2000 + int64(whole)) / (2 * int64(whole))
	return fmt.Sprintf("%d.%d %%", tenths/10, tenths%10)
}

// fraction writes a share as a decimal where it is one.
func fraction(f model.Fraction) string {
	r := big.NewRat(f.Num, f.Den)
	if n, exact := r.FloatPrec(); exact {
		return r.FloatString(n)
	}
	return r.RatString()
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

// mostNames of boards or lines are told one by one.
const mostNames = 6

// few leaves the first names of a long list.
func few(names []string) []string {
	if more := len(names) - mostNames; more > 0 {
		return append(slices.Clip(names[:mostNames]), fmt.Sprintf("and %d more", more))
	}
	return names
}
