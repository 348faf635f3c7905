// Package told is what the commands that measure tell of a plan, as a row of a table.
//
// Told are its value beside the bound and the best of the simple rules, what the checker says, and
// the time and memory that it took.
package told

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strconv"
	"strings"
	"time"

	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"

	"rackwright/model"
	"rackwright/model/check"
	"rackwright/model/makeup"
	"rackwright/model/proof"
	"rackwright/nest"
)

// Main runs a command until it is done or interrupted, and exits with 1 where it fails.
func Main(name string,
	run func(ctx context.Context, args []string, out, progress io.Writer) error) {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, os.Args[1:], os.Stdout, os.Stderr); err != nil {
		fmt.Fprintf(os.Stderr, "%s: %v\n", name, err)
		os.Exit(1)
	}
}

// Row is what is told of one plan.
type Row struct {
	Seed         int64
	Units        model.Unit
	Pieces       int
	Time         time.Duration
	Value, Bound model.Money
	Rule         model.Money // value of the cheapest plan by a simple rule
	RuleName     string      // empty: none gives as many pieces
	Missing      int         // pieces that the plan does not give
	Verdict      string      // what both parts of the checker say
}

// Of tells of a plan all but what hangs on how it was found: seed, time and rule.
func Of(job *model.Job, p *model.Plan) Row {
	r := Row{Units: job.Settings.Units, Pieces: Pieces(job), Value: p.Value, Bound: p.Bound,
		Missing: Missing(p)}
	reading, found := check.Check(makeup.AsMade(job, p.Made), p)
	r.Verdict = "cuts " + judged(len(found)) + ", bound " + judged(len(proof.Bounds(reading)))
	if r.Missing > 0 {
		r.Verdict += fmt.Sprintf(", %d pieces short", r.Missing)
	}
	return r
}

// Pieces counts what a job wants.
func Pieces(job *model.Job) (n int) {
	for i := range job.Parts {
		n += int(job.Parts[i].Qty)
	}
	return n
}

// Missing counts the pieces that a plan does not give.
func Missing(p *model.Plan) (n int) {
	for _, s := range p.Shortages {
		n += len(s.Copies)
	}
	return n
}

func judged(mistakes int) string {
	if mistakes == 0 {
		return "accepted"
	}
	return fmt.Sprintf("rejected (%d)", mistakes)
}

// ByRules keeps the cheapest of the plans by simple rules that give as many pieces as the row's
// own. The error is a fault of a rule.
func (r *Row) ByRules(job *model.Job) error {
	entries, err := nest.ByRules(context.Background(), job, "")
	if err != nil {
		return err
	}
	for _, e := range entries {
		for _, p := range e.Plans {
			if Missing(p) <= r.Missing && (r.RuleName == "" || p.Value < r.Rule) {
				r.Rule, r.RuleName = p.Value, e.Name
			}
		}
	}
	return nil
}

// Gap is 100 (value - bound) / value with three decimals, rounded up so that only 0.000 is 0; "-"
// where value is not above 0.
func (r *Row) Gap() string {
	if r.Value <= 0 {
		return "-"
	}
	thousandths := int64(0)
	if d := int64(r.Value - r.Bound); d > 0 {
		thousandths = (d*100_000 + int64(r.Value) - 1) / int64(r.Value)
	}
	return fmt.Sprintf("%d.%03d", thousandths/1000, thousandths%1000)
}

// Saving is 100 (other - value) / other with one decimal; "-" where other is not above 0.
func (r *Row) Saving(other model.Money) string {
	if other <= 0 {
		return "-"
	}
	return fmt.Sprintf("%.1f", 100*float64(other-r.Value)/float64(other))
}

// Seconds gives the time with one decimal.
func (r *Row) Seconds() string { return Seconds(r.Time) }

// Seconds gives a time with one decimal, cut off.
func Seconds(d time.Duration) string {
	tenths := d.Milliseconds() / 100
	return fmt.Sprintf("%d.%d s", tenths/10, tenths%10)
}

// Markdown is an empty table for a README. A column whose name begins with a blank stands at the
// left, as words do; the others are of numbers and stand at the right.
func Markdown(w io.Writer, columns ...string) *tablewriter.Table {
	aligned, names := make([]tw.Align, len(columns)), make([]string, len(columns))
	for i, c := range columns {
		aligned[i] = tw.AlignRight
		if strings.HasPrefix(c, " ") {
			aligned[i] = tw.AlignLeft
		}
		names[i] = strings.TrimPrefix(c, " ")
	}
	t := tablewriter.NewTable(w,
		tablewriter.WithRenderer(renderer.NewMarkdown()),
		tablewriter.WithHeaderAutoFormat(tw.Off),
		tablewriter.WithRowAutoWrap(tw.WrapNone),
		tablewriter.WithHeaderAutoWrap(tw.WrapNone),
		tablewriter.WithAlignment(aligned))
	t.Header(names)
	return t
}

// ParseSeeds reads 1-10 or 2,5,7-9.
func ParseSeeds(list string) (seeds []int64, err error) {
	for _, s := range strings.Split(list, ",") {
		first, last, isRange := strings.Cut(s, "-")
		if !isRange {
			last = first
		}
		lo, err1 := strconv.ParseInt(first, 10, 64)
		hi, err2 := strconv.ParseInt(last, 10, 64)
		if err1 != nil || err2 != nil || hi < lo || hi-lo >= 10000 {
			return nil, fmt.Errorf(
				"-seeds %q: %q is no seed or range; write such as 1-10 or 2,5,7-9", list, s)
		}
		for seed := lo; seed <= hi; seed++ {
			seeds = append(seeds, seed)
		}
	}
	return seeds, nil
}
