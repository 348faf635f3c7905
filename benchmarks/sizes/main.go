// Sizes plans invented jobs in which hardly two parts are alike, and prints what came out.
//
// That is the time and memory of the plan, and its value beside the bound and the best of the
// simple rules:
//
//	go run ./benchmarks/sizes -rows 200 -boards 50 -defects 3 -seed 1
//	go run ./benchmarks/sizes -rows 2000 -boards 1000 -defects 6 -time 10s -memory 1024
//	go run ./benchmarks/sizes -rows 800 -boards 200 -write DIR    only writes the job folder
//
// Memory is the most that the process has had up to the plan's end, its own verification included.
// One job a run, so that it is that job's.
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"strconv"
	"time"

	"rackwright/benchmarks"
	"rackwright/benchmarks/told"
	"rackwright/io/folder"
	"rackwright/nest"
)

func main() { told.Main("sizes", sizes) }

func sizes(ctx context.Context, args []string, out, progress io.Writer) error {
	flags := flag.NewFlagSet("sizes", flag.ContinueOnError)
	flags.SetOutput(progress)
	var s benchmarks.Sizes
	flags.IntVar(&s.Rows, "rows", 200, "rows of the cut list")
	flags.IntVar(&s.Qty, "qty", 0, "pieces of each row; 0: 3 to 7")
	flags.IntVar(&s.Boards, "boards", 50, "boards on the rack")
	flags.IntVar(&s.Defects, "defects", 3, "defects of each board on the rack")
	flags.IntVar(&s.Woods, "woods", 1, "materials and sections, 1 to 5")
	seed := flags.Int64("seed", 1, "what is drawn")
	var kerfs benchmarks.Kerfs
	kerfs.Flags(flags)
	var opt nest.Options
	flags.DurationVar(&opt.Clock, "time", 0, "end of the search, such as 10s; 0: none")
	flags.Int64Var(&opt.Work, "work", 0, "steps of the search; 0: as many as by default")
	flags.IntVar(&opt.Threads, "threads", 0, "groups planned at a time; 0: one for each core")
	memory := flags.Int64("memory", 0, "fail where the plan takes more than so many MiB; 0: never")
	write := flags.String("write", "", "only write the job `folder`")
	if err := flags.Parse(args); err != nil {
		return err
	}
	if err := s.Fault(); err != nil {
		return err
	}
	if *write != "" {
		return benchmarks.WriteManySizes(*write, *seed, s, kerfs)
	}
	job, _, err := folder.ReadJob(benchmarks.FS(benchmarks.ManySizes(*seed, s, kerfs)))
	if err != nil {
		return err
	}
	start, before := time.Now(), told.CPUTime()
	plan, err := nest.Plan(ctx, job, opt)
	if err != nil {
		return err
	}
	took, cpu, peak := time.Since(start), told.CPUTime()-before, told.PeakMemory()
	fmt.Fprintf(progress, "planned in %s, %d MiB; now the simple rules\n",
		took.Round(time.Millisecond), peak)
	r := told.Of(job, plan)
	r.Seed, r.Time = *seed, took
	if err := r.ByRules(job); err != nil {
		return err
	}
	if err := printTable(out, s, kerfs, &r, cpu, peak); err != nil {
		return err
	}
	if *memory > 0 && peak > *memory {
		return fmt.Errorf("the plan took %d MiB, more than %d", peak, *memory)
	}
	return nil
}

// printTable writes a table for a README.
func printTable(w io.Writer, s benchmarks.Sizes, kerfs benchmarks.Kerfs, r *told.Row,
	cpu time.Duration, peak int64) error {
	t := told.Markdown(w, "seed", "woods", "rows", "pieces", "boards", "defects", "time", "CPU",
		"MiB",
		"value", "best rule's", "bound", "gap %", " verdict")
	rule := "-"
	if r.RuleName != "" {
		rule = r.Rule.String()
	}
	err := t.Append(strconv.FormatInt(r.Seed, 10)+kerfs.String(), strconv.Itoa(s.Woods),
		strconv.Itoa(s.Rows), strconv.Itoa(r.Pieces), strconv.Itoa(s.Boards),
		strconv.Itoa(s.Boards*s.Defects), r.Seconds(), told.Seconds(cpu),
		strconv.FormatInt(peak, 10), r.Value.String(), rule, r.Bound.String(), r.Gap(), r.Verdict)
	if err != nil {
		return err
	}
	return t.Render()
}
