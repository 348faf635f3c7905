package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"time"

	"github.com/olekukonko/tablewriter/tw"

	"rackwright/io/folder"
	"rackwright/model"
	"rackwright/model/check"
	"rackwright/model/proof"
	"rackwright/nest"
)

// ripRow is what is told of one month with rips.
type ripRow struct {
	row
	crosscut, rip, plain int         // boards laid out crosscut first, rip first, not ripped at all
	unripped             model.Money // value of the same job where nothing may be ripped
	rule                 model.Money // value of the cheapest plan by a simple rule
	ruleName             string
	missing              int   // pieces that the plan does not give
	wrong                error // what the checker finds in any of the plans
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
		fmt.Fprintf(progress, "month %d with rips: %s, gap %s %%, %s\n", seed,
			r.time.Round(time.Millisecond), r.gap(), r.verdict)
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
	p, wrong := nest.Plan(ctx, job, nest.Options{})
	if p == nil {
		return ripRow{}, wrong
	}
	r := ripRow{row: row{seed: seed, kerfs: of.kerfs, units: job.Settings.Units,
		time: time.Since(start)}}
	r.tell(job, p)
	unripped, alsoWrong := nest.Plan(ctx, withoutRips(job), nest.Options{})
	if unripped == nil {
		return r, alsoWrong
	}
	r.unripped = unripped.Value
	if n := missing(unripped); n != r.missing {
		r.verdict += fmt.Sprintf(", without ripping %d short", n)
	}
	r.wrong = errors.Join(wrong, alsoWrong, r.byRules(job))
	return r, ctx.Err()
}

// tell counts what is in a plan and what both parts of the checker say of it.
func (r *ripRow) tell(job *model.Job, p *model.Plan) {
	r.value, r.bound, r.missing = p.Value, p.Bound, missing(p)
	for i := range job.Parts {
		r.pieces += int(job.Parts[i].Qty)
	}
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
	reading, found := check.Check(job, p)
	r.verdict = "cuts " + judged(len(found)) + ", bound " + judged(len(proof.Bounds(reading)))
	if r.missing > 0 {
		r.verdict += fmt.Sprintf(", %d pieces short", r.missing)
	}
}

func judged(mistakes int) string {
	if mistakes == 0 {
		return "accepted"
	}
	return fmt.Sprintf("rejected (%d)", mistakes)
}

// missing counts the pieces that a plan does not give.
func missing(p *model.Plan) (n int) {
	for _, s := range p.Shortages {
		n += len(s.Copies)
	}
	return n
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

// byRules keeps the cheapest of the plans by simple rules that give as many pieces as the row's
// own.
func (r *ripRow) byRules(job *model.Job) error {
	entries, err := nest.ByRules(job, "")
	if err != nil {
		return err
	}
	for _, e := range entries {
		for _, p := range e.Plans {
			if missing(p) <= r.missing && (r.ruleName == "" || p.Value < r.rule) {
				r.rule, r.ruleName = p.Value, e.Name
			}
		}
	}
	return nil
}

// saving is 100 (other - value) / other with one decimal; "-" where other is not above 0.
func (r *ripRow) saving(other model.Money) string {
	if other <= 0 {
		return "-"
	}
	return fmt.Sprintf("%.1f", 100*float64(other-r.value)/float64(other))
}

func printRips(w io.Writer, rows []ripRow) error {
	right, left := tw.AlignRight, tw.AlignLeft
	t := markdown(w, right, left, right, right, right, right, right, right, right, right, left,
		left)
	t.Header("seed", "units", "pieces", "time", "value", "bound", "gap %",
		"crosscut first / rip first / plain", "saved by ripping %", "saved against best rule %",
		"best rule", "verdict")
	for i := range rows {
		r := &rows[i]
		err := t.Append(r.named(), string(r.units), strconv.Itoa(r.pieces),
			r.seconds(), r.value.String(), r.bound.String(), r.gap(),
			fmt.Sprintf("%d / %d / %d", r.crosscut, r.rip, r.plain), r.saving(r.unripped),
			r.saving(r.rule), r.ruleName, r.verdict)
		if err != nil {
			return err
		}
	}
	return t.Render()
}
