// Months plans the invented months of package benchmarks and prints what came out.
//
// The table is one for benchmarks/README.md:
//
//	go run ./benchmarks/months -seeds 1-10
//	go run ./benchmarks/months -rips -pieces 400 -seeds 1-10
//	go run ./benchmarks/months -crosscut 2.8mm -rip 2.4mm -seeds 1-10    with these kerfs
//	go run ./benchmarks/months -write DIR -seeds 1-10    only writes the job folders
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"

	"rackwright/benchmarks"
	"rackwright/io/folder"
	"rackwright/model"
	"rackwright/nest"
)

// row is what is told of one month.
type row struct {
	seed         int64
	units        model.Unit
	kerfs        benchmarks.Kerfs // those asked for
	pieces       int
	time         time.Duration
	value, bound model.Money
	smaller      proven // groups of up to fewTypes types of blank
	larger       proven
	verdict      string // what proof and checker say
}

const fewTypes = 15

// proven is how many groups there are, and how many of them have a plan that is proven optimal.
type proven struct{ optimal, groups int }

func (p proven) String() string { return fmt.Sprintf("%d of %d", p.optimal, p.groups) }

// planFolder is a variable for the tests.
var planFolder = plan

// plan plans a job folder and fills in all of a row but seed and time. A plan that the checker
// rejects is an error.
func plan(ctx context.Context, dir string) (row, error) {
	job, _, err := folder.ReadJob(os.DirFS(dir))
	if err != nil {
		return row{}, err
	}
	p, err := nest.Plan(ctx, job, nest.Options{})
	if err != nil {
		return row{}, err
	}
	r := row{units: job.Settings.Units, value: p.Value, bound: p.Bound}
	for i := range job.Parts {
		r.pieces += int(job.Parts[i].Qty)
	}
	var rack model.Money
	worth := job.Valuation()
	for i := range job.Rack {
		rack += worth.ShownTicks(worth.WorthOfBoard(&job.Rack[i]))
	}
	if 2*rack >= p.Value {
		return row{}, fmt.Errorf(
			"the rack is worth %v, half of the value %v or more: no fair month", rack, p.Value)
	}
	for _, g := range p.Groups {
		of := &r.larger
		if len(g.Certificate.Items) <= fewTypes {
			of = &r.smaller
		}
		of.groups++
		if g.Proof == model.Optimal {
			of.optimal++
		}
	}
	r.verdict = "accepted"
	if n := len(p.Shortages); n > 0 {
		r.verdict += fmt.Sprintf(", %d parts short", n)
	}
	return r, nil
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := months(ctx, os.Args[1:], os.Stdout, os.Stderr); err != nil {
		fmt.Fprintln(os.Stderr, "months:", err)
		os.Exit(1)
	}
}

func months(ctx context.Context, args []string, out, progress io.Writer) error {
	flags := flag.NewFlagSet("months", flag.ContinueOnError)
	list := flags.String("seeds", "1-10", "months to plan, such as 1-10 or 2,5,7-9")
	rips := flags.Bool("rips", false, "months with rips")
	pieces := flags.Int("pieces", 400, "pieces of a month with rips, 100 to 5000")
	write := flags.String("write", "", "only write the months, as job folders below this `folder`")
	crosscut := flags.String("crosscut", "", "`kerf` of the crosscut saw in every month, such as"+
		" 2.8mm; a bare number is in inches")
	rip := flags.String("rip", "", "`kerf` of the rip saw in every month")
	if err := flags.Parse(args); err != nil {
		return err
	}
	if *pieces < 100 || *pieces > 5000 {
		return fmt.Errorf("-pieces %d: write 100 to 5000, such as 400 or 1000", *pieces)
	}
	of := maker{rips: *rips, pieces: *pieces}
	var wrong [2]error
	of.kerfs.Crosscut, wrong[0] = parseKerf("crosscut", *crosscut)
	of.kerfs.Rip, wrong[1] = parseKerf("rip", *rip)
	if err := errors.Join(wrong[:]...); err != nil {
		return err
	}
	seeds, err := parseSeeds(*list)
	if err != nil {
		return err
	}
	if *write != "" {
		return of.writeAll(*write, seeds)
	}
	if *rips {
		return ripMonths(ctx, of, seeds, out, progress)
	}
	var rows []row
	for _, seed := range seeds {
		r, err := run(ctx, of, seed)
		if err != nil {
			return fmt.Errorf("month %d: %w", seed, err)
		}
		fmt.Fprintf(progress, "month %d: %s, gap %s %%\n", seed, r.time.Round(time.Millisecond),
			r.gap())
		rows = append(rows, r)
	}
	return printTable(out, rows)
}

// maker makes the months that are asked for.
type maker struct {
	rips   bool
	pieces int // of a month with rips
	kerfs  benchmarks.Kerfs
}

// write writes one month as a job folder.
func (m maker) write(dir string, seed int64) error {
	if m.rips {
		return benchmarks.WriteRipMonth(dir, seed, m.pieces, m.kerfs)
	}
	return benchmarks.WriteMonth(dir, seed, m.kerfs)
}

// writeAll writes each month into a folder of its own: month1, ripmonth1 and so on.
func (m maker) writeAll(dir string, seeds []int64) error {
	name := "month"
	if m.rips {
		name = "ripmonth"
	}
	for _, seed := range seeds {
		if err := m.write(filepath.Join(dir, fmt.Sprint(name, seed)), seed); err != nil {
			return err
		}
	}
	return nil
}

// parseKerf gives a kerf as any shop reads it: what is written without a unit is in inches.
func parseKerf(flag, kerf string) (string, error) {
	if kerf == "" {
		return "", nil
	}
	l, rounded, err := model.ParseLength(kerf, model.Inch)
	switch {
	case err != nil:
		return "", fmt.Errorf("-%s: %w", flag, err)
	case rounded || l > model.WidestKerf:
		return "", fmt.Errorf("-%s %s: write at most 1 in, in 64ths of an inch or tenths of a"+
			" millimetre, such as 1/8 or 2.8mm", flag, kerf)
	}
	if metric, _, _ := model.ParseLength(kerf, model.Millimetre); metric != l {
		kerf += "in"
	}
	return kerf, nil
}

// run writes one month into a folder of its own and plans it.
func run(ctx context.Context, of maker, seed int64) (row, error) {
	dir, err := os.MkdirTemp("", "month")
	if err != nil {
		return row{}, err
	}
	defer os.RemoveAll(dir)
	if err := of.write(dir, seed); err != nil {
		return row{}, err
	}
	start := time.Now()
	r, err := planFolder(ctx, dir)
	r.seed, r.kerfs, r.time = seed, of.kerfs, time.Since(start)
	return r, err
}

// parseSeeds reads 1-10 or 2,5,7-9.
func parseSeeds(list string) (seeds []int64, err error) {
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

// gap is 100 (value - bound) / value with three decimals, rounded up so that only 0.000 is 0; "-"
// where value is not above 0.
func (r *row) gap() string {
	if r.value <= 0 {
		return "-"
	}
	thousandths := int64(0)
	if d := int64(r.value - r.bound); d > 0 {
		thousandths = (d*100_000 + int64(r.value) - 1) / int64(r.value)
	}
	return fmt.Sprintf("%d.%03d", thousandths/1000, thousandths%1000)
}

// named gives the seed, and with it the kerfs where they were asked for.
func (r *row) named() string {
	name := strconv.FormatInt(r.seed, 10)
	for _, k := range [][2]string{{"crosscut", r.kerfs.Crosscut}, {"rip", r.kerfs.Rip}} {
		if k[1] != "" {
			name += ", " + k[0] + " " + k[1]
		}
	}
	return name
}

// seconds gives the time with one decimal.
func (r *row) seconds() string {
	tenths := r.time.Milliseconds() / 100
	return fmt.Sprintf("%d.%d s", tenths/10, tenths%10)
}

// markdown is an empty table for a README, its columns aligned so.
func markdown(w io.Writer, columns ...tw.Align) *tablewriter.Table {
	return tablewriter.NewTable(w,
		tablewriter.WithRenderer(renderer.NewMarkdown()),
		tablewriter.WithHeaderAutoFormat(tw.Off),
		tablewriter.WithRowAutoWrap(tw.WrapNone),
		tablewriter.WithHeaderAutoWrap(tw.WrapNone),
		tablewriter.WithAlignment(columns))
}

// printTable writes a table for a README.
func printTable(w io.Writer, rows []row) error {
	right, left := tw.AlignRight, tw.AlignLeft
	t := markdown(w, right, left, right, right, right, right, right, right, right, left)
	t.Header("seed", "units", "pieces", "optimal, to 15 types", "optimal, above", "time", "value",
		"bound", "gap %", "verdict")
	for i := range rows {
		r := &rows[i]
		err := t.Append(r.named(), string(r.units), strconv.Itoa(r.pieces),
			r.smaller.String(), r.larger.String(),
			r.seconds(), r.value.String(), r.bound.String(), r.gap(), r.verdict)
		if err != nil {
			return err
		}
	}
	return t.Render()
}
