package page

import (
	"fmt"
	"html"
	"io"
	"strings"

	"rackwright/io/report"
	"rackwright/model"
)

// The chart of net wood costs: a bar for each simple rule, then one for the plan, on one scale from
// 0. Each has its name above it and its amount behind it. The bars of the rules are hatched, that
// of the plan is full, so that nothing hangs on colour. A broken line crosses them where the bound
// is.
//
// Measures are whole units of the picture, about a pixel on a phone.
const (
	chartWide = 340
	around    = 8   // what stands beside the bars
	barsWide  = 214 // of the longest bar; its amount stands behind it
	barHigh   = 18
	barBelow  = 22 // top of a bar below the top of its row
	rowHigh   = 52
	slant     = 6 // between two lines of a hatch
)

// chart is the bars with their scale: amounts from low to high take barsWide units.
type chart struct {
	bars      []bar
	bound     model.Money
	boundText string // empty: it tells nothing
	low, high model.Money
	out       strings.Builder
}

// bar is one of the chart.
type bar struct {
	name, amount, saved string
	value               model.Money
	plan                bool // else a simple rule
	apart               bool // cuts other pieces: there is no bar
}

// Savings draws the net wood costs of the plan and of simple rules as an SVG picture that stands by
// itself.
func Savings(w io.Writer, job *model.Job, plan *model.Plan, ways []Way) error {
	c := newChart(plan, ways)
	high := len(c.bars) * rowHigh
	if c.boundText != "" {
		high += 20
	}
	c.printf(`<svg xmlns="http://www.w3.org/2000/svg" class="chart" viewBox="%d %[1]d %d %d" `+
		`width="%[2]d" height="%[3]d" role="img" aria-labelledby="chart-t chart-d" `+
		`font-family="system-ui, sans-serif" font-size="13" fill="#1d1b16">`, -around,
		chartWide+2*around, high+2*around)
	c.printf(`<title id="chart-t">Net wood cost in %s, by simple rules and by this plan</title>`,
		html.EscapeString(model.Visible(job.Settings.Currency)))
	c.printf(`<desc id="chart-d">%s</desc>`, html.EscapeString(c.told()))
	c.printf(`<rect class="sheet" x="%d" y="%[1]d" width="100%%" height="100%%" fill="#fff"/>`,
		-around)
	for n := range c.bars {
		c.draw(n)
	}
	if c.boundText != "" {
		c.text(0, high-4, "start", c.boundText)
	}
	c.printf("</svg>\n")
	_, err := io.WriteString(w, c.out.String())
	return err
}

func newChart(plan *model.Plan, ways []Way) *chart {
	c, m := &chart{}, model.MeasureOf(plan)
	add := func(b bar) {
		b.amount = report.Money(b.value)
		c.bars = append(c.bars, b)
		if !b.apart {
			c.low, c.high = min(c.low, b.value), max(c.high, b.value)
		}
	}
	for i := range ways {
		o := &ways[i].Measure
		b := bar{name: model.Visible(ways[i].Name), value: o.Value, apart: o.Short != m.Short}
		switch more := o.Value - plan.Value; {
		case b.apart:
			b.saved = "cuts other pieces"
		case more > 0:
			b.saved = "the plan saves " + report.Percent(more, o.Value)
		case more == 0:
			b.saved = "the same"
		default:
			b.saved = "the plan costs more"
		}
		add(b)
	}
	add(bar{name: "this plan", value: plan.Value, plan: true})
	if report.Useful(plan.Bound, plan.Value) && len(plan.Groups) > 0 {
		c.bound = plan.Bound
		c.boundText = "broken line: bound, " + report.Bound(plan.Bound, plan.Value)
		c.low, c.high = min(c.low, c.bound), max(c.high, c.bound)
	}
	return c
}

// told is the chart in words.
func (c *chart) told() string {
	var out []string
	for _, b := range c.bars {
		text := b.name + ": " + b.amount
		if b.saved != "" {
			text += ", " + b.saved
		}
		out = append(out, text)
	}
	if c.boundText != "" {
		out = append(out, c.boundText)
	}
	return strings.Join(out, "; ") + "."
}

func (c *chart) printf(format string, args ...any) { fmt.Fprintf(&c.out, format, args...) }

func (c *chart) text(x, y int, anchor, text string) {
	c.printf(`<text x="%d" y="%d" text-anchor="%s">%s</text>`, x, y, anchor,
		html.EscapeString(text))
}

// at is where an amount stands on the scale.
func (c *chart) at(m model.Money) int {
	if c.high == c.low {
		return 0
	}
	return int(float64(m-c.low) / float64(c.high-c.low) * barsWide)
}

// draw draws one bar with what stands at it.
func (c *chart) draw(n int) {
	b, top := &c.bars[n], n*rowHigh
	c.text(0, top+16, "start", b.name)
	c.text(chartWide, top+16, "end", b.saved)
	top += barBelow
	if b.apart {
		c.text(0, top+14, "start", b.amount)
		return
	}
	from, to := min(c.at(0), c.at(b.value)), max(c.at(0), c.at(b.value))
	class, fill := "rule", "none"
	if b.plan {
		class, fill = "plan", "#1d1b16"
	}
	c.printf(`<rect class="%s" x="%d" y="%d" width="%d" height="%d" fill="%s" stroke="#1d1b16"/>`,
		class, from, top, to-from, barHigh, fill)
	if !b.plan {
		c.printf(`<path class="hatch" stroke="#1d1b16" fill="none" d="%s"/>`,
			hatch(from, to, top, top+barHigh))
	}
	if x := c.at(c.bound); c.boundText != "" {
		c.printf(`<path class="halo" stroke="#fff" stroke-width="4" d="M%d %dv%d"/>`, x, top-3,
			barHigh+6)
		c.printf(`<path class="bound" stroke="#1d1b16" stroke-width="2" stroke-dasharray="4 2" `+
			`d="M%d %dv%d"/>`, x, top-3, barHigh+6)
	}
	c.text(max(to, c.at(c.bound))+8, top+14, "start", b.amount)
}

// hatch is the path of the slanting lines within a box.
func hatch(left, right, top, bottom int) string {
	var out strings.Builder
	for x := left - (bottom - top) + slant; x < right; x += slant {
		from, to := max(x, left), min(x+bottom-top, right)
		if from < to {
			fmt.Fprintf(&out, "M%d %dL%d %d", from, bottom-(from-x), to, bottom-(to-x))
		}
	}
	return out.String()
}
