// Extremes plans small invented jobs of extreme settings and prints what came out.
//
//	go run ./benchmarks/extremes -seeds 1-300 -work 20000000
//	go run ./benchmarks/extremes -seeds 7 -write DIR    only writes the job folders
//
// Each job has a line of its own as it is done, with the most memory that the process has had so
// far; the table at the end is one for benchmarks/README.md.
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"path/filepath"
	"strconv"
	"time"

	"rackwright/benchmarks"
	"rackwright/benchmarks/told"
	"rackwright/io/folder"
	"rackwright/model"
	"rackwright/nest"
)

func main() { told.Main("extremes", extremes) }

// summary is what is told of all jobs together.
type summary struct {
	jobs, thrown  int
	empty, proven int // plans of no board; plans whose bound is their value
	useless       int // bounds of 0 or below under a value above 0
	failed        []int64
	slowest       time.Duration
	slowestSeed   int64
}

func extremes(ctx context.Context, args []string, out, progress io.Writer) error {
	flags := flag.NewFlagSet("extremes", flag.ContinueOnError)
	flags.SetOutput(progress)
	list := flags.String("seeds", "1-300", "jobs to plan, such as 1-300 or 2,5,7-9")
	var opt nest.Options
	flags.Int64Var(&opt.Work, "work", 2e7, "steps of the search of each job")
	flags.IntVar(&opt.Threads, "threads", 1, "groups planned at a time")
	write := flags.String("write", "", "only write the job folders below this `folder`")
	if err := flags.Parse(args); err != nil {
		return err
	}
	seeds, err := told.ParseSeeds(*list)
	if err != nil {
		return err
	}
	if *write != "" {
		for _, seed := range seeds {
			dir := filepath.Join(*write, fmt.Sprint("extreme", seed))
			if err := benchmarks.WriteExtreme(dir, seed); err != nil {
				return err
			}
		}
		return nil
	}
	var s summary
	for _, seed := range seeds {
		files, thrown := benchmarks.Extreme(seed)
		s.jobs, s.thrown = s.jobs+1, s.thrown+thrown
		job, _, err := folder.ReadJob(benchmarks.FS(files))
		if err != nil {
			return err
		}
		start := time.Now()
		p, err := nest.Plan(ctx, job, opt)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		took := time.Since(start)
		fmt.Fprintf(progress, "job %d: %s, %d MiB, ", seed, took.Round(time.Millisecond),
			told.PeakMemory())
		if took > s.slowest {
			s.slowest, s.slowestSeed = took, seed
		}
		if err != nil {
			fmt.Fprintln(progress, err)
			s.failed = append(s.failed, seed)
			continue
		}
		s.tell(p)
		fmt.Fprintf(progress, "%d pieces, %d short, %d boards, value %v, bound %v\n",
			told.Pieces(job), told.Missing(p), len(p.Placements), p.Value, p.Bound)
	}
	if err := s.print(out, opt.Work); err != nil {
		return err
	}
	if len(s.failed) > 0 {
		return fmt.Errorf("no plan of the jobs %v", s.failed)
	}
	return nil
}

func (s *summary) tell(p *model.Plan) {
	switch {
	case len(p.Placements) == 0:
		s.empty++
	case p.Bound == p.Value:
		s.proven++
	case p.Bound <= 0 && p.Value > 0:
		s.useless++
	}
}

func (s *summary) print(w io.Writer, work int64) error {
	t := told.Markdown(w, "jobs", "thrown away", "steps each", "failed", "no board used",
		"proven optimal", "no useful bound", "slowest", "MiB")
	err := t.Append(strconv.Itoa(s.jobs), strconv.Itoa(s.thrown), strconv.FormatInt(work, 10),
		strconv.Itoa(len(s.failed)), strconv.Itoa(s.empty), strconv.Itoa(s.proven),
		strconv.Itoa(s.useless), fmt.Sprintf("%s (%d)", told.Seconds(s.slowest), s.slowestSeed),
		strconv.FormatInt(told.PeakMemory(), 10))
	if err != nil {
		return err
	}
	return t.Render()
}
