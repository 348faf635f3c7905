// Sawing sets the order of work of plans against two simple rules, in minutes.
//
//	go run ./benchmarks/sawing -seeds 1-4                         plans seeded months with rips
//	go run ./benchmarks/sawing -seeds 1-4 -work 300 -pieces 1000  with this work and size
//	go run ./benchmarks/sawing OUTDIR...                          reads plans
//
// The rules are longest stop first (pass by pass, from the longest setting down, again and again
// until all is cut) and board by board (as the boards stand in the plan). The table is one for
// benchmarks/README.md.
package main

import (
	"context"
	"errors"
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
	"rackwright/nest"
)

func main() { told.Main("sawing", run) }

func run(ctx context.Context, args []string, out, progress io.Writer) error {
	set := flag.NewFlagSet("sawing", flag.ContinueOnError)
	set.SetOutput(progress)
	list := set.String("seeds", "", "plan the months with rips of these seeds, such as 1-4")
	work := set.Int64("work", 300, "work limit of each plan, in millions of basic steps")
	pieces := set.Int("pieces", 400, "pieces of a month, 100 to 5000")
	if err := set.Parse(args); err != nil {
		return err
	}
	if (*list == "") == (set.NArg() == 0) {
		return errors.New("name out folders, or the seeds of months: -seeds 1-4")
	}
	var rows []row
	for _, dir := range set.Args() {
		job, plan, err := folder.ReadPlan(os.DirFS(dir))
		if err != nil {
			return fmt.Errorf("%s: %w", dir, err)
		}
		rows = append(rows, rowOf(dir, job, plan))
	}
	if *list != "" {
		seeds, err := told.ParseSeeds(*list)
		if err != nil {
			return err
		}
		for _, seed := range seeds {
			begun := time.Now()
			r, err := month(ctx, seed, *pieces, *work)
			if err != nil {
				return fmt.Errorf("month %d: %w", seed, err)
			}
			fmt.Fprintf(progress, "month %d: %s\n", seed, time.Since(begun).Round(time.Second))
			rows = append(rows, r)
		}
	}
	return print(out, rows)
}

// month plans a month with rips.
func month(ctx context.Context, seed int64, pieces int, work int64) (row, error) {
	dir, err := os.MkdirTemp("", "month")
	if err != nil {
		return row{}, err
	}
	defer os.RemoveAll(dir)
	if err := benchmarks.WriteRipMonth(dir, seed, pieces, benchmarks.Kerfs{}); err != nil {
		return row{}, err
	}
	job, _, err := folder.ReadJob(os.DirFS(dir))
	if err != nil {
		return row{}, err
	}
	plan, err := nest.Plan(ctx, job, nest.Options{Work: work * 1e6})
	if err != nil {
		return row{}, err
	}
	return rowOf(fmt.Sprint("month ", seed), job, plan), nil
}

// row is what is told of one plan.
type row struct {
	name           string
	boards, cuts   int
	time, clutter  model.WayOfWork
	longest, board model.WayOfWork // by the rules
}

func rowOf(name string, job *model.Job, plan *model.Plan) row {
	s := newShop(job, plan)
	r := row{name: name, boards: len(plan.Placements), cuts: len(plan.Order),
		time: plan.Work.Ways[0], clutter: plan.Work.Ways[1],
		longest: s.takes(s.longestFirst()), board: s.takes(s.boardByBoard())}
	return r
}

// print writes a table for a README: minutes, and in brackets settings and lifts.
func print(w io.Writer, rows []row) error {
	t := told.Markdown(w, "plan", "boards", "cuts", "least time", "longest stop first",
		"board by board", "least clutter", "open, time", "open, clutter")
	minutes := func(m model.WayOfWork) string {
		return fmt.Sprintf("%s (%d, %d)", m.Minutes, m.Settings, m.Lifts)
	}
	for i := range rows {
		r := &rows[i]
		open := strconv.Itoa(r.clutter.Open)
		if r.clutter.Exact {
			open += ", proven"
		}
		if err := t.Append(r.name, strconv.Itoa(r.boards), strconv.Itoa(r.cuts), minutes(r.time),
			minutes(r.longest), minutes(r.board), minutes(r.clutter), strconv.Itoa(r.time.Open),
			open); err != nil {
			return err
		}
	}
	return t.Render()
}
