// Months plans the invented months of package benchmarks and prints what came out.
//
// The table is one for benchmarks/README.md:
//
//	go run ./benchmarks/months -seeds 1-10
//	go run ./benchmarks/months -rips -pieces 400 -seeds 1-10
//	go run ./benchmarks/months -rips -pieces 4000 -boards 700 -sizes 3 -seeds 2
//	go run ./benchmarks/months -rips -seeds 1-10 -work 64000    with four times the work
//	go run ./benchmarks/months -crosscut 2.8mm -rip 2.4mm -seeds 1-10    with these kerfs
//	go run ./benchmarks/months -write DIR -seeds 1-10    only writes the job folders
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"time"

	"rackwright/benchmarks"
	"rackwright/benchmarks/told"
	"rackwright/io/folder"
	"rackwright/model"
	"rackwright/nest"
)

// row is what is told of one month.
type row struct {
	told.Row
	kerfs   benchmarks.Kerfs // those asked for
	smaller proven           // groups of up to fewTypes types of blank
	larger  proven
}

const fewTypes = 15

// proven is how many groups there are, and how many of them have a plan that is proven optimal.
type proven struct{ optimal, groups int }

func (p *proven) count(g *model.Group) {
	p.groups++
	if g.Proof == model.Optimal {
		p.optimal++
	}
}

func (p proven) String() string { return fmt.Sprintf("%d of %d", p.optimal, p.groups) }

// planFolder is a variable for the tests.
var planFolder = plan

// plan plans a job folder and fills in all of a row but seed and time. A plan that the checker
// rejects is an error.
func plan(ctx context.Context, dir string, work int64) (row, error) {
	job, _, err := folder.ReadJob(os.DirFS(dir))
	if err != nil {
		return row{}, err
	}
	p, err := nest.Plan(ctx, job, nest.Options{Work: work})
	if err != nil {
		return row{}, err
	}
	r := row{Row: told.Row{Units: job.Settings.Units, Pieces: told.Pieces(job), Value: p.Value,
		Bound: p.Bound}}
	var rack model.Money
	worth := job.Valuation()
	for i := range job.Rack {
		rack += worth.ShownTicks(worth.WorthOfBoard(&job.Rack[i]))
	}
	if 2*rack >= p.Value {
		return row{}, fmt.Errorf(
			"the rack is worth %v, half of the value %v or more: no fair month", rack, p.Value)
	}
	for i := range p.Groups {
		of := &r.larger
		if len(p.Groups[i].Certificate.Items) <= fewTypes {
			of = &r.smaller
		}
		of.count(&p.Groups[i])
	}
	r.Verdict = "accepted"
	if n := len(p.Shortages); n > 0 {
		r.Verdict += fmt.Sprintf(", %d parts short", n)
	}
	return r, nil
}

func main() { told.Main("months", months) }

func months(ctx context.Context, args []string, out, progress io.Writer) error {
	flags := flag.NewFlagSet("months", flag.ContinueOnError)
	flags.SetOutput(progress)
	list := flags.String("seeds", "1-10", "months to plan, such as 1-10 or 2,5,7-9")
	rips := flags.Bool("rips", false, "months with rips")
	var size benchmarks.RipSize
	flags.IntVar(&size.Pieces, "pieces", 400, "pieces of a month with rips")
	flags.IntVar(&size.Boards, "boards", 0, "its boards on the rack; 0: as many as by default")
	flags.IntVar(&size.Sizes, "sizes", 1, "its lengths and rows, so many times those by default")
	write := flags.String("write", "", "only write the months, as job folders below this `folder`")
	work := flags.Int64("work", 0, "work limit, in millions of basic steps; 0: that of the program")
	var kerfs benchmarks.Kerfs
	kerfs.Flags(flags)
	if err := flags.Parse(args); err != nil {
		return err
	}
	if err := size.Fault(); err != nil {
		return err
	}
	of := maker{*rips, size, kerfs, *work * 1e6}
	seeds, err := told.ParseSeeds(*list)
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
		fmt.Fprintf(progress, "month %d: %s, gap %s %%\n", seed, r.Time.Round(time.Millisecond),
			r.Gap())
		rows = append(rows, r)
	}
	return printTable(out, rows)
}

// maker makes the months that are asked for.
type maker struct {
	rips  bool
	size  benchmarks.RipSize // of a month with rips
	kerfs benchmarks.Kerfs
	work  int64 // basic steps of a plan; 0: as many as by default
}

// write writes one month as a job folder.
func (m maker) write(dir string, seed int64) error {
	if m.rips {
		return benchmarks.WriteSizedRipMonth(dir, seed, m.size, m.kerfs)
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
	r, err := planFolder(ctx, dir, of.work)
	r.Seed, r.kerfs, r.Time = seed, of.kerfs, time.Since(start)
	return r, err
}

// named gives the seed, and with it the kerfs where they were asked for.
func (r *row) named() string {
	return strconv.FormatInt(r.Seed, 10) + r.kerfs.String()
}

// printTable writes a table for a README.
func printTable(w io.Writer, rows []row) error {
	t := told.Markdown(w, "seed", " units", "pieces", "optimal, to 15 types", "optimal, above",
		"time", "value", "bound", "gap %", " verdict")
	for i := range rows {
		r := &rows[i]
		err := t.Append(r.named(), string(r.Units), strconv.Itoa(r.Pieces),
			r.smaller.String(), r.larger.String(),
			r.Seconds(), r.Value.String(), r.Bound.String(), r.Gap(), r.Verdict)
		if err != nil {
			return err
		}
	}
	return t.Render()
}
