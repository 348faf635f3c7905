// Glued plans invented months in which a fifth of the rows are made up, and prints what it saves
// that the plan chooses how.
//
// They are the months with rips of package benchmarks.
// Beside each plan stands one of the same month whose parts are made up by the simple rule (the
// fewest staves of the section that is cheapest by area, gangs as long as may be, no spare copies),
// planned by the same search:
//
//	go run ./benchmarks/glued -seeds 1-10
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"strconv"
	"time"

	"rackwright/benchmarks"
	"rackwright/benchmarks/told"
	"rackwright/io/folder"
	"rackwright/model"
	"rackwright/model/makeup"
	"rackwright/nest"
)

// row is what is told of one month.
type row struct {
	told.Row
	cpu    time.Duration
	made   int         // copies that are made up
	simple model.Money // value where they are made up by the simple rule
}

func main() { told.Main("glued", glued) }

func glued(ctx context.Context, args []string, out, progress io.Writer) error {
	flags := flag.NewFlagSet("glued", flag.ContinueOnError)
	flags.SetOutput(progress)
	list := flags.String("seeds", "1-10", "months to plan, such as 1-10 or 2,5,7-9")
	alone := flags.Bool("alone", false, "plan no month by the simple rule")
	pieces := flags.Int("pieces", 400, "pieces of a month, before some are made up")
	var opt nest.Options
	flags.Int64Var(&opt.Work, "work", 0, "steps of the search; 0: as many as by default")
	flags.IntVar(&opt.Threads, "threads", 0, "groups planned at a time; 0: one for each core")
	if err := flags.Parse(args); err != nil {
		return err
	}
	seeds, err := told.ParseSeeds(*list)
	if err != nil {
		return err
	}
	size := benchmarks.RipSize{Pieces: *pieces}
	if err := size.Fault(); err != nil {
		return err
	}
	var rows []*row
	for _, seed := range seeds {
		r, err := month(ctx, seed, size, opt, *alone)
		if err != nil {
			return fmt.Errorf("month %d: %w", seed, err)
		}
		fmt.Fprintf(progress, "month %d: %s, gap %s %%, %v by the simple rule %v\n", seed,
			r.Time.Round(time.Millisecond), r.Gap(), r.Value, r.simple)
		rows = append(rows, r)
	}
	return printTable(out, rows)
}

// month plans one month both ways, or as the plan chooses alone.
func month(ctx context.Context, seed int64, size benchmarks.RipSize, opt nest.Options,
	alone bool) (*row, error) {
	dir, err := os.MkdirTemp("", "glued")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	if err := benchmarks.WriteSizedRipMonth(dir, seed, size, benchmarks.Kerfs{}); err != nil {
		return nil, err
	}
	job, _, err := folder.ReadJob(os.DirFS(dir))
	if err != nil {
		return nil, err
	}
	job = benchmarks.MakeUp(job, seed)
	start, before := time.Now(), told.CPUTime()
	plan, err := nest.Plan(ctx, job, opt)
	if err != nil {
		return nil, err
	}
	took, cpu := time.Since(start), told.CPUTime()-before
	r := &row{Row: told.Of(job, plan), cpu: cpu}
	r.Seed, r.Time = seed, took
	for _, m := range plan.Made {
		r.made += len(m.Copies)
	}
	if alone {
		return r, nil
	}
	rules, err := nest.ByRules(ctx, job, "")
	if err != nil {
		return nil, err
	}
	// every rule makes parts up alike
	cut := *makeup.AsMade(job, rules[0].Plans[0].Made)
	cut.Entered = nil
	for i := range cut.Parts {
		p := &cut.Parts[i]
		p.Staves, p.Layers, p.InOne, p.Spare = 0, 0, 0, 0
	}
	simple, err := nest.Plan(ctx, &cut, opt)
	if err != nil {
		return nil, err
	}
	r.simple = simple.Value
	return r, nil
}

// saves is what the choice saves against the simple rule.
func (r *row) saves() string {
	if r.simple == 0 {
		return "-"
	}
	return fmt.Sprintf("%.2f", 100*float64(r.simple-r.Value)/float64(r.simple))
}

// printTable writes a table for a README.
func printTable(w io.Writer, rows []*row) error {
	t := told.Markdown(w, "seed", " units", "pieces", "made up", "time", "CPU", "value", "bound",
		"gap %", "simple rule's", "saved %", " verdict")
	for _, r := range rows {
		if err := t.Append(strconv.FormatInt(r.Seed, 10), string(r.Units), strconv.Itoa(r.Pieces),
			strconv.Itoa(r.made), r.Seconds(), told.Seconds(r.cpu), r.Value.String(),
			r.Bound.String(), r.Gap(), r.simple.String(), r.saves(), r.Verdict); err != nil {
			return err
		}
	}
	return t.Render()
}
