package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"time"

	"rackwright/benchmarks/told"
	"rackwright/io/folder"
	"rackwright/model"
	"rackwright/nest"
)

// ripRow is what is told of one month with rips.
type ripRow struct {
	row
	closed               proven      // of all groups
	crosscut, rip, plain int         // boards laid out crosscut first, rip first, not ripped at all
	unripped             model.Money // value of the same job where nothing may be ripped
	wrong                error       // what the checker finds in any of the plans
}

// ripMonths plans months with rips and prints what came out. A month with a plan that the checker
// rejects is told of too; then it fails at the end.
func ripMonths(ctx context.Context, of maker, seeds []int64, out, progress io.Writer) error {
	var rows []ripRow
	rejected := 0
	for _, seed := range seeds {
		r, err := runRips(ctx, of, seed)
		if err != nil {
			return fmt.Errorf("month %d with rips: %w", seed, err)
		}
		fmt.Fprintf(progress, "month %d with rips: %s, gap %s %%, %s groups proven, %s\n",
			seed, r.Time.Round(time.Millisecond), r.Gap(), r.closed, r.Verdict)
		if r.wrong != nil {
			rejected++
			fmt.Fprintln(progress, r.wrong)
		}
		rows = append(rows, r)
	}
	if err := printRips(out, rows); err != nil {
		return err
	}
	if rejected > 0 {
		return fmt.Errorf("%d months have plans that the checker rejects", rejected)
	}
	return nil
}

// runRips writes one month with rips into a folder of its own and plans it three times: as it is,
// without ripping, and by the simple rules.
func runRips(ctx context.Context, of maker, seed int64) (ripRow, error) {
	dir, err := os.MkdirTemp("", "month")
	if err != nil {
		return ripRow{}, err
	}
	defer os.RemoveAll(dir)
	if err := of.write(dir, seed); err != nil {
		return ripRow{}, err
	}
	job, _, err := folder.ReadJob(os.DirFS(dir))
	if err != nil {
		return ripRow{}, err
	}
	start := time.Now()
	p, wrong := nest.Plan(ctx, job, nest.Options{Work: of.work})
	if p == nil {
		return ripRow{}, wrong
	}
	took := time.Since(start)
	r := ripRow{row: row{Row: told.Of(job, p), kerfs: of.kerfs}}
	r.Seed, r.Time = seed, took
	r.count(p)
	for i := range p.Groups {
		r.closed.count(&p.Groups[i])
	}
	unripped, alsoWrong := nest.Plan(ctx, withoutRips(job), nest.Options{})
	if unripped == nil {
		return r, alsoWrong
	}
	r.unripped = unripped.Value
	if n := told.Missing(unripped); n != r.Missing {
		r.Verdict += fmt.Sprintf(", without ripping %d short", n)
	}
	r.wrong = errors.Join(wrong, alsoWrong, r.ByRules(job))
	return r, ctx.Err()
}

// count counts the boards of a plan by how they are laid out.
func (r *ripRow) count(p *model.Plan) {
	for _, b := range p.Placements {
		switch b.First {
		case model.CrosscutFirst:
			r.crosscut++
		case model.RipFirst:
			r.rip++
		default:
			r.plain++
		}
	}
}

// withoutRips is a job in which no board is long enough to be ripped.
func withoutRips(job *model.Job) *model.Job {
	longest := model.Length(0)
	for i := range job.Rack {
		longest = max(longest, job.Rack[i].Length)
	}
	for i := range job.Yard {
		longest = max(longest, job.Yard[i].Length)
	}
	out := *job
	// the months say nothing else of a material or section
	out.Settings.Safety.ShortestRip = longest + 1
	return &out
}

func printRips(w io.Writer, rows []ripRow) error {
	t := told.Markdown(w, "seed", " units", "pieces", "time", "value", "bound", "gap %",
		"crosscut first / rip first / plain", "saved by ripping %", "saved against best rule %",
		" best rule", " verdict")
	for i := range rows {
		r := &rows[i]
		err := t.Append(r.named(), string(r.Units), strconv.Itoa(r.Pieces),
			r.Seconds(), r.Value.String(), r.Bound.String(), r.Gap(),
			fmt.Sprintf("%d / %d / %d", r.crosscut, r.rip, r.plain), r.Saving(r.unripped),
			r.Saving(r.Rule), r.RuleName, r.Verdict)
		if err != nil {
			return err
		}
	}
	return t.Render()
}
